//! Copy on its art as a report has it: lines by their grades, the verdict, what mends them, and quiet room.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;
use std::sync::Arc;

use blurbwright::art::lines::Grade;
use blurbwright::artwork::picture::{ColourModel, Picture};
use blurbwright::artwork::{ArtFile, KeptGrounds};
use blurbwright::brief::Brief;
use blurbwright::brief::colour::Colour;
use blurbwright::brief::queries::Rule;
use blurbwright::brief::stet::Stet;
use blurbwright::draft::Draft;
use blurbwright::lists::row::RowFigures;
use blurbwright::print::json;
use blurbwright::print::json::Style;
use blurbwright::print::level_data::LevelDetail;
use blurbwright::print::report_data::ReportJson;
use blurbwright::print::text::{self, ReportPage};
use blurbwright::proof::slug;
use blurbwright::queries::Query;
use blurbwright::report::mends::{ArtAdvice, Mend, VainMend};
use blurbwright::report::tighten::{DraftFile, Tighten};
use blurbwright::report::verdict::Subject;
use blurbwright::report::{Assessment, Report, ReportMemory, assess};
use blurbwright::setting::Faces;
use blurbwright::units::Length;

const DRAFT: &str = "The bell under the ice rings twice a year.\n\n\
                     Ines rows out to hear it. Nobody else has dared to, and nobody will say why.";

/// Pixels an inch of the pictures made here.
const PPI: usize = 300;

/// A brief of 5 by 5 in with a picture to its trim; the shade at each hundredth of an inch, across and down.
fn brief(settings: &str, colour: impl Fn(usize, usize) -> u8) -> Brief {
    let yaml = format!(
        "panel: {{ trim: 5 x 5 in, bleed: 0 in, art: {{ file: back.png, placed: trim }}, {settings} }}\n\
         type: {{ size: 12 pt, leading: 16 pt }}\n"
    );
    let mut brief = Brief::read(&yaml, Path::new("")).expect("a brief");
    let side = 5 * PPI;
    // Three pixels across and down have one colour, as many to the inch as printers ask for.
    let pixels = (0..side * side).map(|at| [colour(at % side / 3, at / side / 3); 3]).collect();
    let picture = Picture { width: side, height: side, pixels, model: ColourModel::Rgb };
    let file = ArtFile { picture, profile: None, inks: None, jpeg: None, grounds: KeptGrounds::default() };
    let file = Arc::new(file);
    for art in brief.arts_mut() {
        art.pictures_mut().for_each(|picture| picture.read = Some(Arc::clone(&file)));
    }
    brief
}

/// A chequer of a twentieth of an inch, too busy for any ink.
fn busy(x: usize, y: usize) -> u8 {
    if (x / 5 + y / 5).is_multiple_of(2) { 40 } else { 215 }
}

fn assessed(brief: &Brief) -> (Draft, Report, ArtAdvice) {
    let (draft, faces) = (Draft::read(DRAFT), Faces::built_in());
    let report = assess(&draft, brief, &faces);
    let advice = ArtAdvice::of(&report, &draft, brief, &faces);
    (draft, report, advice)
}

fn page(report: &Report, advice: &ArtAdvice) -> String {
    text::written(report, &ReportPage { path: "draft.md", title: "", source: DRAFT, columns: 96, advice })
}

#[test]
fn copy_on_calm_art_is_clear() {
    let (_, report, advice) = assessed(&brief("margins: 0.5 in", |_, _| 235));
    let art = report.legibility.as_ref().expect("there is art");
    assert_eq!((art.count(Grade::Clear), art.lines.len()), (report.fit.lines.len(), report.fit.lines.len()));
    assert!(report.verdict.is_within() && advice.mends.is_empty());
    assert!(page(&report, &advice).contains("Ink      black: 3 lines clear\n"), "{}", page(&report, &advice));
}

