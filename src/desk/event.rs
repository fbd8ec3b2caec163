//! What happens to the desk, and what the desk asks to have done: the input and the output of its update.
//!
//! A draft is named by its number alone. An effect carries all that the door needs to perform it, so that the door
//! never looks at the desk's state.

use std::path::PathBuf;
use std::sync::Arc;

use ratatui::crossterm::event::KeyEvent;

use super::mode::DetailsPage;
use super::papers::{DraftId, DraftRow, ListedCopy, PaperFacts};
use super::sheet::DraftContent;
use super::unpriced::MeasuredBy;
use crate::artwork::ArtFile;
use crate::brief::book::Book;
use crate::brief::panel_values::BoxId;
use crate::brief::stet::Stood;
use crate::brief::{Brief, WrittenBrief};
use crate::briefing::rewrite::ValueChange;
use crate::editor::mending::MendedText;
use crate::report::tighten::Tighten;
use crate::setting::Faces;
use crate::units::Length;

/// Something that happened.
#[derive(Debug)]
pub enum Event {
    /// A key was pressed.
    Key(KeyEvent),
    /// Characters were typed, perhaps faster than they can be drawn.
    Typed(String),
    /// Words came from the terminal's own clipboard.
    Paste(String),
    /// Something on the screen was clicked, for the given number of times in a row.
    Click(Target, u8),
    /// The mouse was dragged to a byte of the copy while its button was pressed.
    Drag(usize),
    /// A box on the panel was dragged to a place on it, given by the distances from the panel's left edge and its head.
    DragBox(Length, Length),
    /// The wheel of the mouse was turned over something on the screen.
    Wheel(Turn, Option<Target>),
    /// The terminal has another size, in columns and rows.
    Resize(u16, u16),
    /// Nothing was typed for a moment.
    Pause,
    /// An effect that was asked for has been performed, or could not be.
    Done(Outcome),
}

/// What can be clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    /// A key at the foot.
    Key(KeyEvent),
    /// A query, by its number.
    Query(usize),
    /// Another word, by its number.
    OtherWord(usize),
    /// A draft of the list, or a kept copy.
    Draft(DraftRow),
    /// A value of the panel, by its number.
    Value(usize),
    /// A row of the brief, by its number.
    Row(usize),
    /// A difference of the two drafts that stand side by side, by its number.
    Difference(usize),
    /// A measure.
    Measure(DetailsPage),
    /// A line of copy on the panel, by its number.
    PanelLine(usize),
    /// A box on the panel, by what the mouse has hold of and where on the panel: from its left edge and its head.
    Box(BoxId, Grip, (Length, Length)),
    /// An answer to the question about a new box, or a block that can be written, by its number in the list.
    Answer(usize),
    /// A question that a blurb answers, by its number.
    Question(usize),
    /// A byte of the answer that is typed.
    Field(usize),
    /// A line of the list of keys, by its number.
    Way(usize),
    /// A byte of the copy.
    Copy(usize),
    /// A place in a list that holds no item.
    List,
    /// Any other place on the screen.
    Ground,
}

/// What of a box the mouse has hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grip {
    /// The box itself, which is moved.
    Whole,
    /// One of its corners, which changes its size.
    Corner {
        /// Whether it is a corner at the head.
        head: bool,
        /// Whether it is a corner at the left.
        left: bool,
    },
}

/// A turn of the wheel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Towards the beginning.
    Up,
    /// Towards the end.
    Down,
}

