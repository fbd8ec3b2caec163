//! The queries beside the copy: what was found, and the cut that would answer it, the cheapest first.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::graphemes::cells;
use super::pane::put;
use super::sheet::{Offer, Sheet};
use super::state::{Mode, State};
use super::wrap::wrap;
use crate::print::visible::visible;
use crate::print::words::counted;

/// Draws as many queries as there is room for, the one in hand among them.
pub fn draw(state: &State, sheet: &Sheet, area: Rect, buffer: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let theme = &state.theme;
    let queries = sheet.offers(&state.stet);
    let in_hand = match state.mode {
        Mode::Queries(at) => Some(at),
        _ => None,
    };
    if queries.is_empty() {
        put(buffer, area.x, area.y, "no queries", theme.faint, area);
        return;
    }
    let mut y = area.y;
    if area.height > 2 {
        let head = match queries.len() {
            1 => "1 query".to_owned(),
            more => format!("{more} queries"),
        };
        put(buffer, area.x, y, &head, theme.faint, area);
        y += 1;
    }
    let room = usize::from(area.bottom() - y);
    let first = in_hand.map_or(0, |at| (at + 1).saturating_sub(room.div_ceil(2)));
    for (number, query) in queries.iter().enumerate().skip(first) {
        if y >= area.bottom() {
            break;
        }
        let chosen = in_hand == Some(number);
        let below = Rect { y, height: area.bottom() - y, ..area };
        y += entry(state, sheet, query, chosen, below, buffer);
    }
}

/// Draws one query and gives the lines it took.
fn entry(state: &State, sheet: &Sheet, offer: &Offer<'_>, chosen: bool, area: Rect, buffer: &mut Buffer) -> u16 {
    let (theme, query) = (&state.theme, offer.query);
    let pointer = if chosen { theme.signs.pointer } else { "?" };
    put(buffer, area.x, area.y, pointer, theme.accent, area);
    let wide = usize::from(area.width).saturating_sub(2);
    let price = price(offer);
    let words = visible(sheet.words_of(query).trim()).into_owned();
    let words = if words.is_empty() { query.rule.name().to_owned() } else { words };
    let instead = match offer.edit.as_ref().map(|edit| edit.text.trim()) {
        Some("") => ": cut".to_owned(),
        Some(wording) => format!(": {}", visible(wording)),
        None => String::new(),
    };
    let room = wide.saturating_sub(if price.is_empty() { 0 } else { cells(&price) + 2 });
    let line = format!("{}{instead}", shortened(&words, room.saturating_sub(cells(&instead)).max(4)));
    put(buffer, area.x + 2, area.y, &shortened(&line, room), theme.strong, area);
    let x = area.right().saturating_sub(cells(&price) as u16);
    put(buffer, x, area.y, &price, theme.faint, area);
    let mut taken = 1;
    if chosen || area.height > 12 {
        let says = visible(&query.says).into_owned();
        for row in wrap(&says, wide) {
            put(buffer, area.x + 2, area.y + taken, says[row].trim_end(), theme.faint, area);
            taken += 1;
        }
    }
    taken
}

/// What the cut wins: lines where it wins any, or else letters; and whether it belongs to the plan.
fn price(offer: &Offer<'_>) -> String {
    let Some(price) = offer.price else { return String::new() };
    let won = match (price.lines(), price.letters()) {
        (lines @ 1.., letters) => format!("{} for {letters}", counted(lines.unsigned_abs() as usize, "line")),
        (_, letters @ 1..) => counted(letters.unsigned_abs() as usize, "letter"),
        _ => String::new(),
    };
    if offer.is_planned { format!("plan: {won}") } else { won }
}

/// Words in so many cells, with a stop in place of what does not go in.
pub(super) fn shortened(words: &str, room: usize) -> String {
    if cells(words) <= room {
        return words.to_owned();
    }
    let mut kept = String::new();
    for letter in words.chars() {
        if cells(&kept) + cells(letter.encode_utf8(&mut [0; 4])) + 3 > room {
            break;
        }
        kept.push(letter);
    }
    format!("{}...", kept.trim_end())
}
