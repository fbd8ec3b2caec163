//! Briefs that cannot be used, and what each is answered, word for word.

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::brief::typography::{Align, Stack};

#[test]
fn every_fault_is_told_with_its_place() {
    let cases = include_str!("cases/brief_faults.txt");
    let mut tried = 0;
    for section in cases.split("\n=== ").skip(1) {
        let (name, rest) = section.split_once('\n').expect("a section has a name");
        let (brief, answer) = rest.split_once("---\n").expect("a section has an answer");
        let fault = Brief::read(brief, Path::new("")).expect_err(name);
        assert_eq!(fault.to_string(), answer.trim_end(), "{name}");
        tried += 1;
    }
    assert!(tried >= 48, "only {tried} cases were found");
}

#[test]
fn the_american_spelling_of_centre_is_the_same_word() {
    let brief = "panel: { trim: 8 x 8 in }\ntype: { align: center, stack: Center }\n";
    let typography = Brief::read(brief, Path::new("")).expect("a brief").typography;
    assert_eq!((typography.blurb.align, typography.stack), (Align::Centre, Stack::Centre));
}
