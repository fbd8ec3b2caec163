//! Finds what two drafts have in common: which blocks, sentences and words of one are those of the other.
//!
//! What is the same is found first, by the shortest way from one list to the other (E. W. Myers, An O(ND) Difference
//! Algorithm, 1986). In each gap that is left, entries are paired so that the sum of their likenesses is the greatest.

use std::collections::BTreeMap;
use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use crate::draft::Block;
use crate::text::{sentences_of, words};

/// A gap with more possible pairs than this gets none: it is a rewriting, in which no reader would see pairs.
const MOST_PAIRS: usize = 250_000;

/// Two lists with more entries together than this are compared at either end alone: the shortest way from one to the
/// other takes time that grows with their length and with what is between them. The limit leaves room for the blocks of
/// four novels, and for a sentence of five thousand words.
const LONGEST: usize = 20_000;

/// Two sentences count as one that was changed where this share of their words is the same.
const SAME_SENTENCE: f64 = 0.5;

/// A sentence elsewhere counts as one that was moved where this share of its words is the same.
const MOVED_SENTENCE: f64 = 0.75;

/// A sentence of fewer words that stands elsewhere has been written anew, not moved with changes.
const LEAST_MOVED: usize = 4;

/// What a pair of blocks of one kind is worth at the least, however unlike they are.
const SAME_KIND: f64 = 0.05;

/// A pair of positions in two lists, or a position that is in one of them alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Match {
    /// In both, and the same.
    Same(usize, usize),
    /// In both, and changed.
    Changed(usize, usize),
    /// In the first alone.
    Gone(usize),
    /// In the second alone.
    New(usize),
}

/// A sentence with what it is compared by.
#[derive(Debug, Clone)]
pub(super) struct MatchedSentence {
    /// Bytes of the block's text.
    pub(super) range: Range<usize>,
    /// The blank before it; none where it is the first of its block.
    pub(super) lead: Option<Range<usize>>,
    /// The sentence's text with its emphasis.
    pub(super) key: String,
    /// The sentence's words in small letters, in the order of the alphabet.
    pub(super) words: Vec<String>,
}

/// The sentences of a block.
pub(super) fn sentences(block: &Block) -> Vec<MatchedSentence> {
    let mut end = None;
    let ranges = sentences_of(block.text()).into_iter();
    ranges
        .map(|range| {
            let lead = end.map(|end| end..range.start);
            end = Some(range.end);
            let words = sorted_words(&block.text()[range.clone()]);
            MatchedSentence { lead, key: key(block, &range), words, range }
        })
        .collect()
}

/// A stretch of a block as one text that is equal only for stretches of the same words with the same emphasis.
pub(super) fn key(block: &Block, range: &Range<usize>) -> String {
    let mut part = Block::unplaced(block.kind);
    part.take_part(block, range.clone());
    let mark = |(run, emphasis): &(Range<usize>, crate::draft::Emphasis)| {
        let mark = match (emphasis.bold, emphasis.italic) {
            (false, false) => '\u{0}',
            (true, false) => '\u{1}',
            (false, true) => '\u{2}',
            (true, true) => '\u{3}',
        };
        format!("{mark}{}", &part.text()[run.clone()])
    };
    part.runs().iter().map(mark).collect()
}

fn sorted_words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = words::find(text).into_iter().map(|word| text[word].to_lowercase()).collect();
    words.sort();
    words
}

/// What share of the words of two texts is the same, whatever their order: from 0 to 1 (the coefficient of Dice 1945).
fn likeness(one: &[String], other: &[String]) -> f64 {
    // Both lists are sorted, so the smaller of two words is in one of them alone.
    let (mut at, mut common) = ((0, 0), 0_u32);
    while let (Some(a), Some(b)) = (one.get(at.0), other.get(at.1)) {
        match a.cmp(b) {
            std::cmp::Ordering::Less => at.0 += 1,
            std::cmp::Ordering::Greater => at.1 += 1,
            std::cmp::Ordering::Equal => {
                at = (at.0 + 1, at.1 + 1);
                common += 1;
            }
        }
    }
    2.0 * f64::from(common) / (one.len() + other.len()).max(1) as f64
}

/// The blocks of two drafts matched, in an order that keeps that of both.
pub(super) fn blocks(before: &[Block], after: &[Block]) -> Vec<Match> {
    let keys = |blocks: &[Block]| -> Vec<(u8, String)> {
        blocks.iter().map(|block| (block.kind as u8, key(block, &(0..block.text().len())))).collect()
    };
    let words =
        |blocks: &[Block]| -> Vec<Vec<String>> { blocks.iter().map(|block| sorted_words(block.text())).collect() };
    let (before_words, after_words) = (words(before), words(after));
    // A headline never becomes a quote: blocks of two kinds are no pair. Blocks of one kind are, even without a word in
    // common, since a blurb that was written anew is still the blurb.
    aligned(&keys(before), &keys(after), |a, b| {
        let same_kind = before[a].kind == after[b].kind;
        same_kind.then(|| SAME_KIND + likeness(&before_words[a], &after_words[b]))
    })
}

