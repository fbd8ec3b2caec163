//! Which pixels of a picture lie where on a face: the one answer for what is measured, shown and printed.

use crate::artwork::picture::PixelRect;
use crate::brief::art::{ArtExtent, ArtKind, RoundArt};
use crate::brief::panel::FaceLayout;
use crate::brief::place::Place;
use crate::units::{Length, Point, Rect};

/// A picture on a face, as large as it is printed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlacedArt {
    /// Where it lies, in the face's coordinates; beyond the face's edges where it goes into the bleed.
    pub rect: Rect,
    /// The part of the picture that lies there.
    pub source: PixelRect,
    /// How many pixels go to the inch, both across and down.
    pub ppi: f64,
    /// How much of the picture is cut off because its shape is another: at the sides together, and at head and foot.
    pub cut: (Length, Length),
}

impl PlacedArt {
    /// Where the art of a face lies on it; none where there is no art, or its file has not been read. Of a picture that
    /// is a whole cover, the part that lies on the face.
    pub fn on(face: &FaceLayout<'_>) -> Option<Self> {
        let art = face.art?;
        let picture = &art.picture.read.as_ref()?.picture;
        let size = (picture.width, picture.height);
        let area = match art.placed {
            ArtExtent::Bleed => face.printed,
            ArtExtent::Trim => face.edges,
        };
        let ArtKind::Round(RoundArt::Whole { spine }) = art.kind else { return Self::covering(size, area) };
        Some(Self::covering(size, whole_cover(face.edges, area, spine))?.within(area))
    }

    /// Where the own art of a place lies; none where the place has none, or its file has not been read. Of its box,
    /// the place's form is what shows.
    pub fn in_place(place: &Place) -> Option<Self> {
        let picture = &place.art.as_ref()?.picture.read.as_ref()?.picture;
        Self::covering((picture.width, picture.height), place.bounds)
    }

    /// What of the panel's art lies on the spine and so far past both folds, in the panel's coordinates; none where the
    /// art does not run round the spine in one file, and where that has not been read. It goes past head and foot as
    /// far as on the panel.
    pub fn on_spine(panel: &FaceLayout<'_>, past: Length) -> Option<Self> {
        let art = panel.art?;
        let ArtKind::Round(RoundArt::Whole { spine }) = art.kind else { return None };
        let picture = &art.picture.read.as_ref()?.picture;
        let area = match art.placed {
            ArtExtent::Bleed => panel.printed,
            ArtExtent::Trim => panel.edges,
        };
        let whole = Self::covering((picture.width, picture.height), whole_cover(panel.edges, area, spine))?;
        Some(whole.within(Rect { x: panel.edges.right() - past, width: spine + past * 2, ..area }))
    }

    /// A picture of so many columns and rows that fills an area: as small as covers it, in its middle, cut at two sides
    /// where its shape is another. Common practice of placing art in a frame. None where either has no size.
    pub fn covering((columns, rows): (usize, usize), area: Rect) -> Option<Self> {
        let (width, height) = (area.width.to_inches(), area.height.to_inches());
        if columns == 0 || rows == 0 || width <= 0.0 || height <= 0.0 {
            return None;
        }
        let (columns, rows) = (columns as f64, rows as f64);
        let ppi = (columns / width).min(rows / height);
        let used = (width * ppi, height * ppi);
        let source = PixelRect { x: (columns - used.0) / 2.0, y: (rows - used.1) / 2.0, width: used.0, height: used.1 };
        let cut = (Length::inches((columns - used.0) / ppi), Length::inches((rows - used.1) / ppi));
        Some(Self { rect: area, source, ppi, cut })
    }

    /// What of the picture lies in a part of its area.
    pub fn within(self, part: Rect) -> Self {
        let rect = self.rect.within(&part);
        let (x, y) = self.pixel_at(Point { x: rect.x, y: rect.y });
        let pixels = |length: Length| length.to_inches() * self.ppi;
        Self { rect, source: PixelRect { x, y, width: pixels(rect.width), height: pixels(rect.height) }, ..self }
    }

    /// Where in the picture a point of the face lies, in pixels from its upper left corner; beyond the picture where
    /// the point is beyond the area.
    pub fn pixel_at(&self, point: Point) -> (f64, f64) {
        let pixels = |length: Length| length.to_inches() * self.ppi;
        (self.source.x + pixels(point.x - self.rect.x), self.source.y + pixels(point.y - self.rect.y))
    }
}

/// The area of art that is a whole cover: from the outer edge of the back panel over the spine to that of the front
/// cover, which is as wide.
fn whole_cover(edges: Rect, area: Rect, spine: Length) -> Rect {
    let past = edges.x - area.x;
    Rect { width: edges.width * 2 + spine + past * 2, ..area }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect([x, y, width, height]: [f64; 4]) -> Rect {
        let inches = Length::inches;
        Rect { x: inches(x), y: inches(y), width: inches(width), height: inches(height) }
    }

    fn near(found: (f64, f64), wanted: (f64, f64)) -> bool {
        (found.0 - wanted.0).abs() < 1e-3 && (found.1 - wanted.1).abs() < 1e-3
    }

    #[test]
    fn a_picture_of_the_areas_shape_is_not_cut() {
        let area = rect([-0.125, -0.125, 8.75, 8.75]);
        let placed = PlacedArt::covering((2625, 2625), area).expect("a picture");
        assert!((placed.ppi - 300.0).abs() < 1e-6);
        assert_eq!((placed.cut, placed.rect), ((Length::ZERO, Length::ZERO), area));
        let corner = placed.pixel_at(Point { x: Length::ZERO, y: Length::inches(8.5) });
        assert!(near(corner, (37.5, 2587.5)));
    }

    #[test]
    fn a_wider_picture_is_cut_at_both_sides() {
        let placed = PlacedArt::covering((1200, 400), rect([0.0, 0.0, 4.0, 2.0])).expect("a picture");
        assert_eq!(placed.cut, (Length::inches(2.0), Length::ZERO));
        assert_eq!(placed.source, PixelRect { x: 200.0, y: 0.0, width: 800.0, height: 400.0 });
        let tall = PlacedArt::covering((400, 1200), rect([0.0, 0.0, 2.0, 4.0])).expect("a picture");
        assert_eq!(tall.cut, (Length::ZERO, Length::inches(2.0)));
    }

    #[test]
    fn a_part_has_the_pixels_that_lie_in_it() {
        let whole = PlacedArt::covering((1200, 400), rect([-1.0, 0.0, 6.0, 2.0])).expect("a picture");
        let part = whole.within(rect([0.0, 0.5, 2.0, 9.0]));
        assert_eq!(part.rect, rect([0.0, 0.5, 2.0, 1.5]));
        assert!(near((part.source.x, part.source.y), (200.0, 100.0)));
        assert!(near((part.source.width, part.source.height), (400.0, 300.0)));
        let point = Point { x: Length::inches(1.5), y: Length::inches(1.0) };
        assert!(near(part.pixel_at(point), whole.pixel_at(point)));
    }

    #[test]
    fn nothing_is_placed_without_a_size() {
        assert_eq!(PlacedArt::covering((0, 5), rect([0.0, 0.0, 1.0, 1.0])), None);
        assert_eq!(PlacedArt::covering((5, 5), rect([0.0, 0.0, 0.0, 1.0])), None);
    }
}
