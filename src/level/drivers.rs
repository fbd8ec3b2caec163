//! What drives the level: the sentences that cost most and the words outside the list, and what changing each would do.
//!
//! Each change is tried by computing the headline's measure from the counts that would result; nothing is estimated.

use std::collections::HashMap;

use crate::draft::Span;

use super::counts::{Count, Counts};
use super::facts::{Facts, ScoreScale};
use super::tally::Tally;
use crate::text::Text;
use crate::text::spelling::ByHash;

/// The most sentences that are reported.
const MOST_SENTENCES: usize = 5;
/// The least cost that is reported: a lower cost would be shown as zero.
const LEAST_COST: f64 = 0.005;

/// A sentence that makes the copy harder.
#[derive(Debug, Clone, PartialEq)]
pub struct HardSentence {
    /// The sentence as it is printed; the lines that the author has ended end with a line feed.
    pub text: String,
    /// How many words the sentence has.
    pub words: usize,
    /// Where the sentence stands in the file.
    pub span: Span,
    /// How much harder the copy is than without the sentence, in the unit of the headline's measure; above 0. For the
    /// only sentence of the copy, how much harder than with the sentence split in two.
    pub cost: f64,
    /// The measure without the sentence; none where nothing would be left.
    pub without: Option<f64>,
    /// The measure with the sentence split in two.
    pub split: f64,
}

/// A word outside the list of the headline's measure.
#[derive(Debug, Clone, PartialEq)]
pub struct UnfamiliarWord {
    /// The word as it is written where it first stands.
    pub word: String,
    /// How often the word stands in the blurb.
    pub times: usize,
    /// Where the word first stands in the file.
    pub span: Span,
    /// The measure if a familiar word took the word's place each time.
    pub replaced: f64,
}

/// What a change would do, tried on one measure.
pub(super) struct Drivers<'t> {
    text: &'t Text<'t>,
    tally: &'t Tally,
    facts: &'t Facts,
    value: f64,
    /// The unfamiliar words, once each, in reading order.
    words: Vec<UnfamiliarPlaces>,
    /// For each sentence of the blurb, how many of the unfamiliar words stand in it and in no other.
    only_within: Vec<usize>,
}

/// Where an unfamiliar word stands.
#[derive(Clone, Copy)]
struct UnfamiliarPlaces {
    /// The position of the word's first place among the words of the blurb.
    first: usize,
    /// How often the word stands in the blurb.
    times: usize,
    /// The position of the sentence that the word stands in; none where it stands in several.
    sentence: Option<usize>,
}

impl<'t> Drivers<'t> {
    /// What changes would do to a measure; none where the measure needs no list or has no value.
    pub(super) fn of(text: &'t Text<'t>, tally: &'t Tally, facts: &'t Facts) -> Option<Self> {
        let list = facts.list?;
        let value = facts.value(&tally.whole)?;
        let mut words: Vec<UnfamiliarPlaces> = Vec::new();
        // The position of each spelling in `words`.
        let mut known: HashMap<u64, usize, ByHash> = HashMap::default();
        // The places are in reading order, so the sentences are walked along with them.
        let mut sentence = 0;
        for word in tally.unfamiliar.iter().filter(|word| word.is_outside(list)) {
            while text.blurb.sentences[sentence].words.end <= word.at {
                sentence += 1;
            }
            let place = *known.entry(word.key).or_insert(words.len());
            if place == words.len() {
                words.push(UnfamiliarPlaces { first: word.at, times: 0, sentence: Some(sentence) });
            }
            let places = &mut words[place];
            places.times += 1;
            places.sentence = places.sentence.filter(|other| *other == sentence);
        }
        let mut only_within = vec![0; tally.sentences.len()];
        for sentence in words.iter().filter_map(|places| places.sentence) {
            only_within[sentence] += 1;
        }
        Some(Self { text, tally, facts, value, words, only_within })
    }

    /// The words outside the list, once each, in reading order.
    pub(super) fn unfamiliar(&self) -> Vec<UnfamiliarWord> {
        let mut words = Vec::with_capacity(self.words.len());
        words.extend(self.words.iter().filter_map(|places| {
            let less = Counts::default().with(Count::Unfamiliar, places.times).with(Count::UnfamiliarOnce, 1);
            let word = &self.text.blurb.words[places.first];
            Some(UnfamiliarWord {
                word: self.text.word(word).to_owned(),
                times: places.times,
                span: self.text.span(word.block, word.range.clone()),
                replaced: self.facts.value(&self.tally.whole.without(&less))?,
            })
        }));
        words
    }

    /// The sentences that cost most, the costliest first.
    pub(super) fn hardest(&self) -> Vec<HardSentence> {
        let tried = (0..self.tally.sentences.len()).filter_map(|at| self.try_sentence(at));
        let mut found: Vec<HardSentence> = tried.filter(|sentence| sentence.cost >= LEAST_COST).collect();
        found.sort_by(|one, other| other.cost.total_cmp(&one.cost));
        found.truncate(MOST_SENTENCES);
        found
    }

