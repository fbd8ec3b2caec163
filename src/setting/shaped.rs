//! A block shaped once: its glyphs, and the pieces between the places where a line may end.
//!
//! The whole paragraph is shaped as it stands, so that kerning across blanks counts. Where a line could end inside a
//! kerned pair (after a hyphen or a dash, mostly), both sides are shaped again and the differences are kept with
//! the pieces: all further setting is addition.

use std::collections::HashSet;
use std::ops::Range;

use harfrust::{Buffer, Script};
use hypher::Lang;
use unicode_script::{Script as CharacterScript, UnicodeScript};
use unicode_segmentation::UnicodeSegmentation;

use super::breaks;
use super::built_in::BuiltIn;
use super::face::Face;
use super::faces::Family;
use super::shaping::Glyph;
use super::stretch::SetFace;
use crate::draft::{Block, Emphasis};
use crate::units::Em;

/// A block's text in font units.
#[derive(Debug, Clone, Default)]
pub struct Shaped {
    /// The glyphs in reading order.
    pub glyphs: Vec<Glyph>,
    /// The stretches of text that have one face and script, in order.
    pub runs: Vec<Run>,
    /// The stretches that a line cannot divide, in order.
    pub pieces: Vec<Piece>,
    /// Characters that no face has a glyph for, in the order in which they first stand in the text.
    pub missing: Vec<char>,
    /// Characters that another face stands in for, in the same order, each with its family.
    pub stood_in: Vec<(char, BuiltIn)>,
}

/// How many glyphs are passed in the time that it takes to lay one piece, where a word is wider than its measure.
const GLYPHS_A_STEP: usize = 8;

impl Shaped {
    /// The steps of work that it takes to lay the text on lines.
    pub(super) fn steps(&self) -> usize {
        self.pieces.len() + self.glyphs.len() / GLYPHS_A_STEP
    }

    /// The least width of all lines of this text together: its letters, without any blank and without the quotation
    /// marks that may hang.
    pub(super) fn least_width(&self) -> Em {
        let least = |piece: &Piece| {
            let edges = piece.at_line_start.min(Em::ZERO) + piece.at_line_end.min(Em::ZERO);
            piece.inked + edges - piece.blanks_within - piece.opening
        };
        self.pieces.iter().map(least).sum()
    }
}

/// A stretch of text in one face.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The run's bytes in the block's text.
    pub text: Range<usize>,
    /// The run's glyphs, as positions among those of the block.
    pub glyphs: Range<usize>,
    /// The emphasis it is set with.
    pub emphasis: Emphasis,
    /// The family that stands in, where the block's own lacks its letters.
    pub stand_in: Option<BuiltIn>,
    /// The script it is shaped in.
    pub script: Script,
}

impl Run {
    /// The face that the run is set in, in a block of this family: one of its own, or of the family that stands in for
    /// it.
    pub(super) fn face_in<'a>(&self, family: Family<'a>) -> SetFace<'a> {
        match self.stand_in {
            Some(stand_in) => SetFace { face: stand_in.face(self.emphasis), stretch: None },
            None => SetFace { face: family.face(self.emphasis), stretch: family.stretch() },
        }
    }
}

/// A stretch of text between two places where a line may end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Piece {
    /// The first byte in the block's text.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
    /// The width of all of it.
    pub full: Em,
    /// The width without the blanks at its end, which hang when it ends a line.
    pub inked: Em,
    /// What its width gains when a line begins with it.
    pub at_line_start: Em,
    /// What its width gains when a line ends with it: kerning lost, or a hyphen made visible.
    pub at_line_end: Em,
    /// The width of the blanks in it at which no line may end.
    pub blanks_within: Em,
    /// The width of the blanks at its end.
    pub blanks_after: Em,
    /// The width of the opening quotation mark that it begins with.
    pub opening: Em,
    /// A line must end after it.
    pub forced: bool,
    /// Whether the piece ends inside a word: a hyphen is printed when a line ends with it.
    pub hyphen: bool,
}

