//! What a font file says of itself: its family and style, its weight, whether it is italic, and the axes it can be
//! moved on.
//!
//! Source: OpenType specification, tables name, OS/2, head and fvar. A file that marks bold or italic in its style's
//! name alone is taken at its word.

use std::sync::Arc;

use harfrust::font::attribute::{Style, Width};
use harfrust::font::name::NameId;
use harfrust::font::{Blob, TableFunction};
use harfrust::{Font, Tag};

use crate::brief::typography::Weight;
use crate::draft::Emphasis;

/// The axes of weight, of italics and of slant in a variable font.
///
/// Source: OpenType specification, design-variation axis tags.
pub(super) const WEIGHT_AXIS: Tag = Tag::new(b"wght");
const ITALIC_AXIS: Tag = Tag::new(b"ital");
const SLANT_AXIS: Tag = Tag::new(b"slnt");

/// The font tables that the naming is read from.
pub const TABLES: [&[u8; 4]; 4] = [b"name", b"OS/2", b"head", b"fvar"];

/// How far the weight of an italic may be from that of its roman: a step of the OpenType scale.
const NEAR: f32 = 100.0;

/// From this weight on, semibold, a face is bold beside a regular one.
const BOLD_FROM: f32 = 600.0;

/// A longer name is cut: it stands in the midst of a sentence.
const LONGEST_NAME: usize = 80;

/// What a font file says of itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Naming {
    /// The family; empty where the file has no name.
    pub family: String,
    /// The style in the family: `Regular`, `Bold Italic`.
    pub style: String,
    weight: f32,
    width: Width,
    italic: bool,
    weights: Option<(f32, f32)>,
    italic_axis: Option<(Tag, f32)>,
}

impl Naming {
    /// Reads what a font says of itself from its single tables; `table` gives none for a table that is missing.
    pub fn read(table: impl Fn(&[u8; 4]) -> Option<Vec<u8>> + Send + Sync + 'static) -> Option<Self> {
        let tables = TableFunction::new(Arc::new(move |tag: Tag| table(&tag.to_be_bytes()).map(Blob::from)));
        Font::new(tables, 0).map(|font| Self::of(&font))
    }

    pub(super) fn of(font: &Font) -> Self {
        let name = |id: NameId| {
            let name = font.names().get(id)?.english_or_first()?.name().to_string();
            let name: String = name.trim().chars().take(LONGEST_NAME).collect();
            (!name.is_empty()).then_some(name)
        };
        let of_four = name(NameId::SUBFAMILY_NAME).unwrap_or_default();
        let attributes = font.default_attributes();
        let weight = attributes.weight.value();
        let is_called = |word: &str| of_four.to_lowercase().contains(word);
        let axis = |tag| font.axes().get_by_tag(tag);
        let upright = axis(ITALIC_AXIS).map(|axis| (ITALIC_AXIS, axis.max_value()));
        // A slant is written in degrees counter-clockwise, so letters that lean forward have a negative slant.
        let slanted = || axis(SLANT_AXIS).map(|axis| (SLANT_AXIS, axis.min_value())).filter(|(_, slant)| *slant < 0.0);
        Self {
            family: name(NameId::TYPOGRAPHIC_FAMILY_NAME).or_else(|| name(NameId::FAMILY_NAME)).unwrap_or_default(),
            style: name(NameId::TYPOGRAPHIC_SUBFAMILY_NAME).unwrap_or_else(|| of_four.clone()),
            weight: if is_called("bold") && weight < BOLD_FROM { f32::from(Weight::BOLD.number()) } else { weight },
            width: attributes.width,
            italic: attributes.style != Style::Normal || is_called("italic") || is_called("oblique"),
            weights: axis(WEIGHT_AXIS).map(|axis| (axis.min_value(), axis.max_value())),
            italic_axis: upright.or_else(slanted),
        }
    }

    /// The family and the style; for a font with a weight axis the family alone, or with `Italic`, since the weight is
    /// printed beside it.
    pub fn full(&self) -> String {
        match self.weights {
            Some(_) if self.italic => format!("{} Italic", self.family),
            Some(_) => self.family.clone(),
            None => format!("{} {}", self.family, self.style).trim_end().to_owned(),
        }
    }

    /// The lightest and the heaviest weight of a variable font; none where it has one weight.
    pub fn weights(&self) -> Option<(f32, f32)> {
        self.weights
    }

    /// The axis on which a variable font becomes italic, and the value at which it does.
    pub(super) fn italic_axis(&self) -> Option<(Tag, f32)> {
        self.italic_axis
    }

    /// How far the weight of a file with this naming is from that of the face that `emphasis` asks for in the family of
    /// `own` set at `weight`; none where the file cannot be that face.
    ///
    /// An italic has about the weight of its roman. A bold face is semibold at least and heavier than the plain face,
    /// unless that is bold already.
    pub fn distance(&self, own: &Self, weight: Weight, emphasis: Emphasis) -> Option<f32> {
        let is_of_family = !self.family.is_empty() && self.family.to_lowercase() == own.family.to_lowercase();
        let italic = own.italic || emphasis.italic;
        let can_be = self.italic == italic || italic && self.italic_axis.is_some();
        if (!is_of_family && self != own) || self.width != own.width || !can_be {
            return None;
        }
        let plain = own.nearest(f32::from(weight.number()));
        if !emphasis.bold {
            let off = (self.nearest(plain) - plain).abs();
            return (off <= NEAR).then_some(off);
        }
        let wanted = plain.max(f32::from(Weight::BOLD.number()));
        let heavy = self.nearest(wanted);
        let is_bold = heavy >= BOLD_FROM && (heavy > plain || heavy >= wanted);
        is_bold.then_some((heavy - wanted).abs())
    }

    /// The file's own weight or, in a variable font, the nearest to `weight` that its axis has.
    fn nearest(&self, weight: f32) -> f32 {
        self.weights.map_or(self.weight, |(least, most)| weight.max(least).min(most))
    }
}
