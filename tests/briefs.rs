//! Briefs that cannot be used, and what each is answered, word for word.

use std::path::Path;

use blurbwright::brief::Brief;

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
    assert!(tried >= 19, "only {tried} cases were found");
}
