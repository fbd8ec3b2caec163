//! The page that begins a book: a row for each question, with the usual answer already chosen.
//!
//! What may be answered, and what an answer changes among the others, is `briefing`'s rule; a row only holds the answer
//! that is being typed or chosen.

use ratatui::crossterm::event::KeyCode;

use crate::brief::book::BookKind;
use crate::briefing::covers::{BINDINGS, BackArt, BarcodePlan, folder_name, usual_trims};
use crate::briefing::start::{Answers, BackPlan, Question};
use crate::editor::{Action, Editor};

/// A book that is being begun.
#[derive(Debug)]
pub struct BookForm {
    answers: Answers,
    /// The questions that the author has answered, whose answers a later one does not change.
    answered: Vec<Question>,
    /// The rows from head to foot.
    pub rows: Vec<FormRow>,
    /// The number of the row in hand.
    pub at: usize,
    /// The answer in hand as it is typed.
    pub field: Editor,
    /// Where the book's files go.
    pub place: BookPlace,
    /// The drafts that are in the present folder without a brief; the book is begun round them.
    pub drafts: Vec<String>,
    /// Whether to leave was asked for once.
    pub(super) is_leaving: bool,
}

/// A row of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FormRow {
    /// A question.
    Asked(Question),
    /// In which folder the book is begun.
    Folder,
    /// The end of the page, where the book is begun.
    Begin,
}

/// In which folder a book is begun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BookPlace {
    /// In the present folder.
    Here,
    /// In a new folder of the present one, named by the title.
    NewFolder,
}

const ASKED: [Question; 9] = [
    Question::Title,
    Question::Author,
    Question::Kind,
    Question::Readers,
    Question::Trim,
    Question::Binding,
    Question::Barcode,
    Question::Art,
    Question::Back,
];

const PLACES: [BookPlace; 2] = [BookPlace::Here, BookPlace::NewFolder];

impl BookForm {
    /// The page for a book in the present folder, round the drafts that are there; with a row for the folder where the
    /// book may as well be begun in a new one.
    pub fn here(drafts: Vec<String>, has_other_files: bool) -> Self {
        let place = if has_other_files && drafts.is_empty() { BookPlace::NewFolder } else { BookPlace::Here };
        Self::new(place, drafts, has_other_files)
    }

    /// The page for a book in a new folder beside others.
    pub fn beside_others() -> Self {
        Self::new(BookPlace::NewFolder, Vec::new(), false)
    }

    fn new(place: BookPlace, drafts: Vec<String>, asks_folder: bool) -> Self {
        let folder = (asks_folder && drafts.is_empty()).then_some(FormRow::Folder);
        let rows = ASKED.map(FormRow::Asked).into_iter().chain(folder).chain([FormRow::Begin]).collect();
        let mut form = Self {
            answers: Answers::default(),
            answered: Vec::new(),
            rows,
            at: 0,
            field: Editor::default(),
            place,
            drafts,
            is_leaving: false,
        };
        form.take_up(0);
        form
    }

    /// The row in hand.
    pub fn row(&self) -> FormRow {
        self.rows.get(self.at).copied().unwrap_or(FormRow::Begin)
    }

    /// The answer that stands in a row: of the row in hand as it is typed.
    pub fn value(&self, number: usize) -> String {
        if number == self.at && self.is_typed() {
            return self.field.text().to_owned();
        }
        match self.rows.get(number) {
            Some(FormRow::Asked(question)) => question.standing(&self.answers),
            Some(FormRow::Folder) if self.place == BookPlace::Here => "this one".to_owned(),
            Some(FormRow::Folder) => format!("a new one, {}", self.folder()),
            Some(FormRow::Begin) | None => String::new(),
        }
    }

    /// Whether the answer in hand can be typed.
    pub fn is_typed(&self) -> bool {
        let typed = [Question::Title, Question::Author, Question::Readers, Question::Trim];
        matches!(self.row(), FormRow::Asked(question) if typed.contains(&question))
    }

    /// Whether the keys that step among choices move in the answer, because another than a choice is being typed.
    pub(super) fn moves_in_answer(&self) -> bool {
        let text = self.field.text();
        self.is_typed() && !text.is_empty() && (text != self.standing() || self.chosen().is_none())
    }

