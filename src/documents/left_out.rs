//! What of a document is no copy, counted, and how it is told.

use crate::units::nouns::{agrees, counted};

/// How much of a document was left out, or read in one of several ways.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(super) struct LeftOut {
    /// Stretches that were put in while changes were tracked.
    pub(super) inserted: usize,
    /// Stretches that were struck out while changes were tracked.
    pub(super) struck_out: usize,
    /// Comments.
    pub(super) comments: usize,
    /// Footnotes and endnotes.
    pub(super) notes: usize,
    /// Pictures and drawings.
    pub(super) pictures: usize,
    /// Stretches of hidden text.
    pub(super) hidden: usize,
    /// Stretches that a line is drawn through, as a hand strikes words out.
    pub(super) crossed_out: usize,
    /// Signs of a font of symbols, which no letters stand for.
    pub(super) signs: usize,
    /// Tables, whose cells are read one after another.
    pub(super) tables: usize,
    /// Boxes of text that stand beside the copy.
    pub(super) boxes: usize,
}

impl LeftOut {
    /// What is told, a clause each, without stops; nothing where all of the document is copy.
    pub(super) fn told(&self) -> Vec<String> {
        let mut told = Vec::new();
        if self.inserted + self.struck_out > 0 {
            let changes = [(self.inserted, "insertion", "insertions"), (self.struck_out, "deletion", "deletions")];
            told.push(format!("it was read as if all tracked changes were accepted: {}", listed(&changes)));
        }
        let out = [
            (self.comments, "comment", "comments"),
            (self.notes, "footnote or endnote", "footnotes or endnotes"),
            (self.pictures, "picture", "pictures"),
            (self.hidden, "stretch of hidden text", "stretches of hidden text"),
            (self.crossed_out, "stretch of crossed-out text", "stretches of crossed-out text"),
            (self.signs, "sign of a font of symbols", "signs of a font of symbols"),
        ];
        let count: usize = out.iter().map(|(count, _, _)| count).sum();
        if count > 0 {
            told.push(format!("{} {} left out", listed(&out), agrees(count, "was", "were")));
        }
        for (count, noun, done) in
            [(self.boxes, "text box", "read as paragraphs"), (self.tables, "table", "read cell by cell")]
        {
            if count > 0 {
                told.push(format!("{} {} {done}", counted(count, noun), agrees(count, "was", "were")));
            }
        }
        told
    }
}

/// What there is of several things, each with its name for one and for many, as a list in words; what there is none of
/// is not named.
fn listed(all: &[(usize, &str, &str)]) -> String {
    let named = |(count, one, many): &(usize, &str, &str)| format!("{count} {}", agrees(*count, one, many));
    let mut named: Vec<String> = all.iter().filter(|(count, _, _)| *count > 0).map(named).collect();
    match named.pop() {
        Some(last) if named.is_empty() => last,
        Some(last) => format!("{} and {last}", named.join(", ")),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_left_out_is_told_for_one_and_for_many() {
        assert!(LeftOut::default().told().is_empty());
        let one = LeftOut { comments: 1, ..LeftOut::default() };
        assert_eq!(one.told(), ["1 comment was left out"]);
        let many = LeftOut {
            inserted: 1,
            struck_out: 2,
            comments: 2,
            notes: 3,
            pictures: 1,
            hidden: 2,
            crossed_out: 1,
            signs: 1,
            tables: 1,
            boxes: 2,
        };
        assert_eq!(
            many.told(),
            [
                "it was read as if all tracked changes were accepted: 1 insertion and 2 deletions",
                "2 comments, 3 footnotes or endnotes, 1 picture, 2 stretches of hidden text, 1 stretch \
                 of crossed-out text and 1 sign of a font of symbols were left out",
                "2 text boxes were read as paragraphs",
                "1 table was read cell by cell",
            ]
        );
    }
}
