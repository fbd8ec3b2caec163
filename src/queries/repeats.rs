//! Repeated words: one content word again and again, or one small word twice by mistake.
//!
//! Source: common practice. Repetition is also an art of children's books, so much of it passes: names, terms and words
//! of the title and of the headline; whatever the text points back to (`the lamp ... the lamp`); words that come again
//! with the same neighbour, which is a refrain (`a new house, a new school`); and capitals. What is left is told at the
//! third time within sixty words, or at the second within a few words of one sentence.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::prose::{self, Prose};
use super::{Cut, Query, Reading, mend};
use crate::brief::queries::Rule;
use crate::text::language::Language;

static STOPS: LazyLock<HashSet<&str>> = LazyLock::new(|| {
    include_str!("../../wordlists/stop-words.txt").lines().filter(|line| !line.starts_with('#')).collect()
});

/// Words within which a third time is heard.
const WINDOW: usize = 60;
/// Words within which a second time in one sentence is heard; nearer ones are said for the sound (`far, far away`).
const NEAR: std::ops::RangeInclusive<usize> = 3..=7;
/// Letters that a content word has at least.
const SHORTEST: usize = 4;
/// Small words that nobody doubles on purpose.
const SMALL: [&str; 16] =
    ["the", "a", "an", "and", "of", "to", "is", "on", "with", "for", "his", "their", "at", "by", "from", "or"];
/// What points back to something known, or counts.
const POINTERS: [&str; 13] =
    ["the", "this", "that", "these", "those", "my", "your", "his", "her", "its", "our", "their", "every"];

/// A place of a content word.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Place {
    /// Position of the paragraph.
    paragraph: usize,
    /// Position of the word in the paragraph.
    word: usize,
    /// Position among all words of the blurb.
    overall: usize,
}

/// Content words said again and again, and small words doubled by mistake.
pub(super) fn repeated_words(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English {
        return;
    }
    let copy = prose::copy(reading);
    copy.iter().for_each(|prose| doubled(prose, queries));
    let blurb = prose::blurb(reading);
    for places in families(&blurb) {
        let is_heard = !is_expected(reading, &blurb, &places) && !is_refrain(&blurb, &places);
        if let Some(place) = heard(&blurb, &places).filter(|_| is_heard) {
            let prose = &blurb[place.paragraph];
            let word = prose.word(place.word);
            let says = format!(
                "“{word}” or a form of it stands here for the {} time; another word, or none, reads fresher",
                ordinal(&places, place)
            );
            queries.push(query(prose, place.word..place.word + 1, says, Vec::new()));
        }
    }
}

fn query(prose: &Prose<'_>, words: Range<usize>, says: String, cuts: Vec<Cut>) -> Query {
    Query { rule: Rule::RepeatedWord, block: prose.number, range: prose.bytes(&words), says, cuts }
}

fn doubled(prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for at in 1..prose.words.len() {
        if prose.word(at) == prose.word(at - 1) && prose.is_joined(at - 1) && SMALL.contains(&prose.word(at)) {
            let cuts = mend::cut(prose, &(at..at + 1), "").into_iter().collect();
            queries.push(query(prose, at - 1..at + 1, "the word stands here twice".to_owned(), cuts));
        }
    }
}

/// The content words of the blurb with all places of each, those that come more than once.
fn families(blurb: &[Prose<'_>]) -> Vec<Vec<Place>> {
    let mut families: Vec<Vec<Place>> = Vec::new();
    let mut overall = 0;
    for (paragraph, prose) in blurb.iter().enumerate() {
        for word in 0..prose.words.len() {
            overall += 1;
            let place = Place { paragraph, word, overall };
            let is_kin =
                |family: &&mut Vec<Place>| is_kin(prose.word(word), blurb[family[0].paragraph].word(family[0].word));
            if !is_content(prose, word) {
                continue;
            }
            match families.iter_mut().find(is_kin) {
                Some(family) => family.push(place),
                None => families.push(vec![place]),
            }
        }
    }
    families.retain(|family| family.len() > 1);
    families
}

fn is_content(prose: &Prose<'_>, at: usize) -> bool {
    let word = prose.word(at);
    word.len() >= SHORTEST && !STOPS.contains(word) && word.chars().all(|c| c.is_alphabetic() || c == '\'')
}

/// Whether two words are forms of one, as far as their endings tell: `scared` and `scares`, not `scary`.
fn is_kin(one: &str, other: &str) -> bool {
    one.bytes().take(3).eq(other.bytes().take(3)) && stem(one) == stem(other)
}

/// A word without its regular endings. Two of one stem are compared, so that it need be no word itself.
fn stem(word: &str) -> String {
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

/// Whether a word comes again for good reason: it is wanted, a name, what the headline is about, or pointed back to.
fn is_expected(reading: &Reading<'_>, blurb: &[Prose<'_>], places: &[Place]) -> bool {
    let first = blurb[places[0].paragraph].word(places[0].word);
    let mut headline =
        prose::copy(reading).into_iter().filter(|prose| blurb.iter().all(|own| own.number != prose.number));
    if headline.any(|prose| prose.words.iter().any(|word| is_kin(&word.word, first))) {
        return true;
    }
    let points_back = |place: &&Place| {
        let prose = &blurb[place.paragraph];
        (1..=2).any(|back| place.word.checked_sub(back).is_some_and(|at| POINTERS.contains(&prose.word(at))))
    };
    let is_named = |place: &Place| {
        let prose = &blurb[place.paragraph];
        let is_inside = prose.sentence_of(place.word).start < place.word;
        let range = place.word..place.word + 1;
        (is_inside && prose.is_capital(place.word))
            || prose.is_kept(reading, &range)
            || !prose.wanted_over(reading, &range).is_empty()
    };
    places.iter().filter(points_back).count() > 1 || places.iter().any(is_named)
}

/// Whether two of the places share the word before or the word behind, or stand at the head of their sentences.
fn is_refrain(blurb: &[Prose<'_>], places: &[Place]) -> bool {
    let before = |place: &Place| place.word.checked_sub(1).map(|at| blurb[place.paragraph].word(at));
    let behind = |place: &Place| blurb[place.paragraph].words.get(place.word + 1).map(|word| word.word.as_str());
    let opens = |place: &Place| blurb[place.paragraph].sentence_of(place.word).start == place.word;
    places.iter().enumerate().any(|(at, one)| {
        places[..at].iter().any(|other| {
            before(one) == before(other)
                || behind(one).is_some_and(|word| behind(other) == Some(word))
                || (opens(one) && opens(other))
        })
    })
}

/// The place at which a repetition is first heard.
fn heard(blurb: &[Prose<'_>], places: &[Place]) -> Option<Place> {
    let third = places.windows(3).find(|places| places[2].overall - places[0].overall < WINDOW).map(|places| places[2]);
    let near = |places: &&[Place]| {
        let (one, two) = (places[0], places[1]);
        let prose = &blurb[two.paragraph];
        one.paragraph == two.paragraph
            && NEAR.contains(&(two.word - one.word))
            && prose.sentence_of(one.word) == prose.sentence_of(two.word)
    };
    let second = places.windows(2).find(near).map(|places| places[1]);
    second.into_iter().chain(third).min_by_key(|place| place.overall)
}

fn ordinal(places: &[Place], place: Place) -> String {
    match places.iter().position(|one| *one == place) {
        Some(1) => "second".to_owned(),
        Some(2) => "third".to_owned(),
        Some(at) => format!("{}th", at + 1),
        None => "second".to_owned(),
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
