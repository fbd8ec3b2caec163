//! How each block is set: font, size, leading, weight, alignment.

use std::fmt;
use std::path::{Path, PathBuf};

use super::book::Kind;
use super::read::{Fields, Refusal, Value};
use super::{bounds, lengths};
use crate::draft::{BlockKind, Emphasis};
use crate::units::Length;

/// The type of every block. Each block has its own, taken from the blurb's where the brief says nothing else.
#[derive(Debug, Clone)]
pub struct Typography {
    /// The type of the blurb, which the others follow.
    pub blurb: BlockType,
    /// The type of each other kind that the brief or the habit sets apart.
    pub others: Vec<(BlockKind, BlockType)>,
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
    /// Which font.
    pub font: Font,
    /// The size.
    pub size: Length,
    /// The brief gives this block a size of its own, which it keeps when the blurb is tried at another.
    pub own_size: bool,
    /// From baseline to baseline.
    pub leading: Leading,
    /// The whole block is bold.
    pub bold: bool,
    /// The whole block is italic.
    pub italic: bool,
    /// Where lines stand in their measure.
    pub align: Align,
    /// Room above the block's first line, unless it is the first on the panel.
    pub space_above: Length,
    /// Room before the first line of each paragraph that follows another of its kind.
    pub indent: Length,
}

/// Which font a block is set in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Font {
    /// The built-in serif.
    Serif,
    /// The built-in sans.
    Sans,
    /// A font file, as an absolute path or one from the working folder.
    File(PathBuf),
}

/// From baseline to baseline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Leading {
    /// The same at any size.
    Fixed(Length),
    /// In hundredths of the size.
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

const BLOCK_KEYS: [&str; 8] = ["font", "size", "leading", "weight", "style", "align", "space_above", "indent"];
const ALIGNMENTS: [(&str, Align); 3] =
    [("left", Align::Left), ("centre", Align::Centre), ("justified", Align::Justified)];
const WEIGHTS: [(&str, bool); 2] = [("regular", false), ("bold", true)];
const STYLES: [(&str, bool); 2] = [("roman", false), ("italic", true)];

/// Common practice: leading of 120 to 145 % of the size.
const USUAL_LEADING_PERCENT: f64 = 135.0;

/// Common practice: half a line between paragraphs that are not indented.
const USUAL_SPACE_IN_LEADINGS: i64 = 2;

impl Typography {
    /// Reads the group `type`: the blurb's type, and under the name of each other block what differs from it.
    pub(super) fn read(value: Option<Value<'_>>, kind: Kind, folder: &Path) -> Result<Self, Refusal> {
        let names: Vec<(String, BlockKind)> =
            Self::others().map(|kind| (kind.name().replace(' ', "_"), kind)).collect();
        let known: Vec<&str> = BLOCK_KEYS.iter().copied().chain(names.iter().map(|(name, _)| name.as_str())).collect();
        let usual = BlockType::usual(kind);
        let Some(value) = value else {
            return Self::following(usual, |_, set| Ok(set));
        };
        let fields = value.fields(&known)?;
        let blurb = usual.changed_by(&fields, folder)?;
        Self::following(blurb, |kind, set| {
            let name = names.iter().find(|(_, other)| *other == kind).map_or("", |(name, _)| name.as_str());
            match fields.optional(name) {
                Some(value) => set.changed_by(&value.fields(&BLOCK_KEYS)?, folder),
                None => Ok(set),
            }
        })
    }

    /// Gives every other block the blurb's type, a headline's weight apart, and then lets `change` have its way.
    fn following(
        blurb: BlockType,
        change: impl Fn(BlockKind, BlockType) -> Result<BlockType, Refusal>,
    ) -> Result<Self, Refusal> {
        let mut others = Vec::new();
        for kind in Self::others() {
            let mut set = BlockType { own_size: false, ..blurb.clone() };
            set.bold = set.bold || kind == BlockKind::Headline;
            // A credit belongs to its quote.
            if kind == BlockKind::Credit {
                set.space_above = Length::ZERO;
            }
            others.push((kind, change(kind, set)?));
        }
        Ok(Self { blurb: BlockType { own_size: false, ..blurb }, others })
    }

    fn others() -> impl Iterator<Item = BlockKind> {
        BlockKind::ALL.into_iter().filter(|kind| *kind != BlockKind::Blurb)
    }

    /// Every font that a block is set in.
    pub fn fonts(&self) -> impl Iterator<Item = &Font> {
        std::iter::once(&self.blurb).chain(self.others.iter().map(|(_, set)| set)).map(|set| &set.font)
    }

