//! The faces that a brief's type asks for, the built-in ones among them.

use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use super::face::Face;
use crate::brief::typography::Font;
use crate::draft::Emphasis;

/// Regular, bold, italic, bold italic.
type BuiltIn = [LazyLock<Face>; 4];

macro_rules! built_in {
    ($family:literal) => {
        [
            LazyLock::new(|| Face::built_in(include_bytes!(concat!("../fonts/", $family, "-Regular.ttf")))),
            LazyLock::new(|| Face::built_in(include_bytes!(concat!("../fonts/", $family, "-Bold.ttf")))),
            LazyLock::new(|| Face::built_in(include_bytes!(concat!("../fonts/", $family, "-Italic.ttf")))),
            LazyLock::new(|| Face::built_in(include_bytes!(concat!("../fonts/", $family, "-BoldItalic.ttf")))),
        ]
    };
}

/// Crimson Pro, under the SIL Open Font License (src/fonts/CrimsonPro-OFL.txt).
static SERIF: BuiltIn = built_in!("CrimsonPro");

/// Nunito, under the SIL Open Font License (src/fonts/Nunito-OFL.txt).
static SANS: BuiltIn = built_in!("Nunito");

/// Every face that a setting may need: the built-in families, and those read from files.
#[derive(Debug, Default)]
pub struct Faces {
    files: Vec<(PathBuf, Face)>,
}

/// The faces of one font.
#[derive(Clone, Copy)]
pub struct Family<'a>(Source<'a>);

#[derive(Clone, Copy)]
enum Source<'a> {
    BuiltIn(&'static BuiltIn),
    File(&'a Face),
}

impl Faces {
    /// The built-in families alone.
    pub fn built_in() -> Self {
        Self::default()
    }

    /// Adds the face read from a font file, under the path by which the brief names it.
    pub fn add(&mut self, path: PathBuf, face: Face) {
        self.files.push((path, face));
    }

    /// Adds every face of another brief that is not there yet.
    pub fn join(&mut self, others: Self) {
        for (path, face) in others.files {
            if !self.has(&path) {
                self.add(path, face);
            }
        }
    }

    /// Whether the file at this path has been added.
    pub fn has(&self, path: &Path) -> bool {
        self.files.iter().any(|(known, _)| known == path)
    }

    /// The family of a font. A file that was never added has the built-in serif in its stead.
    pub fn family(&self, font: &Font) -> Family<'_> {
        Family(match font {
            Font::Serif => Source::BuiltIn(&SERIF),
            Font::Sans => Source::BuiltIn(&SANS),
            Font::File(path) => match self.files.iter().find(|(known, _)| known == path) {
                Some((_, face)) => Source::File(face),
                None => Source::BuiltIn(&SERIF),
            },
        })
    }
}

impl<'a> Family<'a> {
    /// The face for an emphasis. A font file is one face, in which bold and italic are set too.
    pub fn face(self, emphasis: Emphasis) -> &'a Face {
        match self.0 {
            Source::BuiltIn(faces) => &faces[usize::from(emphasis.bold) + 2 * usize::from(emphasis.italic)],
            Source::File(face) => face,
        }
    }
}
