//! What an event makes of the pages before there is a draft.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::books::{BookList, BookStanding};
use super::event::{BeginningEvent, BeginningTarget, Wish};
use super::form::{BookForm, FormRow};
use super::state::{Beginning, BeginningPage, DraftOffer};
use crate::desk::event::Turn;
use crate::desk::keys::{self, Command};
use crate::desk::{LETS_GO, MendStep, key_action, mend, mending_columns};
use crate::editor::Action;
use crate::editor::mending::MendedText;
use crate::units::nouns::sentence;

/// The rows of the list that a turn of the wheel moves.
const WHEEL: isize = 3;
/// The rows at the head and the foot that are no rows of the list.
const AROUND: u16 = 8;

/// Applies an event, and returns what is to be done outside.
pub fn update(state: &mut Beginning, event: BeginningEvent) -> Option<Wish> {
    match event {
        BeginningEvent::Key(key) => return state.key(key),
        BeginningEvent::Click(BeginningTarget::Key(key)) => return state.key(key),
        BeginningEvent::Click(target) => return state.click(target),
        BeginningEvent::Paste(words) => state.paste(&words),
        BeginningEvent::Wheel(turn) => {
            if let (BeginningPage::Books, Some(books)) = (&state.page, &mut state.books) {
                books.go(if turn == Turn::Up { -WHEEL } else { WHEEL });
            }
        }
        BeginningEvent::Resize(columns, rows) => state.size = (columns, rows),
        BeginningEvent::Found(found) => match &mut state.books {
            Some(books) => books.renew(found),
            None => state.books = Some(BookList::new(found)),
        },
        BeginningEvent::Measured(number, standing) => {
            if let Some(books) = &mut state.books {
                books.take(number, standing);
            }
        }
        BeginningEvent::Unmended(found) => state.unmended(*found),
        BeginningEvent::Failed(why) => state.said = Some(why),
    }
    None
}

impl Beginning {
    fn key(&mut self, key: KeyEvent) -> Option<Wish> {
        self.said = None;
        if matches!(self.page, BeginningPage::Mend(_)) && keys::pressed(key) != Some(Command::Suspend) {
            return self.key_in_mending(key);
        }
        match keys::pressed(key) {
            Some(Command::Suspend) => return Some(Wish::Suspend),
            Some(Command::Leave | Command::Copy) => return self.leave(),
            _ => {}
        }
        if key.code == KeyCode::Esc {
            return self.leave();
        }
        match &mut self.page {
            BeginningPage::Books => self.key_in_books(key),
            BeginningPage::Form(_) => self.key_in_form(key),
            BeginningPage::Draft(offer) if key.code == KeyCode::Enter => {
                Some(Wish::BeginDraft { folder: offer.folder.clone() })
            }
            BeginningPage::Draft(_) | BeginningPage::Mend(_) => None,
        }
    }

    /// A key while a brief is mended.
    fn key_in_mending(&mut self, key: KeyEvent) -> Option<Wish> {
        // The page has the whole width but for a column at either side.
        let columns = usize::from(mending_columns(self.size.0.saturating_sub(2)));
        let BeginningPage::Mend(page) = &mut self.page else { return None };
        match mend(&mut page.text, key, columns) {
            MendStep::Stays => None,
            MendStep::AsksToLeave => {
                self.said = Some(LETS_GO.to_owned());
                None
            }
            MendStep::Leaves => self.leave(),
            MendStep::Writes => Some(Wish::WriteMended {
                path: page.path.clone(),
                number: page.number,
                read: page.text.read.clone(),
                text: page.text.editor.text().to_owned(),
            }),
        }
    }

    fn unmended(&mut self, found: MendedText) {
        if let BeginningPage::Mend(page) = &mut self.page {
            let is_other = page.text.renew(found);
            self.said = Some(if is_other {
                "Another program has written the brief; this is what it wrote. Ctrl-Z brings yours back.".to_owned()
            } else {
                "The brief is written, and cannot be read yet.".to_owned()
            });
        }
    }

    /// One step back: what is looked for, a page over the list, or all of it.
    fn leave(&mut self) -> Option<Wish> {
        if let BeginningPage::Form(form) = &mut self.page
            && form.is_begun()
            && !std::mem::replace(&mut form.is_leaving, true)
        {
            self.said = Some("Nothing is written yet. Esc again lets go of what you have answered.".to_owned());
            return None;
        }
        let Some(books) = &mut self.books else { return Some(Wish::Leave) };
        if !matches!(self.page, BeginningPage::Books) {
            self.page = BeginningPage::Books;
            return None;
        }
        if books.sought.is_empty() {
            return Some(Wish::Leave);
        }
        books.seek(String::new());
        None
    }

