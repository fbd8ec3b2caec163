//! Differences of two drafts: cases made by hand, and what holds for any two drafts.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::draft::{Draft, edited};
use blurbwright::level::Formula;
use blurbwright::print::compare::in_signs;
use blurbwright::report::differences::{ChangeKind, Differences};
use blurbwright::report::effects::{Effects, Figures};
use blurbwright::setting::Faces;
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::tried::law;

const BRIEF: &str = "book: { readers: 4-8 }\nterms: [lamp, storm]\npanel: { trim: 5 x 5 in, margins: 1.2 in }\n";

fn brief() -> Brief {
    Brief::read(BRIEF, Path::new("")).unwrap_or_else(|fault| panic!("{fault}"))
}

/// Copy from few words, so that two drafts have much in common.
fn copy() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        8 => prop::sample::select(vec!["The lamp is out. ", "Oona climbs the stairs. ",
            "A storm is coming to Gull Point. ", "Run! "]),
        8 => prop::sample::select(vec!["lamp ", "storm ", "the ", "Oona ", "a ", "boats. ", "home, ", "*brave* ",
            "**Stop!** "]),
        3 => prop::sample::select(vec!["\n\n", "\n", "\n\n# The light\n\n", "\n\n> Said.\n> — Who\n\n",
            "\n> “Told.”\n> — Ann\n", "\n\n## Other titles\n\n", "\n\n> "]),
        1 => prop::sample::select(vec!["<!-- note -->", "- ", "1. ", "  \n", "\\", "`", "*", "&amp;", "---\n", "犬",
            "\u{301}", "\r\n"]),
    ];
    prop::collection::vec(piece, 0..25).prop_map(|pieces| pieces.concat())
}

/// Paragraphs of plain sentences.
fn plain_copy() -> impl Strategy<Value = String> {
    let sentence = prop::sample::select(vec![
        "The lamp is out.",
        "The lamp is lit.",
        "Oona climbs the stairs.",
        "Oona climbs the long stairs alone.",
        "Run!",
        "A storm is coming to Gull Point.",
        "Who will bring the boats home?",
        "Nobody has seen that the boats are late.",
    ]);
    let paragraph = prop::collection::vec(sentence, 1..5).prop_map(|sentences| sentences.concat());
    prop::collection::vec(paragraph, 1..4).prop_map(|paragraphs| format!("{}\n", paragraphs.join("\n\n")))
}

fn check_states(before: &str, after: &str) -> Result<(), TestCaseError> {
    let (a, b) = (Draft::read(before), Draft::read(after));
    let differences = Differences::of(&a, &b);
    prop_assert!(differences.with(|_| false).prints_like(&a), "none made: {before:?} {after:?}");
    prop_assert!(differences.with(|_| true).prints_like(&b), "all made: {before:?} {after:?}");
    prop_assert!(!differences.changes.is_empty() || a.prints_like(&b));
    if let Some(edits) = differences.edits(before, |_| true) {
        prop_assert!(Draft::read(&edited(before, &edits)).prints_like(&b));
    }
    for change in &differences.changes {
        let has = (!change.gone.is_empty(), !change.new.is_empty());
        let expected = match change.kind {
            ChangeKind::Inserted => (false, true),
            ChangeKind::Deleted => (true, false),
            ChangeKind::Replaced | ChangeKind::Moved => (true, true),
        };
        prop_assert_eq!(has, expected, "{:?}", change);
    }
    Ok(())
}

