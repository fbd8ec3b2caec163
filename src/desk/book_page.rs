//! The page of the book and its brief: its rows are walked and changed, and what is changed is tried at once.

use std::path::PathBuf;
use std::sync::Arc;

use ratatui::crossterm::event::KeyCode;

use super::event::Effect;
use super::mode::{BookPage, ChosenFor, Mode, Prompt, RowChoice};
use super::state::State;
use crate::brief::Brief;
use crate::brief::queries::{LISTED, Rule};
use crate::brief::yaml::Node;
use crate::briefing::differing::in_order;
use crate::editor::motion::word_at;
use crate::setting::Faces;
use crate::trial::tried_brief::pictures_of;
use crate::units::nouns::counted;
use crate::values::change;
use crate::values::row::{Added, BriefRow};

/// What stands below the words that can be chosen where another may be typed.
const TYPED: &str = "another: type it";

impl State {
    /// The rows of the book and its brief, with what was changed and is tried.
    pub fn book_rows(&self) -> Vec<BriefRow> {
        crate::values::rows(self.brief(), &self.trial.tree())
    }

    /// The rows of the book and its brief as its file has them.
    pub fn file_rows(&self) -> Vec<BriefRow> {
        crate::values::rows(self.file_brief(), &self.file_brief().written.tree)
    }

    /// The row of the brief in hand, where its page is open or a line is typed for it.
    pub fn row_in_hand(&self) -> Option<usize> {
        match &self.mode {
            Mode::Book(page) => Some(page.at),
            Mode::Prompt(prompt, _) => prompt.row(),
            _ => None,
        }
    }

    /// Whether a change of the brief can be taken back.
    pub fn can_take_brief_back(&self) -> bool {
        self.trial.has_change()
    }

    /// A key on the page of the brief.
    pub(super) fn key_in_book(&mut self, page: BookPage, code: KeyCode) -> Vec<Effect> {
        if let Some(choice) = page.choosing {
            return self.key_in_choice(page.at, choice, code);
        }
        let rows = self.book_rows();
        let last = rows.len().saturating_sub(1);
        let at = page.at.min(last);
        self.stand_on_row(at);
        let Some(row) = rows.get(at) else { return Vec::new() };
        match code {
            KeyCode::Up | KeyCode::BackTab => self.stand_on_row(at.saturating_sub(1)),
            KeyCode::Down => self.stand_on_row((at + 1).min(last)),
            KeyCode::Home => self.stand_on_row(0),
            KeyCode::End => self.stand_on_row(last),
            KeyCode::PageDown | KeyCode::Tab => {
                self.stand_on_row((at..=last).find(|next| rows[*next].group != row.group).unwrap_or(last));
            }
            KeyCode::PageUp => self.stand_on_row(first_of_group(&rows, at)),
            KeyCode::Right => return self.step_row(row, 1),
            KeyCode::Left => return self.step_row(row, -1),
            KeyCode::Enter => self.open_row(at, row),
            KeyCode::Char('a') => self.add_to_group(at, row.adds),
            KeyCode::Char('x') | KeyCode::Delete => return self.take_row_away(row),
            KeyCode::Char('u') => return self.take_brief_back(),
            KeyCode::Char('w') => return self.write_brief(),
            KeyCode::Char('c') => return self.take_word(row.adds),
            KeyCode::Char('s') => return self.ask_for_story(""),
            KeyCode::F(10) => self.mode = Mode::Writing,
            _ => {}
        }
        Vec::new()
    }

    fn stand_on_row(&mut self, at: usize) {
        self.mode = Mode::Book(BookPage { at, choosing: None });
    }

    fn choose(&mut self, at: usize, heading: String, options: Vec<String>, in_hand: usize, for_what: ChosenFor) {
        self.mode = Mode::Book(BookPage { at, choosing: Some(RowChoice { heading, options, at: in_hand, for_what }) });
    }

    /// Opens the list of what a row may be, or a line to type its value in.
    fn open_row(&mut self, at: usize, row: &BriefRow) {
        let choices = row.choices();
        if choices.is_empty() {
            return match (row.is_typed(), row.adds) {
                (false, Some(_)) => self.add_to_group(at, row.adds),
                _ => self.ask(Prompt::Row(at), row.own.as_deref().unwrap_or_default()),
            };
        }
        let found = choices.iter().position(|word| word.eq_ignore_ascii_case(row.value()));
        let in_hand = found.unwrap_or(if row.is_typed() && row.own.is_some() { choices.len() } else { 0 });
        let typed = row.is_typed().then(|| TYPED.to_owned());
        let options = choices.into_iter().map(str::to_owned).chain(typed).collect();
        self.choose(at, row.name.clone(), options, in_hand, ChosenFor::Value);
    }

