//! The cover beside the back panel: flaps and spine, and how a brief's groups `front_flap`, `back_flap` and `spine` are
//! read.

use std::path::Path;

use super::art::{Art, ArtKind, Tint};
use super::book::{Book, BookKind};
use super::bounds;
use super::colour::Colour;
use super::font::Font;
use super::keep_out::{self, Ground};
use super::lengths::Unit;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::panel::{self, Binding, FaceLayout, KeepOut, Panel};
use super::place::{CoverFace, Place};
use super::place_group;
use super::typography::{BlockType, Typography};
use super::yaml::Node;
use crate::draft::{BlockKind, Emphasis};
use crate::units::{Length, Rect, Size};

const KEYS: [&str; 12] =
    ["width", "margins", "holds", "align", "stack", "columns", "gutter", "places", "keep_out", "art", "tint", "ink"];

/// Common practice: copy stands 10 to 12 mm from the fold and 6 to 10 from the free edge.
const USUAL_FOLD_MM: f64 = 12.0;
const USUAL_EDGE_MM: f64 = 8.0;
const USUAL_HEAD_MM: f64 = 15.0;

/// A flap of a jacket, seen from outside. It is as high as the panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Flap {
    /// Which of the two flaps it is.
    pub face: CoverFace,
    /// The flap's own edges: from the fold to the free edge, and the panel's height.
    pub size: Size,
    /// The room between the flap's edges and its live area.
    pub margins: FlapMargins,
    /// How far art that goes to the bleed goes past the head, the foot and the free edge.
    pub bleed: Length,
    /// The art behind the copy, where the brief has some.
    pub art: Option<Art>,
    /// The tint behind all copy whose place has none of its own.
    pub tint: Option<Tint>,
    /// The ink of all copy for which neither its own type nor its place gives one.
    pub ink: Option<Colour>,
    /// Where copy may not stand.
    pub keep_outs: Vec<KeepOut>,
    /// The places of copy; one as large as the live area where the brief gives the flap only what it holds.
    pub places: Vec<Place>,
    /// The unit in which reports give the flap's width.
    pub unit: Unit,
    /// The flap's group as the file has it.
    pub written: Node,
}

/// Room along each edge of a flap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct FlapMargins {
    /// At the head.
    pub head: Length,
    /// At the foot.
    pub foot: Length,
    /// On the side where the jacket is folded round the cover.
    pub fold: Length,
    /// On the free side.
    pub edge: Length,
}

impl Flap {
    /// The flap less its margins. Seen from outside, the front flap has its fold at the left, the back flap at the
    /// right.
    pub fn live_area(&self) -> Rect {
        let FlapMargins { head, foot, fold, edge } = self.margins;
        let left = if self.face == CoverFace::FrontFlap { fold } else { edge };
        Rect { x: left, y: head, width: self.size.width - fold - edge, height: self.size.height - head - foot }
    }

