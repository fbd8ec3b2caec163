//! The house: what is true of the whole source tree, and would be lost silently without a test.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

mod source;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use source::{bare, functions, paths, public_types, rooms_named, without_tests};

/// The rooms from the top of the house to the door; a room imports only from those above it.
const ROOMS: [&str; 31] = [
    "system",
    "units",
    "packing",
    "draft",
    "documents",
    "artwork",
    "brief",
    "briefing",
    "values",
    "outlines",
    "text",
    "level",
    "terms",
    "setting",
    "art",
    "queries",
    "report",
    "handover",
    "print",
    "feeds",
    "pictures",
    "terminal",
    "proof",
    "lists",
    "editor",
    "trial",
    "desk",
    "beginning",
    "panes",
    "files",
    "cli",
];

/// What the program's folder may hold, beside names that begin with a dot.
const TOP: [&str; 10] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "src",
    "tests",
    "wordlists",
    "drafts",
    "target",
];

const LONGEST_FILE: usize = 600;
const LONGEST_FUNCTION: usize = 80;
const MOST_FILES: usize = 25;
const WIDEST_LINE: usize = 120;

/// Words with which no comment of an item begins: what they speak of stands elsewhere.
const LEANING: [&str; 7] = ["The same", "It", "They", "That is", "This is", "These are", "Those are"];

/// Every file below a folder, in the order of their names.
fn files_below(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let entries = fs::read_dir(folder).unwrap_or_else(|error| panic!("{folder}: {error}"));
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry can be read").path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            found.extend(files_below(&path.to_string_lossy()));
        } else {
            found.push(path);
        }
    }
    found
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The Rust files below a folder with their text.
fn code_below(folder: &str) -> Vec<(PathBuf, String)> {
    let is_code = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "rs");
    files_below(folder).into_iter().filter(is_code).map(|path| (path.clone(), read(&path))).collect()
}

/// Names with which code asks which system it is, or does what only one of them does.
const OF_SYSTEMS: [&str; 7] = ["unix", "target_os", "target_family", "nix", "signal_hook", "tokio", "canonicalize"];

/// What a file says that only the room `system` may say, as sentences.
fn said_of_systems(path: &Path, code: &str) -> Vec<String> {
    if room_of(path).is_none_or(|room| room == "system") {
        return Vec::new();
    }
    let code = without_tests(&bare(code));
    let is_word = |name: &&str| code.split(|c: char| !c.is_alphanumeric() && c != '_').any(|word| word == *name);
    let words = OF_SYSTEMS.iter().copied().filter(is_word);
    // Slices have a method of the name of the system.
    let parts = ["(windows)", "(windows,", "std::os::"].into_iter().filter(|part| code.contains(part));
    words.chain(parts).map(|said| format!("{} says {said}", path.display())).collect()
}

