//! Replaces single values in the text of a brief, and leaves every other character of the file as it is.
//!
//! The place of a value is found by the YAML parser itself. The new text is parsed again: if anything but the values
//! that were to be changed differs, the text is not returned.

use super::differing::{in_order, step};
use crate::brief::yaml::{self, Node, YamlStep};

pub use super::differing::{ValueChange, applied, changes, panel_changes, tree_changes};

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
    let mut new = text.to_owned();
    for change in changes {
        // A changed text is taken only if it parses to the tree before with this value changed. So a mistake in the
        // search for a place or for the end of a value can only lead to a refusal.
        wanted = applied(&wanted, std::slice::from_ref(change));
        let is_it = |text: &String| yaml::parse(text).is_ok_and(|found| in_order(&found) == in_order(&wanted));
        new = ways(&new, change).into_iter().flatten().find(is_it).ok_or_else(refuse)?;
    }
    Ok(new)
}

/// A value on one line.
fn written(node: &Node) -> Option<String> {
    let joined = |parts: Option<Vec<String>>| parts.map(|parts| parts.join(", "));
    match node {
        Node::Text(text) => Some(plain_or_quoted(text)),
        Node::Number(number) => Some(number.to_string()),
        Node::Bool(value) => Some(value.to_string()),
        Node::List(items) => joined(items.iter().map(written).collect()).map(|items| format!("[{items}]")),
        Node::Map(entries) => {
            let entry = |(key, node): &(String, Node)| Some(format!("{key}: {}", written(node)?));
            joined(entries.iter().map(entry).collect()).map(|entries| format!("{{ {entries} }}"))
        }
        Node::Null => None,
    }
}

/// A text as it is, where it is that text within braces as well as behind a key; else in quotation marks.
fn plain_or_quoted(text: &str) -> String {
    let is_it = |found: &str, path: &[YamlStep]| {
        yaml::parse(found).is_ok_and(|node| node.at(path) == Some(&Node::Text(text.to_owned())))
    };
    let is_plain = is_it(&format!("{{ k: {text} }}\n"), &[step("k")])
        && is_it(&format!("k: {text}\n"), &[step("k")])
        && is_it(&format!("[{text}]\n"), &[YamlStep::Item(0)]);
    if is_plain { text.to_owned() } else { format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"")) }
}

/// The texts that may be the one with a change made, the least change first.
fn ways(text: &str, ValueChange { path, value }: &ValueChange) -> Vec<Option<String>> {
    let Some(value) = value else { return vec![without(text, path)] };
    let Ok(tree) = yaml::parse(text) else { return Vec::new() };
    match (tree.at(path), path.split_last()) {
        (Some(Node::Null), _) => vec![into_empty(text, path, value)],
        // Only the value's own characters are exchanged; one that has lines of its own is taken away with its key.
        (Some(own), _) => {
            vec![exchanged(text, path, own, value), without(text, path).and_then(|text| with_new(&text, path, value))]
        }
        (None, Some((last, parent))) if tree.at(parent) == Some(&Node::Null) => {
            let whole = match last {
                YamlStep::Key(key) => Node::Map(vec![(key.clone(), value.clone())]),
                _ => Node::List(vec![value.clone()]),
            };
            vec![into_empty(text, parent, &whole)]
        }
        (None, _) => vec![with_new(text, path, value)],
    }
}

/// The text with another value in the place of one that stands on one line or in brackets.
fn exchanged(text: &str, path: &[YamlStep], own: &Node, value: &Node) -> Option<String> {
    let at = place(text, path)?;
    Some(format!("{}{}{}", &text[..at], written(value)?, &text[end_of(text, at, own)?..]))
}

