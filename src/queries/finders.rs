//! Every rule, with the function that looks for it and what that function goes by.

use crate::brief::queries::{LISTED, ListChange, Queries, Rule};
use crate::draft::{Block, BlockKind};
use crate::text::language::Language;

use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::{
    adjectives, age_lines, ages_in_copy, ages_unnamed, agreement, blanks, broken_names, close_words, credits, echoes,
    empty_quotes, endings, exclamations, front_cover, kindred, line_ends, long_sentences, many_names, marks, misspelt,
    mistyped, mixed_person, mixed_tense, modifiers, name_slips, on_art, openings, passive, praise, repeated_openings,
    repeats, sentence_marks, spelling, stray_quotes, taken_for, verb_slips, wordy,
};
use RuleLanguages::{English, Every, Listed};

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

/// Which languages a rule knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RuleLanguages {
    /// Every language: the rule reads marks, lines or figures, or the words of the brief.
    Every,
    /// English, French, German, Spanish, Italian and Dutch.
    Listed,
    /// English.
    English,
}

impl RuleLanguages {
    /// Whether a language is among these.
    fn have(self, language: Language) -> bool {
        match self {
            Every => true,
            Listed => language != Language::Other,
            English => language == Language::English,
        }
    }
}

/// Whether a rule can look for anything in copy of a language. A rule with a list of phrases can in any language for
/// which the brief gives it phrases.
fn can_look(rule: Rule, knows: RuleLanguages, language: Language, queries: &Queries) -> bool {
    let has_phrases =
        |change: &ListChange| change.rule == rule && !(change.add.is_empty() && change.instead.is_empty());
    knows.have(language) || (is_listed(rule) && queries.lists.iter().any(has_phrases))
}

fn is_listed(rule: Rule) -> bool {
    LISTED.iter().any(|(_, listed)| *listed == rule)
}

/// The finders of the rules that the brief has not switched off and that can look for something in the language.
pub(super) fn looking(language: Language, queries: &Queries) -> impl Iterator<Item = &'static RuleFinder> {
    let looks = move |(rule, knows, _): &&(Rule, RuleLanguages, RuleFinder)| {
        queries.asks(*rule) && can_look(*rule, *knows, language, queries)
    };
    FINDERS.iter().filter(looks).map(|(_, _, finder)| finder)
}

/// The rules that the brief has not switched off and that can look for nothing in a language, in the order of a report.
pub(super) fn silent(language: Language, queries: &Queries) -> Vec<Rule> {
    let looks =
        |rule: Rule| FINDERS.iter().any(|(own, knows, _)| *own == rule && can_look(rule, *knows, language, queries));
    Rule::ALL.iter().map(|(_, rule)| *rule).filter(|rule| queries.asks(*rule) && !looks(*rule)).collect()
}

/// The blurb alone.
const BLURB: &[BlockKind] = &[BlockKind::Blurb];
/// The headline and the blurb.
const COPY: &[BlockKind] = &[BlockKind::Headline, BlockKind::Blurb];
/// The headline, the blurb and the note on the author.
const COPY_AND_NOTE: &[BlockKind] = &[BlockKind::Headline, BlockKind::Blurb, BlockKind::NoteOnTheAuthor];

