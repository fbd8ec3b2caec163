//! What a file of art has in it, and how large a picture may be.

use std::sync::Arc;

use super::fault::ArtFault;
use super::ground::Ground;
use super::grounds::{GroundMade, GroundOf, KeptGrounds};
use super::picture::Picture;
use super::samples::InkTotals;
use crate::units::Rect;

/// What a file of art has in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ArtFile {
    /// The pixels.
    pub picture: Picture,
    /// The name of the file's colour profile where it is not sRGB's; what is told of its colours is then rougher.
    pub profile: Option<String>,
    /// What a picture in four inks takes of them; none for any other.
    pub inks: Option<InkTotals>,
    /// The file's own bytes where they are a JPEG of shades or of screen colours whose pixels are those of `picture`:
    /// a proof may take them over as they are.
    pub jpeg: Option<Arc<[u8]>>,
    /// The grounds that were made of the picture.
    pub grounds: KeptGrounds,
}

impl ArtFile {
    /// The light of the picture where it lies on a face, made once and kept.
    pub fn ground(&self, of: &GroundOf) -> Arc<Ground> {
        self.grounds.ground(&self.picture, of)
    }

    /// What is made of the light of the picture where it lies on a face, made once and kept.
    pub fn made_ground(&self, of: &GroundOf, made: GroundMade) -> Arc<Ground> {
        self.grounds.made(&self.picture, of, made)
    }

    /// The colours of a rectangle of a face on which the picture lies, in `size` columns and rows, row by row: the mean
    /// light of each as a colour of sRGB. Made once and kept.
    pub fn colours(&self, of: &GroundOf, part: Rect, size: (usize, usize)) -> Arc<Vec<[u8; 3]>> {
        self.grounds.colours(&self.picture, of, part, size)
    }
}

/// The longest side, in pixels: a cover of a metre has as many at 500 to the inch.
const LONGEST_SIDE: usize = 20_000;
/// The most pixels: a wide cover with its flaps has half as many at 600 to the inch.
const MOST_PIXELS: usize = 150_000_000;

/// What to do where a file is none that can be read.
pub(super) const EXPORT: &str = "export the art as JPEG, PNG or TIFF, with 300 pixels to the inch at its printed size";

/// Refuses a picture that is larger than any cover, and one without pixels.
pub(super) fn check_size(width: usize, height: usize) -> Result<(), ArtFault> {
    if width == 0 || height == 0 {
        return Err(ArtFault::new(format!("the picture has {width} x {height} pixels, so nothing is in it"), EXPORT));
    }
    let problem = if width.max(height) > LONGEST_SIDE {
        format!("the picture has {width} x {height} pixels, and no side may have more than {LONGEST_SIDE}")
    } else if width * height > MOST_PIXELS {
        format!("the picture has {width} x {height} pixels, and {} million are the most", MOST_PIXELS / 1_000_000)
    } else {
        return Ok(());
    };
    Err(ArtFault::new(problem, "save it smaller: 300 pixels to the inch are enough"))
}
