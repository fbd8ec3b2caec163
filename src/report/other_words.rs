//! Other words with what each wins: each is put in the author's file, which is read, measured and set again.

use std::collections::HashSet;
use std::ops::Range;

use rayon::prelude::*;

use super::cuts::{Ground, PricedCut};
use super::effects::Figures;
use super::sizes::{Priced, priced};
use super::tighten::{DraftFile, wording};
use super::{Report, ReportMemory};
use crate::brief::Brief;
use crate::brief::phrases::fold;
use crate::draft::{BlockKind, Draft};
use crate::queries::other_words::{AskedWord, NoOthers, other_words};
use crate::queries::{self, Cut, QueryMemory, Reading};
use crate::setting::lines::Setting;
use crate::setting::{Faces, Rooms, SettingMemory, ShapedCopy, Work};
use crate::terms::other_words::are_kin;
use crate::text::{Text, words};

/// The words of a draft that are asked about, with their others.
#[derive(Debug, Clone, Default)]
pub struct OtherWords {
    /// The words, in the order of the copy.
    pub words: Vec<TriedWord>,
    /// The paragraphs that are a few letters over a line, with the words that would win it; only where the whole draft
    /// is asked about.
    pub lines: Vec<NearLine>,
    /// How many others were not tried, where the copy is too long to try each.
    pub untried: usize,
}

/// A word with its others, each tried.
#[derive(Debug, Clone)]
pub struct TriedWord {
    /// The word.
    pub asked: AskedWord,
    /// The others that can be put in, the best first.
    pub others: Vec<PricedCut>,
    /// Whether some of its others were not tried.
    pub is_untried: bool,
}

/// A paragraph that takes a line less with a few letters less.
#[derive(Debug, Clone)]
pub struct NearLine {
    /// The paragraph, and what a line costs in it.
    pub priced: Priced,
    /// The other words each of which wins a line, in the order of the copy.
    pub winners: Vec<PricedCut>,
}

/// Which words of a draft are asked about.
#[derive(Debug, Clone, Copy)]
pub enum WhichWords<'a> {
    /// The word at a byte of the file, or right before it.
    At(usize),
    /// Every place of a word, in any form.
    Named(&'a str),
    /// The words outside the list of the readers' measure, and those that would win a line.
    Whole,
}

/// The most letters by which a paragraph may be over a line for words to be looked for that would win it.
const A_FEW_LETTERS: usize = 10;

/// Steps of work that are done for the others of one draft: a thousand others in a blurb of three hundred words.
const STEPS: usize = 15_000_000;

impl OtherWords {
    /// Finds and tries other words in a draft.
    pub fn of(
        file: DraftFile<'_>,
        draft: &Draft,
        brief: &Brief,
        (faces, report): (&Faces, &Report),
        which: WhichWords<'_>,
    ) -> Self {
        let text = Text::read(draft, &brief.book);
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let rooms = Rooms::of(brief);
        let setting = Setting::new(&copy, copy.forms(), &rooms);
        let art = report.legibility.as_ref().map_or(&[][..], |art| &art.lines);
        let reading = Reading { draft, text: &text, level: &report.level, setting: &setting, art, brief };
        let mut memory = QueryMemory::default();
        let stood = stood(file, &reading, &mut memory);
        let mut asked = other_words(&reading, &report.coverage, &stood, &mut memory);
        // Words that are not the author's to change are told of only where they are asked about themselves.
        if !matches!(which, WhichWords::Whole) {
            asked.extend(not_own(draft));
        }
        asked.sort_by_key(|word| (word.block, word.range.start));
        // What a line costs takes long to find, and is told of a whole draft alone.
        let near: Vec<Priced> = match which {
            WhichWords::Whole => {
                let is_near =
                    |priced: &Priced| priced.price.win.as_ref().is_some_and(|win| win.letters <= A_FEW_LETTERS);
                priced(draft, &copy, &setting, &rooms, &|| true).into_iter().filter(is_near).collect()
            }
            _ => Vec::new(),
        };
        let steps_together = Setting::steps_together(&copy, &rooms);
        let ground = Ground { source: file.source, draft, brief, faces, report, steps_together };
        Self::tried(&ground, &text, &asked, near, which)
    }