    /// Asks for what is new in a group, or what is to be added where the group has no list.
    fn add_to_group(&mut self, at: usize, adds: Option<Added>) {
        match adds {
            Some(Added::RuleOff) => {
                let rules = Rule::ALL.iter().map(|(name, _)| (*name).to_owned()).collect();
                self.choose(at, "Which rule is not asked?".to_owned(), rules, 0, ChosenFor::Rule(Added::RuleOff));
            }
            Some(Added::Phrases) => {
                let rules = LISTED.iter().map(|(name, _)| (*name).to_owned()).collect();
                self.choose(at, "Phrases for which rule?".to_owned(), rules, 0, ChosenFor::Rule(Added::Phrases));
            }
            Some(what) => self.ask(Prompt::Added(what, at), ""),
            None => {
                let all = Added::ALL.map(|what| what.name().to_owned()).to_vec();
                self.choose(at, "What is to be added?".to_owned(), all, 0, ChosenFor::Adding);
            }
        }
    }

    /// A key while something is chosen from a list.
    fn key_in_choice(&mut self, at: usize, choice: RowChoice, code: KeyCode) -> Vec<Effect> {
        let last = choice.options.len().saturating_sub(1);
        let in_hand = match code {
            KeyCode::Esc => {
                self.stand_on_row(at);
                return Vec::new();
            }
            KeyCode::Enter => return self.chosen(at, &choice),
            KeyCode::Up | KeyCode::BackTab => choice.at.saturating_sub(1),
            KeyCode::Down | KeyCode::Tab => (choice.at + 1).min(last),
            KeyCode::Home => 0,
            KeyCode::End => last,
            _ => choice.at,
        };
        self.mode = Mode::Book(BookPage { at, choosing: Some(RowChoice { at: in_hand, ..choice }) });
        Vec::new()
    }

    fn chosen(&mut self, at: usize, choice: &RowChoice) -> Vec<Effect> {
        self.stand_on_row(at);
        let (Some(row), Some(option)) = (self.book_rows().into_iter().nth(at), choice.options.get(choice.at)) else {
            return Vec::new();
        };
        match choice.for_what {
            ChosenFor::Value if row.is_typed() && choice.at + 1 == choice.options.len() => {
                self.ask(Prompt::Row(at), row.own.as_deref().unwrap_or_default());
                Vec::new()
            }
            ChosenFor::Value => self.change_row(&row, change::typed(&self.trial.tree(), &row, option)).1,
            ChosenFor::Adding => {
                self.add_to_group(at, Added::ALL.get(choice.at).copied());
                Vec::new()
            }
            ChosenFor::Rule(Added::Phrases) => {
                self.ask(Prompt::Phrases(choice.at, at), "");
                Vec::new()
            }
            ChosenFor::Rule(what) => self.add(what, option).1,
            ChosenFor::Story => {
                let word = self.story_left().get(choice.at).map(|(word, _)| word.clone());
                let effects = word.map_or_else(Vec::new, |word| self.add(Added::Term, &word).1);
                let said = self.said.take();
                if let Some(at) = self.row_in_hand() {
                    self.list_story(at, choice.at);
                }
                self.said = said.or(self.said.take());
                effects
            }
        }
    }

    /// Acts on the answer to a line that was opened from a row; what cannot be is asked again, as it was typed.
    pub(super) fn answered_in_book(&mut self, prompt: Prompt, answer: &str) -> Vec<Effect> {
        let at = prompt.row().unwrap_or(0);
        self.stand_on_row(at);
        let (is_refused, effects) = match prompt {
            Prompt::Story(_) if !answer.is_empty() => return self.ask_for_story(answer),
            Prompt::Row(_) => match self.book_rows().into_iter().nth(at) {
                Some(row) => self.change_row(&row, change::typed(&self.trial.tree(), &row, answer)),
                None => return Vec::new(),
            },
            _ if answer.is_empty() => return Vec::new(),
            Prompt::Added(what, _) => self.add(what, answer),
            Prompt::Phrases(rule, _) => {
                let rule = LISTED.get(rule).map_or("", |(name, _)| *name);
                self.add(Added::Phrases, &format!("{rule}: {answer}"))
            }
            _ => return Vec::new(),
        };
        // The line stays until the files that it names were read: they may not be there.
        let waits = effects.iter().any(|effect| matches!(effect, Effect::ReadNamed { .. }));
        if is_refused || waits {
            let said = self.said.take();
            self.ask(prompt, answer);
            self.said = said;
        }
        effects
    }

