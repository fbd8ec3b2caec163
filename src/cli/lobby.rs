//! The loop of the pages before there is a draft: begins books and drafts, lists books, and opens the desk on one.
//!
//! Keys come from the threads that the desk has too. A desk that was opened from the list leads back to it.

use std::io::{self, BufWriter, Stdout};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender};

use crossterm::event::{Event as Input, KeyEventKind, MouseEventKind};
use crossterm::terminal::{BeginSynchronizedUpdate, EndSynchronizedUpdate};
use crossterm::{execute, queue, style};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;

use super::aside::{Ears, Message};
use super::books::{self, BookMeasurer, FolderContent};
use super::door::{Door, SetUp};
use super::start::{self, FIRST_DRAFT};
use super::{Answer, fault, screen};
use crate::beginning::books::{BookList, BookStanding};
use crate::beginning::form::BookForm;
use crate::beginning::{self, Beginning, BeginningEvent, BeginningPage, BriefMending, DraftOffer, Wish};
use crate::briefing::start::Answers;
use crate::desk::Outcome;
use crate::desk::keys::{self, Command};
use crate::desk::theme::Theme;
use crate::files::brief_recovery::BriefRecovery;
use crate::files::{self, Error};
use crate::panes;
use crate::system::{Call, HUNG_UP};
use crate::terminal::{self, Modes, Wanted};
use crate::units::nouns::sentence;

const BEGUN: &str = "Here is your first draft: write over its words. Ctrl-N asks what a blurb answers,";
const BEGUN_ROUND: &str = "The brief is written, in brief.yaml.";
const LEFT: &str =
    "What you typed last time is here again, and not written yet: Ctrl-S writes it, Ctrl-Z takes it back.";
const LEADS_BACK: &str = "Ctrl-Q leads back to the list of books.";

/// Runs the page for what a folder holds, and the desk that is opened from it; none for a folder whose book the desk
/// opens at once.
pub(super) fn run(folder: &Path, theme: Theme, modes: Modes) -> Result<Option<Answer>, Error> {
    let size = terminal::size();
    let content = books::look(folder)?;
    if content == FolderContent::Book {
        return Ok(None);
    }
    let ears = open_ears(modes)?;
    let (base, state) = match content {
        FolderContent::Book => return Ok(None),
        FolderContent::WithoutDrafts(book) => {
            let path = files::find_brief(&book)?;
            let brief = match files::read_brief_without_art(&path) {
                Err(_) if mended(&path, theme, modes, &ears)? => files::read_brief_without_art(&path),
                read => read,
            };
            let title = brief?.book.title;
            let page = BeginningPage::Draft(DraftOffer { folder: book.clone(), title });
            (book.clone(), Beginning::new(page, files::name_of_folder(&book), theme, size))
        }
        FolderContent::Books(base) => {
            let list = BookList::new(books::books_in(&base)?);
            (base.clone(), Beginning::of_books(list, files::name_of_folder(&base), theme, size))
        }
        FolderContent::Nothing { drafts, has_other_files } => {
            let page = BeginningPage::Form(Box::new(BookForm::here(drafts, has_other_files)));
            (folder.to_path_buf(), Beginning::new(page, files::name_of_folder(folder), theme, size))
        }
    };
    Lobby { state, base, theme, modes, ears, opened: None, kept: None }.stay()
}

/// Has the author mend a brief that cannot be read; returns whether it can be read by now. False at once where nothing
/// in its text is at fault.
pub(super) fn mended(brief: &Path, theme: Theme, modes: Modes, ears: &Ears) -> Result<bool, Error> {
    let Some(text) = files::unread_brief(brief) else { return Ok(false) };
    let base = brief.parent().unwrap_or(Path::new("")).to_path_buf();
    let page = BeginningPage::Mend(Box::new(BriefMending { path: brief.to_path_buf(), number: None, text }));
    let state = Beginning::new(page, files::name_of_folder(&base), theme, terminal::size());
    let mut lobby = Lobby { state, base, theme, modes, ears: ears.clone(), opened: None, kept: None };
    lobby.go_on_with_left();
    Ok(lobby.stay()?.is_none())
}

/// Starts the threads that wait for keys, which every loop has in its turn.
pub(super) fn open_ears(modes: Modes) -> Result<Ears, Error> {
    let cannot = |error: io::Error| Error::new(format!("cannot open the desk: {error}"));
    Ears::open(modes.pictures != Wanted::Nothing).map_err(cannot)
}

