//! People named in French, German, Spanish, Italian and Dutch copy.
//!
//! Source: common practice of editors, as for English, with less to go by: none is better than a wrong one. A name of
//! the brief counts unless it stands behind a word that goes before places (`in`), or at every place behind one that
//! may (`de`, `von`). Any other word with a capital inside a sentence counts behind a title or a word of kin (`tía
//! Remedios`, `Onkel Theo`), and, but in German, where every noun has a capital, in a row with a name that counts
//! (`Carla, Hugo y Martina`). In the headline only names of the brief are looked for.

use std::ops::Range;

use super::prose::{OwnCopy, Prose};
use super::query::Reading;
use super::tongues::{WordSign, has_sign, unelided};
use crate::brief::phrases::fold;
use crate::draft::BlockKind;
use crate::text::language::Language;
use crate::text::words;

/// Somebody with a name: the number of the block and the bytes of the first place, and the name as it stands there.
type NamedPerson = (usize, Range<usize>, String);

/// Somebody whose name may be a place's as well.
struct MaybePerson {
    /// The words of the name, folded.
    words: Vec<String>,
    first: NamedPerson,
    /// Whether a title, kin, or a place of the name without a word before places shows a person.
    is_person: bool,
    /// Whether a word goes before the name that goes before places alone.
    is_place: bool,
}

/// A name at one of its places.
struct NameMention {
    words: Range<usize>,
    is_person: bool,
    is_place: bool,
}

/// The people of the headline and the blurb, in the order of their first places.
pub(super) fn people(reading: &Reading<'_>, own: &OwnCopy<'_>) -> Vec<NamedPerson> {
    let declared = declared(reading, own.language);
    let mut found: Vec<MaybePerson> = Vec::new();
    for prose in own.copy() {
        // The word behind the last name that counts as a person's.
        let (mut at, mut behind): (usize, Option<usize>) = (0, None);
        while at < prose.words.len() {
            let Some(mention) = mention(prose, at, &declared, behind) else {
                at += 1;
                continue;
            };
            at = mention.words.end;
            behind = mention.is_person.then_some(at);
            if !prose.is_quoted(&prose.bytes(&mention.words)) {
                add(&mut found, prose, &mention);
            }
        }
    }
    found.into_iter().filter(|person| person.is_person && !person.is_place).map(|person| person.first).collect()
}

/// The names of the brief, each as its words, folded, that have a capital and are no title.
fn declared(reading: &Reading<'_>, language: Language) -> Vec<Vec<String>> {
    let of_name = |name: &str| -> Vec<String> {
        let capital = words::find(name).into_iter().map(|word| &name[word]);
        let words: Vec<String> = capital.filter(|word| word.starts_with(char::is_uppercase)).map(fold).collect();
        let is_alone = words.len() == 1;
        words.into_iter().filter(|word| is_alone || !has_sign(language, word, WordSign::Title)).collect()
    };
    let names = reading.brief.book.names.iter().map(|name| of_name(&name.name));
    names.filter(|words| !words.is_empty()).collect()
}

/// A word without what makes it a genitive: `Annas`, `Max'`, `Anna's`.
fn bare(language: Language, word: &str) -> &str {
    let word = unelided(language, word).1;
    match language {
        Language::German | Language::Dutch => word.strip_suffix("'s").or(word.strip_suffix('\'')).unwrap_or(word),
        _ => word,
    }
}

fn mention(prose: &Prose<'_>, at: usize, declared: &[Vec<String>], behind: Option<usize>) -> Option<NameMention> {
    let language = prose.language;
    let begins_sentence = prose.sentence_of(at).start == at;
    let name = |at: usize| bare(language, prose.word(at));
    let is_capital = |at: usize| {
        let written = prose.written(at);
        let letters = written.rsplit_once(['\'', '’']).map_or(written, |(_, rest)| rest);
        written.starts_with(char::is_uppercase) || (letters != "s" && letters.starts_with(char::is_uppercase))
    };
    let is_declared = |at: usize| {
        let word = name(at);
        // A German genitive has no apostrophe: `Annas`.
        let stem = word.strip_suffix('s').filter(|_| matches!(language, Language::German | Language::Dutch));
        let is_one = |name: &String| name == word || Some(name.as_str()) == stem;
        is_capital(at) && declared.iter().flatten().any(is_one)
    };
    let has = |at: usize, sign| has_sign(language, unelided(language, prose.word(at)).1, sign);
    let before = at.checked_sub(1).filter(|before| prose.is_joined(*before));
    let is_led = before.is_some_and(|before| has(before, WordSign::Title) || has(before, WordSign::Kin));
    let shouts = prose.written(at).chars().count() > 1 && !prose.written(at).contains(char::is_lowercase);
    let is_known_word = || [WordSign::Small, WordSign::Title, WordSign::Kin].into_iter().any(|sign| has(at, sign));
    let may_be_name = prose.block.kind != BlockKind::Headline
        && is_capital(at)
        && !begins_sentence
        && !shouts
        && !is_known_word()
        && prose.gap(at - 1).chars().all(|c| c.is_whitespace() || c == ',');
    let is_in_row = language != Language::German && behind.is_some_and(|end| is_next(prose, end, at));
    if !is_declared(at) && !(may_be_name && (is_led || is_in_row)) {
        return None;
    }
    let mut end = at + 1;
    // A surname goes on with the name; in German only where the brief has it.
    let goes_on = |end: usize| is_declared(end) || (language != Language::German && is_capital(end));
    while end < prose.words.len() && prose.is_joined(end - 1) && goes_on(end) && prose.sentence_of(at).contains(&end) {
        end += 1;
    }
    let is_place = !is_led && before.is_some_and(|before| has(before, WordSign::Before));
    let may_be_place = !is_led && before.is_some_and(|before| has(before, WordSign::Open));
    Some(NameMention { words: at..end, is_person: !is_place && !may_be_place, is_place })
}

/// Whether a name stands in a row with the one before it: only a comma, or a word for `and`, is between.
fn is_next(prose: &Prose<'_>, end: usize, at: usize) -> bool {
    match at.checked_sub(end) {
        Some(0) => prose.gap(end - 1) == ", ",
        Some(1) => {
            matches!(prose.word(end), "et" | "und" | "y" | "e" | "ed" | "en")
                && prose.is_joined(end)
                && matches!(prose.gap(end - 1), " " | ", ")
        }
        _ => false,
    }
}

/// Adds a place of a name to whom it names, or to the people as somebody new.
fn add(found: &mut Vec<MaybePerson>, prose: &Prose<'_>, mention: &NameMention) {
    let own: Vec<String> = mention.words.clone().map(|at| bare(prose.language, prose.word(at)).to_owned()).collect();
    let is_one = |one: &String, other: &String| {
        one == other || one.strip_suffix('s') == Some(other) || other.strip_suffix('s') == Some(one)
    };
    let known = found.iter_mut().find(|person| person.words.iter().any(|word| own.iter().any(|own| is_one(own, word))));
    match known {
        Some(person) => {
            person.is_person |= mention.is_person;
            person.is_place |= mention.is_place;
        }
        None => {
            let bytes = prose.bytes(&mention.words);
            let written = prose.text()[bytes.clone()].to_owned();
            found.push(MaybePerson {
                words: own,
                first: (prose.number, bytes, written),
                is_person: mention.is_person,
                is_place: mention.is_place,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn the_third_name_is_found_as_marked() {
        check(include_str!("../../tests/cases/queries/names_abroad.txt"));
    }
}
