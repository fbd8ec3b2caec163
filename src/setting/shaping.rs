//! Shaping by one font: the glyphs of a text, word by word, where each word is shaped once and remembered.
//!
//! A rule of a font may look from a letter over a blank at what stands behind, so a word can be shaped alone only where
//! no rule does. The shaper tells: on request it marks all glyphs that a rule looked at, even where it then changed
//! nothing (HarfBuzz manual, `HB_GLYPH_FLAG_UNSAFE_TO_CONCAT`). A word is shaped with the blank behind it, which it
//! may be kerned with, between two more blanks. Where neither of those was looked at, no text before the one or behind
//! the other can make a difference to the word.

use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::sync::{OnceLock, PoisonError, RwLock};

use harfrust::{
    Buffer, BufferFlags, Direction, Font, GlyphId, GlyphInfo, Script, ShapeOptions, ShapePlan, ShaperFont, shape,
};

use crate::units::Em;

/// A glyph in its place after the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Glyph {
    /// The glyph's number in its face; 0 is the box that stands for a missing letter.
    pub id: u32,
    /// The byte of the shaped text at which its cluster begins.
    pub cluster: u32,
    /// How far the next glyph stands from this one.
    pub advance: Em,
    /// How far it is drawn to the right of its place.
    pub x_offset: Em,
    /// How far it is drawn above the baseline.
    pub y_offset: Em,
    /// A line cannot begin here without shaping both sides again: a kerned pair or a ligature would be cut.
    pub unsafe_to_break: bool,
}

/// A font with what shaping needs beside it.
pub(super) struct Shaping {
    font: Font,
    /// The shaper's plan for Latin text, made once; text in another script makes its own.
    latin: ShapePlan,
    units_per_em: u16,
    /// The hyphens that the font has in no form but U+002D.
    lacking_hyphens: &'static [char],
    /// Whether words can be shaped alone at all, once it was asked for: not where the font has kerning for a blank and
    /// the letter behind it.
    stand_alone: OnceLock<bool>,
    words: RwLock<KnownWords>,
}

/// The words that were shaped, each with the blank behind it if it has one.
///
/// Every thread that sets in the face reads what any of them has shaped. A face remembers some two megabytes at the
/// most, the words of all but very long copy: then all are forgotten.
#[derive(Default)]
struct KnownWords {
    /// Where the glyphs of a word stand among those of all; none for a word that cannot be shaped alone.
    places: HashMap<Box<str>, Option<Range<usize>>>,
    glyphs: Vec<Glyph>,
}

/// The most glyphs that a face remembers.
const MOST_GLYPHS: usize = 1 << 15;

/// The most words that a face remembers.
const MOST_WORDS: usize = 1 << 13;

/// The longest word that is remembered, in bytes. The shaper leaves glyphs unmarked in stretches of more than 255.
const LONGEST_WORD: usize = 64;

/// How the glyphs of a text were found among the known words.
enum Found<'a> {
    All,
    /// Words that are not known yet.
    Without(HashSet<&'a str>),
    /// The text holds a word that cannot be shaped alone.
    NotApart,
}

impl KnownWords {
    /// Adds the glyphs of a text with their clusters moved on by `offset`, if all of its words are known.
    fn add<'a>(&self, text: &'a str, offset: usize, glyphs: &mut Vec<Glyph>) -> Found<'a> {
        let (first, mut at) = (glyphs.len(), offset);
        let mut unknown = HashSet::new();
        for word in text.split_inclusive(' ') {
            match self.places.get(word) {
                Some(Some(place)) => {
                    let moved = |glyph: &Glyph| Glyph { cluster: glyph.cluster.saturating_add(byte(at)), ..*glyph };
                    glyphs.extend(self.glyphs[place.clone()].iter().map(moved));
                }
                None if word.len() <= LONGEST_WORD => {
                    unknown.insert(word);
                }
                Some(None) | None => {
                    glyphs.truncate(first);
                    return Found::NotApart;
                }
            }
            at += word.len();
        }
        if unknown.is_empty() {
            return Found::All;
        }
        glyphs.truncate(first);
        Found::Without(unknown)
    }

    fn insert(&mut self, word: &str, glyphs: Option<&[Glyph]>) {
        if self.glyphs.len() + glyphs.map_or(0, <[Glyph]>::len) > MOST_GLYPHS || self.places.len() == MOST_WORDS {
            *self = Self::default();
        }
        let first = self.glyphs.len();
        self.glyphs.extend_from_slice(glyphs.unwrap_or_default());
        self.places.insert(word.into(), glyphs.map(|_| first..self.glyphs.len()));
    }
}

