//! Queries: places that the author should look at. A query is never an error and never a grade.
//!
//! One file a rule, or a few rules of one kin: what it looks for, why, its source, and examples that fire and that do
//! not. A rule may offer cuts, shorter wordings of the place; what a cut is worth is found elsewhere, by setting again.

use std::ops::Range;

use crate::brief::Brief;
use crate::brief::queries::Rule;
use crate::draft::{Block, Draft, Edit};
use crate::setting::Setting;
use crate::text::Text;
use crate::text::level::Level;

mod telling;
mod verbs;
mod many_names;
mod adjectives;
mod repeated_openings;
mod long_sentences;
mod mixed_tense;
mod mixed_person;
mod credits;
mod age_lines;
mod quotation_marks;
mod blanks;
mod dashes;
mod broken_names;
mod line_ends;
mod endings;
mod front_cover;
mod lists;
mod mend;
mod modifiers;
mod openings;
mod passive;
mod praise;
mod prose;
mod repeats;
mod wordy;
#[cfg(test)]
mod cases;

/// A place that the author should look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Query {
    /// The rule that found it.
    pub rule: Rule,
    /// The number of its block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text.
    pub range: Range<usize>,
    /// What may be wrong with it and why, as a sentence without its stop.
    pub says: String,
    /// Shorter wordings, the best first; none where there is no ready one.
    pub cuts: Vec<Cut>,
}

/// A shorter wording of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// Bytes of the block's text that go; those of a blank that would be left over are among them.
    pub range: Range<usize>,
    /// What stands there instead; often nothing.
    pub wording: String,
}

impl Cut {
    /// The cut as a change of the author's file.
    pub fn edit(&self, block: &Block) -> Edit {
        Edit { span: block.span(self.range.clone()), text: self.wording.clone() }
    }
}

/// What rules read: one draft, measured and set.
pub struct Reading<'a> {
    /// All that is printed.
    pub draft: &'a Draft,
    /// The headline and the blurb in words and sentences.
    pub text: &'a Text<'a>,
    /// How hard the blurb is to read.
    pub level: &'a Level,
    /// The copy in lines.
    pub setting: &'a Setting,
    /// The author's settings.
    pub brief: &'a Brief,
}

/// What looks for queries, and adds those it finds.
type Finder = fn(&Reading<'_>, &mut Vec<Query>);

/// Every rule with what looks for it.
const FINDERS: [(Rule, Finder); 29] = [
    (Rule::WordyPhrase, wordy::wordy_phrases),
    (Rule::Doublet, wordy::doublets),
    (Rule::EmptyModifier, modifiers::empty_modifiers),
    (Rule::HiddenVerb, wordy::hidden_verbs),
    (Rule::StockPhrase, praise::stock_phrases),
    (Rule::Praise, praise::praise),
    (Rule::Passive, passive::passives),
    (Rule::WeakOpening, openings::weak_openings),
    (Rule::PlotToTheEnd, endings::plots_to_the_end),
    (Rule::ManyNames, many_names::find),
    (Rule::AdjectivesInARow, adjectives::in_a_row),
    (Rule::RepeatedWord, repeats::repeated_words),
    (Rule::RepeatedOpening, repeated_openings::find),
    (Rule::LongSentence, long_sentences::find),
    (Rule::MixedTense, mixed_tense::find),
    (Rule::MixedPerson, mixed_person::find),
    (Rule::ClosedQuestion, endings::closed_questions),
    (Rule::CreditWithoutStanding, credits::without_standing),
    (Rule::BareClaim, praise::bare_claims),
    (Rule::AgeLine, age_lines::contradicted),
    (Rule::FrontCoverLine, front_cover::front_cover_lines),
    (Rule::MixedQuotes, quotation_marks::mixed),
    (Rule::DoubleSpace, blanks::double_spaces),
    (Rule::HyphenForDash, dashes::hyphens_for_dashes),
    (Rule::SpaceBeforeStop, blanks::spaces_before_stops),
    (Rule::ThreeDots, dashes::three_dots),
    (Rule::BrokenName, broken_names::find),
    (Rule::Runt, line_ends::runts),
    (Rule::Rag, line_ends::rag),
];

/// Every query of a draft, in the order of the copy.
pub fn find(reading: &Reading<'_>) -> Vec<Query> {
    let mut queries = Vec::new();
    for (rule, finder) in FINDERS {
        if !reading.brief.queries.off.contains(&rule) {
            finder(reading, &mut queries);
        }
    }
    queries.sort_by_key(|query| (query.block, query.range.start, query.rule));
    queries
}
