//! What the lines of a setting look like: runts, an uneven edge, lines that jump over a keep-out, lines that are short
//! or long to read.
//!
//! Source: Bringhurst, The Elements of Typographic Style, 2.1.2 (45 to 75 characters are a satisfactory line) and 2.4.3
//! (a last line of four letters at least), both from memory; the shares of the measure are common practice.

use std::ops::Range;

use super::lines::{SetLine, Setting};
use crate::brief::Typography;
use crate::brief::typography::Align;
use crate::draft::{BlockKind, Draft};
use crate::units::Length;

/// The fewest letters of a last word that is no runt, provided that its line is also long enough.
const SHORTEST_LAST_WORD: usize = 5;
/// A last line of one word is no runt from this share of its measure on, in percent.
const SHORTEST_LAST_LINE: usize = 15;
/// From this share of its shorter neighbour on, in percent, a line is part of an even edge.
const EVEN: usize = 70;
/// The characters of a line that is easy to read, blanks included.
const EASY: std::ops::RangeInclusive<usize> = 45..=75;

/// A paragraph's last line that is one short word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Runt {
    /// The line, counted from the first of the setting.
    pub line: usize,
    /// The letters of the line.
    pub letters: usize,
    /// How much of its measure it takes, in percent.
    pub percent: usize,
}

/// A place where the edge of unjustified lines is uneven.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Uneven {
    /// The line ends with the same word as the line before it.
    EndsAlike {
        /// The line, counted from the first of the setting.
        line: usize,
        /// The line's last word, in bytes of the block's text.
        word: Range<usize>,
    },
    /// The line is much shorter than both its neighbours; in a shape, each by the share of its measure that it fills.
    Short {
        /// The line, counted from the first of the setting.
        line: usize,
        /// How much of the shorter neighbour it has, in percent.
        percent: usize,
        /// How much of its measure it takes, in percent, where the lines beside it have other measures.
        of_measure: Option<usize>,
    },
}

/// How many lines of the blurb are hard to read for their length in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LineLengths {
    /// Full lines, those that do not end a paragraph, of fewer than 45 characters.
    pub under: usize,
    /// Lines of more than 75 characters.
    pub over: usize,
    /// Lines of the blurb in all.
    pub lines: usize,
}

/// The runts of a setting. A last line that the author has forced is none.
pub fn runts(setting: &Setting, draft: &Draft, typography: &Typography) -> Vec<Runt> {
    let is_runt = |at: usize| {
        let line = &setting.lines[at];
        let block = &draft.blocks[line.paragraph];
        let text = &block.text()[line.text.clone()];
        let is_kind = !matches!(block.kind, BlockKind::Credit | BlockKind::OtherTitles | BlockKind::PriceLine);
        let follows = at > 0 && flows(setting, draft, at - 1);
        if !is_kind || !follows || !ends_paragraph(setting, at) || text.contains(char::is_whitespace) {
            return None;
        }
        let letters = text.chars().filter(|c| c.is_alphanumeric()).count();
        let percent = percent(line.width, line.measure);
        let is_short = letters < SHORTEST_LAST_WORD
            || percent < SHORTEST_LAST_LINE
            || line.width < typography.of(block.kind).indent;
        is_short.then_some(Runt { line: at, letters, percent })
    };
    (0..setting.lines.len()).filter_map(is_runt).collect()
}

/// Where the edge of unjustified lines is uneven. Lines that the author has forced are as they were meant to be, and
/// beside a keep-out the edge follows it.
pub fn rag(setting: &Setting, draft: &Draft) -> Vec<Uneven> {
    let mut found = Vec::new();
    for at in 1..setting.lines.len() {
        if setting.lines[at].align == Align::Justified || !flows(setting, draft, at - 1) {
            continue;
        }
        if let Some(word) = ends_alike(setting, draft, at) {
            found.push(Uneven::EndsAlike { line: at, word });
        }
        found.extend(short(setting, draft, at));
    }
    found
}

/// The lines that stand on another side of a keep-out than the line before them in their paragraph, so that the eye has
/// to look for them. Copy without places runs down one live area; there this is looked for round shapes alone.
pub fn jumps(setting: &Setting) -> Vec<usize> {
    let is_jump = |at: &usize| {
        let [above, line] = [&setting.lines[at - 1], &setting.lines[*at]];
        let Some(room) = setting.places.get(line.place).map(|place| &place.room) else { return false };
        let is_asked = setting.places.len() > 1 || room.is_shaped();
        let is_column = above.place == line.place && room.left_of(above.slot_x) == room.left_of(line.slot_x);
        let is_left = |one: &SetLine, other: &SetLine| (one.slot_x + one.measure).fits(other.slot_x);
        let is_within = !above.over && !line.over;
        let is_apart = is_left(above, line) || is_left(line, above);
        is_asked && above.paragraph == line.paragraph && is_column && is_within && is_apart
    };
    (1..setting.lines.len()).filter(is_jump).collect()
}

