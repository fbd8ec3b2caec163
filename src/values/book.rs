//! The rows of the book itself.

use super::build::{RowFacts, RowGroup, keys};
use super::row::{BriefRow, RowForm};
use crate::brief::Brief;
use crate::brief::book::BookKind;
use crate::brief::yaml::Node;

/// Tags of languages that much is known of.
const LANGUAGES: [&str; 7] = ["en", "en-GB", "fr", "de", "es", "it", "nl"];

/// Title, author, kind, readers, language and ISBN.
pub(super) fn rows(brief: &Brief, tree: &Node) -> Vec<BriefRow> {
    let mut group = RowGroup::of("Book", tree, None);
    let none = || "none".to_owned();
    let kinds = BookKind::ALL.map(BookKind::name).to_vec();
    for (key, name, form, usual, says) in [
        ("title", "title", RowForm::Words, none(), "The title as it stands on the front; a spine carries it too."),
        ("author", "author", RowForm::Words, none(), "Who wrote the book, as it stands on the front."),
        (
            "kind",
            "kind of book",
            RowForm::Choice(kinds),
            brief.book.kind.name().to_owned(),
            "What is usual for the copy, its length and its type, goes by the kind of book.",
        ),
        (
            "readers",
            "readers",
            RowForm::Figure,
            brief.book.readers.written(),
            "The ages that the book is for: 4-8, 12+ or 7.",
        ),
        (
            "language",
            "language",
            RowForm::Suggested(LANGUAGES.to_vec()),
            "en".to_owned(),
            "The language of the copy, by its tag: en, en-GB, fr, de, es, it, nl or another.",
        ),
        (
            "isbn",
            "ISBN",
            RowForm::Words,
            none(),
            "Its thirteen digits, with or without hyphens. The last one is checked against the others.",
        ),
    ] {
        group.add(keys(&["book", key]), RowFacts { name, form, usual, says });
    }
    group.rows
}
