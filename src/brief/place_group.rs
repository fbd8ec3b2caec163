//! Reads the places of a face: where each is, what it holds, and whether they go together.
//!
//! A place may be given by others (above a keep-out, following a place), whatever their order in the brief, so the
//! names are read first and each box once those that it depends on are known.

use super::art::{Art, Tint};
use super::bounds;
use super::colour::Colour;
use super::keep_out::{self, Ground};
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal, nearest};
use super::panel::{FaceLayout, KeepOut};
use super::place::{CoverFace, Follows, Held, LIVE_AREA, Place, Shape};
use super::shape;
use super::typography::{ALIGNMENTS, Align, STACKS, Stack};
use crate::draft::BlockKind;
use crate::units::{Length, Rect};

const KEYS: [&str; 20] = [
    "name", "holds", "edges", "size", "corner", "at", "above", "below", "beside", "follows", "space", "shape", "inset",
    "align", "stack", "columns", "gutter", "ink", "art", "tint",
];

/// Common practice: some 2 mm between the edge of a bubble and its letters.
const USUAL_INSET_MM: f64 = 2.0;
/// Common practice: about a line between columns.
const USUAL_GUTTER_PT: f64 = 12.0;
const MOST_COLUMNS: u32 = 4;
/// Far more than a face has; each is looked through for every block at every size.
const MOST_PLACES: usize = 50;
/// A column narrower than this many ems of the blurb takes no line.
const NARROWEST_COLUMN_EMS: i64 = 3;

/// The other thing that a place is given by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Relation {
    Above,
    Below,
    Beside,
    Follows,
}

const RELATIONS: [(&str, Relation); 4] = [
    ("above", Relation::Above),
    ("below", Relation::Below),
    ("beside", Relation::Beside),
    ("follows", Relation::Follows),
];

/// What a place may be given by: a keep-out, or a place by its number in the brief.
#[derive(Debug, Clone, Copy)]
enum Other<'a> {
    KeepOut(&'a KeepOut),
    Place(usize),
}

/// The places of one face while they are read.
struct PlaceReader<'a, 'n> {
    ground: &'a Ground,
    keep_outs: &'a [KeepOut],
    /// The places as the brief has them, with their names.
    items: Vec<(NodeAt<'n>, KeyGroup<'n>, String)>,
    /// The places that are known, in the order in which they became so, each with its number in the brief.
    known: Vec<(usize, Place)>,
    /// The places that wait for another.
    waiting: Vec<usize>,
}

/// Reads the places of a face, each behind the one that it follows.
pub(super) fn read(list: &NodeAt<'_>, ground: &Ground, keep_outs: &[KeepOut]) -> Result<Vec<Place>, Refusal> {
    let mut items: Vec<(NodeAt<'_>, KeyGroup<'_>, String)> = Vec::new();
    let found = list.items()?;
    if found.len() > MOST_PLACES {
        let count = found.len();
        return Err(list.refuse(format!("{count} places are too many for one face; the most are {MOST_PLACES}")));
    }
    for item in found {
        let fields = item.fields(&KEYS)?;
        let name = fields.required("name", "such as name: bubble")?;
        let text = name.text()?;
        let is_known = items.iter().any(|(_, _, other)| *other == text);
        if is_known || keep_outs.iter().any(|keep_out| keep_out.name == text) {
            return Err(name.refuse(format!("the name \"{text}\" is given twice; each place and keep-out has its own")));
        }
        items.push((item, fields, text));
    }
    // A place may be given by one that stands below it in the file, so all names are known before any place is read.
    let mut reader = PlaceReader { ground, keep_outs, items, known: Vec::new(), waiting: Vec::new() };
    for number in 0..reader.items.len() {
        reader.read(number)?;
    }
    reader.end_at_places_below();
    reader.check()?;
    Ok(reader.known.into_iter().map(|(_, place)| place).collect())
}

