//! The values of a panel one by one, so that other values can be tried: what each is called, how a brief writes it, and
//! the next value up or down. A changed group `panel` is read in the same way as a brief's, and refused in the same
//! words.

use super::book::BookKind;
use super::cover::Flap;
use super::lengths::{self, Unit};
use super::nodes::NodeAt;
use super::panel::{self, BINDINGS, Binding, KeepOutOrigin, Margins, Panel};
use super::yaml::{Node, YamlStep};
use crate::units::{Length, Size};

/// A panel, and the group `panel` of a brief that describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenPanel {
    /// The group as a brief writes it.
    pub written: Node,
    /// The panel that the group describes.
    pub panel: Panel,
    /// The flaps beside it, which are as high as the panel.
    pub flaps: Vec<Flap>,
    /// The kind of book that the panel belongs to.
    pub kind: BookKind,
}

/// A value of the panel, which can be changed.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelValue {
    /// The value's name in a list: `width`, `margin at the head`.
    pub name: String,
    /// The value as a brief writes it: `8.5 in`, `80%`, `case`.
    pub value: String,
    /// The box that the value is one of; none for a value of the panel itself.
    pub of: Option<BoxId>,
    /// Where the value is written, from the group `panel` on.
    pub(super) place: Vec<YamlStep>,
    pub(super) form: ValueForm,
}

/// A box of the author's on the panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoxId {
    /// A keep-out, by its number in the brief, from 0.
    KeepOut(usize),
    /// A place, by its number in the brief, from 0.
    Place(usize),
}

