//! Which names and words of the author's answers stand in the copy, and on which lines of the draft's file.
//!
//! Looked for are the brief's names and the words that say something: in English every word but the function words, in
//! other languages and letters, of which no list is built in, words of four letters or more and those with a capital
//! inside a sentence. They are found as terms are, in regular forms too, in all that is printed. What is only of a
//! word's family and begins with its first letter (`kept` for `keep`) is told beside it and does not count. Scripts
//! without blanks give no words to look for, since where their words end is not known.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use super::family::are_kin;
use super::frequencies::is_function_word;
use super::phrases::CutText;
use super::spellings::{bare, plain};
use crate::brief::Book;
use crate::briefing::questions::{BlurbAnswer, BlurbAnswers, NearQuestion};
use crate::draft::{Block, Draft, LinePlaces, Span};
use crate::text::inflections::is_form_of;
use crate::text::language::Language;
use crate::text::{Text, words};

/// The most words of an answer that are looked for, so that no answer takes time without end.
const MOST_WORDS: usize = 1_000;
/// The fewest letters of a word that says something, where no list knows the language's function words.
const SHORTEST: usize = 4;
/// Behind these signs a capital says nothing.
const ENDS: [char; 12] = ['.', '!', '?', '…', ':', '"', '“', '„', '«', '»', '—', '–'];

/// What the draft answers, and what of it stands in the copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswersInCopy {
    /// One for each question, in the order in which they are asked.
    pub all: Vec<AnswerInCopy>,
    /// The comments that open with a question spelt nearly like one of the list, each with its line.
    pub near: Vec<(NearQuestion, usize)>,
}

/// An answer, and what of it stands in the copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerInCopy {
    /// The question with its answer.
    pub answer: BlurbAnswer,
    /// The lines on which further comments with an answer to the question begin, from 1.
    pub again_lines: Vec<usize>,
    /// The brief's names in the answer, then its other words, each in the order of the answer.
    pub words: Vec<AnswerWord>,
    /// How many more different words the answer has, which were not looked for.
    pub untried: usize,
}

/// A name or a word of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerWord {
    /// The word as the answer first has it, or the name as the brief has it.
    pub wording: String,
    /// Whether it is one of the brief's names.
    pub is_name: bool,
    /// Every place where it stands in the copy, in the order of the file; empty where it does not stand there.
    pub places: Vec<LinePlace>,
    /// What stands in the copy in its place and is only of its family: each form with its first place.
    pub kin: Vec<(String, LinePlace)>,
}

/// A stretch of the draft's file, and the line on which it begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LinePlace {
    /// The stretch, in bytes.
    pub span: Span,
    /// The line, from 1.
    pub line: usize,
}

impl AnswersInCopy {
    /// How many questions are answered.
    pub fn answered(&self) -> usize {
        self.all.iter().filter(|item| item.answer.is_answered()).count()
    }

    /// Whether the draft has nothing of answers: none, and no comment that nearly holds one.
    pub fn is_empty(&self) -> bool {
        self.answered() == 0 && self.near.is_empty()
    }
}

/// Looks up the answers of a draft in its copy. `source` is the text that the draft was read from.
pub fn find(source: &str, draft: &Draft, book: &Book) -> AnswersInCopy {
    let BlurbAnswers { all, near } = BlurbAnswers::of(draft, book.kind);
    if all.iter().all(|answer| !answer.is_answered()) && near.is_empty() {
        let nothing = |answer| AnswerInCopy { answer, again_lines: Vec::new(), words: Vec::new(), untried: 0 };
        return AnswersInCopy { all: all.into_iter().map(nothing).collect(), near: Vec::new() };
    }
    let copy = CutCopy::of(source, draft);
    let asked = AnswerReader::of(book);
    let line = |span: Span| copy.lines.place(span.start).0;
    let found = all.into_iter().map(|answer| {
        let mut told = asked.words(&answer.text);
        let untried = told.len().saturating_sub(MOST_WORDS);
        told.truncate(MOST_WORDS);
        let words = told.into_iter().map(|(wording, is_name)| copy.found(wording, is_name)).collect();
        AnswerInCopy { again_lines: answer.again.iter().map(|span| line(*span)).collect(), answer, words, untried }
    });
    let all = found.collect();
    let near = near.into_iter().map(|question| (line(question.span), question));
    AnswersInCopy { all, near: near.map(|(line, question)| (question, line)).collect() }
}

