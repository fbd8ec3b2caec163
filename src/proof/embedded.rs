//! The fonts that a PDF carries with it, each with the letters that are drawn in it and with the text of every letter.
//!
//! A cluster is one letter here: its glyphs, drawn where the shaper put them, become one outline with one code, and
//! that code has the text that the cluster stands for. So a ligature, a letter with its marks, and a glyph that stands
//! for one character here and for another there are all found, copied and read aloud as they were written.
//!
//! Source: ISO 32000-1:2008, 9.7 (composite fonts) and 9.10 (extraction of text content).

use std::collections::BTreeMap;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};

use super::cff::{CffLetter, bounds, font_program, thousandths, units};
use super::pdf_stream::{deflated, fingerprint};
use crate::setting::face::Face;
use crate::setting::outline::PathStep;

const IDENTITY: SystemInfo<'static> = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// The most letters of one font: a CID has 16 bits, and a CFF font counts its letters in 16 bits.
const MOST_LETTERS: usize = 65_535;

/// The most UTF-16 units that a code can stand for.
///
/// Source: ISO 32000-1:2008, 9.10.3: a string of up to 512 bytes.
const LONGEST_TEXT: usize = 256;

/// The most letters of a font's family, and of its style: with its tag and the name of its encoding, the font has a
/// name of under 127 bytes.
const LONGEST_NAME: usize = 40;

/// What is drawn as one letter of a font: the glyphs of a cluster and their text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cluster {
    /// The number of each glyph, and how far it is drawn to the right of and above the first, in units of the font.
    pub(super) glyphs: Vec<(u32, [i32; 2])>,
    /// The text that the glyphs stand for.
    pub(super) text: String,
}

/// How a cluster is written in the content of a page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LetterCode {
    /// The number of the font among those of the document.
    pub(super) font: usize,
    /// The letter's code in the font.
    pub(super) code: u16,
    /// The letter's advance, in thousandths of an em.
    pub(super) advance: f64,
}

/// All fonts of a document.
#[derive(Default)]
pub(super) struct EmbeddedFonts<'a> {
    fonts: Vec<EmbeddedFont<'a>>,
}

struct EmbeddedFont<'a> {
    face: &'a Face,
    codes: BTreeMap<Cluster, LetterCode>,
    /// The letters by their codes; the first stands for what is missing.
    letters: Vec<CffLetter>,
}

impl<'a> EmbeddedFonts<'a> {
    /// The code of a cluster in a face; equal clusters of one face have one code, as far as a font has room.
    pub(super) fn code(&mut self, face: &'a Face, cluster: Cluster) -> LetterCode {
        let last = self.fonts.iter().rposition(|font| std::ptr::eq(font.face, face));
        let number = last.filter(|last| self.fonts[*last].letters.len() < MOST_LETTERS).unwrap_or_else(|| {
            self.fonts.push(EmbeddedFont { face, codes: BTreeMap::new(), letters: vec![CffLetter::default()] });
            self.fonts.len() - 1
        });
        self.fonts[number].code(number, cluster)
    }

    /// The name by which a page's content calls a font.
    pub(super) fn name(number: usize) -> String {
        format!("F{number}")
    }

    /// Writes all fonts, and gives the object of each by its number; `next` is the first object that is free, and
    /// afterwards the first that is still free.
    pub(super) fn write(&self, pdf: &mut Pdf, next: &mut Ref) -> Vec<Ref> {
        let write = |font: &EmbeddedFont<'_>| font.write(pdf, std::array::from_fn(|_| next.bump()));
        self.fonts.iter().map(write).collect()
    }
}