#[test]
fn copy_on_busy_art_is_lost_and_its_mends_are_tried() {
    // Busy but for the lowest inch and a half.
    let brief = brief("margins: 0.5 in", |x, y| if y < 350 { busy(x, y) } else { 235 });
    let (draft, report, advice) = assessed(&brief);
    let lost = report.verdict.outside().find(|check| check.subject == Subject::LinesLost).expect("lines are lost");
    assert_eq!(lost.value, Some(3.0));
    assert!(
        RowFigures::of(&report).outside.join("; ").contains("3 lines are lost on the art"),
        "{}",
        RowFigures::of(&report).outside.join("; ")
    );

    let [mends] = &advice.mends[..] else { panic!("{:?}", advice.mends) };
    assert_eq!((mends.lines.as_slice(), &mends.name), (&[0, 1, 2][..], &None));
    let tint = mends.helps.iter().find_map(|mend| match mend {
        Mend::Tint { colour: Colour::White, percent } => Some(*percent),
        _ => None,
    });
    assert!(tint.is_some_and(|percent| (40..90).contains(&percent)), "{mends:?}");
    let down = mends.helps.iter().find_map(|mend| if let Mend::Move(by) = mend { Some(by.y) } else { None });
    assert!(down.is_some_and(|down| down > Length::inches(2.9)), "{mends:?}");
    assert_eq!(mends.in_vain, [VainMend::Ink(Colour::White), VainMend::Larger]);

    // What is offered does it when the brief has it.
    let tried = |settings: &str| {
        let brief = self::brief(settings, |x, y| if y < 350 { busy(x, y) } else { 235 });
        assess(&draft, &brief, &Faces::built_in()).legibility.expect("there is art").count(Grade::Clear)
    };
    let percent = tint.unwrap_or_default();
    assert_eq!(tried(&format!("margins: 0.5 in, tint: {{ colour: white, opacity: {percent}% }}")), 3);
    assert!(tried(&format!("margins: 0.5 in, tint: {{ colour: white, opacity: {}% }}", percent / 2)) < 3);
    let head = Length::inches(0.5) + down.unwrap_or_default();
    assert_eq!(
        tried(&format!("margins: {{ head: {} pt, foot: 0.5 in, spine: 0.5 in, fore-edge: 0.5 in }}", head.to_pt())),
        3
    );

    let quiet = advice.quiet.as_ref().and_then(|quiet| quiet.best()).expect("the lower part is quiet");
    assert!(quiet.fits && quiet.room.rect.y > Length::inches(3.4), "{quiet:?}");
    let told = page(&report, &advice);
    for words in [
        "line 1 is lost throughout, busy: stand-out",
        "a white tint of",
        "white ink and larger type do not",
        "the copy fits there at its size",
        "margins: {",
    ] {
        assert!(told.contains(words), "{words} is not in {told}");
    }
}

#[test]
fn copy_of_a_place_sinks_in_it_and_copy_of_the_panel_goes_to_either_side() {
    let way = |advice: &ArtAdvice| {
        let helps = advice.mends.iter().flat_map(|mends| &mends.helps);
        helps.into_iter().find_map(|mend| if let Mend::Move(by) = mend { Some(*by) } else { None })
    };
    // A place that fills the panel cannot be moved, but its copy can begin lower in it.
    let place = "margins: 0.5 in, places: [{ name: all, holds: blurb, edges: { head: 0.5 in } }]";
    let lower = brief(place, |x, y| if y < 300 { busy(x, y) } else { 235 });
    let by = way(&assessed(&lower).2).expect("it sinks");
    assert!(by.x == Length::ZERO && by.y > Length::inches(2.0), "{by:?}");
    // Copy in a narrow live area goes to where it is calm beside it.
    let narrow = "margins: { head: 1 in, foot: 0.5 in, fore-edge: 0.5 in, spine: 2.7 in }";
    let aside = brief(narrow, |x, y| if x < 220 { busy(x, y) } else { 235 });
    let by = way(&assessed(&aside).2).expect("it goes aside");
    assert!(by.y == Length::ZERO && by.x > Length::inches(1.6), "{by:?}");
    // What stands where other copy ends is not moved, and it is not said that it was tried.
    let behind = "margins: 0.5 in, places: [{ name: one, holds: headline, edges: { foot: 4 in } }, { name: two, holds: \
                  blurb, follows: one }]";
    let behind = brief(behind, |x, y| if y < 300 { busy(x, y) } else { 235 });
    let draft = Draft::read(&format!("# The bell\n\n{DRAFT}"));
    let report = assess(&draft, &behind, &Faces::built_in());
    let advice = ArtAdvice::of(&report, &draft, &behind, &Faces::built_in());
    let second = advice.mends.iter().find(|mends| mends.name.as_deref() == Some("two")).expect("its lines are lost");
    assert!(!second.in_vain.contains(&VainMend::Move), "{second:?}");
    assert!(second.helps.iter().all(|mend| !matches!(mend, Mend::Move(_))), "{second:?}");
}

