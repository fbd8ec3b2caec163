//! Lists with one item to a row: which items are in sight, and which stands at a place.

use ratatui::layout::{Position, Rect};

/// The first item shown of a list in an area, chosen so that the selected item is in sight.
pub(super) fn first_shown(in_hand: usize, area: Rect) -> usize {
    (in_hand + 1).saturating_sub(usize::from(area.height))
}

/// The number of the item at a place of the screen, in a list of `count` items.
pub(super) fn item_at(area: Rect, in_hand: usize, count: usize, at: Position) -> Option<usize> {
    let row = usize::from(at.y.checked_sub(area.y).filter(|_| area.contains(at))?);
    Some(first_shown(in_hand, area) + row).filter(|number| *number < count)
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
