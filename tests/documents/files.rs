//! Documents made by hand, with no more in them than a test is about.

use blurbwright::documents;
use blurbwright::packing::zip_writer::{Packing, ZipWriter};

/// The styles that most documents here have. The ids are those of a word processor in German, the names are English.
pub(super) const STYLES: &str = r#"
<w:style w:type="paragraph" w:default="1" w:styleId="Standard"><w:name w:val="Normal"/></w:style>
<w:style w:type="paragraph" w:styleId="Titel"><w:name w:val="Title"/><w:rPr><w:b/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="berschrift2"><w:name w:val="heading 2"/></w:style>
<w:style w:type="paragraph" w:styleId="Zitat"><w:name w:val="Quote"/><w:rPr><w:i/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="MeinZitat"><w:name w:val="Stimme"/><w:basedOn w:val="Zitat"/></w:style>
<w:style w:type="paragraph" w:styleId="Schief"><w:name w:val="Slanted"/><w:rPr><w:i/></w:rPr></w:style>
<w:style w:type="character" w:styleId="Betont"><w:name w:val="Emphasis"/><w:rPr><w:i/></w:rPr></w:style>
<w:style w:type="character" w:styleId="Strich"><w:name w:val="Struck"/><w:rPr><w:strike/></w:rPr></w:style>
<w:style w:type="character" w:styleId="Weg"><w:name w:val="Away"/><w:rPr><w:vanish/></w:rPr></w:style>"#;

const SPACES: &str = r#"xmlns:w="w" xmlns:mc="mc" xmlns:wps="wps" xmlns:a="a" xmlns:pic="pic" xmlns:v="v""#;

/// A ZIP file of parts.
pub(super) fn zip(parts: &[(&str, &str)]) -> Vec<u8> {
    let mut zip = ZipWriter::default();
    parts.iter().for_each(|(name, content)| zip.add(name, content.as_bytes(), Packing::Deflated));
    zip.written()
}

/// A .docx with a body, styles and lists.
pub(super) fn docx(body: &str, styles: &str, lists: &str) -> Vec<u8> {
    zip(&[
        ("word/document.xml", &format!("<w:document {SPACES}><w:body>{body}</w:body></w:document>")),
        ("word/styles.xml", &format!("<w:styles {SPACES}>{styles}</w:styles>")),
        ("word/numbering.xml", &format!("<w:numbering {SPACES}>{lists}</w:numbering>")),
    ])
}

/// An .odt with a body, and styles of its own before it.
pub(super) fn odt(styles: &str, body: &str) -> Vec<u8> {
    zip(&[(
        "content.xml",
        &format!(
            "<office:document-content xmlns:office=\"o\" xmlns:text=\"t\" xmlns:style=\"s\" xmlns:fo=\"f\" \
             xmlns:draw=\"d\" xmlns:svg=\"v\" xmlns:table=\"b\"><office:automatic-styles>{styles}\
             </office:automatic-styles><office:body><office:text>{body}</office:text></office:body>\
             </office:document-content>"
        ),
    )])
}

/// The Markdown and what is told of a document that can be read.
pub(super) fn read(bytes: &[u8]) -> (String, Vec<String>) {
    let copy = documents::read(bytes).unwrap_or_else(|fault| panic!("{}", fault.problem));
    (copy.markdown, copy.told)
}

/// A paragraph of a .docx in a style, with runs as they are given.
pub(super) fn paragraph(style: &str, runs: &str) -> String {
    format!("<w:p><w:pPr><w:pStyle w:val=\"{style}\"/></w:pPr>{runs}</w:p>")
}

/// A run of a .docx with properties.
pub(super) fn run(properties: &str, text: &str) -> String {
    format!("<w:r><w:rPr>{properties}</w:rPr><w:t xml:space=\"preserve\">{text}</w:t></w:r>")
}
