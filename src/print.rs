//! The report for people and for scripts: as text, as JSON, as JSON Lines.
//!
//! A view here is a function of a finished [`Report`](crate::report::Report); it measures nothing.

pub mod visible;
mod sheet;
pub mod json;
pub mod level;
pub mod schema;
pub mod words;
pub mod text;
mod findings;
pub mod sizes;
pub mod panel;
pub mod compare;
pub mod compare_data;
pub mod kept;
pub mod list;
pub mod unread;
pub mod terms;
pub mod terms_data;
pub mod tighten;
pub mod tighten_data;
