//! The text of a file that cannot be read as what it is, while it is mended by hand: where its fault is and what is
//! wrong there.

use super::{Action, Editor};

/// The text of a file that cannot be read, under the author's hands.
#[derive(Debug)]
pub struct MendedText {
    /// The text as it is mended.
    pub editor: Editor,
    /// The text that the file had when it was last read or written here.
    pub read: String,
    /// The line of the fault, from 1; none where no line is at fault.
    pub line: Option<usize>,
    /// What is wrong, and what to do, as sentences.
    pub why: String,
    /// Whether the author was told once that leaving lets go of what was typed.
    pub is_leaving: bool,
    /// Whether the file can be read by now, as another program has written it.
    pub is_readable: bool,
}

impl MendedText {
    /// The text of a file as it was read, with the cursor at the line of its fault.
    pub fn new(text: String, line: Option<usize>, why: String) -> Self {
        let mut mended = Self {
            editor: Editor::new(text.clone()),
            read: text,
            line: None,
            why: String::new(),
            is_leaving: false,
            is_readable: false,
        };
        mended.show_fault(line, why);
        mended
    }

    /// Goes on with a text that was typed before and not written, as a step that can be taken back.
    pub fn go_on_with(&mut self, text: &str) {
        self.editor.apply(Action::SelectAll, &[]);
        self.editor.apply(Action::Paste(text.to_owned()), &[]);
        self.show_fault(self.line, self.why.clone());
    }

    /// Whether the text is another than that of the file.
    pub fn is_changed(&self) -> bool {
        self.editor.text() != self.read
    }

    /// Goes on with what was found when the file was read again. Where another program has written it meanwhile, the
    /// text is what that wrote, and a step back brings the author's own again; returns whether that is so.
    pub fn renew(&mut self, found: Self) -> bool {
        let is_other = found.read != self.editor.text();
        if is_other {
            self.go_on_with(&found.read);
        }
        (self.read, self.is_readable) = (found.read, found.is_readable);
        self.show_fault(found.line, found.why);
        is_other
    }

    fn show_fault(&mut self, line: Option<usize>, why: String) {
        (self.line, self.why, self.is_leaving) = (line, why, false);
        if let Some(line) = line {
            let text = self.editor.text();
            let before = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
            self.editor.apply(Action::PlaceCursor(before), &[]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cursor_stands_in_the_line_of_the_fault_and_a_step_back_brings_own_words_again() {
        let mut mended = MendedText::new("book:\n  titel: x\n".to_owned(), Some(2), "It is title.".to_owned());
        assert_eq!(mended.editor.cursor(), "book:\n".len());
        mended.editor.apply(Action::Insert("own ".to_owned()), &[]);
        assert!(mended.is_changed());
        let other = MendedText::new("book: {\n".to_owned(), Some(9), String::new());
        assert!(mended.renew(other));
        assert_eq!((mended.editor.text(), mended.is_changed()), ("book: {\n", false));
        mended.editor.apply(Action::Undo, &[]);
        assert_eq!(mended.editor.text(), "book:\nown   titel: x\n");
    }
}
