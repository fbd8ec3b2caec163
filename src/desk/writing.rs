//! Writing: what keys and the clipboard do to the text.

use std::cmp::Ordering;
use std::ops::Range;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::event::Turn;
use super::keys::{self, Command};
use super::rows::Wrapping;
use super::state::{State, Writing};
use crate::draft::{Edit, Span};
use crate::editor::mending::MendedText;
use crate::editor::motion::{Motion, line_at};
use crate::editor::wrap::wrap;
use crate::editor::{Action, Editor};

/// The number of rows that one turn of the wheel scrolls.
const WHEEL: usize = 3;

/// The editor's action for a key; `page` is the number of rows that a page has.
pub(super) fn action(key: KeyEvent, page: usize) -> Option<Action> {
    let (control, alt) = (key.modifiers.contains(KeyModifiers::CONTROL), key.modifiers.contains(KeyModifiers::ALT));
    if let Some(motion) = motion(key.code, control || alt, page) {
        let selects = key.modifiers.contains(KeyModifiers::SHIFT);
        return Some(if selects { Action::Select(motion) } else { Action::Move(motion) });
    }
    match key.code {
        KeyCode::Char(letter) if control && !alt => match letter.to_ascii_lowercase() {
            'w' | 'h' => Some(Action::DeleteWordBack),
            'k' => Some(Action::DeleteToLineEnd),
            'u' => Some(Action::DeleteToLineStart),
            'd' => Some(Action::DeleteLine),
            'e' => Some(Action::Move(Motion::RowEnd)),
            _ => None,
        },
        // A terminal reports AltGr as Control with Alt.
        KeyCode::Char(letter) if !alt || control => Some(Action::Insert(letter.to_string())),
        KeyCode::Tab => Some(Action::Insert("\t".to_owned())),
        KeyCode::Enter => Some(Action::Newline),
        KeyCode::Backspace if control || alt => Some(Action::DeleteWordBack),
        KeyCode::Backspace => Some(Action::Backspace),
        KeyCode::Delete if control || alt => Some(Action::DeleteWordForward),
        KeyCode::Delete => Some(Action::Delete),
        _ => None,
    }
}

fn motion(code: KeyCode, far: bool, page: usize) -> Option<Motion> {
    Some(match code {
        KeyCode::Left if far => Motion::WordLeft,
        KeyCode::Right if far => Motion::WordRight,
        KeyCode::Up if far => Motion::ParagraphUp,
        KeyCode::Down if far => Motion::ParagraphDown,
        KeyCode::Home if far => Motion::TextStart,
        KeyCode::End if far => Motion::TextEnd,
        KeyCode::Left => Motion::Left,
        KeyCode::Right => Motion::Right,
        KeyCode::Up => Motion::Up,
        KeyCode::Down => Motion::Down,
        KeyCode::Home => Motion::RowStart,
        KeyCode::End => Motion::RowEnd,
        KeyCode::PageUp => Motion::PageUp(page),
        KeyCode::PageDown => Motion::PageDown(page),
        _ => return None,
    })
}

/// The editor's action for a key in a line of input, which has one row.
pub fn key_action(key: KeyEvent) -> Option<Action> {
    action(key, 1)
}

/// What a key asks for while the text of a brief is mended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MendStep {
    /// Nothing but what it did to the text.
    Stays,
    /// The text is to be written.
    Writes,
    /// What was typed would be let go, which the author is told first.
    AsksToLeave,
    /// The page is left.
    Leaves,
}

/// What the author is told before what was typed is let go.
pub const LETS_GO: &str = "This is not written yet: Ctrl-S writes it. Esc again lets it go.";

/// The columns left of the text of a brief that is mended: the number of its line, and the sign of the fault.
pub const MENDING_MARGIN: u16 = 7;
/// The rows that a page of that text has.
const MENDING_PAGE: usize = 10;

/// The columns that the text of a brief has that is mended in an area of so many.
pub fn mending_columns(width: u16) -> u16 {
    width.saturating_sub(MENDING_MARGIN + 1).max(1)
}

