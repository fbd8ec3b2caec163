//! The desk's look: one accent, faint and strong type, and the signs that draw rules, edges and scales.
//!
//! Background and plain text keep the terminal's own colours, so that light and dark terminals both work. Whatever a
//! colour says is also said by a word or a shape, so nothing is lost without colours.

use ratatui::style::{Color, Modifier, Style};

use super::blocks::ColourDepth;

/// Whether the terminal may be sent colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colours {
    /// The sixteen colours that every terminal has.
    Sixteen,
    /// No colours; bold, underline and reverse remain.
    None,
}

/// Which signs the terminal shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Letters {
    /// Rules, dots and marks from Unicode.
    Unicode,
    /// Signs of Unicode that the fonts of Windows' console have; ASCII in the place of the others.
    Console,
    /// Letters and signs of ASCII alone.
    Ascii,
}

/// Which keys the keyboard sends to the terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keyboard {
    /// Every key.
    Whole,
    /// No function keys, and no other key with Alt: such as that of a Mac without its key fn.
    Short,
}

/// The styles and signs of one terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// For what is over a limit, missing or at fault, and for nothing else.
    pub accent: Style,
    /// For what stands back: rules, markup, limits.
    pub faint: Style,
    /// For what stands out: names, values.
    pub strong: Style,
    /// For what is selected in a list or in the text.
    pub chosen: Style,
    /// The signs.
    pub signs: Signs,
    /// Which letters the terminal shows.
    pub letters: Letters,
    /// In how many colours art is drawn; none where it is not.
    pub art: Option<ColourDepth>,
    /// Which keys can be named.
    pub keyboard: Keyboard,
}

/// What lines and marks are drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Signs {
    /// A hairline across.
    pub rule: &'static str,
    /// The heavy rule at the panel's foot.
    pub foot: &'static str,
    /// The end of a line's measure.
    pub edge: &'static str,
    /// A line ending of the file inside a paragraph, which is printed as a blank.
    pub line_end: &'static str,
    /// A row that continues the printed line above it.
    pub goes_on: &'static str,
    /// The separator between items on one line.
    pub point: &'static str,
    /// A scale outside the limit, and inside it.
    pub scale: [&'static str; 2],
    /// The ends of a limit on a scale.
    pub ends: [&'static str; 2],
    /// The position of the value on a scale.
    pub value: &'static str,
    /// The band round a value.
    pub band: &'static str,
    /// A term that the copy carries, and one that it lacks.
    pub terms: [&'static str; 2],
    /// A line that is used, and one that is free.
    pub room: [&'static str; 2],
    /// The pointer at the selected item.
    pub pointer: &'static str,
    /// The dash between two numbers.
    pub dash: &'static str,
    /// The minus sign before a number.
    pub minus: &'static str,
    /// What is hard to be read on its art, and what is lost.
    pub grades: [&'static str; 2],
    /// The brackets round a query in the text.
    pub brackets: [&'static str; 2],
    /// The panel's corners clockwise from the upper left, then its horizontal and vertical lines.
    pub panel: [&'static str; 6],
    /// The corners and lines of what is inside the panel, in the order of `panel`.
    pub inside: [&'static str; 6],
}

const UNICODE: Signs = Signs {
    rule: "─",
    foot: "━",
    edge: "▏",
    line_end: "↵",
    goes_on: "⋯",
    point: "·",
    scale: ["┄", "─"],
    ends: ["├", "┤"],
    value: "●",
    band: "═",
    terms: ["●", "○"],
    room: ["▬", "┄"],
    pointer: "▸",
    dash: "–",
    minus: "−",
    grades: ["~", "×"],
    brackets: ["⟨", "⟩"],
    panel: ["┌", "┐", "┘", "└", "─", "│"],
    inside: ["╭", "╮", "╯", "╰", "╌", "╎"],
};

const ASCII: Signs = Signs {
    rule: "-",
    foot: "=",
    edge: "|",
    line_end: "/",
    goes_on: "~",
    point: "-",
    scale: [".", "-"],
    ends: ["[", "]"],
    value: "#",
    band: "=",
    terms: ["#", "o"],
    room: ["=", "."],
    pointer: ">",
    dash: "-",
    minus: "-",
    grades: ["~", "x"],
    brackets: ["<", ">"],
    panel: ["+", "+", "+", "+", "-", "|"],
    inside: [".", ".", "'", "'", "-", ":"],
};

/// Source: Windows Glyph List 4 (OpenType specification), which every font of Windows' console holds.
const CONSOLE: Signs = Signs {
    foot: ASCII.foot,
    edge: ASCII.edge,
    line_end: ASCII.line_end,
    goes_on: ASCII.goes_on,
    scale: [ASCII.scale[0], UNICODE.scale[1]],
    room: [UNICODE.room[0], ASCII.room[1]],
    pointer: ASCII.pointer,
    brackets: ASCII.brackets,
    inside: ASCII.inside,
    ..UNICODE
};

impl Theme {
    /// The theme for a terminal.
    pub fn new(colours: Colours, letters: Letters) -> Self {
        // What stands out removes the faint style, so that it is never faint even over faint text.
        let plain = Style::new();
        let clear = plain.remove_modifier(Modifier::DIM);
        let accent = match colours {
            Colours::Sixteen => clear.fg(Color::Red).add_modifier(Modifier::BOLD),
            Colours::None => clear.add_modifier(Modifier::BOLD),
        };
        Self {
            accent,
            faint: plain.add_modifier(Modifier::DIM),
            strong: clear.add_modifier(Modifier::BOLD),
            chosen: plain.add_modifier(Modifier::REVERSED),
            signs: match letters {
                Letters::Unicode => UNICODE,
                Letters::Console => CONSOLE,
                Letters::Ascii => ASCII,
            },
            letters,
            art: Some(match colours {
                Colours::Sixteen => ColourDepth::Sixteen,
                Colours::None => ColourDepth::None,
            }),
            keyboard: Keyboard::Whole,
        }
    }

    /// The theme for a keyboard.
    pub fn with_keyboard(self, keyboard: Keyboard) -> Self {
        Self { keyboard, ..self }
    }

    /// The theme with art drawn in so many colours, or not at all; without colours, art has none either.
    pub fn with_art(self, depth: Option<ColourDepth>) -> Self {
        let has_colours = self.art.is_some_and(|depth| depth != ColourDepth::None);
        Self { art: depth.map(|depth| if has_colours { depth } else { ColourDepth::None }), ..self }
    }
}
