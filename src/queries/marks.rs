//! Marks of a keyboard that are about to be printed, marks that may be either of two, and marks without a partner.
//!
//! What a printer sets instead is [`crate::text::straight_marks`]; this file asks about it. Straight marks are one
//! query for the whole draft, because they are one habit of one keyboard and are mended together; the mend is
//! [`mark_mends`] and no cut, since it takes no words. Source: the Chicago Manual of Style 6.115 (from memory), and
//! common practice of typesetters.

use std::ops::Range;

use super::prose::OwnCopy;
use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::draft::{Block, BlockKind, Draft, Edit};
use crate::text::straight_marks::{self, MarkKind};
use crate::units::nouns::counted;

/// A straight mark of a draft, and what a printer sets instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkMend {
    /// The number of the mark's block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text; none where something is put in.
    pub range: Range<usize>,
    /// What stands there in print.
    pub wording: String,
    /// What the mark is.
    pub kind: MarkKind,
}

impl MarkMend {
    /// The mend as a change of the author's file.
    pub fn edit(&self, draft: &Draft) -> Option<Edit> {
        let span = draft.blocks.get(self.block)?.span(self.range.clone());
        Some(Edit { span, text: self.wording.clone() })
    }
}

/// Every straight mark of a draft that is sure, in the order of the copy, by the language's BCP 47 tag.
pub fn mark_mends(draft: &Draft, tag: &str) -> Vec<MarkMend> {
    let found = found_in(draft, tag).into_iter().enumerate();
    let mends = found.flat_map(|(block, found)| {
        let mend = move |straight_marks::MarkChange { range, wording, kind }| MarkMend { block, range, wording, kind };
        found.changes.into_iter().map(mend)
    });
    mends.collect()
}

fn found_in(draft: &Draft, tag: &str) -> Vec<straight_marks::FoundMarks> {
    let texts: Vec<&str> = draft.blocks.iter().map(Block::text).collect();
    straight_marks::find(tag, &texts)
}

/// How many places the straight marks of a draft may be told at, of which the first free one is taken.
const MOST_PLACES: usize = 16;

/// Finds the straight marks of a draft, told once, at the first of them that no other query holds.
pub(super) fn straight(reading: &Reading<'_>, _: &OwnCopy<'_>, anywhere: &mut Vec<Vec<Query>>) {
    let mends = mark_mends(reading.draft, &reading.brief.book.language);
    let says = says(&mends);
    let query = |mend: &MarkMend| {
        let text = reading.draft.blocks[mend.block].text();
        // What is put in is shown by the mark behind it.
        let behind = text[mend.range.end..].chars().next().map_or(0, char::len_utf8);
        let end = mend.range.end + if mend.range.is_empty() { behind } else { 0 };
        let range = mend.range.start..end;
        Query { rule: Rule::StraightMarks, block: mend.block, range, says: says.clone(), cuts: Vec::new() }
    };
    anywhere.push(mends.iter().take(MOST_PLACES).map(query).collect());
}

/// What is said of a draft's straight marks: how many of each kind, and what they are in print.
fn says(mends: &[MarkMend]) -> String {
    let mut printed: Vec<&str> = Vec::new();
    for mend in mends.iter().filter(|mend| mend.kind != MarkKind::Blank) {
        let mark = mend.wording.trim();
        if !printed.contains(&mark) {
            printed.push(mark);
        }
    }
    let told = tally(mends.iter().map(|mend| mend.kind));
    match (mends.len(), printed.is_empty()) {
        (_, true) => format!("{told} should be narrow ones, at which no line ends"),
        (1, _) => format!("{told} is a typewriter's; in print it is {}", printed.join(" ")),
        _ => format!("{told} are a typewriter's; in print they are {}", printed.join(" ")),
    }
}

/// Marks by their kinds, each with its number: `4 quotation marks, 1 apostrophe and 2 dashes`.
pub fn tally(kinds: impl Iterator<Item = MarkKind> + Clone) -> String {
    const NOUNS: [(MarkKind, &str); 6] = [
        (MarkKind::Quote, "quotation mark"),
        (MarkKind::Apostrophe, "apostrophe"),
        (MarkKind::Prime, "mark of feet or inches"),
        (MarkKind::Dash, "hyphen for a dash"),
        (MarkKind::Dots, "row of three dots"),
        (MarkKind::Blank, "blank"),
    ];
    let counts = NOUNS.iter().map(|(kind, noun)| (kinds.clone().filter(|found| found == kind).count(), *noun));
    let mut told: Vec<String> =
        counts.filter(|(count, _)| *count > 0).map(|(count, noun)| number(count, noun)).collect();
    let last = told.pop().unwrap_or_default();
    if told.is_empty() { last } else { format!("{} and {last}", told.join(", ")) }
}

