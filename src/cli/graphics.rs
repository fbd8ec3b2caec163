//! Pictures on the terminal: whether it shows any, which faces stand on it as pictures, and how another comes in their
//! place.
//!
//! A picture goes to the terminal piece by piece, and only while no key waits. Until it is there, its face is drawn in
//! cells, or the picture before it stays.

use std::collections::VecDeque;
use std::io::{self, Write};
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::time::{Duration, Instant};

use crossterm::cursor::{MoveTo, RestorePosition, SavePosition};
use crossterm::queue;
use crossterm::style::Print;
use crossterm::terminal::{BeginSynchronizedUpdate, EndSynchronizedUpdate};
use ratatui::buffer::{Buffer, CellDiffOption};
use ratatui::layout::Rect;

use super::aside::Message;
use crate::desk::State;
use crate::panes::painter::{Canvas, PaintWish, Painted, PaintedFace, Painter, PicturePiece};
use crate::panes::{self, FacePicture};
use crate::pictures::{PictureForm, kitty, sixel};
use crate::terminal::answers::{READY, TerminalAnswer};
use crate::terminal::{self, Modes, Wanted};

/// The cell that is assumed where a terminal of kitty's protocol does not tell its size; it scales pictures itself.
const USUAL_CELL: (u16, u16) = (10, 20);
/// A terminal that takes a picture in within this time is as fast as is needed.
const QUICK: Duration = Duration::from_millis(150);
/// How many pixels, across and down, one of a coarser picture stands for.
const COARSE: u16 = 2;
/// So many pictures in a row make a terminal slow: one may have been held up by something else.
const AGAIN: u8 = 3;
/// A terminal that takes longer than this even for coarser pictures is sent no more.
const SLOW: Duration = Duration::from_millis(500);
/// After this time the next picture is sent though the terminal has not said that it took the last one in.
const SILENT: Duration = Duration::from_secs(5);

/// A picture on the screen, or on its way there.
#[derive(Clone)]
struct Shown {
    face: FacePicture,
    id: u32,
    form: PictureForm,
}

impl Shown {
    /// Takes the picture from the screen. Sixels go with the letters that are written over them.
    fn remove(&self, out: &mut impl Write) -> io::Result<()> {
        match self.form {
            PictureForm::Kitty => out.write_all(kitty::deleted(self.id).as_bytes()),
            PictureForm::Sixel { .. } => Ok(()),
        }
    }
}

/// A picture of which pieces are still to be sent.
struct Sending {
    picture: Shown,
    pieces: VecDeque<PicturePiece>,
    /// When the first piece was sent.
    began: Option<Instant>,
}

/// All that is known of the terminal's pictures.
pub(super) struct Graphics {
    wanted: Wanted,
    form: Option<PictureForm>,
    has_kitty: bool,
    colours: usize,
    widest: u16,
    /// The pixels of a cell, as the terminal told them.
    cell: Option<(u16, u16)>,
    /// Whether the terminal is at the far end of a line.
    is_afar: bool,
    coarseness: u16,
    /// How many pictures in a row were taken in slowly.
    slow: u8,
    painter: Painter,
    /// The faces that were asked for last, with how they are drawn, and the number of that wish.
    asked: Option<(Vec<FacePicture>, Canvas, usize)>,
    shown: Vec<Shown>,
    /// Where pictures stood that are gone: their cells hold nothing of what was drawn there before.
    bared: Vec<Rect>,
    queue: VecDeque<Sending>,
    /// When the picture that the terminal has not yet taken in was begun.
    unanswered: Option<Instant>,
}

impl Graphics {
    pub(super) fn new(modes: Modes, sender: Sender<Message>) -> Self {
        let Modes { pictures: wanted, is_afar, .. } = modes;
        let form = if let Wanted::Form(form) = wanted { Some(form) } else { None };
        Self {
            wanted,
            form,
            has_kitty: false,
            colours: sixel::COLOURS,
            widest: u16::MAX,
            cell: None,
            is_afar,
            coarseness: if is_afar { COARSE } else { 1 },
            slow: 0,
            painter: Painter::start(is_afar, move |painted| sender.send(Message::Painted(painted)).is_ok()),
            asked: None,
            shown: Vec::new(),
            bared: Vec::new(),
            queue: VecDeque::new(),
            unanswered: None,
        }
    }

