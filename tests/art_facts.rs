//! What a press needs to know of art, on pictures whose faults are known.

use std::path::Path;
use std::sync::Arc;

use blurbwright::art::facts::ArtFinding;
use blurbwright::art::placement::PlacedArt;
use blurbwright::artwork::decoded;
use blurbwright::brief::Brief;
use blurbwright::draft::Draft;
use blurbwright::report::{Report, assess};
use blurbwright::setting::Faces;
use blurbwright::units::{Length, Point};
use png::{BitDepth, ColorType};

use crate::outlines::files::encoded;

/// A panel of 4 by 4 inches with a bleed of a quarter of an inch, and what else its group has.
fn panel(more: &str) -> String {
    format!("panel: {{ trim: 4 x 4 in, bleed: 0.25 in, margins: 1 in, {more} }}\n")
}

/// A picture of shades of grey, as many pixels to the inch as are asked for over so many inches.
fn picture(ppi: u32, (across, down): (f64, f64), shade: impl Fn(f64, f64) -> u8) -> Vec<u8> {
    let size = ((across * f64::from(ppi)) as u32, (down * f64::from(ppi)) as u32);
    let pixels = (0..size.1).flat_map(|y| (0..size.0).map(move |x| (x, y)));
    let inches = |pixel: u32| (f64::from(pixel) + 0.5) / f64::from(ppi);
    let data: Vec<u8> = pixels.map(|(x, y)| shade(inches(x), inches(y))).collect();
    encoded(size, (ColorType::Grayscale, BitDepth::Eight), &data, |_| {})
}

/// A brief with its pictures filled in, in the order in which it names them.
fn brief(yaml: &str, files: &[&[u8]]) -> Brief {
    let mut brief = Brief::read(yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
    let mut files = files.iter();
    for art in brief.arts_mut() {
        for picture in art.pictures_mut() {
            let bytes = files.next().unwrap_or_else(|| panic!("no file is left for {:?}", picture.file));
            picture.read = Some(Arc::new(decoded(bytes).unwrap_or_else(|fault| panic!("{fault:?}"))));
        }
    }
    brief
}

fn report(yaml: &str, files: &[&[u8]]) -> Report {
    assess(&Draft::read("The lamp is out.\n"), &brief(yaml, files), &Faces::built_in())
}

/// What is found in art of few pixels, but for that.
fn found(yaml: &str, files: &[&[u8]]) -> Vec<ArtFinding> {
    let art = report(yaml, files).art;
    art.into_iter().flat_map(|art| art.findings).filter(|finding| *finding != ArtFinding::TooSmall).collect()
}

fn names(yaml: &str, files: &[&[u8]]) -> Vec<&'static str> {
    found(yaml, files).iter().map(ArtFinding::name).collect()
}

const WHOLE: (f64, f64) = (4.5, 4.5);
/// Pixels to the inch where they are not what is looked at.
const FEW: u32 = 100;

fn grey(_: f64, _: f64) -> u8 {
    150
}

#[test]
fn art_of_the_right_size_has_nothing_to_look_at() {
    let yaml = panel("art: { file: a.png }");
    let report = report(&yaml, &[&picture(300, WHOLE, grey)]);
    let [facts] = &report.art[..] else { panic!("one face has art") };
    assert_eq!((facts.pixels, facts.whole_ppi(), facts.kind, facts.most_ink), ((1350, 1350), 300.0, "scene", None));
    assert!(facts.findings.is_empty() && report.verdict.is_within(), "{:?}", facts.findings);
}

