//! Looks for the phrases of a rule's list, as the brief has changed it.
//!
//! Phrases are found in any case, over line ends and markup, never over a stop. Of two that begin at one place the
//! longer counts, and no two share a word.

use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::sync::{LazyLock, OnceLock};

use super::mend;
use super::prose::Prose;
use super::query::{Cut, Query, Reading};
use crate::brief::phrases::{Phrase, PhrasePiece};
use crate::brief::queries::{LISTED, ListChange, Rule};
use crate::text::language::Language;

/// The most words that `*` stands for.
const MOST_ANY: usize = 4;

/// The built-in list of a rule in a language.
type ListKey = (Language, Rule);

/// Each list and its index, read when first asked for: a copy has one language, whose lists are a part of all.
static BUILT_IN: LazyLock<HashMap<ListKey, BuiltIn>> =
    LazyLock::new(|| keys().map(|key| (key, BuiltIn::default())).collect());

#[derive(Default)]
struct BuiltIn {
    list: OnceLock<Vec<Phrase>>,
    index: OnceLock<PhraseIndex<'static>>,
}

/// The phrases of a built-in list; none where a rule has no list in a language.
fn list(key: ListKey) -> Option<&'static [Phrase]> {
    // A line that cannot be read would be lost here; a test holds that there is none.
    let read = || {
        let lines = source(key.0, key.1).lines().filter(|line| !line.starts_with('#'));
        lines.filter_map(|line| Phrase::read(line).ok()).collect()
    };
    BUILT_IN.get(&key).map(|known| known.list.get_or_init(read).as_slice())
}

/// The phrases of a built-in list by their first words.
fn index(key: ListKey) -> Option<&'static PhraseIndex<'static>> {
    let list = list(key)?;
    BUILT_IN.get(&key).map(|known| known.index.get_or_init(|| PhraseIndex::of(list)))
}

/// The rules that have a list, each with every language that it has one in.
fn keys() -> impl Iterator<Item = ListKey> {
    let english = LISTED.iter().map(|(_, rule)| (Language::English, *rule));
    let abroad = |language: Language| [(language, Rule::StockPhrase), (language, Rule::Praise)];
    english.chain(Language::ABROAD.into_iter().flat_map(abroad))
}

fn source(language: Language, rule: Rule) -> &'static str {
    match (language, rule) {
        (Language::English, rule) => english(rule),
        (Language::French, Rule::StockPhrase) => wordlist!("stock-phrases-french.txt"),
        (Language::French, Rule::Praise) => wordlist!("praise-french.txt"),
        (Language::German, Rule::StockPhrase) => wordlist!("stock-phrases-german.txt"),
        (Language::German, Rule::Praise) => wordlist!("praise-german.txt"),
        (Language::Spanish, Rule::StockPhrase) => wordlist!("stock-phrases-spanish.txt"),
        (Language::Spanish, Rule::Praise) => wordlist!("praise-spanish.txt"),
        (Language::Italian, Rule::StockPhrase) => wordlist!("stock-phrases-italian.txt"),
        (Language::Italian, Rule::Praise) => wordlist!("praise-italian.txt"),
        (Language::Dutch, Rule::StockPhrase) => wordlist!("stock-phrases-dutch.txt"),
        (Language::Dutch, Rule::Praise) => wordlist!("praise-dutch.txt"),
        _ => "",
    }
}

/// The single words with which the built-in list of a rule begins a phrase that only counts before certain others:
/// adjectives that need their noun.
pub(super) fn adjectives_of(rule: Rule) -> HashSet<&'static str> {
    let needs_noun = |phrase: &&Phrase| phrase.held == 1 && phrase.slots.len() > 1;
    let first = |phrase: &'static Phrase| match phrase.slots.first() {
        Some(PhrasePiece::Words(words)) => words.as_slice(),
        _ => &[],
    };
    list((Language::English, rule))
        .into_iter()
        .flatten()
        .filter(needs_noun)
        .flat_map(first)
        .map(String::as_str)
        .collect()
}

fn english(rule: Rule) -> &'static str {
    match rule {
        Rule::WordyPhrase => wordlist!("wordy-phrases.txt"),
        Rule::Doublet => wordlist!("doublets.txt"),
        Rule::EmptyModifier => wordlist!("empty-modifiers.txt"),
        Rule::HiddenVerb => wordlist!("hidden-verbs.txt"),
        Rule::StockPhrase => wordlist!("stock-phrases.txt"),
        Rule::CallToBuy => wordlist!("calls.txt"),
        Rule::Praise => wordlist!("praise.txt"),
        Rule::WeakOpening => wordlist!("weak-openings.txt"),
        Rule::BareClaim => wordlist!("bare-claims.txt"),
        Rule::PlotToTheEnd => wordlist!("plot-endings.txt"),
        Rule::MisspeltWord => wordlist!("wrong-wordings.txt"),
        Rule::WeakVerb => wordlist!("weak-verbs.txt"),
        Rule::Intensifier => wordlist!("intensifiers.txt"),
        _ => "",
    }
}

