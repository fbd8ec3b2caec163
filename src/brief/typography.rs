//! How each block is set: font, size, leading, weight, alignment.

use std::path::Path;

use hypher::Lang;

use super::book::{Book, BookKind};
use super::bounds;
use super::colour::Colour;
pub use super::font::{Font, Sisters, StandIn, Weight};
use super::lengths::{self, Unit};
use super::nodes::{KeyGroup, NodeAt, Refusal};
use crate::draft::{BlockKind, Emphasis};
use crate::units::Length;

/// The type of every block. Where the brief says nothing about a kind of block, its type follows the blurb's.
#[derive(Debug, Clone, PartialEq)]
pub struct Typography {
    /// The type of the blurb, which the others follow.
    pub blurb: BlockType,
    /// The type of each kind of block other than the blurb.
    pub others: Vec<(BlockKind, BlockType)>,
    /// Where the stack of all blocks stands in the live area.
    pub stack: Stack,
}

impl Typography {
    /// The type that blocks of `kind` are set in.
    pub fn of(&self, kind: BlockKind) -> &BlockType {
        self.others.iter().find(|(other, _)| *other == kind).map_or(&self.blurb, |(_, set)| set)
    }
}

/// The type of one kind of block.
#[derive(Debug, Clone, PartialEq)]
pub struct BlockType {
    /// The font of the block.
    pub font: Font,
    /// The size of the type.
    pub size: Length,
    /// Whether the brief gives this block a size of its own, which the block keeps when the blurb is tried at another
    /// size.
    pub own_size: bool,
    /// From baseline to baseline.
    pub leading: Leading,
    /// Whether the whole block is bold.
    pub bold: bool,
    /// Whether the whole block is italic.
    pub italic: bool,
    /// Where lines stand in their measure.
    pub align: Align,
    /// Whether the brief gives this kind of block an alignment of its own, which it keeps in a place with another.
    pub own_align: bool,
    /// Room above the block's first line, unless it is the first on the panel.
    pub space_above: Length,
    /// Whether the brief gives `space_above` as a length, which stays when another size or leading is tried.
    pub own_space: bool,
    /// Room before the first line of each paragraph that follows another of its kind.
    pub indent: Length,
    /// How the places where lines end are chosen.
    pub breaks: Breaks,
    /// Whether the brief says how the places where lines end are chosen, which stays when another alignment is tried.
    pub own_breaks: bool,
    /// The language whose patterns divide words at a line's end; none where words are left whole.
    pub hyphenate: Option<Lang>,
    /// Whether an opening quotation mark at a line's start hangs in the margin.
    pub hang_quotes: bool,
    /// The ink of the letters.
    pub ink: Colour,
    /// Whether the brief gives this kind of block an ink of its own, which it keeps in a place with another.
    pub own_ink: bool,
}

/// How the places where lines end are chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Breaks {
    /// Each line takes what goes into it.
    #[default]
    FirstFit,
    /// All lines of a paragraph are chosen together.
    TotalFit,
}

impl Breaks {
    /// How the places where lines end are usually chosen: justified lines need total fit to look even.
    pub fn suited_to(align: Align) -> Self {
        if align == Align::Justified { Self::TotalFit } else { Self::FirstFit }
    }
}

/// Where the stack of blocks stands in the live area.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stack {
    /// From its head down.
    #[default]
    Head,
    /// With as much room above as below.
    Centre,
    /// Down to its foot.
    Foot,
}

/// From baseline to baseline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Leading {
    /// One length, whatever the size is.
    Fixed(Length),
    /// A length in hundredths of the size.
    Percent(f64),
}

/// Where lines stand in their measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// At the left, ragged at the right.
    #[default]
    Left,
    /// In the middle.
    Centre,
    /// At both sides.
    Justified,
}

const BLOCK_KEYS: [&str; 12] = [
    "font",
    "size",
    "leading",
    "weight",
    "style",
    "align",
    "space_above",
    "indent",
    "breaks",
    "hyphenate",
    "hang_quotes",
    "ink",
];
const STACK: &str = "stack";
pub(super) const STACKS: [(&str, Stack); 3] = [("head", Stack::Head), ("centre", Stack::Centre), ("foot", Stack::Foot)];
const BREAKS: [(&str, Breaks); 2] = [("first-fit", Breaks::FirstFit), ("total-fit", Breaks::TotalFit)];
pub(super) const ALIGNMENTS: [(&str, Align); 3] =
    [("left", Align::Left), ("centre", Align::Centre), ("justified", Align::Justified)];