impl Shaping {
    /// Makes a font of these units to the em ready.
    pub(super) fn of(font: &Font, units_per_em: u16) -> Self {
        let lacks = |hyphen: char| font.charmap().map_unicode(hyphen).is_none_or(|glyph| glyph == GlyphId::NOTDEF);
        let lacking_hyphens: &[char] = match (lacks('\u{2010}'), lacks('\u{2011}')) {
            (true, true) => &['\u{2010}', '\u{2011}'],
            (true, false) => &['\u{2010}'],
            (false, _) => &[],
        };
        Self {
            latin: ShapePlan::new(font, Direction::LeftToRight, Some(Script::LATIN), None, &[]),
            font: font.clone(),
            units_per_em,
            lacking_hyphens,
            stand_alone: OnceLock::new(),
            words: RwLock::default(),
        }
    }

    /// Shapes `text`, one run of one script from left to right, and adds its glyphs to `glyphs` with their clusters
    /// moved on by `offset`.
    pub(super) fn shape(
        &self,
        text: &str,
        script: Script,
        offset: usize,
        buffer: &mut Buffer,
        glyphs: &mut Vec<Glyph>,
    ) {
        if script != Script::LATIN || !self.add_words(text, offset, buffer, glyphs) {
            self.shape_whole(text, script, offset, buffer, glyphs);
        }
    }

    /// Adds the glyphs of a text by its words, and shapes those that are not known yet; false, and none added, where
    /// the text has to be shaped whole.
    fn add_words(&self, text: &str, offset: usize, buffer: &mut Buffer, glyphs: &mut Vec<Glyph>) -> bool {
        if !self.stand_alone(buffer) {
            return false;
        }
        let known = self.words.read().unwrap_or_else(PoisonError::into_inner);
        let unknown = match known.add(text, offset, glyphs) {
            Found::All => return true,
            Found::NotApart => return false,
            Found::Without(unknown) => unknown,
        };
        drop(known);
        // Shaped while no other thread has to wait.
        let mut shaped = Vec::new();
        let found = self.shape_alone(&unknown, buffer, &mut shaped);
        let mut known = self.words.write().unwrap_or_else(PoisonError::into_inner);
        for (word, place) in found {
            known.insert(word, place.map(|place| &shaped[place]));
        }
        matches!(known.add(text, offset, glyphs), Found::All)
    }

    fn stand_alone(&self, buffer: &mut Buffer) -> bool {
        *self.stand_alone.get_or_init(|| {
            let found = self.shape_alone(&HashSet::from(["n "]), buffer, &mut Vec::new());
            found.iter().all(|(_, place)| place.is_some())
        })
    }

