//! The README's commands, run as they stand there, and the output that it shows.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use crate::program;

const README: &str = include_str!("../README.md");

/// The blocks of one language in the README.
fn blocks(language: &str) -> impl Iterator<Item = &'static str> {
    let fence = format!("```{language}\n");
    README
        .split("```")
        .skip(1)
        .step_by(2)
        .filter_map(move |block| format!("```{block}").strip_prefix(&fence).map(|_| &block[language.len() + 1..]))
}

/// A folder that holds the sample books, as a fresh clone does.
fn clone_of_the_sample() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for book in ["drafts", "drafts/snail-post", "drafts/night-sea", "drafts/night-sea/art"] {
        fs::create_dir(folder.path().join(book)).expect("a folder for drafts");
        for entry in fs::read_dir(book).expect("a sample book").flatten().filter(|entry| entry.path().is_file()) {
            fs::copy(entry.path(), folder.path().join(book).join(entry.file_name())).expect("a copy");
        }
    }
    folder
}

fn run(command: &str, folder: &Path) -> Output {
    let line = command.replacen("blurbwright", &format!("'{}'", program::path().display()), 1);
    let mut shell = Command::new("sh");
    shell.args(["-c", &line]).current_dir(folder).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    program::run(&mut shell, folder, b"")
}

#[test]
fn every_command_works() {
    let folder = clone_of_the_sample();
    let commands: Vec<&str> =
        blocks("sh").flat_map(str::lines).filter(|line| line.starts_with("blurbwright")).collect();
    assert!(commands.len() >= 8, "{commands:?}");
    for command in commands {
        let output = run(command, folder.path());
        let complaint = String::from_utf8_lossy(&output.stderr);
        assert!(matches!(output.status.code(), Some(0 | 1)) && complaint.is_empty(), "{command}: {complaint}");
        match command.split_once(" -o ") {
            Some((_, written)) => assert!(folder.path().join(written).is_file(), "{command}"),
            None => assert!(!output.stdout.is_empty(), "{command}"),
        }
    }
}

#[test]
fn the_output_that_is_shown_is_what_is_printed() {
    let folder = clone_of_the_sample();
    let mut shown = 0;
    for block in blocks("console") {
        let (command, expected) = block.split_once('\n').expect("a command and its output");
        let output = run(command.trim_start_matches("$ "), folder.path());
        let printed = String::from_utf8_lossy(&output.stdout);
        let expected = expected.trim_end().trim_end_matches("...").trim_end();
        assert!(printed.starts_with(expected), "{command} prints\n{printed}");
        shown += 1;
    }
    assert!(shown > 0);
}

#[test]
fn the_developers_table_says_what_each_dependency_is_for() {
    let manifests = ["Cargo.toml", "tests/workshop/Cargo.toml"].map(|path| fs::read_to_string(path).expect(path));
    let is_wanted = |table: &&str| {
        let name = table.lines().next().unwrap_or_default();
        ["dependencies]", "dev-dependencies]"].contains(&name)
            || name.starts_with("target.") && name.ends_with(".dependencies]")
    };
    let tables = manifests.iter().flat_map(|manifest| manifest.split("\n[").filter(is_wanted));
    let names = tables.flat_map(str::lines).filter_map(|line| line.split_once(" = ")).map(|(name, _)| name);
    let named: BTreeSet<&str> = names.filter(|name| *name != "blurbwright").collect();

    let text = fs::read_to_string("DEVELOPERS.md").expect("the developers' page");
    let rows = text.lines().skip_while(|line| !line.starts_with("| dependency |")).skip(2);
    let cells = rows.take_while(|line| line.starts_with('|')).filter_map(|row| row.split('|').nth(1));
    // Before the names of those that only tests or benches have stands which of them.
    let told = cells.map(|cell| cell.split_once(":* ").map_or(cell, |(_, names)| names).trim());
    assert_eq!(told.flat_map(|names| names.split(", ")).collect::<BTreeSet<&str>>(), named);
}
