//! The desk's background threads, so that no key waits for slow work: hearing keys and signals, writing recovery files
//! to a disk that may be slow, pricing cuts, reading art, looking at drafts for their list, and watching folders. Each
//! thread reports to the desk's loop by a `Message`.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use crossterm::event::Event as Input;
use notify::RecommendedWatcher;
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP, SIGWINCH};
use signal_hook::iterator::Signals;

use super::door::{self, ArtWish};
use crate::art::on_art;
use crate::artwork::ArtFile;
use crate::beginning::books::BookStanding;
use crate::desk::DraftId;
use crate::desk::papers::PaperFacts;
use crate::desk::unpriced::{MeasuredBy, Unpriced};
use crate::files::desk::{Notice, RecoveryWrite};
use crate::files::{self, Error};
use crate::panes::painter::Painted;
use crate::report::tighten::Tighten;
use crate::setting::Rooms;
use crate::terminal;
use crate::terminal::answers::TerminalAnswer;
use crate::terminal::input::{self, Heard};

/// Cuts are priced once nothing new has been asked for during this time.
const CALM: Duration = Duration::from_millis(200);

/// What wakes the loop.
pub(super) enum Message {
    Input(Input),
    /// The terminal has answered a question.
    Answer(TerminalAnswer),
    /// Faces as they were last asked for are ready to be sent to the terminal.
    Painted(Painted),
    Signal(i32),
    /// Something changed in a folder of drafts, of the brief or of its art.
    Disk,
    /// The attempt to write a draft's words, as they were at a revision, to the recovery file has ended.
    Autosaved {
        draft: DraftId,
        revision: u64,
        written: Result<Option<Notice>, Error>,
    },
    /// The cuts of a draft with their prices; no prices where the pricing panicked.
    Priced(Box<Unpriced>, Option<Box<Tighten>>),
    /// A book of the list, by its number, was measured.
    BookMeasured(usize, BookStanding),
    /// A file of art was read, or could not be.
    ArtRead(PathBuf, Result<Arc<ArtFile>, Error>),
    /// What is known of a draft for the list of drafts.
    Listed(DraftId, Box<PaperFacts>),
    /// The terminal is gone.
    Gone,
}

impl Message {
    /// Whether the message comes from the terminal or from a signal, and so is for whatever loop is in front.
    fn is_of_terminal(&self) -> bool {
        matches!(self, Self::Input(_) | Self::Answer(_) | Self::Signal(_) | Self::Gone)
    }
}

/// The threads that wait for keys, for answers of the terminal and for signals, and the loop that they tell: the one in
/// front of several that take turns.
#[derive(Clone)]
pub(super) struct Ears(Arc<Mutex<Told>>);

/// Whom the threads tell.
struct Told {
    to: Sender<Message>,
    /// The messages of a loop that has ended; none while a loop is in front.
    rest: Option<Receiver<Message>>,
}

impl Ears {
    /// Starts the threads. What comes before a loop is in front waits for it.
    pub(super) fn open(was_asked: bool) -> io::Result<Self> {
        let (to, rest) = channel();
        let ears = Self(Arc::new(Mutex::new(Told { to, rest: Some(rest) })));
        terminal::hold_stops()?;
        let own = ears.clone();
        thread::spawn(move || while terminal::wait_for_stop().is_ok() && own.tell(Message::Signal(SIGTSTP)) {});
        let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGCONT, SIGWINCH])?;
        let own = ears.clone();
        thread::spawn(move || signals.forever().all(|signal| own.tell(told(signal))));
        let own = ears.clone();
        thread::spawn(move || {
            let hear = |heard| match heard {
                Heard::Event(event) => own.tell(Message::Input(event)),
                Heard::Answer(answer) => own.tell(Message::Answer(answer)),
            };
            // A panic while reading is treated as the end of the terminal.
            drop(catch_unwind(AssertUnwindSafe(|| input::read_all(was_asked, hear))));
            own.tell(Message::Gone);
        });
        Ok(ears)
    }

    /// Has a loop told from now on, and hands it what the one before has not taken.
    pub(super) fn turn_here(&self) -> (Sender<Message>, Receiver<Message>) {
        let (sender, messages) = channel();
        let mut told = self.told();
        let left = told.rest.take();
        for message in left.iter().flat_map(Receiver::try_iter).filter(Message::is_of_terminal) {
            // The receiver is at hand.
            drop(sender.send(message));
        }
        told.to = sender.clone();
        (sender, messages)
    }

    /// Keeps the messages of a loop that has ended for the next one.
    pub(super) fn rest(&self, messages: Receiver<Message>) {
        self.told().rest = Some(messages);
    }

    /// Tells the loop in front; false where there is none any more.
    fn tell(&self, message: Message) -> bool {
        self.told().to.send(message).is_ok()
    }

    fn told(&self) -> MutexGuard<'_, Told> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// SIGWINCH becomes a resize of the window; every other signal is passed on as it is.