/// How a page ended.
enum PageEnd {
    Left,
    /// The system has ended it; with the exit status.
    Called(i32),
    Opened(Box<SetUp>),
    /// The brief that was mended can be read.
    Mended,
}

type Screen = Terminal<CrosstermBackend<BufWriter<Stdout>>>;

struct Lobby {
    state: Beginning,
    /// The folder that the pages are about.
    base: PathBuf,
    theme: Theme,
    modes: Modes,
    ears: Ears,
    /// The number of the book that was opened last.
    opened: Option<usize>,
    /// Where a brief that is mended is kept from a crash, and the text that is there; none where nothing is unwritten.
    kept: Option<(BriefRecovery, String)>,
}

impl Lobby {
    /// Shows pages and desks in turn until the author leaves; none once the brief that was mended can be read.
    fn stay(mut self) -> Result<Option<Answer>, Error> {
        // As at the desk: every style that is written is meant.
        style::force_color_output(true);
        loop {
            let ended = fault::caught(|| self.show());
            terminal::give_back();
            match ended {
                Ok(Ok(PageEnd::Left)) => return Ok(Some(Answer::Within)),
                Ok(Ok(PageEnd::Mended)) => return Ok(None),
                Ok(Ok(PageEnd::Called(status))) => {
                    // What was typed stays in the recovery file; the sign that a desk is here goes.
                    drop(self.kept);
                    std::process::exit(status)
                }
                Ok(Ok(PageEnd::Opened(opened))) => {
                    let (mut door, desk, first) = *opened;
                    let answer = screen::run(desk, &mut door, first, self.modes, &self.ears)?;
                    if self.state.books.is_none() {
                        return Ok(Some(answer));
                    }
                    self.come_back();
                }
                Ok(Err(_)) if !terminal::is_there() => std::process::exit(HUNG_UP),
                Ok(Err(error)) => return Err(Error::new(format!("cannot go on before the desk: {error}"))),
                Err(fault) => {
                    return Err(Error::new(format!("the program had to stop at a fault of its own ({fault})")));
                }
            }
        }
    }

    /// Shows the list again after a desk: its book is measured anew, and books that were begun stand in it.
    fn come_back(&mut self) {
        self.state.page = BeginningPage::Books;
        self.state.said = None;
        if let Some(number) = self.opened.take() {
            self.tell(BeginningEvent::Measured(number, BookStanding::Waiting));
        } else {
            self.look_again();
        }
    }

    fn look_again(&mut self) {
        match books::books_in(&self.base) {
            Ok(found) => self.tell(BeginningEvent::Found(found)),
            Err(error) => self.tell(BeginningEvent::Failed(sentence(&error.to_string()))),
        }
    }

    fn tell(&mut self, event: BeginningEvent) {
        // None of what is told here asks for anything.
        drop(beginning::update(&mut self.state, event));
    }

    fn show(&mut self) -> io::Result<PageEnd> {
        terminal::take(self.modes)?;
        let (sender, messages) = self.ears.turn_here();
        let backend = CrosstermBackend::new(BufWriter::with_capacity(1 << 16, io::stdout()));
        let mut screen: Screen = Terminal::new(backend)?;
        let mut measurer = self.measure(&sender);
        let ended = loop {
            self.draw(&mut screen)?;
            let heard = self.wait(&messages, &mut screen)?;
            self.keep_mended(&heard);
            match heard {
                Heard::Nothing => {}
                Heard::Ended(end) => break end,
                Heard::LookAgain => {
                    self.look_again();
                    measurer = self.measure(&sender);
                }
            }
        };
        drop(measurer);
        self.ears.rest(messages);
        Ok(ended)
    }

    /// Keeps what is typed to mend a brief from a crash, and no longer what was written or let go.
    fn keep_mended(&mut self, heard: &Heard) {
        let goes_on = !matches!(heard, Heard::Ended(PageEnd::Left | PageEnd::Opened(_) | PageEnd::Mended));
        let unwritten = match &self.state.page {
            BeginningPage::Mend(page) if goes_on && page.text.is_changed() => Some(page),
            _ => None,
        };
        let Some(page) = unwritten else {
            if let Some((recovery, _)) = self.kept.take() {
                recovery.forget();
            }
            return;
        };
        let text = page.text.editor.text();
        let (recovery, there) = self.kept.get_or_insert_with(|| (BriefRecovery::of(&page.path), String::new()));
        if there != text {
            text.clone_into(there);
            let written = recovery.queue_mended(Some(text.to_owned())).map(|write| write.write());
            if let Some(Err(error)) = written {
                self.state.said = Some(sentence(&error.to_string()));
            }
        }
    }