/// The text with a value for a key that has none: behind its colon, or in lines of their own below it.
fn into_empty(text: &str, path: &[YamlStep], value: &Node) -> Option<String> {
    let (YamlStep::Key(key), parent) = path.split_last()? else { return None };
    let name: Vec<YamlStep> = parent.iter().cloned().chain([YamlStep::Name(key.clone())]).collect();
    let at = place(text, &name)?;
    let colon = at + text[at..].find(':')?;
    let behind = text[colon + 1..].len() - text[colon + 1..].trim_start_matches(' ').len();
    let rest = &text[colon + 1 + behind..];
    let length = if rest.starts_with('#') { 0 } else { value_length(rest, is_in_brackets(text, at)) };
    let (head, tail) = (&text[..=colon], &text[colon + 1 + if length == 0 { 0 } else { behind + length }..]);
    let bare = format!("{head}{tail}");
    match value {
        Node::Map(entries) if !is_in_brackets(text, at) => {
            let indent = text[start_of_line(text, at)..at].chars().count() + INDENT;
            entries.iter().enumerate().try_fold(bare, |text, (number, (key, value))| {
                let path: Vec<YamlStep> = path.iter().cloned().chain([step(key)]).collect();
                if number > 0 { with_new(&text, &path, value) } else { first_entry(&text, at, indent, key, value) }
            })
        }
        Node::List(items) if !is_in_brackets(text, at) => {
            let indent = " ".repeat(text[start_of_line(text, at)..at].chars().count() + INDENT);
            let end = line_end(text);
            let items = items.iter().map(|item| Some(format!("{indent}- {}{end}", written(item)?)));
            let items = items.collect::<Option<String>>()?;
            let below = end_of_line(&bare, at);
            let ended = if bare[..below].ends_with('\n') { "" } else { end };
            Some(format!("{}{ended}{items}{}", &bare[..below], &bare[below..]))
        }
        value => Some(format!("{head} {}{tail}", written(value)?)),
    }
}

/// How far the lines of a new group or list stand inside the key that they belong to.
const INDENT: usize = 2;

/// The text with the first key of a group whose own key begins at a byte: below the line that gives it as an example
/// behind a `#`, or else right below the group's key.
fn first_entry(text: &str, at: usize, indent: usize, key: &str, value: &Node) -> Option<String> {
    let end = line_end(text);
    let first = end_of_line(text, at);
    let (mut below, mut found) = (first, None);
    let is_said = |line: &&str| line.trim().is_empty() || line.trim_start().starts_with('#');
    for line in text[first..].split_inclusive('\n').take_while(is_said) {
        below += line.len();
        if line.trim_start().starts_with(&format!("#{key}:")) && line.ends_with('\n') {
            found = Some(below);
        }
    }
    let place = found.unwrap_or(first);
    let ended = if text[..place].ends_with('\n') { "" } else { end };
    let line = format!("{ended}{}{key}: {}{end}", " ".repeat(indent), written(value)?);
    Some(format!("{}{line}{}", &text[..place], &text[place..]))
}

/// The text with a new group, list or value at its top: below the line that gives it as an example behind a `#`, or
/// else at the end, where no other group can claim its lines.
fn with_section(text: &str, key: &str, value: &Node) -> Option<String> {
    let end = line_end(text);
    let mut at = 0;
    let held_back = text.split_inclusive('\n').find_map(|line| {
        at += line.len();
        (line.starts_with(&format!("#{key}:")) && line.ends_with('\n')).then_some(at)
    });
    let place = held_back.unwrap_or(text.len());
    let ended = if place == 0 || text[..place].ends_with('\n') { "" } else { end };
    let gap = if held_back.is_some() || text.is_empty() { "" } else { end };
    let inside = " ".repeat(INDENT);
    let lines = match value {
        Node::Map(entries) if !entries.is_empty() => {
            let entry = |(key, value): &(String, Node)| Some(format!("{end}{inside}{key}: {}", written(value)?));
            entries.iter().map(entry).collect::<Option<String>>()?
        }
        Node::List(items) if !items.is_empty() => {
            items.iter().map(|item| Some(format!("{end}{inside}- {}", written(item)?))).collect::<Option<String>>()?
        }
        value => format!(" {}", written(value)?),
    };
    Some(format!("{}{ended}{gap}{key}:{lines}{end}{}", &text[..place], &text[place..]))
}

