//! The one measure that suits the readers' age, as a band of grades with its width at this length.
//!
//! For readers of 8 at most (about grade 3) the measure is the revised Spache formula; for older readers, New
//! Dale-Chall. Only these two were made for such grades. Where the copy itself is above grade 3, New Dale-Chall is the
//! measure for any reader. The band reaches one standard deviation to either side, and no further than the measure's
//! grades.

use crate::brief::book::Ages;
use crate::units::nouns::counted;

use super::counts::{Count, Counts};
use super::dale_chall::GRADES;
use super::formula::Formula;
use super::spread::SampleLength;
use crate::text::language::Language;

/// The age of the oldest reader for whom Spache is the measure: grade 3.
const OLDEST_FOR_SPACHE: u32 = 8;
/// The last grade that Spache tells.
const LAST_SPACHE_GRADE: u32 = 3;
/// The fewest words to tell a level from: at this length revised Spache is off by two grades either way, out of the
/// three grades that it tells.
pub const LEAST_WORDS: usize = 20;
/// The last grade that New Dale-Chall tells: 16 and above.
const LAST_GRADE: u32 = 16;

/// The reading level to name first.
#[derive(Debug, Clone, PartialEq)]
pub struct Headline {
    /// The measure that suits the readers.
    pub measure: Formula,
    /// The measure's value, not rounded.
    pub value: f64,
    /// The lowest grade of the band, 1 at least.
    pub low: u32,
    /// The highest grade of the band: at most the last grade that the measure tells, 16 by New Dale-Chall and 3 by
    /// revised Spache. `is_open` says whether the band goes on above.
    pub high: u32,
    /// How many words the level was measured on.
    pub words: usize,
    /// How many grades the level can be off either way.
    off: f64,
    /// Whether the highest grade means that grade or above.
    is_open: bool,
}

/// The measure that suits the readers of an English book.
fn measure_for(readers: Ages) -> Formula {
    match readers.to {
        Some(oldest) if oldest <= OLDEST_FOR_SPACHE => Formula::SpacheRevised,
        _ => Formula::NewDaleChallCloze,
    }
}

impl Headline {
    /// The grade of the value itself, without its band; the lowest of the grades that a cloze score stands for.
    pub fn grade(&self) -> f64 {
        match self.measure {
            Formula::NewDaleChallCloze => f64::from(grades_of_cloze(self.value).0),
            _ => self.value,
        }
    }

    /// The one measure by which several texts are compared: that of all their headlines, or else New Dale-Chall, which
    /// reaches every level; none without a headline.
    pub fn in_common<'h>(mut headlines: impl Iterator<Item = &'h Self>) -> Option<Formula> {
        let first = headlines.next()?.measure;
        Some(if headlines.all(|other| other.measure == first) { first } else { Formula::NewDaleChallCloze })
    }

    /// The band in plain words, without a capital or a stop.
    pub fn sentence(&self) -> String {
        let (grades, way) = (grades(self.low, self.high, self.is_open), way(self.off));
        format!("{grades}; at {} this can be off by {way} either way", counted(self.words, "word"))
    }

    /// The headline for some counts; none below [`LEAST_WORDS`] words, in another language than English, and where the
    /// spread of the measure is not known.
    pub(super) fn of(counts: &Counts, language: Language, readers: Ages) -> Option<Self> {
        let (measure, _) = measured(counts, language, readers)?;
        Self::by(measure, counts)
    }

    /// The headline by revised Spache or New Dale-Chall, whoever the readers are; none below [`LEAST_WORDS`] words, and
    /// by Spache above the last grade that it tells.
    pub(super) fn by(measure: Formula, counts: &Counts) -> Option<Self> {
        let words = counts.of(Count::Words);
        let value = measure.facts().value(counts).filter(|_| words >= LEAST_WORDS)?;
        if measure == Formula::SpacheRevised && whole_grade(value) > LAST_SPACHE_GRADE {
            return None;
        }
        let spread = SampleLength::of(words)?.spread(measure)?;
        let (low, high, off, is_open) = match measure {
            Formula::NewDaleChallCloze => {
                let (low, high, off) = band_of_cloze(value, spread);
                (low, high, off, high == LAST_GRADE)
            }
            _ => {
                let (low, high) = (whole_grade(value - spread), whole_grade(value + spread));
                (low.min(LAST_SPACHE_GRADE), high.min(LAST_SPACHE_GRADE), spread, high > LAST_SPACHE_GRADE)
            }
        };
        Some(Self { measure, value, low, high, words, off, is_open })
    }
}

/// The measure that suits the readers and reaches the level of the copy, with its value; none without words, and in
/// another language than English.
pub(super) fn measured(counts: &Counts, language: Language, readers: Ages) -> Option<(Formula, f64)> {
    if language != Language::English {
        return None;
    }
    let measure = measure_for(readers);
    let value = measure.facts().value(counts)?;
    if measure == Formula::SpacheRevised && whole_grade(value) > LAST_SPACHE_GRADE {
        let measure = Formula::NewDaleChallCloze;
        return Some((measure, measure.facts().value(counts)?));
    }
    Some((measure, value))
}

/// The band of a cloze score, and how many grades it reaches to the wider side. A higher score is an easier text.
fn band_of_cloze(value: f64, spread: f64) -> (u32, u32, f64) {
    let (low, high) = (grades_of_cloze(value + spread).0, grades_of_cloze(value - spread).1);
    let middle = grades_of_cloze(value);
    let off = middle.0.saturating_sub(low).max(high.saturating_sub(middle.1));
    (low, high, f64::from(off))
}

