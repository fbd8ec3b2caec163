//! Finds what a draft takes from its manuscript: wording that belongs to the story's last part, and whole sentences.
//!
//! Wording gives the end away where it stands in the story's last fifth and nowhere before, and is rare in English
//! prose: a single word, or two words that follow each other but for small words between them. Plenty of words stand
//! late in a story by chance, so this is a thing to look at, not a fault.

use crate::draft::Span;

use super::Text;
use super::frequencies::{count, is_function_word, running_words};
use super::inflections::is_form_of;
use super::spellings::bare;
use super::story::{Story, Token, tokens};

/// The share of a story that comes before its last part, as a fraction. From memory: the resolution of a picture book
/// takes its last three or so of sixteen openings.
const BEFORE_THE_LAST_PART: (usize, usize) = (4, 5);
/// A word is rare where it stands less often than this in a million words.
const RARE: u64 = 50;
/// Shorter sentences are anybody's.
const SHORTEST_SENTENCE: usize = 4;

/// What a draft takes from its manuscript.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Borrowed {
    /// Wording that stands in the story's last part alone, in the order of the draft.
    pub late: Vec<Taken>,
    /// Sentences that stand in the story word for word, in the order of the draft.
    pub sentences: Vec<Taken>,
}

/// Wording that a draft and a manuscript share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// Where it stands in the draft's file.
    pub in_draft: Span,
    /// Where it first stands in the manuscript's file.
    pub in_story: Span,
}

/// Compares a draft's blurb with its manuscript.
pub fn find(text: &Text, story: &Story) -> Borrowed {
    let draft = tokens(text);
    Borrowed { late: late(&draft, story), sentences: sentences(&draft, story) }
}

/// The story's words that say something, with where each stands among all its words.
struct Telling<'a> {
    tokens: Vec<(usize, &'a Token)>,
    /// The number of the first word of the last part.
    last_part: usize,
}

impl<'a> Telling<'a> {
    fn of(story: &'a Story) -> Self {
        let (part, whole) = BEFORE_THE_LAST_PART;
        let last_part = story.tokens.len() * part / whole;
        let tokens = story.tokens.iter().enumerate().filter(|(_, token)| says_something(token));
        Self { tokens: tokens.collect(), last_part }
    }

    /// Where words that follow each other first stand, if that is in the last part.
    fn first_late(&self, words: &[&Token]) -> Option<Span> {
        let is_here = |stretch: &&[(usize, &Token)]| {
            let same = |((_, token), word): (&(usize, &Token), &&Token)| are_forms(token, word);
            stretch.iter().zip(words).all(same) && stretch[0].1.sentence == stretch[stretch.len() - 1].1.sentence
        };
        let first = self.tokens.windows(words.len()).find(is_here)?;
        let span = Span { start: first[0].1.span.start, end: first[first.len() - 1].1.span.end };
        (first[0].0 >= self.last_part).then_some(span)
    }
}

fn says_something(token: &Token) -> bool {
    !is_function_word(&token.folded) && !is_function_word(bare(&token.folded))
}

fn are_forms(one: &Token, other: &Token) -> bool {
    let (one, other) = (bare(&one.folded), bare(&other.folded));
    one.chars().next() == other.chars().next() && (is_form_of(one, other) || is_form_of(other, one))
}

fn is_rare(token: &Token) -> bool {
    u64::from(count(bare(&token.folded))) * 1_000_000 < RARE * running_words()
}

fn late(draft: &[Token], story: &Story) -> Vec<Taken> {
    let telling = Telling::of(story);
    let mut found: Vec<Taken> = Vec::new();
    let own: Vec<&Token> = draft.iter().filter(|token| says_something(token)).collect();
    let pairs = own.windows(2).filter(|pair| pair[0].sentence == pair[1].sentence);
    for words in own.chunks(1).chain(pairs) {
        let is_told = |known: &Taken| words.iter().any(|word| known.in_draft == word.span);
        if !words.iter().any(|word| is_rare(word)) || found.iter().any(is_told) {
            continue;
        }
        if let Some(in_story) = telling.first_late(words) {
            let in_draft = Span { start: words[0].span.start, end: words[words.len() - 1].span.end };
            found.push(Taken { in_draft, in_story });
        }
    }
    found.sort_by_key(|taken| taken.in_draft);
    found
}

fn sentences(draft: &[Token], story: &Story) -> Vec<Taken> {
    // All words between blanks, and where each begins, so that a sentence is looked up as one string.
    let mut all = String::from(" ");
    let mut starts = Vec::with_capacity(story.tokens.len());
    for token in &story.tokens {
        starts.push(all.len() - 1);
        all.push_str(&token.folded);
        all.push(' ');
    }
    let lifted = |words: &[Token]| {
        let wanted: String = words.iter().map(|token| format!(" {}", token.folded)).collect();
        let first = starts.binary_search(&all.find(&format!("{wanted} "))?).ok()?;
        let (from, to) = (&story.tokens[first], &story.tokens[first + words.len() - 1]);
        let (own, own_end) = (words.first()?.span, words.last()?.span);
        Some(Taken {
            in_draft: Span { start: own.start, end: own_end.end },
            in_story: Span { start: from.span.start, end: to.span.end },
        })
    };
    let by_sentence = draft.chunk_by(|one, other| one.sentence == other.sentence);
    by_sentence.filter(|words| words.len() >= SHORTEST_SENTENCE).filter_map(lifted).collect()
}

#[cfg(test)]
mod tests {
    use super::find;
    use crate::brief::Book;
    use crate::draft::Draft;
    use crate::text::Text;
    use crate::text::story::Story;

    const STORY: &str = include_str!("../../drafts/manuscript.txt");

    /// What the draft takes from the sample's manuscript: late wording, then sentences.
    fn check(copy: &str, late: &[&str], sentences: &[&str]) {
        let (draft, story, book) = (Draft::read(copy), Draft::read(STORY), Book::default());
        let story = Story::read(&Text::read(&story, &book));
        let found = find(&Text::read(&draft, &book), &story);
        let shown = |taken: &[super::Taken]| -> Vec<String> {
            taken.iter().map(|taken| copy[taken.in_draft.start..taken.in_draft.end].to_owned()).collect()
        };
        assert_eq!(shown(&found.late), late, "{copy}");
        assert_eq!(shown(&found.sentences), sentences, "{copy}");
        for taken in found.late.iter().chain(&found.sentences) {
            assert!(STORY.get(taken.in_story.start..taken.in_story.end).is_some_and(|words| !words.is_empty()));
        }
    }

    #[test]
    fn wording_of_the_last_part() {
        check("Will Quillon's nightshirt save the boats?", &["nightshirt"], &[]);
        check("Oona climbs the stairs to the lamp. The star went in and out.", &[], &[]);
    }

    #[test]
    fn sentences_lifted_whole() {
        check("So it is. *Oona* had counted them!  The lamp was dark.", &[], &["Oona* had counted them"]);
        check(
            "“As far as it is needed,” said Quillon. So was the day.",
            &[],
            &["As far as it is needed,” said Quillon", "So was the day"],
        );
    }

    #[test]
    fn nothing_is_taken_from_nothing() {
        check("", &[], &[]);
    }
}
