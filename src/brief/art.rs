//! The art behind the copy of a face, and the tint laid over it, as a brief writes them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::bounds;
use super::colour::Colour;
use super::nodes::{KeyGroup, NodeAt, Refusal};
use super::yaml::{self, Node, YamlStep};
use crate::artwork::ArtFile;
use crate::units::Length;

/// A picture on a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Art {
    /// The picture.
    pub picture: ArtPicture,
    /// How far the picture goes.
    pub placed: ArtExtent,
    /// What the picture is to the face.
    pub kind: ArtKind,
}

/// A picture by the name of its file.
#[derive(Debug, Clone, PartialEq)]
pub struct ArtPicture {
    /// The file as the brief names it, from the brief's folder.
    pub file: PathBuf,
    /// What is in the file, once it has been read; nothing is known of the art until then.
    pub read: Option<Arc<ArtFile>>,
}

/// How far art goes on a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ArtExtent {
    /// Past the face's edges as far as the bleed, or round the boards of a case.
    #[default]
    Bleed,
    /// Up to the face's edges.
    Trim,
}

/// What art is to a face.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum ArtKind {
    /// A picture of its own over the whole face.
    #[default]
    Scene,
    /// A picture that runs on from the front cover round the spine.
    Round(RoundArt),
    /// Drawings on plain paper.
    Spot,
}

/// In which files a picture is that runs round the cover.
#[derive(Debug, Clone, PartialEq)]
pub enum RoundArt {
    /// One file has the back panel at its left, a spine of a width, and the front cover at its right.
    Whole {
        /// The width of the spine in it.
        spine: Length,
    },
    /// The back panel has its file, and the front cover another, which meets it at the spine.
    Apart {
        /// The picture of the front cover.
        front: ArtPicture,
    },
}

/// A colour laid over the art behind copy, so that the copy can be read. Where copy stands in a place that has a shape,
/// the tint fills the shape; else it is a box that goes a little past the lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tint {
    /// The colour.
    pub colour: Colour,
    /// How much of the art the tint hides, from 0, nothing, to 1, all.
    pub opacity: f64,
    /// How far the box goes past the lines on each side.
    pub pad: Length,
}

const KEYS: [&str; 5] = ["file", "placed", "kind", "spine", "front"];
const TINT_KEYS: [&str; 3] = ["colour", "opacity", "pad"];
const EXTENTS: [(&str, ArtExtent); 2] = [("bleed", ArtExtent::Bleed), ("trim", ArtExtent::Trim)];

/// What a brief calls the kinds of art.
#[derive(Clone, Copy, PartialEq, Eq)]
enum KindName {
    Scene,
    Round,
    Spot,
}

const KINDS: [(&str, KindName); 3] = [("scene", KindName::Scene), ("round", KindName::Round), ("spot", KindName::Spot)];

/// Common practice: half a pica between a panel of tint and its letters.
const USUAL_PAD_PT: f64 = 6.0;

/// The words that a key of a piece of art may have, where it has one of a few: `bleed`, `trim`.
pub fn words_of_art(key: &str) -> Vec<&'static str> {
    match key {
        "placed" => EXTENTS.map(|(word, _)| word).to_vec(),
        "kind" => KINDS.map(|(word, _)| word).to_vec(),
        _ => Vec::new(),
    }
}

impl ArtExtent {
    /// The extent as a brief writes it.
    pub fn name(self) -> &'static str {
        EXTENTS.iter().find(|(_, extent)| *extent == self).map_or("", |(name, _)| *name)
    }
}

impl ArtKind {
    /// The kind as a brief writes it.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Scene => "scene",
            Self::Round(_) => "round",
            Self::Spot => "spot",
        }
    }
}

