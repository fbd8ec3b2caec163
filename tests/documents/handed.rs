//! What is handed over is what a proof shows, and comes back as the same draft.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::fs;
use std::path::{Path, PathBuf};

use blurbwright::brief::Brief;
use blurbwright::documents;
use blurbwright::draft::{Block, BlockKind, Draft, Emphasis};
use blurbwright::feeds::texts_alone::{OnixContent, read_texts_alone};
use blurbwright::handover::{HandedCopy, HandedForm, short_description};
use blurbwright::proof::pdf;
use blurbwright::report::{self, Drawing};
use blurbwright::setting::Faces;
use blurbwright::{proof, proof::Proof};

use crate::pdf_letters;

const BRIEF: &str = "book: { title: \"Salt & <Tide>\", language: en }\npanel: { trim: 8.5 x 8.5 in }\n";

fn brief() -> Brief {
    Brief::read(BRIEF, Path::new("")).expect("the brief can be read")
}

fn copy(source: &str) -> HandedCopy {
    HandedCopy::of(source, &brief())
}

fn written(form: HandedForm, copy: &HandedCopy) -> String {
    String::from_utf8(form.written(copy)).expect("text")
}

/// Every draft of this tree that a person has written.
fn drafts() -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders: Vec<PathBuf> = ["drafts", "tests/blurbs", "tests/data/books"].map(PathBuf::from).into();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder can be listed").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "md") {
                let text = fs::read_to_string(&path).expect("a draft can be read");
                found.push((path, text));
            }
        }
    }
    assert!(found.len() > 50, "{}", found.len());
    found
}

/// A designer's round: handed over as a document, and read again.
#[test]
fn a_document_comes_back_as_the_same_draft() {
    for (path, source) in drafts() {
        let copy = copy(&source);
        let back = documents::read(&HandedForm::Document.written(&copy)).expect("our own document can be read");
        let draft = Draft::read(&back.markdown);
        assert!(draft.prints_like(&copy.draft), "{}:\n{}", path.display(), back.markdown);
        assert_eq!((draft.part_numbers(), back.told), (copy.draft.part_numbers(), Vec::new()), "{}", path.display());
        // A second round changes nothing any more.
        let again = HandedForm::Document.written(&HandedCopy::of(&back.markdown, &brief()));
        assert_eq!(documents::read(&again).expect("again").markdown, back.markdown, "{}", path.display());
    }
}

/// The words of a block with their emphasis. Blanks in a row are one, as they are in XHTML.
fn in_runs(block: &Block) -> Vec<(String, Emphasis)> {
    let bare = |text: &str| text.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    block.runs().iter().map(|(range, emphasis)| (bare(&block.text()[range.clone()]), *emphasis)).collect()
}

/// The same round through the texts of a record: what they have no room for was told, and all else comes back.
#[test]
fn the_texts_of_a_record_come_back_as_the_same_draft() {
    let form = HandedForm::Record { short: false };
    for (path, source) in drafts() {
        let copy = copy(&source);
        let back = read_texts_alone(&written(form, &copy)).expect("our own texts can be read");
        let left_out = form.left_out(&copy);
        let mut wanted: Vec<&Block> =
            copy.draft.blocks.iter().filter(|block| !left_out.contains(&block.kind)).collect();
        if form.gathers(&copy) {
            // In this tree only blurbs and headlines stand apart, above and below quotes.
            let given = |block: &&&Block| matches!(block.kind, BlockKind::Quote | BlockKind::Credit);
            let first = |block: &&Block| copy.draft.blocks.iter().position(|known| known.kind == block.kind);
            let quotes: Vec<&Block> = wanted.iter().filter(given).copied().collect();
            let at = wanted.iter().position(|block| given(&block));
            wanted.retain(|block| !given(&block));
            wanted.sort_by_key(first);
            let before = at.map_or(0, |at| wanted.iter().filter(|block| first(block) < Some(at)).count());
            wanted.splice(before..before, quotes);
        }
        let draft = Draft::read(&back.draft);
        assert_eq!((draft.blocks.len(), back.left_out), (wanted.len(), 0), "{}:\n{}", path.display(), back.draft);
        for (block, wanted) in draft.blocks.iter().zip(wanted) {
            assert_eq!((block.kind, in_runs(block)), (wanted.kind, in_runs(wanted)), "{}", path.display());
        }
        assert!(draft.notes.is_empty(), "{}: {:?}", path.display(), draft.notes);
        let again = written(form, &HandedCopy::of(&back.draft, &brief()));
        assert_eq!(read_texts_alone(&again).expect("again").draft, back.draft, "{}", path.display());
    }
}

