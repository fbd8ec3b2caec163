//! Copy that comes as records: lines of JSON, and feeds of ONIX for Books, each record with its brief and its draft.
//!
//! Records are read one at a time and in bounded memory, however long or hostile the input is. A record that cannot be
//! used says why, and the next one is read.

mod lines;
pub mod records;
pub mod answer_data;
mod tags;
mod xml;
mod markup;
mod languages;
mod copy_texts;
pub mod onix;
pub mod texts_alone;

pub use lines::{InputLine, LONGEST_LINE, next_line};
pub use xml::FeedFault;
