//! Laws of the title on the spine: what fits, the largest size, which way it runs, and that it is drawn as it is
//! measured.

use std::path::Path;
use std::sync::Arc;

use blurbwright::artwork::picture::{ColourModel, Picture};
use blurbwright::artwork::{ArtFile, KeptGrounds};
use blurbwright::brief::Brief;
use blurbwright::briefing::rewrite;
use blurbwright::draft::Draft;
use blurbwright::report::drawing::{Drawing, FaceDrawing, FramePart};
use blurbwright::report::verdict::Subject;
use blurbwright::report::{Report, assess};
use blurbwright::setting::{Faces, SpineTitle};
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;

use crate::desk_harness::{BRIEF, desk_of, screen};
use crate::ink::ink;
use crate::tried::law;

/// A book of a panel of 200 by 250 mm, with what more its brief says.
fn brief(title: &str, more: &str) -> Brief {
    let yaml = format!("book: {{ title: \"{title}\" }}\npanel: {{ trim: 200 x 250 mm }}\n{more}\n");
    Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}\n{yaml}"))
}

/// A title on a spine that has these keys.
fn on_spine(title: &str, keys: &str) -> SpineTitle {
    let title = SpineTitle::of(&brief(title, &format!("spine: {{ {keys} }}")), &Faces::built_in());
    title.unwrap_or_else(|| panic!("the brief has a spine"))
}

/// A type of the built-in sans at a size.
fn sans(size: Length) -> String {
    format!("type: {{ font: sans, weight: regular, size: {} pt }}", size.to_pt())
}

fn report(brief: &Brief) -> Report {
    assess(&Draft::read("The lamp is dark.\n"), brief, &Faces::built_in())
}

/// The last face of a proof, which is the spine where there is one.
fn last_face(brief: &Brief) -> FaceDrawing {
    let draft = Draft::read("The lamp is dark.\n");
    let faces = Drawing::of_faces(&report(brief), &draft, brief, &Faces::built_in());
    faces.into_iter().next_back().unwrap_or_else(|| panic!("a proof has a face"))
}

fn turned(rect: Rect, edges: Rect) -> Rect {
    Rect { x: edges.right() - rect.right(), y: edges.foot() - rect.foot(), ..rect }
}

fn title() -> impl Strategy<Value = String> {
    prop::collection::vec("[A-Za-z]{1,12}", 1..9).prop_map(|words| words.join(" "))
}

proptest! {
    #![proptest_config(law(60))]

    /// What fits a spine of half the width fits the whole one, and no larger size fits the half.
    #[test]
    fn half_the_width_never_fits_more(title in title(), width in 50..600_i64, size in 30..400_i64) {
        let width = Length::mm(0.1) * width;
        let of = |width: Length| {
            on_spine(&title, &format!("width: {} mm, clear: 1 mm, {}", width.to_mm(), sans(Length::pt(0.1) * size)))
        };
        let (half, whole) = (of(width / 2), of(width));
        prop_assert!(!half.fits() || whole.fits());
        prop_assert!(half.largest_size() <= whole.largest_size());
    }

    /// At the largest size a title fits, and at a tenth of a point more it does not.
    #[test]
    fn the_largest_size_fits_and_a_tenth_more_does_not(title in title(), width in 50..600_i64) {
        let at = |size| on_spine(&title, &format!("width: {} mm, {}", (Length::mm(0.1) * width).to_mm(), sans(size)));
        let largest = at(Length::pt(12.0)).largest_size().unwrap_or_default();
        prop_assume!(largest >= Length::pt(3.0));
        prop_assert!(at(largest).fits());
        let above = largest + Length::pt(0.1);
        prop_assert!(above > Length::pt(200.0) || !at(above).fits());
    }

    /// The ink of a title that fits, as the outlines of its glyphs have it, stands between the folds with the room that
    /// stays clear, and fills the height that was told.
    #[test]
    fn ink_stands_clear_of_the_folds(title in title(), width in 80..300_i64) {
        let keys = |size| format!("width: {} mm, {}", (Length::mm(0.1) * width).to_mm(), sans(size));
        let largest = on_spine(&title, &keys(Length::pt(12.0))).largest_size().unwrap_or_default();
        let brief = brief(&title, &format!("spine: {{ {} }}", keys(largest)));
        let faces = Faces::built_in();
        let face = last_face(&brief).drawing;
        let live = face.rect_of(FramePart::LiveArea).unwrap_or_default();
        let drawn = face.title().expect("the spine has its title");
        let boxes: Vec<Rect> = drawn.runs.iter().filter_map(|run| ink(run, &faces)).collect();
        let top = boxes.iter().map(|ink| ink.y).min().unwrap_or_default();
        let foot = boxes.iter().map(Rect::foot).max().unwrap_or_default();
        let near = Length::pt(0.05);
        prop_assert!(live.y - near <= top && foot <= live.foot() + near, "{:?} {:?} in {:?}", top, foot, live);
        let told = on_spine(&title, &keys(largest)).height();
        prop_assert!(told - near <= foot - top && foot - top <= told + near, "{:?}, told {:?}", foot - top, told);
    }

    /// A title is as long on the spine as a headline of its words in the type of the spine is on a line.
    #[test]
    fn a_title_is_as_long_as_a_line_of_its_words(title in title()) {
        let more = "spine: { width: 20 mm, type: { font: serif, weight: bold, size: 9 pt } }\n\
                    type: { headline: { font: serif, weight: bold, size: 9 pt } }";
        let brief = Brief::read(
            &format!("book: {{ title: \"{title}\" }}\npanel: {{ trim: 700 x 250 mm }}\n{more}\n"),
            Path::new(""),
        );
        let brief = brief.unwrap_or_else(|fault| panic!("{fault}"));
        let fit = assess(&Draft::read(&format!("# {title}\n")), &brief, &Faces::built_in()).fit;
        prop_assert_eq!(fit.lines.len(), 1);
        prop_assert_eq!(Some(fit.lines[0].set.width), fit.spine.map(|title| title.length()));
    }
}

