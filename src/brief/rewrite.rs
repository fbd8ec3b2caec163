//! Writes single keys of a brief's type anew, and leaves every other character of the file as it is.
//!
//! The place of a value is found by the YAML parser itself. What comes of it is read again: if anything else than the keys
//! that were to be changed is another, nothing is given out.

use super::typography::{Align, BlockType};
use super::yaml::{self, Node, Step};
use crate::units::trimmed;

/// A key of the section `type` and what shall stand there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// `size`, `leading`, `font`, `weight` or `align`.
    pub key: &'static str,
    /// The value as it is written.
    pub value: String,
}

const SECTION: &str = "type";

/// What has to be written for one type of the blurb to become another.
pub fn changes(own: &BlockType, wanted: &BlockType) -> Vec<Change> {
    let points = |points: f64| format!("{} pt", trimmed(points, 3));
    let mut changes = Vec::new();
    let mut add = |key, value| changes.push(Change { key, value });
    if own.font != wanted.font {
        add("font", wanted.font.to_string());
    }
    // A weight that is asked of one font cannot be asked of every other.
    if own.weight() != wanted.weight() {
        add("weight", wanted.weight().to_string());
    }
    if own.size != wanted.size {
        add("size", points(wanted.size.to_pt()));
    }
    if own.leading() != wanted.leading() {
        add("leading", points(wanted.leading().to_pt()));
    }
    if own.align != wanted.align {
        let align = match wanted.align {
            Align::Left => "left",
            Align::Centre => "centre",
            Align::Justified => "justified",
        };
        add("align", align.to_owned());
    }
    changes
}

/// The brief's text with some keys of its type changed.
///
/// # Errors
///
/// A sentence without its stop, where the file is written in a way in which that cannot be done safely.
pub fn rewritten(text: &str, changes: &[Change]) -> Result<String, String> {
    let mut new = text.to_owned();
    for change in changes {
        new = with(&new, change);
    }
    let refuse =
        || "the brief is written in a way that cannot be changed safely here; change its type by hand".to_owned();
    let (before, after) = (yaml::parse(text).map_err(|_| refuse())?, yaml::parse(&new).map_err(|_| refuse())?);
    let is_there = |change: &Change| {
        let found = keys_of(&after).and_then(|keys| keys.iter().find(|(key, _)| key == change.key));
        found.is_some_and(|(_, node)| *node == Node::Text(change.value.clone()))
    };
    let is_same = without(&before, changes) == without(&after, changes);
    if is_same && changes.iter().all(is_there) { Ok(new) } else { Err(refuse()) }
}

fn step(key: &str) -> Step {
    Step::Key(key.to_owned())
}

/// The text with one value in the place of the one that is there, or added where there is none.
fn with(text: &str, Change { key, value }: &Change) -> String {
    if let Some(at) = place(text, &[step(SECTION), step(key)]) {
        let end = at + value_length(&text[at..], is_in_braces(text, at));
        return format!("{}{value}{}", &text[..at], &text[end..]);
    }
    match place(text, &[step(SECTION)]) {
        Some(at) if text[at..].starts_with('{') => {
            let rest = &text[at + 1..];
            let comma = if rest.trim_start().starts_with('}') { " " } else { "," };
            format!("{} {key}: {value}{comma}{rest}", &text[..=at])
        }
        Some(at) => {
            let line = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
            let indent = &text[line..at];
            format!("{}{indent}{key}: {value}\n{}", &text[..line], &text[line..])
        }
        None => {
            let end = if text.is_empty() || text.ends_with('\n') { "" } else { "\n" };
            format!("{text}{end}\n{SECTION}:\n  {key}: {value}\n")
        }
    }
}

/// The byte at which a value begins.
fn place(text: &str, path: &[Step]) -> Option<usize> {
    let (line, column) = yaml::locate(text, path)?;
    let start: usize = text.split_inclusive('\n').take(line.checked_sub(1)?).map(str::len).sum();
    let rest = text.get(start..)?;
    let inside = rest.char_indices().nth(column.checked_sub(1)?).map_or(rest.len(), |(at, _)| at);
    Some(start + inside)
}

/// Whether a value stands between braces, where a comma or a brace ends it.
fn is_in_braces(text: &str, at: usize) -> bool {
    let line = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    text[line..at].matches('{').count() > text[line..at].matches('}').count()
}

/// The bytes of a value at the start of some text, blanks and a comment behind it left out.
fn value_length(rest: &str, in_braces: bool) -> usize {
    let line = rest.lines().next().unwrap_or_default();
    if let Some(mark) = line.chars().next().filter(|first| matches!(first, '"' | '\'')) {
        return line[1..].find(mark).map_or(line.len(), |at| at + 2);
    }
    let ends = [line.find(" #"), line.find(|end| in_braces && matches!(end, ',' | '}'))];
    let end = ends.into_iter().flatten().min().unwrap_or(line.len());
    line[..end].trim_end().len()
}

