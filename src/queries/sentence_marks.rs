//! Marks and capitals that a sentence wants by its build: a question's mark, the capital of a sentence and of `I`, and
//! a comma that cannot hold two sentences together.
//!
//! Sources: the Chicago Manual of Style 6.68 and 6.22 (from memory), and common practice. A question is one by the
//! order of its words alone, a verb before its subject; `who knows` and its like are told as no question. A comma
//! between two whole sentences is told only where nothing joins them, contrasts them or sets one of them aside, and
//! nothing is a list.

use std::ops::Range;

use super::agreement::LINKS;
use super::beings::SUBJECTS;
use super::prose::{OwnCopy, Prose};
use super::query::{Cut, Query, Reading};
use super::verbs;
use crate::brief::queries::Rule;
use crate::text::tagger;

/// Words that may stand before a question's first.
const LEADS: [&str; 6] = ["and", "but", "so", "or", "now", "then"];
/// Helpers that stand before the subject of a question and nowhere else.
const BEFORE_SUBJECT: [&str; 11] = ["can", "could", "will", "would", "is", "are", "was", "did", "does", "has", "can't"];
/// Words that begin a subject of several.
const ARTICLES: [&str; 9] = ["the", "a", "an", "his", "her", "their", "its", "our", "my"];

/// Finds questions that end in a full stop.
pub(super) fn questions(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for sentence in prose.sentences.iter().filter(|sentence| asks(prose, sentence)) {
        let end = prose.bytes(sentence).end;
        let is_stop = prose.gap(sentence.end - 1).starts_with('.') && !prose.gap(sentence.end - 1).starts_with("..");
        let place = prose.words[sentence.end - 1].range.start..end + 1;
        let is_asked_already = prose.text()[prose.bytes(sentence)].contains(['?', '!']);
        if is_stop && !is_asked_already && !prose.is_quoted(&prose.words[sentence.start].range) {
            queries.push(Query {
                rule: Rule::DoubtfulMark,
                block: prose.number,
                range: place,
                says: "this asks, and a question ends in its mark".to_owned(),
                cuts: vec![Cut { range: end..end + 1, wording: "?".to_owned() }],
            });
        }
    }
}

/// Whether a sentence is a question by the order of its words.
fn asks(prose: &Prose<'_>, sentence: &Range<usize>) -> bool {
    let leads = usize::from(LEADS.contains(&prose.word(sentence.start)));
    let at = sentence.start + leads;
    if at + 3 >= sentence.end || !(sentence.start..at + 2).all(|at| prose.is_joined(at)) {
        return false;
    }
    let (first, second, third) = (prose.word(at), prose.word(at + 1), prose.word(at + 2));
    let has_finite = |from: usize| (from..sentence.end).any(|at| verbs::is_finite(prose.word(at)));
    let is_told = |from: usize| (from..sentence.end).any(|at| matches!(prose.word(at), "is" | "was" | "remains"));
    let is_subject = |at: usize| SUBJECTS.contains(&prose.word(at)) || ARTICLES.contains(&prose.word(at));
    match (first, second) {
        ("would", "you") if third == "believe" => false,
        ("where" | "why" | "how" | "when", "do" | "does" | "did") => third != "not",
        ("what" | "who", "do" | "does" | "did") => is_subject(at + 2),
        ("why", "is" | "are" | "was" | "were" | "can" | "has" | "have") => is_subject(at + 2),
        (
            "what" | "where" | "when" | "how" | "why",
            "will" | "can" | "could" | "is" | "are" | "was" | "has" | "would",
        ) => {
            SUBJECTS.contains(&third)
                || (matches!(second, "will" | "can" | "could" | "would") && ARTICLES.contains(&third))
                || (first == "what" && second == "will" && third == "happen" && !is_told(at + 3))
        }
        ("who", "will" | "can") => verbs::is_base(third) && !has_finite(at + 3),
        ("who", "has") => verbs::is_participle(third) && !has_finite(at + 3),
        (first, second) if BEFORE_SUBJECT.contains(&first) => {
            let is_name = prose.is_capital(at + 1) && !tagger::is_known(second);
            let behind = if is_name { Some(third) } else { None };
            let asks_of_name = behind
                .is_some_and(|verb| first != "is" && first != "are" && first != "was" && verbs::is_base(verb))
                || (prose.is_capital(at + 1) && matches!(first, "can" | "could") && verbs::is_base(third));
            asks_of_name || SUBJECTS.contains(&second)
        }
        _ => false,
    }
}