fn told(signal: i32) -> Message {
    if signal != SIGWINCH {
        return Message::Signal(signal);
    }
    let (columns, rows) = terminal::size();
    Message::Input(Input::Resize(columns, rows))
}

/// The thread that prices cuts.
pub(super) struct Pricer {
    asked: Sender<(usize, Unpriced)>,
    /// The number of the latest request; work for any earlier request is abandoned.
    latest: Arc<AtomicUsize>,
}

impl Pricer {
    /// Starts the thread. Of the requests that arrive before a pause of `CALM`, only the last is priced; a request that
    /// arrives during pricing makes the running work stop early.
    pub(super) fn start(sender: Sender<Message>) -> Self {
        let (asked, wishes) = channel::<(usize, Unpriced)>();
        let latest = Arc::new(AtomicUsize::new(0));
        let current = Arc::clone(&latest);
        thread::spawn(move || {
            while let Ok((mut number, mut unpriced)) = wishes.recv() {
                while let Ok(newer) = wishes.recv_timeout(CALM) {
                    (number, unpriced) = newer;
                }
                let is_wanted = || current.load(Ordering::Relaxed) == number;
                let tighten = catch_unwind(AssertUnwindSafe(|| Box::new(unpriced.priced(&is_wanted)))).ok();
                if is_wanted() && sender.send(Message::Priced(Box::new(unpriced), tighten)).is_err() {
                    return;
                }
            }
        });
        Self { asked, latest }
    }

    /// Abandons the running work, and asks for `unpriced` to be priced if there is one.
    pub(super) fn price(&self, unpriced: Option<Unpriced>) {
        let number = self.latest.fetch_add(1, Ordering::Relaxed) + 1;
        if let Some(unpriced) = unpriced {
            // If the thread is gone, sending fails: there are no prices, and the desk goes on without them.
            drop(self.asked.send((number, unpriced)));
        }
    }
}

/// The thread that reads art, which may take seconds.
pub(super) struct ArtReader(Sender<ArtWish>);

impl ArtReader {
    /// Starts the thread. The first brief is read at once. Later ones come of changes on the disk, often several in a
    /// row: of those only the last is read, after a pause, and a file that has not changed is not unpacked again.
    pub(super) fn start(sender: Sender<Message>) -> Self {
        let (asked, wishes) = channel::<ArtWish>();
        thread::spawn(move || {
            let mut calm = Duration::ZERO;
            while let Ok(mut wish) = wishes.recv() {
                while let Ok(newer) = wishes.recv_timeout(calm) {
                    wish = newer;
                }
                calm = CALM;
                if !read_all(wish, &sender) {
                    return;
                }
            }
        });
        Self(asked)
    }

    pub(super) fn ask(&self, wish: ArtWish) {
        // If the thread is gone, sending fails: the desk goes on without the art.
        drop(self.0.send(wish));
    }
}