    fn step_row(&mut self, row: &BriefRow, by: isize) -> Vec<Effect> {
        match change::stepped(&self.trial.tree(), row, by) {
            Some(tree) => self.change_row(row, tree).1,
            None => Vec::new(),
        }
    }

    /// Changes a row's value, and stands on it, wherever it is now; also returns whether that was refused.
    fn change_row(&mut self, row: &BriefRow, tree: Result<Node, String>) -> (bool, Vec<Effect>) {
        let (is_refused, effects) = self.try_tree(tree, row.section());
        if let Some(at) = self.book_rows().iter().position(|found| found.is_same_value(row)) {
            self.stand_on_row(at);
        }
        (is_refused, effects)
    }

    /// Adds something new, and stands on it; also returns whether that was refused.
    fn add(&mut self, what: Added, text: &str) -> (bool, Vec<Effect>) {
        let (is_refused, effects) = self.try_tree(change::added(&self.trial.tree(), what, text), "");
        if !is_refused {
            let rows = self.book_rows();
            let is_new = |row: &BriefRow| row.adds == Some(what) && !row.is_part && row.own.is_some();
            if let Some(at) = rows.iter().rposition(is_new) {
                self.stand_on_row(at);
            }
            self.said = Some(match what {
                Added::Name => format!("\"{text}\" is a name of the book now."),
                Added::Term => format!("\"{text}\" is a term now."),
                Added::Avoided => format!("\"{text}\" is to be avoided now."),
                Added::RuleOff => format!("The rule \"{text}\" is not asked now."),
                Added::Phrases => "They are looked for now.".to_owned(),
            });
        }
        (is_refused, effects)
    }

    fn take_row_away(&mut self, row: &BriefRow) -> Vec<Effect> {
        let Some(own) = &row.own else {
            self.said = Some("The brief does not say this: what is usual is in force.".to_owned());
            return Vec::new();
        };
        let told = format!("{}: {own} is taken away; u brings it back.", row.name);
        let (is_refused, effects) = self.try_tree(Ok(change::taken_away(&self.trial.tree(), row)), row.section());
        if !is_refused {
            self.said = Some(told);
        }
        effects
    }

    /// Takes the word at the cursor, or what is selected, as a name, a term or a wording to avoid.
    fn take_word(&mut self, adds: Option<Added>) -> Vec<Effect> {
        let word = self.sheet().and_then(|sheet| {
            let (text, at) = (sheet.editor.text(), sheet.editor.cursor());
            let around = [at, at.saturating_sub(1)].map(|at| text.get(word_at(text, at)).unwrap_or_default());
            let is_word = |word: &&str| word.chars().any(char::is_alphanumeric);
            let selected = sheet.editor.selected().filter(is_word);
            let word = selected.or_else(|| around.into_iter().find(is_word))?;
            Some(word.split_whitespace().collect::<Vec<_>>().join(" "))
        });
        let Some(word) = word else {
            self.said = Some("The cursor stands on no word: select one in the draft first.".to_owned());
            return Vec::new();
        };
        let what = adds.filter(|what| matches!(what, Added::Name | Added::Avoided)).unwrap_or(Added::Term);
        self.add(what, &word).1
    }

    /// Lists the words of the story that are its own, or asks for the story to be read.
    fn ask_for_story(&mut self, typed: &str) -> Vec<Effect> {
        if typed.is_empty() && !self.story.is_empty() {
            if let Some(at) = self.row_in_hand() {
                self.list_story(at, 0);
            }
            return Vec::new();
        }
        let here = self.paper().map(|paper| paper.path.clone()).unwrap_or_default();
        vec![Effect::ReadStory { typed: typed.to_owned(), here, book: Box::new(self.brief().book.clone()) }]
    }

    /// Shows the words of a story that was read.
    pub(super) fn show_story(&mut self, words: Vec<(String, usize)>) {
        self.story = words;
        let at = self.row_in_hand().unwrap_or(0);
        self.list_story(at, 0);
    }

    /// The words of the story that are no terms yet.
    fn story_left(&self) -> Vec<(String, usize)> {
        let terms = &self.brief().terms.wanted;
        let is_term = |word: &str| terms.iter().any(|term| term.term.to_lowercase() == word.to_lowercase());
        self.story.iter().filter(|(word, _)| !is_term(word)).cloned().collect()
    }

