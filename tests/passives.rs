//! Passives, held to the project's own labels: two hundred sentences with and without one.
//!
//! One passive alone may be a choice, and passes; so each sentence stands twice in its draft, which is read
//! closely, where each is told.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::queries::Rule;
use blurbwright::draft::Draft;
use blurbwright::report::{Assessment, ReportMemory};
use blurbwright::setting::Faces;

const LABELLED: &str = include_str!("data/passives.txt");
/// How many in a hundred of those found must be passives, and how many of the passives must be found.
const LEAST_RIGHT: usize = 92;
const LEAST_FOUND: usize = 75;

#[test]
fn passives_are_told_from_states_and_from_other_verbs() {
    let faces = Faces::built_in();
    let mut brief = Brief::read("panel: { trim: 12 x 12 in }", Path::new("")).expect("a brief");
    brief.queries.close = true;
    let lines = LABELLED.lines().filter(|line| !line.starts_with('#'));
    let (mut found_right, mut found, mut passives) = (0, 0, 0);
    let mut departures = Vec::new();
    for (label, sentence) in lines.filter_map(|line| line.split_once(": ")) {
        let draft = Draft::read(&format!("{sentence}\n\n{sentence}\n"));
        let assessed = Assessment::of(&draft, &brief, &faces, &mut ReportMemory::default());
        let is_found = assessed.queries.iter().any(|query| query.rule == Rule::Passive);
        passives += usize::from(label == "p");
        found += usize::from(is_found);
        found_right += usize::from(is_found && label == "p");
        if is_found != (label == "p") {
            departures.push(format!("{label}: {sentence}"));
        }
    }
    let (right, of_all) = (100 * found_right / found.max(1), 100 * found_right / passives.max(1));
    let told = format!("{found_right} of {found} found are right, of {passives}:\n{}", departures.join("\n"));
    assert!(right >= LEAST_RIGHT && of_all >= LEAST_FOUND, "{told}");
}
