//! The faces that a brief's type asks for, the built-in ones among them, and what stands in for letters they lack.

use std::path::Path;
use std::sync::LazyLock;

use super::face::Face;
use super::shaped::Run;
use super::stretch::{SetFace, Stretch};
use crate::brief::Typography;
use crate::brief::typography::{Font, Weight};
use crate::draft::{Draft, Emphasis};

/// Regular, bold, italic, bold italic.
type FourFaces = [LazyLock<Face>; 4];

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
static SERIF: FourFaces = built_in!("CrimsonPro");

/// Nunito, under the SIL Open Font License (src/fonts/Nunito-OFL.txt).
static SANS: FourFaces = built_in!("Nunito");

/// Every face that a setting may need: the built-in families, and those read from files.
#[derive(Debug, Default)]
pub struct Faces {
    files: Vec<(Font, FileFaces)>,
}

/// The faces of one font file at one weight.
#[derive(Debug)]
struct FileFaces {
    /// At that weight, where the font has an axis of weight.
    plain: Face,
    /// Where the font is a variable one with an axis of weight.
    bold: Option<Face>,
}

/// A family that is part of the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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

/// The faces of one font.
#[derive(Clone, Copy)]
pub struct Family<'a>(Source<'a>);

#[derive(Clone, Copy)]
enum Source<'a> {
    BuiltIn(BuiltIn),
    File(&'a FileFaces),
    /// The built-in serif.
    Stretched(Stretch),
}

impl Faces {
    /// The built-in families alone.
    pub fn built_in() -> Self {
        Self::default()
    }

    /// Adds the face read from a font file for one of the fonts that a brief names. A variable font is set at the weight
    /// that is asked for, and what is bold in it at 700 or, where that is lighter, at the same.
    pub fn add(&mut self, font: Font, face: Face) {
        let weight = font.weight();
        let bold = face.at_weight(weight.max(Weight::BOLD));
        let plain = face.at_weight(weight).unwrap_or(face);
        self.files.push((font, FileFaces { plain, bold }));
    }

    /// Adds every face of another brief that is not there yet.
    pub fn join(&mut self, others: Self) {
        for (font, faces) in others.files {
            if !self.has(&font) {
                self.files.push((font, faces));
            }
        }
    }

    /// Whether the file of this font has been added for its weight.
    pub fn has(&self, font: &Font) -> bool {
        self.files.iter().any(|(known, _)| known == font)
    }

    /// The first font file that has none of the letters of the copy that is to be set in it.
    pub fn without_letters<'a>(&self, draft: &Draft, typography: &'a Typography) -> Option<&'a Path> {
        typography.fonts().find_map(|font| {
            let Font::File { path, .. } = font else { return None };
            let face = self.family(font).face(Emphasis::default());
            let blocks = draft.blocks.iter().filter(|block| typography.of(block.kind).font == *font);
            let mut letters = blocks.flat_map(|block| block.text().chars()).filter(|c| c.is_alphabetic()).peekable();
            (letters.peek().is_some() && !letters.any(|letter| face.shows(letter))).then_some(path.as_path())
        })
    }

    /// The family of a font. A file that was never added has the built-in serif in its stead.
    pub fn family(&self, font: &Font) -> Family<'_> {
        Family(match font {
            Font::Serif => Source::BuiltIn(BuiltIn::Serif),
            Font::Sans => Source::BuiltIn(BuiltIn::Sans),
            Font::File { .. } => match self.files.iter().find(|(known, _)| known == font) {
                Some((_, faces)) => Source::File(faces),
                None => Source::BuiltIn(BuiltIn::Serif),
            },
            Font::StandIn(stand_in) => Source::Stretched(Stretch::of(stand_in)),
        })
    }
}

impl<'a> Family<'a> {
    /// The face for an emphasis. A font file is one face, in which bold and italic are set too, unless it is a variable
    /// font, which has its own bold.
    pub fn face(self, emphasis: Emphasis) -> &'a Face {
        match self.0 {
            Source::BuiltIn(family) => family.face(emphasis),
            Source::File(faces) => faces.bold.as_ref().filter(|_| emphasis.bold).unwrap_or(&faces.plain),
            Source::Stretched(_) => BuiltIn::Serif.face(emphasis),
        }
    }

    /// What the widths of all its faces are multiplied with, where they stand in for a font that is not at hand.
    pub fn stretch(self) -> Option<Stretch> {
        match self.0 {
            Source::Stretched(stretch) => Some(stretch),
            Source::BuiltIn(_) | Source::File(_) => None,
        }
    }

    /// The face that a run is set in: its own, or the one that stands in for it.
    pub(super) fn face_of(self, run: &Run) -> SetFace<'a> {
        match run.stand_in {
            Some(family) => SetFace { face: family.face(run.emphasis), stretch: None },
            None => SetFace { face: self.face(run.emphasis), stretch: self.stretch() },
        }
    }

    /// The emphasis of letters that are set in a built-in family in the stead of this one: bold where this one is nearer to
    /// it than to regular.
    pub(super) fn stand_in_emphasis(self, emphasis: Emphasis) -> Emphasis {
        let halfway = f32::from(Weight::REGULAR.number() + Weight::BOLD.number()) / 2.0;
        let weight = match self.0 {
            Source::File(faces) => faces.plain.weight(),
            Source::BuiltIn(_) | Source::Stretched(_) => None,
        };
        Emphasis { bold: emphasis.bold || weight.is_some_and(|weight| weight > halfway), ..emphasis }
    }

    /// The built-in families that are asked, in turn, for letters that this one lacks: for a font file first the one that
    /// is most like it, for a built-in family the other.
    pub fn stand_ins(self) -> &'static [BuiltIn] {
        match self.0 {
            Source::BuiltIn(BuiltIn::Serif) | Source::Stretched(_) => &[BuiltIn::Sans],
            Source::BuiltIn(BuiltIn::Sans) => &[BuiltIn::Serif],
            Source::File(faces) if faces.plain.has_serifs() => &[BuiltIn::Serif, BuiltIn::Sans],
            Source::File(_) => &[BuiltIn::Sans, BuiltIn::Serif],
        }
    }
}
