//! The pages before there is a draft: their head and foot, the page between them, and what the mouse was on.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::crossterm::event::{KeyCode, KeyEvent, MouseButton, MouseEvent, MouseEventKind};
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::put::{put, shortened};
use super::{books, form, pages};
use crate::beginning::keys::hints;
use crate::beginning::{Beginning, BeginningEvent, BeginningPage, BeginningTarget, DraftOffer};
use crate::desk::event::Turn;
use crate::desk::hints::Hint;
use crate::desk::layout::LEAST;
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;

/// Columns between two keys, and the same where there is not enough room for all keys in one row.
const GAPS: (u16, u16) = (3, 2);

/// Draws the page in front.
pub fn draw_beginning(state: &Beginning, frame: &mut Frame<'_>) {
    if let Some(cursor) = paint(state, frame.area(), frame.buffer_mut()) {
        frame.set_cursor_position(cursor);
    }
}

/// Paints the page, and returns the cursor's position if words are typed.
fn paint(state: &Beginning, screen: Rect, buffer: &mut Buffer) -> Option<Position> {
    let theme = &state.theme;
    if screen.width < LEAST.0 || screen.height < LEAST.1 {
        let words = format!("The window needs {} columns and {} rows: make it larger.", LEAST.0, LEAST.1);
        put_rows(&words, theme.strong, screen, buffer);
        return None;
    }
    let (title, aside) = heading(state);
    let line = Rect { x: screen.x + 1, width: screen.width.saturating_sub(2), height: 1, ..screen };
    let aside = shortened(&aside, usize::from(line.width).saturating_sub(cells(&title) + 3));
    put(buffer, line.x, line.y, &title, theme.strong, line);
    put(buffer, line.right().saturating_sub(cells(&aside) as u16), line.y, &aside, theme.faint, line);
    for (hint, place) in placed_keys(state, screen) {
        put(buffer, place.x, place.y, &hint.shown, theme.strong, screen);
        put(buffer, place.x + cells(&hint.shown) as u16 + 1, place.y, hint.does, theme.faint, screen);
    }
    let area = inner(state, screen);
    let cursor = match &state.page {
        BeginningPage::Form(page) => form::draw(page, theme, area, buffer),
        BeginningPage::Draft(offer) => {
            offered(offer, area, buffer);
            None
        }
        BeginningPage::Mend(page) => pages::mended(&page.text, theme, area, buffer),
        BeginningPage::Books => state.books.as_ref().and_then(|list| books::draw(list, theme, area, buffer)),
    };
    if let Some(said) = &state.said {
        let rows = said_rows(said, screen);
        for (row, y) in rows.iter().zip(area.bottom()..screen.bottom()) {
            put(buffer, screen.x + 1, y, row, theme.strong, screen);
        }
    }
    cursor
}

/// The page's name, and what stands at the right of it.
fn heading(state: &Beginning) -> (String, String) {
    let folder = visible(&state.folder).into_owned();
    match &state.page {
        BeginningPage::Form(_) => ("Begin a book".to_owned(), folder),
        BeginningPage::Draft(_) => ("Begin the first draft".to_owned(), folder),
        BeginningPage::Mend(page) => {
            ("A brief that cannot be read".to_owned(), visible(&page.path.display().to_string()).into_owned())
        }
        BeginningPage::Books => {
            let order = state.books.as_ref().map_or("", |list| list.order.name());
            (format!("Books in {folder}"), order.to_owned())
        }
    }
}

/// The offer of a first draft, in words.
fn offered(offer: &DraftOffer, area: Rect, buffer: &mut Buffer) {
    let title = if offer.title.is_empty() { "This book".to_owned() } else { visible(&offer.title).into_owned() };
    let folder = visible(&offer.folder.display().to_string()).into_owned();
    let place = if folder == "." { "this folder".to_owned() } else { folder };
    let words = format!(
        "{title} has a brief and no draft yet. The first draft, first.md, can be begun in {place}: it shows where the \
         headline and the blurb stand, and the desk opens on it. The brief stays as it is."
    );
    let rows = wrap(&words, usize::from(area.width.min(76)));
    for (row, y) in rows.into_iter().zip(area.top()..area.bottom()) {
        put(buffer, area.x, y, words[row].trim_end(), Style::new(), area);
    }
}

