//! Every rule, with the function that looks for it and what that function goes by.

use crate::brief::queries::Rule;
use crate::draft::{Block, BlockKind};
use crate::text::language::Language;

use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::{
    adjectives, age_lines, blanks, broken_names, credits, endings, exclamations, front_cover, line_ends,
    long_sentences, many_names, marks, mixed_person, mixed_tense, modifiers, on_art, openings, passive, praise,
    repeated_openings, repeats, spelling, wordy,
};

/// A function that looks for queries and adds those it finds. What the function depends on tells when it has to look
/// again.
pub(super) enum RuleFinder {
    /// Looks at one paragraph of one of these kinds, and depends on nothing else but the brief's book, terms, limits
    /// and queries.
    Paragraph(&'static [BlockKind], fn(&Reading<'_>, &Prose<'_>, &mut Vec<Query>)),
    /// Looks at one block of whatever is printed, given with its number, and depends on nothing else but the language.
    Block(fn(Language, usize, &Block, &mut Vec<Query>)),
    /// Looks at all of the author's own copy for what can be told at any of several places; adds the places of one
    /// finding together, the best first.
    Anywhere(fn(&Reading<'_>, &OwnCopy<'_>, &mut Vec<Vec<Query>>)),
    /// Looks at all of the author's own copy.
    OwnCopy(fn(&Reading<'_>, &OwnCopy<'_>, &mut Vec<Query>)),
    /// Looks at whatever is printed.
    Draft(fn(&Reading<'_>, &mut Vec<Query>)),
}

/// The blurb alone.
const BLURB: &[BlockKind] = &[BlockKind::Blurb];
/// The headline and the blurb.
const COPY: &[BlockKind] = &[BlockKind::Headline, BlockKind::Blurb];
/// The headline, the blurb and the note on the author.
const COPY_AND_NOTE: &[BlockKind] = &[BlockKind::Headline, BlockKind::Blurb, BlockKind::NoteOnTheAuthor];

/// Every rule with its finder, in the order of a report.
pub(super) const FINDERS: [(Rule, RuleFinder); 38] = [
    (Rule::WordyPhrase, RuleFinder::Paragraph(COPY, wordy::wordy_phrases)),
    (Rule::Doublet, RuleFinder::Paragraph(COPY, wordy::doublets)),
    (Rule::EmptyModifier, RuleFinder::Paragraph(COPY, modifiers::empty_modifiers)),
    (Rule::HiddenVerb, RuleFinder::Paragraph(COPY, wordy::hidden_verbs)),
    (Rule::StockPhrase, RuleFinder::Paragraph(COPY, praise::stock_phrases)),
    (Rule::CallToBuy, RuleFinder::Paragraph(COPY, praise::calls)),
    (Rule::Praise, RuleFinder::Paragraph(COPY, praise::praise)),
    (Rule::Passive, RuleFinder::OwnCopy(passive::find)),
    (Rule::WeakOpening, RuleFinder::OwnCopy(openings::weak_openings)),
    (Rule::PlotToTheEnd, RuleFinder::Paragraph(BLURB, endings::plots_to_the_end)),
    (Rule::PlotToTheEnd, RuleFinder::OwnCopy(endings::answered_questions)),
    (Rule::ManyNames, RuleFinder::OwnCopy(many_names::find)),
    (Rule::AdjectivesInARow, RuleFinder::Paragraph(BLURB, adjectives::in_a_row)),
    (Rule::RepeatedWord, RuleFinder::Paragraph(COPY, repeats::doubled)),
    (Rule::RepeatedWord, RuleFinder::Anywhere(repeats::tired_words)),
    (Rule::RepeatedOpening, RuleFinder::OwnCopy(repeated_openings::find)),
    (Rule::LongSentence, RuleFinder::Draft(long_sentences::find)),
    (Rule::MixedTense, RuleFinder::OwnCopy(mixed_tense::find)),
    (Rule::MixedPerson, RuleFinder::OwnCopy(mixed_person::find)),
    (Rule::ClosedQuestion, RuleFinder::OwnCopy(endings::closed_questions)),
    (Rule::CreditWithoutStanding, RuleFinder::Draft(credits::without_standing)),
    (Rule::BareClaim, RuleFinder::Paragraph(COPY_AND_NOTE, praise::bare_claims)),
    (Rule::AgeLine, RuleFinder::Draft(age_lines::contradicted)),
    (Rule::FrontCoverLine, RuleFinder::Paragraph(COPY, front_cover::front_cover_lines)),
    (Rule::MixedSpelling, RuleFinder::OwnCopy(spelling::mixed)),
    (Rule::ItsOrIts, RuleFinder::Paragraph(COPY_AND_NOTE, spelling::its_or_its)),
    (Rule::ExclamationMarks, RuleFinder::Paragraph(COPY, exclamations::runs)),
    (Rule::StraightMarks, RuleFinder::Anywhere(marks::straight)),
    (Rule::DoubtfulMark, RuleFinder::Draft(marks::doubtful)),
    (Rule::UnpairedMark, RuleFinder::Draft(marks::unpaired)),
    (Rule::DoubleSpace, RuleFinder::Block(blanks::double_spaces)),
    (Rule::SpaceBeforeStop, RuleFinder::Block(blanks::spaces_before_stops)),
    (Rule::BrokenName, RuleFinder::Draft(broken_names::find)),
    (Rule::Runt, RuleFinder::Draft(line_ends::runts)),
    (Rule::Rag, RuleFinder::Draft(line_ends::rag)),
    (Rule::FaintInk, RuleFinder::Anywhere(on_art::faint)),
    (Rule::BusyGround, RuleFinder::Anywhere(on_art::busy)),
    (Rule::FineReversed, RuleFinder::Draft(on_art::fine_reversed)),
];
