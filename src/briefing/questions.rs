//! The questions that a blurb answers, and the author's answers to them, which stand in the draft as comments.
//!
//! A comment that begins a line and opens with a question of this list holds the answer to it; every other comment is
//! the author's own. The questions are common practice among editors: who wants what, what is in the way, a stake, why
//! anyone should care, and for whom the book is; in a picture book what a child sees and hears, in non-fiction what a
//! reader takes away. The wording is this program's own.

use strsim::osa_distance;

use crate::brief::book::BookKind;
use crate::draft::{Comment, Draft, Edit, Span, comment_edits, edited};

/// One of the questions that a blurb answers, whatever it is called for a kind of book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BlurbQuestion {
    /// Who or what the book is about.
    Who,
    /// What they want.
    Want,
    /// What stands in their way.
    Obstacle,
    /// What is at stake.
    Stakes,
    /// Why a reader should choose this book.
    Reason,
    /// For whom the book is.
    Readers,
}

/// The most steps of spelling by which a comment's opening words may differ from a question and be told as one.
const MOST_STEPS: usize = 3;

impl BlurbQuestion {
    /// Every question, in the order in which they are asked.
    pub const ALL: [Self; 6] = [Self::Who, Self::Want, Self::Obstacle, Self::Stakes, Self::Reason, Self::Readers];

    /// The question's name in JSON: `stakes`.
    pub fn key(self) -> &'static str {
        match self {
            Self::Who => "who",
            Self::Want => "want",
            Self::Obstacle => "obstacle",
            Self::Stakes => "stakes",
            Self::Reason => "reason",
            Self::Readers => "readers",
        }
    }

    /// The question as it is asked for a kind of book, ending with its question mark.
    pub fn asked(self, kind: BookKind) -> &'static str {
        let [story, pictures, facts] = self.wordings();
        match kind {
            BookKind::BoardBook | BookKind::PictureBook => pictures,
            BookKind::NonFiction => facts,
            _ => story,
        }
    }

    /// The question as it is asked for a story, for a book of pictures, and for a book of facts.
    fn wordings(self) -> [&'static str; 3] {
        match self {
            Self::Who => ["Who is it about?", "Whom does the child meet?", "What is it about?"],
            Self::Want => ["What do they want?", "What do they want or do?", "What does the reader want to know?"],
            Self::Obstacle => ["What stands in the way?", "What goes wrong?", "What makes that hard to find out?"],
            Self::Stakes => ["What is at stake?", "What if it stays wrong?", "What can the reader do afterwards?"],
            Self::Reason => ["Why this book?", "Why will a child ask for it again?", "Why this book and no other?"],
            Self::Readers => ["For whom is it?", "Who reads it aloud, and to whom?", "Which readers is it for?"],
        }
    }

    /// Every wording of every question.
    fn all_wordings() -> impl Iterator<Item = (Self, &'static str)> {
        Self::ALL.into_iter().flat_map(|question| question.wordings().map(|wording| (question, wording)))
    }
}

/// What a draft answers of the questions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlurbAnswers {
    /// One for each question, in the order in which they are asked.
    pub all: Vec<BlurbAnswer>,
    /// The comments that open with a question spelt nearly like one of the list, in the order of the file.
    pub near: Vec<NearQuestion>,
}

/// A question with the draft's answer to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlurbAnswer {
    /// The question.
    pub question: BlurbQuestion,
    /// The question as the draft asks it, or as it is asked for the kind of book.
    pub asked: &'static str,
    /// The answer, lines ended by `\n`, without blanks at either end; empty where the question is not answered.
    pub text: String,
    /// The comment that holds the answer; none where no comment asks the question.
    pub span: Option<Span>,
    /// The further comments with an answer to the question, of which only the first is read.
    pub again: Vec<Span>,
}

/// A comment that opens with a question spelt nearly like one of the list, and is not read as an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NearQuestion {
    /// The question as it is written.
    pub written: String,
    /// The question that is meant.
    pub meant: &'static str,
    /// The whole comment.
    pub span: Span,
}

