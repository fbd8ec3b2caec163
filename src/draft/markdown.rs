//! Reads the Markdown of a draft into blocks, and notes what has no place in copy.

use std::ops::Range;

use pulldown_cmark::{Event, HeadingLevel, Options, Parser, Tag, TagEnd};

use super::block::{Block, Emphasis, SourcePiece, Span};
use super::comments;
use super::credits;
use super::kind::BlockKind;
use super::verse_lines::look_like_verse;
use super::version::{Draft, Note};

/// What is said of lines that are printed as one paragraph and look like verse.
const RUN_TOGETHER: &str = "these lines are printed as one paragraph; where each is to be a line of its own, as in \
                            verse, end each but the last with a backslash (\\); at the desk Alt-Enter, or \
                            Esc /, does";

/// What is said of one line of verse that runs on into the next, where others of its paragraph end.
const RUNS_ON: &str = "this line is printed in one with the line below it, though other lines of the paragraph end \
                       where they end here; where it is to be a line of its own, end it with a backslash (\\) too";

/// What is said of a backslash behind which no line of its paragraph follows.
const ENDS_NOTHING: &str = "the backslash at the end is printed, for it ends a line only where another line of the \
                            same paragraph follows; take it out, or write that line right below";

const BYTE_ORDER_MARK: char = '\u{feff}';

impl Draft {
    /// Reads a draft from the text of its file.
    pub fn read(source: &str) -> Self {
        read_plain(source).unwrap_or_else(|| read_marked(source))
    }
}

/// Reads a draft with the Markdown parser.
fn read_marked(source: &str) -> Draft {
    let body = source.strip_prefix(BYTE_ORDER_MARK).unwrap_or(source);
    let mut reader = MarkdownReader::new(body, source.len() - body.len());
    for (event, range) in Parser::new_ext(body, Options::empty()).into_offset_iter() {
        reader.read(event, range);
    }
    reader.close_block();
    reader.draft
}

/// Reads a draft of paragraphs without any markup, faster than the parser does; none where a line or a character might
/// be markup. The result is the parser's, which a test holds (`the_quick_way_reads_what_the_parser_reads`).
fn read_plain(source: &str) -> Option<Draft> {
    let means_more = |byte: u8| {
        (byte < 0x20 && byte != b'\n') || matches!(byte, b'\\' | b'`' | b'*' | b'_' | b'<' | b'[' | b']' | b'&' | 0x7f)
    };
    // The loop does not stop at the first find, so that the compiler can test many bytes in one step.
    if source.bytes().fold(false, |found, byte| found | means_more(byte)) {
        return None;
    }
    if may_be_unset(source) {
        return None;
    }
    let block = |(text, range): (String, Range<usize>)| {
        let whole = 0..text.len();
        let (runs, pieces) =
            (vec![(whole.clone(), Emphasis::default())], vec![SourcePiece { text: whole, source: range }]);
        Block { kind: BlockKind::Blurb, text, runs, pieces, begins_part: false, is_run_together: false }
    };
    let (mut draft, mut open, mut start) = (Draft::default(), None::<(String, Range<usize>)>, 0);
    let mut line_starts = Vec::new();
    // The empty line at the end closes the last paragraph.
    for line in source.split('\n').chain([""]) {
        let range = start..start + line.len();
        start = range.end + 1;
        if line.is_empty() {
            if open.as_ref().is_some_and(|(text, _)| look_like_verse(text, &line_starts)) {
                return None;
            }
            line_starts.clear();
            draft.blocks.extend(open.take().map(block));
            continue;
        }
        // A line that begins with anything but a letter or a quotation mark may be a heading, a quotation, an item, a
        // rule or code; blanks at the end of a line may force a line break.
        let begins = line.starts_with(|first: char| first.is_ascii_alphabetic() || matches!(first, '"' | '“' | '‘'));
        if !begins || line.ends_with(char::is_whitespace) {
            return None;
        }
        match &mut open {
            Some((text, whole)) => {
                line_starts.push(text.len() + 1);
                text.extend([" ", line]);
                whole.end = range.end;
            }
            None => open = Some((line.to_owned(), range)),
        }
    }
    Some(draft)
}

