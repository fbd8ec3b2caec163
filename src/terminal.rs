//! The terminal's modes: set for a full screen, undone however the desk ends, and undone for a while when the desk is
//! stopped.

pub mod answers;
pub mod input;

use std::io::{self, IsTerminal, Write, stdout};
use std::sync::atomic::{AtomicBool, Ordering};

use crossterm::event::{DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture};
use crossterm::style::Print;
use crossterm::terminal::{
    Clear, ClearType, EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode,
    enable_raw_mode,
};
use crossterm::{cursor, execute, queue};

use crate::pictures::{PictureForm, kitty};
use crate::system;

/// What pictures the author wants to see.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// Pictures of the form that the terminal says it shows.
    Asked,
    /// Pictures of one form, whatever the terminal says.
    Form(PictureForm),
    /// None.
    Nothing,
}

/// How the terminal is used.
#[derive(Debug, Clone, Copy)]
pub struct Modes {
    /// Whether mouse events go to the desk.
    pub mouse: bool,
    /// Which pictures are shown.
    pub pictures: Wanted,
    /// Whether the terminal is at the far end of a line.
    pub is_afar: bool,
}

/// Whether the terminal is in the desk's modes.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Whether pictures were sent to the terminal, and whether by kitty's protocol.
static HAS_PICTURES: AtomicBool = AtomicBool::new(false);
static HAS_KITTY_PICTURES: AtomicBool = AtomicBool::new(false);

/// Notes that pictures are sent to the terminal, so that they are taken from it again.
pub fn note_pictures(by_kitty: bool) {
    HAS_PICTURES.store(true, Ordering::SeqCst);
    HAS_KITTY_PICTURES.fetch_or(by_kitty, Ordering::SeqCst);
}

/// The pixels of a cell, across and down; none where the terminal's driver does not know them.
pub fn cell_pixels() -> Option<(u16, u16)> {
    let size = crossterm::terminal::window_size().ok()?;
    let cell = (size.width.checked_div(size.columns)?, size.height.checked_div(size.rows)?);
    Some(cell).filter(|(width, height)| *width > 0 && *height > 0)
}

/// The terminal's columns and rows.
pub fn size() -> (u16, u16) {
    crossterm::terminal::size().unwrap_or((0, 0))
}

/// Whether there still is a terminal.
pub fn is_there() -> bool {
    crossterm::terminal::size().is_ok() && io::stdin().is_terminal()
}

/// Whether the desk may draw on the terminal.
pub fn is_taken() -> bool {
    TAKEN.load(Ordering::SeqCst)
}

/// Sets every mode, including those that a shell has undone while the desk was stopped.
pub fn take(modes: Modes) -> io::Result<()> {
    if is_taken() {
        disable_raw_mode()?;
    }
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    queue!(stdout(), EnterAlternateScreen)?;
    if system::KNOWS_BYTES {
        queue!(stdout(), EnableBracketedPaste)?;
    }
    if modes.mouse {
        queue!(stdout(), EnableMouseCapture)?;
    }
    stdout().flush()
}

/// Undoes every mode. May be called from anywhere, and more than once.
pub fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        if HAS_KITTY_PICTURES.load(Ordering::SeqCst) {
            drop(queue!(stdout(), Print(kitty::BROKEN_OFF), Print(kitty::ALL_DELETED)));
        }
        if HAS_PICTURES.load(Ordering::SeqCst) {
            drop(queue!(stdout(), Clear(ClearType::All)));
        }
        if system::KNOWS_BYTES {
            drop(queue!(stdout(), DisableBracketedPaste));
        }
        let undone = execute!(stdout(), EndSynchronizedUpdate, DisableMouseCapture, LeaveAlternateScreen, cursor::Show);
        // An error means that the terminal is gone, and then there is nothing to undo.
        drop(undone.and_then(|()| disable_raw_mode()));
    }
}

/// Gives the terminal back, and asks the shell to have it for a while.
pub fn ask_to_stop() -> io::Result<()> {
    give_back();
    system::ask_to_stop()
}

/// Gives the terminal back, and stops the process until a shell continues it.
pub fn stop() -> io::Result<()> {
    give_back();
    system::stop()
}
