//! The fit: the copy set in the panel, cast off, with the largest size at which it fits.

use std::collections::HashSet;
use std::ops::Range;

use crate::brief::Brief;
use crate::brief::Typography;
use crate::brief::typography::{Font, StandIn, Weight};
use crate::draft::{Block, BlockKind, Draft, Emphasis, Remembered};
use crate::setting::faces::Family;
use crate::setting::findings::{self, LineLengths, Runt, Uneven};
use crate::setting::lines::{SetLine, Setting, printed};
use crate::setting::{Castoff, Faces, Room, SettingMemory, ShapedCopy, castoff};
use crate::text::words;
use crate::units::{Length, Rect};

/// How the copy of a draft stands in its panel.
#[derive(Debug, Clone)]
pub struct Fit {
    /// What the font of the blurb is called: `serif`, or what its file calls itself.
    pub font: String,
    /// Whether the font says its weight in its name, as the file of one weight does.
    pub weight_in_name: bool,
    /// The weight of the blurb.
    pub weight: Weight,
    /// The size of the blurb.
    pub size: Length,
    /// From baseline to baseline of the blurb.
    pub leading: Length,
    /// The height of a lower-case x of the blurb.
    pub x_height: Length,
    /// Where copy may stand, keep-outs aside.
    pub live: Rect,
    /// Lines and depth, used and left.
    pub castoff: Castoff,
    /// Words on the lines that are over.
    pub words_over: usize,
    /// Letters on the lines that are over.
    pub letters_over: usize,
    /// About how many more words would go in, by this copy's own average width of a word.
    pub words_spare: usize,
    /// About how many more letters would go in, by the same average.
    pub letters_spare: usize,
    /// The largest size of the blurb, in tenths of a point, at which everything fits; none where no size does.
    pub largest_size: Option<Length>,
    /// Every line of the setting, from the head to the foot.
    pub lines: Vec<FitLine>,
    /// Letters that no font has.
    pub missing: Vec<char>,
    /// Letters that the block's font lacks, by the built-in font that they are set in.
    pub stood_in: Vec<StoodIn>,
    /// Styles that the copy asks for and its font has not, each once.
    pub styles_missing: Vec<MissingStyle>,
    /// Fonts of the copy that are not at hand, for which the built-in serif stands in: the fit is an estimate.
    pub estimated: Vec<StandIn>,
    /// What the lines look like.
    pub findings: Findings,
}

/// What the lines of a setting look like; none of it makes a draft fit or not.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    /// Last lines that are one short word.
    pub runts: Vec<Runt>,
    /// Places where the edge of unjustified lines is uneven.
    pub rag: Vec<Uneven>,
    /// Lines of the blurb that are short or long to read.
    pub lengths: LineLengths,
}

impl Findings {
    /// Looks at a setting.
    pub(super) fn of(setting: &Setting, draft: &Draft, typography: &Typography) -> Self {
        Self {
            runts: findings::runts(setting, draft, typography),
            rag: findings::rag(setting, draft, typography),
            lengths: findings::line_lengths(setting, draft),
        }
    }
}

/// Letters set in another font than their block's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoodIn {
    /// The built-in font.
    pub font: Font,
    /// The letters, in the order in which they first stand in the copy.
    pub letters: Vec<char>,
}

/// Bold or italic that the copy asks for, of a font that has no such face.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingStyle {
    /// What the font's family is called.
    pub font: String,
    /// Which style.
    pub style: Emphasis,
    /// What the face is called in which the style is set instead.
    pub set_in: String,
}

/// One printed line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitLine {
    /// What part of the copy it belongs to.
    pub kind: BlockKind,
    /// What is printed.
    pub text: String,
    /// The line's place and length.
    pub set: SetLine,
}

impl Fit {
    /// Sets a draft by its brief.
    pub fn of(draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        Self::of_copy(draft, (&copy, &WordsAndLetters::of_blocks(draft, &mut FitMemory::default())), brief, faces)
    }

    /// Sets a draft that is shaped already, and whose words are counted block by block.
    pub(super) fn of_copy(
        draft: &Draft,
        (copy, counts): (&ShapedCopy<'_>, &[WordsAndLetters]),
        brief: &Brief,
        faces: &Faces,
    ) -> Self {
        let room = Room::of(&brief.panel);
        let setting = Setting::new(copy, copy.forms(), &room);
        let castoff = Castoff::of(&setting, copy.forms(), &room);
        let over = WordsAndLetters::of_lines_over(&setting, copy, counts);
        let spare = WordsAndLetters::that_fill(castoff.spare, &setting, counts);
        let blurb = brief.typography.of(BlockKind::Blurb);
        let family = faces.family(&blurb.font);
        let x_height = family.face(blurb.emphasis()).x_height().at(blurb.size);
        Self {
            font: font_name(&blurb.font, family, blurb.emphasis()),
            weight_in_name: matches!(blurb.font, Font::File { .. }) && family.face(blurb.emphasis()).weight().is_none(),
            weight: blurb.weight(),
            size: blurb.size,
            leading: blurb.leading(),
            x_height,
            live: room.live(),
            castoff,
            words_over: over.words,
            letters_over: over.letters,
            words_spare: spare.words,
            letters_spare: spare.letters,
            largest_size: castoff::largest_size(copy, &room),
            findings: Findings::of(&setting, draft, &brief.typography),
            lines: fit_lines(setting, copy),
            missing: missing_letters(copy),
            stood_in: stood_in(copy),
            styles_missing: styles_missing(draft, copy, &brief.typography),
            estimated: estimated(draft, &brief.typography),
        }
    }

    /// Whether every line stands in the live area and none is wider than its measure.
    pub fn fits(&self) -> bool {
        self.lines.iter().all(|line| !line.set.over && !line.set.too_wide)
    }
}

fn fit_lines(setting: Setting, copy: &ShapedCopy<'_>) -> Vec<FitLine> {
    let line = |set: SetLine| {
        let paragraph = &copy.paragraphs[set.paragraph];
        FitLine { kind: paragraph.block.kind, text: printed(&set, paragraph), set }
    };
    setting.lines.into_iter().map(line).collect()
}

fn missing_letters(copy: &ShapedCopy<'_>) -> Vec<char> {
    let mut known = HashSet::new();
    let missing = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.shaped.missing);
    missing.copied().filter(|character| known.insert(*character)).collect()
}

