//! The boxes of a panel or a flap, keep-outs and places of copy: their values one by one, and how a brief writes a box
//! that is moved, made or taken away.

use super::barcode::ADD_ONS;
use super::lengths::{self, Unit};
use super::panel::{FaceLayout, KeepOut, KeepOutOrigin};
use super::panel_values::{BoxId, CoverPart, PanelValue, ValueForm, WrittenPanel, size, steps, text_at};
use super::place::{Place, Shape};
use super::typography::Stack;
use super::yaml::{Node, YamlStep};
use crate::units::{Length, Rect, Size};

/// What a flap that holds copy by itself says of it.
const HELD: [&str; 5] = ["holds", "align", "stack", "columns", "gutter"];
/// What a place may be given by, as a brief writes it.
const RELATIONS: [&str; 4] = ["above", "below", "beside", "follows"];
const ALIGNS: [&str; 4] = ["as the type", "left", "centre", "justified"];
const STACKS: [&str; 3] = ["head", "centre", "foot"];
const MOST_COLUMNS: u32 = 4;
/// Common practice for a place with rounded corners, and for a mark on the cover.
const USUAL_ROUND_MM: f64 = 8.0;
const USUAL_MARK_MM: f64 = 20.0;
/// A place narrower than so many times the height of its lines takes hardly a word.
const LEAST_LINES_WIDE: i64 = 3;
const OUTLINE_OF_POINTS: &str = "an outline of points is changed in the brief itself";
const RELATED: &str = "the other one gives it; change one of the edges, and it has edges of its own";

/// A box of the author's on a face.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelBox {
    /// Which of the brief's boxes.
    pub id: BoxId,
    /// What the author calls it.
    pub name: String,
    /// Where it is on the face.
    pub rect: Rect,
}

impl WrittenPanel {
    /// Every keep-out of the author's on the face in hand, then every place, in the order of the brief.
    pub fn boxes(&self) -> Vec<PanelBox> {
        let keep_outs = self.keep_outs().enumerate().map(|(number, out)| PanelBox {
            id: BoxId::KeepOut(number),
            name: out.name.clone(),
            rect: out.rect,
        });
        let places = self.places().map(|(number, place)| PanelBox {
            id: BoxId::Place(number),
            name: place.name.clone(),
            rect: place.bounds,
        });
        keep_outs.chain(places).collect()
    }

    /// A box by its number.
    pub fn box_of(&self, id: BoxId) -> Option<PanelBox> {
        self.boxes().into_iter().find(|found| found.id == id)
    }

    /// What a place stands by, as a sentence says it: `above barcode`; none for a place with a position of its own.
    pub fn relation(&self, id: BoxId) -> Option<String> {
        let BoxId::Place(_) = id else { return None };
        let (relation, other) = self.related(&self.item(id))?;
        Some(format!("{relation} {other}"))
    }

    fn related(&self, item: &[YamlStep]) -> Option<(&'static str, String)> {
        RELATIONS.into_iter().find_map(|key| Some((key, text_at(self.group(), &below(item, &[key]))?)))
    }

    /// The keep-outs that the brief names, in its order.
    fn keep_outs(&self) -> impl Iterator<Item = &KeepOut> {
        let is_named = |out: &&KeepOut| matches!(out.origin, KeepOutOrigin::Symbol | KeepOutOrigin::Named);
        self.layout().keep_outs.iter().filter(is_named)
    }

    /// The places with their numbers in the brief, in its order.
    fn places(&self) -> impl Iterator<Item = (usize, &Place)> {
        let layout = self.layout();
        let count = match self.group().at(&steps(&["places"])) {
            Some(Node::List(items)) => items.len(),
            _ => 0,
        };
        let named = (0..count).filter_map(move |number| {
            let name = word_at(self.group(), &below(&item(BoxId::Place(number)), &["name"]))?;
            Some((number, layout.places.iter().find(|place| place.name == name)?))
        });
        let whole = layout.places.first().filter(|_| self.holds_by_itself()).map(|place| (0, place));
        named.chain(whole)
    }

