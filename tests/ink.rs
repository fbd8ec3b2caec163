//! A law of ink: no letter is drawn where copy may not stand. The outlines of every glyph, in its place on the panel,
//! are held against the keep-outs and the live area, for copy and settings made at random.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::draft::Draft;
use blurbwright::report::assess;
use blurbwright::report::drawing::{Drawing, Line};
use blurbwright::setting::Faces;
use blurbwright::setting::glyphs::GlyphRun;
use blurbwright::setting::outline::PathStep;
use blurbwright::units::{Length, Rect};
use proptest::prelude::*;

use crate::tried::law;

/// Panels with keep-outs at the foot, in the middle and at the head, cleared as the brief has it or by a millimetre.
const PANELS: [&str; 3] = [
    "panel: { trim: 8.5 x 8.5 in, margins: { head: 4 in, spine: 1 in }, keep_out: [{ barcode: EAN-13, corner: \
     foot-spine }, \
     { name: mark, size: 0.6 x 0.6 in, corner: foot-fore-edge }] }\n",
    "panel: { trim: 5 x 8 in, keep_out: [{ name: art, size: 2 x 3 in, at: { head: 2 in, spine: 1.5 in } }, \
     { name: star, size: 1 x 1 in, at: { head: 4 in, fore-edge: 0 in } }] }\n",
    "panel: { trim: 6 x 6 in, keep_out: [{ name: art, size: 3 x 1 in, at: { head: 0.5 in, spine: 0.5 in }, clearance: \
     1 mm }] }\n",
];

const KEYS: [&str; 5] = [
    "align: left",
    "align: justified, hyphenate: true",
    "align: justified, hang_quotes: true, stack: foot",
    "breaks: total-fit, align: centre, style: italic",
    "font: sans, stack: centre, hyphenate: true, headline: { size: 20 pt }",
];

/// How far ink may stand out of its line's box to the side: an italic letter reaches beyond its own width, a fifth of
/// its size at most, which is what a clearance is for; a box may have none.
fn overhang() -> Length {
    Length::pt(2.4)
}

/// A keep-out less what may overhang into it from either side.
fn without_overhang(rect: Rect) -> Rect {
    Rect { x: rect.x + overhang(), width: rect.width - overhang() * 2, ..rect }
}

/// The box round the ink of a run; none where there is none.
pub(crate) fn ink(run: &GlyphRun, faces: &Faces) -> Option<Rect> {
    let face = faces.family(&run.font).face(run.emphasis);
    let mut corners: Option<[f64; 4]> = None;
    for glyph in &run.glyphs {
        for step in face.outline(glyph.id).steps {
            let places = match step {
                PathStep::Move(to) | PathStep::Line(to) => vec![to],
                PathStep::Quad(one, to) => vec![one, to],
                PathStep::Curve(one, two, to) => vec![one, two, to],
                PathStep::Close => Vec::new(),
            };
            for [across, up] in places {
                let size = run.size.to_pt();
                let (x, y) = (glyph.at.x.to_pt() + f64::from(across) * size, glyph.at.y.to_pt() - f64::from(up) * size);
                let [left, top, right, foot] = corners.unwrap_or([x, y, x, y]);
                corners = Some([left.min(x), top.min(y), right.max(x), foot.max(y)]);
            }
        }
    }
    corners.map(|[left, top, right, foot]| Rect {
        x: Length::pt(left),
        y: Length::pt(top),
        width: Length::pt(right - left),
        height: Length::pt(foot - top),
    })
}

fn check(source: &str, yaml: &str) -> Result<usize, TestCaseError> {
    let (brief, faces) = (Brief::read(yaml, Path::new("")).expect("a brief"), Faces::built_in());
    let draft = Draft::read(source);
    let report = assess(&draft, &brief, &faces);
    let drawing = Drawing::of(&report, &draft, &brief, &faces);
    let live = brief.panel.live_area();
    let mut runs = 0;
    let lines = drawing.lines().zip(&report.fit.lines);
    for (line, set) in lines.filter(|(line, set)| !line.over && !set.set.too_wide) {
        let Line { runs: of_line, text, .. } = line;
        for ink in of_line.iter().filter_map(|run| ink(run, &faces)) {
            runs += 1;
            for keep_out in &brief.panel.keep_outs {
                prop_assert!(
                    !without_overhang(keep_out.rect).overlaps(&ink),
                    "{} is printed in {}",
                    text,
                    keep_out.name
                );
            }
            let (left, right) = (live.x - set.set.hung - overhang(), live.right() + overhang());
            prop_assert!(left < ink.x && ink.right() < right, "{} leaves the live area", text);
            prop_assert!(live.y < ink.y && ink.foot() < live.foot(), "{} is above or below the live area", text);
        }
    }
    Ok(runs)
}

proptest! {
    #![proptest_config(law(96))]

    #[test]
    fn no_ink_where_copy_may_not_stand(
        words in prop::collection::vec(
            "(“|\"|)([A-Za-z]{1,12}|fjord|Qyf|“Light|WAVE|gypsy)(,|\\.|”|!|-by-night|)",
            1..120),
        which in 0..PANELS.len(),
        keys in 0..KEYS.len(),
    ) {
        let source = words.chunks(30).map(|chunk| chunk.join(" ")).collect::<Vec<_>>().join("\n\n");
        check(&source, &format!("{}type: {{ size: 12 pt, leading: 17 pt, {} }}\n", PANELS[which], KEYS[keys]))?;
    }
}

/// The law would catch ink that is there.
#[test]
fn the_sample_has_ink() {
    let runs = check(include_str!("../drafts/first.md"), include_str!("../drafts/brief.yaml"));
    assert!(runs.is_ok_and(|runs| runs > 10));
}
