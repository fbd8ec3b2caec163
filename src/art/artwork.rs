//! A file of art with the grounds that were made of it, so that each is made once.

use std::sync::{Arc, Mutex, PoisonError};

use super::art_file::ArtFile;
use super::ground::{Ground, TintLight};
use super::placement::PlacedArt;
use crate::units::Rect;

/// The most grounds that are kept: a face's own and its tinted one, with those of the placement tried before.
const MOST_KEPT: usize = 4;

/// What a ground is made from.
type GroundKey = (PlacedArt, Option<TintLight>);

/// How many grids of colours are kept: those of the faces that a screen shows at once.
const MOST_GRIDS: usize = 4;

/// What a grid of colours is made from: how the art is placed, the rectangle of the face, and its columns and rows.
type GridKey = (PlacedArt, Rect, (usize, usize));

/// A file of art, read, with its grounds as they are asked for. Shared by every copy of a brief that names the file.
#[derive(Debug)]
pub struct Artwork {
    /// The file.
    pub file: ArtFile,
    /// The grounds, the one asked for last at the end.
    grounds: Mutex<Vec<(GroundKey, Arc<Ground>)>>,
    /// The colours that a screen shows of the bare ground, the ones asked for last at the end.
    grids: Mutex<Vec<(GridKey, Arc<Vec<[u8; 3]>>)>>,
}

impl Artwork {
    /// A file of art of which no ground was made yet.
    pub fn new(file: ArtFile) -> Self {
        Self { file, grounds: Mutex::default(), grids: Mutex::default() }
    }

    /// The ground of the art where it is placed, with a tint over all of it or without. The first time takes some tens
    /// of milliseconds for a picture of 2625 by 2625 pixels, and a second one at once waits for the first.
    pub fn ground(&self, placed: &PlacedArt, tint: Option<&TintLight>) -> Arc<Ground> {
        // A ground is put in whole, so what a thread that failed has left behind can be used.
        let mut kept = self.grounds.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (*placed, tint.copied());
        if let Some(at) = kept.iter().position(|(known, _)| *known == key) {
            let found = kept.remove(at);
            let ground = Arc::clone(&found.1);
            kept.push(found);
            return ground;
        }
        let bare = kept.iter().find(|(known, _)| *known == (*placed, None)).map(|(_, ground)| Arc::clone(ground));
        let bare = bare.unwrap_or_else(|| Arc::new(Ground::of(&self.file.picture, placed)));
        let ground = tint.map_or_else(|| Arc::clone(&bare), |tint| Arc::new(bare.tinted(tint)));
        if kept.len() >= MOST_KEPT {
            kept.remove(0);
        }
        kept.push((key, Arc::clone(&ground)));
        ground
    }
    /// The colours of a rectangle of the face in so many columns and rows, row by row, without a tint.
    pub fn colours(&self, placed: &PlacedArt, part: Rect, size: (usize, usize)) -> Arc<Vec<[u8; 3]>> {
        let key = (*placed, part, size);
        let mut kept = self.grids.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, grid)) = kept.iter().find(|(known, _)| *known == key) {
            return Arc::clone(grid);
        }
        let grid = Arc::new(self.ground(placed, None).colours(&part, size.0, size.1));
        if kept.len() >= MOST_GRIDS {
            kept.remove(0);
        }
        kept.push((key, Arc::clone(&grid)));
        grid
    }
}