#[test]
fn which_system_it_is_only_its_room_asks() {
    let wrong: Vec<String> = code_below("src").iter().flat_map(|(path, code)| said_of_systems(path, code)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_planted_question_for_the_system_is_found() {
    let found = |path: &str, code: &str| said_of_systems(Path::new(path), code).len();
    assert_eq!(found("src/files.rs", "#[cfg(unix)]\nfn a() {}\n#[cfg(not(windows))]\nfn b() {}"), 2);
    assert_eq!(found("src/files.rs", "use std::os::windows::fs::MetadataExt; use nix::poll::poll;"), 2);
    assert_eq!(found("src/cli.rs", "if cfg!(target_os = \"linux\") { fs::canonicalize(path) }"), 2);
    assert_eq!(found("src/system/unix.rs", "use std::os::unix::fs::MetadataExt;"), 0);
    assert_eq!(found("src/cli.rs", "/// As unix has it.\nfn a() { b.windows(2); windows(c); feeds::onix::d() }"), 0);
    assert_eq!(found("src/cli.rs", "#[cfg(all(test, unix))]\nmod tests { fn a() { nix::poll() } }"), 0);
}

/// The modules that the library declares, in its order.
fn declared(library: &str) -> Vec<String> {
    let code = bare(library);
    let name = |line: &str| Some(line.trim().strip_prefix("pub mod ")?.strip_suffix(';')?.to_owned());
    code.lines().filter_map(name).collect()
}

/// The room that a file of `src` belongs to; the root files belong to none.
fn room_of(path: &Path) -> Option<String> {
    let first = path.strip_prefix("src").ok()?.components().next()?;
    let name = first.as_os_str().to_string_lossy().trim_end_matches(".rs").to_owned();
    (!["lib", "main", "build"].contains(&name.as_str())).then_some(name)
}

/// What a file imports from its own height or from below, as sentences.
fn upward_imports(path: &Path, code: &str, order: &[String]) -> Vec<String> {
    let Some(room) = room_of(path) else { return Vec::new() };
    let Some(height) = order.iter().position(|name| *name == room) else {
        return vec![format!("{} is in no room that the library declares", path.display())];
    };
    let depth = path.components().count() - 2;
    let forbidden = |named: &String| *named != room && !order[..height].contains(named);
    rooms_named(&without_tests(&bare(code)), depth)
        .into_iter()
        .filter(forbidden)
        .map(|named| format!("{} ({room}) imports {named}", path.display()))
        .collect()
}

#[test]
fn rooms_import_only_from_rooms_above() {
    let order = declared(&read(Path::new("src/lib.rs")));
    let known: Vec<&str> = ROOMS.into_iter().filter(|room| order.iter().any(|name| name == room)).collect();
    assert_eq!(order, known, "the library declares its rooms in the order of the house");
    let wrong: Vec<String> =
        code_below("src").iter().flat_map(|(path, code)| upward_imports(path, code, &order)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_planted_import_from_below_is_found() {
    let order: Vec<String> = ROOMS.map(str::to_owned).to_vec();
    let check = |path: &str, code: &str| {
        let found = upward_imports(Path::new(path), code, &order);
        found.iter().map(|sentence| sentence.rsplit(' ').next().unwrap_or_default().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(check("src/text/words.rs", "use crate::setting::Room;"), ["setting"]);
    assert_eq!(
        check("src/text.rs", "use crate::{\n    units::Length,\n    report::{self, Fit},\n    cli,\n};"),
        ["report", "cli"]
    );
    assert_eq!(check("src/units.rs", "fn f() -> u8 { crate::draft::place(\"\", 0).0 as u8 }"), ["draft"]);
    assert_eq!(check("src/brief.rs", "use super::report::Fit;"), ["report"]);
    assert_eq!(check("src/brief/book.rs", "use super::report::Fit; use super::super::files;"), ["files"]);
    assert_eq!(check("src/text.rs", "use crate :: report;\nuse crate::*;"), ["report", "*"]);
    assert_eq!(check("src/text.rs", "impl<'a> A<'a> { fn q(&self) -> char { '\"' } } use crate::files;"), ["files"]);

    assert!(check("src/report.rs", "use crate::units::Length;\nuse crate::report::fit::Fit;").is_empty());
    assert!(
        check("src/units.rs", "//! See [`crate::report`].\n/* crate::cli /* crate::files */ crate::desk */").is_empty()
    );
    assert!(
        check("src/units.rs", "const A: &str = \"use crate::cli;\"; const B: &str = r#\"\"crate::cli\"#;").is_empty()
    );
    assert!(check("src/units.rs", "#[cfg(test)]\nmod tests {\n    use crate::cli;\n    fn f() { {} }\n}").is_empty());
    assert_eq!(check("src/units.rs", "#[cfg(test)]\nmod tests { fn f() {} }\nuse crate::cli;"), ["cli"]);
    assert_eq!(check("src/cellar.rs", ""), ["declares"]);
}

/// Every circle between the files of one folder below `src`, each told once, from its first file on. The file that has
/// the folder's own name is no part of it: a room's root gives out what its files have, and its files use the root's
/// types.
fn circles(files: &[(PathBuf, String)]) -> Vec<String> {
    let names: BTreeMap<Vec<String>, &Path> = files.iter().map(|(path, _)| (module_of(path), path.as_path())).collect();
    let mut needs: BTreeMap<&Path, BTreeSet<&Path>> = BTreeMap::new();
    for (path, code) in files {
        let own = module_of(path);
        let named = paths(&without_tests(&bare(code))).into_iter().map(|named| absolute(&own, &named));
        let needed = named.filter_map(|named| names.get(named.get(..2)?).copied()).filter(|needed| needed != path);
        needs.insert(path, needed.filter(|needed| needed.parent() == path.parent()).collect());
    }
    needs.keys().filter_map(|first| circle_from(first, &needs)).collect()
}

/// The names that lead to a file's module from the library.
fn module_of(path: &Path) -> Vec<String> {
    let inside = path.strip_prefix("src").unwrap_or(path).with_extension("");
    inside.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect()
}

/// A path that stands in a module, from the library on.
fn absolute(module: &[String], named: &[String]) -> Vec<String> {
    let mut path = if named.first().is_some_and(|name| name == "crate") { Vec::new() } else { module.to_vec() };
    for name in named {
        match name.as_str() {
            "crate" | "self" => {}
            "super" => drop(path.pop()),
            name => path.push(name.to_owned()),
        }
    }
    path
}

/// The shortest circle that leads from a file to itself over files behind it in the order of their names.
fn circle_from(first: &Path, needs: &BTreeMap<&Path, BTreeSet<&Path>>) -> Option<String> {
    let (mut ways, mut seen) = (vec![vec![first]], BTreeSet::new());
    while !ways.is_empty() {
        let mut longer = Vec::new();
        for way in ways {
            for next in way.last().and_then(|last| needs.get(last)).into_iter().flatten() {
                let circle = || way.iter().chain([&first]).map(|path| path.display().to_string()).collect::<Vec<_>>();
                if *next == first {
                    return Some(circle().join(" -> "));
                }
                if *next > first && seen.insert(*next) {
                    longer.push(way.iter().copied().chain([*next]).collect::<Vec<_>>());
                }
            }
        }
        ways = longer;
    }
    None
}

#[test]
fn no_two_files_of_a_room_need_each_other() {
    let found = circles(&code_below("src"));
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_planted_circle_is_found() {
    let check = |files: &[(&str, &str)]| {
        circles(&files.iter().map(|(path, code)| (PathBuf::from(path), (*code).to_owned())).collect::<Vec<_>>())
    };
    let (lines, fit) = ("src/setting/lines.rs", "src/setting/fit.rs");
    let told = ["src/setting/fit.rs -> src/setting/lines.rs -> src/setting/fit.rs"];
    assert_eq!(check(&[(lines, "use super::fit::fill;"), (fit, "use super::{\n    lines::{self, Line},\n};")]), told);
    assert_eq!(check(&[(lines, "use super::{copy, fit};"), (fit, "fn f() { crate::setting::lines::g() }")]), told);
    assert_eq!(check(&[(lines, "use crate::{units::Em, setting::fit as other};"), (fit, "use super::lines;")]), told);
    assert_eq!(
        check(&[
            ("src/desk/keys.rs", "use super::state::State;"),
            ("src/desk/pane.rs", "use super::keys::KEYS;"),
            ("src/desk/state.rs", "use super::pane;\nuse super::keys;"),
        ]),
        ["src/desk/keys.rs -> src/desk/state.rs -> src/desk/keys.rs"]
    );
    assert_eq!(
        check(&[
            ("src/desk/keys.rs", "use super::state::State;"),
            ("src/desk/pane.rs", "use super::keys::KEYS;"),
            ("src/desk/state.rs", "use super::pane;"),
        ]),
        ["src/desk/keys.rs -> src/desk/state.rs -> src/desk/pane.rs -> src/desk/keys.rs"]
    );

    assert!(check(&[(lines, "use super::fit::fill;"), (fit, "use super::Setting; // super::lines")]).is_empty());
    assert!(
        check(&[(lines, "use super::fit;"), (fit, "#[cfg(test)]\nmod tests { use super::super::lines; }")]).is_empty()
    );
    assert!(check(&[("src/draft.rs", "use lines::Line;"), ("src/draft/lines.rs", "use super::Draft;")]).is_empty());
}

#[test]
fn no_two_public_types_have_one_name() {
    let mut places: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (path, code) in code_below("src") {
        for name in public_types(&without_tests(&bare(&code))) {
            places.entry(name).or_default().push(path.display().to_string());
        }
    }
    let wrong: Vec<String> = places
        .into_iter()
        .filter(|(_, places)| places.len() > 1)
        .map(|(name, places)| format!("{name}: {}", places.join(", ")))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_planted_public_type_is_found() {
    let code = "pub struct A<'a>(&'a u8);\npub(super) enum B {}\nstruct C;\n/// pub struct D;\npub type E = u8;\npub \
                enum F {}";
    assert_eq!(public_types(&bare(code)), ["A", "E", "F"]);
}

/// Comments of items that begin with a word that leans on something elsewhere, as sentences.
fn leaning_comments(path: &Path, code: &str) -> Vec<String> {
    let lines: Vec<&str> = code.lines().map(str::trim_start).collect();
    let said = |line: &str| line.strip_prefix("///").or_else(|| line.strip_prefix("//!")).map(str::to_owned);
    let leans = |at: &usize| {
        let begins = *at == 0 || said(lines[at - 1]).is_none_or(|above| above.trim().is_empty());
        let words = said(lines[*at]).unwrap_or_default();
        let leans =
            |lead: &str| words.trim().strip_prefix(lead).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric));
        begins && LEANING.into_iter().any(leans)
    };
    let told = |at: usize| format!("{}:{} begins with what stands elsewhere: {}", path.display(), at + 1, lines[at]);
    (0..lines.len()).filter(leans).map(told).collect()
}

#[test]
fn no_comment_of_an_item_leans_on_another() {
    let mut wrong = Vec::new();
    for (path, code) in code_below("src") {
        wrong.extend(leaning_comments(&path, &code));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_planted_leaning_comment_is_found() {
    let found = |code: &str| leaning_comments(Path::new("src/a.rs"), code).len();
    assert_eq!(found("/// The same, sooner.\nfn a() {}\n    /// It is over.\n    /// This is how.\n    b: bool,"), 2);
    assert_eq!(found("//! It was.\n//!\n//! This is another paragraph."), 2);
    assert_eq!(
        found("/// Italic, or assorted.\n// It is no item's comment.\n/// A line that goes on:\n/// It does."),
        0
    );
}

#[test]
fn no_line_is_wider_than_the_measure() {
    let mut wrong = Vec::new();
    for (path, code) in code_below("src").into_iter().chain(code_below("tests")) {
        let wide = |(_, line): &(usize, &str)| line.chars().count() > WIDEST_LINE;
        let wide = code.lines().enumerate().filter(wide);
        wrong.extend(
            wide.map(|(at, line)| format!("{}:{} has {} characters", path.display(), at + 1, line.chars().count())),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn files_and_functions_keep_the_house_measures() {
    let mut wrong = Vec::new();
    for (path, code) in code_below("src").into_iter().chain(code_below("tests")) {
        let name = path.display();
        let lines = code.lines().count();
        if lines > LONGEST_FILE {
            wrong.push(format!("{name} has {lines} lines; {LONGEST_FILE} is the most"));
        }
        if !code.starts_with("//! ") {
            wrong.push(format!("{name} does not begin by saying what it does (//!)"));
        }
        for (function, lines) in functions(&bare(&code)).into_iter().filter(|(_, lines)| *lines > LONGEST_FUNCTION) {
            wrong.push(format!("{name}: {function} has {lines} lines; {LONGEST_FUNCTION} is the most"));
        }
        if path.starts_with("src") && (path.components().count() > 3 || path.ends_with("mod.rs")) {
            wrong.push(format!("{name} lies deeper than src/room/file.rs"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Rules stand in a file each, and are looked for by name; elsewhere a reader has to know all files of a folder.
#[test]
fn no_folder_has_too_many_files() {
    let mut counts: BTreeMap<PathBuf, usize> = BTreeMap::new();
    for (path, _) in code_below("src") {
        *counts.entry(path.parent().map(Path::to_path_buf).unwrap_or_default()).or_default() += 1;
    }
    counts.remove(Path::new("src/queries"));
    // Beside the rooms, which are named in their order, stand the program, the library and the build script.
    let rooms = counts.remove(Path::new("src"));
    assert_eq!(rooms, Some(ROOMS.len() + 3));
    let wrong: Vec<_> = counts.iter().filter(|(_, count)| **count > MOST_FILES).collect();
    assert!(wrong.is_empty() && counts.len() > 10, "{wrong:?}");
}

#[test]
fn a_planted_long_function_is_found() {
    let long = format!(
        "fn short() {{}}\nimpl A {{\n    fn long(b: [u8; 2]) -> u8\n    {{\n{}    }}\n}}",
        "        b();\n".repeat(81)
    );
    assert_eq!(functions(&bare(&long)), [("short".to_owned(), 0), ("long".to_owned(), 81)]);
    assert_eq!(
        functions(&bare("trait T { fn told(&self) -> u8; fn given(&self) -> u8 {\n1\n} }")),
        [("given".to_owned(), 1)]
    );
}

#[test]
fn nothing_depends_on_one_machine() {
    // Written in two parts, so that this list does not find itself.
    let forbidden = [
        concat!("/", "home/"),
        concat!("/", "root/"),
        concat!("/", "tmp/"),
        concat!("/", "work/"),
        concat!("/", "Users/"),
        concat!("C:", "\\"),
        concat!("crates", ".io/"),
        concat!("index", ".crates.io"),
        concat!("pypi", ".org"),
        concat!("npmjs", ".org"),
    ];
    let mut wrong = Vec::new();
    let folders = ["src", "tests", "wordlists", "drafts", ".ci", ".package"];
    let single = ["Cargo.toml", "README.md", "DEVELOPERS.md"].map(PathBuf::from);
    let all =
        folders.iter().flat_map(|folder| files_below(folder)).chain(single.into_iter().filter(|path| path.exists()));
    for path in all {
        let bytes = fs::read(&path).expect("a file of the house can be read");
        // Fonts are no text.
        let Ok(text) = String::from_utf8(bytes) else { continue };
        wrong.extend(
            forbidden.iter().filter(|part| text.contains(*part)).map(|part| format!("{}: {part}", path.display())),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_top_level_holds_only_what_is_known() {
    let names = fs::read_dir(".").expect("the program's folder can be read");
    let names = names.map(|entry| entry.expect("an entry can be read").file_name().to_string_lossy().into_owned());
    let strange: Vec<String> = names.filter(|name| !name.starts_with('.') && !TOP.contains(&name.as_str())).collect();
    assert!(strange.is_empty(), "{strange:?}");
}

#[test]
fn every_word_list_says_where_it_comes_from_and_how_long_it_is() {
    let mut tried = 0;
    for path in files_below("wordlists").iter().filter(|path| !path.to_string_lossy().ends_with("-LICENSE.txt")) {
        let name = path.display();
        let text = read(path);
        let header: Vec<&str> = text.lines().take_while(|line| line.starts_with('#')).collect();
        let value = |key: &str| {
            let found = header.iter().find_map(|line| line.strip_prefix(&format!("# {key}: ")));
            found.unwrap_or_else(|| panic!("{name} has no line \"# {key}:\" at its head"))
        };
        assert!(!value("Source").is_empty(), "{name}");
        let licence = value("Licence");
        if let Some(beside) = licence.split_once(", see ").map(|(_, file)| file) {
            assert!(Path::new("wordlists").join(beside).is_file(), "{name} names {beside}");
        }
        let told: String = value("Entries").chars().take_while(char::is_ascii_digit).collect();
        let entries = text.lines().skip(header.len()).filter(|line| !line.is_empty()).count();
        assert_eq!(told, entries.to_string(), "{name}");
        tried += 1;
    }
    assert!(tried >= 5, "only {tried} lists were found");
}

#[test]
fn every_built_in_font_has_its_licence_beside_it() {
    for path in files_below("src/fonts") {
        let name = path.file_name().expect("a file has a name").to_string_lossy().into_owned();
        let family = name.split('-').next().unwrap_or_default();
        let licence = read(Path::new(&format!("src/fonts/{family}-OFL.txt")));
        assert!(licence.contains("SIL OPEN FONT LICENSE Version 1.1"), "{name}");
    }
}

#[test]
fn the_developers_table_names_the_rooms_that_there_are() {
    let text = read(Path::new("DEVELOPERS.md"));
    let rows =
        text.lines().skip_while(|line| !line.starts_with("| room |")).skip(2).take_while(|line| line.starts_with('|'));
    let told: Vec<&str> = rows.filter_map(|row| row.split('`').nth(1)).collect();
    let code = read(Path::new("src/lib.rs"));
    let rooms: Vec<&str> = code.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    assert_eq!(told, rooms);
}
