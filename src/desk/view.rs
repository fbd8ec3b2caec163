//! The whole screen: the running head, the copy, what stands beside it, and the foot.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::layout::{Areas, LEAST};
use super::pane::{self, put};
use super::queries::shortened;
use super::rows::Wrapping;
use super::sheet::DraftSheet;
use super::state::{DraftOrigin, Marked, Mode, State, Writing};
use super::{beside, foot, measures, pages, picture, queries, values};
use crate::brief::typography::{Align, Font};
use crate::editor::graphemes::cells;
use crate::editor::wrap::wrap;
use crate::print::visible::visible;
use crate::print::words::style_name;
use crate::report::fit::font_name;

/// Draws the desk as it is.
pub fn draw(state: &State, frame: &mut Frame<'_>) {
    if let Some(cursor) = paint(state, frame.area(), frame.buffer_mut()) {
        frame.set_cursor_position(cursor);
    }
}

/// Paints the desk and gives the place of the cursor.
pub fn paint(state: &State, screen: Rect, buffer: &mut Buffer) -> Option<Position> {
    let areas = Areas::of((screen.width, screen.height));
    let Some(sheet) = state.sheet().filter(|_| !areas.foot.is_empty()) else {
        too_small(state, screen, buffer);
        return None;
    };
    head(state, sheet, areas.head, buffer);
    if let Mode::Beside(other) = &state.mode {
        beside::draw(state, sheet, other, &areas, buffer);
        return foot::draw(state, areas.foot, buffer);
    }
    let copied = copy(state, sheet, &areas, buffer);
    let marked = sheet.now.line_at(sheet.editor.cursor());
    picture::draw(&sheet.now.drawing, marked, &state.theme, areas.panel, buffer);
    measures::draw(state, sheet, areas.measures, buffer);
    queries::draw(state, sheet, areas.queries, buffer);
    foot::draw(state, areas.foot, buffer).or(copied)
}

/// Draws the copy, or what stands in its place; gives the place of the cursor where that is in the copy.
fn copy(state: &State, sheet: &DraftSheet, areas: &Areas, buffer: &mut Buffer) -> Option<Position> {
    let area = areas.copy;
    let strip = pages::strip(state);
    if let (Mode::Values(at), None) = (&state.mode, strip) {
        values::draw(state, sheet, *at, buffer);
        return None;
    }
    if state.mode.is_read() || matches!(state.mode, Mode::Panel | Mode::Drafts(_)) {
        pages::draw(state, sheet, area, buffer);
        return None;
    }
    let cursor = pane::draw(state, sheet, area, buffer);
    if state.wrapping == Wrapping::AsSet {
        put(buffer, area.right().saturating_sub(5), area.y - 1, "room", state.theme.faint, screen_of(areas));
    }
    if let Some(below) = strip {
        for y in below.top()..below.bottom() {
            put(buffer, below.x, y, &" ".repeat(usize::from(below.width)), Style::reset(), below);
        }
        let rule = state.theme.signs.rule.repeat(usize::from(below.width.saturating_sub(2)));
        put(buffer, below.x + 1, below.y, &rule, state.theme.faint, below);
        match state.mode {
            Mode::Values(at) => values::draw(state, sheet, at, buffer),
            _ => queries::draw(state, sheet, pages::list_in(below), buffer),
        }
        return cursor.filter(|position| position.y < below.y);
    }
    cursor
}

/// All of the screen above the foot.
fn screen_of(areas: &Areas) -> Rect {
    Rect { height: areas.foot.y, ..areas.head }
}

