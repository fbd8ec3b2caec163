//! What a line costs: for each paragraph, how few letters must go to win a line back, and how many may be added before
//! it takes one line more.
//!
//! Candidates are stretches that end where a word ends. They are tried from the shortest, first by adding up the
//! advances of the glyphs that stay; one that seems to win a line is then taken out of the text, which is shaped and
//! set again. Only what wins the line in that setting is named.
//!
//! How much may be tried is counted in steps, [`Work`], so that no copy, whatever it is, keeps the program busy without
//! end.
//!
//! Total fit takes up to a hundred times as long as first fit, and which lines it chooses depends on every width. So
//! for total fit the fewest lines that any way to break the pieces could take are counted first, and most candidates go
//! no further.

use std::cell::Cell;
use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::copy::{ShapedBlock, ShapedCopy};
use super::filler::Filler;
use super::lines::{SetLine, Setting};
use super::room::Room;
use super::rooms::Rooms;
use super::set;
use super::shaped::{Piece, shape};
use super::{breaks, copy::BlockMetrics, first_fit, total_fit};
use crate::brief::typography::Breaks;
use crate::draft::Block;
use crate::units::{Em, Length};

/// Steps that are left for a search. One step is a piece of text laid on a line, or what takes about as long.
pub struct Work<'a> {
    left: Cell<usize>,
    is_wanted: &'a dyn Fn() -> bool,
}

/// Steps that shaping takes for each byte of a text, roughly.
const SHAPING: usize = 8;

impl<'a> Work<'a> {
    /// Allows so many steps for an answer that may come to be unwanted; `is_wanted` is asked before each part of the
    /// work.
    pub fn of(steps: usize, is_wanted: &'a dyn Fn() -> bool) -> Self {
        Self { left: Cell::new(steps), is_wanted }
    }

    /// Takes off the steps of some work before it is done. Where fewer are left, or the answer is no longer wanted, no
    /// step is left from there on, and the search has to end with what it has.
    pub fn spend(&self, steps: usize) -> bool {
        let left = self.left.get().checked_sub(steps.max(1)).filter(|_| (self.is_wanted)());
        self.left.set(left.unwrap_or(0));
        left.is_some()
    }

    /// Takes off the steps that it takes to shape a text and lay it on lines.
    pub fn spend_on_shaping(&self, text: &str) -> bool {
        self.spend(text.len() * SHAPING)
    }
}

/// What a line costs in one paragraph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Price {
    /// Which block of the draft, counted from 0.
    pub paragraph: usize,
    /// The lines that the paragraph takes.
    pub lines: usize,
    /// The least that must go for it to take a line less; none where it has one line, or only all of it would do.
    pub win: Option<Win>,
    /// Whether every stretch was tried as far as it had to be; if not, the copy is too long for the work allowed, and
    /// what wins is not known.
    pub searched: bool,
    /// Letters of the paragraph's own words that may follow its end before it takes a line more.
    pub letters_spare: usize,
}

/// A stretch that wins a line back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Win {
    /// How many letters and figures it has.
    pub letters: usize,
    /// The stretch's bytes in the block's text, with the blank that goes with it.
    pub text: Range<usize>,
    /// The whole words with the fewest letters that win a line; none where only all of the paragraph would, or words
    /// that may not go ([`Block::may_lose`]).
    pub whole: Option<Range<usize>>,
}

/// The prices of every paragraph as it stands in a setting, as far as the work that may be done for all of them goes.
pub fn prices(copy: &ShapedCopy<'_>, setting: &Setting, rooms: &Rooms, work: &Work<'_>) -> Vec<Price> {
    let price = |lines: &[SetLine]| {
        let (first, last) = (lines.first()?, lines.last()?);
        let index = first.paragraph;
        let paragraph = &copy.paragraphs[index];
        let form = copy.form_of(paragraph, copy.forms(), rooms);
        let room = &*setting.places[first.place].room;
        let indent = form.indent_after(copy.kind_before(index, rooms), paragraph.block.kind);
        let place = ParagraphPlace { form, room, depth: room.depth_of(first.top, first.slot_x), indent };
        let trial = Trial::new(paragraph, place, lines.len());
        let win = trial.cheapest(work);
        Some(Price {
            paragraph: index,
            lines: lines.len(),
            searched: win.is_some(),
            win: win.flatten(),
            letters_spare: trial.letters_spare(last),
        })
    };
    setting.lines.chunk_by(|line, next| line.paragraph == next.paragraph).filter_map(price).collect()
}