/// Finds paragraphs of the blurb that end without a stop, where the others have theirs.
pub(super) fn missing_stops(_: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    const SHORTEST: usize = 7;
    let ends = |prose: &Prose<'_>| prose.text().trim_end().ends_with(['.', '!', '?', '…', '”', '"', '’', '\'', ')']);
    let blurb = own.blurb();
    if blurb.iter().filter(|prose| ends(prose)).count() < 2 {
        return;
    }
    for (number, prose) in blurb.iter().enumerate() {
        let Some(last) = prose.sentences.last() else { continue };
        let tells = last.len() >= SHORTEST && last.clone().any(|at| verbs::is_finite(prose.word(at)));
        let goes_on =
            blurb.get(number + 1).is_some_and(|next| !next.text().starts_with(char::is_uppercase) || next.is_verse);
        // Lines of ages and of other books have no stop: `Ages 6 to 8 · more to come`, `Also by Bo Reed: The Lamp`.
        let is_bare = prose.gap(last.end - 1).trim().is_empty() && !prose.text().contains(['\n', '·', '|', ':', '•']);
        let begins = prose.is_capital(last.start) && !prose.is_quoted(&prose.words[last.start].range);
        if tells && is_bare && begins && !goes_on && !prose.is_verse {
            let range = prose.words[last.end - 1].range.clone();
            let cuts = vec![Cut { range: range.end..range.end, wording: ".".to_owned() }];
            let says = "the sentence ends here without its stop".to_owned();
            queries.push(Query { rule: Rule::DoubtfulMark, block: prose.number, range, says, cuts });
        }
    }
}

/// Finds sentences inside a paragraph that begin with a small letter, and `I` written small.
pub(super) fn small_letters(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    let has_capitals = prose.sentences.first().is_some_and(|sentence| prose.is_capital(sentence.start));
    if !has_capitals || prose.is_verse {
        return;
    }
    for at in 1..prose.words.len() {
        let range = prose.words[at].range.clone();
        let is_small = prose.written(at).starts_with(|first: char| first.is_ascii_lowercase());
        let told = if is_small && begins_sentence(prose, at) {
            Some(("behind a full stop a sentence begins with a capital", range.start..range.start + 1))
        } else if is_small && is_narrator(prose, at) {
            Some(("“I” is written with a capital", range.start..range.start + 1))
        } else {
            None
        };
        let Some((says, letter)) = told.filter(|_| !prose.is_quoted(&range)) else { continue };
        let wording = prose.text()[letter.clone()].to_uppercase();
        let cuts = vec![Cut { range: letter, wording }];
        queries.push(Query { rule: Rule::MisspeltWord, block: prose.number, range, says: says.to_owned(), cuts });
    }
}

/// Whether a full stop and a blank stand before a word, and the stop is no abbreviation's.
fn begins_sentence(prose: &Prose<'_>, at: usize) -> bool {
    const SHORTEST: usize = 4;
    const SHORTENED: [&str; 8] = ["approx", "illus", "inc", "prof", "capt", "vols", "dept", "misc"];
    let before = prose.word(at - 1);
    let is_whole = |at: usize| prose.written(at).chars().all(|c| c.is_ascii_lowercase());
    prose.gap(at - 1) == ". "
        && before.len() >= SHORTEST
        && is_whole(at - 1)
        && is_whole(at)
        && tagger::is_known(before)
        && tagger::is_known(prose.word(at))
        && !SHORTENED.contains(&before)
}

/// Whether a small `i` is the narrator: a verb follows, or it is a short form.
fn is_narrator(prose: &Prose<'_>, at: usize) -> bool {
    const BEHIND: [&str; 16] = [
        "am", "was", "have", "had", "will", "can", "could", "would", "should", "must", "do", "did", "don't", "didn't",
        "never", "always",
    ];
    match prose.word(at) {
        "i'm" | "i've" | "i'll" | "i'd" => true,
        "i" => {
            let next = prose.word(at + 1);
            let is_verb =
                BEHIND.contains(&next) || verbs::tense(next) == Some(verbs::Tense::Past) || verbs::is_base(next);
            is_verb && prose.is_joined(at) && prose.is_joined(at - 1)
        }
        _ => false,
    }
}

