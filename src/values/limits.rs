//! The rows of the limits: a range for each measure.

use super::build::{RowFacts, RowGroup, keys};
use super::row::{BriefRow, RowForm};
use crate::brief::Brief;
use crate::brief::limits::{Limits, Measure, usual_for};
use crate::brief::yaml::Node;

/// A row for every measure, with what is usual where the brief sets no limit.
pub(super) fn rows(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Limits of the blurb", tree, None);
    let usual = usual_for(&brief.book, &Limits::default());
    for measure in Measure::ALL {
        let found = usual.iter().find(|usual| usual.measure == measure);
        let usual = found.map_or_else(|| "no limit".to_owned(), |usual| format!("no limit; {} is usual", usual.range));
        let facts = RowFacts { name: measure.name(), form: RowForm::Figure, usual, says: says(measure) };
        group.add(keys(&["limits", measure.key()]), facts);
    }
    group.rows
}

/// What a limit of a measure is for.
fn says(measure: Measure) -> &'static str {
    match measure {
        Measure::Words => {
            "How many words the blurb may have: 40..100, ..100 (at most), 40.. (at least), or .. for none."
        }
        Measure::Characters => "How many characters, blanks among them, as shops count: ..600 is at most 600.",
        Measure::Letters => "How many letters, without blanks and marks: ..500 is at most 500.",
        Measure::Sentences => "How many sentences: 3..10 is from 3 to 10.",
        Measure::Paragraphs => "How many paragraphs: 1..3 is from 1 to 3.",
        Measure::Syllables => "How many syllables, as they are spoken: ..150 is at most 150.",
        Measure::LongestSentence => "How many words the longest sentence may have: ..20 is at most 20.",
        Measure::WordsPerSentence => "How many words a sentence has on average: ..12 is at most 12.",
        Measure::Level => "The school grade at which the blurb reads: ..3 is at most grade 3. A rough guide.",
        Measure::ReadingEase => "From 0, hard, to 100, easy: 80.. is at least 80. A rough guide.",
    }
}
