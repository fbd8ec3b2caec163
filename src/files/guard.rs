//! Catches panics of libraries that read or draw the content of an author's file, so that the error can name the file.

use std::any::Any;
use std::cell::Cell;
use std::panic::{self, AssertUnwindSafe, catch_unwind};
use std::sync::Once;

thread_local! {
    /// Whether a panic in this thread is reported by the code that catches it.
    static CAUGHT: Cell<bool> = const { Cell::new(false) };
}

/// Runs something that may panic over a damaged file. The panic's payload is returned and nothing is printed.
pub fn caught<T>(run: impl FnOnce() -> T) -> Result<T, Box<dyn Any + Send>> {
    static SILENCE: Once = Once::new();
    SILENCE.call_once(|| {
        let tell = panic::take_hook();
        panic::set_hook(Box::new(move |fault| {
            if !is_caught() {
                tell(fault);
            }
        }));
    });
    let before = CAUGHT.replace(true);
    let done = catch_unwind(AssertUnwindSafe(run));
    CAUGHT.set(before);
    done
}

/// Whether a panic in this thread is going to be caught, so that it need not be reported where it happens.
pub fn is_caught() -> bool {
    CAUGHT.get()
}
