//! What stands at a place of the screen: mouse events are turned into events of the desk.

use ratatui::crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use ratatui::layout::{Position, Rect};

use super::list::{item_at, list_in};
use super::picture::Pictured;
use super::{answers, beside, book, copy, drafts, foot, measures, other_words, picture, queries, values, view};
use crate::desk::event::{Event, Target, Turn};
use crate::desk::keys;
use crate::desk::listing::INSERTED;
use crate::desk::mode::{DetailsPage, Mode};
use crate::desk::sheet::DraftSheet;
use crate::desk::state::State;

/// The event that a movement of the mouse means; none where it means nothing. The draft has to be assessed beforehand,
/// since the place is found on the screen as it would be drawn now.
pub fn event(state: &State, mouse: MouseEvent, presses: u8) -> Option<Event> {
    let (x, y) = (mouse.column, mouse.row);
    match mouse.kind {
        MouseEventKind::Down(MouseButton::Left) => hit(state, x, y).map(|target| Event::Click(target, presses)),
        MouseEventKind::Drag(MouseButton::Left) if state.holds_box() => {
            let pictured = Pictured::of(state, state.sheet()?)?;
            let (x, y) = picture::place_at(pictured.drawing, panel(state)?, Position { x, y })?;
            Some(Event::DragBox(x, y))
        }
        MouseEventKind::Drag(MouseButton::Left) => copy::byte_at(state, state.sheet()?, x, y).map(Event::Drag),
        MouseEventKind::ScrollUp => Some(Event::Wheel(Turn::Up, hit(state, x, y))),
        MouseEventKind::ScrollDown => Some(Event::Wheel(Turn::Down, hit(state, x, y))),
        _ => None,
    }
}

/// What stands at a column and a row of the screen; nothing between the keys of the foot.
pub fn hit(state: &State, x: u16, y: u16) -> Option<Target> {
    let at = Position { x, y };
    let areas = state.areas();
    // The foot is drawn over everything else.
    if let Some(key) = foot::key_at(state, areas.foot, at) {
        return Some(Target::Key(key));
    }
    if areas.foot.contains(at) {
        return None;
    }
    let sheet = state.sheet()?;
    if let Some(command) =
        view::command_at(state, sheet, areas.head, at).filter(|_| matches!(state.mode, Mode::Writing))
    {
        return Some(Target::Key(keys::of(command).event()));
    }
    Some(in_list(state, sheet, at).or_else(|| in_pane(state, sheet, at)).unwrap_or(Target::Ground))
}

/// The item of a list at a place, or the list itself where no item stands.
fn in_list(state: &State, sheet: &DraftSheet, at: Position) -> Option<Target> {
    let areas = state.areas();
    let strip = areas.strip(&state.mode).map(list_in);
    let item = match &state.mode {
        Mode::Drafts(in_hand) => drafts::row_at(state, *in_hand, areas.copy, at).map(Target::Draft),
        Mode::Values(in_hand) => item_at(values::list_of(state), *in_hand, state.values().len(), at).map(Target::Value),
        Mode::Keys(keys) => {
            let row = areas.copy.contains(at).then(|| usize::from(at.y - areas.copy.y));
            row.and_then(|row| keys.way_in_row(row)).map(Target::Way)
        }
        Mode::Inserting(in_hand) => {
            strip.and_then(|list| item_at(list, *in_hand, INSERTED.len(), at)).map(Target::Answer)
        }
        Mode::Book(page) => {
            return Some(book::target_at(state, page, areas.copy, at).unwrap_or(Target::List))
                .filter(|_| areas.copy.contains(at));
        }
        Mode::Adding(new) => {
            let list = values::answers_in(values::list_of(state));
            item_at(list, new.at, state.answers(*new).len(), at).map(Target::Answer)
        }
        Mode::Answers(page) => answers::target_at(state, page, at),
        Mode::OtherWords(page) => strip.and_then(|list| other_words::row_at(page, list, at)).map(Target::OtherWord),
        Mode::Mending(_) => return Some(Target::List).filter(|_| areas.copy.contains(at)),
        Mode::Beside(other) => beside::change_at(state, other, at).map(Target::Difference),
        _ => queries::number_at(state, sheet, strip.unwrap_or(areas.queries), at).map(Target::Query),
    };
    item.or_else(|| strip.filter(|list| list.contains(at)).map(|_| Target::List))
}

/// The measure, the line on the panel or the byte of the copy at a place.
fn in_pane(state: &State, sheet: &DraftSheet, at: Position) -> Option<Target> {
    let areas = state.areas();
    // Two drafts side by side cover the panes of the draft in front.
    if matches!(state.mode, Mode::Beside(_)) {
        return None;
    }
    if let Some(measure) = measures::at(state, sheet, areas.measures, at) {
        return Some(Target::Measure(measure));
    }
    if areas.terms.contains(at) {
        return Some(Target::Measure(DetailsPage::Terms));
    }
    if let Some(query) =
        copy::query_at(state, sheet, at).filter(|_| shows_copy(state) && areas.copy_in_sight(&state.mode).contains(at))
    {
        return Some(Target::Query(query));
    }
    let pictured = Pictured::of(state, sheet);
    if let (Mode::Values(_), Some((area, pictured))) = (&state.mode, panel(state).zip(pictured.as_ref()))
        && let Some((id, grip, at)) = picture::box_at(&state.panel_tried(), pictured.drawing, area, at)
    {
        return Some(Target::Box(id, grip, at));
    }
    if let Some((area, pictured)) = panel(state).zip(pictured)
        && let Some(line) = picture::line_at(pictured.drawing, area, at)
    {
        return Some(Target::PanelLine(line));
    }
    let is_in_copy = shows_copy(state) && areas.copy_in_sight(&state.mode).contains(at);
    copy::byte_at(state, sheet, at.x, at.y).filter(|_| is_in_copy).map(Target::Copy)
}

/// Whether the copy's pane shows the copy and not a page in its place.
fn shows_copy(state: &State) -> bool {
    matches!(
        state.mode,
        Mode::Writing
            | Mode::Letter
            | Mode::Queries(_)
            | Mode::OtherWords(_)
            | Mode::Type
            | Mode::Answers(_)
            | Mode::Inserting(_)
    )
}

/// Where the panel is drawn.
fn panel(state: &State) -> Option<Rect> {
    Some(state.areas().picture(&state.mode)).filter(|area| !area.is_empty())
}
