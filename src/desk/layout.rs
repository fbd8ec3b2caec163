//! Where everything stands on a screen of a given size.
//!
//! Where there is room for both, the panel, the measures and the queries stand beside the copy. On a narrow screen the
//! measures stand below the copy, and the panel and the queries have pages of their own.

use ratatui::layout::Rect;

use super::mode::Mode;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;

/// The smallest screen on which the desk can be used: columns and rows.
pub const LEAST: (u16, u16) = (40, 12);

/// From `BESIDE` columns on, the panel stands beside the copy; where at least `THREE` columns are left beside the copy,
/// the queries stand beside the panel.
const BESIDE: u16 = 112;
const THREE: u16 = 77;

/// From this many rows on, each of the four measures has a line of its own below the copy.
const FOUR_LINES: u16 = 18;

/// The columns of the copy's pane where something stands beside it: at least the first number, and at most the second
/// or two fifths of the screen, whichever is more. A printed line has some 60 letters; for longer ones the pane grows.
const COPY: (u16, u16) = (72, 80);
/// The least number of columns for what stands beside the copy, and beside copy whose lines are longer than usual.
const SIDE: (u16, u16) = (40, 38);

/// From this many columns on, the keys while writing stand in one row; on a narrower screen that is high enough for
/// four lines of measures they have the row above the foot too.
const ONE_ROW: u16 = 176;

/// The least rows, in the column below the measures, with which the terms have a pane of their own, and the rows that
/// are left to the queries where these stand in that column too.
const TERMS: u16 = 4;
const QUERIES_BELOW: u16 = 10;

/// The columns left of the text in the copy's pane, for marks.
pub const MARGIN: u16 = 3;
/// The columns right of the text in the copy's pane, for the room that is left on a line.
pub const ROOM: u16 = 6;

/// The columns of the list of questions, and the least columns of an answer that may stand beside it.
const QUESTIONS: (u16, u16) = (41, 30);

/// The columns of the panel's figures or values where the panel is drawn beside them, and the least columns of a screen
/// with room for both.
const LIST: u16 = 47;
const BOTH: u16 = 70;

/// The rows of a draft's name and its measures where two drafts stand side by side.
pub const HEADING: u16 = 3;
/// The columns from which on the panels of two drafts stand beside them, and the columns that the drafts have then.
const PANELS_BESIDE: (u16, u16) = (168, 124);
/// The least rows below two drafts in which their panels are drawn.
const PANELS_BELOW: u16 = 12;

/// With fewer rows than this the pane of the queries is too small to walk them in.
const LEAST_LIST: u16 = 6;

/// The areas of the screen; an area without room is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Areas {
    /// The running head.
    pub head: Rect,
    /// The copy.
    pub copy: Rect,
    /// The panel.
    pub panel: Rect,
    /// The measures.
    pub measures: Rect,
    /// The terms one by one; empty on a screen without room for them.
    pub terms: Rect,
    /// The queries.
    pub queries: Rect,
    /// The row for what helps now.
    pub advice: Rect,
    /// The second row of keys, above the foot; empty on a screen on which they stand in one, and on a low one.
    pub keys: Rect,
    /// The foot.
    pub foot: Rect,
}

/// The parts of the page on which two drafts stand side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BesideAreas {
    /// The column of the draft in front.
    pub left: Rect,
    /// The column of the other draft.
    pub right: Rect,
    /// The rows of both drafts, with the column of the pointer before them.
    pub text: Rect,
    /// The panels of both drafts; empty without room for them.
    pub panels: [Rect; 2],
}

/// The parts of the page on which a blurb's questions are answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct AnswerAreas {
    /// The questions, or the one in hand where there is room for one row.
    pub list: Rect,
    /// The answer that is typed.
    pub field: Rect,
    /// What of the answer stands in the copy.
    pub told: Rect,
}

