//! The numbers that the formulas of reading level are computed from: one for each thing that a formula counts.

use crate::text::length::as_number;

/// Something that a formula counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Count {
    /// Words; a hyphened word is one.
    Words,
    /// Sentences by the program's rule.
    Sentences,
    /// Sentences where a colon with a blank behind it also ends one.
    SentencesAtColons,
    /// Syllables as spoken.
    Syllables,
    /// Syllables where a figure and an abbreviation have one each.
    SyllablesByFlesch,
    /// Letters.
    Letters,
    /// Letters and digits.
    LettersAndDigits,
    /// Words of one syllable.
    OneSyllable,
    /// Words of three syllables or more.
    ThreeSyllables,
    /// Hard words by Gunning's rule.
    Hard,
    /// Words of more than six letters.
    Long,
    /// Words outside the Dale-Chall list, each time they stand in the text.
    Unfamiliar,
    /// Different words outside the Spache list.
    UnfamiliarOnce,
}

impl Count {
    /// Every count, in the order of a report.
    pub const ALL: [Self; 13] = [
        Self::Words,
        Self::Sentences,
        Self::SentencesAtColons,
        Self::Syllables,
        Self::SyllablesByFlesch,
        Self::Letters,
        Self::LettersAndDigits,
        Self::OneSyllable,
        Self::ThreeSyllables,
        Self::Hard,
        Self::Long,
        Self::Unfamiliar,
        Self::UnfamiliarOnce,
    ];

    /// The count's name in data.
    pub fn key(self) -> &'static str {
        match self {
            Self::Words => "words",
            Self::Sentences => "sentences",
            Self::SentencesAtColons => "sentences_at_colons",
            Self::Syllables => "syllables",
            Self::SyllablesByFlesch => "syllables_by_flesch",
            Self::Letters => "letters",
            Self::LettersAndDigits => "letters_and_digits",
            Self::OneSyllable => "one_syllable",
            Self::ThreeSyllables => "three_syllables",
            Self::Hard => "hard",
            Self::Long => "long",
            Self::Unfamiliar => "unfamiliar",
            Self::UnfamiliarOnce => "unfamiliar_once",
        }
    }

    /// The count's name in a report.
    pub fn name(self) -> &'static str {
        match self {
            Self::Words => "words",
            Self::Sentences => "sentences",
            Self::SentencesAtColons => "sentences, parted at colons too",
            Self::Syllables => "syllables",
            Self::SyllablesByFlesch => "syllables, one for each figure and abbreviation",
            Self::Letters => "letters",
            Self::LettersAndDigits => "letters and digits",
            Self::OneSyllable => "words of one syllable",
            Self::ThreeSyllables => "words of three syllables or more",
            Self::Hard => "hard words",
            Self::Long => "words of more than six letters",
            Self::Unfamiliar => "unfamiliar words",
            Self::UnfamiliarOnce => "different unfamiliar words",
        }
    }
}

/// A number for each [`Count`]; all zero at first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counts([usize; Count::ALL.len()]);

impl Counts {
    /// The number of one count.
    pub fn of(&self, count: Count) -> usize {
        self.0[count as usize]
    }

    /// All counts, with one of them raised by `number`.
    pub fn with(mut self, count: Count, number: usize) -> Self {
        self.add(count, number);
        self
    }

    /// Adds `number` to one count.
    pub(super) fn add(&mut self, count: Count, number: usize) {
        self.0[count as usize] += number;
    }

    /// Subtracts `number` from one count, which has been counted before.
    pub(super) fn subtract(&mut self, count: Count, number: usize) {
        self.0[count as usize] -= number;
    }

    /// The sums of the counts of two parts of a text.
    pub(super) fn plus(mut self, part: &Self) -> Self {
        for (number, more) in self.0.iter_mut().zip(part.0) {
            *number += more;
        }
        self
    }

    /// The counts of the rest of a text once `part` is taken out of it, none below zero.
    pub(super) fn without(mut self, part: &Self) -> Self {
        for (number, less) in self.0.iter_mut().zip(part.0) {
            *number = number.saturating_sub(less);
        }
        self
    }

    /// `count` divided by `by`.
    pub(super) fn per(&self, count: Count, by: Count) -> f64 {
        as_number(self.of(count)) / as_number(self.of(by))
    }

    /// `count` per hundred words.
    pub(super) fn percent(&self, count: Count) -> f64 {
        100.0 * self.per(count, Count::Words)
    }
}
