//! The families that are part of the program, read when they are first asked for.

use std::sync::LazyLock;

use super::face::Face;
use crate::brief::typography::Font;
use crate::draft::Emphasis;

/// Regular, bold, italic, bold italic.
type FourFaces = [LazyLock<Face>; 4];

macro_rules! built_in {
    ($family:literal) => {
        [
            built_in!($family, "-Regular.ttf"),
            built_in!($family, "-Bold.ttf"),
            built_in!($family, "-Italic.ttf"),
            built_in!($family, "-BoldItalic.ttf"),
        ]
    };
    ($family:literal, $style:literal) => {
        LazyLock::new(|| face_in(include_bytes!(concat!(env!("OUT_DIR"), "/", $family, $style))))
    };
}

/// The face in a font as the build script has packed it, which makes the program half a megabyte smaller.
fn face_in(packed: &[u8]) -> Face {
    Face::built_in(miniz_oxide::inflate::decompress_to_vec(packed).unwrap_or_default().leak())
}

/// Crimson Pro, under the SIL Open Font License (src/fonts/CrimsonPro-OFL.txt).
static SERIF: FourFaces = built_in!("CrimsonPro");

/// Nunito, under the SIL Open Font License (src/fonts/Nunito-OFL.txt).
static SANS: FourFaces = built_in!("Nunito");

/// A family that is part of the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BuiltIn {
    /// Crimson Pro.
    Serif,
    /// Nunito.
    Sans,
}

impl BuiltIn {
    /// The face for an emphasis.
    pub fn face(self, emphasis: Emphasis) -> &'static Face {
        let faces = match self {
            Self::Serif => &SERIF,
            Self::Sans => &SANS,
        };
        &faces[usize::from(emphasis.bold) + 2 * usize::from(emphasis.italic)]
    }

    /// The family as a brief names it.
    pub fn font(self) -> Font {
        match self {
            Self::Serif => Font::Serif,
            Self::Sans => Font::Sans,
        }
    }
}