/// Phrases by their first words, and by the second where it is given.
struct PhraseIndex<'p> {
    pairs: HashMap<&'p str, HashMap<&'p str, Vec<&'p Phrase>>>,
    open: HashMap<&'p str, Vec<&'p Phrase>>,
}

impl<'p> PhraseIndex<'p> {
    fn of(list: &'p [Phrase]) -> Self {
        let mut index = Self { pairs: HashMap::new(), open: HashMap::new() };
        for phrase in list {
            let Some(PhrasePiece::Words(words)) = phrase.slots.first() else { continue };
            for word in words {
                match phrase.slots.get(1) {
                    Some(PhrasePiece::Words(seconds)) => {
                        let pairs: &mut HashMap<_, Vec<_>> = index.pairs.entry(word).or_default();
                        seconds.iter().for_each(|second| pairs.entry(second).or_default().push(phrase));
                    }
                    _ => index.open.entry(word).or_default().push(phrase),
                }
            }
        }
        index
    }

    /// The phrases that may begin with a word before another.
    fn beginning_with(&self, word: &str, next: &str) -> impl Iterator<Item = &'p Phrase> + use<'_, 'p> {
        let pairs = self.pairs.get(word).and_then(|seconds| seconds.get(next)).into_iter().flatten();
        pairs.chain(self.open.get(word).into_iter().flatten()).copied()
    }
}

/// A place where a phrase stands.
pub(super) struct PhraseHit<'p> {
    /// The phrase of the list.
    pub(super) phrase: &'p Phrase,
    /// The phrase's words in the copy, as positions in the paragraph.
    pub(super) words: Range<usize>,
}

