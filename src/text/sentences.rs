//! Finds where sentences end.
//!
//! Only the gap between two words can hold an end. The gap ends a sentence when it holds a stop (`.`, `!`, `?`, an
//! ellipsis, or a stop of another script), then perhaps closing quotation marks or brackets, then a blank, and
//! the next word does not begin with a small letter. So `"Stop!" she said.` and `Wait... what?` are one sentence,
//! `3.5` and `U.S.` hold no end, and `Run! Run now!` are two. On top of that:
//!
//! - the stop of an abbreviation or an initial ends a sentence only where the list of abbreviations allows it, or where
//!   the next word is one that opens sentences (`to the U.S. The dog`);
//! - speech that ends in `!` or `?` goes on when a name and a verb of saying follow (`"Stop!" Oona shouted.`);
//! - a word that Dutch cuts short opens a sentence where the next word has the capital (`'s Avonds`);
//! - a number with a stop that opens a paragraph is the mark of a list item and ends nothing;
//! - the end of a paragraph always ends a sentence.
//!
//! Sentences here are not those of Unicode Standard Annex #29, which knows no abbreviations, splits after
//! `"Stop!"`, never ends at `…`, and joins `in 2026. 3 dogs`.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::abbreviations::{self, Stop};
use super::spelling::ByHash;
use super::word::Word;
use super::words;

static OPENERS: LazyLock<HashSet<&str, ByHash>> = LazyLock::new(|| entries(wordlist!("sentence-openers.txt")));
static SPEECH_VERBS: LazyLock<HashSet<&str, ByHash>> = LazyLock::new(|| entries(wordlist!("speech-verbs.txt")));

/// The longest name that may stand between speech and its verb, in words: `Mr. Otto Fenn shouted`.
const LONGEST_SPEAKER: usize = 3;

/// A sentence of one text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FoundSentence {
    /// Bytes of the text, without blanks at either end.
    pub(super) range: Range<usize>,
    /// The sentence's words, as positions among the words of the text; never empty.
    pub(super) words: Range<usize>,
}

/// The sentences of any text as ranges of its bytes, without the blanks between them; the whole text if it has no word.
pub fn sentences_of(text: &str) -> Vec<Range<usize>> {
    let (mut words, mut found) = (Vec::new(), Vec::new());
    words::read(text, 0, &mut words);
    find(text, &words, |sentence| found.push(sentence.range));
    if found.is_empty() {
        found.push(0..text.len());
    }
    found
}

/// Passes the sentences of a text to `take`, in order. The text's words have been found and looked up before.
pub(super) fn find(text: &str, words: &[Word], mut take: impl FnMut(FoundSentence)) {
    let finder = EndFinder { text, words };
    let (mut first_word, mut start) = (0, 0);
    let mut end_at = |last_word: usize, end: usize| {
        take(FoundSentence { range: trimmed(text, start..end), words: first_word..last_word + 1 });
        (first_word, start) = (last_word + 1, end);
    };
    for (at, pair) in words.windows(2).enumerate() {
        let [word, next] = pair else { continue };
        // Nearly every gap is a blank, or a comma and a blank: two bytes show that the gap holds no stop, and for a gap
        // without a stop `end_after` returns none.
        if !is_short_and_quiet(text, word.range.end..next.range.start)
            && let Some(end) = finder.end_after(at)
        {
            end_at(at, end);
        }
    }
    // The end of the paragraph ends the last sentence, whatever stands behind the last word.
    if let Some(last) = words.len().checked_sub(1) {
        end_at(last, text.len());
    }
}

/// Whether a gap is one or two characters of ASCII that are no stops.
#[inline]
fn is_short_and_quiet(text: &str, gap: Range<usize>) -> bool {
    let is_quiet = |at: usize| text.as_bytes().get(at).is_some_and(|byte| is_quiet(*byte));
    (gap.len() <= 2) & is_quiet(gap.start) & is_quiet(gap.end - 1)
}

/// Whether a byte is a character of ASCII that is no stop.
fn is_quiet(byte: u8) -> bool {
    byte.is_ascii() & !matches!(byte, b'.' | b'!' | b'?')
}

/// Finds which of the gaps between the words of a text end a sentence.
struct EndFinder<'a> {
    text: &'a str,
    words: &'a [Word],
}