/// Something that the door is asked to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Write an open draft.
    Save {
        /// The draft.
        draft: DraftId,
        /// What to write.
        content: DraftContent,
    },
    /// Write an open draft though another program has changed its file meanwhile.
    SaveAnyway {
        /// The draft.
        draft: DraftId,
        /// What to write.
        content: DraftContent,
    },
    /// Write an open draft to a new file, open that file, and close the old draft.
    SaveAs {
        /// The draft.
        draft: DraftId,
        /// What to write.
        content: DraftContent,
        /// The number for the new file's draft.
        new: DraftId,
        /// The new file.
        path: PathBuf,
    },
    /// Write unsaved words to the recovery file, where a crash cannot take them.
    Autosave {
        /// The draft.
        draft: DraftId,
        /// The words.
        text: String,
        /// The revision of the words.
        revision: u64,
    },
    /// Write what the brief's file has not to its recovery file, where a crash cannot take it.
    AutosaveBrief {
        /// The changes of the file; none where the file has all.
        changes: Vec<ValueChange>,
        /// The number of the state of the brief at the desk that has them.
        revision: u64,
    },
    /// Write the text of a brief that is mended to its recovery file, where a crash cannot take it.
    AutosaveMended {
        /// The text; none where nothing of it is unwritten any more.
        text: Option<String>,
    },
    /// Go by the brief with the changes that an earlier desk has not written.
    AcceptBrief,
    /// Discard changes of the brief that an earlier desk has not written.
    DropBrief,
    /// Write the text of a brief that was mended.
    MendBrief {
        /// The text that the file had when it was read.
        read: String,
        /// The text as it was mended.
        text: String,
    },
    /// Keep a dated copy of a draft.
    KeepCopy {
        /// The draft's file.
        path: PathBuf,
        /// The text as it stands at the desk; none for a draft that is not open.
        text: Option<String>,
        /// A name for the copy; may be empty.
        name: String,
        /// The brief by which the copy's figures are found.
        by: MeasuredBy,
    },
    /// Read a draft.
    Open {
        /// The draft.
        draft: DraftId,
        /// The draft's file.
        path: PathBuf,
    },
    /// Read an open draft again, whose file another program has written.
    Reread {
        /// The draft.
        draft: DraftId,
    },
    /// Read a draft to show it beside the one in front.
    LookAt {
        /// The draft.
        draft: DraftId,
        /// The draft's file.
        path: PathBuf,
    },
    /// Find what is known of drafts for their list, which may take long: each has an outcome of its own.
    ListDrafts {
        /// The drafts with their files.
        drafts: Vec<(DraftId, PathBuf)>,
        /// The brief by which they are measured.
        by: MeasuredBy,
    },
    /// Read a kept copy of an open draft.
    ReadCopy {
        /// The draft.
        of: DraftId,
        /// The copy.
        copy: ListedCopy,
        /// What it is read for.
        what_for: CopyUse,
    },
    /// Open a file by its path as an author typed it.
    OpenByPath {
        /// The path as it was typed.
        typed: String,
        /// The file of the draft in front; a relative path is looked for beside it too.
        here: PathBuf,
        /// The drafts that are listed already.
        listed: Vec<(DraftId, PathBuf)>,
        /// The number for the file's draft, if the file is not listed yet.
        new: DraftId,
    },
    /// Write a new draft, and open it.
    Create {
        /// The new draft.
        draft: DraftId,
        /// The new draft's file.
        path: PathBuf,
    },
    /// Write the words of a draft to a new file as well, and open the new file.
    Double {
        /// The draft.
        draft: DraftId,
        /// The draft's file.
        from: PathBuf,
        /// The text as it stands at the desk; none for a draft that is not open.
        text: Option<String>,
        /// The wordings that are let stand in the draft.
        stood: Vec<Stood>,
        /// The number for the new file's draft.
        new: DraftId,
        /// The new file.
        path: PathBuf,
    },
    /// Give the file of a draft another name.
    Rename {
        /// The draft.
        draft: DraftId,
        /// The file as it is named.
        from: PathBuf,
        /// The file's new name.
        to: PathBuf,
    },
    /// Offer again the unsaved words that an earlier desk left of an open draft.
    OfferRecovered {
        /// The draft.
        draft: DraftId,
    },
    /// Make recovered words this desk's own, now that they are in the text.
    AcceptRecovered {
        /// The draft.
        draft: DraftId,
    },
    /// Discard recovered words.
    DropRecovered {
        /// The draft.
        draft: DraftId,
    },
    /// Hand words to the terminal's clipboard.
    Copy {
        /// The words.
        words: String,
    },
    /// Write the proof of a draft.
    WriteProof {
        /// The file of the proof.
        path: PathBuf,
        /// The draft's file, which the proof names.
        of: PathBuf,
        /// The draft's text.
        text: String,
        /// The brief by which the text is set.
        by: MeasuredBy,
    },
    /// Change values of the brief's file.
    WriteBrief {
        /// The changes.
        changes: Vec<ValueChange>,
        /// The brief as it was read; the changes refer to places in it.
        read: Arc<WrittenBrief>,
    },
    /// Read the fonts, the lists of phrases and the shapes that a changed brief names, before it is gone by.
    ReadNamed {
        /// The brief.
        brief: Box<Brief>,
    },
    /// Find the words of the story that are its own.
    ReadStory {
        /// The path of its file as it was typed; empty where the file is to be found beside the brief.
        typed: String,
        /// The file of the draft in front; a relative path is looked for beside it too.
        here: PathBuf,
        /// The book, whose names are no words of the story's own.
        book: Box<Book>,
    },
    /// Read the art that a brief names, which takes long: each picture has an outcome of its own, whenever it is there.
    ReadArt {
        /// The brief, with the panel that is tried.
        brief: Arc<Brief>,
    },
    /// Stop the desk until the shell continues it.
    Suspend,
    /// End the desk. Unsaved words are discarded; the author was asked about them before.
    Leave,
}

