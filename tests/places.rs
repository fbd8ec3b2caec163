//! Laws of places: copy that stands in several of them, tried on copy of any kind.

use std::path::Path;
use std::sync::Arc;

use blurbwright::brief::Brief;
use blurbwright::brief::place::FileOutline;
use blurbwright::draft::Draft;
use blurbwright::report::assess;
use blurbwright::setting::lines::SetLine;
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy, castoff};
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;

use crate::tried::law;

/// Sets a draft by a brief.
fn set(source: &str, brief: &Brief) -> (Draft, Setting) {
    let (draft, faces) = (Draft::read(source), Faces::built_in());
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    let setting = Setting::new(&copy, copy.forms(), &Rooms::of(brief));
    drop(copy);
    (draft, setting)
}

/// A brief of a panel of 400 by 500 pt with margins of 20 pt, a keep-out at its foot, and more keys of the panel.
fn brief(keys: &str) -> Brief {
    let yaml = format!(
        "panel:\n  trim: 400 x 500 pt\n  margins: 20 pt\n  keep_out: [{{ name: mark, size: 90 x 60 pt, corner: \
         foot-spine, clearance: 6 pt }}]\n{keys}\ntype: {{ size: 12 pt, leading: 16 pt }}\n"
    );
    Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"))
}

/// Places of every kind that can stand beside each other.
const PLACES: &str = "  places:
    - { name: top, holds: headline, edges: { foot: 420 pt }, align: centre, stack: centre }
    - { name: praise, holds: quote, size: 180 x 120 pt, at: { head: 90 pt, fore-edge: 20 pt } }
    - { name: second, holds: quote 2, follows: praise, space: 8 pt, edges: { foot: 170 pt } }
    - { name: ages, holds: [age line, price line], above: mark, edges: { head: 360 pt } }
    - { name: titles, holds: other titles, size: 240 x 80 pt, corner: foot-fore-edge, columns: 2 }
";

/// Every kind of copy, of some paragraphs of plain words.
fn copy() -> impl Strategy<Value = String> {
    let words = |most: usize| prop::collection::vec("[a-z]{1,9}", 1..most).prop_map(|words| words.join(" "));
    let parts = (words(6), words(60), words(25), words(25), prop::collection::vec(words(4), 1..8), words(5));
    parts.prop_map(|(headline, blurb, quote, other, titles, age)| {
        let titles: String = titles.iter().map(|title| format!("- {title}\n")).collect();
        format!(
            "# {headline}\n\n{blurb}\n\n> {quote}\n> — Ida Voss\n\n> {other}\n> — Per Lund\n\n## \
             Other titles\n\n{titles}\n## Age line\n\n{age}\n"
        )
    })
}

fn box_of(line: &SetLine) -> Rect {
    Rect { x: line.x, y: line.top, width: line.width, height: line.leading }
}

/// Holds that every letter of a draft stands on one line, and that the lines of a paragraph go on where the one before
/// ends.
pub(crate) fn check_letters(draft: &Draft, setting: &Setting) -> Result<(), TestCaseError> {
    for (number, block) in draft.blocks.iter().enumerate() {
        let mut end = 0;
        for line in setting.lines.iter().filter(|line| line.paragraph == number) {
            prop_assert!(block.text()[end..line.text.start].trim().is_empty());
            end = line.text.end;
        }
        prop_assert!(block.text()[end..].trim().is_empty());
    }
    Ok(())
}