impl PlaceReader<'_, '_> {
    /// Reads a place, and the places that it is given by before it; gives its position among those that are known.
    fn read(&mut self, number: usize) -> Result<usize, Refusal> {
        if let Some(known) = self.known.iter().position(|(known, _)| *known == number) {
            return Ok(known);
        }
        let (item, fields, name) = self.items[number].clone();
        if self.waiting.contains(&number) {
            return Err(item.refuse(format!(
                "\"{name}\" is given by itself, by way of others; one of them needs a place \
                                            of its own, such as size and corner"
            )));
        }
        self.waiting.push(number);
        let found = RELATIONS.iter().filter_map(|(key, relation)| Some((fields.optional(key)?, *relation)));
        let mut relations: Vec<(NodeAt<'_>, Relation)> = found.collect();
        let is_sized = fields.has("size") || fields.has("corner") || fields.has("at");
        if relations.len() + usize::from(is_sized) > 1 {
            return Err(item.refuse(format!(
                "\"{name}\" has two positions; write one of size with corner or at, above, below, beside, follows"
            )));
        }
        let (bounds, follows, is_above) = match relations.pop() {
            Some((value, relation)) => self.related(&value, relation, &fields)?,
            None if is_sized => (self.sized(&item, &fields)?, None, false),
            None => {
                let Some(edges) = fields.optional("edges") else {
                    return Err(item.refuse(format!(
                        "\"{name}\" has no position; write edges, size with corner or at, above, below, beside or \
                         follows"
                    )));
                };
                (self.within_edges(&edges, self.ground.live)?, None, false)
            }
        };
        self.waiting.pop();
        let place = self.place((&item, &fields, name), bounds, follows, is_above)?;
        self.known.push((number, place));
        Ok(self.known.len() - 1)
    }

    /// The box of a size, in a corner or at a distance.
    fn sized(&self, item: &NodeAt<'_>, fields: &KeyGroup<'_>) -> Result<Rect, Refusal> {
        let size = fields.required("size", "such as size: 110 x 60 mm")?.size(bounds::KEEP_OUT)?;
        let placed = self.ground.placed(fields, size)?;
        let [left, right] = self.ground.face.sides();
        placed.ok_or_else(|| {
            let example = self.ground.unit.example();
            item.refuse(format!(
                "its size is known but not its position; write corner: head-{left}, or at: {{ {right}: {example}, \
                 head: {example} }}"
            ))
        })
    }

    /// The box that is given by a keep-out or another place.
    fn related(
        &mut self,
        value: &NodeAt<'_>,
        relation: Relation,
        fields: &KeyGroup<'_>,
    ) -> Result<(Rect, Option<Follows>, bool), Refusal> {
        let (rect, cleared, place) = match self.other(value, relation)? {
            Other::KeepOut(keep_out) => (keep_out.rect, keep_out.cleared(), 0),
            Other::Place(number) => {
                let known = self.read(number)?;
                let bounds = self.known[known].1.bounds;
                (bounds, bounds, known)
            }
        };
        let live = self.ground.live;
        let from_to = |y: Length, foot: Length| Rect { y, height: foot - y, ..rect };
        let bounds = match relation {
            Relation::Above => from_to(live.y, cleared.y),
            Relation::Below => from_to(cleared.foot(), live.foot()),
            Relation::Follows => from_to(rect.y, live.foot()),
            Relation::Beside => {
                // The wider side is meant: beside a barcode in a corner there is only one.
                let (left, right) = (cleared.x - live.x, live.right() - cleared.right());
                let x = if left >= right { live.x } else { cleared.right() };
                Rect { x, width: left.max(right), ..rect }
            }
        };
        let bounds = match fields.optional("edges") {
            Some(edges) => self.within_edges(&edges, bounds)?,
            None => bounds,
        };
        let space = fields.optional("space").map_or(Ok(Length::ZERO), |value| value.length(bounds::SPACE))?;
        let follows = (relation == Relation::Follows).then_some(Follows { place, space });
        Ok((bounds, follows, relation == Relation::Above))
    }

    /// The keep-out or place that a relation names.
    fn other(&self, value: &NodeAt<'_>, relation: Relation) -> Result<Other<'_>, Refusal> {
        let name = value.text()?;
        let place = self.items.iter().position(|(_, _, other)| *other == name);
        if let Some(place) = place {
            return Ok(Other::Place(place));
        }
        let keep_out = self.keep_outs.iter().find(|keep_out| keep_out.name == name);
        match keep_out.filter(|_| relation != Relation::Follows) {
            Some(keep_out) => Ok(Other::KeepOut(keep_out)),
            None if keep_out.is_some() => {
                Err(value.refuse(format!("no copy stands in \"{name}\", so none follows it")))
            }
            None => {
                let names = self.items.iter().map(|(_, _, name)| name.as_str());
                let outs = self.keep_outs.iter().map(|keep_out| keep_out.name.as_str());
                let known: Vec<&str> = match relation {
                    Relation::Follows => names.collect(),
                    _ => names.chain(outs).collect(),
                };
                Err(value.refuse(format!(
                    "there is no \"{name}\" on the {}{}",
                    self.ground.name(),
                    nearest(&name, &known)
                )))
            }
        }
    }

    /// A box of which some edges are at their own distance from the edges of the face.
    fn within_edges(&self, edges: &NodeAt<'_>, open: Rect) -> Result<Rect, Refusal> {
        let [left, right] = self.ground.face.sides();
        let fields = edges.fields(&["head", "foot", right, left])?;
        let length = |key: &str| fields.optional(key).map(|value: NodeAt<'_>| value.length(bounds::ROOM)).transpose();
        let face = self.ground.edges;
        let x = length(left)?.unwrap_or(open.x);
        let y = length("head")?.unwrap_or(open.y);
        let far = length(right)?.map_or(open.right(), |distance| face.width - distance);
        let foot = length("foot")?.map_or(open.foot(), |distance| face.height - distance);
        if far <= x || foot <= y {
            return Err(edges.refuse("these edges leave no box between them; make one of them smaller"));
        }
        Ok(Rect { x, y, width: far - x, height: foot - y })
    }

    /// A place whose box is known.
    fn place(
        &self,
        (item, fields, name): (&NodeAt<'_>, &KeyGroup<'_>, String),
        bounds: Rect,
        follows: Option<Follows>,
        is_above: bool,
    ) -> Result<Place, Refusal> {
        if follows.is_none()
            && let Some(space) = fields.optional("space")
        {
            return Err(space.refuse("only a place that follows another has a space before it; leave it out"));
        }
        let unit = fields.optional("size").and_then(|size| size.unit()).unwrap_or(self.ground.unit);
        let quoted = format!("\"{name}\"");
        if bounds.width <= Length::ZERO || bounds.height <= Length::ZERO {
            return Err(item.refuse(format!("no room is left for {quoted} there; give it another position")));
        }
        self.ground.check(item, &quoted, bounds, unit)?;
        let shape = fields.optional("shape").map_or(Ok(Shape::Box), |value| shape::read(&value))?;
        let usual = if shape == Shape::Box { Length::ZERO } else { Length::mm(USUAL_INSET_MM) };
        let inset = fields.optional("inset").map_or(Ok(usual), |value| value.length(bounds::ROOM))?;
        if bounds.width.fits(inset * 2) || bounds.height.fits(inset * 2) {
            let inset = unit.written(inset);
            return Err(item.refuse(format!("an inset of {inset} leaves no room in {quoted}; make it smaller")));
        }
        let art = fields.optional("art").map(|value| Art::of_place(&value, follows.is_some())).transpose()?;
        let mut place = Place { name, bounds, shape, inset, art, follows, unit, ..one(fields, item, unit)? };
        if is_above && !fields.has("stack") {
            place.stack = Stack::Foot;
        }
        if place.columns > 1 && (place.shape != Shape::Box || place.stack != Stack::Head) {
            return Err(
                item.refuse("columns are filled from the head down, in a box; leave stack and shape out, or columns")
            );
        }
        let area = if place.shape == Shape::Box { bounds.grown(Length::ZERO - inset) } else { bounds };
        keep_out::check_room(item, self.keep_outs, area, &quoted)?;
        Ok(place)
    }

    /// Ends places that follow another at the head of the first place below that one: what is between them is theirs.
    fn end_at_places_below(&mut self) {
        for at in 0..self.known.len() {
            let Some(follows) = self.known[at].1.follows else { continue };
            let (bounds, followed) = (self.known[at].1.bounds, self.known[follows.place].1.bounds);
            let fixed = self.known.iter().map(|(_, place)| place).filter(|place| place.follows.is_none());
            let below = fixed.filter(|place| followed.foot().fits(place.bounds.y) && place.bounds.overlaps(&bounds));
            if let Some(head) = below.map(|place| place.bounds.y).min() {
                self.known[at].1.bounds.height = head - bounds.y;
            }
        }
    }

    /// Refuses places that overlap. A place may share room with one that it follows, and shapes may
    /// stand nearer to each other than their boxes.
    fn check(&self) -> Result<(), Refusal> {
        for (at, (number, place)) in self.known.iter().enumerate() {
            for (other_at, (_, other)) in self.known[..at].iter().enumerate() {
                let overlap = place.bounds.within(&other.bounds);
                let are_boxes = place.shape == Shape::Box && other.shape == Shape::Box;
                if !are_boxes || self.is_behind(at, other_at) || !place.bounds.overlaps(&other.bounds) {
                    continue;
                }
                let (width, height) = (place.unit.written(overlap.width), place.unit.written(overlap.height));
                return Err(self.items[*number].0.refuse(format!(
                    "\"{}\" and \"{}\" overlap by {width} across and {height} down; move one or make it smaller",
                    place.name, other.name
                )));
            }
        }
        Ok(())
    }

    /// Whether a place follows another, or one that follows it.
    fn is_behind(&self, place: usize, other: usize) -> bool {
        let follows = |place: usize| self.known[place].1.follows.map(|follows| follows.place);
        std::iter::successors(follows(place), |place| follows(*place)).any(|before| before == other)
    }
}

/// A place as far as it does not depend on where it is: what it holds and how.
pub(super) fn one(fields: &KeyGroup<'_>, item: &NodeAt<'_>, unit: Unit) -> Result<Place, Refusal> {
    let holds = match fields.optional("holds") {
        Some(value) => held(&value)?,
        None => Vec::new(),
    };
    if holds.is_empty() {
        return Err(item.refuse("it holds nothing; write holds: headline, or holds: [quote 1, quote 2]"));
    }
    let align: Option<Align> = fields.optional("align").map(|value| value.choice(&ALIGNMENTS)).transpose()?;
    let stack = fields.optional("stack").map_or(Ok(Stack::Head), |value| value.choice(&STACKS))?;
    let columns = match fields.optional("columns") {
        None => 1,
        Some(value) => match value.whole(1)? {
            columns @ 1..=MOST_COLUMNS => columns as usize,
            more => {
                return Err(
                    value.refuse(format!("{more} columns are too many; write a number from 1 to {MOST_COLUMNS}"))
                );
            }
        },
    };
    let gutter =
        fields.optional("gutter").map_or(Ok(Length::pt(USUAL_GUTTER_PT)), |value| value.length(bounds::ROOM))?;
    Ok(Place {
        name: String::new(),
        holds,
        bounds: Rect::default(),
        shape: Shape::Box,
        inset: Length::ZERO,
        align,
        stack,
        ink: Colour::read(fields, "ink")?,
        art: None,
        tint: Tint::of(fields)?,
        columns,
        gutter,
        follows: None,
        unit,
    })
}

/// What a place holds: a name or a list of names.
fn held(value: &NodeAt<'_>) -> Result<Vec<Held>, Refusal> {
    let items = if value.is_list() { value.items()? } else { vec![*value] };
    let mut holds: Vec<Held> = Vec::new();
    for item in items {
        let text = item.text()?;
        let held = block_named(&text).map_err(|problem| item.refuse(problem))?;
        if holds.contains(&held) {
            return Err(item.refuse(format!("\"{text}\" is held twice; leave it out once")));
        }
        holds.push(held);
    }
    Ok(holds)
}

/// The block that a name in a brief means: `headline`, `quote 2`.
fn block_named(text: &str) -> Result<Held, String> {
    let (words, number) = match text.rsplit_once(' ') {
        Some((words, number)) if number.chars().all(|c| c.is_ascii_digit()) => (words, Some(number)),
        _ => (text, None),
    };
    let number = match number.map(str::parse::<usize>) {
        None => None,
        Some(Ok(number)) if number > 0 => Some(number),
        Some(_) => return Err(format!("\"{text}\" is no block: parts of a kind are numbered from 1, such as quote 2")),
    };
    match BlockKind::named(words) {
        Some(BlockKind::Credit) => {
            Err("a credit goes where its quote goes and is not held by itself; write quote".to_owned())
        }
        Some(kind) => Ok(Held { kind, number }),
        None => {
            let kinds = BlockKind::ALL.into_iter().filter(|kind| *kind != BlockKind::Credit);
            let known: Vec<&str> = kinds.map(BlockKind::name).collect();
            Err(format!("\"{text}\" is no block{}", nearest(words, &known)))
        }
    }
}

/// What is wrong with the places of all faces together, and on which face: a name that two have, a block that two hold,
/// or columns in which hardly a word of the blurb's size goes in.
pub(super) fn fault<'a>(faces: impl Iterator<Item = FaceLayout<'a>>, size: Length) -> Option<(CoverFace, String)> {
    let mut known: Vec<(Held, &str)> = Vec::new();
    let mut names = vec![LIVE_AREA.to_owned()];
    for face in faces {
        for place in face.places {
            // Reports tell places by their names alone, whatever face they are on.
            let name = place.name.to_lowercase();
            if names.contains(&name) {
                let problem = format!("two places are called \"{}\"; give one of them another name", place.name);
                return Some((face.face, problem));
            }
            names.push(name);
            if let Some((held, other)) = known.iter().find(|(held, _)| place.holds.contains(held)) {
                let (name, held) = (&place.name, held.name());
                let problem = format!("\"{name}\" and \"{other}\" both hold the {held}; leave it out of one");
                return Some((face.face, problem));
            }
            known.extend(place.holds.iter().map(|held| (*held, place.name.as_str())));
            let columns = place.columns as i64;
            let width = (place.bounds.width - place.inset * 2 - place.gutter * (columns - 1)) / columns;
            if columns > 1 && width < size * NARROWEST_COLUMN_EMS {
                let (name, width) = (&place.name, place.unit.written(width.or_zero()));
                let problem = format!(
                    "each of the {columns} columns of \"{name}\" is {width} wide, too narrow for a line; make the \
                     place wider, or take fewer columns or a smaller gutter"
                );
                return Some((face.face, problem));
            }
        }
    }
    None
}
