//! Total fit: all lines of a paragraph chosen together, so that none is bad for another's sake.
//!
//! Source: D. E. Knuth and M. F. Plass, "Breaking paragraphs into lines", Software: Practice and Experience 11 (1981),
//! in the form and with the figures of Knuth's `TeX: The Program` (sections 108 and 829 to 890) and the plain format of
//! `The TeXbook` (appendix B): badness, demerits, the four classes of lines. Where the paper numbers lines, this code
//! uses their depth, since a line's measure depends on the keep-outs beside it.
//!
//! Justified lines take the fewest demerits. Ragged lines have no stretch: they take the least depth, as first fit
//! does, and among the ways to take it the one whose lines end nearest to the measure.

use std::ops::Range;

use super::filler::{Filler, LinePlace, UnplacedLine};
use super::first_fit;
use super::lines::SetLine;
use super::room::LineSlot;
use super::shaped::Piece;
use crate::brief::typography::Align;
use crate::units::{Em, Length};

/// Blanks may grow by a half and shrink by a third of their width (Knuth and Plass 1981, p. 1121, from memory).
const STRETCH_PARTS: i64 = 2;
const SHRINK_PARTS: i64 = 3;

/// How many steps of work total fit takes at the most for each step that laying the pieces on lines takes, since it
/// compares many ways to each place. Measured on paragraphs of 30 to 300 words with all ways gone, where a step is some
/// 40 ns; nearly all copy takes far less.
pub(super) const STEPS: usize = 100;

/// By how much the blanks of a line may be narrowed in all.
pub(super) fn narrowed_by(blanks: Em, align: Align) -> Em {
    match align {
        Align::Justified => blanks / SHRINK_PARTS,
        Align::Left | Align::Centre => Em::ZERO,
    }
}

/// The plain format's penalties and demerits.
const LINE_PENALTY: i64 = 10;
const HYPHEN_PENALTY: i64 = 50;
const CLASSES_APART: i64 = 10_000;
const HYPHENS_IN_A_ROW: i64 = 10_000;
const HYPHEN_BEFORE_LAST: i64 = 5_000;
const WORST: i64 = 10_000;

/// Ragged lines: a line's cost is the square of what it leaves, in thousandths of its measure. A hyphen is as bad as a
/// line that is 150 thousandths short, and so is a last line that does not reach a fifth of the measure. Chosen by eye.
const THOUSAND: i64 = 1_000;
const RAGGED_HYPHEN: i64 = 150 * 150;
const SHORT_LAST: i64 = 150 * 150;
const SHORT_LAST_PARTS: i64 = 5;

/// The most ways kept to each place where a line may begin. In nearly all copy only two depths, or two classes of line,
/// matter; the limit keeps long copy from taking time that grows with the square of its length.
const MOST_WAYS: usize = 12;

/// Adds the paragraph's lines from a depth down, the first of them indented, and gives the depth at which the last
/// ends; none, and no line added, where a piece is wider than its measure.
pub(super) fn set(filler: &Filler<'_>, depth: Length, indent: Length, lines: &mut Vec<SetLine>) -> Option<Length> {
    let chosen = best_lines(filler, depth, indent)?;
    let mut foot = depth;
    for ChosenLine { pieces, place } in chosen {
        let (first, behind) = (&filler.pieces[pieces.start], &filler.pieces[pieces.start + 1..pieces.end]);
        let line = filler.line(first, behind, width_of(first, behind));
        let ends = line.ends || pieces.end == filler.pieces.len();
        lines.push(filler.place(&UnplacedLine { ends, ..line }, place));
        foot = place.depth + filler.form.leading;
    }
    Some(foot)
}

/// How wide a line of these pieces is, hanging blanks aside.
fn width_of(first: &Piece, behind: &[Piece]) -> Em {
    let last = behind.last().unwrap_or(first);
    let full: Em = std::iter::once(first).chain(behind).map(|piece| piece.full).sum();
    // The last piece is counted without its blanks, which hang, and with what its width gains at a line's end.
    first.at_line_start + full - last.full + last.inked + last.at_line_end
}

