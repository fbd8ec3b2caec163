//! One face: a font file, ready for shaping.

use std::fmt;
use std::sync::OnceLock;

use harfrust::{Buffer, Font, GlyphId, Script, ShaperFont, Tag};

use super::hairline;
use super::naming::{Naming, WEIGHT_AXIS};
use super::outline::Outline;
use super::shaping::{Glyph, Shaping};
use crate::brief::typography::Weight;
use crate::units::Em;

/// A font in one weight and style.
pub struct Face {
    font: Font,
    shaping: Shaping,
    units_per_em: u16,
    ascent: Em,
    descent: Em,
    x_height: Em,
    has_serifs: bool,
    /// Kept since the outlines of letters take too long to be read for each line.
    hairline: OnceLock<Option<Em>>,
    naming: Naming,
    /// Where the face stands on the axes of a variable font.
    variations: Vec<(Tag, f32)>,
    /// Which of the first 256 characters have a glyph, since nearly all copy is made of them.
    first_glyphs: [bool; 256],
}

impl Face {
    /// Reads a TrueType or OpenType font, the first of a collection; none where the bytes are no font or have no
    /// letters.
    pub fn read(bytes: Vec<u8>) -> Option<Self> {
        Self::read_in_collection(bytes, 0)
    }

    /// Reads one font of a collection by its number, from 0; a file of a single font has no other number.
    pub fn read_in_collection(bytes: Vec<u8>, index: u32) -> Option<Self> {
        let has_serifs = has_serifs(&bytes, index).unwrap_or_default();
        Some(Self { has_serifs, ..Self::of(Font::new(bytes, index)?)? })
    }

    /// Reads one of the fonts that are built in.
    #[expect(clippy::expect_used, reason = "these fonts are part of the program, and a test reads each of them")]
    pub(super) fn built_in(bytes: &'static [u8]) -> Self {
        Font::new(bytes, 0).and_then(Self::of).expect("a built-in font can be read")
    }

    fn of(font: Font) -> Option<Self> {
        let units_per_em = font.units_per_em();
        if units_per_em == 0 || font.num_glyphs() < 2 || !font.charmap().has_unicode() {
            return None;
        }
        let metrics = font.metrics();
        let line = metrics.h_line()?.extents();
        let em = |units: f64| Em::from_units(units.round() as i32, units_per_em);
        let x_height = metrics.x_height.map_or(f64::from(units_per_em) / 2.0, |height| height.to_f64());
        let charmap = font.charmap();
        let mut first_glyphs = [false; 256];
        for (code, present) in (0_u32..).zip(first_glyphs.iter_mut()) {
            *present = charmap.map_unicode(code).is_some_and(|glyph| glyph != GlyphId::NOTDEF);
        }
        Some(Self {
            shaping: Shaping::of(&font, units_per_em),
            units_per_em,
            ascent: em(line.ascender.to_f64()),
            descent: em(line.descender.to_f64().abs()),
            x_height: em(x_height),
            has_serifs: false,
            hairline: OnceLock::new(),
            naming: Naming::of(&font),
            variations: Vec::new(),
            first_glyphs,
            font,
        })
    }

    /// The face of a variable font at a weight, or at the nearest that its axis has, and in italics where they are
    /// asked for and the font has an axis of them; none where no axis is to be moved.
    pub(super) fn at(&self, weight: Weight, italic: bool) -> Option<Self> {
        let weight = self.naming.weights().map(|(least, most)| {
            let wanted = f32::from(weight.number());
            (WEIGHT_AXIS, wanted.max(least).min(most))
        });
        let variations: Vec<_> = weight.into_iter().chain(self.naming.italic_axis().filter(|_| italic)).collect();
        if variations.is_empty() {
            return None;
        }
        let font = self.font.instance_builder().variations(variations.iter().copied()).build();
        Some(Self { has_serifs: self.has_serifs, variations, ..Self::of(font)? })
    }

    /// What the font file says of itself.
    pub fn naming(&self) -> &Naming {
        &self.naming
    }

    /// Where the face stands on the weight axis of its font; none where the font has one weight.
    pub fn weight(&self) -> Option<f32> {
        self.variations.iter().find(|(axis, _)| *axis == WEIGHT_AXIS).map(|(_, weight)| *weight)
    }

    /// How far the face reaches above the baseline, by its own table.
    pub fn ascent(&self) -> Em {
        self.ascent
    }

    /// How far the face reaches below the baseline, as a width above zero.
    pub fn descent(&self) -> Em {
        self.descent
    }

    /// The height of a lower-case x.
    pub fn x_height(&self) -> Em {
        self.x_height
    }

