//! Straight and curly quotation marks and apostrophes in one draft.
//!
//! Source: Chicago Manual of Style 6.115 and 6.117 ("smart" marks; from memory); typewriter's marks beside printed ones are
//! a common trace of copy put together from two places. The form that the draft has less often is queried, the straight
//! one where both are as many. Marks are type and not words, so those of review quotes are queried too.

use super::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::text::language::Language;

/// The two forms.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Straight,
    Curly,
}

/// A mark in its place.
struct Mark {
    block: usize,
    at: usize,
    mark: char,
    form: Form,
}

/// Words that begin with an apostrophe, without it.
const CLIPPED: [&str; 16] = [
    "em", "tis", "twas", "twere", "til", "till", "cause", "cos", "n", "round", "bout", "neath", "tween", "ello", "ere",
    "appen",
];

/// Marks of the form that the draft has less often.
pub(super) fn mixed(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let marks = marks_of(reading);
    let straight = marks.iter().filter(|mark| mark.form == Form::Straight).count();
    let curly = marks.len() - straight;
    if straight == 0 || curly == 0 {
        return;
    }
    let (rare, says) = if straight <= curly {
        (Form::Straight, "this mark is straight, and the draft has curly ones")
    } else {
        (Form::Curly, "this mark is curly, and most of the draft's are straight")
    };
    for mark in marks.iter().filter(|mark| mark.form == rare) {
        let range = mark.at..mark.at + mark.mark.len_utf8();
        let text = reading.draft.blocks[mark.block].text();
        let wording = match rare {
            Form::Straight => curled(text, mark, reading.text.language),
            Form::Curly => Some(if matches!(mark.mark, '‘' | '’') { '\'' } else { '"' }),
        };
        let cut = |wording: char| Cut { range: range.clone(), wording: wording.to_string() };
        queries.push(Query {
            rule: Rule::MixedQuotes,
            block: mark.block,
            says: says.to_owned(),
            cuts: wording.map(cut).into_iter().collect(),
            range: range.clone(),
        });
    }
}

fn marks_of(reading: &Reading<'_>) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (block, copy) in reading.draft.blocks.iter().enumerate() {
        let text = copy.text();
        let mut is_open = false;
        for (at, mark) in text.char_indices() {
            let form = match mark {
                '"' | '\'' => Form::Straight,
                '“' | '”' | '‘' | '’' => Form::Curly,
                _ => continue,
            };
            // Behind a figure it may be feet, inches or minutes.
            let may_measure = form == Form::Straight
                && text[..at].ends_with(|c: char| c.is_ascii_digit())
                && !text[at + 1..].starts_with(char::is_alphabetic);
            if !may_measure || (mark == '"' && is_open) {
                is_open ^= mark == '"';
                marks.push(Mark { block, at, mark, form });
            }
        }
    }
    marks
}

/// The curly form of a straight mark; none where the language has other marks than English and the place does not tell.
fn curled(text: &str, mark: &Mark, language: Language) -> Option<char> {
    let (before, after) = (&text[..mark.at], &text[mark.at + 1..]);
    let follows_blank = before.chars().next_back().is_none_or(|c| c.is_whitespace() || "([—–-“‘\"'".contains(c));
    let opens = follows_blank && after.starts_with(|c: char| c.is_alphanumeric() || "“‘'\"…¡¿(".contains(c));
    let is_english = language == Language::English;
    match mark.mark {
        '\'' if !opens => Some('’'),
        '\'' if is_clipped(after) => Some('’'),
        '\'' => is_english.then_some('‘'),
        _ if !is_english => None,
        _ if opens => Some('“'),
        _ => Some('”'),
    }
}

/// Whether an apostrophe stands for what a word has lost at its start: `'em`, `'90s`.
fn is_clipped(after: &str) -> bool {
    let end = after.find(|c: char| !c.is_alphanumeric()).unwrap_or(after.len());
    let word = after[..end].to_lowercase();
    word.starts_with(|c: char| c.is_ascii_digit()) || CLIPPED.contains(&word.as_str())
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn marks_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/quotation_marks.txt"));
    }
}
