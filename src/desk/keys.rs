//! The keys for commands: one table, which decides what a key does, and from which keys are shown at the foot and
//! listed.
//!
//! Every command also has a plain letter after Escape, for terminals that keep some keys for themselves.

use std::borrow::Cow;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::theme::Keyboard;
use crate::system;

/// What a key asks for, apart from writing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Command {
    /// Write the draft.
    Save,
    /// Write the draft under another name.
    SaveAs,
    /// Leave the desk.
    Leave,
    /// Undo the last step.
    Undo,
    /// Redo the last undone step.
    Redo,
    /// Copy the selection.
    Copy,
    /// Cut the selection.
    Cut,
    /// Paste what was copied at the desk.
    Paste,
    /// Select all.
    SelectAll,
    /// Write another block: a quote, the age line.
    Insert,
    /// End a line of verse.
    VerseLine,
    /// Look for words.
    Find,
    /// Look again for the words that were looked for last.
    FindNext,
    /// Show every key.
    Keys,
    /// Mark the next kind of place in the text.
    Marks,
    /// Switch between rows as set and plainly wrapped rows.
    Wrapping,
    /// Show the panel on a page of its own.
    Panel,
    /// Show the measures in detail.
    Details,
    /// Walk the queries.
    Queries,
    /// Answer what a blurb answers.
    Answers,
    /// Show other words for the one at the cursor.
    OtherWords,
    /// Try another type.
    Type,
    /// See and change the book and its brief.
    Book,
    /// Show the drafts.
    Drafts,
    /// Show another draft beside the one in front.
    Beside,
    /// Set printed marks in the place of a keyboard's.
    Typeset,
    /// Write a proof.
    Proof,
    /// Stop the desk and return to the shell.
    Suspend,
}

/// A command's key with all that is shown about it.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    /// What the key asks for.
    pub command: Command,
    /// The key's name as it is shown: `Ctrl-S`, `F6`.
    pub shown: &'static str,
    /// The letter that means the command after Escape.
    pub letter: char,
    /// What the key does, in a word, for the foot.
    pub short: &'static str,
    /// What the key does, in a sentence, for the list of keys.
    pub says: &'static str,
    code: KeyCode,
    modifiers: KeyModifiers,
}

const fn control(letter: char) -> (KeyCode, KeyModifiers) {
    (KeyCode::Char(letter), KeyModifiers::CONTROL)
}

const fn function(number: u8) -> (KeyCode, KeyModifiers) {
    (KeyCode::F(number), KeyModifiers::NONE)
}

const fn key(
    command: Command,
    shown: &'static str,
    (code, modifiers): (KeyCode, KeyModifiers),
    letter: char,
    short: &'static str,
    says: &'static str,
) -> Key {
    Key { command, shown, letter, short, says, code, modifiers }
}