const STYLES: [(&str, bool); 2] = [("roman", false), ("italic", true)];

/// The words that a key of the type may have, where it has one of a few: `left`, `centre`, `justified`.
pub fn words_of_type(key: &str) -> Vec<&'static str> {
    match key {
        "style" => STYLES.map(|(word, _)| word).to_vec(),
        "align" => ALIGNMENTS.map(|(word, _)| word).to_vec(),
        "breaks" => BREAKS.map(|(word, _)| word).to_vec(),
        STACK => STACKS.map(|(word, _)| word).to_vec(),
        _ => Vec::new(),
    }
}

/// Common practice: leading of 120 to 145 % of the size.
const USUAL_LEADING_PERCENT: f64 = 135.0;

/// How many spaces between paragraphs make one leading. Common practice: half a line between paragraphs that are not
/// indented.
const USUAL_SPACE_IN_LEADINGS: i64 = 2;

impl Typography {
    /// Reads the group `type`: the blurb's type, and under the name of each other block what differs from it.
    pub(super) fn read(value: Option<NodeAt<'_>>, book: &Book, folder: &Path) -> Result<Self, Refusal> {
        let names: Vec<(String, BlockKind)> =
            Self::others().map(|kind| (kind.name().replace(' ', "_"), kind)).collect();
        let known: Vec<&str> =
            BLOCK_KEYS.iter().copied().chain([STACK]).chain(names.iter().map(|(name, _)| name.as_str())).collect();
        let usual = BlockType::usual(book.kind);
        let Some(value) = value else {
            return Self::following(usual, Stack::Head, |_, set| Ok(set));
        };
        let fields = value.fields(&known)?;
        let from = From { folder, language: &book.language };
        let blurb = usual.changed_by(&fields, &from)?;
        let stack = fields.optional(STACK).map_or(Ok(Stack::Head), |value| value.choice(&STACKS))?;
        Self::following(blurb, stack, |kind, set| {
            let name = names.iter().find(|(_, other)| *other == kind).map_or("", |(name, _)| name.as_str());
            match fields.optional(name) {
                Some(value) => set.changed_by(&value.fields(&BLOCK_KEYS)?, &from),
                None => Ok(set),
            }
        })
    }

    /// Gives every other kind of block the blurb's type, and then passes it through `change`. Before that a headline is
    /// made bold and left unhyphenated, and a credit has no space above.
    fn following(
        blurb: BlockType,
        stack: Stack,
        change: impl Fn(BlockKind, BlockType) -> Result<BlockType, Refusal>,
    ) -> Result<Self, Refusal> {
        let mut others = Vec::new();
        for kind in Self::others() {
            let mut set = BlockType { own_size: false, own_align: false, own_ink: false, ..blurb.clone() };
            if kind == BlockKind::Headline {
                set.bold = true;
                set.hyphenate = None;
            }
            // A credit belongs to its quote.
            if kind == BlockKind::Credit {
                set.space_above = Length::ZERO;
            }
            others.push((kind, change(kind, set)?));
        }
        let blurb = BlockType { own_size: false, own_align: false, own_ink: false, ..blurb };
        Ok(Self { blurb, others, stack })
    }

    fn others() -> impl Iterator<Item = BlockKind> {
        BlockKind::ALL.into_iter().filter(|kind| *kind != BlockKind::Blurb)
    }

    /// Every font that a block is set in.
    pub fn fonts(&self) -> impl Iterator<Item = &Font> {
        std::iter::once(&self.blurb).chain(self.others.iter().map(|(_, set)| set)).map(|set| &set.font)
    }

