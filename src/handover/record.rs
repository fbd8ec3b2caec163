//! Copy as the texts of an ONIX record: what stands in its `CollateralDetail`, with reference names.
//!
//! Source: ONIX for Books 3.0 and 3.1, group P.14; the codes are those of lists 153 (kinds of texts), 154 (audiences:
//! 00 is everybody) and 34 (forms of texts: 05 is XHTML, 06 plain text).

use super::HandedCopy;
use super::markup::{escaped, marked_up};
use crate::draft::{Block, BlockKind};

/// The most characters of a short description, by list 153.
pub const LONGEST_SHORT_DESCRIPTION: usize = 350;

/// The code of a short description.
const SHORT_DESCRIPTION: &str = "02";

/// The code of a review quote.
const QUOTED: &str = "06";

/// The code of the text that a block belongs to; none for what a record tells otherwise.
pub(super) fn code_of(kind: BlockKind) -> Option<&'static str> {
    match kind {
        BlockKind::Headline => Some("10"),
        // "Primary cover copy": the blurb as it stands on the back cover.
        BlockKind::Blurb => Some("05"),
        BlockKind::Quote | BlockKind::Credit => Some(QUOTED),
        BlockKind::NoteOnTheAuthor => Some("12"),
        BlockKind::OtherTitles | BlockKind::AgeLine | BlockKind::PriceLine => None,
    }
}

/// The blurb as a short description: its words alone, an empty line between paragraphs.
pub fn short_description(copy: &HandedCopy) -> String {
    copy.draft.blocks_of(BlockKind::Blurb).map(Block::text).collect::<Vec<_>>().join("\n\n")
}

/// What tells a text from the others: its code, and which quote it is, since each quote is a text of its own. All
/// blocks of any other kind are one.
type TextKey = (&'static str, usize);

/// The blocks that have a text in a record, each with the text's key.
fn keyed(copy: &HandedCopy) -> impl Iterator<Item = (&Block, TextKey)> {
    copy.draft.blocks.iter().zip(copy.draft.part_numbers()).filter_map(|(block, part)| {
        let code = code_of(block.kind)?;
        Some((block, (code, if code == QUOTED { part } else { 0 })))
    })
}

/// Whether blocks stand together in a record that stand apart in the copy.
pub(super) fn gathers(copy: &HandedCopy) -> bool {
    let mut keys: Vec<TextKey> = keyed(copy).map(|(_, key)| key).collect();
    keys.dedup();
    let in_copy = keys.len();
    keys.sort_unstable();
    keys.dedup();
    keys.len() < in_copy
}

pub(super) fn written(copy: &HandedCopy, short: bool) -> String {
    let mut texts = String::new();
    if short {
        texts.push_str(&text(SHORT_DESCRIPTION, "06", &escaped(&short_description(copy))));
    }
    let mut own: Vec<(TextKey, String)> = Vec::new();
    for (block, key) in keyed(copy) {
        let words = format!("<p>{}</p>", marked_up(block, "<br/>"));
        match own.iter_mut().find(|(known, _)| *known == key) {
            Some((_, text)) => text.push_str(&words),
            None => own.push((key, words)),
        }
    }
    texts.extend(own.into_iter().map(|((code, _), words)| text(code, "05", &words)));
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <CollateralDetail xmlns=\"http://ns.editeur.org/onix/3.0/reference\">\n{texts}</CollateralDetail>\n"
    )
}

/// One text of a record: its kind, its form and its words.
fn text(kind: &str, form: &str, words: &str) -> String {
    format!(
        "  <TextContent>\n    <TextType>{kind}</TextType>\n    <ContentAudience>00</ContentAudience>\n    \
         <Text textformat=\"{form}\">{words}</Text>\n  </TextContent>\n"
    )
}