impl BlurbAnswers {
    /// The answers in the comments of a draft. Of several comments on one question the first that says something
    /// counts.
    pub fn of(draft: &Draft, kind: BookKind) -> Self {
        let read = draft.comments.iter().map(|comment| (comment, Opening::of(comment)));
        let read: Vec<(&Comment, Opening<'_>)> = read.collect();
        let all = BlurbQuestion::ALL.map(|question| answer(question, kind, &read));
        let near = read.iter().filter_map(|(comment, opening)| match opening {
            Opening::Near { written, meant } => {
                Some(NearQuestion { written: (*written).to_owned(), meant, span: comment.span })
            }
            _ => None,
        });
        Self { all: all.to_vec(), near: near.collect() }
    }

    /// How many questions are answered.
    pub fn answered(&self) -> usize {
        self.all.iter().filter(|answer| answer.is_answered()).count()
    }
}

impl BlurbAnswer {
    /// Whether the draft answers the question.
    pub fn is_answered(&self) -> bool {
        !self.text.is_empty()
    }
}

/// What a comment opens with.
enum Opening<'a> {
    /// A question of the list, in this wording, and what stands behind it.
    Asks(BlurbQuestion, &'static str, &'a str),
    /// A question that is nearly one of the list.
    Near { written: &'a str, meant: &'static str },
    /// Anything else.
    Other,
}

impl<'a> Opening<'a> {
    fn of(comment: &'a Comment) -> Self {
        let Some((question, behind)) = comment.text.split_once('?') else { return Self::Other };
        let folded = question.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        // Most comments are no question of the list, and are told from it by their length.
        let steps = |wording: &str| {
            let wording = wording.trim_end_matches('?').to_lowercase();
            let is_near = wording.len().abs_diff(folded.len()) <= 2 * MOST_STEPS;
            if is_near { osa_distance(&folded, &wording) } else { usize::MAX }
        };
        let nearest = BlurbQuestion::all_wordings().min_by_key(|(_, wording)| steps(wording));
        match nearest.map(|(question, wording)| (question, wording, steps(wording))) {
            Some((question, wording, 0)) => Self::Asks(question, wording, behind.trim()),
            Some((_, meant, 1..=MOST_STEPS)) => Self::Near { written: question, meant },
            _ => Self::Other,
        }
    }
}

