//! The glyphs of a line that has been set, each in its place on the panel.
//!
//! Glyphs are taken from the paragraph as it was shaped. Where the line begins or ends inside a kerned pair or a
//! ligature, that stretch is shaped again, just as the width of the line was reckoned.

use std::ops::Range;

use harfrust::{Buffer, Script};

use super::breaks;
use super::built_in::BuiltIn;
use super::copy::ShapedBlock;
use super::faces::{Faces, Family};
use super::first_fit::fill_line;
use super::lines::SetLine;
use super::shaped::{Run, SOFT_HYPHEN, Shaped, shape_runs};
use super::shaping::Glyph;
use crate::brief::typography::Font;
use crate::draft::Emphasis;
use crate::units::{Em, Length, Point};

/// A stretch of a line in one face and size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GlyphRun {
    /// The font; with the emphasis it names the face.
    pub font: Font,
    /// Which of the font's faces.
    pub emphasis: Emphasis,
    /// The size.
    pub size: Length,
    /// What the glyphs stand for, in reading order.
    pub text: String,
    /// The glyphs, from left to right.
    pub glyphs: Vec<PlacedGlyph>,
}

/// A glyph in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlacedGlyph {
    /// The glyph's number in the face.
    pub id: u32,
    /// Where the glyph is drawn: its own origin.
    pub at: Point,
    /// The bytes of the run's text that it stands for; glyphs of one cluster share them.
    pub text: Range<usize>,
}

impl GlyphRun {
    /// The run moved across and down.
    pub fn moved(mut self, by: Point) -> Self {
        for glyph in &mut self.glyphs {
            glyph.at.x += by.x;
            glyph.at.y += by.y;
        }
        self
    }
}

/// The type of words that are not copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlainType {
    /// The font.
    pub font: Font,
    /// The face of it.
    pub emphasis: Emphasis,
    /// The size.
    pub size: Length,
}

/// A line of words that are not copy, such as a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlainLine {
    /// The line's glyphs; it begins at zero, and its baseline is at zero.
    pub runs: Vec<GlyphRun>,
    /// How long it is.
    pub width: Length,
}

/// The glyphs of one line of a paragraph, `font` and `size` being those of its block.
pub fn of_line(line: &SetLine, paragraph: &ShapedBlock<'_>, font: &Font, size: Length) -> Vec<GlyphRun> {
    let text = paragraph.block.text();
    let material = SetText { text, shaped: &paragraph.shaped, family: paragraph.family, font, size };
    let mut pen = GlyphPen::at(Point { x: line.x, y: line.baseline });
    pen.widened = Widened { by: line.widened, blanks: line.blanks, gone: Em::ZERO };
    material.set(line.text.clone(), &mut pen);
    if line.hyphen {
        material.set_hyphen(line.text.end, &mut pen);
    }
    pen.runs
}

/// Sets words that are not copy in lines of at most `measure`; a word that is wider has a line to itself.
pub fn plain(text: &str, form: &PlainType, measure: Length, faces: &Faces) -> Vec<PlainLine> {
    let PlainType { font, emphasis, size } = form;
    let family = faces.family(font);
    let shaped = shape_runs(text, std::iter::once((0..text.len(), *emphasis)), family, None);
    let material = SetText { text, shaped: &shaped, family, font, size: *size };
    let room = Em::filling(measure, *size);
    let mut lines = Vec::new();
    let mut rest = &shaped.pieces[..];
    while let Some(first) = rest.first() {
        let filled = fill_line(*first, rest, room);
        let end = rest[filled.pieces - 1].end;
        let inked = text[first.start..end].trim_end_matches(breaks::hangs).len();
        let mut pen = GlyphPen::at(Point::default());
        material.set(first.start..first.start + inked, &mut pen);
        lines.push(PlainLine { runs: pen.runs, width: filled.width.at(*size) });
        rest = &rest[filled.pieces..];
    }
    lines
}

/// What the glyphs of a line are taken from.
struct SetText<'a> {
    text: &'a str,
    shaped: &'a Shaped,
    family: Family<'a>,
    font: &'a Font,
    size: Length,
}

/// Where the next glyph stands, and the runs so far.
struct GlyphPen {
    start: Point,
    /// The advances from the start of the line, with blanks at their own width.
    gone: Em,
    widened: Widened,
    runs: Vec<GlyphRun>,
}

/// What the blanks of a justified line gain, each in proportion to its width.
#[derive(Clone, Copy, Default)]
struct Widened {
    /// What all the blanks gain together.
    by: Length,
    /// The width of all the blanks by themselves.
    blanks: Em,
    /// The width of the blanks that are set so far.
    gone: Em,
}

impl Widened {
    /// How much the blanks so far have gained.
    fn so_far(&self) -> Length {
        self.by.share(self.gone, self.blanks)
    }
}