/// The text with a new key or a new item of a list.
fn with_new(text: &str, path: &[YamlStep], value: &Node) -> Option<String> {
    let (last, parent) = path.split_last()?;
    let key = match last {
        YamlStep::Key(key) => key,
        YamlStep::Item(number) => return with_item(text, parent, *number, value),
        YamlStep::Name(_) => return None,
    };
    let line_end = line_end(text);
    let is_flow = |at: Option<usize>| at.is_some_and(|at| text[at..].starts_with('{'));
    if parent.is_empty() && !is_flow(place(text, parent)) {
        return with_section(text, key, value);
    }
    match (place(text, parent), parent) {
        // A group in braces: before its first key, where nothing can end the group.
        (Some(at), _) if text[at..].starts_with('{') => {
            let (rest, value) = (&text[at + 1..], written(value)?);
            let comma = if rest.trim_start().starts_with('}') { " " } else { "," };
            Some(format!("{} {key}: {value}{comma}{rest}", &text[..=at]))
        }
        (Some(at), _) => {
            // A group with a line for each key. Before the first key stands its indentation, which the new key shares,
            // and perhaps the dash of a list item. The dash has to stay in front, so the new key then goes right behind
            // the dash, and the former first key onto a line of its own.
            let line = start_of_line(text, at);
            let indent = " ".repeat(text[line..at].chars().count());
            let is_indent = text[line..at] == indent;
            // A list of groups has a line for each, at the end of the group that it is part of.
            if let (Node::List(items), true) = (value, is_indent)
                && items.iter().all(|item| matches!(item, Node::Map(_)))
            {
                let end = end_of_block(text, line, indent.len(), true);
                let items: Option<String> =
                    items.iter().map(|item| Some(format!("{indent}  - {}{line_end}", written(item)?))).collect();
                let ended = if text[..end].ends_with('\n') { "" } else { line_end };
                return Some(format!("{}{ended}{indent}{key}:{line_end}{}{}", &text[..end], items?, &text[end..]));
            }
            let value = written(value)?;
            if is_indent {
                let at = new_line(text, line, &indent, key);
                return Some(format!("{}{indent}{key}: {value}{line_end}{}", &text[..at], &text[at..]));
            }
            Some(format!("{}{key}: {value}{line_end}{indent}{}", &text[..at], &text[at..]))
        }
        (None, [YamlStep::Key(section)]) => {
            with_new(text, &[step(section)], &Node::Map(vec![(key.clone(), value.clone())]))
        }
        (None, _) => None,
    }
}

/// The text with one more item at the end of a list of `count` items.
fn with_item(text: &str, list: &[YamlStep], count: usize, item: &Node) -> Option<String> {
    let item = written(item)?;
    let (at, last) = (place(text, list)?, count.checked_sub(1));
    let Some(last) = last else {
        // An empty list has brackets.
        let end = end_of_brackets(text, at)?;
        return Some(format!("{}[{item}]{}", &text[..at], &text[end..]));
    };
    let last: Vec<YamlStep> = list.iter().cloned().chain([YamlStep::Item(last)]).collect();
    let last_at = place(text, &last)?;
    if text[at..].starts_with('[') {
        let end = end_of(text, last_at, yaml::parse(text).ok()?.at(&last)?)?;
        return Some(format!("{}, {item}{}", &text[..end], &text[end..]));
    }
    let (line, dash) = dash_before(text, last_at)?;
    let end = end_of_block(text, line, dash + 1, false);
    let ended = if text[..end].ends_with('\n') { "" } else { line_end(text) };
    let indent = " ".repeat(dash);
    Some(format!("{}{ended}{indent}- {item}{}{}", &text[..end], line_end(text), &text[end..]))
}