/// Where a paragraph begins.
#[derive(Clone, Copy)]
struct ParagraphPlace<'a> {
    form: BlockMetrics,
    room: &'a Room,
    depth: Length,
    indent: Length,
}

impl ParagraphPlace<'_> {
    fn filler<'b>(&'b self, pieces: &'b [Piece], paragraph: &'b ShapedBlock<'_>) -> Filler<'b> {
        let (glyphs, text) = (&*paragraph.shaped.glyphs, paragraph.block.text());
        Filler { paragraph: 0, place: 0, form: &self.form, room: self.room, pieces, glyphs, text }
    }

    fn lines(&self, pieces: &[Piece], paragraph: &ShapedBlock<'_>) -> usize {
        let filler = self.filler(pieces, paragraph);
        if self.form.breaks == Breaks::FirstFit {
            return first_fit::count(&filler, self.depth, self.indent);
        }
        let mut lines = Vec::new();
        set::set(&filler, self.depth, self.indent, &mut lines);
        lines.len()
    }
}

/// A paragraph from which stretches are taken away to see what that wins.
struct Trial<'a> {
    paragraph: &'a ShapedBlock<'a>,
    place: ParagraphPlace<'a>,
    lines: usize,
    /// The width of the text before each byte, and before its end.
    widths: Vec<Em>,
    /// The bytes at which the letters and figures of the text begin.
    letters: Vec<usize>,
    /// The bytes at which its words end.
    word_ends: Vec<usize>,
    /// The measure at the depth of each of its lines, while no line has to move down.
    measures: Vec<Length>,
    /// Where each of its lines ends by first fit; empty by total fit.
    ends: Vec<LineEnd>,
}

/// Where a line ends in the text, and the depth at which it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct LineEnd {
    text: usize,
    depth: Length,
}

impl<'a> Trial<'a> {
    fn new(paragraph: &'a ShapedBlock<'a>, place: ParagraphPlace<'a>, lines: usize) -> Self {
        let text = paragraph.block.text();
        let letters = text.char_indices().filter(|(_, c)| c.is_alphanumeric()).map(|(at, _)| at).collect();
        let word_ends = text.unicode_word_indices().map(|(at, word)| at + word.len()).collect();
        let leading = place.form.leading;
        let depths = std::iter::successors(Some(place.depth), |depth| Some(*depth + leading));
        let measures = depths.take(lines).map(|depth| place.room.at(depth, leading).width).collect();
        let mut ends = Vec::new();
        if place.form.breaks == Breaks::FirstFit {
            let filler = place.filler(&paragraph.shaped.pieces, paragraph);
            first_fit::fill(&filler, place.depth, place.indent, |line, place| {
                ends.push(LineEnd { text: line.end, depth: place.depth });
                true
            });
        }
        Self { paragraph, place, lines, widths: widths(paragraph), letters, word_ends, measures, ends }
    }

    /// The stretch with the fewest letters that wins a line, or none; of equals the last, since a cut there is seen at
    /// once. Nothing is given where the work gives out before that is known.
    fn cheapest(&self, work: &Work<'_>) -> Option<Option<Win>> {
        if self.lines < 2 {
            return Some(None);
        }
        let mut pieces = Vec::new();
        for count in 1..self.letters.len() {
            for end in self.word_ends.iter().rev() {
                let Some(stretch) = self.stretch(*end, count) else { break };
                if self.is_won(&stretch, work, &mut pieces)? {
                    let whole = self.in_whole_words(count, &stretch, work);
                    return Some(Some(Win { letters: count, text: stretch, whole }));
                }
            }
        }
        Some(None)
    }

    /// Whether a line is won where a stretch goes; nothing where the work gives out before that is known.
    fn is_won(&self, stretch: &Range<usize>, work: &Work<'_>, pieces: &mut Vec<Piece>) -> Option<bool> {
        if !work.spend(self.paragraph.shaped.steps()) {
            return None;
        }
        let seems_won = match self.place.form.breaks {
            Breaks::FirstFit => self.takes_fewer_lines(stretch, pieces),
            // Which lines are chosen depends on every width, and the widths of these pieces are not known exactly.
            Breaks::TotalFit => {
                self.without(stretch, 0, pieces);
                self.fewest_lines(pieces) < self.lines
            }
        };
        if !seems_won {
            return Some(false);
        }
        let is_total = self.place.form.breaks == Breaks::TotalFit;
        if is_total && !work.spend(set::steps(&self.place.form, &self.paragraph.shaped)) {
            return None;
        }
        work.spend_on_shaping(self.paragraph.block.text()).then(|| self.wins(stretch))
    }