/// All that is printed, cut into the pieces that phrases are compared by.
struct CutCopy<'a> {
    lines: LinePlaces<'a>,
    blocks: Vec<(&'a Block, CutText<'a>)>,
    /// Every different word with its first place, in the order of the file, by its first letter.
    forms: HashMap<char, Vec<(String, LinePlace)>>,
}

impl<'a> CutCopy<'a> {
    fn of(source: &'a str, draft: &'a Draft) -> Self {
        let blocks = draft.blocks.iter().map(|block| (block, CutText::cut(block.text()))).collect();
        let mut copy = Self { lines: LinePlaces::of(source), blocks, forms: HashMap::new() };
        let mut known = HashSet::new();
        for (block, pieces) in &copy.blocks {
            for (range, piece) in pieces.iter().filter(|(_, piece)| known.insert(bare(piece).to_owned())) {
                let span = block.span(range.clone());
                let place = LinePlace { span, line: copy.lines.place(span.start).0 };
                let first = bare(piece).chars().next().unwrap_or_default();
                copy.forms.entry(first).or_default().push((bare(piece).to_owned(), place));
            }
        }
        copy
    }

    /// A word of an answer with its places.
    fn found(&self, wording: String, is_name: bool) -> AnswerWord {
        let phrase = [CutText::cut(&wording)];
        let in_block = |(block, pieces): &(&Block, CutText<'_>)| {
            let spans = pieces.find(&phrase).into_iter().map(|range| block.span(range)).collect::<Vec<_>>();
            spans.into_iter().map(|span| LinePlace { span, line: self.lines.place(span.start).0 }).collect::<Vec<_>>()
        };
        let places: Vec<LinePlace> = self.blocks.iter().flat_map(in_block).collect();
        let kin = if places.is_empty() && !is_name { self.kin(&plain(&wording).to_lowercase()) } else { Vec::new() };
        AnswerWord { wording, is_name, places, kin }
    }

    /// The words of the copy that are of a word's family and begin with its first letter, in the order of the file.
    fn kin(&self, word: &str) -> Vec<(String, LinePlace)> {
        let alike = word.chars().next().and_then(|first| self.forms.get(&first)).into_iter().flatten();
        alike.filter(|(form, _)| are_kin(form, word)).cloned().collect()
    }
}

/// What finds the names and words of an answer.
struct AnswerReader<'a> {
    names: Vec<(&'a str, [CutText<'a>; 1])>,
    is_english: bool,
}

impl<'a> AnswerReader<'a> {
    fn of(book: &'a Book) -> Self {
        let names = book.names.iter().map(|name| (name.name.as_str(), [CutText::cut(&name.name)])).collect();
        Self { names, is_english: Text::read(&Draft::default(), book).language == Language::English }
    }

    /// The brief's names in an answer, then its other words that say something, each once, and whether it is a name.
    fn words(&self, answer: &str) -> Vec<(String, bool)> {
        let pieces = CutText::cut(answer);
        let mut taken: Vec<Range<usize>> = Vec::new();
        let mut told: Vec<(String, bool)> = Vec::new();
        for (name, phrase) in &self.names {
            let found = pieces.find(phrase);
            if !found.is_empty() {
                told.push(((*name).to_owned(), true));
                taken.extend(found);
            }
        }
        taken.sort_by_key(|range| range.start);
        // Forms of one word are looked for once; they begin with the same letter.
        let mut known: HashMap<char, Vec<String>> = HashMap::new();
        for range in words::find(answer) {
            let before = taken.partition_point(|name| name.start < range.end);
            if before > 0 && taken[before - 1].end > range.start {
                continue;
            }
            let word = bare(&answer[range.clone()]);
            let folded = plain(word).to_lowercase();
            let Some(first) = folded.chars().next().filter(|_| self.says_something(answer, &range, &folded)) else {
                continue;
            };
            let alike = known.entry(first).or_default();
            if !alike.iter().any(|other| is_form_of(&folded, other) || is_form_of(other, &folded)) {
                alike.push(folded);
                told.push((word.to_owned(), false));
            }
        }
        told
    }

