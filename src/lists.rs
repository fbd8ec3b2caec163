//! A list of drafts for an editor's eye, a row a draft, what fails first: as a page of text, as a table for a
//! spreadsheet, and as one page with a small panel of each.

pub mod row;
pub mod page;
mod summary;
pub mod table;
mod xlsx;
mod small_panel;
pub mod web;
