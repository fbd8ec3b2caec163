//! Quotes that could stand on any book: every word of them praises, and none is of this one.
//!
//! Source: common practice of editors: a quote is read for what it saw in the book; `Brilliant! We loved it!` saw
//! nothing that another book has not. Only a quote of which every word is listed is told, so that one thing of the
//! book's own is enough to leave it alone.

use std::collections::HashSet;
use std::sync::LazyLock;

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use super::telling::plain;
use crate::brief::queries::Rule;
use crate::draft::BlockKind;
use crate::terms::frequencies::is_function_word;

/// The words of praise that fits any book.
static PRAISE: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("empty-quotes.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// Finds quotes of general praise alone.
pub(super) fn find(reading: &Reading<'_>, _: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let quotes = reading.draft.blocks.iter().enumerate().filter(|(_, block)| block.kind == BlockKind::Quote);
    for (number, block) in quotes {
        let text = block.text();
        // What stands behind a dash inside the quote is who gave it.
        let said = text.find(['—', '–']).map_or(text, |dash| &text[..dash]);
        let words = || {
            said.split(|c: char| !c.is_alphabetic() && !"'’".contains(c))
                .map(|word| plain(word.trim_matches(['\'', '’'])))
        };
        let is_general = |word: &str| word.is_empty() || is_function_word(word) || PRAISE.contains(word);
        let has_praise = words().any(|word| PRAISE.contains(word.as_str()));
        if has_praise && words().all(|word| is_general(&word)) {
            queries.push(Query {
                rule: Rule::StrayQuote,
                block: number,
                range: 0..said.trim_end().len(),
                says: "this could be said of any book; a quote that names what only this one has is believed"
                    .to_owned(),
                cuts: Vec::new(),
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn quotes_that_fit_any_book_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/empty_quotes.txt"));
    }
}