    /// Takes an answer of the terminal. Returns whether the terminal turned out to be too slow for pictures.
    pub(super) fn hear(&mut self, answer: TerminalAnswer, size: (u16, u16)) -> bool {
        match answer {
            TerminalAnswer::Kitty => self.has_kitty = true,
            TerminalAnswer::Cell { width, height } => self.cell = Some((width, height)),
            TerminalAnswer::Screen { width, height } => {
                let cell = (width / size.0.max(1), height / size.1.max(1));
                // What was told of a single cell is exact.
                self.cell = self.cell.or(Some(cell).filter(|(width, height)| *width > 0 && *height > 0));
            }
            TerminalAnswer::Colours(colours) => self.colours = colours.min(sixel::COLOURS),
            TerminalAnswer::Widest(width) => self.widest = width,
            TerminalAnswer::Attributes { sixels } => {
                let sixel = PictureForm::Sixel { colours: self.colours, widest: self.widest };
                self.form = match self.wanted {
                    Wanted::Form(PictureForm::Sixel { .. }) => Some(sixel),
                    Wanted::Form(form) => Some(form),
                    Wanted::Asked if self.has_kitty => Some(PictureForm::Kitty),
                    Wanted::Asked if sixels => Some(sixel),
                    Wanted::Asked | Wanted::Nothing => None,
                };
            }
            TerminalAnswer::Ready => return self.unanswered.take().is_some_and(|began| self.judge(began.elapsed())),
        }
        false
    }

    /// Draws more coarsely, or no longer, on a terminal that was slow to take pictures in, time and again; returns
    /// whether no longer.
    fn judge(&mut self, took: Duration) -> bool {
        let bearable = if self.coarseness < COARSE { QUICK } else { SLOW };
        self.slow = if took > bearable { self.slow + 1 } else { 0 };
        if self.slow < AGAIN {
            return false;
        }
        self.slow = 0;
        let is_too_slow = self.coarseness >= COARSE;
        if is_too_slow {
            self.form = None;
        }
        self.coarseness = COARSE;
        is_too_slow
    }

    /// How faces are drawn for the terminal; none while it shows no pictures, or does not tell how large they would be.
    fn canvas(&self) -> Option<Canvas> {
        let form = self.form?;
        let usual = (form == PictureForm::Kitty).then_some(USUAL_CELL);
        let cell = terminal::cell_pixels().or(self.cell).or(usual)?;
        Some(Canvas { form, cell, coarseness: self.coarseness })
    }

    /// Whether faces are shown as pictures.
    pub(super) fn shows_pictures(&self) -> bool {
        self.form.is_some()
    }

    /// Takes from the screen what no longer belongs there, before the screen is drawn, and asks for what is missing.
    pub(super) fn prepare(&mut self, state: &State, out: &mut impl Write) -> io::Result<()> {
        let Some(canvas) = self.canvas() else { return self.start_anew(out) };
        let wished = panes::pictures(state);
        let is_wished = |face: &FacePicture| {
            wished.iter().any(|wish| if self.is_afar { wish == face } else { wish.area == face.area })
        };
        let (stays, goes): (Vec<Shown>, Vec<Shown>) =
            std::mem::take(&mut self.shown).into_iter().partition(|shown| is_wished(&shown.face));
        self.shown = stays;
        self.bared.extend(goes.iter().map(|shown| shown.face.area));
        goes.iter().try_for_each(|shown| shown.remove(out))?;
        if self.asked.as_ref().is_none_or(|(faces, how, _)| *faces != wished || *how != canvas) {
            // What another canvas was drawn on is drawn anew.
            let is_same_canvas = self.asked.as_ref().is_some_and(|(_, how, _)| *how == canvas);
            let is_there = |wish: &&FacePicture| is_same_canvas && self.shown.iter().any(|shown| shown.face == **wish);
            let missing = wished.iter().filter(|wish| !is_there(wish)).cloned().collect();
            // Of what was drawn before, only what is on its way already goes there.
            self.queue.retain(|sending| sending.began.is_some());
            let number = self.painter.ask(PaintWish { faces: Arc::clone(&state.faces), pictures: missing, canvas });
            self.asked = Some((wished, canvas, number));
        }
        Ok(())
    }

    /// Leaves the cells of pictures to them, and has those written where a picture stood.
    pub(super) fn cover(&mut self, buffer: &mut Buffer) {
        for area in std::mem::take(&mut self.bared) {
            for position in area.intersection(buffer.area).positions() {
                buffer[position].set_diff_option(CellDiffOption::AlwaysUpdate);
            }
        }
        for shown in &self.shown {
            for position in shown.face.area.intersection(buffer.area).positions() {
                buffer[position].reset();
                buffer[position].set_diff_option(CellDiffOption::Skip);
            }
        }
    }