/// The lowest and the highest grade that a cloze score stands for. A higher score is an easier text.
fn grades_of_cloze(score: f64) -> (u32, u32) {
    GRADES.iter().rev().find(|(from, ..)| score >= *from).map_or((1, 1), |(_, a, b)| (*a, *b))
}

/// A grade as a whole number from 1 to 16.
fn whole_grade(value: f64) -> u32 {
    (1..LAST_GRADE).find(|grade| value < f64::from(*grade) + 0.5).unwrap_or(LAST_GRADE)
}

fn grades(low: u32, high: u32, is_open: bool) -> String {
    match (is_open, low == high) {
        (true, true) => format!("grade {high} or above"),
        (true, false) => format!("about grade {low} to grade {high} or above"),
        (false, true) => format!("about grade {low}"),
        (false, false) => format!("about grades {low} to {high}"),
    }
}

/// A number of grades in words.
fn way(grades: f64) -> String {
    const WORDS: [(f64, &str); 5] = [
        (0.2, "less than a grade"),
        (0.3, "a quarter of a grade"),
        (0.42, "a third of a grade"),
        (0.75, "half a grade"),
        (1.5, "a grade"),
    ];
    let words = WORDS.into_iter().find(|(below, _)| grades < *below);
    words.map_or_else(|| format!("{grades:.0} grades"), |(_, words)| words.to_owned())
}

#[cfg(test)]
mod tests {
    use super::{Ages, Count, Counts, Formula, Headline, Language, band_of_cloze, way, whole_grade};

    fn headline(oldest: Option<u32>, words: usize, sentences: usize, unfamiliar: usize) -> Headline {
        let counts = Counts::default()
            .with(Count::Words, words)
            .with(Count::Sentences, sentences)
            .with(Count::Unfamiliar, unfamiliar)
            .with(Count::UnfamiliarOnce, unfamiliar);
        Headline::of(&counts, Language::English, Ages { from: 4, to: oldest }).unwrap()
    }

    /// Worked by hand: 0.121 * 74/10 + 0.082 * 100 * 2/74 + 0.659 = 1.776; the spread at 74 words is 1.017.
    #[test]
    fn a_picture_book() {
        let found = headline(Some(8), 74, 10, 2);
        assert_eq!((found.low, found.high), (1, 3));
        assert_eq!(found.sentence(), "about grades 1 to 3; at 74 words this can be off by a grade either way");
        assert!((found.value - 1.776).abs() < 0.0005);
    }

    /// Worked by hand: 64 - 0.95 * 10 - 0.69 * 12.5 = 45.875, grade 4; the spread at 100 words is 6.9: 52.8 is grade 3
    /// and 39.0 is grades 7 to 8.
    #[test]
    fn a_book_for_older_readers() {
        let found = headline(Some(12), 100, 8, 10);
        assert_eq!((found.low, found.high), (3, 8));
        assert_eq!(found.sentence(), "about grades 3 to 8; at 100 words this can be off by 4 grades either way");
    }

    #[test]
    fn the_ends_of_the_scales() {
        assert_eq!((whole_grade(-3.0), whole_grade(1.5), whole_grade(40.0)), (1, 2, 16));
        assert_eq!(band_of_cloze(90.0, 1.0), (1, 1, 0.0));
        assert_eq!(band_of_cloze(0.0, 1.0), (16, 16, 0.0));
    }

    /// Worked by hand: 0.121 * 10 + 0.082 * 12 + 0.659 = 2.853, off by 0.89: 2.0 to 3.7. With 20 unfamiliar words it is
    /// 3.509, above grade 3, and New Dale-Chall is 64 - 0.95 * 20 - 0.69 * 10 = 38.1, off by 6.9: 45.0 is grade 4 and
    /// 31.2 is grades 9 to 10.
    #[test]
    fn spache_tells_nothing_above_its_grades() {
        let found = headline(Some(7), 100, 10, 12);
        assert_eq!((found.measure, found.low, found.high), (Formula::SpacheRevised, 2, 3));
        assert!(found.sentence().starts_with("about grade 2 to grade 3 or above; at 100 words"));
        let found = headline(Some(7), 100, 10, 20);
        assert_eq!((found.measure, found.low, found.high), (Formula::NewDaleChallCloze, 4, 10));
    }

    #[test]
    fn widths_in_words() {
        assert_eq!(
            [0.0, 0.28, 0.39, 0.5, 0.99, 2.2].map(way),
            ["less than a grade", "a quarter of a grade", "a third of a grade", "half a grade", "a grade", "2 grades"]
        );
    }

    #[test]
    fn a_few_words_have_none() {
        let of = |words| {
            let counts = Counts::default().with(Count::Words, words).with(Count::Sentences, 1);
            Headline::of(&counts, Language::English, Ages { from: 4, to: Some(8) })
        };
        assert_eq!([0, 1, 3, 19].map(of), [const { None }; 4]);
        assert!(of(20).is_some());
    }

    #[test]
    fn other_languages_have_none() {
        let counts = Counts::default().with(Count::Words, 30).with(Count::Sentences, 1);
        assert_eq!(Headline::of(&counts, Language::German, Ages::default()), None);
    }
}