impl<'a> EndFinder<'a> {
    /// A word as it is written; an empty one where there is none.
    fn word(&self, at: usize) -> &'a str {
        self.words.get(at).map_or("", |word| &self.text[word.range.clone()])
    }

    /// What stands between a word and the next; behind the last word, all that is left.
    fn gap(&self, after: usize) -> &'a str {
        let start = self.words.get(after).map_or(self.text.len(), |word| word.range.end);
        let end = self.words.get(after + 1).map_or(self.text.len(), |word| word.range.start);
        &self.text[start..end]
    }

    /// Where the sentence ends that `word` closes, as a byte of the text; none where the sentence goes on.
    fn end_after(&self, word: usize) -> Option<usize> {
        let gap = self.gap(word);
        // Only a stop can end a sentence, and the stops of other scripts are not ASCII.
        if gap.bytes().all(is_quiet) {
            return None;
        }
        let ending = match gap.as_bytes() {
            // One stop and a blank, as most ends are: here is what `Ending::find` would find, without a search.
            [stop @ (b'.' | b'!' | b'?'), b' '] => {
                Ending { stop: char::from(*stop), end: 1, is_full_stop: *stop == b'.', closes_speech: false }
            }
            _ => Ending::find(without_opening(gap))?,
        };
        // The stop ends the sentence unless one of four signs shows that the sentence goes on: a small letter, a stop
        // inside a figure or a name (`3.5`, `gull.example`), the stop of an abbreviation, or a name and a verb of
        // saying behind speech.
        let goes_on = (self.word(word + 1).starts_with(char::is_lowercase) && !self.opens_with_clipped(word + 1))
            || !self.is_parted(&ending, &gap[ending.end..], word + 1)
            || (gap.starts_with('.') && ending.is_full_stop && self.is_abbreviated(word))
            || (ending.closes_speech && !ending.is_full_stop && self.is_spoken_by(word + 1));
        (!goes_on).then(|| self.words[word].range.end + ending.end)
    }

    /// Whether a word is one that Dutch cuts short, which leaves the capital to the next: `'s Avonds`, `’t Is`.
    fn opens_with_clipped(&self, at: usize) -> bool {
        matches!(self.word(at), "s" | "t" | "k" | "n" | "m")
            && at.checked_sub(1).is_some_and(|before| self.gap(before).ends_with(['\'', '’']))
            && self.gap(at) == " "
            && self.word(at + 1).starts_with(char::is_uppercase)
    }

    /// Whether the stop is set off from the next word: by a blank, or as a stop of a script that writes no blank, or,
    /// if the stop is no full stop or ellipsis, by a capital (`Stop!Now`).
    fn is_parted(&self, ending: &Ending, rest: &str, next: usize) -> bool {
        rest.contains(char::is_whitespace)
            || matches!(ending.stop, '。' | '！' | '？' | '．' | '｡')
            || (!matches!(ending.stop, '.' | '…') && self.word(next).starts_with(char::is_uppercase))
    }

    /// Whether the full stop after `word` belongs to an abbreviation, an initial or the number of a list item, and
    /// the sentence goes on.
    fn is_abbreviated(&self, at: usize) -> bool {
        // For nearly every word before a stop, the dictionary shows that the word is not on the list of abbreviations.
        if self.words[at].is_listed_and_no_abbreviation() {
            return false;
        }
        let (word, next) = (self.word(at), self.word(at + 1));
        match abbreviations::find(word).map(|known| known.stop) {
            Some(Stop::Inside) => true,
            Some(Stop::Figure) => next.starts_with(char::is_numeric),
            Some(Stop::End) => false,
            Some(Stop::Name) => !self.opens_sentence(at + 1),
            None if self.is_initial(at) || abbreviations::is_dotted(word) => !self.opens_sentence(at + 1),
            None => at == 0 && word.chars().all(char::is_numeric),
        }
    }

    /// Whether a word is a capital with a stop. `I` is the pronoun unless another initial is its neighbour.
    fn is_initial(&self, at: usize) -> bool {
        let is_capital = |at| {
            let mut characters = self.word(at).chars();
            matches!((characters.next(), characters.next()), (Some(only), None) if only.is_uppercase())
                && self.gap(at).starts_with('.')
        };
        is_capital(at) && (self.word(at) != "I" || is_capital(at + 1) || (at > 0 && is_capital(at - 1)))
    }

    /// Whether a word is on the list of words that open sentences, and is no initial.
    fn opens_sentence(&self, at: usize) -> bool {
        !self.is_initial(at) && OPENERS.contains(self.word(at).to_lowercase().as_str())
    }

    /// Whether the words from `at` are a name and a verb of saying.
    fn is_spoken_by(&self, at: usize) -> bool {
        let is_name = |at: usize| {
            let word = self.word(at);
            word == "I" || (word.starts_with(char::is_uppercase) && !self.opens_sentence(at))
        };
        let verb = (at..at + LONGEST_SPEAKER).take_while(|at| is_name(*at) && matches!(self.gap(*at), " " | ". "));
        verb.map(|name| self.word(name + 1)).any(|word| SPEECH_VERBS.contains(word))
    }
}

