//! What a whole list comes to, in plain sentences: how many drafts of how many books are as they should be, and what
//! most of the others are outside of.

use std::collections::{BTreeMap, BTreeSet};

use super::row::{ListRow, RowVerdict};
use crate::print::words::joined;
use crate::units::nouns::{agrees, counted};

/// The sentences below a list.
pub(super) fn sentences(rows: &[ListRow]) -> Vec<String> {
    let count = |verdict| rows.iter().filter(|row| row.verdict() == verdict).count();
    let part = |verdict, said: [&str; 2], rest: &str| match count(verdict) {
        0 => None,
        some => Some(format!("{some} {}{rest}", agrees(some, said[0], said[1]))),
    };
    let parts = [
        part(RowVerdict::Unread, ["could", "could"], " not be read"),
        part(RowVerdict::Outside, ["is", "are"], " outside a limit"),
        part(RowVerdict::Within, ["is", "are"], " within every limit"),
    ];
    // The records of a feed have one brief below their own values.
    let book = |row: &'_ ListRow| (row.brief.clone(), row.title.clone());
    let books: BTreeSet<_> = rows.iter().map(book).filter(|(brief, _)| !brief.is_empty()).collect();
    let of_books = if books.is_empty() { String::new() } else { format!(" of {}", counted(books.len(), "book")) };
    let parts = joined(parts.into_iter().flatten().collect());
    let colon = if parts.is_empty() { "" } else { ": " };
    let totals = format!("{}{of_books}{colon}{parts}.", counted(rows.len(), "draft"));
    [totals].into_iter().chain(what_is_outside(rows)).collect()
}

/// What drafts are outside of, what most are outside of first.
fn what_is_outside(rows: &[ListRow]) -> Option<String> {
    let mut drafts: BTreeMap<&str, usize> = BTreeMap::new();
    for subject in rows.iter().filter_map(ListRow::figures).flat_map(|figures| &figures.outside_of) {
        *drafts.entry(subject).or_default() += 1;
    }
    let mut drafts: Vec<(&str, usize)> = drafts.into_iter().collect();
    drafts.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let said: Vec<String> =
        drafts.iter().map(|(subject, count)| format!("{subject} ({})", counted(*count, "draft"))).collect();
    (!said.is_empty()).then(|| format!("What they are outside of: {}.", joined(said)))
}