/// A number with its noun; of a noun of several words the first is counted: `2 marks of feet or inches`.
fn number(count: usize, noun: &str) -> String {
    match noun.split_once(' ') {
        Some((first, rest)) if rest.starts_with("of ") || rest.starts_with("for ") => {
            format!("{} {rest}", counted(count, first))
        }
        _ => counted(count, noun),
    }
}

/// Finds single marks that may be an apostrophe or may open a quotation.
pub(super) fn doubtful(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let tag = &reading.brief.book.language;
    for (block, found) in found_in(reading.draft, tag).into_iter().enumerate() {
        queries.extend(found.doubtful.into_iter().map(|range| {
            let cut = |wording: &str| Cut { range: range.clone(), wording: wording.to_owned() };
            Query {
                rule: Rule::DoubtfulMark,
                block,
                says: "this mark may stand for a letter that is left out, or may open a quotation that is never closed"
                    .to_owned(),
                cuts: vec![cut("’"), cut("‘")],
                range,
            }
        }));
    }
}

/// Finds quotation marks and brackets that have no partner.
pub(super) fn unpaired(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let tag = &reading.brief.book.language;
    for (block, found) in found_in(reading.draft, tag).into_iter().enumerate() {
        let own = &reading.draft.blocks[block];
        // Each line of a list of titles is a world of its own, and a credit may close what its quote opened.
        if matches!(own.kind, BlockKind::OtherTitles | BlockKind::Credit) {
            continue;
        }
        queries.extend(found.unpaired.into_iter().map(|range| {
            let says = match &own.text()[range.clone()] {
                "(" | "[" => "this bracket opens, and nothing closes it",
                ")" | "]" => "this bracket closes, and nothing opened it",
                _ => "this quotation mark has no partner in its paragraph",
            };
            Query { rule: Rule::UnpairedMark, block, range, says: says.to_owned(), cuts: Vec::new() }
        }));
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{TestCaseError, any, prop_assert, prop_assert_eq, proptest};

    use super::mark_mends;
    use crate::draft::{Draft, Edit, edited};
    use crate::queries::cases::{check, check_marks};

    #[test]
    fn marks_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/marks.txt"));
    }

    #[test]
    fn drafts_are_mended_as_told() {
        check_marks(include_str!("../../tests/cases/queries/mended_marks.txt"));
    }

    /// Copy whose marks are all sure.
    const MENDED: &str = "(\"Oona runs!\" |'She ran,' |\"I 'ran' (far).\" |It's the dogs' lamp\\. |The '90s: |\
                          Oona - |\\*so\\*... |--so ){1,9}";

    /// The blocks of a draft that is mended have the letters that they had.
    fn check_mends(source: &str, tag: &str) -> Result<(), TestCaseError> {
        let draft = Draft::read(source);
        let edits: Vec<Edit> = mark_mends(&draft, tag).iter().filter_map(|mend| mend.edit(&draft)).collect();
        let mended = edited(source, &edits);
        let again = Draft::read(&mended);
        prop_assert_eq!(again.blocks.len(), draft.blocks.len(), "{}", mended);
        let letters = |draft: &Draft| -> String {
            let texts = draft.blocks.iter().flat_map(|block| block.text().chars());
            texts.filter(|c| c.is_alphanumeric()).collect()
        };
        prop_assert_eq!(letters(&again), letters(&draft));
        Ok(())
    }

    proptest! {
        #[test]
        fn any_copy_can_be_mended(source in any::<String>(), tag in "en|de|fr|nl|sv") {
            let draft = Draft::read(&source);
            let edits: Vec<Edit> = mark_mends(&draft, &tag).iter().filter_map(|mend| mend.edit(&draft)).collect();
            prop_assert!(edits.iter().all(|edit| source.get(edit.span.start..edit.span.end).is_some()));
        }

        #[test]
        fn marks_in_any_order_leave_the_letters(
            words in proptest::collection::vec("[\"'(]{0,2}(Oona|runs|dogs|tis|it's|90s)[.,!?]{0,1}['\")]{0,2}", 1..9),
            tag in "en|de|fr|it|nl|pl|sv",
        ) {
            check_mends(&words.join(" "), &tag)?;
        }

        #[test]
        fn what_is_mended_has_nothing_left_to_mend(
            words in MENDED,
            tag in "en|de|fr|it|nl|pl|sv",
        ) {
            let draft = Draft::read(&words);
            let edits: Vec<Edit> = mark_mends(&draft, &tag).iter().filter_map(|mend| mend.edit(&draft)).collect();
            let mended = edited(&words, &edits);
            let left = mark_mends(&Draft::read(&mended), &tag);
            prop_assert!(left.is_empty(), "{:?}\n{:?}\n{:?}", words, mended, left);
        }
    }
}
