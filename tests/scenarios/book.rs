//! A book in a folder of its own that is taken away again, and the program run in it.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

use crate::program;

/// A brief with room for sixty words and no wishes.
pub(super) const BRIEF: &str =
    "panel: { trim: 8.5 x 8.5 in }\nlimits: { words: 1..60, level: .., longest_sentence: .. }\n";

/// A draft within that brief.
pub(super) const DRAFT: &str = "Oona climbs the stairs. The lamp is dark, and the boats are out.\n";

/// A folder with files in it.
pub(super) struct Book {
    folder: TempDir,
    input: Vec<u8>,
    environment: Vec<(String, String)>,
}

/// What the program printed and answered.
pub(super) struct Outcome {
    pub(super) printed: String,
    pub(super) complained: String,
    status: i32,
}

impl Book {
    /// An empty folder.
    pub(super) fn empty() -> Self {
        let folder = TempDir::new().expect("a folder for the test can be made");
        Self { folder, input: Vec::new(), environment: Vec::new() }
    }

    /// A folder with a plain brief.
    pub(super) fn new() -> Self {
        Self::empty().file("brief.yaml", BRIEF)
    }

    /// A folder with a plain brief and one draft within it.
    pub(super) fn with_draft(draft: impl AsRef<[u8]>) -> Self {
        Self::new().file("first.md", draft)
    }

    /// The sample book that comes with the program.
    pub(super) fn sample() -> Self {
        ["brief.yaml", "first.md", "second.md"]
            .into_iter()
            .fold(Self::empty(), |book, name| book.file(name, fs::read(Path::new("drafts").join(name)).expect(name)))
    }

    pub(super) fn file(self, name: &str, content: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        fs::create_dir_all(path.parent().expect("a file has a folder")).expect("a folder can be made");
        fs::write(path, content).expect("a file can be written");
        self
    }

    pub(super) fn folder(self, name: &str) -> Self {
        fs::create_dir_all(self.path(name)).expect("a folder can be made");
        self
    }

    /// A file of so many bytes, all of them nothing, that takes no room on the disk.
    pub(super) fn huge_file(self, name: &str, bytes: u64) -> Self {
        let file = File::create(self.path(name)).expect("a file can be made");
        file.set_len(bytes).expect("a file can be made long");
        self
    }

    pub(super) fn input(mut self, input: impl AsRef<[u8]>) -> Self {
        self.input = input.as_ref().to_vec();
        self
    }

    pub(super) fn environment(mut self, name: &str, value: &str) -> Self {
        self.environment.push((name.to_owned(), value.to_owned()));
        self
    }

    /// A file's text as it is now.
    pub(super) fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The program in this folder, ready to be started.
    pub(super) fn command<A: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = A>) -> Command {
        let mut command = Command::new(program::path());
        command.args(arguments).current_dir(self.folder.path()).env_remove("NO_COLOR");
        command.envs(self.environment.iter().map(|(name, value)| (name, value)));
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    /// Runs the program to its end, whatever it writes.
    pub(super) fn output<A: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = A>) -> Output {
        program::run(&mut self.command(arguments), self.folder.path(), &self.input)
    }

    /// Runs the program, and holds it to what is true of every run: nothing is written that was not asked for, and
    /// nothing reaches the terminal that it would act on.
    pub(super) fn run<A: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = A>) -> Outcome {
        let before = self.contents();
        let output = self.output(arguments);
        assert_eq!(self.contents(), before, "a file was written, changed or taken away");
        let outcome = Outcome {
            printed: String::from_utf8(output.stdout).expect("what is printed is UTF-8"),
            complained: String::from_utf8(output.stderr).expect("what is complained of is UTF-8"),
            status: output.status.code().expect("the program ends by itself"),
        };
        outcome.is_safe_to_show();
        outcome
    }

    /// The drafts of the folder as the program's one-line JSON has them.
    pub(super) fn measured<A: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = A>) -> Vec<Value> {
        let arguments = arguments.into_iter().map(|argument| argument.as_ref().to_owned());
        let all = ["measure".into(), "--format=jsonl".into()].into_iter().chain(arguments);
        let outcome = self.run(all);
        outcome.printed.lines().map(|line| serde_json::from_str(line).expect("a line is one object")).collect()
    }

    fn contents(&self) -> BTreeMap<PathBuf, u64> {
        let mut found = BTreeMap::new();
        let mut folders = vec![self.folder.path().to_path_buf()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).expect("a folder can be listed") {
                let entry = entry.expect("an entry can be read");
                let about = entry.metadata().expect("an entry has a size");
                found.insert(entry.path(), about.len());
                if about.is_dir() {
                    folders.push(entry.path());
                }
            }
        }
        found
    }
}

impl Outcome {
    /// The status: 0 within, 1 outside, 2 not understood.
    #[track_caller]
    pub(super) fn answers(&self, status: i32) -> &Self {
        assert_eq!(self.status, status, "printed:\n{}\ncomplained:\n{}", self.printed, self.complained);
        self
    }

    #[track_caller]
    pub(super) fn prints(&self, part: &str) -> &Self {
        assert!(
            program::alike(&self.printed).contains(&program::alike(part)),
            "\"{part}\" is not in\n{}",
            self.printed
        );
        self
    }

    #[track_caller]
    pub(super) fn complains(&self, part: &str) -> &Self {
        assert!(
            program::alike(&self.complained).contains(&program::alike(part)),
            "\"{part}\" is not in\n{}",
            self.complained
        );
        self
    }

    /// Nothing but this one message, word for word.
    #[track_caller]
    pub(super) fn refuses(&self, message: &str) -> &Self {
        assert_eq!(program::alike(&self.complained), program::alike(&format!("{message}\n")));
        assert_eq!(self.printed, "");
        self.answers(2)
    }

    #[track_caller]
    pub(super) fn is_silent_on_errors(&self) -> &Self {
        assert_eq!(self.complained, "");
        self
    }

    /// Every character can be shown: of all that a terminal acts on only line endings are there.
    #[track_caller]
    fn is_safe_to_show(&self) {
        for text in [&self.printed, &self.complained] {
            let bad = text.chars().find(|character| {
                (character.is_control() && *character != '\n')
                    || matches!(character, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
            });
            assert_eq!(bad, None, "in {text:?}");
        }
    }
}
