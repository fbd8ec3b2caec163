//! The part of a picture that lies on the spine, laid down with it so that the title reads upright.

use std::sync::Arc;

use super::placement::PlacedArt;
use crate::artwork::ground::Quarter;
use crate::artwork::picture::{Picture, PixelRect};
use crate::artwork::{ArtFile, Ground, GroundMade, GroundOf};
use crate::brief::cover::SpineDirection;
use crate::brief::panel::FaceLayout;
use crate::units::{Length, Rect};

/// How much of a pixel counts as none of it: a quotient may be off by its last digit.
const HAIR: f64 = 1e-6;

/// The art on a spine that was laid down: a picture of its own, cut out and turned by a quarter, and where it lies. The
/// spine's head or foot, whichever is at the left, has the x of zero, and the fold above the y of zero. None where no
/// art lies on the spine.
pub fn on_lying_spine(panel: &FaceLayout<'_>, direction: SpineDirection) -> Option<(Arc<ArtFile>, PlacedArt)> {
    let file = panel.art?.picture.read.as_ref()?;
    let upright = PlacedArt::on_spine(panel, Length::ZERO)?;
    let PixelRect { x, y, width, height } = upright.source;
    let within = |from: f64, length: f64, most: usize| {
        let first = ((from + HAIR).floor().max(0.0) as usize).min(most.saturating_sub(1));
        first..((from + length - HAIR).ceil().max(0.0) as usize).clamp(first + 1, most.max(first + 1))
    };
    let columns = within(x, width, file.picture.width);
    let rows = within(y, height, file.picture.height);
    let picture = turned(&file.picture, &columns, &rows, direction);
    let source = match direction {
        // What was at the head is at the left now, and what was at the right is above.
        SpineDirection::Descending => (y - rows.start as f64, columns.end as f64 - (x + width)),
        SpineDirection::Ascending => (rows.end as f64 - (y + height), x - columns.start as f64),
    };
    let source = PixelRect { x: source.0, y: source.1, width: height, height: width };
    let rect = laid_down(upright.rect, panel, direction, upright.rect.right());
    let (profile, grounds) = (file.profile.clone(), Default::default());
    let lying = ArtFile { picture, profile, inks: None, jpeg: None, grounds };
    let cut = (Length::ZERO, Length::ZERO);
    Some((Arc::new(lying), PlacedArt { rect, source, ppi: upright.ppi, cut }))
}

/// The light of the art on a spine that was laid down, and so far past its folds, where the picture runs on; none where
/// no art lies on the spine. Made once and kept.
pub fn ground_of_spine(panel: &FaceLayout<'_>, direction: SpineDirection, past: Length) -> Option<Arc<Ground>> {
    let file = panel.art?.picture.read.as_ref()?;
    let right = PlacedArt::on_spine(panel, Length::ZERO)?.rect.right();
    let PlacedArt { rect, source, .. } = PlacedArt::on_spine(panel, past)?;
    let to = match direction {
        SpineDirection::Descending => Quarter::Left,
        SpineDirection::Ascending => Quarter::Right,
    };
    let area = laid_down(rect, panel, direction, right);
    Some(file.made_ground(&GroundOf { rect, source, tint: None }, GroundMade::Turned(to, area)))
}

/// Where a rectangle of the panel's coordinates is on the spine that was laid down, whose right fold is at `right`.
fn laid_down(upright: Rect, panel: &FaceLayout<'_>, direction: SpineDirection, right: Length) -> Rect {
    let (x, y) = match direction {
        SpineDirection::Descending => (upright.y, right - upright.right()),
        SpineDirection::Ascending => (panel.edges.height - upright.foot(), upright.x - panel.edges.right()),
    };
    Rect { x, y, width: upright.height, height: upright.width }
}

/// A part of a picture, turned by a quarter: to the left for a title that descends, to the right for one that ascends.
fn turned(
    picture: &Picture,
    columns: &std::ops::Range<usize>,
    rows: &std::ops::Range<usize>,
    direction: SpineDirection,
) -> Picture {
    let down: Vec<usize> = match direction {
        SpineDirection::Descending => columns.clone().rev().collect(),
        SpineDirection::Ascending => columns.clone().collect(),
    };
    let across: Vec<usize> = match direction {
        SpineDirection::Descending => rows.clone().collect(),
        SpineDirection::Ascending => rows.clone().rev().collect(),
    };
    let pixels = down.iter().flat_map(|column| across.iter().map(|row| picture.at(*column, *row))).collect();
    Picture { width: across.len(), height: down.len(), pixels, model: picture.model }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::artwork::picture::ColourModel;
    use crate::brief::Brief;

    /// A cover of two panels of 5 by 5 in and a spine of 1 in, ten pixels to the inch, without bleed: the pixel at
    /// (column, row) has these two as red and green.
    fn spine(direction: SpineDirection) -> (Arc<ArtFile>, PlacedArt) {
        let brief = "panel: { trim: 5 x 5 in, bleed: 0 in, art: { file: cover.png, kind: round, spine: 1 in } }";
        let mut brief = Brief::read(brief, Path::new("")).unwrap();
        let pixels = (0..110 * 50).map(|at| [(at % 110) as u8, (at / 110) as u8, 0]).collect();
        let picture = Picture { width: 110, height: 50, pixels, model: ColourModel::Rgb };
        let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: Default::default() };
        for art in brief.arts_mut() {
            art.fill_in(Path::new("cover.png"), &Arc::new(file.clone()));
        }
        on_lying_spine(&brief.panel.layout(), direction).unwrap()
    }

    #[test]
    fn a_descending_spine_has_its_head_at_the_left_and_the_front_cover_above() {
        let (file, placed) = spine(SpineDirection::Descending);
        assert_eq!((file.picture.width, file.picture.height), (50, 10));
        assert_eq!(placed.rect, Rect { width: Length::inches(5.0), height: Length::inches(1.0), ..Rect::default() });
        // Columns 50 to 59 are the spine's; the front cover's side is 59.
        assert_eq!(
            [file.picture.at(0, 0), file.picture.at(49, 0), file.picture.at(0, 9)],
            [[59, 0, 0], [59, 49, 0], [50, 0, 0]]
        );
        assert_eq!((placed.source.x.round(), placed.source.y.round()), (0.0, 0.0));
    }

    #[test]
    fn an_ascending_spine_has_its_foot_at_the_left_and_the_back_cover_above() {
        let (file, placed) = spine(SpineDirection::Ascending);
        assert_eq!(
            [file.picture.at(0, 0), file.picture.at(49, 0), file.picture.at(0, 9)],
            [[50, 49, 0], [50, 0, 0], [59, 49, 0]]
        );
        assert_eq!((placed.source.width.round(), placed.source.height.round()), (50.0, 10.0));
    }

    #[test]
    fn art_that_is_not_round_leaves_the_spine_bare() {
        let brief = Brief::read("panel: { trim: 5 x 5 in, art: cover.png }", Path::new("")).unwrap();
        assert_eq!(on_lying_spine(&brief.panel.layout(), SpineDirection::Descending), None);
    }
}
