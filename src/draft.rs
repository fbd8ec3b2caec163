//! A draft: one version of the copy, as blocks of plain text that point back into the author's file.
//!
//! A draft is Markdown in its simplest form. A first-level heading is the headline; paragraphs are the blurb; a
//! block quotation holds review quotes, each ended by a line that opens with a dash, its credit; a second-level heading
//! names the block below it (`## Note on the author`) and is not printed; a comment is neither measured nor set.
//!
//! Reading cannot fail: whatever has no place in copy (a picture, a control character) is left out and noted.

pub mod added;
mod kind;
mod block;
mod edits;
pub mod verse_lines;
mod version;
mod credits;
mod comments;
mod markdown;
mod remembered;
mod places;

pub use block::{Block, Emphasis, Span};
pub use comments::comment_edits;
pub use credits::{ends_sentence, is_mark_of_speech, opens_with_dash};
pub use edits::{Edit, edited};
pub use kind::BlockKind;
pub use places::{LinePlaces, place};
pub use remembered::Remembered;
pub use version::{Comment, Draft, Note};
