//! The pages before there is a draft, without a terminal: what is answered, listed, found, clicked and drawn.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::{Path, PathBuf};

use blurbwright::beginning::books::{BookFigures, BookList, BookOrder, BookStanding, ListedBook};
use blurbwright::beginning::form::{BookForm, FormRow};
use blurbwright::beginning::{Beginning, BeginningEvent, BeginningPage, BriefMending, Wish, update};
use blurbwright::brief::Brief;
use blurbwright::briefing::start::{Answers, Question, brief};
use blurbwright::desk::theme::{Colours, Letters, Theme};
use blurbwright::editor::mending::MendedText;
use blurbwright::panes;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};

const SIZES: [(u16, u16); 5] = [(40, 12), (80, 24), (100, 30), (120, 40), (200, 60)];

fn theme() -> Theme {
    Theme::new(Colours::Sixteen, Letters::Unicode)
}

fn form() -> Beginning {
    let page = BeginningPage::Form(Box::new(BookForm::here(Vec::new(), false)));
    Beginning::new(page, "gulls".to_owned(), theme(), (80, 24))
}

fn list(books: Vec<ListedBook>) -> Beginning {
    Beginning::of_books(BookList::new(books), "gulls".to_owned(), theme(), (80, 24))
}

fn book(name: &str, standing: BookStanding) -> ListedBook {
    ListedBook { folder: PathBuf::from(name), name: name.to_owned(), standing }
}

fn measured(title: &str, words: usize, outside: &[&str]) -> BookStanding {
    BookStanding::Measured(BookFigures {
        title: title.to_owned(),
        draft: "first".to_owned(),
        drafts: 1,
        outside: outside.iter().map(|words| (*words).to_owned()).collect(),
        words,
        lines_left: 20 - words as i64 / 5,
        terms: (1, 2),
    })
}

fn press(state: &mut Beginning, code: KeyCode) -> Option<Wish> {
    update(state, BeginningEvent::Key(KeyEvent::from(code)))
}

fn control(state: &mut Beginning, letter: char) -> Option<Wish> {
    update(state, BeginningEvent::Key(KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL)))
}

fn typed(state: &mut Beginning, words: &str) {
    for letter in words.chars() {
        assert_eq!(press(state, KeyCode::Char(letter)), None, "{words}");
    }
}

