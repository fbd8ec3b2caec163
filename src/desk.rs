//! The desk: the full-screen program on which a draft is written while its measures move beside it.
//!
//! [`State`] is all that the desk is, [`update()`] makes the next state of an event, [`settle`] brings what is shown up
//! to date. Nothing here reads or writes a disk or a screen: what has to be done in the world is asked for as an
//! [`Effect`], and what is drawn is the room below.

pub mod theme;
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
pub mod trial;
pub mod state;
mod writing;
mod querying;
mod listing;
mod prompts;
mod values;
mod comparing;
mod modes;
mod pointing;
mod outcomes;
mod update;

pub use event::{Effect, Event, Outcome, Target};
pub use papers::DraftId;
pub use state::{OpenedBook, State};
pub use update::{settle, update};
