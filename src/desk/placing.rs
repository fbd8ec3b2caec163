//! Where things go on a face: a new box, in two questions, what it holds and where it goes; and the copy, into quiet
//! room on the art.

use ratatui::crossterm::event::KeyCode;

use super::mode::{Mode, NewBox};
use super::state::State;
use crate::brief::panel_values::{CoverPart, WrittenPanel};
use crate::brief::place::CoverFace;
use crate::draft::BlockKind;
use crate::report;
use crate::report::quiet::{QuietFinding, TriedRoom, margins_for};
use crate::trial::Tried;
use crate::units::Length;
use crate::units::nouns::{agrees, counted};

/// What a new box can be.
#[derive(Debug, Clone, PartialEq)]
pub enum Addable {
    /// A place for blocks that no place holds yet.
    Copy {
        /// The blocks, as a brief names them: `quote 2`.
        holds: String,
        /// The copy of each: how long its lines are in all, and the height of one.
        copy: Vec<(Length, Length)>,
    },
    /// A keep-out of the author's.
    Mark,
    /// A barcode.
    Barcode,
}

/// A part of the draft in the live area, such as its second quote.
struct Part {
    kind: BlockKind,
    number: usize,
    copy: Vec<(Length, Length)>,
}

/// What is said where quiet room is asked for on art that is not read yet.
const AWAITED: &str = "The art is still being read: the copy goes into quiet room once it is there.";

/// About how deep copy is in lines of a width.
fn depth(copy: &[(Length, Length)], width: Length) -> Length {
    let lines = |long: Length| (long.to_pt() * WORDS_DIVIDED / width.to_pt().max(1.0)).ceil().max(1.0) as i64;
    copy.iter().fold(Length::ZERO, |depth, (long, line)| depth + *line * lines(*long))
}

/// How much longer copy is in other lines than in those that it is set in now: a word is not divided between them.
const WORDS_DIVIDED: f64 = 1.1;

impl Addable {
    /// What the list of the first question calls this kind of box.
    pub fn name(&self) -> &str {
        match self {
            Self::Copy { holds, .. } => holds,
            Self::Mark => "no copy: a keep-out",
            Self::Barcode => "no copy: the barcode",
        }
    }
}

impl State {
    /// What a new box can be: the blocks of the draft that no place holds yet, then what copy keeps out of.
    pub fn addables(&self) -> Vec<Addable> {
        let mut found = self.unheld();
        found.push(Addable::Mark);
        if !self.panel_tried().has_barcode() {
            found.push(Addable::Barcode);
        }
        found
    }

    /// The blocks of the draft that stand in the live area, in its order; where there are several of a kind, all of
    /// them together come before each.
    fn unheld(&self) -> Vec<Addable> {
        let Some(found) = self.sheet().map(|sheet| &sheet.now) else { return Vec::new() };
        let live_area = found.report.fit.places.len().saturating_sub(1);
        let mut parts: Vec<Part> = Vec::new();
        let numbers = found.draft.part_numbers();
        for (index, (block, number)) in found.draft.blocks.iter().zip(&numbers).enumerate() {
            let lines = found.report.fit.lines.iter().map(|line| &line.set);
            let lines = lines.filter(|line| line.paragraph == index && line.place == live_area);
            let copy = lines.fold((Length::ZERO, Length::ZERO), |(long, _), line| (long + line.width, line.leading));
            // No line of the block stands in the live area: a place holds it.
            if copy.1 == Length::ZERO {
                continue;
            }
            // A credit goes with its quote.
            let kind = if block.kind == BlockKind::Credit { BlockKind::Quote } else { block.kind };
            match parts.iter_mut().find(|part| (part.kind, part.number) == (kind, *number)) {
                Some(part) => part.copy.push(copy),
                None => parts.push(Part { kind, number: *number, copy: vec![copy] }),
            }
        }
        let is_one_of_several = |kind: BlockKind| {
            let mut of_kind = found.draft.blocks.iter().zip(&numbers).filter(|(block, _)| block.kind == kind);
            of_kind.any(|(_, number)| *number > 1)
        };
        let mut addables: Vec<Addable> = Vec::new();
        for (at, Part { kind, number, copy }) in parts.iter().enumerate() {
            let name = kind.name().to_owned();
            let together: Vec<&Part> = parts.iter().filter(|part| part.kind == *kind).collect();
            if together.len() > 1 && parts[..at].iter().all(|part| part.kind != *kind) {
                let copy = together.iter().flat_map(|part| part.copy.clone()).collect();
                addables.push(Addable::Copy { holds: name.clone(), copy });
            }
            let holds = if is_one_of_several(*kind) { format!("{name} {number}") } else { name };
            addables.push(Addable::Copy { holds, copy: copy.clone() });
        }
        addables
    }

