//! The foot of the screen: what can be pressed now, what was just done, or a line to be filled in.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::graphemes::cells;
use super::keys::{self, Command};
use super::pane::put;
use super::state::{Mode, Prompt, State};

/// What stands at the foot while writing, the most needed first.
const WRITING: [Command; 9] = [
    Command::Keys,
    Command::Save,
    Command::Leave,
    Command::Queries,
    Command::Type,
    Command::Undo,
    Command::Drafts,
    Command::Details,
    Command::Proof,
];

/// A key and what it does.
type Hint = (String, String);

/// Draws the foot and gives the place of the cursor, where that is in it.
pub(super) fn draw(state: &State, area: Rect, buffer: &mut Buffer) -> Option<Position> {
    if let Mode::Prompt(prompt, line) = &state.mode {
        let label = format!(" {} ", question(*prompt));
        put(buffer, area.x, area.y, &label, state.theme.strong, area);
        let x = area.x + cells(&label) as u16;
        let cursor = cells(&line.text()[..line.cursor()]) as u16;
        let style = if line.selection().is_some() { state.theme.chosen } else { ratatui::style::Style::new() };
        put(buffer, x, area.y, line.text(), style, area);
        return Some(Position { x: (x + cursor).min(area.right().saturating_sub(1)), y: area.y });
    }
    if let Some(said) = &state.said {
        put(buffer, area.x + 1, area.y, said, state.theme.strong, area);
        return None;
    }
    let (lead, hints) = hints(state);
    let mut x = area.x + 1;
    if !lead.is_empty() {
        put(buffer, x, area.y, &lead, state.theme.strong, area);
        x += cells(&lead) as u16 + 2;
    }
    for (key, does) in hints {
        let wide = (cells(&key) + 1 + cells(&does)) as u16;
        if x + wide > area.right() {
            break;
        }
        put(buffer, x, area.y, &key, state.theme.strong, area);
        put(buffer, x + cells(&key) as u16 + 1, area.y, &does, state.theme.faint, area);
        x += wide + 3;
    }
    None
}

fn question(prompt: Prompt) -> &'static str {
    match prompt {
        Prompt::Find => "Find:",
        Prompt::Rename => "Rename the draft to:",
        Prompt::SaveAs => "Save under the name:",
        Prompt::New => "Name of the new draft:",
        Prompt::Double => "Name of the double:",
        Prompt::Proof => "Write the proof to:",
        Prompt::Keep => "Keep a dated copy; a name for it, or none:",
    }
}

/// What to say first, and the keys of the moment.
fn hints(state: &State) -> (String, Vec<Hint>) {
    let plain = |hints: &[(&str, &str)]| {
        hints.iter().map(|(key, does)| ((*key).to_owned(), (*does).to_owned())).collect::<Vec<Hint>>()
    };
    match &state.mode {
        Mode::Writing => (String::new(), writing()),
        Mode::Letter => ("A letter:".to_owned(), letters()),
        Mode::Keys(_) => (String::new(), plain(&[("Esc", "back to writing"), ("Down, Up", "more")])),
        Mode::Details(page, _) => (
            page.name().to_owned(),
            plain(&[("Esc", "back to writing"), ("Left, Right", "the other measures"), ("Down, Up", "more")]),
        ),
        Mode::Panel => (String::new(), plain(&[("Esc", "back to writing")])),
        Mode::Queries(_) => (
            String::new(),
            plain(&[
                ("Esc", "back to writing"),
                ("Enter", "take the cut"),
                ("s", "stet, let it stand"),
                ("Down, Up", "the others"),
                ("p", "take the whole plan"),
                ("u", "undo"),
                ("p", "take the whole plan"),
            ]),
        ),
        Mode::Type => (
            String::new(),
            plain(&[
                ("Esc", "back"),
                ("+ -", "size"),
                ("Up Down", "leading"),
                ("f", "font"),
                ("a", "align"),
                ("l", "largest"),
                ("w", "write to brief"),
                ("b", "brief's own"),
            ]),
        ),
        Mode::Beside(_) => (
            String::new(),
            plain(&[
                ("Esc", "back to writing"),
                ("Enter", "take it over"),
                ("Down, Up", "the other differences"),
                ("Left, Right", "the other drafts"),
                ("u", "undo"),
            ]),
        ),
        Mode::Drafts(_) => (
            String::new(),
            plain(&[
                ("Esc", "back"),
                ("Enter", "open"),
                ("n", "new"),
                ("d", "double"),
                ("r", "rename"),
                ("k", "keep a copy"),
            ]),
        ),
        Mode::Leaving => (
            "Not everything is saved.".to_owned(),
            plain(&[("Esc", "go on writing"), ("s", "save and leave"), ("l", "leave without saving")]),
        ),
        Mode::Outside => (
            "Another program has changed this file.".to_owned(),
            plain(&[("Esc", "later"), ("m", "save mine over it"), ("t", "take theirs"), ("e", "save mine elsewhere")]),
        ),
        Mode::Recovered(..) => (
            "Unsaved words were kept from an earlier desk.".to_owned(),
            plain(&[("t", "take them"), ("f", "take the file as it is"), ("Down, Up", "more")]),
        ),
        Mode::Prompt(..) => (String::new(), Vec::new()),
    }
}

fn writing() -> Vec<Hint> {
    let keys = WRITING.into_iter().map(keys::of).map(|key| (key.shown.to_owned(), key.short.to_owned()));
    keys.chain([("Esc".to_owned(), "all by letter".to_owned())]).collect()
}

fn letters() -> Vec<Hint> {
    keys::KEYS.into_iter().map(|key| (key.letter.to_string(), key.short.to_owned())).collect()
}
