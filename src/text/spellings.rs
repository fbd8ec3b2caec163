//! Finds the brief's names in all that is printed, and capitalised words that are spelt nearly like one.
//!
//! A name is spelt right in the letters of the brief, or all in capitals, with or without a possessive or a plural. A
//! near-twin is a word that the brief does not name, that is capitalised, that no list of ordinary words knows, and
//! that is one step of spelling away, or two for a name of seven letters or more; or that differs in accents or in
//! capitals alone.

use std::ops::Range;

use strsim::osa_distance;
use unicode_normalization::UnicodeNormalization;

use crate::brief::Book;
use crate::draft::{Block, Draft, Span};

use super::frequencies;
use super::syllables::fold;
use super::words::parts;

/// From this many letters on, two steps of spelling are near.
const LONG: usize = 7;
/// Names shorter than this have too many neighbours.
const SHORTEST: usize = 3;
/// Up to this many letters, and where it is more than one step away, a twin begins like the name.
const SHORT: usize = 4;

/// A name of the brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spelling {
    /// The name as the brief has it.
    pub name: String,
    /// Every place where it is spelt so, in the order of the draft.
    pub spans: Vec<Span>,
    /// Words that are spelt nearly like it, or like a word of it.
    pub twins: Vec<Twin>,
}

/// A word that is spelt nearly like a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Twin {
    /// As it is written.
    pub written: String,
    /// The name, or the word of it, that it is near to.
    pub near: String,
    /// Where it stands in the file.
    pub span: Span,
}

/// Looks for the names of the brief in every block of a draft: in the order of the brief.
pub fn find(draft: &Draft, book: &Book) -> Vec<Spelling> {
    let names: Vec<Vec<String>> = book.names.iter().map(|name| words_of(&name.name)).collect();
    let mut found: Vec<Spelling> = book
        .names
        .iter()
        .map(|name| Spelling { name: name.name.clone(), spans: Vec::new(), twins: Vec::new() })
        .collect();
    for block in &draft.blocks {
        let words = parts(block.text());
        for (name, spelling) in names.iter().zip(&mut found) {
            spelling.spans.extend(places(block, &words, name));
        }
        for word in &words {
            let written = &block.text()[word.clone()];
            if let Some((name, near)) = nearest(written, &names) {
                let span = block.span(word.clone());
                found[name].twins.push(Twin { written: written.to_owned(), near, span });
            }
        }
    }
    found
}

fn words_of(name: &str) -> Vec<String> {
    parts(name).into_iter().map(|word| name[word].nfc().collect()).collect()
}

/// Where all the words of a name follow each other.
fn places(block: &Block, words: &[Range<usize>], name: &[String]) -> Vec<Span> {
    let is_name = |stretch: &&[Range<usize>]| {
        stretch.iter().zip(name).all(|(word, name)| is_spelt(&block.text()[word.clone()], name))
    };
    let span = |stretch: &[Range<usize>]| block.span(stretch[0].start..stretch[stretch.len() - 1].end);
    words.windows(name.len().max(1)).filter(is_name).filter(|_| !name.is_empty()).map(span).collect()
}

/// Whether a word of the copy is a word of a name, in its letters or in capitals.
fn is_spelt(written: &str, name: &str) -> bool {
    let written: String = written.nfc().collect();
    let is_it = |written: &str| written == name || written == name.to_uppercase();
    let bare = bare(&written);
    is_it(&written) || is_it(bare) || bare.strip_suffix(['s', 'S']).is_some_and(is_it)
}

/// What may hang on a name by an apostrophe, in small letters: `Oona's`, `Oona'll`.
const HANGING: [&str; 5] = ["s", "ll", "d", "ve", "re"];

/// A word without its possessive or the verb that hangs on it.
pub(super) fn bare(word: &str) -> &str {
    match word.rsplit_once(['\'', '’']) {
        Some((name, hanging))
            if !name.is_empty() && HANGING.iter().any(|known| known.eq_ignore_ascii_case(hanging)) =>
        {
            name
        }
        _ => word,
    }
}