/// The lines of the best of all ways; none where no way leads to the end.
///
/// Nearly all ways are hopeless from their first lines, so only those are gone that may keep within a bound. What is
/// found within a bound is the best of all; where nothing is, the bound is widened.
fn best_lines(filler: &Filler<'_>, depth: Length, indent: Length) -> Option<Vec<ChosenLine>> {
    let fewest = fewest_lines(filler, indent);
    let best = |bound| LineSearch::run(filler, &fewest, bound, depth, indent).best();
    let bounded = match filler.form.align {
        Align::Justified => {
            let first = fewest[0] * USUAL_DEMERITS;
            let costs = std::iter::successors(Some(first), |cost| Some(cost * WIDENED)).take(MOST_WIDENED);
            costs.map(|cost| Bound { foot: None, cost }).find_map(best)
        }
        // First fit tells a depth that is enough.
        Align::Left | Align::Centre => {
            let foot = first_fit::set(filler, depth, indent, &mut Vec::new());
            best(Bound { foot: Some(foot), cost: i64::MAX })
        }
    };
    bounded.or_else(|| best(Bound::NONE))
}

/// The demerits of a line that justified copy is first tried with, by how much the bound is widened, and how often
/// before there is none. A bound that is too narrow costs one more search, and one that is too wide a longer search.
const USUAL_DEMERITS: i64 = 3_000;
const WIDENED: i64 = 16;
const MOST_WIDENED: usize = 4;

/// What the best way is known not to exceed.
#[derive(Clone, Copy)]
struct Bound {
    foot: Option<Length>,
    cost: i64,
}

impl Bound {
    const NONE: Self = Self { foot: None, cost: i64::MAX };
}

/// For each piece, and for the end, the fewest lines that any way from there on could take: each as full as a line can
/// be where the measure is widest.
fn fewest_lines(filler: &Filler<'_>, indent: Length) -> Vec<i64> {
    let (pieces, form) = (filler.pieces, filler.form);
    let least = |width: fn(&Piece) -> Em| pieces.iter().map(width).min().unwrap_or(Em::ZERO).min(Em::ZERO);
    let hung = pieces.iter().map(|piece| piece.opening).max().filter(|_| form.hang_quotes).unwrap_or(Em::ZERO);
    // What a line's ends may gain by kerning, or hang, is room as well.
    let ends = least(|piece| piece.at_line_start) + least(|piece| piece.at_line_end);
    let widest = Em::filling(filler.room.width() + (Length::ZERO - indent).or_zero(), form.size) + hung - ends;
    // The width and the blanks of all pieces before each.
    let mut before = vec![(Em::ZERO, Em::ZERO)];
    for piece in pieces {
        let (width, blanks) = before[before.len() - 1];
        before.push((width + piece.full, blanks + piece.blanks_within + piece.blanks_after));
    }
    let goes_in = |first: usize, end: usize| {
        let (last, (width, blanks), (own_width, own_blanks)) = (&pieces[end - 1], before[first], before[end - 1]);
        let blanks = own_blanks - blanks + last.blanks_within;
        own_width - width + last.inked - narrowed_by(blanks, form.align) <= widest
    };
    let (mut fewest, mut end) = (vec![0; pieces.len() + 1], pieces.len());
    for first in (0..pieces.len()).rev() {
        // A line that begins earlier ends no later.
        end = if pieces[first].forced { first + 1 } else { end };
        while end > first + 1 && !goes_in(first, end) {
            end -= 1;
        }
        fewest[first] = fewest[end] + 1;
    }
    fewest
}

/// A line that was chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
struct ChosenLine {
    /// The line's pieces, as positions in the paragraph's.
    pieces: Range<usize>,
    place: LinePlace,
}

/// A way to set the paragraph up to some place.
struct Way {
    /// The way to the line before, as a position among all ways.
    before: usize,
    /// The line that it ends with; none at the start.
    line: Option<ChosenLine>,
    /// Where the next line may begin.
    foot: Length,
    class: i64,
    hyphens: bool,
    cost: i64,
}

impl Way {
    fn start(depth: Length) -> Self {
        Self { before: 0, line: None, foot: depth, class: DECENT, hyphens: false, cost: 0 }
    }
}

