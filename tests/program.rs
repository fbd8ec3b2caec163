//! The program that tests start on the command line, and a record of what it said to them and wrote.
//!
//! `tests/reference/elsewhere/run windows` has the same tests start the program for Windows, and compares the records.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::cell::Cell;
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::{env, fs, thread};

thread_local! {
    /// How many commands of this thread's test were recorded.
    static RECORDED: Cell<usize> = const { Cell::new(0) };
}

/// The program as it was built, or the one that `BLURBWRIGHT_PROGRAM` names, such as its build for another system.
pub(crate) fn path() -> PathBuf {
    let named = env::var_os("BLURBWRIGHT_PROGRAM");
    named.map_or_else(|| PathBuf::from(env!("CARGO_BIN_EXE_blurbwright")), PathBuf::from)
}

/// A text in which paths are written as here, whatever system the program that was named is built for.
pub(crate) fn alike(text: &str) -> String {
    let is_named = env::var_os("BLURBWRIGHT_PROGRAM").is_some();
    if is_named { text.replace("\\\\", "/").replace('\\', "/") } else { text.to_owned() }
}

/// Runs a command to its end in a book's folder, and records it where `BLURBWRIGHT_RECORDS` names a folder for that.
pub(crate) fn run(command: &mut Command, folder: &Path, input: &[u8]) -> Output {
    let place = env::var_os("BLURBWRIGHT_RECORDS").map(|records| next_place(Path::new(&records)));
    let before = place.as_ref().map(|_| files(folder));
    let mut child = command.spawn().expect("the program starts");
    // A program that refuses before it reads its input closes it, which is no fault.
    drop(child.stdin.take().map(|mut pipe| pipe.write_all(input)));
    let output = child.wait_with_output().expect("the program ends");
    if let Some((place, before)) = place.zip(before) {
        record(&place, command, folder, &output, &before);
    }
    output
}

/// The folder for the next command of the test: its name and a number.
fn next_place(records: &Path) -> PathBuf {
    let number = RECORDED.replace(RECORDED.get() + 1);
    let test = thread::current().name().unwrap_or("unnamed").replace("::", ".");
    records.join(test).join(format!("{number:03}"))
}

fn record(place: &Path, command: &Command, folder: &Path, output: &Output, before: &BTreeMap<String, Vec<u8>>) {
    let words: Vec<_> = command.get_args().map(|word| word.to_string_lossy()).collect();
    fs::create_dir_all(place.join("written")).expect("a folder for the record");
    let keep = |name: &str, content: &[u8]| fs::write(place.join(name), content).expect("a record is written");
    keep("command", words.join(" ").as_bytes());
    keep("folder", folder.to_string_lossy().as_bytes());
    keep("answer", output.status.to_string().as_bytes());
    keep("output", &output.stdout);
    keep("complaint", &output.stderr);
    for (name, content) in files(folder) {
        if before.get(&name) != Some(&content) {
            keep(&format!("written/{}", name.replace('/', "|")), &content);
        }
    }
}

/// The plain files below a folder, by their paths in it.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let (mut found, mut folders) = (BTreeMap::new(), vec![folder.to_path_buf()]);
    while let Some(inner) = folders.pop() {
        for entry in fs::read_dir(inner).into_iter().flatten().flatten() {
            let Ok(about) = entry.metadata() else { continue };
            if about.is_dir() {
                folders.push(entry.path());
            } else if about.is_file() && about.len() < LARGEST {
                let name =
                    entry.path().strip_prefix(folder).expect("it is in the folder").to_string_lossy().into_owned();
                found.insert(name, fs::read(entry.path()).unwrap_or_default());
            }
        }
    }
    found
}

/// No command writes a file that is larger, in bytes.
const LARGEST: u64 = 1 << 26;