impl Art {
    /// Reads the art of a face: a file alone, or a file with how it is placed and what it is.
    pub(super) fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        if !value.is_map() {
            return Ok(Self { picture: picture(value)?, placed: ArtExtent::default(), kind: ArtKind::default() });
        }
        let fields = value.fields(&KEYS)?;
        let picture = picture(&fields.required("file", "such as file: art/back.jpg")?)?;
        let placed = fields.optional("placed").map_or(Ok(ArtExtent::default()), |value| value.choice(&EXTENTS))?;
        let kind = fields.optional("kind").map_or(Ok(KindName::Scene), |value| value.choice(&KINDS))?;
        let runs_on = (fields.optional("spine"), fields.optional("front"));
        let kind = match (kind, runs_on) {
            (KindName::Scene, (None, None)) => ArtKind::Scene,
            (KindName::Spot, (None, None)) => ArtKind::Spot,
            (KindName::Round, (Some(spine), None)) => {
                ArtKind::Round(RoundArt::Whole { spine: spine.length(bounds::SPINE)? })
            }
            (KindName::Round, (None, Some(front))) => ArtKind::Round(RoundArt::Apart { front: self::picture(&front)? }),
            (KindName::Round, (None, None)) => {
                return Err(value.refuse(
                    "art that runs round the spine is in one file or in two; write spine: 9 mm, the width of the spine \
                     in the file of the whole cover, or front: FILE, the file of the front cover",
                ));
            }
            (KindName::Round, (Some(_), Some(front))) => {
                return Err(
                    front.refuse("art that runs round is in one file or in two; leave one of spine and front out")
                );
            }
            (_, (Some(other), _) | (None, Some(other))) => {
                return Err(
                    other.refuse("only art that runs round the spine has this; write kind: round, or leave it out")
                );
            }
        };
        Ok(Self { picture, placed, kind })
    }

    /// Reads the art of a place, which fills the place: a file alone.
    pub(super) fn of_place(value: &NodeAt<'_>, follows: bool) -> Result<Self, Refusal> {
        if follows {
            return Err(value.refuse(
                "where a place begins that follows another is known only with the copy, so it has no art of its own; \
                 leave this out, or give the place a position",
            ));
        }
        let file = if value.is_map() {
            value.fields(&["file"])?.required("file", "such as file: art/bubble.png")?
        } else {
            *value
        };
        Ok(Self { picture: picture(&file)?, placed: ArtExtent::Trim, kind: ArtKind::Scene })
    }

    /// The pictures that the art is made of: its own, and that of the front cover where it is in a file by itself.
    pub fn pictures(&self) -> impl Iterator<Item = &ArtPicture> {
        let front = match &self.kind {
            ArtKind::Round(RoundArt::Apart { front }) => Some(front),
            _ => None,
        };
        std::iter::once(&self.picture).chain(front)
    }

    /// The pictures that the art is made of, to be filled in.
    pub fn pictures_mut(&mut self) -> impl Iterator<Item = &mut ArtPicture> {
        let front = match &mut self.kind {
            ArtKind::Round(RoundArt::Apart { front }) => Some(front),
            _ => None,
        };
        std::iter::once(&mut self.picture).chain(front)
    }

    /// Fills in what is in a file of art, wherever this art names it. Returns whether that was not known before.
    pub fn fill_in(&mut self, file: &Path, read: &Arc<ArtFile>) -> bool {
        let is_known = |picture: &ArtPicture| picture.read.as_ref().is_some_and(|known| Arc::ptr_eq(known, read));
        let named = self.pictures_mut().filter(|picture| picture.file == file && !is_known(picture));
        named.map(|picture| picture.read = Some(Arc::clone(read))).count() > 0
    }

    /// Takes over what is known of the files from other art of the book.
    pub(super) fn take_pictures<'a>(&mut self, known: impl Iterator<Item = &'a Self>) {
        let known: Vec<&ArtPicture> = known.flat_map(Self::pictures).collect();
        for picture in self.pictures_mut() {
            picture.read = known.iter().find(|read| read.file == picture.file).and_then(|read| read.read.clone());
        }
    }
}

/// The picture in a file; what is in it is told when it is read.
fn picture(value: &NodeAt<'_>) -> Result<ArtPicture, Refusal> {
    Ok(ArtPicture { file: PathBuf::from(value.text()?), read: None })
}

/// The line and the column at which a brief names a file of art; none where it does not.
pub fn place_of_art(text: &str, file: &Path) -> Option<(usize, usize)> {
    let root = yaml::parse(text).ok()?;
    let key = |key: &str| YamlStep::Key(key.to_owned());
    let faces = ["panel", "front_flap", "back_flap"].into_iter().map(key);
    let ways = faces.flat_map(|face| {
        let places = match root.at(&[face.clone(), key("places")]) {
            Some(Node::List(places)) => places.len(),
            _ => 0,
        };
        let place = |number| vec![face.clone(), key("places"), YamlStep::Item(number), key("art")];
        let arts: Vec<Vec<YamlStep>> =
            std::iter::once(vec![face.clone(), key("art")]).chain((0..places).map(place)).collect();
        arts.into_iter().flat_map(|art| {
            let inside = ["file", "front"].map(|name| [&art[..], &[key(name)]].concat());
            std::iter::once(art).chain(inside)
        })
    });
    let names = |way: &Vec<YamlStep>| match root.at(way) {
        Some(Node::Text(text)) => Path::new(text.trim()) == file,
        _ => false,
    };
    { ways }.find(names).and_then(|way| yaml::locate(text, &way))
}

impl Tint {
    /// Reads the tint of a face or a place.
    pub(super) fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        let fields = value.fields(&TINT_KEYS)?;
        let colour = Colour::read(&fields, "colour")?.unwrap_or(Colour::White);
        let opacity = fields.required("opacity", "such as opacity: 30%")?.percent(bounds::TINT_PERCENT)? / 100.0;
        let pad = fields.optional("pad").map_or(Ok(Length::pt(USUAL_PAD_PT)), |value| value.length(bounds::ROOM))?;
        Ok(Self { colour, opacity, pad })
    }

    /// Reads the tint of a group of keys, where it has one.
    pub(super) fn of(fields: &KeyGroup<'_>) -> Result<Option<Self>, Refusal> {
        fields.optional("tint").map(|value| Self::read(&value)).transpose()
    }
}