    /// The choices of the row in hand; none where the answer is only typed.
    pub fn choices(&self) -> Vec<String> {
        let named = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        match self.row() {
            FormRow::Asked(Question::Kind) => named(&BookKind::ALL.map(BookKind::name)),
            FormRow::Asked(Question::Trim) => named(usual_trims(self.answers.kind)),
            FormRow::Asked(Question::Binding) => named(&BINDINGS.map(|binding| binding.name())),
            FormRow::Asked(Question::Barcode) => named(&BarcodePlan::ALL.map(BarcodePlan::name)),
            FormRow::Asked(Question::Art) => named(&BackArt::ALL.map(BackArt::name)),
            FormRow::Asked(Question::Back) => {
                let has_flaps = self.answers.kind != BookKind::BoardBook;
                let plans = BackPlan::ALL.into_iter().filter(|plan| has_flaps || *plan != BackPlan::Flaps);
                plans.map(|plan| plan.name().to_owned()).collect()
            }
            FormRow::Folder => vec!["this one".to_owned(), format!("a new one, {}", self.folder())],
            FormRow::Asked(_) | FormRow::Begin => Vec::new(),
        }
    }

    /// The number of the choice that stands; none where another answer is typed.
    pub fn chosen(&self) -> Option<usize> {
        let value = self.value(self.at);
        self.choices().iter().position(|choice| *choice == value)
    }

    /// Whether the author has typed or chosen anything.
    pub fn is_begun(&self) -> bool {
        !self.answered.is_empty() || (self.is_typed() && self.field.text() != self.standing())
    }

    /// Whether a book has the title that it needs.
    pub fn has_title(&self) -> bool {
        !self.value(0).trim().is_empty()
    }

    /// The name of a new folder for the book.
    pub fn folder(&self) -> String {
        folder_name(&self.value(0))
    }

    /// What was answered, and the new folder for the book, if it has one.
    pub(super) fn begun(&self) -> (Answers, Option<String>) {
        let folder = (self.place == BookPlace::NewFolder).then(|| self.folder());
        (self.answers.clone(), folder)
    }

    /// The answer of the row in hand among the others, before it is typed.
    fn standing(&self) -> String {
        match self.row() {
            FormRow::Asked(question) => question.standing(&self.answers),
            FormRow::Folder | FormRow::Begin => String::new(),
        }
    }

    /// Leaves the row in hand for another; the error is what is wrong with its answer, and then it stays in hand.
    pub(super) fn go_to(&mut self, number: usize) -> Result<(), String> {
        let number = number.min(self.rows.len().saturating_sub(1));
        // Whoever has not typed a title yet may look at the other rows.
        if !(self.at == 0 && self.field.text().trim().is_empty() && number != self.rows.len() - 1) {
            self.answer()?;
        }
        self.take_up(number);
        Ok(())
    }

    /// Puts the answer in hand among the others; the error is what is wrong with it.
    pub(super) fn answer(&mut self) -> Result<(), String> {
        match self.row() {
            FormRow::Asked(question) if self.is_typed() && self.field.text() != self.standing() => {
                let typed = self.field.text().to_owned();
                self.put(question, &typed)
            }
            FormRow::Asked(Question::Title) if !self.has_title() => self.put(Question::Title, ""),
            _ => Ok(()),
        }
    }

    /// Puts an answer among the others, and keeps what the author has answered before of the book's readers and trim.
    fn put(&mut self, question: Question, text: &str) -> Result<(), String> {
        let before = self.answers.clone();
        question.answer(&mut self.answers, text)?;
        for kept in [Question::Readers, Question::Trim] {
            if kept != question && self.answered.contains(&kept) {
                // What could be used before can be used now, or the usual answer takes its place.
                drop(kept.answer(&mut self.answers, &kept.standing(&before)));
            }
        }
        if !self.answered.contains(&question) {
            self.answered.push(question);
        }
        Ok(())
    }