/// The text without a key and its value, or without an item of a list.
fn without(text: &str, path: &[YamlStep]) -> Option<String> {
    let tree = yaml::parse(text).ok()?;
    let (node, value_at) = (tree.at(path)?, place(text, path)?);
    let at = match path.split_last()? {
        (YamlStep::Key(key), parent) => {
            let name: Vec<YamlStep> = parent.iter().cloned().chain([YamlStep::Name(key.clone())]).collect();
            place(text, &name)?
        }
        _ => value_at,
    };
    if is_in_brackets(text, at) {
        return without_entry(text, at, end_of(text, value_at, node)?);
    }
    if matches!(path.last(), Some(YamlStep::Item(_))) {
        let (line, dash) = dash_before(text, at)?;
        let end = end_of_block(text, line, dash + 1, false);
        return Some(format!("{}{}", &text[..line], &text[end..]));
    }
    let line = start_of_line(text, at);
    let indent = text[line..at].chars().count();
    // What lies in brackets may close in a column of its own.
    let closed = end_of(text, value_at, node).map_or(at, |end| end_of_line(text, end));
    // The items of a list may have dashes right below the key.
    let dashes = matches!(node, Node::List(_)) && !text[value_at..].starts_with('[');
    let end = end_of_entry(text, line, indent, dashes).max(closed);
    if text[line..at].trim().is_empty() {
        return Some(format!("{}{}", &text[..line], &text[end..]));
    }
    // The first key behind the dash of an item: the next key takes its place.
    let next = text[end..].split_inclusive('\n').find(|line| !line.trim().is_empty())?;
    let next_at = end + text[end..].find(next)? + (next.len() - next.trim_start().len());
    (next_at - start_of_line(text, next_at) == indent).then(|| format!("{}{}", &text[..at], &text[next_at..]))
}

/// The text without an entry of a group in braces or a list in brackets, and without the comma that parts it from the
/// others.
fn without_entry(text: &str, at: usize, end: usize) -> Option<String> {
    let (before, behind) = (&text[..at], &text[end..]);
    if let Some(rest) = behind.trim_start().strip_prefix(',') {
        return Some(format!("{before}{}", rest.trim_start_matches(' ')));
    }
    Some(format!("{}{behind}", before.trim_end().strip_suffix(',').unwrap_or(before)))
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

fn line_end(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

fn start_of_line(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |newline| newline + 1)
}

/// The byte behind the line that holds a byte.
fn end_of_line(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |newline| at + newline + 1)
}

/// The start of the line and the column of the dash before the item that begins at a byte of that line; none where
/// something else stands before the dash.
fn dash_before(text: &str, at: usize) -> Option<(usize, usize)> {
    let line = start_of_line(text, at);
    let dash = text[line..at].find('-')?;
    let is_alone = text[line..line + dash].trim().is_empty() && text[line + dash + 1..at].trim().is_empty();
    is_alone.then_some((line, dash))
}

/// The end of a group's lines, the first of which is given: the end of the last line of at least that indentation
/// before one of less. Blank lines and comments behind it belong to what follows. The first line itself may begin with
/// anything, unless `counts_first`.
fn end_of_block(text: &str, first: usize, indent: usize, counts_first: bool) -> usize {
    let mut at = if counts_first { first } else { end_of_line(text, first) };
    let mut end = at;
    for line in text[at..].split_inclusive('\n') {
        let words = line.trim_start_matches(' ');
        at += line.len();
        if words.trim().is_empty() || words.starts_with('#') {
            continue;
        }
        if line.len() - words.len() < indent {
            break;
        }
        end = at;
    }
    end
}

