//! A .docx document as paragraphs.
//!
//! Source: ISO/IEC 29500-1, 17.3 (paragraphs and runs), 17.7 (styles), 17.13.5 (tracked changes), 17.16 (fields);
//! ISO/IEC 29500-3 (what is repeated for older readers).

use super::numbering::{ListMark, Numbering};
use super::paragraph::{Paragraph, ParagraphKind};
use super::skipped::Skipped;
use super::styles::{Styles, kind_of_name};
use super::xml::{XmlElement, XmlEvent, walk};
use super::{DocumentFault, ReadDocument};
use crate::draft::Emphasis;

/// Reads the parts of a document: its body, its styles and its lists, of which the last two may be empty.
pub(super) fn read(body: &str, styles: &str, lists: &str) -> Result<ReadDocument, DocumentFault> {
    let (styles, usual) = styles_of(styles)?;
    let lists = Numbering::read(lists)?;
    let mut reader = WordReader {
        styles: &styles,
        usual: &usual,
        lists: &lists,
        read: ReadDocument::default(),
        open: Vec::new(),
        joined: None,
        skipped: Skipped::default(),
        rows: Vec::new(),
        fields: Vec::new(),
        codes: 0,
    };
    walk(body, |open, event| {
        reader.take(open, event);
        Ok(())
    })?;
    let WordReader { mut read, joined, .. } = reader;
    read.paragraphs.extend(joined);
    Ok(read)
}

/// The styles of a document, and the id of the one that paragraphs without a style have.
fn styles_of(xml: &str) -> Result<(Styles, String), DocumentFault> {
    let (mut styles, mut usual, mut id) = (Styles::default(), String::new(), String::new());
    if xml.is_empty() {
        return Ok((styles, usual));
    }
    walk(xml, |open, event| {
        let XmlEvent::Start(element) = event else { return Ok(()) };
        if element.name == "style" {
            id = element.attribute("styleId").unwrap_or_default();
            let is_usual = element.attribute("default").is_some_and(|on| matches!(on.as_str(), "1" | "true" | "on"));
            if is_usual && element.attribute("type").as_deref() == Some("paragraph") {
                usual.clone_from(&id);
            }
            return Ok(());
        }
        let [before, last] = around(open);
        // Elements of these names also stand outside a style, where they set what holds for all; only a style's own
        // count.
        let style = match (before, last) {
            (_, "style") | ("style", "rPr") | ("pPr", "numPr") if open.iter().any(|name| name == "style") => {
                styles.style(&id)
            }
            _ => return Ok(()),
        };
        match element.name {
            "name" => style.kind = element.attribute("val").as_deref().and_then(kind_of_name),
            "basedOn" => style.base = element.attribute("val"),
            "b" => style.bold = Some(element.is_on()),
            "i" => style.italic = Some(element.is_on()),
            "vanish" => style.hidden = Some(element.is_on()),
            "strike" | "dstrike" => style.crossed_out = Some(element.is_on()),
            "numId" => style.list = element.attribute("val"),
            _ => {}
        }
        Ok(())
    })?;
    Ok((styles, usual))
}

/// The names of the two elements that are open last, the outer one first.
fn around(open: &[String]) -> [&str; 2] {
    let name = |from_end: usize| open.iter().rev().nth(from_end).map_or("", String::as_str);
    [name(1), name(0)]
}

/// The document as it has been read so far.
struct WordReader<'s> {
    styles: &'s Styles,
    /// The id of the style that paragraphs without a style have.
    usual: &'s str,
    lists: &'s Numbering,
    read: ReadDocument,
    /// The paragraphs that are open: one, and those of boxes that stand in it.
    open: Vec<OpenParagraph>,
    /// A paragraph whose end was struck out: the next one goes on with it.
    joined: Option<Paragraph>,
    skipped: Skipped,
    /// The rows of tables that are open: the number of paragraphs before each, and whether it was struck out.
    rows: Vec<(usize, bool)>,
    /// The fields that are open: whether what stands here is the code of a field and not what it shows.
    fields: Vec<bool>,
    /// In how many fields what stands here is code.
    codes: usize,
}