    /// Whether first fit takes fewer lines for what is left when a stretch goes, by the widths of the glyphs that stay.
    /// The lines before it stay as they are, but for the last of them where a piece that begins a line gets shorter;
    /// and where a line behind it ends as that line did before, so do all that follow.
    fn takes_fewer_lines(&self, stretch: &Range<usize>, pieces: &mut Vec<Piece>) -> bool {
        let all = &self.paragraph.shaped.pieces;
        let entered = all.partition_point(|piece| piece.end <= stretch.start);
        let begins = all.get(entered).map_or(0, |piece| piece.start);
        let kept = self.ends.partition_point(|end| end.text < begins);
        let before = kept.checked_sub(1).map(|last| self.ends[last]);
        let first = before.map_or(0, |before| all.partition_point(|piece| piece.start < before.text));
        // A line may end inside a piece that is wider than its measure.
        let whole = before.is_none_or(|before| all.get(first).is_some_and(|piece| piece.start == before.text));
        let (kept, first, before) = if whole { (kept, first, before) } else { (0, 0, None) };
        let ParagraphPlace { form, depth, indent, .. } = self.place;
        let (depth, indent) = before.map_or((depth, indent), |end| (end.depth + form.leading, Length::ZERO));
        self.without(stretch, first, pieces);
        let mut lines = kept;
        first_fit::fill(&self.place.filler(pieces, self.paragraph), depth, indent, |line, place| {
            let end = LineEnd { text: line.end, depth: place.depth };
            let is_same = end.text >= stretch.end && !line.too_wide && self.ends.get(lines) == Some(&end);
            lines = if is_same { self.ends.len() } else { lines + 1 };
            !is_same
        });
        lines < self.lines
    }

    /// The fewest lines that any way to break the pieces could take: each line takes as much as it could hold with its
    /// blanks as narrow as they may be. A line that begins farther on never ends before one that begins earlier, so no
    /// other way gets farther in as many lines. That holds while each line stands right below the one before; where a
    /// piece might have to move down past a keep-out, every line is given the whole measure.
    fn fewest_lines(&self, pieces: &[Piece]) -> usize {
        let ParagraphPlace { form, room, indent, .. } = self.place;
        let whole = room.width();
        let narrowest = self.measures.iter().copied().min().unwrap_or(whole);
        let goes_anywhere = |piece: &Piece| piece.fits_alone(Em::filling(narrowest - indent, form.size));
        let measures = if pieces.iter().all(goes_anywhere) { &*self.measures } else { &[] };
        let narrowed = |blanks: Em| total_fit::narrowed_by(blanks, form.align);
        let (mut lines, mut left, mut ended) = (0, Em::ZERO, true);
        for piece in pieces {
            // Only what an edge of a line saves is counted; what it costs is granted, since another edge may cost
            // nothing.
            let inked = piece.inked + piece.at_line_end.min(Em::ZERO) - narrowed(piece.blanks_within);
            if ended || inked > left {
                let measure = measures.get(lines).copied().unwrap_or(whole);
                let indent = if lines == 0 { indent } else { Length::ZERO };
                let hung = if form.hang_quotes { piece.opening } else { Em::ZERO };
                let edge = piece.at_line_start.min(Em::ZERO);
                left = Em::filling(measure - indent, form.size) + granted_kerning() + hung - edge;
                lines += 1;
            }
            left = left - (piece.full - narrowed(piece.blanks_within + piece.blanks_after));
            ended = piece.forced;
        }
        lines
    }

