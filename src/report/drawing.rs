//! The drawing list: the panel and the copy on it as data, from which every picture of it is drawn.
//!
//! Places are lengths from the panel's head left corner, so what is drawn beyond the cut at the head or the left has
//! places below zero. The order is that of painting and of reading: edges from the outside in, keep-outs, then the
//! lines from head to foot.

use super::Report;
use super::fit::FitLine;
use crate::brief::panel::KeepOutOrigin;
use crate::brief::{Brief, Panel};
use crate::draft::{BlockKind, Draft};
use crate::setting::glyphs::{self, GlyphRun};
use crate::setting::{Faces, SettingMemory, ShapedCopy};
use crate::units::{Length, Rect};

/// All that is to be drawn.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Drawing {
    /// The items from the undermost to the topmost.
    pub items: Vec<DrawingItem>,
}

/// One thing to be drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DrawingItem {
    /// An edge or a place of the panel.
    Frame(Frame),
    /// A printed line.
    Line(Line),
}

/// A named rectangle of the panel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frame {
    /// What the frame marks.
    pub part: FramePart,
    /// What the frame is called: `trim`, `barcode`.
    pub name: String,
    /// Where the frame is.
    pub rect: Rect,
    /// The radius of its rounded corners on the fore-edge side; zero where they are square.
    pub round: Length,
}

/// What a frame marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FramePart {
    /// How far art goes: past the cut, or round the edges of a board.
    Bleed,
    /// The panel's own edges: where it is cut, or where a board ends.
    Face,
    /// Where copy may stand.
    LiveArea,
    /// A keep-out with its clearance, as far as that lies on the panel.
    Clearance,
    /// A keep-out itself.
    KeepOut,
    /// A corner that is rounded off: copy may not enter it, and there is nothing in it to see.
    Corner,
    /// What has to stay quiet behind the copy.
    Quiet,
}

/// A printed line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What part of the copy it belongs to.
    pub kind: BlockKind,
    /// What is printed.
    pub text: String,
    /// The line's box: as long as its words and as high as its leading.
    pub rect: Rect,
    /// The baseline.
    pub baseline: Length,
    /// Whether the line does not fit.
    pub over: bool,
    /// The line's glyphs, in runs of one face.
    pub runs: Vec<GlyphRun>,
}

impl Drawing {
    /// The panel alone.
    pub fn of_panel(panel: &Panel) -> Self {
        let frame = |part, name: &str, rect| {
            let round = if part == FramePart::Face { panel.round_corners } else { Length::ZERO };
            DrawingItem::Frame(Frame { part, name: name.to_owned(), rect, round })
        };
        let mut items = vec![
            frame(FramePart::Bleed, panel.binding.art(), panel.art()),
            frame(FramePart::Face, panel.binding.edges(), panel.face()),
            frame(FramePart::LiveArea, "live area", panel.live_area()),
        ];
        for keep_out in &panel.keep_outs {
            if keep_out.origin == KeepOutOrigin::Corner {
                items.push(frame(FramePart::Corner, &keep_out.name, keep_out.rect));
                continue;
            }
            items.push(frame(FramePart::Clearance, &keep_out.name, keep_out.cleared().within(&panel.face())));
            items.push(frame(FramePart::KeepOut, &keep_out.name, keep_out.rect));
        }
        Self { items }
    }

    /// The panel with a draft's copy on it, as the report found it set.
    pub fn of(report: &Report, draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        Self::of_lines(&report.fit.lines, &copy, brief)
    }

    /// The panel with its copy, but without the lines that lie below the panel. There are thousands of them where a
    /// whole manuscript was put in the place of a blurb, and a screen has no room for any.
    pub(super) fn of_what_is_on_it(report: &Report, copy: &ShapedCopy<'_>, brief: &Brief) -> Self {
        let foot = brief.panel.face().foot();
        let lines = &report.fit.lines;
        let last = lines.iter().rposition(|line| line.set.top < foot).map_or(0, |last| last + 1);
        Self::of_lines(&lines[..last], copy, brief)
    }

    fn of_lines(lines: &[FitLine], copy: &ShapedCopy<'_>, brief: &Brief) -> Self {
        let mut drawing = Self::of_panel(&brief.panel);
        for line in lines {
            let Some(paragraph) = copy.paragraphs.get(line.set.paragraph) else { continue };
            let form = brief.typography.of(line.kind);
            let set = &line.set;
            drawing.items.push(DrawingItem::Line(Line {
                kind: line.kind,
                text: line.text.clone(),
                rect: Rect { x: set.x, y: set.top, width: set.width, height: set.leading },
                baseline: set.baseline,
                over: set.over,
                runs: glyphs::of_line(set, paragraph, &form.font, form.size),
            }));
        }
        drawing
    }

    /// Adds a frame round the place that has to stay quiet.
    pub fn with_quiet(mut self, rect: Rect) -> Self {
        let name = "quiet".to_owned();
        self.items.push(DrawingItem::Frame(Frame { part: FramePart::Quiet, name, rect, round: Length::ZERO }));
        self
    }

    /// The edges and places, the outermost first.
    pub fn frames(&self) -> impl Iterator<Item = &Frame> {
        self.items.iter().filter_map(|item| match item {
            DrawingItem::Frame(frame) => Some(frame),
            DrawingItem::Line(_) => None,
        })
    }

    /// The lines in reading order.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.items.iter().filter_map(|item| match item {
            DrawingItem::Line(line) => Some(line),
            DrawingItem::Frame(_) => None,
        })
    }

    /// The rectangle of one part; the first where there are several.
    pub fn rect_of(&self, part: FramePart) -> Option<Rect> {
        self.frames().find(|frame| frame.part == part).map(|frame| frame.rect)
    }
}
