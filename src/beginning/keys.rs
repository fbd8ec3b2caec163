//! The keys of the pages before there is a draft: those at the foot, and what a key is for. A key that would do nothing
//! is not shown.

use std::borrow::Cow;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::books::{BookList, BookStanding};
use super::form::{BookForm, FormRow};
use super::state::{Beginning, BeginningPage};
use crate::desk::hints::Hint;

const fn hint(shown: &'static str, press: KeyCode, does: &'static str) -> Hint {
    Hint { shown: Cow::Borrowed(shown), does, press: KeyEvent::new(press, KeyModifiers::NONE) }
}

const fn control(shown: &'static str, letter: char, does: &'static str) -> Hint {
    Hint { shown: Cow::Borrowed(shown), does, press: KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL) }
}

const NEXT: Hint = hint("Enter", KeyCode::Enter, "next");
const BEGIN_HERE: Hint = hint("Enter", KeyCode::Enter, "begin the book");
const CHOOSE: Hint = hint("Left, Right", KeyCode::Right, "choose");
const ROW_ABOVE: Hint = hint("Up", KeyCode::Up, "row above");
const BEGIN: Hint = control("Ctrl-S", 's', "begin the book");
const LEAVE: Hint = hint("Esc", KeyCode::Esc, "leave");
const TO_LIST: Hint = hint("Esc", KeyCode::Esc, "back to the list");
const WRITE_DRAFT: Hint = hint("Enter", KeyCode::Enter, "begin the first draft");
const OPEN: Hint = hint("Enter", KeyCode::Enter, "open");
const WHY: Hint = hint("Enter", KeyCode::Enter, "see why");
const WRITE: Hint = control("Ctrl-S", 's', "write it and go on");
const UNDO: Hint = control("Ctrl-Z", 'z', "undo");
const ROWS: Hint = hint("Up, Down", KeyCode::Down, "choose");
const SEEK: Hint = hint("letters", KeyCode::Null, "find");
const ALL: Hint = hint("Esc", KeyCode::Esc, "list all");
const SORT: Hint = hint("Tab", KeyCode::Tab, "sort");
const NEW: Hint = control("Ctrl-N", 'n', "new book");
const AGAIN: Hint = control("Ctrl-R", 'r', "measure again");

/// The keys at the foot of the page in front, the one that goes on first and the one that leaves last.
pub fn hints(state: &Beginning) -> Vec<Hint> {
    let has_list = state.books.is_some();
    match (&state.page, &state.books) {
        (BeginningPage::Form(form), _) => of_form(form, has_list),
        (BeginningPage::Draft(_), _) => vec![WRITE_DRAFT, if has_list { TO_LIST } else { LEAVE }],
        (BeginningPage::Mend(_), _) => vec![WRITE, UNDO, if has_list { TO_LIST } else { LEAVE }],
        (BeginningPage::Books, Some(books)) => of_books(books),
        (BeginningPage::Books, None) => vec![LEAVE],
    }
}

fn of_form(form: &BookForm, has_list: bool) -> Vec<Hint> {
    let is_last = form.row() == FormRow::Begin;
    let mut shown = vec![if is_last { BEGIN_HERE } else { NEXT }];
    shown.extend((!form.choices().is_empty()).then_some(CHOOSE));
    shown.extend((form.at > 0).then_some(ROW_ABOVE));
    shown.extend((form.has_title() && !is_last).then_some(BEGIN));
    shown.push(if has_list { TO_LIST } else { LEAVE });
    shown
}

fn of_books(books: &BookList) -> Vec<Hint> {
    let mut shown = Vec::new();
    shown.extend(books.in_hand().map(|(_, book)| match &book.standing {
        BookStanding::Unread(_) => WHY,
        BookStanding::WithoutDrafts(_) => WRITE_DRAFT,
        BookStanding::Waiting | BookStanding::Measured(_) => OPEN,
    }));
    shown.extend((books.listed().len() > 1).then_some(ROWS));
    shown.extend((books.listed().len() > 1).then_some(SORT));
    shown.extend((books.count() > 1).then_some(SEEK));
    shown.extend([NEW, AGAIN]);
    shown.push(if books.sought.is_empty() { LEAVE } else { ALL });
    shown
}
