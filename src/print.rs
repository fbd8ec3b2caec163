//! What is printed for people and for scripts: reports, comparisons and lists as text, JSON, JSON Lines and CSV.
//!
//! Everything here is a function of finished results, such as a [`Report`](crate::report::Report), and measures
//! nothing.

pub mod visible;
mod sheet;
pub mod words;
pub mod json;
mod art;
mod findings;
mod fit_data;
pub mod level;
pub mod level_data;
pub mod text;
pub mod report_data;
pub mod sizes;
pub mod sizes_data;
pub mod panel;
pub mod panel_data;
pub mod compare;
pub mod csv;
pub mod compare_data;
pub mod kept;
pub mod terms;
pub mod terms_data;
pub mod tighten;
pub mod tighten_data;
pub mod other_words;
pub mod schema;