/// The search for the best way: for every place where a line may begin, the best ways that lead there.
struct LineSearch<'a> {
    filler: &'a Filler<'a>,
    /// For each piece the fewest lines to the end.
    fewest: &'a [i64],
    bound: Bound,
    ways: Vec<Way>,
    /// For each piece, the ways that lead to it, as positions among all.
    at: Vec<Vec<usize>>,
}

/// What goes into a line, as far as its cost depends on it.
struct LineMaterial {
    room: Em,
    width: Em,
    blanks: Em,
    /// Whether the paragraph, or a part of it, ends with the line.
    ends: bool,
    /// Whether the line ends inside a word.
    hyphen: bool,
}

/// What a line costs, and the class it belongs to.
struct LineCost {
    cost: i64,
    class: i64,
}

impl<'a> LineSearch<'a> {
    fn from(filler: &'a Filler<'a>, fewest: &'a [i64], bound: Bound, depth: Length) -> Self {
        Self { filler, fewest, bound, ways: vec![Way::start(depth)], at: vec![Vec::new(); filler.pieces.len() + 1] }
    }

    /// Finds the best ways through the whole paragraph of all that may keep within the bound.
    fn run(filler: &'a Filler<'a>, fewest: &'a [i64], bound: Bound, depth: Length, indent: Length) -> Self {
        let mut search = Self::from(filler, fewest, bound, depth);
        search.at[0].push(0);
        for place in 0..filler.pieces.len() {
            // A line only leads forward, so once a place is reached in this order, no way to it is still to come.
            for way in std::mem::take(&mut search.at[place]) {
                search.go_on(way, place, if place == 0 { indent } else { Length::ZERO });
            }
        }
        search
    }

    /// Adds every line that may follow a way.
    fn go_on(&mut self, way: usize, place: usize, indent: Length) {
        let pieces = self.filler.pieces;
        let Some((depth, slot)) = self.settled(self.ways[way].foot, &pieces[place], indent) else { return };
        let room = self.filler.room_for(&pieces[place], slot, indent);
        // The width and the blanks of the pieces so far, were another to follow them on the line.
        let (mut before, mut blanks) = (pieces[place].at_line_start, Em::ZERO);
        for (index, piece) in pieces.iter().enumerate().skip(place) {
            // The line that ends here: its last blanks hang, and what its width gains at a line's end is added.
            let line = LineMaterial {
                room,
                width: before + piece.inked + piece.at_line_end,
                blanks: blanks + piece.blanks_within,
                ends: piece.forced || index + 1 == pieces.len(),
                hyphen: piece.hyphen,
            };
            before += piece.full;
            blanks += piece.blanks_within + piece.blanks_after;
            if line.least(self.filler.form.align) <= room {
                let chosen = ChosenLine { pieces: place..index + 1, place: LinePlace { slot, depth, indent } };
                self.add(way, chosen, &line);
            } else if before - blanks > room {
                // A hyphen or a kern may make one end too wide and the next one not; letters alone only grow. So when
                // they alone are too wide, no longer line goes in.
                break;
            }
            if piece.forced {
                break;
            }
        }
    }

    /// The first depth at which a line can begin with a piece: below the keep-outs that leave no room for it. None
    /// where the piece is wider than the whole measure.
    fn settled(&self, mut depth: Length, first: &Piece, indent: Length) -> Option<(Length, LineSlot)> {
        let (room, leading) = (self.filler.room, self.filler.form.leading);
        let takes = |slot| first.fits_alone(self.filler.room_for(first, slot, indent));
        loop {
            let slot = room.at(depth, leading);
            match (takes(slot), slot.narrowed) {
                (true, _) => return Some((depth, slot)),
                (false, true) => depth = room.next_change(depth, leading, |slot| !slot.narrowed || takes(slot))?,
                (false, false) => return None,
            }
        }
    }

    /// Whether every way that goes on from a place, at a depth and for a cost, exceeds the bound.
    fn is_hopeless(&self, place: usize, foot: Length, cost: i64) -> bool {
        let left = self.fewest[place];
        let is_too_deep = |most| foot + self.filler.form.leading * left > most;
        self.bound.foot.is_some_and(is_too_deep) || self.bound.cost.saturating_sub(cost) < left * self.least_cost()
    }

