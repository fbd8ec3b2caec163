//! What can go: the plan, every cut with its price, the queries without a ready wording, and what a line costs.

use super::cuts::{Ground, PricedCut};
use super::plan::{Plan, plan};
use super::sizes::{Priced, priced};
use super::{Report, ReportMemory};
use crate::brief::Brief;
use crate::brief::stet::Stet;
use crate::draft::{Draft, Edit};
use crate::queries::{self, Query, QueryMemory, Reading};
use crate::setting::lines::Setting;
use crate::setting::{Faces, Rooms, SettingMemory, ShapedCopy, Work};
use crate::text::Text;

/// All that helps to tighten one draft.
#[derive(Debug, Clone)]
pub struct Tighten {
    /// Every query that the author does not let stand, in the order of the copy.
    pub queries: Vec<Query>,
    /// Every cut that can be made, in the order of its query.
    pub cuts: Vec<PricedCut>,
    /// How many more cuts there are that were not tried, where the copy is too long to try each.
    pub untried: usize,
    /// Positions of the cuts: first those that win a line, with the fewest letters for a line first; then those that
    /// win none alone, with the most letters first.
    pub by_price: Vec<usize>,
    /// The fewest cuts that make the draft fit and meet its limits.
    pub plan: Plan,
    /// What the plan's cuts come to together, against the draft as it is; none where the plan is empty.
    pub planned: Option<Box<Report>>,
    /// The changes that set printed marks in the place of a keyboard's, in the order of the copy.
    pub marks: Vec<Edit>,
    /// What a line costs in each paragraph.
    pub prices: Vec<Priced>,
    /// How many queries the author lets stand.
    pub standing: usize,
}

/// A draft's file, and what the author lets stand in it.
#[derive(Debug, Clone, Copy)]
pub struct DraftFile<'a> {
    /// The name of the file, without its folder.
    pub name: &'a str,
    /// The file's text.
    pub source: &'a str,
    /// What the author lets stand.
    pub stet: &'a Stet,
}

/// Steps of work that are done for the prices of cuts, and as many again for the plan: more than a thousand cuts in a
/// blurb of a hundred words.
const STEPS: usize = 15_000_000;

impl Tighten {
    /// Looks for all that can go in a draft.
    pub fn of(file: DraftFile<'_>, draft: &Draft, brief: &Brief, faces: &Faces, report: &Report) -> Self {
        Self::while_wanted(file, draft, brief, (faces, report), &|| true)
    }

    /// Looks for all that can go, as long as anybody wants to know: once the answer is no longer wanted the search ends
    /// soon, and the answer is not whole.
    pub fn while_wanted(
        file: DraftFile<'_>,
        draft: &Draft,
        brief: &Brief,
        (faces, report): (&Faces, &Report),
        is_wanted: &dyn Fn() -> bool,
    ) -> Self {
        let text = Text::read(draft, &brief.book);
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let rooms = Rooms::of(brief);
        let setting = Setting::new(&copy, copy.forms(), &rooms);
        let art = report.legibility.as_ref().map_or(&[][..], |art| &art.lines);
        let reading = Reading { draft, text: &text, level: &report.level, setting: &setting, art, brief };
        let all = queries::find(&reading, &mut QueryMemory::default());
        // What the author let stand is counted and gets no cuts.
        let stands = |query: &Query| file.stet.holds(file.name, query.rule, wording(query, draft));
        let standing = all.iter().filter(|query| stands(query)).count();
        let queries: Vec<Query> = all.into_iter().filter(|query| !stands(query)).collect();
        let steps_together = Setting::steps_together(&copy, &rooms);
        let ground = Ground { source: file.source, draft, brief, faces, report, steps_together };
        let (cuts, untried) = ground.price(&queries, &text, &Work::of(STEPS, is_wanted));
        // The plan has work of its own, so that many queries cannot use up what finds it.
        let plan = plan(&ground, &cuts, (&copy, &rooms), Work::of(STEPS, is_wanted));
        let edits: Vec<Edit> = plan.cuts.iter().map(|cut| cuts[*cut].edit.clone()).collect();
        let planned = (!edits.is_empty()).then(|| Box::new(ground.with(&edits, &mut ReportMemory::default()).1));
        Self {
            by_price: by_price(&cuts),
            queries,
            cuts,
            untried,
            plan,
            planned,
            marks: mark_edits(draft, brief),
            prices: priced(draft, &copy, &setting, &rooms, is_wanted),
            standing,
        }
    }

    /// The cuts of one query, the best wording first.
    pub fn cuts_of(&self, query: usize) -> impl Iterator<Item = &PricedCut> {
        self.cuts.iter().filter(move |cut| cut.query == query)
    }
}

/// The changes of the author's file that set printed marks in the place of a keyboard's.
pub fn mark_edits(draft: &Draft, brief: &Brief) -> Vec<Edit> {
    queries::mark_mends(draft, &brief.book.language).iter().filter_map(|mend| mend.edit(draft)).collect()
}

/// The words that a query is about.
pub fn wording<'d>(query: &Query, draft: &'d Draft) -> &'d str {
    draft.blocks.get(query.block).and_then(|block| block.text().get(query.range.clone())).unwrap_or("")
}

fn by_price(cuts: &[PricedCut]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..cuts.len()).collect();
    order.sort_by_key(|cut| {
        let price = &cuts[*cut].price;
        (price.letters_a_line().is_none(), price.letters_a_line().unwrap_or(-price.letters()), *cut)
    });
    order
}
