//! Scenarios: the program run in folders made for the purpose, as an author or a script would run it.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

mod book;
mod schema;

mod measuring;
mod usual;
mod languages;
mod aloud;
mod asking;
mod bad_briefs;
mod bad_files;
mod unsafe_text;
mod json;
mod fonts;
mod sisters;
mod pictures;
mod comparing;
mod lists;
mod tiled;
mod keeping;
mod terms;
mod tightening;
mod other_words;
mod watching;
mod pipes;
mod records;
mod standing;
mod unread;
mod mistaken;
mod damaged_fonts;
mod shapes;
mod art_files;
mod documents;
mod left_out;
mod places_told;
