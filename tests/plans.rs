//! The plan by brute force: on small cases it is the best of all ways of cutting.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::draft::{Draft, Edit, edited};
use blurbwright::report::assess;
use blurbwright::report::effects::Figures;
use blurbwright::report::tighten::{DraftFile, Tighten};
use blurbwright::setting::Faces;
use proptest::prelude::*;

use crate::tried::law;

/// The most cuts of a case: all ways of making them are tried.
const MOST_CUTS: usize = 7;

/// Sentences, most of which have something that can go.
const SENTENCES: [&str; 6] = [
    "At this point in time the ferry is late.",
    "Wilf walks down to the quay in order to wait for it.",
    "The gulls are quiet due to the fact that it rains.",
    "Nobody else is there.",
    "He has a large number of letters with him.",
    "In the event that it comes, he goes home.",
];

/// A blurb and a note on the author, each in a place of so many lines.
fn brief(lines: (u32, u32)) -> Brief {
    let place = |name: &str, holds: &str, head: u32, lines: u32| {
        let height = lines * 16;
        format!("{{ name: {name}, holds: {holds}, size: 180 x {height} pt, at: {{ head: {head} pt, spine: 20 pt }} }}")
    };
    let (one, two) = (place("one", "blurb", 20, lines.0), place("two", "note on the author", 300, lines.1));
    let panel = format!("panel: {{ trim: 240 x 600 pt, margins: 20 pt, places: [{one}, {two}] }}\n");
    let limits = "limits: { words: .., level: .., longest_sentence: .., words_per_sentence: .. }\n";
    let yaml = format!("{panel}{limits}type: {{ size: 12 pt, leading: 16 pt }}\n");
    Brief::read(&yaml, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"))
}

fn text() -> impl Strategy<Value = String> {
    prop::collection::vec(0..SENTENCES.len(), 1..5).prop_map(|numbers| {
        let mut numbers = numbers;
        numbers.dedup();
        numbers.iter().map(|number| SENTENCES[*number]).collect::<Vec<_>>().join(" ")
    })
}

/// Each way of making some of the cuts that can be made together, with how many they are.
fn ways(cuts: &[Edit]) -> impl Iterator<Item = Vec<Edit>> {
    (0..1_usize << cuts.len()).filter_map(|way| {
        let chosen = cuts.iter().enumerate().filter(|(at, _)| way >> at & 1 == 1);
        let mut chosen: Vec<Edit> = chosen.map(|(_, edit)| edit.clone()).collect();
        chosen.sort_by_key(|edit| edit.span.start);
        chosen.windows(2).all(|pair| pair[0].span.end <= pair[1].span.start).then_some(chosen)
    })
}

/// Finds the plan, and holds it against all ways; gives how many cuts the plan has.
fn check(source: &str, lines: (u32, u32)) -> Result<usize, TestCaseError> {
    let (brief, faces, stet) = (brief(lines), Faces::built_in(), Stet::default());
    let draft = Draft::read(source);
    let report = assess(&draft, &brief, &faces);
    let file = DraftFile { name: "a.md", source, stet: &stet };
    let found = Tighten::of(file, &draft, &brief, &faces, &report);
    prop_assume!(found.cuts.len() <= MOST_CUTS && found.untried == 0);
    let edits: Vec<Edit> = found.cuts.iter().map(|cut| cut.edit.clone()).collect();
    let letters = |edits: &[Edit]| {
        let copy = Draft::read(&edited(source, edits));
        copy.blocks.iter().flat_map(|block| block.text().chars()).filter(|c| c.is_alphabetic()).count()
    };
    let over = |edits: &[Edit]| Figures::of(&Draft::read(&edited(source, edits)), &brief, &faces).lines_over;
    let tried: Vec<(usize, usize, usize)> =
        ways(&edits).map(|way| (over(&way), way.len(), usize::MAX - letters(&way))).collect();
    // The fewest lines over, with the fewest cuts, which leave the most letters.
    let best = tried.iter().min().copied().unwrap_or_default();
    let planned: Vec<Edit> = found.plan.cuts.iter().map(|cut| edits[*cut].clone()).collect();
    let mut plan = (over(&planned), planned.len(), usize::MAX - letters(&planned));
    if !found.plan.reaches {
        // Of plans that do not reach, the letters are no matter.
        plan.2 = best.2;
    }
    prop_assert_eq!(plan, best, "{}", source);
    prop_assert_eq!(found.plan.reaches, best.0 == 0);
    Ok(planned.len())
}

proptest! {
    #![proptest_config(law(60))]

    #[test]
    fn the_plan_is_the_best_of_all_ways_in_two_places(
        blurb in text(), note in text(), lines in (1..6_u32, 1..6_u32)
    ) {
        check(&format!("{blurb}\n\n## Note on the author\n\n{note}\n"), lines)?;
    }
}

/// The law is no law of empty plans.
#[test]
fn there_is_a_plan_with_cuts_in_both_places() {
    let note = format!("{} {}", SENTENCES[4], SENTENCES[2]);
    let source = format!("{} {}\n\n## Note on the author\n\n{note}\n", SENTENCES[0], SENTENCES[1]);
    let cuts: Vec<Option<usize>> =
        [(3, 3), (2, 3), (3, 2), (2, 2)].into_iter().map(|lines| check(&source, lines).ok()).collect();
    assert!(cuts.iter().flatten().any(|cuts| *cuts > 1), "{cuts:?}");
}
