//! Printed marks that come in pairs, and of which one stands alone: quotation marks that are not the copy's own, and
//! the marks of Spanish that open a question and a cry.
//!
//! Source: the Ortografía de la lengua española of 2010, 3.4.9 (from memory): `¿` and `¡` are never left out, may stand
//! in the middle of a sentence, and may be mixed with one another (`¡Qué dices?`); a mark alone in brackets, `(!)`, is
//! right.

use std::ops::Range;

use super::language::Language;

/// Marks that open and close; `»so«` is the same pair the other way round.
const PAIRS: [(char, char); 2] = [('«', '»'), ('“', '”')];

/// Marks of a paragraph without a partner, in bytes of it; `own` are the quotation marks of the copy, which are looked
/// at elsewhere.
pub(super) fn unpaired(text: &str, own: &[char], language: Language) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    for (open, close) in PAIRS.into_iter().filter(|(open, close)| !own.contains(open) && !own.contains(close)) {
        found.extend(alone(text, open, close));
    }
    if language == Language::Spanish {
        found.extend(half_questions(text));
    }
    found
}

/// Quotation marks of one pair without a partner. One that opens the paragraph may be closed in a later one.
fn alone(text: &str, open: char, close: char) -> Vec<Range<usize>> {
    let mut marks = text.char_indices().filter(|(_, mark)| *mark == open || *mark == close).peekable();
    let is_reversed = marks.peek().is_some_and(|(at, mark)| *mark == close && before_word(text, *at, *mark));
    let opener = if is_reversed { close } else { open };
    let (mut opened, mut found) = (Vec::new(), Vec::new());
    for (at, mark) in marks {
        if mark == opener {
            opened.push(at..at + mark.len_utf8());
        } else if opened.pop().is_none() {
            found.push(at..at + mark.len_utf8());
        }
    }
    found.extend(opened.into_iter().filter(|mark| mark.start > 0));
    found
}

fn before_word(text: &str, at: usize, mark: char) -> bool {
    let is_behind = text[..at].chars().next_back().is_none_or(|c| c.is_whitespace() || "([".contains(c));
    is_behind && text[at + mark.len_utf8()..].starts_with(char::is_alphanumeric)
}

/// Stops of Spanish questions and cries that nothing opened, and marks that open one without end.
fn half_questions(text: &str) -> Vec<Range<usize>> {
    let (mut opened, mut found): (Option<Range<usize>>, Vec<Range<usize>>) = (None, Vec::new());
    let mut last = None;
    for (at, mark) in text.char_indices() {
        let place = at..at + mark.len_utf8();
        match mark {
            '¿' | '¡' => {
                let is_run = last.is_some_and(|last: char| matches!(last, '¿' | '¡'));
                found.extend(opened.take().filter(|_| !is_run));
                opened = Some(place);
            }
            '?' | '!' => {
                let is_run = last.is_some_and(|last: char| matches!(last, '?' | '!' | '('));
                if opened.take().is_none() && !is_run && last.is_some() {
                    found.push(place);
                }
            }
            _ => {}
        }
        last = Some(mark);
    }
    found.extend(opened);
    found
}

#[cfg(test)]
mod tests {
    use super::unpaired;
    use crate::text::language::Language;

    fn check(language: Language, text: &str, wanted: &[&str]) {
        let found: Vec<&str> =
            unpaired(text, &['„', '‚', '‘', '’'], language).into_iter().map(|at| &text[at]).collect();
        assert_eq!(found, wanted, "{text}");
    }

    #[test]
    fn a_spanish_question_has_two_marks() {
        for (text, wanted) in [
            ("¿Quién es? ¡Corre! Si no, ¿qué hará?", &[][..]),
            ("¡Qué dices? ¿¡Cómo!? ¡¡Corre!! ¡¿Y tú?!", &[]),
            ("Era famoso (!) y rico (?).", &[]),
            ("Pero el tiempo se acaba!", &["!"]),
            ("Quién es? ¿Y tú?", &["?"]),
            ("¡Corre y no mires.", &["¡"]),
            ("¡Corre. ¿Quién es?", &["¡"]),
        ] {
            check(Language::Spanish, text, wanted);
        }
        check(Language::French, "Qui est-ce ? Cours !", &[]);
    }

    #[test]
    fn a_printed_mark_has_a_partner() {
        for (text, wanted) in [
            ("«Sí», dijo. “No”.", &[][..]),
            ("»Ja«, sagte er.", &[]),
            ("Dijo: «Sí.", &["«"]),
            ("Sí», dijo.", &["»"]),
            ("«Sí, dijo.", &[]),
            ("Zei: “Ja.", &["“"]),
        ] {
            check(Language::Italian, text, wanted);
        }
    }
}