    /// The flap as a face for copy.
    pub fn layout(&self) -> FaceLayout<'_> {
        FaceLayout {
            face: self.face,
            edges: self.edges(),
            live: self.live_area(),
            printed: self.art_area(),
            art: self.art.as_ref(),
            tint: self.tint,
            ink: self.ink,
            keep_outs: &self.keep_outs,
            places: &self.places,
        }
    }

    /// What art covers that goes to the bleed: at the fold it goes up to the fold, since the jacket goes on there.
    fn art_area(&self) -> Rect {
        let grown = self.edges().grown(self.bleed);
        let left = if self.face == CoverFace::FrontFlap { Length::ZERO } else { grown.x };
        Rect { x: left, width: grown.width - self.bleed, ..grown }
    }

    fn edges(&self) -> Rect {
        Rect { width: self.size.width, height: self.size.height, ..Rect::default() }
    }

    /// The flap, however its group is written.
    pub(super) fn unwritten(&self) -> Self {
        Self { written: Node::Null, ..self.clone() }
    }

    /// The flap that its group describes beside a panel of its book, with the outlines that are known of its shapes.
    pub(super) fn beside(&self, panel: &Panel, kind: BookKind) -> Result<Self, Refusal> {
        let mut flap = Self::read(&NodeAt::top(&self.written), self.face, panel, kind)?;
        panel::take_outlines(&mut flap.keep_outs, &mut flap.places, self.layout());
        panel::arts_mut(&mut flap.art, &mut flap.places).for_each(|art| art.take_pictures(self.layout().arts()));
        Ok(flap)
    }

    /// Reads the group of a flap beside a panel.
    pub(super) fn read(value: &NodeAt<'_>, face: CoverFace, panel: &Panel, kind: BookKind) -> Result<Self, Refusal> {
        let fields = value.fields(&KEYS)?;
        if panel.binding == Binding::Case {
            return Err(value.refuse("a case has no flaps; its jacket has: write binding: jacket under panel"));
        }
        if kind == BookKind::BoardBook && panel.binding == Binding::Paperback {
            return Err(value.refuse(
                "a board book has no flaps; leave this group out, or write binding: jacket under panel if the book has \
                 one",
            ));
        }
        let width_at = fields.required("width", "such as width: 90 mm")?;
        let (width, unit) = (width_at.length(bounds::TRIM)?, width_at.unit().unwrap_or(Unit::Millimetres));
        let size = Size { width, height: panel.face().height };
        if !width.fits(panel.face().width) {
            return Err(width_at.refuse(format!(
                "a flap of {} is wider than the panel of {}; make it narrower",
                unit.written(width),
                unit.written(panel.face().width)
            )));
        }
        let margins = FlapMargins::read(&fields, size, unit)?;
        let written = value.node.clone();
        let mut flap = Self {
            face,
            size,
            margins,
            bleed: panel.bleed,
            art: fields.optional("art").map(|value| read_art(&value)).transpose()?,
            tint: Tint::of(&fields)?,
            ink: Colour::read(&fields, "ink")?,
            keep_outs: Vec::new(),
            places: Vec::new(),
            unit,
            written,
        };
        // Keep-outs come before places, which may be given by them.
        let live = flap.live_area();
        let ground = Ground { face, edges: flap.edges(), live, corners: live, unit };
        for item in fields.optional("keep_out").map_or_else(|| Ok(Vec::new()), |list| list.items())? {
            flap.keep_outs.push(KeepOut::read(&item, &ground)?);
        }
        // A flap holds copy by itself, in one place as large as its live area, or in places: never both, and never
        // nothing.
        flap.places = match (fields.optional("places"), fields.has("holds")) {
            (Some(places), false) => place_group::read(&places, &ground, &flap.keep_outs)?,
            (None, true) => {
                let place = place_group::one(&fields, value, unit)?;
                keep_out::check_room(value, &flap.keep_outs, live, "the flap's live area")?;
                vec![Place { name: face.name().to_owned(), bounds: live, ..place }]
            }
            (Some(places), true) => {
                return Err(places.refuse("the flap holds copy by itself already; leave one of holds and places out"));
            }
            (None, false) => {
                return Err(value.refuse(
                    "the flap holds nothing; write holds: note on the author, or places, or leave the flap out",
                ));
            }
        };
        Ok(flap)
    }
}

/// Reads the art of a flap, which is its own: what runs round the cover is the panel's.
fn read_art(value: &NodeAt<'_>) -> Result<Art, Refusal> {
    let art = Art::read(value)?;
    if matches!(art.kind, ArtKind::Round(_)) {
        return Err(value.refuse("art that runs round the spine belongs under panel; write kind: scene or spot here"));
    }
    Ok(art)
}