/// Words in rows from the head of an area.
fn put_rows(words: &str, style: Style, area: Rect, buffer: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    for (row, y) in wrap(words, usize::from(area.width)).into_iter().zip(area.top()..area.bottom()) {
        put(buffer, area.x, y, words[row].trim_end(), style, area);
    }
}

/// A message in as many rows as it needs, up to a third of the screen.
fn said_rows(said: &str, screen: Rect) -> Vec<String> {
    let said = visible(said);
    let rows = wrap(&said, usize::from(screen.width.saturating_sub(2)).max(1));
    let most = usize::from(screen.height / 3).max(1);
    rows.into_iter().take(most).map(|row| said[row].trim_end().to_owned()).collect()
}

/// The keys of the foot with their places, in as many rows as they need.
fn placed_keys(state: &Beginning, screen: Rect) -> Vec<(Hint, Rect)> {
    let (mut x, mut y) = (screen.x + 1, 0);
    let mut placed: Vec<(Hint, Rect)> = Vec::new();
    let (hints, width) = (hints(state), |hint: &Hint| (cells(&hint.shown) + 1 + cells(hint.does)) as u16);
    let whole: u16 = hints.iter().map(|hint| width(hint) + GAPS.0).sum();
    let gap = if whole > screen.width.saturating_sub(1) + GAPS.0 { GAPS.1 } else { GAPS.0 };
    for hint in hints {
        let width = width(&hint);
        if x + width > screen.right() && x > screen.x + 1 {
            (x, y) = (screen.x + 1, y + 1);
        }
        placed.push((hint, Rect { x, y, width, height: 1 }));
        x += width + gap;
    }
    let top = screen.bottom().saturating_sub(y + 1);
    placed.iter_mut().for_each(|(_, place)| place.y += top);
    placed
}

/// The area of the page itself: between the head and a blank row, and the message or a blank row above the foot.
fn inner(state: &Beginning, screen: Rect) -> Rect {
    let foot = placed_keys(state, screen).first().map_or(screen.bottom(), |(_, place)| place.y);
    let said = state.said.as_ref().map_or(1, |said| said_rows(said, screen).len() as u16);
    let (top, bottom) = (screen.y + 2, foot.saturating_sub(said));
    Rect { x: screen.x + 1, y: top, width: screen.width.saturating_sub(2), height: bottom.saturating_sub(top) }
}

/// The event that a movement of the mouse means; none where it means nothing.
pub fn beginning_event(state: &Beginning, mouse: MouseEvent) -> Option<BeginningEvent> {
    match mouse.kind {
        MouseEventKind::Down(MouseButton::Left) => {
            let at = Position { x: mouse.column, y: mouse.row };
            target(state, at).map(BeginningEvent::Click)
        }
        MouseEventKind::ScrollUp => Some(BeginningEvent::Wheel(Turn::Up)),
        MouseEventKind::ScrollDown => Some(BeginningEvent::Wheel(Turn::Down)),
        _ => None,
    }
}

/// What stands at a place of the screen.
fn target(state: &Beginning, at: Position) -> Option<BeginningTarget> {
    let screen = Rect { x: 0, y: 0, width: state.size.0, height: state.size.1 };
    let key = placed_keys(state, screen).into_iter().find(|(_, place)| place.contains(at));
    // What only names letters to be typed is no key.
    let is_key = |press: &KeyEvent| press.code != KeyCode::Null;
    if let Some((hint, _)) = key {
        return Some(hint.press).filter(is_key).map(BeginningTarget::Key);
    }
    let area = inner(state, screen);
    match &state.page {
        BeginningPage::Form(page) => form::target_at(page, area, at),
        BeginningPage::Books => books::row_at(state.books.as_ref()?, area, at).map(BeginningTarget::Book),
        BeginningPage::Draft(_) | BeginningPage::Mend(_) => None,
    }
}
