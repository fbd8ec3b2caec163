//! Whether the copy can be read on its art: every line that stands on some, with its grade.

use super::fit::Fit;
use crate::art::lines::Grade;
use crate::art::on_art::{JudgedLine, JudgedTitle, PlaceGround, grounds_of, judged_lines, place_grounds};
use crate::brief::Brief;
use crate::setting::lines::{SetLine, Setting};
use crate::setting::{Faces, Rooms, ShapedCopy};

/// The lines that stand on art, judged.
#[derive(Debug, Clone, PartialEq)]
pub struct Legibility {
    /// The judged lines, in the order of the draft. Lines that are over stand nowhere and are not among them.
    pub lines: Vec<JudgedLine>,
    /// The title on the art of its spine; none where no art lies there, and where lines alone were judged.
    pub title: Option<JudgedTitle>,
}

impl Legibility {
    /// Judges the lines of a fit, and the title on its spine; none where neither stands on art that was read.
    pub(super) fn of_all(fit: &Fit, copy: &ShapedCopy<'_>, brief: &Brief, faces: &Faces) -> Option<Self> {
        let title = fit.spine.as_ref().and_then(|title| JudgedTitle::of(title, brief, faces));
        let lines = Self::of(fit, copy, brief).map(|on| on.lines);
        (lines.is_some() || title.is_some()).then(|| Self { lines: lines.unwrap_or_default(), title })
    }

    /// Judges the lines of a fit; none where no face that has copy has art that was read.
    pub(super) fn of(fit: &Fit, copy: &ShapedCopy<'_>, brief: &Brief) -> Option<Self> {
        let grounds = place_grounds(brief, fit.places.iter().map(|place| (place.name.as_str(), place.face)));
        Self::on(&grounds, fit.lines.iter().map(|line| &line.set), copy, brief)
    }

    /// Judges the lines of a setting; none where no face that has copy has art that was read.
    pub(super) fn of_setting(setting: &Setting, copy: &ShapedCopy<'_>, brief: &Brief, rooms: &Rooms) -> Option<Self> {
        Self::on(&grounds_of(brief, rooms), setting.lines.iter(), copy, brief)
    }

    fn on<'l>(
        grounds: &[Option<PlaceGround>],
        lines: impl Iterator<Item = &'l SetLine>,
        copy: &ShapedCopy<'_>,
        brief: &Brief,
    ) -> Option<Self> {
        let has_art = grounds.iter().any(Option::is_some);
        has_art.then(|| Self { lines: judged_lines(lines, (copy, brief), grounds), title: None })
    }

    /// How many lines have a grade, without the title on its spine.
    pub fn lines_of(&self, grade: Grade) -> usize {
        self.lines.iter().filter(|line| line.grade() == grade).count()
    }

    /// Whether the title is lost on the art of its spine.
    pub fn is_title_lost(&self) -> bool {
        self.title.as_ref().is_some_and(|title| title.judgement.grade == Grade::Lost)
    }

    /// How many lines have a grade, the title on its spine with them.
    pub fn count(&self, grade: Grade) -> usize {
        let title = self.title.iter().map(|title| title.judgement.grade);
        self.lines.iter().map(JudgedLine::grade).chain(title).filter(|known| *known == grade).count()
    }

    /// The lines that are not clear.
    pub fn not_clear(&self) -> impl Iterator<Item = &JudgedLine> {
        self.lines.iter().filter(|line| line.grade() != Grade::Clear)
    }
}
