//! The desk: the full-screen program on which a draft is written while its measures move beside it.
//!
//! [`State`] is all that it is, [`update()`] makes the next one of an event, [`view::draw`] shows it. Nothing here reads or
//! writes a disk: what has to be done in the world is asked for as an [`Effect`].

pub mod theme;
pub mod layout;
pub mod assessed;
pub mod rows;
pub mod sheet;
pub mod tried;
pub mod details;
pub mod state;
pub mod keys;
pub mod hints;
pub mod event;
mod update;
mod writing;
mod modes;
mod pointing;
pub mod pane;
pub mod picture;
pub mod gauge;
pub mod measures;
pub mod queries;
pub mod beside;
mod pages;
mod values;
mod foot;
pub mod view;

pub use event::{Effect, Event, Outcome};
pub use state::{OpenedBook, State};
pub use update::{settle, update};
