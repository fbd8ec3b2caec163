//! The faces that a brief's type asks for, the built-in ones among them, and what stands in for letters they lack.

use std::borrow::Borrow;
use std::path::Path;
use std::sync::Arc;

use super::built_in::BuiltIn;
use super::face::Face;
use super::stretch::WidthFactor;
use crate::brief::Typography;
use crate::brief::typography::{Font, Weight};
use crate::draft::{Draft, Emphasis};

/// Every face that a setting may need: the built-in families, and those read from files.
#[derive(Debug, Clone, Default)]
pub struct Faces {
    files: Vec<(Font, FileFaces)>,
}

/// The faces of one font file and its sisters at one weight.
#[derive(Debug, Clone)]
struct FileFaces {
    /// The plain face, at that weight where the font has a weight axis.
    plain: Arc<Face>,
    /// The other faces, in the order of [`STYLES`]; none where there is no such face.
    styles: [Option<Arc<Face>>; STYLES.len()],
}

/// The styles that a family has beside its plain face.
pub const STYLES: [Emphasis; 3] = [
    Emphasis { bold: true, italic: false },
    Emphasis { bold: false, italic: true },
    Emphasis { bold: true, italic: true },
];

impl FileFaces {
    fn own(&self, emphasis: Emphasis) -> Option<&Face> {
        match STYLES.iter().position(|style| *style == emphasis) {
            Some(style) => self.styles[style].as_deref(),
            None => Some(&self.plain),
        }
    }

    /// The face for an emphasis, or the one that comes nearest to it.
    ///
    /// Source: CSS Fonts Level 4, section 5.2, where the style is matched before the weight.
    fn nearest(&self, emphasis: Emphasis) -> &Face {
        let upright = Emphasis { italic: false, ..emphasis };
        let lighter = Emphasis { bold: false, ..emphasis };
        [emphasis, lighter, upright].into_iter().find_map(|style| self.own(style)).unwrap_or(&self.plain)
    }
}

/// The faces of one font.
#[derive(Clone, Copy)]
pub struct Family<'a>(FaceSource<'a>);

#[derive(Clone, Copy)]
enum FaceSource<'a> {
    BuiltIn(BuiltIn),
    File(&'a FileFaces),
    /// The built-in serif, its widths multiplied.
    Stretched(WidthFactor),
}

impl Faces {
    /// The built-in families alone.
    pub fn built_in() -> Self {
        Self::default()
    }

    /// Adds the face read from a font file for one of the fonts that a brief names. A variable font is set at the
    /// weight that is asked for, and bold words in it at 700, or at that weight where it is heavier.
    pub fn add(&mut self, font: Font, face: Face) {
        self.add_family(font, face, Vec::new());
    }

    /// Adds a face and its sisters, each read from its own file and given with its style in the family. A style that
    /// has no file is taken from the others, where one of them is a variable font that has it.
    pub fn add_family(&mut self, font: Font, regular: Face, sisters: Vec<(Emphasis, Face)>) {
        let weight = font.weight();
        let regular = Arc::new(regular);
        let sisters: Vec<_> = sisters.into_iter().map(|(style, face)| (style, Arc::new(face))).collect();
        let at = |face: &Arc<Face>, weight, italic| face.at(weight, italic).map_or_else(|| Arc::clone(face), Arc::new);
        let styles = STYLES.map(|style| {
            let face = face_for(style, &regular, &sisters, weight)?;
            Some(at(face, if style.bold { weight.max(Weight::BOLD) } else { weight }, style.italic))
        });
        self.files.push((font, FileFaces { plain: at(&regular, weight, false), styles }));
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

    /// The family of a font. In place of a file that was never added the built-in serif is given.
    pub fn family(&self, font: &Font) -> Family<'_> {
        Family(match font {
            Font::Serif => FaceSource::BuiltIn(BuiltIn::Serif),
            Font::Sans => FaceSource::BuiltIn(BuiltIn::Sans),
            Font::File { .. } => match self.files.iter().find(|(known, _)| known == font) {
                Some((_, faces)) => FaceSource::File(faces),
                None => FaceSource::BuiltIn(BuiltIn::Serif),
            },
            Font::StandIn(stand_in) => FaceSource::Stretched(WidthFactor::of(stand_in)),
        })
    }
}