#[test]
fn white_copy_on_dark_art_has_its_strokes_looked_at() {
    let mut brief = brief("margins: 0.5 in", |_, _| 20);
    brief.typography.blurb.ink = Colour::White;
    let draft = Draft::read(DRAFT);
    let assessment = Assessment::of(&draft, &brief, &Faces::built_in(), &mut ReportMemory::default());
    assert_eq!(assessment.report.legibility.map(|art| art.count(Grade::Clear)), Some(3));
    let found: Vec<_> = assessment.queries.iter().filter(|query| query.rule == Rule::FineReversed).collect();
    assert_eq!(found.len(), 2, "one for each paragraph");
    assert!(found[0].says.contains("under 0.5 pt"), "{}", found[0].says);
}

#[test]
fn black_copy_on_dark_art_is_faint_and_white_ink_mends_it() {
    let brief = brief("margins: 0.5 in", |_, _| 60);
    let (draft, report, advice) = assessed(&brief);
    let assessment = Assessment::of(&draft, &brief, &Faces::built_in(), &mut ReportMemory::default());
    let faint: Vec<_> = assessment.queries.iter().filter(|query| query.rule == Rule::FaintInk).collect();
    assert_eq!((faint.len(), report.fit.lines.len()), (1, 3), "the lines of a place are one query");
    assert!(faint[0].says.starts_with("lost on the art: lines 1 to 3, since the ink is too near"), "{}", faint[0].says);
    assert!(advice.mends[0].helps.contains(&Mend::Ink(Colour::White)), "{:?}", advice.mends);
    assert!(advice.quiet.as_ref().is_some_and(|quiet| quiet.rooms.is_empty()));
    assert!(page(&report, &advice).contains("no room on the back panel is quiet enough for black ink"));
}

#[test]
fn lines_of_a_place_are_one_query_for_each_reason_and_it_names_them() {
    // The second place has busy art; on the first the right half is too dark.
    let places = "margins: 0.5 in, places: [{ name: above, holds: headline, edges: { foot: 3 in } }, { name: below, \
                  holds: blurb, edges: { head: 2.5 in } }]";
    let brief = brief(places, |x, y| match (x < 150, y < 230) {
        (_, false) => busy(x, y),
        (true, true) => 235,
        (false, true) => 40,
    });
    let words = format!("# The bell under the ice rings twice a year, and nobody has ever said why\n\n{DRAFT}");
    let (draft, faces) = (Draft::read(&words), Faces::built_in());
    let Assessment { report, queries, .. } = Assessment::of(&draft, &brief, &faces, &mut ReportMemory::default());
    let on_art = |query: &&Query| matches!(query.rule, Rule::FaintInk | Rule::BusyGround);
    let found: Vec<&Query> = queries.iter().filter(on_art).collect();
    let art = report.legibility.as_ref().expect("there is art");
    let not_clear = |place: usize| art.not_clear().filter(|line| line.place == place).count();
    assert!(not_clear(0) > 0 && not_clear(1) == 3, "{} {}", not_clear(0), not_clear(1));
    // One place may have both reasons; neither has more than one query of one.
    let of = |place: &str, rule: Rule| {
        found.iter().filter(|query| query.rule == rule && query.says.contains(&format!("“{place}”"))).count()
    };
    assert_eq!((of("below", Rule::BusyGround), of("below", Rule::FaintInk)), (1, 0), "{found:#?}");
    assert!(found.len() <= 3, "{found:#?}");
    let below = found.iter().find(|query| query.says.contains("“below”")).expect("a query of the second place");
    let first = art.not_clear().find(|line| line.place == 1).expect("a line").line + 1;
    assert!(below.says.contains(&format!("lines {first} to {}", first + 2)), "{}", below.says);
    // What `tighten` asks is what the desk asks.
    let file = DraftFile { name: "draft.md", source: &words, stet: &Stet::default() };
    let tighten = Tighten::of(file, &draft, &brief, &faces, &report);
    assert_eq!(tighten.queries.iter().filter(on_art).collect::<Vec<_>>(), found);
}