proptest! {
    #![proptest_config(law(256))]

    #[test]
    fn no_change_gives_the_first_draft_and_all_give_the_second(before in copy(), after in copy()) {
        check_states(&before, &after)?;
    }

    #[test]
    fn any_two_texts_can_be_compared(before in any::<String>(), after in any::<String>()) {
        check_states(&before, &after)?;
    }

    #[test]
    fn a_draft_does_not_differ_from_itself(copy in copy()) {
        let draft = Draft::read(&copy);
        prop_assert!(Differences::of(&draft, &draft).changes.is_empty());
    }

    #[test]
    fn plain_changes_can_be_made_in_the_file_by_themselves(
        before in plain_copy(),
        after in plain_copy(),
        chosen in any::<u64>(),
    ) {
        let (a, b) = (Draft::read(&before), Draft::read(&after));
        let differences = Differences::of(&a, &b);
        let is_made = |change: usize| chosen >> (change % 64) & 1 == 1;
        for is_made in [&is_made as &dyn Fn(usize) -> bool, &|_| true] {
            let edits = differences.edits(&before, is_made);
            prop_assert!(edits.is_some(), "{:?}", differences.changes);
            let edited = Draft::read(&edited(&before, &edits.unwrap_or_default()));
            prop_assert!(edited.prints_like(&differences.with(is_made)));
        }
    }

    #[test]
    fn what_the_changes_did_adds_up_to_the_whole(before in copy(), after in copy()) {
        let (a, b) = (Draft::read(&before), Draft::read(&after));
        let (brief, faces) = (brief(), Faces::built_in());
        let differences = Differences::of(&a, &b);
        let effects = Effects::of(&differences, &brief, &faces);
        // The grades along the way are by one measure; where that is the draft's own, so is its grade.
        let own = Figures::of(&a, &brief, &faces);
        let is_own = effects.measure == own.measure.map(|(measure, _)| measure);
        let grade = if is_own { own.grade } else { effects.first.grade };
        prop_assert_eq!(&effects.first, &Figures { grade, ..own });
        prop_assert_eq!(effects.after.len(), differences.changes.len());
        prop_assert_eq!(effects.after.last().unwrap_or(&effects.first), &effects.last);
        let sum = |value: fn(&Figures) -> usize| -> i64 {
            let steps = (0..effects.after.len()).filter_map(|change| effects.step(change));
            steps.map(|(before, after)| value(after) as i64 - value(before) as i64).sum()
        };
        let lines: fn(&Figures) -> usize = |f| f.lines;
        for value in [lines, |f| f.words, |f| f.letters, |f| f.terms, |f| f.lines_over] {
            prop_assert_eq!(sum(value), value(&effects.last) as i64 - value(&effects.first) as i64);
        }
        let turned = effects.turns().len() % 2 == 1;
        prop_assert_eq!(turned, effects.first.fits != effects.last.fits);
    }
}

/// Short plain sentences are measured by the formula for the youngest, long ones by another, by which both are told.
#[test]
fn drafts_of_different_measures_are_told_by_one() {
    let hard =
        "The lamp is out, and nobody in the village has the courage to climb the deserted lighthouse in such a storm. ";
    let (a, b) = (Draft::read(&"The lamp is out. ".repeat(8)), Draft::read(&hard.repeat(2)));
    let (brief, faces) = (brief(), Faces::built_in());
    let own = [&a, &b].map(|draft| Figures::of(draft, &brief, &faces).measure.map(|(measure, _)| measure));
    assert_eq!(own, [Some(Formula::SpacheRevised), Some(Formula::NewDaleChallCloze)]);
    let effects = Effects::of(&Differences::of(&a, &b), &brief, &faces);
    assert_eq!(effects.measure, own[1]);
    assert_ne!(effects.first.grade, Figures::of(&a, &brief, &faces).grade);
    assert_eq!(effects.after.last().and_then(|last| last.grade), effects.last.grade);
}

