//! The faces that are on the screen as the proof draws them, for terminals that show pictures: which cells they take,
//! and their pixels, letters and all.

use ratatui::layout::Rect;

use super::beside;
use super::ground::unclear;
use super::picture::{Pictured, above_legend};
use super::scale::PictureScale;
use crate::art::lines::Grade;
use crate::brief::box_values::PanelBox;
use crate::desk::mode::Mode;
use crate::desk::state::State;
use crate::pictures::Raster;
use crate::proof::sheet::{Ink, Sheet, SheetMark, Stroke};
use crate::proof::{Proof, panel_alone, png, shapes};
use crate::report::Drawing;
use crate::report::drawing::FramePart;
use crate::setting::Faces;
use crate::setting::outline::PathStep;
use crate::units::{Length, Point, Rect as Place};

/// A face that stands on the screen, with all that is drawn of it.
#[derive(Debug, Clone, PartialEq)]
pub struct FacePicture {
    /// The cells that the face takes, to its edges.
    pub area: Rect,
    drawing: Drawing,
    /// The line of copy that the cursor is in.
    marked: Option<usize>,
    /// The box whose values are changed.
    in_hand: Option<PanelBox>,
    /// The words of lines that are not clear on their art.
    unclear: Vec<(usize, (Length, Length), Grade)>,
}

/// The faces on the screen, as the panes draw them in cells.
pub fn pictures(state: &State) -> Vec<FacePicture> {
    let areas = state.areas();
    let Some(sheet) = state.sheet().filter(|_| !areas.foot.is_empty()) else { return Vec::new() };
    if let Mode::Beside(other) = &state.mode {
        let panels = beside::panels(state, sheet, other);
        return panels.filter_map(|(area, found)| FacePicture::of(&Pictured::of_panel(state, found)?, area)).collect();
    }
    let Some(pictured) = Pictured::of(state, sheet) else { return Vec::new() };
    FacePicture::of(&pictured, areas.picture(&state.mode)).into_iter().collect()
}

impl FacePicture {
    fn of(pictured: &Pictured<'_>, area: Rect) -> Option<Self> {
        let Pictured { drawing, marked, in_hand, ground, quiet, .. } = pictured;
        let area = PictureScale::of(drawing, above_legend(area))?.area;
        let lines = || ground.iter().flat_map(|ground| &ground.lines);
        let unclear = lines().flat_map(|line| unclear(line).map(|(reach, grade)| (line.line, reach, grade)));
        Some(Self {
            area,
            drawing: (*drawing).clone().with_quiet(quiet.iter().copied()),
            marked: *marked,
            in_hand: in_hand.clone(),
            unclear: unclear.collect(),
        })
    }

    /// The face in so many pixels across and down.
    pub fn raster(&self, faces: &Faces, width: u16, height: u16) -> Raster {
        let (title, subject, around) = ("", "", Default::default());
        let proof = Proof { around, drawing: &self.drawing, title, subject, facts: &[], cautions: &[] };
        let mut sheet = panel_alone(&proof, faces);
        let trim = sheet.trim;
        // The width of a pixel on the sheet.
        self.mark(&mut sheet, trim.width / i64::from(width.max(1)));
        let (width, height) = (usize::from(width), usize::from(height));
        png::raster(&sheet, &trim, (width, height))
    }

    fn face(&self) -> Place {
        self.drawing.rect_of(FramePart::Face).unwrap_or_default()
    }

    /// Marks what is in hand, a pointer before the line of the cursor and the edges of a box; and words that are not
    /// clear on their art: those that are lost by a rule, those that are hard by dashes.
    fn mark(&self, sheet: &mut Sheet<'_>, pixel: Length) {
        let face = self.face();
        let origin = Point { x: sheet.trim.x - face.x, y: sheet.trim.y - face.y };
        if let Some(found) = &self.in_hand {
            let rect = Place { x: found.rect.x + origin.x, y: found.rect.y + origin.y, ..found.rect };
            let pen = Stroke { ink: Ink::Black, width: pixel * 2, dash: None };
            sheet.marks.push(SheetMark::Drawn(shapes::frame(&rect, Length::ZERO), pen));
        }
        for (number, (from, to), grade) in &self.unclear {
            let Some(line) = self.drawing.lines().find(|line| line.number == *number) else { continue };
            let y = line.baseline + line.rect.height / 5 + origin.y;
            let rule = shapes::rule(Point { x: *from + origin.x, y }, Point { x: *to + origin.x, y });
            let dash = (*grade == Grade::Hard).then_some(pixel * 3);
            sheet.marks.push(SheetMark::Drawn(rule, Stroke { ink: Ink::Accent, width: pixel * 2, dash }));
        }
        if let Some(line) = self.drawing.lines().find(|line| self.marked == Some(line.number)) {
            let high = (line.rect.height / 3).max(pixel * 3);
            let middle = line.baseline - (line.baseline - line.rect.y) / 4;
            let tip = line.rect.x - high / 2;
            let corner = |x: Length, y: Length| [shapes::points(x + origin.x), shapes::points(y + origin.y)];
            let pointer = vec![
                PathStep::Move(corner(tip, middle)),
                PathStep::Line(corner(tip - high, middle - high)),
                PathStep::Line(corner(tip - high, middle + high)),
                PathStep::Close,
            ];
            sheet.marks.push(SheetMark::Tint(pointer, Ink::Black));
        }
    }
}