impl FlapMargins {
    /// Reads one length for all edges, or a length for each edge.
    fn read(fields: &KeyGroup<'_>, size: Size, unit: Unit) -> Result<Self, Refusal> {
        let [head, fold, edge] = [USUAL_HEAD_MM, USUAL_FOLD_MM, USUAL_EDGE_MM].map(Length::mm);
        let usual = Self { head, foot: head, fold, edge };
        let Some(value) = fields.optional("margins") else { return Ok(usual) };
        let margins = if value.is_map() {
            let fields = value.fields(&["head", "foot", "fold", "edge"])?;
            let side =
                |key, usual| fields.optional(key).map_or(Ok(usual), |value: NodeAt<'_>| value.length(bounds::ROOM));
            Self {
                head: side("head", usual.head)?,
                foot: side("foot", usual.foot)?,
                fold: side("fold", usual.fold)?,
                edge: side("edge", usual.edge)?,
            }
        } else {
            let all = value.length(bounds::ROOM)?;
            Self { head: all, foot: all, fold: all, edge: all }
        };
        for (sum, whole, names) in [
            (margins.fold + margins.edge, size.width, "fold and edge"),
            (margins.head + margins.foot, size.height, "head and foot"),
        ] {
            if whole.fits(sum) {
                return Err(value.refuse(format!(
                    "the margins at {names} add up to {}, and the flap has only {}: no room is left for copy; make \
                     them smaller",
                    unit.written(sum),
                    unit.written(whole)
                )));
            }
        }
        Ok(margins)
    }
}

const SPINE_KEYS: [&str; 5] = ["width", "clear", "margins", "direction", "type"];

/// What a brief may look for on a spine and not find: it carries the title alone.
const COPY_KEYS: [&str; 3] = ["places", "holds", "keep_out"];

/// Common practice: 1.5 to 3 mm clear of either fold, since a cover is never folded quite where it should be; 30 mm at
/// the foot is where libraries put their labels.
const USUAL_CLEAR_MM: f64 = 2.0;
const USUAL_SPINE_HEAD_MM: f64 = 10.0;
const USUAL_SPINE_FOOT_MM: f64 = 30.0;
/// Common practice: 12 to 18 pt on the spine of a thin book.
const USUAL_SPINE_PT: f64 = 14.0;

/// The spine, with the book's title on it in one line. It is as high as the panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Spine {
    /// From fold to fold, as the printer gave it.
    pub width: Length,
    /// The room between either fold and the letters.
    pub clear: Length,
    /// The room between the spine's head and the title.
    pub head: Length,
    /// The room between the title and the spine's foot.
    pub foot: Length,
    /// Which way the title runs.
    pub direction: SpineDirection,
    /// The font of the title.
    pub font: Font,
    /// Which of the font's faces.
    pub emphasis: Emphasis,
    /// The size of the title.
    pub size: Length,
    /// The colour of the title.
    pub ink: Colour,
    /// The unit in which reports give the spine's lengths.
    pub unit: Unit,
    /// The spine's group as the file has it.
    pub written: Node,
}

/// Which way the title runs along the spine.
///
/// Source: ISO 6357:1985, Spine titles on books and other publications, rules where such a title stands and which way
/// it runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SpineDirection {
    /// From head to foot, so that it reads upright where the book lies with its front up: in English, Dutch and the
    /// Scandinavian languages.
    #[default]
    Descending,
    /// From foot to head, as on most of the European continent and in Latin America.
    Ascending,
}

/// Every direction with its name in a brief.
pub(super) const DIRECTIONS: [(&str, SpineDirection); 2] =
    [("descending", SpineDirection::Descending), ("ascending", SpineDirection::Ascending)];

impl SpineDirection {
    /// The direction as a brief writes it.
    pub fn name(self) -> &'static str {
        DIRECTIONS.iter().find(|(_, direction)| *direction == self).map_or("", |(name, _)| *name)
    }

    /// What lies at the left, above and at the right of a spine on which the title reads upright, as a proof tells it.
    pub fn around(self) -> [String; 3] {
        let around = match self {
            Self::Descending => ["head", "front cover side", "foot"],
            Self::Ascending => ["foot", "back cover side", "head"],
        };
        around.map(str::to_owned)
    }
}

impl Spine {
    /// The spine of a book as high as `height`, laid down so that its title reads upright: its own edges, and where the
    /// title may stand.
    pub fn lying(&self, height: Length) -> (Rect, Rect) {
        let before = match self.direction {
            SpineDirection::Descending => self.head,
            SpineDirection::Ascending => self.foot,
        };
        let edges = Rect { width: height, height: self.width, ..Rect::default() };
        let (width, height) = (height - self.head - self.foot, self.width - self.clear * 2);
        (edges, Rect { x: before, y: self.clear, width, height })
    }