/// The cases of the file: name, first draft, second draft, and what is shown.
fn cases() -> Vec<(String, String, String, Vec<String>)> {
    let mut cases: Vec<(String, String, String, Vec<String>)> = Vec::new();
    for line in include_str!("cases/differences.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#'))
    {
        let (sign, text) = line.split_once(' ').unwrap_or_else(|| panic!("{line}: a sign and a blank are missing"));
        if sign == "==" {
            cases.push((text.to_owned(), String::new(), String::new(), Vec::new()));
            continue;
        }
        let Some(case) = cases.last_mut() else { panic!("{line}: no case is open") };
        match sign {
            "<" => case.1 = text.replace('\\', "\n"),
            ">" => case.2 = text.replace('\\', "\n"),
            "=" => case.3.push(text.to_owned()),
            other => panic!("{other}: no such sign"),
        }
    }
    cases
}

#[test]
fn differences_are_those_of_the_cases() {
    let cases = cases();
    assert!(cases.len() > 15, "{}", cases.len());
    for (name, before, after, expected) in cases {
        let (a, b) = (Draft::read(&before), Draft::read(&after));
        let differences = Differences::of(&a, &b);
        let found: Vec<String> = differences
            .shown()
            .into_iter()
            .map(|(kind, sentences)| {
                let sentences: Vec<String> = sentences.iter().map(|one| in_signs(one, &differences)).collect();
                format!("{}: {}", kind.name(), sentences.concat())
            })
            .collect();
        assert_eq!(found, expected, "{name}");
        let edits = differences.edits(&before, |_| true).unwrap_or_else(|| panic!("{name}: no edits"));
        assert!(Draft::read(&edited(&before, &edits)).prints_like(&b), "{name}: {}", edited(&before, &edits));
    }
}

/// Quotes of one block quotation stay apart whatever is taken over: each change by itself, and all of them.
#[test]
fn changes_keep_quotes_apart() {
    let before = "Low tide.\n\n> “Salt.”\n> — Ida Voss\n> Bold as\n> brass.\n> — Per Lund\n";
    for after in [
        "Low tide.\n\n> “Salt.”\n\n> Bold as\n> brass.\n> — Per Lund\n",
        "Low tide.\n\n> “Salt.”\n> — Ida Voss\n",
        "Low tide.\n\n> Bold as brass.\n> — Per Lund\n",
        "Low tide.\n\n> “Salt.”\n> — Ida Voss\n> “New.”\n> — Una Berg\n> Bold as brass.\n> — Per Lund\n",
        "Low tide.\n\n> “Salt and sand.”\n> — Ida Voss, Harbour Gazette\n> Bold as copper\n> — Per Lund\n",
        "Low tide.\n\n> “Salt.”\n> — Ida\n\n> Bold as brass\n\n> Gold\n> — Per Lund\n\nHigh tide.\n",
    ] {
        for (before, after) in [(before, after), (after, before)] {
            let (a, b) = (Draft::read(before), Draft::read(after));
            let differences = Differences::of(&a, &b);
            // A credit whose own quote goes cannot be joined to another that stands in a quotation of its own.
            let edits = differences.edits(before, |_| true);
            assert!(edits.is_some() || before.contains("> Gold"), "{before:?} {after:?}: no edits");
            let file = edited(before, &edits.unwrap_or_default());
            assert!(before.contains("> Gold") || Draft::read(&file).prints_like(&b), "{before:?} {after:?}: {file:?}");
            for chosen in 0..differences.changes.len() {
                let Some(edits) = differences.edits(before, |change| change == chosen) else { continue };
                let file = edited(before, &edits);
                let wanted = differences.with(|change| change == chosen);
                assert!(Draft::read(&file).prints_like(&wanted), "{before:?} {after:?} {chosen}: {file:?}");
            }
        }
    }
}

/// Source: the sample book, whose comment and markup must stay as the author wrote them.
#[test]
fn every_change_of_the_sample_can_be_made_by_itself_and_leaves_the_rest_of_the_file() {
    let (before, after) = (include_str!("../drafts/first.md"), include_str!("../drafts/second.md"));
    let (a, b) = (Draft::read(before), Draft::read(after));
    let differences = Differences::of(&a, &b);
    assert!(differences.changes.len() > 10);
    for chosen in 0..differences.changes.len() {
        let edits = differences.edits(before, |change| change == chosen).unwrap_or_else(|| panic!("change {chosen}"));
        let file = edited(before, &edits);
        assert!(Draft::read(&file).prints_like(&differences.with(|change| change == chosen)), "{file}");
        assert!(file.contains("<!-- The quote is agreed by letter; its words may not be changed. -->\n\n> "), "{file}");
    }
    let all = differences.edits(before, |_| true).unwrap_or_default();
    assert_eq!(edited(before, &all), after);
}

/// A line of verse that only the second draft has is written as verse has its lines.
#[test]
fn a_line_of_verse_is_taken_over_with_its_end() {
    for (before, after, wanted) in [
        ("Good dog.\\\nBad dog.\n", "Good dog.\\\nRed dog.\\\nBad dog.\n", "Good dog.\\\nRed dog.\\\nBad dog.\n"),
        ("The lamp\\\nis out\n", "The lamp\\\nso bright\\\nis out\n", "The lamp\\\nso bright\\\nis out\n"),
        ("One.\\\nTwo.\n", "One.\\\nTwo.\\\nThree.\n", "One.\\\nTwo.\\\nThree.\n"),
        ("Two.\\\nThree.\n", "One.\\\nTwo.\\\nThree.\n", "One.\\\nTwo.\\\nThree.\n"),
        ("> “One.\\\n> Two.”\n", "> “One.\\\n> Red.\\\n> Two.”\n", "> “One.\\\n> Red.\\\n> Two.”\n"),
        ("# A light\n", "# A light<br>is out\n", "# A light<br>is out\n"),
    ] {
        let (a, b) = (Draft::read(before), Draft::read(after));
        let edits = Differences::of(&a, &b).edits(before, |_| true).unwrap_or_else(|| panic!("{before:?}"));
        assert_eq!(edited(before, &edits), wanted, "{before:?}");
    }
}
