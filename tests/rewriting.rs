//! Single values of a brief's file are written anew, and every other character of the file stays as it was.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::typography::{Font, Leading, Typography};
use blurbwright::brief::yaml::{Node, YamlStep};
use blurbwright::briefing::rewrite::{ValueChange, changes, panel_changes, rewritten};
use blurbwright::draft::BlockKind;
use blurbwright::units::Length;

fn step(key: &str) -> YamlStep {
    YamlStep::Key(key.to_owned())
}

fn size(value: &str) -> [ValueChange; 1] {
    [ValueChange { path: vec![step("type"), step("size")], value: Some(Node::Text(value.to_owned())) }]
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
    rewritten(text, &panel_changes(&own, &wanted)).expect("it can be changed")
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

/// A brief with another type of the blurb.
fn retyped(text: &str, wanted: &Typography) -> Result<String, String> {
    let brief = Brief::read(text, Path::new("")).expect("a brief");
    rewritten(text, &changes(&brief.typography.blurb, &wanted.blurb, &brief.written.tree))
}

/// A brief after another type was tried on it.
fn tried(text: &str, size: Option<f64>, leading: Option<f64>) -> String {
    let own = Brief::read(text, Path::new("")).expect("a brief").typography;
    let leading = leading.map(|leading| Leading::Fixed(Length::pt(leading)));
    let wanted = own.tried(size.map(Length::pt), leading, None);
    retyped(text, &wanted).expect("it can be changed")
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
            let written = read(&retyped(&text, &tried).expect("it can be changed"));
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
    let text = include_str!("data/one_column.yaml");
    let own = Brief::read(text, Path::new("")).expect("the sample's brief").typography;
    let wanted = own.tried(Some(Length::pt(11.5)), None, None);
    let new = retyped(text, &wanted).expect("it can be changed");
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
        assert_eq!(retyped(&text, &wanted), Ok(serif.clone()));
    }
    let text = format!("{panel}  font: {{ name: Some Face, alphabet: 128 pt, at: 12 pt }}\n  size: 13 pt\n");
    let own = Brief::read(&text, Path::new("")).expect("a brief").typography;
    let wanted = own.tried(None, None, Some(&Font::Serif));
    let new = retyped(&text, &wanted);
    assert_eq!(new, Ok(format!("{panel}  font: serif\n  size: 13 pt\n")));
}