/// The lengths of the blurb's lines.
pub fn line_lengths(setting: &Setting, draft: &Draft) -> LineLengths {
    let mut lengths = LineLengths::default();
    for (at, line) in setting.lines.iter().enumerate() {
        let block = &draft.blocks[line.paragraph];
        if block.kind != BlockKind::Blurb {
            continue;
        }
        let characters = block.text()[line.text.clone()].chars().count();
        lengths.lines += 1;
        lengths.over += usize::from(characters > *EASY.end());
        lengths.under += usize::from(characters < *EASY.start() && flows(setting, draft, at));
    }
    lengths
}

/// Whether the text of a line goes on in the next for want of room alone.
fn flows(setting: &Setting, draft: &Draft, at: usize) -> bool {
    let (line, next) = (&setting.lines[at], setting.lines.get(at + 1));
    next.is_some_and(|next| {
        let gap = draft.blocks[line.paragraph].text().get(line.text.end..next.text.start);
        line.paragraph == next.paragraph && gap.is_some_and(|gap| !gap.contains('\n'))
    })
}

fn ends_paragraph(setting: &Setting, at: usize) -> bool {
    setting.lines.get(at + 1).is_none_or(|next| next.paragraph != setting.lines[at].paragraph)
}

/// The last word of a line, where the line before ends with the same word.
fn ends_alike(setting: &Setting, draft: &Draft, at: usize) -> Option<Range<usize>> {
    let text = draft.blocks[setting.lines[at].paragraph].text();
    let [word, above] = [last_word(&setting.lines[at], text)?, last_word(&setting.lines[at - 1], text)?];
    let (word_there, above) = (&text[word.clone()], &text[above]);
    let is_same = word_there.eq_ignore_ascii_case(above)
        || !word_there.is_ascii() && word_there.to_lowercase() == above.to_lowercase();
    is_same.then_some(word)
}

/// The last word of a line of several words, without its stops; none where the word is divided.
fn last_word(line: &SetLine, text: &str) -> Option<Range<usize>> {
    let set = &text[line.text.clone()];
    let end = set.trim_end_matches(|c: char| !c.is_alphanumeric()).len();
    let blank = set[..end].rfind(char::is_whitespace)?;
    let start = line.text.start + blank + set[blank..end].find(char::is_alphanumeric)?;
    (!line.hyphen).then_some(start..line.text.start + end)
}

/// A line inside a paragraph that is much shorter than both its neighbours. In a box, a change of the measure is meant
/// to be seen, and no line beside it is looked at; in a shape no line has the measure of another, and each counts by
/// the share of its own that it fills.
fn short(setting: &Setting, draft: &Draft, at: usize) -> Option<Uneven> {
    let [above, line, below] = [setting.lines.get(at - 1)?, &setting.lines[at], setting.lines.get(at + 1)?];
    let is_even = above.measure == line.measure && line.measure == below.measure;
    let is_shaped = || setting.places.get(line.place).is_some_and(|place| place.room.is_shaped());
    let is_inside = flows(setting, draft, at) && flows(setting, draft, at - 1);
    if !is_inside || line.measure <= Length::ZERO || !(is_even || is_shaped()) {
        return None;
    }
    let beside = |other: &SetLine| percent(line.width.scaled(other.measure, line.measure), other.width);
    let percent_of_shorter = beside(above).max(beside(below));
    (percent_of_shorter < EVEN).then(|| Uneven::Short {
        line: at,
        percent: percent_of_shorter,
        of_measure: (!is_even).then(|| percent(line.width, line.measure)),
    })
}

