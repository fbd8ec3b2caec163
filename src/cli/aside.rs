//! The desk's background threads, so that no key waits for slow work: hearing keys and signals, writing recovery files
//! to a disk that may be slow, pricing cuts, and watching folders. Each thread reports to the desk's loop by a
//! `Message`.

use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use crossterm::event::Event as Input;
use notify::RecommendedWatcher;
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP, SIGWINCH};
use signal_hook::iterator::Signals;

use super::answers::TerminalAnswer;
use super::input::{self, Heard};
use super::painter::Painted;
use super::terminal;
use crate::desk::DraftId;
use crate::desk::unpriced::Unpriced;
use crate::files::Error;
use crate::files::desk::{Notice, RecoveryWrite};
use crate::report::tighten::Tighten;

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
    /// Something changed in a folder of drafts.
    Disk,
    /// The attempt to write a draft's words, as they were at a revision, to the recovery file has ended.
    Autosaved {
        draft: DraftId,
        revision: u64,
        written: Result<Option<Notice>, Error>,
    },
    /// The cuts of a draft with their prices; no prices where the pricing panicked.
    Priced(Box<Unpriced>, Option<Box<Tighten>>),
    /// The terminal is gone.
    Gone,
}

/// Starts the threads that wait for keys, answers of a terminal that was asked something, and signals.
pub(super) fn listen(sender: &Sender<Message>, was_asked: bool) -> io::Result<()> {
    terminal::hold_stops()?;
    let to = sender.clone();
    thread::spawn(move || while terminal::wait_for_stop().is_ok() && to.send(Message::Signal(SIGTSTP)).is_ok() {});
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGCONT, SIGWINCH])?;
    let to = sender.clone();
    thread::spawn(move || signals.forever().try_for_each(|signal| to.send(told(signal))));
    let to = sender.clone();
    thread::spawn(move || {
        // A panic while reading is treated as the end of the terminal.
        let hear = |heard| match heard {
            Heard::Event(event) => to.send(Message::Input(event)).is_ok(),
            Heard::Answer(answer) => to.send(Message::Answer(answer)).is_ok(),
        };
        let read_all = catch_unwind(|| input::read_all(was_asked, hear));
        // The receiver may be gone already; then nobody needs the message.
        drop((read_all, to.send(Message::Gone)));
    });
    Ok(())
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

pub(super) fn watcher(sender: Sender<Message>) -> Option<RecommendedWatcher> {
    let is_change = |event: &notify::Event| {
        let is_ours = |path: &PathBuf| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("md"));
        !event.kind.is_access() && event.paths.iter().any(is_ours)
    };
    notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        if event.is_ok_and(|event| is_change(&event)) {
            drop(sender.send(Message::Disk));
        }
    })
    .ok()
}