/// The answer to a question among the comments of a draft.
fn answer(question: BlurbQuestion, kind: BookKind, read: &[(&Comment, Opening<'_>)]) -> BlurbAnswer {
    let of_question = read.iter().filter_map(|(comment, opening)| match opening {
        Opening::Asks(asks, wording, text) if *asks == question => Some((comment.span, *wording, *text)),
        _ => None,
    });
    let all: Vec<_> = of_question.collect();
    let first = all.iter().position(|(_, _, text)| !text.is_empty()).unwrap_or(0);
    let again = all.iter().enumerate().filter(|(at, (_, _, text))| *at != first && !text.is_empty());
    let again = again.map(|(_, (span, ..))| *span).collect();
    match all.get(first) {
        Some((span, asked, text)) => {
            BlurbAnswer { question, asked, text: (*text).to_owned(), span: Some(*span), again }
        }
        None => BlurbAnswer { question, asked: question.asked(kind), text: String::new(), span: None, again },
    }
}

/// An answer as it is kept: lines ended by `\n`, without control characters but tabs, and without blanks at either end.
pub fn kept(text: &str) -> String {
    let lines = text.replace("\r\n", "\n").replace('\r', "\n");
    let kept: String = lines.chars().filter(|c| matches!(c, '\n' | '\t') || !c.is_control()).collect();
    kept.trim().to_owned()
}

/// The changes of a draft's file that give a question this answer, as [`kept`] keeps it, and leave alone all else; an
/// empty answer leaves the question in its comment. None where the draft has no place for a comment.
pub fn answer_edits(source: &str, question: BlurbQuestion, kind: BookKind, text: &str) -> Option<Vec<Edit>> {
    let answers = BlurbAnswers::of(&Draft::read(source), kind);
    let text = kept(text);
    let own = answers.all.iter().find(|answer| answer.question == question)?;
    if own.text == text && (own.span.is_some() || text.is_empty()) {
        return Some(Vec::new());
    }
    let before = answers.all.iter().rfind(|answer| answer.question < question && answer.span.is_some());
    comment_edits(source, &worded(own.asked, &text), own.span, before.and_then(|answer| answer.span))
}

/// A new draft with a comment behind its copy for each question, in which the answer stands where there is one.
pub fn with_questions(mut source: String, kind: BookKind, told: &[(BlurbQuestion, String)]) -> String {
    for question in BlurbQuestion::ALL {
        let answer = told.iter().find(|(answered, _)| *answered == question);
        let words = worded(question.asked(kind), &answer.map_or(String::new(), |(_, text)| kept(text)));
        if let Some(edits) = comment_edits(&source, &words, None, None) {
            source = edited(&source, &edits);
        }
    }
    source
}

/// What the comment of a question says: the question alone, or with the answer below it.
fn worded(asked: &str, answer: &str) -> String {
    if answer.is_empty() { asked.to_owned() } else { format!("{asked}\n{answer}") }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::{BlurbAnswers, BlurbQuestion, answer_edits};
    use crate::brief::book::BookKind;
    use crate::draft::{Draft, edited};

    fn answers(source: &str) -> BlurbAnswers {
        BlurbAnswers::of(&Draft::read(source), BookKind::MiddleGrade)
    }

    fn given(source: &str, question: BlurbQuestion, text: &str) -> String {
        edited(source, &answer_edits(source, question, BookKind::MiddleGrade, text).unwrap())
    }

    #[test]
    fn each_kind_of_book_has_six_questions_and_no_wording_has_two_meanings() {
        let wordings: Vec<&str> = BlurbQuestion::all_wordings().map(|(_, wording)| wording).collect();
        assert_eq!(wordings.iter().collect::<HashSet<_>>().len(), wordings.len());
        assert!(wordings.iter().all(|wording| wording.ends_with('?') && wording.matches('?').count() == 1));
        for kind in BookKind::ALL {
            for question in BlurbQuestion::ALL {
                let draft = format!("<!-- {} Oona. -->\n", question.asked(kind));
                let read = BlurbAnswers::of(&Draft::read(&draft), kind);
                assert_eq!(read.all[question as usize].text, "Oona.", "{draft}");
            }
        }
        assert_ne!(BlurbQuestion::Who.asked(BookKind::PictureBook), BlurbQuestion::Who.asked(BookKind::NonFiction));
    }

    #[test]
    fn a_comment_that_opens_with_a_question_is_its_answer() {
        for comment in [
            "<!-- Who is it about? Oona. -->",
            "<!--who is\n  it about?\nOona.\n-->",
            "<!-- WHO IS IT ABOUT?\r\n\r\nOona. -->",
        ] {
            let read = answers(&format!("The lamp.\n\n{comment}\n"));
            assert_eq!((read.answered(), read.all[0].text.as_str()), (1, "Oona."), "{comment}");
        }
        for other in
            ["<!-- Who is Oona? -->", "<!-- Oona. -->", "<!-- Why? -->", "The <!-- Who is it about? x --> lamp."]
        {
            let read = answers(other);
            assert_eq!((read.answered(), read.near.len()), (0, 0), "{other}");
        }
    }

    #[test]
    fn the_first_answer_counts_and_further_ones_are_told() {
        let read = answers("<!-- Why this book? -->\n<!-- Why this book? One. -->\n<!-- Why this book? Two. -->\n");
        let reason = &read.all[BlurbQuestion::Reason as usize];
        assert_eq!((reason.text.as_str(), reason.again.len()), ("One.", 1));
    }

    #[test]
    fn a_question_that_is_misspelt_is_told_and_not_read() {
        let read = answers("<!-- Who is it abuot? Oona. -->\n");
        let near: Vec<_> = read.near.iter().map(|near| (near.written.as_str(), near.meant)).collect();
        assert_eq!((read.answered(), near), (0, vec![("Who is it abuot", "Who is it about?")]));
    }

    #[test]
    fn answers_stand_in_the_order_of_the_questions_and_are_changed_in_place() {
        let one = given("The lamp.\n", BlurbQuestion::Who, " Oona.\r\nTen --> ");
        assert_eq!(one, "The lamp.\n\n<!-- Who is it about?\nOona.\nTen --\\>\n-->\n");
        let two = given(&one, BlurbQuestion::Reason, "Light.");
        let three = given(&two, BlurbQuestion::Stakes, "The boats.");
        let places = ["Who is", "What is at", "Why this"].map(|words| three.find(words));
        assert!(places.is_sorted() && places.iter().all(Option::is_some), "{three}");
        let empty = given(&three, BlurbQuestion::Stakes, "");
        assert_eq!(empty, three.replace("What is at stake?\nThe boats.\n-->", "What is at stake? -->"));
        assert_eq!(given(&one, BlurbQuestion::Who, "Oona.\nTen -->"), one);
    }
}
