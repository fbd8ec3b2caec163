//! Two words side by side that say nearly the same: `big, huge`, `quiet and silent`, `over 50+`.
//!
//! Source: W. Strunk, The Elements of Style (1918), rule 13, "Omit needless words"; what says the same WordNet tells: a
//! shared synset or, for adjectives, a cluster of similar ones. A pair that children's books have as one word
//! (`great big`) passes. So do words that belong to a title or a name, and those of speech.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

use super::adjectives::is_said_as_one;
use super::mend;
use super::prose::Prose;
use super::query::{Cut, Query, Reading};
use super::sense::Rewording;
use crate::brief::queries::Rule;
use crate::text::language::Language;
use crate::text::tagger::{self, WordClass};

/// The words that say nearly the same as a word and come later in the alphabet.
static KINDRED: LazyLock<HashMap<&str, Vec<&str>>> = LazyLock::new(|| {
    let lines = wordlist!("kindred-words.txt").lines().filter(|line| !line.starts_with('#'));
    let entry = |line: &'static str| line.split_once(' ').map(|(word, others)| (word, others.split(' ').collect()));
    lines.filter_map(entry).collect()
});

/// Finds words side by side that say nearly the same.
pub(super) fn find(reading: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English {
        return;
    }
    for sentence in &prose.sentences {
        let pairs = sentence.clone().filter_map(|at| pair_at(prose, sentence, at));
        let mut tags = Vec::new();
        for words in pairs.filter(|words| !prose.is_kept(reading, words)) {
            if tags.is_empty() {
                tags = prose.tags(sentence);
            }
            let classes = (tags[words.start - sentence.start], tags[words.end - 1 - sentence.start]);
            if is_of_one_kind(prose, &words, classes) && prose.wanted_over(reading, &words).is_empty() {
                queries.push(told(prose, &words));
            }
        }
        queries.extend(sentence.clone().filter_map(|at| doubled_more(prose, at)));
    }
}

/// The words of a pair that begins at a word: two adjectives with a blank or a comma between them, or two words of any
/// class with `and` or `or`.
fn pair_at(prose: &Prose<'_>, sentence: &Range<usize>, at: usize) -> Option<Range<usize>> {
    let next = at + 1;
    let linked = next + 1 < sentence.end
        && matches!(prose.word(next), "and" | "or")
        && matches!(prose.gap(at), " " | ", ")
        && prose.is_joined(next);
    let other = if linked { next + 1 } else { next };
    let is_beside = linked || (next < sentence.end && matches!(prose.gap(at), " " | ", "));
    (is_beside && are_kindred(prose.word(at), prose.word(other))).then_some(at..other + 1)
}

/// Whether two words say nearly the same, in their plain forms.
fn are_kindred(one: &str, other: &str) -> bool {
    let (one, other) = (plain_forms(one), plain_forms(other));
    let has = |word: &str, mate: &str| KINDRED.get(word).is_some_and(|mates| mates.contains(&mate));
    one.iter().zip(&other).any(|(one, other)| has(one, other) || has(other, one))
}

/// A word as it stands, and what it is without the endings of verbs and plurals, each at its own place.
fn plain_forms(word: &str) -> [&str; 5] {
    let without = |ending: &str| word.strip_suffix(ending).unwrap_or(word);
    let stem = without("s");
    [word, stem, without("es"), without("ed"), without("d")]
}

/// Whether the words of a pair are of one class, and may stand so: adjectives before a noun or behind a verb, or words
/// of any open class round `and`.
fn is_of_one_kind(prose: &Prose<'_>, words: &Range<usize>, (one, other): (WordClass, WordClass)) -> bool {
    let (first, last) = (prose.word(words.start), prose.word(words.end - 1));
    let are_adjectives = tagger::is_adjective(first) && tagger::is_adjective(last);
    let is_linked = words.len() == 3;
    let is_open = |class: WordClass| {
        matches!(
            class,
            WordClass::Noun
                | WordClass::Plural
                | WordClass::Present
                | WordClass::Past
                | WordClass::Base
                | WordClass::Gerund
        )
    };
    let is_row = are_adjectives
        && (matches!(one, WordClass::Adjective | WordClass::Participle) || (is_linked && one == WordClass::Noun))
        && matches!(other, WordClass::Adjective | WordClass::Participle | WordClass::Noun)
        && (is_linked || other == WordClass::Adjective)
        && !is_said_as_one(first, last);
    is_row || (is_linked && one == other && is_open(one))
}

/// A query on a pair, with a cut for either word.
fn told(prose: &Prose<'_>, words: &Range<usize>) -> Query {
    let (first, last) = (prose.word(words.start), prose.word(words.end - 1));
    let mut wordings = [first, last];
    wordings.sort_by_key(|word| word.len());
    let suits = |wording: &&str| Rewording { prose, words: words.clone(), wording }.keeps_pair();
    let cuts: Vec<Cut> = wordings
        .iter()
        .filter(|wording| suits(wording))
        .filter_map(|wording| mend::cut(prose, words, wording))
        .collect();
    let says = match cuts.first() {
        Some(_) => format!("both words say nearly the same; “{}” is enough", wordings[0]),
        None => "both words say nearly the same; one of them is enough".to_owned(),
    };
    Query { rule: Rule::Doublet, block: prose.number, range: prose.bytes(words), says, cuts }
}

/// `over 50+`: the sign says `more` a second time.
fn doubled_more(prose: &Prose<'_>, at: usize) -> Option<Query> {
    let number = match (prose.word(at), prose.word(at + 1)) {
        ("over", _) => at + 1,
        ("more", "than") => at + 2,
        _ => return None,
    };
    let is_number = prose.word(number).starts_with(|c: char| c.is_ascii_digit());
    let has_sign = is_number && prose.gap(number).starts_with('+') && (at..number).all(|at| prose.is_joined(at));
    has_sign.then(|| {
        let range = prose.words[at].range.start..prose.words[number].range.end + 1;
        let sign = range.end - 1..range.end;
        Query {
            rule: Rule::Doublet,
            block: prose.number,
            range,
            says: "the sign behind the number says “more” a second time".to_owned(),
            cuts: vec![Cut { range: sign, wording: String::new() }],
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn kindred_words_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/kindred.txt"));
    }
}