    /// The least that any line costs.
    fn least_cost(&self) -> i64 {
        match self.filler.form.align {
            Align::Justified => LINE_PENALTY.pow(2),
            Align::Left | Align::Centre => 0,
        }
    }

    /// Adds the way that goes on with a line, unless it is hopeless, or another to its end is as good for all that may
    /// follow.
    fn add(&mut self, before: usize, chosen: ChosenLine, line: &LineMaterial) {
        let from = &self.ways[before];
        let (place, foot) = (chosen.pieces.end, chosen.place.depth + self.filler.form.leading);
        if self.is_hopeless(place, foot, from.cost) {
            return;
        }
        let worth = match self.filler.form.align {
            Align::Justified => line.justified(from),
            Align::Left | Align::Centre => line.ragged(from),
        };
        let cost = from.cost + worth.cost;
        if self.is_hopeless(place, foot, cost) {
            return;
        }
        let way = Way { before, line: Some(chosen), foot, class: worth.class, hyphens: line.hyphen, cost };
        // What may follow, and what it costs, depends on the depth, on the class of the last line and on its hyphen,
        // and on nothing else of the way: of ways that are alike in these the cheapest leads to the cheapest end.
        let same = self.at[place].iter().position(|known| {
            let known = &self.ways[*known];
            known.foot == way.foot && known.class == way.class && known.hyphens == way.hyphens
        });
        match same {
            Some(known) if self.ways[self.at[place][known]].cost <= cost => {}
            Some(known) => {
                self.ways.push(way);
                self.at[place][known] = self.ways.len() - 1;
            }
            None => {
                self.ways.push(way);
                self.at[place].push(self.ways.len() - 1);
                self.drop_worst(place);
            }
        }
    }

    /// Keeps no more ways to a place than [`MOST_WAYS`].
    fn drop_worst(&mut self, place: usize) {
        if self.at[place].len() <= MOST_WAYS {
            return;
        }
        let worst = (0..self.at[place].len()).max_by_key(|index| self.rank(self.at[place][*index]));
        if let Some(worst) = worst {
            self.at[place].swap_remove(worst);
        }
    }

    /// The rank of a way, of which the least is the best: ragged lines go by depth, then cost; justified ones by
    /// demerits, then depth.
    fn rank(&self, way: usize) -> (i64, Length, i64) {
        let Way { foot, cost, .. } = self.ways[way];
        match self.filler.form.align {
            Align::Justified => (cost, foot, 0),
            Align::Left | Align::Centre => (0, foot, cost),
        }
    }

    /// The lines of the best way to the paragraph's end; none where no way leads there.
    fn best(&self) -> Option<Vec<ChosenLine>> {
        let mut way = *self.at.last()?.iter().min_by_key(|way| self.rank(**way))?;
        let mut lines = Vec::new();
        // Each way knows the one before it, so the lines are met from the last to the first.
        while let Some(line) = &self.ways[way].line {
            lines.push(line.clone());
            way = self.ways[way].before;
        }
        lines.reverse();
        Some(lines)
    }
}

/// The classes of `TeX: The Program`, section 817.
const VERY_LOOSE: i64 = 0;
const LOOSE: i64 = 1;
const DECENT: i64 = 2;
const TIGHT: i64 = 3;

impl LineMaterial {
    /// The narrowest that the line can be.
    fn least(&self, align: Align) -> Em {
        self.width - narrowed_by(self.blanks, align)
    }

    /// What a ragged line costs behind a way: what it leaves of its measure, and a hyphen.
    fn ragged(&self, from: &Way) -> LineCost {
        let left = (self.room - self.width).parts_of(self.room, THOUSAND);
        // A paragraph's last line may be as short as it comes, unless it is so short that it looks like a slip. A
        // paragraph of one line is never short, since nothing longer stands above it.
        let shape = match (self.ends, left > THOUSAND - THOUSAND / SHORT_LAST_PARTS && from.line.is_some()) {
            (true, true) => SHORT_LAST,
            (true, false) => 0,
            (false, _) => left * left,
        };
        let hyphen = if self.hyphen { RAGGED_HYPHEN * if from.hyphens { 4 } else { 1 } } else { 0 };
        LineCost { cost: shape + hyphen, class: DECENT }
    }

