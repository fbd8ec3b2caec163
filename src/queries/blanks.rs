//! Blanks that should not be there: two after a stop, one before it.
//!
//! Source: Hart's Rules and the Chicago Manual of Style (2.9, 6.7) have one blank after a stop and none before it (from
//! memory). French sets a blank before `!`, `?`, `;` and `:`, so there the second rule looks at the full stop and the
//! comma alone.

use super::query::{Cut, Query};
use crate::brief::queries::Rule;
use crate::draft::Block;
use crate::text::dashes::runs;
use crate::text::language::Language;

/// Finds two blanks or more where one belongs.
pub(super) fn double_spaces(_: Language, number: usize, block: &Block, queries: &mut Vec<Query>) {
    for range in runs(block.text(), ' ').filter(|range| range.len() > 1) {
        queries.push(Query {
            rule: Rule::DoubleSpace,
            block: number,
            says: "one space is enough; more are seen as a hole in the line".to_owned(),
            cuts: vec![Cut { range: range.start + 1..range.end, wording: String::new() }],
            range,
        });
    }
}

/// Finds a blank before a stop.
pub(super) fn spaces_before_stops(language: Language, number: usize, block: &Block, queries: &mut Vec<Query>) {
    let stops: &[char] = if language == Language::French { &[',', '.'] } else { &[',', ';', ':', '?', '!', '.'] };
    let text = block.text();
    for range in runs(text, ' ') {
        let after = &text[range.end..];
        let is_stop = after.starts_with(stops) && !after.starts_with("..");
        let stands_alone = after.chars().nth(1).is_none_or(|next| !next.is_alphanumeric());
        // Dots with blanks between them are an ellipsis.
        let is_dotted = after.starts_with(". .") || text[..range.start].ends_with('.') && after.starts_with('.');
        if is_stop && stands_alone && !is_dotted && range.start > 0 {
            queries.push(Query {
                rule: Rule::SpaceBeforeStop,
                block: number,
                says: "the stop belongs to the word before it; as it stands a line may begin with it".to_owned(),
                cuts: vec![Cut { range: range.clone(), wording: String::new() }],
                range: range.start..range.end + 1,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn blanks_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/blanks.txt"));
    }
}