    fn take_up(&mut self, number: usize) {
        self.at = number;
        self.field = Editor::new(if self.is_typed() { self.standing() } else { String::new() });
        // What is only usual is typed over; a title or a name is gone on with.
        let is_usual = matches!(self.row(), FormRow::Asked(Question::Readers | Question::Trim));
        let action = if is_usual { Action::SelectAll } else { Action::PlaceCursor(self.field.text().len()) };
        self.field.apply(action, &[]);
    }

    /// Takes the choice of a number.
    pub(super) fn choose(&mut self, number: usize) -> Result<(), String> {
        let choices = self.choices();
        let Some(choice) = choices.get(number) else { return Ok(()) };
        match self.row() {
            FormRow::Asked(question) => self.put(question, choice)?,
            FormRow::Folder => self.place = PLACES[number.min(1)],
            FormRow::Begin => {}
        }
        self.take_up(self.at);
        Ok(())
    }

    /// Takes the next choice, or the one before.
    pub(super) fn turn(&mut self, code: KeyCode) -> Result<(), String> {
        let count = self.choices().len().max(1);
        let next = match (self.chosen(), code) {
            (None, _) => 0,
            (Some(at), KeyCode::Left) => (at + count - 1) % count,
            (Some(at), _) => (at + 1) % count,
        };
        self.choose(next)
    }
}

impl FormRow {
    /// What the row is called.
    pub fn label(self) -> &'static str {
        match self {
            Self::Asked(Question::Title) => "Title",
            Self::Asked(Question::Author) => "Author",
            Self::Asked(Question::Kind) => "Kind of book",
            Self::Asked(Question::Readers) => "Readers' ages",
            Self::Asked(Question::Trim) => "Trim",
            Self::Asked(Question::Binding) => "Binding",
            Self::Asked(Question::Barcode) => "Barcode",
            Self::Asked(Question::Art) => "Behind the words",
            Self::Asked(Question::Back) => "How the back is made",
            Self::Asked(Question::Terms) => "Terms",
            Self::Asked(Question::Isbn) => "ISBN",
            Self::Folder => "Folder",
            Self::Begin => "Begin this book",
        }
    }

    /// What the row is about, in one line, by what stands in it.
    pub fn explained(self, value: &str) -> &'static str {
        match self {
            Self::Asked(Question::Title) => "As it stands on the front. A working title will do.",
            Self::Asked(Question::Author) => "Who wrote it, as on the front. It may be left for later.",
            Self::Asked(Question::Kind) => "What is usual for length, level, type and trim follows from it.",
            Self::Asked(Question::Readers) => "Such as 4-8 or 12+. They say what level is usual.",
            Self::Asked(Question::Trim) => {
                "The cut size, width x height. Choose one, or type yours, such as 200 x 250 mm."
            }
            Self::Asked(Question::Binding) => match value {
                "case" => "Stiff boards. The groove beside the spine is kept free of copy.",
                "jacket" => "A paper jacket round stiff boards, with or without copy on its flaps.",
                _ => "A paper cover, cut with the pages.",
            },
            Self::Asked(Question::Barcode) => match value {
                "none" => "No room is kept free for a barcode.",
                "with price" => "Room is kept for the barcode of the ISBN with the price beside it.",
                _ => "Room is kept for the barcode of the ISBN, at the foot beside the spine.",
            },
            Self::Asked(Question::Art) => match value {
                "own picture" => "A picture of its own over the whole back; it can be added when it is there.",
                "picture all round" => "The front's picture runs on round the spine; it can be added when it is there.",
                "small drawings" => "Small drawings on plain paper; they can be added when they are there.",
                _ => "Plain paper, or one colour.",
            },
            Self::Asked(Question::Back) => match value {
                "three places" => "The headline, the copy and a foot stand in a place each.",
                "flaps" => "The blurb stands on a jacket's front flap, the note on the author on its back flap.",
                _ => "All copy runs down the back in one column, round the barcode.",
            },
            Self::Asked(Question::Terms) => "Words that the copy should carry, with commas between them.",
            Self::Asked(Question::Isbn) => "Its thirteen digits.",
            Self::Folder => "Where the book's files go; a book has a folder of its own.",
            Self::Begin => "Everything can be changed later. Enter writes the book's files and opens the desk.",
        }
    }
}
