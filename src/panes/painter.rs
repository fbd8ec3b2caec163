//! The thread that draws faces for terminals that show pictures, and puts them into the terminal's own form.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Sender, channel};
use std::thread;
use std::time::Duration;

use super::FacePicture;
use crate::pictures::{PictureForm, kitty, sixel};
use crate::setting::Faces;

/// Faces are drawn once nothing new has been asked for during this time.
pub const CALM: Duration = Duration::from_millis(40);
/// The longer time after which faces are drawn for a terminal at the far end of a line, where a picture is long under
/// way.
const CALM_AFAR: Duration = Duration::from_millis(400);
/// A picture of sixels goes to the terminal in at most this many strips, so that keys are heard between them. Some
/// terminals keep no more than sixteen pictures on a screen, and a screen has up to two faces.
const STRIPS: u16 = 4;
/// The data of several chunks that are written at once, in bytes.
const AT_ONCE: usize = 16 * 1024;

/// How faces are to be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Canvas {
    pub(crate) form: PictureForm,
    /// The pixels of a cell, across and down.
    pub(crate) cell: (u16, u16),
    /// How many pixels of the terminal one of the picture's stands for, across and down.
    pub(crate) coarseness: u16,
}

/// What is to be drawn.
pub(crate) struct PaintWish {
    pub(crate) faces: Arc<Faces>,
    pub(crate) pictures: Vec<FacePicture>,
    pub(crate) canvas: Canvas,
}

/// Faces that were drawn, with the number of the wish.
pub(crate) struct Painted {
    pub(crate) number: usize,
    pub(crate) pictures: Vec<PaintedFace>,
}

/// A face in the terminal's own form.
pub(crate) struct PaintedFace {
    pub(crate) face: FacePicture,
    /// The number under which a terminal of kitty's protocol keeps it.
    pub(crate) id: u32,
    pub(crate) pieces: Vec<PicturePiece>,
}

/// A part of a picture that is written at once.
pub(crate) struct PicturePiece {
    /// The row of cells where it begins, from the head of the picture.
    pub(crate) row: u16,
    pub(crate) bytes: Vec<u8>,
}

/// The thread that draws.
pub(crate) struct Painter {
    asked: Sender<(usize, PaintWish)>,
    latest: Arc<AtomicUsize>,
}

impl Painter {
    /// Starts the thread. Of the wishes that arrive before a pause only the last is drawn, and `paint` is handed what
    /// was drawn unless something newer was asked for meanwhile.
    pub(crate) fn start(is_afar: bool, paint: impl Fn(Painted) -> bool + Send + 'static) -> Self {
        let (asked, wishes) = channel::<(usize, PaintWish)>();
        let latest = Arc::new(AtomicUsize::new(0));
        let current = Arc::clone(&latest);
        let calm = if is_afar { CALM_AFAR } else { CALM };
        thread::spawn(move || {
            // Numbers of other programs' pictures are unlikely to be among these.
            let mut id = std::process::id().wrapping_mul(1024) | 0x4000_0000;
            while let Ok((mut number, mut wish)) = wishes.recv() {
                while let Ok(newer) = wishes.recv_timeout(calm) {
                    (number, wish) = newer;
                }
                let mut drawn = Vec::new();
                for face in wish.pictures {
                    id += 1;
                    // A font that is damaged is told where its letters are set; here there is no picture.
                    let pieces = catch_unwind(AssertUnwindSafe(|| pieces(&face, &wish.faces, wish.canvas, id)));
                    drawn.extend(pieces.ok().flatten().map(|pieces| PaintedFace { face, id, pieces }));
                }
                if current.load(Ordering::Relaxed) == number && !paint(Painted { number, pictures: drawn }) {
                    return;
                }
            }
        });
        Self { asked, latest }
    }

    /// Asks for faces to be drawn, and returns the number of the wish; what was asked for before is abandoned.
    pub(crate) fn ask(&self, wish: PaintWish) -> usize {
        let number = self.latest.fetch_add(1, Ordering::Relaxed) + 1;
        // If the thread is gone, sending fails: faces are drawn in cells, and the desk goes on.
        drop(self.asked.send((number, wish)));
        number
    }
}

/// The height of a picture in a whole number of bands, so that nothing of it reaches into the cells below.
fn whole_bands(pixels: u16) -> u16 {
    pixels - pixels % sixel::BAND as u16
}

/// A face in the terminal's form; none where it cannot be shown.
fn pieces(face: &FacePicture, faces: &Faces, canvas: Canvas, id: u32) -> Option<Vec<PicturePiece>> {
    let (width, height) = (face.area.width.checked_mul(canvas.cell.0)?, face.area.height.checked_mul(canvas.cell.1)?);
    match canvas.form {
        PictureForm::Kitty => {
            let (width, height) = (width / canvas.coarseness, height / canvas.coarseness);
            let raster = face.raster(faces, width, height);
            let mut pieces: Vec<PicturePiece> = Vec::new();
            for chunk in kitty::data(&raster, id) {
                match pieces.last_mut().filter(|piece| piece.bytes.len() + chunk.len() <= AT_ONCE) {
                    Some(piece) => piece.bytes.extend_from_slice(&chunk),
                    None => pieces.push(PicturePiece { row: 0, bytes: chunk }),
                }
            }
            Some(pieces)
        }
        PictureForm::Sixel { widest, .. } if width > widest => None,
        PictureForm::Sixel { colours, .. } => {
            let raster = face.raster(faces, width, whole_bands(height));
            let strip = |row: u16| {
                let pixels = |row: u16| usize::from(row) * usize::from(canvas.cell.1);
                let rows = pixels(row)..pixels(row + strip_of(face.area.height, canvas.cell.1));
                PicturePiece { row, bytes: sixel::sequence(&raster, rows, colours) }
            };
            let step = usize::from(strip_of(face.area.height, canvas.cell.1));
            let strips = (0..face.area.height).step_by(step).map(strip);
            Some(strips.filter(|piece| !piece.bytes.is_empty()).collect())
        }
    }
}

/// The rows of cells in a strip: as few as make a whole number of bands and no more than `STRIPS` strips.
fn strip_of(rows: u16, cell: u16) -> u16 {
    let bands = |rows: &u16| (u32::from(*rows) * u32::from(cell)).is_multiple_of(sixel::BAND as u32);
    let least = rows.div_ceil(STRIPS).max(1);
    (least..least + sixel::BAND as u16).find(bands).unwrap_or(least)
}

#[cfg(test)]
mod tests {
    use super::{STRIPS, strip_of, whole_bands};

    #[test]
    fn strips_are_whole_bands_and_few() {
        for rows in 1..200 {
            for cell in 1..60 {
                let strip = strip_of(rows, cell);
                assert_eq!(strip * cell % 6, 0, "{rows} rows of {cell}");
                assert!(rows.div_ceil(strip) <= STRIPS, "{rows} rows of {cell}");
                assert!(whole_bands(rows * cell) <= rows * cell && rows * cell - whole_bands(rows * cell) < 6);
            }
        }
    }
}
