//! A change of one row, as another tree of the brief.

use super::build::{count, keys};
use super::row::{Added, BUILT_IN, BriefRow, RowForm, YES_NO};
use crate::brief::queries::LISTED;
use crate::brief::yaml::{Node, YamlStep};

/// The tree with a row's value as an author typed or chose it; nothing typed takes the value away.
///
/// # Errors
///
/// What was expected, without a full stop; whether the brief can be so is seen when the tree is read.
pub fn typed(tree: &Node, row: &BriefRow, text: &str) -> Result<Node, String> {
    let text = printable(text);
    if text.is_empty() {
        // What names an item is not taken away by an empty line: the item would go with it.
        let is_there = row.own.is_some() && row.whole == row.place;
        return Ok(if is_there { taken_away(tree, row) } else { tree.clone() });
    }
    let mut tree = tree.clone();
    let value = value_of(row, &text)?;
    let (last, group) = row.place.split_last().ok_or("this cannot be changed")?;
    if let (RowForm::Font, Some(font)) = (&row.form, tree.at(group)) {
        // A family keeps its other files; anything else is another font as a whole.
        let is_family = matches!(font, Node::Map(_)) && font.at(&keys(&["regular"])).is_some();
        let is_built_in = BUILT_IN.contains(&text.to_lowercase().as_str());
        let place = if is_family && !is_built_in { row.place.as_slice() } else { group };
        tree.put(place, value);
        return Ok(tree);
    }
    if row.form == RowForm::Font {
        tree.put(group, value);
        return Ok(tree);
    }
    put_in_group(&mut tree, (group, last), row.alone, value);
    go_along(&mut tree, group, last, &text);
    Ok(tree)
}

/// Puts a value at a key of a group that may be written as one value alone.
fn put_in_group(tree: &mut Node, (group, last): (&[YamlStep], &YamlStep), alone: &str, value: Node) {
    let is_map = matches!(tree.at(group), Some(Node::Map(_) | Node::List(_) | Node::Null) | None);
    if alone.is_empty() || (is_map && (tree.at(group).is_some() || *last != YamlStep::Key(alone.to_owned()))) {
        let place: Vec<YamlStep> = group.iter().chain([last]).cloned().collect();
        tree.put(&place, value);
        return;
    }
    if *last == YamlStep::Key(alone.to_owned()) {
        tree.put(group, value);
        return;
    }
    let own = tree.at(group).cloned().unwrap_or(Node::Null);
    let mut whole = Node::Map(vec![(alone.to_owned(), own)]);
    whole.put(std::slice::from_ref(last), value);
    tree.put(group, whole);
}

/// Makes the values beside a changed one go with it: art that runs round is in one file or in two, other art in one,
/// and a flap holds something.
fn go_along(tree: &mut Node, group: &[YamlStep], last: &YamlStep, text: &str) {
    let YamlStep::Key(key) = last else { return };
    let at = |other: &str| group.iter().cloned().chain(keys(&[other])).collect::<Vec<_>>();
    let is_art = group.last() == Some(&YamlStep::Key("art".to_owned()));
    match key.as_str() {
        "spine" | "front" if is_art => {
            tree.put(&at("kind"), Node::Text("round".to_owned()));
            tree.remove(&at(if key == "spine" { "front" } else { "spine" }));
        }
        "kind" if is_art && text != "round" => {
            tree.remove(&at("spine"));
            tree.remove(&at("front"));
        }
        "width" => {
            let is_flap = |name: &str| *group == keys(&[name]);
            let held = if is_flap("front_flap") { "blurb" } else { "note on the author" };
            let is_new = tree.at(&at("holds")).is_none() && tree.at(&at("places")).is_none();
            if (is_flap("front_flap") || is_flap("back_flap")) && is_new {
                tree.put(&at("holds"), Node::Text(held.to_owned()));
            }
        }
        _ => {}
    }
}

/// The tree with the next word of those that can be chosen, `by` words further on; none where nothing can be chosen.
pub fn stepped(tree: &Node, row: &BriefRow, by: isize) -> Option<Result<Node, String>> {
    let choices = row.choices();
    let last = choices.len().checked_sub(1)?;
    let at = choices.iter().position(|word| word.eq_ignore_ascii_case(row.value()));
    let next = at.map_or(0, |at| at.saturating_add_signed(by).min(last));
    Some(typed(tree, row, choices[next]))
}

