//! The report for people and for scripts: as text, as JSON, as JSON Lines.
//!
//! A view here is a function of a finished [`Report`](crate::report::Report); it measures nothing.

pub mod visible;
mod sheet;
pub mod words;
pub mod json;
mod findings;
mod findings_data;
pub mod level;
pub mod level_data;
pub mod text;
pub mod report_data;
pub mod sizes;
pub mod sizes_data;
pub mod panel;
pub mod panel_data;
pub mod unread_data;
pub mod compare;
pub mod compare_data;
pub mod kept;
pub mod list;
pub mod terms;
pub mod terms_data;
pub mod tighten;
pub mod tighten_data;
pub mod schema;