    /// The typography with another size, leading or font for the blurb, and for the blocks that follow the blurb's.
    pub fn tried(&self, size: Option<Length>, leading: Option<Leading>, font: Option<&Font>) -> Self {
        let from = self.blurb.clone();
        let change = |own: &BlockType| {
            let mut set = own.clone();
            if let Some(size) = size.filter(|_| !set.own_size) {
                set.resize(size);
            }
            if let Some(leading) = leading.filter(|_| !set.own_size) {
                set.lead(leading);
            }
            // An indent, and a space that the brief gives, stay: only size, leading and font are tried.
            set.indent = own.indent;
            if set.own_space {
                set.space_above = own.space_above;
            }
            if let Some(font) = font.filter(|_| set.font.is_same(&from.font)) {
                set.font = font.clone();
            }
            set
        };
        let others = self.others.iter().map(|(kind, set)| (*kind, change(set))).collect();
        Self { blurb: change(&self.blurb), others, stack: self.stack }
    }
}

impl BlockType {
    /// The type that copy for a kind of book is usually set in.
    ///
    /// Common practice: copy that a child may read 14 pt and over, a buyer's copy 9 to 11 pt; a picture book's back is
    /// read by both.
    pub fn usual(kind: BookKind) -> Self {
        let size = match kind {
            BookKind::BoardBook | BookKind::EarlyReader => 14.0,
            BookKind::PictureBook => 13.0,
            BookKind::ChapterBook => 12.0,
            BookKind::MiddleGrade | BookKind::YoungAdult => 11.0,
            BookKind::AdultFiction | BookKind::NonFiction => 10.5,
        };
        let size = Length::pt(size);
        let leading = Leading::Percent(USUAL_LEADING_PERCENT);
        Self {
            font: Font::Serif,
            size,
            own_size: false,
            leading,
            bold: false,
            italic: false,
            align: Align::Left,
            own_align: false,
            space_above: leading.at(size) / USUAL_SPACE_IN_LEADINGS,
            own_space: false,
            indent: Length::ZERO,
            breaks: Breaks::FirstFit,
            own_breaks: false,
            hyphenate: None,
            hang_quotes: false,
            ink: Colour::Black,
            own_ink: false,
        }
    }

    /// The type with whatever the brief's keys change. Where the brief gives a size and no leading, the leading stays
    /// in proportion to the size; where it gives a leading and no space above, the space follows the leading likewise.
    fn changed_by(mut self, fields: &KeyGroup<'_>, from: &From<'_>) -> Result<Self, Refusal> {
        // The size comes first: a leading in hundredths and the check of it are of this size.
        if let Some(value) = fields.optional("size") {
            self.resize(value.length(bounds::SIZE)?);
            self.own_size = true;
        }
        if let Some(value) = fields.optional("leading") {
            let leading = Leading::read(&value)?;
            let (least, most) = bounds::LEADING_PERCENT;
            let share = leading.at(self.size).to_pt() / self.size.to_pt() * 100.0;
            if !(least..=most).contains(&share) {
                let written = |of: Option<Unit>, length| of.unwrap_or(Unit::Points).written(length);
                let unit = fields.optional("size").and_then(|size| size.unit());
                let problem = format!(
                    "a leading of {} cannot be used with a size of {}",
                    written(value.unit().or(unit), leading.at(self.size)),
                    written(unit, self.size)
                );
                return Err(value.refuse(format!("{problem}: it must be from {least}% to {most}% of it")));
            }
            self.lead(leading);
        }
        // The weight comes after the font, since it is asked of the font that the block has by now: its own or the
        // blurb's.
        if let Some(value) = fields.optional("font") {
            self.font = Font::read(&value, from.folder)?;
        }
        if let Some(value) = fields.optional("weight") {
            let weight = Weight::read(&value)?;
            self.bold = weight == Weight::BOLD;
            self.font = self.font.at_weight(if self.bold { Weight::REGULAR } else { weight }, &value)?;
        }
        if let Some(value) = fields.optional("style") {
            self.italic = value.choice(&STYLES)?;
        }
        // Justified lines need total fit to look even; a key `breaks` in the brief overrules this choice below.
        if let Some(value) = fields.optional("align") {
            self.align = value.choice(&ALIGNMENTS)?;
            self.breaks = Breaks::suited_to(self.align);
            self.own_align = true;
        }
        if let Some(value) = fields.optional("breaks") {
            self.breaks = value.choice(&BREAKS)?;
            self.own_breaks = true;
        }
        if let Some(value) = fields.optional("hyphenate") {
            self.hyphenate = if value.truth()? { Some(from.patterns(&value)?) } else { None };
        }
        if let Some(value) = fields.optional("hang_quotes") {
            self.hang_quotes = value.truth()?;
        }
        if let Some(ink) = Colour::read(fields, "ink")? {
            self.ink = ink;
            self.own_ink = true;
        }
        // Spaces come last, since a size or a leading scales them, and the brief's own lengths must not be scaled.
        if let Some(value) = fields.optional("space_above") {
            self.space_above = value.length(bounds::SPACE)?;
            self.own_space = true;
        }
        if let Some(value) = fields.optional("indent") {
            self.indent = value.length(bounds::SPACE)?;
        }
        Ok(self)
    }

