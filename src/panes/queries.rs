//! The queries beside the copy: what was found, and the cut that would answer it, the cheapest cut first.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::put::{put, shortened};
use crate::desk::keys::Command;
use crate::desk::mode::Mode;
use crate::desk::sheet::{DraftSheet, Offer};
use crate::desk::state::State;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::print::words::counted;
use crate::queries::SilentRules;
use crate::text::language::Language;
use crate::units::nouns::agrees;

/// Draws as many queries as there is room for, including the selected one.
pub(super) fn draw(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let theme = &state.theme;
    let queries = sheet.offers();
    let in_hand = in_hand(state);
    if queries.is_empty() {
        let head = shortened(&format!("no queries{}", silent(&sheet.now.report.silent_rules)), usize::from(area.width));
        put(buffer, area.x, area.y, &head, theme.faint, area);
        return;
    }
    let places = places(&queries, in_hand, area);
    let hidden = queries.len().saturating_sub(places.len());
    let key = state.key_name(Command::Queries);
    if area.height > HEADLESS {
        let room = usize::from(area.width);
        let heads = heads(queries.len(), in_hand, hidden, &key);
        let silent = silent(&sheet.now.report.silent_rules);
        let told = heads.iter().map(|head| format!("{head}{silent}")).chain(heads.clone());
        let head = told.clone().find(|words| cells(words) <= room).or(heads.last().cloned()).unwrap_or_default();
        put(buffer, area.x, area.y, &shortened(&head, room), theme.faint, area);
    }
    for (number, mut place) in places {
        // Where there is no head, what is not in sight is told behind the last query.
        if area.height <= HEADLESS && hidden > 0 && place.bottom() == area.bottom() {
            let words = format!("  and {hidden} more: {key}");
            put(buffer, area.right().saturating_sub(cells(&words) as u16), place.y, &words, theme.faint, area);
            place.width = place.width.saturating_sub(cells(&words) as u16);
        }
        entry(state, sheet, &queries[number], in_hand == Some(number), place, buffer);
    }
}

/// What stands behind the number of queries where rules do not know the language of the copy.
fn silent(silent: &SilentRules) -> String {
    let language = if silent.language == Language::Other { "its language" } else { silent.language.name() };
    let rules = silent.rules.len();
    match (silent.brief_says, rules) {
        (None, 0) => String::new(),
        (Some(says), _) => format!("; read as {language}, not {}", says.name()),
        (None, _) => format!("; {} {} not know {language}", counted(rules, "rule"), agrees(rules, "does", "do")),
    }
}

/// Areas of so few rows have no head that counts the queries.
const HEADLESS: u16 = 2;

/// What the head of the list says, the longest words first: how many queries there are, which one is in hand, and how
/// many are not in sight.
fn heads(count: usize, in_hand: Option<usize>, hidden: usize, key: &str) -> Vec<String> {
    let all = match in_hand {
        Some(at) => format!("query {} of {count}", at + 1),
        None => counted(count, "query"),
    };
    match (hidden, in_hand) {
        (0, _) => vec![all],
        (_, Some(_)) => vec![format!("{all}, {hidden} not in sight"), all],
        (_, None) => {
            vec![
                format!("{all}, {hidden} not in sight: {key} walks them"),
                format!("{all}, {hidden} not in sight: {key}"),
                all,
            ]
        }
    }
}

/// The query that stands at a place of the screen, by its number.
pub(super) fn number_at(state: &State, sheet: &DraftSheet, area: Rect, at: Position) -> Option<usize> {
    let queries = sheet.offers();
    let found = places(&queries, in_hand(state), area).into_iter().find(|(_, place)| place.contains(at));
    found.map(|(number, _)| number)
}

fn in_hand(state: &State) -> Option<usize> {
    match state.mode {
        Mode::Queries(at) => Some(at),
        _ => None,
    }
}

