//! What could not be read, found or written: an error of named parts, and the one place that makes a sentence of them.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::brief::Fault;
use crate::system;

/// What could not be read, found, written or done as asked.
///
/// No code inspects the sentence of an error or joins two sentences: whoever knows more about an error adds a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Error {
    parts: Box<ErrorParts>,
}

/// The parts of an error; an empty part is left out of the sentence.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct ErrorParts {
    /// The draft that could not be measured because of the error, if no other part names it.
    draft: Option<PathBuf>,
    /// Where a brief names the file that the error is about.
    named_at: Option<FilePlace>,
    /// Where in a file the error is.
    place: Option<FilePlace>,
    /// What was to be done, as it follows `cannot`: `read the draft`.
    operation: String,
    /// The file or the folder that the operation was about.
    path: Option<PathBuf>,
    /// The key, option or name that the error is about: `panel.trim`, `--size`, `at bold`.
    part: String,
    /// What was found, and what was expected.
    problem: String,
    /// What to do about it.
    remedy: String,
}

/// A line of a file, and a character in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FilePlace {
    /// The file as it was named.
    file: PathBuf,
    /// The line, from 1.
    line: usize,
    /// The character in the line, from 1; none where the whole line is meant.
    column: Option<usize>,
}

impl Error {
    /// An error that is about no file: what was found or expected, without a full stop.
    pub fn new(problem: impl Into<String>) -> Self {
        Self { parts: Box::new(ErrorParts { problem: problem.into(), ..ErrorParts::default() }) }
    }

    /// An error of an operation on a file or a folder.
    pub fn cannot(operation: impl Into<String>, path: &Path, problem: impl Into<String>) -> Self {
        let mut error = Self::new(problem);
        error.parts.operation = operation.into();
        error.parts.path = Some(path.to_path_buf());
        error
    }

    /// An error about the value of a command-line option; `option` is its name with the hyphens.
    pub fn of_option(option: &str, problem: impl Into<String>) -> Self {
        Self::new(problem).of_part(option)
    }

    /// An error that the operating system reported for a file.
    pub(super) fn io(operation: &str, path: &Path, error: &io::Error) -> Self {
        let (problem, remedy) = match error.kind() {
            _ if system::is_held(error) => {
                ("another program holds it open".to_owned(), "close it there, then try again")
            }
            io::ErrorKind::NotFound => ("there is no such file".to_owned(), "check the name and the folder"),
            io::ErrorKind::InvalidFilename => ("no file can have such a name".to_owned(), "check the name"),
            io::ErrorKind::PermissionDenied => {
                ("you are not allowed to".to_owned(), "change the file's permissions, or work on a copy of it")
            }
            io::ErrorKind::IsADirectory => ("it is a folder".to_owned(), "name the file in it"),
            io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => {
                ("there is a file, and no folder, of that name".to_owned(), "name another folder")
            }
            io::ErrorKind::Unsupported => (error.to_string(), "name a plain file"),
            io::ErrorKind::StorageFull => ("the disk is full".to_owned(), "make room on it and try again"),
            io::ErrorKind::QuotaExceeded => {
                ("your share of the disk is full".to_owned(), "make room on it and try again")
            }
            io::ErrorKind::ReadOnlyFilesystem => {
                ("the disk can only be read".to_owned(), "work on a copy of it on another disk")
            }
            _ => (error.to_string(), "see that the disk and the file are in order, then try again"),
        };
        Self::cannot(operation, path, problem).with_remedy(remedy)
    }

    /// An error about a value in a YAML file.
    pub(super) fn fault(path: &Path, fault: Fault) -> Self {
        Self::new(fault.problem).of_part(fault.key).at(FilePlace::new(path, (fault.line, fault.column)))
    }

    /// The line of a file, from 1, that the error is about or that names what it is about; none where there is none.
    pub(super) fn line_in(&self, path: &Path) -> Option<usize> {
        let places = [&self.parts.place, &self.parts.named_at].into_iter().flatten();
        places.filter(|place| place.file == path).map(|place| place.line).next()
    }

    /// Adds what to do about the error.
    pub fn with_remedy(mut self, remedy: impl Into<String>) -> Self {
        self.parts.remedy = remedy.into();
        self
    }

    /// Adds the operation, where it concerns no single file.
    pub fn of_operation(mut self, operation: &str) -> Self {
        self.parts.operation = operation.to_owned();
        self
    }

    /// Adds the key, option or name that the error is about.
    pub(super) fn of_part(mut self, part: impl Into<String>) -> Self {
        self.parts.part = part.into();
        self
    }

    /// Adds where in a file the error is.
    pub(super) fn at(mut self, place: FilePlace) -> Self {
        self.parts.place = Some(place);
        self
    }