/// Applies a key to the text of a brief that is mended, in rows of so many columns.
pub fn mend(text: &mut MendedText, key: KeyEvent, columns: usize) -> MendStep {
    let command = keys::pressed(key);
    if key.code == KeyCode::Esc || command == Some(Command::Leave) {
        let lets_go = text.is_changed() && !std::mem::replace(&mut text.is_leaving, true);
        return if lets_go { MendStep::AsksToLeave } else { MendStep::Leaves };
    }
    text.is_leaving = false;
    let action = match command {
        Some(Command::Save) => return MendStep::Writes,
        Some(Command::Undo) => Some(Action::Undo),
        Some(Command::Redo) => Some(Action::Redo),
        Some(Command::SelectAll) => Some(Action::SelectAll),
        Some(_) => None,
        // A brief is set in with blanks alone.
        None if key.code == KeyCode::Tab => Some(Action::Insert("  ".to_owned())),
        None => action(key, MENDING_PAGE),
    };
    if let Some(action) = action {
        let rows = wrap(text.editor.text(), columns);
        text.editor.apply(action, &rows);
    }
    MendStep::Stays
}

impl State {
    /// The number of rows that a page of the copy has.
    pub(super) fn page(&self) -> usize {
        usize::from(self.areas().copy.height).saturating_sub(2).max(1)
    }

    /// Applies an action to the draft in front.
    pub(super) fn act(&mut self, action: Action) {
        // Movements between rows need the rows to be up to date.
        if matches!(action, Action::Move(_) | Action::Select(_)) {
            self.assess();
        }
        let (wrapping, writing) = (self.wrapping, self.writing);
        let Some(sheet) = self.sheet_mut() else { return };
        let stood = sheet.editor.stood().len();
        let rows: Vec<_> = sheet.rows.iter().map(|row| row.range.clone()).collect();
        for action in meant(action, &sheet.editor, wrapping) {
            sheet.editor.apply(action, &rows);
        }
        (sheet.shown_words, sheet.scrolled_away) = (None, false);
        let says = match (sheet.editor.stood().len().cmp(&stood), writing) {
            (Ordering::Equal, _) => return,
            (Ordering::Less, _) => "What stood is asked about again.",
            (Ordering::Greater, Writing::Nowhere) => "It stands.",
            (Ordering::Greater, Writing::Book) => {
                "It stands: it is not asked about again. Saving the draft writes that too, to stet.yaml (stet: let it \
                 stand)."
            }
        };
        self.said = Some(says.to_owned());
    }

    /// Ends the line at the cursor as a line of verse is ended.
    pub(super) fn end_verse_line(&mut self) {
        let Some(sheet) = self.sheet() else { return };
        let at = sheet.editor.selection().map_or(sheet.editor.cursor(), |selection| selection.start);
        self.act(verse_ending(sheet.editor.text(), at));
    }

    /// Copies the selection to the clipboard and returns it; none where nothing is selected.
    pub(super) fn copy(&mut self) -> Option<String> {
        let words = self.sheet()?.editor.selected()?.to_owned();
        self.clipboard.clone_from(&words);
        Some(words)
    }

    /// Scrolls the copy with the wheel, away from the cursor.
    pub(super) fn scroll(&mut self, turn: Turn) {
        let height = usize::from(self.areas().copy.height);
        if let Some(sheet) = self.sheet_mut() {
            let to = match turn {
                Turn::Up => sheet.scroll.saturating_sub(WHEEL),
                Turn::Down => sheet.scroll + WHEEL,
            };
            sheet.scroll = to.min(sheet.shown.len().saturating_sub(height));
            sheet.scrolled_away = true;
        }
    }
}

/// The actions that carry out one action. Near a quotation, extra line endings keep two quotes, or a quote and the
/// words below, apart.
fn meant(action: Action, editor: &Editor, wrapping: Wrapping) -> Vec<Action> {
    let selection = editor.selection();
    let at = selection.as_ref().map_or(editor.cursor(), |selection| selection.start);
    match action {
        Action::Newline if wrapping == Wrapping::AsSet => vec![ending(editor.text(), at, selection.is_some())],
        Action::Insert(words) if selection.is_none() => typing(editor.text(), at, words),
        action => vec![action],
    }
}

/// What Enter does where rows are printed lines. A line ending inside a paragraph would print as a blank, so Enter
/// begins a new paragraph; in a quotation it begins another paragraph of the quotation, and in an empty line of a
/// quotation it ends the quotation.
fn ending(text: &str, at: usize, is_selected: bool) -> Action {
    let line = line_at(text, at);
    let (marks, words) = parted(&text[line.clone()]);
    if !marks.is_empty() && at >= line.start + marks.len() {
        if is_ended(&text[line.start..at], &text[at..line.end]) {
            return Action::Paste(format!("\n{marks} "));
        }
        return match words.is_empty() && !is_selected {
            true => Action::Replace(leaving(text, line)),
            false => Action::Paste(format!("\n{marks}\n{marks} ")),
        };
    }
    if words.is_empty() || words.starts_with("<!--") || is_ended(&text[line.start..at], &text[at..line.end]) {
        return Action::Newline;
    }
    Action::Paste("\n\n".to_owned())
}