/// The sentences of two blocks matched, in an order that keeps that of both.
pub(super) fn of_sentences(before: &[MatchedSentence], after: &[MatchedSentence]) -> Vec<Match> {
    let keys = |sentences: &[MatchedSentence]| -> Vec<String> { sentences.iter().map(|one| one.key.clone()).collect() };
    aligned(&keys(before), &keys(after), |a, b| {
        Some(likeness(&before[a].words, &after[b].words)).filter(|likeness| *likeness >= SAME_SENTENCE)
    })
}

/// Two lists matched: equal entries by their keys, and in each gap the pairs whose worth adds up to the most.
fn aligned<K: std::hash::Hash + Ord>(
    before: &[K],
    after: &[K],
    worth: impl Fn(usize, usize) -> Option<f64>,
) -> Vec<Match> {
    let mut matches = Vec::new();
    for (gone, new, same) in gaps(before, after) {
        matches.extend(paired(gone, new, &worth));
        matches.extend(same.map(|(a, b)| Match::Same(a, b)));
    }
    matches
}

/// What is in one list alone and in the other alone, and what is the same behind them.
type Gap = (Range<usize>, Range<usize>, std::iter::Zip<Range<usize>, Range<usize>>);

fn gaps<K: std::hash::Hash + Ord>(before: &[K], after: &[K]) -> Vec<Gap> {
    if before.len() + after.len() > LONGEST {
        return ends_alike(before, after);
    }
    let (mut gaps, mut done) = (Vec::new(), (0, 0));
    // What is equal parts the lists; whatever lies between two equal stretches is one gap, which `paired` looks into.
    for op in capture_diff_slices(Algorithm::Myers, before, after) {
        if let DiffOp::Equal { old_index: a, new_index: b, len } = op {
            gaps.push((done.0..a, done.1..b, (a..a + len).zip(b..b + len)));
            done = (a + len, b + len);
        }
    }
    gaps.push((done.0..before.len(), done.1..after.len(), (0..0).zip(0..0)));
    gaps
}

/// What is equal at the start and at the end of two lists, and one gap between.
fn ends_alike<K: PartialEq>(before: &[K], after: &[K]) -> Vec<Gap> {
    let first = before.iter().zip(after).take_while(|(a, b)| a == b).count();
    let rest = before[first..].iter().rev().zip(after[first..].iter().rev());
    let last = rest.take_while(|(a, b)| a == b).count();
    let (a, b) = (before.len() - last, after.len() - last);
    vec![
        (0..0, 0..0, (0..first).zip(0..first)),
        (first..a, first..b, (a..before.len()).zip(b..after.len())),
        (before.len()..before.len(), after.len()..after.len(), (0..0).zip(0..0)),
    ]
}

/// The pairs of a gap, by a table of the greatest worth from each place on.
fn paired(gone: Range<usize>, new: Range<usize>, worth: &impl Fn(usize, usize) -> Option<f64>) -> Vec<Match> {
    if gone.is_empty() || new.is_empty() || gone.len() * new.len() > MOST_PAIRS {
        return gone.map(Match::Gone).chain(new.map(Match::New)).collect();
    }
    // `best[a, b]` is the greatest worth of pairs among what is gone from `a` on and what is new from `b` on. Filled
    // from the end, each cell needs only its neighbours behind it: either the first two are a pair, or one of them
    // stays alone.
    let width = new.len() + 1;
    let mut best = vec![0.0_f64; (gone.len() + 1) * width];
    let mut pairs = vec![false; best.len()];
    for a in (0..gone.len()).rev() {
        for b in (0..new.len()).rev() {
            let at = a * width + b;
            let apart = best[at + width].max(best[at + 1]);
            let together = worth(gone.start + a, new.start + b).map(|worth| worth + best[at + width + 1]);
            // Where both ways are worth the same the pair is taken, so that as much as can be is told as changed and
            // not as gone and new.
            pairs[at] = together.is_some_and(|together| together >= apart);
            best[at] = together.unwrap_or(0.0).max(apart);
        }
    }
    // The table is read from the start. Where the first two stay alone, the one goes first without which the rest is
    // worth more.
    let (mut a, mut b, mut matches) = (0, 0, Vec::new());
    while a < gone.len() || b < new.len() {
        let at = a * width + b;
        if a < gone.len() && b < new.len() && pairs[at] {
            matches.push(Match::Changed(gone.start + a, new.start + b));
            (a, b) = (a + 1, b + 1);
        } else if a < gone.len() && (b == new.len() || best[at + width] >= best[at + 1]) {
            matches.push(Match::Gone(gone.start + a));
            a += 1;
        } else {
            matches.push(Match::New(new.start + b));
            b += 1;
        }
    }
    matches
}

/// A stretch of a changed sentence: bytes of the one block and of the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct ChangedStretch {
    /// The stretch in the first draft.
    pub(super) before: Range<usize>,
    /// The stretch in the second draft.
    pub(super) after: Range<usize>,
    /// Whether the two are the same.
    pub(super) same: bool,
}

