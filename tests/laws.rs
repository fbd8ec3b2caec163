//! Laws: what holds for any copy and any panel, tried on copy made at random.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::typography::Align;
use blurbwright::draft::Draft;
use blurbwright::print::json::{self, Style};
use blurbwright::print::level_data::LevelDetail;
use blurbwright::print::report_data::ReportJson;
use blurbwright::print::text::{self, ReportPage};
use blurbwright::report::mends::ArtAdvice;
use blurbwright::report::{Assessment, Report, ReportMemory, assess};
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy, breaks};
use blurbwright::units::{Em, Length, Rect};
use proptest::prelude::*;
use serde_json::Value;

use crate::tried::law;

const TYPE: &str = "type: { size: 13 pt, leading: 18 pt, headline: { size: 20 pt }, quote: { indent: 9 pt } }\n";

/// Panels of every sort, from one with no keep-out to one with hardly any room.
const BRIEFS: [&str; 5] = [
    "panel: { trim: 8 x 8 in }\n",
    "panel:\n  trim: 8.5 x 8.5 in\n  margins: { head: 4 in, spine: 1 in }\n  keep_out:\n    - { barcode: EAN-13, \
     corner: foot-spine }\n    - { name: mark, size: 0.6 x 0.6 in, corner: foot-fore-edge }\n",
    "panel:\n  trim: 5 x 8 in\n  keep_out:\n    - { name: art, size: 2 x 3 in, at: { head: 2 in, spine: 1.5 in } \
     }\n    - { name: star, size: 1 x 1 in, at: { head: 4 in, fore-edge: 0 in } }\n",
    "book: { kind: board book, names: [Oona] }\nterms: [lamp, { term: gull point, also: [the point], must: true \
     }]\navoid: [storm]\npanel: { trim: 3 x 3 in, margins: 1.45 in }\n",
    "panel:\n  trim: 4 x 4 in\n  keep_out:\n    - { name: all, size: 2.9 x 3.9 in, at: { head: 0.05 in, spine: 0.5 in \
     }, clearance: 0 in }\n",
];

fn brief(yaml: &str) -> Brief {
    Brief::read(&format!("{yaml}{TYPE}"), Path::new("")).unwrap_or_else(|fault| panic!("{fault} in\n{yaml}"))
}

/// Panels whose copy stands in places, in shapes and on a flap.
const PLACED: [&str; 2] = [
    "panel:\n  trim: 5 x 8 in\n  keep_out: [{ name: moon, shape: ellipse, size: 1 x 1 in, corner: head-spine }]\n  \
     places:\n    \
     - { name: it, holds: [headline, blurb], shape: { polygon: [0% 10%, 60% 0%, 100% 40%, 70% 100%, 10% 90%] }, size: \
     4 x 5 in, \
     corner: head-fore-edge, inset: 4 pt }\n    - { name: more, holds: quote, follows: it }\n",
    "panel:\n  trim: 5 x 8 in\n  binding: jacket\n  places: [{ name: it, holds: headline, shape: ellipse, size: 3.5 x \
     3 in, \
     corner: head-fore-edge, stack: centre }]\nfront_flap: { width: 3 in, holds: blurb }\n",
];

/// Other ways to set the blurb.
const KEYS: [&str; 6] = [
    "align: justified",
    "align: justified, hyphenate: true",
    "align: justified, breaks: first-fit, hang_quotes: true",
    "breaks: total-fit, hyphenate: true, hang_quotes: true, stack: centre",
    "align: centre, breaks: total-fit, stack: foot",
    "align: justified, hang_quotes: true, stack: foot",
];

fn brief_of(panel: &str, keys: &str) -> Brief {
    let yaml = format!("{panel}type: {{ size: 13 pt, leading: 18 pt, quote: {{ indent: 9 pt }}, {keys} }}\n");
    Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault} in\n{yaml}"))
}

