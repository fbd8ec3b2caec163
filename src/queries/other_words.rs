//! Other words for those of the author's own copy, on demand: what the lists have, as far as it can stand in the place.
//!
//! Nobody is asked about these words, so they are no queries. Left as they are: names, titles and wanted terms, what
//! stands in quotation marks, what the author lets stand, and a word that ends a line of verse, for it may rhyme.
//! Source: the grammar of English; none rather than a wrong one.

use std::ops::Range;

use super::fitting::Spot;
use super::memory::QueryMemory;
use super::mend::{article_before, capitalised, is_in_one_run};
use super::prose::{Prose, is_shouted};
use super::query::{Cut, Reading};
use super::spelling::spelt_for;
use super::verbs::tense;
use crate::brief::phrases::fold;
use crate::level::WordList;
use crate::terms::coverage::Coverage;
use crate::terms::other_words::{KnownClass, OtherWord, others};
use crate::text::language::Language;
use crate::text::tagger::{WordClass, is_known, may_be_noun};

/// The most others that are offered for a word.
pub const MOST_OTHERS: usize = 3;

/// A word of the copy, and the others that could stand in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AskedWord {
    /// The number of the word's block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text, without the ending of a possessive.
    pub range: Range<usize>,
    /// Whether the word is outside the list of the readers' measure; only of the blurb's words, which are measured.
    pub is_outside: bool,
    /// The others, the best first, each as a change of the block; why there are none where there are none.
    pub others: Result<Vec<Cut>, NoOthers>,
}

/// Why no other word is offered for a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoOthers {
    /// The lists are of English, and the copy is in another language.
    Language,
    /// The block is somebody else's, or no running text: a quote, a credit, a line of other titles.
    NotOwn,
    /// The word stands in quotation marks.
    Quoted,
    /// The word belongs to a name, a title or a wanted term.
    Wanted,
    /// The author lets the wording stand.
    Stands,
    /// The word ends a line of verse.
    Rhyme,
    /// The lists have none that could stand there.
    Unlisted,
}

/// Every word of the author's own copy, in the order headline, blurb, note on the author. `stood` are the wordings that
/// the author lets stand, each with its block and the bytes of the block's text.
pub fn other_words(
    reading: &Reading<'_>,
    coverage: &Coverage,
    stood: &[(usize, Range<usize>)],
    memory: &mut QueryMemory,
) -> Vec<AskedWord> {
    let own = memory.read(reading);
    let outside: Vec<usize> = reading.level.unfamiliar.iter().map(|word| word.span.start).collect();
    let mut outside_words: Vec<String> = Vec::new();
    let mut found = Vec::new();
    for prose in &own.paragraphs {
        // The level tells a word once, at its first place.
        for word in &prose.words {
            if outside.contains(&prose.block.span(word.range.clone()).start) {
                outside_words.push(stem_of(word.word).to_owned());
            }
        }
        let seeker = Seeker {
            reading,
            coverage,
            prose,
            stood,
            kept: prose.wanted_over(reading, &(0..prose.words.len())),
            list: reading.level.list.unwrap_or(WordList::DaleChall),
        };
        found.extend(seeker.all());
    }
    let blurb: Vec<usize> = own.blurb().iter().map(|prose| prose.number).collect();
    for word in &mut found {
        let written = &reading.draft.blocks[word.block].text()[word.range.clone()];
        let is_kept = matches!(word.others, Err(NoOthers::Wanted));
        word.is_outside = !is_kept && blurb.contains(&word.block) && outside_words.contains(&fold(written));
    }
    found
}

/// A folded word without the ending of a possessive.
fn stem_of(word: &str) -> &str {
    word.strip_suffix("'s").unwrap_or(word)
}

/// Looks for other words in one paragraph.
struct Seeker<'r, 'a> {
    reading: &'r Reading<'r>,
    coverage: &'r Coverage,
    prose: &'r Prose<'a>,
    stood: &'r [(usize, Range<usize>)],
    /// The places of names, titles and wanted terms.
    kept: Vec<Range<usize>>,
    list: WordList,
}

impl Seeker<'_, '_> {
    fn all(&self) -> Vec<AskedWord> {
        let mut found = Vec::with_capacity(self.prose.words.len());
        for sentence in &self.prose.sentences {
            let tags = self.prose.tags(sentence);
            found.extend(sentence.clone().map(|at| AskedWord {
                block: self.prose.number,
                range: self.place(at),
                is_outside: false,
                others: self.others(&Spot { prose: self.prose, sentence: sentence.clone(), tags: &tags, at }),
            }));
        }
        found
    }

    /// The bytes of a word without the ending of a possessive.
    fn place(&self, at: usize) -> Range<usize> {
        let range = self.prose.words[at].range.clone();
        let stem = match self.prose.word(at).ends_with("'s") {
            true => self.prose.written(at).rfind(['\'', '’']).unwrap_or(range.len()),
            false => range.len(),
        };
        range.start..range.start + stem
    }