    /// Adds where a brief names the file that the error is about; none where it was named elsewhere.
    pub(super) fn named_at(mut self, place: Option<FilePlace>) -> Self {
        self.parts.named_at = place;
        self
    }

    /// Adds the draft that could not be measured, where the error names only its brief or a font.
    pub fn of_draft(mut self, draft: &Path) -> Self {
        self.parts.draft = Some(draft.to_path_buf());
        self
    }
}

impl FilePlace {
    /// A character of a file: its line and its column, both from 1.
    pub(super) fn new(file: &Path, (line, column): (usize, usize)) -> Self {
        Self { file: file.to_path_buf(), line, column: Some(column) }
    }

    /// A whole line of a file, from 1.
    pub(super) fn line(file: &Path, line: usize) -> Self {
        Self { file: file.to_path_buf(), line, column: None }
    }
}

/// The sentence without a full stop: where, what could not be done to which file, why, and what to do.
impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ErrorParts { draft, named_at, place, operation, path, part, problem, remedy } = &*self.parts;
        if let Some(draft) = draft {
            write!(f, "{}: ", draft.display())?;
        }
        for FilePlace { file, line, column } in named_at.iter().chain(place) {
            if let Some(column) = column {
                write!(f, "{}:{line}:{column}: ", file.display())?;
            }
        }
        if !operation.is_empty() {
            write!(f, "cannot {operation}")?;
            // A file already named at the start, with the place in it, is not named again.
            let is_named =
                place.as_ref().is_some_and(|place| place.column.is_some() && path.as_ref() == Some(&place.file));
            if let Some(path) = path.as_ref().filter(|_| !is_named) {
                write!(f, " {}", path.display())?;
            }
            if let Some(FilePlace { line, column: None, .. }) = place {
                write!(f, ", line {line}")?;
            }
            f.write_str(if part.is_empty() { ": " } else { " " })?;
        }
        if !part.is_empty() {
            write!(f, "{part}: ")?;
        }
        f.write_str(problem)?;
        if !remedy.is_empty() {
            write!(f, "; {remedy}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Error {}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(error: Error) -> String {
        error.to_string()
    }

    #[test]
    fn one_sentence_is_made_of_the_parts_that_there_are() {
        let (draft, brief, font) = (Path::new("a/first.md"), Path::new("a/brief.yaml"), Path::new("a/gull.ttf"));
        assert_eq!(
            told(Error::new("there is one draft alone").with_remedy("name two")),
            "there is one draft alone; name two"
        );
        assert_eq!(told(Error::of_option("--size", "\"x\" is not a length")), "--size: \"x\" is not a length");
        let missing = Error::cannot("read the font", font, "there is no such file").with_remedy("name another");
        assert_eq!(told(missing.clone()), "cannot read the font a/gull.ttf: there is no such file; name another");
        assert_eq!(
            told(missing.named_at(Some(FilePlace::new(brief, (4, 9)))).of_draft(draft)),
            "a/first.md: a/brief.yaml:4:9: cannot read the font a/gull.ttf: there is no such file; name another"
        );
        let weight = Error::cannot("set the font", font, "it has one weight").of_part("at bold");
        assert_eq!(told(weight), "cannot set the font a/gull.ttf at bold: it has one weight");
    }

    #[test]
    fn a_fault_stands_in_front_with_its_place_and_a_line_behind_the_name() {
        let path = Path::new("brief.yaml");
        let fault = Fault { line: 3, column: 7, key: "panel.trim".to_owned(), problem: "it is large".to_owned() };
        assert_eq!(told(Error::fault(path, fault)), "brief.yaml:3:7: panel.trim: it is large");
        let letter = Error::cannot("read the draft", path, "a letter is damaged");
        let place = FilePlace::new(path, (1, 2));
        assert_eq!(told(letter.clone().at(place)), "brief.yaml:1:2: cannot read the draft: a letter is damaged");
        let line = letter.at(FilePlace::line(path, 4));
        assert_eq!(told(line), "cannot read the draft brief.yaml, line 4: a letter is damaged");
    }

    #[test]
    fn an_error_of_the_system_has_its_own_words_and_a_remedy() {
        let missing = io::Error::from(io::ErrorKind::NotFound);
        let error = Error::io("read the draft", Path::new("first.md"), &missing);
        let ErrorParts { operation, path, problem, remedy, .. } = &*error.parts;
        assert_eq!((operation.as_str(), path.as_deref()), ("read the draft", Some(Path::new("first.md"))));
        assert_eq!((problem.as_str(), remedy.as_str()), ("there is no such file", "check the name and the folder"));
    }
}