/// An ascending title is a descending one turned by half a turn: the margins at head and foot change places, the
/// letters stand as they did, and what lies round them is what lay on the other side.
#[test]
fn ascending_is_descending_turned_by_half_a_turn() {
    let of = |direction: &str| {
        let keys = "width: 9 mm, margins: { head: 10 mm, foot: 30 mm }";
        last_face(&brief("The Lamp at Gull Point", &format!("spine: {{ {keys}, direction: {direction} }}")))
    };
    let (down, up) = (of("descending"), of("ascending"));
    let rect = |face: &FaceDrawing, part| face.drawing.rect_of(part).unwrap_or_default();
    let edges = rect(&down, FramePart::Face);
    assert_eq!(edges, rect(&up, FramePart::Face));
    assert_eq!(rect(&up, FramePart::LiveArea), turned(rect(&down, FramePart::LiveArea), edges));
    let title = |face: &FaceDrawing| face.drawing.title().map(|title| title.rect).unwrap_or_default();
    let (own, other) = (title(&up), turned(title(&down), edges));
    assert_eq!((own.width, own.height), (other.width, other.height));
    // Half of an odd number of units is rounded.
    assert!(own.grown(Length::TOLERANCE).holds(&other), "{own:?} {other:?}");
    assert_eq!(down.around, ["head", "front cover side", "foot"]);
    assert_eq!(up.around, ["foot", "back cover side", "head"]);
    let live = rect(&down, FramePart::LiveArea);
    assert_eq!((live.x, edges.right() - live.right()), (Length::mm(10.0), Length::mm(30.0)));
}

/// The whole fits where the copy does and the title does, and the verdict says so of either.
#[test]
fn the_whole_fits_where_copy_and_title_do() {
    for (width, size, fits) in [(12, 14, true), (12, 40, false), (30, 40, true), (30, 150, false)] {
        let more = format!("spine: {{ width: {width} mm, {} }}", sans(Length::pt(f64::from(size))));
        let report = report(&brief("Gull Point", &more));
        assert!(report.fit.copy_fits());
        assert_eq!(report.fit.fits(), fits, "{more}");
        let outside: Vec<&Subject> = report.verdict.outside().map(|check| &check.subject).collect();
        assert_eq!(outside, if fits { vec![] } else { vec![&Subject::SpineTitle] }, "{more}");
    }
}

/// Without a spine there is neither a check nor a face of it, and every part of the panel is as it was.
#[test]
fn without_a_spine_nothing_is_told_of_one() {
    let plain = report(&brief("Gull Point", ""));
    assert_eq!((plain.fit.spine.is_none(), plain.panel_notes.len()), (true, 0));
    assert!(plain.verdict.checks.iter().all(|check| check.subject != Subject::SpineTitle));
    assert_eq!(last_face(&brief("Gull Point", "")).name, None);
    let with = report(&brief("Gull Point", "spine: { width: 9 mm }"));
    assert_eq!(with.fit.lines, plain.fit.lines);
    assert_eq!(with.verdict.checks.len(), plain.verdict.checks.len() + 1);
}

