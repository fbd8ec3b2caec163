//! The plan: the fewest cuts that make a draft fit and meet its limits.
//!
//! It is a search over combinations. Each is set again, not added up: a paragraph is shaped anew for every combination of cuts
//! in it, once, and the lines of the whole copy are filled for every combination of paragraphs. What is measured on the words
//! is reckoned from the single cuts first and measured on the file itself before a plan is named.
//!
//! Combinations are tried in the order of their size, so the first that does is the shortest, and among as many cuts the one
//! that takes the fewest letters away. Where there are too many combinations of a size to try them all, those that came nearest
//! with one cut less are gone on with.

use std::collections::HashMap;

use super::cuts::{Ground, PricedCut};
use super::verdict::{Check, Subject};
use crate::draft::{Block, Edit};
use crate::setting::lines::Setting;
use crate::setting::shaped::Shaped;
use crate::setting::{Copy, Room};

/// The cuts of a plan, and what they come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// Positions among the priced cuts, in the order of the copy; none where nothing has to be cut.
    pub cuts: Vec<usize>,
    /// The draft is within every limit when they are made. If not, no plan is, and this is the shortest of those that come nearest.
    pub reaches: bool,
    /// Lines that are still over.
    pub lines_over: usize,
    /// Limits that are still not kept, those of the fit aside.
    pub outside: Vec<Subject>,
}

/// Combinations of one size that are all tried.
const MOST_OF_A_SIZE: usize = 800;
/// Combinations that are gone on with where there are more.
const NEAREST: usize = 12;
/// Plans that are measured on the file itself for each size.
const MOST_MEASURED: usize = 24;

/// What a measure of averages may be off by when the single cuts are added up.
const ADDED_UP: f64 = 0.5;

/// How far a combination is from what is asked, the less the better.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
struct Distance {
    /// Limits that are not kept, the fit among them.
    outside: usize,
    lines_over: usize,
    /// Lines with the last of each paragraph as the part of its measure that it fills.
    depth: f64,
    letters: i64,
}

impl Distance {
    /// What counts for whether a plan does: how many letters it takes does not.
    fn reached(&self) -> (usize, usize) {
        (self.outside, self.lines_over)
    }
}

struct Search<'a> {
    ground: &'a Ground<'a>,
    cuts: &'a [PricedCut],
    /// Positions of the cuts that may be part of a plan.
    allowed: Vec<usize>,
    copy: &'a Copy<'a>,
    room: &'a Room,
    /// Blocks with some of their cuts made.
    reshaped: HashMap<Vec<usize>, (Block, Shaped)>,
    setting: Setting,
}

/// Finds the plan for a draft that is set in this copy.
pub fn plan(ground: &Ground<'_>, cuts: &[PricedCut], copy: &Copy<'_>, room: &Room) -> Plan {
    let verdict = &ground.report.verdict;
    let allowed = (0..cuts.len()).filter(|cut| may_be_part(ground, &cuts[*cut])).collect();
    let mut search =
        Search { ground, cuts, allowed, copy, room, reshaped: HashMap::new(), setting: Setting::default() };
    if verdict.is_within() {
        return search.told(Vec::new());
    }
    search.run()
}

/// A plan takes no term or name away, makes nothing longer, and does not go over another limit.
fn may_be_part(ground: &Ground<'_>, cut: &PricedCut) -> bool {
    let checks = ground.report.verdict.checks.iter().zip(&cut.price.values);
    let spoils = |(check, after): (&Check, &Option<f64>)| {
        check.is_within() && !after.is_some_and(|after| check.range.holds(after))
    };
    cut.price.lost.is_empty() && cut.price.letters() >= 0 && !checks.into_iter().any(spoils)
}

