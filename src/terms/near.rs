//! Finds what is nearly a term: misspelt, with its words apart or in another order, or a word of the same family.
//!
//! Near-misses are shown to the author and never counted. Three kinds are looked for, in the headline and the blurb:
//!
//! - spelling: a stretch of as many words as the term has, at a small edit distance from it (adjacent letters that
//!   change places are one step, as in F. Damerau, A Technique for Computer Detection and Correction of Spelling
//!   Errors, 1964), with the same first letter, which misspelt words mostly keep (E. Yannakoudakis and D. Fawthrop, The
//!   Rules of Spelling Errors, 1983). A word that a dictionary knows is another word, not a misspelt one;
//! - a broken phrase: the words of a term of several words in one sentence, apart or in another order;
//! - family: for a term of one word, a word made from the same base, or an irregular form.

use std::collections::BTreeMap;
use std::ops::Range;

use strsim::osa_distance;

use crate::draft::Span;

use super::coverage::{Coverage, CoveredTerm};
use super::family::are_kin;
use super::frequencies;
use super::phrases::CutText;
use super::spellings::bare;
use crate::text::inflections::is_form_of;
use crate::text::lexicon;
use crate::text::{Sentence, Text};

/// Something that is nearly a term.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Near {
    /// What kind of near-miss it is.
    pub kind: NearKind,
    /// The wording that it is near to: the term or one of its other wordings.
    pub wording: String,
    /// Where the near-miss stands in the file.
    pub span: Span,
}

/// The kinds of near-misses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NearKind {
    /// Spelt a little otherwise.
    Spelling,
    /// The words of the phrase, apart or in another order.
    Broken,
    /// A word of the same family.
    Family,
}

/// The near-misses of each wanted term, in the order of the coverage; those of one term in the order of the file.
pub fn find(text: &Text, coverage: &Coverage) -> Vec<Vec<Near>> {
    let sentences = Sentences::cut(text);
    coverage.items.iter().map(|item| sentences.near(text, item)).collect()
}

/// The most steps of spelling between a near-miss and a term of so many letters.
fn most_steps(letters: usize) -> usize {
    match letters {
        0..4 => 0,
        4..8 => 1,
        _ => 2,
    }
}

/// The most words that a broken phrase may extend over.
const FARTHEST: usize = 24;

/// The sentences of the headline and the blurb, cut into pieces.
struct Sentences<'d> {
    sentences: Vec<(Sentence, CutText<'d>)>,
}

impl<'d> Sentences<'d> {
    fn cut(text: &Text<'d>) -> Self {
        let sentences = text.parts().into_iter().flat_map(|part| &part.sentences);
        let cut = |sentence: &Sentence| (sentence.clone(), CutText::cut(text.sentence(sentence)));
        Self { sentences: sentences.map(cut).collect() }
    }

    /// The near-misses of one term. Of two that share a byte only the one found first is kept, and none is kept that
    /// shares a byte with the term itself.
    fn near(&self, text: &Text, item: &CoveredTerm) -> Vec<Near> {
        let mut near: Vec<Near> = Vec::new();
        let mut taken = TakenSpans::default();
        item.spans.iter().for_each(|span| taken.insert(*span));
        for written in std::iter::once(&item.term.term).chain(&item.term.also) {
            let wording: Vec<String> = CutText::cut(written).iter().map(|(_, piece)| piece.to_owned()).collect();
            for (sentence, pieces) in &self.sentences {
                let words: Vec<PieceAt> = pieces.iter().collect();
                for (kind, range) in near_in(text, &wording, &words) {
                    let start = sentence.range.start;
                    let span = text.span(sentence.block, start + range.start..start + range.end);
                    if taken.is_free(span) {
                        taken.insert(span);
                        near.push(Near { kind, wording: written.clone(), span });
                    }
                }
            }
        }
        near.sort_by_key(|near| near.span);
        near
    }
}

/// Spans of a file that do not overlap: the end of each by its start.
#[derive(Default)]
struct TakenSpans(BTreeMap<usize, usize>);

impl TakenSpans {
    fn is_free(&self, span: Span) -> bool {
        self.0.range(..span.end).next_back().is_none_or(|(_, end)| *end <= span.start)
    }

    fn insert(&mut self, span: Span) {
        let end = self.0.entry(span.start).or_insert(span.end);
        *end = span.end.max(*end);
    }
}

/// A piece of a sentence: its bytes in the sentence, and its letters made small.
type PieceAt<'a> = (&'a Range<usize>, &'a str);

/// What is near a wording in one sentence.
fn near_in(text: &Text, wording: &[String], words: &[PieceAt]) -> Vec<(NearKind, Range<usize>)> {
    let mut found: Vec<(NearKind, Range<usize>)> =
        misspelt(text, wording, words).map(|range| (NearKind::Spelling, range)).collect();
    if let [term] = wording {
        let kin = words.iter().filter(|(_, word)| are_kin(word, term));
        found.extend(kin.map(|(range, _)| (NearKind::Family, (*range).clone())));
    }
    found.extend(broken(wording, words).map(|range| (NearKind::Broken, range)));
    found
}

