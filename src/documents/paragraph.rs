//! A paragraph of a document: its words in runs of one emphasis, and what part of the copy its style makes it.

use crate::draft::{BlockKind, Emphasis};

/// What a paragraph is by its style.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum ParagraphKind {
    /// Running copy.
    #[default]
    Body,
    /// A block of the copy that the style names.
    Block(BlockKind),
    /// A heading below the first level, which may name the block below it.
    Name,
    /// An item of a list.
    Item { is_numbered: bool },
}

/// Letters of one emphasis.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TextRun {
    pub(super) emphasis: Emphasis,
    pub(super) text: String,
}

/// A paragraph. Lines that the author has forced end with `\n`.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Paragraph {
    pub(super) kind: ParagraphKind,
    pub(super) runs: Vec<TextRun>,
}

impl Paragraph {
    /// Adds letters behind the last ones.
    pub(super) fn push(&mut self, emphasis: Emphasis, text: &str) {
        match self.runs.last_mut() {
            Some(last) if last.emphasis == emphasis || text.chars().all(char::is_whitespace) => {
                last.text.push_str(text)
            }
            _ if text.is_empty() => {}
            _ => self.runs.push(TextRun { emphasis, text: text.to_owned() }),
        }
    }

    /// The words.
    pub(super) fn text(&self) -> String {
        self.runs.iter().map(|run| run.text.as_str()).collect()
    }

    /// Whether no letter is in it.
    pub(super) fn is_empty(&self) -> bool {
        self.runs.iter().all(|run| run.text.trim().is_empty())
    }

    /// Whether every letter has an emphasis that passes a check.
    pub(super) fn is_all(&self, check: impl Fn(Emphasis) -> bool) -> bool {
        self.runs.iter().all(|run| check(run.emphasis) || run.text.trim().is_empty())
    }

    /// The paragraph in two, parted at a byte of its words; both are of the kinds that are given.
    pub(super) fn parted(&self, at: usize, kinds: (ParagraphKind, ParagraphKind)) -> (Self, Self) {
        let (mut before, mut behind) =
            (Self { kind: kinds.0, runs: Vec::new() }, Self { kind: kinds.1, runs: Vec::new() });
        let mut done = 0;
        for TextRun { emphasis, text } in &self.runs {
            let (here, there) = text.split_at(at.saturating_sub(done).min(text.len()));
            before.push(*emphasis, here);
            behind.push(*emphasis, there);
            done += text.len();
        }
        (before, behind)
    }
}
