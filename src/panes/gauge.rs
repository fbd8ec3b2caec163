//! How a measure is drawn: its name, its number, a small scale with its limit, and what changed.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::put::{put, shortened};
use crate::brief::limits::Range;
use crate::desk::theme::Theme;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;

/// A measure, ready to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Gauge {
    /// The measure's name.
    pub(super) name: &'static str,
    /// The number with its unit.
    pub(super) value: String,
    /// The limit, or what is usual; empty where there is neither.
    pub(super) limit: String,
    /// How far the value is outside its limit; none inside.
    pub(super) outside: Option<String>,
    /// The change since the draft was opened; empty where there is none.
    pub(super) change: String,
    /// The scale.
    pub(super) scale: GaugeScale,
}

/// What a value is compared with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Held {
    /// A limit of the brief, drawn with its ends.
    Limit(Range),
    /// What is usual, drawn without ends; no value is outside it.
    Usual(Range),
    /// Neither a limit nor a usual range.
    Nothing,
}

/// A small scale.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum GaugeScale {
    /// A value on a line, with its limit or its usual range, and its band of uncertainty.
    Line {
        /// The value.
        at: f64,
        /// What the value is held against.
        held: Held,
        /// The range in which the true value may lie.
        band: Option<(f64, f64)>,
    },
    /// A sign for each term.
    Terms(Vec<bool>),
    /// The lines that are used, and the lines that there are.
    Room {
        /// Lines used.
        used: usize,
        /// Lines there are.
        available: usize,
    },
    /// Nothing to show.
    Nothing,
}

/// The columns of the name, the columns of the change, and the least and greatest columns of a scale.
const NAME: u16 = 8;
const CHANGE: u16 = 6;
const SCALE: (u16, u16) = (5, 44);
/// The columns of the value and of the limit, where everything stands on one line.
const VALUE: u16 = 17;
const LIMIT: u16 = 22;
/// The least columns in which words are begun.
const LEAST: u16 = 12;

impl Gauge {
    /// The value alone, with a sign where it is outside: `83 words`, `terms 3 of 4!`.
    pub(super) fn in_short(&self) -> String {
        let name = if self.name == "terms" { "terms " } else { "" };
        let sign = if self.outside.is_some() { "!" } else { "" };
        format!("{name}{}{sign}", self.value)
    }

    /// The words after the value: how far it is outside, or else its limit or usual range.
    fn limit_words(&self) -> &str {
        self.outside.as_deref().unwrap_or(&self.limit)
    }

    /// Draws the measure on one line.
    pub(super) fn line(&self, theme: &Theme, area: Rect, buffer: &mut Buffer) {
        self.head(theme, area, buffer);
        let value = u16::try_from(cells(&self.value)).unwrap_or(u16::MAX).saturating_add(2);
        let least = area.x.saturating_add(NAME).saturating_add(value).min(area.right());
        let scale = least.max(area.x.saturating_add(NAME + VALUE)).min(area.right());
        let change = cells(&self.change) as u16;
        let room = Rect { width: area.width.saturating_sub(change + 1), ..area };
        // The words say what to do, so they have room before the scale has.
        let words = u16::try_from(cells(self.limit_words())).unwrap_or(u16::MAX);
        let limit = area.right().saturating_sub(CHANGE + LIMIT).min(room.right().saturating_sub(words)).max(least);
        if limit >= scale + SCALE.0 {
            let width = (limit - scale - 2).min(SCALE.1);
            self.scale.draw(theme, Rect { x: scale, width, height: 1, ..area }, buffer);
        }
        let style = if self.outside.is_some() { theme.accent } else { theme.faint };
        let words = shortened(self.limit_words(), usize::from(room.right().saturating_sub(limit)));
        put(buffer, limit, area.y, &words, style, room);
    }

    /// Draws the measure on two lines.
    pub(super) fn lines(&self, theme: &Theme, area: Rect, buffer: &mut Buffer) {
        self.head(theme, area, buffer);
        let second = Rect { x: area.x + NAME, y: area.y + 1, width: area.width.saturating_sub(NAME), height: 1 };
        let words = self.limit_words();
        let style = if self.outside.is_some() { theme.accent } else { theme.faint };
        let after = u16::try_from(cells(words)).unwrap_or(u16::MAX).saturating_add(2);
        let width = second.width.saturating_sub(after.max(12)).min(SCALE.1);
        if width >= SCALE.0 {
            self.scale.draw(theme, Rect { width, ..second }, buffer);
            put(buffer, second.x + width + 2, second.y, words, style, second);
            return;
        }
        // Words that the second line cannot hold begin on the first line, after the value.
        let mut rest = words;
        if cells(words) > usize::from(second.width) {
            let behind = second.x + cells(&self.value) as u16 + 2;
            let room = area.right().saturating_sub(behind + cells(&self.change) as u16 + 1);
            if let Some(piece) = wrap(words, usize::from(room)).first().filter(|_| room >= LEAST) {
                put(buffer, behind, area.y, words[..piece.end].trim_end(), style, area);
                rest = words[piece.end..].trim_start();
            }
        }
        put(buffer, second.x, second.y, &shortened(rest, usize::from(second.width)), style, second);
    }