/// Compares the words of two stretches of blocks: gives what is the same and what is not, in turns.
pub(super) fn words_of(before: (&Block, Range<usize>), after: (&Block, Range<usize>)) -> Vec<ChangedStretch> {
    let (a, b) = (tokens(before.0, before.1.clone()), tokens(after.0, after.1.clone()));
    let keys = |block: &Block, tokens: &[Range<usize>]| -> Vec<String> {
        tokens.iter().map(|token| key(block, token)).collect()
    };
    // A stretch reaches to where the next one begins, so that the stretches together hold every byte.
    let bytes = |tokens: &[Range<usize>], part: &Range<usize>, whole: &Range<usize>| {
        let at = |index: usize| tokens.get(index).map_or(whole.end, |token| token.start);
        at(part.start)..at(part.end)
    };
    let mut stretches: Vec<ChangedStretch> = Vec::new();
    for (gone, new, same) in gaps(&keys(before.0, &a), &keys(after.0, &b)) {
        // What differs comes before what is the same behind it; either may be empty.
        let kept = same.clone().next().map_or((0..0, 0..0), |(a, b)| (a..a + same.len(), b..b + same.len()));
        for (a_part, b_part, same) in [(gone, new, false), (kept.0, kept.1, true)] {
            if !a_part.is_empty() || !b_part.is_empty() {
                let (before, after) = (bytes(&a, &a_part, &before.1), bytes(&b, &b_part, &after.1));
                stretches.push(ChangedStretch { before, after, same });
            }
        }
    }
    without_specks(stretches, before.0.text())
}

/// The words of a stretch of a block, and every other character by itself, as bytes of the block's text.
fn tokens(block: &Block, range: Range<usize>) -> Vec<Range<usize>> {
    let text = &block.text()[range.clone()];
    let mut tokens = Vec::new();
    let mut done = 0;
    let characters = |from: usize, to: usize, tokens: &mut Vec<Range<usize>>| {
        let each = text[from..to].char_indices().map(|(at, one)| from + at..from + at + one.len_utf8());
        tokens.extend(each);
    };
    for word in words::find(text) {
        characters(done, word.start, &mut tokens);
        done = word.end;
        tokens.push(word);
    }
    characters(done, text.len(), &mut tokens);
    tokens.into_iter().map(|token| range.start + token.start..range.start + token.end).collect()
}

/// Joins two changes into one where what stands between them is the same but holds no word: `old lamp` became `new
/// light`.
fn without_specks(stretches: Vec<ChangedStretch>, text: &str) -> Vec<ChangedStretch> {
    let mut kept: Vec<ChangedStretch> = Vec::new();
    // The last stretch is kept even without a word: no change follows it that it would part from the one before.
    for (at, stretch) in stretches.iter().enumerate() {
        let follows_change = kept.last().is_some_and(|last| !last.same);
        let is_speck =
            stretch.same && at + 1 < stretches.len() && words::find(&text[stretch.before.clone()]).is_empty();
        match kept.last_mut() {
            Some(last) if follows_change && (is_speck || !stretch.same) => {
                last.before.end = stretch.before.end;
                last.after.end = stretch.after.end;
            }
            _ => kept.push(stretch.clone()),
        }
    }
    kept
}

/// Pairs each sentence that is gone with the new one that is the same sentence, moved: positions in either list.
pub(super) fn moves(gone: &[&MatchedSentence], new: &[&MatchedSentence]) -> Vec<(usize, usize)> {
    // First what moved without a change. Places are stored from the last to the first, so that `pop` gives them in
    // order and of sentences that are alike the first goes to the first.
    let mut places: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, sentence) in new.iter().enumerate().rev() {
        places.entry(&sentence.key).or_default().push(at);
    }
    let mut found: Vec<Option<usize>> =
        gone.iter().map(|sentence| places.get_mut(sentence.key.as_str()).and_then(Vec::pop)).collect();
    // Then, for each that is left, the likest of those that are left, if it is like enough; of equals the first.
    let mut taken = vec![false; new.len()];
    found.iter().flatten().for_each(|at| taken[*at] = true);
    if gone.len() * new.len() <= MOST_PAIRS {
        for (sentence, found) in gone.iter().zip(&mut found).filter(|(_, found)| found.is_none()) {
            let free = (0..new.len()).filter(|at| !taken[*at]);
            let likest = free.map(|at| (likeness(&sentence.words, &new[at].words), at));
            let best = likest.filter(|(likeness, at)| {
                *likeness >= MOVED_SENTENCE && sentence.words.len().min(new[*at].words.len()) >= LEAST_MOVED
            });
            *found = best
                .fold(None, |best: Option<(f64, usize)>, one| best.filter(|best| best.0 >= one.0).or(Some(one)))
                .map(|(_, at)| at);
            found.iter().for_each(|at| taken[*at] = true);
        }
    }
    found.into_iter().enumerate().filter_map(|(at, found)| Some((at, found?))).collect()
}
