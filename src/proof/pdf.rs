//! Sheets as a PDF: one page each, at true size, with embedded fonts and words that can be searched in reading order.

use std::collections::BTreeSet;

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point as PdfPoint, Rect as PdfRect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font as PdfFont, GlyphId, KrillaGlyph, Tag};
use krilla::{Data, Document};

use super::MARK;
use super::shapes::points;
use super::sheet::{Ink, Sheet, SheetMark, Stroke};
use crate::brief::typography::Font;
use crate::draft::Emphasis;
use crate::setting::Faces;
use crate::setting::glyphs::GlyphRun;
use crate::setting::outline::PathStep;
use crate::setting::stretch::WidthFactor;
use crate::units::{Length, Rect};

/// The sheets as the bytes of a PDF; equal sheets give equal bytes.
///
/// # Errors
///
/// A sentence without a full stop where a font cannot be put into the file.
pub fn written(sheets: &[Sheet<'_>]) -> Result<Vec<u8>, String> {
    let mut document = Document::new();
    let title = sheets.first().map_or(String::new(), |sheet| sheet.title.clone());
    document.set_metadata(Metadata::new().title(title).producer(MARK.to_owned()));
    for sheet in sheets {
        let Some(settings) = PageSettings::from_wh(points(sheet.size.width), points(sheet.size.height)) else {
            continue;
        };
        let settings = settings.with_trim_box(rect(&sheet.trim)).with_bleed_box(rect(&sheet.bleed));
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        let mut painter = Painter { faces: sheet.faces, fonts: Vec::new(), surface: &mut surface };
        for mark in &sheet.marks {
            painter.paint(mark)?;
        }
        surface.finish();
        page.finish();
    }
    let fonts: BTreeSet<String> = sheets.iter().flat_map(|sheet| &sheet.marks).filter_map(font_of).collect();
    document.finish().map_err(|_| {
        let names = fonts.into_iter().collect::<Vec<_>>().join(" or ");
        format!("the font {names} cannot be put into a PDF; try SVG or PNG, or another copy of the font")
    })
}

/// The name of a mark's font, if that is not built in: a built-in font cannot be at fault.
fn font_of(mark: &SheetMark) -> Option<String> {
    match mark {
        SheetMark::Glyphs(run, _) if !run.font.is_built_in() => Some(run.font.to_string()),
        SheetMark::Glyphs(..) | SheetMark::Tint(..) | SheetMark::Drawn(..) => None,
    }
}

/// Draws the marks of one page.
struct Painter<'a, 'p> {
    faces: &'a Faces,
    fonts: Vec<(Font, Emphasis, PdfFont)>,
    surface: &'a mut Surface<'p>,
}

impl Painter<'_, '_> {
    fn paint(&mut self, mark: &SheetMark) -> Result<(), String> {
        match mark {
            SheetMark::Tint(shape, ink) => self.draw(shape, Some(fill(*ink)), None),
            SheetMark::Drawn(shape, stroke) => self.draw(shape, None, Some(pen(stroke))),
            SheetMark::Glyphs(run, ink) => return self.letters(run, *ink),
        }
        Ok(())
    }

    fn draw(&mut self, shape: &[PathStep], fill: Option<Fill>, stroke: Option<PdfStroke>) {
        self.surface.set_fill(fill);
        self.surface.set_stroke(stroke);
        if let Some(path) = path(shape) {
            self.surface.draw_path(&path);
        }
    }

    fn letters(&mut self, run: &GlyphRun, ink: Ink) -> Result<(), String> {
        let Some(first) = run.glyphs.first() else { return Ok(()) };
        let font = self.font(run)?;
        let stretch = self.faces.family(&run.font).stretch().map(WidthFactor::to_f64);
        let placed = glyphs_of(run, stretch.unwrap_or(1.0));
        let start = PdfPoint::from_xy((first.at.x.to_pt() / stretch.unwrap_or(1.0)) as f32, points(first.at.y));
        self.surface.set_fill(Some(fill(ink)));
        self.surface.set_stroke(None);
        if let Some(stretch) = stretch {
            self.surface.push_transform(&Transform::from_scale(stretch as f32, 1.0));
        }
        self.surface.draw_glyphs(start, &placed, font, &run.text, points(run.size), false);
        if stretch.is_some() {
            self.surface.pop();
        }
        Ok(())
    }

    fn font(&mut self, run: &GlyphRun) -> Result<PdfFont, String> {
        let known = self.fonts.iter().find(|(font, emphasis, _)| *font == run.font && *emphasis == run.emphasis);
        if let Some((_, _, font)) = known {
            return Ok(font.clone());
        }
        let face = self.faces.family(&run.font).face(run.emphasis);
        let variations: Vec<_> = face.variations().map(|(axis, value)| (Tag::new(&axis), value)).collect();
        let font = PdfFont::new_variable(Data::from(face.bytes().to_vec()), face.index(), &variations)
            .ok_or_else(|| format!("the font {} cannot be put into a PDF; try SVG or PNG", run.font))?;
        self.fonts.push((run.font.clone(), run.emphasis, font.clone()));
        Ok(font)
    }
}

/// The glyphs of a run with their advances in ems, before stretching.
fn glyphs_of(run: &GlyphRun, stretch: f64) -> Vec<KrillaGlyph> {
    let size = run.size.to_pt();
    let first = run.glyphs.first().map_or(Length::ZERO, |first| first.at.y);
    let next = run.glyphs.iter().skip(1).chain(run.glyphs.last());
    let placed = run.glyphs.iter().zip(next).map(|(glyph, next)| {
        let across = (next.at.x - glyph.at.x).to_pt() / stretch / size;
        let up = (first - glyph.at.y).to_pt() / size;
        KrillaGlyph::new(GlyphId::new(glyph.id), across as f32, 0.0, up as f32, 0.0, glyph.text.clone(), None)
    });
    placed.collect()
}

fn fill(ink: Ink) -> Fill {
    Fill { paint: colour(ink).into(), ..Fill::default() }
}

fn pen(stroke: &Stroke) -> PdfStroke {
    PdfStroke {
        paint: colour(stroke.ink).into(),
        width: points(stroke.width),
        opacity: NormalizedF32::ONE,
        dash: stroke.dash.map(|dash| StrokeDash { array: vec![points(dash); 2], offset: 0.0 }),
        ..PdfStroke::default()
    }
}

fn colour(ink: Ink) -> rgb::Color {
    let [red, green, blue] = ink.rgb();
    rgb::Color::new(red, green, blue)
}

fn path(steps: &[PathStep]) -> Option<Path> {
    let mut path = PathBuilder::new();
    for step in steps {
        match *step {
            PathStep::Move([x, y]) => path.move_to(x, y),
            PathStep::Line([x, y]) => path.line_to(x, y),
            PathStep::Quad([x1, y1], [x, y]) => path.quad_to(x1, y1, x, y),
            PathStep::Curve([x1, y1], [x2, y2], [x, y]) => path.cubic_to(x1, y1, x2, y2, x, y),
            PathStep::Close => path.close(),
        }
    }
    path.finish()
}

fn rect(area: &Rect) -> Option<PdfRect> {
    PdfRect::from_xywh(points(area.x), points(area.y), points(area.width), points(area.height))
}
