//! Draws the desk, one pane to a file, and finds what the mouse was on.
//!
//! [`draw`] shows a state, and [`draw_beginning`] the pages before there is a draft. [`hit()`] says what stands at a
//! place of the screen, and [`pictures()`] tells the faces that a terminal may show as pictures; none of them changes
//! anything.

mod put;
mod list;
mod other_words;
mod ground;
mod scale;
mod picture;
mod copy;
mod gauge;
mod measures;
mod queries;
mod terms;
mod beside;
mod answers;
mod pages;
mod drafts;
mod values;
mod book;
mod foot;
mod form;
mod books;
mod beginning;
mod view;
mod proofed;
pub(crate) mod painter;
mod hit;

pub use beginning::{beginning_event, draw_beginning};
pub use hit::{event, hit};
pub use painter::CALM;
pub use proofed::{FacePicture, pictures};
pub use view::draw;
