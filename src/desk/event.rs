//! What happens to the desk, and what the desk asks of the world: the two ends of its pure update.

use std::path::PathBuf;

use ratatui::crossterm::event::{KeyEvent, MouseEvent};

use crate::brief::Brief;
use crate::brief::rewrite::ValueChange;
use crate::brief::stet::Stood;
use crate::report::tighten::Tighten;
use crate::setting::Faces;

/// Something that happened.
#[derive(Debug)]
pub enum Event {
    /// A key was pressed.
    Key(KeyEvent),
    /// Characters were typed, perhaps faster than they can be drawn.
    Typed(String),
    /// Words came from the terminal's own clipboard.
    Paste(String),
    /// The mouse, and how many times its button was pressed in a row at one place.
    Mouse(MouseEvent, u8),
    /// The terminal has another size, in columns and rows.
    Resize(u16, u16),
    /// Nothing was typed for a moment.
    Pause,
    /// What was asked for is done, or could not be.
    Done(Outcome),
}

/// Something that the door is asked to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Write the draft at this place of the list, and what stands in it.
    Save(usize),
    /// Write the draft at this place of the list though another program has changed its file meanwhile.
    SaveAnyway(usize),
    /// Write the draft at this place of the list as a new file, and go on with that.
    SaveAs(usize, PathBuf),
    /// Keep what is not saved where a crash cannot take it.
    Keep(usize),
    /// Put a dated copy of the draft at this place of the list aside, under a name that may be empty.
    KeepCopy(usize, String),
    /// Read a draft.
    Open(PathBuf),
    /// Read a draft to show it beside the one in front.
    LookAt(PathBuf),
    /// Open a file by its path as an author typed it.
    OpenByPath(String),
    /// Write a new draft, and open it.
    Create(PathBuf),
    /// Write the draft at this place of the list as a new file too, and open that.
    Double(usize, PathBuf),
    /// Give the file of a draft another name.
    Rename(PathBuf, PathBuf),
    /// Forget what was kept: the author leaves without it.
    Discard,
    /// Offer again what an earlier desk kept of the draft at this place of the list.
    OfferKept(usize),
    /// The kept words of an earlier desk are on the sheet now.
    TakeKept(usize),
    /// The kept words of an earlier desk are not wanted.
    DropKept(usize),
    /// Hand words to the terminal's clipboard.
    Copy(String),
    /// Write the proof of the draft that is in front.
    WriteProof(PathBuf),
    /// Change these values of the brief's file.
    WriteBrief(Vec<ValueChange>),
    /// Step back to the shell until called again.
    Suspend,
    /// End.
    Leave,
}

/// How something ended that the door was asked to do.
#[derive(Debug)]
pub enum Outcome {
    /// A draft was written with this text.
    Saved(PathBuf, String),
    /// A draft was kept as it was at this revision.
    Kept(PathBuf, u64),
    /// A draft was read; with the sentences that there are to say.
    Opened(PathBuf, String, Vec<String>),
    /// A draft that was opened lies outside the book's folder.
    Elsewhere(PathBuf),
    /// A file that was asked for by its path could not be opened: why, as a sentence.
    NotOpened(String),
    /// A draft that is open already was asked for.
    InFront(PathBuf),
    /// A draft was read to be shown beside the one in front.
    LookedAt(PathBuf, String),
    /// Another program wrote a draft that has nothing unsaved here: its text now.
    Reread(PathBuf, String),
    /// The cuts of a draft at one revision of its text, with their prices.
    Priced(PathBuf, u64, Box<Tighten>),
    /// What stands in a draft is written, and is this now.
    Standing(PathBuf, Vec<Stood>),
    /// There are unsaved words of an earlier desk for a draft that is not open.
    KeptWords(PathBuf),
    /// There are unsaved words of an earlier desk for a draft.
    Recovered(PathBuf, String),
    /// A draft has another name.
    Renamed(PathBuf, PathBuf),
    /// The brief was written, and is this now.
    BriefWritten(Box<Brief>, Faces),
    /// The file was changed by another program since it was read, and was left alone.
    ChangedOutside(PathBuf),
    /// A draft was saved under another name, and is put away.
    PutAway(PathBuf),
    /// Something to say, as a sentence.
    Said(String),
    /// Why it could not be done, as a sentence.
    Failed(String),
}