/// Letters of the title that no font has are told as those of the copy are.
#[test]
fn letters_that_no_font_has_are_told_of_the_title() {
    let fit = report(&brief("Snow 雪 雪", "spine: { width: 9 mm }")).fit;
    assert_eq!(fit.missing, ['雪']);
    assert!(report(&brief("Snow 雪", "")).fit.missing.is_empty());
}

/// A spine under 6 mm is cautioned against, in its own unit, and may fit all the same.
#[test]
fn a_thin_spine_is_cautioned_against() {
    let notes = |width: &str| report(&brief("A", &format!("spine: {{ width: {width}, clear: 1 mm }}"))).panel_notes;
    assert_eq!(notes("6 mm"), [""; 0]);
    assert_eq!(
        notes("0.2 in"),
        ["the spine is 0.2 in wide; printers seldom letter one under 5 to 6 mm (from memory), so ask yours"]
    );
}

/// The desk tells of a title that does not fit where it tells of the fit.
#[test]
fn the_desk_tells_of_a_title_that_does_not_fit() {
    let told = |size: i64| {
        let spine = format!("spine: {{ width: 9 mm, {} }}\n", sans(Length::pt(1.0) * size));
        let rows = screen(&mut desk_of(&format!("{BRIEF}\n{spine}"), (120, 40)));
        rows.iter().any(|row| row.contains("title too large"))
    };
    assert_eq!([12, 20].map(told), [false, true]);
}

/// A brief whose panel is rewritten keeps its spine to the byte.
#[test]
fn another_panel_leaves_the_spine_in_the_file() {
    let spine = "spine: { width: 9 mm, direction: ascending } # the printer's own\n";
    let text = format!("book: {{ title: A }}\npanel:\n  trim: 200 x 250 mm\n{spine}");
    let panel = Brief::read(&text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}")).written_panel();
    let value = panel.values().into_iter().find(|value| value.name == "height").unwrap_or_else(|| panic!("a height"));
    let higher = panel.stepped(&value, 4).unwrap_or_else(|fault| panic!("{fault}"));
    let changes = rewrite::panel_changes(&panel, &higher);
    let after = rewrite::rewritten(&text, &changes).unwrap_or_else(|fault| panic!("{fault}"));
    assert!(after.ends_with(spine) && after.contains("254 mm"), "{after}");
}

/// Art that runs round the spine lies under the title, laid down with it; without such art the spine is bare, and the
/// title is seen.
#[test]
fn round_art_lies_on_the_spine_under_the_title() {
    let art = "art: { file: cover.png, kind: round, spine: 10 mm }";
    let yaml = |art: &str| {
        format!(
            "book: {{ title: The Lamp }}\npanel: {{ trim: 100 x 100 mm, bleed: 5 mm, {art} }}\n\
             spine: {{ width: 10 mm }}\ntype: {{ ink: white }}\n"
        )
    };
    let mut brief = Brief::read(&yaml(art), Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
    // A pixel for each millimetre: bleed, back, spine, front, bleed. The spine is red at its head and blue below.
    let colour = |at: usize| match (at % 220, at / 220) {
        (105..115, 0..55) => [255, 0, 0],
        (105..115, _) => [0, 0, 255],
        _ => [0, 255, 0],
    };
    let picture =
        Picture { width: 220, height: 110, pixels: (0..220 * 110).map(colour).collect(), model: ColourModel::Rgb };
    let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: KeptGrounds::default() };
    for art in brief.arts_mut() {
        art.fill_in(Path::new("cover.png"), &Arc::new(file.clone()));
    }
    let face = last_face(&brief);
    let found = face.drawing.arts().next().expect("the art");
    let edges = face.drawing.rect_of(FramePart::Face).unwrap_or_default();
    let bleed = Length::mm(5.0);
    let wanted = Rect { x: edges.x - bleed, width: edges.width + bleed * 2, ..edges };
    assert!(found.placed.rect.grown(Length::TOLERANCE).holds(&wanted), "{:?} {wanted:?}", found.placed.rect);
    let picture = &found.file.picture;
    assert_eq!((picture.at(0, 5), picture.at(109, 5)), ([255, 0, 0], [0, 0, 255]));
    assert!(picture.pixels.iter().all(|pixel| pixel[1] == 0), "nothing of the panels lies on the spine");
    assert!(face.drawing.title().is_some_and(|title| title.ink.is_light()));
    let bare = Brief::read(&yaml("margins: 1 cm"), Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
    let face = last_face(&bare);
    assert!(face.drawing.arts().next().is_none() && face.drawing.title().is_some_and(|title| !title.ink.is_light()));
}
