//! Sheets as a PDF: one page each, at true size, with embedded fonts and words that can be searched in reading order.
//!
//! Source: ISO 32000-1:2008 (PDF 1.7).

use pdf_writer::{Content, Filter, Finish, Name, Pdf, Ref, Settings, Str, TextStr};

use super::cff::units;
use super::embedded::{Cluster, EmbeddedFonts, LetterCode};
use super::pdf_art::PdfArt;
use super::pdf_path::put_path;
use super::pdf_stream::{deflated, fingerprint};
use super::seal;
use super::shapes::points;
use super::sheet::{Ink, Sheet, SheetMark, Stroke};
use crate::setting::Faces;
use crate::setting::glyphs::{GlyphRun, PlacedGlyph};
use crate::setting::outline::PathStep;
use crate::setting::stretch::WidthFactor;
use crate::units::{Length, Rect};

/// The sheets as the bytes of a PDF; equal sheets give equal bytes.
pub fn written(sheets: &[Sheet<'_>]) -> Vec<u8> {
    let mut pdf = Pdf::with_settings(Settings { pretty: false });
    let mut next = Ref::new(1);
    let [catalog, tree, info, resources] = std::array::from_fn(|_| next.bump());
    let pages: Vec<[Ref; 2]> = sheets.iter().map(|_| [next.bump(), next.bump()]).collect();
    pdf.catalog(catalog).pages(tree);
    pdf.pages(tree).count(pages.len() as i32).kids(pages.iter().map(|[page, _]| *page));
    let (mut fonts, mut opacities) = (EmbeddedFonts::default(), Vec::new());
    let art = PdfArt::of(sheets);
    for (sheet, [page_at, content_at]) in sheets.iter().zip(pages) {
        let mut page = pdf.page(page_at);
        page.parent(tree).contents(content_at).pair(Name(b"Resources"), resources);
        let whole = Rect { width: sheet.size.width, height: sheet.size.height, ..Rect::default() };
        page.media_box(page_box(&whole, sheet));
        page.bleed_box(page_box(&sheet.bleed, sheet)).trim_box(page_box(&sheet.trim, sheet));
        page.finish();
        let (faces, content) = (sheet.faces, Content::new());
        let mut painter = PagePainter { faces, fonts: &mut fonts, art: &art, opacities: &mut opacities, content };
        // Places on a sheet count from its head, places on a page from its foot.
        painter.content.transform([1.0, 0.0, 0.0, -1.0, 0.0, points(sheet.size.height)]);
        for mark in &sheet.marks {
            painter.paint(mark);
        }
        let content = deflated(&painter.content.finish());
        pdf.stream(content_at, &content).filter(Filter::FlateDecode);
    }
    let fonts = fonts.write(&mut pdf, &mut next);
    let pictures = art.write(&mut pdf, &mut next);
    write_resources(&mut pdf, resources, (&fonts, &pictures, &opacities));
    let title = sheets.first().map_or("", |sheet| sheet.title.as_str());
    pdf.document_info(info).title(TextStr(title)).producer(TextStr(seal::BLANK));
    let id = fingerprint(pdf.as_bytes()).to_be_bytes().to_vec();
    pdf.set_file_id((id.clone(), id));
    seal::sealed(pdf.finish())
}

/// Writes the dictionary in which all pages find fonts, pictures and opacities by their names.
fn write_resources(pdf: &mut Pdf, at: Ref, (fonts, pictures, opacities): (&[Ref], &[Ref], &[f64])) {
    let mut dict = pdf.indirect(at).dict();
    let mut names = dict.insert(Name(b"Font")).dict();
    for (number, font) in fonts.iter().enumerate() {
        names.pair(Name(EmbeddedFonts::name(number).as_bytes()), *font);
    }
    names.finish();
    let mut names = dict.insert(Name(b"XObject")).dict();
    for (number, picture) in pictures.iter().enumerate() {
        names.pair(Name(PdfArt::name(number).as_bytes()), *picture);
    }
    names.finish();
    let mut names = dict.insert(Name(b"ExtGState")).dict();
    for (number, opacity) in opacities.iter().enumerate() {
        let mut state = names.insert(Name(opacity_name(number).as_bytes())).dict();
        state.pair(Name(b"ca"), *opacity as f32);
    }
}

/// The name by which a page's content calls an opacity.
fn opacity_name(number: usize) -> String {
    format!("O{number}")
}

/// A rectangle of a sheet, which counts from the head, as a box of its page, which counts from the foot.
fn page_box(area: &Rect, sheet: &Sheet<'_>) -> pdf_writer::Rect {
    let height = sheet.size.height;
    let [left, right] = [area.x, area.right()].map(points);
    let [foot, head] = [height - area.foot(), height - area.y].map(points);
    pdf_writer::Rect::new(left, foot, right, head)
}

/// Draws the marks of one page.
struct PagePainter<'a, 'f> {
    faces: &'a Faces,
    fonts: &'f mut EmbeddedFonts<'a>,
    art: &'f PdfArt<'a>,
    /// The opacities of all pages so far.
    opacities: &'f mut Vec<f64>,
    content: Content,
}

/// A letter and where it stands.
#[derive(Clone, Copy)]
struct PlacedLetter {
    code: LetterCode,
    /// How far the letter stands from the left edge of the sheet, in points.
    x: f64,
    /// The letter's baseline.
    y: Length,
}

impl PagePainter<'_, '_> {
    fn paint(&mut self, mark: &SheetMark) {
        match mark {
            SheetMark::Tint(shape, ink) => {
                self.fill(*ink);
                put_path(&mut self.content, shape);
                self.content.fill_nonzero();
            }
            SheetMark::Drawn(shape, stroke) => {
                self.pen(stroke);
                put_path(&mut self.content, shape);
                self.content.stroke();
            }
            SheetMark::Veil(shape, ink, opacity) => self.veil(shape, *ink, *opacity),
            SheetMark::Art(art) => self.art.draw(art, &mut self.content),
            SheetMark::Glyphs(run, ink) => self.letters(run, *ink),
        }
    }

    fn veil(&mut self, shape: &[PathStep], ink: Ink, opacity: f64) {
        let known = self.opacities.iter().position(|known| *known == opacity);
        let number = known.unwrap_or_else(|| {
            self.opacities.push(opacity);
            self.opacities.len() - 1
        });
        self.content.save_state().set_parameters(Name(opacity_name(number).as_bytes()));
        self.fill(ink);
        put_path(&mut self.content, shape);
        self.content.fill_nonzero().restore_state();
    }

    fn fill(&mut self, ink: Ink) {
        let [red, green, blue] = colour(ink);
        self.content.set_fill_rgb(red, green, blue);
    }

    fn pen(&mut self, stroke: &Stroke) {
        let [red, green, blue] = colour(stroke.ink);
        let dashes = stroke.dash.map(|dash| [points(dash); 2]);
        self.content
            .set_stroke_rgb(red, green, blue)
            .set_line_width(points(stroke.width))
            .set_dash_pattern(dashes.into_iter().flatten(), 0.0);
    }

    fn letters(&mut self, run: &GlyphRun, ink: Ink) {
        let family = self.faces.family(&run.font);
        let stretch = family.stretch().map_or(1.0, WidthFactor::to_f64);
        let face = family.face(run.emphasis);
        let clusters = run.glyphs.chunk_by(|one, next| one.text == next.text);
        let letters: Vec<PlacedLetter> = clusters
            .filter_map(|glyphs| {
                let first = glyphs.first()?;
                let code = self.fonts.code(face, cluster(run, glyphs, stretch));
                Some(PlacedLetter { code, x: first.at.x.to_pt(), y: first.at.y })
            })
            .collect();
        if letters.is_empty() {
            return;
        }
        self.fill(ink);
        self.content.begin_text();
        for stretch_of in letters.chunk_by(|one, next| one.y == next.y && one.code.font == next.code.font) {
            self.show(stretch_of, run.size, stretch);
        }
        self.content.end_text();
    }

    /// Shows letters of one font on one baseline. Where the next letter does not stand at the end of the one before it,
    /// for kerning or justification, it is moved by what is written between them.
    fn show(&mut self, letters: &[PlacedLetter], size: Length, stretch: f64) {
        let Some(first) = letters.first() else { return };
        let name = EmbeddedFonts::name(first.code.font);
        self.content.set_font(Name(name.as_bytes()), points(size));
        // The page is turned over, and its letters are turned back.
        self.content.set_text_matrix([stretch as f32, 0.0, 0.0, -1.0, first.x as f32, points(first.y)]);
        let thousandth = size.to_pt() * stretch / 1000.0;
        let mut line = self.content.show_positioned();
        let mut items = line.items();
        let mut codes: Vec<u8> = Vec::new();
        // Where the reader of the file will put the next letter, in thousandths of the size.
        let mut pen = 0.0;
        for letter in letters {
            let off = pen - (letter.x - first.x) / thousandth;
            let moved = (off * MOVES_PER_THOUSANDTH).round() / MOVES_PER_THOUSANDTH;
            if moved != 0.0 {
                items.show(Str(&codes)).adjust(moved as f32);
                codes.clear();
                pen -= moved;
            }
            codes.extend(letter.code.code.to_be_bytes());
            pen += letter.code.advance;
        }
        items.show(Str(&codes));
    }
}

/// How finely a letter is moved: by hundredths of a thousandth of the size.
const MOVES_PER_THOUSANDTH: f64 = 100.0;

/// The glyphs of one cluster, their places counted from the first of them in ems, before stretching.
fn cluster(run: &GlyphRun, glyphs: &[PlacedGlyph], stretch: f64) -> Cluster {
    let size = run.size.to_pt();
    let first = glyphs.first().map_or_else(Default::default, |first| first.at);
    let place = |glyph: &PlacedGlyph| {
        let right = (glyph.at.x - first.x).to_pt() / size / stretch;
        let up = (first.y - glyph.at.y).to_pt() / size;
        (glyph.id, [right, up].map(units))
    };
    let text = glyphs.first().and_then(|first| run.text.get(first.text.clone())).unwrap_or_default();
    Cluster { glyphs: glyphs.iter().map(place).collect(), text: text.to_owned() }
}

/// Red, green and blue, each from 0 to 1.
fn colour(ink: Ink) -> [f32; 3] {
    ink.rgb().map(|part| f32::from(part) / 255.0)
}