impl Areas {
    /// The areas of a screen for copy whose longest printed line has so many columns.
    pub fn of((columns, rows): (u16, u16), printed: usize) -> Self {
        let rect = |x: u16, y: u16, width: u16, height: u16| Rect::new(x, y, width, height);
        if columns < LEAST.0 || rows < LEAST.1 {
            return Self::default();
        }
        let head = rect(0, 0, columns, 1);
        let foot = rect(0, rows - 1, columns, 1);
        let more = u16::from(columns < ONE_ROW && rows >= FOUR_LINES);
        let keys = rect(0, foot.y - more, columns, more);
        let (top, deep) = (2, rows - 4 - more);
        if columns < BESIDE {
            let below = if rows >= FOUR_LINES { 5 } else { 2 };
            let copy = rect(0, top, columns, deep - below);
            let measures = rect(1, copy.bottom() + 1, columns - 2, below.min(4));
            let queries = rect(1, measures.bottom(), columns - 2, below - below.min(4));
            let advice = rect(1, copy.bottom(), columns - 2, 1);
            return Self { head, copy, measures, queries, advice, keys, foot, ..Self::default() };
        }
        let usual = (columns - SIDE.0).clamp(COPY.0, COPY.1.max(columns / 5 * 2));
        let wanted = u16::try_from(printed).unwrap_or(u16::MAX).saturating_add(MARGIN + ROOM);
        let wide = wanted.min(columns - SIDE.1).max(usual);
        let advice = rect(1, rows - 2 - more, columns - 2, 1);
        let copy = rect(0, top, wide, deep);
        let left = wide + 2;
        let side = columns - left - 1;
        if side < THREE {
            let (panel, measures, rest) = stacked(left, side, top, deep);
            let (terms, queries) = parted(rest, rest.height.saturating_sub(QUERIES_BELOW));
            return Self { head, copy, panel, measures, terms, queries, advice, keys, foot };
        }
        let middle = side * 3 / 5;
        let picture = deep.saturating_sub(10).min(middle / 2 + 2);
        let panel = rect(left, top, middle, picture);
        let measures = rect(left, panel.bottom() + 1, middle, 9.min(deep - picture - 1));
        let below = measures.bottom() + 1;
        let (terms, _) = parted(rect(left, below, middle, (top + deep).saturating_sub(below)), deep);
        let queries = rect(left + middle + 3, top, side - middle - 3, deep);
        Self { head, copy, panel, measures, terms, queries, advice, keys, foot }
    }

    /// A message in rows, and where they stand: in the row for what helps now, which is free meanwhile. What needs more
    /// rows goes up from there over the copy, so that neither a measure nor a key is hidden. Beside a line of input the
    /// second row of keys is free as well, and two drafts side by side have a message in their last rows, above `keys`.
    pub fn message(&self, said: &str, mode: &Mode, keys: u16) -> (Rect, Vec<String>) {
        let (last, most) = match mode {
            Mode::Beside(_) => (Rect { y: keys.saturating_sub(1), height: 1, ..self.foot }, keys.saturating_sub(1)),
            _ => (Rect { x: 0, y: self.advice.y.min(keys.saturating_sub(1)), ..self.foot }, self.copy.height),
        };
        let whole = usize::from(last.width.saturating_sub(2)).max(1);
        let width = if cells(said) <= whole { last.width } else { self.copy.width.min(last.width) };
        let room = usize::from(width.saturating_sub(2)).max(1);
        let mut rows: Vec<String> = wrap(said, room).into_iter().map(|row| said[row].trim_end().to_owned()).collect();
        rows.truncate(usize::from(most.max(1)));
        let height = u16::try_from(rows.len()).unwrap_or(u16::MAX).max(1);
        if matches!(mode, Mode::Prompt(..)) && height <= self.keys.height {
            return (self.keys, rows);
        }
        (Rect { y: (last.y + 1).saturating_sub(height), width, height, ..last }, rows)
    }

    /// The area of a page of text: the copy's pane; of the panel's figures what its picture leaves of it.
    pub fn page(&self, mode: &Mode) -> Rect {
        if matches!(mode, Mode::Panel(_)) { self.figured(mode).0 } else { self.copy }
    }

    /// Where the panel's figures or values stand, and its picture beside them: the picture in the copy's pane, and the
    /// figures in the picture's. On a narrow screen the picture stands above the figures, and nowhere while values are
    /// changed.
    pub fn figured(&self, mode: &Mode) -> (Rect, Rect) {
        let copy = self.copy;
        if !self.panel.is_empty() {
            return (self.panel, copy);
        }
        if copy.width < BOTH {
            let height = if matches!(mode, Mode::Panel(_)) { copy.height / 3 * 2 } else { 0 };
            let figures = Rect { y: copy.y + height, height: copy.height - height, ..copy };
            return (figures, Rect { height, ..copy });
        }
        let picture = Rect { x: copy.x + LIST + 1, width: copy.width.saturating_sub(LIST + 2), ..copy };
        (Rect { width: LIST, ..copy }, picture)
    }

    /// Where the panel is drawn: beside its figures or values, or else in its own pane.
    pub fn picture(&self, mode: &Mode) -> Rect {
        let has_page = matches!(mode, Mode::Panel(_)) || mode.shows_values();
        if has_page { self.figured(mode).1 } else { self.panel }
    }

    /// The columns of each of two drafts that stand side by side.
    pub fn beside_columns(&self) -> usize {
        usize::from(self.beside(0).left.width.saturating_sub(1)).max(1)
    }

