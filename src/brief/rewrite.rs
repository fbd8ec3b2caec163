//! Replaces single values in the text of a brief, and leaves every other character of the file as it is.
//!
//! The place of a value is found by the YAML parser itself. The new text is parsed again: if anything but the values
//! that were to be changed differs, the text is not returned.

use super::lengths::{self, Unit};
use super::typography::{Align, BlockType, Leading};
use super::yaml::{self, Node, YamlStep};
use crate::units::{Length, trimmed};

/// A place in a brief and the value to be written there.
#[derive(Debug, Clone, PartialEq)]
pub struct ValueChange {
    /// The way to the value from the top of the brief.
    pub path: Vec<YamlStep>,
    /// The new value.
    pub value: Node,
}

impl ValueChange {
    /// The last key on the way.
    pub fn key(&self) -> &str {
        match self.path.last() {
            Some(YamlStep::Key(key)) => key,
            _ => "",
        }
    }
}

/// The changes that turn one type of the blurb into another. Lengths are in points here; `rewritten` writes each in the
/// unit that the brief has at its place.
pub fn changes(own: &BlockType, wanted: &BlockType) -> Vec<ValueChange> {
    let points = |length: Length| format!("{} pt", trimmed(length.to_pt(), 3));
    let mut changes = Vec::new();
    let mut add =
        |key, value| changes.push(ValueChange { path: vec![step("type"), step(key)], value: Node::Text(value) });
    if own.font != wanted.font {
        add("font", wanted.font.to_string());
    }
    // The weight may have to change with the font: not every font has every weight.
    if own.weight() != wanted.weight() {
        add("weight", wanted.weight().to_string());
    }
    if own.size != wanted.size {
        add("size", points(wanted.size));
    }
    // Leading that the brief gives as a percentage stays a percentage, so that it still follows the size.
    if own.leading != wanted.leading {
        let leading = match own.leading {
            Leading::Percent(_) => format!("{}%", trimmed(wanted.leading_in_hundredths(), 2)),
            Leading::Fixed(_) => points(wanted.leading()),
        };
        add("leading", leading);
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

/// The changes that turn one group `panel` into another, both as a brief writes them.
pub fn panel_changes(own: &Node, wanted: &Node) -> Vec<ValueChange> {
    let mut changes = Vec::new();
    compare(own, wanted, &mut vec![step("panel")], &mut changes);
    changes
}

/// Finds the smallest values that differ.
fn compare(own: &Node, wanted: &Node, path: &mut Vec<YamlStep>, changes: &mut Vec<ValueChange>) {
    match (own, wanted) {
        _ if own == wanted => {}
        (Node::Map(_), Node::Map(entries)) => {
            for (key, new) in entries {
                let old = own.at(&[step(key)]).unwrap_or(&Node::Null);
                path.push(step(key));
                compare(old, new, path, changes);
                path.pop();
            }
        }
        (Node::List(olds), Node::List(news)) if olds.len() == news.len() => {
            for (number, (old, new)) in olds.iter().zip(news).enumerate() {
                path.push(YamlStep::Item(number));
                compare(old, new, path, changes);
                path.pop();
            }
        }
        _ => changes.push(ValueChange { path: path.clone(), value: wanted.clone() }),
    }
}

/// The brief's text with some values changed.
///
/// # Errors
///
/// A sentence without its stop, where the file is written in a way that cannot be changed safely.
pub fn rewritten(text: &str, changes: &[ValueChange]) -> Result<String, String> {
    let refuse = || "it is written in a way that cannot be changed safely here; change it by hand".to_owned();
    // The values are changed one after the other: each change moves the text behind it, so the next place is found in
    // the changed text.
    let mut wanted = yaml::parse(text).map_err(|_| refuse())?;
    let changes: Vec<ValueChange> = changes.iter().map(|change| in_its_unit(change, &wanted)).collect();
    let mut new = text.to_owned();
    for change in &changes {
        new = with(&new, change).ok_or_else(refuse)?;
    }
    // The new text is returned only if it parses to the old tree with these values changed. So a mistake in the search
    // for a place or for the end of a value can only lead to a refusal.
    let found = yaml::parse(&new).map_err(|_| refuse())?;
    for change in &changes {
        wanted.put(&change.path, change.value.clone());
    }
    if in_order(&wanted) == in_order(&found) { Ok(new) } else { Err(refuse()) }
}

/// The change with a length of the group `type` in the unit that the brief has at its place. A length of the group
/// `panel` keeps the unit in which the author typed it.
fn in_its_unit(change: &ValueChange, own: &Node) -> ValueChange {
    let is_of_type = change.path.first() == Some(&step("type"));
    let unit = match own.at(&change.path) {
        Some(Node::Text(own)) if is_of_type => Unit::of(own),
        _ => None,
    };
    match (&change.value, unit) {
        (Node::Text(value), Some(unit)) => match lengths::length(value) {
            Ok(length) => ValueChange { value: Node::Text(unit.written(length)), ..change.clone() },
            Err(_) => change.clone(),
        },
        _ => change.clone(),
    }
}

fn step(key: &str) -> YamlStep {
    YamlStep::Key(key.to_owned())
}

/// A node with the keys of every group sorted, so that two nodes can be compared whatever the order of their keys.
fn in_order(node: &Node) -> Node {
    match node {
        Node::Map(entries) => {
            let mut entries: Vec<(String, Node)> =
                entries.iter().map(|(key, node)| (key.clone(), in_order(node))).collect();
            entries.sort_by(|(one, _), (other, _)| one.cmp(other));
            Node::Map(entries)
        }
        Node::List(items) => Node::List(items.iter().map(in_order).collect()),
        other => other.clone(),
    }
}

/// A value on one line.
fn written(node: &Node) -> Option<String> {
    match node {
        Node::Text(text) => Some(text.clone()),
        Node::Map(entries) => {
            let entries: Option<Vec<String>> =
                entries.iter().map(|(key, node)| Some(format!("{key}: {}", written(node)?))).collect();
            Some(format!("{{ {} }}", entries?.join(", ")))
        }
        _ => None,
    }
}

/// The text with one value in the place of the one that is there, or added where there is none.
fn with(text: &str, ValueChange { path, value }: &ValueChange) -> Option<String> {
    let value = written(value)?;
    // The value is there: only its own characters are exchanged, so that quotation marks, blanks and a comment behind
    // it are judged by `value_length` alone.
    if let Some(at) = place(text, path) {
        let end = at + value_length(&text[at..], is_in_braces(text, at));
        return Some(format!("{}{value}{}", &text[..at], &text[end..]));
    }
    // Otherwise the key is added to its group, in the form in which the group is written.
    let (YamlStep::Key(key), parent) = path.split_last()? else { return None };
    let newline = if text.contains("\r\n") { "\r\n" } else { "\n" };
    match (place(text, parent), parent) {
        // A group in braces: before its first key, where nothing can end the group.
        (Some(at), _) if text[at..].starts_with('{') => {
            let rest = &text[at + 1..];
            let comma = if rest.trim_start().starts_with('}') { " " } else { "," };
            Some(format!("{} {key}: {value}{comma}{rest}", &text[..=at]))
        }
        (Some(at), _) => {
            // A group with a line for each key. Before the first key stands its indentation, which the new key shares,
            // and perhaps the dash of a list item. The dash has to stay in front, so the new key then goes right behind
            // the dash, and the former first key onto a line of its own.
            let line = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
            let indent = " ".repeat(text[line..at].chars().count());
            if text[line..at] == indent {
                let at = new_line(text, line, &indent, key);
                return Some(format!("{}{indent}{key}: {value}{newline}{}", &text[..at], &text[at..]));
            }
            Some(format!("{}{key}: {value}{newline}{indent}{}", &text[..at], &text[at..]))
        }
        // The group is not there yet: it goes to the end of the file, where no other group can claim its lines.
        (None, [YamlStep::Key(section)]) => {
            let end = if text.is_empty() || text.ends_with('\n') { "" } else { newline };
            Some(format!("{text}{end}{newline}{section}:{newline}  {key}: {value}{newline}"))
        }
        (None, _) => None,
    }
}

/// Where the line of a new key goes in the group whose first key stands in the line at byte `first`: below the line
/// that gives the key as an example behind a `#`, or, without an example, above the first key and the comments above
/// it.
fn new_line(text: &str, first: usize, indent: &str, key: &str) -> usize {
    let (above, below) = text.split_at(first);
    let comments = above.split_inclusive('\n').rev().take_while(|line| line.trim_start().starts_with('#'));
    let top = first - comments.map(str::len).sum::<usize>();
    let held_back = format!("{indent}#{key}:");
    let is_within =
        |line: &&str| line.trim().is_empty() || line.trim_start().starts_with('#') || line.starts_with(indent);
    let mut at = top;
    for line in text[top..first].split_inclusive('\n').chain(below.split_inclusive('\n').take_while(is_within)) {
        at += line.len();
        if line.starts_with(&held_back) && line.ends_with('\n') {
            return at;
        }
    }
    top
}

/// The byte at which a value begins.
fn place(text: &str, path: &[YamlStep]) -> Option<usize> {
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

#[cfg(test)]
mod tests {
    use super::{ValueChange, changes, panel_changes, rewritten, step};
    use crate::brief::Brief;
    use crate::brief::typography::{Font, Leading, Typography};
    use crate::brief::yaml::Node;
    use crate::draft::BlockKind;
    use crate::units::Length;
    use std::path::Path;

    fn size(value: &str) -> [ValueChange; 1] {
        [ValueChange { path: vec![step("type"), step("size")], value: Node::Text(value.to_owned()) }]
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

    /// The brief after one value of its panel was moved on by some steps.
    fn stepped(text: &str, name: &str, steps: i32) -> String {
        let own = Brief::read(text, Path::new("")).expect("a brief").written_panel();
        let value = own.values().into_iter().find(|value| value.name == name).expect("a value");
        let wanted = own.stepped(&value, steps).expect("a panel");
        rewritten(text, &panel_changes(&own.written, &wanted.written)).expect("it can be changed")
    }

    #[test]
    fn a_panel_is_written_with_its_other_keys_and_comments_as_they_were() {
        let block = "# Mine\npanel:\n  trim: 8 x 8 in  # as printed\n  margins: 0.5 in\n  keep_out:\n    \
                     - barcode: EAN-13\n      corner: foot-spine # quiet\n    \
                     - { name: mark, size: 20 x 10 mm, corner: head-spine }\n";
        for (name, steps, before, after) in [
            ("width", 2, "8 x 8 in  #", "8.25 x 8 in  #"),
            ("margins", 1, "margins: 0.5 in", "margins: 0.625 in"),
            (
                "margin at the foot",
                1,
                "margins: 0.5 in",
                "margins: { head: 0.5 in, foot: 0.625 in, spine: 0.5 in, fore-edge: 0.5 in }",
            ),
            ("binding", 1, "  trim: 8", "  binding: case\n  trim: 8"),
            ("barcode: scale", -2, "- barcode", "- scale: 90%\n      barcode"),
            ("barcode: corner", 1, "foot-spine #", "foot-fore-edge #"),
            ("mark: height", 5, "20 x 10 mm,", "20 x 15 mm,"),
            ("mark: clearance", 1, "{ name", "{ clearance: 0.125 in, name"),
        ] {
            assert_eq!(stepped(block, name, steps), block.replacen(before, after, 1), "{name}");
            let crlf = |text: &str| text.replace('\n', "\r\n");
            assert_eq!(stepped(&crlf(block), name, steps), crlf(&block.replacen(before, after, 1)), "{name}");
        }
        let flow = "panel: { trim: \"8 x 8 in\", margins: { head: 1 in, foot: 1 in }, bleed: 3 mm } # mine\n";
        assert_eq!(stepped(flow, "trim", 1), flow.replacen("\"8 x 8 in\"", "7 x 10 in", 1));
        assert_eq!(stepped(flow, "bleed", 2), flow.replacen("3 mm", "5 mm", 1));
        assert_eq!(stepped(flow, "margin at the spine", 1), flow.replacen("{ head", "{ spine: 0.625 in, head", 1));
    }

    /// A brief after another type was tried on it.
    fn tried(text: &str, size: Option<f64>, leading: Option<f64>) -> String {
        let own = Brief::read(text, Path::new("")).expect("a brief").typography;
        let leading = leading.map(|leading| Leading::Fixed(Length::pt(leading)));
        let wanted = own.tried(size.map(Length::pt), leading, None);
        rewritten(text, &changes(&own.blurb, &wanted.blurb)).expect("it can be changed")
    }

    #[test]
    fn what_was_not_tried_is_not_written_and_what_was_keeps_its_form() {
        let panel = "panel: { trim: 8 x 8 in }\n";
        for (size, leading, own, after) in [
            (Some(14.0), None, "leading: 135%  # airy\n  size: 13 pt", "leading: 135%  # airy\n  size: 14 pt"),
            (Some(14.0), None, "size: 13 pt", "size: 14 pt"),
            (None, Some(15.6), "size: 12 pt\n  leading: 135 %", "size: 12 pt\n  leading: 130%"),
            (Some(10.0), Some(14.0), "size: 12 pt", "leading: 140%\n  size: 10 pt"),
            (Some(14.0), None, "size: 5 mm", "size: 4.9389 mm"),
            (Some(18.0), None, "size: 0.2 in", "size: 0.25 in"),
            (Some(18.0), None, "size: 1pc", "size: 1.5 pc"),
            (None, Some(18.0), "leading: 0.2 in", "leading: 0.25 in"),
            (
                Some(12.0),
                None,
                "size: 13 pt\n  headline: { size: 20 pt, leading: 6 mm }",
                "size: 12 pt\n  headline: { size: 20 pt, leading: 6 mm }",
            ),
        ] {
            let text = |own: &str| format!("{panel}type:\n  {own}\n");
            assert_eq!(tried(&text(own), size, leading), text(after));
        }
    }

    #[test]
    fn a_new_key_stands_below_its_example_and_parts_no_key_from_what_is_said_of_it() {
        let said = "type:\n  # What it is set in.\n  font: serif\n";
        check(&format!("# A\n{said}"), &format!("# A\n{}", said.replacen("type:\n", "type:\n  size: 12.5 pt\n", 1)));
        for ending in ["\n", "\r\n"] {
            let held = format!("{said}  #size: 13 pt\n  # Close.\n  leading: 130%\nbook: {{ kind: board book }}\n");
            let after = held.replace("13 pt\n", "13 pt\n  size: 12.5 pt\n").replace('\n', ending);
            check(&held.replace('\n', ending), &after);
        }
        // An example behind a `#` in another group is not taken for one of this group.
        let other = "type:\n  font: serif\nlimits:\n  #size: 13 pt\n  words: 40..100\n";
        check(other, &other.replacen("type:\n", "type:\n  size: 12.5 pt\n", 1));
    }

    #[test]
    fn what_is_written_is_set_as_it_was_while_it_was_tried() {
        for own in [
            "font: serif",
            "size: 12 pt\n  space_above: 9 pt",
            "size: 12 pt\n  leading: 16 pt\n  indent: 6 pt",
            "space_above: 0 pt\n  headline: { space_above: 5 mm, indent: 1 pc }",
        ] {
            let text = format!("panel: {{ trim: 8 x 8 in }}\ntype:\n  {own}\n");
            let read = |text: &str| Brief::read(text, Path::new("")).expect("a brief").typography;
            for (size, leading) in [(Some(15.0), None), (None, Some(19.0)), (Some(15.0), Some(19.0))] {
                let leading = leading.map(|leading| Leading::Fixed(Length::pt(leading)));
                let own = read(&text);
                let tried = own.tried(size.map(Length::pt), leading, None);
                let written = read(&rewritten(&text, &changes(&own.blurb, &tried.blurb)).expect("it can be changed"));
                for kind in BlockKind::ALL {
                    let lengths = |typography: &Typography| {
                        let set = typography.of(kind);
                        [set.size, set.leading(), set.space_above, set.indent].map(Length::to_pt)
                    };
                    let both = lengths(&tried).into_iter().zip(lengths(&written));
                    for (tried, written) in both {
                        assert!((tried - written).abs() < 0.01, "{text}{kind:?}, {size:?}: {tried} {written}");
                    }
                }
            }
        }
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
        // A length is written to about a hundredth of a point, which is well below what can be seen.
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