fn keys_of(root: &Node) -> Option<&[(String, Node)]> {
    let Node::Map(sections) = root else { return None };
    match sections.iter().find(|(name, _)| name == SECTION) {
        Some((_, Node::Map(keys))) => Some(keys),
        _ => None,
    }
}

/// The brief without the keys that are changed, for comparing all the rest.
fn without(root: &Node, changes: &[Change]) -> Node {
    let Node::Map(sections) = root else { return root.clone() };
    let mut rest = sections.clone();
    for (name, node) in &mut rest {
        if let Node::Map(keys) = node
            && name == SECTION
        {
            keys.retain(|(key, _)| changes.iter().all(|change| change.key != key));
        }
    }
    // A section that holds nothing else may be missing on one side.
    rest.retain(|(name, node)| name != SECTION || *node != Node::Map(Vec::new()));
    Node::Map(rest)
}

#[cfg(test)]
mod tests {
    use super::{Change, changes, rewritten};
    use crate::brief::Brief;
    use crate::brief::typography::Font;
    use crate::units::Length;
    use std::path::Path;

    fn size(value: &str) -> [Change; 1] {
        [Change { key: "size", value: value.to_owned() }]
    }

    fn check(before: &str, after: &str) {
        assert_eq!(rewritten(before, &size("12.5 pt")).as_deref(), Ok(after));
    }

    #[test]
    fn one_value_is_another_and_all_else_stands() {
        check("type:\n  size: 13 pt   # for a shop\n", "type:\n  size: 12.5 pt   # for a shop\n");
        check("# A\ntype:\n    font: sans\n", "# A\ntype:\n    size: 12.5 pt\n    font: sans\n");
        check("type: { size: 13 pt, font: sans } # x\n", "type: { size: 12.5 pt, font: sans } # x\n");
        check("type: { font: sans }\n", "type: { size: 12.5 pt, font: sans }\n");
        check("type:\n  size: \"13 pt\"\n", "type:\n  size: 12.5 pt\n");
        check("panel: { trim: 8 x 8 in }", "panel: { trim: 8 x 8 in }\n\ntype:\n  size: 12.5 pt\n");
        check("type:\n  quote: { size: 9 pt }\n  size: 13 pt\n", "type:\n  quote: { size: 9 pt }\n  size: 12.5 pt\n");
    }

    #[test]
    fn what_cannot_be_changed_safely_is_refused() {
        assert!(rewritten("a: &x { size: 13 pt }\ntype: *x\n", &size("12 pt")).is_err());
        assert!(rewritten("type: [", &size("12 pt")).is_err());
    }

    #[test]
    fn the_brief_that_comes_of_it_has_the_type_that_was_tried() {
        let text = include_str!("../../drafts/brief.yaml");
        let own = Brief::read(text, Path::new("")).expect("the sample's brief").typography;
        let wanted = own.tried(Some(Length::pt(11.5)), None, None);
        let new = rewritten(text, &changes(&own.blurb, &wanted.blurb)).expect("it can be changed");
        let read = Brief::read(&new, Path::new("")).expect("it can be read").typography;
        assert_eq!(read.blurb.size, wanted.blurb.size);
        // A length is written to the hundredth of a point or so; that is well below what can be seen.
        let (read, wanted) = (read.blurb.leading().to_pt(), wanted.blurb.leading().to_pt());
        assert!((read - wanted).abs() < 0.005, "{read} {wanted}");
        assert_eq!(text.lines().count(), new.lines().count());
    }

    #[test]
    fn another_font_takes_its_weight_and_its_alphabet_away() {
        let panel = "panel: { trim: 8 x 8 in }\ntype:\n";
        let serif = format!("{panel}  font: serif\n  weight: regular\n  size: 13 pt\n");
        for font in ["own.ttf\n  weight: semibold", "own.ttf\n  weight: 650"] {
            let text = format!("{panel}  font: {font}\n  size: 13 pt\n");
            let own = Brief::read(&text, Path::new("")).expect("a brief").typography;
            let wanted = own.tried(None, None, Some(&Font::Serif));
            assert_eq!(rewritten(&text, &changes(&own.blurb, &wanted.blurb)), Ok(serif.clone()));
        }
        let text = format!("{panel}  font: {{ name: Some Face, alphabet: 128 pt, at: 12 pt }}\n  size: 13 pt\n");
        let own = Brief::read(&text, Path::new("")).expect("a brief").typography;
        let wanted = own.tried(None, None, Some(&Font::Serif));
        let new = rewritten(&text, &changes(&own.blurb, &wanted.blurb));
        assert_eq!(new, Ok(format!("{panel}  font: serif\n  size: 13 pt\n")));
    }
}
