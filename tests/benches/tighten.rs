//! How long it takes to say what can go: a blurb of some 200 words with 40 cuts that are ready, its brief and fonts
//! loaded.
//!
//! The plan is to be found in under 50 milliseconds.

#![expect(
    clippy::expect_used,
    clippy::print_stderr,
    reason = "a bench stops where it cannot go on, and says what it measures"
)]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::stet::Stet;
use blurbwright::draft::Draft;
use blurbwright::report::tighten::{DraftFile, Tighten};
use blurbwright::report::{Report, assess};
use blurbwright::setting::Faces;
use divan::{Bencher, black_box};

const DRAFT: &str = include_str!("wordy.md");

/// Panels in which it fits as it is, after a few cuts, after many, and never.
const PANELS: [(&str, f64); 4] = [("fits", 8.0), ("few", 5.6), ("many", 5.35), ("never", 3.0)];

fn brief(height: f64) -> Brief {
    let yaml = format!(
        "limits: {{ words: .., longest_sentence: .. }}\npanel: {{ trim: 6 x {height} in, keep_out: [{{ barcode: \
         EAN-13, corner: foot-spine }}] }}\ntype: {{ size: 13 pt, leading: 18 pt }}\n"
    );
    Brief::read(&yaml, Path::new("")).expect("a brief")
}

#[divan::bench(args = PANELS.map(|(name, _)| name), sample_count = 20)]
fn what_can_go(bencher: Bencher<'_, '_>, name: &str) {
    let height = PANELS.iter().find(|(known, _)| *known == name).expect("a panel").1;
    let (draft, brief, faces) = (Draft::read(DRAFT), brief(height), Faces::built_in());
    let report: Report = assess(&draft, &brief, &faces);
    let stet = Stet::default();
    let look = || {
        let file = DraftFile { name: "wordy.md", source: DRAFT, stet: &stet };
        Tighten::of(file, black_box(&draft), &brief, &faces, &report)
    };
    let found = look();
    eprintln!(
        "{name}: {} words, {} cuts, plan of {}, reaches {}",
        report.length.words,
        found.cuts.len(),
        found.plan.cuts.len(),
        found.plan.reaches
    );
    bencher.bench(look);
}