/// How much of a length a part is, in whole percent.
fn percent(part: Length, of: Length) -> usize {
    (part * 100).count_of(of)
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::{LineLengths, Uneven, jumps, line_lengths, rag, runts};
    use crate::brief::Brief;
    use crate::draft::Draft;
    use crate::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};

    /// Sets copy at 12 pt on a panel `width` points wide and gives its runts as `line letters percent`, its uneven
    /// lines as their number and word or percent, and the lengths of its lines.
    fn found(copy: &str, width: u32, align: &str) -> (Vec<String>, Vec<String>, LineLengths) {
        let yaml =
            format!("panel: {{ trim: {width} x 400 pt, margins: 0 in }}\ntype: {{ size: 12 pt, align: {align} }}\n");
        let brief = Brief::read(&yaml, Path::new("")).unwrap();
        let draft = Draft::read(copy);
        let faces = Faces::built_in();
        let shaped = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
        let setting = Setting::new(&shaped, shaped.forms(), &Rooms::of(&brief));
        let runt = |runt: super::Runt| format!("{} {} {}", runt.line, runt.letters, runt.percent);
        let uneven = |uneven| match uneven {
            Uneven::EndsAlike { line, word } => {
                format!("{line} {}", &draft.blocks[setting.lines[line].paragraph].text()[word])
            }
            Uneven::Short { line, percent, .. } => format!("{line} {percent}"),
        };
        (
            runts(&setting, &draft, &brief.typography).into_iter().map(runt).collect(),
            rag(&setting, &draft).into_iter().map(uneven).collect(),
            line_lengths(&setting, &draft),
        )
    }

    #[test]
    fn a_last_line_of_one_short_word_is_a_runt() {
        assert_eq!(found("Oona keeps the lamp and the boats at sea.", 180, "left").0, ["1 3 10"]);
        assert!(found("Oona keeps the lamp and the boats at\\\nsea.", 180, "left").0.is_empty());
        assert!(found("Oona keeps the lamp and the boats of lighthouses.", 180, "left").0.is_empty());
    }

    #[test]
    fn lines_that_end_alike_and_short_lines_are_uneven() {
        let copy = "Oona lights the lamps for the boats, sometimes for all of the old boats, sometimes not.";
        assert_eq!(found(copy, 180, "left").1, ["1 boats"]);
        assert!(found(copy, 180, "justified").1.is_empty());
        let copy =
            "Oona keeps the lamp and the boats at sea and then by the incomprehensibilities and more of it is here.";
        assert_eq!(found(copy, 180, "centre").1, ["1 53"]);
    }

    #[test]
    fn lengths_are_those_of_the_blurbs_lines() {
        let copy = "# Light\n\nOona lights the lamps for the boats, sometimes for all of the old boats, sometimes not.";
        assert_eq!(found(copy, 180, "left").2, LineLengths { under: 2, over: 0, lines: 3 });
        assert_eq!(found(copy, 900, "left").2, LineLengths { under: 0, over: 1, lines: 1 });
    }

    /// Sets a blurb in a place of 200 by 160 pt with more keys, on a panel with these keep-outs; gives its short lines
    /// as their number and their share of their measure, and the lines that jump.
    fn found_in(place: &str, keep_outs: &str, copy: &str) -> (Vec<(usize, Option<usize>)>, Vec<usize>) {
        let at = "size: 200 x 160 pt, at: { head: 10 pt, spine: 10 pt }";
        let yaml = format!(
            "panel: {{ trim: 220 x 180 pt, margins: 10 pt, keep_out: [{keep_outs}], places: [{{ name: it, holds: \
             blurb, {at}, {place} }}] }}\ntype: {{ size: 12 pt, leading: 16 pt }}\n"
        );
        let brief = Brief::read(&yaml, Path::new("")).unwrap();
        let (draft, faces) = (Draft::read(copy), Faces::built_in());
        let shaped = ShapedCopy::shape(&draft, &brief.typography, &faces, &mut SettingMemory::default());
        let setting = Setting::new(&shaped, shaped.forms(), &Rooms::of(&brief));
        let short = |uneven| match uneven {
            Uneven::Short { line, of_measure, .. } => Some((line, of_measure)),
            Uneven::EndsAlike { .. } => None,
        };
        (rag(&setting, &draft).into_iter().filter_map(short).collect(), jumps(&setting))
    }

    /// In a triangle each line is twice as long as the one above it, and yet none is short that fills its measure.
    #[test]
    fn in_a_shape_a_line_is_short_by_the_share_of_its_measure() {
        let triangle = "shape: { polygon: [35% 0%, 65% 0%, 100% 100%, 0% 100%] }, inset: 0 pt";
        assert_eq!(found_in(triangle, "", &"a lamp is out ".repeat(9)).0, []);
        let (short, _) = found_in(triangle, "", "Oona keeps the boat incomprehensibilities and more of it is here.");
        assert!(short.iter().any(|(_, of_measure)| of_measure.is_some_and(|percent| percent < 70)), "{short:?}");
    }

    #[test]
    fn lines_on_either_side_of_keep_outs_are_told() {
        let at = |name: &str, head: u32, side: &str| {
            format!("{{ name: {name}, size: 130 x 48 pt, at: {{ head: {head} pt, {side}: 10 pt }} }}")
        };
        let copy = "a lamp is out ".repeat(9);
        let both = [at("gull", 10, "spine"), at("moon", 58, "fore-edge")].join(", ");
        assert_eq!(found_in("inset: 0 pt", &both, &copy).1, [3]);
        let one = [at("gull", 10, "spine"), at("moon", 58, "spine")].join(", ");
        assert_eq!(found_in("inset: 0 pt", &one, &copy).1, [] as [usize; 0]);
        assert_eq!(found_in("columns: 2", "", &copy.repeat(2)).1, [] as [usize; 0]);
    }
}
