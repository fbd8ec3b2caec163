//! The grounds that were made of a picture, so that each is made once, however often copy is set on it.

use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};

use super::ground::{CoveredRows, Ground, Quarter, TintLight};
use super::picture::{Picture, PixelRect};
use crate::units::{Length, Rect};

/// The most grounds that are kept of a picture: its own, and those of the tints of some places.
const MOST_KEPT: usize = 8;

/// What a ground is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundOf {
    /// Where on a face the art lies.
    pub rect: Rect,
    /// The part of the picture that lies there.
    pub source: PixelRect,
    /// A tint over a part of the face; beyond that part nothing is known of such a ground.
    pub tint: Option<(TintLight, Rect)>,
}

/// What is made of a ground.
#[derive(Debug, Clone, PartialEq)]
pub enum GroundMade {
    /// The ground turned, to lie in an area.
    Turned(Quarter, Rect),
    /// The ground over that of the face, on the stretches that it covers, with so much of the face's round it.
    Over(Option<Arc<Ground>>, CoveredRows, Length),
}

/// Grounds with what they were made of, in the order in which they were made.
type MadeGrounds = Vec<((GroundOf, GroundMade), Arc<Ground>)>;

/// The grounds of a picture that were asked for last. All of them follow from the picture, so they are no part of its
/// value: any two are equal, and those of a copy are made anew.
#[derive(Default)]
pub struct KeptGrounds {
    grounds: Mutex<LastGrounds>,
    made: Mutex<MadeGrounds>,
    grids: Mutex<LastGrids>,
}

/// How many grids of colours are kept: those of the faces that a screen shows at once.
const MOST_GRIDS: usize = 4;

/// Grids of colours, each with the ground, the rectangle of the face, and the columns and rows that it was made of.
type LastGrids = Vec<((GroundOf, Rect, (usize, usize)), Arc<Vec<[u8; 3]>>)>;

/// Grounds in the order in which they were last asked for.
#[derive(Default)]
struct LastGrounds(Vec<(GroundOf, Arc<Ground>)>);

impl LastGrounds {
    fn get(&mut self, of: &GroundOf, make: impl FnOnce() -> Ground) -> Arc<Ground> {
        let found = match self.0.iter().position(|(known, _)| known == of) {
            Some(at) => self.0.remove(at),
            None => (*of, Arc::new(make())),
        };
        let ground = Arc::clone(&found.1);
        if self.0.len() >= MOST_KEPT {
            self.0.remove(0);
        }
        self.0.push(found);
        ground
    }
}

impl KeptGrounds {
    /// A ground of the picture that these are the grounds of. The first time takes some tens of milliseconds for a
    /// picture of 2625 by 2625 pixels; whoever asks at the same time waits for it.
    pub(super) fn ground(&self, picture: &Picture, of: &GroundOf) -> Arc<Ground> {
        // A ground is put in whole, so what a thread that failed has left behind can be used.
        let mut kept = self.grounds.lock().unwrap_or_else(PoisonError::into_inner);
        let bare = GroundOf { tint: None, ..*of };
        let bare = kept.get(&bare, || Ground::of(picture, &of.source, of.rect));
        match &of.tint {
            None => bare,
            Some((tint, part)) => kept.get(of, || bare.part(part).tinted(tint)),
        }
    }

    /// What is made of a ground of the picture. A tint is laid over it afterwards, wherever it goes.
    pub(super) fn made(&self, picture: &Picture, of: &GroundOf, made: GroundMade) -> Arc<Ground> {
        let ground = self.ground(picture, &GroundOf { tint: None, ..*of });
        let mut kept = self.made.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (*of, made);
        if let Some((_, known)) = kept.iter().find(|(known, _)| *known == key) {
            return Arc::clone(known);
        }
        let bare = match &key.1 {
            GroundMade::Turned(to, area) => ground.turned(*to, *area),
            GroundMade::Over(below, covered, past) => ground.laid_over(below.as_deref(), covered, *past),
        };
        let found = Arc::new(of.tint.map_or_else(|| bare.clone(), |(tint, _)| bare.tinted(&tint)));
        if kept.len() >= MOST_KEPT {
            kept.remove(0);
        }
        kept.push((key, Arc::clone(&found)));
        found
    }

    /// The colours of a rectangle of the face in so many columns and rows, row by row, as a screen shows them.
    pub(super) fn colours(
        &self,
        picture: &Picture,
        of: &GroundOf,
        part: Rect,
        size: (usize, usize),
    ) -> Arc<Vec<[u8; 3]>> {
        let mut kept = self.grids.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (*of, part, size);
        if let Some((_, grid)) = kept.iter().find(|(known, _)| *known == key) {
            return Arc::clone(grid);
        }
        let grid = Arc::new(self.ground(picture, of).colours(&part, size.0, size.1));
        if kept.len() >= MOST_GRIDS {
            kept.remove(0);
        }
        kept.push((key, Arc::clone(&grid)));
        grid
    }
}

impl Clone for KeptGrounds {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl PartialEq for KeptGrounds {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for KeptGrounds {}

impl fmt::Debug for KeptGrounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("KeptGrounds")
    }
}