    fn list_story(&mut self, at: usize, in_hand: usize) {
        let left = self.story_left();
        if left.is_empty() {
            self.stand_on_row(at);
            self.said = Some("The story has no word of its own that is not a term already.".to_owned());
            return;
        }
        let options: Vec<String> =
            left.iter().map(|(word, count)| format!("{word}, {}", counted(*count, "time"))).collect();
        let in_hand = in_hand.min(options.len() - 1);
        let heading = "The story's own words: which is a term?".to_owned();
        self.choose(at, heading, options, in_hand, ChosenFor::Story);
    }

    /// Goes by another tree of the brief; also returns whether it was refused, in the words of a brief that is read.
    fn try_tree(&mut self, tree: Result<Node, String>, section: &str) -> (bool, Vec<Effect>) {
        let own = in_order(&self.trial.tree());
        let read = tree.and_then(|tree| {
            let read = self.file_brief().written.read_as(tree);
            read.map_err(|fault| match fault.key.split(['.', '[']).next() {
                Some(other) if !section.is_empty() && other != section => format!("{}: {}", fault.key, fault.problem),
                _ => fault.problem,
            })
        });
        match read {
            Err(problem) => {
                self.said = Some(format!("This cannot be: {problem}."));
                (true, Vec::new())
            }
            Ok(brief) if in_order(&brief.written.tree) == own => (false, Vec::new()),
            Ok(brief) if brief.names_more_files(self.brief()) => {
                (false, vec![Effect::ReadNamed { brief: Box::new(brief) }])
            }
            Ok(brief) => (false, self.go_by(brief, None)),
        }
    }

    /// Goes by a changed brief whose files were read, and stands on the row that was changed.
    pub(super) fn named_read(&mut self, brief: Brief, faces: Faces) -> Vec<Effect> {
        if let Some(at) = self.row_in_hand() {
            self.stand_on_row(at);
        }
        self.go_by(brief, Some(faces))
    }

    /// Goes by a changed brief, with its fonts where others were read for it, and asks for art that is not known.
    fn go_by(&mut self, brief: Brief, faces: Option<Faces>) -> Vec<Effect> {
        self.trial.change(brief);
        let has_fonts = faces.is_some();
        if let Some(mut faces) = faces {
            // Those of the brief's file stay: copies are kept by them, and what was changed may be taken back.
            faces.join(Faces::clone(&self.faces));
            self.faces = Arc::new(faces);
        }
        self.measure_by_brief(has_fonts)
    }

    fn take_brief_back(&mut self) -> Vec<Effect> {
        if !self.trial.take_change_back() {
            self.said = Some("Nothing is left to take back here.".to_owned());
            return Vec::new();
        }
        let last = self.book_rows().len().saturating_sub(1);
        self.stand_on_row(self.row_in_hand().unwrap_or(0).min(last));
        self.measure_by_brief(true)
    }

    fn measure_by_brief(&mut self, has_fonts: bool) -> Vec<Effect> {
        self.held = None;
        if has_fonts {
            self.forget_fonts();
        } else {
            self.forget_measures();
        }
        let is_asked = |file: &PathBuf| self.art.waiting.contains(file) || self.art.is_unread(file);
        let wants_art = pictures_of(self.brief()).any(|picture| picture.read.is_none() && !is_asked(&picture.file));
        if wants_art { self.ask_for_art() } else { Vec::new() }
    }

    /// Selects a row; a double click, or a click on the row already selected, changes it.
    pub(super) fn click_row(&mut self, number: usize, presses: u8) -> Vec<Effect> {
        let was_in_hand = self.row_in_hand() == Some(number);
        self.stand_on_row(number);
        if presses > 1 || was_in_hand { self.key(KeyCode::Enter.into()) } else { Vec::new() }
    }

    /// Takes what was clicked in a list of what can be chosen.
    pub(super) fn click_choice(&mut self, number: usize) -> Vec<Effect> {
        if let Mode::Book(BookPage { choosing: Some(choice), .. }) = &mut self.mode {
            choice.at = number;
            return self.key(KeyCode::Enter.into());
        }
        Vec::new()
    }
}

/// The first row of the group that a row is in, or of the group before, where it is that already.
fn first_of_group(rows: &[BriefRow], at: usize) -> usize {
    let from = at.saturating_sub(1);
    (0..=from).rev().take_while(|before| rows[*before].group == rows[from].group).last().unwrap_or(0)
}