/// The keys of all commands, in the order in which they are listed.
pub const KEYS: [Key; 28] = [
    key(Command::Save, "Ctrl-S", control('s'), 's', "save", "save the draft"),
    key(Command::Leave, "Ctrl-Q", control('q'), 'x', "leave", "leave; asks first where something is not saved"),
    key(Command::Keys, "F1", function(1), 'k', "keys", "show every key"),
    key(Command::Undo, "Ctrl-Z", control('z'), 'u', "undo", "take the last step back, as often as you like"),
    key(Command::Redo, "Ctrl-Y", control('y'), 'y', "redo", "do again what was taken back"),
    key(Command::Copy, "Ctrl-C", control('c'), 'c', "copy", "copy what is selected"),
    key(Command::Cut, "Ctrl-X", control('x'), 'j', "cut", "cut what is selected"),
    key(Command::Paste, "Ctrl-V", control('v'), 'v', "paste", "paste what was copied here"),
    key(Command::SelectAll, "Ctrl-A", control('a'), 'a', "all", "select the whole draft"),
    key(
        Command::Insert,
        "F12",
        function(12),
        'h',
        "insert",
        "write a headline, a quote, a note on the author, other titles, the age or the price",
    ),
    key(
        Command::VerseLine,
        "Alt-Enter",
        (KeyCode::Enter, KeyModifiers::ALT),
        '/',
        "verse line",
        "end a line of verse: what follows is a line of its own in the same paragraph",
    ),
    key(Command::Find, "Ctrl-F", control('f'), 'f', "find", "find words"),
    key(Command::FindNext, "Ctrl-G", control('g'), 'g', "find again", "find the same words again"),
    key(Command::Queries, "F6", function(6), 'q', "queries", "walk the queries: take a cut, or let it stand"),
    key(
        Command::Answers,
        "Ctrl-N",
        control('n'),
        'n',
        "answers",
        "answer what a blurb answers, and see which of the answers' words stand in the copy",
    ),
    key(
        Command::OtherWords,
        "Ctrl-L",
        control('l'),
        'l',
        "other words",
        "other words for the one at the cursor, with what each wins; Tab, for the whole draft",
    ),
    key(
        Command::Type,
        "F7",
        function(7),
        't',
        "type",
        "try another size, leading, font or alignment; p, another panel",
    ),
    key(Command::Details, "F5", function(5), 'd', "measures", "open the measures one by one"),
    key(Command::Panel, "F4", function(4), 'p', "panel", "see the panel on a page of its own; Enter changes it"),
    key(
        Command::Book,
        "F10",
        function(10),
        '0',
        "brief",
        "see and change the book and its brief: names, terms, limits, every block's type, art",
    ),
    key(Command::Wrapping, "F3", function(3), 'w', "wrap", "wrap plainly, or as the copy is set"),
    key(Command::Marks, "F2", function(2), 'm', "marks", "mark terms, queries or unfamiliar words in the text"),
    key(
        Command::Drafts,
        "Ctrl-O",
        control('o'),
        'o',
        "drafts",
        "open, begin, double, rename or keep a draft, or bring a kept copy back; o, open any file",
    ),
    key(
        Command::Beside,
        "F9",
        function(9),
        'b',
        "beside",
        "see another draft beside this one, and take over what differs",
    ),
    key(
        Command::Typeset,
        "Ctrl-T",
        control('t'),
        'i',
        "marks set",
        "set the book's own quotation marks, apostrophes, dashes and dots",
    ),
    key(Command::SaveAs, "F8", function(8), 'e', "save as", "save the draft under another name"),
    key(Command::Proof, "Ctrl-P", control('p'), 'r', "proof", "write a proof, the panel at true size as a PDF"),
    key(
        Command::Suspend,
        "Alt-Z",
        (KeyCode::Char('z'), KeyModifiers::ALT),
        'z',
        "shell",
        if system::HAS_JOB_CONTROL {
            "step back to the shell; type fg there to return"
        } else {
            "not on this system, whose shell cannot call a program back"
        },
    ),
];

/// What stands before a command's letter while writing.
pub(super) const ESCAPE: &str = "Esc ";

/// Something that can be done, with the keys that lead to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// The keys as they are shown: `Ctrl-S, or Esc s`; `F7, then l`.
    pub shown: String,
    /// What they do.
    pub does: String,
    /// The keys one after the other, pressed while writing; empty where the page is no command's.
    pub presses: Vec<KeyEvent>,
}

impl Way {
    /// The way to a command.
    pub fn to(command: Command, keyboard: Keyboard) -> Self {
        let key = of(command);
        let (name, letter) = (key.name(keyboard), format!("{ESCAPE}{}", key.letter));
        let shown = if name == letter { letter } else { format!("{name}, or {letter}") };
        let presses = if is_offered(command) { vec![key.event()] } else { Vec::new() };
        Self { shown, does: key.says.to_owned(), presses }
    }
}

/// The commands by what one wants, the few that matter first; each group has its name. A command that is in none is
/// listed behind them.
pub const WANTED: [(&str, &[Command]); 7] = [
    (
        "The few that matter first",
        &[Command::Save, Command::Undo, Command::Queries, Command::Type, Command::Keys, Command::Leave],
    ),
    (
        "To write",
        &[
            Command::Insert,
            Command::VerseLine,
            Command::Redo,
            Command::Copy,
            Command::Cut,
            Command::Paste,
            Command::SelectAll,
            Command::Find,
            Command::FindNext,
            Command::Typeset,
        ],
    ),
    ("To see", &[Command::Panel, Command::Marks, Command::Wrapping]),
    ("To check", &[Command::Details, Command::Queries, Command::Proof]),
    ("To try", &[Command::Type, Command::Panel, Command::Book]),
    ("Drafts", &[Command::Drafts, Command::Beside, Command::SaveAs]),
    ("To leave", &[Command::Leave, Command::Suspend]),
];