/// The book and the draft at the left; the type and how things are at the right.
fn head(state: &State, sheet: &DraftSheet, area: Rect, buffer: &mut Buffer) {
    let theme = &state.theme;
    let point = theme.signs.point;
    let mut right = Vec::new();
    // On a narrow screen the names of the book and the draft come first.
    let is_elsewhere = state.drafts.get(state.front).is_some_and(|paper| paper.origin == DraftOrigin::Elsewhere);
    if is_elsewhere {
        right.push("by this book's brief".to_owned());
    }
    let has_room = area.width >= if is_elsewhere { WIDE } else { TYPE_WORDS };
    if has_room || matches!(state.mode, Mode::Type) {
        right.push(type_words(state));
    }
    if state.tried.panel.is_some() {
        right.push("trying another panel".to_owned());
    }
    if state.wrapping == Wrapping::Plain {
        right.push("wrapped plainly".to_owned());
    }
    if state.marked != Marked::Nothing {
        right.push(format!("{} marked", state.marked.name()));
    }
    right.push(standing(state, sheet).to_owned());
    let right = right.join(&format!(" {point} "));
    let x = area.right().saturating_sub(cells(&right) as u16 + 1);
    let title = visible(&state.brief.book.title).into_owned();
    let name = visible(&sheet.name()).into_owned();
    let room = usize::from(x.saturating_sub(area.x + 3));
    let title = shortened(&title, room.saturating_sub(cells(&name) + 3).max(4));
    put(buffer, area.x + 1, area.y, &title, theme.strong, area);
    let after = area.x + 1 + cells(&title) as u16;
    let gap = if title.is_empty() { String::new() } else { format!(" {point} ") };
    put(
        buffer,
        after,
        area.y,
        &shortened(&format!("{gap}{name}"), room.saturating_sub(cells(&title))),
        theme.faint,
        area,
    );
    let style = if matches!(state.mode, Mode::Type) { theme.strong } else { theme.faint };
    put(buffer, x, area.y, &right, style, area);
}

/// Columns from which on the head tells the type.
const TYPE_WORDS: u16 = 72;
/// And from which on it tells it beside where the draft comes from.
const WIDE: u16 = 100;

/// How the draft stands to its file.
fn standing(state: &State, sheet: &DraftSheet) -> &'static str {
    match (state.writing, sheet.is_changed()) {
        (Writing::Nowhere, _) => "the sample",
        (_, true) => "not saved",
        (_, false) => "saved",
    }
}

/// `serif 13 on 18 pt, left`, whether that is tried, and what the copy asks for that its fonts have not.
fn type_words(state: &State) -> String {
    let set = &state.brief.typography.blurb;
    let font = match &set.font {
        Font::StandIn(stand_in) => format!("an estimate of {}", stand_in.name),
        font => font_name(font, state.faces.family(font), set.emphasis()),
    };
    let missing = state.sheet().map_or(&[][..], |sheet| &sheet.now.report.fit.styles_missing);
    let missing: String = missing.iter().map(|missing| format!(", no {}", style_name(missing.style))).collect();
    let align = match set.align {
        Align::Left => "left",
        Align::Centre => "centre",
        Align::Justified => "justified",
    };
    let shown = |points: f64| crate::units::trimmed(points, 2);
    let (size, leading) = (shown(set.size.to_pt()), shown(set.leading().to_pt()));
    let tried = if state.tried.has_own_type() { "" } else { "trying " };
    format!("{tried}{} {size} on {leading} pt, {align}{missing}", visible(&font))
}