/// Pieces of copy: plain words, and all that ever made trouble.
fn piece() -> impl Strategy<Value = String> {
    prop_oneof![
        8 => "[a-zA-Z]{1,12}[,.!?;:]? ",
        2 => prop::sample::select(vec![
            "lamp ", "Gull Point ", "the\npoint ", "storm—", "and/or ",
            "ex\u{ad}tra\u{ad}or\u{ad}di\u{ad}na\u{ad}ry ", "well-known ",
            "no\u{a0}break ", "\u{200b}", "\u{2003}", "\t", "AV", "To.", "“Run!” ", "U.S. ", "1,000.5 ", "… ", "'tis ",
        ]).prop_map(str::to_owned),
        2 => prop::sample::select(vec![
            "\n", "\n\n", "\r\n\r\n", "\r", "# ", "\n# Head\n\n", "## Other titles\n\n", "> ",
            "\n\n> \"Said.\"\n> — Who\n\n", "- ", "1. ",
            "*", "**", "_", "`", "```\n", "<!-- ", " -->", "<b>", "&amp;", "&#0;", "&nbsp;", "[a](b)", "![", "\\",
            "  \n", "---\n", "|",
        ]).prop_map(str::to_owned),
        1 => prop::sample::select(vec![
            "\0", "\u{1b}[31m", "\u{9b}", "\u{7f}", "\u{85}", "\u{2028}", "\u{feff}", "\u{202e}", "\u{fffd}",
            "e\u{301}\u{301}", "\u{301}",
            "👩‍👩‍👧", "🇬🇧", "👍🏽", "שלום ", "مرحبا ", "灯台", "สวัสดี", "नमस्ते", "ﬁ", "İ", "ß", "\u{10ffff}", "\u{e000}",
        ]).prop_map(str::to_owned),
        1 => any::<char>().prop_map(String::from),
        1 => (2_usize..300).prop_map(|length| "w".repeat(length)),
    ]
}

fn copy() -> impl Strategy<Value = String> {
    prop_oneof![6 => prop::collection::vec(piece(), 0..80).prop_map(|pieces| pieces.concat()), 1 => any::<String>()]
}

/// Copy that goes into shapes at every size within a moment, where nothing is optimised.
fn short_copy() -> impl Strategy<Value = String> {
    prop::collection::vec(piece(), 0..16).prop_map(|pieces| pieces.concat())
}

/// Copy of words alone, in paragraphs.
fn plain_copy() -> impl Strategy<Value = String> {
    prop::collection::vec("([A-Za-z]{1,11}[,.]?[ \n]){1,40}", 1..4).prop_map(|paragraphs| paragraphs.join("\n\n"))
}

/// Copy that rules have something to say about, with the terms and names of the brief for boards.
fn asked_copy() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "Oona ",
        "Otto Fenn runs ",
        "Mia hides ",
        "Mr. Bell ran, ",
        "He climbed. ",
        "She climbs, and ",
        "They sleep. ",
        "we run. ",
        "You can ",
        "in order to ",
        "very big ",
        "really small ",
        "*very* loud ",
        "a heartwarming, magical ",
        "make a decision ",
        "first and foremost ",
        "the the ",
        "was built by the men ",
        "is painted ",
        "nice nice ",
        "good ",
        "old red wet dog ",
        "“Run, I am here!” ",
        "'tis ",
        "don’t ",
        "don't ",
        "\"Yes\" ",
        "- ",
        "... ",
        "the lamp ",
        "gull-point ",
        "Gull\nPoint ",
        "a storm ",
        "Will she go? ",
        "stop",
        ", ",
        ". ",
        ". ",
        "? ",
        "in the end, ",
        "bestselling ",
        "1990-1995 ",
        "\n\n",
        "\n\n",
        "\n\n# ",
        "\n\n> ",
        "\n\n## Note on the author\n\n",
        "  ",
        "*",
    ]);
    prop::collection::vec(piece, 0..60).prop_map(|pieces| pieces.concat())
}

fn as_json(report: &Report) -> String {
    json::written(
        &ReportJson::of(report, &ArtAdvice::default(), LevelDetail::Counted, ("draft.md", "brief.yaml")),
        Style::Compact,
    )
}