#[test]
fn too_few_pixels_are_asked_about_and_far_too_few_are_outside() {
    // Two inches square with the bleed, so that the pictures are small.
    let small =
        |more: &str| panel(more).replace("4 x 4 in", "1.5 x 1.5 in").replace("margins: 1 in", "margins: 0.1 in");
    const WHOLE: (f64, f64) = (2.0, 2.0);
    let yaml = small("art: { file: a.png }");
    for (ppi, found, within) in [(299, 1, true), (225, 1, true), (224, 1, false), (72, 1, false), (300, 0, true)] {
        let report = report(&yaml, &[&picture(ppi, WHOLE, grey)]);
        let art = &report.art[0];
        assert_eq!((art.findings.len(), report.verdict.is_within()), (found, within), "{ppi}");
    }
    // Without its bleed the art has to fill less, and so more of its pixels go to the inch.
    let to_trim = small("art: { file: a.png, placed: trim }");
    assert_eq!(report(&to_trim, &[&picture(270, WHOLE, grey)]).art[0].whole_ppi(), 360.0);
}

#[test]
fn a_shape_is_told_from_half_a_percent_on() {
    let yaml = panel("art: { file: a.png }");
    for (across, found) in [(4.5, false), (4.51, false), (4.6, true), (9.0, true)] {
        let report = report(&yaml, &[&picture(200, (across, 4.5), grey)]);
        let art = &report.art[0];
        assert_eq!(art.findings.contains(&ArtFinding::OtherShape), found, "{across}");
        assert!((art.cut.0.to_inches() - (across - 4.5)).abs() < 0.01 && art.cut.1 == Length::ZERO);
    }
}

#[test]
fn bleed_is_covered_or_not_edge_by_edge() {
    let bleed = |more: &str, shade: &dyn Fn(f64, f64) -> u8| found(&panel(more), &[&picture(FEW, WHOLE, shade)]);
    let stops_at_foot = |_: f64, y: f64| if y > 4.25 { 255 } else { 150 };
    let art = "art: { file: a.png }";
    assert_eq!(bleed(art, &stops_at_foot), [ArtFinding::BlankBleed(vec!["foot"])]);
    let stops_all_round = |x: f64, y: f64| if x.min(y) < 0.25 || x.max(y) > 4.25 { 255 } else { 150 };
    assert_eq!(bleed(art, &stops_all_round), [ArtFinding::BlankBleed(vec!["head", "foot", "fore-edge", "spine"])]);
    // A picture that is white up to the trim needs no bleed there.
    let island = |x: f64, y: f64| if x.min(y) < 1.0 || x.max(y) > 3.0 { 255 } else { 150 };
    assert_eq!(bleed(art, &island), []);
    assert_eq!(bleed("art: { file: a.png, placed: trim }", &grey), [ArtFinding::StopsAtTrim]);
}

#[test]
fn drawings_keep_clear_of_the_trim_and_of_copy() {
    let spots = |shade: &dyn Fn(f64, f64) -> u8| {
        names(&panel("art: { file: a.png, kind: spot }"), &[&picture(FEW, WHOLE, shade)])
    };
    let spot = |at: (f64, f64)| {
        move |x: f64, y: f64| if (x - 0.25 - at.0).abs() < 0.2 && (y - 0.25 - at.1).abs() < 0.2 { 60 } else { 255 }
    };
    // The copy stands in the upper left of a live area from 1 to 3 inches.
    assert_eq!(spots(&spot((2.0, 2.5))), [""; 0]);
    assert_eq!(spots(&spot((0.25, 2.0))), ["near the trim"]);
    assert_eq!(spots(&spot((0.0, 2.0))), [""; 0], "it runs into the bleed");
    assert_eq!(spots(&spot((1.4, 1.3))), ["crowded by art"]);
    assert_eq!(spots(&|x, y| if (x - 2.0).hypot(y - 3.0) < 0.3 { 60 } else { 240 }), ["grey paper"]);
}

#[test]
fn a_picture_in_two_files_meets_at_the_spine() {
    let yaml = panel("art: { file: a.png, kind: round, front: b.png }");
    let back = picture(FEW, WHOLE, |_, y| (100.0 + y * 20.0) as u8);
    assert_eq!(names(&yaml, &[&back, &back]), [""; 0]);
    let lighter = picture(FEW, WHOLE, |_, y| (125.0 + y * 20.0) as u8);
    assert_eq!(names(&yaml, &[&back, &lighter]), ["seam"]);
}