    fn head(&self, theme: &Theme, area: Rect, buffer: &mut Buffer) {
        put(buffer, area.x, area.y, self.name, theme.faint, area);
        put(buffer, area.x + NAME, area.y, &self.value, theme.strong, area);
        let x = area.right().saturating_sub(cells(&self.change) as u16);
        put(buffer, x, area.y, &self.change, theme.faint, area);
    }
}

impl GaugeScale {
    fn draw(&self, theme: &Theme, area: Rect, buffer: &mut Buffer) {
        if area.width < 2 {
            return;
        }
        match self {
            Self::Line { at, held, band } => line(*at, *held, *band, theme, area, buffer),
            Self::Terms(terms) => {
                for (present, x) in terms.iter().zip((area.left()..area.right()).step_by(2)) {
                    let sign = theme.signs.terms[usize::from(!present)];
                    put(buffer, x, area.y, sign, if *present { theme.strong } else { theme.faint }, area);
                }
            }
            Self::Room { used, available } => room(*used, *available, theme, area, buffer),
            Self::Nothing => {}
        }
    }
}

/// A line from zero to somewhat above the limit. The part within the limit is drawn solid between its ends; a usual
/// range is drawn solid without ends.
fn line(at: f64, held: Held, band: Option<(f64, f64)>, theme: &Theme, area: Rect, buffer: &mut Buffer) {
    let (range, limit) = match held {
        Held::Limit(range) => (range, range),
        Held::Usual(range) => (range, Range::default()),
        Held::Nothing => (Range::default(), Range::default()),
    };
    let top = range.to.or(range.from.map(|from| from * 2.0)).unwrap_or(at);
    let most = (top * 1.25).max(at * 1.1).max(band.map_or(0.0, |band| band.1 * 1.05)).max(1.0);
    let last = f64::from(area.width - 1);
    let column = |value: f64| area.x + (value / most * last).round().clamp(0.0, last) as u16;
    let (from, to) = (column(range.from.unwrap_or(0.0)), column(range.to.unwrap_or(most)));
    for x in area.left()..area.right() {
        let sign = theme.signs.scale[usize::from((from..=to).contains(&x) && !range.is_open())];
        put(buffer, x, area.y, sign, theme.faint, area);
    }
    if let Some((low, high)) = band {
        for x in column(low)..=column(high) {
            put(buffer, x, area.y, theme.signs.band, theme.strong, area);
        }
    }
    for (end, sign) in [limit.from.map(|_| from), limit.to.map(|_| to)].into_iter().zip(theme.signs.ends) {
        if let Some(x) = end {
            put(buffer, x, area.y, sign, theme.faint, area);
        }
    }
    let style = if limit.holds(at) { theme.strong } else { theme.accent };
    put(buffer, column(at), area.y, theme.signs.value, style, area);
}

/// A mark for each line: the lines used, the lines left, and past the limit the lines that are over.
fn room(used: usize, available: usize, theme: &Theme, area: Rect, buffer: &mut Buffer) {
    let most = used.max(available).max(1);
    let width = usize::from(area.width).saturating_sub(1).min(most).max(1);
    let column = |lines: usize| (lines * width).div_ceil(most);
    for at in 0..width {
        let full = at < column(used);
        let over = full && at >= column(available);
        let style = if over {
            theme.accent
        } else if full {
            theme.strong
        } else {
            theme.faint
        };
        let x = area.x + at as u16 + u16::from(at >= column(available));
        put(buffer, x, area.y, theme.signs.room[usize::from(!full)], style, area);
    }
    put(buffer, area.x + column(available) as u16, area.y, theme.signs.ends[1], theme.faint, area);
}

#[cfg(test)]
mod tests {
    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;

    use super::{Gauge, GaugeScale};
    use crate::desk::theme::{Colours, Letters, Theme};

    #[test]
    fn no_word_of_a_measure_is_cut_off() {
        let theme = Theme::new(Colours::Sixteen, Letters::Unicode);
        let gauge = Gauge {
            name: "length",
            value: "124 words in a sentence".to_owned(),
            limit: String::new(),
            outside: Some("needs a story about a lighthouse and its keeper".to_owned()),
            change: "+12".to_owned(),
            scale: GaugeScale::Terms(vec![true; 60]),
        };
        let area = Rect::new(0, 0, 78, 1);
        let mut buffer = Buffer::empty(area);
        gauge.line(&theme, area, &mut buffer);
        let row: String = buffer.content.iter().map(|cell| cell.symbol()).collect();
        assert!(row.starts_with("length  124 words in a sentence ") && row.ends_with("+12"), "{row}");
        assert!(row.contains("needs a story about a lighthouse and... "), "{row}");
    }
}