/// Every pair of `start` and `end` anywhere in a report.
fn spans(value: &Value) -> Vec<(usize, usize)> {
    match value {
        Value::Array(items) => items.iter().flat_map(spans).collect(),
        Value::Object(fields) => {
            let edge = |key: &str| fields.get(key).and_then(Value::as_u64).map(|edge| edge as usize);
            match (edge("start"), edge("end")) {
                (Some(start), Some(end)) => vec![(start, end)],
                _ => fields.values().flat_map(spans).collect(),
            }
        }
        _ => Vec::new(),
    }
}

fn setting<R>(source: &str, brief: &Brief, look: impl FnOnce(&Setting, &ShapedCopy<'_>, &Rooms) -> R) -> R {
    let (draft, faces, room) = (Draft::read(source), Faces::built_in(), Rooms::of(brief));
    let copy = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
    look(&Setting::new(&copy, copy.forms(), &room), &copy, &room)
}

/// The live area of a panel without places.
fn live_of(rooms: &Rooms) -> Rect {
    rooms.places()[0].room().live()
}

/// The depth that the copy takes on a panel without places.
fn depth_of(setting: &Setting) -> Length {
    setting.places[0].depth
}

proptest! {
    #![proptest_config(law(6))]

    /// A memory of what was found changes nothing that is found, whatever was read with it before, in whatever type and
    /// by whatever brief.
    #[test]
    fn a_memory_changes_no_report(
        edits in prop::collection::vec(
            (prop_oneof![short_copy(), asked_copy()], asked_copy(), 0..BRIEFS.len() + PLACED.len(), 0..KEYS.len()),
            1..3,
        )
    ) {
        let (faces, mut memory) = (Faces::built_in(), ReportMemory::default());
        let panels = [&BRIEFS[..], &PLACED[..]].concat();
        for (kept, changed, panel, keys) in edits {
            for source in [format!("{kept}\n\n{changed}"), kept.clone(), format!("{changed}\n\n{kept}\n\n{kept}")] {
                let (draft, brief) = (Draft::read(&source), brief_of(panels[panel], KEYS[keys]));
                let again = Assessment::of(&draft, &brief, &faces, &mut memory);
                let anew = Assessment::of(&draft, &brief, &faces, &mut ReportMemory::default());
                prop_assert_eq!(as_json(&again.report), as_json(&assess(&draft, &brief, &faces)));
                prop_assert_eq!(&again.queries, &anew.queries);
                prop_assert_eq!(&again.drawings, &anew.drawings);
            }
        }
    }
}

proptest! {
    #![proptest_config(law(128))]

    /// Copy that is bad is not an error: every copy has a report, the same each time, and every form of it.
    #[test]
    fn any_copy_has_one_report(source in copy(), which in 0..BRIEFS.len()) {
        let (brief, faces) = (brief(BRIEFS[which]), Faces::built_in());
        let report = assess(&Draft::read(&source), &brief, &faces);
        let again = assess(&Draft::read(&source), &brief, &faces);
        prop_assert_eq!(as_json(&report), as_json(&again));
        for columns in [1, 40, 80, 200] {
            let advice = ArtAdvice::default();
            let page = ReportPage { path: "draft.md", title: "", source: &source, columns, advice: &advice };
            let page = text::written(&report, &page);
            prop_assert!(page.ends_with('\n'));
            let control = page.chars().find(|character| character.is_control() && *character != '\n');
            prop_assert_eq!(control, None);
        }
    }

    #[test]
    fn every_span_lies_in_the_file_between_characters(source in copy()) {
        let brief = brief(BRIEFS[3]);
        let draft = Draft::read(&source);
        let report = as_json(&assess(&draft, &brief, &Faces::built_in()));
        let report: Value = serde_json::from_str(&report).expect("a report is JSON");
        let of_blocks = draft.blocks.iter().map(|block| block.whole_span()).map(|span| (span.start, span.end));
        for (start, end) in spans(&report).into_iter().chain(of_blocks) {
            prop_assert!(start <= end && source.get(start..end).is_some(), "{}..{} in {:?}", start, end, source);
        }
    }

    /// Between the lines of a block, and before and after them, only blanks are left out.
    #[test]
    fn lines_hold_every_letter_in_order(source in copy(), which in 0..BRIEFS.len()) {
        setting(&source, &brief(BRIEFS[which]), |setting, copy, _| {
            let mut lines = setting.lines.iter().peekable();
            for (number, paragraph) in copy.paragraphs.iter().enumerate() {
                let text = paragraph.block.text();
                let mut end = 0;
                while let Some(line) = lines.next_if(|line| line.paragraph == number) {
                    let left_out = &text[end..line.text.start];
                    prop_assert!(left_out.chars().all(breaks::hangs), "{:?} is on no line of {:?}", left_out, text);
                    end = line.text.end;
                }
                prop_assert!(text[end..].chars().all(breaks::hangs), "{:?} is on no line", &text[end..]);
            }
            prop_assert!(lines.next().is_none());
            Ok(())
        })?;
    }

    #[test]
    fn no_line_is_wider_than_its_measure_or_stands_in_a_keep_out(source in copy(), which in 0..BRIEFS.len()) {
        let brief = brief(BRIEFS[which]);
        setting(&source, &brief, |setting, _, room| {
            let live = live_of(room);
            for line in setting.lines.iter().filter(|line| !line.too_wide) {
                prop_assert!(line.width.fits(line.measure), "{:?}", line);
                prop_assert!(live.x.fits(line.x) && (line.x + line.width).fits(live.right()), "{:?}", line);
                let place = Rect { x: line.x, y: line.top, width: line.width, height: line.leading };
                let enters = brief.panel.keep_outs.iter().any(|keep_out| keep_out.cleared().overlaps(&place));
                prop_assert!(!enters || line.over, "{:?} stands in a keep-out", line);
            }
            Ok(())
        })?;
    }

    /// However lines are chosen and stretched, each is as wide as its glyphs and stands in its measure; a line that a
    /// justified paragraph does not end with fills it.
    #[test]
    fn lines_of_every_kind_keep_their_measure(source in copy(), which in 0..3_usize, keys in 0..KEYS.len()) {
        let brief = brief_of(BRIEFS[which], KEYS[keys]);
        setting(&source, &brief, |setting, copy, room| {
            for (number, line) in setting.lines.iter().enumerate() {
                prop_assert!(line.too_wide || (line.width - line.hung).fits(line.measure), "{:?}", line);
                prop_assert!(line.too_wide || line.hung == Length::ZERO || line.x + line.hung == live_of(room).x);
                let ends = setting.lines.get(number + 1).is_none_or(|next| next.paragraph != line.paragraph);
                let text = copy.paragraphs[line.paragraph].block.text();
                let forced = text[line.text.end..].chars().take_while(|c| breaks::hangs(*c)).any(|c| c == '\n');
                let kind = copy.paragraphs[line.paragraph].block.kind;
                let justified = brief.typography.of(kind).align == Align::Justified;
                if justified && !ends && !forced && !line.too_wide && line.blanks > Em::ZERO {
                    prop_assert_eq!(line.width - line.hung, line.measure, "{:?}", line);
                }
                if !justified || ends || forced {
                    prop_assert!(line.widened <= Length::ZERO, "{:?}", line);
                }
            }
            Ok(())
        })?;
    }

    /// Total fit without stretch never takes more depth than first fit, and neither takes more lines for being
    /// hyphenated.
    #[test]
    fn ragged_total_fit_takes_no_more_depth(source in plain_copy(), which in 0..3_usize) {
        let depth = |keys: &str| setting(&source, &brief_of(BRIEFS[which], keys), |setting, _, _| depth_of(setting));
        prop_assert!(depth("breaks: total-fit").fits(depth("breaks: first-fit")));
        // Where no keep-out stands in the way, nothing takes fewer lines than first fit.
        prop_assert!(which > 0 || depth("breaks: first-fit").fits(depth("breaks: total-fit")));
        prop_assert!(depth("breaks: total-fit, hyphenate: true").fits(depth("hyphenate: true")));
    }

    /// Wherever a stack stands it is the same copy, and it never spills when it fits at the head.
    #[test]
    fn a_stack_stands_where_it_is_asked_to(source in plain_copy(), which in 0..3_usize) {
        let look = |keys: &str| setting(&source, &brief_of(BRIEFS[which], keys), |setting, _, room| {
            let foot = setting.lines.last().map_or(live_of(room).y, |line| line.foot());
            let head = setting.lines.first().map_or(live_of(room).y, |line| line.top);
            (setting.fits(), head - live_of(room).y, live_of(room).foot() - foot)
        });
        let (fits, at_head, left) = look("stack: head");
        for keys in ["stack: centre", "stack: foot"] {
            let (still_fits, above, below) = look(keys);
            prop_assert_eq!(fits, still_fits);
            if !fits {
                prop_assert_eq!((above, below), (at_head, left));
            } else if which == 0 {
                // Without keep-outs the place is exact.
                let wanted = if keys == "stack: foot" { Length::ZERO } else { above };
                let off = if below > wanted { below - wanted } else { wanted - below };
                prop_assert!(off.fits(Length::pt(0.01)), "{} {}", above, below);
            }
        }
    }

    #[test]
    fn lines_go_down_the_panel_without_overlap(source in copy(), which in 0..BRIEFS.len()) {
        setting(&source, &brief(BRIEFS[which]), |setting, _, room| {
            let mut foot = live_of(room).y;
            for line in &setting.lines {
                prop_assert!(foot.fits(line.top), "{:?} begins above {}", line, foot);
                prop_assert!(line.top < line.baseline && line.baseline < line.foot());
                foot = line.foot();
            }
            Ok(())
        })?;
    }

    /// Lines are filled one after another, so what goes into a narrow panel goes into a wider one in no more lines.
    #[test]
    fn without_keep_outs_a_wider_panel_never_needs_more_lines(
        source in plain_copy(),
        narrow in 150..500_u32,
        more in 1..200_u32,
    ) {
        let lines = |width: u32| {
            let brief = brief(&format!("panel: {{ trim: {width} pt x 8 in, margins: 20 pt }}\n"));
            setting(&source, &brief, |setting, _, _| setting.lines.len())
        };
        let (narrow_lines, wide_lines) = (lines(narrow), lines(narrow + more));
        let told = format!("{narrow_lines} lines at {narrow} pt, {wide_lines} at {} pt", narrow + more);
        prop_assert!(wide_lines <= narrow_lines, "{}", told);
    }
}

proptest! {
    #![proptest_config(law(32))]

    /// Set again at the size that is reported, the copy fits; at every larger size up to 40 pt it does not.
    #[test]
    fn the_largest_size_is_the_largest(source in plain_copy(), which in 0..3_usize) {
        let (brief, faces, draft) = (brief(BRIEFS[which]), Faces::built_in(), Draft::read(&source));
        let largest = assess(&draft, &brief, &faces).fit.largest_size;
        let room = Rooms::of(&brief);
        let fits = |size: Length| {
            let typography = brief.typography.tried(Some(size), None, None);
            let copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
            Setting::new(&copy, copy.forms(), &room).fits()
        };
        let tenths = |size: Length| (size.to_pt() * 10.0).round() as i64;
        if let Some(size) = largest {
            prop_assert!(fits(size), "{} does not fit", size);
        }
        // Each size is shaped afresh here, so the whole scan is made in steps and the next tenth always.
        let next = largest.map_or(40, |size| tenths(size) + 1);
        for size in (next..=400).step_by(23) {
            prop_assert!(!fits(Length::pt(0.1) * size), "{} tenths of a point fit too", size);
        }
    }
}
