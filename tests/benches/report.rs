//! How long a report takes, and each of its parts: a blurb of 150 words, its brief and fonts loaded.
//!
//! The whole report is to take under half a millisecond.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::draft::Draft;
use blurbwright::level;
use blurbwright::print::json::{self, Style};
use blurbwright::print::level_data::LevelDetail;
use blurbwright::print::report_data::ReportJson;
use blurbwright::print::text::{self, ReportPage};
use blurbwright::report::mends::ArtAdvice;
use blurbwright::report::{Assessment, Fit, ReportMemory, assess};
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy, castoff};
use blurbwright::terms::coverage;
use blurbwright::text::{Text, length};
use divan::{Bencher, black_box};

const BRIEF: &str = include_str!("../../drafts/brief.yaml");

/// 150 words in four paragraphs under a headline, with a quote.
const DRAFT: &str = include_str!("blurb.md");

/// The brief of the sample with a panel that has room for all of the copy.
fn brief() -> Brief {
    Brief::read(&BRIEF.replace("head: 3.75 in", "head: 1 in"), Path::new("")).expect("the sample's brief can be read")
}

/// What every part needs at hand, with the built-in fonts already unpacked.
fn material() -> (Draft, Brief, Faces) {
    let material = (Draft::read(DRAFT), brief(), Faces::built_in());
    assert_eq!(length::measure(&Text::read(&material.0, &material.1.book), material.1.book.kind).words, 150);
    assert!(Fit::of(&material.0, &material.1, &material.2).fits());
    material
}

#[divan::bench]
fn whole_report(bencher: Bencher<'_, '_>) {
    let (_, brief, faces) = material();
    bencher.bench(|| assess(&Draft::read(black_box(DRAFT)), &brief, &faces));
}

#[divan::bench]
fn read_draft(bencher: Bencher<'_, '_>) {
    bencher.bench(|| Draft::read(black_box(DRAFT)));
}

#[divan::bench]
fn read_text(bencher: Bencher<'_, '_>) {
    let (draft, brief, _) = material();
    bencher.bench(|| Text::read(black_box(&draft), &brief.book).blurb_blocks().count());
}

#[divan::bench]
fn measure_level(bencher: Bencher<'_, '_>) {
    let (draft, brief, _) = material();
    let text = Text::read(&draft, &brief.book);
    bencher.bench(|| level::measure(black_box(&text)));
}

#[divan::bench]
fn find_terms(bencher: Bencher<'_, '_>) {
    let (draft, brief, _) = material();
    let text = Text::read(&draft, &brief.book);
    bencher.bench(|| coverage::find(black_box(&text), &brief.terms));
}

#[divan::bench]
fn shape_copy(bencher: Bencher<'_, '_>) {
    let (draft, brief, faces) = material();
    bencher.bench(|| {
        ShapedCopy::shape(black_box(&draft), &brief.typography, &faces, &mut SettingMemory::default()).paragraphs.len()
    });
}

#[divan::bench]
fn set_lines(bencher: Bencher<'_, '_>) {
    let (draft, brief, faces) = material();
    let (copy, room) =
        (ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default()), Rooms::of(&brief));
    bencher.bench(|| Setting::new(black_box(&copy), copy.forms(), &room));
}

/// The brief's type with other keys in front of its own.
fn typed(keys: &str) -> String {
    let keys: String = keys.split(", ").map(|key| format!("  {key}\n")).collect();
    format!("\ntype:\n{keys}")
}

/// First fit and total fit of the same copy, ragged and justified, with words whole and divided.
#[divan::bench(args = [
    "breaks: first-fit", "breaks: total-fit", "breaks: total-fit, hyphenate: true",
    "align: justified, breaks: first-fit", "align: justified", "align: justified, hyphenate: true",
])]
fn set_lines_by(bencher: Bencher<'_, '_>, keys: &str) {
    let (draft, _, faces) = material();
    let yaml =
        BRIEF.replace("head: 3.75 in", "head: 1 in").replace("  align: left\n", "").replace("\ntype:\n", &typed(keys));
    assert!(yaml.contains(&typed(keys)));
    let brief = Brief::read(&yaml, Path::new("")).expect("the sample's brief can be read");
    let (copy, room) =
        (ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default()), Rooms::of(&brief));
    bencher.bench(|| Setting::new(black_box(&copy), copy.forms(), &room));
}