    /// The demerits of a justified line behind a way (`TeX: The Program`, section 859).
    fn justified(&self, from: &Way) -> LineCost {
        let left = self.room - self.width;
        // A line that is too wide by itself shrinks its blanks; the last line of a paragraph is not stretched, so
        // nothing is bad about its being short; every other one stretches its blanks to the measure.
        let (badness, class) = if left < Em::ZERO {
            let badness = badness(Em::ZERO - left, self.blanks / SHRINK_PARTS);
            (badness, if badness > 12 { TIGHT } else { DECENT })
        } else if self.ends {
            (0, DECENT)
        } else {
            let badness = badness(left, self.blanks / STRETCH_PARTS);
            let class = match badness {
                ..=12 => DECENT,
                13..=99 => LOOSE,
                _ => VERY_LOOSE,
            };
            (badness, class)
        };
        // No line costs more than one of the worst badness.
        let mut cost = (LINE_PENALTY + badness).min(WORST).pow(2);
        if self.hyphen {
            cost += HYPHEN_PENALTY.pow(2);
        }
        // Hyphens below each other, or above the last line, are seen at once.
        cost += match (from.hyphens, self.hyphen, self.ends) {
            (true, true, _) => HYPHENS_IN_A_ROW,
            (true, false, true) => HYPHEN_BEFORE_LAST,
            _ => 0,
        };
        // A tight line beside a loose one shows more than either would by itself.
        if (class - from.class).abs() > 1 {
            cost += CLASSES_APART;
        }
        LineCost { cost, class }
    }
}

