//! The groups of briefs that were read: of many briefs that share a group, that group is read once.

use std::collections::HashMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::brief::yaml::{Node, Unreadable, parse, too_deep};

/// What was read of each group, by the group's text: the briefs of a house have their panel and their type in common.
/// A document is read as [`parse`] reads it, whatever is known.
#[derive(Debug, Default)]
pub struct KnownGroups(Mutex<HashMap<String, (String, Node)>>);

/// The longest text, in bytes, whose groups are remembered.
const LONGEST: usize = 16_384;

impl KnownGroups {
    /// The most groups that are remembered; with [`LONGEST`] they take a few megabytes at the most.
    const MOST: usize = 256;

    /// Reads a document.
    ///
    /// # Errors
    ///
    /// The first thing that is not YAML, or not what a brief may hold.
    pub fn parse(&self, text: &str) -> Result<Node, Unreadable> {
        self.by_groups(text).map_or_else(|| parse(text), Ok)
    }

    /// The document by its groups, those that are not known read in one go; none where it is not plainly made of them.
    fn by_groups(&self, text: &str) -> Option<Node> {
        let groups = groups(text)?;
        let mut found: Vec<Option<(String, Node)>> = {
            let known = self.known();
            groups.iter().map(|group| known.get(*group).cloned()).collect()
        };
        let is_new: Vec<bool> = found.iter().map(Option::is_none).collect();
        let new = || groups.iter().zip(&is_new).filter(|(_, is_new)| **is_new).map(|(group, _)| *group);
        if is_new.contains(&true) {
            let Ok(Node::Map(entries)) = parse(&new().collect::<String>()) else { return None };
            // A key stands at the beginning of a line that begins a group, and nowhere else; so where there are as many
            // of them, each group has its own.
            if entries.len() != new().count() {
                return None;
            }
            let mut known = self.known();
            if known.len() + entries.len() > Self::MOST {
                known.clear();
            }
            known.extend(new().map(str::to_owned).zip(entries.iter().cloned()));
            let places = found.iter_mut().filter(|entry| entry.is_none());
            places.zip(entries).for_each(|(place, entry)| *place = Some(entry));
        }
        let entries: Vec<(String, Node)> = found.into_iter().flatten().collect();
        let is_twice = |at: usize| entries[..at].iter().any(|(key, _)| *key == entries[at].0);
        (!(0..entries.len()).any(is_twice)).then_some(Node::Map(entries))
    }

    fn known(&self) -> MutexGuard<'_, HashMap<String, (String, Node)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The groups of a text, each from the line with its key on; none where the text might mean something else in parts
/// than as a whole.
fn groups(text: &str) -> Option<Vec<&str>> {
    // Names for repeated parts reach from group to group, brackets are counted through the whole text, and a line is
    // ended by more than a line feed.
    let parts_otherwise = ['&', '*', '\r', '\u{85}', '\u{2028}', '\u{2029}'];
    if text.len() > LONGEST || text.contains(parts_otherwise) || too_deep(text).is_some() {
        return None;
    }
    let (mut starts, mut at) = (Vec::new(), 0);
    for line in text.split_inclusive('\n') {
        match line.as_bytes() {
            [b'a'..=b'z' | b'A'..=b'Z', ..] => starts.push(at),
            [b'#' | b'\n', ..] => {}
            [b' ', ..] | [b'-', b' ', ..] if !starts.is_empty() => {}
            // A key in quotation marks, a bracket, a mark between documents.
            _ => return None,
        }
        at += line.len();
    }
    let ends = starts.iter().skip(1).chain([&at]);
    (!starts.is_empty()).then(|| starts.iter().zip(ends).map(|(start, end)| &text[*start..*end]).collect())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const PIECES: [&str; 25] = [
        "a: 1\n",
        "b: \"x\n",
        "c: y\"\n",
        "\"d\": 1\n",
        "e:\n",
        "  f: [1,\n",
        "  g]\n",
        "- h\n",
        "# i\n",
        "j: |\n",
        "  k\n",
        "l: {\n",
        "}\n",
        "m: &n 1\n",
        "o: *n\n",
        "---\n",
        "...\n",
        "p: 'q\n",
        "r'\n",
        "\n",
        "s: ~",
        "\u{85}v: 1\n",
        "\r",
        "t\n",
        "? u\n",
    ];

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, cases: 1000, ..ProptestConfig::default() })]

        /// Whatever was read before, and in whatever state it left the memory.
        #[test]
        fn what_is_read_by_groups_is_what_is_read_at_once(texts in proptest::collection::vec(
            proptest::collection::vec(proptest::sample::select(&PIECES[..]), 0..7), 1..6,
        )) {
            let known = KnownGroups::default();
            for text in texts.iter().map(|pieces| pieces.concat()) {
                prop_assert_eq!(known.parse(&text), parse(&text), "{}", text);
            }
        }
    }

    #[test]
    fn a_group_that_is_known_is_not_read_again() {
        let known = KnownGroups::default();
        let sample = include_str!("../../drafts/brief.yaml");
        assert_eq!(known.parse(sample), parse(sample));
        let groups = known.known().len();
        assert!(groups > 3, "{groups}");
        let other = sample.replace("Gull Point", "Tern Point");
        assert!(other != sample);
        assert_eq!(known.parse(&other), parse(&other));
        assert_eq!(known.known().len(), groups + 1);
    }

    #[test]
    fn what_is_remembered_has_a_bound() {
        let known = KnownGroups::default();
        for number in 0..3 * KnownGroups::MOST {
            assert!(known.parse(&format!("a: {number}\nb: {number}\n")).is_ok());
            assert!(known.known().len() <= KnownGroups::MOST);
        }
    }
}