impl Search<'_> {
    fn run(&mut self) -> Plan {
        let goal = self.goal();
        let nothing = self.distance(&[]);
        let mut sizes: Vec<(Distance, Vec<usize>)> = vec![(nothing, Vec::new())];
        let mut nearest = sizes[0].clone();
        let mut all_tried = true;
        for _ in 0..self.allowed.len() {
            if nearest.0.reached() <= goal && (goal > (0, 0) || nearest.1.is_empty()) {
                break;
            }
            let mut next = self.longer(&sizes, all_tried);
            if next.len() > MOST_OF_A_SIZE && all_tried {
                all_tried = false;
                sizes.truncate(NEAREST);
                next = self.longer(&sizes, false);
            }
            let mut tried: Vec<(Distance, Vec<usize>)> =
                next.into_iter().map(|cuts| (self.distance(&cuts), cuts)).collect();
            tried
                .sort_by(|a, b| a.0.partial_cmp(&b.0).unwrap_or(std::cmp::Ordering::Equal).then_with(|| a.1.cmp(&b.1)));
            if let Some(plan) = self.first_that_does(&tried) {
                return plan;
            }
            let Some(best) = tried.first() else { break };
            if best.0.reached() < nearest.0.reached() {
                nearest = best.clone();
            }
            if !all_tried {
                tried.truncate(NEAREST);
            }
            sizes = tried;
        }
        self.told(nearest.1)
    }

    /// What can be hoped for: where every cut that can be made together is made.
    fn goal(&mut self) -> (usize, usize) {
        let mut most: Vec<usize> = Vec::new();
        let mut by_letters = self.allowed.clone();
        by_letters.sort_by_key(|cut| -self.cuts[*cut].price.letters());
        for cut in by_letters {
            if most.iter().all(|other| self.go_together(cut, *other)) {
                most.push(cut);
            }
        }
        most.sort_unstable();
        self.distance(&most).reached()
    }

    /// Every combination of one cut more than these.
    fn longer(&self, from: &[(Distance, Vec<usize>)], all: bool) -> Vec<Vec<usize>> {
        let mut longer = Vec::new();
        for (_, cuts) in from {
            for cut in &self.allowed {
                let is_next = if all { cuts.last().is_none_or(|last| last < cut) } else { !cuts.contains(cut) };
                if is_next && cuts.iter().all(|other| self.go_together(*cut, *other)) {
                    let mut cuts = cuts.clone();
                    cuts.push(*cut);
                    cuts.sort_unstable();
                    longer.push(cuts);
                }
            }
        }
        longer.sort_unstable();
        longer.dedup();
        longer
    }

    /// Two cuts that share a byte, or meet, are not made together.
    fn go_together(&self, one: usize, other: usize) -> bool {
        let (one, other) = (&self.cuts[one], &self.cuts[other]);
        one.block != other.block
            || one.cut.range.end < other.cut.range.start
            || other.cut.range.end < one.cut.range.start
    }

    /// The first combination that does when it is made in the file, of those that seem to.
    fn first_that_does(&self, tried: &[(Distance, Vec<usize>)]) -> Option<Plan> {
        let seem = tried.iter().take_while(|(distance, _)| distance.reached() == (0, 0)).take(MOST_MEASURED);
        let mut seem: Vec<&(Distance, Vec<usize>)> = seem.collect();
        seem.sort_by_key(|(distance, cuts)| (distance.letters, cuts.clone()));
        seem.into_iter().map(|(_, cuts)| self.told(cuts.clone())).find(|plan| plan.reaches)
    }

    /// A combination, made in the file and measured.
    fn told(&self, cuts: Vec<usize>) -> Plan {
        let edits: Vec<Edit> = cuts.iter().map(|cut| self.cuts[*cut].edit.clone()).collect();
        let (_, report) = self.ground.with(&edits);
        let is_fit = |check: &&Check| !matches!(check.subject, Subject::LinesOver);
        Plan {
            cuts,
            reaches: report.verdict.is_within(),
            lines_over: report.fit.castoff.lines_over,
            outside: report.verdict.outside().filter(is_fit).map(|check| check.subject.clone()).collect(),
        }
    }

    /// How far a combination is from what is asked: the copy is set with it, and its words are reckoned.
    fn distance(&mut self, cuts: &[usize]) -> Distance {
        let mut by_block: Vec<Vec<usize>> = Vec::new();
        for cut in cuts {
            match by_block.last_mut().filter(|last| self.cuts[last[0]].block == self.cuts[*cut].block) {
                Some(last) => last.push(*cut),
                None => by_block.push(vec![*cut]),
            }
        }
        for cuts in &by_block {
            self.reshape(cuts);
        }
        let others: Vec<(usize, &Block, &Shaped)> = by_block
            .iter()
            .filter_map(|cuts| self.reshaped.get(cuts).map(|(block, shaped)| (self.cuts[cuts[0]].block, block, shaped)))
            .collect();
        self.setting.set_with(self.copy, &others, self.room);
        let lines_over = self.setting.lines_over();
        let checks = &self.ground.report.verdict.checks;
        let outside = (0..checks.len()).filter(|check| !self.seems_within(*check, cuts)).count();
        Distance {
            outside: outside
                + usize::from(lines_over > 0)
                + usize::from(self.setting.lines.iter().any(|line| line.too_wide)),
            lines_over,
            depth: self.depth(),
            letters: cuts.iter().map(|cut| self.cuts[*cut].price.letters()).sum(),
        }
    }

    fn depth(&self) -> f64 {
        let lines = &self.setting.lines;
        let ends = |index: usize| lines.get(index + 1).is_none_or(|next| next.paragraph != lines[index].paragraph);
        let part = |index: usize| {
            let line = &lines[index];
            if ends(index) { line.width.to_pt() / line.measure.to_pt().max(1.0) } else { 1.0 }
        };
        (0..lines.len()).map(part).sum()
    }

    /// Whether a limit seems to be kept when what each cut does to its value is added up. The fit is not reckoned but set.
    fn seems_within(&self, check: usize, cuts: &[usize]) -> bool {
        let known = &self.ground.report.verdict.checks[check];
        if matches!(known.subject, Subject::LinesOver | Subject::LinesTooWide) {
            return true;
        }
        let Some(own) = known.value else { return false };
        let change =
            |cut: &usize| self.cuts[*cut].price.values.get(check).copied().flatten().map_or(0.0, |after| after - own);
        let value = own + cuts.iter().map(change).sum::<f64>();
        let is_counted = own.fract() == 0.0 && value.fract() == 0.0;
        let margin = if is_counted || cuts.len() < 2 { 0.0 } else { ADDED_UP };
        known.range.holds(value) || known.range.holds(value - margin) || known.range.holds(value + margin)
    }

    /// Makes cuts of one block in it, and shapes it.
    fn reshape(&mut self, cuts: &[usize]) {
        if self.reshaped.contains_key(cuts) {
            return;
        }
        let number = self.cuts[cuts[0]].block;
        let mut made: Vec<&PricedCut> = cuts.iter().map(|cut| &self.cuts[*cut]).collect();
        made.sort_by_key(|cut| std::cmp::Reverse(cut.cut.range.start));
        let own = self.copy.paragraphs[number].block.clone();
        let block = made.iter().fold(own, |block, cut| block.replaced(cut.cut.range.clone(), &cut.cut.wording));
        let shaped = self.copy.shape_other(number, &block);
        self.reshaped.insert(cuts.to_vec(), (block, shaped));
    }
}
