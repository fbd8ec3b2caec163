//! A page while it is written: labels on the left, text beside them, wrapped at the page's width.

use textwrap::Options;

/// The narrowest page; where a terminal is narrower still, it breaks the lines itself.
const NARROWEST: usize = 40;
/// The widest page; longer lines are hard to follow.
const WIDEST: usize = 96;
/// The column in which the text stands beside its label.
pub(super) const LABEL: usize = 9;

/// How much further a printed line is indented where it continues on the next row.
const FURTHER_IN: usize = 4;

/// A page of text while it is written.
pub(super) struct TextPage {
    text: String,
    columns: usize,
}

impl TextPage {
    /// An empty page for a terminal of `columns` columns.
    pub(super) fn new(columns: usize) -> Self {
        Self { text: String::new(), columns: columns.clamp(NARROWEST, WIDEST) }
    }

    /// The text of the page, ending with a line ending.
    pub(super) fn text(self) -> String {
        self.text
    }

    /// The width of the page, in columns.
    pub(super) fn columns(&self) -> usize {
        self.columns
    }

    /// A paragraph after a label of the usual width.
    pub(super) fn labelled(&mut self, label: &str, text: &str) {
        self.wrapped(text, &format!("{label:LABEL$}"), &" ".repeat(LABEL));
    }

    /// A paragraph after a label of any length; the lines after the first are aligned with its text.
    pub(super) fn beside(&mut self, label: &str, text: &str) {
        self.wrapped(text, label, &" ".repeat(label.chars().count()));
    }

    /// An item of a list, marked so that it can be told from the next item where it is wrapped.
    pub(super) fn item(&mut self, text: &str) {
        self.wrapped(text, &format!("{:LABEL$}- ", ""), &" ".repeat(LABEL + 2));
    }

    /// A paragraph from the left edge; the lines after the first are indented by `rest` columns.
    pub(super) fn indented(&mut self, text: &str, rest: usize) {
        self.wrapped(text, "", &" ".repeat(rest));
    }

    /// One printed line of copy. Where the page is too narrow for it, its continuation is indented further, so that it
    /// is not taken for the next printed line.
    pub(super) fn set_line(&mut self, label: &str, text: &str) {
        self.wrapped(text, &format!("{label:LABEL$}"), &" ".repeat(LABEL + FURTHER_IN));
    }

    /// One line, not wrapped.
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