    /// What a sentence costs, and what the measure would be without the sentence and with the sentence split in two.
    fn try_sentence(&self, at: usize) -> Option<HardSentence> {
        let sentence = &self.text.blurb.sentences[at];
        let (whole, gone) = (&self.tally.whole, self.tally.sentences[at]);
        // A word that also stands in another sentence still counts among the different words.
        let words_gone = gone.with(Count::UnfamiliarOnce, self.only_within[at]);
        let without = self.facts.value(&whole.without(&words_gone));
        let split = self.facts.value(&whole.with(Count::Sentences, 1))?;
        Some(HardSentence {
            text: self.text.sentence(sentence).to_owned(),
            words: sentence.words.len(),
            span: self.text.span(sentence.block, sentence.range.clone()),
            cost: self.easier_by(without.unwrap_or(split)),
            without,
            split,
        })
    }

    /// How much easier the copy is at another value.
    fn easier_by(&self, value: f64) -> f64 {
        match self.facts.scale {
            ScoreScale::Ease => value - self.value,
            ScoreScale::Grade | ScoreScale::Hardness => self.value - value,
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::brief::Book;
    use crate::brief::book::Ages;
    use crate::draft::Draft;
    use crate::level::{Level, measure};
    use crate::text::Text;

    const COPY: &str = "The dog ran. The dog saw a quillonia by the big red house and ran to the quillonia. \
                        A lighthouse! The dog sat.";

    fn level(copy: &str, oldest: u32) -> Level {
        let draft = Draft::read(copy);
        let book = Book { readers: Ages { from: 4, to: Some(oldest) }, ..Book::default() };
        measure(&Text::read(&draft, &book))
    }

    fn shorter(value: f64) -> f64 {
        (value * 1000.0).round() / 1000.0
    }

    /// Worked by hand. 23 words, 4 sentences, 2 different unfamiliar words: 0.121 * 5.75 + 0.082 * 8.6957 + 0.659 =
    /// 2.068. Without the long sentence: 8 words, 3 sentences, 1 word: 0.121 * 8/3 + 0.082 * 12.5 + 0.659 = 2.007.
    /// Split: 5 sentences: 0.121 * 4.6 + 0.082 * 8.6957 + 0.659 = 1.929. Without the lighthouse: 21 words, 3 sentences,
    /// 1 word: 0.121 * 7 + 0.082 * 4.7619 + 0.659 = 1.896.
    #[test]
    fn sentences_that_cost_most_for_spache() {
        let found = level(COPY, 7).hardest_sentences;
        let told: Vec<_> =
            found.iter().map(|found| (found.words, found.without.map(shorter), shorter(found.split))).collect();
        assert_eq!(told, [(2, Some(1.896), 1.929), (15, Some(2.007), 1.929)]);
        assert_eq!(&COPY[found[0].span.start..found[0].span.end], "A lighthouse!");
        assert_eq!(found[0].text, "A lighthouse!");
        assert!((found[0].cost - (2.068 - 1.896)).abs() < 0.001);
    }

    /// Worked by hand: with one word less 0.121 * 5.75 + 0.082 * 4.3478 + 0.659 = 1.711.
    #[test]
    fn unfamiliar_words_for_spache() {
        let found = level(COPY, 7).unfamiliar;
        let told: Vec<_> =
            found.iter().map(|found| (found.word.as_str(), found.times, shorter(found.replaced))).collect();
        assert_eq!(told, [("quillonia", 2, 1.711), ("lighthouse", 1, 1.711)]);
    }

    /// Worked by hand: 3 unfamiliar of 23, 5.75 words a sentence; without both quillonias
    /// 64 - 0.95 * 4.3478 - 0.69 * 5.75 = 55.902.
    #[test]
    fn unfamiliar_words_for_new_dale_chall() {
        let found = level(COPY, 12).unfamiliar;
        assert_eq!((found[0].word.as_str(), found[0].times, shorter(found[0].replaced)), ("quillonia", 2, 55.902));
    }

    /// Worked by hand: 247 words in 41 sentences; without that of seven words 240 in 40, easier by 0.121 * 0.0244 =
    /// 0.003.
    #[test]
    fn a_sentence_that_costs_next_to_nothing_is_not_told() {
        let copy = format!("{}The dog ran to the big cat.", "The dog ran to the cat. ".repeat(40));
        let found = level(&copy, 7);
        assert!(found.headline.is_some() && found.hardest_sentences.is_empty(), "{:?}", found.hardest_sentences);
    }

    #[test]
    fn an_only_sentence_can_be_split() {
        let found = level("The dog ran to the big red house and the cat ran to the house and the dog sat down.", 7)
            .hardest_sentences;
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].without, None);
        assert!((found[0].cost - 0.121 * 10.0).abs() < 1e-9);
    }
}
