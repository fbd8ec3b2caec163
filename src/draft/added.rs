//! A new block in the form that a draft's file has for it, and where in the file it goes.

use super::block::Span;
use super::edits::Edit;
use super::kind::BlockKind;
use super::version::Draft;

/// A block that is to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AddedBlock {
    /// The kind of the block.
    pub kind: BlockKind,
    /// The words, a paragraph each.
    pub words: Vec<String>,
    /// Who gave a quote; none for other blocks, and where nobody is named.
    pub credit: Option<String>,
}

/// The edit of a draft's file that adds a block: a headline before all else; a quote behind the last quote, or behind
/// the blurb; anything else under its heading at the end, or behind the last block of its kind.
pub fn added(source: &str, draft: &Draft, block: &AddedBlock) -> Edit {
    let words: Vec<String> = block.words.iter().filter(|words| !words.is_empty()).map(|words| plain(words)).collect();
    let start = source.len() - source.trim_start_matches('\u{feff}').len();
    let last = |kinds: &[BlockKind]| draft.blocks.iter().rfind(|found| kinds.contains(&found.kind));
    let behind = |kinds: &[BlockKind]| last(kinds).map(|found| line_end(source, found.whole_span().end));
    match block.kind {
        BlockKind::Headline => inserted(source, start, &format!("# {}", words.join(" "))),
        BlockKind::Quote | BlockKind::Credit => {
            let quote = words.iter().map(|words| format!("> {words}")).collect::<Vec<_>>().join("\n>\n");
            let credit = block.credit.as_ref().map_or(String::new(), |credit| format!("\n> \u{2014} {credit}"));
            let at = behind(&[BlockKind::Quote, BlockKind::Credit]);
            let at = at.or_else(|| behind(&[BlockKind::Blurb])).or_else(|| behind(&[BlockKind::Headline]));
            inserted(source, at.unwrap_or(source.len()), &format!("{quote}{credit}"))
        }
        BlockKind::Blurb => inserted(source, behind(&[BlockKind::Blurb]).unwrap_or(start), &words.join("\n\n")),
        kind => match behind(&[kind]) {
            Some(at) => inserted(source, at, &words.join("\n\n")),
            None => inserted(source, source.len(), &format!("## {}\n\n{}", kind.heading(), words.join("\n\n"))),
        },
    }
}

/// Words as they are read as words, whatever sign they begin with.
fn plain(words: &str) -> String {
    let is_sign =
        words.starts_with(['#', '>', '=', '~']) || ["- ", "+ ", "* "].iter().any(|sign| words.starts_with(sign));
    if is_sign { format!("\\{words}") } else { words.to_owned() }
}

/// The end of the line of the file that holds a byte.
fn line_end(source: &str, at: usize) -> usize {
    source[at..].find('\n').map_or(source.len(), |end| at + end)
}

/// The edit that puts lines at a byte, with an empty line on either side where other lines are.
fn inserted(source: &str, at: usize, lines: &str) -> Edit {
    let (before, after) = source.split_at(at);
    let lead = match before.trim_start_matches('\u{feff}') {
        "" => "",
        before if before.ends_with("\n\n") => "",
        before if before.ends_with('\n') => "\n",
        _ => "\n\n",
    };
    let tail = match after {
        "" => "\n",
        after if after.starts_with("\n\n") => "",
        after if after.starts_with('\n') => {
            if after.len() > 1 {
                "\n"
            } else {
                ""
            }
        }
        _ => "\n\n",
    };
    Edit { span: Span { start: at, end: at }, text: format!("{lead}{lines}{tail}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHOLE: &str =
        "# The lamp\n\nOona climbs.\n\n> \"A light.\"\n> \u{2014} Bo Aune, bookseller\n\n## Age line\n\n4 to 8\n";

    fn put_in(source: &str, kind: BlockKind, words: &[&str], credit: Option<&str>) -> String {
        let words = words.iter().map(|words| (*words).to_owned()).collect();
        let block = AddedBlock { kind, words, credit: credit.map(str::to_owned) };
        let edit = added(source, &Draft::read(source), &block);
        format!("{}{}{}", &source[..edit.span.start], edit.text, &source[edit.span.end..])
    }

    /// Each kind is read again as what it was written as, whatever stands in the draft before, and nothing else of the
    /// draft is read otherwise.
    #[test]
    fn what_is_added_is_read_as_what_it_is() {
        let drafts =
            ["", "\u{feff}", ".", "Oona climbs.", "Oona climbs.\n\n\n", "\u{feff}# The lamp\nOona climbs.\n", WHOLE];
        for source in drafts {
            for kind in BlockKind::ALL {
                for words in ["Some words", "# Some words", "> Some words", "- Some words", "日本の話"] {
                    let credit = (kind == BlockKind::Quote).then_some("Ida Voss, librarian");
                    let after = put_in(source, kind, &[words], credit);
                    let kind = if kind == BlockKind::Credit { BlockKind::Quote } else { kind };
                    let (before, now) = (Draft::read(source), Draft::read(&after));
                    let is_new = |block: &&crate::draft::Block| block.text == words;
                    let found: Vec<BlockKind> = now.blocks.iter().filter(is_new).map(|block| block.kind).collect();
                    assert_eq!(found, [kind], "{words} in {source:?}: {after:?}");
                    let told = |draft: &Draft| {
                        let blocks =
                            draft.blocks.iter().filter(|block| !is_new(block) && !block.text.contains("Ida Voss"));
                        blocks.map(|block| (block.kind, block.text.clone())).collect::<Vec<_>>()
                    };
                    assert_eq!(told(&now), told(&before), "{words} in {source:?}: {after:?}");
                }
            }
        }
    }

    #[test]
    fn a_quote_has_its_credit_and_titles_are_a_line_each() {
        let after = put_in(WHOLE, BlockKind::Quote, &["\u{201c}A lamp.\u{201d}"], Some("Ida Voss, librarian"));
        assert!(
            after.contains("bookseller\n\n> \u{201c}A lamp.\u{201d}\n> \u{2014} Ida Voss, librarian\n\n## Age"),
            "{after}"
        );
        let after = put_in(WHOLE, BlockKind::OtherTitles, &["One", "Two"], None);
        assert!(after.ends_with("4 to 8\n\n## Other titles\n\nOne\n\nTwo\n"), "{after}");
    }
}
