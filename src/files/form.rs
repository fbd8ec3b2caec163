//! The parts of a draft's file that an author does not see: its byte-order mark and its line endings. The text at the
//! desk has neither; the saved file has them as before.

const MARK: &str = "\u{feff}";

/// The byte-order mark and the line endings of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FileForm {
    marked: bool,
    endings: LineEndings,
}

/// How lines end. In a file that mixes line endings they are part of its text, and each line keeps its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum LineEndings {
    Lf,
    CrLf,
    Cr,
}

impl FileForm {
    /// The form of a file, and its text with line endings as `\n`; a file that mixes them keeps its own.
    pub(super) fn of(file: &str) -> (Self, String) {
        let bare = file.strip_prefix(MARK);
        let (marked, text) = (bare.is_some(), bare.unwrap_or(file));
        let endings = LineEndings::of(text);
        (Self { marked, endings }, endings.unified(text))
    }

    /// The content of the file for a text.
    pub(super) fn file(self, text: &str) -> String {
        let text = self.endings.restored(text);
        if self.marked { format!("{MARK}{text}") } else { text }
    }
}

impl LineEndings {
    fn of(text: &str) -> Self {
        let count = |ending: &str| text.matches(ending).count();
        match (count("\r"), count("\n"), count("\r\n")) {
            (returns, feeds, both) if both > 0 && returns == both && feeds == both => Self::CrLf,
            (returns, 0, _) if returns > 0 => Self::Cr,
            _ => Self::Lf,
        }
    }

    /// The text of a file with line endings as `\n`; a text that mixes them is unchanged.
    fn unified(self, text: &str) -> String {
        match self {
            Self::Lf => text.to_owned(),
            Self::CrLf => text.replace("\r\n", "\n"),
            Self::Cr => text.replace('\r', "\n"),
        }
    }

    /// The text with the line endings of its file.
    fn restored(self, text: &str) -> String {
        match self {
            Self::Lf => text.to_owned(),
            Self::CrLf => text.replace('\n', "\r\n"),
            Self::Cr => text.replace('\n', "\r"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(file: &str, text: &str, changed: &str, saved: &str) {
        let (form, found) = FileForm::of(file);
        assert_eq!(found, text, "{file:?}");
        assert_eq!(form.file(changed), saved, "{file:?}");
    }

    #[test]
    fn the_saved_file_has_what_the_file_had() {
        check("a\nb", "a\nb", "a\nb\nc", "a\nb\nc");
        check("a\r\nb\r\n", "a\nb\n", "a\n\nb\n", "a\r\n\r\nb\r\n");
        check("\u{feff}a\r\n", "a\n", "\n", "\u{feff}\r\n");
        check("a\rb", "a\nb", "b\na", "b\ra");
        check("a\r\nb\n", "a\r\nb\n", "a\r\nb\nc\n", "a\r\nb\nc\n");
        check("", "", "a\n", "a\n");
    }

    proptest! {
        #[test]
        fn a_file_that_was_not_changed_is_saved_as_it_was(file in "(\u{feff})?(\r|\n|\r\n|[ab])*") {
            let (form, text) = FileForm::of(&file);
            prop_assert_eq!(form.file(&text), file);
        }
    }
}
