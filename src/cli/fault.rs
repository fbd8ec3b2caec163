//! A fault of the program while the desk is up: the terminal is given back, the words are kept, and the author is told.

use std::panic::{self, AssertUnwindSafe, PanicHookInfo, catch_unwind};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use super::terminal;
use crate::files::guard;

/// Runs something that has the terminal; what went wrong where it panicked, for a person.
///
/// Nothing is printed over the screen. Other threads' faults are theirs to tell.
pub(super) fn caught<T>(run: impl FnOnce() -> T) -> Result<T, String> {
    let (told, ours) = (Arc::new(Mutex::new(String::new())), thread::current().id());
    let tell = Arc::clone(&told);
    let before = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        if guard::is_caught() {
            return;
        }
        if thread::current().id() == ours {
            terminal::give_back();
            *tell.lock().unwrap_or_else(PoisonError::into_inner) = description(info);
        }
    }));
    let ended = catch_unwind(AssertUnwindSafe(run));
    panic::set_hook(before);
    ended.map_err(|_| std::mem::take(&mut *told.lock().unwrap_or_else(PoisonError::into_inner)))
}

fn description(info: &PanicHookInfo<'_>) -> String {
    let words = info.payload_as_str().unwrap_or("no words");
    info.location().map_or_else(|| words.to_owned(), |place| format!("{words}, at {}:{}", place.file(), place.line()))
}