    /// Where the brief has a box, from the group of its face on. What a flap holds by itself stands in the group.
    fn item(&self, id: BoxId) -> Vec<YamlStep> {
        match id {
            BoxId::Place(_) if self.holds_by_itself() => Vec::new(),
            _ => item(id),
        }
    }

    /// The cover with what a flap holds by itself in a place of that flap, whose edges can then be its own. The place
    /// has no position yet.
    fn with_places(&self) -> Self {
        let mut written = self.group().clone();
        if !self.holds_by_itself() {
            return self.clone();
        }
        let place = item(BoxId::Place(0));
        written.put(&below(&place, &["name"]), Node::Text(self.part.name().to_owned()));
        for key in HELD {
            if let Some(node) = written.at(&steps(&[key])).cloned() {
                written.remove(&steps(&[key]));
                written.put(&below(&place, &[key]), node);
            }
        }
        let mut new = self.clone();
        new.flaps.iter_mut().filter(|flap| self.part == CoverPart::Face(flap.face)).for_each(|flap| {
            flap.written = written.clone();
        });
        new
    }

    /// The values of all boxes, in the order of the brief.
    pub(super) fn values_of_boxes(&self) -> Vec<PanelValue> {
        let keep_outs = self.keep_outs().enumerate().flat_map(|(number, out)| self.keep_out(number, out));
        keep_outs.chain(self.places().flat_map(|(number, place)| self.place(number, place))).collect()
    }

    /// The values of a keep-out: scale and add-on of a barcode, or the sides of a box; then its place and clearance.
    fn keep_out(&self, number: usize, out: &KeepOut) -> Vec<PanelValue> {
        let step = |key: &str| {
            vec![YamlStep::Key("keep_out".to_owned()), YamlStep::Item(number), YamlStep::Key(key.to_owned())]
        };
        let text = |key: &str| text_at(self.group(), &step(key));
        let named = |part: &str| format!("{}: {part}", out.name);
        let mut values = Vec::new();
        let mut add = |part: &str, value: String, place, form| {
            values.push(PanelValue { name: named(part), value, of: Some(BoxId::KeepOut(number)), place, form });
        };
        if out.origin == KeepOutOrigin::Symbol {
            add("scale", text("scale").unwrap_or_else(|| "100%".to_owned()), step("scale"), ValueForm::Percent);
            let add_ons = ADD_ONS.map(|(name, _)| name).to_vec();
            let none = || ADD_ONS[0].0.to_owned();
            add("add-on", text("add_on").unwrap_or_else(none), step("add_on"), ValueForm::Choice(add_ons));
        } else {
            let unit = text("size").as_deref().and_then(Unit::of).unwrap_or_else(|| self.unit());
            let size = Size { width: out.rect.width, height: out.rect.height };
            add("width", unit.written(size.width), step("size"), ValueForm::Across(size));
            add("height", unit.written(size.height), step("size"), ValueForm::Down(size));
        }
        if let Some(corner) = text("corner") {
            add("corner", corner, step("corner"), ValueForm::Choice(self.layout().face.corners().to_vec()));
        }
        for edge in self.edges_of_face() {
            let place: Vec<YamlStep> = step("at").into_iter().chain([YamlStep::Key(edge.to_owned())]).collect();
            let Some(written) = text_at(self.group(), &place) else { continue };
            let length = lengths::length(&written).unwrap_or_default();
            add(&format!("from the {edge}"), written, place, ValueForm::Length(length));
        }
        let clearance = text("clearance").unwrap_or_else(|| self.suited(out.clearance));
        add("clearance", clearance, step("clearance"), ValueForm::Length(out.clearance));
        values
    }

