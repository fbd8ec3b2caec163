//! What each system does in its own way, behind one door: what it calls out to a program, what a terminal sends, claims
//! on files, rights, paths and patterns of names, and the user's folders.
//!
//! `unix.rs` and `windows.rs` offer the same names; nothing else asks which system it is. What a system has no need of
//! is done by nobody: the console of Windows is written to in UTF-16 by the standard library, so that its code page
//! changes nothing, and its modes are set by crossterm.

pub mod file_names;
pub mod long_paths;
pub mod patterns;
#[cfg_attr(unix, path = "system/unix.rs")]
#[cfg_attr(windows, path = "system/windows.rs")]
mod own;

use crossterm::event::Event;

pub use own::{
    CONSOLE_IS_UNICODE, HAS_JOB_CONTROL, HUNG_UP, KNOWS_BYTES, SHOWS_ALL_COLOURS, ask_to_stop, claim, claim_folder,
    give_owner, hear_calls, host, is_held, keep_private, kind_of, named_by, of_any_length, of_move, read_terminal,
    reader_is_gone, real_path, state_folder, stop, with_right_to_write, without_waiting,
};

/// What the system calls out to the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Call {
    /// The shell is to have the terminal back for a while.
    Stop,
    /// The shell has continued the program.
    Continued,
    /// The terminal has another size.
    Resized,
    /// The program has to end, with this exit status: its window is closed, its user logs off, or it is told to.
    End(i32),
}

/// What came from the terminal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sent {
    /// Bytes, in which keys, pastes and answers are still to be told apart.
    Bytes(Vec<u8>),
    /// A key, a move of the mouse or another size, which the system has told apart itself.
    Event(Event),
}
