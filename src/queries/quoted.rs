//! The quotation marks of a paragraph, found once so that any number of places can be looked up.

use std::ops::Range;

/// The marks of a paragraph, as bytes of its text, in order.
pub(super) struct Quoted {
    /// The straight double marks.
    straight: Vec<usize>,
    /// The marks that open and those that close, by their kinds.
    pairs: [(Vec<usize>, Vec<usize>); 3],
}

impl Quoted {
    pub(super) fn of(text: &str) -> Self {
        let places = |mark: char| -> Vec<usize> { text.match_indices(mark).map(|(at, _)| at).collect() };
        // A curly mark that closes looks like an apostrophe, so one counts only behind a stop.
        let mut closing = places('’');
        closing.retain(|at| text[..*at].ends_with([',', '.', '!', '?', '…']));
        let pairs = [(places('“'), places('”')), (places('«'), places('»')), (places('‘'), closing)];
        Self { straight: places('"'), pairs }
    }

    /// Whether a place is inside quotation marks.
    pub(super) fn holds(&self, place: &Range<usize>) -> bool {
        let count_before = |marks: &[usize]| marks.partition_point(|at| *at < place.start);
        let last_before = |marks: &[usize]| count_before(marks).checked_sub(1).map(|last| marks[last]);
        let has_after = |marks: &[usize]| marks.last().is_some_and(|at| *at >= place.end);
        (count_before(&self.straight) % 2 == 1 && has_after(&self.straight))
            || self.pairs.iter().any(|(open, close)| last_before(open) > last_before(close) && has_after(close))
    }
}