    /// Goes on with what an earlier desk has not written of the brief that is to be mended.
    fn go_on_with_left(&mut self) {
        let BeginningPage::Mend(page) = &mut self.state.page else { return };
        let mut recovery = BriefRecovery::of(&page.path);
        if let Some(text) = recovery.adopt() {
            page.text.go_on_with(&text);
            self.kept = Some((recovery, text));
            self.state.said = Some(LEFT.to_owned());
        }
    }

    /// Measures the books that are still to be measured.
    fn measure(&self, sender: &Sender<Message>) -> Option<BookMeasurer> {
        let waiting = self.state.books.as_ref()?.waiting();
        Some(BookMeasurer::start(waiting, sender))
    }

    fn draw(&mut self, screen: &mut Screen) -> io::Result<()> {
        if !terminal::is_taken() {
            return Ok(());
        }
        self.state.size = terminal::size();
        queue!(screen.backend_mut(), BeginSynchronizedUpdate)?;
        screen.draw(|frame| panes::draw_beginning(&self.state, frame))?;
        execute!(screen.backend_mut(), EndSynchronizedUpdate)
    }

    /// Waits for a message, and takes all that have queued up.
    fn wait(&mut self, messages: &Receiver<Message>, screen: &mut Screen) -> io::Result<Heard> {
        let mut next = Some(messages.recv().unwrap_or(Message::Gone));
        while let Some(message) = next {
            match self.hear(message, screen)? {
                Heard::Nothing => next = messages.try_recv().ok(),
                heard => return Ok(heard),
            }
        }
        Ok(Heard::Nothing)
    }

    fn hear(&mut self, message: Message, screen: &mut Screen) -> io::Result<Heard> {
        let event = match message {
            Message::Input(Input::Key(key)) if key.kind != KeyEventKind::Release => BeginningEvent::Key(key),
            Message::Input(Input::Paste(words)) => BeginningEvent::Paste(words),
            Message::Input(Input::Resize(columns, rows)) => {
                repaint(screen)?;
                BeginningEvent::Resize(columns, rows)
            }
            Message::Input(Input::Mouse(mouse)) if mouse.kind != MouseEventKind::Moved => {
                match panes::beginning_event(&self.state, mouse) {
                    Some(event) => event,
                    None => return Ok(Heard::Nothing),
                }
            }
            Message::BookMeasured(number, standing) => BeginningEvent::Measured(number, standing),
            Message::Call(Call::Stop) => {
                terminal::stop()?;
                return self.wake(screen);
            }
            Message::Call(Call::Continued) => return self.wake(screen),
            Message::Call(Call::End(status)) => return Ok(Heard::Ended(PageEnd::Called(status))),
            Message::Gone => return Ok(Heard::Ended(PageEnd::Called(HUNG_UP))),
            _ => return Ok(Heard::Nothing),
        };
        match beginning::update(&mut self.state, event) {
            None => Ok(Heard::Nothing),
            Some(wish) => self.fulfil(wish),
        }
    }

    fn wake(&self, screen: &mut Screen) -> io::Result<Heard> {
        terminal::take(self.modes)?;
        repaint(screen)?;
        Ok(Heard::Nothing)
    }

    fn fulfil(&mut self, wish: Wish) -> io::Result<Heard> {
        let opened = match wish {
            Wish::Leave => return Ok(Heard::Ended(PageEnd::Left)),
            Wish::LookAgain => return Ok(Heard::LookAgain),
            Wish::Suspend => {
                terminal::ask_to_stop()?;
                return Ok(Heard::Nothing);
            }
            Wish::Mend { number, why } => {
                self.look_at_brief(number, why);
                return Ok(Heard::Nothing);
            }
            Wish::WriteMended { path, number, read, text } => {
                if !self.write_mended(&path, &read, &text) {
                    return Ok(Heard::Nothing);
                }
                let Some(number) = number else { return Ok(Heard::Ended(PageEnd::Mended)) };
                // What else keeps the book from being opened is told in the list, where it is measured again.
                self.state.page = BeginningPage::Books;
                match self.open(number) {
                    Ok(opened) => Ok(opened),
                    Err(error) => {
                        self.tell(BeginningEvent::Measured(number, BookStanding::Waiting));
                        self.tell(BeginningEvent::Failed(sentence(&error.to_string())));
                        return Ok(Heard::LookAgain);
                    }
                }
            }
            Wish::Open { number } => self.open(number),
            Wish::Begin { folder, answers, with_draft } => self.begin(folder, &answers, with_draft),
            Wish::BeginDraft { folder } => self.begin_draft(&folder),
        };
        Ok(match opened {
            Ok(opened) => Heard::Ended(PageEnd::Opened(Box::new(opened))),
            Err(error) => {
                self.tell(BeginningEvent::Failed(sentence(&error.to_string())));
                Heard::Nothing
            }
        })
    }

