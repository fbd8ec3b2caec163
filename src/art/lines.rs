//! Whether a set line can be read where it stands: each letter and each word in its own window of the ground.
//!
//! A letter's window gives the contrast ratio of WCAG 2.2, "measured against the pixels next to the letter" (technique
//! G18); a word's gives the stand-out ratio. The worst window decides: a mean over the line hides the one word that is
//! lost (on the lines tried, 4.5:1 on a line's mean missed 39 in 100 of the hard ones), and a figure for the whole page
//! hides all of them.
//!
//! The bounds 6 and 3 of the stand-out ratio are this project's own, measured with a reader of pictures and no people:
//! above 6 one word in eight or fewer was misread, below 3 more than three in four. So is the contrast ratio of 1.8:1,
//! below which a letter is lost whatever its ground: with 3:1 one in five lines that are read would have been called
//! lost. 4.5:1, and 3:1 for large type, are those of WCAG 2.2, success criterion 1.4.3.

use std::ops::Range;

use crate::artwork::ground::{Ground, GroundRows};
use crate::artwork::light::{InkLight, WindowLight};
use crate::units::{Length, Point, Rect};

/// The least stand-out ratio of a word that is clear.
pub const CLEAR_STAND_OUT: f64 = 6.0;
/// The least stand-out ratio of a word that is not lost.
pub const HARD_STAND_OUT: f64 = 3.0;
/// The least stand-out ratio at which a mend leaves a word. More than is clear, since a mend that ends at the very
/// bound leaves words that a program that reads pictures misreads: of the lines tried it found 14 in 40 hard between 6
/// and 8, and 2 in 160 above.
pub const MENDED_STAND_OUT: f64 = 8.0;
/// The least contrast ratio of a letter that is clear (WCAG 2.2, 1.4.3).
pub const CLEAR_CONTRAST: f64 = 4.5;
/// The least contrast ratio of a large letter that is clear (WCAG 2.2, 1.4.3).
pub const LARGE_CONTRAST: f64 = 3.0;
/// The least contrast ratio of a letter that is not lost.
pub const HARD_CONTRAST: f64 = 1.8;
/// From this size on type is large by WCAG 2.2.
pub const LARGE_POINTS: f64 = 18.0;
/// From this size on bold type is large by WCAG 2.2.
pub const LARGE_BOLD_POINTS: f64 = 14.0;

/// The letters of one set line.
#[derive(Debug, Clone, PartialEq)]
pub struct LineLetters {
    /// The baseline, from the face's head.
    pub baseline: Length,
    /// The height of a lower-case x.
    pub x_height: Length,
    /// Whether type of this size and weight is large by WCAG 2.2.
    pub is_large: bool,
    /// From where to where each letter goes, from the face's left edge, in the order of the words.
    pub letters: Vec<(Length, Length)>,
    /// The words, from left to right.
    pub words: Vec<LineWord>,
}

/// A word of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineWord {
    /// The word's letters, by their numbers in the line.
    pub letters: Range<usize>,
    /// The word's bytes in the printed line.
    pub text: Range<usize>,
}

/// How well words can be read, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Every window passes.
    Clear,
    /// Read only with effort.
    Hard,
    /// Not to be relied on to be read.
    Lost,
}

/// Why words cannot be read with ease.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// The ink is too near to the ground's lightness: plain ground of that lightness would not do either.
    Faint,
    /// The ground is too uneven.
    Busy,
}

/// Words side by side that are not clear.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// The bytes of the printed line.
    pub text: Range<usize>,
    /// The worst grade of a word.
    pub grade: Grade,
    /// Why the word with the least stand-out ratio among those of that grade cannot be read with ease.
    pub cause: Cause,
    /// The least stand-out ratio of a word.
    pub stand_out: f64,
    /// The least contrast ratio of a letter.
    pub contrast: f64,
}

/// A line as it can be read.
#[derive(Debug, Clone, PartialEq)]
pub struct LineJudgement {
    /// The worst grade of its words; clear where it has none.
    pub grade: Grade,
    /// The least stand-out ratio of a word; none in a line without words.
    pub stand_out: Option<f64>,
    /// The least contrast ratio of a letter; none in a line without words.
    pub contrast: Option<f64>,
    /// What is not clear, from left to right.
    pub stretches: Vec<Stretch>,
}

impl Grade {
    /// The grade in words and in data: `clear`, `hard`, `lost`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Hard => "hard",
            Self::Lost => "lost",
        }
    }

    /// The grade of a stand-out ratio and a contrast ratio.
    pub fn of(stand_out: f64, contrast: f64, is_large: bool) -> Self {
        if stand_out < HARD_STAND_OUT || contrast < HARD_CONTRAST {
            Self::Lost
        } else if stand_out < CLEAR_STAND_OUT || contrast < contrast_wanted(is_large) {
            Self::Hard
        } else {
            Self::Clear
        }
    }
}

impl Cause {
    /// The cause in words and in data: `faint`, `busy`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Faint => "faint",
            Self::Busy => "busy",
        }
    }
}

/// The least contrast ratio of letters that are clear, by their size.
pub fn contrast_wanted(is_large: bool) -> f64 {
    if is_large { LARGE_CONTRAST } else { CLEAR_CONTRAST }
}

/// Whether type is large by WCAG 2.2, 1.4.3.
pub fn is_large(size: Length, is_bold: bool) -> bool {
    size.to_pt() >= if is_bold { LARGE_BOLD_POINTS } else { LARGE_POINTS }
}