impl EmbeddedFont<'_> {
    fn code(&mut self, font: usize, cluster: Cluster) -> LetterCode {
        let Self { face, codes, letters } = self;
        *codes.entry(cluster).or_insert_with_key(|cluster| {
            let letter = drawn(face, cluster);
            let code = LetterCode { font, code: letters.len() as u16, advance: thousandths(letter.advance) };
            letters.push(letter);
            code
        })
    }

    /// Gives the object by which the font is used.
    fn write(&self, pdf: &mut Pdf, objects: [Ref; 5]) -> Ref {
        let [composite, cid_font, descriptor, text, program] = objects;
        let name = name_of(self.face);
        let font = font_program(&name, &self.letters);
        let name = format!("{}+{name}", tag(&font));
        pdf.type0_font(composite)
            .base_font(Name(format!("{name}-Identity-H").as_bytes()))
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid_font)
            .to_unicode(text);

        let mut letters = pdf.cid_font(cid_font);
        letters.subtype(CidFontType::Type0).base_font(Name(name.as_bytes()));
        letters.system_info(IDENTITY).font_descriptor(descriptor).default_width(0.0);
        letters.widths().consecutive(0, self.letters.iter().map(|letter| thousandths(letter.advance) as f32));
        letters.finish();

        let [left, foot, right, head] = bounds(&self.letters).map(|edge| thousandths(edge) as f32);
        let [ascent, descent] = [self.face.ascent(), self.face.descent()].map(|em| (em.to_f64() * 1000.0) as f32);
        // Slant and stems matter to a reader only where it has to find another font, and this one is in the file.
        pdf.font_descriptor(descriptor)
            .name(Name(name.as_bytes()))
            .flags(FontFlags::SYMBOLIC)
            .bbox(Rect::new(left, foot, right, head))
            .italic_angle(0.0)
            .ascent(ascent)
            .descent(-descent)
            .cap_height(ascent)
            .stem_v(0.0)
            .font_file3(program);

        pdf.cmap(text, &deflated(&self.texts())).filter(Filter::FlateDecode);
        let packed = deflated(&font);
        pdf.stream(program, &packed).filter(Filter::FlateDecode).pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
        composite
    }

    /// The text of every code, as a ToUnicode CMap.
    fn texts(&self) -> Vec<u8> {
        let mut texts: Vec<(u16, &str)> =
            self.codes.iter().map(|(cluster, code)| (code.code, cluster.text.as_str())).collect();
        texts.sort_unstable();
        let mut cmap = UnicodeCmap::new(Name(b"Text"), IDENTITY);
        for (code, text) in texts.into_iter().filter(|(_, text)| !text.is_empty()) {
            let mut room = LONGEST_TEXT;
            let fits = |letter: &char| {
                let left = room.checked_sub(letter.len_utf16());
                room = left.unwrap_or(0);
                left.is_some()
            };
            cmap.pair_with_multiple(code, text.chars().take_while(fits));
        }
        cmap.finish().into_vec()
    }
}

/// The glyphs of a cluster as one letter: their outlines in their places, and an advance that reaches past the last of
/// them.
fn drawn(face: &Face, cluster: &Cluster) -> CffLetter {
    let mut letter = CffLetter::default();
    for (id, place) in &cluster.glyphs {
        letter.advance = letter.advance.max(place[0] + units(face.advance(*id).to_f64()));
        let [right, up] = place.map(|units| (thousandths(units) / 1000.0) as f32);
        let moved = |[x, y]: [f32; 2]| [x + right, y + up];
        letter.outline.extend(face.outline(*id).into_iter().flat_map(|outline| outline.steps).map(|step| match step {
            PathStep::Move(to) => PathStep::Move(moved(to)),
            PathStep::Line(to) => PathStep::Line(moved(to)),
            PathStep::Quad(by, to) => PathStep::Quad(moved(by), moved(to)),
            PathStep::Curve(from, by, to) => PathStep::Curve(moved(from), moved(by), moved(to)),
            PathStep::Close => PathStep::Close,
        }));
    }
    letter
}

/// What the font file calls itself, as `Family-Style` in the letters and digits that a font program's name may have.
fn name_of(face: &Face) -> String {
    let (family, full) = (face.naming().family.as_str(), face.naming().full());
    let style = full.strip_prefix(family).unwrap_or_default();
    let letters =
        |words: &str| words.chars().filter(char::is_ascii_alphanumeric).take(LONGEST_NAME).collect::<String>();
    match (letters(family), letters(style)) {
        (family, style) if family.is_empty() && style.is_empty() => "Font".to_owned(),
        (family, style) if style.is_empty() => family,
        (family, style) => format!("{family}-{style}"),
    }
}

/// Six capital letters that tell this choice of letters from others of the same font.
///
/// Source: ISO 32000-1:2008, 9.6.4 (font subsets).
fn tag(program: &[u8]) -> String {
    let mut rest = fingerprint(program);
    let mut letter = || {
        let letter = b'A' + (rest % 26) as u8;
        rest /= 26;
        char::from(letter)
    };
    (0..6).map(|_| letter()).collect()
}
