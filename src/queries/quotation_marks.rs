//! Straight and curly quotation marks and apostrophes in one draft.
//!
//! Source: Chicago Manual of Style 6.115 and 6.117 ("smart" marks; from memory); typewriter's marks beside printed ones
//! are a common trace of copy put together from two places. The form that the draft has less often is queried, the
//! straight one where both are as many, once in a paragraph: its marks are one fault and are mended together. Marks are
//! type and not words, so those of review quotes are queried too.

use std::ops::Range;

use super::query::{Cut, Query, Reading};
use crate::brief::queries::Rule;
use crate::draft::Block;
use crate::text::language::Language;

/// The form of a quotation mark or an apostrophe.
#[derive(Clone, Copy, PartialEq, Eq)]
enum MarkForm {
    Straight,
    Curly,
}

/// A quotation mark or an apostrophe.
struct Mark {
    /// The number of its block among the draft's blocks, from 0.
    block: usize,
    /// The byte of the block's text at which it stands.
    at: usize,
    /// The character.
    mark: char,
    /// Whether the mark is straight or curly.
    form: MarkForm,
}

/// Words that begin with an apostrophe, without it.
const CLIPPED: [&str; 16] = [
    "em", "tis", "twas", "twere", "til", "till", "cause", "cos", "n", "round", "bout", "neath", "tween", "ello", "ere",
    "appen",
];

/// Finds marks of the form that the draft has less often.
pub(super) fn mixed(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let marks = marks_of(reading);
    let straight = marks.iter().filter(|mark| mark.form == MarkForm::Straight).count();
    let curly = marks.len() - straight;
    if straight == 0 || curly == 0 {
        return;
    }
    let rare = if straight <= curly { MarkForm::Straight } else { MarkForm::Curly };
    let marks: Vec<&Mark> = marks.iter().filter(|mark| mark.form == rare).collect();
    let of_blocks = marks.chunk_by(|one, next| one.block == next.block);
    queries.extend(of_blocks.filter_map(|marks| of_block(reading, marks, rare)));
}

/// The query on the marks of the rarer form in one block, which stands at the first of them.
fn of_block(reading: &Reading<'_>, marks: &[&Mark], rare: MarkForm) -> Option<Query> {
    let first = marks.first()?;
    let (form, others) = match rare {
        MarkForm::Straight => ("straight", "the draft has curly ones"),
        MarkForm::Curly => ("curly", "most of the draft's are straight"),
    };
    let says = match marks.len() - 1 {
        0 => format!("this mark is {form}, and {others}"),
        more => format!("this mark and {more} more of this paragraph are {form}, and {others}"),
    };
    let block = &reading.draft.blocks[first.block];
    let cut = mended(block, marks, reading.text.language);
    Some(Query {
        rule: Rule::MixedQuotes,
        block: first.block,
        range: first.range(),
        says,
        cuts: cut.into_iter().collect(),
    })
}

/// The cut that puts the marks of a block in the form of the others, from the first to the last that is reached over
/// words without markup; none where the first has no form that is sure.
fn mended(block: &Block, marks: &[&Mark], language: Language) -> Option<Cut> {
    let text = block.text();
    let start = marks.first()?.at;
    let (mut end, mut wording) = (start, String::new());
    for mark in marks {
        let span = block.span(start..mark.range().end);
        let is_plain = span.end - span.start == mark.range().end - start;
        let Some(right) = mark.other(text, language).filter(|_| is_plain) else { break };
        wording.push_str(&text[end..mark.at]);
        wording.push(right);
        end = mark.range().end;
    }
    (end > start).then_some(Cut { range: start..end, wording })
}

impl Mark {
    fn range(&self) -> Range<usize> {
        self.at..self.at + self.mark.len_utf8()
    }

    /// The mark in the other form; none where that is not sure.
    fn other(&self, text: &str, language: Language) -> Option<char> {
        match self.form {
            MarkForm::Straight => curled(text, self, language),
            MarkForm::Curly => Some(if matches!(self.mark, '‘' | '’') { '\'' } else { '"' }),
        }
    }
}

fn marks_of(reading: &Reading<'_>) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (block, copy) in reading.draft.blocks.iter().enumerate() {
        let text = copy.text();
        let mut is_open = false;
        for (at, mark) in text.char_indices() {
            let form = match mark {
                '"' | '\'' => MarkForm::Straight,
                '“' | '”' | '‘' | '’' => MarkForm::Curly,
                _ => continue,
            };
            // Behind a figure it may be feet, inches or minutes.
            let may_measure = form == MarkForm::Straight
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