    /// How far the next glyph stands from a glyph by the font's own table, before kerning.
    pub fn advance(&self, id: u32) -> Em {
        Em::from_units(ShaperFont::new(&self.font).glyph_h_advance(GlyphId::new(id)), self.units_per_em)
    }

    /// The shape of a glyph; empty where nothing is drawn, as for a blank, and none where the font has no sound outline
    /// for it.
    pub fn outline(&self, id: u32) -> Option<Outline> {
        Outline::of(&self.font, GlyphId::new(id))
    }

    /// How thick the thinnest stroke of a letter is; none where the face draws none of the letters that are measured.
    pub fn hairline(&self) -> Option<Em> {
        *self.hairline.get_or_init(|| hairline::thinnest(|letter| self.outline(self.glyph(letter)?)))
    }

    /// How far the ink of a glyph reaches above the baseline, and below it as a width above zero; none where nothing is
    /// drawn, as for a blank.
    pub(super) fn ink(&self, id: u32) -> Option<(Em, Em)> {
        let extents = ShaperFont::new(&self.font).glyph_extents(GlyphId::new(id))?;
        let em = |units: i32| Em::from_units(units, self.units_per_em);
        // The height of a box goes down from its upper edge, so it is below zero.
        let foot = extents.y_bearing.saturating_add(extents.height);
        (extents.height != 0).then(|| (em(extents.y_bearing), em(foot.saturating_neg())))
    }

    /// Whether the font file says that its letters have serifs.
    pub(super) fn has_serifs(&self) -> bool {
        self.has_serifs
    }

    /// Whether the face has a glyph for this character by itself.
    pub fn shows(&self, character: char) -> bool {
        let code = u32::from(character);
        self.first_glyphs.get(code as usize).copied().unwrap_or_else(|| self.glyph_of(character))
    }

    /// Whether the face can show a letter with its marks, if need be by other glyphs than the characters have by
    /// themselves: a blank of another width, two glyphs for a letter and its mark that are one character, or none for a
    /// character that is never seen. Only shaping tells, so a text is shaped where a character has no glyph.
    pub(super) fn shows_whole(&self, cluster: &str, buffer: &mut Buffer) -> bool {
        cluster.chars().all(|character| self.shows(character)) || {
            let mut glyphs = Vec::new();
            self.shape(cluster, Script::LATIN, 0, buffer, &mut glyphs);
            glyphs.iter().all(|glyph| glyph.id != 0)
        }
    }

    fn glyph_of(&self, character: char) -> bool {
        self.glyph(character).is_some()
    }

    /// The number of the glyph that a character has by itself; none where it has none.
    pub fn glyph(&self, character: char) -> Option<u32> {
        self.font.charmap().map_unicode(character).filter(|glyph| *glyph != GlyphId::NOTDEF).map(GlyphId::to_u32)
    }

    /// Shapes `text`, one run of one script from left to right, and adds its glyphs to `glyphs` with their clusters
    /// moved on by `offset`.
    pub(super) fn shape(
        &self,
        text: &str,
        script: Script,
        offset: usize,
        buffer: &mut Buffer,
        glyphs: &mut Vec<Glyph>,
    ) {
        self.shaping.shape(text, script, offset, buffer, glyphs);
    }
}

/// What a font file says of its serifs, if it says anything.
///
/// Sources: OpenType specification, "Font Collections"; table OS/2: the serif style of a Latin text face in PANOSE,
/// where 2 to 10 have serifs and 11 to 15 have none, or else the class of its family, of which 1 to 5 and 7 have serifs
/// and 8 has none.
fn has_serifs(bytes: &[u8], index: u32) -> Option<bool> {
    const LATIN_TEXT: u8 = 2;
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?) as usize);
    // A collection begins with the offsets at which the heads of its fonts stand.
    let head = if bytes.starts_with(b"ttcf") { number(12 + 4 * index as usize)? } else { 0 };
    let tables = usize::from(u16::from_be_bytes(bytes.get(head..)?.get(4..6)?.try_into().ok()?));
    let record = (0..tables).map(|table| head + 12 + 16 * table).find(|at| bytes.get(*at..at + 4) == Some(b"OS/2"))?;
    let table = bytes.get(number(record + 8)?..)?;
    match (*table.get(32)?, *table.get(33)?, *table.get(30)?) {
        (LATIN_TEXT, 2..=10, _) => Some(true),
        (LATIN_TEXT, 11..=15, _) => Some(false),
        (_, _, 1..=5 | 7) => Some(true),
        (_, _, 8) => Some(false),
        _ => None,
    }
}

impl fmt::Debug for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Face").field("units_per_em", &self.units_per_em).finish_non_exhaustive()
    }
}