/// The draft read so far, and what is open at the present place in the Markdown.
struct MarkdownReader<'a> {
    body: &'a str,
    /// Bytes before the body in the file.
    lead: usize,
    draft: Draft,
    open: Option<OpenBlock>,
    /// The kind of paragraphs outside quotations: the last kind that a heading of the second level or below has named.
    named: BlockKind,
    /// How many block quotations are open around the present place.
    quotation: usize,
    /// Whether the quotation, or the quotation right above, holds a paragraph already: the next paragraph may then be
    /// a credit from its first word.
    quoted: bool,
    /// Whether a heading or a block quotation has begun since the last block.
    begins_part: bool,
    /// The lists that are open; a numbered list has the number of its next item.
    lists: Vec<Option<u64>>,
    /// How many bold and how many italic stretches are open, one inside the other.
    emphasis: (usize, usize),
    /// How many pictures are open, one inside the other: a picture's description is not copy.
    skipped: usize,
    /// Whether the present place is in lines that a comment has opened.
    in_comment: bool,
}

/// A block that is being collected.
struct OpenBlock {
    kind: BlockKind,
    text: String,
    runs: Vec<(Range<usize>, Emphasis)>,
    pieces: Vec<SourcePiece>,
    /// The level of a heading, which names the next block if its words are a name; none of anything else.
    heading: Option<HeadingLevel>,
    /// Offsets in the text at which a line of the file begins, for finding a credit.
    line_starts: Vec<usize>,
    /// Whether a comment stands right before the present place: the blanks on both sides of a comment become one.
    after_comment: bool,
    /// The bytes of the body that the block came from.
    source: Range<usize>,
}

impl<'a> MarkdownReader<'a> {
    fn new(body: &'a str, lead: usize) -> Self {
        Self {
            body,
            lead,
            draft: Draft::default(),
            open: None,
            named: BlockKind::Blurb,
            quotation: 0,
            quoted: false,
            begins_part: false,
            lists: Vec::new(),
            emphasis: (0, 0),
            skipped: 0,
            in_comment: false,
        }
    }

    fn read(&mut self, event: Event<'a>, range: Range<usize>) {
        match event {
            Event::Start(tag) => self.start(&tag, range),
            Event::End(tag) => self.end(tag),
            Event::Text(text) | Event::Code(text) => self.text(&text, range),
            Event::SoftBreak => self.line_break(" ", range),
            Event::HardBreak => self.line_break("\n", range),
            Event::Html(_) if self.in_comment => {}
            Event::Html(html) | Event::InlineHtml(html) => self.html(&html, range),
            Event::Rule => self.draft.rules.push(self.draft.blocks.len()),
            Event::TaskListMarker(_) | Event::FootnoteReference(_) | Event::InlineMath(_) | Event::DisplayMath(_) => {}
        }
    }

