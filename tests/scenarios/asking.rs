//! What the program says of itself, and what it answers to a command that is not understood.

use std::process::Stdio;

use super::book::{Book, DRAFT};

#[test]
fn help_is_given_in_every_way_it_is_asked_for() {
    let book = Book::empty();
    for ask in [&["--help"][..], &["-h"], &["help"]] {
        let outcome = book.run(ask);
        outcome.answers(0).is_silent_on_errors().prints("blurbwright measure my-book/first.md").prints("Usage:");
        outcome.prints("0 all fits and keeps the brief's limits, 1 something does not, 2 something");
    }
    for command in ["measure", "start", "schema", "licences", "completions", "manual"] {
        let long = book.run([command, "--help"]);
        long.answers(0).is_silent_on_errors().prints(&format!("Usage: blurbwright {command}"));
        book.run(["help", command]).answers(0).prints(&format!("Usage: blurbwright {command}"));
    }
}

#[test]
fn the_version_is_that_of_the_package() {
    for ask in ["--version", "-V"] {
        let outcome = Book::empty().run([ask]);
        outcome.answers(0);
        assert_eq!(outcome.printed, concat!("blurbwright ", env!("CARGO_PKG_VERSION"), "\n"));
    }
}

#[test]
fn what_is_mistyped_gets_the_nearest_and_answers_2() {
    let book = Book::with_draft(DRAFT);
    book.run(["mesure"]).answers(2).complains("did you mean measure?");
    book.run(["measure", "--fromat", "json"]).answers(2).complains("did you mean --format?");
    book.run(["measure", "--format", "jsno"]).answers(2).complains("did you mean json?");
    book.run(["completions", "bsh"]).answers(2).complains("did you mean bash?");
    book.run(["manual", "mesure"])
        .answers(2)
        .complains("there is no command named mesure; the commands are desk, measure, fit,");
}

#[test]
fn a_setting_that_cannot_be_tried_is_refused() {
    let book = Book::with_draft(DRAFT);
    book.run(["measure", "first.md", "--size", "12"]).answers(2).complains("--size: \"12\" has no unit");
    book.run(["measure", "first.md", "--size", "12px"]).answers(2).complains("--size: \"12px\" has the unit \"px\"");
    book.run(["measure", "first.md", "--size", "2pt"])
        .refuses("--size: \"2pt\" cannot be used: it must be from 3 pt to 200 pt");
    book.run(["measure", "first.md", "--size", "13 in"])
        .refuses("--size: \"13 in\" cannot be used: it must be from 0.042 in to 2.777 in (3 pt to 200 pt)");
    book.run(["measure", "first.md", "--leading", "1 mm"])
        .refuses("--leading: \"1 mm\" cannot be used: it must be from 1.059 mm to 141.111 mm (3 pt to 400 pt)");
    book.run(["measure", "first.md", "--leading", "wide"]).answers(2).complains("--leading: ");
    book.run(["measure", "first.md", "--font", "none.ttf"])
        .answers(2)
        .complains("cannot read the font none.ttf: there is no such file; write serif or sans for a built-in one");
}

#[test]
fn licences_of_all_that_is_built_in_are_printed() {
    let outcome = Book::empty().run(["licences"]);
    outcome.answers(0).prints("Crimson Pro").prints("Nunito").prints("SIL OPEN FONT LICENSE").prints("Carnegie Mellon");
    outcome.prints("\n=== adler2 ").prints("Permission is hereby granted, free of charge");
    outcome.prints("Nunito, the built-in sans (OFL-1.1)\n").prints("\nharfrust 0.15.0").prints("  MIT OR Apache-2.0\n");
}

#[test]
fn a_new_book_is_told_how_it_is_measured_and_how_the_desk_is_opened() {
    let book = Book::empty();
    let mut start = book.command(["start", "lamp", "--title", "The Lamp"]);
    let printed = start.stdin(Stdio::null()).output().expect("the program ends").stdout;
    let printed = String::from_utf8(printed).expect("what is printed is UTF-8");
    assert!(printed.starts_with("Made lamp/brief.yaml and lamp/first.md.\n"), "{printed}");
    let ways = "blurbwright measure lamp/first.md\nor write at the desk, where its measures follow each word:\n  \
                blurbwright desk lamp/first.md\n";
    assert!(printed.ends_with(ways), "{printed}");
}

#[test]
fn every_shell_gets_its_completions() {
    for (shell, part) in [("bash", "complete -F"), ("zsh", "#compdef blurbwright"), ("fish", "complete -c blurbwright")]
    {
        Book::empty().run(["completions", shell]).answers(0).prints(part).prints("leading");
    }
}

#[test]
fn every_command_has_its_manual_page() {
    Book::empty().run(["manual"]).answers(0).prints(".TH blurbwright 1").prints("Answers to the shell");
    for command in ["measure", "start", "schema", "licences", "completions", "manual"] {
        let heading = format!(".TH blurbwright-{command} 1  \"blurbwright {}\" \n", env!("CARGO_PKG_VERSION"));
        Book::empty().run(["manual", command]).answers(0).prints(".SH SYNOPSIS").prints(&heading);
    }
}

#[test]
fn the_manual_and_the_schema_survive_a_reader_that_goes_away() {
    for command in ["manual", "schema", "licences", "help"] {
        let book = Book::empty();
        let mut child = book.command([command]).stdin(Stdio::null()).spawn().expect("the program starts");
        drop(child.stdout.take());
        let ended = child.wait_with_output().expect("the program ends");
        assert_eq!((ended.status.code(), ended.stderr), (Some(0), Vec::new()), "{command}");
    }
}