/// Stretches of as many words as the wording has that are spelt nearly like it.
fn misspelt(text: &Text, wording: &[String], words: &[PieceAt]) -> impl Iterator<Item = Range<usize>> {
    let term = wording.join(" ");
    let letters = term.chars().count();
    let most = most_steps(letters);
    let first = term.chars().next();
    let is_near = move |stretch: &&[PieceAt]| {
        if most == 0 || bare(stretch[0].1).chars().next() != first {
            return false;
        }
        let written: Vec<&str> = stretch.iter().map(|(_, word)| bare(word)).collect();
        let written = written.join(" ");
        written.chars().count().abs_diff(letters) <= most
            && (1..=most).contains(&osa_distance(&written, &term))
            && stretch.iter().zip(wording).all(|((_, word), piece)| is_form_of(word, piece) || is_no_word(text, word))
    };
    let stretch = |stretch: &[PieceAt]| stretch[0].0.start..stretch[stretch.len() - 1].0.end;
    words.windows(wording.len().max(1)).filter(is_near).map(stretch)
}

/// Whether no dictionary and no name of the brief knows a word.
fn is_no_word(text: &Text, word: &str) -> bool {
    let word = bare(word);
    lexicon::syllables(word).is_none() && frequencies::count(word) == 0 && !text.names.words().any(|name| name == word)
}

/// The shortest stretch of a sentence that holds every word of a phrase, function words aside.
fn broken(wording: &[String], words: &[PieceAt]) -> Option<Range<usize>> {
    let telling: Vec<&String> = wording.iter().filter(|piece| !frequencies::is_function_word(piece)).collect();
    if telling.len() < 2 {
        return None;
    }
    // From each word of the phrase on, words are passed until all that say something were met; the shortest way wins.
    let from = |at: usize| {
        telling.iter().find(|piece| is_form_of(words[at].1, piece))?;
        let mut missing = telling.clone();
        for (range, word) in words[at..].iter().take(FARTHEST) {
            let Some(found) = missing.iter().position(|piece| is_form_of(word, piece)) else { continue };
            missing.remove(found);
            if missing.is_empty() {
                return Some(words[at].0.start..range.end);
            }
        }
        None
    };
    (0..words.len()).filter_map(from).min_by_key(Range::len)
}

#[cfg(test)]
mod tests {
    use super::{NearKind, find};
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::brief::terms::{Term, Terms};
    use crate::draft::Draft;
    use crate::terms::coverage;
    use crate::text::Text;

    fn check(term: &str, copy: &str, expected: &[(NearKind, &str)]) {
        let draft = Draft::read(copy);
        let book = Book { names: vec![Name { name: "Stormy".to_owned(), syllables: None }], ..Book::default() };
        let text = Text::read(&draft, &book);
        let wanted = vec![Term { term: term.to_owned(), ..Term::default() }];
        let near = find(&text, &coverage::find(&text, &Terms { wanted, avoid: Vec::new() })).remove(0);
        let found: Vec<_> = near.iter().map(|near| (near.kind, &copy[near.span.start..near.span.end])).collect();
        assert_eq!(found, expected, "{term}: {copy}");
    }

    #[test]
    fn misspelt_terms() {
        check(
            "lighthouse",
            "The lighthose and the *lihgthouse*’s lamp.",
            &[(NearKind::Spelling, "lighthose"), (NearKind::Spelling, "lihgthouse*’s")],
        );
        check("bedtime story", "A bedtime stroy.", &[(NearKind::Spelling, "bedtime stroy")]);
        check("storm", "A story of a store. Strm.", &[(NearKind::Spelling, "Strm")]);
        check("cat", "A caat.", &[]);
        check("storm", "Stormz, the lighthouse.", &[(NearKind::Spelling, "Stormz")]);
    }

    #[test]
    fn broken_phrases() {
        check(
            "bedtime story",
            "At bedtime he tells a story.\n\nA story at bedtime.",
            &[(NearKind::Broken, "bedtime he tells a story"), (NearKind::Broken, "story at bedtime")],
        );
        check("bedtime story", "A bedtime. A story.", &[]);
        check("bedtime story", "A bedtime story.", &[]);
        check("keeper of the light", "The light's *good\nkeeper*.", &[(NearKind::Broken, "light's *good\nkeeper")]);
    }

    #[test]
    fn words_of_the_family() {
        check("brave", "Braver, bravely, braved.", &[(NearKind::Family, "Braver"), (NearKind::Family, "bravely")]);
        check("mouse", "Three mice.", &[(NearKind::Family, "mice")]);
        check("storm", "A thunderstorm.", &[]);
    }
}