    /// Where a new box can go, in words, each with the panel that has it.
    fn positions(&self, what: &Addable) -> Vec<(String, WrittenPanel)> {
        let panel = self.panel_tried();
        let found = match what {
            Addable::Copy { holds, copy } => {
                let line = copy.iter().map(|(_, line)| *line).max().unwrap_or_default();
                panel.positions(holds, &|width| depth(copy, width), line)
            }
            Addable::Mark => panel.corners(false),
            Addable::Barcode => panel.corners(true),
        };
        let can_be = |panel: &WrittenPanel| self.tried().clone().set_panel(panel.clone(), self.own_brief()).is_ok();
        found.into_iter().filter(|(_, panel)| can_be(panel)).collect()
    }

    /// The answers to the question that is asked of a new box.
    pub fn answers(&self, new: NewBox) -> Vec<String> {
        let addables = self.addables();
        match new.what.and_then(|what| addables.get(what)) {
            Some(what) => self.positions(what).into_iter().map(|(words, _)| words).collect(),
            None => addables.iter().map(|what| what.name().to_owned()).collect(),
        }
    }

    /// Asks what a new box holds.
    pub(super) fn ask_for_box(&mut self) {
        if self.trial.part() == CoverPart::Spine {
            self.said = Some("The spine carries the title of the book and no other copy.".to_owned());
            return;
        }
        self.mode = Mode::Adding(NewBox { what: None, at: 0 });
    }

    /// A key while a question about a new box is asked.
    pub(super) fn key_in_adding(&mut self, new: NewBox, code: KeyCode) {
        let last = self.answers(new).len().saturating_sub(1);
        let to = |at: usize| Mode::Adding(NewBox { at: at.min(last), ..new });
        self.mode = to(new.at);
        match code {
            KeyCode::Esc | KeyCode::Left if new.what.is_some() => self.ask_for_box(),
            KeyCode::Esc => self.mode = Mode::Values(0),
            KeyCode::Up => self.mode = to(new.at.saturating_sub(1)),
            KeyCode::Down | KeyCode::Tab => self.mode = to(new.at + 1),
            KeyCode::Home | KeyCode::PageUp => self.mode = to(0),
            KeyCode::End | KeyCode::PageDown => self.mode = to(last),
            KeyCode::Enter | KeyCode::Right => self.answer(new),
            KeyCode::F(4) => self.mode = Mode::Writing,
            _ => {}
        }
    }

    fn answer(&mut self, new: NewBox) {
        let addables = self.addables();
        let Some(what) = new.what else {
            let Some(what) = addables.get(new.at) else { return };
            if self.positions(what).is_empty() {
                let face = self.trial.part().name();
                self.said = Some(format!("No room is left for it on the {face}: make another box smaller first."));
                return;
            }
            self.mode = Mode::Adding(NewBox { what: Some(new.at), at: 0 });
            return;
        };
        let Some(what) = addables.get(what) else { return self.ask_for_box() };
        let Some((_, panel)) = self.positions(what).into_iter().nth(new.at) else { return };
        let before = self.panel_tried().boxes();
        let added = panel.boxes().into_iter().find(|found| before.iter().all(|before| before.id != found.id));
        if !self.try_panel(Ok(panel)) {
            return;
        }
        let Some(added) = added else { return };
        self.mode = Mode::Values(self.first_value_of(added.id));
        let face = self.trial.part().name();
        self.said = Some(format!("{} is on the {face}; its values can be changed here. u takes it back.", added.name));
    }

