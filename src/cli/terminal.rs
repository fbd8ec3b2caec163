//! The terminal's modes: taken for the desk, given back whatever happens, and given back for a while when the desk is
//! stopped.
//!
//! A stop is SIGTSTP with the system's own handling, as a shell with job control expects it. While the desk is up every
//! thread blocks that signal, one waits for it, and the loop lets it through once the terminal is given back. So
//! nothing is ever installed in the place of the system's handling, and a desk that no shell could wake again is not
//! stopped by it.

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
    /// Whether the mouse is for the desk.
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

/// Whether the terminal is the desk's to draw on.
pub(super) fn is_taken() -> bool {
    TAKEN.load(Ordering::SeqCst)
}

/// Sets every mode, also where a shell has undone them while the desk was stopped.
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

/// Undoes every mode, whatever was on; it may be called from anywhere and again.
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
        // Where the terminal is gone there is nothing to undo.
        drop(undone.and_then(|()| disable_raw_mode()));
    }
}

fn stops() -> SigSet {
    SigSet::from(Signal::SIGTSTP)
}

/// Holds stops back in this thread and in those that it starts.
pub(super) fn hold_stops() -> io::Result<()> {
    Ok(stops().thread_block()?)
}

/// Waits for the next stop.
pub(super) fn wait_for_stop() -> io::Result<()> {
    stops().wait()?;
    Ok(())
}

/// Asks everyone in the desk's job to stop, the desk too: a script that has started it would wait for ever otherwise.
pub(super) fn ask_to_stop() -> io::Result<()> {
    give_back();
    Ok(kill(Pid::from_raw(0), Signal::SIGTSTP)?)
}

/// Stops until called again. Where no shell could do that, the system does not stop the desk.
pub(super) fn stop() -> io::Result<()> {
    give_back();
    raise(Signal::SIGTSTP)?;
    // What is held back for this thread comes now.
    stops().thread_unblock()?;
    hold_stops()
}