/// The tree without a row's value, or without the whole item that the row names.
pub fn taken_away(tree: &Node, row: &BriefRow) -> Node {
    let mut tree = tree.clone();
    // Art that is named alone has no kind that could be taken away.
    tree.remove(&row.whole);
    if row.is_at(&["panel", "art", "spine"]) || row.is_at(&["panel", "art", "front"]) {
        tree.remove(&keys(&["panel", "art", "kind"]));
    }
    tree
}

/// The tree with something more: a name, a term, a wording, a rule by its name, or phrases for the rule that stands
/// before a colon.
///
/// # Errors
///
/// What was expected, without a full stop.
pub fn added(tree: &Node, what: Added, text: &str) -> Result<Node, String> {
    let text = printable(text);
    let mut tree = tree.clone();
    let list = match what {
        Added::Name => keys(&["book", "names"]),
        Added::Term => keys(&["terms"]),
        Added::Avoided => keys(&["avoid"]),
        Added::RuleOff => keys(&["queries", "off"]),
        Added::Phrases => {
            let (rule, phrases) = text.split_once(':').ok_or("the rule is missing: write it before a colon")?;
            let rule = LISTED.iter().find(|(name, _)| *name == rule.trim()).ok_or("no such rule has a list")?.0;
            let place = keys(&["queries", "lists", rule, "add"]);
            let mut all = match tree.at(&place) {
                Some(Node::List(items)) => items.clone(),
                _ => Vec::new(),
            };
            all.extend(several(phrases));
            tree.put(&place, Node::List(all));
            return Ok(tree);
        }
    };
    let item = YamlStep::Item(count(&tree, &list));
    if matches!(tree.at(&list), Some(Node::Text(_) | Node::Number(_) | Node::Bool(_) | Node::Map(_))) {
        return Err("the brief has no list here; write one entry a line, each after a dash".to_owned());
    }
    tree.put(&list.into_iter().chain([item]).collect::<Vec<_>>(), Node::Text(text));
    Ok(tree)
}

/// A typed text as a value of a tree.
fn value_of(row: &BriefRow, text: &str) -> Result<Node, String> {
    Ok(match &row.form {
        RowForm::Nothing => return Err("nothing is here yet: press a to add the first".to_owned()),
        RowForm::Words => Node::Text(text.to_owned()),
        RowForm::Figure => figure(text),
        RowForm::Length(unit) => Node::Text(completed(text, row.own.as_deref(), unit)),
        RowForm::YesNo => match YES_NO.iter().position(|word| word.eq_ignore_ascii_case(text)) {
            Some(is) => Node::Bool(is == 1),
            None => return Err(format!("\"{text}\" is neither yes nor no")),
        },
        RowForm::Choice(_) | RowForm::Font => Node::Text(text.to_owned()),
        RowForm::Suggested(_) => figure(text),
        RowForm::Several => Node::List(several(text)),
        RowForm::StandIn => {
            let parts = text.rsplit_once(',').and_then(|(name, rest)| Some((name, rest.split_once(" at ")?)));
            let (name, (alphabet, at)) = parts.ok_or(
                "a font that is not at hand is written with its name, how long its a to z is, and at which size: Some \
                 Face, 128 pt at 12 pt",
            )?;
            let part = |key: &str, text: &str| (key.to_owned(), Node::Text(text.trim().to_owned()));
            let points = |text: &str| completed(text.trim(), None, "pt");
            Node::Map(vec![part("name", name), part("alphabet", &points(alphabet)), part("at", &points(at))])
        }
    })
}

/// A number where a text is one as YAML would write it, else the text.
fn figure(text: &str) -> Node {
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() && number.to_string() == text => Node::Number(number),
        _ => Node::Text(text.to_owned()),
    }
}

/// The wordings between semicolons.
fn several(text: &str) -> Vec<Node> {
    let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
    parts.map(|part| Node::Text(part.to_owned())).collect()
}

/// A length with the unit that was left out: that of the value before, or else the usual one.
fn completed(text: &str, own: Option<&str>, unit: &str) -> String {
    if !text.ends_with(|last: char| last.is_ascii_digit()) {
        return text.to_owned();
    }
    let before = own.map(|own| own.trim_start_matches(|sign: char| sign.is_ascii_digit() || sign == '.').trim());
    match before.filter(|before| !before.is_empty()).unwrap_or(unit) {
        "%" => format!("{text}%"),
        unit => format!("{text} {unit}"),
    }
}

/// Typed words in one line, without signs that no brief may hold.
fn printable(text: &str) -> String {
    let plain: String = text.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect();
    plain.trim().to_owned()
}
