//! Measures the reading level of the blurb by published formulas.
//!
//! Each formula stands in a file with related formulas, its source and its counting rules; this file decides which
//! formulas apply to a text. A level is a rough guide for the copy, not for the book, and no judgement of a reader.

pub mod facts;
pub mod counts;
pub mod familiar;
mod gunning;
pub mod lists;
mod flesch;
mod letter_counts;
mod hard_words;
mod dale_chall;
mod spache;
mod long_words;
mod flesch_abroad;
mod wiener;
pub mod formula;
mod keys;
mod tally;
mod spread;
pub mod headline;
pub mod drivers;
#[cfg(test)]
mod counting;

use std::collections::HashSet;
use std::fmt;

use crate::brief::book::Ages;
use crate::draft::Span;
use crate::text::language::Language;
use crate::text::lexicon;
use crate::text::spelling::{ByHash, Spelling};
use crate::text::syllables::fold;
use crate::text::verse::without_verse;
use crate::text::{Basis, Text};
use crate::units::nouns::agrees;

use counts::{Count, Counts};
use drivers::{Drivers, HardSentence, UnfamiliarWord};
use headline::{Headline, LEAST_WORDS, measured};
use lists::Lists;
use spread::SampleLength;
use tally::Tally;

pub use facts::{Facts, Sample, ScoreScale};
pub use familiar::WordList;
pub use formula::Formula;

/// The age at which school begins with grade 1, less one.
const AGE_BEFORE_GRADE_1: u32 = 5;

/// The reading level of a blurb.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// The band to name first; none below [`LEAST_WORDS`] words, without the measure's list, or in another language
    /// than English.
    pub headline: Option<Headline>,
    /// One score for each formula that is shown for the language, in the order of [`Formula::ALL`].
    pub scores: Vec<Score>,
    /// What the formulas counted.
    pub counts: Counts,
    /// The words of verse that no formula counted: a sentence of it runs on over the end of a line, so that its stops
    /// do not show its sentences.
    pub verse_words: usize,
    /// The sentences that raise the level most, by the headline's measure, the worst first; none without a headline.
    pub hardest_sentences: Vec<HardSentence>,
    /// The list of the measure that suits the readers; none where no measure does, or its list is missing.
    pub list: Option<WordList>,
    /// The words outside the list of the headline's measure, once each, in reading order.
    pub unfamiliar: Vec<UnfamiliarWord>,
    /// The words whose syllables were guessed, once each, in reading order.
    pub guessed: Vec<GuessedWord>,
}

/// The level without the sentences and words that drive it: for many texts, and where an answer has to come at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Scores {
    /// The band to name first: what [`Level::headline`] holds.
    pub headline: Option<Headline>,
    /// One score for each formula that is shown for the language: what [`Level::scores`] holds.
    pub scores: Vec<Score>,
    /// What the formulas counted: what [`Level::counts`] holds.
    pub counts: Counts,
}

/// What a formula makes of the blurb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Score {
    /// Which formula.
    pub formula: Formula,
    /// The formula's value, not rounded; none where the blurb has no words, is in another language, or the list is
    /// missing.
    pub value: Option<f64>,
    /// The standard deviation of the value between passages of this length; none where it was not measured, and below
    /// [`LEAST_WORDS`] words.
    pub spread: Option<f64>,
    /// Why the value says nothing about this text; none where it applies.
    pub why_not: Option<WhyNot>,
}

/// Why a formula does not apply to a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyNot {
    /// The formula was made for this language, which is not the copy's.
    Language(Language),
    /// There are no words outside verse.
    NoWords,
    /// The list that the formula stands on is missing.
    NoList(WordList),
    /// There are fewer words than the formula asks for, or fewer than [`LEAST_WORDS`].
    Words {
        /// How many words are asked for.
        needed: usize,
        /// How many there are.
        found: usize,
    },
    /// The formula asks for more sentences than there are.
    Sentences {
        /// How many sentences the formula asks for.
        needed: usize,
        /// How many there are.
        found: usize,
    },
    /// The formula is sound for other grades than those of the readers.
    Readers {
        /// The first grade for which it is sound.
        first: u32,
        /// The last grade for which it is sound.
        last: u32,
    },
    /// The formula's value is outside the grades for which it is sound.
    Grades {
        /// The first grade for which it is sound.
        first: u32,
        /// The last grade for which it is sound.
        last: u32,
    },
}

