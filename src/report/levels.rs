//! The reading level of a text of any length: the whole of it, and each of its sections.

use crate::brief::Book;
use crate::draft::{Block, BlockKind, Draft, Span};
use crate::level;
use crate::level::Level;
use crate::level::lists::Lists;
use crate::text::Text;

/// The reading level of a text.
#[derive(Debug, Clone)]
pub struct Levels {
    /// The level of all paragraphs together.
    pub whole: Level,
    /// The level of each section; empty where there is only one.
    pub sections: Vec<Section>,
}

/// The reading level of a part of a text.
#[derive(Debug, Clone)]
pub struct Section {
    /// The section's heading; `Section 2` where it has none.
    pub name: String,
    /// Where the section stands in the file.
    pub span: Span,
    /// The section's level.
    pub level: Level,
}

impl Levels {
    /// Measures the blurb of a draft, or all paragraphs of a manuscript. A section begins at a heading, and at a rule
    /// (`---`), which may stand between pages.
    pub fn of(draft: &Draft, book: &Book, lists: Lists<'_>) -> Self {
        let measure = |draft: &Draft| level::measure_with(&Text::read(draft, book), lists);
        let parts = parts(draft);
        let sections = if parts.len() > 1 { parts } else { Vec::new() };
        let section = |(index, blocks): (usize, &[Block])| {
            let draft = Draft { blocks: blocks.to_vec(), ..Draft::default() };
            let heading = draft.blocks_of(BlockKind::Headline).next().map(|block| block.text().to_owned());
            let span = draft.blocks.first().map_or(Span { start: 0, end: 0 }, Block::whole_span);
            let name = heading.unwrap_or_else(|| format!("Section {}", index + 1));
            Section { name, span, level: measure(&draft) }
        };
        Self { whole: measure(draft), sections: sections.into_iter().enumerate().map(section).collect() }
    }
}

/// The blocks between headings and rules; a part without a paragraph belongs to the next.
fn parts(draft: &Draft) -> Vec<&[Block]> {
    let mut parts = Vec::new();
    let (mut start, mut has_text) = (0, false);
    for at in 1..=draft.blocks.len() {
        // Rules stand in the order of the file, so they can be looked up by halving.
        let ends = at == draft.blocks.len()
            || draft.rules.binary_search(&at).is_ok()
            || draft.blocks[at].kind == BlockKind::Headline;
        has_text |= draft.blocks[at - 1].kind == BlockKind::Blurb;
        if ends && has_text {
            parts.push(&draft.blocks[start..at]);
            (start, has_text) = (at, false);
        }
    }
    parts
}