    /// The whole words with the fewest letters that win a line, where `stretch` is the least that does and has `least`
    /// letters: at the most the words that hold it. Of equals, one that runs over no sentence's end. None where only
    /// all of the paragraph would do, words that may not go would have to, or the work gives out.
    fn in_whole_words(&self, least: usize, stretch: &Range<usize>, work: &Work<'_>) -> Option<Range<usize>> {
        let block = self.paragraph.block;
        let words = whole_words(block.text());
        let held = self.grown_to_words(stretch, &words)?;
        let most = self.letters.iter().filter(|at| held.contains(at)).count();
        let mut pieces = Vec::new();
        // All of a paragraph is no stretch of it.
        let last = most.min(self.letters.len() - 1);
        for count in least..=last.min(least + LONGEST_WORD) {
            let stretches = self.word_ends.iter().rev().filter_map(|end| self.stretch(*end, count));
            let whole = stretches.filter(|stretch| {
                block.may_lose(stretch) && self.grown_to_words(stretch, &words).as_ref() == Some(stretch)
            });
            let (over_ends, within): (Vec<_>, Vec<_>) = whole.partition(|stretch| self.is_over_an_end(stretch));
            for stretch in within.into_iter().chain(over_ends) {
                if self.is_won(&stretch, work, &mut pieces)? {
                    return Some(stretch);
                }
            }
        }
        let is_all = most == self.letters.len();
        (!is_all && block.may_lose(&held) && self.wins(&held)).then_some(held)
    }

    /// Whether a sentence ends inside a stretch: a stop, perhaps closing marks, and a blank stand between two of its
    /// words.
    fn is_over_an_end(&self, stretch: &Range<usize>) -> bool {
        let stretch = self.paragraph.block.text()[stretch.clone()].trim();
        let is_closing = |c: char| matches!(c, '"' | '\'' | '”' | '’' | '»' | ')');
        stretch
            .split_whitespace()
            .rev()
            .skip(1)
            .any(|word| word.trim_end_matches(is_closing).ends_with(['.', '!', '?', '…']))
    }

    /// The stretch of `count` letters that ends with the word at `end`, with the blank before it where whole words go.
    fn stretch(&self, end: usize, count: usize) -> Option<Range<usize>> {
        let before = self.letters.partition_point(|at| *at < end);
        let start = self.letters[before.checked_sub(count)?];
        let text = self.paragraph.block.text();
        if text[..start].ends_with(' ') {
            return Some(start - 1..end);
        }
        let follows = if start == 0 && text[end..].starts_with(' ') { 1 } else { 0 };
        Some(start..end + follows)
    }

    /// A stretch made longer to whole words, with the blank that goes with them.
    fn grown_to_words(&self, stretch: &Range<usize>, words: &[Range<usize>]) -> Option<Range<usize>> {
        let text = self.paragraph.block.text();
        let word = |at: usize| words.get(words.partition_point(|word| word.end <= at)).filter(|word| word.start <= at);
        let first = stretch.start + usize::from(text[stretch.clone()].starts_with(' '));
        let last = self.letters[..self.letters.partition_point(|at| *at < stretch.end)].last()?;
        let (start, end) = (word(first)?.start, word(*last)?.end);
        let before = usize::from(text[..start].ends_with(' '));
        let follows = usize::from(start == 0 && text[end..].starts_with(' '));
        Some(start - before..end + follows)
    }

    /// The pieces from the `first` on that are left when a stretch goes, their widths added up from the glyphs that
    /// stay.
    fn without(&self, stretch: &Range<usize>, first: usize, pieces: &mut Vec<Piece>) {
        pieces.clear();
        for piece in &self.paragraph.shaped.pieces[first..] {
            if piece.end <= stretch.start || piece.start >= stretch.end {
                pieces.push(*piece);
            } else {
                self.keep_rest(piece, stretch, pieces);
            }
        }
    }

    /// Adds what is left of a piece that the stretch enters; where the stretch entered the piece before as well, the
    /// two are joined.
    fn keep_rest(&self, piece: &Piece, stretch: &Range<usize>, pieces: &mut Vec<Piece>) {
        let inked_end =
            piece.start + self.paragraph.block.text()[piece.start..piece.end].trim_end_matches(breaks::hangs).len();
        let kerning = granted_kerning();
        let gone = |end: usize| self.width(stretch.start.max(piece.start)..stretch.end.min(end)) + kerning;
        let rest = Piece {
            full: piece.full - gone(piece.end),
            inked: piece.inked - gone(inked_end.max(piece.start)),
            ..*piece
        };
        match pieces.last_mut() {
            Some(before) if before.end > stretch.start && piece.start > stretch.start => {
                before.inked = before.full + rest.inked;
                before.full += rest.full;
                before.end = rest.end;
                before.forced = rest.forced;
            }
            _ => pieces.push(rest),
        }
    }