fn rows(state: &Beginning) -> Vec<String> {
    let mut terminal = Terminal::new(TestBackend::new(state.size.0, state.size.1)).expect("a test screen");
    terminal.draw(|frame| panes::draw_beginning(state, frame)).expect("a drawing");
    let buffer = terminal.backend().buffer();
    let row = |y: u16| (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect::<String>();
    (0..buffer.area.height).map(|y| row(y).trim_end().to_owned()).collect()
}

fn screen(state: &Beginning) -> String {
    rows(state).join("\n")
}

/// All that is on the screen, without the ends of its rows.
fn flat(state: &Beginning) -> String {
    screen(state).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Clicks on the first letter of words where they stand last on the screen.
fn click(state: &mut Beginning, words: &str) -> Option<Wish> {
    let rows = rows(state);
    let place = |(y, row): (usize, &String)| Some((row[..row.rfind(words)?].chars().count(), y));
    let found = rows.iter().enumerate().rev().find_map(place);
    let (column, row) = found.unwrap_or_else(|| panic!("{words} in\n{}", rows.join("\n")));
    let kind = MouseEventKind::Down(MouseButton::Left);
    let mouse = MouseEvent { kind, column: column as u16, row: row as u16, modifiers: KeyModifiers::NONE };
    panes::beginning_event(state, mouse).and_then(|event| update(state, event))
}

fn page(state: &Beginning) -> &BookForm {
    match &state.page {
        BeginningPage::Form(form) => form,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_title_is_all_that_has_to_be_typed() {
    let mut state = form();
    assert_eq!(control(&mut state, 's'), None);
    assert!(screen(&state).contains("A book needs a title; a working title will do."));
    typed(&mut state, "Oona: \"Gull\"");
    let mut answers = Answers::default();
    assert_eq!(Question::Title.answer(&mut answers, "Oona: \"Gull\""), Ok(()));
    let wish = Wish::Begin { folder: None, answers: Box::new(answers), with_draft: true };
    assert_eq!(control(&mut state, 's'), Some(wish.clone()));
    // As well by going through all rows.
    for _ in 0..page(&state).rows.len() - 1 {
        assert_eq!(press(&mut state, KeyCode::Enter), None);
    }
    assert_eq!(press(&mut state, KeyCode::Enter), Some(wish));
}

/// Every choice of every row, chosen by a key and by a click, makes a brief that can be read.
#[test]
fn whatever_is_chosen_makes_a_brief() {
    let mut state = form();
    typed(&mut state, "Oona");
    let mut tried = 0;
    for row in 0..page(&state).rows.len() {
        for choice in page(&state).choices() {
            match tried % 2 {
                0 => assert_eq!(click(&mut state, &choice), None),
                _ => {
                    while page(&state).value(row) != choice {
                        press(&mut state, KeyCode::Right);
                    }
                }
            }
            let Some(Wish::Begin { answers, .. }) = control(&mut state, 's') else { panic!("{choice}") };
            let read = Brief::read(&brief(&answers), Path::new(""));
            assert!(read.is_ok(), "{choice}: {read:?}");
            tried += 1;
        }
        press(&mut state, KeyCode::Down);
    }
    assert!(tried > 25, "{tried} choices");
}

#[test]
fn an_answer_that_cannot_be_used_stays_in_hand_and_is_told() {
    let mut state = form();
    typed(&mut state, "Oona");
    for (row, words, told) in [(3, "8-4", "not a range of ages"), (4, "2 x 8 in", "leaves no room for copy")] {
        while page(&state).at < row {
            press(&mut state, KeyCode::Down);
        }
        typed(&mut state, words);
        assert_eq!(press(&mut state, KeyCode::Enter), None);
        assert_eq!((page(&state).at, page(&state).value(row).as_str()), (row, words));
        assert!(screen(&state).contains(told), "{}", screen(&state));
        assert_eq!(control(&mut state, 's'), None, "{words}");
        control(&mut state, 'u');
        typed(&mut state, if row == 3 { "4-8" } else { "200 x 250 mm" });
    }
    let Some(Wish::Begin { answers, .. }) = control(&mut state, 's') else { panic!("begun") };
    assert_eq!((answers.readers.written().as_str(), answers.trim.as_str()), ("4-8", "200 x 250 mm"));
}

#[test]
fn another_kind_of_book_keeps_what_the_author_has_answered() {
    let mut state = form();
    typed(&mut state, "Oona");
    for _ in 0..3 {
        press(&mut state, KeyCode::Down);
    }
    typed(&mut state, "5-9");
    press(&mut state, KeyCode::Up);
    press(&mut state, KeyCode::Right);
    assert_eq!([2, 3, 4].map(|row| page(&state).value(row)), ["early reader", "5-9", "6 x 9 in"]);
}

#[test]
fn flaps_need_a_jacket_and_no_board_book_has_them() {
    let mut state = form();
    typed(&mut state, "Oona");
    let at = |state: &Beginning, question| {
        page(state).rows.iter().position(|row| *row == FormRow::Asked(question)).expect("a row")
    };
    let (binding, back) = (at(&state, Question::Binding), at(&state, Question::Back));
    while page(&state).at < back {
        press(&mut state, KeyCode::Down);
    }
    press(&mut state, KeyCode::Left);
    assert_eq!([binding, back].map(|row| page(&state).value(row)), ["jacket", "flaps"]);
    while page(&state).at > 2 {
        press(&mut state, KeyCode::Up);
    }
    press(&mut state, KeyCode::Left);
    assert_eq!([2, back].map(|row| page(&state).value(row)), ["board book", "one column"]);
    while page(&state).at < back {
        press(&mut state, KeyCode::Down);
    }
    assert!(!page(&state).choices().contains(&"flaps".to_owned()));
}

#[test]
fn leaving_asks_once_where_something_was_answered() {
    let mut state = form();
    assert_eq!(press(&mut state, KeyCode::Esc), Some(Wish::Leave));
    typed(&mut state, "Oona");
    assert_eq!(press(&mut state, KeyCode::Esc), None);
    assert!(screen(&state).contains("Nothing is written yet."));
    typed(&mut state, "!");
    assert_eq!(control(&mut state, 'q'), None, "asked again after more was typed");
    assert_eq!(press(&mut state, KeyCode::Esc), Some(Wish::Leave));
}

#[test]
fn drafts_that_are_there_are_told_and_kept() {
    let drafts = vec!["first.md".to_owned(), "notes\u{1b}.md".to_owned()];
    let mut state = form();
    state.page = BeginningPage::Form(Box::new(BookForm::here(drafts, true)));
    assert!(flat(&state).contains("first.md and notes<U+001B>.md are here without a brief"), "{}", screen(&state));
    typed(&mut state, "Oona");
    let Some(Wish::Begin { folder, with_draft, .. }) = control(&mut state, 's') else { panic!("begun") };
    assert_eq!((folder, with_draft), (None, false));
}

#[test]
fn beside_other_files_a_book_has_a_folder_of_its_own() {
    let mut state = form();
    state.page = BeginningPage::Form(Box::new(BookForm::here(Vec::new(), true)));
    typed(&mut state, "The Lamp, again");
    let folder = |state: &mut Beginning| match control(state, 's') {
        Some(Wish::Begin { folder, .. }) => folder,
        other => panic!("{other:?}"),
    };
    assert_eq!(folder(&mut state).as_deref(), Some("the-lamp-again"));
    click(&mut state, "Folder");
    click(&mut state, "this one");
    assert_eq!(folder(&mut state), None);
}

fn shelf() -> Vec<ListedBook> {
    vec![
        book("a", measured("Zebra Light", 60, &[])),
        book("b", BookStanding::Unread("b/brief.yaml:3:1: no such key.".to_owned())),
        book("c", BookStanding::Waiting),
        book("d", measured("Otter", 120, &["1 line is over", "words: 120; the brief has at most 100"])),
        book("e", BookStanding::WithoutDrafts("Kite".to_owned())),
    ]
}

fn titles(state: &Beginning) -> Vec<String> {
    let books = state.books.as_ref().expect("books");
    books.listed().map(|book| book.title().to_owned()).collect()
}

#[test]
fn what_fails_stands_first_and_each_order_is_kept() {
    let mut state = list(shelf());
    assert_eq!(titles(&state), ["b", "Kite", "Otter", "c", "Zebra Light"]);
    let said = "5 books: 1 cannot be read, 1 has no draft yet, 1 outside, 1 within, 1 still to be measured";
    assert!(flat(&state).contains(said), "{}", screen(&state));
    let orders = [
        (BookOrder::Title, ["b", "c", "Kite", "Otter", "Zebra Light"]),
        (BookOrder::Words, ["Otter", "Zebra Light", "b", "c", "Kite"]),
        (BookOrder::Fit, ["Otter", "Zebra Light", "b", "c", "Kite"]),
        (BookOrder::Terms, ["Otter", "Zebra Light", "b", "c", "Kite"]),
    ];
    for (order, expected) in orders {
        press(&mut state, KeyCode::Tab);
        assert!(screen(&state).contains(order.name()), "{order:?}");
        assert_eq!(titles(&state), expected, "{order:?}");
    }
    press(&mut state, KeyCode::Tab);
    assert_eq!(titles(&state)[0], "b");
}

#[test]
fn letters_find_a_book_and_esc_lists_all_again() {
    let mut state = list(shelf());
    typed(&mut state, "oTT");
    assert_eq!(titles(&state), ["Otter"]);
    assert!(screen(&state).contains("Find: oTT"), "{}", screen(&state));
    typed(&mut state, "x");
    assert!(screen(&state).contains("No title and no folder has these letters."));
    assert_eq!(press(&mut state, KeyCode::Enter), None);
    press(&mut state, KeyCode::Backspace);
    assert_eq!(press(&mut state, KeyCode::Enter), Some(Wish::Open { number: 3 }));
    assert_eq!(press(&mut state, KeyCode::Esc), None);
    assert_eq!(titles(&state).len(), 5);
    assert_eq!(press(&mut state, KeyCode::Esc), Some(Wish::Leave));
}

#[test]
fn what_is_typed_as_a_whole_title_or_its_beginning_stands_first() {
    let mut state = list(vec![
        book("a", BookStanding::Unread("a/brief.yaml:1:1: no such key.".to_owned())),
        book("b", measured("The Lamp", 60, &["1 line is over"])),
        book("c", measured("Lamplight", 60, &[])),
        book("d", measured("Lamp", 60, &[])),
        book("lamp-old", BookStanding::Waiting),
    ]);
    typed(&mut state, "LAMP");
    assert_eq!(titles(&state), ["Lamp", "lamp-old", "Lamplight", "The Lamp"]);
    assert_eq!(press(&mut state, KeyCode::Enter), Some(Wish::Open { number: 3 }));
}

/// The first row is in hand until the author chooses one; then that book, wherever it comes to stand.
#[test]
fn a_book_stays_in_hand_while_others_are_measured() {
    let in_hand = |state: &Beginning| {
        state.books.as_ref().and_then(BookList::in_hand).map(|(number, book)| (number, book.title().to_owned()))
    };
    let mut state = list(["a", "b", "c"].map(|name| book(name, BookStanding::Waiting)).to_vec());
    update(&mut state, BeginningEvent::Measured(2, measured("Gull", 90, &["1 line is over"])));
    assert_eq!(in_hand(&state), Some((2, "Gull".to_owned())));
    press(&mut state, KeyCode::Down);
    let chosen = in_hand(&state);
    assert_eq!(chosen, Some((0, "a".to_owned())));
    update(&mut state, BeginningEvent::Measured(1, BookStanding::Unread("No.".to_owned())));
    assert_eq!(in_hand(&state), chosen);
    update(&mut state, BeginningEvent::Measured(0, measured("Lamp", 50, &[])));
    assert_eq!(in_hand(&state), Some((0, "Lamp".to_owned())));
    // A number that no book has is passed over.
    update(&mut state, BeginningEvent::Measured(9, BookStanding::Waiting));
    update(&mut state, BeginningEvent::Found(vec![book("b", BookStanding::Waiting), book("a", BookStanding::Waiting)]));
    assert_eq!(in_hand(&state), Some((1, "a".to_owned())));
}

#[test]
fn a_book_that_cannot_be_opened_says_why_and_one_without_drafts_is_offered_one() {
    let mut state = list(shelf());
    let Some(Wish::Mend { why, .. }) = press(&mut state, KeyCode::Enter) else { panic!("it is looked at") };
    // Where nothing in the brief is at fault the reason is told.
    update(&mut state, BeginningEvent::Failed(why));
    assert!(screen(&state).contains("b/brief.yaml:3:1: no such key."));
    press(&mut state, KeyCode::Down);
    assert_eq!(press(&mut state, KeyCode::Enter), None);
    assert!(screen(&state).contains("Kite has a brief and no draft yet."));
    assert_eq!(press(&mut state, KeyCode::Enter), Some(Wish::BeginDraft { folder: PathBuf::from("e") }));
    assert_eq!(press(&mut state, KeyCode::Esc), None);
    assert_eq!(control(&mut state, 'n'), None);
    typed(&mut state, "Snow");
    let Some(Wish::Begin { folder, .. }) = control(&mut state, 's') else { panic!("begun") };
    assert_eq!(folder.as_deref(), Some("snow"));
}

#[test]
fn clicking_what_is_shown_does_what_it_says() {
    let mut state = list(shelf());
    assert_eq!(click(&mut state, "Otter"), None);
    assert_eq!(click(&mut state, "Otter"), Some(Wish::Open { number: 3 }), "a second click opens");
    assert_eq!(click(&mut state, "Ctrl-R measure again"), Some(Wish::LookAgain));
    assert_eq!(click(&mut state, "letters find"), None);
    click(&mut state, "Ctrl-N new book");
    click(&mut state, "Barcode");
    click(&mut state, "with price");
    assert_eq!(page(&state).value(page(&state).at), "with price");
    for _ in 0..2 {
        assert_eq!(click(&mut state, "Begin this book"), None);
    }
    assert_eq!(page(&state).at, 0, "without a title the title is in hand: {}", screen(&state));
    assert!(screen(&state).contains("A book needs a title"), "{}", screen(&state));
}

#[test]
fn every_row_and_key_is_in_sight_at_each_size() {
    for letters in [Letters::Unicode, Letters::Ascii] {
        for size in SIZES {
            let mut state = form();
            (state.size, state.theme) = (size, Theme::new(Colours::None, letters));
            typed(&mut state, "Oona");
            for row in 0..page(&state).rows.len() {
                let shown = screen(&state);
                let label = page(&state).row().label();
                assert!(shown.contains(label) && shown.contains("Esc leave"), "{size:?}, {label}:\n{shown}");
                let about = page(&state).row().explained(&page(&state).value(row));
                let about: String = about.chars().take(usize::from(size.0) - 2).collect();
                assert!(shown.contains(about.trim_end()), "{size:?}, {about}:\n{shown}");
                assert!(letters == Letters::Unicode || shown.is_ascii(), "{shown}");
                press(&mut state, KeyCode::Down);
            }
        }
    }
}

#[test]
fn no_book_one_and_a_thousand_are_listed_at_each_size() {
    for count in [0, 1, 1000] {
        for size in SIZES {
            let outside = ["1 line is over in \"a\u{301}\""];
            let standing = |number: usize| measured(&format!("Gull {number}"), number % 120, &outside[number % 2..]);
            let books = (0..count).map(|number| book(&format!("book-{number}"), standing(number)));
            let mut state = list(books.collect());
            (state.size, state.theme) = (size, Theme::new(Colours::None, Letters::Ascii));
            press(&mut state, KeyCode::End);
            let shown = screen(&state);
            assert!(shown.contains("Esc leave"), "{count} at {size:?}:\n{shown}");
            let book = if count == 1 { "1 book:" } else { &format!("{count} books") };
            assert!(shown.contains(book), "{count} at {size:?}:\n{shown}");
            assert_eq!(shown.contains("> Gull "), count > 0, "{count} at {size:?}:\n{shown}");
            assert_eq!(shown.contains("Enter open"), count > 0, "{count} at {size:?}:\n{shown}");
        }
    }
}

/// A brief that cannot be read is shown with the line of its fault, and what is typed is let go only when that is said.
#[test]
fn a_brief_that_cannot_be_read_is_mended_from_the_list() {
    let why = "brief.yaml:2:3: book.titel: there is no such key; title is the nearest.";
    let text = || MendedText::new("book:\n  titel: Gull\n".to_owned(), Some(2), why.to_owned());
    for size in SIZES {
        let mut state = list(vec![book("gull", BookStanding::Unread(why.to_owned()))]);
        state.size = size;
        assert!(flat(&state).contains("Enter see why"));
        let asked = press(&mut state, KeyCode::Enter);
        assert_eq!(asked, Some(Wish::Mend { number: 0, why: why.to_owned() }));
        let path = PathBuf::from("gull/brief.yaml");
        state.page = BeginningPage::Mend(Box::new(BriefMending { path: path.clone(), number: Some(0), text: text() }));
        assert!(flat(&state).contains("there is no such key"), "{}", screen(&state));
        let marked = rows(&state).into_iter().find(|row| row.contains("titel: Gull")).expect("the line");
        assert!(marked.contains("▸") && marked.contains(" 2 "), "{marked}");
        assert!(screen(&state).contains("Ctrl-S write it and go on"));
        typed(&mut state, "xs");
        press(&mut state, KeyCode::Tab);
        assert_eq!(press(&mut state, KeyCode::Esc), None);
        assert!(flat(&state).contains("Esc again lets it go"), "{}", screen(&state));
        let written = "book:\nxs    titel: Gull\n".to_owned();
        let read = text().read;
        let wish = Wish::WriteMended { path, number: Some(0), read, text: written.clone() };
        assert_eq!(control(&mut state, 's'), Some(wish));
        // It is written, and there is another fault.
        update(&mut state, BeginningEvent::Unmended(Box::new(MendedText::new(written, Some(1), "No.".to_owned()))));
        assert!(flat(&state).contains("cannot be read yet"));
        press(&mut state, KeyCode::Esc);
        assert!(matches!(state.page, BeginningPage::Books), "nothing is left to be let go");
    }
}

/// The keys that step among the usual trims move in another that is typed.
#[test]
fn keys_move_in_a_trim_that_is_typed() {
    let mut state = form();
    typed(&mut state, "Oona");
    while page(&state).at < 4 {
        press(&mut state, KeyCode::Down);
    }
    let usual = page(&state).value(4);
    press(&mut state, KeyCode::Right);
    assert_ne!(page(&state).value(4), usual);
    control(&mut state, 'u');
    typed(&mut state, "8.5 x 1.5 in");
    for _ in 0.."1.5 in".len() - 1 {
        press(&mut state, KeyCode::Left);
    }
    typed(&mut state, "1");
    assert_eq!(page(&state).value(4), "8.5 x 11.5 in");
}