    fn start(&mut self, tag: &Tag<'a>, range: Range<usize>) {
        match tag {
            Tag::Heading { level, .. } => {
                self.open_block(BlockKind::Headline, range);
                self.quoted = false;
                self.begins_part = true;
                self.open.iter_mut().for_each(|open| open.heading = Some(*level));
            }
            Tag::Paragraph | Tag::CodeBlock(_) if self.open.is_none() => {
                self.open_block(self.paragraph_kind(), range);
            }
            Tag::Item => self.open_item(range),
            Tag::List(first) => {
                self.close_block();
                self.lists.push(*first);
            }
            Tag::BlockQuote(_) => {
                self.close_block();
                self.quotation += 1;
                self.begins_part = true;
                // A credit may stand in a quotation of its own, below the quotation with the quote.
                let last = self.draft.blocks.last().map(|block| block.kind);
                self.quoted = self.quoted && last == Some(BlockKind::Quote);
            }
            Tag::HtmlBlock => self.comment_lines(range),
            Tag::Strong => self.emphasis.0 += 1,
            Tag::Emphasis => self.emphasis.1 += 1,
            Tag::Image { .. } => {
                self.skipped += 1;
                self.note(range, "a picture is not copy; it was left out".to_owned());
            }
            _ => {}
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Heading(_) | TagEnd::Paragraph | TagEnd::CodeBlock | TagEnd::Item => self.close_block(),
            TagEnd::List(_) => {
                self.close_block();
                self.lists.pop();
            }
            TagEnd::BlockQuote(_) => {
                self.close_block();
                self.quotation = self.quotation.saturating_sub(1);
            }
            TagEnd::HtmlBlock => self.in_comment = false,
            TagEnd::Strong => self.emphasis.0 = self.emphasis.0.saturating_sub(1),
            TagEnd::Emphasis => self.emphasis.1 = self.emphasis.1.saturating_sub(1),
            TagEnd::Image => self.skipped = self.skipped.saturating_sub(1),
            _ => {}
        }
    }

    fn paragraph_kind(&self) -> BlockKind {
        if self.quotation > 0 { BlockKind::Quote } else { self.named }
    }

    fn open_block(&mut self, kind: BlockKind, source: Range<usize>) {
        self.close_block();
        self.open = Some(OpenBlock {
            kind,
            text: String::new(),
            runs: Vec::new(),
            pieces: Vec::new(),
            heading: None,
            line_starts: Vec::new(),
            after_comment: false,
            source,
        });
    }

    /// An item of a list is a block of its own, with its mark; other titles are lines and carry none.
    fn open_item(&mut self, range: Range<usize>) {
        self.open_block(self.paragraph_kind(), range.clone());
        let mark = match self.lists.last_mut() {
            Some(Some(number)) => {
                let mark = format!("{number}. ");
                *number = number.saturating_add(1);
                mark
            }
            _ => "• ".to_owned(),
        };
        if self.paragraph_kind() != BlockKind::OtherTitles {
            self.push(&mark, range.start..range.start + 1);
        }
    }

    /// Adds text of the file, noting and leaving out what cannot be printed.
    fn text(&mut self, text: &str, range: Range<usize>) {
        if self.skipped > 0 {
            return;
        }
        if self.open.is_none() {
            self.open_block(self.paragraph_kind(), range.clone());
        }
        let verbatim = self.body.get(range.clone()) == Some(text);
        if verbatim && !text.contains('\n') && !may_be_unset(text) {
            self.push(text, range);
            return;
        }
        // The text between the characters that are not set as they stand is added unchanged. Text that does not stand
        // in the file byte for byte (the character of an entity) points to the whole of its source.
        let mut kept = 0;
        for (at, character) in text.char_indices().filter(|(_, character)| is_unset(*character)) {
            let place =
                |from: usize, to: usize| if verbatim { range.start + from..range.start + to } else { range.clone() };
            self.push(&text[kept..at], place(kept, at));
            kept = at + character.len_utf8();
            match character {
                '\t' | '\u{b}' | '\u{c}' | '\u{85}' => self.push(" ", place(at, kept)),
                '\n' | '\r' | '\u{2028}' | '\u{2029}' => self.line_break("\n", place(at, kept)),
                _ => self.note(
                    place(at, kept),
                    format!(
                        "a sign that cannot be printed (U+{:04X}) stands here; it was left out",
                        u32::from(character)
                    ),
                ),
            }
        }
        let tail = if verbatim { range.start + kept..range.end } else { range };
        self.push(&text[kept..], tail);
    }

    fn line_break(&mut self, text: &str, range: Range<usize>) {
        let Some(open) = &mut self.open else { return };
        let already_spaced = text == " " && open.text.ends_with(' ');
        if !open.text.is_empty() && !already_spaced {
            self.push(text, range);
        }
        self.open.iter_mut().for_each(|open| open.line_starts.push(open.text.len()));
    }

