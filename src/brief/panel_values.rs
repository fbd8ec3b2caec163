//! The values of a panel, a flap or a spine one by one, so that other values can be tried: what each is called, how a
//! brief writes it, and the next value up or down. A changed group of the brief is read in the same way as a brief's,
//! and refused in the same words.

use super::art::Art;
use super::book::BookKind;
use super::cover::{DIRECTIONS, Flap, Spine};
use super::lengths::{self, Unit};
use super::nodes::{NodeAt, Refusal};
use super::panel::{self, BINDINGS, Binding, FaceLayout, KeepOutOrigin, Margins, Panel};
use super::place::CoverFace;
use super::yaml::{Node, YamlStep};
use crate::units::{Length, Rect, Size};

/// A panel with the flaps and the spine beside it, and the groups of a brief that describe them.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenPanel {
    /// The group `panel` as a brief writes it.
    pub written: Node,
    /// The panel that the group describes.
    pub panel: Panel,
    /// The flaps beside it, which are as high as the panel.
    pub flaps: Vec<Flap>,
    /// The spine beside it, where the brief has one.
    pub spine: Option<Spine>,
    /// The kind of book that the panel belongs to.
    pub kind: BookKind,
    /// The part whose values and boxes are told and changed.
    pub part: CoverPart,
}

/// A part of the cover that has values of its own, each in a group of the brief.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoverPart {
    /// The back panel or a flap, with its boxes.
    Face(CoverFace),
    /// The spine, which has none.
    Spine,
}

impl CoverPart {
    /// The part's name in a message: `back panel`, `front flap`, `spine`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Face(face) => face.name(),
            Self::Spine => "spine",
        }
    }
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
    /// Where the value is written, from the group of its part on.
    pub place: Vec<YamlStep>,
    pub(super) form: ValueForm,
}

/// A box of the author's on a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoxId {
    /// A keep-out, by its number in the brief, from 0.
    KeepOut(usize),
    /// A place, by its number in the brief, from 0.
    Place(usize),
}

