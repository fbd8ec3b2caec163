//! Proofs as files: their true size, their words, the same bytes each time, and panels of any size.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::place::CoverFace;
use blurbwright::brief::typography::Font;
use blurbwright::draft::{Draft, Emphasis};
use blurbwright::proof::seal::{SealFound, found};
use blurbwright::proof::sheet::{Sheet, SheetMark};
use blurbwright::proof::{MARK, Proof, pdf, png, sheet, slug, svg};
use blurbwright::report::drawing::{Drawing, DrawingItem, FramePart};
use blurbwright::report::{self, Report};
use blurbwright::setting::Faces;
use blurbwright::setting::face::Face;

use crate::pdf_letters::{self, ReadLetter};

const SAMPLE: &str = include_str!("data/one_column.yaml");
const COPY: &str = include_str!("../drafts/first.md");

/// A subset of Bitter, under the SIL Open Font License (tests/data/fonts/Bitter-OFL.txt).
const VARIABLE: &[u8] = include_bytes!("data/fonts/Bitter-Variable.ttf");

/// Letters that a reader of the PDF may lose: ligatures, marks by themselves and with their letter, one glyph for two
/// characters, kerned and divided words, and letters that no font at hand has.
const HARD_COPY: &str = "# *Efficient* waffles\n\nFjord fi fl ffi, “AV To Ty WA.” q\u{323}\u{304} a\u{331} cafe\u{301} \
    n\u{ef}ve \u{1e68} \u{451} \u{439} Vi\u{1ec7}t x\u{302}\u{303}\u{304}. A light\u{ad}house, non\u{2011}breaking \
    sea-ice and \u{a0} blanks, \u{5e9}\u{5b8}\u{5c1}\u{5dc} \u{20ac}, **bold** and ***both***.\n";

/// What a sheet is made from.
struct Desk {
    brief: Brief,
    draft: Draft,
    faces: Faces,
    report: Report,
}

impl Desk {
    fn new(brief: &str, draft: &str) -> Self {
        let brief = Brief::read(brief, Path::new("")).expect("a brief");
        let (draft, mut faces) = (Draft::read(draft), Faces::built_in());
        for font in brief.typography.fonts().filter(|font| matches!(font, Font::File { .. })) {
            faces.add(font.clone(), Face::read(VARIABLE.to_vec()).expect("a font"));
        }
        let report = report::assess(&draft, &brief, &faces);
        Self { brief, draft, faces, report }
    }

    fn drawing(&self) -> Drawing {
        Drawing::of(&self.report, &self.draft, &self.brief, &self.faces)
    }

    fn sheet(&self) -> Sheet<'_> {
        let proof = Proof {
            around: CoverFace::Panel.around(),
            drawing: &self.drawing(),
            title: &self.brief.book.title,
            subject: "first.md",
            facts: &slug::facts(&self.report, &self.brief, false),
            cautions: &slug::CAUTIONS,
        };
        sheet(&proof, &self.faces)
    }
}

/// The four numbers of a box in the PDF, from its left foot corner, in points.
fn pdf_box(pdf: &[u8], name: &str) -> Vec<f64> {
    let text = String::from_utf8_lossy(pdf);
    let (_, after) = text.split_once(&format!("/{name}[")).expect("the box");
    let (numbers, _) = after.split_once(']').expect("the end of the box");
    numbers.split_whitespace().map(|number| number.parse().expect("a number")).collect()
}

#[test]
fn a_pdf_has_the_trim_and_the_bleed_at_true_size() {
    let desk = Desk::new(SAMPLE, COPY);
    let written = pdf::written(&[desk.sheet()]);
    assert!(written.starts_with(b"%PDF-1.7") && written.ends_with(b"%%EOF"));
    for (name, side) in [("TrimBox", 8.5 * 72.0), ("BleedBox", 8.75 * 72.0)] {
        let edges = pdf_box(&written, name);
        assert!((edges[2] - edges[0] - side).abs() < 0.001, "{name}: {edges:?}");
        assert!((edges[3] - edges[1] - side).abs() < 0.001, "{name}: {edges:?}");
    }
    let text = String::from_utf8_lossy(&written);
    assert_eq!(text.matches("/FontFile").count(), 4, "serif, serif italic, sans and sans bold are in the file");
    assert!(text.contains(MARK));
    assert_eq!(found(&written), SealFound::Whole);
}

