//! What a trial makes of the copy, in one line: `13 to 11.2 pt, 6 lines over to 2 left; the largest that fits: 12 pt`.

use crate::brief::Brief;
use crate::brief::typography::{Align, BlockType};
use crate::draft::BlockKind;
use crate::report::Report;
use crate::report::fit::font_name;
use crate::setting::Faces;
use crate::units::nouns::counted;
use crate::units::{Length, trimmed};

/// How copy stands on its panel, as far as a trial changes that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TrialFit {
    /// Lines over.
    over: usize,
    /// Lines left.
    left: usize,
    /// Whether a word is wider than its line.
    is_too_wide: bool,
    /// Lines that are hard to read on their art, or lost; none where no copy stands on art.
    unclear: Option<usize>,
    /// The largest size that fits; none where none does.
    largest: Option<Length>,
}

impl TrialFit {
    /// How the copy of a report stands on its panel.
    pub fn of(report: &Report) -> Self {
        let fit = &report.fit;
        Self {
            over: fit.castoff.lines_over,
            left: fit.castoff.lines_spare,
            is_too_wide: fit.castoff.lines_over == 0 && !fit.copy_fits(),
            unclear: report.legibility.as_ref().map(|art| art.not_clear().count()),
            largest: fit.largest_size,
        }
    }

    /// `6 lines over`, `2 lines left`; the noun is left out where the words follow others that have it.
    fn lines(&self, has_noun: bool) -> String {
        let lines = |count: usize| if has_noun { counted(count, "line") } else { count.to_string() };
        match (self.over, self.is_too_wide) {
            (0, true) => "a word too wide".to_owned(),
            (0, false) => format!("{} left", lines(self.left)),
            (over, _) => format!("{} over", lines(over)),
        }
    }

    /// `6 lines over to 2 left`, or as they are where nothing changes them.
    fn lines_since(&self, before: &Self) -> String {
        let (then, now) = (before.lines(true), self.lines(true));
        match then == now {
            true => format!("{now} as before"),
            false => format!("{then} to {}", self.lines(before.is_too_wide)),
        }
    }

    /// `4 lines not clear to 0`; none where no copy stands on art.
    fn clear_since(&self, before: &Self) -> Option<String> {
        let now = self.unclear?;
        let told = |count: usize| format!("{} not clear", counted(count, "line"));
        Some(match before.unclear.filter(|then| *then != now) {
            Some(then) => format!("{} to {now}", told(then)),
            None => told(now),
        })
    }

    /// What is told of the largest size, in more words and in fewer.
    fn largest_told(&self) -> [String; 2] {
        match self.largest {
            Some(size) => {
                let points = trimmed(size.to_pt(), 2);
                [format!("the largest that fits: {points} pt"), format!("largest {points} pt")]
            }
            None => ["no size fits: something has to go".to_owned(), "no size fits".to_owned()],
        }
    }
}

/// Leadings that differ by less, in hundredths of the size, are one and the same.
const SAME_LEADING: f64 = 0.1;

/// What a trial makes of the copy, in at most so many columns where the fewest words need no more: the change of the
/// type, the lines before and now, and the largest size that fits. With nothing tried only the last two are told.
pub fn told(
    (own, tried, faces): (&Brief, &Brief, &Faces),
    before: Option<&TrialFit>,
    now: &TrialFit,
    columns: usize,
) -> String {
    let [largest, in_short] = now.largest_told();
    let Some(before) = before else {
        let said = format!("the brief's own: {}", now.lines(true));
        return fitting([format!("{said}; {largest}"), format!("{}; {in_short}", now.lines(true))], columns);
    };
    let of = |brief: &Brief| brief.typography.of(BlockKind::Blurb).clone();
    let mut changes = type_changes(&of(own), &of(tried), faces);
    if !own.written_panel().is_as(&tried.written_panel()) {
        changes.push("another panel".to_owned());
    }
    let lines = now.lines_since(before);
    let said = changes.iter().chain([&lines]).cloned().chain(now.clear_since(before)).collect::<Vec<_>>().join(", ");
    let first = changes.first().map_or(String::new(), |first| format!("{first}, "));
    fitting(
        [
            format!("{said}; {largest}"),
            format!("{said}; {in_short}"),
            format!("{first}{lines}; {in_short}"),
            format!("{lines}; {in_short}"),
        ],
        columns,
    )
}

/// The first of several wordings that has room, or else the last.
fn fitting<const N: usize>(wordings: [String; N], columns: usize) -> String {
    let found = wordings.iter().find(|words| words.chars().count() <= columns).or(wordings.last());
    found.cloned().unwrap_or_default()
}

/// What differs between the brief's type and that which is tried: `13 to 11.2 pt`, `serif to sans`.
fn type_changes(own: &BlockType, tried: &BlockType, faces: &Faces) -> Vec<String> {
    let points = |length: Length| trimmed(length.to_pt(), 2);
    let mut changes = Vec::new();
    // A leading that goes with the size needs no word.
    let is_leading_own = (tried.leading_in_hundredths() - own.leading_in_hundredths()).abs() < SAME_LEADING;
    match (own.size == tried.size, is_leading_own) {
        (true, true) => {}
        (false, true) => changes.push(format!("{} to {} pt", points(own.size), points(tried.size))),
        (true, false) => {
            changes.push(format!("leading {} to {} pt", points(own.leading()), points(tried.leading())));
        }
        (false, false) => changes.push(format!(
            "{} on {} to {} on {} pt",
            points(own.size),
            points(own.leading()),
            points(tried.size),
            points(tried.leading())
        )),
    }
    let name = |of: &BlockType| font_name(&of.font, faces.family(&of.font), of.emphasis());
    if own.font != tried.font {
        changes.push(format!("{} to {}", name(own), name(tried)));
    }
    if own.align != tried.align {
        changes.push(format!("{} to {}", align_name(own.align), align_name(tried.align)));
    }
    changes
}

/// An alignment as a brief writes it.
pub fn align_name(align: Align) -> &'static str {
    match align {
        Align::Left => "left",
        Align::Centre => "centre",
        Align::Justified => "justified",
    }
}