impl Piece {
    /// Whether a line of this piece alone goes into `room`.
    pub(super) fn fits_alone(&self, room: Em) -> bool {
        self.at_line_start + self.inked + self.at_line_end <= room
    }

    /// Adds a glyph that stands for the start of `text`; from `inked_end` on, what hangs at a line's end begins.
    fn add(&mut self, glyph: &Glyph, text: &str, inked_end: usize) {
        let at = glyph.cluster as usize;
        self.full += glyph.advance;
        if at < inked_end {
            self.inked += glyph.advance;
        }
        if text.starts_with(breaks::stretches) {
            let blanks = if at < inked_end { &mut self.blanks_within } else { &mut self.blanks_after };
            *blanks += glyph.advance;
        }
        if at == self.start && text.starts_with(breaks::opens) {
            self.opening += glyph.advance;
        }
    }
}

/// A soft hyphen, printed only where a line ends with it.
pub(super) const SOFT_HYPHEN: char = '\u{ad}';

/// The most pieces in a row that are shaped again on either side of a break. Without a limit a word of hyphens alone,
/// each kerned, would be shaped whole at every break, since it has no safe place.
const MOST_MENDED: usize = 8;

/// What shaping needs at hand.
struct Shaper<'a> {
    text: &'a str,
    family: Family<'a>,
    buffer: Buffer,
    shaped: Shaped,
    /// For each piece the position of its first glyph among all.
    first_glyphs: Vec<usize>,
    /// The characters that are listed already, each with the family that stands in.
    listed: HashSet<(char, Option<BuiltIn>)>,
}

/// Emphasis and hyphenation applied to a whole block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BlockStyle {
    /// The emphasis that every word of the block has beside its own.
    pub emphasis: Emphasis,
    /// The language whose patterns divide the block's words; none where they are left whole.
    pub hyphenation: Option<Lang>,
}

/// Shapes a block in a family.
pub fn shape(block: &Block, family: Family<'_>, style: BlockStyle) -> Shaped {
    let BlockStyle { emphasis: all, hyphenation } = style;
    let runs = block
        .runs()
        .iter()
        .map(|(range, own)| (range.clone(), Emphasis { bold: own.bold || all.bold, italic: own.italic || all.italic }));
    shape_runs(block.text(), runs, family, hyphenation)
}

/// Shapes a text given in stretches of one emphasis, in order, which cover it whole.
pub(super) fn shape_runs(
    text: &str,
    runs: impl Iterator<Item = (Range<usize>, Emphasis)>,
    family: Family<'_>,
    hyphenation: Option<Lang>,
) -> Shaped {
    let (buffer, shaped) = (Buffer::new(), Shaped::default());
    let mut shaper = Shaper { text, family, buffer, shaped, first_glyphs: Vec::new(), listed: HashSet::new() };
    for (range, emphasis) in runs {
        shaper.shape_run(range, emphasis);
    }
    let divided = hyphenation.map_or_else(Vec::new, |language| breaks::hyphenations(text, language).collect());
    shaper.cut_into_pieces(&divided);
    shaper.mend_line_ends();
    shaper.shaped
}