/// The letters of a sheet as a reader of its PDF is to find them: a cluster a letter.
fn letters(sheet: &Sheet<'_>) -> Vec<ReadLetter> {
    let runs = sheet.marks.iter().filter_map(|mark| match mark {
        SheetMark::Glyphs(run, _) => Some(run),
        _ => None,
    });
    let clusters =
        runs.flat_map(|run| run.glyphs.chunk_by(|one, next| one.text == next.text).map(move |all| (run, all)));
    clusters
        .map(|(run, glyphs)| {
            let (first, text) = (glyphs[0].at, run.text[glyphs[0].text.clone()].to_owned());
            ReadLetter { text, x: first.x.to_pt(), y: first.y.to_pt() }
        })
        .collect()
}

/// Source: ISO 32000-1:2008, 9.4.4 (where each letter stands) and 9.10 (what it stands for).
#[test]
fn every_letter_of_a_pdf_has_its_text_and_its_place() {
    let kinds = [
        "serif",
        "sans, align: justified",
        "own.ttf, weight: semibold",
        "{ name: Some Face, alphabet: 150 pt, at: 12 pt }",
    ];
    for font in kinds {
        let desk = Desk::new(&format!("panel: {{ trim: 6 x 8 in }}\ntype: {{ font: {font} }}\n"), HARD_COPY);
        let sheets = [desk.sheet(), desk.sheet()];
        let written = pdf::written(&sheets);
        let pages = pdf_letters::pages(&written);
        assert_eq!(pages.len(), 2, "{font}");
        for (read, expected) in pages.iter().zip(sheets.iter().map(letters)) {
            assert_eq!(read.len(), expected.len(), "{font}");
            for (read, expected) in read.iter().zip(&expected) {
                let off = (read.x - expected.x).abs().max((read.y - expected.y).abs());
                assert!(read.text == expected.text && off < 0.001, "{font}: {read:?} {expected:?}");
            }
        }
        let text: String = pages[0].iter().map(|letter| letter.text.as_str()).collect();
        assert!(text.contains("caf\u{65}\u{301}") && text.contains("x\u{302}\u{303}\u{304}"), "{font}: {text}");
    }
}

#[test]
fn the_same_drafts_give_the_same_bytes() {
    let desk = Desk::new(SAMPLE, COPY);
    let sheets = [desk.sheet(), desk.sheet()];
    assert_eq!(pdf::written(&sheets), pdf::written(&sheets));
    assert_eq!(svg::written(&sheets), svg::written(&sheets));
    assert_eq!(png::written(&sheets, 40), png::written(&sheets, 40));
    let pages = pdf::written(&sheets);
    assert_eq!(String::from_utf8_lossy(&pages).matches("/TrimBox").count(), 2, "a page for each draft");
}

/// Source: PNG (Portable Network Graphics) Specification, third edition, 11.2.1: width and height stand in the first
/// chunk; 11.3.4.3: pixels per metre.
#[test]
fn a_png_has_the_pixels_of_its_true_size() {
    let desk = Desk::new(SAMPLE, COPY);
    let one = desk.sheet();
    let (width, height) = (one.size.width.to_inches(), one.size.height.to_inches());
    for (sheets, resolution) in [(vec![desk.sheet()], 60), (vec![desk.sheet(), one], 30)] {
        let written = png::written(&sheets, resolution).expect("a PNG");
        let number = |at: usize| u32::from_be_bytes(written[at..at + 4].try_into().expect("four bytes"));
        let dots = f64::from(resolution);
        assert_eq!(f64::from(number(16)), (width * dots * sheets.len() as f64).round());
        assert_eq!(f64::from(number(20)), (height * dots).round());
        let physical = written.windows(4).position(|name| name == b"pHYs").expect("the true size");
        assert_eq!(f64::from(number(physical + 4)), (dots / 0.0254).round());
    }
    assert_eq!(png::written(&[desk.sheet()], 2400), None, "too many pixels are refused");
}