    /// Shapes words by themselves and adds their glyphs, clusters counted from the start of each; gives for each where
    /// its glyphs are, or none where something beyond it could make a difference to it.
    fn shape_alone<'a>(
        &self,
        words: &HashSet<&'a str>,
        buffer: &mut Buffer,
        shaped: &mut Vec<Glyph>,
    ) -> Vec<(&'a str, Option<Range<usize>>)> {
        // One without a blank behind it ends its text.
        let (amid, last): (Vec<&str>, Vec<&str>) = words.iter().partition(|word| word.ends_with(' '));
        let mut found = self.shape_amid_blanks(&amid, " ", buffer, shaped);
        // A word that looks at a blank spoils its neighbour's chance, so those not found are tried one by one.
        for (word, place) in found.iter_mut().filter(|(_, place)| place.is_none()) {
            *place = self.shape_amid_blanks(&[*word], " ", buffer, shaped).pop().and_then(|(_, place)| place);
        }
        for word in last {
            found.extend(self.shape_amid_blanks(&[word], "", buffer, shaped));
        }
        found
    }

    /// Shapes words in one text, a blank before each and `end` behind all.
    fn shape_amid_blanks<'a>(
        &self,
        words: &[&'a str],
        end: &str,
        buffer: &mut Buffer,
        shaped: &mut Vec<Glyph>,
    ) -> Vec<(&'a str, Option<Range<usize>>)> {
        let text: String = words.iter().flat_map(|word| [" ", word]).chain([end]).collect();
        self.fill(buffer, &text, Script::LATIN, BufferFlags::PRODUCE_UNSAFE_TO_CONCAT);
        if words.is_empty() || !self.run(buffer, Script::LATIN) {
            return Vec::new();
        }
        let mut at = 0;
        let found = words.iter().map(|word| {
            let (start, first) = (at + 1, shaped.len());
            at = start + word.len();
            let place = glyphs_alone(buffer.glyph_infos(), start..at);
            if let Some(place) = &place {
                self.take(buffer, place.clone(), |cluster| cluster.saturating_sub(byte(start)), shaped);
            }
            (*word, place.map(|_| first..shaped.len()))
        });
        found.collect()
    }

    /// Shapes a text as it stands, with nothing remembered.
    fn shape_whole(&self, text: &str, script: Script, offset: usize, buffer: &mut Buffer, glyphs: &mut Vec<Glyph>) {
        self.fill(buffer, text, script, BufferFlags::empty());
        if self.run(buffer, script) {
            let all = 0..buffer.glyph_infos().len();
            self.take(buffer, all, |cluster| cluster.saturating_add(byte(offset)), glyphs);
        }
    }

    fn fill(&self, buffer: &mut Buffer, text: &str, script: Script, flags: BufferFlags) {
        buffer.clear();
        buffer.set_flags(flags);
        for (at, character) in text.char_indices() {
            buffer.push(u32::from(self.equivalent(character)), byte(at));
        }
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(Some(script));
    }

    fn run(&self, buffer: &mut Buffer, script: Script) -> bool {
        let plan = (script == Script::LATIN).then_some(&self.latin);
        shape(&ShaperFont::new(&self.font), buffer, ShapeOptions::new().plan(plan)).is_ok()
    }

    /// Adds the glyphs of a stretch of what was shaped, with their clusters moved.
    fn take(&self, buffer: &Buffer, stretch: Range<usize>, moved: impl Fn(u32) -> u32, glyphs: &mut Vec<Glyph>) {
        let em = |units: i32| Em::from_units(units, self.units_per_em);
        let (infos, positions) = (&buffer.glyph_infos()[stretch.clone()], &buffer.glyph_positions()[stretch]);
        glyphs.extend(infos.iter().zip(positions).map(|(info, position)| Glyph {
            id: info.glyph_id,
            cluster: moved(info.cluster),
            advance: em(position.x_advance),
            x_offset: em(position.x_offset),
            y_offset: em(position.y_offset),
            unsafe_to_break: info.unsafe_to_break(),
        }));
    }

    /// The character that the shaper is given for a character: one that looks the same, where the font has no glyph for
    /// it and the shaper knows no other; else the character itself.
    ///
    /// Source: Unicode Standard, section 6.2, "Dashes and Hyphens": U+002D stands for the hyphen where there is no
    /// U+2010, and U+2011 differs from that in line breaking alone. HarfBuzz sets U+2011 as U+2010 and leaves the step
    /// to U+002D to the program (its issue 6261).
    fn equivalent(&self, character: char) -> char {
        if self.lacking_hyphens.contains(&character) { '-' } else { character }
    }
}

/// The glyphs of a word that stands behind one blank and before another, or at the end, by its bytes; none where the
/// blank before it, the blank behind its own, or what is beyond them could make a difference to it.
fn glyphs_alone(infos: &[GlyphInfo], word: Range<usize>) -> Option<Range<usize>> {
    let starting_at = |at: usize| infos.partition_point(|info| info.cluster < byte(at));
    let (before, first, behind) = (starting_at(word.start - 1), starting_at(word.start), starting_at(word.end));
    let (blank, letter) = (infos.get(before)?, infos.get(first)?);
    // A mark that begins the word would belong to the blank before it.
    let is_whole = first == before + 1 && letter.cluster == byte(word.start);
    let is_apart = !blank.unsafe_to_concat() && !letter.unsafe_to_break();
    let ends = infos.get(behind).is_none_or(|blank| blank.cluster == byte(word.end) && !blank.unsafe_to_concat());
    (is_whole && is_apart && ends).then_some(first..behind)
}