/// Reads every file of art of a brief, and finds what lies behind its copy, so that no key waits for that either.
/// Returns whether anybody is left to be told.
fn read_all(wish: ArtWish, sender: &Sender<Message>) -> bool {
    let ArtWish { brief, path } = wish;
    let mut brief = Arc::unwrap_or_clone(brief);
    let named = brief.faces().filter_map(|face| face.art).flat_map(|art| art.pictures());
    let named: BTreeSet<PathBuf> = named.map(|picture| picture.file.clone()).collect();
    for file in named {
        let read = files::read_art(&path, &file);
        if let Ok(art) = &read {
            for named in brief.arts_mut() {
                named.fill_in(&file, art);
            }
            // What is found is kept with the picture.
            drop(on_art::grounds_of(&brief, &Rooms::of(&brief)));
        }
        if sender.send(Message::ArtRead(file, read)).is_err() {
            return false;
        }
    }
    true
}

/// Drafts of which it is asked what is known, and the brief by which they are measured.
pub(super) struct ListWish {
    pub(super) drafts: Vec<(DraftId, PathBuf)>,
    pub(super) by: MeasuredBy,
}

/// The thread that looks at the drafts of the list, which may be many.
pub(super) struct Lister(Sender<ListWish>);

impl Lister {
    /// Starts the thread. A draft that is asked for again before its turn is looked at once, by the later brief.
    pub(super) fn start(sender: Sender<Message>) -> Self {
        let (asked, wishes) = channel::<ListWish>();
        thread::spawn(move || {
            while let Ok(ListWish { mut drafts, mut by }) = wishes.recv() {
                drafts.reverse();
                while let Some((draft, path)) = drafts.pop() {
                    let known = catch_unwind(AssertUnwindSafe(|| door::known_of(&path, &by))).unwrap_or_default();
                    if sender.send(Message::Listed(draft, Box::new(known))).is_err() {
                        return;
                    }
                    for newer in wishes.try_iter() {
                        drafts.retain(|(draft, _)| newer.drafts.iter().all(|(known, _)| known != draft));
                        drafts.extend(newer.drafts.into_iter().rev());
                        by = newer.by;
                    }
                }
            }
        });
        Self(asked)
    }

    pub(super) fn ask(&self, wish: ListWish) {
        // If the thread is gone, sending fails: the list goes on without the figures.
        drop(self.0.send(wish));
    }
}

/// Words on their way to a recovery file.
pub(super) struct Autosave {
    pub(super) draft: DraftId,
    /// The revision of the words.
    pub(super) revision: u64,
    pub(super) write: RecoveryWrite,
}

/// The thread that writes the recovery files.
pub(super) struct Autosaver {
    queued: Sender<Autosave>,
    thread: JoinHandle<()>,
}

impl Autosaver {
    pub(super) fn start(sender: Sender<Message>) -> Self {
        let (queued, queue) = channel::<Autosave>();
        let thread = thread::spawn(move || {
            while let Ok(Autosave { draft, revision, write }) = queue.recv() {
                // The words are written even if the receiver of the message is gone.
                drop(sender.send(Message::Autosaved { draft, revision, written: write.write() }));
            }
        });
        Self { queued, thread }
    }

    pub(super) fn queue(&self, autosave: Autosave) {
        // If the thread is gone, sending fails: the words stay marked as unsaved and are written when the desk ends.
        drop(self.queued.send(autosave));
    }

    /// Waits until every queued recovery file is written.
    pub(super) fn end(self) {
        drop(self.queued);
        // Results were sent as messages, so the thread's own return value is not needed.
        drop(self.thread.join());
    }
}

/// A watcher of folders, which tells of any change in them but those of hidden files: recovery files are among those.
pub(super) fn watcher(sender: Sender<Message>) -> Option<RecommendedWatcher> {
    let is_change = |event: &notify::Event| {
        let is_hidden = |name: &OsStr| name.as_encoded_bytes().starts_with(b".");
        let is_seen = |path: &PathBuf| path.file_name().is_some_and(|name| !is_hidden(name));
        !event.kind.is_access() && event.paths.iter().any(is_seen)
    };
    notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        if event.is_ok_and(|event| is_change(&event)) {
            drop(sender.send(Message::Disk));
        }
    })
    .ok()
}
