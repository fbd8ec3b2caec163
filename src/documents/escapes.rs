//! A line of words with their emphasis as Markdown that reads as these words and nothing else.
//!
//! Source: CommonMark 0.31, sections 2.4 (escapes) and 6.2 (emphasis).

use super::paragraph::TextRun;
use crate::draft::{Draft, Emphasis};

/// How much is escaped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Care {
    /// What may be markup where it stands.
    Usual,
    /// Every sign.
    Utmost,
}

/// A line as Markdown. Where emphasis cannot be written so that it is read back, as beside some signs, the words stand
/// without it.
pub(super) fn line(runs: &[TextRun]) -> String {
    let plain: Vec<TextRun> =
        runs.iter().map(|run| TextRun { emphasis: Emphasis::default(), text: run.text.clone() }).collect();
    let words: String = plain.iter().map(|run| run.text.as_str()).collect();
    let reads = |written: &String| {
        let draft = Draft::read(written);
        draft.notes.is_empty()
            && draft.comments.is_empty()
            && match draft.blocks.as_slice() {
                [] => words.trim().is_empty(),
                [block] => block.text() == words.trim(),
                _ => false,
            }
    };
    let ways = [(runs, Care::Usual), (runs, Care::Utmost), (&plain[..], Care::Usual)];
    let found = ways.into_iter().map(|(runs, care)| written(runs, care)).find(reads);
    found.unwrap_or_else(|| written(&plain, Care::Utmost))
}

fn written(runs: &[TextRun], care: Care) -> String {
    let mut line = String::new();
    let mut before = None;
    for (at, TextRun { emphasis, text }) in runs.iter().enumerate() {
        let behind = runs.get(at + 1).and_then(|next| next.text.chars().next());
        let mark = match (emphasis.bold, emphasis.italic) {
            (true, true) => "***",
            (true, false) => "**",
            (false, true) => "*",
            (false, false) => "",
        };
        let core = if mark.is_empty() { 0..0 } else { emphasised(text, before, behind) };
        let (lead, tail) = (&text[..core.start], &text[core.end..]);
        escape(lead, care, &mut line);
        if !core.is_empty() {
            line.push_str(mark);
            escape(&text[core], care, &mut line);
            line.push_str(mark);
        }
        escape(tail, care, &mut line);
        before = text.chars().last().or(before);
    }
    let line = line.trim();
    if begins_markup(line) { escaped_start(line) } else { line.to_owned() }
}

/// The bytes of a stretch to set marks of emphasis round: without the blanks at its ends, and without a sign at an end
/// that has a letter outside, for Markdown reads no mark of emphasis between the two.
fn emphasised(text: &str, before: Option<char>, behind: Option<char>) -> std::ops::Range<usize> {
    let is_sign = |letter: char| !letter.is_alphanumeric() && !letter.is_whitespace();
    let trimmed = text.trim();
    let start = text.len() - text.trim_start().len();
    let (mut start, mut end) = (start, start + trimmed.len());
    let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    if start == 0 && is_letter(before) {
        start = end - text[start..end].trim_start_matches(is_sign).len();
    }
    if end == text.len() && is_letter(behind) {
        end = start + text[start..end].trim_end_matches(is_sign).len();
    }
    let core = &text[start..end];
    let lead = core.len() - core.trim_start().len();
    start + lead..start + lead + core.trim().len()
}

fn escape(text: &str, care: Care, line: &mut String) {
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let next = letters.peek().copied();
        let is_markup = match (care, letter) {
            (Care::Utmost, letter) => letter.is_ascii_punctuation(),
            (_, '\\' | '*' | '`' | '[' | ']') => true,
            (_, '_') => {
                let is_inside = line.ends_with(char::is_alphanumeric) && next.is_some_and(char::is_alphanumeric);
                !is_inside
            }
            (_, '<') => next.is_some_and(|next| next.is_ascii_alphabetic() || matches!(next, '/' | '!' | '?')),
            (_, '&') => next.is_some_and(|next| next.is_ascii_alphabetic() || next == '#'),
            _ => false,
        };
        if is_markup {
            line.push('\\');
        }
        line.push(letter);
    }
}

/// Whether a line begins with what Markdown takes for the sign of a block there.
fn begins_markup(line: &str) -> bool {
    let behind_figures = line.trim_start_matches(|figure: char| figure.is_ascii_digit());
    let is_item = behind_figures.len() < line.len() && behind_figures.starts_with(['.', ')']);
    is_item || line.starts_with(['#', '>', '-', '+', '=', '~'])
}

/// A line with its first sign escaped, or the sign behind its first figures.
fn escaped_start(line: &str) -> String {
    let at = line.find(|letter: char| !letter.is_ascii_digit()).unwrap_or_default();
    format!("{}\\{}", &line[..at], &line[at..])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Letters and all signs that may be markup.
    const SIGNS: &str = "[ ab1*_`<>&#;\\[\\]\\\\.)(!\"'—=~+|:/-]{0,6}";

    fn run(text: &str, bold: bool, italic: bool) -> TextRun {
        TextRun { emphasis: Emphasis { bold, italic }, text: text.to_owned() }
    }

    #[test]
    fn words_stay_plain_to_read() {
        for (words, wanted) in [
            ("Salt & tide", "Salt & tide"),
            ("snake_case stays", "snake_case stays"),
            ("a * b", "a \\* b"),
            ("1. A tide", "1\\. A tide"),
            ("2024 was wet", "2024 was wet"),
            ("# A tide", "\\# A tide"),
            ("- Who rang?", "\\- Who rang?"),
            ("\u{2014} Who rang?", "\u{2014} Who rang?"),
            ("&amp; <b>", "\\&amp; \\<b>"),
            ("2 < 3", "2 < 3"),
        ] {
            assert_eq!(line(&[run(words, false, false)]), wanted);
        }
    }

    #[test]
    fn emphasis_stands_round_words() {
        let mixed = [run("A ", false, false), run("tide ", false, true), run("of a book", true, false)];
        assert_eq!(line(&mixed), "A *tide* **of a book**");
        let beside = [run("a", false, false), run("\u{201c}b\u{201d}", false, true), run("c", false, false)];
        assert_eq!(line(&beside), "a\u{201c}*b*\u{201d}c");
    }

    proptest! {
        /// Whatever the words and wherever emphasis begins and ends, the words are read again.
        #[test]
        fn every_line_reads_as_its_words(
            runs in prop::collection::vec((SIGNS, any::<(bool, bool)>()), 1..6),
        ) {
            let runs: Vec<TextRun> = runs.iter().map(|(text, (bold, italic))| run(text, *bold, *italic)).collect();
            let words: String = runs.iter().map(|run| run.text.as_str()).collect();
            let draft = Draft::read(&line(&runs));
            let read: Vec<&str> = draft.blocks.iter().map(|block| block.text()).collect();
            prop_assert_eq!(read.concat(), words.trim());
        }
    }
}