fn byte(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use std::sync::LazyLock;

    use proptest::prelude::*;
    use proptest::test_runner::Config;

    use super::*;

    static FONTS: LazyLock<Vec<Shaping>> = LazyLock::new(|| {
        let fonts: [&[u8]; 9] = [
            include_bytes!("../fonts/CrimsonPro-Regular.ttf"),
            include_bytes!("../fonts/CrimsonPro-Bold.ttf"),
            include_bytes!("../fonts/CrimsonPro-Italic.ttf"),
            include_bytes!("../fonts/CrimsonPro-BoldItalic.ttf"),
            include_bytes!("../fonts/Nunito-Regular.ttf"),
            include_bytes!("../fonts/Nunito-Bold.ttf"),
            include_bytes!("../fonts/Nunito-Italic.ttf"),
            include_bytes!("../fonts/Nunito-BoldItalic.ttf"),
            include_bytes!("../../tests/data/fonts/Bitter-Variable.ttf"),
        ];
        let read = |bytes: &[u8]| Font::new(bytes.to_vec(), 0).unwrap();
        fonts.into_iter().map(read).map(|font| Shaping::of(&font, font.units_per_em())).collect()
    });

    /// Shapes a text by its words, unknown and known, and whole; gives whether its words were shaped alone.
    fn check(shaping: &Shaping, text: &str) -> bool {
        let (mut buffer, mut whole) = (Buffer::new(), Vec::new());
        shaping.shape_whole(text, Script::LATIN, 7, &mut buffer, &mut whole);
        let mut by_words = false;
        for _ in 0..2 {
            let mut glyphs = Vec::new();
            by_words = shaping.add_words(text, 7, &mut buffer, &mut glyphs);
            assert!(glyphs == whole || glyphs.is_empty() && !by_words, "{text:?}: {glyphs:?}, not {whole:?}");
        }
        by_words
    }

    /// Words and what stands between them, with all in which one might make a difference to the next.
    fn stretch() -> impl Strategy<Value = String> {
        prop_oneof![
            6 => "[a-zA-Z]{1,9}[,.!?;:]? ",
            2 => "[ -~]{1,6}",
            2 => "[\u{a0}-\u{17f}]{1,4} ?",
            3 => prop::sample::select(vec![
                "AV ", "To ", "T ", " A", "P, ", "“Ta” ", "‘Wo’ ", "LT’s ", "r. ", "y, ", "fi ", "fl", "ffi ",
                "fj ", "f", "Th ", "— ", "—", "– ", "… ", "-", "\u{2011}x ", "\u{2010} ", "1 ", "2026 ", "3-6 ",
                "1\u{2044}2 ", "\u{2044}3 ", "1 \u{2044} 2", "½ ", "£5.99 ", "No. 14 ", "  ", "   ", "\u{a0}",
                "\u{2009}", "\u{2007}7", "\u{3000}", "\t", "ex\u{ad}tra ", "\u{ad}", " \u{301}", "\u{301}e ",
                "e\u{301} ", "i\u{307} ", " \u{308}\u{301}", "n\u{303}", "j\u{30c} ", "\u{200d}", "\u{200c} ",
                " \u{200d}", "\u{2060}", "\u{feff}", "\u{fe0f} ", "☂\u{fe0f} ", "👩\u{200d}🚀 ", "🇳🇴 ", "سلام ",
                "ـ ", "क्षि ", "ĳ ", "Ĳ", "ŀl", "l·l ", "ǆ ", "ﬁ ", "ẞ", "İ ", "ı ", "0", " 0", "x² ",
                "a\u{338} ", "\u{338}", "\u{1d}", "\r", "\u{fffd} ",
            ]).prop_map(str::to_owned),
        ]
    }

    proptest! {
        #![proptest_config(Config { cases: 64, failure_persistence: None, ..Config::default() })]

        #[test]
        fn words_shaped_alone_are_those_of_the_whole_text(text in prop::collection::vec(stretch(), 1..12)) {
            for shaping in FONTS.iter() {
                check(shaping, &text.concat());
            }
        }
    }

    #[test]
    fn copy_is_shaped_by_its_words_in_every_font() {
        for shaping in FONTS.iter() {
            for text in ["The lamp — “AV” To. ", "Who’s there? f fi Th", "n", " ", "1 \u{2044} 2 i"] {
                assert!(check(shaping, text), "{text}");
            }
            // What belongs to the blank before it, and a word that is longer than any.
            assert!(!check(shaping, "a \u{301}e b"));
            assert!(!check(shaping, &format!("a {} b", "n".repeat(LONGEST_WORD))));
        }
    }

    #[test]
    fn no_more_is_remembered_than_a_face_may() {
        let shaping = &Shaping::of(&FONTS[0].font, FONTS[0].units_per_em);
        for number in 0..MOST_WORDS + 9 {
            let (mut buffer, mut glyphs) = (Buffer::new(), Vec::new());
            // When all are forgotten, the second time makes the words known.
            for _ in 0..2 {
                shaping.shape(&format!("word {number} again"), Script::LATIN, 0, &mut buffer, &mut glyphs);
            }
            let known = shaping.words.read().unwrap();
            assert!(known.places.len() <= MOST_WORDS && known.glyphs.len() <= MOST_GLYPHS);
            assert!(known.places.contains_key("again"), "{number}");
        }
        // Copy with more words than are remembered is shaped whole.
        let long: String = (0..=MOST_WORDS).map(|number| format!("{number} ")).collect();
        assert!(!check(shaping, &long));
        assert!(check(shaping, "word again"));
    }
}
