//! What every rule finds in a draft, set by its brief.

use blurbwright::brief::Brief;
use blurbwright::draft::Draft;
use blurbwright::level;
use blurbwright::queries::{self, Query, QueryMemory, Reading};
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};
use blurbwright::text::Text;

/// The queries of all rules, in the order of a report.
pub(crate) fn queries_in(draft: &Draft, brief: &Brief, faces: &Faces) -> Vec<Query> {
    let text = Text::read(draft, &brief.book);
    let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
    let setting = Setting::new(&copy, copy.forms(), &Rooms::of(brief));
    let level = level::measure(&text);
    let reading = Reading { draft, text: &text, level: &level, setting: &setting, art: &[], brief };
    queries::find(&reading, &mut QueryMemory::default())
}
