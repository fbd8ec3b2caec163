//! What each change between two drafts did: lines, letters, words, level, terms, fit, and lines on art.
//!
//! The changes are made one after another, in the order of the copy, and the copy is measured after each. So their
//! effects add up to the whole difference. Each change is also tried alone, on the first draft.

use super::Report;
use super::amounts::WordsAndLetters;
use super::art_effects::{self, GradedWord, LineOnArt};
use super::differences::Differences;
use super::legibility::Legibility;
use super::places::FitPlace;
use crate::brief::Brief;
use crate::draft::{Block, Draft};
use crate::level::headline::Headline;
use crate::level::{self, Formula, Scores};
use crate::setting::lines::{SetLine, Setting};
use crate::setting::rooms::PlaceRoom;
use crate::setting::{Faces, Rooms, SettingMemory, ShapedCopy};
use crate::terms::coverage;
use crate::text::Text;

/// The most words that are measured to find what each change did: enough for a page of copy with a thousand changes,
/// but not for a manuscript.
const MOST_WORDS: usize = 1_000_000;

/// What is followed from change to change.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Lines set.
    pub lines: usize,
    /// Lines that are over.
    pub lines_over: usize,
    /// Words of all that is printed.
    pub words: usize,
    /// Letters of all that is printed.
    pub letters: usize,
    /// The grade of the blurb by the measure of its headline; of the figures of [`Effects`] by the one measure of all.
    /// None without words, in a language without a measure, and where the measure has no value.
    pub grade: Option<f64>,
    /// The measure of reading level that suits the readers, with its value; none where there is no grade.
    pub measure: Option<(Formula, f64)>,
    /// Wanted terms that headline and blurb carry.
    pub terms: usize,
    /// Whether everything fits.
    pub fits: bool,
    /// Every place, in the order in which copy is set.
    pub places: Vec<PlaceFigures>,
    /// Every word that stands on art, in the order of the copy; none where the brief has no art that was read, and of a
    /// draft that was measured before, where nobody asks.
    pub on_art: Option<Vec<GradedWord>>,
}

/// What is followed of one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceFigures {
    /// What the author calls the place.
    pub name: String,
    /// Lines set in it.
    pub lines: usize,
    /// Lines that are over.
    pub lines_over: usize,
    /// Whether its copy fits.
    pub fits: bool,
}

impl PlaceFigures {
    fn of_setting(setting: &Setting, rooms: &Rooms) -> Vec<Self> {
        let of_place = |(number, room): (usize, &PlaceRoom)| Self {
            name: room.name.clone(),
            lines: setting.lines_in(number).count(),
            lines_over: setting.lines_in(number).filter(|line| line.over).count(),
            fits: setting.lines_in(number).all(SetLine::fits),
        };
        rooms.places().iter().enumerate().map(of_place).collect()
    }

    fn of_place(place: &FitPlace) -> Self {
        let (lines, lines_over) = (place.castoff.lines, place.castoff.lines_over);
        Self { name: place.name.clone(), lines, lines_over, fits: place.fits() }
    }
}

/// The figures along the way from one draft to the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Effects {
    /// The measure by which every grade is told, so that grades can be compared; none where no draft has a headline.
    pub measure: Option<Formula>,
    /// The figures of the first draft.
    pub first: Figures,
    /// The figures after each change, with all changes before it made; empty where there are too many to measure.
    pub after: Vec<Figures>,
    /// The figures of the first draft with each change made alone; empty where there are too many to measure.
    pub alone: Vec<Figures>,
    /// The figures of the second draft.
    pub last: Figures,
}

impl Figures {
    /// Measures a draft.
    pub fn of(draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        Self::with_scores(draft, brief, faces).0
    }

    fn with_scores(draft: &Draft, brief: &Brief, faces: &Faces) -> (Self, Scores) {
        // The figures are measured as `assess` does, without what nobody follows from change to change: drivers,
        // findings, the largest size.
        let text = Text::read(draft, &brief.book);
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let rooms = Rooms::of(brief);
        let setting = Setting::new(&copy, copy.forms(), &rooms);
        let lines: Vec<&SetLine> = setting.lines.iter().collect();
        let art = Legibility::of_setting(&setting, &copy, brief, &rooms);
        let counts = |block: &Block| WordsAndLetters::of(block.text());
        let scores = level::scores(&text);
        let figures = Self {
            lines: setting.lines.len(),
            lines_over: setting.lines_over(),
            words: draft.blocks.iter().map(|block| counts(block).words).sum(),
            letters: draft.blocks.iter().map(|block| counts(block).letters).sum(),
            grade: scores.grade(),
            measure: scores.headline.as_ref().map(|headline| (headline.measure, headline.value)),
            terms: coverage::find(&text, &brief.terms).covered(),
            fits: setting.fits(),
            places: PlaceFigures::of_setting(&setting, &rooms),
            on_art: art.map(|art| art_effects::words_on_art(&art, draft, &lines)),
        };
        (figures, scores)
    }