/// Every rule with the languages that it knows and its finder, in the order of a report.
static FINDERS: [(Rule, RuleLanguages, RuleFinder); 63] = [
    (Rule::WordyPhrase, English, RuleFinder::Paragraph(COPY, wordy::wordy_phrases)),
    (Rule::Doublet, English, RuleFinder::Paragraph(COPY, wordy::doublets)),
    (Rule::Doublet, English, RuleFinder::Paragraph(COPY, kindred::find)),
    (Rule::EmptyModifier, English, RuleFinder::OwnCopy(modifiers::find)),
    (Rule::HiddenVerb, English, RuleFinder::Paragraph(COPY, wordy::hidden_verbs)),
    (Rule::StockPhrase, Listed, RuleFinder::Paragraph(COPY, praise::stock_phrases)),
    (Rule::CallToBuy, English, RuleFinder::Paragraph(COPY, praise::calls)),
    (Rule::Praise, Listed, RuleFinder::Paragraph(COPY, praise::praise)),
    (Rule::Passive, English, RuleFinder::OwnCopy(passive::find)),
    (Rule::WeakOpening, English, RuleFinder::OwnCopy(openings::weak_openings)),
    (Rule::WeakOpening, English, RuleFinder::OwnCopy(openings::patterns)),
    (Rule::PlotToTheEnd, English, RuleFinder::Paragraph(BLURB, endings::plots_to_the_end)),
    (Rule::PlotToTheEnd, English, RuleFinder::OwnCopy(endings::answered_questions)),
    (Rule::ManyNames, Listed, RuleFinder::OwnCopy(many_names::find)),
    (Rule::AdjectivesInARow, English, RuleFinder::Paragraph(BLURB, adjectives::in_a_row)),
    (Rule::RepeatedWord, Listed, RuleFinder::Paragraph(COPY, repeats::doubled)),
    (Rule::RepeatedWord, Listed, RuleFinder::Anywhere(repeats::tired_words)),
    (Rule::RepeatedWord, English, RuleFinder::Paragraph(COPY, repeats::taken_up)),
    (Rule::RepeatedOpening, English, RuleFinder::OwnCopy(repeated_openings::find)),
    (Rule::LongSentence, Every, RuleFinder::OwnCopy(long_sentences::find)),
    (Rule::MixedTense, English, RuleFinder::OwnCopy(mixed_tense::find)),
    (Rule::MixedPerson, English, RuleFinder::OwnCopy(mixed_person::find)),
    (Rule::ClosedQuestion, English, RuleFinder::OwnCopy(endings::closed_questions)),
    (Rule::CreditWithoutStanding, Every, RuleFinder::OwnCopy(credits::without_standing)),
    (Rule::StrayQuote, English, RuleFinder::Draft(stray_quotes::find)),
    (Rule::StrayQuote, English, RuleFinder::OwnCopy(empty_quotes::find)),
    (Rule::BareClaim, English, RuleFinder::Paragraph(COPY_AND_NOTE, praise::bare_claims)),
    (Rule::AgeLine, Every, RuleFinder::OwnCopy(age_lines::contradicted)),
    (Rule::AgeLine, English, RuleFinder::Draft(ages_in_copy::contradicted)),
    (Rule::AgeLine, English, RuleFinder::Paragraph(COPY, ages_unnamed::everybody)),
    (Rule::FrontCoverLine, Every, RuleFinder::Paragraph(COPY, front_cover::front_cover_lines)),
    (Rule::FrontCoverLine, English, RuleFinder::OwnCopy(front_cover::headlines_again)),
    (Rule::MixedSpelling, English, RuleFinder::OwnCopy(spelling::mixed)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, spelling::its_or_its)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, misspelt::words)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, misspelt::wordings)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, agreement::find)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, verb_slips::find)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, taken_for::find)),
    (Rule::MisspeltWord, English, RuleFinder::Paragraph(COPY_AND_NOTE, sentence_marks::small_letters)),
    (Rule::MisspeltWord, English, RuleFinder::OwnCopy(mistyped::find)),
    (Rule::MisspeltWord, English, RuleFinder::OwnCopy(name_slips::find)),
    (Rule::MisspeltWord, English, RuleFinder::OwnCopy(name_slips::owners)),
    (Rule::DoubtfulMark, English, RuleFinder::Paragraph(COPY_AND_NOTE, misspelt::ages)),
    (Rule::DoubtfulMark, English, RuleFinder::Paragraph(COPY_AND_NOTE, misspelt::hyphens)),
    (Rule::DoubtfulMark, English, RuleFinder::Paragraph(COPY, sentence_marks::questions)),
    (Rule::DoubtfulMark, English, RuleFinder::Paragraph(COPY_AND_NOTE, sentence_marks::spliced)),
    (Rule::DoubtfulMark, English, RuleFinder::OwnCopy(sentence_marks::missing_stops)),
    (Rule::ExclamationMarks, Every, RuleFinder::Paragraph(COPY, exclamations::runs)),
    (Rule::StraightMarks, Every, RuleFinder::Anywhere(marks::straight)),
    (Rule::DoubtfulMark, Every, RuleFinder::Draft(marks::doubtful)),
    (Rule::UnpairedMark, Every, RuleFinder::Draft(marks::unpaired)),
    (Rule::DoubleSpace, Every, RuleFinder::Block(blanks::double_spaces)),
    (Rule::SpaceBeforeStop, Every, RuleFinder::Block(blanks::spaces_before_stops)),
    (Rule::Echo, English, RuleFinder::OwnCopy(echoes::find)),
    (Rule::WeakVerb, English, RuleFinder::Paragraph(COPY, close_words::weak_verbs)),
    (Rule::Intensifier, English, RuleFinder::Paragraph(COPY, close_words::intensifiers)),
    (Rule::BrokenName, Every, RuleFinder::OwnCopy(broken_names::find)),
    (Rule::Runt, Every, RuleFinder::Draft(line_ends::runts)),
    (Rule::Rag, Every, RuleFinder::Draft(line_ends::rag)),
    (Rule::FaintInk, Every, RuleFinder::Anywhere(on_art::faint)),
    (Rule::BusyGround, Every, RuleFinder::Anywhere(on_art::busy)),
    (Rule::FineReversed, Every, RuleFinder::Draft(on_art::fine_reversed)),
];