/// Ends a line so that the words behind `at` are a line of their own in the same paragraph: by a backslash, where none
/// is there yet. Where no line of a paragraph stands before, as in a headline, only the file's line is ended.
fn verse_ending(text: &str, at: usize) -> Action {
    let line = line_at(text, at);
    let (marks, words) = parted(&text[line.start..at]);
    if words.is_empty() || words.starts_with('#') || words.starts_with("<!--") {
        return Action::Newline;
    }
    let sign = if is_ended(&text[line.start..at], "") { "" } else { "\\" };
    let marks = if marks.is_empty() { String::new() } else { format!("{marks} ") };
    Action::Paste(format!("{sign}\n{marks}"))
}

/// Whether a backslash ends the words before the cursor as a line of their own, where nothing stands behind. A
/// backslash that has another before it is printed.
fn is_ended(before: &str, behind: &str) -> bool {
    let words = before.trim_end_matches('\\');
    (before.len() - words.len()) % 2 == 1 && !parted(words).1.is_empty() && behind.trim().is_empty()
}

/// Splits a line into the quotation marks (`>`) at its start, with blanks before them, and its words.
fn parted(line: &str) -> (&str, &str) {
    let words = line.trim_start_matches([' ', '\t', '>']);
    let marks = line[..line.len() - words.len()].trim_end();
    (marks, words.trim())
}

/// Ends a quotation at a line without words: this line and the wordless lines just above it become one empty line.
fn leaving(text: &str, line: Range<usize>) -> Vec<Edit> {
    let mut start = line.start;
    while start > 0 {
        let above = line_at(text, start - 1);
        match parted(&text[above.clone()]) {
            (marks, "") if !marks.is_empty() => start = above.start,
            _ => break,
        }
    }
    let is_apart = start == 0 || text[..start].ends_with("\n\n");
    let goes_on =
        text[line.end..].strip_prefix('\n').is_some_and(|below| !below.is_empty() && !below.starts_with('\n'));
    let edit = |start, end, words: &str| Edit { span: Span { start, end }, text: words.to_owned() };
    let left = edit(start, line.end, if is_apart { "" } else { "\n" });
    [left].into_iter().chain(goes_on.then(|| edit(line.end, line.end, "\n"))).collect()
}

/// What typing does near a quotation: where a quotation mark (`>`) stands already, a typed one begins the next quote;
/// other words typed right below a quotation are kept out of it.
fn typing(text: &str, at: usize, words: String) -> Vec<Action> {
    let line = line_at(text, at);
    let above = line.start.checked_sub(1).map_or(("", ""), |end| parted(&text[line_at(text, end)]));
    let (marks, own) = parted(&text[line.clone()]);
    let is_before_words = text[line.start..at].trim_matches([' ', '\t', '>']).is_empty();
    if marks.is_empty() {
        let is_below = own.is_empty() && !above.0.is_empty() && !words.trim_start().is_empty();
        let words = if is_below && !words.starts_with('>') { format!("\n{words}") } else { words };
        return vec![Action::Insert(words)];
    }
    let mut actions = Vec::new();
    let mut rest = words.as_str();
    if let Some(more) = rest.strip_prefix('>').filter(|_| is_before_words) {
        if !above.0.is_empty() && !above.1.is_empty() {
            let span = Span { start: line.start, end: line.start };
            actions.push(Action::Replace(vec![Edit { span, text: format!("{marks}\n") }]));
        }
        rest = more;
    }
    // A blank already stands after the mark.
    if is_before_words && text[..at].ends_with("> ") {
        rest = rest.trim_start_matches(' ');
    }
    if !rest.is_empty() {
        actions.push(Action::Insert(rest.to_owned()));
    }
    actions
}

#[cfg(test)]
mod tests {
    use super::{meant, verse_ending};
    use crate::desk::rows::Wrapping;
    use crate::editor::{Action, Editor};

