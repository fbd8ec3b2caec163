//! The plan: the fewest cuts that make a draft fit and meet its limits.
//!
//! The search goes over combinations of cuts. Whether a combination fits is found by setting it, not by adding up its
//! cuts: a paragraph is shaped once for every combination of cuts in it, and the lines of the whole copy are filled for
//! every combination of paragraphs. What is measured on the words is estimated from the single cuts first, and measured
//! on the file itself before a plan is named.
//!
//! Combinations are tried in the order of their size, so the first that brings the draft within its limits is the
//! shortest, and among as many cuts the one that takes the fewest letters away. Where there are too many combinations
//! of a size to try them all, only those that came nearest with one cut less are extended. Where the work that may be
//! done gives out before a plan is found, the plan is as few as will do of the cuts that take most letters away. The
//! plan says whether all was tried.

use std::collections::{BTreeMap, HashMap};

use super::ReportMemory;
use super::cuts::{Ground, PricedCut};
use super::verdict::{Check, Subject};
use crate::draft::{Block, Edit};
use crate::queries::Cut;
use crate::setting::lines::Setting;
use crate::setting::shaped::Shaped;
use crate::setting::{Rooms, ShapedCopy, Work};

/// The cuts of a plan, and what they come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Positions among the priced cuts, in the order of the copy; none where nothing has to be cut.
    pub cuts: Vec<usize>,
    /// Whether the draft is within every limit when the cuts are made. If not, no combination that was tried brings it
    /// there, and this is the shortest of those that come nearest.
    pub reaches: bool,
    /// Limits that are still not kept, with the values that the draft would have.
    pub outside: Vec<Check>,
    /// Whether every combination that might have been shorter was tried; if not, there are too many of them.
    pub all_tried: bool,
}

/// The most combinations of one size that are all tried.
const MOST_OF_A_SIZE: usize = 800;
/// How many of the nearest combinations are extended where a size has more than that.
const NEAREST: usize = 12;
/// The most bytes of text that are held shaped at once, for combinations of cuts that come up again.
const MOST_HELD: usize = 500_000;
/// The most plans of one size that are measured on the file itself.
const MOST_MEASURED: usize = 24;

/// How far an average may be off when the effects of single cuts on it are added up.
const ADDED_UP: f64 = 0.5;

/// What is outside a limit is compared in so many parts of the limit.
const PARTS: f64 = 1000.0;

/// What `Distance::reached` is when every limit is kept.
const NOTHING_OUTSIDE: (usize, usize, i64) = (0, 0, 0);

/// How far a combination is from what is asked, the less the better.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
struct Distance {
    /// Limits that are not kept, the fit among them.
    outside: usize,
    lines_over: usize,
    /// How far values are outside their limits, each as a part of its limit.
    excess: f64,
    /// The lines of the setting; the last of each paragraph counts as the part of its measure that it fills.
    depth: f64,
    letters: i64,
}

impl Distance {
    /// The part of the distance that tells whether a plan will do; depth and letters do not matter for that.
    fn reached(&self) -> (usize, usize, i64) {
        (self.outside, self.lines_over, (self.excess * PARTS).round() as i64)
    }
}

struct PlanSearch<'a> {
    ground: &'a Ground<'a>,
    cuts: &'a [PricedCut],
    /// Positions of the cuts that may be part of a plan.
    allowed: Vec<usize>,
    copy: &'a ShapedCopy<'a>,
    rooms: &'a Rooms,
    /// For each place, whether copy taken out of it may help another line to go in.
    counts: Vec<bool>,
    /// Blocks with some of their cuts made, by the positions of these cuts.
    reshaped: HashMap<Vec<usize>, (Block, Shaped)>,
    /// Bytes of the texts in `reshaped`.
    held: usize,
    /// The steps of work that it takes to lay the whole copy, once for a combination.
    steps: usize,
    setting: Setting,
    work: Work<'a>,
    memory: ReportMemory,
    all_tried: bool,
}

/// Combinations with how far each is from what is asked.
type Combinations = Vec<(Distance, Vec<usize>)>;

