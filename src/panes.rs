//! What is drawn of the desk, a pane a file, and what the mouse was on.
//!
//! [`draw`] shows a state, [`hit()`] says what stands at a place of the screen as it is drawn; neither changes
//! anything.

mod put;
mod list;
mod picture;
mod copy;
mod gauge;
mod measures;
mod queries;
mod beside;
mod pages;
mod values;
mod foot;
mod view;
mod hit;

pub use hit::{event, hit};
pub use view::draw;