#[test]
fn a_line_is_told_in_data_with_the_bytes_of_its_words() {
    let (_, report, advice) = assessed(&brief("margins: 0.5 in", |x, _| if x < 250 { 235 } else { 30 }));
    let told = json::written(
        &ReportJson::of(&report, &advice, LevelDetail::Values, ("draft.md", "brief.yaml")),
        Style::Compact,
    );
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let line = &told["art"]["lines"][0];
    let stretch = &line["stretches"][0];
    let text = told["fit"]["set_lines"][0]["text"].as_str().expect("a line");
    let bytes = |key: &str| stretch[key].as_u64().expect("a byte") as usize;
    assert_eq!(Some(&text[bytes("from")..bytes("to")]), stretch["words"].as_str());
    assert_eq!((line["grade"].as_str(), bytes("to")), (Some("lost"), text.len()));
    assert_eq!(told["art"]["lost"].as_u64(), Some(2), "the last line is short, and stands on the light half");
}

#[test]
fn without_art_nothing_is_said_of_it() {
    let brief = Brief::read("panel: { trim: 5 x 5 in }\n", Path::new("")).expect("a brief");
    let (_, report, advice) = assessed(&brief);
    assert_eq!((report.legibility.is_none(), &advice), (true, &ArtAdvice::default()));
    let told = json::written(
        &ReportJson::of(&report, &advice, LevelDetail::Values, ("draft.md", "brief.yaml")),
        Style::Compact,
    );
    assert!(!told.contains("\"art\"") && !told.contains("lines_lost"));
    assert!(!page(&report, &advice).contains("Ink"));
}

/// A brief of 5 by 5 in with a place of 4 by 2 in at its head, and a picture for the face and one for the place, each
/// of one shade.
fn in_place(place: &str, face: Option<u8>, own: u8) -> Brief {
    let art = if face.is_some() { "art: face.png, " } else { "" };
    let yaml = format!(
        "panel: {{ trim: 5 x 5 in, bleed: 0 in, {art}places: [{{ name: cloud, holds: blurb, size: 4 x 2 in, at: {{ \
         head: 0.5 in, fore-edge: 0.5 in }}, art: own.png, {place} }}] }}\ntype: {{ size: 12 pt, leading: 16 pt }}\n"
    );
    let mut brief = Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
    for picture in brief.arts_mut().flat_map(|art| art.pictures_mut()) {
        let (width, height, shade) = match picture.file.to_str() {
            Some("own.png") => (1200, 600, own),
            _ => (1500, 1500, face.unwrap_or_default()),
        };
        let pixels = vec![[shade; 3]; width * height];
        let picture_read = Picture { width, height, pixels, model: ColourModel::Rgb };
        let grounds = KeptGrounds::default();
        picture.read =
            Some(Arc::new(ArtFile { picture: picture_read, profile: None, inks: None, jpeg: None, grounds }));
    }
    brief
}

/// Copy in a place stands on the place's art, whatever the face has below it; what is told names the place.
#[test]
fn copy_is_held_against_the_art_of_its_own_place() {
    for (face, own, grade) in [
        (None, 235, Grade::Clear),
        (None, 30, Grade::Lost),
        (Some(30), 235, Grade::Clear),
        (Some(235), 30, Grade::Lost),
    ] {
        let (_, report, advice) = assessed(&in_place("inset: 0.3 in", face, own));
        let art = report.legibility.as_ref().expect("there is art");
        assert_eq!(art.count(grade), report.fit.lines.len(), "{face:?} {own}");
        let told = page(&report, &advice);
        assert!(told.contains("own.png, in \"cloud\", 1200 x 600 pixels, RGB: 300 to the inch\n"), "{told}");
        // The art goes with its place, so moving the place is no mend, and white ink is one.
        let helps: Vec<&Mend> = advice.mends.iter().flat_map(|mends| &mends.helps).collect();
        assert_eq!(helps.contains(&&Mend::Ink(Colour::White)), grade == Grade::Lost, "{helps:?}");
        assert!(!helps.iter().any(|mend| matches!(mend, Mend::Move(_))) && advice.quiet.is_none());
        let data = ReportJson::of(&report, &advice, LevelDetail::Values, ("draft.md", "brief.yaml"));
        let json = json::written(&data, Style::Compact);
        assert!(json.contains("\"place\":\"cloud\""), "{json}");
    }
}

