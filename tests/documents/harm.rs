//! Files that are made to harm: each is refused with one line, in bounded memory.

use blurbwright::documents;
use blurbwright::packing::zip_writer::{Packing, ZipWriter};

use super::files::{STYLES, docx, odt, paragraph, run, zip};

/// The reason for which bytes are refused.
#[track_caller]
fn refused(bytes: &[u8]) -> String {
    let Err(fault) = documents::read(bytes) else { panic!("it was read") };
    let is_line = |text: &str| !text.is_empty() && !text.contains('\n') && !text.ends_with('.');
    assert!(is_line(&fault.problem) && is_line(fault.remedy), "{fault:?}");
    fault.problem
}

fn word(xml: &str) -> Vec<u8> {
    zip(&[("word/document.xml", xml)])
}

#[test]
fn xml_that_is_made_to_harm_is_refused() {
    let laughs = "<!DOCTYPE d [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;\">]><d>&b;</d>";
    assert_eq!(refused(&word(laughs)), "it declares entities, which word processors do not");
    assert_eq!(refused(&word("<!DOCTYPE d SYSTEM \"file:///dev/zero\"><d/>")), refused(&word(laughs)));
    assert_eq!(refused(&word("<d>&nbsp;</d>")), "it has an entity that XML does not know");
    let deep = "<d>".repeat(500_000);
    assert_eq!(refused(&word(&deep)), "its parts nest deeper than those of any document");
    assert_eq!(refused(&word("<d><p>")), "it ends too early");
    assert_eq!(refused(&word("<d></p>")), "it is damaged inside");
    assert_eq!(refused(&word("no XML <")), "it is damaged inside");
}

#[test]
fn files_that_are_made_to_harm_are_refused() {
    let bomb = |packing| {
        let mut zip = ZipWriter::default();
        zip.add("word/document.xml", &vec![b' '; 17 << 20], packing);
        zip.written()
    };
    for packing in [Packing::Stored, Packing::Deflated] {
        assert_eq!(refused(&bomb(packing)), "unpacked it is larger than 16 MB, which no draft needs");
    }
    let names: Vec<String> = (0..5_000).map(|number| format!("word/{number}.xml")).collect();
    let many: Vec<(&str, &str)> = names.iter().map(|name| (name.as_str(), "")).collect();
    assert_eq!(refused(&zip(&many)), "it has more parts than any document");
    let twice = zip(&[("content.xml", "<a/>"), ("content.xml", "<b/>")]);
    assert_eq!(refused(&twice), "a part of it is there twice, so that it can be read in two ways");
    let sheet = "<Relationships><Relationship Type=\"x/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>";
    let sheet = zip(&[("_rels/.rels", sheet), ("xl/workbook.xml", "<a/>")]);
    assert_eq!(refused(&sheet), "it is neither a .docx nor an .odt document");
    let whole = docx("<w:p/>", "", "");
    assert_eq!(refused(&whole[..whole.len() / 2]), "it is cut short, or no document");
    assert_eq!(refused(b"PK\x03\x04"), "it is cut short, or no document");
    // The flag of an encrypted part, in the line of the directory.
    let mut locked = word("<d/>");
    let line = locked.windows(4).rposition(|sign| sign == b"PK\x01\x02").unwrap_or_default();
    locked[line + 8] |= 1;
    assert_eq!(refused(&locked), "it is locked by a password");
    let mut zip = ZipWriter::default();
    zip.add("word/document.xml", b"<d>\xff</d>", Packing::Stored);
    assert_eq!(refused(&zip.written()), "its letters are not saved as UTF-8");
}

/// What is long by its nature is read: a hundred thousand runs in a paragraph, and as many paragraphs.
#[test]
fn long_documents_are_read() {
    let runs = run("<w:i/>", "a") + &run("", " b ");
    let long = paragraph("Standard", &runs.repeat(5_000));
    let (markdown, _) = super::files::read(&docx(&long, STYLES, ""));
    assert_eq!(markdown.matches("*a*").count(), 5_000);
    let blanks = "<text:p><text:s text:c=\"4000000000\"/>a<text:s text:c=\"99999999999999999999\"/></text:p>";
    assert_eq!(super::files::read(&odt("", blanks)).0, "a\n");
}