/// Every margin of a part with its key in a brief.
type EdgeLengths = Vec<(&'static str, Length)>;

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
    /// The length of one margin, by its key, beside the others.
    Margin(&'static str, EdgeLengths),
    /// The length of all margins.
    Margins(EdgeLengths),
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
    /// The distance of one edge of a place from that of its face, by the edge's name.
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
    /// The cover with another part in hand; the panel where it has no such part.
    pub fn with_part(self, part: CoverPart) -> Self {
        let part = if self.parts().contains(&part) { part } else { CoverPart::Face(CoverFace::Panel) };
        Self { part, ..self }
    }

    /// Every part that the cover has, the panel first.
    pub fn parts(&self) -> Vec<CoverPart> {
        let flaps = self.flaps.iter().map(|flap| CoverPart::Face(flap.face));
        let spine = self.spine.iter().map(|_| CoverPart::Spine);
        std::iter::once(CoverPart::Face(CoverFace::Panel)).chain(flaps).chain(spine).collect()
    }

    /// Every group that describes a part, with its key in a brief.
    pub fn groups(&self) -> Vec<(&'static str, &Node)> {
        let flaps = self.flaps.iter().map(|flap| (flap.face.key(), &flap.written));
        let spine = self.spine.iter().map(|spine| ("spine", &spine.written));
        std::iter::once((CoverFace::Panel.key(), &self.written)).chain(flaps).chain(spine).collect()
    }

    /// Whether another cover is as this one is, however the groups of the two are written.
    pub fn is_as(&self, other: &Self) -> bool {
        let flaps = self.flaps.iter().map(Flap::unwritten).eq(other.flaps.iter().map(Flap::unwritten));
        let spines = self.spine.as_ref().map(Spine::unwritten) == other.spine.as_ref().map(Spine::unwritten);
        self.panel == other.panel && flaps && spines
    }

    /// The flap that is in hand.
    fn flap(&self) -> Option<&Flap> {
        self.flaps.iter().find(|flap| self.part == CoverPart::Face(flap.face))
    }

    /// The spine, where it is in hand.
    fn spine(&self) -> Option<&Spine> {
        self.spine.as_ref().filter(|_| self.part == CoverPart::Spine)
    }

    /// The group of the part in hand.
    pub(super) fn group(&self) -> &Node {
        let beside = self.flap().map(|flap| &flap.written).or(self.spine().map(|spine| &spine.written));
        beside.unwrap_or(&self.written)
    }

    /// The face in hand. The spine has neither keep-outs nor places.
    pub(super) fn layout(&self) -> FaceLayout<'_> {
        let face = self.flap().map_or_else(|| self.panel.layout(), Flap::layout);
        match self.part {
            CoverPart::Face(_) => face,
            CoverPart::Spine => FaceLayout { keep_outs: &[], places: &[], ..face },
        }
    }

    /// The edges of the face in hand, as a brief writes them.
    pub(super) fn edges_of_face(&self) -> [&'static str; 4] {
        let [left, right] = self.layout().face.sides();
        ["head", "foot", left, right]
    }

    /// Whether the face in hand is a flap that holds copy by itself: its one place is as large as its live area.
    pub(super) fn holds_by_itself(&self) -> bool {
        self.group().at(&steps(&["holds"])).is_some()
    }

    /// The distance between an edge of a box and that of its face.
    pub(super) fn distance(&self, rect: &Rect, edge: &str) -> Length {
        let face = self.layout().edges;
        match edge {
            "head" => rect.y,
            "foot" => face.height - rect.foot(),
            edge if self.is_left(edge) => rect.x,
            _ => face.width - rect.right(),
        }
    }

    /// Whether an edge of the face in hand is its left one, seen from outside.
    pub(super) fn is_left(&self, edge: &str) -> bool {
        self.layout().face.sides()[0] == edge
    }

    /// Every value that the part in hand has, in the order of a brief.
    pub fn values(&self) -> Vec<PanelValue> {
        let mut values = Vec::new();
        if let Some(flap) = self.flap() {
            values.push(self.length("width of the flap", &["width"], flap.size.width));
            values.extend(self.margins());
        } else if let Some(spine) = self.spine() {
            values.push(self.length("width of the spine", &["width"], spine.width));
            values.push(self.length("clear of either fold", &["clear"], spine.clear));
            values.extend(self.margins());
            let ways = DIRECTIONS.map(|(name, _)| name).to_vec();
            let direction = spine.direction.name().to_owned();
            values.push(value("direction", direction, &["direction"], ValueForm::Choice(ways)));
        } else {
            values.extend(self.trim());
            values.extend(self.margins());
            values.extend(self.edges());
        }
        values.extend(self.values_of_boxes());
        values
    }

    /// All margins in one, and each by itself.
    fn margins(&self) -> Vec<PanelValue> {
        let margins = match (self.flap(), self.spine()) {
            (Some(Flap { margins: of, .. }), _) => {
                vec![("head", of.head), ("foot", of.foot), ("fold", of.fold), ("edge", of.edge)]
            }
            (_, Some(spine)) => vec![("head", spine.head), ("foot", spine.foot)],
            _ => of_panel(&self.panel.margins),
        };
        let is_one = margins.iter().all(|(_, margin)| *margin == margins[0].1);
        let whole = match is_one {
            true => self.length_of(&["margins"], margins[0].1),
            false => "each its own".to_owned(),
        };
        let all = value("margins", whole, &["margins"], ValueForm::Margins(margins.clone()));
        let one = |(key, margin): &(&'static str, Length)| {
            let (name, written) = (format!("margin at the {key}"), self.length_of(&["margins", key], *margin));
            value(&name, written, &["margins", key], ValueForm::Margin(key, margins.clone()))
        };
        std::iter::once(all).chain(margins.iter().map(one)).collect()
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

    /// The cover with a value of the part in hand moved on by a number of steps. A trim moves on by one usual trim,
    /// however many the steps.
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

    /// The cover with a value of the part in hand as an author typed it; a length without a unit takes the unit of the
    /// former value.
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
            ValueForm::Margin(key, margins) if !self.has_own_margins() => {
                let length = lengths::length(&text)?;
                let with_it = |(edge, own): &(&'static str, Length)| (*edge, if edge == key { length } else { *own });
                let margins: EdgeLengths = margins.iter().map(with_it).collect();
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

    /// The panel with other margins.
    ///
    /// # Errors
    ///
    /// Why the panel cannot be so, without a full stop.
    pub fn with_margins(&self, margins: &Margins) -> Result<Self, String> {
        self.with(&["margins"], margins_of(&of_panel(margins), self.unit(), |margin| margin))
    }

    fn with(&self, keys: &[&str], node: Node) -> Result<Self, String> {
        self.at(&steps(keys), node)
    }

    /// The panel with another node at a place. Where the brief has a margin for each edge, one length for all margins
    /// is written as four.
    fn at(&self, place: &[YamlStep], node: Node) -> Result<Self, String> {
        let mut written = self.group().clone();
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

    /// The cover with another group of the part in hand. The parts beside a changed panel are read again, since they
    /// are as high as the panel is.
    ///
    /// # Errors
    ///
    /// Why the cover cannot be so, without a full stop.
    pub(super) fn of(&self, written: Node) -> Result<Self, String> {
        self.read(written).map_err(|refusal| refusal.problem)
    }

    fn read(&self, written: Node) -> Result<Self, Refusal> {
        let mut new = self.clone();
        match self.part {
            CoverPart::Spine => {
                if let Some(spine) = &mut new.spine {
                    spine.written = written;
                }
            }
            CoverPart::Face(CoverFace::Panel) => {
                new.panel = Panel::read(NodeAt::top(&written))?;
                panel::take_outlines(&mut new.panel.keep_outs, &mut new.panel.places, self.panel.layout());
                panel::arts_mut(&mut new.panel.art, &mut new.panel.places)
                    .for_each(|art| art.take_pictures(self.panel.layout().arts()));
                new.written = written;
            }
            CoverPart::Face(face) => {
                new.flaps.iter_mut().filter(|flap| flap.face == face).for_each(|flap| flap.written = written.clone());
            }
        }
        let flaps = new.flaps.iter().map(|flap| flap.beside(&new.panel, self.kind));
        new.flaps = flaps.collect::<Result<_, _>>()?;
        new.spine = new.spine.map(|spine| spine.beside(&new.panel)).transpose()?;
        Ok(new)
    }

    /// Every piece of art, on all faces.
    pub fn arts_mut(&mut self) -> impl Iterator<Item = &mut Art> {
        let flaps = self.flaps.iter_mut().flat_map(|flap| panel::arts_mut(&mut flap.art, &mut flap.places));
        panel::arts_mut(&mut self.panel.art, &mut self.panel.places).chain(flaps)
    }

    /// The unit of the part in hand: that of its width, which a panel has from its trim.
    pub(super) fn unit(&self) -> Unit {
        let beside = self.flap().map(|flap| flap.unit).or(self.spine().map(|spine| spine.unit));
        let trim = || text_at(&self.written, &steps(&["trim"])).as_deref().and_then(Unit::of);
        beside.or_else(trim).unwrap_or(Unit::Inches)
    }

    /// A length rounded to the steps in which the lengths of the panel are changed.
    pub fn rounded(&self, length: Length) -> Length {
        let (unit, step) = (self.unit(), self.unit().step());
        unit.length((unit.of_it(length) / step).round() * step)
    }

    /// A rectangle with its edges moved inwards to lengths that are easily written: a fifth of the steps in which the
    /// lengths of the panel are changed.
    pub fn rounded_inwards(&self, rect: &Rect) -> Rect {
        let (unit, step) = (self.unit(), self.unit().step() / 5.0);
        // What lies on a step already is not moved by the last digit of a quotient.
        let up = |length: Length| unit.length((unit.of_it(length) / step - 1e-6).ceil() * step);
        let down = |length: Length| unit.length((unit.of_it(length) / step + 1e-6).floor() * step);
        let (x, y) = (up(rect.x), up(rect.y));
        Rect { x, y, width: (down(rect.right()) - x).or_zero(), height: (down(rect.foot()) - y).or_zero() }
    }

    /// The width and the height of a rectangle in the unit of the trim: `4 x 2.5 in`.
    pub fn size_told(&self, rect: &Rect) -> String {
        let unit = self.unit();
        format!("{} x {}", unit.number(rect.width), unit.written(rect.height))
    }

    /// A length in the unit of the trim: `0.5 in`.
    pub fn length_told(&self, length: Length) -> String {
        self.unit().written(length)
    }

    /// A length rounded down to a step.
    pub(super) fn down(&self, length: Length) -> Length {
        let (unit, step) = (self.unit(), self.unit().step());
        unit.length((unit.of_it(length) / step + 1e-6).floor() * step)
    }

    /// Whether each edge has a margin of its own in the brief.
    fn has_own_margins(&self) -> bool {
        matches!(self.group().at(&steps(&["margins"])), Some(Node::Map(_)))
    }

    fn length(&self, name: &str, keys: &[&str], length: Length) -> PanelValue {
        value(name, self.length_of(keys, length), keys, ValueForm::Length(length))
    }

    /// A length as the brief writes it; where the brief does not give it, in the unit of the part.
    fn length_of(&self, keys: &[&str], length: Length) -> String {
        text_at(self.group(), &steps(keys)).unwrap_or_else(|| self.suited(length))
    }

    /// A length in the unit of the part in hand, or in another unit in which it is a shorter number.
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

/// The margins of the panel by their keys.
fn of_panel(of: &Margins) -> EdgeLengths {
    vec![("head", of.head), ("foot", of.foot), ("spine", of.spine), ("fore-edge", of.fore_edge)]
}

fn margin(margins: &EdgeLengths, key: &str) -> Length {
    margins.iter().find(|(edge, _)| *edge == key).map_or(Length::ZERO, |(_, length)| *length)
}

/// Margins as a brief writes them: one length where they are all alike.
fn margins_of(margins: &EdgeLengths, unit: Unit, change: impl Fn(Length) -> Length) -> Node {
    let edges = margins.iter().map(|(key, length)| ((*key).to_owned(), Node::Text(unit.written(change(*length)))));
    let edges: Vec<(String, Node)> = edges.collect();
    if edges.iter().all(|(_, text)| *text == edges[0].1) { edges[0].1.clone() } else { Node::Map(edges) }
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
