//! The differences of two drafts, word by word and sentence by sentence, and the copy with some of them made.
//!
//! Both drafts are laid into one list of blocks, sentences and stretches of words, in an order that keeps that of
//! either draft. Each stretch stands always, until a change is made, or once the change is made. So the copy with any
//! choice of changes can be read off: with none it is the first draft, with all it is the second.

use std::collections::BTreeMap;
use std::ops::Range;

use super::matching::{self, Match, MatchedSentence};
use super::starred::in_stars;
use crate::draft::{Block, BlockKind, Draft, Emphasis};

/// Two drafts and what makes them differ.
pub struct Differences<'d> {
    /// The first draft.
    pub before: &'d Draft,
    /// The second draft.
    pub after: &'d Draft,
    /// The changes in the order of the copy; a change that has two places stands where the first of them does.
    pub changes: Vec<Change>,
    pub(super) strands: Vec<Strand>,
}

/// One change: what is gone and what is new by it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// What sort of change it is.
    pub kind: ChangeKind,
    /// The kind of block in which it is made; of a move the kind of the new place.
    pub block: BlockKind,
    /// What is gone, or what was moved as it stood; may be empty.
    pub gone: String,
    /// What is new, or what was moved as it stands now; may be empty.
    pub new: String,
}

/// The sorts of changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChangeKind {
    /// Words are new.
    Inserted,
    /// Words are gone.
    Deleted,
    /// Words stand in the place of others.
    Replaced,
    /// A sentence, or some in a row, left one place and stands at another, perhaps with other words in it.
    Moved,
}

/// One block of both drafts, or of one.
pub(super) struct Strand {
    /// What part of the copy it is.
    pub(super) kind: BlockKind,
    /// The block's number in the first draft; none where that draft has no such block.
    pub(super) before: Option<usize>,
    /// The block's number in the second draft; none where that draft has no such block.
    pub(super) after: Option<usize>,
    sentences: Vec<WovenSentence>,
}

/// One sentence of both drafts, or of one.
#[derive(Default)]
struct WovenSentence {
    /// The blank before the sentence; left out where the sentence is the first of its block.
    lead: Vec<WordGroup>,
    body: Vec<WordGroup>,
}

/// Words that come and go together.
#[derive(Clone)]
struct WordGroup {
    side: DraftSide,
    range: Range<usize>,
    when: When,
}

/// Which of the two drafts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum DraftSide {
    Before,
    After,
}

/// When words stand in the copy.
#[derive(Clone, Copy)]
enum When {
    Always,
    Until(usize),
    Since(usize),
}

/// A part of the copy with some changes made.
#[derive(Debug, Clone)]
pub(super) enum ChangedPart {
    /// A stretch of a block of either draft.
    Of(DraftSide, Range<usize>),
    /// The blank that parts two sentences that neither draft has beside each other.
    Blank,
}

/// A stretch of both drafts laid into one, to be shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShownStretch {
    /// The words, with the blanks and stops that belong to them.
    pub text: String,
    /// Which of the drafts has the words.
    pub mark: DifferenceMark,
}

/// Which of two drafts has a stretch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DifferenceMark {
    /// The words stand in both drafts.
    Kept,
    /// The words stand in the first, until the change with this number, from 0, is made.
    Gone(usize),
    /// The words stand in the second, since the change with this number is made.
    New(usize),
}

impl<'d> Differences<'d> {
    /// Finds what makes two drafts differ.
    pub fn of(before: &'d Draft, after: &'d Draft) -> Self {
        let mut weaver = Weaver { before, after, changes: Vec::new(), strands: Vec::new(), lone: Vec::new() };
        // Sentences are only compared inside a pair of blocks, and words inside a pair of sentences: so a change is as
        // small as the smallest thing that differs.
        for found in matching::blocks(&before.blocks, &after.blocks) {
            weaver.block(found);
        }
        // A sentence that moved was met as gone in one block and as new in another; both are known only now.
        weaver.join_moves();
        weaver.numbered()
    }

    /// The copy with some of the changes made. Its blocks point nowhere into a file.
    pub fn with(&self, is_made: impl Fn(usize) -> bool) -> Draft {
        let block = |strand: &Strand| self.block(strand, &strand.parts(&is_made));
        let blocks = self.strands.iter().map(block).filter(|block| !block.text().is_empty());
        Draft { blocks: blocks.collect(), ..Draft::default() }
    }

