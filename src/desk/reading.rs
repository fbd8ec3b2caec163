//! The pages of text: the list of keys and what is found in it, a measure in detail, the panel's figures, and how
//! recovered words differ from the draft.
//!
//! A page is laid out when it is opened and again when the draft or the screen changes; scrolling only moves along the
//! lines.

use super::hints::{PAGES, ways_to};
use super::keys::{KEYS, WANTED, WRITING, Way};
use super::mode::{DetailsPage, KeysPage, LaidFor, LeftUnsaved, Mode, ReadPage};
use super::sheet::DraftSheet;
use super::state::State;
use super::theme::Theme;
use crate::brief::panel_values::{CoverPart, PanelValue};
use crate::brief::place::CoverFace;
use crate::editor::difference::{InVersion, difference};
use crate::editor::wrap::wrap;
use crate::level::lists::Lists;
use crate::print::compare::in_braces;
use crate::print::visible::visible;
use crate::print::words::joined;
use crate::print::{level, sizes, text};
use crate::report::drawing::FramePart;
use crate::report::levels::Levels;
use crate::report::panel::{PanelFigures, PartFigures};
use crate::report::sizes::Sizes;
use crate::units::Length;

/// The columns for a key's name in the list of keys, and for the name of a part of the panel.
const KEY: usize = 32;
const FIGURE: usize = 24;
/// From this many columns on, the names of the parts of the panel have a column of their own.
const ROOMY: usize = 60;

impl State {
    /// Lays out the mode's page again where the draft or the screen has changed, and limits the scrolling so that the
    /// last line does not rise above the foot of the page.
    pub(super) fn lay_page_out(&mut self) {
        let area = self.areas().page(&self.mode);
        let columns = usize::from(area.width).saturating_sub(2).clamp(20, 96);
        let mut mode = std::mem::take(&mut self.mode);
        if let Some(sheet) = self.sheet() {
            let wanted = LaidFor { draft: self.front, assessment: sheet.assessment(), columns };
            let is_new = |page: &&ReadPage| page.laid_for != Some(wanted);
            let laid = mode.page().filter(is_new).map(|_| self.lines(&mode, sheet, columns));
            if let (Some((_, ways)), Mode::Keys(keys)) = (&laid, &mut mode) {
                keys.ways.clone_from(ways);
            }
            if let Some(page) = mode.page_mut() {
                if let Some((lines, _)) = laid {
                    (page.lines, page.laid_for) = (lines, Some(wanted));
                }
                page.rows = usize::from(area.height);
                page.from = page.from.min(page.lines.len().saturating_sub(page.rows));
            }
        }
        self.mode = mode;
    }

    /// The lines of a mode's page, each of at most `columns` columns, and for each line of the list of keys what it
    /// tells to do.
    fn lines(&self, mode: &Mode, sheet: &DraftSheet, columns: usize) -> (Vec<String>, Vec<Option<Way>>) {
        let lines = match mode {
            Mode::Keys(keys) => return listed(keys, &self.theme, columns).into_iter().unzip(),
            Mode::Panel(_) => self.figures(columns),
            Mode::Details(page, _) => self.details(*page, sheet, columns),
            Mode::Recovered(left, _) => {
                let (here, kept, says) = match left {
                    LeftUnsaved::Words(kept) => (
                        sheet.editor.text(),
                        kept,
                        "In braces stands what only the draft here has, and behind > what only the kept words have.",
                    ),
                    LeftUnsaved::Brief { here, kept } => (
                        here.as_str(),
                        kept,
                        "In braces stands what only the brief here has, and behind > what only the kept changes have.",
                    ),
                };
                differences((here, kept), says, self.theme.signs.line_end, columns)
            }
            _ => Vec::new(),
        };
        (lines, Vec::new())
    }

    /// The figures of the panel and the flaps as they are tried, in the unit that the brief is written in, with what
    /// each part is.
    fn figures(&self, columns: usize) -> Vec<String> {
        let panel = self.panel_tried();
        // Where there is no room for a column of names, what is told of a part follows its name.
        let column = if columns < ROOMY { 0 } else { FIGURE };
        let tell = |lines: &mut Vec<String>, name: &str, told: &str| {
            let gap = if column == 0 && !name.is_empty() { " " } else { "" };
            let (first, behind) = (format!("{name:column$}{gap}"), " ".repeat(column.max(2)));
            let first = if first.is_empty() { behind.clone() } else { first };
            let options = textwrap::Options::new(columns).initial_indent(&first).subsequent_indent(&behind);
            lines.extend(textwrap::wrap(told, options).into_iter().map(std::borrow::Cow::into_owned));
        };
        let mut lines = Vec::new();
        for face in PanelFigures::of(self.brief(), None).faces {
            lines.push(format!("The {}, seen from outside", face.face.name()));
            for part in face.parts.iter().filter(|part| part.part != FramePart::Quiet) {
                let (x, y) = (panel.length_told(part.rect.x), panel.length_told(part.rect.y));
                let from = match part.part {
                    FramePart::Bleed | FramePart::Face => String::new(),
                    _ => format!(", {x} from the left edge, {y} from the head"),
                };
                tell(&mut lines, &visible(&part.name), &format!("{}{from}", panel.size_told(&part.rect)));
                for told in self.told_of(part) {
                    tell(&mut lines, "", &told);
                }
            }
        }
        let of_margins = |value: &PanelValue| value.of.is_none() && value.name.starts_with("margin at");
        for value in panel.with_part(CoverPart::Face(CoverFace::Panel)).values().into_iter().filter(of_margins) {
            tell(&mut lines, &visible(&value.name), &visible(&value.value));
        }
        tell(&mut lines, "", "The printer's own figures come first.");
        lines
    }