/// Words that set one of two sentences under the other, or say that somebody says or thinks it.
const UNDER: [&str; 33] = [
    "if", "when", "while", "as", "because", "although", "though", "unless", "until", "before", "after", "once",
    "where", "whenever", "wherever", "since", "whether", "that", "so", "not", "never", "no", "nobody", "nothing",
    "only", "just", "says", "said", "thinks", "thought", "knows", "what", "who",
];
/// Nouns that make what stands behind them a time: `the moment he wakes`.
const TIMES: [&str; 16] = [
    "moment", "minute", "second", "instant", "day", "night", "morning", "evening", "time", "week", "year", "hour",
    "more", "less", "sooner", "longer",
];

/// Finds a comma that stands between two whole sentences.
pub(super) fn spliced(_: &Reading<'_>, prose: &Prose<'_>, queries: &mut Vec<Query>) {
    for sentence in &prose.sentences {
        let Some(at) = splice(prose, sentence) else { continue };
        let comma = prose.words[at].range.end;
        queries.push(Query {
            rule: Rule::DoubtfulMark,
            block: prose.number,
            range: prose.words[at].range.start..prose.words[at + 1].range.end,
            says: "a comma cannot hold two whole sentences together; a full stop, a semicolon or “and” can".to_owned(),
            cuts: vec![Cut { range: comma..comma + 1, wording: ";".to_owned() }],
        });
    }
}

/// The word before such a comma. There is but one comma, and a stop at the end.
fn splice(prose: &Prose<'_>, sentence: &Range<usize>) -> Option<usize> {
    const SHORTEST: usize = 4;
    let is_plain_stop = prose.gap(sentence.end - 1).starts_with('.') && !prose.gap(sentence.end - 1).starts_with("..");
    let gaps: Vec<usize> = (sentence.start..sentence.end - 1).filter(|at| !prose.is_joined(*at)).collect();
    let [at] = gaps[..] else { return None };
    let is_long = at + 1 - sentence.start >= SHORTEST && sentence.end - at > SHORTEST;
    if !is_plain_stop || !is_long || prose.is_verse || prose.gap(at) != ", " || prose.is_quoted(&prose.bytes(sentence))
    {
        return None;
    }
    let second = prose.word(at + 1);
    let is_under = (sentence.start..at + 1).any(|at| {
        UNDER.contains(&prose.word(at)) || TIMES.contains(&prose.word(at)) || prose.word(at).ends_with("n't")
    });
    let is_clause = matches!(second, "he" | "she" | "it" | "they" | "we")
        && verbs::is_finite(prose.word(at + 2))
        && !SAYING.contains(&prose.word(at + 2));
    let is_parallel = second == prose.word(sentence.start);
    (is_clause && !is_under && !is_parallel && opens_with_clause(prose, sentence)).then_some(at)
}

/// Verbs of a clause that says who says the rest.
const SAYING: [&str; 8] = ["says", "said", "thinks", "thought", "knows", "knew", "hopes", "tells"];

/// Whether a sentence opens with a subject and its verb.
fn opens_with_clause(prose: &Prose<'_>, sentence: &Range<usize>) -> bool {
    let at = sentence.start;
    let first = prose.word(at);
    let is_verb = |at: usize| verbs::is_finite(prose.word(at));
    let is_noun = |at: usize| tagger::may_be_noun(prose.word(at)) && !is_verb(at);
    let is_name =
        || prose.is_capital(at) && !tagger::is_known(first) && !LINKS.contains(&first) && !first.ends_with("ing");
    if matches!(first, "he" | "she" | "it" | "they" | "we") || is_name() {
        return is_verb(at + 1);
    }
    ARTICLES.contains(&first)
        && ((is_noun(at + 1) && is_verb(at + 2))
            || (tagger::is_adjective(prose.word(at + 1)) && is_noun(at + 2) && is_verb(at + 3)))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn marks_of_sentences_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/sentence_marks.txt"));
    }
}
