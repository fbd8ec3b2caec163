//! What stands in JSON in the place of a draft that could not be read, so that a script sees as many objects as drafts.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::json::{Style, written};

/// The name of the present form.
pub(super) const SCHEMA: &str = "blurbwright-unread-1";

/// A draft, or a book without one, that could not be read or understood.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct UnreadJson {
    /// The name of this form: `blurbwright-unread-1`.
    schema: &'static str,
    /// The file as it was named, or the book's folder; `-` for standard input.
    path: String,
    /// What went wrong and what to do, as it is told on standard error.
    message: String,
}

impl UnreadJson {
    /// What is told of a file.
    pub fn of(path: &str, message: &str) -> Self {
        Self { schema: SCHEMA, path: path.to_owned(), message: message.to_owned() }
    }

    /// The object as text, without a line ending after it.
    pub fn written(&self, style: Style) -> String {
        written(self, style)
    }
}