    /// What a part of a face is for, and what it holds.
    fn told_of(&self, part: &PartFigures) -> Vec<String> {
        let is = match part.part {
            FramePart::LiveArea => Some("the panel less its margins: where copy may stand"),
            FramePart::KeepOut => Some("a keep-out: no copy may stand in it"),
            FramePart::Bleed => Some("as far as the art is printed, past the cut"),
            FramePart::Place => Some("a place: a box of its own for some of the copy"),
            _ => None,
        };
        let clear = part.clearance.filter(|clear| *clear > Length::ZERO);
        let clear = clear.map(|clear| format!("{} stay clear round it", self.panel_tried().length_told(clear)));
        let holds = (!part.holds.is_empty()).then(|| format!("holds {}", joined(part.holds.clone())));
        is.map(str::to_owned).into_iter().chain(clear).chain(holds).collect()
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

/// The list of keys in groups by what one wants, or what was found of them, each line with what it tells to do.
fn listed(keys: &KeysPage, theme: &Theme, columns: usize) -> Vec<(String, Option<Way>)> {
    let (pointer, keyboard) = (theme.signs.pointer, theme.keyboard);
    let plain = |words: &str| vec![(words.to_owned(), None)];
    let ask = format!("What do you want? {}_", visible(&keys.sought));
    if !keys.sought.trim().is_empty() {
        let found = ways_to(&keys.sought, keyboard);
        let none = "Nothing here goes by that word. Try another, such as \"smaller\", \"quote\" or \"print\".";
        let told = match found.len() {
            0 => none,
            1 => "Enter does it.",
            _ => "Enter does the one that is marked; Down and Up mark another.",
        };
        let rows = found.into_iter().enumerate().flat_map(|(number, way)| {
            let sign = if number == keys.at { pointer } else { " " };
            row(&format!("{sign} {}", way.shown), &way.does.clone(), Some(way), columns)
        });
        let told = textwrap::wrap(told, columns).into_iter().flat_map(|line| plain(&line));
        let above = [plain(&ask), plain("")].concat().into_iter().chain(told).chain(plain(""));
        return above.chain(rows).collect();
    }
    let begins =
        "Type a word of it, such as \"smaller\" or \"quote\", or choose from the list. A click on a line does it.";
    let head = textwrap::wrap(begins, columns).into_iter().flat_map(|line| plain(&line));
    let grouped = |command| WANTED.iter().any(|(_, commands)| commands.contains(&command));
    let rest: Vec<_> = KEYS.iter().map(|key| key.command).filter(|command| !grouped(*command)).collect();
    let groups = WANTED.iter().map(|(name, commands)| (*name, commands.to_vec()));
    let groups = groups.chain([("And", rest)]).filter(|(_, commands)| !commands.is_empty());
    let commands = groups.flat_map(|(name, commands)| {
        let rows = commands
            .into_iter()
            .map(|command| Way::to(command, keyboard))
            .flat_map(|way| row(&format!("  {}", way.shown), &way.does.clone(), Some(way), columns));
        [plain(""), plain(name)].concat().into_iter().chain(rows).collect::<Vec<_>>()
    });
    let writing = WRITING.iter().flat_map(|(keys, says)| row(&format!("  {keys}"), says, None, columns));
    let pages = PAGES.iter().flat_map(|page| {
        let keys = page
            .hints
            .iter()
            .flat_map(|hint| row(&format!("    {}", hint.shown), hint.does, page.way_through(hint, keyboard), columns));
        [plain(""), plain(&page.heading(keyboard))].concat().into_iter().chain(keys).collect::<Vec<_>>()
    });
    let moving = [plain(""), plain("To move, and to take words out")].concat();
    plain(&ask).into_iter().chain(head).chain(commands).chain(moving).chain(writing).chain(pages).collect()
}

/// A row of the list of keys; one that is too long continues on the next row, indented past the key's name.
fn row(keys: &str, says: &str, way: Option<Way>, columns: usize) -> Vec<(String, Option<Way>)> {
    let (first, behind) = (format!("{keys:KEY$} "), " ".repeat(KEY + 1));
    let options = textwrap::Options::new(columns).initial_indent(&first).subsequent_indent(&behind);
    let rows = textwrap::wrap(says, options).into_iter();
    rows.map(|line| (line.into_owned(), way.clone())).collect()
}

/// Where a text and what was recovered of it differ: the lines of both in one, without the lines that are equal. What
/// differs stands in braces, as in every comparison; `says` tells whose it is.
fn differences((here, recovered): (&str, &str), says: &str, line_end: &str, columns: usize) -> Vec<String> {
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
    let all = [says.to_owned(), String::new()].into_iter().chain(lines);
    let wrapped = |line: String| wrap(&line, columns).into_iter().map(|row| line[row].trim_end().to_owned()).collect();
    all.flat_map(|line: String| -> Vec<String> { wrapped(line) }).collect()
}
