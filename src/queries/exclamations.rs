//! Exclamation marks in a row: two or more together, and sentence after sentence that ends in one.
//!
//! Source: common practice of editors: one mark is loud enough, and where every sentence shouts none is heard. Speech
//! is left alone, since people do shout. Where the mark has a partner at the sentence's beginning (Spanish `¡`), or a
//! blank before it (French), one mark alone cannot be changed without the other, and the place has no ready wording.

use super::prose::Prose;
use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

/// How many sentences of a paragraph that shout are a habit.
const HABIT: usize = 3;

/// Finds marks in a row, and the last of too many sentences that end in one.
pub(super) fn runs(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let text = prose.text();
    let query = |range: std::ops::Range<usize>, says: String, wording: &str| {
        let has_blank = wording == "." && text[..range.start].ends_with(char::is_whitespace);
        let is_alone = !has_blank && prose.language != Language::Spanish;
        let cut = is_alone.then(|| Cut { range: range.clone(), wording: wording.to_owned() });
        Query { rule: Rule::ExclamationMarks, block: prose.number, says, cuts: cut.into_iter().collect(), range }
    };
    let mut shouts = Vec::new();
    for sentence in &prose.sentences {
        let start = prose.words[sentence.end - 1].range.end;
        let gap = prose.gap(sentence.end - 1);
        let Some(first) = gap.find(['!', '?']) else { continue };
        let marks = gap[first..].len() - gap[first..].trim_start_matches(['!', '?']).len();
        let range = start + first..start + first + marks;
        let found = &text[range.clone()];
        // A question by itself shouts at nobody, and in speech people do shout.
        if (marks == 1 && found == "?") || prose.is_quoted(&range) {
            continue;
        }
        if marks > 1 {
            let wording = if found.contains('?') { "?" } else { "!" };
            queries.push(query(range, "one mark is loud enough; more look like an advertisement".to_owned(), wording));
        } else {
            shouts.push(range);
        }
    }
    let count = shouts.len();
    if let Some(last) = shouts.pop().filter(|_| count >= HABIT) {
        let says = format!("{count} sentences of this paragraph end in an exclamation mark; kept for one, it is heard");
        queries.push(query(last, says, "."));
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn exclamation_marks_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/exclamations.txt"));
    }
}
