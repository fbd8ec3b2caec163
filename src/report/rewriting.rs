//! Differences as changes of the author's own file.
//!
//! A change is first tried on the words alone, so that all markup and every comment stays. Where the file would then
//! not be read as the copy that is wanted (a change that ends inside *emphasis*, say), the blocks that differ are
//! written anew. What is given back has always been read again and found right.

use std::ops::Range;

use super::differences::{ChangedPart, Differences, DraftSide, Strand};
use super::starred::in_stars;
use crate::draft::{Block, BlockKind, Draft, Edit, Span, edited};

/// Signs that Markdown acts on inside a line.
const ACTED_ON: [char; 9] = ['\\', '*', '_', '`', '<', '[', ']', '&', '~'];

impl Differences<'_> {
    /// The edits that make some of the changes in the first draft's file, whose text is `source`; none where the
    /// changes can only be made by writing the whole file anew.
    pub fn edits(&self, source: &str, is_made: impl Fn(usize) -> bool) -> Option<Vec<Edit>> {
        let wanted = self.with(&is_made);
        let ways = [EditGranularity::Words, EditGranularity::Blocks].into_iter();
        // A line ends as in verse; where that would not be read so, as in a headline, by a sign inside the line.
        let mut ways = ways.flat_map(|granularity| [(granularity, LineEnd::Backslash), (granularity, LineEnd::Sign)]);
        ways.find_map(|(granularity, line_end)| {
            let rewriting = Rewriting { differences: self, source, granularity, line_end };
            let edits = rewriting.edits(&is_made);
            Draft::read(&edited(source, &edits)).prints_like(&wanted).then_some(edits)
        })
    }
}

/// How much of the file stays as it is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum EditGranularity {
    /// All but the words that change.
    Words,
    /// All but the blocks that change.
    Blocks,
}

/// How a line that the author ended is ended in the file.
#[derive(Clone, Copy, PartialEq, Eq)]
enum LineEnd {
    /// By a backslash and a new line of the file.
    Backslash,
    /// By `<br>`, so that the line of the file goes on.
    Sign,
}

struct Rewriting<'a> {
    differences: &'a Differences<'a>,
    source: &'a str,
    granularity: EditGranularity,
    line_end: LineEnd,
}

impl Rewriting<'_> {
    fn edits(&self, is_made: &impl Fn(usize) -> bool) -> Vec<Edit> {
        let mut edits = Vec::new();
        let mut above = Above { end: None, kind: None, named: BlockKind::Blurb, has_insertion: false };
        for strand in &self.differences.strands {
            let parts = strand.parts(is_made);
            let before = self.differences.source(strand, DraftSide::Before);
            match before {
                Some(block) if parts.is_empty() => edits.push(self.removal(block)),
                Some(block) if is_whole(&parts, block) => edits.extend(self.parted(block)),
                Some(block) if self.granularity == EditGranularity::Words => {
                    edits.extend(self.in_words(strand, block, &parts))
                }
                Some(block) => edits.push(self.replacement(strand, block, &parts, &above)),
                None if parts.is_empty() => {}
                None => {
                    edits.push(self.insertion(strand, &parts, &above));
                    above.has_insertion = true;
                }
            }
            if let Some(block) = before {
                above.end = Some(self.lines_of(block).end);
                above.has_insertion = false;
            }
            if !parts.is_empty() {
                above.kind = Some(strand.kind);
                let names_itself = matches!(strand.kind, BlockKind::Headline | BlockKind::Quote | BlockKind::Credit);
                // An inserted block ends with the heading that was in force above it, so only a block of the first
                // draft changes what is in force.
                if !names_itself && before.is_some() {
                    above.named = strand.kind;
                }
            }
        }
        edits
    }

    /// The words of a block changed in their place.
    fn in_words(&self, strand: &Strand, block: &Block, parts: &[ChangedPart]) -> Vec<Edit> {
        let (mut edits, mut done, mut new) = (Vec::new(), 0, Vec::new());
        let mut change = |range: Range<usize>, new: &mut Vec<ChangedPart>| {
            if !range.is_empty() || !new.is_empty() {
                let text = self.marked(&self.differences.block(strand, new));
                edits.push(Edit { span: block.span(range), text });
                new.clear();
            }
        };
        for part in parts {
            if let ChangedPart::Of(DraftSide::Before, range) = part {
                change(done..range.start, &mut new);
                done = range.end;
            } else {
                new.push(part.clone());
            }
        }
        change(done..block.text().len(), &mut new);
        edits
    }

    /// Removes a block. Where lines of a quotation stand right above and below, a line of its marks stays, or the two
    /// would become one quote.
    fn removal(&self, block: &Block) -> Edit {
        let span = self.lines_of(block);
        let below = self.source[span.end..].lines().next().unwrap_or_default();
        let text = match self.quoted_above(span) {
            Some(marks) if in_quotation(below).is_some() => format!("{marks}\n"),
            _ => String::new(),
        };
        Edit { span, text }
    }

    fn replacement(&self, strand: &Strand, block: &Block, parts: &[ChangedPart], above: &Above) -> Edit {
        let span = self.lines_of(block);
        let ending = if self.source[span.start..span.end].ends_with('\n') { "\n" } else { "" };
        let text = format!(
            "{}{ending}",
            self.written(&self.differences.block(strand, parts), above, BlockPosition::InItsPlace)
        );
        let apart = self.quoted_above(span).filter(|_| strand.kind == BlockKind::Quote);
        let text = apart.map_or_else(|| text.clone(), |marks| format!("{marks}\n{text}"));
        Edit { span, text }
    }

    /// Parts a quote that stays from the credit right above it. The credit, if it is written anew, may have lost the
    /// form that told the two apart.
    fn parted(&self, block: &Block) -> Option<Edit> {
        let span = self.lines_of(block);
        let is_quote = self.granularity == EditGranularity::Blocks && block.kind == BlockKind::Quote;
        let marks = self.quoted_above(span).filter(|_| is_quote)?;
        Some(Edit { span: Span { end: span.start, ..span }, text: format!("{marks}\n") })
    }

    /// The marks of a quotation, where `lines` of the file stand in one and the line right above has words of it.
    fn quoted_above(&self, lines: Span) -> Option<&str> {
        let above = self.source[..lines.start].strip_suffix('\n')?;
        in_quotation(above.rsplit('\n').next()?)?;
        in_quotation(&self.source[lines.start..])
    }

    fn insertion(&self, strand: &Strand, parts: &[ChangedPart], above: &Above) -> Edit {
        let block = self.differences.block(strand, parts);
        let first =
            || self.differences.before.blocks.first().map_or(self.source.len(), |first| self.lines_of(first).start);
        let at = above.end.unwrap_or_else(first);
        let opens_file = above.kind.is_none();
        let ends_line = at == 0 || above.has_insertion || self.source[..at].ends_with('\n');
        let joins = block.kind == BlockKind::Credit && above.kind == Some(BlockKind::Quote);
        let lead = match (ends_line, opens_file || joins) {
            (true, true) => "",
            (true, false) | (false, true) => "\n",
            (false, false) => "\n\n",
        };
        let text = format!(
            "{lead}{}\n{}",
            self.written(&block, above, BlockPosition::Between),
            if above.end.is_none() { "\n" } else { "" }
        );
        Edit { span: Span { start: at, end: at }, text }
    }

    /// The lines of a block in the file, whole where no other block stands on them.
    fn lines_of(&self, block: &Block) -> Span {
        let span = block.whole_span();
        let start = self.source[..span.start].rfind('\n').map_or(0, |newline| newline + 1);
        let end = self.source[span.end..].find('\n').map_or(self.source.len(), |newline| span.end + newline + 1);
        let mut lines = Span { start, end };
        for other in self.differences.before.blocks.iter().map(Block::whole_span).filter(|other| *other != span) {
            if other.end <= span.start {
                lines.start = lines.start.max(other.end);
            } else if other.start >= span.end {
                lines.end = lines.end.min(other.start);
            }
        }
        lines
    }
}