/// How the next value up or down is found.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum ValueForm {
    /// A size: the next value is the next usual trim.
    Usual(Size),
    /// A size of which this is the width.
    Across(Size),
    /// A size of which this is the height.
    Down(Size),
    /// A length.
    Length(Length),
    /// The length of one margin, by its key.
    Margin(&'static str, Margins),
    /// The length of all four margins.
    Margins(Margins),
    /// A percentage.
    Percent,
    /// One of a few words.
    Choice(Vec<&'static str>),
    /// One of a few words, of which the first is not written.
    Word(Vec<&'static str>),
    /// A whole number from 1 to the most.
    Count(u32),
    /// The name of a place.
    Name,
    /// The blocks that a place holds.
    Holds,
    /// The distance of one edge of a place from that of the panel, by the edge's name.
    Edge(&'static str, Length),
    /// The form of a place in its box.
    Outline,
    /// A value that cannot be changed: the reason, without a full stop.
    Fixed(&'static str),
}

/// Trims that are common practice, the smallest first: in inches, and in millimetres.
const USUAL_INCHES: [(f64, f64); 14] = [
    (5.0, 8.0),
    (5.25, 8.0),
    (5.5, 8.5),
    (7.0, 7.0),
    (6.0, 9.0),
    (8.0, 8.0),
    (7.0, 10.0),
    (8.5, 8.5),
    (8.0, 10.0),
    (10.0, 8.0),
    (9.0, 9.0),
    (8.5, 11.0),
    (11.0, 8.5),
    (10.0, 10.0),
];
const USUAL_MM: [(f64, f64); 9] = [
    (129.0, 198.0),
    (148.0, 210.0),
    (170.0, 170.0),
    (210.0, 210.0),
    (200.0, 250.0),
    (270.0, 215.0),
    (210.0, 297.0),
    (297.0, 210.0),
    (250.0, 250.0),
];

/// What the binding of a board book is called. A brief has no word for it: the pages themselves are the boards.
const BOARD: &str = "board";
const BOARD_ALONE: &str = "a board book has the binding board, and no other";

/// The forms of a place that can be tried.
pub(super) const OUTLINES: [&str; 3] = ["box", "ellipse", "round"];
const TYPED: &str = "it is typed: press Enter";

/// Percent of a barcode's size that one step is.
const PERCENT_STEP: f64 = 5.0;

impl WrittenPanel {
    /// Every value that the panel's binding and keep-outs have, in the order of a brief.
    pub fn values(&self) -> Vec<PanelValue> {
        let mut values = self.trim();
        let panel = &self.panel;
        let all = [panel.margins.head, panel.margins.foot, panel.margins.spine, panel.margins.fore_edge];
        let is_one = all.iter().all(|margin| *margin == all[0]);
        let whole = if is_one { self.length_of(&["margins"], all[0]) } else { "one for each edge".to_owned() };
        values.push(value("margins", whole, &["margins"], ValueForm::Margins(panel.margins)));
        for (name, key, margin) in [
            ("margin at the head", "head", panel.margins.head),
            ("margin at the foot", "foot", panel.margins.foot),
            ("margin at the spine", "spine", panel.margins.spine),
            ("margin at the fore-edge", "fore-edge", panel.margins.fore_edge),
        ] {
            let written = self.length_of(&["margins", key], margin);
            values.push(value(name, written, &["margins", key], ValueForm::Margin(key, panel.margins)));
        }
        values.extend(self.edges());
        values.extend(self.values_of_boxes());
        values
    }

    /// The trim whole and by its sides, and the binding.
    fn trim(&self) -> Vec<PanelValue> {
        let (trim, unit) = (self.panel.trim, self.unit());
        let (binding, form) = match (self.kind, self.panel.binding) {
            (BookKind::BoardBook, Binding::Paperback) => (BOARD, ValueForm::Fixed(BOARD_ALONE)),
            (_, binding) => (binding.name(), ValueForm::Choice(BINDINGS.map(|(name, _)| name).to_vec())),
        };
        vec![
            value("trim", size(trim, unit), &["trim"], ValueForm::Usual(trim)),
            value("width", unit.written(trim.width), &["trim"], ValueForm::Across(trim)),
            value("height", unit.written(trim.height), &["trim"], ValueForm::Down(trim)),
            value("binding", binding.to_owned(), &["binding"], form),
        ]
    }

    /// What lies at the panel's edges, by its binding.
    fn edges(&self) -> Vec<PanelValue> {
        let panel = &self.panel;
        let joint = panel.keep_outs.iter().find(|out| out.origin == KeepOutOrigin::Joint);
        let joint = joint.map_or(Length::ZERO, |out| out.rect.width);
        let parts: &[(&'static str, &'static str, Length)] = match panel.binding {
            Binding::Paperback => &[("bleed", "bleed", panel.bleed)],
            Binding::Case => {
                &[("square", "square", panel.square), ("turn-in", "turn_in", panel.bleed), ("joint", "joint", joint)]
            }
            Binding::Jacket => &[("square", "square", panel.square), ("bleed", "bleed", panel.bleed)],
        };
        let corners = ("round corners", "round_corners", panel.round_corners);
        let parts = parts.iter().chain([&corners]);
        parts.map(|(name, key, length)| self.length(name, &[key], *length)).collect()
    }

    /// The panel with a value moved on by a number of steps. A trim moves on by one usual trim, however many the steps.
    ///
    /// # Errors
    ///
    /// Why the panel cannot be so, without a full stop.
    pub fn stepped(&self, value: &PanelValue, steps: i32) -> Result<Self, String> {
        let by = f64::from(steps);
        let step = |length: Length, unit: Unit| (length + unit.length(unit.step() * by)).or_zero();
        let unit = Unit::of(&value.value).unwrap_or_else(|| self.unit());
        let text = match &value.form {
            ValueForm::Usual(trim) => size(usual(*trim, unit, steps), unit),
            ValueForm::Across(Size { width: length, .. })
            | ValueForm::Down(Size { height: length, .. })
            | ValueForm::Length(length) => unit.written(step(*length, unit)),
            ValueForm::Margin(key, margins) => unit.written(step(margin(margins, key), unit)),
            ValueForm::Margins(margins) => {
                return self.with(&["margins"], margins_of(margins, unit, |length| step(length, unit)));
            }
            ValueForm::Edge(_, distance) => unit.written(step(*distance, unit)),
            ValueForm::Count(most) => {
                let count = value.value.parse::<i32>().unwrap_or(1);
                (count + steps).clamp(1, *most as i32).to_string()
            }
            ValueForm::Name | ValueForm::Holds => return Err(TYPED.to_owned()),
            ValueForm::Percent => {
                let percent = lengths::percent(&value.value)?;
                format!("{}%", crate::units::trimmed(percent + PERCENT_STEP * by, 2))
            }
            ValueForm::Outline => next_of(&OUTLINES, &value.value, steps).to_owned(),
            ValueForm::Choice(choices) | ValueForm::Word(choices) => next_of(choices, &value.value, steps).to_owned(),
            ValueForm::Fixed(why) => return Err((*why).to_owned()),
        };
        self.typed(value, &text)
    }

    /// The panel with a value as an author typed it; a length without a unit takes the unit of the former value.
    ///
    /// # Errors
    ///
    /// Why the panel cannot be so, without a full stop.
    pub fn typed(&self, value: &PanelValue, text: &str) -> Result<Self, String> {
        let unit = Unit::of(&value.value).unwrap_or_else(|| self.unit());
        let text = completed(text.trim(), &value.form, unit);
        let sized = |width, height| Node::Text(size(Size { width, height }, unit));
        let new = match &value.form {
            ValueForm::Across(own) => sized(lengths::length(&text)?, own.height),
            ValueForm::Down(own) => sized(own.width, lengths::length(&text)?),
            ValueForm::Margin(key, margins) if !self.has_four_margins() => {
                let length = lengths::length(&text)?;
                let margins = with_margin(margins, key, length);
                return self.with(&["margins"], margins_of(&margins, unit, |length| length));
            }
            ValueForm::Fixed(why) => return Err((*why).to_owned()),
            ValueForm::Margins(_) => {
                lengths::length(&text)?;
                return self.with(&["margins"], Node::Text(text));
            }
            ValueForm::Word(_)
            | ValueForm::Count(_)
            | ValueForm::Name
            | ValueForm::Holds
            | ValueForm::Edge(..)
            | ValueForm::Outline => return self.typed_of_place(value, &text),
            _ => Node::Text(text),
        };
        self.at(&value.place, new)
    }

    fn with(&self, keys: &[&str], node: Node) -> Result<Self, String> {
        self.at(&steps(keys), node)
    }

    /// The panel with another node at a place. Where the brief has a margin for each edge, one length for all margins
    /// is written as four.
    fn at(&self, place: &[YamlStep], node: Node) -> Result<Self, String> {
        let mut written = self.written.clone();
        let node = match (written.at(place), node) {
            // Four margins stay four keys, so that the brief keeps its form.
            (Some(Node::Map(edges)), Node::Text(all)) => {
                Node::Map(edges.iter().map(|(key, _)| (key.clone(), Node::Text(all.clone()))).collect())
            }
            // Of four margins some may be missing in the brief: the keys that are there stay in order, new ones follow.
            (Some(Node::Map(edges)), Node::Map(new)) => {
                let keys = edges.iter().map(|(key, _)| key).chain(new.iter().map(|(key, _)| key));
                let mut kept: Vec<(String, Node)> = Vec::new();
                for key in keys {
                    let found = new.iter().chain(edges).find(|(name, _)| name == key);
                    if let Some(entry) = found.filter(|_| kept.iter().all(|(name, _)| name != key)) {
                        kept.push(entry.clone());
                    }
                }
                Node::Map(kept)
            }
            (_, node) => node,
        };
        written.put(place, node);
        self.of(written)
    }

    /// The panel that another group `panel` describes, with the flaps beside it.
    ///
    /// # Errors
    ///
    /// Why the panel cannot be so, without a full stop.
    pub(super) fn of(&self, written: Node) -> Result<Self, String> {
        let mut panel = Panel::read(NodeAt::top(&written)).map_err(|refusal| refusal.problem)?;
        panel::take_outlines(&mut panel.keep_outs, &mut panel.places, self.panel.layout());
        if let Some(art) = &mut panel.art {
            art.take_pictures(self.panel.art.as_ref());
        }
        let flaps = self.flaps.iter().map(|flap| flap.beside(&panel, self.kind));
        let flaps = flaps.collect::<Result<_, _>>().map_err(|refusal| refusal.problem)?;
        Ok(Self { written, panel, flaps, kind: self.kind })
    }

    /// The unit of the trim.
    pub(super) fn unit(&self) -> Unit {
        text_at(&self.written, &steps(&["trim"])).as_deref().and_then(Unit::of).unwrap_or(Unit::Inches)
    }

    /// Whether each edge has a margin of its own in the brief.
    fn has_four_margins(&self) -> bool {
        matches!(self.written.at(&steps(&["margins"])), Some(Node::Map(_)))
    }

    fn length(&self, name: &str, keys: &[&str], length: Length) -> PanelValue {
        value(name, self.length_of(keys, length), keys, ValueForm::Length(length))
    }

    /// A length as the brief writes it; where the brief does not give it, in the unit of the trim.
    fn length_of(&self, keys: &[&str], length: Length) -> String {
        text_at(&self.written, &steps(keys)).unwrap_or_else(|| self.suited(length))
    }

    /// A length in the unit of the trim, or in another unit in which it is a shorter number.
    pub(super) fn suited(&self, length: Length) -> String {
        self.unit().suiting(length).written(length)
    }
}

impl PanelValue {
    /// Whether the value is one of a few words, or can be no other, so that there is nothing to type.
    pub fn is_choice(&self) -> bool {
        use ValueForm::{Choice, Fixed, Outline, Word};
        matches!(self.form, Choice(_) | Word(_) | Outline | Fixed(_))
    }
}

fn value(name: &str, value: String, keys: &[&str], form: ValueForm) -> PanelValue {
    PanelValue { name: name.to_owned(), value, of: None, place: steps(keys), form }
}

pub(super) fn steps(keys: &[&str]) -> Vec<YamlStep> {
    keys.iter().map(|key| YamlStep::Key((*key).to_owned())).collect()
}

pub(super) fn text_at(node: &Node, place: &[YamlStep]) -> Option<String> {
    match node.at(place)? {
        Node::Text(text) if !text.trim().is_empty() => Some(text.trim().to_owned()),
        _ => None,
    }
}

/// The word that lies some steps further on in a round of words; from a word that is none of them on, the first.
fn next_of(words: &[&'static str], word: &str, steps: i32) -> &'static str {
    let at = words.iter().position(|known| *known == word).map_or(-steps.signum(), |at| at as i32);
    words[(at + steps).rem_euclid(words.len() as i32) as usize]
}

/// A size as a brief writes it: `8.5 x 11 in`.
pub(super) fn size(size: Size, unit: Unit) -> String {
    format!("{} x {}", unit.number(size.width), unit.written(size.height))
}

/// The next larger usual trim by area where `steps` is above zero, else the next smaller one; `trim` itself where there
/// is none.
fn usual(trim: Size, unit: Unit, steps: i32) -> Size {
    let (usual, unit): (&[(f64, f64)], Unit) = match unit {
        Unit::Millimetres | Unit::Centimetres => (&USUAL_MM, Unit::Millimetres),
        Unit::Inches | Unit::Points | Unit::Picas => (&USUAL_INCHES, Unit::Inches),
    };
    let sizes = usual.iter().map(|(width, height)| Size { width: unit.length(*width), height: unit.length(*height) });
    let order = |size: &Size| ((size.width.to_pt() * size.height.to_pt()).round() as i64, size.width);
    let mut sizes: Vec<Size> = sizes.collect();
    sizes.sort_by_key(order);
    let found = match steps {
        1.. => sizes.iter().find(|size| order(size) > order(&trim)),
        _ => sizes.iter().rfind(|size| order(size) < order(&trim)),
    };
    found.copied().unwrap_or(trim)
}

fn margin(margins: &Margins, key: &str) -> Length {
    match key {
        "head" => margins.head,
        "foot" => margins.foot,
        "spine" => margins.spine,
        _ => margins.fore_edge,
    }
}

fn with_margin(margins: &Margins, key: &str, length: Length) -> Margins {
    match key {
        "head" => Margins { head: length, ..*margins },
        "foot" => Margins { foot: length, ..*margins },
        "spine" => Margins { spine: length, ..*margins },
        _ => Margins { fore_edge: length, ..*margins },
    }
}

/// Margins as a brief writes them: one length where they are all alike.
fn margins_of(margins: &Margins, unit: Unit, change: impl Fn(Length) -> Length) -> Node {
    let edges =
        [("head", margins.head), ("foot", margins.foot), ("spine", margins.spine), ("fore-edge", margins.fore_edge)];
    let edges = edges.map(|(key, length)| (key.to_owned(), Node::Text(unit.written(change(length)))));
    if edges.iter().all(|(_, text)| *text == edges[0].1) { edges[0].1.clone() } else { Node::Map(edges.to_vec()) }
}

/// An answer with the unit or the sign that was left out.
fn completed(text: &str, form: &ValueForm, unit: Unit) -> String {
    let is_bare = text.chars().next_back().is_some_and(|last| last.is_ascii_digit());
    match form {
        ValueForm::Percent if is_bare => format!("{text}%"),
        ValueForm::Choice(_) | ValueForm::Word(_) | ValueForm::Outline | ValueForm::Percent => text.to_lowercase(),
        ValueForm::Name | ValueForm::Holds | ValueForm::Count(_) => text.to_owned(),
        _ if is_bare => format!("{text} {}", unit.name()),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::WrittenPanel;
    use crate::brief::Brief;

    fn panel(lines: &str) -> WrittenPanel {
        Brief::read(lines, Path::new("")).expect("a brief").written_panel()
    }

    /// The panel after one value was moved on by some steps, and that value as it is written then.
    fn stepped(panel: &WrittenPanel, name: &str, steps: i32) -> (WrittenPanel, String) {
        let value = panel.values().into_iter().find(|value| value.name == name).expect("a value");
        let after = panel.stepped(&value, steps).expect("a panel");
        let shown = after.values().into_iter().find(|value| value.name == name).expect("a value").value;
        (after, shown)
    }

    const BOOK: &str = "panel:\n  trim: 8.5 x 8.5 in\n  keep_out:\n    - { barcode: EAN-13, corner: foot-spine }\n    \
                        - { name: mark, size: 20 x 10 mm, at: { spine: 1 in, head: 2 cm } }\n";

    #[test]
    fn each_value_has_a_next_one_in_its_own_unit() {
        let panel = panel(BOOK);
        for (name, steps, shown) in [
            ("trim", 1, "8 x 10 in"),
            ("trim", -1, "7 x 10 in"),
            ("width", 1, "8.625 in"),
            ("height", -1, "8.375 in"),
            ("binding", -1, "jacket"),
            ("margins", 1, "0.625 in"),
            ("margin at the head", -4, "0 in"),
            ("bleed", -1, "0 in"),
            ("round corners", 2, "0.25 in"),
            ("barcode: scale", -1, "95%"),
            ("barcode: add-on", 2, "price"),
            ("barcode: corner", 1, "foot-fore-edge"),
            ("mark: width", 1, "21 mm"),
            ("mark: from the head", 1, "2.1 cm"),
            ("mark: clearance", 1, "0.125 in"),
            ("barcode: clearance", 1, "3 mm"),
        ] {
            assert_eq!(stepped(&panel, name, steps).1, shown, "{name}");
        }
    }

    #[test]
    fn a_binding_has_its_own_edges() {
        let names = |binding: &str| {
            let panel = panel(&format!("panel: {{ trim: 200 x 250 mm, binding: {binding} }}\n"));
            let values = panel.values().into_iter().skip(9).map(|value| (value.name, value.value));
            values.map(|(name, value)| format!("{name} {value}")).collect::<Vec<_>>().join(", ")
        };
        assert_eq!(names("paperback"), "bleed 3.175 mm, round corners 0 mm");
        assert_eq!(names("case"), "square 3 mm, turn-in 16 mm, joint 9 mm, round corners 0 mm");
        assert_eq!(names("jacket"), "square 3 mm, bleed 3.175 mm, round corners 0 mm");
    }

    #[test]
    fn a_board_book_has_the_binding_board_and_no_other() {
        let panel = panel(&format!("book: {{ kind: board book }}\n{BOOK}"));
        let binding = panel.values().into_iter().find(|value| value.name == "binding").expect("a value");
        assert_eq!((binding.value.as_str(), binding.is_choice()), ("board", true));
        let refused = Err("a board book has the binding board, and no other".to_owned());
        for tried in [panel.stepped(&binding, 1), panel.stepped(&binding, -1), panel.typed(&binding, "case")] {
            assert_eq!(tried.map(|panel| panel.panel), refused);
        }
        // Every other value of the panel can be changed, and the binding is still a board book's.
        let (wider, _) = stepped(&panel, "width", 1);
        assert!(wider.values().iter().any(|value| (value.name.as_str(), value.value.as_str()) == ("binding", "board")));
    }

    /// One margin for all edges becomes four where one of them is changed, and four margins of one length stay four.
    #[test]
    fn margins_change_together_or_alone() {
        let (four, head) = stepped(&panel(BOOK), "margin at the head", 2);
        assert_eq!(head, "0.75 in");
        assert_eq!(stepped(&four, "margins", 1).1, "one for each edge");
        assert_eq!(stepped(&stepped(&four, "margins", 1).0, "margin at the spine", 0).1, "0.625 in");
        let all = four.values().into_iter().find(|value| value.name == "margins").expect("a value");
        let typed = four.typed(&all, "12 mm").expect("a panel");
        assert_eq!(stepped(&typed, "margin at the foot", 1).1, "13 mm");
    }

    #[test]
    fn what_cannot_be_is_refused_in_the_words_of_a_brief() {
        let panel = panel(BOOK);
        let refused = |name: &str, text: &str| {
            let value = panel.values().into_iter().find(|value| value.name == name).expect("a value");
            panel.typed(&value, text).expect_err("it cannot be")
        };
        assert!(refused("width", "1").starts_with("barcode is"));
        assert!(refused("width", "0.5").contains("each side, it must be from 1 in to 30 in"));
        assert!(refused("height", "wide").starts_with("\"wide\" is not a length"));
        assert!(refused("margin at the head", "8 in").starts_with("the margins at head and foot add up to"));
        assert!(refused("barcode: scale", "70").contains("from 80% to 200%"));
        assert!(refused("barcode: corner", "middle").contains("is not known"));
        assert!(refused("mark: width", "9 in").contains("does not lie inside the panel"));
    }
}
