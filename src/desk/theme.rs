//! The desk's looks: one accent, fainter and stronger type, and the signs that rules, edges and scales are drawn with.
//!
//! The ground and the plain ink are the terminal's own, so that light and dark both work. What a colour says is said by
//! a word or a shape too: with no colours at all nothing is lost.

use ratatui::style::{Color, Modifier, Style};

/// Whether the terminal may be sent colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colours {
    /// The sixteen that every terminal has.
    Sixteen,
    /// None; bold, underline and reverse are left.
    None,
}

/// Whether the terminal shows more than ASCII.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Letters {
    /// Rules, dots and marks from Unicode.
    Unicode,
    /// Letters and signs of ASCII alone.
    Ascii,
}

/// The styles and signs of one terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// What is over, missing, or under the cursor's care.
    pub accent: Style,
    /// What stands back: rules, markup, limits.
    pub faint: Style,
    /// What stands out: names, values.
    pub strong: Style,
    /// What is chosen in a list or selected in the text.
    pub chosen: Style,
    /// The signs.
    pub signs: Signs,
    /// Which letters the terminal shows.
    pub letters: Letters,
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
    /// The end of a line of the file inside a paragraph, where a blank is printed.
    pub line_end: &'static str,
    /// A row that goes on with the printed line above it.
    pub goes_on: &'static str,
    /// Between things on one line.
    pub point: &'static str,
    /// A scale outside its limit, and inside it.
    pub scale: [&'static str; 2],
    /// The ends of a limit on a scale.
    pub ends: [&'static str; 2],
    /// Where the value stands on a scale, and the band round it.
    pub value: &'static str,
    /// The band round a value.
    pub band: &'static str,
    /// A term that is there, and one that is not.
    pub terms: [&'static str; 2],
    /// Full and empty room.
    pub room: [&'static str; 2],
    /// What is pointed at.
    pub pointer: &'static str,
    /// The dash between two numbers.
    pub dash: &'static str,
    /// Less, before a number.
    pub minus: &'static str,
    /// Round a query in the text.
    pub brackets: [&'static str; 2],
    /// Corners of the panel from the head left one clockwise, then its lines across and down.
    pub panel: [&'static str; 6],
    /// Corners and lines of what is inside the panel, in the order of those of the panel.
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
    brackets: ["<", ">"],
    panel: ["+", "+", "+", "+", "-", "|"],
    inside: [".", ".", "'", "'", "-", ":"],
};

impl Theme {
    /// The looks for a terminal.
    pub fn new(colours: Colours, letters: Letters) -> Self {
        // What stands out is never faint as well, whatever it is drawn over.
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
                Letters::Ascii => ASCII,
            },
            letters,
        }
    }
}
