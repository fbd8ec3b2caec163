//! What stands before there is a draft at the desk: the page that begins a book, the offer of a first draft, and the
//! list of the books in a folder.
//!
//! [`Beginning`] is everything that these pages are, and [`update()`] applies one event to it. Nothing here reads or
//! writes a disk or a screen: work outside is asked for as a [`Wish`], and drawing is left to `panes`.

pub mod form;
pub mod books;
pub mod event;
pub mod state;
pub mod keys;
mod update;

pub use event::{BeginningEvent, BeginningTarget, Wish};
pub use state::{Beginning, BeginningPage, BriefMending, DraftOffer};
pub use update::update;