fn stood_in(copy: &ShapedCopy<'_>) -> Vec<StoodIn> {
    let mut all: Vec<StoodIn> = Vec::new();
    let mut known = HashSet::new();
    let stood_in = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.shaped.stood_in);
    for (letter, family) in stood_in.filter(|stood_in| known.insert(**stood_in)) {
        let font = family.font();
        match all.iter_mut().find(|known| known.font == font) {
            Some(known) => known.letters.push(*letter),
            None => all.push(StoodIn { font, letters: vec![*letter] }),
        }
    }
    all
}

/// What a font is called: as its file calls itself, else by the name of the file, else as the brief names it.
pub fn font_name(font: &Font, family: Family<'_>, emphasis: Emphasis) -> String {
    let of_path = || match font {
        Font::File { path, .. } => path.file_stem().map(|name| name.to_string_lossy().into_owned()),
        _ => None,
    };
    family.name(emphasis).or_else(of_path).unwrap_or_else(|| font.to_string())
}

/// The styles that a draft's words ask for and the fonts of their blocks have not.
pub(super) fn styles_missing(draft: &Draft, copy: &ShapedCopy<'_>, typography: &Typography) -> Vec<MissingStyle> {
    let mut all = Vec::new();
    for (block, paragraph) in draft.blocks.iter().zip(&copy.paragraphs) {
        let (family, font) = (paragraph.family, &typography.of(block.kind).font);
        let text = block.text();
        let lacking = paragraph.shaped.runs.iter().filter(|run| run.stand_in.is_none() && family.lacks(run.emphasis));
        for run in lacking.filter(|run| !text[run.text.clone()].trim().is_empty()) {
            let set_in = font_name(font, family, run.emphasis);
            let name = family.family_name().unwrap_or_else(|| set_in.clone());
            let found = MissingStyle { font: name, style: run.emphasis, set_in };
            if !all.contains(&found) {
                all.push(found);
            }
        }
    }
    all
}

/// The fonts of a draft's blocks that are not at hand, each once.
pub(super) fn estimated(draft: &Draft, typography: &Typography) -> Vec<StandIn> {
    let mut all = Vec::new();
    for block in &draft.blocks {
        if let Font::StandIn(stand_in) = &typography.of(block.kind).font
            && !all.contains(stand_in)
        {
            all.push(stand_in.clone());
        }
    }
    all
}

/// The words and letters of the blocks that were counted last.
#[derive(Debug, Default)]
pub(super) struct FitMemory(Remembered<(), WordsAndLetters>);

/// Words and letters.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct WordsAndLetters {
    pub(super) words: usize,
    pub(super) letters: usize,
}

impl WordsAndLetters {
    pub(super) fn of(text: &str) -> Self {
        Self { words: words::find(text).len(), letters: text.chars().filter(|c| c.is_alphabetic()).count() }
    }

    /// The counts of every block of a draft.
    pub(super) fn of_blocks(draft: &Draft, memory: &mut FitMemory) -> Vec<Self> {
        let blocks = draft.blocks.iter().map(|block| (block, ()));
        memory.0.renew((), blocks, |block, ()| Self::of(block.text())).copied().collect()
    }

    /// Counts the words and letters on the lines that are over. From the first such line of a block on, all of the
    /// block is over, so the rest of its text is counted at once; `whole` are the counts of the blocks.
    pub(super) fn of_lines_over(setting: &Setting, copy: &ShapedCopy<'_>, whole: &[Self]) -> Self {
        let mut counts = Self::default();
        let mut counted: Option<usize> = None;
        for line in setting.lines.iter().filter(|line| line.over) {
            if counted == Some(line.paragraph) {
                continue;
            }
            counted = Some(line.paragraph);
            let part = match whole.get(line.paragraph) {
                Some(whole) if line.text.start == 0 => *whole,
                _ => Self::of(over_part(copy.paragraphs[line.paragraph].block, &line.text)),
            };
            counts.words += part.words;
            counts.letters += part.letters;
        }
        counts
    }

    /// How much copy of the same kind would fill `length`, rounded down; `counts` are those of the blocks.
    pub(super) fn that_fill(length: Length, setting: &Setting, counts: &[Self]) -> Self {
        let set: Length = setting.lines.iter().map(|line| line.width).sum();
        if set <= Length::ZERO || length <= Length::ZERO {
            return Self::default();
        }
        let share = |count: usize| (count as f64 * length.to_pt() / set.to_pt()).floor() as usize;
        let total = counts.iter().fold(Self::default(), |sum, part| Self {
            words: sum.words + part.words,
            letters: sum.letters + part.letters,
        });
        Self { words: share(total.words), letters: share(total.letters) }
    }
}

fn over_part<'a>(block: &'a Block, first_line: &Range<usize>) -> &'a str {
    &block.text()[first_line.start..]
}