    /// The figures, their grade by one measure.
    fn by(measure: Option<Formula>, (figures, scores): (Self, Scores)) -> Self {
        let headline = measure.and_then(|measure| scores.headline_by(measure));
        Self { grade: headline.as_ref().map(Headline::grade), ..figures }
    }

    /// The figures of a draft that has been measured.
    pub(super) fn of_report(draft: &Draft, report: &Report) -> Self {
        let counts: Vec<WordsAndLetters> = draft.blocks.iter().map(|block| WordsAndLetters::of(block.text())).collect();
        Self {
            lines: report.fit.castoff.lines,
            lines_over: report.fit.castoff.lines_over,
            words: counts.iter().map(|block| block.words).sum(),
            letters: counts.iter().map(|block| block.letters).sum(),
            grade: report.level.grade(),
            measure: report.level.headline.as_ref().map(|headline| (headline.measure, headline.value)),
            terms: report.coverage.covered(),
            fits: report.fit.copy_fits(),
            places: report.fit.places.iter().map(PlaceFigures::of_place).collect(),
            on_art: None,
        }
    }
}

impl Effects {
    /// Measures the copy after each change, one made after another, and with each change alone.
    pub fn of(differences: &Differences<'_>, brief: &Brief, faces: &Faces) -> Self {
        let scored = |draft: &Draft| Figures::with_scores(draft, brief, faces);
        let (first, last) = (scored(differences.before), scored(differences.after));
        let measure =
            Headline::in_common([&first.1, &last.1].into_iter().filter_map(|scores| scores.headline.as_ref()));
        let (first, last) = (Figures::by(measure, first), Figures::by(measure, last));
        let measured = |draft: &Draft| Figures::by(measure, scored(draft));
        let count = differences.changes.len();
        // Each change is measured twice, after those before it and alone, on a copy no longer than both drafts.
        let told = if count * (first.words + last.words) > MOST_WORDS { 0 } else { count };
        Self {
            measure,
            first,
            after: (0..told).map(|last| measured(&differences.with(|change| change <= last))).collect(),
            alone: (0..told).map(|only| measured(&differences.with(|change| change == only))).collect(),
            last,
        }
    }

    /// The figures before and after a change, with all changes before it made; none where the change was not measured.
    pub fn step(&self, change: usize) -> Option<(&Figures, &Figures)> {
        let before = if change == 0 { &self.first } else { self.after.get(change - 1)? };
        Some((before, self.after.get(change)?))
    }

    /// The places whose copy a change lets in or pushes out, as far as lines that are over tell it: each before and
    /// after it. None where the copy has no other place than the live area.
    pub fn moved<'f>(before: &'f Figures, after: &'f Figures) -> Vec<(&'f PlaceFigures, &'f PlaceFigures)> {
        let has_places = before.places.len() > 1;
        let pairs = before.places.iter().zip(&after.places).filter(|_| has_places);
        pairs.filter(|(before, after)| (before.fits, before.lines_over) != (after.fits, after.lines_over)).collect()
    }

    /// The lines on art that a change makes clear, hard or lost; none where no copy stands on art.
    pub fn on_art(before: &Figures, after: &Figures) -> Vec<LineOnArt> {
        let words = before.on_art.as_deref().zip(after.on_art.as_deref());
        words.map_or_else(Vec::new, |(before, after)| art_effects::changed_lines(before, after))
    }

    /// The changes that, made after all before them, turn copy that did not fit into copy that fits, or the other way
    /// round.
    pub fn turns(&self) -> Vec<usize> {
        let turns = |change: &usize| self.step(*change).is_some_and(|(before, after)| before.fits != after.fits);
        (0..self.after.len()).filter(turns).collect()
    }

    /// The changes of which each, made alone, turns a first draft that does not fit into one that fits, or the other
    /// way round.
    pub fn enough_alone(&self) -> Vec<usize> {
        (0..self.alone.len()).filter(|change| self.alone[*change].fits != self.first.fits).collect()
    }
}