    /// Reads the group of the spine beside a panel; its type follows the headline's, but for the size.
    pub(super) fn read(
        value: &NodeAt<'_>,
        (book, panel): (&Book, &Panel),
        typography: &Typography,
        folder: &Path,
    ) -> Result<Self, Refusal> {
        if let Some((_, copy)) = value.entries().unwrap_or_default().iter().find(|(key, _)| COPY_KEYS.contains(key)) {
            return Err(copy.refuse("a spine carries the title of the book and no other copy; leave this out"));
        }
        let fields = value.fields(&SPINE_KEYS)?;
        if book.title.is_empty() {
            return Err(value.refuse("the book has no title to stand on its spine; write title under book"));
        }
        let headline = typography.of(BlockKind::Headline).clone();
        let set = BlockType { size: Length::pt(USUAL_SPINE_PT), ..headline };
        let bare = Self {
            width: Length::ZERO,
            clear: Length::ZERO,
            head: Length::ZERO,
            foot: Length::ZERO,
            direction: SpineDirection::default(),
            font: set.font.clone(),
            emphasis: set.emphasis(),
            size: set.size,
            ink: set.ink,
            unit: Unit::Millimetres,
            written: value.node.clone(),
        };
        let spine = bare.with_figures((value, &fields), panel)?;
        let set = fields.optional("type").map_or(Ok(set.clone()), |value| set.for_one_line(&value, book, folder))?;
        Ok(Self { emphasis: set.emphasis(), font: set.font, size: set.size, ink: set.ink, ..spine })
    }

    /// The spine, however its group is written.
    pub(super) fn unwritten(&self) -> Self {
        Self { written: Node::Null, ..self.clone() }
    }

    /// The spine that its group describes beside a panel of its book; its type stays.
    pub(super) fn beside(self, panel: &Panel) -> Result<Self, Refusal> {
        let written = self.written.clone();
        let value = NodeAt::top(&written);
        let fields = value.fields(&SPINE_KEYS)?;
        self.with_figures((&value, &fields), panel)
    }

    /// The spine with the width, margins and direction of its group.
    fn with_figures(self, (value, fields): (&NodeAt<'_>, &KeyGroup<'_>), panel: &Panel) -> Result<Self, Refusal> {
        let width_at = fields.required("width", "such as width: 9 mm, as the printer gives it")?;
        let (width, unit) = (width_at.length(bounds::SPINE)?, width_at.unit().unwrap_or(Unit::Millimetres));
        let clear = fields.optional("clear").map_or(Ok(Length::mm(USUAL_CLEAR_MM)), |it| it.length(bounds::ROOM))?;
        if width.fits(clear * 2) {
            return Err(value.refuse(format!(
                "a spine of {} with {} clear of either fold has no room for letters; make clear smaller, or leave the \
                 spine out",
                unit.written(width),
                unit.written(clear)
            )));
        }
        let (head, foot) = spine_margins((value, fields), panel.face().height, unit)?;
        let direction =
            fields.optional("direction").map_or(Ok(SpineDirection::default()), |it| it.choice(&DIRECTIONS))?;
        Ok(Self { width, clear, head, foot, direction, unit, ..self })
    }
}

/// Reads one length for head and foot, or a length for each.
fn spine_margins(
    (group, fields): (&NodeAt<'_>, &KeyGroup<'_>),
    height: Length,
    unit: Unit,
) -> Result<(Length, Length), Refusal> {
    let usual = [USUAL_SPINE_HEAD_MM, USUAL_SPINE_FOOT_MM].map(Length::mm);
    let value = fields.optional("margins");
    let [head, foot] = match &value {
        None => usual,
        Some(value) if value.is_map() => {
            let fields = value.fields(&["head", "foot"])?;
            let end = |key, usual| fields.optional(key).map_or(Ok(usual), |it: NodeAt<'_>| it.length(bounds::ROOM));
            [end("head", usual[0])?, end("foot", usual[1])?]
        }
        Some(value) => [value.length(bounds::ROOM)?; 2],
    };
    if height.fits(head + foot) {
        return Err(value.as_ref().unwrap_or(group).refuse(format!(
            "the margins at head and foot add up to {}, and the spine has only {}: no room is left for the title; make \
             them smaller",
            unit.written(head + foot),
            unit.written(height)
        )));
    }
    Ok((head, foot))
}