/// The queries that there is room for, including the selected one: their numbers and their areas.
fn places(queries: &[Offer<'_>], in_hand: Option<usize>, area: Rect) -> Vec<(usize, Rect)> {
    let mut y = area.y + u16::from(area.height > HEADLESS);
    let room = usize::from(area.bottom().saturating_sub(y));
    // Where there are more queries than rows, none has to be wrapped to know that not all of them fit.
    let all = match queries.len() {
        count if count > room => count,
        _ => queries.iter().map(|offer| 1 + explanation(offer, area).len()).sum(),
    };
    let first = in_hand.filter(|_| all > room).map_or(0, |at| (at + 1).saturating_sub(room.div_ceil(2)));
    let mut places = Vec::new();
    for (number, offer) in queries.iter().enumerate().skip(first) {
        let left = area.bottom().saturating_sub(y);
        if left == 0 {
            break;
        }
        let is_whole = all <= room || in_hand == Some(number) || left > MANY_ROWS;
        let rows = 1 + if is_whole { explanation(offer, area).len() } else { 0 };
        let height = u16::try_from(rows).unwrap_or(u16::MAX).min(left);
        places.push((number, Rect { y, height, ..area }));
        y += height;
    }
    places
}

/// The least columns in which the explanation of a query is begun behind its words.
const LEAST_SAID: usize = 16;

/// Where more rows than this are left, each query is shown with its explanation.
const MANY_ROWS: u16 = 12;

/// The explanation of a query, in rows.
fn explanation(offer: &Offer<'_>, area: Rect) -> Vec<String> {
    let says = visible(&offer.query.says);
    let rows = wrap(&says, usize::from(area.width).saturating_sub(2));
    rows.into_iter().map(|row| says[row].trim_end().to_owned()).collect()
}

/// Draws one query: in one row, or with its explanation.
fn entry(state: &State, sheet: &DraftSheet, offer: &Offer<'_>, chosen: bool, area: Rect, buffer: &mut Buffer) {
    let (theme, query) = (&state.theme, offer.query);
    let pointer = if chosen { theme.signs.pointer } else { "?" };
    put(buffer, area.x, area.y, pointer, theme.strong, area);
    let wide = usize::from(area.width).saturating_sub(2);
    let words = visible(sheet.words_of(query).trim()).into_owned();
    // A mark alone says nothing in a list.
    let says_nothing = !words.chars().any(char::is_alphanumeric);
    let words = if says_nothing { query.rule.name().to_owned() } else { words };
    let instead = match offer.edit.as_ref().map(|edit| edit.text.trim()) {
        Some("") => ": cut".to_owned(),
        Some(wording) => format!(": {}", visible(wording)),
        None => String::new(),
    };
    // The words have room before the letters of a line that is won have.
    let room_beside = |price: &str| wide.saturating_sub(if price.is_empty() { 0 } else { cells(price) + 2 });
    let [whole, short] = prices(offer);
    let price = if cells(&words) + cells(&instead) > room_beside(&whole) { short } else { whole };
    let room = room_beside(&price);
    let line = format!("{}{instead}", shortened(&words, room.saturating_sub(cells(&instead)).max(4)));
    let line = shortened(&line, room);
    put(buffer, area.x + 2, area.y, &line, theme.strong, area);
    // A row alone tells of a query without a cut why it is asked, as far as there is room: its words do not.
    let behind = cells(&line) + 2;
    if area.height == 1 && instead.is_empty() && !says_nothing && wide >= behind + LEAST_SAID {
        let says = shortened(&visible(&query.says), wide - behind);
        put(buffer, area.x + 2 + behind as u16, area.y, &says, theme.faint, area);
    }
    let x = area.right().saturating_sub(cells(&price) as u16);
    put(buffer, x, area.y, &price, theme.faint, area);
    for (row, y) in explanation(offer, area).iter().zip(area.y + 1..area.bottom()) {
        put(buffer, area.x + 2, y, row, theme.faint, area);
    }
}

/// What the cut saves: lines if it saves any, or else letters; and whether the cut belongs to the plan. First with the
/// letters of a line that is won, then without them.
fn prices(offer: &Offer<'_>) -> [String; 2] {
    let Some(price) = offer.price else { return [String::new(), String::new()] };
    let letters = usize::try_from(price.letters()).ok().filter(|letters| *letters > 0);
    let letters = letters.map(|letters| counted(letters, "letter"));
    let lines = usize::try_from(price.lines()).ok().filter(|lines| *lines > 0).map(|lines| counted(lines, "line"));
    let won = match (lines, letters) {
        (Some(lines), Some(letters)) => [format!("{lines} ({letters})"), lines],
        (Some(only), None) | (None, Some(only)) => [only.clone(), only],
        (None, None) => [String::new(), String::new()],
    };
    won.map(|won| match (offer.is_planned, won.is_empty()) {
        (true, true) => "plan".to_owned(),
        (true, false) => format!("plan: {won}"),
        (false, _) => won,
    })
}
