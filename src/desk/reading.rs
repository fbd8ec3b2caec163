//! The pages of text: the list of keys, a measure in detail, and how recovered words differ from the draft.
//!
//! A page is laid out when it is opened and again when the draft or the screen changes; scrolling only moves along the
//! lines.

use super::hints::PAGES;
use super::keys::{KEYS, WRITING};
use super::mode::{DetailsPage, LaidFor, Mode};
use super::sheet::DraftSheet;
use super::state::State;
use crate::editor::difference::{InVersion, difference};
use crate::editor::wrap::wrap;
use crate::level::lists::Lists;
use crate::print::compare::in_braces;
use crate::print::visible::visible;
use crate::print::{level, sizes, text};
use crate::report::levels::Levels;
use crate::report::sizes::Sizes;

/// The columns for a key's name in the list of keys.
const KEY: usize = 32;

impl State {
    /// Lays out the mode's page again where the draft or the screen has changed, and limits the scrolling so that the
    /// last line does not rise above the foot of the page.
    pub(super) fn lay_page_out(&mut self) {
        let area = self.areas().copy;
        let columns = usize::from(area.width).saturating_sub(2).clamp(20, 96);
        let mut mode = std::mem::take(&mut self.mode);
        if let Some(sheet) = self.sheet() {
            let wanted = LaidFor { draft: self.front, assessment: sheet.assessment(), columns };
            let laid =
                mode.page().filter(|page| page.laid_for != Some(wanted)).map(|_| self.lines(&mode, sheet, columns));
            if let Some(page) = mode.page_mut() {
                if let Some(lines) = laid {
                    (page.lines, page.laid_for) = (lines, Some(wanted));
                }
                page.from = page.from.min(page.lines.len().saturating_sub(usize::from(area.height)));
            }
        }
        self.mode = mode;
    }

    /// The lines of a mode's page, each of at most `columns` columns.
    fn lines(&self, mode: &Mode, sheet: &DraftSheet, columns: usize) -> Vec<String> {
        match mode {
            Mode::Keys(_) => keys(columns),
            Mode::Details(page, _) => self.details(*page, sheet, columns),
            Mode::Recovered(words, _) => differences(sheet.editor.text(), words, self.theme.signs.line_end, columns),
            _ => Vec::new(),
        }
    }

    /// The full report on one measure.
    fn details(&self, page: DetailsPage, sheet: &DraftSheet, columns: usize) -> Vec<String> {
        let (now, brief, name) = (&sheet.now, self.brief(), self.name());
        let whole = match page {
            DetailsPage::Length => text::length(&now.report, columns),
            DetailsPage::Level => {
                let levels = Levels::of(&now.draft, &brief.book, Lists::Carried);
                level::written(&levels, &name, sheet.editor.text(), false, columns)
            }
            DetailsPage::Terms => text::terms(&now.report, columns),
            DetailsPage::Fit => sizes::written(&Sizes::of(&now.draft, brief, &self.faces), &name, columns),
        };
        whole.lines().map(str::to_owned).collect()
    }
}

/// The list of keys; a row that is too long continues on the next row, indented past the key's name.
fn keys(columns: usize) -> Vec<String> {
    let row = |keys: &str, says: &str| {
        let (first, behind) = (format!("{keys:KEY$}"), " ".repeat(KEY));
        let options = textwrap::Options::new(columns).initial_indent(&first).subsequent_indent(&behind);
        textwrap::wrap(says, options).into_iter().map(std::borrow::Cow::into_owned).collect::<Vec<_>>()
    };
    let commands = KEYS.iter().flat_map(|key| row(&format!("{}, or Esc {}", key.shown, key.letter), key.says));
    let writing = WRITING.iter().flat_map(|(keys, says)| row(keys, says));
    let pages = PAGES.iter().flat_map(|(page, hints)| {
        let keys = hints.iter().flat_map(|hint| row(&format!("  {}", hint.shown), hint.does));
        [String::new(), (*page).to_owned()].into_iter().chain(keys).collect::<Vec<_>>()
    });
    commands.chain([String::new()]).chain(writing).chain(pages).collect()
}

/// Where the draft and the recovered words differ: the lines of both in one, without the lines that are equal. What
/// differs stands in braces, as in every comparison.
fn differences(here: &str, recovered: &str, line_end: &str, columns: usize) -> Vec<String> {
    // Pieces are gathered until a line ends, and the line is kept only if some piece of it differs: whole lines of
    // equal text leave nothing behind.
    let (mut lines, mut line, mut differs) = (Vec::new(), String::new(), false);
    let mut end = |line: &mut String, differs: &mut bool| {
        if std::mem::take(differs) {
            lines.push(visible(line).into_owned());
        }
        line.clear();
    };
    let parts = difference(here, recovered);
    let mut parts = parts.iter().peekable();
    while let Some(part) = parts.next() {
        if part.standing == InVersion::Both {
            for piece in part.words.split_inclusive('\n') {
                line.push_str(piece.trim_end_matches('\n'));
                if piece.ends_with('\n') {
                    end(&mut line, &mut differs);
                }
            }
            continue;
        }
        // Removed words come just before the words that replace them, if there are any. Both share one pair of braces,
        // with line endings in them shown as signs, so that the pair stays in one line.
        let (gone, new) = match part.standing {
            InVersion::NewOnly => ("", part.words),
            _ => (part.words, parts.next_if(|next| next.standing == InVersion::NewOnly).map_or("", |next| next.words)),
        };
        line.push_str(&in_braces("", &gone.replace('\n', line_end), &new.replace('\n', line_end), ""));
        differs = true;
    }
    // The last line may lack a line ending.
    end(&mut line, &mut differs);
    let says = "In braces stands what only the draft here has, and behind > what only the kept words have.".to_owned();
    let all = [says, String::new()].into_iter().chain(lines);
    let wrapped = |line: String| wrap(&line, columns).into_iter().map(|row| line[row].trim_end().to_owned()).collect();
    all.flat_map(|line: String| -> Vec<String> { wrapped(line) }).collect()
}