    fn tried(
        ground: &Ground<'_>,
        text: &Text<'_>,
        asked: &[AskedWord],
        near: Vec<Priced>,
        which: WhichWords<'_>,
    ) -> Self {
        let draft = ground.draft;
        let is_asked = |word: &AskedWord| is_meant(word, draft, which);
        let is_near = |word: &AskedWord| near.iter().any(|priced| priced.price.paragraph == word.block);
        // What may be tried is settled first and in order, so that the same words are tried on any number of cores.
        let work = Work::of(STEPS, &|| true);
        let (mut tries, mut untried): (Vec<(usize, usize, &Cut)>, Vec<usize>) = (Vec::new(), Vec::new());
        for (number, word) in asked.iter().enumerate() {
            let cuts = word.others.iter().flatten().enumerate();
            let wanted =
                cuts.filter(|(_, cut)| is_asked(word) || is_near(word) && saves_letters(draft, word.block, cut));
            for (other, cut) in wanted {
                if ground.may_try_one(&work) {
                    tries.push((number, other, cut));
                } else {
                    untried.push(number);
                }
            }
        }
        let before = Figures::of_report(draft, ground.report);
        let price = |memory: &mut ReportMemory, (number, other, cut): &(usize, usize, &Cut)| {
            ground.price_one((*number, *other), asked[*number].block, cut, (text, &before), memory)
        };
        // Each other word is made in the file by itself, so all of them can be tried at once.
        let found = tries.par_iter().map_init(ReportMemory::default, price).flatten_iter();
        let found: Vec<PricedCut> = found.collect();
        let not_all: HashSet<usize> = untried.iter().copied().collect();
        let others = |number: usize| found.iter().filter(|cut| cut.query == number).cloned().collect();
        let winners = |block: usize| found.iter().filter(move |cut| cut.block == block && cut.price.lines() > 0);
        let numbered = asked.iter().enumerate().filter(|(_, word)| is_asked(word));
        Self {
            words: numbered
                .map(|(number, word)| TriedWord {
                    asked: word.clone(),
                    others: others(number),
                    is_untried: not_all.contains(&number),
                })
                .collect(),
            lines: near
                .into_iter()
                .map(|priced| NearLine { winners: winners(priced.price.paragraph).cloned().collect(), priced })
                .filter(|line| !line.winners.is_empty())
                .collect(),
            untried: untried.len(),
        }
    }
}

/// The places of the wordings that the author lets stand: each with its block and the bytes of the block's text.
fn stood(file: DraftFile<'_>, reading: &Reading<'_>, memory: &mut QueryMemory) -> Vec<(usize, Range<usize>)> {
    if file.stet.of(file.name).is_empty() {
        return Vec::new();
    }
    let queries = queries::find(reading, memory);
    let stands = queries.iter().filter(|query| file.stet.holds(file.name, query.rule, wording(query, reading.draft)));
    stands.map(|query| (query.block, query.range.clone())).collect()
}

/// The words of the blocks that are not the author's to change word by word.
fn not_own(draft: &Draft) -> Vec<AskedWord> {
    let own = [BlockKind::Headline, BlockKind::Blurb, BlockKind::NoteOnTheAuthor];
    let blocks = draft.blocks.iter().enumerate().filter(|(_, block)| !own.contains(&block.kind));
    let word = |block, range| AskedWord { block, range, is_outside: false, others: Err(NoOthers::NotOwn) };
    blocks
        .flat_map(|(number, block)| words::find(block.text()).into_iter().map(move |range| word(number, range)))
        .collect()
}

fn is_meant(word: &AskedWord, draft: &Draft, which: WhichWords<'_>) -> bool {
    let Some(block) = draft.blocks.get(word.block) else { return false };
    match which {
        WhichWords::Whole => word.is_outside,
        WhichWords::At(byte) => {
            let span = block.span(word.range.clone());
            (span.start..=span.end).contains(&byte)
        }
        WhichWords::Named(name) => {
            let written = fold(block.text().get(word.range.clone()).unwrap_or_default());
            written == fold(name) || are_kin(&written, &fold(name))
        }
    }
}

/// Whether a change leaves fewer letters.
fn saves_letters(draft: &Draft, block: usize, cut: &Cut) -> bool {
    let letters = |text: &str| text.chars().filter(|letter| letter.is_alphanumeric()).count();
    let before = draft.blocks.get(block).and_then(|block| block.text().get(cut.range.clone())).unwrap_or_default();
    letters(&cut.wording) < letters(before)
}
