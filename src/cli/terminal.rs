//! The terminal's modes: set for the desk, undone however the desk ends, and undone for a while when the desk is
//! stopped.
//!
//! Stopping the desk (Ctrl-Z) raises SIGTSTP with the system's default handling, as a shell with job control expects.
//! While the desk is up, every thread blocks that signal and one thread waits for it; the loop unblocks it once the
//! terminal is given back. No handler replaces the default one, so the system does not stop a desk that no shell could
//! wake again.

use std::io::{self, IsTerminal, Write, stdout};
use std::sync::atomic::{AtomicBool, Ordering};

use crossterm::event::{DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture};
use crossterm::terminal::{
    EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute, queue};
use nix::sys::signal::{SigSet, Signal, kill, raise};
use nix::unistd::Pid;

/// How the terminal is used.
#[derive(Debug, Clone, Copy)]
pub(super) struct Modes {
    /// Whether mouse events go to the desk.
    pub(super) mouse: bool,
}

/// Whether the terminal is in the desk's modes.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// The terminal's columns and rows.
pub(super) fn size() -> (u16, u16) {
    crossterm::terminal::size().unwrap_or((0, 0))
}

/// Whether there still is a terminal.
pub(super) fn is_there() -> bool {
    crossterm::terminal::size().is_ok() && io::stdin().is_terminal()
}

/// Whether the desk may draw on the terminal.
pub(super) fn is_taken() -> bool {
    TAKEN.load(Ordering::SeqCst)
}

/// Sets every mode, including those that a shell has undone while the desk was stopped.
pub(super) fn take(modes: Modes) -> io::Result<()> {
    if is_taken() {
        disable_raw_mode()?;
    }
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    queue!(stdout(), EnterAlternateScreen, EnableBracketedPaste)?;
    if modes.mouse {
        queue!(stdout(), EnableMouseCapture)?;
    }
    stdout().flush()
}

/// Undoes every mode. May be called from anywhere, and more than once.
pub(super) fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        let undone = execute!(
            stdout(),
            EndSynchronizedUpdate,
            DisableMouseCapture,
            DisableBracketedPaste,
            LeaveAlternateScreen,
            cursor::Show
        );
        // An error means that the terminal is gone, and then there is nothing to undo.
        drop(undone.and_then(|()| disable_raw_mode()));
    }
}

fn stops() -> SigSet {
    SigSet::from(Signal::SIGTSTP)
}

/// Blocks SIGTSTP in this thread and in the threads that it starts.
pub(super) fn hold_stops() -> io::Result<()> {
    Ok(stops().thread_block()?)
}

/// Waits for the next SIGTSTP.
pub(super) fn wait_for_stop() -> io::Result<()> {
    stops().wait()?;
    Ok(())
}

/// Sends SIGTSTP to the whole process group, not to the desk alone: otherwise a script that started the desk would wait
/// for ever.
pub(super) fn ask_to_stop() -> io::Result<()> {
    give_back();
    Ok(kill(Pid::from_raw(0), Signal::SIGTSTP)?)
}

/// Stops the process until a shell continues it. Where no shell could do so, the system ignores the stop.
pub(super) fn stop() -> io::Result<()> {
    give_back();
    raise(Signal::SIGTSTP)?;
    // The blocked SIGTSTP is delivered here.
    stops().thread_unblock()?;
    hold_stops()
}