    /// Reads whole lines that a comment opens; other lines that begin with `<` are read tag by tag.
    fn comment_lines(&mut self, range: Range<usize>) {
        let lines = &self.body[range.clone()];
        if !lines.trim_start().starts_with(comments::OPENS) {
            return;
        }
        self.in_comment = true;
        self.open.iter_mut().for_each(|open| open.after_comment = true);
        if !self.body[range.start..].contains("-->") {
            return self.note(range, "a comment is opened here and never closed; all below it was left out".to_owned());
        }
        let (found, behind) = comments::read(lines, self.lead + range.start);
        if let Some(behind) = behind {
            self.note(
                range.start + behind.start..range.start + behind.end,
                "what stands here behind a comment was left out; begin a new line for it".to_owned(),
            );
        }
        if self.quotation == 0 && self.lists.is_empty() {
            self.draft.comments.extend(found);
        }
    }

    fn html(&mut self, html: &str, range: Range<usize>) {
        let tag = html.trim();
        if tag.starts_with(comments::OPENS) {
            self.open.iter_mut().for_each(|open| open.after_comment = true);
        } else if ["<br>", "<br/>", "<br />"].contains(&tag.to_ascii_lowercase().as_str()) {
            self.line_break("\n", range);
        } else if tag.starts_with('<') && !tag.starts_with("</") {
            self.note(
                range,
                "what stands here between < and > is a sign for web pages and not copy; it was left out".to_owned(),
            );
        }
    }

    /// Adds text to the open block in the emphasis of the present place; `source` are the bytes of the body that it
    /// came from.
    fn push(&mut self, text: &str, source: Range<usize>) {
        let emphasis = Emphasis { bold: self.emphasis.0 > 0, italic: self.emphasis.1 > 0 };
        let Some(open) = &mut self.open else { return };
        let mut text = text;
        let mut source = source.start + self.lead..source.end + self.lead;
        if open.after_comment && open.text.ends_with(' ') && text.starts_with(' ') {
            let verbatim = text.len() == source.len();
            text = &text[1..];
            source.start += usize::from(verbatim);
        }
        open.after_comment = false;
        if text.is_empty() {
            return;
        }
        let start = open.text.len();
        open.text.push_str(text);
        let end = open.text.len();
        match open.runs.last_mut() {
            Some((range, same)) if *same == emphasis => range.end = end,
            _ => open.runs.push((start..end, emphasis)),
        }
        // Text that goes on in the file where the last piece ends makes that piece longer.
        match open.pieces.last_mut() {
            Some(last) if last.is_verbatim() && end - start == source.len() && last.source.end == source.start => {
                last.text.end = end;
                last.source.end = source.end;
            }
            _ => open.pieces.push(SourcePiece { text: start..end, source }),
        }
    }

    /// Adds the open block to the draft: as a name for what follows, or as the quotes and credits that it is made of.
    fn close_block(&mut self) {
        let Some(open) = self.open.take() else { return };
        if let Some(kind) = self.named_by(&open) {
            self.named = kind;
            return;
        }
        let parts = match open.kind {
            BlockKind::Quote => credits::parts(&open.text, &open.line_starts, self.quoted),
            kind => vec![(0, kind)],
        };
        self.quoted = self.quoted || open.kind == BlockKind::Quote;
        let is_verse = look_like_verse(&open.text, &open.line_starts);
        let is_run_together = is_verse && !open.text.trim().contains('\n');
        if is_run_together && parts.len() == 1 {
            self.note(open.source.clone(), RUN_TOGETHER.to_owned());
        }
        let words = self.body.get(open.source.clone()).unwrap_or_default().trim_end();
        if open.text.trim_end().ends_with('\\') && (words.len() - words.trim_end_matches('\\').len()) % 2 == 1 {
            self.note(open.source.clone(), ENDS_NOTHING.to_owned());
        }
        let (kind, text, runs, pieces) = (open.kind, open.text, open.runs, open.pieces);
        let block = Block { kind, text, runs, pieces, begins_part: false, is_run_together };
        if is_verse && !is_run_together && parts.len() == 1 {
            let lines = std::iter::once(&0).chain(&open.line_starts).zip(&open.line_starts);
            let run_on = lines.filter(|(_, end)| !block.text[..**end].ends_with('\n') && **end < block.text.len());
            let note = |(start, end): (&usize, &usize)| {
                let line = block.text[*start..*end].trim_end();
                Note { span: block.span(*start..*start + line.len()), text: RUNS_ON.to_owned() }
            };
            self.draft.notes.extend(run_on.map(note));
        }
        for (number, (at, kind)) in parts.iter().enumerate() {
            let end = parts.get(number + 1).map_or(block.text.len(), |(next, _)| *next);
            self.push_block(cut_out(&block, *at..end, *kind));
        }
    }