    fn width(&self, range: Range<usize>) -> Em {
        if range.start < range.end { self.widths[range.end] - self.widths[range.start] } else { Em::ZERO }
    }

    /// Whether the paragraph takes a line less when the stretch is gone and all is shaped and set again.
    fn wins(&self, stretch: &Range<usize>) -> bool {
        let block = self.paragraph.block.without(stretch.clone());
        let shaped = shape(&block, self.paragraph.family, self.paragraph.style);
        let paragraph = ShapedBlock { block: &block, shaped: shaped.into(), ..*self.paragraph };
        self.place.lines(&paragraph.shaped.pieces, &paragraph) < self.lines
    }

    /// How many letters of the paragraph's own beginning can follow its end before it takes a line more. The room on
    /// the last line gives a first guess; setting the paragraph tells whether a guess is right, in strides that double.
    fn letters_spare(&self, last: &SetLine) -> usize {
        let (size, room) = (self.place.form.size.to_pt(), (last.measure - last.width).or_zero().to_pt());
        let width = self.width(0..self.paragraph.block.text().len()).at(self.place.form.size).to_pt();
        let average = (width / self.letters.len().max(1) as f64).max(size / LEAST_LETTERS_PER_EM);
        let end = ParagraphEnd::of(self, last);
        // `takes` letters are known to go in, `spills` letters not to; each try brings the two nearer, until they meet.
        let (mut takes, mut spills) = (0, MOST_SPARE + 1);
        let (mut tried, mut stride) = ((room / average) as usize, 1);
        while takes + 1 < spills {
            if !(takes < tried && tried < spills) {
                tried = usize::midpoint(takes, spills);
            }
            if self.takes(&end, tried) {
                takes = tried;
                tried += stride;
            } else {
                spills = tried;
                tried = tried.saturating_sub(stride);
            }
            stride *= 2;
        }
        takes
    }

    /// Whether the paragraph takes no more lines when its own first `letters` letters follow its end.
    fn takes(&self, end: &ParagraphEnd<'_>, letters: usize) -> bool {
        let Some(opening) = opening(self.paragraph.block.text(), letters) else { return false };
        let block = end.block.followed_by(&opening);
        let shaped = shape(&block, self.paragraph.family, self.paragraph.style);
        let paragraph = ShapedBlock { block: &block, shaped: shaped.into(), ..*self.paragraph };
        end.place.lines(&paragraph.shaped.pieces, &paragraph) <= end.lines
    }
}

/// The end of a paragraph that has to be set again when words follow it.
struct ParagraphEnd<'a> {
    block: Block,
    place: ParagraphPlace<'a>,
    lines: usize,
}

impl<'a> ParagraphEnd<'a> {
    /// The last line alone where each line is filled for itself; else the whole paragraph.
    fn of(trial: &Trial<'a>, last: &SetLine) -> Self {
        let (block, place) = (trial.paragraph.block, trial.place);
        match place.form.breaks {
            Breaks::FirstFit if last.text.start > 0 => Self {
                block: block.without(0..last.text.start),
                place: ParagraphPlace {
                    depth: place.room.depth_of(last.top, last.slot_x),
                    indent: Length::ZERO,
                    ..place
                },
                lines: 1,
            },
            _ => Self { block: block.clone(), place, lines: trial.lines },
        }
    }
}

/// Letters that come together when what stood between them goes may be kerned, or lose the kerning of a line's end. So
/// much is granted before a stretch is set again, so that none that wins is passed over.
const KERNING_UNITS: i32 = 3;
const KERNING_UNITS_PER_EM: u16 = 20;

fn granted_kerning() -> Em {
    Em::from_units(KERNING_UNITS, KERNING_UNITS_PER_EM)
}

/// Whole words may have up to so many letters more than the least stretch: longer ones are signs joined by signs.
const LONGEST_WORD: usize = 40;

/// No line of a panel holds more letters than this.
const MOST_SPARE: usize = 2000;

/// No line holds more characters than this, whatever stands between its letters.
const MOST_ADDED: usize = 2 * MOST_SPARE;

/// The average letter is taken to be no narrower than an em over this many, whatever the paragraph's own letters tell.
const LEAST_LETTERS_PER_EM: f64 = 8.0;

/// What is added to a paragraph that has no letter of its own: one of middling width, as often as is asked.
const ANY_LETTER: &str = "n";