/// Beside the form that the place's art is cut to, the face's art is behind the copy: what begins at the edge of the
/// form, here the right half of the place, is not clear on a dark face, and what keeps away from it is.
#[test]
fn art_of_a_place_goes_as_far_as_its_form() {
    let unclear = |inset: &str, face| {
        let half = "shape: { polygon: [50% 0%, 100% 0%, 100% 100%, 50% 100%] }";
        let brief = in_place(&format!("inset: {inset}, {half}"), Some(face), 235);
        let art = assessed(&brief).1.legibility.expect("there is art");
        assert!(!art.lines.is_empty(), "copy stands in the place");
        art.not_clear().count()
    };
    assert_eq!((unclear("0 in", 235), unclear("0.3 in", 30)), (0, 0));
    assert!(unclear("0 in", 30) > 0);
}

/// The title is judged on the art that runs round its spine; a title that is lost fails the draft.
#[test]
fn a_title_is_held_against_the_art_of_its_spine() {
    let judged = |spine_shade: u8, ink: &str| {
        let yaml = format!(
            "book: {{ title: The Lamp at Gull Point }}\npanel: {{ trim: 5 x 5 in, bleed: 0 in, art: {{ file: \
             cover.png, kind: round, spine: 0.5 in }} }}\nspine: {{ width: 0.5 in, type: {{ size: 12 pt }} }}\n\
             type: {{ headline: {{ ink: {ink} }} }}\n"
        );
        let mut brief = Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
        let (width, height) = (3150, 1500);
        let shade = |at: usize| if (1500..1650).contains(&(at % width)) { spine_shade } else { 240 };
        let pixels = (0..width * height).map(|at| [shade(at); 3]).collect();
        let picture = Picture { width, height, pixels, model: ColourModel::Rgb };
        let grounds = KeptGrounds::default();
        let file = Arc::new(ArtFile { picture, profile: None, inks: None, jpeg: None, grounds });
        brief.arts_mut().flat_map(|art| art.pictures_mut()).for_each(|it| it.read = Some(Arc::clone(&file)));
        let (_, report, advice) = assessed(&brief);
        let title = report.legibility.as_ref().and_then(|art| art.title.clone()).expect("a title on art");
        let lost = report.verdict.outside().any(|check| check.subject == Subject::LinesLost);
        assert_eq!(lost, title.judgement.grade == Grade::Lost);
        let outside = RowFigures::of(&report).outside;
        let is_named = outside.contains(&"the title on the spine is lost on the art".to_owned());
        assert_eq!(is_named, lost, "{outside:?}");
        let on_sheet = |is_spine| slug::facts(&report, &brief, is_spine)[0].contains("the title on the spine is lost");
        assert_eq!([true, false].map(on_sheet), [lost, false], "the spine's own sheet tells it");
        (title.judgement.grade, title.mended_by, page(&report, &advice))
    };
    let (grade, mended_by, told) = judged(30, "black");
    assert_eq!((grade, mended_by), (Grade::Lost, Some(Colour::White)));
    assert!(
        told.contains("black: the title on the spine, lost") && told.contains("white ink makes it clear"),
        "{told}"
    );
    let (grade, mended_by, told) = judged(30, "white");
    assert_eq!((grade, mended_by), (Grade::Clear, None));
    assert!(told.contains("white: the title on the spine, clear"), "{told}");
    assert_eq!(judged(240, "black").0, Grade::Clear);
}
