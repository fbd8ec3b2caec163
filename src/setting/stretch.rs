//! A built-in face whose widths are stretched to stand in for a font that is not at hand.

use std::sync::LazyLock;

use harfrust::{Buffer, Script};

use super::built_in::BuiltIn;
use super::face::Face;
use super::shaping::Glyph;
use crate::brief::typography::StandIn;
use crate::draft::Emphasis;
use crate::units::Em;

/// How much wider copy comes out than the ratio of the two alphabets suggests, in ten thousandths.
///
/// Source: tests/data/alphabets.tsv, 26 fonts and 13 paragraphs set by HarfBuzz. An alphabet gives rare letters the
/// same weight as common ones; with this factor the copy is at most [`MOST_OFF`] too long or too short, fonts for
/// typewriters apart.
pub const ALPHABET_TO_COPY: i64 = 10_215;

/// By how many hundredths of its length a line may come out longer or shorter than in the font that is stood in for.
pub const MOST_OFF: u32 = 4;

const ALPHABET: &str = "abcdefghijklmnopqrstuvwxyz";

static SERIF_ALPHABET: LazyLock<Em> = LazyLock::new(|| {
    let mut glyphs = Vec::new();
    let face = BuiltIn::Serif.face(Emphasis::default());
    face.shape(ALPHABET, Script::LATIN, 0, &mut Buffer::new(), &mut glyphs);
    glyphs.iter().map(|glyph| glyph.advance).sum()
});

/// What every width of a face is multiplied by, as one width over another.
#[derive(Debug, Clone, Copy)]
pub struct WidthFactor {
    part: Em,
    of: Em,
}

impl WidthFactor {
    /// The factor that makes the built-in serif as wide as the font that it stands in for.
    pub(super) fn of(stand_in: &StandIn) -> Self {
        let alphabet = Em::filling(stand_in.alphabet, stand_in.at);
        Self { part: alphabet * ALPHABET_TO_COPY / 10_000, of: *SERIF_ALPHABET }
    }

    /// The ratio as a number.
    pub fn to_f64(self) -> f64 {
        self.part.to_f64() / self.of.to_f64()
    }

    fn apply(self, glyph: &mut Glyph) {
        glyph.advance = glyph.advance.scaled(self.part, self.of);
        glyph.x_offset = glyph.x_offset.scaled(self.part, self.of);
    }
}

/// A face, with the factor that stretches its widths where it stands in for a font.
#[derive(Clone, Copy)]
pub(super) struct SetFace<'a> {
    pub(super) face: &'a Face,
    pub(super) stretch: Option<WidthFactor>,
}

impl SetFace<'_> {
    /// Shapes a text as [`Face::shape`] does and stretches the widths.
    pub(super) fn shape(self, text: &str, script: Script, offset: usize, buffer: &mut Buffer, glyphs: &mut Vec<Glyph>) {
        let first = glyphs.len();
        self.face.shape(text, script, offset, buffer, glyphs);
        if let Some(stretch) = self.stretch {
            glyphs[first..].iter_mut().for_each(|glyph| stretch.apply(glyph));
        }
    }

    /// How long a text is.
    pub(super) fn width_of(self, text: &str, script: Script, buffer: &mut Buffer) -> Em {
        let mut glyphs = Vec::new();
        self.shape(text, script, 0, buffer, &mut glyphs);
        glyphs.iter().map(|glyph| glyph.advance).sum()
    }
}
