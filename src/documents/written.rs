//! Paragraphs as the Markdown of a draft.

use super::escapes;
use super::paragraph::{Paragraph, ParagraphKind, TextRun};
use crate::draft::{BlockKind, opens_with_dash};

/// The text of a draft's file that holds the paragraphs.
pub(super) fn markdown(paragraphs: &[Paragraph]) -> String {
    let mut page = DraftPage {
        text: String::new(),
        named: BlockKind::Blurb,
        by_heading: false,
        last: None,
        gap: false,
        number: 0,
    };
    for paragraph in paragraphs {
        page.add(paragraph);
    }
    if !page.text.is_empty() {
        page.text.push('\n');
    }
    page.text
}

/// The draft as far as it is written.
struct DraftPage {
    text: String,
    /// The kind of block that paragraphs outside quotations are at present.
    named: BlockKind,
    /// Whether a heading of the document named it; what a style named ends with the paragraphs of that style.
    by_heading: bool,
    /// What the last paragraph was.
    last: Option<ParagraphKind>,
    /// Whether an empty paragraph follows the last one.
    gap: bool,
    /// The number of the last item of a list.
    number: u64,
}

impl DraftPage {
    fn add(&mut self, paragraph: &Paragraph) {
        let lines = lines(paragraph);
        if lines.is_empty() {
            self.gap = true;
            return;
        }
        match paragraph.kind {
            // A title above all else is the headline, whatever its words; a later one may be the name of a block.
            ParagraphKind::Block(BlockKind::Headline)
                if self.text.is_empty() || BlockKind::named(&paragraph.text()).is_none() =>
            {
                self.heading("# ", &lines);
            }
            ParagraphKind::Name | ParagraphKind::Block(BlockKind::Headline) => {
                self.heading("## ", &lines);
                if let Some(kind) = BlockKind::named(&paragraph.text()) {
                    (self.named, self.by_heading) = (kind, true);
                }
            }
            ParagraphKind::Block(BlockKind::Quote) => self.quote(&lines),
            ParagraphKind::Block(BlockKind::Credit) => self.credit(&lines),
            ParagraphKind::Block(kind) => {
                self.name(kind);
                self.paragraphs("", &lines);
            }
            ParagraphKind::Body => {
                self.end_style();
                self.paragraphs("", &lines);
            }
            ParagraphKind::Item { is_numbered } => {
                self.end_style();
                self.item(is_numbered, &lines);
            }
        }
        self.last = Some(paragraph.kind);
        self.gap = false;
    }

    /// Running copy behind what a style named is the blurb again.
    fn end_style(&mut self) {
        if !self.by_heading {
            self.name(BlockKind::Blurb);
        }
    }

    fn name(&mut self, kind: BlockKind) {
        if self.named == kind {
            return;
        }
        self.part();
        self.text.push_str(&format!("## {}", kind.heading()));
        (self.named, self.by_heading) = (kind, false);
    }

    /// An empty line, unless nothing stands above.
    fn part(&mut self) {
        if !self.text.is_empty() {
            self.text.push_str("\n\n");
        }
    }

    fn heading(&mut self, mark: &str, lines: &[Line]) {
        self.part();
        let words: Vec<String> = lines.iter().map(|line| escapes::line(&line.runs)).collect();
        // A number sign at the end of a heading would be taken for its end.
        let words = words.join("<br>");
        let bare = words.strip_suffix('#').filter(|bare| !bare.ends_with('\\'));
        let words = bare.map_or(words.clone(), |bare| format!("{bare}\\#"));
        self.text.push_str(&format!("{mark}{words}"));
    }

    /// The lines of a paragraph; behind an empty line another one begins.
    fn paragraphs(&mut self, prefix: &str, lines: &[Line]) {
        self.part();
        self.text.push_str(prefix);
        self.lines(prefix, lines);
    }

    fn lines(&mut self, prefix: &str, lines: &[Line]) {
        for (number, line) in lines.iter().enumerate() {
            match (number, line.begins_paragraph) {
                (0, _) => {}
                (_, true) => self.text.push_str(&format!("\n{}\n{prefix}", prefix.trim_end())),
                (_, false) => self.text.push_str(&format!("\\\n{prefix}")),
            }
            self.text.push_str(&escapes::line(&line.runs));
        }
    }

    /// A quote behind a quote is another paragraph of it, unless an empty one stands between them.
    fn quote(&mut self, lines: &[Line]) {
        if self.last == Some(ParagraphKind::Block(BlockKind::Quote)) && !self.gap {
            self.text.push_str("\n>\n> ");
            self.lines("> ", lines);
        } else {
            self.paragraphs("> ", lines);
        }
    }

    fn credit(&mut self, lines: &[Line]) {
        match self.last {
            Some(ParagraphKind::Block(BlockKind::Quote | BlockKind::Credit)) => self.text.push_str("\n> "),
            _ => {
                self.part();
                self.text.push_str("> ");
            }
        }
        let has_dash = lines.first().is_some_and(|line| opens_with_dash(line.text().trim_start()));
        self.text.push_str(if has_dash { "" } else { "\u{2014} " });
        self.lines("> ", lines);
    }

    fn item(&mut self, is_numbered: bool, lines: &[Line]) {
        let is_next = self.last == Some(ParagraphKind::Item { is_numbered }) && !self.text.is_empty();
        self.number = if is_next { self.number + 1 } else { 1 };
        let mark = if is_numbered { format!("{}. ", self.number) } else { "- ".to_owned() };
        if is_next {
            self.text.push('\n');
        } else {
            self.part();
        }
        self.text.push_str(&mark);
        self.lines(&" ".repeat(mark.len()), lines);
    }
}

/// One line of a paragraph.
#[derive(Debug, Default)]
struct Line {
    runs: Vec<TextRun>,
    /// Whether an empty line stands above.
    begins_paragraph: bool,
}

impl Line {
    fn text(&self) -> String {
        self.runs.iter().map(|run| run.text.as_str()).collect()
    }
}

/// The lines of a paragraph that hold words.
fn lines(paragraph: &Paragraph) -> Vec<Line> {
    let mut lines = vec![Line::default()];
    for TextRun { emphasis, text } in &paragraph.runs {
        for (number, piece) in text.split(['\n', '\u{2028}', '\u{2029}']).enumerate() {
            if number > 0 {
                lines.push(Line::default());
            }
            let text = piece.replace(|letter: char| letter.is_control(), " ");
            if let Some(line) = lines.last_mut().filter(|_| !text.is_empty()) {
                line.runs.push(TextRun { emphasis: *emphasis, text });
            }
        }
    }
    let mut gap = false;
    lines.retain_mut(|line| {
        line.begins_paragraph = gap;
        gap = line.text().trim().is_empty();
        !gap
    });
    lines
}
