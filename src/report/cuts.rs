//! Cuts with their prices: each is made in the author's file, which is read, measured and set again.

use std::ops::Range;

use super::effects::Figures;
use super::{Report, ReportMemory, assess_again};
use crate::brief::Brief;
use crate::draft::{Draft, Edit, edited};
use crate::queries::{Cut, Query};
use crate::setting::{Faces, Work};
use crate::terms::coverage::Coverage;
use crate::text::Text;

/// A blank at which no line ends.
const NO_BREAK: char = '\u{a0}';

/// One shorter wording of a place, and what it wins.
#[derive(Debug, Clone)]
pub struct PricedCut {
    /// The number of what it answers, from 0: a query, or a word that has others.
    pub query: usize,
    /// Which of the wordings for that it is, from 0.
    pub wording: usize,
    /// The number of its block among the draft's blocks, from 0.
    pub block: usize,
    /// The cut.
    pub cut: Cut,
    /// The cut as a change of the author's file.
    pub edit: Edit,
    /// The place whose lines the cut wins; none where the brief has no places.
    pub place: Option<String>,
    /// The sentence that the cut stands in, in bytes of the block's text.
    pub sentence: Range<usize>,
    /// What the cut wins.
    pub price: CutPrice,
}

/// What a cut wins, made alone.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPrice {
    /// The figures before the cut.
    pub before: Figures,
    /// The figures after the cut.
    pub after: Figures,
    /// Wanted terms that the copy has only with the cut.
    pub terms_gained: Vec<String>,
    /// Wanted terms and names that the copy loses by it.
    pub lost: Vec<String>,
    /// Each value that has a limit, after the cut, in the order of the verdict.
    pub(super) values: Vec<Option<f64>>,
}

impl CutPrice {
    /// Letters won back; below zero where the wording is longer.
    pub fn letters(&self) -> i64 {
        self.before.letters as i64 - self.after.letters as i64
    }

    /// Words won back.
    pub fn words(&self) -> i64 {
        self.before.words as i64 - self.after.words as i64
    }

    /// Lines won back.
    pub fn lines(&self) -> i64 {
        self.before.lines as i64 - self.after.lines as i64
    }

    /// The letters given up for each line that is won; none where no line is won.
    pub(super) fn letters_a_line(&self) -> Option<i64> {
        (self.lines() > 0).then(|| self.letters() / self.lines())
    }
}

/// What cuts are tried on.
pub(super) struct Ground<'a> {
    /// The author's file.
    pub(super) source: &'a str,
    /// The file, read.
    pub(super) draft: &'a Draft,
    /// The author's settings.
    pub(super) brief: &'a Brief,
    /// The fonts.
    pub(super) faces: &'a Faces,
    /// The draft, measured.
    pub(super) report: &'a Report,
    /// The steps of work that it takes to set the blocks whose lines are chosen together once.
    pub(super) steps_together: usize,
}

/// How many times `steps_together` each cut is counted: where lines are chosen together, measuring a draft sets it at
/// many sizes. With this count the cuts take some seconds in all, whatever the length.
const SETTINGS: usize = 4;

/// How many names are looked for in a byte of text in the time of one step of work.
const NAMES_A_STEP: usize = 16;

