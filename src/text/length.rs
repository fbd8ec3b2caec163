//! Measures the length of the blurb: its counts, its longest sentence, and the time that reading it takes.

use unicode_segmentation::UnicodeSegmentation;

use crate::brief::book::BookKind;
use crate::draft::Span;

use super::copy::{Sentence, Text};
use super::verse;

/// Words a minute of silent reading of fiction by adults: M. Brysbaert, Journal of Memory and Language 109 (2019)
/// 104047.
const SILENT_FICTION: f64 = 260.0;
/// Words a minute of silent reading of non-fiction by adults (Brysbaert 2019).
const SILENT_NON_FICTION: f64 = 238.0;
/// Words a minute of reading aloud by adults (Brysbaert 2019).
const ALOUD: f64 = 183.0;

/// The counts of the blurb. [`super::rules`] says how each is counted.
#[derive(Debug, Clone, PartialEq)]
pub struct BlurbLength {
    /// Characters as a reader sees them (grapheme clusters), with the blanks between words.
    pub characters: usize,
    /// Letters of any script; no figures.
    pub letters: usize,
    /// Words.
    pub words: usize,
    /// Sentences; each line of verse is one.
    pub sentences: usize,
    /// Paragraphs.
    pub paragraphs: usize,
    /// Syllables as spoken.
    pub syllables: u64,
    /// The longest sentence, the first of several; none where there is no word.
    pub longest_sentence: Option<LongestSentence>,
    /// Words per sentence, on average; none where there is no word.
    pub words_per_sentence: Option<f64>,
    /// Seconds that an adult takes to read the blurb silently, at the rate for the kind of book.
    pub silent_seconds: f64,
    /// Seconds that an adult takes to read the blurb aloud.
    pub aloud_seconds: f64,
}

/// The sentence with the most words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LongestSentence {
    /// How many words the sentence has.
    pub words: usize,
    /// Where the sentence stands in the file.
    pub span: Span,
}

/// Measures the blurb of a text.
pub fn measure(text: &Text, kind: BookKind) -> BlurbLength {
    let blurb = &text.blurb;
    let words = blurb.words.len();
    let sentences = verse::sentences(text, blurb);
    BlurbLength {
        characters: text.blurb_blocks().map(|block| characters(block.text())).sum(),
        letters: text.blurb_blocks().map(|block| letters(block.text())).sum(),
        words,
        sentences: sentences.len(),
        paragraphs: blurb.paragraphs.len(),
        syllables: blurb.words.iter().map(|word| u64::from(word.syllables)).sum(),
        longest_sentence: longest(text, &sentences),
        words_per_sentence: ratio(words, sentences.len()),
        silent_seconds: seconds(words, silent_rate(kind)),
        aloud_seconds: seconds(words, ALOUD),
    }
}

/// Words a minute at which a book of this kind is read silently.
fn silent_rate(kind: BookKind) -> f64 {
    match kind {
        BookKind::NonFiction => SILENT_NON_FICTION,
        _ => SILENT_FICTION,
    }
}

/// The first of the longest sentences.
fn longest(text: &Text, sentences: &[Sentence]) -> Option<LongestSentence> {
    let longest = sentences.iter().rev().max_by_key(|sentence| sentence.words.len())?;
    let span = text.span(longest.block, longest.range.clone());
    Some(LongestSentence { words: longest.words.len(), span })
}

/// Grapheme clusters of a text.
fn characters(text: &str) -> usize {
    if text.chars().all(is_one_alone) { text.chars().count() } else { text.graphemes(true).count() }
}

/// Whether a character is one of those that most copy is made of. In a text of these alone, each is a grapheme cluster
/// of its own.
fn is_one_alone(character: char) -> bool {
    (character.is_ascii() && character != '\r') || matches!(character, '‘' | '’' | '“' | '”' | '–' | '—' | '…')
}

fn letters(text: &str) -> usize {
    text.chars().filter(|character| character.is_alphabetic()).count()
}

fn seconds(words: usize, words_a_minute: f64) -> f64 {
    as_number(words) * 60.0 / words_a_minute
}

/// `count` divided by `by`; none where `by` is zero.
fn ratio(count: usize, by: usize) -> Option<f64> {
    (by > 0).then(|| as_number(count) / as_number(by))
}

/// A count as a number to calculate with; exact up to 2^53.
#[expect(clippy::cast_precision_loss, reason = "no draft has 2^53 words")]
pub(crate) fn as_number(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::{BlurbLength, measure};
    use crate::brief::Book;
    use crate::brief::book::BookKind;
    use crate::draft::Draft;
    use crate::text::Text;

    fn length(copy: &str) -> BlurbLength {
        let draft = Draft::read(copy);
        measure(&Text::read(&draft, &Book::default()), BookKind::PictureBook)
    }

    /// Counted by hand.
    #[test]
    fn a_small_blurb() {
        let copy =
            "# A headline\n\nOona keeps the *lamp*.\nRun! Run now!\n\nThe café's open.\n\n> Good.\n> — A. Fenn\n";
        let found = length(copy);
        assert_eq!((found.paragraphs, found.sentences, found.words), (2, 4, 10));
        assert_eq!(found.characters, "Oona keeps the lamp. Run! Run now!".len() + "The café's open.".chars().count());
        assert_eq!(found.letters, 25 + 12);
        assert_eq!(found.syllables, 2 + 1 + 1 + 1 + 1 + 1 + 1 + 1 + 2 + 2);
        let longest = found.longest_sentence.unwrap();
        assert_eq!(longest.words, 4);
        assert_eq!(&copy[longest.span.start..longest.span.end], "Oona keeps the *lamp*.");
        assert_eq!(found.words_per_sentence, Some(2.5));
    }

    /// 260 words are a minute of fiction, 183 a minute aloud (Brysbaert 2019).
    #[test]
    fn reading_time() {
        let draft = Draft::read(&"sea ".repeat(260));
        let text = Text::read(&draft, &Book::default());
        let fiction = measure(&text, BookKind::PictureBook);
        assert!((fiction.silent_seconds - 60.0).abs() < 1e-9);
        assert!((fiction.aloud_seconds - 260.0 / 183.0 * 60.0).abs() < 1e-9);
        assert!((measure(&text, BookKind::NonFiction).silent_seconds - 260.0 / 238.0 * 60.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_to_count() {
        let found = length("# Only a headline\n");
        assert_eq!((found.words, found.sentences, found.characters), (0, 0, 0));
        assert_eq!((found.longest_sentence, found.words_per_sentence), (None, None));
    }

    #[test]
    fn a_character_is_what_a_reader_sees() {
        assert_eq!(length("e\u{301} 👩‍👧").characters, 3);
    }

    proptest::proptest! {
        #[test]
        fn plain_copy_has_as_many_characters_as_clusters(text in "([ -~\r\n\t‘’“”–—…]{0,9}|\\PC){0,3}") {
            use unicode_segmentation::UnicodeSegmentation;
            proptest::prop_assert_eq!(super::characters(&text), text.graphemes(true).count());
        }
    }
}