proptest! {
    #![proptest_config(law(60))]

    /// A place as large as the live area that holds all sets it as a panel without places does.
    #[test]
    fn a_place_like_the_live_area_changes_nothing(source in copy()) {
        let all = "[headline, blurb, quote, note on the author, other titles, age line, price line]";
        let whole = format!("  places: [{{ name: whole, holds: {all}, edges: {{ head: 20 pt }} }}]\n");
        let (_, without) = set(&source, &brief(""));
        let (_, with) = set(&source, &brief(&whole));
        prop_assert_eq!(without.lines, with.lines);
    }

    /// Every letter stands on one line, and the lines of a paragraph go on where the one before ends.
    #[test]
    fn every_letter_stands_on_one_line(source in copy()) {
        let (draft, setting) = set(&source, &brief(PLACES));
        check_letters(&draft, &setting)?;
    }

    /// A line that is not over stands in its place, clear of keep-outs, and meets no line of another place.
    #[test]
    fn lines_stand_in_their_places(source in copy()) {
        let brief = brief(PLACES);
        let (_, setting) = set(&source, &brief);
        let within: Vec<&SetLine> = setting.lines.iter().filter(|line| line.fits()).collect();
        for (number, line) in within.iter().enumerate() {
            let place = setting.places[line.place].room.live();
            prop_assert!(place.holds(&box_of(line)), "{:?} in {:?}", line, place);
            for keep_out in &brief.panel.keep_outs {
                prop_assert!(!keep_out.cleared().overlaps(&box_of(line)), "{:?}", line);
            }
            for other in within[..number].iter().filter(|other| other.place != line.place) {
                prop_assert!(!box_of(other).overlaps(&box_of(line)), "{:?} {:?}", line, other);
            }
        }
    }

    /// Copy that follows begins right below the copy that it follows, and one space.
    #[test]
    fn what_follows_begins_where_the_other_ends(source in copy()) {
        let (_, setting) = set(&source, &brief(PLACES));
        let end = setting.places[1].end.expect("the first quote has a line");
        prop_assert_eq!(setting.places[2].room.live().y, end + Length::pt(8.0));
    }

    /// The order of places that do not depend on each other changes no line.
    #[test]
    fn the_order_of_places_changes_nothing(source in copy()) {
        let mut lines: Vec<&str> = PLACES.lines().collect();
        lines[1..].reverse();
        let backwards = lines.join("\n") + "\n";
        let shown = |keys: &str| {
            let (_, setting) = set(&source, &brief(keys));
            setting.lines.iter().map(|line| (line.x, line.top, line.text.clone(), line.over)).collect::<Vec<_>>()
        };
        prop_assert_eq!(shown(PLACES), shown(&backwards));
    }

    /// Two columns of a height hold what one of twice the height holds, where leadings divide it.
    #[test]
    fn two_columns_are_one_of_twice_the_height(words in prop::collection::vec("[a-z]{1,9}", 1..120)) {
        let source = words.join(" ");
        let at = "holds: blurb, at: { head: 20 pt, fore-edge: 20 pt }";
        let place = |keys: &str| format!("  places: [{{ name: it, {at}, {keys} }}]\n");
        let (_, two) = set(&source, &brief(&place("size: 312 x 64 pt, columns: 2, gutter: 12 pt")));
        let (_, one) = set(&source, &brief(&place("size: 150 x 128 pt")));
        let texts = |setting: &Setting| setting.lines.iter().map(|line| line.text.clone()).collect::<Vec<_>>();
        prop_assert_eq!(texts(&two), texts(&one));
        prop_assert_eq!(two.lines_over(), one.lines_over());
        let (head, side) = (Length::pt(20.0), Length::pt(20.0));
        for (number, line) in two.lines.iter().enumerate().take(8) {
            let (column, row) = (number as i64 / 4, number as i64 % 4);
            prop_assert_eq!((line.x, line.top), (side + Length::pt(162.0) * column, head + Length::pt(16.0) * row));
        }
    }

    /// The corners of a line that fits stand inside an ellipse, as its equation has it.
    #[test]
    fn lines_stand_inside_shapes(words in prop::collection::vec("[a-z]{1,9}", 1..60), stack in 0..3_usize) {
        let stack = ["head", "centre", "foot"][stack];
        let at = "size: 260 x 160 pt, at: { head: 20 pt, fore-edge: 40 pt }";
        let form = format!("shape: ellipse, inset: 0 pt, align: centre, stack: {stack}");
        let bubble = format!("  places: [{{ name: bubble, holds: headline, {at}, {form} }}]\n");
        let (_, setting) = set(&format!("# {}\n", words.join(" ")), &brief(&bubble));
        for line in setting.lines.iter().filter(|line| line.fits()) {
            for (x, y) in [(line.x, line.top), (line.x + line.width, line.top), (line.x, line.foot())] {
                let (across, down) = ((x.to_pt() - 170.0) / 130.0, (y.to_pt() - 100.0) / 80.0);
                prop_assert!(across * across + down * down <= 1.0001, "{} {}", x, y);
            }
        }
    }

    /// The whole fits where every place does, and a report's sums are those of its places.
    #[test]
    fn the_whole_is_the_sum_of_its_places(source in copy()) {
        let fit = assess(&Draft::read(&source), &brief(PLACES), &Faces::built_in()).fit;
        prop_assert_eq!(fit.fits(), fit.places.iter().all(|place| place.fits()));
        prop_assert_eq!(fit.castoff.lines_over, fit.places.iter().map(|place| place.castoff.lines_over).sum::<usize>());
        prop_assert_eq!(fit.castoff.lines, fit.places.iter().map(|place| place.castoff.lines).sum::<usize>());
        prop_assert_eq!(fit.words_over, fit.places.iter().map(|place| place.over.words).sum::<usize>());
    }
}