impl LineLetters {
    /// The window of all its words: what a tint behind the line has to cover at least.
    pub fn window(&self) -> Option<Rect> {
        let (first, last) = (self.letters.first()?, self.letters.last()?);
        let (head, foot) = self.word_depths();
        let x = first.0 - self.beside();
        Some(Rect { x, y: head, width: last.1 + self.beside() - x, height: foot - head })
    }

    /// How far a word's window goes past its first and its last letter.
    fn beside(&self) -> Length {
        self.x_height / 2
    }

    /// From where to where a letter's window goes: from above the tall letters to below the deep ones.
    fn letter_depths(&self) -> (Length, Length) {
        (self.baseline - self.x_height * 3 / 2, self.baseline + self.x_height / 2)
    }

    /// From where to where a word's window goes: half an x-height beyond its letters.
    fn word_depths(&self) -> (Length, Length) {
        (self.baseline - self.x_height * 2, self.baseline + self.x_height)
    }
}

/// A line on a ground, moved by some way.
struct LineOnGround<'a> {
    line: &'a LineLetters,
    ink: &'a InkLight,
    across: Length,
    letter_rows: GroundRows<'a>,
    word_rows: GroundRows<'a>,
}

impl<'a> LineOnGround<'a> {
    fn new(line: &'a LineLetters, ink: &'a InkLight, ground: &'a Ground, by: Point) -> Self {
        let rows = |(head, foot): (Length, Length)| ground.between(head + by.y, foot + by.y);
        let (letter_rows, word_rows) = (rows(line.letter_depths()), rows(line.word_depths()));
        Self { line, ink, across: by.x, letter_rows, word_rows }
    }

    /// What lies in a word's window; none for a word without letters.
    fn word_light(&self, word: &LineWord) -> Option<WindowLight> {
        let letters = self.line.letters.get(word.letters.clone())?;
        let (first, last) = (letters.first()?, letters.last()?);
        let beside = self.line.beside();
        Some(self.word_rows.light(first.0 - beside + self.across, last.1 + beside + self.across))
    }

    /// The least contrast ratio of a word's letters.
    fn contrast(&self, word: &LineWord) -> f64 {
        let letters = self.line.letters.get(word.letters.clone()).unwrap_or_default();
        let of_letter = |(from, to): &(Length, Length)| {
            self.ink.contrast_on(self.letter_rows.luminance(*from + self.across, *to + self.across))
        };
        letters.iter().map(of_letter).fold(f64::INFINITY, f64::min)
    }
}

/// A line with the ink that it is printed in.
#[derive(Debug, Clone, Copy)]
pub struct InkedLine<'a> {
    /// The line's letters.
    pub letters: &'a LineLetters,
    /// The ink.
    pub ink: InkLight,
}

impl InkedLine<'_> {
    /// Whether every window of the line passes with room to spare where it would stand, moved by some way.
    pub fn is_mended_at(&self, ground: &Ground, by: Point) -> bool {
        let Self { letters, ink } = self;
        let on = LineOnGround::new(letters, ink, ground, by);
        letters.words.iter().all(|word| {
            on.word_light(word).is_none_or(|light| ink.stand_out_on(&light) >= MENDED_STAND_OUT)
                && on.contrast(word) >= contrast_wanted(letters.is_large)
        })
    }
}

/// Judges a line in an ink on the ground where it stands.
pub fn judged(line: &LineLetters, ink: &InkLight, ground: &Ground) -> LineJudgement {
    let on = LineOnGround::new(line, ink, ground, Point::default());
    let mut judgement = LineJudgement { grade: Grade::Clear, stand_out: None, contrast: None, stretches: Vec::new() };
    // Whether the word before belongs to the last stretch, so that this one may go on with it.
    let mut goes_on = false;
    for word in &line.words {
        let Some(light) = on.word_light(word) else { continue };
        let (stand_out, contrast) = (ink.stand_out_on(&light), on.contrast(word));
        let least = |known: Option<f64>, next: f64| Some(known.map_or(next, |known| known.min(next)));
        judgement.stand_out = least(judgement.stand_out, stand_out);
        judgement.contrast = least(judgement.contrast, contrast);
        let grade = Grade::of(stand_out, contrast, line.is_large);
        judgement.grade = judgement.grade.max(grade);
        if grade == Grade::Clear {
            goes_on = false;
            continue;
        }
        let cause = cause(&light, ink, line.is_large);
        match judgement.stretches.last_mut().filter(|_| goes_on) {
            Some(last) => {
                if (grade, -stand_out) > (last.grade, -last.stand_out) {
                    last.cause = cause;
                }
                last.text.end = word.text.end;
                last.grade = last.grade.max(grade);
                last.stand_out = last.stand_out.min(stand_out);
                last.contrast = last.contrast.min(contrast);
            }
            None => judgement.stretches.push(Stretch { text: word.text.clone(), grade, cause, stand_out, contrast }),
        }
        goes_on = true;
    }
    judgement
}

/// Why words on such a ground are not clear.
fn cause(light: &WindowLight, ink: &InkLight, is_large: bool) -> Cause {
    let plain = WindowLight { spread: 0.0, ..*light };
    let would_pass =
        ink.stand_out_on(&plain) >= CLEAR_STAND_OUT && ink.contrast_on(light.luminance) >= contrast_wanted(is_large);
    if would_pass { Cause::Busy } else { Cause::Faint }
}
