//! The list of what the program is built from, `src/cli/crates.txt`, held against Cargo.lock: every crate of it, in
//! its version, with a licence as an SPDX expression; and the texts of those licences, `src/cli/crate-licences.txt`.
//! `WRITE_CRATES=1 cargo test crates_are` writes both anew, for which cargo fetches what other platforms need.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

use serde_json::Value;

const FILE: &str = "src/cli/crates.txt";
const HEAD: &str = "# The crates from which the program is built on one platform or another: name, version, licence \
                    as an SPDX\n# expression. Source: Cargo.lock and the crates' own manifests. Written by\n# \
                    `WRITE_CRATES=1 cargo test crates_are`.\n";

const TEXTS: &str = "src/cli/crate-licences.txt";
const TEXTS_HEAD: &str = "\
# The texts of the licences of the crates in crates.txt, each under the crates that carry it: MIT, BSD,
# Apache and others ask that their text goes with a program. Where a crate can be had by another licence,
# the text of Apache-2.0 is left out. Written by `WRITE_CRATES=1 cargo test crates_are`.

";
/// What stands in the place of a text that a crate does not carry.
const NO_TEXT: &str = "The crate carries no text of its licence.";

/// A crate: its name and its version.
type Crate = (String, String);

/// The crates of the lock file with what each needs.
fn locked() -> BTreeMap<Crate, Vec<String>> {
    let lock = fs::read_to_string("Cargo.lock").expect("the lock file");
    let value = |part: &str, key: &str| {
        part.lines().find_map(|line| line.strip_prefix(key)).map(|value| value.trim_matches('"').to_owned())
    };
    let parts = lock.split("[[package]]\n").skip(1).map(|part| {
        let named = (value(part, "name = ").expect("a name"), value(part, "version = ").expect("a version"));
        let needs = part.lines().filter_map(|line| line.strip_prefix(" \"")?.strip_suffix("\","));
        (named, needs.map(str::to_owned).collect())
    });
    parts.collect()
}

/// The names of the crates that the program itself asks for: not those of its tests.
fn asked_for() -> BTreeSet<String> {
    let manifest = fs::read_to_string("Cargo.toml").expect("the manifest");
    let is_asked = |table: &&str| {
        let name = table.lines().next().unwrap_or_default();
        // Those of one system have its name in front.
        ["dependencies]", "build-dependencies]"].contains(&name)
            || name.starts_with("target.") && name.ends_with(".dependencies]")
    };
    let tables = manifest.split("\n[").filter(is_asked);
    let lines = tables.flat_map(str::lines).filter_map(|line| line.split_once(" = "));
    lines.map(|(name, _)| name.to_owned()).filter(|name| !name.starts_with('#')).collect()
}

/// All that those crates need, and what that needs.
fn built_from(locked: &BTreeMap<Crate, Vec<String>>) -> BTreeSet<Crate> {
    let find = |named: &str| {
        let mut words = named.split(' ');
        let (name, version) = (words.next().unwrap_or_default(), words.next());
        let is_it = |known: &&Crate| known.0 == name && version.is_none_or(|version| known.1 == version);
        locked.keys().find(is_it).unwrap_or_else(|| panic!("{named} is not locked")).clone()
    };
    let own = locked.iter().find(|(known, _)| known.0 == "blurbwright").expect("the program itself").1;
    let asked = asked_for();
    let first = own.iter().filter(|named| asked.contains(named.split(' ').next().unwrap_or_default()));
    let (mut open, mut all): (Vec<Crate>, BTreeSet<Crate>) =
        (first.map(|named| find(named)).collect(), BTreeSet::new());
    while let Some(next) = open.pop() {
        if all.insert(next.clone()) {
            open.extend(locked[&next].iter().map(|named| find(named)));
        }
    }
    all
}

/// The lines of the list: each crate with its licence.
fn listed() -> BTreeMap<Crate, String> {
    let text = fs::read_to_string(FILE).expect("the list");
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    let parts = lines.map(|line| {
        let mut parts = line.splitn(3, ' ').map(str::to_owned);
        let mut next = || parts.next().unwrap_or_else(|| panic!("{line}: name, version and licence"));
        ((next(), next()), next())
    });
    parts.collect()
}

/// Whether a licence is an SPDX expression in its form: names joined by AND, OR and WITH.
///
/// Source: SPDX 2.3, annex D.
fn is_expression(licence: &str) -> bool {
    let plain = licence.replace(['(', ')'], " ");
    let words: Vec<&str> = plain.split_whitespace().collect();
    let is_name =
        |word: &str| word.chars().all(|letter| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '.' | '+'));
    let is_joint = |word: &str| ["AND", "OR", "WITH"].contains(&word);
    words.len() % 2 == 1 && words.iter().enumerate().all(|(at, word)| is_name(word) && is_joint(word) == (at % 2 == 1))
}

