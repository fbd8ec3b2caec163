//! Finds the brief's terms in the headline and the blurb.
//!
//! A term is found in any case, over line ends and markup, with straight or curly apostrophes, with its compounds
//! hyphened, closed up or apart, in its regular inflections and in the other wordings that the brief names. Terms that
//! overlap each count; the wordings of one term do not count twice at one place. How often a term should stand is for
//! the author to say, so no density is computed.

use std::ops::Range;

use crate::brief::Terms;
use crate::brief::terms::Term;
use crate::draft::{Block, BlockKind, Remembered, Span};

use super::phrases::CutText;
use crate::text::Text;

/// What the copy carries of the brief's terms.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Coverage {
    /// The wanted terms, in the order of the brief.
    pub items: Vec<CoveredTerm>,
    /// The wordings to avoid, in the order of the brief; those that stand nowhere have no places.
    pub avoid: Vec<Avoided>,
}

/// A wanted term and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CoveredTerm {
    /// The term as the brief has it.
    pub term: Term,
    /// Every place in the file: first those in the headline, then those in the blurb.
    pub spans: Vec<Span>,
    /// The kind of place where the term first stands; none where the copy does not have the term.
    pub first_in: Option<TermPlace>,
}

/// Where in the copy a term stands, best place first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TermPlace {
    /// In the headline.
    Headline,
    /// In the blurb's first sentence.
    FirstSentence,
    /// Below the blurb's first sentence.
    Later,
}

/// A wording that the copy should not carry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Avoided {
    /// The wording as the brief has it.
    pub wording: String,
    /// Every place in the file.
    pub spans: Vec<Span>,
}

impl CoveredTerm {
    /// How often the term stands in the copy.
    pub fn count(&self) -> usize {
        self.spans.len()
    }

    /// Whether the copy has the term at all.
    pub fn is_present(&self) -> bool {
        !self.spans.is_empty()
    }

    /// Whether the draft is outside its limits because the term is missing.
    pub fn is_missed(&self) -> bool {
        self.term.must && !self.is_present()
    }

    /// Whether the term stands in the copy more often than the brief allows.
    pub fn is_overdone(&self) -> bool {
        self.term.at_most.is_some_and(|most| u32::try_from(self.count()).map_or(true, |count| count > most))
    }
}

impl Coverage {
    /// How many terms are wanted.
    pub fn wanted(&self) -> usize {
        self.items.len()
    }

    /// How many of the wanted terms the copy carries.
    pub fn covered(&self) -> usize {
        self.items.iter().filter(|item| item.is_present()).count()
    }

    /// The wanted terms that the copy does not carry, in the order of the brief.
    pub fn missing(&self) -> impl Iterator<Item = &CoveredTerm> {
        self.items.iter().filter(|item| !item.is_present())
    }
}

/// What was last found in each paragraph: for each wanted term and then each wording to avoid, its places.
#[derive(Debug, Default)]
pub struct CoverageMemory(Remembered<Terms, Vec<Vec<Range<usize>>>>);

/// Looks the terms up in a text.
pub fn find(text: &Text, terms: &Terms) -> Coverage {
    find_again(text, terms, &mut CoverageMemory::default())
}

/// Incremental [`find`]: looks only in the paragraphs that have changed since the memory was last used.
pub fn find_again(text: &Text, terms: &Terms, memory: &mut CoverageMemory) -> Coverage {
    let sought: Vec<Vec<CutText>> =
        terms.wanted.iter().map(wordings).chain(terms.avoid.iter().map(|one| vec![CutText::cut(one)])).collect();
    let blocks = || text.parts().into_iter().flat_map(|part| &part.paragraphs).map(|paragraph| paragraph.block);
    let in_block = |block: &Block, ()| {
        let pieces = CutText::cut(block.text());
        sought.iter().map(|wordings| pieces.find(wordings)).collect()
    };
    let mut hits: Vec<Vec<TermHit>> = sought.iter().map(|_| Vec::new()).collect();
    let found = memory.0.renew(terms.clone(), blocks().map(|number| (text.block(number), ())), in_block);
    for (block, found) in blocks().zip(found) {
        for (hits, ranges) in hits.iter_mut().zip(found) {
            hits.extend(ranges.iter().map(|range| TermHit { block, range: range.clone() }));
        }
    }
    let mut hits = hits.into_iter();
    let items = terms.wanted.iter().zip(&mut hits).map(|(term, hits)| {
        let first_in = hits.first().map(|hit| place(text, hit));
        CoveredTerm { term: term.clone(), spans: spans(text, hits), first_in }
    });
    let items = items.collect();
    let avoid = terms.avoid.iter().zip(hits);
    let avoid = avoid.map(|(wording, hits)| Avoided { wording: wording.clone(), spans: spans(text, hits) });
    Coverage { items, avoid: avoid.collect() }
}