    /// The values of a place: its name and what it holds, its position, its form, and how its copy stands in it.
    fn place(&self, number: usize, place: &Place) -> Vec<PanelValue> {
        let id = BoxId::Place(number);
        let at = self.item(id);
        let text = |key: &str| word_at(self.group(), &below(&at, &[key]));
        let mut values = Vec::new();
        let mut add = |part: &str, value: String, key: &[&str], form| {
            let name = format!("{}: {part}", place.name);
            values.push(PanelValue { name, value, of: Some(id), place: below(&at, key), form });
        };
        if !self.holds_by_itself() {
            add("name", place.name.clone(), &["name"], ValueForm::Name);
        }
        let held = place.holds.iter().map(|held| {
            let number = held.number.map_or(String::new(), |number| format!(" {number}"));
            format!("{}{number}", held.kind.name())
        });
        add("holds", held.collect::<Vec<_>>().join(", "), &["holds"], ValueForm::Holds);
        // A place is given by its size and where that stands, or by the distances of its edges.
        if let Some(written) = text("size") {
            let unit = Unit::of(&written).unwrap_or_else(|| self.unit());
            let size = Size { width: place.bounds.width, height: place.bounds.height };
            add("width", unit.written(size.width), &["size"], ValueForm::Across(size));
            add("height", unit.written(size.height), &["size"], ValueForm::Down(size));
            if let Some(corner) = text("corner") {
                add("corner", corner, &["corner"], ValueForm::Choice(self.layout().face.corners().to_vec()));
            }
            for edge in self.edges_of_face() {
                let Some(written) = word_at(self.group(), &below(&at, &["at", edge])) else { continue };
                let length = lengths::length(&written).unwrap_or_default();
                add(&format!("from the {edge}"), written, &["at", edge], ValueForm::Length(length));
            }
        } else {
            let related = self.related(&at);
            if let Some((relation, other)) = &related {
                add("stands", format!("{relation} {other}"), &[relation], ValueForm::Fixed(RELATED));
            }
            // A place that follows another begins where that one's copy ends, so its head is no value.
            let follows = related.is_some_and(|(relation, _)| relation == "follows");
            for edge in self.edges_of_face().into_iter().filter(|edge| !(follows && *edge == "head")) {
                let distance = self.distance(&place.bounds, edge);
                let written = word_at(self.group(), &below(&at, &["edges", edge]));
                let written = written.unwrap_or_else(|| self.suited(distance));
                add(&format!("from the {edge}"), written, &["edges", edge], ValueForm::Edge(edge, distance));
            }
            if let Some(follows) = &place.follows {
                let written = text("space").unwrap_or_else(|| Unit::Points.written(follows.space));
                add("space before it", written, &["space"], ValueForm::Length(follows.space));
            }
        }
        if !self.holds_by_itself() {
            self.shape_values(place, &at).into_iter().for_each(|(part, value, key, form)| add(part, value, key, form));
        }
        let align = text("align").unwrap_or_else(|| ALIGNS[0].to_owned());
        add("align", align, &["align"], ValueForm::Word(ALIGNS.to_vec()));
        let stack = match place.stack {
            Stack::Head => STACKS[0],
            Stack::Centre => STACKS[1],
            Stack::Foot => STACKS[2],
        };
        add("stack", stack.to_owned(), &["stack"], ValueForm::Choice(STACKS.to_vec()));
        add("columns", place.columns.to_string(), &["columns"], ValueForm::Count(MOST_COLUMNS));
        if place.columns > 1 {
            let gutter = text("gutter").unwrap_or_else(|| self.suited(place.gutter));
            add("gutter", gutter, &["gutter"], ValueForm::Length(place.gutter));
        }
        values
    }