    /// Every block that differs, sentence by sentence; what parts a sentence from the one before stands at its start.
    pub fn shown(&self) -> Vec<(BlockKind, Vec<Vec<ShownStretch>>)> {
        let differing = self.strands.iter().filter(|strand| strand.differs());
        differing.map(|strand| (strand.kind, self.sentences(strand))).collect()
    }

    /// Every block, also those that are the same in both drafts.
    pub fn whole(&self) -> Vec<(BlockKind, Vec<Vec<ShownStretch>>)> {
        self.strands.iter().map(|strand| (strand.kind, self.sentences(strand))).collect()
    }

    fn sentences(&self, strand: &Strand) -> Vec<Vec<ShownStretch>> {
        let sentences = strand.sentences.iter().enumerate();
        sentences.map(|(at, sentence)| self.sentence(strand, sentence, at)).collect()
    }

    fn sentence(&self, strand: &Strand, sentence: &WovenSentence, at: usize) -> Vec<ShownStretch> {
        let blank = (at > 0 && sentence.lead.is_empty())
            .then(|| ShownStretch { text: " ".to_owned(), mark: DifferenceMark::Kept });
        let shown = sentence.lead.iter().filter(|_| at > 0).chain(&sentence.body).filter_map(|piece| {
            let mark = match piece.when {
                When::Always => DifferenceMark::Kept,
                When::Until(change) => DifferenceMark::Gone(change),
                When::Since(change) => DifferenceMark::New(change),
            };
            Some(ShownStretch { text: as_written(self.source(strand, piece.side)?, &piece.range), mark })
        });
        blank.into_iter().chain(shown).collect()
    }

    pub(super) fn block(&self, strand: &Strand, parts: &[ChangedPart]) -> Block {
        let mut block = Block::unplaced(strand.kind);
        for part in parts {
            match part {
                ChangedPart::Blank => block.take_words(" ", Emphasis::default()),
                ChangedPart::Of(side, range) => {
                    self.source(strand, *side).into_iter().for_each(|of| block.take_part(of, range.clone()));
                }
            }
        }
        block
    }

    /// The block of a strand in one of the drafts.
    pub(super) fn source(&self, strand: &Strand, side: DraftSide) -> Option<&'d Block> {
        match side {
            DraftSide::Before => strand.before.map(|number| &self.before.blocks[number]),
            DraftSide::After => strand.after.map(|number| &self.after.blocks[number]),
        }
    }
}

impl Strand {
    /// What stands in the block with some changes made, in order.
    pub(super) fn parts(&self, is_made: &impl Fn(usize) -> bool) -> Vec<ChangedPart> {
        let stands = |piece: &&WordGroup| match piece.when {
            When::Always => true,
            When::Until(change) => !is_made(change),
            When::Since(change) => is_made(change),
        };
        let part = |piece: &WordGroup| ChangedPart::Of(piece.side, piece.range.clone());
        let mut parts = Vec::new();
        // A sentence of which nothing stands leaves no blank behind, and the first that stands has none before it. A
        // sentence that was the first of its block has no blank of its own: where another stands before it now, a plain
        // blank parts the two.
        for sentence in &self.sentences {
            let body: Vec<ChangedPart> = sentence.body.iter().filter(stands).map(part).collect();
            if body.is_empty() {
                continue;
            }
            if !parts.is_empty() {
                parts.extend(sentence.lead.iter().filter(stands).map(part));
                parts.extend(sentence.lead.is_empty().then_some(ChangedPart::Blank));
            }
            parts.extend(body);
        }
        parts
    }

    fn differs(&self) -> bool {
        let pieces = self.sentences.iter().flat_map(|sentence| sentence.lead.iter().chain(&sentence.body));
        pieces.into_iter().any(|piece| !matches!(piece.when, When::Always))
    }

    fn pieces_mut(&mut self) -> impl Iterator<Item = &mut WordGroup> {
        self.sentences.iter_mut().flat_map(|sentence| sentence.lead.iter_mut().chain(&mut sentence.body))
    }
}

/// Words with the stars that mark emphasis, so that a change of the emphasis alone can be seen.
fn as_written(block: &Block, range: &Range<usize>) -> String {
    let mut part = Block::unplaced(block.kind);
    part.take_part(block, range.clone());
    in_stars(&part, str::to_owned)
}