    /// Whether a word of an answer says something by itself.
    fn says_something(&self, answer: &str, range: &Range<usize>, folded: &str) -> bool {
        if self.is_english && folded.is_ascii() {
            let whole = plain(&answer[range.clone()]).to_lowercase();
            return !is_function_word(folded) && !is_function_word(&whole);
        }
        let before = answer[..range.start].trim_end_matches([' ', '\t']);
        let opens = before.is_empty() || before.ends_with('\n') || before.ends_with(ENDS);
        let is_capital = answer[range.clone()].starts_with(char::is_uppercase);
        folded.chars().count() >= SHORTEST || (is_capital && !opens) || folded.contains(char::is_numeric)
    }
}

#[cfg(test)]
mod tests {
    use super::{AnswersInCopy, find};
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::draft::Draft;

    const COPY: &str = "# The lamp at Gull Point\n\nOona kept the *lamps* lit.\nThe boats need a bed-time light.\n\n\
                        > \"A brave book.\"\n> — Ines Pell\n";

    fn found(answer: &str, language: &str) -> AnswersInCopy {
        let source = format!("{COPY}\n<!-- Whom does the child meet? {answer} -->\n");
        let names = ["Oona", "Gull Point"].map(|name| Name { name: name.to_owned(), syllables: None }).to_vec();
        let book = Book { names, language: language.to_owned(), ..Book::default() };
        find(&source, &Draft::read(&source), &book)
    }

    /// Each name and word of an answer with the lines on which it stands.
    #[track_caller]
    fn check(answer: &str, language: &str, expected: &[(&str, &[usize])]) {
        let found = found(answer, language);
        let words = found.all[0].words.iter();
        let words: Vec<(&str, Vec<usize>)> =
            words.map(|word| (word.wording.as_str(), word.places.iter().map(|place| place.line).collect())).collect();
        let expected: Vec<(&str, Vec<usize>)> = expected.iter().map(|(word, lines)| (*word, lines.to_vec())).collect();
        assert_eq!(words, expected, "{answer}");
    }

    #[test]
    fn names_and_words_are_found_in_all_that_is_printed() {
        check(
            "She is Oona's brave lamp, the lamps of Gull Point and a boat by bedtime",
            "en",
            &[
                ("Oona", &[3]),
                ("Gull Point", &[1]),
                ("brave", &[6]),
                ("lamp", &[1, 3]),
                ("boat", &[4]),
                ("bedtime", &[4]),
            ],
        );
        check("", "en", &[]);
        check("who she is", "en", &[]);
        check(
            "Die Oona und das Tor der Boats im Turm.",
            "de",
            &[("Oona", &[3]), ("Tor", &[]), ("Boats", &[4]), ("Turm", &[])],
        );
        check("Она хочет на маяк. 犬が好き", "en", &[("хочет", &[]), ("маяк", &[])]);
    }

    #[test]
    fn kin_is_told_and_does_not_count() {
        let found = found("to lighten it by bravery", "en");
        let kin: Vec<_> = found.all[0].words.iter().map(|word| (word.places.len(), word.kin.clone())).collect();
        let told: Vec<_> =
            kin.iter().map(|(count, kin)| (*count, kin.iter().map(|kin| kin.0.as_str()).collect())).collect();
        assert_eq!(told, [(0, vec!["light"]), (0, vec!["brave"])] as [(usize, Vec<&str>); 2]);
    }

    #[test]
    fn of_a_very_long_answer_the_first_words_are_looked_for() {
        let long: String = (0..1_200).map(|number| format!("w{number}w ")).collect();
        let found = found(&long, "en");
        assert_eq!((found.all[0].words.len(), found.all[0].untried), (1_000, 200));
    }

    #[test]
    fn a_draft_without_answers_has_nothing_to_look_for() {
        let found = find(COPY, &Draft::read(COPY), &Book::default());
        assert!(found.is_empty() && found.all.len() == 6 && found.all.iter().all(|item| item.words.is_empty()));
    }
}