/// What is said where nothing else can be shown.
fn too_small(state: &State, screen: Rect, buffer: &mut Buffer) {
    if screen.is_empty() {
        return;
    }
    let words = format!(
        "The desk needs {} columns and {} rows; here are {} and {}. Your words are safe: make the window larger.",
        LEAST.0, LEAST.1, screen.width, screen.height
    );
    for (row, y) in wrap(&words, usize::from(screen.width)).into_iter().zip(screen.top()..screen.bottom()) {
        put(buffer, screen.x, y, words[row].trim_end(), state.theme.strong, screen);
    }
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use ratatui::Terminal;
    use ratatui::backend::TestBackend;
    use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

    use super::draw;
    use crate::brief::Brief;
    use crate::brief::queries::Rule;
    use crate::brief::stet::Stet;
    use crate::desk::hints::hints;
    use crate::desk::state::{Mode, Writing};
    use crate::desk::theme::{Colours, Letters, Theme};
    use crate::desk::{Effect, Event, OpenedBook, Outcome, State, settle, update};
    use crate::draft::Draft;
    use crate::setting::Faces;

    const BRIEF: &str = include_str!("../../drafts/brief.yaml");
    const DRAFT: &str = include_str!("../../drafts/first.md");

    fn desk_with(text: &str, size: (u16, u16), letters: Letters) -> State {
        let book = OpenedBook {
            brief: Brief::read(BRIEF, Path::new("")).expect("the sample's brief"),
            faces: Faces::built_in(),
            stet: Stet::default(),
            drafts: vec![PathBuf::from("first.md"), PathBuf::from("second.md")],
            first: (PathBuf::from("first.md"), text.to_owned()),
            writing: Writing::Book,
        };
        State::new(book, Theme::new(Colours::Sixteen, letters), size)
    }

    fn desk(size: (u16, u16)) -> State {
        desk_with(DRAFT, size, Letters::Unicode)
    }

    /// The screen as it is drawn, a line for each row.
    fn screen(state: &mut State) -> Vec<String> {
        settle(state);
        let mut terminal = Terminal::new(TestBackend::new(state.size.0, state.size.1)).expect("a test screen");
        terminal.draw(|frame| draw(state, frame)).expect("a drawing");
        let buffer = terminal.backend().buffer();
        let row = |y: u16| (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect::<String>();
        (0..buffer.area.height).map(|y| row(y).trim_end().to_owned()).collect()
    }

    fn press(state: &mut State, code: KeyCode, modifiers: KeyModifiers) -> Vec<Effect> {
        settle(state);
        update(state, Event::Key(KeyEvent::new(code, modifiers)))
    }

    fn control(state: &mut State, letter: char) -> Vec<Effect> {
        press(state, KeyCode::Char(letter), KeyModifiers::CONTROL)
    }

    fn typed(state: &mut State, words: &str) {
        update(state, Event::Typed(words.to_owned()));
    }

    fn row_with<'a>(rows: &'a [String], words: &str) -> &'a str {
        rows.iter().find(|row| row.contains(words)).unwrap_or_else(|| panic!("{words} in\n{}", rows.join("\n")))
    }

    #[test]
    fn every_mode_is_drawn_at_every_size() {
        let mut keys: Vec<KeyCode> = (1..=9).map(KeyCode::F).collect();
        keys.push(KeyCode::Esc);
        for letters in [Letters::Unicode, Letters::Ascii] {
            for key in &keys {
                for size in [(0, 0), (1, 1), (20, 5), (40, 12), (80, 24), (99, 13), (100, 12), (120, 40), (200, 60)] {
                    let mut state = desk_with("# H\n\nThe lamp  is out. 日本 👩\u{200d}👧 e\u{301}.\n", size, letters);
                    for effect in press(&mut state, *key, KeyModifiers::NONE) {
                        if let Effect::LookAt(path) = effect {
                            update(
                                &mut state,
                                Event::Done(Outcome::LookedAt(path, "# H\n\nAnother lamp.\n".to_owned())),
                            );
                        }
                    }
                    let rows = screen(&mut state);
                    assert_eq!(rows.len(), usize::from(size.1));
                    if letters == Letters::Ascii && size.0 >= 40 {
                        let kept: String =
                            rows.concat().replace(['日', '本', '👩', '\u{200d}', '👧', 'é', '\u{301}'], "");
                        assert!(kept.is_ascii(), "{key:?} {size:?} {kept}");
                    }
                }
            }
        }
    }

    #[test]
    fn rows_are_printed_lines_with_the_room_left_and_the_foot() {
        let rows = screen(&mut desk((120, 40)));
        assert!(row_with(&rows, "Every night, Oona").contains("stairs with her"), "the line ends where it is printed");
        assert!(row_with(&rows, "foot of the panel").contains("3 lines left"));
        assert!(row_with(&rows, "length").contains("83 words"));
        assert!(row_with(&rows, "a barcode").contains("b imprint mark"));
        assert!(rows[39].contains("Ctrl-Q leave"));
    }

    const SECOND: &str = include_str!("../../drafts/second.md");

    /// The desk with the second draft beside the first.
    fn beside(size: (u16, u16)) -> State {
        let mut state = desk(size);
        let effects = press(&mut state, KeyCode::F(9), KeyModifiers::NONE);
        assert_eq!(effects, [Effect::LookAt(PathBuf::from("second.md"))]);
        update(&mut state, Event::Done(Outcome::LookedAt(PathBuf::from("second.md"), SECOND.to_owned())));
        state
    }

    #[test]
    fn two_drafts_stand_side_by_side_with_what_differs_in_braces() {
        let rows = screen(&mut beside((120, 40)));
        let measures = row_with(&rows, "83 words");
        assert!(measures.contains("61 words") || measures.matches("words").count() == 2, "{measures}");
        assert!(measures.matches("terms 4 of 4").count() == 2 && !measures.contains('!'), "{measures}");
        let row = row_with(&rows, "Every night, Oona");
        assert!(row.matches("Every night, Oona").count() == 2 && row.contains('⟨'), "{row}");
        assert!(row_with(&rows, "climb the stairs").contains('{'));
        assert!(rows[39].contains("Enter take it over"));
    }

    /// Each difference is one step; when all are taken the two say the same, and as many steps back bring the first again.
    #[test]
    fn differences_are_taken_over_one_by_one() {
        let mut state = beside((120, 40));
        let mut taken = 0;
        while state.said.is_none() {
            press(&mut state, KeyCode::Enter, KeyModifiers::NONE);
            taken += 1;
            assert!(taken < 60);
        }
        assert_eq!(state.said.as_deref(), Some("The two say the same."));
        let text = |state: &State| state.sheet().expect("a sheet").editor.text().to_owned();
        assert!(Draft::read(&text(&state)).prints_like(&Draft::read(SECOND)));
        for _ in 0..taken {
            press(&mut state, KeyCode::Char('u'), KeyModifiers::NONE);
        }
        assert_eq!(text(&state), DRAFT);
        press(&mut state, KeyCode::Esc, KeyModifiers::NONE);
        assert!(matches!(state.mode, Mode::Writing));
    }

    /// A sentence with two differences shows which of them is in hand, and the key that opened the other draft closes it.
    #[test]
    fn the_difference_in_hand_has_brackets_of_its_own_and_moves_no_words() {
        let mut state = beside((120, 40));
        let first = screen(&mut state).join("\n");
        assert_eq!((first.matches('⟨').count(), first.matches('⟩').count()), (2, 2), "on either side\n{first}");
        press(&mut state, KeyCode::Down, KeyModifiers::NONE);
        let second = screen(&mut state).join("\n");
        assert!(second.find('⟨') > first.find('⟨'), "{second}");
        let in_braces = |rows: &str| rows.replace('⟨', "{").replace('⟩', "}").replace('▸', " ");
        assert_eq!(in_braces(&first), in_braces(&second));
        press(&mut state, KeyCode::F(9), KeyModifiers::NONE);
        assert!(matches!(state.mode, Mode::Writing));
    }

    #[test]
    fn a_sentence_that_was_moved_has_one_number_at_both_places() {
        let own = "Oona climbs the dark stairs alone. The lamp is out tonight. Nobody has seen it.\n";
        let other = "The lamp is out tonight. Nobody has seen it. Oona climbs the dark stairs alone.\n";
        let mut state = desk_with(own, (120, 40), Letters::Unicode);
        press(&mut state, KeyCode::F(9), KeyModifiers::NONE);
        update(&mut state, Event::Done(Outcome::LookedAt(PathBuf::from("second.md"), other.to_owned())));
        let rows = screen(&mut state).join("\n");
        assert_eq!(rows.matches("⟨moved 1: Oona climbs").count(), 2, "{rows}");
        press(&mut state, KeyCode::Enter, KeyModifiers::NONE);
        let text = state.sheet().expect("a sheet").editor.text();
        assert!(Draft::read(text).prints_like(&Draft::read(other)), "{text}");
    }

    #[test]
    fn a_copy_is_kept_under_a_name_or_none() {
        for name in ["for the designer", ""] {
            let mut state = desk((80, 24));
            control(&mut state, 'o');
            press(&mut state, KeyCode::Char('k'), KeyModifiers::NONE);
            assert!(screen(&mut state)[23].contains("Keep a dated copy"));
            typed(&mut state, name);
            let asked = press(&mut state, KeyCode::Enter, KeyModifiers::NONE);
            assert_eq!(asked, [Effect::KeepCopy(0, name.to_owned())]);
        }
    }

    #[test]
    fn a_screen_that_is_too_small_says_what_is_needed_and_keeps_the_words() {
        let mut state = desk((20, 5));
        typed(&mut state, "x");
        assert!(screen(&mut state).join(" ").contains("needs 40 columns"));
        update(&mut state, Event::Resize(80, 24));
        assert!(row_with(&screen(&mut state), "The light is out").contains("x# The light"));
    }

    #[test]
    fn what_is_typed_moves_the_measures_and_the_foot() {
        let mut state = desk((120, 40));
        control(&mut state, 'e');
        press(&mut state, KeyCode::Down, KeyModifiers::NONE);
        press(&mut state, KeyCode::Down, KeyModifiers::NONE);
        typed(&mut state, &"The sea comes in over the wall. ".repeat(8));
        let rows = screen(&mut state);
        assert!(row_with(&rows, "foot of the panel").contains("over"));
        assert!(row_with(&rows, "length").contains("139 words") && row_with(&rows, "length").contains("+56"));
        assert!(row_with(&rows, "too many").contains("39 too many"));
        assert!(row_with(&rows, "Gull Point ·").contains("not saved"));
        control(&mut state, 'z');
        assert!(row_with(&screen(&mut state), "length").contains("83 words"));
    }

    #[test]
    fn a_cut_is_one_step_and_stet_stays_with_the_draft() {
        let mut state = desk_with("The lamp  is out. The sea  is in.\n", (120, 40), Letters::Unicode);
        assert!(row_with(&screen(&mut state), "quer").contains("quer"));
        press(&mut state, KeyCode::F(6), KeyModifiers::NONE);
        press(&mut state, KeyCode::Enter, KeyModifiers::NONE);
        assert_eq!(state.sheet().expect("a sheet").editor.text(), "The lamp is out. The sea  is in.\n");
        assert_eq!(press(&mut state, KeyCode::Char('s'), KeyModifiers::NONE), [], "it is written with the draft");
        assert_eq!(state.sheet().map(|sheet| sheet.editor.stood().len()), Some(1));
        let rest = state.sheet().expect("a sheet").offers();
        assert!(rest.iter().all(|offer| offer.query.rule != Rule::DoubleSpace), "{rest:?}");
        press(&mut state, KeyCode::Esc, KeyModifiers::NONE);
        control(&mut state, 'z');
        assert_eq!(state.sheet().map(|sheet| sheet.editor.stood().len()), Some(0));
        control(&mut state, 'z');
        assert_eq!(state.sheet().expect("a sheet").editor.text(), "The lamp  is out. The sea  is in.\n");
    }

    #[test]
    fn cuts_come_with_their_prices_and_the_plan_is_one_step() {
        let copy =
            "At this point in time the lamp is dark. ".repeat(2) + &"Somebody has to climb the stairs. ".repeat(26);
        let mut state = desk_with(&copy, (120, 40), Letters::Unicode);
        let unpriced = state.unpriced().expect("nothing has a price yet");
        let (path, revision, tighten) = (unpriced.path.clone(), unpriced.revision, Box::new(unpriced.priced(&|| true)));
        update(&mut state, Event::Done(Outcome::Priced(path, revision, tighten)));
        assert!(state.unpriced().is_none());
        press(&mut state, KeyCode::F(6), KeyModifiers::NONE);
        let offers = state.sheet().expect("a sheet").offers();
        assert!(offers.iter().any(|offer| offer.price.is_some_and(|price| price.letters() > 0)), "{offers:?}");
        let planned = offers.iter().filter(|offer| offer.is_planned).count();
        press(&mut state, KeyCode::Char('p'), KeyModifiers::NONE);
        let text = state.sheet().expect("a sheet").editor.text().to_owned();
        assert_eq!(text != copy, planned > 0);
        press(&mut state, KeyCode::Char('u'), KeyModifiers::NONE);
        assert_eq!(state.sheet().expect("a sheet").editor.text(), copy);
    }

    #[test]
    fn every_answer_to_a_question_stands_at_the_foot_of_80_columns() {
        let mut state = desk((80, 24));
        for mode in [Mode::Leaving, Mode::Outside] {
            state.mode = mode;
            let (_, hints) = hints(&state);
            let foot = screen(&mut state)[23].clone();
            assert!(hints.iter().all(|hint| foot.contains(hint.does)), "{foot}");
        }
    }

    #[test]
    fn leaving_with_unsaved_words_asks_first() {
        let mut state = desk((80, 24));
        assert_eq!(control(&mut state, 'q'), [Effect::Leave]);
        typed(&mut state, "x");
        assert_eq!(control(&mut state, 'q'), []);
        assert!(matches!(state.mode, Mode::Leaving));
        assert!(screen(&mut state)[23].contains("Not all is saved."));
        assert_eq!(press(&mut state, KeyCode::Char('s'), KeyModifiers::NONE), [Effect::Save(0), Effect::Leave]);
        let text = state.sheet().expect("a sheet").editor.text().to_owned();
        update(&mut state, Event::Done(Outcome::Saved(PathBuf::from("first.md"), text)));
        assert_eq!(control(&mut state, 'q'), [Effect::Leave]);
    }

    #[test]
    fn another_type_is_tried_and_written_only_when_asked() {
        let mut state = desk((120, 40));
        press(&mut state, KeyCode::F(7), KeyModifiers::NONE);
        press(&mut state, KeyCode::Right, KeyModifiers::NONE);
        assert!(screen(&mut state)[0].contains("trying serif 13.5 on"));
        press(&mut state, KeyCode::Char('l'), KeyModifiers::NONE);
        let largest = state.sheet().and_then(|sheet| sheet.now.report.fit.largest_size).expect("a size fits");
        assert_eq!(state.brief.typography.blurb.size, largest);
        let asked = press(&mut state, KeyCode::Char('w'), KeyModifiers::NONE);
        let [Effect::WriteBrief(changes)] = asked.as_slice() else { panic!("{asked:?}") };
        assert_eq!(changes.iter().map(|change| change.key().to_owned()).collect::<Vec<_>>(), ["size", "leading"]);
        press(&mut state, KeyCode::Char('b'), KeyModifiers::NONE);
        assert!(state.tried.is_nothing());
    }

    #[test]
    fn every_letter_of_the_draft_can_be_clicked() {
        use ratatui::crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
        let mut state = desk((120, 40));
        let rows = screen(&mut state);
        let y = rows.iter().position(|row| row.contains("lights the lamp")).expect("the row") as u16;
        let kind = MouseEventKind::Down(MouseButton::Left);
        update(&mut state, Event::Mouse(MouseEvent { kind, column: 3, row: y, modifiers: KeyModifiers::NONE }, 2));
        assert_eq!(state.sheet().and_then(|sheet| sheet.editor.selected()), Some("lights"));
    }
}