    /// Applies an action with the cursor at `|` in `before`, and expects `after`, in which `|` is the cursor too.
    #[track_caller]
    fn check(before: &str, action: &Action, after: &str) {
        let mut editor = Editor::new(before.replace('|', ""));
        editor.apply(Action::PlaceCursor(before.find('|').expect("a cursor")), &[]);
        for action in meant(action.clone(), &editor, Wrapping::AsSet) {
            editor.apply(action, &[]);
        }
        let mut shown = editor.text().to_owned();
        shown.insert(editor.cursor(), '|');
        assert_eq!(shown, after, "{action:?} in {before:?}");
    }

    #[test]
    fn enter_begins_what_is_printed_on_a_new_line() {
        for (before, after) in [
            ("The lamp| is out.", "The lamp\n\n| is out."),
            ("One.\n|\nTwo.", "One.\n\n|\nTwo."),
            ("> \"A light.\"|", "> \"A light.\"\n>\n> |"),
            ("  > \"A |light.\"", "  > \"A \n  >\n  > |light.\""),
            ("> > \"A light.\"|\n", "> > \"A light.\"\n> >\n> > |\n"),
            ("> \"A light.\"\n> |", "> \"A light.\"\n\n|"),
            ("> \"A light.\"\n>\n> |\n", "> \"A light.\"\n\n|\n"),
            ("> \"A light.\"\n>\n>|\n> — Bo", "> \"A light.\"\n\n|\n\n> — Bo"),
            ("> \"A light.\"\n> |\n\nOona.", "> \"A light.\"\n\n|\n\nOona."),
            ("Oona.\n\n> |", "Oona.\n\n|"),
            ("> |", "|"),
            ("|> \"A light.\"", "\n\n|> \"A light.\""),
            ("<!-- a|\nb -->", "<!-- a\n|\nb -->"),
        ] {
            check(before, &Action::Newline, after);
        }
    }

    #[test]
    fn a_line_of_verse_is_ended_in_its_paragraph() {
        for (before, after) in [
            ("Good dog.|", "Good dog.\\\n|"),
            ("Good dog.\\|", "Good dog.\\\n|"),
            ("Good dog.\\\\|", "Good dog.\\\\\\\n|"),
            ("Good |dog.\nBad dog.", "Good \\\n|dog.\nBad dog."),
            ("> “A light.|”", "> “A light.\\\n> |”"),
            ("Good dog.\\\n|", "Good dog.\\\n\n|"),
            ("> |", "> \n|"),
            ("# Good dog|", "# Good dog\n|"),
        ] {
            let mut editor = Editor::new(before.replace('|', ""));
            let at = before.find('|').expect("a cursor");
            editor.apply(Action::PlaceCursor(at), &[]);
            editor.apply(verse_ending(editor.text(), at), &[]);
            let mut shown = editor.text().to_owned();
            shown.insert(editor.cursor(), '|');
            assert_eq!(shown, after, "{before:?}");
        }
        for (before, after) in [
            ("Good dog.\\|", "Good dog.\\\n|"),
            ("> A light.\\|\n", "> A light.\\\n> |\n"),
            ("Good dog.\\\\|", "Good dog.\\\\\n\n|"),
            ("\\|", "\\\n\n|"),
            ("Good\\| dog.", "Good\\\n\n| dog."),
        ] {
            check(before, &Action::Newline, after);
        }
    }

    #[test]
    fn typed_words_stay_apart_from_the_quote_above() {
        for (typed, before, after) in [
            (">", "> \"A light.\"\n>\n> |", "> \"A light.\"\n>\n> |"),
            (">", "> \"A light.\"\n> |", "> \"A light.\"\n>\n> |"),
            ("> \"B", "> \"A light.\"\n> — Bo\n> |", "> \"A light.\"\n> — Bo\n>\n> \"B|"),
            (">", "> \"A.\"\n|> \"B.\"", "> \"A.\"\n|>\n> \"B.\""),
            (" ", "> \"A.\"\n>\n> |", "> \"A.\"\n>\n> |"),
            ("— B", "> \"A.\"\n> |", "> \"A.\"\n> — B|"),
            ("#", "> \"A light.\"\n|", "> \"A light.\"\n\n#|"),
            ("Oona", "> \"A light.\"\n> — Bo\n|\n", "> \"A light.\"\n> — Bo\n\nOona|\n"),
            (">", "> \"A light.\"\n|", "> \"A light.\"\n>|"),
            (" ", "> \"A light.\"\n|", "> \"A light.\"\n |"),
            ("x > y", "> 2 |", "> 2 x > y|"),
            (">", "Oona|", "Oona>|"),
        ] {
            check(before, &Action::Insert(typed.to_owned()), after);
        }
    }
}
