//! The draft, or the kept copy, that is shown beside the draft in front, what makes the two differ, and the rows in
//! which both stand, which are scrolled together.

use std::borrow::Cow;
use std::ops::Range;

use super::assessed::Assessed;
use super::papers::{DraftId, ListedCopy};
use super::sheet::DraftSheet;
use crate::brief::Brief;
use crate::draft::Edit;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::report::ReportMemory;
use crate::report::differences::{Change, ChangeKind, DifferenceMark, Differences, ShownStretch};
use crate::setting::Faces;

/// What stands beside the draft in front.
#[derive(Debug, Clone, PartialEq)]
pub enum BesideOf {
    /// Another draft.
    Draft(DraftId),
    /// A kept copy of the draft in front.
    Copy(ListedCopy),
}

/// The draft that is shown beside the one in front.
#[derive(Debug)]
pub struct Beside {
    /// The other draft.
    pub of: BesideOf,
    /// The assessment of the other draft.
    pub found: Assessed,
    /// The number of the selected difference.
    pub at: usize,
    pub(super) text: String,
    changes: Vec<Change>,
    blocks: Vec<Vec<Vec<ShownStretch>>>,
    /// The number of the front draft's assessment for which the differences were found.
    compared_for: Option<u64>,
    rows: Vec<BesideRow>,
    /// What the rows were made for: the front draft's assessment, the selected difference, and the columns.
    made_for: Option<(u64, usize, usize)>,
    /// The rows that are scrolled past above those in sight.
    from: usize,
    /// How many rows are in sight.
    height: usize,
    /// Whether the rows in sight go with the selected difference.
    follows: bool,
}

/// One row of both columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BesideRow {
    /// The draft in front.
    pub left: RowWords,
    /// The other draft.
    pub right: RowWords,
    /// The differences in the sentence to which the row belongs.
    pub changes: Vec<usize>,
}

/// One draft's side of a sentence or of a row.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RowWords {
    /// What stands there.
    pub text: String,
    /// The bytes of the text that belong to the selected difference.
    pub held: Vec<Range<usize>>,
}

impl Beside {
    /// A draft that was just read, compared with the one in front.
    pub(super) fn new(of: BesideOf, text: &str, front: &DraftSheet, (brief, faces): (&Brief, &Faces)) -> Self {
        let found = Assessed::of(text, brief, faces, &mut ReportMemory::default());
        let mut beside = Self {
            of,
            found,
            at: 0,
            text: text.to_owned(),
            changes: Vec::new(),
            blocks: Vec::new(),
            compared_for: None,
            rows: Vec::new(),
            made_for: None,
            from: 0,
            height: 0,
            follows: true,
        };
        beside.compare(front);
        beside
    }

    /// The other draft, where it is one of the book and no kept copy.
    pub fn draft(&self) -> Option<DraftId> {
        match self.of {
            BesideOf::Draft(draft) => Some(draft),
            BesideOf::Copy(_) => None,
        }
    }

    /// Measures the other draft again, because the brief or its art has changed.
    pub(super) fn measure(&mut self, brief: &Brief, faces: &Faces) {
        self.found = Assessed::of(&self.text, brief, faces, &mut ReportMemory::default());
    }

    /// Finds the differences again if the draft in front has changed, and keeps the selected number within them.
    pub(super) fn compare(&mut self, front: &DraftSheet) {
        if self.compared_for == Some(front.assessment()) {
            return;
        }
        let differences = Differences::of(&front.now.draft, &self.found.draft);
        self.blocks = differences.whole().into_iter().map(|(_, sentences)| sentences).collect();
        self.changes = differences.changes;
        self.compared_for = Some(front.assessment());
        self.at = self.at.min(self.last());
    }

    /// The differences, in the order of the copy.
    pub fn changes(&self) -> &[Change] {
        &self.changes
    }

    /// The number of the last difference; 0 where there is none.
    pub(super) fn last(&self) -> usize {
        self.changes.len().saturating_sub(1)
    }

    /// The edits of the front draft that apply the selected difference; none where it cannot be applied alone.
    pub(super) fn edits(&self, front: &DraftSheet) -> Option<Vec<Edit>> {
        let differences = Differences::of(&front.now.draft, &self.found.draft);
        differences.edits(front.editor.text(), |change| change == self.at)
    }

    /// Makes the rows anew where what they show has changed.
    pub(super) fn make_rows(&mut self, columns: usize, brackets: [&str; 2]) {
        let made_for = Some((self.compared_for.unwrap_or(0), self.at, columns));
        if self.made_for != made_for {
            self.rows = rows(self, columns, brackets);
            self.made_for = made_for;
        }
    }

    /// Shows so many rows, those round the selected difference unless others were scrolled to.
    pub(super) fn show(&mut self, height: usize) {
        self.height = height;
        if self.follows {
            let place = self.rows.iter().position(|row| row.changes.contains(&self.at)).unwrap_or(0);
            self.from = place.saturating_sub(height / 2);
        }
        self.from = self.from.min(self.rows.len().saturating_sub(height));
    }

    /// The number of rows of both drafts.
    pub fn row_count(&self) -> usize {
        self.rows.len()
    }

    /// The rows in sight.
    pub fn in_sight(&self) -> &[BesideRow] {
        let end = (self.from + self.height).min(self.rows.len());
        self.rows.get(self.from..end).unwrap_or_default()
    }

    /// How many rows are out of sight above and below.
    pub fn out_of_sight(&self) -> (usize, usize) {
        (self.from, self.rows.len().saturating_sub(self.from + self.height))
    }

    /// Selects a difference, and brings it into sight.
    pub(super) fn select(&mut self, at: usize) {
        (self.at, self.follows) = (at.min(self.last()), true);
    }

