//! The blurb as its narrator tells it: its sentences without what stands in quotation marks or in italics.
//!
//! What a character says has its own tense and person, and its words are not the narrator's. Neither are those of a
//! message that is shown in italics, nor those of a title; a single small word in italics is a stress, and the
//! narrator's own.

use std::ops::Range;

use super::query::Reading;
use super::quoted::is_reversed;
use crate::brief::phrases::fold;
use crate::level::familiar::WordList;
use crate::level::lists::Lists;
use crate::text::language::Language;
use crate::text::{CopyPart, Paragraph, Sentence, Text, Word, words};

/// A paragraph's words in the forms in which rules read them, and what of it is not the narrator's.
#[derive(Debug)]
pub(super) struct WordForms {
    /// Each word in the form in which words are compared with those of a list.
    pub(super) folded: Vec<Box<str>>,
    /// Each word in small letters, with a straight apostrophe.
    plain: Vec<Box<str>>,
    /// What the narrator does not say, in bytes of the block's text: speech, messages and titles.
    spoken: Vec<Range<usize>>,
}

impl WordForms {
    /// The forms of the words of a paragraph of some part of the copy.
    pub(super) fn of(reading: &Reading<'_>, language: Language, part: &CopyPart, paragraph: &Paragraph) -> Self {
        let words = || part.words[paragraph.words.clone()].iter().map(|word| reading.text.word(word));
        Self {
            folded: words().map(|word| fold(word).into_boxed_str()).collect(),
            plain: words().map(|word| plain(word).into_boxed_str()).collect(),
            spoken: not_narrated(reading, language, part, paragraph),
        }
    }
}

/// A sentence of the blurb, with those of its words that the narrator says.
pub(super) struct ToldSentence<'a> {
    /// The sentence.
    pub(super) sentence: &'a Sentence,
    /// The sentence's text, with what is spoken.
    pub(super) text: &'a str,
    /// The narrator's words, in order.
    pub(super) words: Vec<ToldWord<'a>>,
}

/// A word of the narrator.
pub(super) struct ToldWord<'a> {
    /// The word itself.
    pub(super) word: &'a Word,
    /// The word as it is written.
    pub(super) written: &'a str,
    /// The word in small letters, with a straight apostrophe.
    pub(super) plain: &'a str,
    /// What stands between the word and the one before, be that the narrator's or not; before the first word all of the
    /// sentence so far.
    pub(super) before: &'a str,
}

impl<'a> ToldSentence<'a> {
    /// The sentences of a paragraph as the narrator tells them, in order.
    pub(super) fn all(
        text: &'a Text<'_>,
        part: &'a CopyPart,
        paragraph: &'a Paragraph,
        known: &'a WordForms,
    ) -> Vec<Self> {
        let block = text.block(paragraph.block).text();
        let tell = |sentence: &'a Sentence| {
            let mut end = sentence.range.start;
            let mut words = Vec::with_capacity(sentence.words.len());
            for at in sentence.words.clone() {
                let word = &part.words[at];
                if !holds(&known.spoken, word.range.start) {
                    let (written, plain) = (&block[word.range.clone()], &*known.plain[at - paragraph.words.start]);
                    words.push(ToldWord { word, written, plain, before: &block[end..word.range.start] });
                }
                end = word.range.end;
            }
            Self { sentence, text: &block[sentence.range.clone()], words }
        };
        part.sentences[paragraph.sentences.clone()].iter().map(tell).collect()
    }

    /// Whether the sentence asks.
    pub(super) fn is_question(&self) -> bool {
        self.text.contains('?')
    }
}

/// Whether a word in small letters is one of every day's, and so hardly a name where a sentence begins with it.
pub(super) fn is_common(plain: &str) -> bool {
    let stem = plain.strip_suffix('s').unwrap_or(plain);
    Lists::Carried.of(WordList::DaleChall).is_some_and(|list| list.has(plain) || list.has(stem))
}

/// A word in small letters, with a straight apostrophe.
pub(super) fn plain(word: &str) -> String {
    word.to_lowercase().replace('\u{2019}', "'")
}