impl fmt::Display for WhyNot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Language(language) => write!(f, "made for {}", language.name()),
            Self::NoWords => f.write_str("there is no prose to measure"),
            Self::NoList(WordList::DaleChall) => {
                f.write_str("this program was built without the Dale-Chall list (wordlists/dale-chall.txt)")
            }
            Self::NoList(WordList::Spache) => {
                f.write_str("this program was built without the Spache list (wordlists/spache.txt)")
            }
            Self::Words { needed, found } => {
                write!(f, "needs {needed} words, and there {} {found}", agrees(*found, "is", "are"))
            }
            Self::Sentences { needed, found } => {
                write!(f, "needs {needed} sentences, and there {} {found}", agrees(*found, "is", "are"))
            }
            Self::Readers { first, last } => {
                write!(f, "made for grades {first} to {last}, and the readers are in others")
            }
            Self::Grades { first, last } => {
                write!(f, "made for grades {first} to {last}, and the value is outside them")
            }
        }
    }
}

/// A word that is on no list, so that its syllables were guessed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GuessedWord {
    /// The word as it is written where it first stands.
    pub word: String,
    /// The guessed syllables.
    pub syllables: u32,
    /// Where the word first stands in the file.
    pub span: Span,
}

impl Level {
    /// The grade to compare with a limit: the grade of the headline's value; where the value stands for several grades,
    /// the lowest.
    pub fn grade(&self) -> Option<f64> {
        self.headline.as_ref().map(Headline::grade)
    }

    /// The headline by a measure that may not be the one that suits the readers, as texts are compared by one; none
    /// where that measure has no value for this text, and for every measure but revised Spache and New Dale-Chall.
    pub fn headline_by(&self, measure: Formula) -> Option<Headline> {
        headline_by(measure, &self.scores, &self.counts)
    }

    /// Whether the copy has a measure that suits its readers, but too few words to tell a level from.
    pub fn is_too_short(&self) -> bool {
        let suits = [Formula::SpacheRevised, Formula::NewDaleChallCloze];
        (1..LEAST_WORDS).contains(&self.counts.of(Count::Words))
            && suits.iter().any(|formula| self.value(*formula).is_some())
    }

    /// The value of one formula; none where it has none for this blurb.
    pub fn value(&self, formula: Formula) -> Option<f64> {
        self.score(formula).and_then(|score| score.value)
    }

    /// The lists that are missing, once each, as reasons why formulas do not apply.
    pub fn missing_lists(&self) -> impl Iterator<Item = WhyNot> {
        let missing = [WordList::DaleChall, WordList::Spache].map(WhyNot::NoList).into_iter();
        missing.filter(|missing| self.scores.iter().any(|score| score.why_not == Some(*missing)))
    }

    /// The score of one formula; none where the formula is not shown for the language.
    pub fn score(&self, formula: Formula) -> Option<&Score> {
        self.scores.iter().find(|score| score.formula == formula)
    }
}

impl Score {
    /// Whether the value says something about this text.
    pub fn applies(&self) -> bool {
        self.why_not.is_none()
    }

    /// The value in the words of the formula's own table, where it has one, and there are words enough to tell it from.
    pub fn reading(&self) -> Option<&'static str> {
        let is_told = !matches!(self.why_not, Some(WhyNot::Words { found, .. }) if found < LEAST_WORDS);
        self.value.filter(|_| is_told).and_then(|value| self.formula.facts().reading(value))
    }

    /// What the formula counted, in the order of its equation.
    pub fn counts(&self, counts: &Counts) -> Vec<(Count, usize)> {
        self.formula.facts().counts.iter().map(|count| (*count, counts.of(*count))).collect()
    }
}

/// Measures the blurb of a text with the lists that the program carries.
pub fn measure(text: &Text) -> Level {
    measure_with(text, Lists::Carried)
}

/// Measures the blurb of a text with some lists of familiar words.
pub fn measure_with(text: &Text, lists: Lists) -> Level {
    let (whole, prose) = (text, without_verse(text));
    let text = prose.as_ref().unwrap_or(whole);
    let tally = Tally::of(text, lists);
    let Scores { headline, scores, counts } = Scores::of(&tally.whole, text, lists);
    let measure = measured(&counts, text.language, text.readers).map(|(measure, _)| measure.facts());
    let drivers = measure.filter(|facts| is_listed(facts, lists)).and_then(|facts| Drivers::of(text, &tally, facts));
    // Where there are too few words to tell a level, there are too few to tell what a sentence adds to it.
    let costs = drivers.as_ref().filter(|_| headline.is_some());
    Level {
        hardest_sentences: costs.map(Drivers::hardest).unwrap_or_default(),
        unfamiliar: drivers.as_ref().map(Drivers::unfamiliar).unwrap_or_default(),
        guessed: guessed(whole),
        verse_words: whole.blurb.words.len() - text.blurb.words.len(),
        list: measure.filter(|facts| is_listed(facts, lists)).and_then(|facts| facts.list),
        headline,
        scores,
        counts,
    }
}

