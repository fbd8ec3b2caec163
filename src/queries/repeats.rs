//! Repeated words: a tired word again and again, or a small word doubled by mistake.
//!
//! Source: common practice. Repetition is also an art of children's books, and tries on invented blurbs showed that
//! what a story is about comes as often as it will, and that most words said twice in a sentence are said so on purpose
//! (`a small book about small feet`). So only words that say little by themselves are told: at the third time within
//! sixty words, or at the second within a few words of one sentence with no stop between. Words of the headline, the
//! title and the terms pass, as do names; so does a word that comes again with the same neighbour.
//!
//! In French, German, Spanish, Italian and Dutch the words and their forms are those of the language's own list, and
//! only the third time is told, since which words may stand beside a second is known of English alone.

use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::sync::LazyLock;

use super::mend;
use super::prose::{OwnCopy, Prose};
use super::query::{Cut, Query, Reading};
use super::tongues::{WordSign, has_sign, unelided};
use crate::brief::phrases::fold;
use crate::brief::queries::Rule;
use crate::text::language::Language;

static TIRED: LazyLock<HashSet<String>> = LazyLock::new(|| {
    wordlist!("tired-words.txt").lines().filter(|line| !line.starts_with('#')).map(english_stem).collect()
});

/// How many letters the forms of a tired word have in common, outside English.
const SAME: usize = 5;
/// Within how many words a third time is heard.
const WINDOW: usize = 60;
/// Within how many words a second time in one sentence is heard; nearer ones are said for the sound (`far, far away`).
const NEAR: std::ops::RangeInclusive<usize> = 3..=7;
/// Small words that nobody doubles on purpose.
const SMALL: [&str; 16] =
    ["the", "a", "an", "and", "of", "to", "is", "on", "with", "for", "his", "their", "at", "by", "from", "or"];
/// Words that point back to something known, or count.
const POINTERS: [&str; 13] =
    ["the", "this", "that", "these", "those", "my", "your", "his", "her", "its", "our", "their", "every"];

/// A place at which a tired word stands.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Occurrence {
    /// Position of the paragraph in the blurb.
    paragraph: usize,
    /// Position of the word in the paragraph.
    word: usize,
    /// Position among all words of the blurb.
    overall: usize,
}

/// A tired word of the blurb, in any of its forms.
struct TiredWord {
    /// The stem that its forms have in common.
    stem: String,
    /// All its places, in order.
    places: Vec<Occurrence>,
}

/// Finds tired words that are said again and again: for each the places at which that can be told, the best first.
pub(super) fn tired_words(reading: &Reading<'_>, own: &OwnCopy<'_>, found: &mut Vec<Vec<Query>>) {
    let blurb = own.blurb();
    let headline: HashSet<String> =
        reading.text.headline.words.iter().map(|word| stem(own.language, &fold(reading.text.word(word)))).collect();
    for tired in tired_words_of(blurb).iter().filter(|tired| !headline.contains(&tired.stem)) {
        let third = tired.third();
        let second = tired.second(blurb).filter(|_| own.language == Language::English && !tired.is_refrain(blurb));
        let heard = second.into_iter().chain(third).min_by_key(|place| place.overall);
        if let Some(heard) = heard.filter(|_| !tired.is_wanted(reading, blurb)) {
            found.push(tired.told_at(heard).map(|place| told(&blurb[place.paragraph], place.word)).collect());
        }
    }
}

fn query(prose: &Prose<'_>, words: Range<usize>, says: String, cuts: Vec<Cut>) -> Query {
    Query { rule: Rule::RepeatedWord, block: prose.number, range: prose.bytes(&words), says, cuts }
}

fn told(prose: &Prose<'_>, word: usize) -> Query {
    let says = format!("“{}” has just been said; another word, or none, reads fresher", spoken(prose, word));
    query(prose, word..word + 1, says, Vec::new())
}

/// A word as a message says it: as it is written, without a capital that only the sentence gave it.
fn spoken(prose: &Prose<'_>, word: usize) -> String {
    let written = prose.written(word);
    if prose.language == Language::German { written.to_owned() } else { written.to_lowercase() }
}

/// Finds a word that is taken up again behind a comma to say more of it: `a secret, a secret that could`.
pub(super) fn taken_up(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    /// How many words back the word may stand.
    const BACK: usize = 8;
    for at in 2..prose.words.len() {
        let is_taken_up = matches!(prose.word(at - 1), "a" | "an" | "the" | "one")
            && matches!(prose.word(at + 1), "that" | "which")
            && prose.gap(at - 2) == ", "
            && prose.is_joined(at - 1);
        let start = prose.sentence_of(at).start.max((at - 1).saturating_sub(BACK));
        // `The bugs that bite, the bugs that sting`: a row of things with an article each is a list.
        let is_beside = prose.word(at - 2) == prose.word(at) || prose.word(at - 1) != "the";
        let has_stood = || is_beside && (start..at - 1).any(|before| prose.word(before) == prose.word(at));
        if is_taken_up && has_stood() && !prose.is_quoted(&prose.words[at].range) {
            queries.push(told(prose, at));
        }
    }
}

/// Finds small words that are doubled by mistake.
pub(super) fn doubled(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for at in 1..prose.words.len() {
        let is_twice = prose.word(at) == prose.word(at - 1) && prose.is_joined(at - 1);
        // `What it was was a lamp`, but never `it was was` at a sentence's start.
        let is_doubled_verb = || {
            let start = prose.sentence_of(at).start;
            at == start + 2
                && matches!(prose.word(at), "was" | "is")
                && matches!(prose.word(start), "it" | "he" | "she" | "there")
        };
        if is_twice && (is_never_doubled(prose.language, prose.word(at)) || is_doubled_verb()) {
            let cut = match prose.language {
                Language::English => mend::cut(prose, &(at..at + 1), ""),
                _ => mend::undoubled(prose, at),
            };
            let cuts = cut.into_iter().collect();
            queries.push(query(prose, at - 1..at + 1, "the word stands here twice".to_owned(), cuts));
        }
    }
}