    /// Whether the selected difference is in sight; if not, it comes into sight.
    pub(super) fn brings_into_sight(&mut self) -> bool {
        let is_seen = self.in_sight().iter().any(|row| row.changes.contains(&self.at));
        self.follows |= !is_seen;
        is_seen
    }

    /// Scrolls both drafts by some rows, and selects a difference that is in sight then, where there is one.
    pub(super) fn scroll(&mut self, rows: isize) {
        let most = self.rows.len().saturating_sub(self.height);
        (self.from, self.follows) = (self.from.saturating_add_signed(rows).min(most), false);
        let seen = |at: &usize| self.in_sight().iter().any(|row| row.changes.contains(at));
        if !seen(&self.at) {
            let first = self.in_sight().iter().find_map(|row| row.changes.first());
            self.at = first.copied().unwrap_or(self.at);
        }
    }

    /// How many rows a page has: those in sight but one, so that one stays.
    pub(super) fn page(&self) -> isize {
        isize::try_from(self.height.saturating_sub(1).max(1)).unwrap_or(1)
    }
}

/// Both drafts in rows of `columns` columns, sentence beside sentence; the selected difference stands in `brackets`.
fn rows(beside: &Beside, columns: usize, brackets: [&str; 2]) -> Vec<BesideRow> {
    let mut rows = Vec::new();
    for sentences in &beside.blocks {
        for sentence in in_lines(sentences).iter() {
            let side = |own: fn(DifferenceMark) -> bool| {
                let words = sentence.iter().filter(|part| own(part.mark));
                wrapped(&marked(words, &beside.changes, (beside.at, brackets)), columns)
            };
            let left = side(|mark| !matches!(mark, DifferenceMark::New(_)));
            let right = side(|mark| !matches!(mark, DifferenceMark::Gone(_)));
            let mut changes: Vec<usize> = sentence.iter().filter_map(|part| change_of(part.mark)).collect();
            changes.dedup();
            for at in 0..left.len().max(right.len()) {
                let line = |lines: &[RowWords]| lines.get(at).cloned().unwrap_or_default();
                rows.push(BesideRow { left: line(&left), right: line(&right), changes: changes.clone() });
            }
        }
        rows.push(BesideRow::default());
    }
    rows
}

/// A block part by part as it is set on rows of its own: sentence by sentence, and verse line by line.
fn in_lines(sentences: &[Vec<ShownStretch>]) -> Cow<'_, [Vec<ShownStretch>]> {
    if !sentences.iter().flatten().any(|part| part.text.contains('\n')) {
        return Cow::Borrowed(sentences);
    }
    let mut lines = vec![Vec::new()];
    for ShownStretch { text, mark } in sentences.iter().flatten() {
        // A line that only one draft ends stays with the words round it, so that both sides go on together.
        let ends = if *mark == DifferenceMark::Kept { text.split('\n').collect() } else { vec![text.as_str()] };
        for (at, words) in ends.into_iter().enumerate() {
            if at > 0 {
                lines.push(Vec::new());
            }
            let part = ShownStretch { text: words.to_owned(), mark: *mark };
            lines.last_mut().into_iter().for_each(|line| line.push(part.clone()));
        }
    }
    Cow::Owned(lines)
}

fn change_of(mark: DifferenceMark) -> Option<usize> {
    match mark {
        DifferenceMark::Kept => None,
        DifferenceMark::Gone(change) | DifferenceMark::New(change) => Some(change),
    }
}

/// One draft's side of a sentence, in which words that the other draft lacks stand in braces, or in brackets for the
/// selected difference. Brackets are as wide as braces, so selecting another difference moves no row.
fn marked<'a>(
    sentence: impl Iterator<Item = &'a ShownStretch>,
    changes: &[Change],
    (at, brackets): (usize, [&str; 2]),
) -> RowWords {
    let mut side = RowWords::default();
    for part in sentence {
        let words = part.text.split('\n').map(visible).collect::<Vec<_>>().join("\n");
        let begins_line = side.text.is_empty() || side.text.ends_with('\n');
        let words = if begins_line { words.trim_start() } else { &words };
        let Some(change) = change_of(part.mark) else {
            side.text.push_str(words);
            continue;
        };
        let inner = words.trim();
        side.text.push_str(&words[..words.len() - words.trim_start().len()]);
        let start = side.text.len();
        let [open, close] = if change == at { brackets } else { ["{", "}"] };
        side.text.push_str(&format!("{open}{}{inner}{close}", moved(changes, change)));
        if change == at {
            side.held.push(start..side.text.len());
        }
        if !inner.is_empty() {
            side.text.push_str(&words[words.trim_end().len()..]);
        }
    }
    side
}

/// The label before words that were moved, with the number that the change has in every comparison.
fn moved(changes: &[Change], change: usize) -> String {
    let is_moved = changes.get(change).is_some_and(|change| change.kind == ChangeKind::Moved);
    if is_moved { format!("moved {}: ", change + 1) } else { String::new() }
}

/// The words of one side in rows of `columns` columns.
fn wrapped(words: &RowWords, columns: usize) -> Vec<RowWords> {
    let row = |range: Range<usize>| {
        let text = words.text[range.clone()].trim_end();
        let end = range.start + text.len();
        let held = words.held.iter().map(|held| held.start.max(range.start)..held.end.min(end));
        let held = held.filter(|held| held.start < held.end);
        RowWords {
            text: text.to_owned(),
            held: held.map(|held| held.start - range.start..held.end - range.start).collect(),
        }
    };
    wrap(&words.text, columns).into_iter().map(row).collect()
}