/// Whether the program was built without the dictionary of syllables; all syllables are guessed then.
pub fn lacks_dictionary() -> bool {
    lexicon::syllables("a").is_none()
}

/// Scores the blurb of a text by every formula, with the lists that the program carries.
pub fn scores(text: &Text) -> Scores {
    let prose = without_verse(text);
    let text = prose.as_ref().unwrap_or(text);
    Scores::of(&Tally::whole(text, Lists::Carried), text, Lists::Carried)
}

impl Scores {
    fn of(counts: &Counts, text: &Text, lists: Lists) -> Self {
        let length = SampleLength::of(counts.of(Count::Words));
        let has_list = |headline: &Headline| is_listed(headline.measure.facts(), lists);
        let mut scores = Vec::with_capacity(Formula::FOR_ALL);
        let shown = Formula::shown_for(text.language);
        scores.extend(shown.map(|formula| score(formula, counts, length, text, lists)));
        Self { headline: Headline::of(counts, text.language, text.readers).filter(has_list), scores, counts: *counts }
    }

    /// What [`Level::headline_by`] gives.
    pub fn headline_by(&self, measure: Formula) -> Option<Headline> {
        headline_by(measure, &self.scores, &self.counts)
    }

    /// The grade of the headline, as [`Level::grade`] gives it; none without a headline.
    pub fn grade(&self) -> Option<f64> {
        self.headline.as_ref().map(Headline::grade)
    }
}

fn headline_by(measure: Formula, scores: &[Score], counts: &Counts) -> Option<Headline> {
    // A score has no value where the text is in another language, or the measure's list is missing.
    scores.iter().find(|score| score.formula == measure)?.value?;
    let is_told_first = matches!(measure, Formula::SpacheRevised | Formula::NewDaleChallCloze);
    is_told_first.then(|| Headline::by(measure, counts)).flatten()
}

fn score(formula: Formula, counts: &Counts, length: Option<SampleLength>, text: &Text, lists: Lists) -> Score {
    let facts = formula.facts();
    let is_for_text = facts.language.is_none_or(|language| language == text.language) && is_listed(facts, lists);
    let value = if is_for_text { facts.value(counts) } else { None };
    let length = length.filter(|_| counts.of(Count::Words) >= LEAST_WORDS);
    let spread = value.and(length).and_then(|length| length.spread(formula));
    Score { formula, value, spread, why_not: why_not(facts, counts, value, text, lists) }
}

/// Whether the list that a formula needs is there; true for a formula that needs no list.
fn is_listed(facts: &Facts, lists: Lists) -> bool {
    facts.list.is_none_or(|list| lists.has(list))
}

/// The first reason why a formula does not apply; none where it does.
fn why_not(facts: &Facts, counts: &Counts, value: Option<f64>, text: &Text, lists: Lists) -> Option<WhyNot> {
    let Some(value) = value else {
        let language = facts.language.filter(|language| *language != text.language).map(WhyNot::Language);
        let list = || facts.list.filter(|list| !lists.has(*list)).map(WhyNot::NoList);
        return Some(language.or_else(list).unwrap_or(WhyNot::NoWords));
    };
    let (words, sentences) = (counts.of(Count::Words), counts.of(Count::Sentences));
    match facts.sample {
        Sample::Words(needed) if words < needed => return Some(WhyNot::Words { needed, found: words }),
        Sample::Sentences(needed) if sentences < needed => {
            return Some(WhyNot::Sentences { needed, found: sentences });
        }
        _ if words < LEAST_WORDS => return Some(WhyNot::Words { needed: LEAST_WORDS, found: words }),
        _ => {}
    }
    let (first, last) = facts.grades?;
    if !reaches(text.readers, first, last) {
        return Some(WhyNot::Readers { first, last });
    }
    let is_outside = value < f64::from(first) - 0.5 || value >= f64::from(last) + 1.0;
    (facts.scale == ScoreScale::Grade && is_outside).then_some(WhyNot::Grades { first, last })
}