impl Shaper<'_> {
    /// Shapes a stretch of one emphasis, script by script; forced line endings are not shaped.
    fn shape_run(&mut self, range: Range<usize>, emphasis: Emphasis) {
        for (part, script) in by_script(self.text, range) {
            for (text, stand_in) in self.by_face(part, emphasis) {
                let start = self.shaped.glyphs.len();
                let emphasis = stand_in.map_or(emphasis, |_| self.family.stand_in_emphasis(emphasis));
                let mut run = Run { text, glyphs: start..start, emphasis, stand_in, script };
                let text = &self.text[run.text.clone()];
                let face = run.face_in(self.family);
                face.shape(text, script, run.text.start, &mut self.buffer, &mut self.shaped.glyphs);
                run.glyphs.end = self.shaped.glyphs.len();
                self.shaped.runs.push(run);
            }
        }
    }

    /// A part of the text in stretches of one face: the block's own wherever that has the letters or no other has. A
    /// mark is never parted from the letter that it stands on.
    fn by_face(&mut self, part: Range<usize>, emphasis: Emphasis) -> Vec<(Range<usize>, Option<BuiltIn>)> {
        let own = self.family.face(emphasis);
        let text = &self.text[part.clone()];
        if text.chars().all(|character| own.shows(character)) {
            return vec![(part, None)];
        }
        let mut stretches: Vec<(Range<usize>, Option<BuiltIn>)> = Vec::new();
        for (at, cluster) in text.grapheme_indices(true) {
            let stand_in = self.stand_in_for(cluster, own, emphasis);
            let end = part.start + at + cluster.len();
            match stretches.last_mut().filter(|(_, known)| *known == stand_in) {
                Some((stretch, _)) => stretch.end = end,
                None => stretches.push((part.start + at..end, stand_in)),
            }
        }
        stretches
    }

    /// The family that stands in for a letter with its marks; none where the block's own face has them, or no family.
    fn stand_in_for(&mut self, cluster: &str, own: &Face, emphasis: Emphasis) -> Option<BuiltIn> {
        if own.shows_whole(cluster, &mut self.buffer) {
            return None;
        }
        let others = self.family.stand_ins().iter().copied();
        let emphasis = self.family.stand_in_emphasis(emphasis);
        let stand_in = others.into_iter().find(|other| other.face(emphasis).shows_whole(cluster, &mut self.buffer));
        // What is never seen, as the joiner between two signs, is not lacking.
        let mut lacks = |character: &char| !own.shows_whole(character.encode_utf8(&mut [0; 4]), &mut self.buffer);
        for character in cluster.chars().filter(|character| lacks(character)) {
            if self.listed.insert((character, stand_in)) {
                match stand_in {
                    Some(family) => self.shaped.stood_in.push((character, family)),
                    None => self.shaped.missing.push(character),
                }
            }
        }
        stand_in
    }

    /// Cuts the text where a line may end and where a word may be divided.
    fn cut_into_pieces(&mut self, divided: &[usize]) {
        let mut start = 0;
        let mut divided = divided.iter().copied().peekable();
        for end in breaks::opportunities(self.text) {
            while let Some(inside) = divided.next_if(|inside| *inside < end) {
                self.add_piece(start..inside, true);
                start = inside;
            }
            self.add_piece(start..end, false);
            start = end;
        }
        let mut next = 0;
        for piece in &mut self.shaped.pieces {
            self.first_glyphs.push(next);
            let inked_end = piece.start + self.text[piece.start..piece.end].trim_end_matches(breaks::hangs).len();
            let (end, glyphs) = (piece.end, self.shaped.glyphs[next..].iter());
            for glyph in glyphs.take_while(|glyph| (glyph.cluster as usize) < end) {
                piece.add(glyph, &self.text[glyph.cluster as usize..], inked_end);
                next += 1;
            }
        }
    }

    fn add_piece(&mut self, range: Range<usize>, divided: bool) {
        let text = &self.text[range.clone()];
        self.shaped.pieces.push(Piece {
            start: range.start,
            end: range.end,
            forced: text.ends_with('\n'),
            hyphen: divided || text.trim_end_matches(breaks::hangs).ends_with(SOFT_HYPHEN),
            ..Piece::default()
        });
    }

    /// Finds what each piece gains at either end of a line.
    fn mend_line_ends(&mut self) {
        for index in 0..self.shaped.pieces.len() {
            let piece = self.shaped.pieces[index];
            if piece.hyphen {
                self.shaped.pieces[index].at_line_end = self.hyphen_after(piece.start);
            }
            if index > 0 && self.is_unsafe_start(index) {
                self.mend_break_before(index);
            }
        }
    }

    fn hyphen_after(&mut self, start: usize) -> Em {
        let Some(face) = self.run_at(start).map(|run| run.face_in(self.family)) else { return Em::ZERO };
        face.width_of("-", Script::LATIN, &mut self.buffer)
    }

    /// Shapes the two sides of the break before piece `index` again, each up to the nearest place that is safe to
    /// break, which is hardly ever far, and without leaving its run.
    fn mend_break_before(&mut self, index: usize) {
        let at = self.shaped.pieces[index].start;
        let Some(run) = self.run_at(at).cloned() else { return };
        let (mut first, mut last) = (index - 1, index + 1);
        while first > 0 && index - first < MOST_MENDED && self.is_unsafe_start(first) {
            first -= 1;
        }
        while last < self.shaped.pieces.len() && last - index < MOST_MENDED && self.is_unsafe_start(last) {
            last += 1;
        }
        let from = self.shaped.pieces[first].start.max(run.text.start);
        let to = self.shaped.pieces[last - 1].end.min(run.text.end);
        let before = self.text[from..at].trim_end_matches(breaks::hangs);
        let (script, face) = (run.script, run.face_in(self.family));
        let change_before =
            face.width_of(before, script, &mut self.buffer) - self.width_in_context(from..from + before.len());
        let change_after = face.width_of(&self.text[at..to], script, &mut self.buffer) - self.width_in_context(at..to);
        self.shaped.pieces[index - 1].at_line_end += change_before;
        self.shaped.pieces[index].at_line_start += change_after;
    }

    fn width_in_context(&self, text: Range<usize>) -> Em {
        self.glyphs_of(text).map(|glyph| glyph.advance).sum()
    }

    fn glyphs_of(&self, text: Range<usize>) -> impl Iterator<Item = &Glyph> {
        let first = self.shaped.glyphs.partition_point(|glyph| (glyph.cluster as usize) < text.start);
        self.shaped.glyphs[first..].iter().take_while(move |glyph| (glyph.cluster as usize) < text.end)
    }

    fn is_unsafe_start(&self, index: usize) -> bool {
        self.shaped.glyphs.get(self.first_glyphs[index]).is_some_and(|glyph| glyph.unsafe_to_break)
    }

    fn run_at(&self, at: usize) -> Option<&Run> {
        let next = self.shaped.runs.partition_point(|run| run.text.end <= at);
        self.shaped.runs.get(next)
    }
}