/// Whatever the order of the blocks, and however a headline is broken.
#[test]
fn the_texts_of_a_record_keep_their_order() {
    let form = HandedForm::Record { short: true };
    let source = "> \u{201c}First.\u{201d}\n> \u{2014} Ida Voss\n\n# The Lamp\n\n# Number 9 #\\#\n\n\
                  ## Note on the author\n\nShe *rows*.\n\n## Blurb\n\nThe lamp\\\nis out.\n";
    let draft = Draft::read(&read_texts_alone(&written(form, &copy(source))).expect("texts").draft);
    assert!(draft.prints_like(&Draft::read(source)), "{draft:?}");
    let apart = copy("One.\n\n> Praise.\n\n## Blurb\n\nTwo.\n");
    assert!(form.gathers(&apart) && !HandedForm::Document.gathers(&apart));
    let kinds = |draft: &Draft| draft.blocks.iter().map(|block| block.kind).collect::<Vec<_>>();
    let back = Draft::read(&read_texts_alone(&written(form, &apart)).expect("texts").draft);
    assert_eq!(kinds(&back), [BlockKind::Blurb, BlockKind::Blurb, BlockKind::Quote]);
}

#[test]
fn texts_of_a_record_that_others_wrote_are_read_or_refused() {
    let texts = |inside: &str| format!("\u{feff}<!-- made -->\n<o:collateraldetail>{inside}</o:collateraldetail>");
    let one =
        |code: &str| format!("<o:textcontent><o:x426>{code}</o:x426><o:d104>Words of {code}.</o:d104></o:textcontent>");
    let all = texts(&["04", "03", "27", "07"].map(one).concat());
    assert_eq!(OnixContent::of(all.as_bytes()), Some(OnixContent::TextsAlone));
    let read = read_texts_alone(&all).expect("short tags");
    assert_eq!((read.draft.as_str(), read.left_out), ("Words of 27.\n\n> Words of 07.\n", 1));
    for text in ["", "The lamp.", "<p>A</p>", "<CollateralDetail", "# <CollateralDetail>", "<?xml version=\"1.0\"?>"] {
        assert_eq!(OnixContent::of(text.as_bytes()), None, "{text}");
    }
    assert_eq!(OnixContent::of(b"<ONIXMessage release=\"3.0\"/>"), Some(OnixContent::Feed));
    let broken = read_texts_alone("<CollateralDetail>\n<TextContent>").expect_err("it breaks off");
    assert!(broken.line == 2 && broken.problem.contains("breaks off"), "{broken:?}");
    let other = read_texts_alone("<CollateralDetail>&nosuch;</CollateralDetail>").expect_err("no such character");
    assert!(other.problem.contains("&nosuch;"), "{other:?}");
}

const WHOLE: &str = "# The *Lamp*\n\nOona's lamp -- \"dark\" & cold.\\\nA **new** line.\n\n\
                     > \"A tide.\"\n> — Ida Voss\n\n> \"Twice.\"\n> — Per Lund\n\n\
                     ## Note on the author\n\nR. Okafor-Lind.\n\n## Other titles\n\nLow Water\n";