/// About a hundred times the cube of `by` over `of`, at most [`WORST`] (`TeX: The Program`, section 108).
fn badness(by: Em, of: Em) -> i64 {
    if by <= Em::ZERO {
        return 0;
    }
    if of <= Em::ZERO {
        return WORST;
    }
    // The cube of 297 is about 100 times 0o1_000_000, so the cube of the parts over that is a hundred times the cube of
    // the ratio; 0o400_000, its half, rounds.
    let ratio = by.parts_of(of, 297);
    if ratio > 1290 { WORST } else { (ratio.pow(3) + 0o400_000) / 0o1_000_000 }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::brief::Brief;
    use crate::draft::Draft;
    use crate::setting::copy::ShapedCopy;
    use crate::setting::{Faces, Rooms, SettingMemory};

    const COPY: &str = "In the harbour of Gull Point the lamp has gone out, and nobody will climb the stair. Nobody \
                        but Oona, who is nearly seven, afraid of gulls, and quite sure that she heard somebody \
                        singing.";

    /// Sets one paragraph in the first block's type and looks at its filler.
    fn with_filler<R>(source: &str, width: f64, keys: &str, look: impl FnOnce(&Filler<'_>) -> R) -> R {
        let yaml = format!(
            "panel: {{ trim: {} x 200 pt, margins: 20 pt, keep_out: [{{ name: box, size: 60 x 50 pt, at: {{ head: 40 \
             pt, spine: 0 pt }}, clearance: 0 pt }}] }}\ntype: {{ size: 12 pt, leading: 15 pt, {keys} }}\n",
            width + 40.0
        );
        let brief = Brief::read(&yaml, Path::new("")).unwrap();
        let (draft, faces) = (Draft::read(source), Faces::built_in());
        let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
        let rooms = Rooms::of(&brief);
        let room = &*rooms.places()[0].room;
        let paragraph = &copy.paragraphs[0];
        look(&Filler {
            paragraph: 0,
            place: 0,
            form: copy.forms().form(paragraph.block.kind),
            room,
            pieces: &paragraph.shaped.pieces,
            glyphs: &paragraph.shaped.glyphs,
            text: paragraph.block.text(),
        })
    }

    /// The least that any way to set the paragraph costs, every one of them tried: its depth first where it is ragged.
    fn by_trying_all(search: &mut LineSearch<'_>, way: usize, place: usize, best: &mut Option<(i64, Length, i64)>) {
        if place == search.filler.pieces.len() {
            let rank = search.rank(way);
            *best = Some(best.map_or(rank, |known| known.min(rank)));
            return;
        }
        let known = search.ways.len();
        search.at.iter_mut().for_each(Vec::clear);
        search.go_on(way, place, Length::ZERO);
        let next: Vec<(usize, usize)> =
            search.at.iter().enumerate().flat_map(|(at, ways)| ways.iter().map(move |way| (*way, at))).collect();
        for (way, place) in next {
            by_trying_all(search, way, place, best);
        }
        search.ways.truncate(known);
    }

    #[test]
    fn no_other_way_costs_less() {
        for keys in [
            "align: justified",
            "align: justified, hyphenate: true",
            "breaks: total-fit",
            "breaks: total-fit, hyphenate: true",
        ] {
            for (words, width) in [(11, 120.0), (12, 150.0), (9, 90.0)] {
                let source: Vec<&str> = COPY.split(' ').take(words).collect();
                with_filler(&source.join(" "), width, keys, |filler| {
                    let top = filler.room.live().y;
                    let mut best = None;
                    let fewest = fewest_lines(filler, Length::ZERO);
                    by_trying_all(&mut LineSearch::from(filler, &fewest, Bound::NONE, top), 0, 0, &mut best);
                    let chosen = LineSearch::run(filler, &fewest, Bound::NONE, top, Length::ZERO);
                    let found = chosen.at[filler.pieces.len()].iter().map(|way| chosen.rank(*way)).min();
                    assert!(best.is_some());
                    assert_eq!(found, best, "{keys}, {words} words, {width} pt");
                });
            }
        }
    }

    /// Many words in a row drawn by lot, at measures from hardly one word to ten, beside and below the keep-out.
    #[test]
    fn the_ways_that_are_passed_over_are_never_the_best() {
        let words: Vec<&str> = COPY.split(' ').chain(["—", "“Oh!”", "light\u{ad}house", "well-known", "a"]).collect();
        let (mut number, mut bounded) = (1_u64, 0);
        for round in 0..48 {
            let mut source = String::new();
            for _ in 0..5 + round % 90 {
                number = number.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                source = source + words[(number >> 33) as usize % words.len()] + " ";
            }
            for keys in [
                "align: justified",
                "align: justified, hyphenate: true, hang_quotes: true",
                "breaks: total-fit, hang_quotes: true",
                "breaks: total-fit, hyphenate: true",
            ] {
                with_filler(&source, 80.0 + (round * 7 % 200) as f64, keys, |filler| {
                    let (top, indent) = (filler.room.live().y, Length::pt(f64::from(round % 2) * 9.0));
                    let fewest = fewest_lines(filler, indent);
                    let plain = LineSearch::run(filler, &fewest, Bound::NONE, top, indent).best();
                    bounded += usize::from(plain.is_some());
                    assert_eq!(best_lines(filler, top, indent), plain, "{keys}: {source}");
                });
            }
        }
        assert!(bounded > 120, "only {bounded} paragraphs have a way");
    }

    /// Worked out by hand from the formula: 297 parts are a ratio of one, which is as bad as 100.
    #[test]
    fn badness_is_a_hundred_times_the_cube_of_the_ratio() {
        let em = |units| Em::from_units(units, 1000);
        for (by, of, expected) in [
            (0, 100, 0),
            (100, 100, 100),
            (50, 100, 12),
            (200, 100, 800),
            (434, 100, 8151),
            (435, 100, 10_000),
            (1, 0, 10_000),
        ] {
            assert_eq!(badness(em(by), em(of)), expected, "{by} of {of}");
        }
    }

    #[test]
    fn a_word_wider_than_its_measure_has_no_way() {
        let source = format!("Oona {} runs", "lamp".repeat(12));
        with_filler(&source, 100.0, "breaks: total-fit", |filler| {
            let mut lines = Vec::new();
            assert_eq!(set(filler, filler.room.live().y, Length::ZERO, &mut lines), None);
            assert!(lines.is_empty());
        });
    }
}