    /// The type with what a group of keys for one line of words changes: its font, size, weight and style.
    pub(super) fn for_one_line(self, value: &NodeAt<'_>, book: &Book, folder: &Path) -> Result<Self, Refusal> {
        self.changed_by(
            &value.fields(&["font", "size", "weight", "style"])?,
            &From { folder, language: &book.language },
        )
    }

    /// Changes the size, with leading and spaces in proportion.
    fn resize(&mut self, size: Length) {
        if let Leading::Fixed(leading) = self.leading {
            self.leading = Leading::Fixed(leading.scaled(size, self.size));
        }
        self.space_above = self.space_above.scaled(size, self.size);
        self.indent = self.indent.scaled(size, self.size);
        self.size = size;
    }

    /// Changes the leading, with the space above in proportion.
    fn lead(&mut self, leading: Leading) {
        self.space_above = self.space_above.scaled(leading.at(self.size), self.leading());
        self.leading = leading;
    }

    /// The leading at this block's size.
    pub fn leading(&self) -> Length {
        self.leading.at(self.size)
    }

    /// The leading in hundredths of this block's size.
    pub fn leading_in_hundredths(&self) -> f64 {
        match self.leading {
            Leading::Fixed(leading) => leading.to_pt() / self.size.to_pt() * 100.0,
            Leading::Percent(percent) => percent,
        }
    }

    /// The weight of the whole block.
    pub fn weight(&self) -> Weight {
        if self.bold { self.font.weight().max(Weight::BOLD) } else { self.font.weight() }
    }

    /// The bold and italic of the whole block.
    pub fn emphasis(&self) -> Emphasis {
        Emphasis { bold: self.bold, italic: self.italic }
    }
}

/// What is needed to read a block's type: the folder for font files, and the book's language for hyphenation.
struct From<'a> {
    folder: &'a Path,
    language: &'a str,
}

impl From<'_> {
    /// The hyphenation patterns of the book's language.
    fn patterns(&self, value: &NodeAt<'_>) -> Result<Lang, Refusal> {
        let main = self.language.split('-').next().unwrap_or("").to_ascii_lowercase();
        // A brief without a book is taken to be in English.
        let main = if main.is_empty() { "en".to_owned() } else { main };
        let known = main.as_bytes().try_into().ok().and_then(Lang::from_iso);
        known.ok_or_else(|| {
            value.refuse(format!(
                "there are no hyphenation patterns for the language \"{}\"; leave it out",
                self.language
            ))
        })
    }
}

impl Leading {
    /// The leading at a size.
    pub fn at(self, size: Length) -> Length {
        match self {
            Self::Fixed(leading) => leading,
            Self::Percent(percent) => size.scaled(Length::pt(percent), Length::pt(100.0)),
        }
    }

    /// Reads `18 pt` or `135%`.
    ///
    /// # Errors
    ///
    /// A sentence without its stop that says what is wrong and what was expected.
    pub fn parse(text: &str) -> Result<Self, String> {
        if !text.trim_end().ends_with('%') {
            return bounds::LEADING.length(text).map(Self::Fixed);
        }
        let (least, most) = bounds::LEADING_PERCENT;
        let percent = lengths::percent(text)?;
        if (least..=most).contains(&percent) {
            return Ok(Self::Percent(percent));
        }
        Err(format!("\"{text}\" cannot be used: it must be from {least}% to {most}%"))
    }

    fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        Self::parse(&value.text()?).map_err(|problem| value.refuse(problem))
    }
}