#[test]
fn clean_text_has_printed_marks_and_no_markup() {
    let copy = copy(WHOLE);
    assert_eq!(copy.marks_set, 8);
    assert_eq!(
        written(HandedForm::CleanText, &copy),
        "The Lamp\n\nOona’s lamp – “dark” & cold.\nA new line.\n\n“A tide.”\n— Ida Voss\n\n\
         “Twice.”\n— Per Lund\n\n\
         R. Okafor-Lind.\n\nLow Water\n"
    );
}

#[test]
fn a_page_and_a_record_are_xml_with_the_codes_of_their_kinds() {
    let copy = copy(WHOLE);
    let page = written(HandedForm::Page, &copy);
    assert!(
        page.contains("<h1>The <em>Lamp</em></h1>\n<p>Oona’s lamp – “dark” &amp; cold.<br>\nA <strong>new"),
        "{page}"
    );
    assert_eq!(page.matches("<blockquote>\n<p>“").count(), 2, "{page}");
    assert!(page.contains("<title>Salt &amp; &lt;Tide&gt;</title>"), "{page}");
    let record = written(HandedForm::Record { short: true }, &copy);
    let tree = roxmltree::Document::parse(&record).expect("XML");
    let named = |name: &'static str| tree.descendants().filter(move |node| node.tag_name().name() == name);
    let codes: Vec<_> = named("TextType").filter_map(|node| node.text()).collect();
    assert_eq!(codes, ["02", "10", "05", "06", "06", "12"]);
    let words: Vec<String> = named("Text")
        .map(|node| node.descendants().filter(|node| node.is_text()).filter_map(|node| node.text()).collect())
        .collect();
    assert_eq!(words[2], "Oona’s lamp – “dark” & cold.A new line.");
    assert_eq!(words[3], "“A tide.”— Ida Voss");
    assert_eq!(short_description(&copy), words[0]);
    assert_eq!(HandedForm::Record { short: false }.left_out(&copy), [BlockKind::OtherTitles]);
    assert!(!written(HandedForm::Record { short: false }, &copy).contains(">02<"));
}

/// Words alone keep no kinds of blocks and no forced lines, but every word of them comes back where it stood.
#[test]
fn words_alone_come_back_as_the_same_words() {
    let bare = |draft: &Draft| -> String {
        let words = draft.blocks.iter().flat_map(|block| block.text().split_whitespace());
        words.collect::<Vec<_>>().join(" ")
    };
    for (path, source) in drafts() {
        let copy = copy(&source);
        let back = Draft::read(&written(HandedForm::CleanText, &copy));
        assert_eq!(bare(&back), bare(&copy.draft), "{}", path.display());
    }
}

/// The words of a PDF, in the order in which a reader finds them, are those of the clean text.
#[test]
fn what_is_handed_over_is_what_the_proof_shows() {
    let (brief, faces) = (brief(), Faces::built_in());
    for source in [WHOLE.to_owned(), fs::read_to_string("drafts/first.md").expect("the sample")] {
        let copy = HandedCopy::of(&source, &brief);
        let report = report::assess(&copy.draft, &brief, &faces);
        let drawn = Drawing::of_faces(&report, &copy.draft, &brief, &faces).remove(0);
        let proof =
            Proof { around: drawn.around, drawing: &drawn.drawing, title: "", subject: "", facts: &[], cautions: &[] };
        let pages = pdf_letters::pages(&pdf::written(&[proof::panel_alone(&proof, &faces)]));
        let bare = |text: &str| text.chars().filter(|letter| !letter.is_whitespace()).collect::<String>();
        let shown: String = pages[0].iter().map(|letter| bare(&letter.text)).collect();
        let handed = bare(&written(HandedForm::CleanText, &copy));
        // Behind the copy stand the names of the panel's edges.
        assert!(!handed.is_empty() && shown.starts_with(&handed), "{shown}\n{handed}");
    }
}