fn write_anew(needed: &BTreeSet<Crate>) {
    let output = Command::new(env!("CARGO")).args(["metadata", "--locked", "--format-version", "1"]).output();
    let data: Value = serde_json::from_slice(&output.expect("cargo runs").stdout).expect("JSON");
    let text = |package: &Value, key: &str| package[key].as_str().unwrap_or_default().to_owned();
    let licences: BTreeMap<Crate, String> = data["packages"]
        .as_array()
        .expect("packages")
        .iter()
        // An older form of manifests has a slash for OR.
        .map(|it| {
            ((text(it, "name"), text(it, "version")), text(it, "license").replace(" / ", "/").replace('/', " OR "))
        })
        .collect();
    let lines = needed.iter().map(|known| format!("{} {} {}\n", known.0, known.1, licences[known]));
    fs::write(FILE, HEAD.to_owned() + &lines.collect::<String>()).expect("the list is written");
    let folders: BTreeMap<Crate, PathBuf> = data["packages"]
        .as_array()
        .expect("packages")
        .iter()
        .map(|it| ((text(it, "name"), text(it, "version")), PathBuf::from(text(it, "manifest_path"))))
        .collect();
    // Texts that differ in their line ends alone are one.
    let mut texts: BTreeMap<String, (String, BTreeSet<Crate>)> = BTreeMap::new();
    for known in needed {
        for text in texts_in(folders[known].parent().expect("the crate's folder")) {
            let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
            texts.entry(words).or_insert_with(|| (text, BTreeSet::new())).1.insert(known.clone());
        }
    }
    let mut texts: Vec<(String, BTreeSet<Crate>)> = texts.into_values().collect();
    texts.sort_by(|one, other| one.1.cmp(&other.1));
    let written = texts.iter().map(|(text, crates)| {
        let names: Vec<String> = crates.iter().map(|(name, version)| format!("{name} {version}")).collect();
        format!("{BEGINS}{}\n\n{text}\n\n", names.join(", "))
    });
    fs::write(TEXTS, TEXTS_HEAD.to_owned() + &written.collect::<String>()).expect("the texts are written");
}

/// How the line begins that names the crates of a text.
const BEGINS: &str = "=== ";

/// The texts of the licences in a crate's folder, without those of Apache-2.0 where there is another.
fn texts_in(folder: &Path) -> Vec<String> {
    const NAMES: [&str; 6] = ["license", "licence", "copying", "notice", "unlicense", "copyright"];
    let is_text = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
        path.is_file() && NAMES.iter().any(|known| name.starts_with(known))
    };
    let entries = fs::read_dir(folder).expect("the crate's folder").flatten().map(|entry| entry.path());
    let mut paths: Vec<PathBuf> = entries.filter(is_text).collect();
    paths.sort();
    let read = |path: &PathBuf| {
        let text = String::from_utf8_lossy(&fs::read(path).expect("a licence")).replace("\r\n", "\n");
        let lines: Vec<&str> = text.trim_matches(['\n', '\u{feff}']).lines().map(str::trim_end).collect();
        lines.join("\n").replace('\u{c}', "")
    };
    let texts: Vec<String> = paths.iter().map(read).collect();
    let is_apache = |text: &&String| text.contains("TERMS AND CONDITIONS") && text.contains("Apache License");
    let others: Vec<String> = texts.iter().filter(|text| !is_apache(text)).cloned().collect();
    match (others.is_empty(), texts.is_empty()) {
        (false, _) => others,
        (true, false) => texts,
        (true, true) => vec![NO_TEXT.to_owned()],
    }
}

#[test]
fn crates_are_told_with_their_versions_and_licences() {
    let needed = built_from(&locked());
    if env::var_os("WRITE_CRATES").is_some() {
        write_anew(&needed);
    }
    let listed = listed();
    let known: BTreeSet<Crate> = listed.keys().cloned().collect();
    let missing: Vec<&Crate> = needed.difference(&known).collect();
    let gone: Vec<&Crate> = known.difference(&needed).collect();
    let anew = "WRITE_CRATES=1 cargo test crates_are writes the list anew";
    assert!(missing.is_empty() && gone.is_empty(), "not in the list: {missing:?}; no longer needed: {gone:?}; {anew}");
    assert!(needed.len() > 100 && needed.iter().all(|known| known.0 != "proptest"), "{needed:?}");
    for (known, licence) in &listed {
        assert!(is_expression(licence), "{known:?}: {licence}");
    }
}

#[test]
fn crates_are_named_above_the_texts_of_their_licences() {
    let text = fs::read_to_string(TEXTS).expect("the texts");
    let mut known: BTreeSet<Crate> = BTreeSet::new();
    for part in text.split(&format!("\n{BEGINS}")).skip(1) {
        let (crates, words) = part.split_once("\n\n").expect("crates, and below them a text");
        assert!(words.trim() == NO_TEXT || words.split_whitespace().count() > 10, "{crates}: {words}");
        known.extend(crates.split(", ").map(|named| {
            let (name, version) = named.split_once(' ').expect("a name and a version");
            (name.to_owned(), version.to_owned())
        }));
    }
    assert_eq!(known, listed().into_keys().collect(), "WRITE_CRATES=1 cargo test crates_are writes the texts anew");
    // What the program is built from here asks for its text; only stubs for other platforms carry none.
    assert!(text.matches("Permission is hereby granted").count() > 20 && text.matches(NO_TEXT).count() <= 1);
}

#[test]
fn an_expression_is_told_from_other_words() {
    for right in ["MIT", "MIT OR Apache-2.0", "(MIT OR Apache-2.0) AND Unicode-3.0", "Apache-2.0 WITH LLVM-exception"] {
        assert!(is_expression(right), "{right}");
    }
    for wrong in ["", "MIT/Apache-2.0", "MIT OR", "MIT Apache-2.0", "see LICENSE"] {
        assert!(!is_expression(wrong), "{wrong}");
    }
}