/// A blank and the first `letters` letters and figures of a text with what stands between them, begun again where it
/// ends; none where that is more than goes on any line.
fn opening(text: &str, letters: usize) -> Option<String> {
    let own = if text.contains(char::is_alphanumeric) { [text, " "] } else { [ANY_LETTER, ""] };
    let mut opening = String::from(" ");
    let mut left = letters;
    let characters = own.into_iter().cycle().flat_map(str::chars).map(|c| if c == '\n' { ' ' } else { c });
    for character in characters.take(MOST_ADDED) {
        if left == 0 {
            opening.truncate(opening.trim_end().len());
            return Some(opening);
        }
        left -= usize::from(character.is_alphanumeric());
        opening.push(character);
    }
    None
}

/// The words of a text as a reader sees them: those that a hyphen or another sign joins are one, those that a dash
/// parts are not.
fn whole_words(text: &str) -> Vec<Range<usize>> {
    let mut words: Vec<Range<usize>> = Vec::new();
    for (at, word) in text.unicode_word_indices() {
        let is_joined = |last: &Range<usize>| {
            let between = &text[last.end..at];
            !between.is_empty() && !between.contains(|c: char| c.is_whitespace() || c == '—' || c == '–')
        };
        match words.last_mut().filter(|last| is_joined(last)) {
            Some(last) => last.end = at + word.len(),
            None => words.push(at..at + word.len()),
        }
    }
    words
}

/// The width of the text before each byte, and before its end.
fn widths(paragraph: &ShapedBlock<'_>) -> Vec<Em> {
    let mut widths = vec![Em::ZERO; paragraph.block.text().len() + 1];
    for glyph in &paragraph.shaped.glyphs {
        widths[glyph.cluster as usize + 1] += glyph.advance;
    }
    let mut sum = Em::ZERO;
    for width in &mut widths {
        sum += *width;
        *width = sum;
    }
    widths
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::brief::Brief;
    use crate::draft::Draft;
    use crate::setting::{Faces, SettingMemory};

    /// Setting a part of the lines tells what setting all of them tells.
    #[test]
    fn a_line_is_won_as_if_every_line_was_set() {
        let source = "Oona keeps the lamp at Gull Point. When the fog comes down and no boat answers, she lights it by \
                      herself\\\nand waits for thevoiceonthewaterthatsheknowsbetterthanher own, a-a-a-and sings.";
        let faces = Faces::built_in();
        let mut won = 0;
        for (form, at) in
            [("align: left", "foot"), ("indent: 20 pt, hyphenate: true", "head"), ("hang_quotes: true", "foot")]
        {
            let text = format!(
                "panel: {{ trim: 212 x 300 pt, margins: 36 pt, keep_out: [{{ name: box, size: 70 x 120 pt, at: {{ \
                 spine: 36 pt, {at}: 60 pt }} }}] }}\ntype: {{ {form}, breaks: first-fit }}"
            );
            let brief = Brief::read(&text, Path::new("")).unwrap();
            let draft = Draft::read(source);
            let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
            let rooms = Rooms::of(&brief);
            let (paragraph, room) = (&copy.paragraphs[0], rooms.places()[0].room());
            let form = copy.form_of(paragraph, copy.forms(), &rooms);
            for indent in [Length::ZERO, Length::pt(15.0)] {
                let place = ParagraphPlace { form, room, depth: room.live().y, indent };
                let lines = place.lines(&paragraph.shaped.pieces, paragraph);
                let trial = Trial::new(paragraph, place, lines);
                let mut pieces = Vec::new();
                for (count, end) in (1..60).flat_map(|count| trial.word_ends.iter().map(move |end| (count, *end))) {
                    let Some(stretch) = trial.stretch(end, count) else { continue };
                    trial.without(&stretch, 0, &mut pieces);
                    let is_won = place.lines(&pieces, paragraph) < lines;
                    assert_eq!(trial.takes_fewer_lines(&stretch, &mut pieces), is_won, "{stretch:?} in {text}");
                    won += usize::from(is_won);
                }
            }
        }
        assert!(won > 100, "{won}");
    }

    #[test]
    fn work_ends_when_its_steps_are_gone_or_nobody_waits_for_it() {
        let work = Work::of(10, &|| true);
        assert!(work.spend(9));
        assert!(!work.spend(2));
        assert!(!work.spend(1), "what is left after a part that was too much is no more");
        assert!(!Work::of(10, &|| false).spend(1));
    }
}