#[test]
fn of_a_whole_cover_the_back_is_the_left_part() {
    // Back, spine and front, and the bleed at both ends: 4 + 0.5 + 4 + 0.5 inches across.
    let yaml = panel("art: { file: a.png, kind: round, spine: 0.5 in }");
    let book = brief(&yaml, &[&picture(100, (9.0, 4.5), |x, _| (x * 25.0) as u8)]);
    let placed = PlacedArt::on(&book.panel.layout()).unwrap_or_else(|| panic!("it is placed"));
    assert!((placed.ppi - 100.0).abs() < 0.01 && placed.cut.0 < Length::TOLERANCE);
    let at = |x: f64| placed.pixel_at(Point { x: Length::inches(x), y: Length::ZERO });
    let ends = [at(-0.25), at(0.0), at(4.0)].map(|(x, y)| (x.round(), y.round()));
    assert_eq!(ends, [(0.0, 25.0), (25.0, 25.0), (425.0, 25.0)]);
    assert_eq!(placed.rect, book.panel.art_area());
}

#[test]
fn a_tint_keeps_out_of_the_fold() {
    let tinted = |pad: &str| {
        let more = format!("art: {{ file: a.png, kind: round, spine: 0.5 in }}, tint: {{ opacity: 40%, pad: {pad} }}");
        let yaml = panel(&more).replace("margins: 1 in", "margins: { head: 1 in, foot: 1 in, spine: 0.1 in }");
        let draft = Draft::read("Oona keeps the lamp by herself tonight, and she waits for one voice on the water.\n");
        let brief = brief(&yaml, &[&picture(FEW, (9.0, 4.5), grey)]);
        let art = assess(&draft, &brief, &Faces::built_in()).art;
        art[0].findings.contains(&ArtFinding::OverFold)
    };
    assert_eq!((tinted("0 pt"), tinted("1.5 in")), (false, true));
}

#[test]
fn a_flap_has_art_of_its_own() {
    let yaml = format!(
        "{}back_flap: {{ width: 2 in, margins: 0.5 in, holds: note on the author, art: b.png, ink: white }}\n",
        panel("binding: jacket, square: 0 in")
    );
    let book = brief(&yaml, &[&picture(FEW, (2.25, 4.5), grey)]);
    let flap = book.flaps[0].layout();
    let placed = PlacedArt::on(&flap).unwrap_or_else(|| panic!("it is placed"));
    // At the fold, which is the right edge of a back flap, the art goes up to the fold.
    assert_eq!(placed.rect.right(), flap.edges.right());
    assert!((placed.ppi - 100.0).abs() < 0.01);
    let set = &book.typography.blurb;
    assert_eq!(flap.ink_of(flap.places.first(), set).to_string(), "white");
}

#[test]
fn ink_and_tint_are_those_of_the_nearest_that_has_one() {
    let yaml = "panel:\n  trim: 8 x 8 in\n  tint: { colour: black, opacity: 20% }\n  places:\n    - { name: a, holds: \
                headline, edges: { foot: 5 in }, ink: white, tint: { opacity: 60% } }\n    - { name: b, holds: \
                quote, follows: a }\ntype: { ink: \"#1f3a5f\", quote: { ink: \"#fff\" } }\n";
    let book = brief(yaml, &[]);
    let (layout, typography) = (book.panel.layout(), &book.typography);
    let [a, b] = &layout.places else { panic!("two places") };
    let of = |place, kind| layout.ink_of(place, typography.of(kind)).to_string();
    use blurbwright::draft::BlockKind::{Headline, Quote};
    assert_eq!(of(Some(a), Headline), "white");
    assert_eq!(of(Some(a), Quote), "#ffffff", "its own type goes before the place");
    assert_eq!([of(Some(b), Headline), of(None, Headline)], ["#1f3a5f"; 2]);
    let opacity = |place| layout.tint_of(place).map(|tint| tint.opacity);
    assert_eq!([opacity(Some(a)), opacity(Some(b)), opacity(None)], [Some(0.6), Some(0.2), Some(0.2)]);
}