/// The last stop of a gap, with the closing marks behind it.
struct Ending {
    /// The last character of the stop.
    stop: char,
    /// Bytes of the gap up to the end of the closing marks.
    end: usize,
    /// Whether the stop is a single full stop, which may be an abbreviation's.
    is_full_stop: bool,
    /// Whether a quotation mark closes behind the stop.
    closes_speech: bool,
}

impl Ending {
    /// The ending of a gap; none where the gap holds no stop.
    fn find(gap: &str) -> Option<Self> {
        let (at, stop) = gap.char_indices().rev().find(|(_, character)| is_stop(*character))?;
        let after = &gap[at + stop.len_utf8()..];
        let rest = without_closing(after);
        let closing = &after[..after.len() - rest.len()];
        Some(Self {
            stop,
            end: gap.len() - rest.len(),
            is_full_stop: stop == '.' && !gap[..at].contains(is_stop),
            closes_speech: closing.contains(is_quotation_mark),
        })
    }
}

/// The gap without an ellipsis that opens the next word (`dark. …Oona`).
fn without_opening(gap: &str) -> &str {
    let before = gap.trim_end_matches(['.', '…']);
    if before.ends_with(|last: char| last.is_whitespace() || is_quotation_mark(last)) { before } else { gap }
}

/// What follows the closing marks behind a stop. French sets a blank before its closing marks (`« Où ? »`).
fn without_closing(after: &str) -> &str {
    let rest = after.trim_start_matches(is_closing);
    let past_blank = rest.trim_start();
    if rest.len() == after.len() && past_blank.starts_with(['»', '›']) {
        past_blank.trim_start_matches(is_closing)
    } else {
        rest
    }
}

fn is_stop(character: char) -> bool {
    matches!(
        character,
        '.' | '!'
            | '?'
            | '…'
            | '‽'
            | '‼'
            | '⁇'
            | '⁈'
            | '⁉'
            | '⸮'
            | '։'
            | '؟'
            | '۔'
            | '।'
            | '॥'
            | '။'
            | '።'
            | '፧'
            | '។'
            | '៕'
            | '。'
            | '！'
            | '？'
            | '．'
            | '｡'
    )
}

fn is_quotation_mark(character: char) -> bool {
    matches!(character, '"' | '\'' | '”' | '“' | '’' | '‘' | '»' | '«' | '›' | '‹' | '」' | '』')
}

fn is_closing(character: char) -> bool {
    matches!(character, ')' | ']' | '}' | '）' | '】') || is_quotation_mark(character)
}

/// A range of a text without the blanks at either end.
pub(super) fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let part = &text[range.clone()];
    let front = part.trim_start();
    let start = range.end - front.len();
    start..start + front.trim_end().len()
}

fn entries(list: &'static str) -> HashSet<&'static str, ByHash> {
    list.lines().filter(|line| !line.starts_with('#')).collect()
}

#[cfg(test)]
mod tests {
    use super::{OPENERS, SPEECH_VERBS};
    use crate::text::sentences_of;

    /// Each line of the file is a paragraph whose sentences are parted by ` | `.
    #[test]
    fn the_cases_are_parted_as_written() {
        let cases = include_str!("../../tests/cases/sentences.txt");
        for case in cases.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let text = case.replace(" | ", " ").replace('|', "");
            let sentences: Vec<&str> = sentences_of(&text).into_iter().map(|sentence| &text[sentence]).collect();
            let joined = if case.contains(" | ") { sentences.join(" | ") } else { sentences.join("|") };
            assert_eq!(joined, case);
        }
    }

    #[test]
    fn the_lists_are_whole() {
        for (text, set) in [
            (include_str!("../../wordlists/sentence-openers.txt"), &OPENERS),
            (include_str!("../../wordlists/speech-verbs.txt"), &SPEECH_VERBS),
        ] {
            assert!(text.contains(&format!("# Entries: {}\n", set.len())));
        }
    }

    #[test]
    fn a_forced_line_end_ends_no_sentence() {
        let text = "The lamp goes out,\nthe gulls go home.\nNow what?";
        assert_eq!(sentences_of(text).len(), 2);
    }
}