#[test]
fn an_svg_is_well_formed_and_says_what_it_shows() {
    let desk = Desk::new(&SAMPLE.replace("The Lamp at Gull Point", "\"Salt & <Light>\""), "\"Oh\" & <so>\u{1}");
    let written = svg::written(&[desk.sheet(), desk.sheet()]);
    let document = roxmltree::Document::parse(&written).expect("XML");
    let root = document.root_element();
    assert_eq!(root.attribute("width"), Some(format!("{}pt", desk.sheet().size.width.to_pt() as f32 * 2.0).as_str()));
    let of = |name: &str| root.children().find(|node| node.has_tag_name(name)).and_then(|node| node.text());
    assert!(of("title").is_some_and(|title| title.starts_with("Salt & <Light>: first.md")));
    assert!(of("desc").is_some_and(|desc| desc.contains("Panel of a paperback: trim 215.9 x 215.9 mm")));
    assert_eq!(root.children().filter(|node| node.has_tag_name("g")).count(), 2);
}

#[test]
fn the_drawing_goes_from_the_outside_in_and_from_head_to_foot() {
    let desk = Desk::new(SAMPLE, COPY);
    let drawing = desk.drawing();
    let parts: Vec<FramePart> = drawing.frames().map(|frame| frame.part).collect();
    let keep_out = [FramePart::Clearance, FramePart::KeepOut];
    assert_eq!(parts, [&[FramePart::Bleed, FramePart::Face, FramePart::LiveArea][..], &keep_out, &keep_out].concat());
    assert!(drawing.items[..7].iter().all(|item| matches!(item, DrawingItem::Frame(_))));
    let depths: Vec<_> = drawing.lines().map(|line| line.baseline).collect();
    assert!(depths.is_sorted() && depths.len() == desk.report.fit.lines.len());
}

/// Glyphs of a line stand on its baseline from its left edge to its right one, and stand for all of its words.
#[test]
fn the_glyphs_of_a_line_fill_it() {
    let desk = Desk::new(
        SAMPLE,
        "Oona's fire-light flickers **brightly**, off-shore — *waving* to sail-\u{ad}ors \
        and light\u{ad}house keepers; well-known far-away waves say “AWAY”, “To-Va”, and V-A-W-A-Y.",
    );
    for line in desk.drawing().lines() {
        let text: String = line.runs.iter().map(|run| run.text.replace('\u{ad}', "")).collect();
        assert_eq!(text, line.text);
        let last = line.runs.last().and_then(|run| run.glyphs.last()).expect("glyphs");
        assert!(line.runs[0].glyphs[0].at.x == line.rect.x && last.at.y == line.baseline);
        assert!(last.at.x < line.rect.right(), "{}", line.text);
        let covered = line.runs.iter().flat_map(|run| &run.glyphs).filter(|glyph| glyph.text.is_empty()).count();
        assert_eq!(covered, 0, "every glyph stands for something");
    }
    let bold = Emphasis { bold: true, italic: false };
    assert!(desk.drawing().lines().any(|line| line.runs.iter().any(|run| run.emphasis == bold)));
}

#[test]
fn what_is_over_is_drawn_as_over_and_no_more_than_a_sheet_holds() {
    let long = COPY.replace("Nobody in the village", &"Nobody in the village and beyond it ".repeat(400));
    let (short, long) = (Desk::new(SAMPLE, COPY), Desk::new(SAMPLE, &long));
    assert!(short.drawing().lines().all(|line| !line.over));
    assert!(long.drawing().lines().any(|line| line.over));
    let (short, long) = (short.sheet().size.height, long.sheet().size.height);
    assert!(short < long && long.to_mm() < short.to_mm() + 200.0);
}

#[test]
fn the_smallest_and_the_largest_panel_can_be_drawn() {
    for panel in
        ["trim: 1 x 1 in, margins: 0.1 in, bleed: 0 mm", "trim: 30 x 30 in, binding: case, round_corners: 1 in"]
    {
        for copy in ["", COPY] {
            let desk = Desk::new(&format!("panel: {{ {panel} }}"), copy);
            let sheets = [desk.sheet()];
            assert!(pdf::written(&sheets).ends_with(b"%%EOF"), "{panel}");
            assert!(png::written(&sheets, 20).is_some(), "{panel}");
            assert!(roxmltree::Document::parse(&svg::written(&sheets)).is_ok(), "{panel}");
        }
    }
}