    /// Another setting of the same blocks: the blurb's size, leading or font changed, and what follows it with it.
    pub fn tried(&self, size: Option<Length>, leading: Option<Leading>, font: Option<&Font>) -> Self {
        let from = self.blurb.clone();
        let change = |set: &BlockType| {
            let mut set = set.clone();
            if let Some(size) = size.filter(|_| !set.own_size) {
                set.resize(size);
            }
            if let Some(leading) = leading.filter(|_| !set.own_size) {
                set.leading = leading;
            }
            if let Some(font) = font.filter(|_| set.font == from.font) {
                set.font = font.clone();
            }
            set
        };
        let others = self.others.iter().map(|(kind, set)| (*kind, change(set))).collect();
        Self { blurb: change(&self.blurb), others }
    }
}

impl BlockType {
    /// The type that copy for a kind of book is usually set in.
    ///
    /// Common practice: copy that a child may read 14 pt and over, a buyer's copy 9 to 11 pt; a picture book's back is
    /// read by both.
    pub(super) fn usual(kind: Kind) -> Self {
        let size = match kind {
            Kind::BoardBook | Kind::EarlyReader => 14.0,
            Kind::PictureBook => 13.0,
            Kind::ChapterBook => 12.0,
            Kind::MiddleGrade | Kind::YoungAdult => 11.0,
            Kind::AdultFiction | Kind::NonFiction => 10.5,
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
            space_above: leading.at(size) / USUAL_SPACE_IN_LEADINGS,
            indent: Length::ZERO,
        }
    }

    /// This type with whatever the brief says of it. A size without a leading keeps the leading in proportion, and a
    /// leading without a space the space.
    fn changed_by(mut self, fields: &Fields<'_>, folder: &Path) -> Result<Self, Refusal> {
        if let Some(value) = fields.optional("size") {
            self.resize(value.length(bounds::SIZE)?);
            self.own_size = true;
        }
        if let Some(value) = fields.optional("leading") {
            let leading = Leading::read(&value)?;
            let (least, most) = bounds::LEADING_PERCENT;
            let share = leading.at(self.size).to_pt() / self.size.to_pt() * 100.0;
            if !(least..=most).contains(&share) {
                let problem =
                    format!("a leading of {} cannot be used with a size of {}", leading.at(self.size), self.size);
                return Err(value.refuse(format!("{problem}: it must be from {least}% to {most}% of it")));
            }
            self.space_above = self.space_above.scaled(leading.at(self.size), self.leading());
            self.leading = leading;
        }
        if let Some(value) = fields.optional("font") {
            self.font = Font::read(&value, folder)?;
        }
        if let Some(value) = fields.optional("weight") {
            self.bold = value.choice(&WEIGHTS)?;
        }
        if let Some(value) = fields.optional("style") {
            self.italic = value.choice(&STYLES)?;
        }
        if let Some(value) = fields.optional("align") {
            self.align = value.choice(&ALIGNMENTS)?;
        }
        if let Some(value) = fields.optional("space_above") {
            self.space_above = value.length(bounds::SPACE)?;
        }
        if let Some(value) = fields.optional("indent") {
            self.indent = value.length(bounds::SPACE)?;
        }
        Ok(self)
    }

    /// Takes another size, with leading and spaces in proportion.
    fn resize(&mut self, size: Length) {
        if let Leading::Fixed(leading) = self.leading {
            self.leading = Leading::Fixed(leading.scaled(size, self.size));
        }
        self.space_above = self.space_above.scaled(size, self.size);
        self.indent = self.indent.scaled(size, self.size);
        self.size = size;
    }

    /// The leading at this block's size.
    pub fn leading(&self) -> Length {
        self.leading.at(self.size)
    }

    /// What bold and italic the whole block has.
    pub fn emphasis(&self) -> Emphasis {
        Emphasis { bold: self.bold, italic: self.italic }
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
            return bounds::LEADING
                .check(lengths::length(text)?)
                .map(Self::Fixed)
                .map_err(|problem| format!("\"{text}\" cannot be used: {problem}"));
        }
        let (least, most) = bounds::LEADING_PERCENT;
        let percent = lengths::percent(text)?;
        if (least..=most).contains(&percent) {
            return Ok(Self::Percent(percent));
        }
        Err(format!("\"{text}\" cannot be used: it must be from {least}% to {most}%"))
    }

    fn read(value: &Value<'_>) -> Result<Self, Refusal> {
        Self::parse(&value.text()?).map_err(|problem| value.refuse(problem))
    }
}

impl Font {
    /// `serif`, `sans`, or the path of a font file, from `folder` where it is not absolute.
    pub fn named(name: &str, folder: &Path) -> Self {
        match name {
            "serif" => Self::Serif,
            "sans" => Self::Sans,
            path => Self::File(folder.join(path)),
        }
    }

    fn read(value: &Value<'_>, folder: &Path) -> Result<Self, Refusal> {
        Ok(Self::named(&value.text()?, folder))
    }
}

/// The font as a brief names it.
impl fmt::Display for Font {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Serif => f.write_str("serif"),
            Self::Sans => f.write_str("sans"),
            Self::File(path) => write!(f, "{}", path.display()),
        }
    }
}