    fn others(&self, spot: &Spot<'_, '_>) -> Result<Vec<Cut>, NoOthers> {
        let (at, place) = (spot.at, self.place(spot.at));
        if self.reading.text.language != Language::English {
            return Err(NoOthers::Language);
        }
        if self.prose.is_quoted(&place) {
            return Err(NoOthers::Quoted);
        }
        let is_named = self.prose.is_capital(at)
            && !is_shouted(self.prose.written(at))
            && (spot.sentence.start != at || self.opens_as_name(at));
        let is_kept = || self.kept.iter().any(|kept| kept.contains(&at)) || self.prose.is_titled(&(at..at + 1));
        if is_named || is_kept() || self.is_term(&place) {
            return Err(NoOthers::Wanted);
        }
        let touches = |(block, range): &(usize, Range<usize>)| {
            *block == self.prose.number && range.start < place.end && place.start < range.end
        };
        if self.stood.iter().any(touches) {
            return Err(NoOthers::Stands);
        }
        if self.prose.is_verse && (self.prose.gap(at).contains('\n') || at + 1 == self.prose.words.len()) {
            return Err(NoOthers::Rhyme);
        }
        let found = self.found(spot, &place);
        if found.is_empty() { Err(NoOthers::Unlisted) } else { Ok(found) }
    }

    /// Whether the first word of a sentence is a name: one with a capital inside another sentence, or one alone before
    /// its verb, `Rose finds a cave`, or with a possessive, `Rose's cave`, as nouns that can be counted never are.
    fn opens_as_name(&self, at: usize) -> bool {
        let prose = self.prose;
        let word = stem_of(prose.word(at));
        let opens = |other: usize| prose.sentence_of(other).start == other || !prose.is_joined(other - 1);
        let is_name_there = |other: usize| {
            prose.is_capital(other)
                && stem_of(prose.word(other)) == word
                && !opens(other)
                && !is_shouted(prose.written(other))
        };
        let next = prose.word(at + 1);
        let acts = prose.is_joined(at) && (tense(next).is_some() || matches!(next, "is" | "was" | "has" | "had"));
        (0..prose.words.len()).any(is_name_there)
            || ((acts || prose.word(at).ends_with("'s")) && (may_be_noun(word) || !is_known(word)))
    }

    /// Whether a place is inside a wanted term in any form that counts as the term.
    fn is_term(&self, place: &Range<usize>) -> bool {
        let span = self.prose.block.span(place.clone());
        let mut spans = self.coverage.items.iter().flat_map(|item| &item.spans);
        spans.any(|term| term.start < span.end && span.start < term.end)
    }

    fn found(&self, spot: &Spot<'_, '_>, place: &Range<usize>) -> Vec<Cut> {
        let is_possessive = *place != self.prose.words[spot.at].range;
        let word = stem_of(self.prose.word(spot.at));
        // Capitals look like a name's, and tell nothing where the whole word has them.
        let class = match () {
            () if is_possessive => KnownClass::Is(WordClass::Noun),
            () if !is_known(word) || is_shouted(self.prose.written(spot.at)) => KnownClass::Unknown,
            () if spot.is_behind_have() => KnownClass::BehindHave,
            () => KnownClass::Is(spot.tag()),
        };
        let listed = others(word, class, self.list);
        let fitting = listed.iter().filter(|other| !self.is_avoided(other) && spot.takes(other));
        let mut cuts: Vec<Cut> = Vec::new();
        for cut in fitting.filter_map(|other| self.cut(spot, place, other)) {
            if cuts.len() < MOST_OTHERS && !cuts.contains(&cut) {
                cuts.push(cut);
            }
        }
        cuts
    }

    /// Whether the brief wants a wording avoided, or has as many of it as it wants.
    fn is_avoided(&self, other: &OtherWord) -> bool {
        let is_other = |wording: &str| [&*other.wording, other.plain].contains(&&*fold(wording));
        let is_full = self.coverage.items.iter().filter(|item| is_other(&item.term.term)).any(|item| {
            item.term.at_most.is_some_and(|most| u32::try_from(item.count()).is_ok_and(|count| count >= most))
        });
        is_full || self.reading.brief.terms.avoid.iter().any(|avoid| is_other(avoid))
    }

    /// The change that puts another word in the place: with the capital of the word, in the spelling of the brief's
    /// language, and with the right article; none where the article is in other markup.
    fn cut(&self, spot: &Spot<'_, '_>, place: &Range<usize>, other: &OtherWord) -> Option<Cut> {
        let written = &self.prose.text()[place.clone()];
        let spelt = spelt_for(spot.without_doubled(&other.wording), &self.reading.brief.book.language);
        let wording = match () {
            () if is_shouted(written) => spelt.to_uppercase(),
            () if self.prose.is_capital(spot.at) => capitalised(&spelt),
            () => spelt,
        };
        let cut = match article_before(self.prose, spot.at, &wording) {
            Some((article, right)) => Cut { range: article.start..place.end, wording: format!("{right} {wording}") },
            None => Cut { range: place.clone(), wording },
        };
        is_in_one_run(self.prose, &cut.range).then_some(cut)
    }
}
