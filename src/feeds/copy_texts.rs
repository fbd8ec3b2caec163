//! The texts of a record as one draft: which is the blurb, and what stands round it.

use super::markup;
use super::xml::XmlElement;
use crate::brief::BaseBrief;
use crate::draft::BlockKind;

/// The texts that may be the blurb, the first that is there. List 153: 05 is the primary cover copy, which is usually
/// taken from the back cover, 27 the secondary; 03 is the description and 02 the short one.
const BLURBS: [&str; 4] = ["05", "27", "03", "02"];
/// List 153: a promotional headline.
const HEADLINE: &str = "10";
/// List 153: a review quote, one of a previous edition or of another work, and an endorsement.
const QUOTES: [&str; 4] = ["06", "07", "08", "09"];
/// List 153: a note on all that made the book.
const NOTE: &str = "12";
/// List 154: for everybody, and for those who buy books.
const FOR_READERS: [&str; 2] = ["00", "03"];

/// The draft; none where there is no text that may be the blurb. The note on the author stands in it where the base has
/// a place for one: most feeds have a note, and few panels carry it.
pub(super) fn draft(collateral: &XmlElement, language: Option<&str>, base: &BaseBrief) -> Option<String> {
    let texts = Texts { collateral, language };
    let blurb = BLURBS.iter().map(|code| texts.first(code)).find(|paragraphs| !paragraphs.is_empty())?;
    let mut page = DraftPage::new();
    page.add(BlockKind::Headline, texts.first(HEADLINE).join(" ").replace(FORCED_END, " "));
    blurb.into_iter().for_each(|paragraph| page.add(BlockKind::Blurb, paragraph));
    for quote in collateral.all("TextContent").filter(|text| QUOTES.contains(&text.value("TextType").as_str())) {
        page.blocks.extend(texts.quote(quote));
    }
    if base.has_text(|text| BlockKind::named(text) == Some(BlockKind::NoteOnTheAuthor)) {
        texts.first(NOTE).into_iter().for_each(|paragraph| page.add(BlockKind::NoteOnTheAuthor, paragraph));
    }
    Some(page.written())
}

/// The draft of texts that are all of the copy, in their own order, and how many texts are of no kind that is copy.
pub(super) fn whole_draft(collateral: &XmlElement) -> (String, usize) {
    let texts = Texts { collateral, language: None };
    let blurb = BLURBS.into_iter().find(|code| !texts.first(code).is_empty());
    let (mut page, mut others) = (DraftPage::new(), 0);
    for content in collateral.all("TextContent") {
        let code = content.value("TextType");
        let kind = match code.as_str() {
            code if QUOTES.contains(&code) => {
                page.blocks.extend(texts.quote(content));
                continue;
            }
            HEADLINE => BlockKind::Headline,
            NOTE => BlockKind::NoteOnTheAuthor,
            code if Some(code) == blurb => BlockKind::Blurb,
            // The blurb once more, shorter or longer.
            code if BLURBS.contains(&code) => continue,
            _ => {
                others += 1;
                continue;
            }
        };
        texts.paragraphs(content).into_iter().for_each(|paragraph| page.add(kind, paragraph));
    }
    (page.written(), others)
}

/// How Markdown has a forced end of a line.
const FORCED_END: &str = "\\\n";

/// The draft as far as it is written.
struct DraftPage {
    blocks: Vec<String>,
    /// The kind of block that paragraphs are at present.
    named: BlockKind,
}

impl DraftPage {
    fn new() -> Self {
        Self { blocks: Vec::new(), named: BlockKind::Blurb }
    }

    fn add(&mut self, kind: BlockKind, paragraph: String) {
        if paragraph.is_empty() {
            return;
        }
        // Above all else a headline needs no name; its one line has the sign that web pages have for a forced end.
        if kind == BlockKind::Headline && self.blocks.is_empty() {
            self.blocks.push(format!("# {}", paragraph.replace(FORCED_END, "<br>")));
            return;
        }
        if self.named != kind {
            self.blocks.push(format!("## {}", kind.heading()));
            self.named = kind;
        }
        self.blocks.push(paragraph);
    }

    fn written(self) -> String {
        self.blocks.join("\n\n") + "\n"
    }
}

/// The texts of a record in the language of the book.
struct Texts<'a> {
    collateral: &'a XmlElement,
    language: Option<&'a str>,
}

impl Texts<'_> {
    /// The paragraphs of the first text of a type: of one for readers, or else of any.
    fn first(&self, code: &str) -> Vec<String> {
        let of_type = || self.collateral.all("TextContent").filter(|text| text.value("TextType") == code);
        let is_for_readers = |text: &&XmlElement| {
            text.all("ContentAudience").any(|audience| FOR_READERS.contains(&audience.text().trim()))
        };
        let found = of_type().find(is_for_readers).or_else(|| of_type().next());
        found.map(|text| self.paragraphs(text)).unwrap_or_default()
    }

    /// The paragraphs of a text in the language of the book, or else in the first: a record has the text once for each
    /// language.
    fn paragraphs(&self, content: &XmlElement) -> Vec<String> {
        let is_own = |text: &&XmlElement| {
            let code = text.attribute("language");
            code.is_none_or(|code| Some(super::languages::tag(code)) == self.language)
        };
        let text = content.all("Text").find(is_own).or_else(|| content.all("Text").next());
        text.map(markup::paragraphs).unwrap_or_default()
    }

    /// A quote with its credit: who gave it, and where it stood.
    fn quote(&self, content: &XmlElement) -> Option<String> {
        let mut paragraphs = self.paragraphs(content);
        if paragraphs.is_empty() {
            return None;
        }
        let names = ["TextAuthor", "SourceTitle"].map(|name| markup::line(&content.value(name)));
        let credit: Vec<String> = names.into_iter().filter(|name| !name.is_empty()).collect();
        if !credit.is_empty() {
            paragraphs.push(format!("— {}", credit.join(", ")));
        }
        let lines = paragraphs.join("\n\n");
        Some(lines.lines().map(|line| format!("> {line}").trim_end().to_owned()).collect::<Vec<_>>().join("\n"))
    }
}
