//! A fault of a library that reads or draws what an author's file holds: it is caught, and told by the file's name.

use std::any::Any;
use std::cell::Cell;
use std::panic::{self, AssertUnwindSafe, catch_unwind};
use std::sync::Once;

thread_local! {
    /// Whether a fault in this thread is told by who catches it.
    static CAUGHT: Cell<bool> = const { Cell::new(false) };
}

/// Runs something that may fall over a damaged file. Of a fault nothing is printed; it is given back.
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

/// Whether a fault that happens in this thread now is caught, and needs no telling where it happens.
pub fn is_caught() -> bool {
    CAUGHT.get()
}