/// A paragraph that is being read.
#[derive(Default)]
struct OpenParagraph {
    paragraph: Paragraph,
    /// The emphasis that its style gives to running copy.
    of_style: Emphasis,
    is_hidden_by_style: bool,
    /// The list that it is an item of.
    list: Option<String>,
    /// Whether its end was struck out.
    is_end_struck: bool,
    /// The emphasis of the present run, and whether that is hidden.
    emphasis: Emphasis,
    is_hidden: bool,
    /// Whether a line is drawn through the present run, and whether its style draws one through all runs.
    is_crossed_out: bool,
    is_crossed_out_by_style: bool,
}

impl OpenParagraph {
    /// Whether the letters of the present run are no copy.
    fn is_left_out(&self) -> bool {
        self.is_hidden || self.is_crossed_out
    }
}

impl WordReader<'_> {
    fn take(&mut self, open: &[String], event: XmlEvent<'_>) {
        match event {
            XmlEvent::Start(_) if self.skipped.is_on() => self.skipped.enter(),
            XmlEvent::End(_) if self.skipped.is_on() => self.skipped.leave(),
            XmlEvent::Text(_) if self.skipped.is_on() => {}
            XmlEvent::Start(element) => self.start(around(open), &element),
            XmlEvent::End("p") => self.end_paragraph(),
            XmlEvent::End("tr") => self.end_row(),
            XmlEvent::End("r") => self.end_run(),
            XmlEvent::Text(text) if around(open)[1] == "t" => self.text(&text.replace(['\n', '\r', '\t'], " ")),
            XmlEvent::End(_) | XmlEvent::Text(_) => {}
        }
    }

    fn start(&mut self, around: [&str; 2], element: &XmlElement<'_>) {
        match (around, element.name) {
            (["pPr", "rPr"], "del" | "moveFrom") => {
                if let Some(open) = self.open.last_mut() {
                    open.is_end_struck = true;
                }
            }
            ([_, "trPr"], "del") => {
                if let Some((_, is_struck)) = self.rows.last_mut() {
                    *is_struck = true;
                }
            }
            ([_, "rPr" | "trPr" | "tcPr" | "numPr"], "del" | "ins" | "moveFrom" | "moveTo") => {}
            (_, "del" | "moveFrom") => {
                self.read.left.struck_out += 1;
                self.skipped.begin();
            }
            (_, "ins" | "moveTo") => self.read.left.inserted += 1,
            // Passed over: what is repeated for older readers, the look before a change, the codes of fields, and the
            // readings that stand above letters.
            (_, "Fallback" | "rPrChange" | "pPrChange" | "instrText" | "delText" | "delInstrText" | "rt") => {
                self.skipped.begin();
            }
            (_, "p") => self.begin_paragraph(),
            (_, "tr") => self.rows.push((self.read.paragraphs.len(), false)),
            (_, "commentReference") => self.read.left.comments += 1,
            (_, "footnoteReference" | "endnoteReference") => self.read.left.notes += 1,
            ([_, "graphicData"], "pic" | "chart" | "relIds") | (_, "imagedata") => self.read.left.pictures += 1,
            (_, "tbl") => self.read.left.tables += 1,
            (_, "txbxContent") => self.read.left.boxes += 1,
            (_, "fldChar") => self.field(element.attribute("fldCharType").as_deref()),
            ([_, "pPr"] | ["pPr", "numPr"], _) => self.property(element),
            ([_, "r"], _) => self.in_run(element),
            (["r", "rPr"], _) => self.run_property(element),
            (_, "r") => self.begin_run(),
            _ => {}
        }
    }

    fn begin_paragraph(&mut self) {
        let mut open = OpenParagraph { paragraph: self.joined.take().unwrap_or_default(), ..OpenParagraph::default() };
        open.paragraph.kind = ParagraphKind::Body;
        self.open.push(open);
        self.style(self.usual);
    }

    fn style(&mut self, id: &str) {
        let Some(open) = self.open.last_mut() else { return };
        open.paragraph.kind = self.styles.kind(id);
        open.list = self.styles.list(id);
        open.is_hidden_by_style = self.styles.is_hidden(id);
        open.is_crossed_out_by_style = self.styles.crosses_out(id) == Some(true);
        // How a headline or a quote looks is the matter of its style; in running copy a look is the author's emphasis.
        let is_body = open.paragraph.kind == ParagraphKind::Body;
        open.of_style = if is_body { self.styles.emphasis(id) } else { Emphasis::default() };
    }

    fn property(&mut self, element: &XmlElement<'_>) {
        match (element.name, element.attribute("val")) {
            ("pStyle", Some(id)) => self.style(&id),
            ("numId", list) => {
                if let Some(open) = self.open.last_mut() {
                    open.list = list;
                }
            }
            _ => {}
        }
    }

    fn begin_run(&mut self) {
        let Some(open) = self.open.last_mut() else { return };
        (open.emphasis, open.is_hidden) = (open.of_style, open.is_hidden_by_style);
        open.is_crossed_out = open.is_crossed_out_by_style;
    }

    fn end_run(&mut self) {
        let Some(open) = self.open.last_mut() else { return };
        self.read.left.hidden += usize::from(open.is_hidden);
        self.read.left.crossed_out += usize::from(open.is_crossed_out && !open.is_hidden);
        self.begin_run();
    }

    fn run_property(&mut self, element: &XmlElement<'_>) {
        let styles = self.styles;
        let Some(open) = self.open.last_mut() else { return };
        match element.name {
            "rStyle" => {
                let id = element.attribute("val").unwrap_or_default();
                // A switch that is on in both styles is off: italics in italics stand upright.
                let own = styles.emphasis(&id);
                open.emphasis.bold ^= own.bold;
                open.emphasis.italic ^= own.italic;
                open.is_hidden |= styles.is_hidden(&id);
                open.is_crossed_out = styles.crosses_out(&id).unwrap_or(open.is_crossed_out);
            }
            "b" => open.emphasis.bold = element.is_on(),
            "i" => open.emphasis.italic = element.is_on(),
            "vanish" => open.is_hidden = element.is_on(),
            "strike" | "dstrike" => open.is_crossed_out = element.is_on(),
            _ => {}
        }
    }

    fn in_run(&mut self, element: &XmlElement<'_>) {
        match element.name {
            "tab" | "ptab" => self.text(" "),
            "br" | "cr" => self.text("\n"),
            "noBreakHyphen" => self.text("\u{2011}"),
            "sym" => self.read.left.signs += 1,
            _ => {}
        }
    }

    fn text(&mut self, text: &str) {
        let is_code = self.codes > 0;
        let Some(open) = self.open.last_mut().filter(|open| !open.is_left_out() && !is_code) else { return };
        open.paragraph.push(open.emphasis, text);
    }

    fn field(&mut self, kind: Option<&str>) {
        let was_code = match kind {
            Some("begin") => {
                self.fields.push(true);
                self.codes += 1;
                return;
            }
            Some("separate") => self.fields.last_mut().is_some_and(std::mem::take),
            Some("end") => self.fields.pop() == Some(true),
            _ => return,
        };
        self.codes -= usize::from(was_code);
    }

    fn end_paragraph(&mut self) {
        let Some(OpenParagraph { mut paragraph, list, is_end_struck, .. }) = self.open.pop() else { return };
        if is_end_struck {
            // A paragraph that is struck out whole was counted by its words.
            self.read.left.struck_out += usize::from(!paragraph.is_empty());
            self.joined = Some(paragraph);
            return;
        }
        let mark = list.map_or(ListMark::Nothing, |list| self.lists.mark(&list));
        if matches!(paragraph.kind, ParagraphKind::Body) && mark != ListMark::Nothing {
            paragraph.kind = ParagraphKind::Item { is_numbered: mark == ListMark::Number };
        }
        self.read.paragraphs.push(paragraph);
    }

    fn end_row(&mut self) {
        if let Some((before, true)) = self.rows.pop() {
            self.read.paragraphs.truncate(before);
            self.read.left.struck_out += 1;
        }
    }
}