/// What a kept copy is read for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CopyUse {
    /// To be shown beside its draft.
    Beside,
    /// To be brought back in the place of its draft's words.
    Back,
}

/// The result of an effect, or something that was noticed on the disk.
#[derive(Debug)]
pub enum Outcome {
    /// A draft was written.
    Saved {
        /// The draft.
        draft: DraftId,
        /// The text that the file has now.
        text: String,
    },
    /// A write of unsaved words to the recovery file has ended, or the words needed none.
    Autosaved {
        /// The draft.
        draft: DraftId,
        /// The revision of the words.
        revision: u64,
    },
    /// A write of the brief's changes to its recovery file has ended, or there was nothing to write.
    BriefAutosaved {
        /// The number of the state of the brief at the desk.
        revision: u64,
        /// Whether there are changes in the recovery file.
        has_some: bool,
    },
    /// A write of the text of a brief that is mended to its recovery file has ended, or there was nothing to write.
    MendedAutosaved {
        /// The text; none where none is there any more.
        text: Option<String>,
    },
    /// An earlier desk has not written its changes of the brief.
    BriefRecovered {
        /// The text of the brief's file.
        here: String,
        /// The text read, with the changes.
        kept: String,
    },
    /// The brief cannot be read as it is on the disk.
    BriefUnread(Box<MendedText>),
    /// A draft was read.
    Opened {
        /// The draft.
        draft: DraftId,
        /// The draft's file.
        path: PathBuf,
        /// The text.
        text: String,
        /// What to tell the author, in sentences.
        said: Vec<String>,
    },
    /// Drafts are in the book's folder that were not there before.
    Found {
        /// Their files.
        drafts: Vec<PathBuf>,
    },
    /// A draft that was opened lies outside the book's folder.
    Elsewhere {
        /// The draft.
        draft: DraftId,
    },
    /// A draft that was opened is not on the disk before it is saved, since it was read from a document.
    NotOnDisk {
        /// The draft.
        draft: DraftId,
    },
    /// A file could not be given the name that was typed for it.
    NameRefused {
        /// Why, as a sentence.
        why: String,
    },
    /// A file that was asked for by its path could not be opened.
    NotOpened {
        /// Why, as a sentence.
        why: String,
    },
    /// The draft that was asked for is already open.
    InFront {
        /// The draft.
        draft: DraftId,
    },
    /// A draft was read to be shown beside the one in front.
    LookedAt {
        /// The draft.
        draft: DraftId,
        /// The text.
        text: String,
    },
    /// What is known of a draft for the list.
    Listed {
        /// The draft.
        draft: DraftId,
        /// What is known.
        facts: Box<PaperFacts>,
    },
    /// A copy of a draft was kept.
    Kept {
        /// The draft's file.
        of: PathBuf,
        /// The copy.
        copy: ListedCopy,
    },
    /// A kept copy was read.
    CopyRead {
        /// The draft.
        of: DraftId,
        /// The copy.
        copy: ListedCopy,
        /// The text of the copy.
        text: String,
        /// What it was read for.
        what_for: CopyUse,
    },
    /// Another program has written the file of an open draft; the new text has not been read yet.
    WrittenOutside {
        /// The draft.
        draft: DraftId,
    },
    /// An open draft was read again.
    Reread {
        /// The draft.
        draft: DraftId,
        /// The text that the file has now.
        text: String,
    },
    /// The cuts of a draft have their prices.
    Priced {
        /// The draft.
        draft: DraftId,
        /// The revision of the text that was priced.
        revision: u64,
        /// The cuts.
        tighten: Box<Tighten>,
    },
    /// The wordings that are let stand in a draft were written to `stet.yaml`.
    Standing {
        /// The draft.
        draft: DraftId,
        /// The file's name without its folder, under which `stet.yaml` lists the wordings.
        name: String,
        /// The wordings that are let stand in the draft now.
        stood: Vec<Stood>,
    },
    /// There are unsaved words of an earlier desk for a draft that is not open.
    HasRecovered {
        /// The draft.
        draft: DraftId,
    },
    /// There are unsaved words of an earlier desk for an open draft.
    Recovered {
        /// The draft.
        draft: DraftId,
        /// The words.
        text: String,
    },
    /// A draft's file has a new name.
    Renamed {
        /// The draft.
        draft: DraftId,
        /// The file's new name.
        path: PathBuf,
    },
    /// The brief was written.
    BriefWritten {
        /// The brief as its file has it now, without its art.
        brief: Box<Brief>,
        /// The fonts that the brief names.
        faces: Faces,
    },
    /// Another program has changed the brief, and it was read again, without its art.
    BriefChanged {
        /// The brief as its file has it now.
        brief: Box<Brief>,
        /// The fonts that the brief names.
        faces: Faces,
    },
    /// The text of the brief that was mended was written, and can be read.
    BriefMended {
        /// The brief as its file has it now, without its art.
        brief: Box<Brief>,
        /// The fonts that the brief names.
        faces: Faces,
    },
    /// The files that a changed brief names were read.
    NamedRead {
        /// The brief with what is in them.
        brief: Box<Brief>,
        /// The fonts that the brief names.
        faces: Faces,
    },
    /// The words of the story that are its own were found, the most characteristic first.
    StoryRead {
        /// Each with how often it stands in the story.
        words: Vec<(String, usize)>,
    },
    /// The story was not found, or could not be read.
    NoStory {
        /// Why, as a sentence.
        why: String,
    },
    /// Art that the brief names is to be read: for the first time, or since another program has written its file.
    ArtWaits,
    /// A file of art was read.
    ArtRead {
        /// The file as the brief names it.
        file: PathBuf,
        /// What is in it.
        art: Arc<ArtFile>,
    },
    /// A file of art could not be read; another program may still be writing it.
    ArtUnread {
        /// The file as the brief names it.
        file: PathBuf,
        /// Why, as a sentence.
        why: String,
    },
    /// The file was changed by another program since it was read, so it was not written.
    ChangedOutside {
        /// The draft.
        draft: DraftId,
    },
    /// A draft was saved under another name, and its old file is closed.
    PutAway {
        /// The draft.
        draft: DraftId,
    },
    /// Something to tell the author, as a sentence.
    Said(String),
    /// Why something could not be done, as a sentence.
    Failed(String),
}