/// Whether any of the readers' ages is in one of the grades; grade 1 begins at about 6 years.
fn reaches(readers: Ages, first: u32, last: u32) -> bool {
    let is_old_enough = readers.to.is_none_or(|oldest| oldest >= first + AGE_BEFORE_GRADE_1);
    // The last grades reach into adult life.
    let is_young_enough = last >= 12 || readers.from <= last + AGE_BEFORE_GRADE_1;
    is_old_enough && is_young_enough
}

/// The words whose syllables were guessed, once each, at their first places.
fn guessed(text: &Text) -> Vec<GuessedWord> {
    let mut seen: HashSet<u64, ByHash> = HashSet::default();
    let unknown = text.blurb.words.iter().filter(|word| word.basis == Basis::Guessed);
    let first = unknown.filter(|word| seen.insert(Spelling::unlisted(&fold(text.word(word))).key()));
    first
        .map(|word| GuessedWord {
            word: text.word(word).to_owned(),
            syllables: word.syllables,
            span: text.span(word.block, word.range.clone()),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Formula, Level, Lists, WhyNot, measure, measure_with};
    use crate::brief::Book;
    use crate::brief::book::{Ages, Name};
    use crate::draft::Draft;
    use crate::level::counts::Count;
    use crate::text::Text;

    fn level(copy: &str) -> Level {
        let draft = Draft::read(copy);
        measure(&Text::read(&draft, &Book::default()))
    }

    fn check(copy: &str, counts: &[(Count, usize)]) {
        let found = level(copy).counts;
        for (count, number) in counts {
            assert_eq!(found.of(*count), *number, "{}: {copy}", count.key());
        }
    }

    /// A rhyme whose stops show no sentences would be one of 19 words, far above its readers.
    #[test]
    fn verse_whose_sentences_run_on_over_its_lines_has_no_part_in_the_level() {
        let verse = "The lamp has gone\\\nAnd out it stays\\\nAnd nobody knows\\\nFor how many days";
        let prose = "Oona keeps the lamp. Tonight it is out, and the boats are late. Who will light it before they \
                     come? Oona and Quillon will.";
        let (alone, both) = (level(prose), level(&format!("{verse}\n\n{prose}\n\n{verse}")));
        assert_eq!((both.verse_words, alone.verse_words), (30, 0));
        assert_eq!(both.scores, alone.scores);
        assert_eq!((both.headline, both.counts), (alone.headline, alone.counts));
        let verse = level(verse);
        assert_eq!((verse.verse_words, verse.counts.of(Count::Words)), (15, 0));
        assert_eq!(verse.headline, None);
        assert!(verse.scores.iter().all(|score| score.value.is_none()));
    }

    #[test]
    fn guessed_words_are_listed_once_with_their_place() {
        let copy = "# Xyrrin\n\nThe *Quillonia* sails. QUILLONIA sank, said Xyrrin.";
        let level = level(copy);
        let words: Vec<(&str, u32)> = level.guessed.iter().map(|word| (word.word.as_str(), word.syllables)).collect();
        assert_eq!(words, [("Quillonia", 4), ("Xyrrin", 2)]);
        assert_eq!(&copy[level.guessed[0].span.start..level.guessed[0].span.end], "Quillonia");
    }

    /// How to Write Plain English (Flesch 1979), chapter 2: a figure is one syllable, as is an abbreviation.
    #[test]
    fn a_figure_is_one_syllable_for_flesch() {
        let value = |copy: &str| level(copy).value(Formula::FleschReadingEase);
        assert_eq!(value("In 1984 Mr. Fox sat."), value("In June Bob Fox sat."));
        check(
            "In 1984 Mr. Fox sat.",
            &[(Count::Syllables, 10), (Count::SyllablesByFlesch, 5), (Count::ThreeSyllables, 1)],
        );
    }

    /// Gunning: names, compounds of easy words, and words long by -es or -ed are not hard.
    #[test]
    fn hard_words_by_gunning() {
        check("A bookkeeper, well-meaning Quillonia, created expanses by a lighthouse-keeper.", &[(Count::Hard, 0)]);
        check("An adventure by an adventurous old-adventure.", &[(Count::Hard, 3), (Count::ThreeSyllables, 3)]);
    }

    /// Björnsson 1968 ends a sentence at a colon; more than six letters are a long word.
    #[test]
    fn long_words_and_colons_by_bjornsson() {
        check(
            "Listen: the thunder answers the cliffs.",
            &[(Count::Sentences, 1), (Count::SentencesAtColons, 2), (Count::Long, 2)],
        );
    }

    #[test]
    fn letters_and_digits() {
        check("In 2026, Zoë’s lamp!", &[(Count::Letters, 10), (Count::LettersAndDigits, 14)]);
    }

    /// Dale and Chall 1948, Spache 1953: names are familiar, and stay so where they open a sentence.
    #[test]
    fn names_are_familiar_in_any_position() {
        check("Quillonia ran. The dog saw Quillonia and Xyrrin’s quillonia.", &[(Count::Unfamiliar, 1)]);
        check("Quillonia ran. Quillonia sat.", &[(Count::Unfamiliar, 2), (Count::UnfamiliarOnce, 1)]);
        check("“QUILLONIA!” said the dog. “Xyrrin!”", &[(Count::Unfamiliar, 2)]);
        check("N'T", &[(Count::Unfamiliar, 1)]);
        let draft = Draft::read("Quillonia ran.");
        let names = vec![Name { name: "Quillonia Fenn".to_owned(), syllables: None }];
        let found = measure(&Text::read(&draft, &Book { names, ..Book::default() }));
        assert_eq!(found.counts.of(Count::Unfamiliar), 0);
    }

    #[test]
    fn words_are_held_against_the_lists_in_any_language() {
        let draft = Draft::read("The dogs ran to the lighthouse.");
        for language in ["en", "fr"] {
            let found = measure(&Text::read(&draft, &Book { language: language.to_owned(), ..Book::default() }));
            assert_eq!(found.counts.of(Count::Unfamiliar), 1, "{language}");
        }
    }

    #[test]
    fn what_applies_to_a_picture_book() {
        let draft = Draft::read("The dog ran to the house. The cat sat on the mat. The dog saw the cat and ran out.");
        let readers = Ages { from: 4, to: Some(8) };
        let found = measure(&Text::read(&draft, &Book { readers, ..Book::default() }));
        let applying = found.scores.iter().filter(|score| score.applies()).map(|score| score.formula);
        assert_eq!(
            applying.collect::<Vec<_>>(),
            [Formula::NewDaleChallCloze, Formula::Spache1953, Formula::SpacheRevised, Formula::Lix, Formula::Rix,]
        );
        let why = |formula| found.score(formula).unwrap().why_not.unwrap().to_string();
        assert_eq!(why(Formula::Smog), "needs 30 sentences, and there are 3");
        assert_eq!(why(Formula::Forcast), "needs 150 words, and there are 20");
        assert_eq!(why(Formula::GunningFog), "made for grades 6 to 17, and the readers are in others");
        assert_eq!(found.headline.unwrap().measure, Formula::SpacheRevised);
    }

    #[test]
    fn other_languages_have_their_own() {
        let draft = Draft::read("Alle meine Entchen schwimmen auf dem See.");
        let found = measure(&Text::read(&draft, &Book { language: "de-AT".to_owned(), ..Book::default() }));
        let smog = found.score(Formula::Smog).unwrap();
        assert_eq!((smog.value, smog.why_not.map(|why| why.to_string()).as_deref()), (None, Some("made for English")));
        assert!(found.value(Formula::Amstad).is_some() && found.value(Formula::Lix).is_some());
        assert!(found.score(Formula::Douma).is_none() && found.headline.is_none() && found.guessed.is_empty());
    }

    #[test]
    fn without_lists_the_rest_still_measures() {
        let draft = Draft::read("The dog ran.");
        let text = Text::read(&draft, &Book::default());
        let found = measure_with(&text, Lists::Missing);
        let score = found.score(Formula::SpacheRevised).unwrap();
        assert_eq!((score.value, score.why_not.is_some_and(|why| matches!(why, WhyNot::NoList(_)))), (None, true));
        assert!(found.headline.is_none() && found.value(Formula::FleschReadingEase).is_some());
        assert_eq!(
            found.missing_lists().map(|why| why.to_string()).collect::<Vec<_>>(),
            [
                "this program was built without the Dale-Chall list (wordlists/dale-chall.txt)",
                "this program was built without the Spache list (wordlists/spache.txt)"
            ]
        );
    }

    #[test]
    fn no_words_no_score() {
        let found = level("# A headline alone");
        assert!(found.scores.iter().all(|score| score.value.is_none() && score.why_not == Some(WhyNot::NoWords)));
    }

    proptest::proptest! {
        #[test]
        fn no_more_words_are_guessed_than_there_are(copy in proptest::prelude::any::<String>()) {
            let draft = Draft::read(&copy);
            let text = Text::read(&draft, &Book::default());
            proptest::prop_assert!(measure(&text).guessed.len() <= text.blurb.words.len());
        }
    }
}
