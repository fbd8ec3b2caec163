//! Echoes: a content word heard again within a few lines, in its own form or in another.
//!
//! Source: common practice of editors on a last read. Children's copy repeats on purpose, and tries on invented blurbs
//! showed that most echoes are meant, so they are told only where the author asks for a close read. Names, words of the
//! title, the headline and the terms, verse, and words said in a figure (`bigger and bigger`) pass.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use super::prose::{OwnCopy, Prose};
use super::query::{Query, Reading};
use super::repeats::english_stem;
use crate::brief::phrases::fold;
use crate::brief::queries::Rule;
use crate::text::language::Language;
use crate::text::words;
use crate::units::nouns::counted;

static FUNCTION_WORDS: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("function-words.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// Within how many words the same form is heard again, and another form of it.
const SAME_FORM: usize = 22;
const OTHER_FORM: usize = 30;
/// Shorter words are not heard.
const SHORTEST: usize = 4;
/// Endings that make another word of the same stem.
const ENDINGS: [&str; 6] = ["ness", "less", "ful", "ment", "ly", "er"];

/// A place where a stem was heard.
struct Heard<'a> {
    prose: &'a Prose<'a>,
    at: usize,
    overall: usize,
}

/// Finds content words that are heard again soon after, each stem once.
pub(super) fn find<'a>(reading: &Reading<'_>, own: &'a OwnCopy<'a>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English {
        return;
    }
    let passing = passing(reading);
    let mut last: HashMap<String, Heard<'_>> = HashMap::new();
    let mut told: HashSet<String> = HashSet::new();
    let mut overall = 0;
    for prose in own.blurb() {
        for at in (0..prose.words.len()).filter(|_| !prose.is_verse) {
            let Some(root) = root(prose.word(at)).filter(|root| !passing.contains(root)) else { continue };
            let heard = Heard { prose, at, overall: overall + at };
            if prose.is_kept(reading, &(at..at + 1)) {
                continue;
            }
            if let Some(before) = last.get(&root).filter(|before| is_echo(before, &heard))
                && told.insert(root.clone())
            {
                queries.push(query(&heard, before));
            }
            last.insert(root, heard);
        }
        overall += prose.words.len();
    }
}

/// The roots that pass: those of the headline, the title, the names and the terms.
fn passing(reading: &Reading<'_>) -> HashSet<String> {
    let (book, terms) = (&reading.brief.book, &reading.brief.terms.wanted);
    let of_terms = terms.iter().flat_map(|term| std::iter::once(&term.term).chain(&term.also));
    let phrases = book.names.iter().map(|name| &name.name).chain([&book.title]).chain(of_terms);
    let wanted = phrases.flat_map(|phrase| words::find(phrase).into_iter().map(|word| fold(&phrase[word])));
    let headline = reading.text.headline.words.iter().map(|word| fold(reading.text.word(word)));
    wanted.chain(headline).filter_map(|word| root(&word)).collect()
}

/// The part of a content word that its forms and kin have in common; none for other words.
fn root(word: &str) -> Option<String> {
    let is_content = word.chars().count() >= SHORTEST && !FUNCTION_WORDS.contains(word);
    is_content.then(|| {
        let bare = ENDINGS.iter().find_map(|ending| word.strip_suffix(ending)).filter(|bare| bare.len() >= SHORTEST);
        english_stem(bare.unwrap_or(word))
    })
}

/// Whether a word is heard again too soon, and not in a figure of speech.
fn is_echo(before: &Heard<'_>, now: &Heard<'_>) -> bool {
    let words = |heard: &Heard<'_>| {
        let beside = |at: Option<usize>| at.map_or("", |at| heard.prose.word(at)).to_owned();
        (beside(heard.at.checked_sub(1)), beside(Some(heard.at + 1)), heard.prose.word(heard.at).to_owned())
    };
    let ((one_before, one_behind, one), (other_before, other_behind, other)) = (words(before), words(now));
    let distance = now.overall - before.overall;
    let reach = if one == other { SAME_FORM } else { OTHER_FORM };
    let is_figure = distance <= 2
        || (!one_before.is_empty() && one_before == other_before)
        || (!one_behind.is_empty() && one_behind == other_behind);
    distance <= reach && !is_figure
}

fn query(heard: &Heard<'_>, before: &Heard<'_>) -> Query {
    let says = format!(
        "“{}” stood {} ago; another word may read fresher",
        before.prose.word(before.at),
        counted(heard.overall - before.overall, "word")
    );
    let range = heard.prose.words[heard.at].range.clone();
    Query { rule: Rule::Echo, block: heard.prose.number, range, says, cuts: Vec::new() }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::{check, check_closely};

    #[test]
    fn echoes_are_found_as_marked() {
        check_closely(include_str!("../../tests/cases/queries/echoes.txt"));
    }

    #[test]
    fn nothing_of_a_last_read_is_told_unasked() {
        check("echo: The storm shook the boats, and then a storm broke windows.");
        check("weak verb: Oona begins to climb.");
        check("intensifier: It is so cold.");
    }
}