impl GlyphPen {
    fn at(start: Point) -> Self {
        Self { start, gone: Em::ZERO, widened: Widened::default(), runs: Vec::new() }
    }
}

impl SetText<'_> {
    fn set(&self, line: Range<usize>, pen: &mut GlyphPen) {
        let first = self.shaped.runs.partition_point(|run| run.text.end <= line.start);
        for run in self.shaped.runs[first..].iter().take_while(|run| run.text.start < line.end) {
            let part = run.text.start.max(line.start)..run.text.end.min(line.end);
            let glyphs = self.glyphs_of(run, &part);
            let stretch = Stretch { text: &self.text[part.clone()], start: part.start, run };
            self.add(stretch, &glyphs, pen);
        }
    }

    /// The glyphs of a part of a run, shaped again where the run is cut at a place that was not safe.
    fn glyphs_of(&self, run: &Run, part: &Range<usize>) -> Vec<Glyph> {
        let hanging = self.text[part.end..].chars().take_while(|next| breaks::hangs(*next)).map(char::len_utf8);
        let next_line = part.end + hanging.sum::<usize>();
        if self.is_unsafe(run, part.start) || self.is_unsafe(run, next_line) {
            return self.shape_part(&self.text[part.clone()], run.script, part.start, run);
        }
        let glyphs = &self.shaped.glyphs[run.glyphs.clone()];
        let first = glyphs.partition_point(|glyph| (glyph.cluster as usize) < part.start);
        glyphs[first..].iter().take_while(|glyph| (glyph.cluster as usize) < part.end).copied().collect()
    }

    /// Whether a line that begins at this byte cuts a run where its glyphs depend on both sides. Where a word was
    /// divided between its letters no piece begins, and nothing was shaped again.
    fn is_unsafe(&self, run: &Run, at: usize) -> bool {
        let inside = run.text.start < at && at < run.text.end;
        let is_break = || self.shaped.pieces.binary_search_by_key(&at, |piece| piece.start).is_ok();
        inside && is_break() && {
            let glyphs = &self.shaped.glyphs[run.glyphs.clone()];
            let next = glyphs.partition_point(|glyph| (glyph.cluster as usize) < at);
            glyphs.get(next).is_some_and(|glyph| glyph.unsafe_to_break)
        }
    }

    fn shape_part(&self, text: &str, script: Script, offset: usize, run: &Run) -> Vec<Glyph> {
        let mut glyphs = Vec::new();
        run.face_in(self.family).shape(text, script, offset, &mut Buffer::new(), &mut glyphs);
        glyphs
    }

    fn set_hyphen(&self, end: usize, pen: &mut GlyphPen) {
        let behind = self.shaped.runs.partition_point(|run| run.text.start < end);
        let Some(run) = behind.checked_sub(1).map(|at| &self.shaped.runs[at]) else { return };
        let glyphs = self.shape_part("-", Script::LATIN, 0, run);
        self.add(Stretch { text: "-", start: 0, run }, &glyphs, pen);
    }

    /// Gives glyphs their places at the end of what is set. A soft hyphen inside a line is not drawn.
    fn add(&self, stretch: Stretch<'_>, glyphs: &[Glyph], pen: &mut GlyphPen) {
        let mut placed = Vec::with_capacity(glyphs.len());
        // The first glyph of the next cluster.
        let mut next = 0;
        for glyph in glyphs {
            while glyphs.get(next).is_some_and(|later| later.cluster <= glyph.cluster) {
                next += 1;
            }
            let text = stretch.place(glyph)..glyphs.get(next).map_or(stretch.text.len(), |next| stretch.place(next));
            let text_start = text.start;
            if !stretch.text[text_start..].starts_with(SOFT_HYPHEN) {
                let x = pen.start.x + (pen.gone + glyph.x_offset).at(self.size) + pen.widened.so_far();
                let y = pen.start.y - glyph.y_offset.at(self.size);
                placed.push(PlacedGlyph { id: glyph.id, at: Point { x, y }, text });
            }
            pen.gone += glyph.advance;
            if stretch.text[text_start..].starts_with(breaks::stretches) {
                pen.widened.gone += glyph.advance;
            }
        }
        pen.runs.push(GlyphRun {
            font: stretch.run.stand_in.map_or_else(|| self.font.clone(), BuiltIn::font),
            emphasis: stretch.run.emphasis,
            size: self.size,
            text: stretch.text.to_owned(),
            glyphs: placed,
        });
    }
}

/// Text that glyphs stand for.
#[derive(Clone, Copy)]
struct Stretch<'a> {
    text: &'a str,
    /// The stretch's first byte in the text that was shaped.
    start: usize,
    run: &'a Run,
}

impl Stretch<'_> {
    /// The byte of the stretch at which a glyph's cluster begins.
    fn place(&self, glyph: &Glyph) -> usize {
        (glyph.cluster as usize).saturating_sub(self.start).min(self.text.len())
    }
}