    /// The kind that a heading names. One of the first level above all else is the headline, whatever its words; any
    /// other that names nothing is told, but for a further line of a headline.
    fn named_by(&mut self, open: &OpenBlock) -> Option<BlockKind> {
        let is_first_level = open.heading? == HeadingLevel::H1;
        let last = self.draft.blocks.last().map(|block| block.kind);
        if is_first_level && last.is_none() && self.named == BlockKind::Blurb {
            return None;
        }
        let named = BlockKind::named(&open.text);
        let goes_on = is_first_level && last == Some(BlockKind::Headline);
        if named.is_none() && !goes_on {
            // The names to write come first, since beside a line of the draft a note may be cut short; and among them
            // the last kinds of the list, which headings name most often.
            let known: Vec<&str> = BlockKind::ALL.iter().rev().map(|kind| kind.name()).collect();
            let text = open.text.trim();
            let known = known.join(", ");
            self.note(
                open.source.clone(),
                format!("no block is named so; the names are {known}; \"{text}\" is set as a headline"),
            );
        }
        named
    }

    fn push_block(&mut self, mut block: Block) {
        if !block.text.is_empty() {
            block.begins_part = std::mem::take(&mut self.begins_part);
            self.draft.blocks.push(block);
        }
    }

    fn note(&mut self, range: Range<usize>, text: String) {
        let span = Span { start: range.start + self.lead, end: range.end + self.lead };
        self.draft.notes.push(Note { span, text });
    }
}

/// The part of a block inside `range`, without blank at either end.
fn cut_out(block: &Block, range: Range<usize>, kind: BlockKind) -> Block {
    let part = &block.text[range.clone()];
    let start = range.start + (part.len() - part.trim_start().len());
    let end = start + part.trim().len();
    let within = |inner: &Range<usize>| {
        let kept = inner.start.max(start)..inner.end.min(end);
        (kept.start < kept.end).then(|| kept.start - start..kept.end - start)
    };
    // Each part looks only at its own runs and pieces, so that a block of many parts is not searched whole for each.
    let first = block.runs.partition_point(|(run, _)| run.end <= start);
    let runs = block.runs[first..].iter().take_while(|(run, _)| run.start < end);
    let runs = runs.filter_map(|(run, emphasis)| Some((within(run)?, *emphasis))).collect();
    let first = block.pieces.partition_point(|piece| piece.text.end <= start);
    let pieces = block.pieces[first..].iter().take_while(|piece| piece.text.start < end).filter_map(|piece| {
        let part = piece.part(start..end)?;
        Some(SourcePiece { text: part.text.start - start..part.text.end - start, source: part.source })
    });
    let (text, pieces) = (block.text[start..end].to_owned(), pieces.collect());
    Block { kind, text, pieces, runs, begins_part: false, is_run_together: block.is_run_together }
}

/// Characters that are not set as they stand: controls and line separators.
fn is_unset(character: char) -> bool {
    character.is_control() || matches!(character, '\u{2028}' | '\u{2029}')
}

