//! The grounds that were made of a picture, so that each is made once, however often copy is set on it.

use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};

use super::ground::{Ground, TintLight};
use super::picture::{Picture, PixelRect};
use crate::units::Rect;

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

/// The grounds of a picture that were asked for last. They are known from the picture, so they are no part of what it
/// is: any two are equal, and those of a copy are made anew.
#[derive(Default)]
pub struct KeptGrounds(Mutex<LastGrounds>);

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
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let bare = GroundOf { tint: None, ..*of };
        let bare = kept.get(&bare, || Ground::of(picture, &of.source, of.rect));
        match &of.tint {
            None => bare,
            Some((tint, part)) => kept.get(of, || bare.part(part).tinted(tint)),
        }
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