/// The name that a word is spelt nearly like, and the word of it; none where it is a name itself.
fn nearest(written: &str, names: &[Vec<String>]) -> Option<(usize, String)> {
    if names.iter().flatten().any(|name| is_spelt(written, name)) {
        return None;
    }
    let all = names.iter().enumerate().flat_map(|(at, name)| name.iter().map(move |word| (at, word)));
    let mut near = all.filter_map(|(at, word)| Some((steps_between(bare(written), word)?, at, word)));
    let first = near.next()?;
    let (_, at, word) = near.fold(first, |best, next| if next.0 < best.0 { next } else { best });
    Some((at, word.clone()))
}

/// Whether a word is spelt nearly like a name and is no ordinary word.
pub fn are_twins(written: &str, name: &str) -> bool {
    steps_between(written, name).is_some()
}

/// The steps between a word and a name that it is nearly spelt like; none where it is far from it or an ordinary word.
pub(super) fn steps_between(written: &str, name: &str) -> Option<usize> {
    let (folded, name_folded) = (fold(written), fold(name));
    let is_capital = |word: &str| word.starts_with(char::is_uppercase);
    if !is_capital(name) || frequencies::count(&folded) > 0 || frequencies::is_function_word(&folded) {
        return None;
    }
    if folded == name_folded {
        return Some(0);
    }
    let letters = name_folded.chars().count();
    let most = if letters >= LONG { 2 } else { 1 };
    if !is_capital(written) || letters < SHORTEST || folded.chars().count().abs_diff(letters) > most {
        return None;
    }
    let begins_alike = folded.chars().next() == name_folded.chars().next();
    let steps = osa_distance(&folded, &name_folded);
    (steps <= most && (begins_alike || (steps == 1 && letters > SHORT))).then_some(steps)
}

#[cfg(test)]
mod tests {
    use super::find;
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::draft::Draft;

    /// What is found of each name: how often it is spelt right, and its near-twins.
    fn check(names: &[&str], copy: &str, expected: &[(usize, &[&str])]) {
        let name = |name: &&str| Name { name: (*name).to_owned(), syllables: None };
        let book = Book { names: names.iter().map(name).collect(), ..Book::default() };
        let found = find(&Draft::read(copy), &book);
        let found: Vec<(usize, Vec<&str>)> = found
            .iter()
            .map(|name| {
                (name.spans.len(), name.twins.iter().map(|twin| &copy[twin.span.start..twin.span.end]).collect())
            })
            .collect();
        let expected: Vec<(usize, Vec<&str>)> =
            expected.iter().map(|(count, twins)| (*count, twins.to_vec())).collect();
        assert_eq!(found, expected, "{copy}");
    }

    #[test]
    fn names_are_counted_in_every_block() {
        check(
            &["Oona", "Gull Point"],
            "# OONA\n\n*Oona*’s lamp on Gull\nPoint.\n\n> \"Oh, Oona!\"\n> — Oona Gull\n",
            &[(4, &[]), (1, &[])],
        );
    }

    #[test]
    fn near_twins_are_told() {
        check(
            &["Oona", "Quillon"],
            "Ona and Quilon, Quilllan’s Oonah.",
            &[(0, &["Ona", "Oonah"]), (0, &["Quilon", "Quilllan’s"])],
        );
        check(&["Oona"], "> Dear Oonna\n> — Una, Only\n", &[(0, &["Oonna"])]);
        check(&["Oona"], "I know oona.", &[(0, &["oona"])]);
        check(&["Siobhán"], "Siobhan and Siobha\u{301}n", &[(1, &["Siobhan"])]);
    }

    #[test]
    fn ordinary_words_and_other_names_are_no_twins() {
        check(&["Rose", "Tom"], "A rose rose. Nose, Hose. Too.", &[(0, &[]), (0, &[])]);
        check(&["Ada", "Ida"], "Ada and Ida’s.", &[(1, &[]), (1, &[])]);
        check(&["", "!"], "Oona.", &[(0, &[]), (0, &[])]);
    }
}