/// The styles that neither a font file nor any of its given sisters has.
pub fn styles_left(regular: &Face, sisters: &[(Emphasis, Face)], weight: Weight) -> Vec<Emphasis> {
    STYLES.into_iter().filter(|style| face_for(*style, regular, sisters, weight).is_none()).collect()
}

/// The face of a style: the one that was given for it or, of all given faces that can show the style, the nearest.
fn face_for<'a, F: Borrow<Face>>(
    style: Emphasis,
    regular: &'a F,
    sisters: &'a [(Emphasis, F)],
    weight: Weight,
) -> Option<&'a F> {
    let own = regular.borrow().naming();
    let given = sisters.iter().find(|(of, _)| *of == style).map(|(_, face)| face);
    let all = std::iter::once(regular).chain(sisters.iter().map(|(_, face)| face));
    let near = all.filter_map(|face| Some((face.borrow().naming().distance(own, weight, style)?, face)));
    given.or_else(|| near.min_by(|(one, _), (other, _)| one.total_cmp(other)).map(|(_, face)| face))
}

impl<'a> Family<'a> {
    /// The face for an emphasis. Where a font file has no such sister, the nearest that there is.
    pub fn face(self, emphasis: Emphasis) -> &'a Face {
        match self.0 {
            FaceSource::BuiltIn(family) => family.face(emphasis),
            FaceSource::File(faces) => faces.nearest(emphasis),
            FaceSource::Stretched(_) => BuiltIn::Serif.face(emphasis),
        }
    }

    /// Whether the family has no face for an emphasis, so that another stands for it.
    pub fn lacks(self, emphasis: Emphasis) -> bool {
        matches!(self.0, FaceSource::File(faces) if faces.own(emphasis).is_none())
    }

    /// What the font file calls its family; none where the font is no file or the file has no name.
    pub fn family_name(self) -> Option<String> {
        let FaceSource::File(faces) = self.0 else { return None };
        Some(faces.plain.naming().family.clone()).filter(|name| !name.is_empty())
    }

    /// What the font file calls the face that an emphasis is set in; none where the font is no file or the file has no
    /// name.
    pub fn name(self, emphasis: Emphasis) -> Option<String> {
        let FaceSource::File(faces) = self.0 else { return None };
        Some(faces.nearest(emphasis).naming().full()).filter(|name| !name.is_empty())
    }

    /// What the widths of all the family's faces are multiplied by, where they stand in for a font that is not at hand.
    pub fn stretch(self) -> Option<WidthFactor> {
        match self.0 {
            FaceSource::Stretched(stretch) => Some(stretch),
            FaceSource::BuiltIn(_) | FaceSource::File(_) => None,
        }
    }

    /// The emphasis of letters that are set in a built-in family in place of this one: bold where the weight of the
    /// font file is nearer to bold than to regular.
    pub(super) fn stand_in_emphasis(self, emphasis: Emphasis) -> Emphasis {
        let halfway = f32::from(Weight::REGULAR.number() + Weight::BOLD.number()) / 2.0;
        let weight = match self.0 {
            FaceSource::File(faces) => faces.plain.weight(),
            FaceSource::BuiltIn(_) | FaceSource::Stretched(_) => None,
        };
        Emphasis { bold: emphasis.bold || weight.is_some_and(|weight| weight > halfway), ..emphasis }
    }

    /// The built-in families that are asked, in turn, for letters that this one lacks: for a font file first the one
    /// that is most like it, for a built-in family the other.
    pub(super) fn stand_ins(self) -> &'static [BuiltIn] {
        match self.0 {
            FaceSource::BuiltIn(BuiltIn::Serif) | FaceSource::Stretched(_) => &[BuiltIn::Sans],
            FaceSource::BuiltIn(BuiltIn::Sans) => &[BuiltIn::Serif],
            FaceSource::File(faces) if faces.plain.has_serifs() => &[BuiltIn::Serif, BuiltIn::Sans],
            FaceSource::File(_) => &[BuiltIn::Sans, BuiltIn::Serif],
        }
    }
}
