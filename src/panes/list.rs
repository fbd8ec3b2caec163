//! Lists with one item to a row: which items are in sight, and which stands at a place.

use ratatui::layout::{Position, Rect};

/// The first item shown of a list of `count` items in an area, chosen so that the selected item is in sight, and some
/// of those below it.
pub(super) fn first_shown(in_hand: usize, count: usize, area: Rect) -> usize {
    let height = usize::from(area.height);
    let below = (height / 3).min(count.saturating_sub(in_hand + 1));
    (in_hand + 1 + below).saturating_sub(height)
}

/// The number of the item at a place of the screen, in a list of `count` items.
pub(super) fn item_at(area: Rect, in_hand: usize, count: usize, at: Position) -> Option<usize> {
    let row = usize::from(at.y.checked_sub(area.y).filter(|_| area.contains(at))?);
    Some(first_shown(in_hand, count, area) + row).filter(|number| *number < count)
}

/// The area of a list in the lower half of the copy's pane: below the rule that divides it from the copy.
pub(super) fn list_in(strip: Rect) -> Rect {
    Rect {
        x: strip.x + 1,
        y: strip.y + 1,
        width: strip.width.saturating_sub(2),
        height: strip.height.saturating_sub(1),
    }
}
