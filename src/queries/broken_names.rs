//! A name divided over two printed lines.
//!
//! Source: common practice of typesetters, and the Chicago Manual of Style 7.39 and 7.40 (from memory): initials and
//! titles stay with their name, and a figure with what it numbers. A blank that does not break holds them together.

use std::ops::Range;

use super::prose::OwnCopy;
use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

/// The blank at which no line may end.
const NO_BREAK: &str = "\u{a0}";
/// Titles and numbering words that stay with the next word, which begins with a capital or a figure, in any language.
const LEADERS: [&str; 12] = ["Mr.", "Mrs.", "Ms.", "Mr", "Mrs", "Ms", "Dr.", "Dr", "Prof.", "St.", "No.", "Nos."];
/// Titles of other languages that stay with the name behind them, and that mean nothing else.
const LEADERS_ABROAD: [(Language, &[&str]); 5] = [
    (Language::French, &["M.", "MM.", "Mme", "Mlle", "Mmes", "Me"]),
    (Language::German, &["Hr.", "Fr.", "Frau", "Herr", "Herrn"]),
    (Language::Spanish, &["Sr.", "Sra.", "Srta.", "D.", "Dña.", "Dra."]),
    (Language::Italian, &["Sig.", "Sig.ra", "Dott.", "Dott.ssa", "Prof.ssa"]),
    (Language::Dutch, &["Dhr.", "Mevr.", "Mw.", "dhr.", "mevr.", "mw."]),
];

/// Finds names that are divided over two lines.
pub(super) fn find(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    for pair in reading.setting.lines.windows(2) {
        let [line, next] = pair else { continue };
        let text = reading.draft.blocks[line.paragraph].text();
        let blank = line.text.end..next.text.start;
        if line.paragraph != next.paragraph || text.get(blank.clone()) != Some(" ") {
            continue;
        }
        let declared = names(reading).find_map(|name| place_of(text, name, &blank));
        let Some(name) = declared.or_else(|| led(text, &blank, own.language)) else { continue };
        queries.push(Query {
            rule: Rule::BrokenName,
            block: line.paragraph,
            says: format!(
                "“{}” is divided over two lines; a no-break space between its words keeps them on one",
                &text[name.clone()]
            ),
            cuts: vec![Cut { range: blank, wording: NO_BREAK.to_owned() }],
            range: name,
        });
    }
}

/// The names of the brief, and the author's, that have a blank.
fn names<'a>(reading: &Reading<'a>) -> impl Iterator<Item = &'a str> {
    let book = &reading.brief.book;
    let names = book.names.iter().map(|name| name.name.as_str()).chain([book.author.as_str()]);
    names.filter(|name| name.contains(' '))
}

/// The place of a name with a given blank inside; none where the name does not stand there.
fn place_of(text: &str, name: &str, blank: &Range<usize>) -> Option<Range<usize>> {
    let inside = name.match_indices(' ').map(|(at, _)| at);
    let mut places = inside.filter_map(|at| {
        let start = blank.start.checked_sub(at)?;
        (text.get(start..start + name.len()) == Some(name)).then_some(start..start + name.len())
    });
    places.find(|place| {
        let is_part = |c: char| c.is_alphanumeric();
        !text[..place.start].ends_with(is_part) && !text[place.end..].starts_with(is_part)
    })
}

/// The place of a title and the name behind it, or of `No.` and its figure, with a given blank between.
fn led(text: &str, blank: &Range<usize>, language: Language) -> Option<Range<usize>> {
    let start = text[..blank.start].rfind(|c: char| c.is_whitespace() || "(“‘\"".contains(c)).map_or(0, |at| at + 1);
    let leader = text.get(text.ceil_char_boundary(start)..blank.start)?.trim_start_matches(['“', '‘', '"', '(']);
    let after = &text[blank.end..];
    let end = after.find(|c: char| !c.is_alphanumeric()).map_or(text.len(), |length| blank.end + length);
    let is_name = if leader.starts_with("No") {
        after.starts_with(|c: char| c.is_ascii_digit())
    } else {
        after.starts_with(char::is_uppercase)
    };
    let abroad = LEADERS_ABROAD.iter().find(|(of, _)| *of == language).map_or(&[][..], |(_, leaders)| leaders);
    (is_name && (LEADERS.contains(&leader) || abroad.contains(&leader))).then_some(blank.start - leader.len()..end)
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn broken_names_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/broken_names.txt"));
    }
}
