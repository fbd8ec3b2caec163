//! A page while it is written: labels on the left, text beside them, broken at the page's edge.

use textwrap::Options;

/// Below this, lines break in the reader's terminal.
const NARROWEST: usize = 40;
/// Longer lines are hard to follow.
const WIDEST: usize = 96;
/// The column in which the text stands beside its label.
pub(super) const LABEL: usize = 9;

/// How much further in the rest of a printed line stands.
const FURTHER_IN: usize = 4;

/// A page.
pub(super) struct TextPage {
    text: String,
    columns: usize,
}

impl TextPage {
    /// An empty page for a reader with so many columns.
    pub(super) fn new(columns: usize) -> Self {
        Self { text: String::new(), columns: columns.clamp(NARROWEST, WIDEST) }
    }

    /// What was written, its last line ended.
    pub(super) fn text(self) -> String {
        self.text
    }

    /// The columns that the page takes.
    pub(super) fn columns(&self) -> usize {
        self.columns
    }

    /// A paragraph behind its label.
    pub(super) fn labelled(&mut self, label: &str, text: &str) {
        self.wrapped(text, &format!("{label:LABEL$}"), &" ".repeat(LABEL));
    }

    /// A paragraph behind a label of any length, what follows its first line standing below its text.
    pub(super) fn beside(&mut self, label: &str, text: &str) {
        self.wrapped(text, label, &" ".repeat(label.chars().count()));
    }

    /// An entry of a list, marked so that it can be told from the next when it is broken.
    pub(super) fn item(&mut self, text: &str) {
        self.wrapped(text, &format!("{:LABEL$}- ", ""), &" ".repeat(LABEL + 2));
    }

    /// A paragraph from the left edge, what follows its first line so far in.
    pub(super) fn indented(&mut self, text: &str, rest: usize) {
        self.wrapped(text, "", &" ".repeat(rest));
    }

    /// One printed line of copy. What the page is too narrow for goes on further in, so that it is not taken for the
    /// next line.
    pub(super) fn set_line(&mut self, label: &str, text: &str) {
        self.wrapped(text, &format!("{label:LABEL$}"), &" ".repeat(LABEL + FURTHER_IN));
    }

    /// One line as it is.
    pub(super) fn line(&mut self, line: String) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn wrapped(&mut self, text: &str, first: &str, rest: &str) {
        let options = Options::new(self.columns).initial_indent(first).subsequent_indent(rest);
        for line in textwrap::wrap(text, options) {
            self.line(line.into_owned());
        }
    }
}