    /// Shows the brief of a book of the list, to be mended, or tells why the book cannot be read.
    fn look_at_brief(&mut self, number: usize, why: String) {
        let folder = self.state.books.as_ref().and_then(|books| books.folder(number)).unwrap_or(&self.base);
        let path = folder.join(files::BRIEF_NAME);
        match files::unread_brief(&path) {
            Some(text) => {
                self.state.page = BeginningPage::Mend(Box::new(BriefMending { path, number: Some(number), text }));
                self.go_on_with_left();
            }
            None => self.tell(BeginningEvent::Failed(why)),
        }
    }

    /// Writes a brief that was mended, and returns whether it can be read now; if not, the page tells what is wrong.
    fn write_mended(&mut self, path: &Path, read: &str, text: &str) -> bool {
        let found = match files::write_mended_brief(path, read, text) {
            Ok(true) => files::unread_brief(path),
            Ok(false) => files::mended_elsewhere(path),
            Err(error) => {
                self.tell(BeginningEvent::Failed(sentence(&error.to_string())));
                return false;
            }
        };
        let is_read = found.is_none();
        if let Some(found) = found {
            self.tell(BeginningEvent::Unmended(Box::new(found)));
        }
        is_read
    }

    /// Opens a book of the list.
    fn open(&mut self, number: usize) -> Result<SetUp, Error> {
        let folder = self.state.books.as_ref().and_then(|books| books.folder(number)).unwrap_or(&self.base);
        let mut opened = set_up(folder, self.theme)?;
        say(&mut opened.2, LEADS_BACK);
        self.opened = Some(number);
        Ok(opened)
    }

    /// Writes the files of a new book, and opens it.
    fn begin(&self, name: Option<String>, answers: &Answers, with_draft: bool) -> Result<SetUp, Error> {
        let folder = name.map_or_else(|| self.base.clone(), |name| self.base.join(name));
        if with_draft {
            // Both are looked at first, so that nothing is written where one of them is there.
            files::check_free(&folder.join(files::BRIEF_NAME))?;
            files::check_free(&folder.join(FIRST_DRAFT))?;
        }
        start::write_brief(&folder, answers)?;
        if with_draft {
            start::write_first_draft(&folder, answers, &[])?;
        }
        let mut opened = set_up(&folder, self.theme)?;
        self.say_begun(&mut opened, if with_draft { BEGUN } else { BEGUN_ROUND });
        Ok(opened)
    }

    /// Writes the first draft of a book that has a brief, and opens it.
    fn begin_draft(&self, folder: &Path) -> Result<SetUp, Error> {
        let brief = files::read_brief_without_art(&files::find_brief(folder)?)?;
        start::write_first_draft(folder, &Answers::of(&brief), &[])?;
        let mut opened = set_up(folder, self.theme)?;
        self.say_begun(&mut opened, BEGUN);
        Ok(opened)
    }

    /// Has the desk of a book that was begun say so, and how its keys are found.
    fn say_begun(&self, opened: &mut SetUp, begun: &str) {
        let key = keys::of(Command::Keys).name(self.theme.keyboard);
        say(&mut opened.2, &format!("{begun} {key} shows every key."));
    }
}

/// What came of a message.
enum Heard {
    Nothing,
    LookAgain,
    Ended(PageEnd),
}

/// Sets up a desk with the drafts of a book.
fn set_up(folder: &Path, theme: Theme) -> Result<SetUp, Error> {
    let drafts = files::own_drafts(folder)?;
    if drafts.is_empty() {
        return Err(files::without_drafts(folder));
    }
    Door::set_up(&drafts, None, theme)
}

/// Has the desk say something at its start, unless it has something to tell of the draft.
fn say(first: &mut [Outcome], words: &str) {
    let is_silent = |outcome: &&mut Outcome| matches!(outcome, Outcome::Said(said) if said.is_empty());
    if let Some(outcome) = first.iter_mut().find(is_silent) {
        *outcome = Outcome::Said(words.to_owned());
    }
}

/// Makes the next drawing a full one.
fn repaint(screen: &mut Screen) -> io::Result<()> {
    let (columns, rows) = terminal::size();
    screen.resize(Rect::new(0, 0, columns, rows))
}