/// A range of the text in stretches of one script, without forced line endings. What belongs to every script goes with
/// what stands before it.
fn by_script(text: &str, range: Range<usize>) -> Vec<(Range<usize>, Script)> {
    let mut parts: Vec<(Range<usize>, Script)> = Vec::new();
    for (line_start, line) in lines_of(text, range) {
        if !line.is_empty() && line.chars().all(is_plainly_latin) {
            parts.push((line_start..line_start + line.len(), Script::LATIN));
            continue;
        }
        let mut start = line_start;
        let mut script: Option<CharacterScript> = None;
        for (at, cluster) in line.grapheme_indices(true) {
            let own = cluster.chars().map(|character| character.script()).find(|own| is_of_one_script(*own));
            if let (Some(known), Some(own)) = (script, own)
                && known != own
            {
                parts.push((start..line_start + at, shaper_script(known)));
                start = line_start + at;
            }
            script = own.or(script);
        }
        let end = line_start + line.len();
        if start < end {
            parts.push((start..end, script.map_or(Script::LATIN, shaper_script)));
        }
    }
    parts
}

fn lines_of(text: &str, range: Range<usize>) -> impl Iterator<Item = (usize, &str)> {
    let mut start = range.start;
    text[range].split('\n').map(move |line| {
        let at = start;
        start += line.len() + 1;
        (at, line)
    })
}

/// Whether a character is a Latin letter or goes with every script, told without a look-up: most copy is made of
/// nothing else.
fn is_plainly_latin(character: char) -> bool {
    character < '\u{250}' || ('\u{2010}'..='\u{2027}').contains(&character)
}

fn is_of_one_script(script: CharacterScript) -> bool {
    !matches!(script, CharacterScript::Common | CharacterScript::Inherited | CharacterScript::Unknown)
}

fn shaper_script(script: CharacterScript) -> Script {
    let tag = script.short_name().as_bytes();
    match *tag {
        [a, b, c, d] => Script::from_iso15924_tag(harfrust::Tag::new(&[a, b, c, d])).unwrap_or(Script::LATIN),
        _ => Script::LATIN,
    }
}