    /// The values of a place's shape and of the room inside its edge: what each is called and is, its key and its form.
    fn shape_values(
        &self,
        place: &Place,
        at: &[YamlStep],
    ) -> Vec<(&'static str, String, &'static [&'static str], ValueForm)> {
        let text = |keys: &[&str], length: Length| {
            word_at(self.group(), &below(at, keys)).unwrap_or_else(|| self.suited(length))
        };
        let form = match &place.shape {
            Shape::Box | Shape::Ellipse | Shape::Round(_) => ValueForm::Outline,
            Shape::Polygon(_) | Shape::File(_) => ValueForm::Fixed(OUTLINE_OF_POINTS),
        };
        let mut values: Vec<(&'static str, String, &'static [&'static str], ValueForm)> =
            vec![("shape", place.shape.name().to_owned(), &["shape"], form)];
        if let Shape::Round(radius) = place.shape {
            let written = text(&["shape", "round"], radius);
            values.push(("radius", written, &["shape", "round"], ValueForm::Length(radius)));
        }
        let inset = text(&["inset"], place.inset);
        values.push(("inset", inset, &["inset"], ValueForm::Length(place.inset)));
        values
    }

    /// The panel with a value of a place as it was typed, in its whole form.
    pub(super) fn typed_of_place(&self, value: &PanelValue, text: &str) -> Result<Self, String> {
        let (path, mut written) = (&value.place, self.group().clone());
        match &value.form {
            ValueForm::Word(words) if words.first() == Some(&text) => written.remove(path),
            ValueForm::Outline if text == Shape::Box.name() => written.remove(path),
            ValueForm::Outline if text == "round" => {
                written.remove(path);
                let radius = self.suited(Length::mm(USUAL_ROUND_MM));
                written.put(&below(path, &["round"]), Node::Text(radius));
            }
            ValueForm::Count(_) if text == "1" => written.remove(path),
            ValueForm::Count(_) => match text.parse::<u32>() {
                Ok(count) => written.put(path, Node::Number(f64::from(count))),
                Err(_) => written.put(path, Node::Text(text.to_owned())),
            },
            ValueForm::Name => rename(&mut written, path, text),
            ValueForm::Holds => {
                let parts: Vec<Node> = text.split(',').map(|part| Node::Text(part.trim().to_owned())).collect();
                let is_list = matches!(written.at(path), Some(Node::List(_)));
                let one = parts.first().filter(|_| !is_list && parts.len() == 1).cloned();
                written.put(path, one.unwrap_or(Node::List(parts)));
            }
            ValueForm::Edge(edge, _) => {
                let Some(id) = value.of else { return Ok(self.clone()) };
                return self.with_edge(id, edge, lengths::length(text)?, text);
            }
            _ => written.put(path, Node::Text(text.to_owned())),
        }
        self.of(written)
    }

    /// The panel with one edge of a place at another distance. A place that another gives keeps to it where the edge is
    /// one that the other leaves open.
    fn with_edge(&self, id: BoxId, edge: &'static str, distance: Length, text: &str) -> Result<Self, String> {
        if self.holds_by_itself() {
            return self.with_places().with_edge(id, edge, distance, text);
        }
        let at = item(id);
        let is_open = match self.related(&at) {
            None => true,
            Some(("above", _)) => edge == "head",
            Some(("below", _)) => edge == "foot",
            Some(("follows", _)) => edge != "head",
            Some(_) => false,
        };
        let Some(found) = self.box_of(id).filter(|_| !is_open) else {
            let mut written = self.group().clone();
            written.put(&below(&at, &["edges", edge]), Node::Text(text.to_owned()));
            return self.of(written);
        };
        let (face, Rect { x, y, .. }) = (self.layout().edges, found.rect);
        let (right, foot) = (found.rect.right(), found.rect.foot());
        let rect = match edge {
            "head" => Rect { y: distance, height: foot - distance, ..found.rect },
            "foot" => Rect { height: face.height - distance - y, ..found.rect },
            edge if self.is_left(edge) => Rect { x: distance, width: right - distance, ..found.rect },
            _ => Rect { width: face.width - distance - x, ..found.rect },
        };
        self.by_edges(id, rect)
    }

    /// The panel with a place that no other gives any more: all its edges are its own.
    fn by_edges(&self, id: BoxId, rect: Rect) -> Result<Self, String> {
        let (at, mut written) = (item(id), self.group().clone());
        let related = self.related(&at);
        for key in RELATIONS.into_iter().chain(["space"]) {
            written.remove(&below(&at, &[key]));
        }
        if related.is_some_and(|(relation, _)| relation == "above")
            && text_at(&written, &below(&at, &["stack"])).is_none()
        {
            written.put(&below(&at, &["stack"]), Node::Text(STACKS[2].to_owned()));
        }
        for edge in self.edges_of_face() {
            self.put_distance(&mut written, &below(&at, &["edges", edge]), self.distance(&rect, edge));
        }
        self.of(written)
    }

    /// The panel with a box moved or sized, written in the form in which the brief gives it.
    ///
    /// # Errors
    ///
    /// Why the panel cannot be so, without a full stop.
    pub fn with_box(&self, id: BoxId, rect: Rect) -> Result<Self, String> {
        let Some(found) = self.box_of(id).filter(|found| found.rect != rect) else { return Ok(self.clone()) };
        if self.holds_by_itself() && matches!(id, BoxId::Place(_)) {
            // What a flap holds by itself gets a place first, whose edges can then be its own.
            return self.with_places().with_box(id, rect);
        }
        let (at, mut written) = (item(id), self.group().clone());
        let has = |key: &str| self.group().at(&below(&at, &[key])).is_some();
        // A box that is given by its edges: those that did not move stay as the author wrote them.
        if !has("size") && !has("barcode") {
            if self.related(&at).is_some() {
                return self.by_edges(id, rect);
            }
            for edge in self
                .edges_of_face()
                .into_iter()
                .filter(|edge| self.distance(&rect, edge) != self.distance(&found.rect, edge))
            {
                self.put_distance(&mut written, &below(&at, &["edges", edge]), self.distance(&rect, edge));
            }
            return self.of(written);
        }
        // A box that is given by its size: the size comes first, then where it stands.
        if (rect.width, rect.height) != (found.rect.width, found.rect.height) {
            if has("barcode") {
                return Err("a barcode's size follows from its scale".to_owned());
            }
            let own = word_at(self.group(), &below(&at, &["size"]));
            let unit = own.as_deref().and_then(Unit::of).unwrap_or_else(|| self.unit());
            let new = size(Size { width: rect.width, height: rect.height }, unit);
            written.put(&below(&at, &["size"]), Node::Text(new));
            // In its corner the box may be where it is wanted already.
            let sized = self.of(written.clone());
            if has("corner") && sized.as_ref().is_ok_and(|sized| sized.box_of(id).is_some_and(|it| it.rect == rect)) {
                return sized;
            }
        }
        // Out of its corner, a box is given by its distance from two edges: those of the brief, or else the nearest.
        written.remove(&below(&at, &["corner"]));
        let nearer = |one: &'static str, other: &'static str| {
            let is_given = |edge: &str| self.group().at(&below(&at, &["at", edge])).is_some();
            let is_near = self.distance(&rect, one) <= self.distance(&rect, other);
            if is_given(one) || is_near && !is_given(other) { one } else { other }
        };
        let [head, foot, left, right] = self.edges_of_face();
        for edge in [nearer(head, foot), nearer(right, left)] {
            self.put_distance(&mut written, &below(&at, &["at", edge]), self.distance(&rect, edge));
        }
        self.of(written)
    }

    /// Writes a distance in the unit that the brief has at its place, or else in that of the face.
    fn put_distance(&self, written: &mut Node, path: &[YamlStep], distance: Length) {
        let own = word_at(self.group(), path);
        let unit = own.as_deref().and_then(Unit::of);
        let text = unit.map_or_else(|| self.suited(distance), |unit| unit.suiting(distance).written(distance));
        if own.as_deref().map(lengths::length) != Some(Ok(distance)) {
            written.put(path, Node::Text(text));
        }
    }

    /// The panel without a box.
    ///
    /// # Errors
    ///
    /// Why the panel cannot be so, without a full stop: another place stands by it.
    pub fn without_box(&self, id: BoxId) -> Result<Self, String> {
        let (at, mut written) = (item(id), self.group().clone());
        if self.holds_by_itself() && matches!(id, BoxId::Place(_)) {
            HELD.iter().for_each(|key| written.remove(&steps(&[key])));
            return self.of(written);
        }
        written.remove(&at);
        // A list of nothing is not written.
        if written.at(&at[..1]) == Some(&Node::List(Vec::new())) {
            written.remove(&at[..1]);
        }
        self.of(written)
    }

    /// Where a place for some blocks goes that are `depth` deep in lines of a width, and whose lines are as high as
    /// `line` at the most: each position that has room, in words, with the panel that has the place.
    pub fn positions(&self, holds: &str, depth: &dyn Fn(Length) -> Length, line: Length) -> Vec<(String, Self)> {
        let mut found = self.across(depth(self.layout().live.width).max(line), line);
        found.extend(self.by_barcode(depth, line));
        let panel = |(words, keys): (String, Node)| {
            let mut new = Node::Null;
            new.put(&steps(&["name"]), Node::Text(self.free_name(holds)));
            new.put(&steps(&["holds"]), Node::Text(holds.to_owned()));
            if let Node::Map(entries) = keys {
                entries.into_iter().for_each(|(key, node)| new.put(&steps(&[&key]), node));
            }
            let panel = self.with_item("places", new).ok()?;
            let rect = panel.places().last()?.1.bounds;
            (line.fits(rect.height) && (line * LEAST_LINES_WIDE).fits(rect.width)).then_some((words, panel))
        };
        let mut positions: Vec<(String, Self)> = found.into_iter().filter_map(panel).collect();
        positions.dedup_by(|next, first| next.1.is_as(&first.1));
        positions
    }

    /// The positions of a place across the whole live area, with the keys that give each.
    fn across(&self, depth: Length, line: Length) -> Vec<(String, Node)> {
        let FaceLayout { live, edges: face, places, .. } = self.layout();
        let taken: Vec<Rect> = places.iter().map(|place| place.bounds).collect();
        let gaps = gaps(&taken, live, line);
        let deep = |(from, to): (Length, Length)| depth.min(to - from);
        // The foot of a place rounded down to a step, so that none of its room is lost.
        let foot = |foot: Length| face.height - self.down(face.height - foot);
        let at_head = gaps.first().map(|gap| (gap.0, foot(gap.0 + deep(*gap)).min(gap.1)));
        let middle = live.y + live.height / 2;
        let in_middle = gaps.iter().find(|(from, to)| *from <= middle && middle <= *to).map(|gap| {
            let from = self.down((middle - deep(*gap) / 2).min(gap.1 - deep(*gap))).max(gap.0);
            (from, foot(from + deep(*gap)).min(gap.1))
        });
        let at_foot = gaps.last().map(|gap| (self.down(gap.1 - deep(*gap)).max(gap.0), gap.1));
        let keys = |(from, to): (Length, Length)| {
            let mut keys = Node::Null;
            let mut put = |edge, distance| keys.put(&steps(&["edges", edge]), Node::Text(self.suited(distance)));
            // An edge that is left out is the live area's; one at least is written, so that the place has a position.
            if from > live.y {
                put("head", from);
            }
            if to < live.foot() || from <= live.y {
                put("foot", face.height - to);
            }
            keys
        };
        let all = [("at the head", at_head), ("in the middle", in_middle), ("at the foot", at_foot)];
        all.into_iter().filter_map(|(words, found)| Some((words.to_owned(), keys(found?)))).collect()
    }

    /// The positions of a place by the barcode, with the keys that give each.
    fn by_barcode(&self, depth: &dyn Fn(Length) -> Length, line: Length) -> Vec<(String, Node)> {
        let mut found = Vec::new();
        let Some(symbol) = self.keep_outs().find(|out| out.origin == KeepOutOrigin::Symbol) else { return found };
        let by = |relation| {
            let mut keys = Node::Null;
            keys.put(&steps(&[relation]), Node::Text(symbol.name.clone()));
            keys
        };
        found.push((format!("beside the {}", symbol.name), by("beside")));
        let FaceLayout { live: Rect { y: head, .. }, places, .. } = self.layout();
        let column = Rect { y: head, height: symbol.cleared().y - head, ..symbol.rect };
        let over = places.iter().map(|place| place.bounds).filter(|place| place.overlaps(&column));
        let (from, to) = (over.map(|place| place.foot()).max().unwrap_or(head), column.foot());
        if line.fits(to - from) {
            let high = depth(column.width).max(line).min(to - from);
            let mut keys = by("above");
            let head = self.suited(self.down(to - high).max(from));
            keys.put(&steps(&["edges", "head"]), Node::Text(head));
            found.push((format!("above the {}", symbol.name), keys));
        }
        found
    }

    /// Where a keep-out goes: each corner that is free, with the panel that has it there; `barcode` for a barcode, or
    /// else a mark of the author's.
    pub fn corners(&self, barcode: bool) -> Vec<(String, Self)> {
        let side = self.rounded(Length::mm(USUAL_MARK_MM));
        let panel = |corner: &'static str| {
            let mut new = Node::Null;
            let mut put = |key: &str, text: String| new.put(&steps(&[key]), Node::Text(text));
            if barcode {
                put("barcode", "EAN-13".to_owned());
            } else {
                put("name", self.free_name("mark"));
                put("size", size(Size { width: side, height: side }, self.unit()));
            }
            put("corner", corner.to_owned());
            let panel = self.with_item("keep_out", new).ok()?;
            let new = panel.keep_outs().last()?.cleared();
            let is_free = self.keep_outs().all(|out| !out.cleared().overlaps(&new));
            is_free.then(|| (format!("in the corner {corner}"), panel))
        };
        self.layout().face.corners().into_iter().filter_map(panel).collect()
    }

    /// Whether a barcode stands on any face.
    pub fn has_barcode(&self) -> bool {
        let on_flaps = self.flaps.iter().flat_map(|flap| &flap.keep_outs);
        self.panel.keep_outs.iter().chain(on_flaps).any(|out| out.origin == KeepOutOrigin::Symbol)
    }

    fn with_item(&self, key: &str, new: Node) -> Result<Self, String> {
        let mut written = self.group().clone();
        let count = match written.at(&steps(&[key])) {
            Some(Node::List(items)) => items.len(),
            _ => 0,
        };
        written.put(&[YamlStep::Key(key.to_owned()), YamlStep::Item(count)], new);
        self.of(written)
    }

    /// A name that no other box has, on whatever face.
    fn free_name(&self, wanted: &str) -> String {
        let parts = self.parts().into_iter();
        let boxes: Vec<PanelBox> = parts.flat_map(|part| self.clone().with_part(part).boxes()).collect();
        let numbered = (2..).map(|number| format!("{wanted} {number}"));
        let mut names = std::iter::once(wanted.to_owned()).chain(numbered);
        names.find(|name| boxes.iter().all(|other| other.name != *name)).unwrap_or_default()
    }
}

/// The stretches down an area that boxes leave over its whole width, at least as high as a line.
fn gaps(taken: &[Rect], area: Rect, line: Length) -> Vec<(Length, Length)> {
    let mut taken: Vec<(Length, Length)> = taken.iter().map(|rect| (rect.y, rect.foot())).collect();
    taken.push((area.foot(), area.foot()));
    taken.sort();
    let (mut from, mut gaps) = (area.y, Vec::new());
    for (head, foot) in taken {
        if line.fits(head.min(area.foot()) - from) {
            gaps.push((from, head.min(area.foot())));
        }
        from = from.max(foot);
    }
    gaps
}

/// Where the brief has a box, from the group `panel` on.
fn item(id: BoxId) -> Vec<YamlStep> {
    let (key, number) = match id {
        BoxId::KeepOut(number) => ("keep_out", number),
        BoxId::Place(number) => ("places", number),
    };
    vec![YamlStep::Key(key.to_owned()), YamlStep::Item(number)]
}

fn below(path: &[YamlStep], keys: &[&str]) -> Vec<YamlStep> {
    path.iter().cloned().chain(steps(keys)).collect()
}

/// A word or a number as the brief has it.
fn word_at(node: &Node, path: &[YamlStep]) -> Option<String> {
    match node.at(path)? {
        Node::Number(number) => Some(number.to_string()),
        _ => text_at(node, path),
    }
}

/// Gives a place another name, also where other places are given by it.
fn rename(written: &mut Node, path: &[YamlStep], name: &str) {
    let old = word_at(written, path);
    let count = match written.at(&path[..1]) {
        Some(Node::List(items)) => items.len(),
        _ => 0,
    };
    for number in 0..count {
        for key in RELATIONS {
            let path = below(&item(BoxId::Place(number)), &[key]);
            if old.is_some() && word_at(written, &path) == old {
                written.put(&path, Node::Text(name.to_owned()));
            }
        }
    }
    written.put(path, Node::Text(name.to_owned()));
}
