//! A list of drafts, one line each: drafts that cannot be read, then drafts outside a limit, then drafts within all
//! limits.

use super::visible::visible;
use super::words::{counted, told};
use crate::report::Report;

/// The lines of a list while they are collected.
#[derive(Debug, Default)]
pub struct ListPage {
    unread: Vec<String>,
    outside: Vec<String>,
    within: Vec<String>,
}

/// The line of one draft: its name, and the limits that it breaks.
pub fn line(report: &Report, path: &str) -> String {
    let outside: Vec<String> = report.verdict.outside().map(|check| told(check, report)).collect();
    let colon = if outside.is_empty() { "" } else { ": " };
    format!("{}{colon}{}", visible(path), outside.join("; "))
}

impl ListPage {
    /// Adds the line of a draft that is within every limit.
    pub fn take_within(&mut self, line: String) {
        self.within.push(line);
    }

    /// Adds the line of a draft that is outside some limit.
    pub fn take_outside(&mut self, line: String) {
        self.outside.push(line);
    }

    /// Adds the error about a draft that could not be read.
    pub fn take_unread(&mut self, message: &str) {
        self.unread.push(visible(message).replace("<U+000A>", " "));
    }

    /// The list, ending with a line of totals and a line ending.
    pub fn written(&self) -> String {
        let parts = [("unread ", &self.unread), ("outside", &self.outside), ("within ", &self.within)];
        let lines = parts.iter().flat_map(|(word, lines)| lines.iter().map(move |line| format!("{word}  {line}\n")));
        let all = self.unread.len() + self.outside.len() + self.within.len();
        let count = format!(
            "{}: {} unread, {} outside, {} within\n",
            counted(all, "draft"),
            self.unread.len(),
            self.outside.len(),
            self.within.len()
        );
        lines.chain([count]).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::ListPage;

    #[test]
    fn what_fails_stands_first() {
        let mut list = ListPage::default();
        list.take_within("a/first.md".to_owned());
        list.take_outside("b/first.md: 1 line is over".to_owned());
        list.take_unread("c/brief.yaml:1:1: no\nline");
        assert_eq!(
            list.written(),
            "unread   c/brief.yaml:1:1: no line\noutside  b/first.md: 1 line is over\nwithin   a/first.md\n\
             3 drafts: 1 unread, 1 outside, 1 within\n"
        );
        assert_eq!(ListPage::default().written(), "0 drafts: 0 unread, 0 outside, 0 within\n");
    }
}
