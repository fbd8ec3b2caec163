//! The desk: the full-screen program on which a draft is written while its measures move beside it.
//!
//! [`State`] is everything that the desk is, [`update()`] applies one event to it, and [`settle`] brings what is shown
//! up to date. Nothing here reads or writes a disk or a screen: work outside is asked for as an [`Effect`], and drawing
//! is left to `panes`.

pub mod assessed;
pub mod rows;
pub mod event;
pub mod sheet;
pub mod papers;
pub mod beside;
pub mod unpriced;
pub mod keys;
pub mod hints;
pub mod mode;
pub mod reading;
pub mod layout;
pub mod state;
mod writing;
pub mod listing;
pub mod drafts;
mod prompts;
mod values;
pub mod placing;
mod answering;
mod book_page;
mod modes;
mod pointing;
mod outcomes;
mod update;

pub use crate::pictures::theme;
pub use event::{Effect, Event, Outcome, Target};
pub use papers::DraftId;
pub use state::{OpenedBook, State};
pub use update::{settle, update};
pub use writing::{LETS_GO, MENDING_MARGIN, MendStep, key_action, mend, mending_columns};