/// What of a paragraph the narrator does not say: what is spoken, what stands in italics, and the book's title.
fn not_narrated(
    reading: &Reading<'_>,
    language: Language,
    part: &CopyPart,
    paragraph: &Paragraph,
) -> Vec<Range<usize>> {
    let block = reading.text.block(paragraph.block);
    let words = &part.words[paragraph.words.clone()];
    let mut found = spoken(block.text(), language);
    let is_set_off = |run: &Range<usize>| {
        let first = |byte: usize| words.partition_point(|word| word.range.start < byte);
        let inside = &words[first(run.start)..first(run.end)];
        inside.len() > 1 || inside.iter().any(|word| reading.text.word(word).starts_with(char::is_uppercase))
    };
    let italics = block.runs().iter().filter(|(_, emphasis)| emphasis.italic).map(|(run, _)| run.clone());
    found.extend(italics.filter(is_set_off));
    // A title of one word, or one that is a name, may as well be the hero.
    let book = &reading.brief.book;
    let title: Vec<String> = words::find(&book.title).into_iter().map(|word| plain(&book.title[word])).collect();
    if title.len() > 1 && book.names.iter().all(|name| name.name != book.title) {
        let is_title = |there: &&[Word]| {
            there.iter().zip(&title).all(|(word, title)| plain(reading.text.word(word)) == *title)
                && reading.text.word(&there[0]).starts_with(char::is_uppercase)
        };
        let bytes = |there: &[Word]| there[0].range.start..there[there.len() - 1].range.end;
        found.extend(words.windows(title.len()).filter(is_title).map(bytes));
    }
    joined(found)
}

/// Stretches in order, those that overlap as one.
fn joined(mut stretches: Vec<Range<usize>>) -> Vec<Range<usize>> {
    stretches.sort_by_key(|stretch| stretch.start);
    stretches.dedup_by(|next, last| {
        let overlaps = next.start <= last.end;
        last.end = if overlaps { last.end.max(next.end) } else { last.end };
        overlaps
    });
    stretches
}

/// Whether a byte is inside one of some stretches, which are in order and apart.
fn holds(stretches: &[Range<usize>], byte: usize) -> bool {
    let before = stretches.partition_point(|stretch| stretch.start <= byte);
    before > 0 && byte < stretches[before - 1].end
}

/// The stretches of a text that stand in quotation marks, the marks included. One that is not closed reaches to the
/// end.
fn spoken(text: &str, language: Language) -> Vec<Range<usize>> {
    let mut found: Vec<Range<usize>> = Vec::new();
    let [open, close] = if is_reversed(language, text) { ['»', '«'] } else { ['«', '»'] };
    for (at, mark) in text.char_indices() {
        if found.last().is_some_and(|range| at < range.end)
            || !(mark == open || matches!(mark, '"' | '“' | '„' | '‘' | '\''))
        {
            continue;
        }
        let inside = at + mark.len_utf8();
        let end = match mark {
            '"' => text[inside..].find('"').map(|end| inside + end + 1),
            '“' => text[inside..].find('”').map(|end| inside + end + '”'.len_utf8()),
            mark if mark == open => text[inside..].find(close).map(|end| inside + end + close.len_utf8()),
            '„' => text[inside..].find(['“', '”']).map(|end| inside + end + '“'.len_utf8()),
            _ if !opens(text, at, inside) => continue,
            _ => match closed(text, inside) {
                Some(end) => Some(end),
                // An apostrophe at the start of a word looks the same and has no partner.
                None => continue,
            },
        };
        found.push(at..end.unwrap_or(text.len()));
    }
    found
}

/// Whether a single mark stands where speech may open.
fn opens(text: &str, at: usize, inside: usize) -> bool {
    let before = text[..at].chars().next_back();
    before.is_none_or(|c| c.is_whitespace() || "([—–-“\"".contains(c))
        && text[inside..].starts_with(char::is_alphanumeric)
}

/// Where speech in single marks ends: behind a mark that follows a stop and is not inside a word.
fn closed(text: &str, inside: usize) -> Option<usize> {
    let marks = text[inside..].char_indices().filter(|(_, c)| matches!(c, '’' | '\''));
    let ends = marks.map(|(at, c)| (inside + at, inside + at + c.len_utf8()));
    let mut closing = ends.filter(|(_, end)| !text[*end..].starts_with(char::is_alphanumeric));
    closing.find(|(at, _)| text[..*at].ends_with([',', '.', '!', '?', '…', '—', '–'])).map(|(_, end)| end)
}

#[cfg(test)]
mod tests {
    use super::spoken;
    use crate::text::language::Language;

    fn check_in(language: Language, text: &str, wanted: &[&str]) {
        let found: Vec<&str> = spoken(text, language).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, wanted);
    }

    fn check(text: &str, wanted: &[&str]) {
        check_in(Language::English, text, wanted);
    }

    #[test]
    fn marks_that_point_inwards_are_german() {
        check_in(Language::German, "»Komm!«, rief sie. »Ja.«", &["»Komm!«", "»Ja.«"]);
        check_in(Language::German, "«Komm!», rief sie.", &["«Komm!»"]);
    }

    #[test]
    fn speech_is_what_stands_between_marks() {
        check("“Run,” she said. \"Now!\"", &["“Run,”", "\"Now!\""]);
        check("‘Don’t go,’ said the dogs’ friend.", &["‘Don’t go,’"]);
        check("The dogs’ bowls and ’twas ‘odd’.", &[]);
        check("«Viens!» „Komm!“", &["«Viens!»", "„Komm!“"]);
        check("He cried, “Wait", &["“Wait"]);
    }
}