/// Other words that an author may have for what a command does, for finding it.
pub fn also_called(command: Command) -> &'static str {
    match command {
        Command::Save => "write keep store",
        Command::Leave => "quit exit close end stop",
        Command::Undo => "back revert mistake",
        Command::Redo => "again forward",
        Command::Keys => "help shortcuts",
        Command::Insert => "add new block praise review credit biography bio ages cost heading",
        Command::VerseLine => "poem rhyme stanza break backslash",
        Command::Find => "search look",
        Command::Queries => "suggestions mistakes shorten shorter over too long what can go runt stet",
        Command::Type => "smaller larger bigger fit typeface letters spacing alignment centre justified",
        Command::Details => "length level words grade terms fit count score reading",
        Command::Panel => "page cover trim margins barcode live area keep-out figures places room boxes spine flap",
        Command::Book => {
            "settings title author isbn readers language syllables avoid story font size colour picture rules"
        }
        Command::Wrapping => "lines rows",
        Command::Marks => "highlight show unfamiliar hard words where",
        Command::Drafts => "files versions begin new copy copies kept history older rename duplicate",
        Command::Beside => "compare differences two versions side",
        Command::Typeset => "curly straight typographic",
        Command::Proof => "print pdf export send designer",
        Command::SaveAs => "another name",
        Command::Suspend => "background terminal",
        _ => "",
    }
}

/// Keys for writing, which are no commands of the desk: which key is pressed, and what it does.
pub const WRITING: [(&str, &str); 9] = [
    ("arrows, Home, End, PgUp, PgDn", "move; with Shift, select"),
    ("Ctrl-Left, Ctrl-Right", "move by a word"),
    ("Ctrl-Up, Ctrl-Down", "move by a paragraph"),
    ("Ctrl-Home, Ctrl-End", "to the draft's beginning or end"),
    ("Ctrl-W, Alt-Backspace", "take out a word"),
    ("Ctrl-K, Ctrl-U", "take out the rest of the line, or what is before"),
    ("Ctrl-D", "take out the whole line of the file"),
    (
        "mouse",
        "click, drag, double click, wheel; click a list, a measure, the panel or a key at the foot; while another \
         panel is tried, drag a box, or a corner to size it; Shift-drag is the terminal's own",
    ),
    ("Esc, or Alt, and a letter", "every command without its key"),
];

impl Key {
    /// The key's name while writing: its own, or its letter behind Escape where the keyboard does not send the key.
    pub fn name(&self, keyboard: Keyboard) -> Cow<'static, str> {
        self.name_behind(ESCAPE, keyboard)
    }

    /// The key's name where its letter stands behind `lead`. A letter with Ctrl is on every keyboard.
    pub(super) fn name_behind(&self, lead: &str, keyboard: Keyboard) -> Cow<'static, str> {
        if keyboard == Keyboard::Whole || self.modifiers == KeyModifiers::CONTROL {
            Cow::Borrowed(self.shown)
        } else {
            Cow::Owned(format!("{lead}{}", self.letter))
        }
    }

    /// The key as it is pressed.
    pub fn event(&self) -> KeyEvent {
        KeyEvent::new(self.code, self.modifiers)
    }
}

/// The key of a command.
pub fn of(command: Command) -> Key {
    KEYS.into_iter().find(|key| key.command == command).unwrap_or(KEYS[0])
}

/// The command that a key asks for, whatever the mode of writing.
pub fn pressed(event: KeyEvent) -> Option<Command> {
    let letter = |code| match code {
        KeyCode::Char(letter) => KeyCode::Char(letter.to_ascii_lowercase()),
        other => other,
    };
    let asked = |key: &&Key| letter(event.code) == key.code && event.modifiers - KeyModifiers::SHIFT == key.modifiers;
    KEYS.iter().find(asked).map(|key| key.command).filter(|command| is_offered(*command))
}

/// The command that a letter after Escape asks for.
pub fn lettered(letter: char) -> Option<Command> {
    let key = KEYS.iter().find(|key| key.letter == letter.to_ascii_lowercase());
    key.map(|key| key.command).filter(|command| is_offered(*command))
}

/// Whether a command is offered on this system. One that is not stays in the list of keys, which says why.
fn is_offered(command: Command) -> bool {
    system::HAS_JOB_CONTROL || command != Command::Suspend
}

#[cfg(test)]
mod tests {
    use super::KEYS;

    #[test]
    fn no_two_commands_share_a_key_or_a_letter() {
        for (at, key) in KEYS.iter().enumerate() {
            for other in &KEYS[at + 1..] {
                assert_ne!(key.letter, other.letter, "{} and {}", key.says, other.says);
                assert_ne!((key.code, key.modifiers), (other.code, other.modifiers), "{} and {}", key.says, other.says);
            }
        }
    }
}