/// Finds the plan for a draft that is set in this copy, as far as the work that may be done goes.
pub(super) fn plan(
    ground: &Ground<'_>,
    cuts: &[PricedCut],
    (copy, rooms): (&ShapedCopy<'_>, &Rooms),
    work: Work<'_>,
) -> Plan {
    let mut search = PlanSearch {
        ground,
        cuts,
        allowed: (0..cuts.len()).filter(|cut| may_be_part(ground, &cuts[*cut])).collect(),
        copy,
        rooms,
        counts: where_cuts_count(ground, rooms),
        reshaped: HashMap::new(),
        held: 0,
        steps: Setting::steps(copy, rooms),
        setting: Setting::default(),
        work,
        memory: ReportMemory::default(),
        all_tried: true,
    };
    if ground.report.verdict.is_within() {
        return search.measured(Vec::new());
    }
    search.run()
}

/// The places that do not hold their copy, and those whose copy theirs follows; a cut elsewhere wins nothing for the
/// fit. Where everything fits, all count.
fn where_cuts_count(ground: &Ground<'_>, rooms: &Rooms) -> Vec<bool> {
    let places = &ground.report.fit.places;
    let is_over = |place: usize| places.get(place).is_some_and(|place| !place.fits());
    let counts = |place| is_over(place) || rooms.followers(place).into_iter().any(is_over);
    let all_fit = !(0..places.len()).any(is_over);
    (0..rooms.places().len()).map(|place| all_fit || counts(place)).collect()
}

/// Whether a cut may be part of a plan: it takes no term or name away, makes nothing longer, and breaks no limit that
/// is kept without it.
fn may_be_part(ground: &Ground<'_>, cut: &PricedCut) -> bool {
    let checks = ground.report.verdict.checks.iter().zip(&cut.price.values);
    let spoils = |(check, after): (&Check, &Option<f64>)| {
        check.is_within() && !after.is_some_and(|after| check.range.holds(after))
    };
    cut.price.lost.is_empty() && cut.price.letters() >= 0 && !checks.into_iter().any(spoils)
}

impl PlanSearch<'_> {
    fn run(&mut self) -> Plan {
        let most = self.most();
        let mut nearest = Vec::new();
        self.search(&most, &mut nearest).or_else(|| self.enough(&most)).unwrap_or_else(|| self.measured(nearest))
    }

    /// The shortest combination that brings the draft within its limits. None where no combination does, or the work
    /// gives out; `nearest` is then the nearest of those that were tried.
    fn search(&mut self, most: &[usize], nearest: &mut Vec<usize>) -> Option<Plan> {
        // What all the cuts reach together is taken for the nearest that any can come: where even that is not enough,
        // the search ends with the shortest combination that comes as near.
        let mut all = most.to_vec();
        all.sort_unstable();
        let goal = self.distance(&all)?.reached();
        let nothing = self.distance(&[])?;
        let mut least = nothing.reached();
        let mut sizes: Combinations = vec![(nothing, Vec::new())];
        for _ in 0..self.allowed.len() {
            // As near as it gets, and that is not near enough: more cuts would win nothing.
            if least <= goal && goal > NOTHING_OUTSIDE {
                break;
            }
            let mut next = self.longer(&sizes);
            // From the first size that is too large on, only the nearest combinations of each size are extended. The
            // list broke off when it became too long, so it is made again from the nearest.
            if next.len() > MOST_OF_A_SIZE && self.all_tried {
                self.all_tried = false;
                sizes.truncate(NEAREST);
                next = self.longer(&sizes);
            }
            let mut tried = Combinations::new();
            for cuts in next {
                tried.push((self.distance(&cuts)?, cuts));
            }
            tried
                .sort_by(|a, b| a.0.partial_cmp(&b.0).unwrap_or(std::cmp::Ordering::Equal).then_with(|| a.1.cmp(&b.1)));
            // Sizes are tried from the smallest, so the first combination that does is one of the shortest.
            if let Some(plan) = self.first_that_does(&tried) {
                return Some(plan);
            }
            let Some(best) = tried.first() else { break };
            if best.0.reached() < least {
                least = best.0.reached();
                nearest.clone_from(&best.1);
            }
            if !self.all_tried {
                tried.truncate(NEAREST);
            }
            sizes = tried;
        }
        None
    }

    /// Every cut that can be made together with the others, those that take most letters away first.
    fn most(&self) -> Vec<usize> {
        let mut by_letters = self.allowed.clone();
        by_letters.sort_by_key(|cut| -self.cuts[*cut].price.letters());
        let mut most: Vec<usize> = Vec::new();
        let mut places: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for cut in by_letters {
            let PricedCut { block, cut: Cut { range, .. }, .. } = &self.cuts[cut];
            // The cuts chosen so far do not overlap, so of those that begin before the end of this one the last reaches
            // furthest.
            let before = places.range(..=(*block, range.end)).next_back();
            if before.is_none_or(|((other, _), end)| other < block || *end < range.start) {
                places.insert((*block, range.start), range.end);
                most.push(cut);
            }
        }
        most
    }

    /// Where not all was tried: as few of the cuts that take most letters away as bring the draft within its limits;
    /// none where all of them together do not.
    fn enough(&mut self, most: &[usize]) -> Option<Plan> {
        if self.all_tried {
            return None;
        }
        let mut first = |count: usize| {
            let mut cuts = most[..count].to_vec();
            cuts.sort_unstable();
            self.measured(cuts)
        };
        // Where all of them together do not suffice, there is no such plan. Else the count is halved between one that
        // suffices and one that does not: more of these cuts nearly always come at least as near, and whatever plan is
        // given was measured.
        let mut found = Some(first(most.len())).filter(|plan| plan.reaches)?;
        let mut too_few = 0;
        while too_few + 1 < found.cuts.len() {
            let count = usize::midpoint(too_few, found.cuts.len());
            let plan = first(count);
            if plan.reaches {
                found = plan;
            } else {
                too_few = count;
            }
        }
        Some(found)
    }

    /// Every combination of one cut more than these; while all are tried, the list may break off once it is too long.
    fn longer(&self, from: &[(Distance, Vec<usize>)]) -> Vec<Vec<usize>> {
        let mut longer = Vec::new();
        for (_, cuts) in from {
            for cut in &self.allowed {
                // While all are tried, a cut is only added behind the others, which makes each combination once; later
                // any may be added, since not every shorter combination is there to be gone on with.
                let is_next =
                    if self.all_tried { cuts.last().is_none_or(|last| last < cut) } else { !cuts.contains(cut) };
                if is_next && cuts.iter().all(|other| self.go_together(*cut, *other)) {
                    let mut cuts = cuts.clone();
                    cuts.push(*cut);
                    cuts.sort_unstable();
                    longer.push(cuts);
                }
            }
            if self.all_tried && longer.len() > MOST_OF_A_SIZE {
                break;
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

    /// The first combination that suffices when it is made in the file, of those that seem to suffice.
    fn first_that_does(&mut self, tried: &[(Distance, Vec<usize>)]) -> Option<Plan> {
        let seem = tried.iter().take_while(|(distance, _)| distance.reached() == NOTHING_OUTSIDE).take(MOST_MEASURED);
        // All of these have as many cuts, so the one that takes the fewest letters away is measured first.
        let mut seem: Vec<&(Distance, Vec<usize>)> = seem.collect();
        seem.sort_by_key(|(distance, cuts)| (distance.letters, cuts.clone()));
        for (_, cuts) in seem {
            if !self.ground.may_try_one(&self.work) {
                self.all_tried = false;
                return None;
            }
            let plan = self.measured(cuts.clone());
            if plan.reaches {
                return Some(plan);
            }
        }
        None
    }

    /// A combination, made in the file and measured.
    fn measured(&mut self, cuts: Vec<usize>) -> Plan {
        let edits: Vec<Edit> = cuts.iter().map(|cut| self.cuts[*cut].edit.clone()).collect();
        let (_, report) = self.ground.with(&edits, &mut self.memory);
        let verdict = &report.verdict;
        let outside = verdict.outside().cloned().collect();
        Plan { cuts, reaches: verdict.is_within(), outside, all_tried: self.all_tried }
    }

    /// How far a combination is from what is asked: the copy is set with it, and what is measured on its words is
    /// estimated. None where the work that may be done gives out.
    fn distance(&mut self, cuts: &[usize]) -> Option<Distance> {
        if self.held > MOST_HELD {
            self.reshaped.clear();
            self.held = 0;
        }
        // Cuts are numbered in the order of the copy, so those of one block stand side by side.
        let mut by_block: Vec<Vec<usize>> = Vec::new();
        for cut in cuts {
            match by_block.last_mut().filter(|last| self.cuts[last[0]].block == self.cuts[*cut].block) {
                Some(last) => last.push(*cut),
                None => by_block.push(vec![*cut]),
            }
        }
        // A block is shaped once for each set of its own cuts, however many combinations of other blocks it comes up
        // in.
        let is_shaped = by_block.iter().all(|cuts| self.reshape(cuts)) && self.work.spend(self.steps);
        if !is_shaped {
            self.all_tried = false;
            return None;
        }
        let others: Vec<(usize, &Block, &Shaped)> = by_block
            .iter()
            .filter_map(|cuts| self.reshaped.get(cuts).map(|(block, shaped)| (self.cuts[cuts[0]].block, block, shaped)))
            .collect();
        self.setting.set_with(self.copy, &others, self.rooms);
        let lines_over = self.setting.lines_over();
        let too_wide = self.setting.lines.iter().any(|line| line.too_wide);
        // The fit was set and is known; every other value is estimated as the sum of what the single cuts do to it.
        let checks = 0..self.ground.report.verdict.checks.len();
        let off: Vec<f64> = checks.map(|check| self.excess(check, cuts)).filter(|excess| *excess > 0.0).collect();
        Some(Distance {
            outside: off.len() + usize::from(lines_over > 0) + usize::from(too_wide),
            lines_over,
            excess: off.iter().sum(),
            depth: self.depth(),
            letters: cuts.iter().map(|cut| self.cuts[*cut].price.letters()).sum(),
        })
    }

    /// The lines of the places in which a cut may help, the last of each paragraph counted by how full it is: of two
    /// combinations with as many lines, the one whose last lines are shorter is nearer to winning one.
    fn depth(&self) -> f64 {
        let lines = &self.setting.lines;
        let ends = |index: usize| lines.get(index + 1).is_none_or(|next| next.paragraph != lines[index].paragraph);
        let part = |index: usize| {
            let line = &lines[index];
            if !self.counts[line.place] {
                return 0.0;
            }
            if ends(index) { line.width.to_pt() / line.measure.to_pt().max(1.0) } else { 1.0 }
        };
        (0..lines.len()).map(part).sum()
    }

    /// How far a value seems to be outside its limit, as a part of the limit, when what each cut does to the value is
    /// added up; 0 within. The fit is always 0 here, since it is set and not estimated.
    fn excess(&self, check: usize, cuts: &[usize]) -> f64 {
        let known = &self.ground.report.verdict.checks[check];
        if matches!(known.subject, Subject::LinesOver(_) | Subject::LinesTooWide) {
            return 0.0;
        }
        let Some(own) = known.value else { return 1.0 };
        let after = |cut: &usize| self.cuts[*cut].price.values.get(check).copied().flatten();
        let value = own + cuts.iter().filter_map(after).map(|after| after - own).sum::<f64>();
        // Counts add up exactly. Averages do not: more than one cut moves them together, so some doubt is granted.
        let is_counted = own.fract() == 0.0 && value.fract() == 0.0;
        let margin = if is_counted || cuts.len() < 2 { 0.0 } else { ADDED_UP };
        let off = |bound: Option<f64>, side: f64| {
            bound.map_or(0.0, |bound| (side * (value - bound) - margin).max(0.0) / bound.abs().max(1.0))
        };
        off(known.range.from, -1.0) + off(known.range.to, 1.0)
    }

    /// Makes cuts in their block and shapes the block; gives whether there was work left for that.
    fn reshape(&mut self, cuts: &[usize]) -> bool {
        if self.reshaped.contains_key(cuts) {
            return true;
        }
        let number = self.cuts[cuts[0]].block;
        if !self.work.spend_on_shaping(self.copy.paragraphs[number].block.text()) {
            return false;
        }
        let mut made: Vec<&PricedCut> = cuts.iter().map(|cut| &self.cuts[*cut]).collect();
        // From the last to the first, so that the places of those still to be made stay right.
        made.sort_by_key(|cut| std::cmp::Reverse(cut.cut.range.start));
        let own = self.copy.paragraphs[number].block.clone();
        let block = made.iter().fold(own, |block, cut| block.replaced(cut.cut.range.clone(), &cut.cut.wording));
        let shaped = self.copy.shape_other(number, &block);
        self.held += block.text().len();
        self.reshaped.insert(cuts.to_vec(), (block, shaped));
        true
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::brief::Brief;
    use crate::brief::stet::Stet;
    use crate::draft::Draft;
    use crate::report::tighten::{DraftFile, Tighten};
    use crate::report::{Report, assess};
    use crate::setting::Faces;

    const COPY: &str = "In order to reach the very top of the stair, Oona counts each and every step. Despite the \
                        fact that it is dark, she truly is not afraid.\n\nAt this point in time the boats are lost. A \
                        large number of gulls are circling the lamp, and in the event that nobody lights it, the \
                        sailors make a decision to wait.\n";

    fn brief(width: f64, height: f64, limits: &str) -> Brief {
        let yaml = format!(
            "book: {{ kind: middle grade }}\nlimits: {limits}\npanel: {{ trim: {width} x {height} pt, margins: 20 pt, \
             keep_out: [{{ name: box, size: 60 x 40 pt, at: {{ foot: 20 pt, spine: 20 pt }}, clearance: 0 pt }}] \
             }}\ntype: {{ size: 12 pt, leading: 16 pt }}\n"
        );
        Brief::read(&yaml, Path::new("")).unwrap()
    }

    fn tighten(brief: &Brief, draft: &Draft, report: &Report) -> Tighten {
        let file = DraftFile { name: "a.md", source: COPY, stet: &Stet::default() };
        Tighten::of(file, draft, brief, &Faces::built_in(), report)
    }

    /// Whether any `size` of the cuts, made in the file, bring the draft within its limits.
    fn some_do(size: usize, from: usize, chosen: &mut Vec<usize>, found: &Tighten, ground: &Ground<'_>) -> bool {
        if chosen.len() == size {
            let edits: Vec<Edit> = chosen.iter().map(|cut| found.cuts[*cut].edit.clone()).collect();
            return ground.with(&edits, &mut ReportMemory::default()).1.verdict.is_within();
        }
        (from..found.cuts.len()).any(|cut| {
            let (one, range) = (&found.cuts[cut], &found.cuts[cut].cut.range);
            let meets = |other: &usize| {
                let other = &found.cuts[*other];
                other.block == one.block && other.cut.range.start <= range.end && range.start <= other.cut.range.end
            };
            if chosen.iter().any(meets) || !may_be_part(ground, one) {
                return false;
            }
            chosen.push(cut);
            let does = some_do(size, cut + 1, chosen, found, ground);
            chosen.pop();
            does
        })
    }

    /// Every combination is made in the file and measured; none that is shorter than the plan does, and the plan does.
    #[test]
    fn no_shorter_plan_does() {
        let mut sizes = Vec::new();
        for (width, height, limits) in [
            (240.0, 222.0, "{ words: .. }"),
            (240.0, 206.0, "{ words: .. }"),
            (300.0, 166.0, "{ words: .. }"),
            (240.0, 400.0, "{ words: ..56 }"),
            (260.0, 190.0, "{ words: ..60, longest_sentence: ..26 }"),
        ] {
            let (brief, draft, faces) = (brief(width, height, limits), Draft::read(COPY), Faces::built_in());
            let report = assess(&draft, &brief, &faces);
            let found = tighten(&brief, &draft, &report);
            assert!(found.cuts.len() >= 6, "{}", found.cuts.len());
            let ground = Ground {
                source: COPY,
                draft: &draft,
                brief: &brief,
                faces: &faces,
                report: &report,
                steps_together: 0,
            };
            let shortest = (0..=found.cuts.len()).find(|size| some_do(*size, 0, &mut Vec::new(), &found, &ground));
            assert_eq!(
                found.plan.reaches.then_some(found.plan.cuts.len()),
                shortest,
                "{width} x {height}, {limits}: {:?}",
                found.plan
            );
            sizes.push(shortest);
        }
        // Some need no cut, some one, some several, and for some nothing does; otherwise this test would show little.
        sizes.sort_unstable();
        sizes.dedup();
        assert!(sizes.len() >= 3, "{sizes:?}");
    }

    /// A cut that takes a term or a name away is offered with what it loses, and never planned.
    #[test]
    fn a_plan_loses_no_term() {
        let yaml = "terms: [at this point in time]\nlimits: { words: ..3 }\npanel: { trim: 8 x 8 in }\n";
        let (brief, draft) = (Brief::read(yaml, Path::new("")).unwrap(), Draft::read(COPY));
        let report = assess(&draft, &brief, &Faces::built_in());
        let found = tighten(&brief, &draft, &report);
        let losing: Vec<usize> = (0..found.cuts.len()).filter(|cut| !found.cuts[*cut].price.lost.is_empty()).collect();
        assert!(!found.plan.reaches && !found.plan.cuts.is_empty());
        assert!(losing.iter().all(|cut| !found.plan.cuts.contains(cut)));
    }
}