/// The largest size of copy in several places is that of trying each size, and what holds it is over one step above.
#[test]
fn the_largest_size_is_that_of_trying_each_in_places() {
    let source = "# Up and down\n\nOne letter, one wall, one day, and a snail that never hurries.\n\n\
                  > \"Slow and sly.\"\n> — Ida Voss\n\n> \"Twice before tea.\"\n> — Per Lund\n\n\
                  ## Age line\n\nAges 4 to 7\n";
    let (brief, draft, faces) = (brief(PLACES), Draft::read(source), Faces::built_in());
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    let rooms = Rooms::of(&brief);
    let fits = |tenths: &i64| Setting::new(&copy, &copy.forms().at(Length::pt(0.1) * *tenths), &rooms).fits();
    let largest = (40..=400).rev().find(fits).map(|tenths| Length::pt(0.1) * tenths);
    assert!(largest.is_some_and(|size| size > Length::pt(8.0)), "{largest:?}");
    assert_eq!(castoff::largest_size(&copy, &rooms), largest);
    let holds = |place: usize, tenths: i64| {
        let setting = Setting::new(&copy, &copy.forms().at(Length::pt(0.1) * tenths), &rooms);
        setting.lines_in(place).all(SetLine::fits)
    };
    let each = (0..rooms.places().len())
        .map(|place| (40..=400).rev().find(|tenths| holds(place, *tenths)).map(|tenths| Length::pt(0.1) * tenths));
    assert_eq!(castoff::largest_sizes(&copy, &rooms), each.collect::<Vec<_>>());
    let held = castoff::held_by(largest, &copy, &rooms);
    let above = Setting::new(&copy, &copy.forms().at(largest.unwrap_or_default() + Length::pt(0.1)), &rooms);
    let is_over = |place: &usize| !above.lines_in(*place).all(SetLine::fits);
    let over: Vec<usize> = (0..rooms.places().len()).filter(is_over).collect();
    assert!(!over.is_empty());
    assert_eq!(held, over);
}

/// The copy of flaps stands on their own faces, each seen from outside: the fold at the left of the front flap and at
/// the right of the back flap.
#[test]
fn flaps_have_their_fold_beside_the_cover() {
    let margins = "{ head: 30 pt, foot: 30 pt, fold: 40 pt, edge: 10 pt }";
    let flap = |key: &str, holds: &str| format!("{key}: {{ width: 200 pt, margins: {margins}, holds: {holds} }}\n");
    let flaps = flap("front_flap", "blurb") + &flap("back_flap", "note on the author");
    let (draft, setting) = set("Slow.\n\n## Note on the author\n\nKeeps snails.\n", &brief(&flaps));
    assert_eq!(draft.blocks.len(), 2);
    let places: Vec<(Length, Length)> = setting.lines.iter().map(|line| (line.x, line.top)).collect();
    assert_eq!(places, [(Length::pt(40.0), Length::pt(30.0)), (Length::pt(10.0), Length::pt(30.0))]);
}

/// A panel that is tried at the desk is read anew at each key; its files are not.
#[test]
fn a_tried_panel_keeps_its_outlines_and_its_flaps_are_as_high_as_it() {
    let text = "panel:
  trim: 200 x 250 mm
  binding: jacket
  places: [{ name: cloud, holds: blurb, shape: cloud.png, edges: { foot: 150 mm } }]
back_flap:
  width: 90 mm
  places: [{ name: life, holds: headline, shape: { file: cloud.png, opacity: 5% }, edges: { head: 20 mm } }]
";
    let mut brief = Brief::read(text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"));
    let outlines: Vec<Arc<FileOutline>> = (0..2).map(|_| Arc::default()).collect();
    brief.file_shapes_mut().zip(&outlines).for_each(|(shape, outline)| shape.outline = Some(Arc::clone(outline)));
    let panel = brief.written_panel();
    let value = |name: &str| panel.values().into_iter().find(|value| value.name == name).expect("a value");
    let tried = panel.stepped(&value("height"), 10).expect("a higher panel");
    assert!(tried.panel.face().height > brief.panel.face().height);
    assert_eq!(tried.flaps[0].size.height, tried.panel.face().height);
    let live = tried.flaps[0].live_area();
    assert_eq!(tried.flaps[0].places[0].bounds.foot(), live.foot());
    let mut tried = Brief { panel: tried.panel, flaps: tried.flaps, ..brief.clone() };
    for (shape, outline) in tried.file_shapes_mut().zip(&outlines) {
        assert!(shape.outline.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, outline)), "{shape:?}");
    }
    let refused = panel.typed(&value("binding"), "case").expect_err("a case has no flaps");
    assert!(refused.starts_with("a case has no flaps"), "{refused}");
}