/// Whether a text holds a character that is not set as it stands, line ends aside.
fn may_be_unset(text: &str) -> bool {
    let bytes = text.as_bytes();
    // The controls of one byte, and the pairs of bytes that U+0080 to U+009F consist of and that U+2028 and U+2029 end
    // with. As in `read_plain`, no loop stops early. A pair may also occur in another character, so a suspect text, and
    // few are, is searched by characters.
    let is_control = |byte: u8| (byte < 0x20 && byte != b'\n') || byte == 0x7f;
    let goes_on = |byte: u8, next: u8| (byte == 0xc2 && next < 0xa0) || (byte == 0x80 && matches!(next, 0xa8 | 0xa9));
    let pairs = || bytes.iter().zip(&bytes[1.min(bytes.len())..]);
    let is_suspect = bytes.iter().fold(false, |found, byte| found | is_control(*byte))
        || (!text.is_ascii() && pairs().fold(false, |found, (byte, next)| found | goes_on(*byte, *next)));
    is_suspect && text.contains(|character| character != '\n' && is_unset(character))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert_eq, proptest};

    use super::{BlockKind, Draft, read_marked, read_plain};

    #[test]
    fn a_block_has_the_names_that_the_trade_uses() {
        for (heading, kind) in [
            ("About the Author", BlockKind::NoteOnTheAuthor),
            ("THE AUTHOR:", BlockKind::NoteOnTheAuthor),
            ("about *the*  illustrator", BlockKind::NoteOnTheAuthor),
            ("Also by", BlockKind::OtherTitles),
            ("Also by Ida Voss", BlockKind::OtherTitles),
            ("By the same author", BlockKind::OtherTitles),
            ("Praise", BlockKind::Quote),
            ("Praise for *Low Water*", BlockKind::Quote),
            ("Reviews", BlockKind::Quote),
            ("Ages", BlockKind::AgeLine),
            ("Price", BlockKind::PriceLine),
        ] {
            for mark in ["##", "###"] {
                let draft = Draft::read(&format!("A tide.\n\n{mark} {heading}\n\nSome words.\n"));
                let kinds: Vec<BlockKind> = draft.blocks.iter().map(|block| block.kind).collect();
                assert_eq!((kinds, draft.notes), (vec![BlockKind::Blurb, kind], Vec::new()), "{heading}");
            }
        }
        let unknown = Draft::read("## About the sea\n\nSome words.\n");
        assert_eq!((unknown.blocks[0].kind, unknown.notes.len()), (BlockKind::Headline, 1));
        for kind in BlockKind::ALL {
            for name in kind.other_names() {
                let owners = BlockKind::ALL
                    .into_iter()
                    .filter(|other| other.name() == *name || other.other_names().contains(name));
                assert_eq!(owners.collect::<Vec<_>>(), [kind], "{name}");
            }
        }
    }

    #[test]
    fn plain_paragraphs_are_read_the_quick_way() {
        assert!(read_plain("The lamp\nis “out”. It’s 3.\n\n\"Oona!\"\n").is_some_and(|draft| draft.blocks.len() == 2));
        for marked in [
            "# Lamp",
            "The *lamp*",
            "A\n- b",
            "1. A",
            " A",
            "A \nb",
            "A\\",
            "A\tb",
            "&amp;",
            "A\n===",
            "\u{feff}A",
            "A\u{85}",
        ] {
            assert!(read_plain(marked).is_none(), "{marked:?}");
        }
    }

    proptest! {
        #[test]
        fn the_quick_way_reads_what_the_parser_reads(text in "([A-Za-z]{1,4}|[“”’é\"'.,:;!?()~|=+#>1-]|\n|\n\n| |\\*\
            |&){0,24}") {
            if let Some(plain) = read_plain(&text) {
                let marked = read_marked(&text);
                prop_assert_eq!((plain.blocks, plain.notes, plain.rules), (marked.blocks, marked.notes, marked.rules));
            }
        }
    }
}
