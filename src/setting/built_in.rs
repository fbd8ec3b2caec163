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
        // As it is: to unpack a face would take as long as all the rest of a start.
        LazyLock::new(|| Face::built_in(include_bytes!(concat!("../fonts/", $family, $style))))
    };
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