    /// Tries the copy in quiet room on the art: in the largest room in which it fits, and at each further call in the
    /// next one.
    pub(super) fn take_quiet_room(&mut self) {
        self.assess();
        let rooms = match self.quiet_panels() {
            Ok(rooms) => rooms,
            Err(why) => {
                self.awaits_quiet_room = why == AWAITED;
                self.said = Some(why.to_owned());
                return;
            }
        };
        let now = self.panel_tried().panel;
        let at = rooms.iter().position(|(_, panel)| panel.panel == now).map_or(0, |at| (at + 1) % rooms.len());
        let count = rooms.len();
        let Some((size, panel)) = rooms.into_iter().nth(at) else { return };
        if self.try_panel(Ok(panel)) {
            self.assess();
            self.open_values();
            self.said =
                Some(format!("Quiet room {} of {count}, {size}: {}. u takes it back.", at + 1, self.told_of_art()));
        }
    }

    /// The panels with the copy in each quiet room, those in which it fits first, each with the size of the room; or
    /// why there is none.
    fn quiet_panels(&self) -> Result<Vec<(String, WrittenPanel)>, &'static str> {
        let sheet = self.sheet().ok_or("No draft is open.")?;
        // What is tried of the panel would hide the room outside its margins.
        let brief = Tried { panel: None, ..self.tried().clone() }.on(self.own_brief());
        let report = report::assess(&sheet.now.draft, &brief, &self.faces);
        let found = QuietFinding::of(&report, &sheet.now.draft, &brief, &self.faces);
        let is_unread = brief.faces().any(|face| self.art_told(face.face).is_some());
        let found = found.ok_or(match (is_unread, self.art.unread.is_empty()) {
            (true, true) => AWAITED,
            (true, false) => "The art behind the blurb cannot be read.",
            (false, _) => "There is no art behind the blurb. The brief names it: panel, art.",
        })?;
        if found.face != CoverFace::Panel {
            return Err("The blurb stands on a flap: its places are changed in the brief.");
        }
        let mut rooms = found.rooms;
        rooms.sort_by_key(|room| !room.fits);
        let panel = self.panel_tried().with_part(CoverPart::Face(CoverFace::Panel));
        let place = found.place.and_then(|name| panel.boxes().into_iter().find(|found| found.name == name));
        let face = panel.panel.face();
        let moved = |room: TriedRoom| {
            let rect = panel.rounded_inwards(&room.room.rect);
            let moved = match &place {
                Some(place) => panel.with_box(place.id, rect),
                None => panel.with_margins(&margins_for(&rect, &face)),
            };
            Some((panel.size_told(&rect), moved.ok()?))
        };
        let rooms: Vec<_> = rooms.into_iter().filter_map(moved).collect();
        if rooms.is_empty() { Err("No part of the art is quiet enough for this type.") } else { Ok(rooms) }
    }

    /// Whether the copy fits and can be read on its art, in words.
    fn told_of_art(&self) -> String {
        let Some(report) = self.sheet().map(|sheet| &sheet.now.report) else { return String::new() };
        let over = report.fit.places.iter().map(|place| place.castoff.lines_over).sum::<usize>();
        let unclear = report.legibility.as_ref().map_or(0, |art| art.not_clear().count());
        let fits = match over {
            0 => "all fits".to_owned(),
            over => format!("{} {} over", counted(over, "line"), agrees(over, "is", "are")),
        };
        match unclear {
            0 => format!("{fits}, and every line is clear"),
            unclear => format!("{fits}, {} {} not clear", counted(unclear, "line"), agrees(unclear, "is", "are")),
        }
    }
}