/// Lays two drafts into one.
struct Weaver<'d> {
    before: &'d Draft,
    after: &'d Draft,
    changes: Vec<Change>,
    strands: Vec<Strand>,
    /// Sentences that are in one draft alone, and may have been moved.
    lone: Vec<LoneSentence>,
}

/// A sentence that is in one draft alone.
struct LoneSentence {
    side: DraftSide,
    change: usize,
    /// The number of its block in its draft, and its own number in the block.
    place: (usize, usize),
    sentence: MatchedSentence,
}

impl<'d> Weaver<'d> {
    fn block(&mut self, found: Match) {
        let (before, after) = match found {
            Match::Same(a, b) | Match::Changed(a, b) => (Some(a), Some(b)),
            Match::Gone(a) => (Some(a), None),
            Match::New(b) => (None, Some(b)),
        };
        let a = before.map(|number| &self.before.blocks[number]);
        let b = after.map(|number| &self.after.blocks[number]);
        let Some(kind) = a.or(b).map(|block| block.kind) else { return };
        let mut strand = Strand { kind, before, after, sentences: Vec::new() };
        // A block that is the same needs no sentences: all of it always stands.
        if let (Match::Same(..), Some(block)) = (found, a) {
            let whole = WordGroup { side: DraftSide::Before, range: 0..block.text().len(), when: When::Always };
            strand.sentences.push(WovenSentence { lead: Vec::new(), body: vec![whole] });
        } else {
            // A block of one draft alone has all its sentences gone or new, each a change of its own, since each may
            // have moved.
            let sentences = |block: Option<&Block>| block.map(matching::sentences).unwrap_or_default();
            let (gone, new) = (sentences(a), sentences(b));
            for found in matching::of_sentences(&gone, &new) {
                let sequence = match found {
                    Match::Gone(at) => self.lone(kind, DraftSide::Before, (before.unwrap_or(0), at), &gone[at]),
                    Match::New(at) => self.lone(kind, DraftSide::After, (after.unwrap_or(0), at), &new[at]),
                    Match::Same(x, y) | Match::Changed(x, y) => self.pair(kind, (a, &gone[x]), (b, &new[y])),
                };
                strand.sentences.push(sequence);
            }
        }
        self.strands.push(strand);
    }

    /// A sentence of one draft alone.
    fn lone(
        &mut self,
        kind: BlockKind,
        side: DraftSide,
        place: (usize, usize),
        sentence: &MatchedSentence,
    ) -> WovenSentence {
        let draft = if side == DraftSide::Before { self.before } else { self.after };
        let text = as_written(&draft.blocks[place.0], &sentence.range);
        let (gone, new) = if side == DraftSide::Before { (text, String::new()) } else { (String::new(), text) };
        let change = self.change(kind, gone, new);
        self.lone.push(LoneSentence { side, change, place, sentence: sentence.clone() });
        let when = if side == DraftSide::Before { When::Until(change) } else { When::Since(change) };
        let lead = sentence.lead.iter().map(|range| WordGroup { side, range: range.clone(), when: When::Always });
        WovenSentence { lead: lead.collect(), body: vec![WordGroup { side, range: sentence.range.clone(), when }] }
    }

    /// A sentence that is in both drafts, perhaps with other words in it.
    fn pair(
        &mut self,
        kind: BlockKind,
        gone: (Option<&Block>, &MatchedSentence),
        new: (Option<&Block>, &MatchedSentence),
    ) -> WovenSentence {
        let ((Some(a), gone), (Some(b), new)) = (gone, new) else { return WovenSentence::default() };
        let kept = |side, range: &Range<usize>| WordGroup { side, range: range.clone(), when: When::Always };
        // The blank before the sentence may differ by itself: a line ended by the author, say.
        let lead = match (&gone.lead, &new.lead) {
            (Some(before), Some(after)) => self.pieces(kind, (a, before.clone()), (b, after.clone())),
            (Some(before), None) => vec![kept(DraftSide::Before, before)],
            (None, Some(after)) => vec![kept(DraftSide::After, after)],
            (None, None) => Vec::new(),
        };
        WovenSentence { lead, body: self.pieces(kind, (a, gone.range.clone()), (b, new.range.clone())) }
    }