/// All that the desk finds after a key: the draft is read, measured, set and drawn, and looked through for queries. A
/// word is added and taken off again at the end of a draft of about so many words; with a memory of what was found
/// before, and anew.
#[divan::bench(args = [(200, "again"), (5000, "again"), (200, "anew"), (5000, "anew")])]
fn after_a_key(bencher: Bencher<'_, '_>, (words, how): (usize, &str)) {
    let (_, brief, faces) = material();
    let paragraphs: Vec<String> = DRAFT.split("\n\n").map(str::to_owned).collect();
    // Each round has a number of its own, so that no two paragraphs are alike.
    let longer = paragraphs.iter().cycle().enumerate().scan(0, |sum, (number, paragraph)| {
        let before = *sum;
        *sum += paragraph.split(' ').count() + 1;
        let is_first = number < paragraphs.len() || paragraph.starts_with(['#', '>']);
        (before < words).then(|| if is_first { paragraph.clone() } else { format!("{paragraph} Nr{number}.") })
    });
    let one = longer.collect::<Vec<_>>().join("\n\n");
    let texts = [one.clone(), format!("{one} Or so.")];
    let (mut memory, mut turn) = (ReportMemory::default(), 0);
    bencher.bench_local(|| {
        turn += 1;
        if how == "anew" {
            memory = ReportMemory::default();
        }
        Assessment::of(&Draft::read(black_box(&texts[turn % 2])), &brief, &faces, &mut memory)
    });
}

/// A draft shaped after a change, without the rest of its report.
#[divan::bench(args = ["again", "anew"])]
fn shape_after_a_change(bencher: Bencher<'_, '_>, how: &str) {
    let (_, brief, faces) = material();
    let drafts = [Draft::read(DRAFT), Draft::read(&format!("{DRAFT} Or so."))];
    let (mut memory, mut turn) = (SettingMemory::default(), 0);
    bencher.bench_local(|| {
        turn += 1;
        if how == "anew" {
            memory = SettingMemory::default();
        }
        ShapedCopy::shape(&drafts[turn % 2], &brief.typography, &faces, &mut memory).paragraphs.len()
    });
}

#[divan::bench]
fn find_largest_size(bencher: Bencher<'_, '_>) {
    let (draft, brief, faces) = material();
    let (copy, room) =
        (ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default()), Rooms::of(&brief));
    bencher.bench(|| castoff::largest_size(black_box(&copy), &room));
}

#[divan::bench]
fn fit(bencher: Bencher<'_, '_>) {
    let (draft, brief, faces) = material();
    bencher.bench(|| Fit::of(black_box(&draft), &brief, &faces));
}

#[divan::bench]
fn write_json(bencher: Bencher<'_, '_>) {
    let (draft, brief, faces) = material();
    let report = assess(&draft, &brief, &faces);
    bencher.bench(|| {
        json::written(
            &ReportJson::of(black_box(&report), &ArtAdvice::default(), LevelDetail::Values, ("first.md", "brief.yaml")),
            Style::Compact,
        )
    });
}

#[divan::bench]
fn write_text(bencher: Bencher<'_, '_>) {
    let (draft, brief, faces) = material();
    let report = assess(&draft, &brief, &faces);
    let advice = ArtAdvice::default();
    let page = ReportPage { path: "first.md", title: "", source: DRAFT, columns: 80, advice: &advice };
    bencher.bench(|| text::written(black_box(&report), &page));
}

#[divan::bench]
fn read_brief(bencher: Bencher<'_, '_>) {
    bencher.bench(|| Brief::read(black_box(BRIEF), Path::new("")));
}
