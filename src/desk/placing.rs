//! A new box on a face, in two questions: what it holds, and where it goes.

use ratatui::crossterm::event::KeyCode;

use super::mode::{Mode, NewBox};
use super::state::State;
use crate::brief::panel_values::{CoverPart, WrittenPanel};
use crate::draft::BlockKind;
use crate::units::Length;

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

/// About how deep copy is in lines of a width.
fn depth(copy: &[(Length, Length)], width: Length) -> Length {
    let lines = |long: Length| (long.to_pt() * WORDS_DIVIDED / width.to_pt().max(1.0)).ceil().max(1.0) as i64;
    copy.iter().fold(Length::ZERO, |depth, (long, line)| depth + *line * lines(*long))
}

/// How much longer copy is in other lines than in those that it is set in now: a word is not divided between them.
const WORDS_DIVIDED: f64 = 1.1;

impl Addable {
    /// What the list of the first question calls it.
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
            if copy.1 == Length::ZERO {
                continue;
            }
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
}