impl Ground<'_> {
    /// The draft with changes made in its file, measured; the memory is of other changes in the same file.
    pub(super) fn with(&self, edits: &[Edit], memory: &mut ReportMemory) -> (Draft, Report) {
        let draft = Draft::read(&edited(self.source, edits));
        let report = assess_again(&draft, self.brief, self.faces, memory);
        (draft, report)
    }

    /// Every cut that can be made, with its price, as far as the work that may be done goes; and how many cuts were not
    /// tried. A cut that would not come out in the file as it was meant (in the middle of markup, for instance) cannot
    /// be made.
    pub(super) fn price(&self, queries: &[Query], text: &Text<'_>, work: &Work<'_>) -> (Vec<PricedCut>, usize) {
        let before = Figures::of_report(self.draft, self.report);
        let (mut cuts, mut untried, mut memory) = (Vec::new(), 0, ReportMemory::default());
        for (number, query) in queries.iter().enumerate() {
            for (wording, cut) in query.cuts.iter().enumerate() {
                if self.may_try_one(work) {
                    cuts.extend(self.price_one((number, wording), query.block, cut, (text, &before), &mut memory));
                } else {
                    untried += 1;
                }
            }
        }
        (cuts, untried)
    }

    /// Spends the work of one change in the file, which is then read, measured and set again, with its names counted;
    /// gives whether there was enough left.
    pub(super) fn may_try_one(&self, work: &Work<'_>) -> bool {
        let names = 1 + self.brief.book.names.len() / NAMES_A_STEP;
        work.spend_on_shaping(self.source) && work.spend(self.source.len() * names + self.steps_together * SETTINGS)
    }

    /// One change that can be made, with its price; none where it would not come out in the file as it was meant.
    pub(super) fn price_one(
        &self,
        (query, wording): (usize, usize),
        block: usize,
        cut: &Cut,
        (text, before): (&Text<'_>, &Figures),
        memory: &mut ReportMemory,
    ) -> Option<PricedCut> {
        let own = self.draft.blocks.get(block)?;
        let edit = cut.edit(own);
        let (draft, report) = self.with(std::slice::from_ref(&edit), memory);
        // Markdown may read changed bytes another way (a line that begins with a number becomes a list), so every block
        // is compared with what the cut was to leave.
        let is_as_meant = draft.blocks.len() == self.draft.blocks.len()
            && draft.blocks.iter().zip(&self.draft.blocks).enumerate().all(|(number, (after, before))| {
                if number == block {
                    after.text() == own.replaced(cut.range.clone(), &cut.wording).text().trim()
                } else {
                    after.text() == before.text()
                }
            });
        let after = Figures::of_report(&draft, &report);
        is_as_meant.then(|| PricedCut {
            query,
            wording,
            block,
            cut: cut.clone(),
            edit,
            place: self.report.fit.place_of_block(block).map(|place| place.name.clone()),
            sentence: sentence_of(text, block, &cut.range, own.text()),
            price: CutPrice {
                before: before.clone(),
                after,
                terms_gained: gained(&self.report.coverage, &report.coverage),
                lost: [gained(&report.coverage, &self.report.coverage), self.names_lost(&draft)].concat(),
                values: report.verdict.checks.iter().map(|check| check.value).collect(),
            },
        })
    }

    /// Declared names that another draft has fewer times than this one; a blank at which no line ends keeps a name
    /// whole.
    fn names_lost(&self, other: &Draft) -> Vec<String> {
        let plain = |text: &str| text.replace(NO_BREAK, " ");
        let [before, after] = [self.draft, other].map(|draft| {
            let texts: Vec<String> = draft.blocks.iter().map(|block| plain(block.text())).collect();
            texts.join("\n")
        });
        let is_lost = |name: &&str| after.matches(&plain(name)).count() < before.matches(&plain(name)).count();
        let names = self.brief.book.names.iter().map(|name| name.name.as_str());
        names.filter(is_lost).map(str::to_owned).collect()
    }
}

/// The terms that the second coverage has and the first has not.
fn gained(first: &Coverage, second: &Coverage) -> Vec<String> {
    let pairs = first.items.iter().zip(&second.items);
    pairs
        .filter(|(first, second)| !first.is_present() && second.is_present())
        .map(|(_, item)| item.term.term.clone())
        .collect()
}

/// The sentence in which a stretch of a block stands; the whole block where it has no sentences of its own.
fn sentence_of(text: &Text<'_>, block: usize, range: &Range<usize>, own: &str) -> Range<usize> {
    let sentences = text.parts().into_iter().flat_map(|part| &part.sentences);
    let touched = sentences.filter(|sentence| {
        sentence.block == block
            && sentence.range.start < range.end.max(range.start + 1)
            && range.start < sentence.range.end
    });
    // A stretch may run over a sentence's end, so all sentences that it touches are taken together.
    let whole = touched.fold(None, |known: Option<Range<usize>>, sentence| {
        let start = known.as_ref().map_or(sentence.range.start, |known| known.start);
        Some(start.min(range.start)..sentence.range.end.max(range.end))
    });
    whole.unwrap_or(0..own.len())
}
