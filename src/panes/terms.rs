//! The terms one by one: which the copy carries, how often and in which printed line first, and which are missing.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::put::{put, shortened};
use crate::desk::keys::Command;
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;
use crate::draft::Span;
use crate::editor::graphemes::cells;
use crate::print::visible::visible;
use crate::terms::coverage::{CoveredTerm, TermPlace};
use crate::units::nouns::counted;

/// The columns that are kept for what is told of a term, behind it.
const TOLD: usize = 24;

/// Draws as many terms as there is room for, those that need something done first.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    let theme = &state.theme;
    let coverage = &sheet.now.report.coverage;
    if area.is_empty() {
        return;
    }
    if coverage.items.is_empty() {
        put(buffer, area.x, area.y, "no terms: the brief names what the copy should carry", theme.faint, area);
        return;
    }
    let head = format!("{}, {} missing", counted(coverage.wanted(), "term"), coverage.missing().count());
    put(buffer, area.x, area.y, &head, theme.faint, area);
    let mut items: Vec<&CoveredTerm> = coverage.items.iter().collect();
    items.sort_by_key(|item| (!item.is_missed() && !item.is_overdone(), item.is_present()));
    let rows = usize::from(area.height) - 1;
    let shown = if items.len() > rows { rows.saturating_sub(1) } else { rows };
    let named = items.iter().map(|item| cells(&visible(&item.term.term))).max().unwrap_or(0);
    let room = usize::from(area.width.saturating_sub(2));
    let column = named.min(room.saturating_sub(TOLD)).max(room / 3);
    for (item, y) in items.iter().take(shown).zip(area.y + 1..area.bottom()) {
        let sign = theme.signs.terms[usize::from(!item.is_present())];
        put(buffer, area.x, y, sign, if item.is_present() { theme.strong } else { theme.faint }, area);
        put(buffer, area.x + 2, y, &shortened(&visible(&item.term.term), column), theme.strong, area);
        let style = if item.is_missed() || item.is_overdone() { theme.accent } else { theme.faint };
        let told = shortened(&told(item, sheet), room.saturating_sub(column + 2));
        put(buffer, area.x + 4 + column as u16, y, &told, style, area);
    }
    if items.len() > shown {
        let words = format!("{} more: {} tells them all", items.len() - shown, state.key_name(Command::Details));
        put(buffer, area.x + 2, area.bottom() - 1, &words, theme.faint, area);
    }
}

/// What is told of a term: `2 times from headline`, which is where it stands first, `missing; it must be there`.
fn told(item: &CoveredTerm, sheet: &DraftSheet) -> String {
    let Some(first) = item.spans.iter().min_by_key(|span| span.start) else {
        return if item.is_missed() { "missing; it must be there" } else { "missing" }.to_owned();
    };
    let place = match item.first_in {
        Some(TermPlace::Headline) => "headline".to_owned(),
        _ => line_of(sheet, first).map_or_else(|| "the copy".to_owned(), |line| format!("line {line}")),
    };
    let most = item.term.at_most.filter(|_| item.is_overdone());
    let most = most.map_or(String::new(), |most| format!(", at most {most}"));
    match item.count() {
        1 => format!("once in {place}{most}"),
        count => format!("{count} times from {place}{most}"),
    }
}

/// The number of the printed line in which a stretch of the file begins, counted from 1.
fn line_of(sheet: &DraftSheet, span: &Span) -> Option<usize> {
    sheet.now.line_at(span.start).map(|line| line + 1)
}
