//! The pictures of a PDF, each once however many pages show it.
//!
//! Sources: ISO 32000-1:2008, 8.9 (images), 7.4.4.4 (Flate with the predictors of PNG), 7.4.8 (JPEG).

use pdf_writer::types::Predictor;
use pdf_writer::{Content, Filter, Name, Pdf, Ref};

use super::packed_art::{PackedArt, packed, samples};
use super::pdf_path::put_path;
use super::shapes::points;
use super::sheet::{Sheet, SheetMark};
use super::sheet_art::SheetArt;
use crate::artwork::picture::ColourModel;

/// The most bytes of all pictures of a document together: with fonts and pages it stays under 5 MB.
const MOST_BYTES: usize = 4_500_000;

/// The pictures of a document.
pub(super) struct PdfArt<'a> {
    pictures: Vec<(&'a SheetArt, PackedArt)>,
}

impl<'a> PdfArt<'a> {
    /// The pictures on some sheets, packed.
    pub(super) fn of(sheets: &'a [Sheet<'_>]) -> Self {
        let mut all: Vec<&SheetArt> = Vec::new();
        for mark in sheets.iter().flat_map(|sheet| &sheet.marks) {
            if let SheetMark::Art(art) = mark
                && !all.iter().any(|known| shows_alike(known, art))
            {
                all.push(art);
            }
        }
        let most = MOST_BYTES / all.len().max(1);
        Self { pictures: all.into_iter().filter_map(|art| Some((art, packed(art, most)?))).collect() }
    }

    /// Draws a picture on a page whose places count from the head.
    pub(super) fn draw(&self, art: &SheetArt, content: &mut Content) {
        let Some(number) = self.pictures.iter().position(|(known, _)| shows_alike(known, art)) else { return };
        let rect = [art.rect.x, art.rect.y, art.rect.width, art.rect.height].map(points);
        let [x, y, width, height] = match self.pictures[number].1 {
            PackedArt::Jpeg(_) => art.whole().map(|points| points as f32),
            PackedArt::Png(_) => rect,
        };
        content.save_state().rect(rect[0], rect[1], rect[2], rect[3]).clip_nonzero().end_path();
        if let Some(form) = &art.form {
            put_path(content, form);
            content.clip_nonzero().end_path();
        }
        // A picture stands upright where places count from the foot, so it is turned over as the page is.
        content.transform([width, 0.0, 0.0, -height, x, y + height]);
        content.x_object(Name(Self::name(number).as_bytes())).restore_state();
    }

    /// The name by which a page's content calls a picture.
    pub(super) fn name(number: usize) -> String {
        format!("P{number}")
    }

    /// Writes the pictures, and gives the object of each by its number; `next` is the first object that is free, and
    /// afterwards the first that is still free.
    pub(super) fn write(&self, pdf: &mut Pdf, next: &mut Ref) -> Vec<Ref> {
        self.pictures.iter().map(|(art, packed)| written(art, packed, pdf, next.bump())).collect()
    }
}

fn written(art: &SheetArt, packed: &PackedArt, pdf: &mut Pdf, at: Ref) -> Ref {
    match packed {
        PackedArt::Jpeg(jpeg) => {
            let picture = &art.file.picture;
            let mut image = pdf.image_xobject(at, jpeg);
            image.width(picture.width as i32).height(picture.height as i32).bits_per_component(8);
            image.filter(Filter::DctDecode);
            match picture.model {
                ColourModel::Grey => image.color_space().device_gray(),
                ColourModel::Rgb | ColourModel::Cmyk => image.color_space().device_rgb(),
            };
        }
        PackedArt::Png(pixels) => {
            let samples = samples(&pixels.bytes);
            let (columns, rows) = (pixels.columns as i32, pixels.rows as i32);
            let mut image = pdf.image_xobject(at, &samples);
            image.width(columns).height(rows).bits_per_component(8).filter(Filter::FlateDecode);
            image.color_space().device_rgb();
            image.decode_parms().predictor(Predictor::PngOptimum).colors(3).bits_per_component(8).columns(columns);
        }
    }
    at
}

/// Whether two pictures have the same pixels at the same size.
fn shows_alike(one: &SheetArt, other: &SheetArt) -> bool {
    let size = |art: &SheetArt| (art.rect.width, art.rect.height);
    one.file == other.file && one.source == other.source && size(one) == size(other)
}