/// What stands above a place in the file.
struct Above {
    /// Where the last block of the first draft ends, with its line.
    end: Option<usize>,
    /// The kind of the last block in the copy.
    kind: Option<BlockKind>,
    /// What a paragraph is at this place, by the heading above it.
    named: BlockKind,
    /// Whether something new was already inserted at this place; what is inserted ends its line.
    has_insertion: bool,
}

/// Where a block is written.
#[derive(Clone, Copy, PartialEq, Eq)]
enum BlockPosition {
    InItsPlace,
    Between,
}

/// The marks with which a line of a quotation begins; none where the line has no words or stands in no quotation.
fn in_quotation(line: &str) -> Option<&str> {
    let line = line.lines().next()?;
    let words = line.trim_start_matches([' ', '\t', '>']);
    let marks = line[..line.len() - words.len()].trim_end();
    (marks.contains('>') && !words.is_empty()).then_some(marks)
}

fn is_whole(parts: &[ChangedPart], block: &Block) -> bool {
    let mut done = 0;
    let follows = |part: &ChangedPart| match part {
        ChangedPart::Of(DraftSide::Before, range) if range.start == done => {
            done = range.end;
            true
        }
        _ => false,
    };
    parts.iter().all(follows) && done == block.text().len()
}

impl Rewriting<'_> {
    /// A block as it is written in a draft's file.
    fn written(&self, block: &Block, above: &Above, place: BlockPosition) -> String {
        let text = self.marked(block);
        match block.kind {
            BlockKind::Headline => format!("# {text}"),
            BlockKind::Quote => format!("> {}", safe_start(text)),
            BlockKind::Credit if place == BlockPosition::Between && above.kind == Some(BlockKind::Quote) => {
                format!(">\n> {text}")
            }
            BlockKind::Credit => format!("> {text}"),
            kind if kind == above.named || place == BlockPosition::InItsPlace => safe_start(text),
            kind => format!("## {}\n\n{}\n\n## {}", kind.name(), safe_start(text), above.named.name()),
        }
    }

    /// The words of a block in Markdown.
    fn marked(&self, block: &Block) -> String {
        let line_end = match (self.line_end, block.kind) {
            (LineEnd::Sign, _) => "<br>",
            (LineEnd::Backslash, BlockKind::Quote | BlockKind::Credit) => "\\\n> ",
            (LineEnd::Backslash, _) => "\\\n",
        };
        in_stars(block, |text| escaped(text, line_end))
    }
}

fn escaped(text: &str, line_end: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\n' => escaped.push_str(line_end),
            sign if ACTED_ON.contains(&sign) => escaped.extend(['\\', sign]),
            other => escaped.push(other),
        }
    }
    escaped
}

/// Escapes the start of a text where Markdown would take it for another sort of block.
fn safe_start(text: String) -> String {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let after = text[digits..].chars().next();
    match (digits, after) {
        (0, Some('#' | '>' | '-' | '+' | '=' | '|')) => format!("\\{text}"),
        (1.., Some('.' | ')')) => format!("{}\\{}", &text[..digits], &text[digits..]),
        _ => text,
    }
}
