//! `stet.yaml` and what else is written in the place of an older file: by several at once, through a link, without a
//! right to.

use std::fs;
use std::process::Child;

use super::book::{BRIEF, Book, DRAFT};

/// A draft in which something is asked.
const ASKED: &str = "This is a very magical, truly unique and unforgettable story of Oona and the lamp.\n";

#[test]
fn what_several_let_stand_at_once_all_stands() {
    const MANY: usize = 8;
    for round in 0..4 {
        let names: Vec<String> = (0..MANY).map(|number| format!("draft-{number}.md")).collect();
        let book = names.iter().fold(Book::new(), |book, name| book.file(name, ASKED));
        let start = |name: &String| book.command(["tighten", name, "--stet", "1"]).spawn().expect("the program starts");
        let started: Vec<Child> = names.iter().map(start).collect();
        for child in started {
            let output = child.wait_with_output().expect("it ends");
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        }
        let stands = book.read("stet.yaml");
        for name in &names {
            assert!(stands.contains(&format!("\"{name}\":")), "round {round}: {name} is lost\n{stands}");
        }
    }
}

#[cfg(unix)]
mod links_and_rights {
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::path::Path;

    use super::*;

    fn set_mode(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("permissions");
    }

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).expect("there").permissions().mode() & 0o777
    }

    #[track_caller]
    fn runs(book: &Book, arguments: &[&str]) {
        let output = book.output(arguments);
        assert!(output.status.code() != Some(2), "{}", String::from_utf8_lossy(&output.stderr));
    }

    #[test]
    fn a_link_goes_on_leading_to_its_file_whose_rights_stay() {
        let house = Book::empty().file("ours.yaml", "first.md:\n  - { rule: praise, wording: grand }\n");
        set_mode(&house.path("ours.yaml"), 0o640);
        let book = Book::with_draft(ASKED);
        symlink(house.path("ours.yaml"), book.path("stet.yaml")).expect("linked");
        runs(&book, &["tighten", "first.md", "--stet", "1"]);
        assert!(fs::symlink_metadata(book.path("stet.yaml")).expect("there").is_symlink());
        assert_eq!(house.read("ours.yaml").matches("rule:").count(), 2);
        assert_eq!(mode(&house.path("ours.yaml")), 0o640);
    }

    #[test]
    fn a_link_to_what_is_not_there_yet_makes_it() {
        let house = Book::empty();
        let book = Book::with_draft(ASKED);
        for (link, file) in [("stet.yaml", "ours.yaml"), ("first.pdf", "proof.pdf")] {
            symlink(house.path(file), book.path(link)).expect("linked");
        }
        runs(&book, &["tighten", "first.md", "--stet", "1"]);
        runs(&book, &["proof", "first.md", "-o", "first.pdf"]);
        runs(&book, &["proof", "first.md", "-o", "first.pdf"]);
        for (link, file) in [("stet.yaml", "ours.yaml"), ("first.pdf", "proof.pdf")] {
            assert!(fs::symlink_metadata(book.path(link)).expect("there").is_symlink(), "{link}");
            assert!(fs::metadata(house.path(file)).expect("there").len() > 0, "{file}");
        }
    }

    #[test]
    fn what_may_only_be_read_stays_as_it_is() {
        let book = Book::with_draft(ASKED).file("stet.yaml", "").file("other.md", DRAFT);
        runs(&book, &["proof", "first.md", "-o", "first.pdf"]);
        let locked = ["stet.yaml", "first.md", "first.pdf"];
        let before = locked.map(|name| fs::read(book.path(name)).expect("there"));
        locked.iter().for_each(|name| set_mode(&book.path(name), 0o444));
        for arguments in [
            &["tighten", "first.md", "--stet", "1"][..],
            &["keep", "first.md", "--bring-back", "other.md"],
            &["proof", "first.md", "-o", "first.pdf"],
        ] {
            let output = book.output(arguments);
            assert_eq!(output.status.code(), Some(2), "{arguments:?}");
            let complained = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(complained.contains("you are not allowed to; change the file's permissions"), "{complained}");
        }
        for (name, before) in locked.iter().zip(before) {
            assert!(fs::read(book.path(name)).expect("there") == before, "{name}");
            assert_eq!(mode(&book.path(name)), 0o444, "{name}");
        }
    }

    #[test]
    fn a_brief_is_changed_at_the_end_of_its_link() {
        let house = Book::empty().file("ours.yaml", BRIEF);
        set_mode(&house.path("ours.yaml"), 0o660);
        let book = Book::empty().file("first.md", DRAFT);
        symlink(house.path("ours.yaml"), book.path("brief.yaml")).expect("linked");
        let change = |text: &str| Ok(format!("{text}# ours\n"));
        blurbwright::files::change_brief(&book.path("brief.yaml"), change).expect("changed");
        assert!(fs::symlink_metadata(book.path("brief.yaml")).expect("there").is_symlink());
        assert_eq!(house.read("ours.yaml"), format!("{BRIEF}# ours\n"));
        assert_eq!(mode(&house.path("ours.yaml")), 0o660);
    }

    #[test]
    fn a_proof_keeps_the_rights_that_it_was_given() {
        let book = Book::with_draft(DRAFT).file("brief.yaml", BRIEF);
        runs(&book, &["proof", "first.md", "-o", "first.svg"]);
        set_mode(&book.path("first.svg"), 0o600);
        runs(&book, &["proof", "first.md", "-o", "first.svg", "--size", "11pt"]);
        assert_eq!(mode(&book.path("first.svg")), 0o600);
    }
}