/// A term and what else it may be called.
fn wordings(term: &Term) -> Vec<CutText<'_>> {
    std::iter::once(&term.term).chain(&term.also).map(|wording| CutText::cut(wording)).collect()
}

/// Whether a wording is one of the terms or holds one.
pub fn holds_a_term(wording: &str, terms: &Terms) -> bool {
    let wordings: Vec<CutText> = terms.wanted.iter().flat_map(wordings).collect();
    !CutText::cut(wording).find(&wordings).is_empty()
}

/// A place of a term, in a block.
struct TermHit {
    block: usize,
    range: Range<usize>,
}

fn place(text: &Text, hit: &TermHit) -> TermPlace {
    let first = text.blurb.sentences.first();
    if text.block(hit.block).kind == BlockKind::Headline {
        TermPlace::Headline
    } else if first.is_some_and(|first| first.block == hit.block && hit.range.start < first.range.end) {
        TermPlace::FirstSentence
    } else {
        TermPlace::Later
    }
}

fn spans(text: &Text, hits: Vec<TermHit>) -> Vec<Span> {
    hits.into_iter().map(|hit| text.span(hit.block, hit.range)).collect()
}

#[cfg(test)]
mod tests {
    use super::{Coverage, TermPlace, find};
    use crate::brief::Book;
    use crate::brief::terms::{Term, Terms};
    use crate::draft::Draft;
    use crate::text::Text;

    const COPY: &str = "# The lighthouse\n\nOona loves a *bedtime\nstory*. Bedtime\nstories bring storms, a storm, a \
                        **Storm**.\n\n> A magical journey.\n> — A. Fenn\n\nA magical journey at bed-time.\n";

    fn coverage(wanted: Vec<Term>) -> Coverage {
        let draft = Draft::read(COPY);
        let terms = Terms { wanted, avoid: vec!["magical journey".to_owned(), "unputdownable".to_owned()] };
        find(&Text::read(&draft, &Book::default()), &terms)
    }

    fn term(term: &str) -> Term {
        Term { term: term.to_owned(), ..Term::default() }
    }

    #[test]
    fn places_and_counts() {
        let found = coverage(vec![term("lighthouse"), term("bedtime story"), term("bedtime"), term("storm")]);
        let items: Vec<_> = found.items.iter().map(|item| (item.count(), item.first_in)).collect();
        assert_eq!(
            items,
            [
                (1, Some(TermPlace::Headline)),
                (2, Some(TermPlace::FirstSentence)),
                (3, Some(TermPlace::FirstSentence)),
                (3, Some(TermPlace::Later)),
            ]
        );
        let span = found.items[1].spans[0];
        assert_eq!(&COPY[span.start..span.end], "bedtime\nstory");
    }

    #[test]
    fn must_and_at_most() {
        let must = Term { must: true, also: vec!["oona loves".to_owned()], ..term("keeper") };
        let found = coverage(vec![
            must.clone(),
            Term { also: Vec::new(), ..must },
            Term { at_most: Some(2), ..term("storm") },
            Term { at_most: Some(3), ..term("storm") },
        ]);
        let missed: Vec<bool> = found.items.iter().map(super::CoveredTerm::is_missed).collect();
        assert_eq!(missed, [false, true, false, false]);
        let overdone: Vec<bool> = found.items.iter().map(super::CoveredTerm::is_overdone).collect();
        assert_eq!(overdone, [false, false, true, false]);
        assert_eq!((found.wanted(), found.covered()), (4, 3));
        assert_eq!(found.missing().count(), 1);
    }

    #[test]
    fn wordings_to_avoid_are_not_looked_for_in_quotes() {
        let found = coverage(Vec::new());
        assert_eq!(found.avoid.iter().map(|avoided| avoided.spans.len()).collect::<Vec<_>>(), [1, 0]);
    }

    #[test]
    fn a_term_without_letters_is_never_found() {
        assert_eq!(coverage(vec![term("!")]).covered(), 0);
    }
}
