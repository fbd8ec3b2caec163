//! What the desk does aside, so that no key waits for it: hearing keys and signals, writing words to a disk that may be
//! slow, finding prices, watching the folders. Each is a thread that tells the loop by a message.

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

use super::{input, terminal};
use crate::desk::DraftId;
use crate::desk::unpriced::Unpriced;
use crate::files::Error;
use crate::files::desk::{Notice, RecoveryWrite};
use crate::report::tighten::Tighten;

/// Cuts are priced when nothing was typed for this long.
const CALM: Duration = Duration::from_millis(200);

/// What wakes the loop.
pub(super) enum Message {
    Input(Input),
    Signal(i32),
    /// Something changed in a folder of drafts.
    Disk,
    /// Words of a draft were written to the recovery file as they were at a revision, or could not be.
    Autosaved {
        draft: DraftId,
        revision: u64,
        written: Result<Option<Notice>, Error>,
    },
    /// Cuts have their prices; none where the program failed at it.
    Priced(Box<Unpriced>, Option<Box<Tighten>>),
    /// The terminal is gone.
    Gone,
}

/// Starts the threads that wait for keys and for signals.
pub(super) fn listen(sender: &Sender<Message>) -> io::Result<()> {
    terminal::hold_stops()?;
    let to = sender.clone();
    thread::spawn(move || while terminal::wait_for_stop().is_ok() && to.send(Message::Signal(SIGTSTP)).is_ok() {});
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGCONT, SIGWINCH])?;
    let to = sender.clone();
    thread::spawn(move || signals.forever().try_for_each(|signal| to.send(told(signal))));
    let to = sender.clone();
    thread::spawn(move || {
        // A fault in reading is the end of reading as well.
        let read_all = catch_unwind(|| input::read_all(|event| to.send(Message::Input(event)).is_ok()));
        // Where nobody listens any more, nobody needs to know.
        drop((read_all, to.send(Message::Gone)));
    });
    Ok(())
}

/// A window of another size is told by a signal too, and is no key.
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
    /// The number of what was asked last: work for any other is given up.
    latest: Arc<AtomicUsize>,
}

impl Pricer {
    /// Of what comes while it waits for a pause in the writing, only the last is priced, and of what comes while it
    /// prices, that is given up.
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

    /// Gives up what is being priced, and has a draft priced where there is one.
    pub(super) fn price(&self, unpriced: Option<Unpriced>) {
        let number = self.latest.fetch_add(1, Ordering::Relaxed) + 1;
        if let Some(unpriced) = unpriced {
            // Without the thread there are no prices, and all else goes on.
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
                // The words are written also where nobody listens any more.
                drop(sender.send(Message::Autosaved { draft, revision, written: write.write() }));
            }
        });
        Self { queued, thread }
    }

    pub(super) fn queue(&self, autosave: Autosave) {
        // Without the thread the words are at risk still, and are written at the end.
        drop(self.queued.send(autosave));
    }

    /// Waits until everything is on the disk.
    pub(super) fn end(self) {
        drop(self.queued);
        // The thread has told what there was to tell.
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
