//! A new book: whatever is answered, its brief and its first draft can be read and measured.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::book::BookKind;
use blurbwright::briefing::covers::{BINDINGS, BackArt, BarcodePlan, usual_trims};
use blurbwright::briefing::start::{Answers, BackPlan, Question, brief, first_draft};
use blurbwright::draft::{BlockKind, Draft};
use blurbwright::report::assess;
use blurbwright::setting::Faces;
use proptest::prelude::*;

use crate::tried::law;

fn answered(pairs: &[(Question, &str)]) -> Answers {
    let mut answers = Answers::default();
    for (question, text) in pairs {
        question.answer(&mut answers, text).unwrap_or_else(|told| panic!("{text}: {told}"));
    }
    answers
}

fn read(text: &str) -> Brief {
    Brief::read(text, Path::new("")).unwrap_or_else(|fault| panic!("{fault}\n{text}"))
}

/// The brief with every example in force: the `#` that stands close to a word taken away.
fn all_in_force(text: &str) -> String {
    let line = |line: &str| match line.trim_start().strip_prefix('#') {
        Some(example) if !example.is_empty() && !example.starts_with(' ') => line.replacen('#', "", 1),
        _ => line.to_owned(),
    };
    text.lines().map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn every_answer_comes_back_from_the_brief() {
    let read = read(&brief(&answered(&[
        (Question::Title, "Who's \"that\": a \\ tale # of <author> & söñg"),
        (Question::Author, "- R. Okafor-Lind\u{fffe}\u{1b}"),
        (Question::Kind, "Chapter Book"),
        (Question::Readers, "6-9"),
        (Question::Trim, "129 x 198 mm"),
        (Question::Terms, "lighthouse, bedtime: story, Lighthouse, no, 1e3,"),
        (Question::Isbn, "978-1-4028-9462-6"),
    ])));
    assert_eq!(read.book.title, "Who's \"that\": a \\ tale # of <author> & söñg");
    assert_eq!(read.book.author, "- R. Okafor-Lind");
    assert_eq!((read.book.kind, read.book.readers.written().as_str()), (BookKind::ChapterBook, "6-9"));
    assert_eq!(read.book.isbn.as_deref(), Some("978-1-4028-9462-6"));
    let millimetres = [read.panel.trim.width, read.panel.trim.height, read.panel.bleed, read.panel.margins.spine];
    assert_eq!(millimetres.map(|length| length.to_mm().round()), [129.0, 198.0, 3.0, 12.0]);
    let terms: Vec<_> = read.terms.wanted.iter().map(|term| term.term.as_str()).collect();
    assert_eq!(terms, ["lighthouse", "bedtime: story", "no", "1e3"]);
}

/// Titles that a YAML file could take for something else than text.
#[test]
fn a_title_is_always_text() {
    for title in ["1984", "1e3", "0x10", ".5", "12:30", "2001-01-01", "12+", "No", "null", "~", "---", "!", "<terms>"] {
        assert_eq!(read(&brief(&answered(&[(Question::Title, title)]))).book.title, title);
    }
}

/// Ages, sizes of covers and sizes of type are common practice.
#[test]
fn each_kind_has_its_usual_answers() {
    let lines = [
        "board book, 0-3, 7 x 7 in, 14 pt",
        "picture book, 3-7, 8.5 x 8.5 in, 13 pt",
        "early reader, 5-7, 6 x 9 in, 14 pt",
        "chapter book, 6-9, 5.25 x 7.5 in, 12 pt",
        "middle grade, 8-12, 5.5 x 8.25 in, 11 pt",
        "young adult, 12+, 5.5 x 8.25 in, 11 pt",
        "adult fiction, 16+, 5.5 x 8.5 in, 10.5 pt",
        "non-fiction, 16+, 6 x 9 in, 10.5 pt",
    ];
    for (kind, line) in BookKind::ALL.into_iter().zip(lines) {
        let answers = answered(&[(Question::Kind, kind.name())]);
        let usual = [Question::Kind, Question::Readers, Question::Trim].map(|question| question.standing(&answers));
        let text = brief(&answers);
        let size = read(&text).typography.blurb.size;
        assert_eq!(format!("{}, {size}", usual.join(", ")), line);
        assert!(text.contains(&format!("\n  #size: {size}\n")), "the usual size of type is shown and not set");
    }
}

/// Common practice: the corners of board books are rounded, so that they do no harm.
#[test]
fn a_board_book_begins_with_round_corners() {
    for kind in BookKind::ALL {
        let panel = read(&brief(&answered(&[(Question::Kind, kind.name())]))).panel;
        assert_eq!(
            panel.round_corners.to_mm().round(),
            if kind == BookKind::BoardBook { 8.0 } else { 0.0 },
            "{}",
            kind.name()
        );
    }
}

#[test]
fn every_key_of_a_brief_is_there_and_every_example_can_be_put_in_force() {
    for kind in BookKind::ALL {
        let text = all_in_force(&brief(&answered(&[(Question::Kind, kind.name())])));
        let read = read(&text);
        assert_eq!(read.limits.set.len(), 10, "each measure has an example");
        assert_eq!(read.panel.keep_outs.len(), 5, "three in the list and two round corners");
        assert_eq!((read.terms.wanted.len(), read.terms.avoid.len(), read.book.names.len()), (3, 1, 2));
        let blocks = BlockKind::ALL.into_iter().filter(|block| *block != BlockKind::Blurb);
        let blocks: Vec<_> = blocks.map(|block| block.name().replace(' ', "_")).collect();
        let keys = "title author kind readers language isbn trim binding bleed square joint turn_in round_corners \
                    margins places font size leading align weight style space_above indent";
        for key in keys.split(' ').chain(blocks.iter().map(String::as_str)) {
            assert!(text.contains(&format!("\n  {key}: ")), "{key} is not there");
        }
        for key in "syllables must at_most also scale add_on corner at clearance".split(' ') {
            assert!(text.contains(&format!("{key}: ")), "{key} is not there");
        }
    }
}

/// What is usual is shown as an example of a limit, and is none until the author puts it in force.
#[test]
fn what_is_usual_is_shown_and_not_set() {
    let text = brief(&answered(&[(Question::Kind, "middle grade")]));
    for line in ["  #words: 100..180", "  #longest_sentence: ..30", "  #level: ..7"] {
        assert!(text.lines().any(|other| other == line), "{line}");
    }
    assert!(read(&text).limits.set.is_empty());
}

#[test]
fn the_smallest_and_largest_covers_have_a_brief() {
    for kind in BookKind::ALL {
        for trim in ["2.5 x 2.5 in", "2.5 x 30 in", "30 x 2.5 in", "30 x 30 in", "63.5 x 63.5 mm", "6.35cm x 2.5″"] {
            for (binding, barcode) in BINDINGS.into_iter().zip(BarcodePlan::ALL) {
                let barcodes = [BarcodePlan::WithPrice, barcode];
                for barcode in barcodes {
                    read(&brief(&answered(&[
                        (Question::Kind, kind.name()),
                        (Question::Trim, trim),
                        (Question::Binding, binding.name()),
                        (Question::Barcode, barcode.name()),
                    ])));
                }
            }
        }
    }
}

#[test]
fn an_answer_that_cannot_be_used_is_told_and_changes_nothing() {
    for (question, text, told) in [
        (Question::Title, " \u{feff}", "a book needs a title; a working title will do"),
        (
            Question::Kind,
            "picturebook",
            "\"picturebook\" is not known; did you mean picture book? The choice is board book, picture book, early \
             reader, chapter book, middle grade, young adult, adult fiction, non-fiction",
        ),
        (
            Question::Readers,
            "8-4",
            "\"8-4\" is not a range of ages; write one such as 4-8, 12+ or 7, the youngest first",
        ),
        (
            Question::Trim,
            "8.5 x 8.5",
            "\"8.5 x 8.5\" has no unit; write width x height and a unit, such as 8.5 x 8.5 in or 216 x 280 mm",
        ),
        (Question::Trim, "85 x 85 in", "\"85 x 85 in\" cannot be used: each side, it must be from 1 in to 30 in"),
        (
            Question::Trim,
            "2 x 8 in",
            "\"2 x 8 in\" leaves no room for copy beside a barcode; each side must be 2.5 in or more",
        ),
        (
            Question::Back,
            "flap",
            "\"flap\" is not known; did you mean flaps? The choice is one column, three places, flaps",
        ),
        (Question::Terms, "sea, --", "\"--\" holds no word; write words or phrases with commas between them"),
        (
            Question::Isbn,
            "978-0-330-28987-1",
            "the last digit of \"978-0-330-28987-1\" should be 0 if the others are right; compare it with the paper \
             from your agency",
        ),
    ] {
        let mut answers = Answers::default();
        assert_eq!(question.answer(&mut answers, text), Err(told.to_owned()));
        assert_eq!(answers, Answers::default(), "{text}");
    }
}

/// Every kind of book with every way of making its back that the kind has.
fn plans() -> impl Iterator<Item = Answers> {
    let pairs = BookKind::ALL.into_iter().flat_map(|kind| BackPlan::ALL.map(|back| (kind, back)));
    let pairs = pairs.filter(|pair| *pair != (BookKind::BoardBook, BackPlan::Flaps));
    pairs.map(|(kind, back)| answered(&[(Question::Kind, kind.name()), (Question::Back, back.name())]))
}

/// The first draft has fewer words than is usual for most kinds, which no author has asked for.
#[test]
fn the_first_draft_measures_cleanly_for_every_kind_and_back() {
    for mut answers in plans() {
        assert_eq!(Question::Terms.answer(&mut answers, "lighthouse"), Ok(()));
        let draft = Draft::read(&first_draft(&answers));
        assert_eq!(draft.notes, []);
        let brief = read(&brief(&answers));
        let report = assess(&draft, &brief, &Faces::built_in());
        let outside: Vec<_> = report.verdict.outside().map(|check| check.subject.key()).collect();
        assert!(outside.is_empty(), "{answers:?}: {outside:?}");
        let places: Vec<_> =
            report.fit.places.iter().map(|place| (place.name.as_str(), place.castoff.lines > 0)).collect();
        let expected: &[_] = match answers.back {
            BackPlan::OneColumn => &[("live area", true)],
            BackPlan::ThreePlaces => &[("headline", true), ("copy", true), ("closing lines", true)],
            BackPlan::Flaps => &[("front flap", true), ("back flap", true), ("live area", true)],
        };
        let told: Vec<_> = expected.iter().filter(|place| !places.contains(place)).collect();
        assert!(told.is_empty(), "{answers:?}: {told:?} of {places:?}");
    }
}

#[test]
fn every_back_can_be_read_on_the_smallest_and_largest_covers() {
    for mut answers in plans() {
        for trim in ["2.5 x 2.5 in", "2.5 x 30 in", "30 x 2.5 in", "30 x 30 in", "63.5 x 63.5 mm", "21 x 21 cm"] {
            assert_eq!(Question::Trim.answer(&mut answers, trim), Ok(()));
            let flaps = if answers.back == BackPlan::Flaps { 2 } else { 0 };
            assert_eq!(read(&brief(&answers)).flaps.len(), flaps);
        }
    }
}

/// Every usual trim of every kind has a brief, with bindings, barcodes and art, and room for the barcode or none.
#[test]
fn every_cover_that_can_be_chosen_is_in_the_brief() {
    for kind in BookKind::ALL {
        for (number, trim) in usual_trims(kind).iter().enumerate() {
            let (binding, barcode) = (BINDINGS[number % 3], BarcodePlan::ALL[(number + 1) % 3]);
            let art = BackArt::ALL[number % 4];
            let text = brief(&answered(&[
                (Question::Kind, kind.name()),
                (Question::Trim, trim),
                (Question::Binding, binding.name()),
                (Question::Barcode, barcode.name()),
                (Question::Art, art.name()),
            ]));
            let read = read(&text);
            assert_eq!(read.panel.binding, binding, "{trim}");
            let barcodes = read.panel.keep_outs.iter().filter(|keep_out| keep_out.name == "barcode").count();
            assert_eq!(barcodes, usize::from(barcode != BarcodePlan::None), "{trim}");
            assert_eq!(
                text.contains("\n    - { barcode: EAN-13, scale: 80%, add_on: price,"),
                barcode == BarcodePlan::WithPrice
            );
            assert_eq!(text.contains("# Once the picture is in its file"), art != BackArt::Plain, "{trim}");
        }
    }
}

/// A picture that is waited for can be put in force where it stands.
#[test]
fn the_art_of_each_kind_waits_behind_its_sign() {
    for (art, kind) in [(BackArt::Own, "scene"), (BackArt::Round, "round"), (BackArt::Drawings, "spot")] {
        let text = brief(&answered(&[(Question::Art, art.name())]));
        assert!(read(&text).panel.art.is_none());
        let read = read(&text.replacen("  #art: ", "  art: ", 1));
        assert_eq!(read.panel.art.expect("art").kind.name(), kind);
    }
}

#[test]
fn a_board_book_has_no_flaps() {
    let mut answers = answered(&[(Question::Kind, "board book")]);
    let told = "a board book has no flaps; write one column or three places";
    assert_eq!(Question::Back.answer(&mut answers, "flaps"), Err(told.to_owned()));
    assert_eq!(answers.back, BackPlan::OneColumn);
}

/// Short texts of what YAML gives a meaning to.
const SIGNS: &str = "[-:#\"'\\\\&*!|>%@`\\[\\]{}, \u{85}\u{2028}\t\n~0-9a-fx<>._+]{0,8}";

proptest! {
    #![proptest_config(law(256))]

    /// Whatever is typed, the brief can be read, and it holds the same letters in the same order.
    #[test]
    fn any_text_comes_back(title in any::<String>(), author in SIGNS) {
        let mut answers = Answers::default();
        let titled = Question::Title.answer(&mut answers, &title).is_ok();
        prop_assert_eq!(Question::Author.answer(&mut answers, &author), Ok(()));
        let _: Result<(), String> = Question::Terms.answer(&mut answers, &author);
        let read = read(&brief(&answers));
        let is_letter = |c: &char| c.is_alphanumeric() || c.is_ascii_punctuation();
        let letters = |text: &str| text.chars().filter(is_letter).collect::<String>();
        prop_assert_eq!(letters(&read.book.title), if titled { letters(&title) } else { String::new() });
        prop_assert_eq!(letters(&read.book.author), letters(&author));
    }
}

/// Whoever looks at flaps and takes another back after all has the binding as before.
#[test]
fn flaps_bring_a_jacket_for_as_long_as_they_are_chosen() {
    for binding in ["paperback", "case", "jacket"] {
        let mut answers = answered(&[(Question::Binding, binding), (Question::Back, "flaps")]);
        assert!(brief(&answers).contains("binding: jacket"));
        assert_eq!(Question::Back.answer(&mut answers, "one column"), Ok(()));
        assert_eq!(Question::Binding.standing(&answers), binding);
        assert!(brief(&answers).contains(&format!("binding: {binding}")));
    }
}

/// What a draft may close with has its place among the three.
#[test]
fn the_foot_of_three_places_holds_every_closing_block() {
    let brief = read(&brief(&answered(&[(Question::Back, "three places")])));
    let draft = Draft::read("The sea.\n\n## Other titles\n\nThe Paper Boats\n\n## Price line\n\n$18.99\n");
    let report = assess(&draft, &brief, &Faces::built_in());
    let lines = report.fit.lines.iter().map(|line| (line.text.as_str(), line.set.place));
    let place = |at: usize| report.fit.places[at].name.as_str();
    let lines: Vec<(&str, &str)> = lines.map(|(text, at)| (text, place(at))).collect();
    assert_eq!(lines, [("The sea.", "copy"), ("The Paper Boats", "closing lines"), ("$18.99", "closing lines")]);
}