    /// Where two drafts stand side by side, which have so many rows. The copy has the whole height; the panels stand
    /// beside the drafts on a wide screen, and else below them, where they leave room.
    pub fn beside(&self, rows: usize) -> BesideAreas {
        let top = self.head.y + 1;
        let is_wide = self.head.width >= PANELS_BESIDE.0;
        // On a narrow screen the keys take two rows.
        let keys = u16::from(!is_wide);
        let area = Rect { y: top, height: self.foot.y.saturating_sub(top + keys), ..self.head };
        if area.width < 8 || area.height < HEADING + 2 {
            return BesideAreas::default();
        }
        let wide = (if is_wide { PANELS_BESIDE.1 } else { area.width } - 3) / 2;
        let (left, right) = (Rect { x: 2, width: wide - 1, ..area }, Rect { x: wide + 3, width: wide - 1, ..area });
        let head = HEADING + 1;
        let text = Rect { y: area.y + head, width: right.right(), height: area.height - head, ..area };
        let rows = u16::try_from(rows).unwrap_or(u16::MAX);
        let below = text.height.saturating_sub(rows.saturating_add(1));
        let panels = if is_wide {
            let x = right.right() + 3;
            let (width, height) = ((area.right() - x).saturating_sub(1), area.height / 2);
            [0, 1].map(|number| Rect { x, width, y: area.y + number * height, height })
        } else if below >= PANELS_BELOW {
            [left, right].map(|column| Rect { y: area.bottom() - below, height: below, ..column })
        } else {
            [Rect::default(); 2]
        };
        let under = if is_wide { Rect::default() } else { panels[0] };
        BesideAreas { left, right, text: Rect { height: text.height - under.height, ..text }, panels }
    }

    /// The columns that a row of the text may take.
    pub fn text_columns(&self) -> usize {
        usize::from(self.copy.width.saturating_sub(MARGIN + ROOM)).max(1)
    }

    /// The lower half of the copy's pane, where a list covers it: other words, the queries, where their own pane is too
    /// small, the answers, or the blocks that can be written.
    pub fn strip(&self, mode: &Mode) -> Option<Rect> {
        let takes = match mode {
            Mode::Queries(_) => self.queries.height < LEAST_LIST,
            Mode::OtherWords(_) | Mode::Answers(_) | Mode::Inserting(_) => true,
            _ => false,
        };
        takes.then(|| self.lower_half())
    }

    fn lower_half(&self) -> Rect {
        let height = (self.copy.height / 2).max(4).min(self.copy.height);
        Rect { y: self.copy.bottom() - height, height, ..self.copy }
    }

    /// Where the questions that a blurb answers stand in the lower half of the copy's pane.
    pub fn answers(&self) -> AnswerAreas {
        let half = self.lower_half();
        let inner = Rect::new(half.x + 1, half.y + 1, half.width.saturating_sub(2), half.height.saturating_sub(1));
        let is_wide = inner.width >= QUESTIONS.0 + QUESTIONS.1;
        let (width, height) = if is_wide { (QUESTIONS.0, inner.height) } else { (inner.width, inner.height.min(1)) };
        let list = Rect { width, height, ..inner };
        let right = if is_wide {
            Rect { x: list.right(), width: inner.width - width, ..inner }
        } else {
            Rect { y: list.bottom(), height: inner.height - height, ..inner }
        };
        let below = right.height / 3;
        let field = Rect { height: right.height - below, ..right };
        AnswerAreas { list, field, told: Rect { y: field.bottom(), height: below, ..right } }
    }

    /// The part of the copy's pane that a list does not cover.
    pub fn copy_in_sight(&self, mode: &Mode) -> Rect {
        self.strip(mode).map_or(self.copy, |strip| Rect { height: self.copy.height - strip.height, ..self.copy })
    }

    /// The column of a row's first character.
    pub fn text_left(&self) -> u16 {
        self.copy.x + MARGIN
    }
}

/// The rows of an area that the terms take, at most so many, and those below them, behind an empty row; where too few
/// are left for the terms, they take none.
fn parted(area: Rect, most: u16) -> (Rect, Rect) {
    let height = most.min(area.height);
    if height < TERMS {
        return (Rect::default(), area);
    }
    let below = (height + 1).min(area.height);
    (Rect { height, ..area }, Rect { y: area.y + below, height: area.height - below, ..area })
}

/// The areas of the panel, the measures and what is below them, stacked in this order from the top.
fn stacked(x: u16, width: u16, y: u16, height: u16) -> (Rect, Rect, Rect) {
    let measures = if height >= 34 { 9 } else { 5 };
    let queries = (height / 5).clamp(2, 8);
    let panel = height.saturating_sub(measures + queries + 1).min(width / 2 + 2);
    let below = y + panel + 1;
    let rest = height.saturating_sub(panel + 1 + measures);
    (Rect::new(x, y, width, panel), Rect::new(x, below, width, measures), Rect::new(x, below + measures, width, rest))
}
