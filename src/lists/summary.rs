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
    // The drafts of a book have one brief; the records of a feed have one below their own values.
    let briefs: BTreeSet<&str> = rows.iter().filter(|row| !row.is_record).map(|row| row.brief.as_str()).collect();
    let books =
        briefs.iter().filter(|brief| !brief.is_empty()).count() + rows.iter().filter(|row| row.is_record).count();
    let of_books = if books == 0 { String::new() } else { format!(" of {}", counted(books, "book")) };
    let parts = joined(parts.into_iter().flatten().collect());
    let colon = if parts.is_empty() { "" } else { ": " };
    let totals = format!("{}{of_books}{colon}{parts}.", counted(rows.len(), "draft"));
    [totals].into_iter().chain(what_is_outside(rows)).collect()
}

/// By which measures the levels of a list are, where they are by two: the one whose bands have a star, and the sentence
/// that says so.
pub(super) fn starred(rows: &[ListRow]) -> Option<(&'static str, String)> {
    let levels = rows.iter().filter_map(ListRow::figures).filter_map(|figures| figures.level.as_ref());
    let measures: BTreeSet<&'static str> = levels.map(|level| level.measure).collect();
    let (plain, starred) = measures.first().zip(measures.last()).filter(|(plain, starred)| plain != starred)?;
    Some((*starred, format!("Levels are by {plain}, those with a star by {starred}, and cannot be compared.")))
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