    /// Takes what was drawn, unless something else has been asked for since.
    pub(super) fn take(&mut self, painted: Painted) {
        let Some((_, Canvas { form, .. }, number)) = self.asked else { return };
        if number == painted.number {
            let sending = |PaintedFace { face, id, pieces }| {
                let picture = Shown { face, id, form };
                Sending { picture, pieces: pieces.into(), began: None }
            };
            self.queue.extend(painted.pictures.into_iter().map(sending));
        }
    }

    /// Whether a piece of a picture may be sent now.
    pub(super) fn has_to_send(&self) -> bool {
        let is_begun = self.queue.front().is_some_and(|sending| sending.began.is_some());
        let is_free = self.unanswered.is_none_or(|since| since.elapsed() > SILENT);
        terminal::is_taken() && !self.queue.is_empty() && (is_begun || is_free)
    }

    /// When a picture that waits for the terminal may be sent though it does not answer.
    pub(super) fn due(&self) -> Option<Instant> {
        self.unanswered.filter(|_| !self.queue.is_empty()).map(|since| since + SILENT)
    }

    /// Sends the next piece of a picture.
    pub(super) fn send(&mut self, out: &mut impl Write) -> io::Result<()> {
        let Some(mut sending) = self.queue.pop_front() else { return Ok(()) };
        let is_wished = |(faces, ..): &(Vec<FacePicture>, Canvas, usize)| {
            faces.iter().any(|wish| wish.area == sending.picture.face.area)
        };
        if !self.asked.as_ref().is_some_and(is_wished) {
            sending.break_off(out)?;
            return out.flush();
        }
        let form = sending.picture.form;
        sending.began.get_or_insert_with(|| {
            terminal::note_pictures(form == PictureForm::Kitty);
            Instant::now()
        });
        let is_last = match (form, sending.pieces.pop_front()) {
            (PictureForm::Kitty, Some(piece)) => {
                out.write_all(&piece.bytes)?;
                false
            }
            (PictureForm::Kitty, None) => {
                let Rect { width, height, .. } = sending.picture.face.area;
                let placed = kitty::placed(sending.picture.id, width, height);
                self.put(&sending.picture, 0, placed.as_bytes(), out)?;
                true
            }
            (PictureForm::Sixel { .. }, piece) => {
                if let Some(piece) = piece {
                    self.put(&sending.picture, piece.row, &piece.bytes, out)?;
                }
                sending.pieces.is_empty()
            }
        };
        if is_last {
            self.unanswered = sending.began;
            out.write_all(READY.as_bytes())?;
        } else {
            self.queue.push_front(sending);
        }
        out.flush()
    }

    /// Writes what shows a picture, or a strip of it, in the cells of the picture, and notes that the picture is there.
    fn put(&mut self, picture: &Shown, row: u16, bytes: &[u8], out: &mut impl Write) -> io::Result<()> {
        let area = picture.face.area;
        queue!(out, BeginSynchronizedUpdate, SavePosition)?;
        let before = self.shown.iter().position(|shown| shown.face.area == area);
        if before.is_none() {
            // Letters under a picture would come back with a change of the window's size.
            for y in area.top()..area.bottom() {
                queue!(out, MoveTo(area.x, y), Print(" ".repeat(usize::from(area.width))))?;
            }
        }
        queue!(out, MoveTo(area.x, area.y + row))?;
        out.write_all(bytes)?;
        if let Some(before) = before.map(|before| self.shown.swap_remove(before))
            && before.id != picture.id
        {
            before.remove(out)?;
        }
        self.shown.push(picture.clone());
        queue!(out, RestorePosition, EndSynchronizedUpdate)
    }

    /// Takes every picture from the screen, and asks for none until the screen is drawn again.
    pub(super) fn start_anew(&mut self, out: &mut impl Write) -> io::Result<()> {
        self.asked = None;
        self.unanswered = None;
        self.bared.extend(self.shown.iter().map(|shown| shown.face.area));
        for sending in std::mem::take(&mut self.queue) {
            sending.break_off(out)?;
        }
        std::mem::take(&mut self.shown).iter().try_for_each(|shown| shown.remove(out))
    }
}

impl Sending {
    /// Gives a picture up, of which pieces may have been sent.
    fn break_off(&self, out: &mut impl Write) -> io::Result<()> {
        if self.began.is_some() && self.picture.form == PictureForm::Kitty {
            out.write_all(kitty::BROKEN_OFF.as_bytes())?;
            self.picture.remove(out)?;
        }
        Ok(())
    }
}