/// Whether nobody says a folded word twice in a row on purpose.
fn is_never_doubled(language: Language, word: &str) -> bool {
    match language {
        Language::English => SMALL.contains(&word),
        _ => has_sign(language, word, WordSign::Double),
    }
}

/// Whether a folded word says little by itself.
pub(super) fn is_tired(language: Language, word: &str) -> bool {
    match language {
        Language::English => TIRED.contains(&english_stem(word)),
        _ => has_sign(language, unelided(language, word).1, WordSign::Tired),
    }
}

/// A folded word without its regular endings, in which the forms of a tired word are one.
fn stem(language: Language, word: &str) -> String {
    let letters = |word: &str, count: usize| word.chars().take(count).collect();
    match language {
        Language::English => english_stem(word),
        // The lists name the forms, of which no two words share so long a beginning.
        _ => letters(unelided(language, word).1, SAME),
    }
}

/// The tired words of the blurb that come more than once.
fn tired_words_of(blurb: &[Prose<'_>]) -> Vec<TiredWord> {
    let mut tired_words: Vec<TiredWord> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    let mut before = 0;
    for (paragraph, prose) in blurb.iter().enumerate() {
        for &word in &prose.gathered.tired {
            let stem = stem(prose.language, prose.word(word));
            let at = *known.entry(stem.clone()).or_insert(tired_words.len());
            if at == tired_words.len() {
                tired_words.push(TiredWord { stem, places: Vec::new() });
            }
            tired_words[at].places.push(Occurrence { paragraph, word, overall: before + word });
        }
        before += prose.words.len();
    }
    tired_words.retain(|tired| tired.places.len() > 1);
    tired_words
}

/// A word without its regular endings. Stems are only compared with one another, so a stem need not be a word.
pub(super) fn english_stem(word: &str) -> String {
    let word = word.strip_suffix("'s").or(word.strip_suffix('\'')).unwrap_or(word);
    let is_long = |stem: &&str| stem.len() >= 3 && stem.contains(['a', 'e', 'i', 'o', 'u', 'y']);
    let hissing = word.strip_suffix('s').filter(|stem| !stem.ends_with(['s', 'u', 'i']));
    let bare = ["ing", "ied", "ies", "ed", "es"].iter().find_map(|ending| word.strip_suffix(ending).filter(is_long));
    let bare = bare.or(hissing.filter(is_long)).unwrap_or(word);
    let bare = bare.strip_suffix(['e', 'y']).filter(is_long).unwrap_or(bare);
    let mut letters = bare.chars().rev();
    let is_doubled = bare.len() > 3 && letters.next() == letters.next();
    bare[..bare.len() - usize::from(is_doubled && bare.is_ascii())].to_owned()
}

impl TiredWord {
    /// Whether the word is a name, or part of one, of the title or of a wanted term.
    fn is_wanted(&self, reading: &Reading<'_>, blurb: &[Prose<'_>]) -> bool {
        self.places.iter().any(|place| {
            let prose = &blurb[place.paragraph];
            let range = place.word..place.word + 1;
            prose.is_kept(reading, &range) || !prose.wanted_over(reading, &range).is_empty()
        })
    }

    /// The place where the word is heard again, then the later ones, then those before it but the first.
    fn told_at(&self, heard: Occurrence) -> impl Iterator<Item = Occurrence> + '_ {
        let later = self.places.iter().filter(move |place| place.overall >= heard.overall);
        later.chain(self.places[1..].iter().filter(move |place| place.overall < heard.overall)).copied()
    }

    /// The place where the word comes for the third time within [`WINDOW`].
    fn third(&self) -> Option<Occurrence> {
        let is_heard = |places: &&[Occurrence]| places[2].overall - places[0].overall < WINDOW;
        self.places.windows(3).find(is_heard).map(|places| places[2])
    }

    /// The place where the word comes for the second time, and no more, within a few words of one sentence.
    fn second(&self, blurb: &[Prose<'_>]) -> Option<Occurrence> {
        let [one, two] = self.places[..] else { return None };
        let prose = blurb.get(two.paragraph).filter(|_| one.paragraph == two.paragraph)?;
        let is_near = NEAR.contains(&(two.word - one.word)) && (one.word..two.word).all(|at| prose.is_joined(at));
        let pointer = |back: usize| two.word.checked_sub(back).is_some_and(|at| POINTERS.contains(&prose.word(at)));
        (is_near && !pointer(1) && !pointer(2)).then_some(two)
    }

    /// Whether two of the places share the word before or the word behind.
    fn is_refrain(&self, blurb: &[Prose<'_>]) -> bool {
        let word = |place: &Occurrence, at: usize| blurb[place.paragraph].word(at);
        let beside = |place: &Occurrence, at: Option<usize>| at.map_or("", |at| word(place, at)).to_owned();
        let before = |place: &Occurrence| beside(place, place.word.checked_sub(1));
        let behind = |place: &Occurrence| beside(place, Some(place.word + 1));
        let is_shared = |one: String, other: String| !one.is_empty() && one == other;
        self.places.iter().enumerate().any(|(at, one)| {
            let others = &mut self.places[..at].iter();
            others.any(|other| is_shared(before(one), before(other)) || is_shared(behind(one), behind(other)))
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn repeated_words_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/repeats.txt"));
    }
}
