//! Queries: places that the author should look at. A query is never an error and never a grade.
//!
//! One file a rule, or a few rules of one kin: what it looks for, why, its source, and examples that fire and that do
//! not. A rule may offer cuts, shorter wordings of the place; what a cut is worth is found elsewhere, by setting again.

use std::ops::Range;

use crate::brief::Brief;
use crate::brief::queries::Rule;
use crate::draft::{Block, BlockKind, Draft, Edit};
use crate::level::Level;
use crate::setting::Setting;
use crate::text::Text;
use crate::text::language::Language;

use prose::{OwnCopy, Prose};

pub use memory::QueryMemory;

mod memory;
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
mod quoted;
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
mod places;
mod praise;
mod prose;
mod repeats;
mod sense;
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

/// A place that a rule found, which may be told only where it is a habit.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Place {
    query: Query,
    /// It is told only where the whole copy has others.
    by_habit: bool,
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
enum Finder {
    /// It looks at one paragraph, where that is of some kinds, and goes by nothing else but the brief's book, terms, limits and
    /// queries.
    Paragraph(&'static [BlockKind], fn(&Reading<'_>, &Prose<'_>, &mut Vec<Query>)),
    /// It looks at one paragraph of the headline or the blurb in the same way, and some of its places are told only where the
    /// copy has so many in all.
    Habit(usize, fn(&Reading<'_>, &Prose<'_>, &mut Vec<Place>)),
    /// It looks at one block of whatever is printed, given with its number, and goes by nothing else but the language.
    Block(fn(Language, usize, &Block, &mut Vec<Query>)),
    /// A rule that looks at all of the author's own copy for what can be told at one of several places, given the best first.
    Anywhere(fn(&Reading<'_>, &OwnCopy<'_>, &mut Vec<Vec<Query>>)),
    /// It looks at all of the author's own copy.
    OwnCopy(fn(&Reading<'_>, &OwnCopy<'_>, &mut Vec<Query>)),
    /// It looks at whatever is printed.
    Draft(fn(&Reading<'_>, &mut Vec<Query>)),
}

const BLURB: &[BlockKind] = &[BlockKind::Blurb];
const COPY: &[BlockKind] = &[BlockKind::Headline, BlockKind::Blurb];
const COPY_AND_NOTE: &[BlockKind] = &[BlockKind::Headline, BlockKind::Blurb, BlockKind::NoteOnTheAuthor];

/// Every rule with what looks for it.
const FINDERS: [(Rule, Finder); 30] = [
    (Rule::WordyPhrase, Finder::Paragraph(COPY, wordy::wordy_phrases)),
    (Rule::Doublet, Finder::Paragraph(COPY, wordy::doublets)),
    (Rule::EmptyModifier, Finder::Paragraph(COPY, modifiers::empty_modifiers)),
    (Rule::HiddenVerb, Finder::Paragraph(COPY, wordy::hidden_verbs)),
    (Rule::StockPhrase, Finder::Paragraph(COPY, praise::stock_phrases)),
    (Rule::Praise, Finder::Paragraph(COPY, praise::praise)),
    (Rule::Passive, Finder::Habit(passive::HABIT, passive::passives)),
    (Rule::WeakOpening, Finder::OwnCopy(openings::weak_openings)),
    (Rule::PlotToTheEnd, Finder::Paragraph(BLURB, endings::plots_to_the_end)),
    (Rule::ManyNames, Finder::OwnCopy(many_names::find)),
    (Rule::AdjectivesInARow, Finder::Paragraph(BLURB, adjectives::in_a_row)),
    (Rule::RepeatedWord, Finder::Paragraph(COPY, repeats::doubled)),
    (Rule::RepeatedWord, Finder::Anywhere(repeats::tired_words)),
    (Rule::RepeatedOpening, Finder::OwnCopy(repeated_openings::find)),
    (Rule::LongSentence, Finder::Draft(long_sentences::find)),
    (Rule::MixedTense, Finder::OwnCopy(mixed_tense::find)),
    (Rule::MixedPerson, Finder::OwnCopy(mixed_person::find)),
    (Rule::ClosedQuestion, Finder::OwnCopy(endings::closed_questions)),
    (Rule::CreditWithoutStanding, Finder::Draft(credits::without_standing)),
    (Rule::BareClaim, Finder::Paragraph(COPY_AND_NOTE, praise::bare_claims)),
    (Rule::AgeLine, Finder::Draft(age_lines::contradicted)),
    (Rule::FrontCoverLine, Finder::Paragraph(COPY, front_cover::front_cover_lines)),
    (Rule::MixedQuotes, Finder::Draft(quotation_marks::mixed)),
    (Rule::DoubleSpace, Finder::Block(blanks::double_spaces)),
    (Rule::HyphenForDash, Finder::Draft(dashes::hyphens_for_dashes)),
    (Rule::SpaceBeforeStop, Finder::Block(blanks::spaces_before_stops)),
    (Rule::ThreeDots, Finder::Block(dashes::three_dots)),
    (Rule::BrokenName, Finder::Draft(broken_names::find)),
    (Rule::Runt, Finder::Draft(line_ends::runts)),
    (Rule::Rag, Finder::Draft(line_ends::rag)),
];

/// Every query of a draft, in the order of the copy. What depends on one paragraph alone is looked for only in those that have
/// changed since the memory was used last.
pub fn find(reading: &Reading<'_>, memory: &mut QueryMemory) -> Vec<Query> {
    let (mut queries, mut places, mut anywhere) = (memory.look(reading), Vec::new(), Vec::new());
    let own = memory.read(reading);
    for prose in &own.paragraphs {
        let found = prose.gathered.found(prose.number);
        queries.extend(found.0);
        places.extend(found.1);
    }
    for (rule, finder) in FINDERS.iter().filter(|(rule, _)| !reading.brief.queries.off.contains(rule)) {
        match finder {
            Finder::Paragraph(..) | Finder::Block(_) => {}
            Finder::Habit(fewest, _) => {
                let habit = told(&places, *rule, *fewest, reading.draft, &mut queries);
                anywhere.push(habit);
            }
            Finder::Anywhere(find) => find(reading, &own, &mut anywhere),
            Finder::OwnCopy(find) => find(reading, &own, &mut queries),
            Finder::Draft(find) => find(reading, &mut queries),
        }
    }
    let mut queries = places::one_each(queries, anywhere);
    queries.sort_by_key(|query| (query.block, query.range.start, query.rule));
    queries
}

/// So many further places of a habit are named.
const NAMED: usize = 3;

/// Adds the places of a rule that are told in any case. The others, where they are a habit, are told at one of them, given in
/// the order of the copy: each names some of the rest.
fn told(places: &[Place], rule: Rule, habit: usize, draft: &Draft, queries: &mut Vec<Query>) -> Vec<Query> {
    let of_rule = || places.iter().filter(|place| place.query.rule == rule);
    queries.extend(of_rule().filter(|place| !place.by_habit).map(|place| place.query.clone()));
    if of_rule().count() < habit {
        return Vec::new();
    }
    let others: Vec<&Query> = of_rule().filter(|place| place.by_habit).map(|place| &place.query).collect();
    (0..others.len()).map(|at| Query { says: says_of_all(&others, at, draft), ..others[at].clone() }).collect()
}

/// What is said of one of some places, with the words of others.
fn says_of_all(all: &[&Query], at: usize, draft: &Draft) -> String {
    let words = |query: &Query| format!("“{}”", &draft.blocks[query.block].text()[query.range.clone()]);
    let rest = || all[..at].iter().chain(&all[at + 1..]);
    let mut named: Vec<String> = rest().take(NAMED).map(|query| words(query)).collect();
    if all.len() - 1 > NAMED {
        named.push(format!("{} more", all.len() - 1 - NAMED));
    }
    let says = &all[at].says;
    if named.is_empty() { says.clone() } else { format!("{says}; so in {}", named.join(", ")) }
}