/// Gives `visit` every place in a paragraph where a phrase stands of the rule's list in the language of the copy. Where
/// there is no such list, only the brief's own phrases are looked for.
pub(super) fn for_each(reading: &Reading<'_>, rule: Rule, prose: &Prose<'_>, mut visit: impl FnMut(&PhraseHit<'_>)) {
    let change = reading.brief.queries.lists.iter().find(|change| change.rule == rule);
    let own = change.map(|change| PhraseIndex::of(&change.add));
    let instead = change.filter(|change| change.file.is_some()).map(|change| PhraseIndex::of(&change.instead));
    let indexes: Vec<&PhraseIndex<'_>> =
        instead.as_ref().or_else(|| index((prose.language, rule))).into_iter().chain(&own).collect();
    let mut at = 0;
    while at < prose.words.len() {
        let hit = longest(prose, at, &indexes);
        at = hit.as_ref().map_or(at + 1, |hit| hit.words.end);
        if let Some(hit) = hit.filter(|hit| !is_dropped(prose, hit, change) && !prose.is_kept(reading, &hit.words)) {
            visit(&hit);
        }
    }
}

/// The longest phrase that begins at a word.
fn longest<'p>(prose: &Prose<'_>, at: usize, indexes: &[&PhraseIndex<'p>]) -> Option<PhraseHit<'p>> {
    let (word, bare) = (prose.word(at), prose.behind_elided(at));
    let bare = Some(bare).filter(|bare| *bare != word);
    let (next, next_bare) = (prose.word(at + 1), prose.behind_elided(at + 1));
    let nexts = [Some(next), Some(next_bare).filter(|bare| *bare != next)];
    let firsts = [Some(word), bare];
    let pairs = firsts.into_iter().flatten().flat_map(|first| nexts.iter().flatten().map(move |next| (first, *next)));
    let phrases =
        pairs.flat_map(|(first, next)| indexes.iter().flat_map(move |index| index.beginning_with(first, next)));
    let hits = phrases.filter_map(|phrase| Some(PhraseHit { phrase, words: at..ends(phrase, prose, at)? }));
    hits.max_by_key(|hit| hit.words.end)
}

/// Whether the brief has taken a phrase off the list, by its words or as the list writes it.
fn is_dropped(prose: &Prose<'_>, hit: &PhraseHit<'_>, change: Option<&ListChange>) -> bool {
    let Some(change) = change.filter(|change| !change.drop.is_empty()) else { return false };
    let words: Vec<&str> = prose.words[hit.words.clone()].iter().map(|word| word.word).collect();
    let written = crate::brief::phrases::fold(&hit.phrase.written);
    change.drop.iter().any(|dropped| *dropped == words.join(" ") || *dropped == written)
}

/// The position behind the last word of a phrase that begins at a word; none where the phrase does not stand there.
fn ends(phrase: &Phrase, prose: &Prose<'_>, at: usize) -> Option<usize> {
    let end = walk(&phrase.slots[..phrase.held], prose, at, at)?;
    let behind = &phrase.slots[phrase.held..];
    let goes_on = || prose.is_joined(end - 1) || prose.gap(end - 1) == ", ";
    (behind.is_empty() || (goes_on() && walk(behind, prose, end, end).is_some())).then_some(end)
}

/// The position behind the last word of some slots that begin at word `at`; none where the slots do not match there.
/// `first` is the word that the phrase begins with. A comma may stand beside a slot that is left open.
fn walk(slots: &[PhrasePiece], prose: &Prose<'_>, at: usize, first: usize) -> Option<usize> {
    let Some((slot, rest)) = slots.split_first() else { return Some(at) };
    let reaches = |to: usize, open: bool| to == first || prose.is_joined(to - 1) || (open && prose.gap(to - 1) == ", ");
    match slot {
        PhrasePiece::Any => (at..=at + MOST_ANY)
            .take_while(|to| *to < prose.words.len() && (at..=*to).all(|word| reaches(word, true)))
            .find_map(|to| walk(rest, prose, to, to)),
        PhrasePiece::Capital => {
            (prose.is_capital(at) && reaches(at, true)).then(|| walk(rest, prose, at + 1, first))?
        }
        PhrasePiece::Words(words) => {
            let (there, bare) = (prose.word(at), prose.behind_elided(at));
            let is_there = words.iter().any(|word| word == there || word == bare) && reaches(at, false);
            is_there.then(|| walk(rest, prose, at + 1, first))?
        }
    }
}

/// The cuts that put some wordings in the place of a phrase, the best first; none where a name or a wanted term would
/// be broken.
pub(super) fn cuts(reading: &Reading<'_>, prose: &Prose<'_>, hit: &PhraseHit<'_>, wordings: &[&str]) -> Vec<Cut> {
    if !prose.wanted_over(reading, &hit.words).is_empty() {
        return Vec::new();
    }
    wordings.iter().filter_map(|wording| mend::cut(prose, &hit.words, wording)).collect()
}

impl PhraseHit<'_> {
    /// The list's shorter wordings, in the form that suits the form of the phrase in the copy.
    pub(super) fn wordings(&self, prose: &Prose<'_>) -> Vec<&str> {
        let several = |slot: &PhrasePiece| matches!(slot, PhrasePiece::Words(words) if words.len() > 1);
        let form = self.phrase.slots.iter().position(several).map_or(0, |at| {
            let Some(PhrasePiece::Words(words)) = self.phrase.slots.get(at) else { return 0 };
            words.iter().position(|word| word == prose.word(self.words.start + at)).unwrap_or(0)
        });
        let wordings = self.phrase.wordings.iter();
        wordings.filter_map(|forms| forms.get(form).or(forms.first()).map(String::as_str)).collect()
    }

    /// A query on the place of the phrase.
    pub(super) fn query(&self, rule: Rule, prose: &Prose<'_>, says: impl Into<String>, cuts: Vec<Cut>) -> Query {
        Query { rule, block: prose.number, range: prose.bytes(&self.words), says: says.into(), cuts }
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{Phrase, keys, list, source};
    use crate::brief::Brief;
    use crate::brief::queries::Rule;
    use crate::draft::Draft;
    use crate::queries::cases::queries_of;
    use crate::text::language::Language;

    #[test]
    fn a_list_read_from_a_file_stands_in_the_place_of_the_built_in_one() {
        let yaml = "queries: { lists: { praise: { file: house.txt, add: [grand] } } }\npanel: { trim: 8 x 8 in }\n";
        let mut brief = Brief::read(yaml, Path::new("")).unwrap();
        brief.queries.lists[0].instead = Phrase::read_list("# ours\nsplendid =\n").unwrap();
        let draft = Draft::read("A splendid lamp, heartwarming, of a grand size.");
        let found = queries_of(&draft, &brief).into_iter().filter(|query| query.rule == Rule::Praise);
        let found: Vec<_> = found.map(|query| query.range).collect();
        assert_eq!(found, [2..10, 36..41]);
    }

    #[test]
    fn every_line_of_the_built_in_lists_can_be_read() {
        for (language, rule) in keys() {
            let list = Phrase::read_list(source(language, rule));
            assert!(list.as_ref().is_ok_and(|list| list.len() > 5), "{} in {}: {list:?}", rule.name(), language.name());
        }
    }

    #[test]
    fn every_language_has_its_stock_of_phrases() {
        for language in Language::ABROAD {
            let count = |rule| list((language, rule)).unwrap().len();
            assert!(count(Rule::StockPhrase) >= 60 && count(Rule::Praise) >= 30, "{}", language.name());
        }
    }
}