    fn key_in_books(&mut self, key: KeyEvent) -> Option<Wish> {
        let page = isize::try_from(self.size.1.saturating_sub(AROUND).max(1)).unwrap_or(1);
        let has_control = key.modifiers.contains(KeyModifiers::CONTROL);
        let books = self.books.as_mut()?;
        match key.code {
            KeyCode::Char('n') if has_control => {
                self.page = BeginningPage::Form(Box::new(BookForm::beside_others()));
            }
            KeyCode::Char('r') if has_control => return Some(Wish::LookAgain),
            KeyCode::Char('u' | 'w') if has_control => books.seek(String::new()),
            KeyCode::Char(_) if has_control || key.modifiers.contains(KeyModifiers::ALT) => {}
            KeyCode::Char(letter) => books.seek(format!("{}{letter}", books.sought)),
            KeyCode::Backspace => {
                let mut sought = books.sought.clone();
                sought.pop();
                books.seek(sought);
            }
            KeyCode::Up => books.go(-1),
            KeyCode::Down => books.go(1),
            KeyCode::PageUp => books.go(-page),
            KeyCode::PageDown => books.go(page),
            KeyCode::Home => books.go(isize::MIN),
            KeyCode::End => books.go(isize::MAX),
            KeyCode::Tab => books.turn(),
            KeyCode::Enter => return self.open(),
            _ => {}
        }
        None
    }

    /// Opens the book in hand, or says why it cannot be opened.
    fn open(&mut self) -> Option<Wish> {
        let (number, book) = self.books.as_ref().and_then(BookList::in_hand)?;
        match &book.standing {
            BookStanding::Unread(why) => return Some(Wish::Mend { number, why: why.clone() }),
            BookStanding::WithoutDrafts(title) => {
                self.page = BeginningPage::Draft(DraftOffer { folder: book.folder.clone(), title: title.clone() });
            }
            BookStanding::Waiting | BookStanding::Measured(_) => {
                self.books.as_mut()?.choose();
                return Some(Wish::Open { number });
            }
        }
        None
    }

    fn key_in_form(&mut self, key: KeyEvent) -> Option<Wish> {
        let BeginningPage::Form(form) = &mut self.page else { return None };
        form.is_leaving = false;
        let (at, last) = (form.at, form.rows.len().saturating_sub(1));
        let chooses = !form.choices().is_empty() && !form.moves_in_answer();
        let done = match key.code {
            KeyCode::Enter if form.row() == FormRow::Begin => return self.begin(),
            KeyCode::Char('s') if key.modifiers.contains(KeyModifiers::CONTROL) => return self.begin(),
            // An empty title is told where it would be left behind unasked.
            KeyCode::Enter if at == 0 => form.answer().and_then(|()| form.go_to(1)),
            KeyCode::Enter | KeyCode::Down | KeyCode::Tab => form.go_to((at + 1).min(last)),
            KeyCode::Up | KeyCode::BackTab => form.go_to(at.saturating_sub(1)),
            KeyCode::PageUp => form.go_to(0),
            KeyCode::PageDown => form.go_to(last),
            KeyCode::Left | KeyCode::Right if chooses => form.turn(key.code),
            _ if form.is_typed() => {
                type_into(form, key);
                Ok(())
            }
            _ => Ok(()),
        };
        self.told(done);
        None
    }

    fn told(&mut self, done: Result<(), String>) {
        if let Err(problem) = done {
            self.said = Some(sentence(&problem));
        }
    }

    /// Begins the book, if every answer can be used.
    fn begin(&mut self) -> Option<Wish> {
        let BeginningPage::Form(form) = &mut self.page else { return None };
        let answered = form.answer();
        if answered.is_ok() && form.has_title() {
            let (answers, folder) = form.begun();
            let with_draft = form.drafts.is_empty();
            return Some(Wish::Begin { folder, answers: Box::new(answers), with_draft });
        }
        let titled = answered.and_then(|()| form.go_to(0)).and_then(|()| form.answer());
        self.told(titled);
        None
    }

    fn paste(&mut self, pasted: &str) {
        let words = pasted.split_whitespace().collect::<Vec<_>>().join(" ");
        match (&mut self.page, &mut self.books) {
            (BeginningPage::Form(form), _) if form.is_typed() => form.field.apply(Action::Paste(words), &[]),
            (BeginningPage::Books, Some(books)) => books.seek(format!("{}{words}", books.sought)),
            (BeginningPage::Mend(page), _) => page.text.editor.apply(Action::Paste(pasted.to_owned()), &[]),
            _ => {}
        }
    }

    fn click(&mut self, target: BeginningTarget) -> Option<Wish> {
        self.said = None;
        match (target, &mut self.page) {
            (BeginningTarget::Row(number), BeginningPage::Form(form)) => {
                if form.rows.get(number) == Some(&FormRow::Begin) && form.at == number {
                    return self.begin();
                }
                let done = form.go_to(number);
                self.told(done);
            }
            (BeginningTarget::Choice(number), BeginningPage::Form(form)) => {
                let done = form.choose(number);
                self.told(done);
            }
            (BeginningTarget::Book(row), BeginningPage::Books) => {
                let books = self.books.as_mut()?;
                if books.at == row {
                    return self.open();
                }
                books.go(row as isize - books.at as isize);
            }
            _ => {}
        }
        None
    }
}

/// Applies a key to the answer that is typed.
fn type_into(form: &mut BookForm, key: KeyEvent) {
    match (keys::pressed(key), key_action(key)) {
        (Some(Command::Undo), _) => form.field.apply(Action::Undo, &[]),
        (Some(Command::SelectAll), _) => form.field.apply(Action::SelectAll, &[]),
        (Some(_), _) | (None, None | Some(Action::Newline)) => {}
        (None, Some(action)) => form.field.apply(action, &[]),
    }
}