    fn pieces(&mut self, kind: BlockKind, a: (&Block, Range<usize>), b: (&Block, Range<usize>)) -> Vec<WordGroup> {
        let mut pieces = Vec::new();
        let piece = |side, range, when| WordGroup { side, range, when };
        for stretch in matching::words_of(a.clone(), b.clone()) {
            if stretch.same {
                pieces.push(piece(DraftSide::Before, stretch.before, When::Always));
                continue;
            }
            // One change takes the old words away and puts the new ones in, so either all of it is made or nothing.
            let change = self.change(kind, as_written(a.0, &stretch.before), as_written(b.0, &stretch.after));
            pieces.push(piece(DraftSide::Before, stretch.before, When::Until(change)));
            pieces.push(piece(DraftSide::After, stretch.after, When::Since(change)));
        }
        // Words that are only gone or only new have nothing on the other side.
        pieces.retain(|piece| !piece.range.is_empty());
        pieces
    }

    fn change(&mut self, block: BlockKind, gone: String, new: String) -> usize {
        let kind = match (gone.is_empty(), new.is_empty()) {
            (true, _) => ChangeKind::Inserted,
            (_, true) => ChangeKind::Deleted,
            _ => ChangeKind::Replaced,
        };
        self.changes.push(Change { kind, block, gone, new });
        self.changes.len() - 1
    }

    /// Joins the two changes of a sentence that is gone at one place and new at another into one move, and the moves of
    /// several sentences in a row that went together into one.
    fn join_moves(&mut self) {
        let of_side = |side| self.lone.iter().filter(move |lone| lone.side == side).collect::<Vec<_>>();
        let (gone, new) = (of_side(DraftSide::Before), of_side(DraftSide::After));
        let sentences = |lone: &[&'_ LoneSentence]| lone.iter().map(|one| one.sentence.clone()).collect::<Vec<_>>();
        let (gone_sentences, new_sentences) = (sentences(&gone), sentences(&new));
        let found =
            matching::moves(&gone_sentences.iter().collect::<Vec<_>>(), &new_sentences.iter().collect::<Vec<_>>());
        // In the order of the first draft, so sentences that went together come one after another.
        let moves: Vec<(&LoneSentence, &LoneSentence)> = found.into_iter().map(|(a, b)| (gone[a], new[b])).collect();
        let follows = |last: &LoneSentence, next: &LoneSentence| next.place == (last.place.0, last.place.1 + 1);
        let mut joined = BTreeMap::new();
        let mut first = 0;
        for (at, (from, to)) in moves.iter().enumerate() {
            // Neighbours that are still neighbours at the new place moved as one; the change of the first stands for
            // all.
            let goes_on = at > 0 && follows(moves[at - 1].0, from) && follows(moves[at - 1].1, to);
            if !goes_on {
                first = from.change;
            }
            joined.insert(from.change, first);
            joined.insert(to.change, first);
        }
        // In the order of their numbers, which is that of the copy, so that the words of a joined change stand in that
        // order.
        for (change, into) in &joined {
            self.join(*change, *into);
        }
        self.renumber(|change| joined.get(&change).copied().unwrap_or(change));
    }

    fn join(&mut self, change: usize, into: usize) {
        let Change { gone, new, block, .. } = self.changes[change].clone();
        let whole = &mut self.changes[into];
        whole.kind = ChangeKind::Moved;
        // The change that the others are joined to has its own words already.
        if change == into {
            return;
        }
        for (part, of) in [(gone, &mut whole.gone), (new, &mut whole.new)] {
            if !part.is_empty() {
                of.push_str(if of.is_empty() { "" } else { " " });
                of.push_str(&part);
                whole.block = block;
            }
        }
    }

    fn renumber(&mut self, number: impl Fn(usize) -> usize) {
        for piece in self.strands.iter_mut().flat_map(Strand::pieces_mut) {
            piece.when = match piece.when {
                When::Always => When::Always,
                When::Until(change) => When::Until(number(change)),
                When::Since(change) => When::Since(number(change)),
            };
        }
    }

    /// The changes in the order in which they are met, without those that were joined to others.
    fn numbered(mut self) -> Differences<'d> {
        let mut order: Vec<usize> = Vec::new();
        let mut places = BTreeMap::new();
        for piece in self.strands.iter_mut().flat_map(Strand::pieces_mut) {
            if let When::Until(change) | When::Since(change) = piece.when {
                places.entry(change).or_insert_with(|| {
                    order.push(change);
                    order.len() - 1
                });
            }
        }
        self.renumber(|change| places.get(&change).copied().unwrap_or(change));
        let changes = order.into_iter().map(|change| self.changes[change].clone()).collect();
        Differences { before: self.before, after: self.after, changes, strands: self.strands }
    }
}
