//! All places that copy has on all faces, each with its room, and which block stands in which.

use std::sync::Arc;

use super::room::Room;
use crate::brief::Brief;
use crate::brief::cover::Flap;
use crate::brief::panel::{FaceLayout, Panel};
use crate::brief::place::{CoverFace, Follows, Held, LIVE_AREA, Place, Shape};
use crate::brief::typography::{Align, Stack};
use crate::draft::BlockKind;

/// Every place, in the order in which copy is set: a place after the one that it follows, and the live area of the
/// panel last, since its copy runs round all others.
#[derive(Debug, Clone, PartialEq)]
pub struct Rooms {
    places: Vec<PlaceRoom>,
}

/// A place with its room.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceRoom {
    /// What the author calls it; `live area` for what no place holds.
    pub name: String,
    /// The face it is on.
    pub face: CoverFace,
    /// The blocks that it holds; none for the live area.
    pub holds: Vec<Held>,
    /// The name of its form: `box`, `ellipse`, `round`, `polygon`, `outline`.
    pub shape: &'static str,
    /// Known before any copy is set; a place that follows another is given its head later.
    pub(super) room: Arc<Room>,
    /// Where lines stand in their measure, unless a block's own type says.
    pub(super) align: Option<Align>,
    /// Where the place's copy stands in it; none where the type of the copy says.
    pub(super) stack: Option<Stack>,
    /// The place whose copy this one's follows, by its number among all.
    pub(super) follows: Option<Follows>,
}

/// The rooms that were made last, with the faces whose rooms they are. With an empty memory all rooms are made; nothing
/// else changes.
#[derive(Debug, Default)]
pub struct RoomsMemory {
    last: Option<(Panel, Vec<Flap>, Arc<Rooms>)>,
}

impl Rooms {
    /// The places of a brief, as they were made last where its faces have not changed since: a traced outline is
    /// thinned, parted into slabs and measured once, and not at each key.
    pub fn of_again(brief: &Brief, memory: &mut RoomsMemory) -> Arc<Self> {
        if let Some((panel, flaps, rooms)) = &memory.last
            && *panel == brief.panel
            && *flaps == brief.flaps
        {
            return Arc::clone(rooms);
        }
        let rooms = Arc::new(Self::of(brief));
        memory.last = Some((brief.panel.clone(), brief.flaps.clone(), Arc::clone(&rooms)));
        rooms
    }

    /// The places of a brief.
    pub fn of(brief: &Brief) -> Self {
        Self::on(brief.faces())
    }

    /// The places on some faces, of which the first is the panel.
    pub fn on<'a>(faces: impl Iterator<Item = FaceLayout<'a>>) -> Self {
        let (mut places, mut live) = (Vec::new(), None);
        for face in faces {
            let first = places.len();
            places.extend(face.places.iter().map(|place| PlaceRoom::of(place, &face, first)));
            if face.face == CoverFace::Panel {
                live = Some(PlaceRoom::round_places(&face));
            }
        }
        places.extend(live);
        Self { places }
    }

    /// Every place, the live area last.
    pub fn places(&self) -> &[PlaceRoom] {
        &self.places
    }

    /// Whether the copy has other places than the live area.
    pub fn has_places(&self) -> bool {
        self.places.len() > 1
    }

    /// The place in which a block stands, by the number of its part among those of its kind, from 1. A credit stands
    /// with its quote.
    pub fn place_of(&self, kind: BlockKind, part: usize) -> usize {
        let kind = if kind == BlockKind::Credit { BlockKind::Quote } else { kind };
        let holder = |number: Option<usize>| {
            let held = Held { kind, number };
            self.places.iter().position(|place| place.holds.contains(&held))
        };
        holder(Some(part)).or_else(|| holder(None)).unwrap_or(self.places.len() - 1)
    }

    /// The place of the blurb.
    pub fn blurb(&self) -> usize {
        self.place_of(BlockKind::Blurb, 1)
    }

    /// The places whose copy begins where that of a place ends, and theirs in turn.
    pub fn followers(&self, place: usize) -> Vec<usize> {
        let mut known = vec![place];
        for (number, other) in self.places.iter().enumerate() {
            if other.follows.is_some_and(|follows| known.contains(&follows.place)) {
                known.push(number);
            }
        }
        known.split_off(1)
    }

    /// Whether the room of a place depends on what the copy of another takes.
    pub(super) fn depends(&self, place: usize) -> bool {
        let PlaceRoom { face, follows, .. } = &self.places[place];
        let is_live_area = place + 1 == self.places.len();
        let is_cut = || self.places.iter().any(|other| other.face == *face && other.follows.is_some());
        follows.is_some() || is_live_area && is_cut()
    }

    /// Whether the copy of another place begins where that of a place ends.
    pub(super) fn is_followed(&self, place: usize) -> bool {
        self.places.iter().any(|other| other.follows.is_some_and(|follows| follows.place == place))
    }
}

impl PlaceRoom {
    /// The room, as it is before any copy is set.
    pub fn room(&self) -> &Room {
        &self.room
    }

    /// A place on a face; `first` is the number of the face's first place among all.
    fn of(place: &Place, face: &FaceLayout<'_>, first: usize) -> Self {
        let room = Room::of_shape(&place.shape, place.bounds, place.inset, face.keep_outs);
        let room = room.in_columns(place.columns, place.gutter);
        Self {
            name: place.name.clone(),
            face: face.face,
            holds: place.holds.clone(),
            shape: place.shape.name(),
            room: Arc::new(room),
            align: place.align,
            stack: Some(place.stack),
            follows: place.follows.map(|follows| Follows { place: first + follows.place, ..follows }),
        }
    }

    /// What the places leave of the panel's live area. Those that follow another are left out: where they begin is not
    /// known before copy is set.
    fn round_places(face: &FaceLayout<'_>) -> Self {
        let mut room = Room::of_box(face.live, face.keep_outs);
        let (boxes, shapes): (Vec<&Place>, Vec<&Place>) =
            face.places.iter().filter(|place| place.follows.is_none()).partition(|place| place.shape == Shape::Box);
        room.keep_out_of(boxes.into_iter().map(|place| place.bounds));
        shapes.into_iter().for_each(|place| room.keep_out_of_shape(&place.shape, place.bounds));
        Self {
            name: LIVE_AREA.to_owned(),
            face: face.face,
            holds: Vec::new(),
            shape: Shape::Box.name(),
            room: Arc::new(room),
            align: None,
            stack: None,
            follows: None,
        }
    }
}
