//! Flesch's formula as it was fitted anew to Spanish, French, German and Dutch; easier text is higher.
//!
//! Each counts words, sentences and syllables by the rules of its language (`text/vowels.rs`).

use super::counts::Count::{Sentences, Syllables, Words};
use super::counts::Counts;
use super::facts::{Facts, Sample, ScoreScale};
use crate::text::language::Language;

/// Words per sentence, then syllables per word.
fn averages(counts: &Counts) -> (f64, f64) {
    (counts.per(Words, Sentences), counts.per(Syllables, Words))
}

/// Fernández Huerta 1959.
pub(super) const FERNANDEZ_HUERTA: Facts = Facts {
    key: "fernandez_huerta",
    name: "Fernández Huerta",
    scale: ScoreScale::Ease,
    source: "J. Fernández Huerta, Medidas sencillas de lecturabilidad, Consigna 214 (1959)",
    counting: "Syllables per word and words per sentence. The article prints sentences per hundred words for the \
               latter, by which short sentences would be harder: an error (G. Law, LINGUIST List 22.2332, 2011).",
    language: Some(Language::Spanish),
    sample: Sample::HundredWordsOrWhole,
    grades: None,
    list: None,
    counts: &[Syllables, Words, Sentences],
    readings: &[],
    equation: |c| {
        let (sentence, word) = averages(c);
        206.84 - 60.0 * word - 1.02 * sentence
    },
};

/// Szigriszt Pazos 1993.
pub(super) const SZIGRISZT_PAZOS: Facts = Facts {
    key: "szigriszt_pazos",
    name: "Szigriszt-Pazos",
    source: "F. Szigriszt Pazos, Sistemas predictivos de legilibilidad del mensaje escrito (thesis, Madrid 1993)",
    counting: "Syllables per word and words per sentence.",
    equation: |c| {
        let (sentence, word) = averages(c);
        206.835 - 62.3 * word - sentence
    },
    ..FERNANDEZ_HUERTA
};

/// Kandel and Moles 1958, in one of the two forms that are quoted.
pub(super) const KANDEL_MOLES_209: Facts = Facts {
    key: "kandel_moles_209",
    name: "Kandel-Moles (disputed, form with 209)",
    source: "L. Kandel, A. Moles, Application de l'indice de Flesch à la langue française (1958), as quoted",
    counting: "Two forms of this formula are quoted, and the article was not seen: neither is certain. They differ by \
               2 to 9 points.",
    language: Some(Language::French),
    equation: |c| {
        let (sentence, word) = averages(c);
        209.0 - 1.15 * sentence - 68.0 * word
    },
    ..FERNANDEZ_HUERTA
};

/// Kandel and Moles 1958, in the other form.
pub(super) const KANDEL_MOLES_207: Facts = Facts {
    key: "kandel_moles_207",
    name: "Kandel-Moles (disputed, form with 207)",
    equation: |c| {
        let (sentence, word) = averages(c);
        207.0 - 1.015 * sentence - 73.6 * word
    },
    ..KANDEL_MOLES_209
};

/// Amstad 1978.
pub(super) const AMSTAD: Facts = Facts {
    key: "amstad",
    name: "Amstad",
    source: "T. Amstad, Wie verständlich sind unsere Zeitungen? (thesis, Zürich 1978)",
    counting: "Syllables per word and words per sentence.",
    language: Some(Language::German),
    equation: |c| {
        let (sentence, word) = averages(c);
        180.0 - sentence - 58.5 * word
    },
    ..FERNANDEZ_HUERTA
};

/// Douma 1960.
pub(super) const DOUMA: Facts = Facts {
    key: "douma",
    name: "Flesch-Douma",
    source: "W. H. Douma, De leesbaarheid van landbouwbladen (1960)",
    counting: "Syllables per word and words per sentence. Some papers misprint 0.33 for 0.93.",
    language: Some(Language::Dutch),
    equation: |c| {
        let (sentence, word) = averages(c);
        206.835 - 0.93 * sentence - 77.0 * word
    },
    ..FERNANDEZ_HUERTA
};

/// Brouwer 1963.
pub(super) const BROUWER: Facts = Facts {
    key: "brouwer",
    name: "Brouwer",
    source: "R. H. M. Brouwer, Onderzoek naar de leesmoeilijkheid van Nederlands proza, Paedagogische Studiën 40 \
             (1963)",
    counting: "Syllables per hundred words, of which two thirds count, and words per sentence.",
    equation: |c| {
        let (sentence, word) = averages(c);
        195.0 - 2.0 * sentence - 200.0 / 3.0 * word
    },
    ..DOUMA
};