/// The end of the lines of a key with its value; `dashes` where the items of a list may stand right below the key.
fn end_of_entry(text: &str, first: usize, indent: usize, dashes: bool) -> usize {
    let end = end_of_block(text, first, indent + 1, false);
    let below = &text[end..];
    let is_item = |line: &str| {
        let words = line.trim_start_matches(' ');
        line.len() - words.len() == indent && words.starts_with("- ")
    };
    match below.split_inclusive('\n').find(|line| !line.trim().is_empty() && !line.trim_start().starts_with('#')) {
        Some(line) if dashes && is_item(line) => {
            end_of_entry(text, end + below.find(line).unwrap_or(0), indent, dashes)
        }
        _ => end,
    }
}

/// The byte behind a value that begins at a byte: a text, or what stands in brackets. None for a value that has lines
/// of its own.
fn end_of(text: &str, at: usize, node: &Node) -> Option<usize> {
    let rest = &text[at..];
    match (node, rest.chars().next()?) {
        (Node::List(_) | Node::Map(_), '[' | '{') => end_of_brackets(text, at),
        (Node::List(_) | Node::Map(_), _) => None,
        _ => Some(at + value_length(rest, is_in_brackets(text, at))),
    }
}

/// The byte behind the bracket that closes the one at a byte.
fn end_of_brackets(text: &str, at: usize) -> Option<usize> {
    let mut depth = 0;
    brackets(text, at).find_map(|(found, opens)| {
        depth = if opens { depth + 1 } else { depth - 1 };
        (depth <= 0).then_some(found + 1)
    })
}

/// Whether a byte stands between brackets or braces, where a comma or a bracket ends a value.
fn is_in_brackets(text: &str, at: usize) -> bool {
    let before = brackets(text, 0).take_while(|(found, _)| *found < at);
    before.fold(0, |depth, (_, opens)| if opens { depth + 1 } else { depth - 1 }) > 0
}

/// The brackets and braces from a byte on, and whether each opens; what stands in quotation marks or behind a `#` has
/// none.
fn brackets(text: &str, from: usize) -> impl Iterator<Item = (usize, bool)> {
    let (mut quoted, mut noted) = (None, false);
    let (mut before, mut word) = ('\n', '\n');
    text[from..].char_indices().filter_map(move |(at, sign)| {
        let (last, last_of_word) = (before, word);
        before = sign;
        word = if sign == ' ' { word } else { sign };
        match (quoted, sign) {
            (_, '\n') => noted = false,
            _ if noted => {}
            (Some(mark), _) if mark == sign && !(mark == '"' && last == '\\') => quoted = None,
            (Some(_), _) => {}
            (None, '#') if last.is_whitespace() => noted = true,
            (None, '"' | '\'') if matches!(last_of_word, ':' | ',' | '[' | '{' | '-' | '\n') => quoted = Some(sign),
            (None, '[' | '{') => return Some((from + at, true)),
            (None, ']' | '}') => return Some((from + at, false)),
            _ => {}
        }
        None
    })
}

/// The bytes of a value at the start of some text, blanks and a comment behind it left out.
fn value_length(rest: &str, in_braces: bool) -> usize {
    if let Some(mark) = rest.chars().next().filter(|first| matches!(first, '"' | '\'')) {
        return quoted_length(rest, mark);
    }
    let line = rest.lines().next().unwrap_or_default();
    let ends = [line.find(" #"), line.find(|end| in_braces && matches!(end, ',' | '}' | ']'))];
    let end = ends.into_iter().flatten().min().unwrap_or(line.len());
    line[..end].trim_end().len()
}

/// The bytes of a text in quotation marks at the start of some text. Within double ones a backslash stands before a
/// mark that ends nothing, within single ones such a mark stands twice.
fn quoted_length(rest: &str, mark: char) -> usize {
    let mut signs = rest.char_indices().skip(1).peekable();
    while let Some((at, sign)) = signs.next() {
        match sign {
            '\\' if mark == '"' => _ = signs.next(),
            '\'' if mark == sign && signs.peek().is_some_and(|(_, next)| *next == mark) => _ = signs.next(),
            sign if sign == mark => return at + 1,
            _ => {}
        }
    }
    rest.len()
}
