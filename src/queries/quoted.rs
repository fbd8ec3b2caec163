//! The quotation marks of a paragraph, found once so that any number of places can be looked up.
//!
//! Which marks open and close goes by the language: `“` closes in German and opens elsewhere, and `»` opens in German
//! where it comes first. Outside English a paragraph that begins with a dash is speech (common practice of French,
//! Spanish and Italian houses), of which no mark tells where it ends.

use std::ops::Range;

use crate::text::language::Language;

/// The marks of a paragraph, as bytes of its text, in order.
pub(super) struct Quoted {
    /// The straight double marks.
    straight: Vec<usize>,
    /// The marks that open and those that close, by their kinds.
    pairs: Vec<(Vec<usize>, Vec<usize>)>,
    /// Whether the whole paragraph is speech behind a dash.
    is_dialogue: bool,
}

/// The marks that open and close quotations in a paragraph of a language. A curly single mark that closes looks like an
/// apostrophe, and so counts only behind a stop.
fn pairs_of(language: Language, text: &str) -> Vec<(char, char)> {
    let guillemets = if is_reversed(language, text) { ('»', '«') } else { ('«', '»') };
    match language {
        Language::German => vec![('„', '“'), ('„', '”'), guillemets, ('‚', '‘')],
        Language::English => vec![('“', '”'), guillemets, ('‘', '’')],
        _ => vec![('“', '”'), ('„', '”'), guillemets, ('‘', '’')],
    }
}

/// Whether the pointed marks of a paragraph point inwards, `»so«`, as German books have them.
pub(super) fn is_reversed(language: Language, text: &str) -> bool {
    language == Language::German && text.find(['«', '»']).is_some_and(|at| text[at..].starts_with('»'))
}

impl Quoted {
    /// The marks of a paragraph's text.
    pub(super) fn of(text: &str, language: Language) -> Self {
        let places = |mark: char| -> Vec<usize> { text.match_indices(mark).map(|(at, _)| at).collect() };
        let closing = |mark: char| {
            let mut closing = places(mark);
            closing.retain(|at| mark != '’' || text[..*at].ends_with([',', '.', '!', '?', '…']));
            closing
        };
        let pairs = pairs_of(language, text).into_iter().map(|(open, close)| (places(open), closing(close)));
        let is_dialogue = language != Language::English && text.starts_with(['—', '–', '―']);
        Self { straight: places('"'), pairs: pairs.collect(), is_dialogue }
    }

    /// Whether a place is inside quotation marks.
    pub(super) fn holds(&self, place: &Range<usize>) -> bool {
        let count_before = |marks: &[usize]| marks.partition_point(|at| *at < place.start);
        let last_before = |marks: &[usize]| count_before(marks).checked_sub(1).map(|last| marks[last]);
        let has_after = |marks: &[usize]| marks.last().is_some_and(|at| *at >= place.end);
        self.is_dialogue
            || (count_before(&self.straight) % 2 == 1 && has_after(&self.straight))
            || self.pairs.iter().any(|(open, close)| last_before(open) > last_before(close) && has_after(close))
    }
}

#[cfg(test)]
mod tests {
    use super::Quoted;
    use crate::text::language::Language;

    #[test]
    fn marks_open_and_close_by_language() {
        for (language, text, is_quoted) in [
            (Language::German, "„Komm mit“, rief sie.", true),
            (Language::German, "„Nein“, rief er. Komm mit, bat sie. „Ja“.", false),
            (Language::German, "»Komm mit«, rief sie.", true),
            (Language::German, "»Nein«, rief er. Komm mit, bat sie. »Ja«.", false),
            (Language::German, "«Komm mit», rief sie.", true),
            (Language::German, "Er dachte: ‚Komm mit‘.", true),
            (Language::French, "« Non », dit-il. Komm mit. « Oui ».", false),
            (Language::Spanish, "—Komm mit —dijo ella.", true),
            (Language::Dutch, "‘Komm mit,’ zei ze.", true),
            (Language::Dutch, "De foto’s van ‘oma’. Komm mit.", false),
            (Language::English, "— Komm mit", false),
        ] {
            let at = text.find("Komm").unwrap();
            assert_eq!(Quoted::of(text, language).holds(&(at..at + 4)), is_quoted, "{text}");
        }
    }
}
