//! Copy as a .docx document in which every kind of block has a style of its own, by which a designer sets it.
//!
//! Source: ISO/IEC 29500-1, 17.3 and 17.7 (text and styles), 11.3.10 (the parts of a document); ISO/IEC 29500-2
//! (packages).

use super::HandedCopy;
use super::markup::escaped;
use crate::draft::{Block, BlockKind, Draft};
use crate::packing::zip_writer::{Packing, ZipWriter};

const HEAD: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";
const WORDS: &str = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006";
const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND: &str = "application/vnd.openxmlformats-officedocument.wordprocessingml";

pub(super) fn written(copy: &HandedCopy) -> Vec<u8> {
    let types = format!(
        "<Types xmlns=\"{PACKAGE}/content-types\">\
         <Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
         <Override PartName=\"/word/document.xml\" ContentType=\"{KIND}.document.main+xml\"/>\
         <Override PartName=\"/word/styles.xml\" ContentType=\"{KIND}.styles+xml\"/></Types>"
    );
    let parts = [
        ("[Content_Types].xml", types),
        ("_rels/.rels", relation("officeDocument", "word/document.xml")),
        ("word/_rels/document.xml.rels", relation("styles", "styles.xml")),
        ("word/document.xml", body(&copy.draft)),
        ("word/styles.xml", styles(&copy.language)),
    ];
    let mut zip = ZipWriter::default();
    for (name, content) in parts {
        zip.add(name, format!("{HEAD}{content}").as_bytes(), Packing::Deflated);
    }
    zip.written()
}

/// The part that leads to another.
fn relation(kind: &str, target: &str) -> String {
    format!(
        "<Relationships xmlns=\"{PACKAGE}/relationships\">\
         <Relationship Id=\"r1\" Type=\"{OFFICE}/{kind}\" Target=\"{target}\"/></Relationships>"
    )
}

fn body(draft: &Draft) -> String {
    let parts = draft.part_numbers();
    let mut paragraphs = String::new();
    for (at, block) in draft.blocks.iter().enumerate() {
        let is_quote = |block: &Block| block.kind == BlockKind::Quote;
        // Two quotes without a credit between them are told from two paragraphs of one by an empty line.
        if at > 0 && is_quote(block) && is_quote(&draft.blocks[at - 1]) && parts[at] != parts[at - 1] {
            paragraphs.push_str("<w:p/>");
        }
        paragraphs.push_str(&paragraph(block));
    }
    format!("<w:document xmlns:w=\"{WORDS}\"><w:body>{paragraphs}</w:body></w:document>")
}

fn paragraph(block: &Block) -> String {
    let mut runs = String::new();
    for (range, emphasis) in block.runs() {
        let bold = if emphasis.bold { "<w:b/>" } else { "" };
        let italic = if emphasis.italic { "<w:i/>" } else { "" };
        let lines: Vec<String> = block.text()[range.clone()].split('\n').map(text).collect();
        runs.push_str(&format!("<w:r><w:rPr>{bold}{italic}</w:rPr>{}</w:r>", lines.join("<w:br/>")));
    }
    let style = id_of(block.kind);
    format!("<w:p><w:pPr><w:pStyle w:val=\"{style}\"/></w:pPr>{runs}</w:p>")
}

fn text(words: &str) -> String {
    if words.is_empty() { String::new() } else { format!("<w:t xml:space=\"preserve\">{}</w:t>", escaped(words)) }
}

/// The id of a block's style: its name, which is its heading in a draft, without blanks.
fn id_of(kind: BlockKind) -> String {
    kind.heading().split(' ').collect()
}

fn styles(language: &str) -> String {
    let mut styles = String::new();
    for kind in BlockKind::ALL {
        // Sizes are in half points; all else is the designer's.
        let look = if kind == BlockKind::Headline { "<w:rPr><w:b/><w:sz w:val=\"34\"/></w:rPr>" } else { "" };
        // Word processors have a style named so already.
        let is_own = if kind == BlockKind::Quote { "" } else { " w:customStyle=\"1\"" };
        styles.push_str(&format!(
            "<w:style w:type=\"paragraph\"{is_own} w:styleId=\"{}\"><w:name w:val=\"{}\"/>\
             <w:basedOn w:val=\"Normal\"/><w:qFormat/>{look}</w:style>",
            id_of(kind),
            kind.heading()
        ));
    }
    format!(
        "<w:styles xmlns:w=\"{WORDS}\"><w:docDefaults><w:rPrDefault><w:rPr><w:lang w:val=\"{}\"/></w:rPr>\
         </w:rPrDefault></w:docDefaults><w:style w:type=\"paragraph\" w:default=\"1\" w:styleId=\"Normal\">\
         <w:name w:val=\"Normal\"/><w:pPr><w:spacing w:after=\"160\"/></w:pPr></w:style>{styles}</w:styles>",
        escaped(language)
    )
}
