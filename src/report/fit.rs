//! The fit: the copy set in the panel, cast off, with the largest size at which it fits.

use std::collections::HashSet;

use super::amounts::{AmountsMemory, WordsAndLetters};
use super::places::{self, FitPlace};
use crate::brief::Brief;
use crate::brief::Typography;
use crate::brief::place::CoverFace;
use crate::brief::typography::{Font, StandIn, Weight};
use crate::draft::{BlockKind, Draft, Emphasis};
use crate::setting::faces::Family;
use crate::setting::findings::{self, LineLengths, Runt, Uneven};
use crate::setting::lines::{SetLine, SetPlace, Setting, printed};
use crate::setting::{Castoff, Faces, Rooms, SettingMemory, ShapedCopy, SpineTitle, castoff};
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
    /// Where copy may stand on the panel, keep-outs and places aside.
    pub live: Rect,
    /// Every place, in the order in which copy is set; the live area comes last.
    pub places: Vec<FitPlace>,
    /// The number of the blurb's place among `places`, from 0.
    pub blurb_place: usize,
    /// Whether the brief gives the copy other places than the live area.
    pub has_places: bool,
    /// The rooms in which the copy was set, one for each place.
    pub set_places: Vec<SetPlace>,
    /// The places that keep a larger size from fitting, by their names.
    pub held_by: Vec<String>,
    /// Lines and depth, used and left: those of the blurb's place, with the lines of all places, and all that are over.
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
    /// The book's title on its spine, where the brief has one.
    pub spine: Option<SpineTitle>,
    /// Letters that no font has, those of the spine's title among them.
    pub missing: Vec<char>,
    /// Letters that the block's font lacks, by the built-in font that they are set in.
    pub stood_in: Vec<StoodIn>,
    /// Styles that the copy asks for and its font lacks, each once.
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
    /// Lines on another side of a keep-out than the line before them in their paragraph, counted from 0.
    pub jumps: Vec<usize>,
    /// Lines of the blurb that are short or long to read.
    pub lengths: LineLengths,
}

impl Findings {
    /// Looks at a setting.
    pub(super) fn of(setting: &Setting, draft: &Draft, typography: &Typography) -> Self {
        Self {
            runts: findings::runts(setting, draft, typography),
            rag: findings::rag(setting, draft),
            jumps: findings::jumps(setting),
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
        let counts = WordsAndLetters::of_blocks(draft, &mut AmountsMemory::default());
        Self::of_copy(draft, (&copy, &counts, &Rooms::of(brief)), brief, faces)
    }

    /// Sets a draft that is shaped already, and whose words are counted block by block, in the rooms of the brief.
    pub(super) fn of_copy(
        draft: &Draft,
        (copy, counts, rooms): (&ShapedCopy<'_>, &[WordsAndLetters], &Rooms),
        brief: &Brief,
        faces: &Faces,
    ) -> Self {
        let spine = SpineTitle::of(brief, faces);
        let setting = Setting::new(copy, copy.forms(), rooms);
        // One setting is cast off as a whole and place by place, so that the sums agree.
        let castoff = Castoff::of_all(&setting, (copy, copy.forms(), rooms));
        let over = WordsAndLetters::of_lines_over(setting.lines.iter(), copy, counts);
        let places = places::of_setting(&setting, (copy, copy.forms(), rooms), counts);
        let spare = places[rooms.blurb()].spare;
        // The copy is set at many sizes here, which is most of the work; what holds it down is found beside.
        let largest_size = castoff::largest_size(copy, rooms);
        let held_by = castoff::held_by(largest_size, copy, rooms).into_iter();
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
            live: brief.panel.live_area(),
            places,
            blurb_place: rooms.blurb(),
            has_places: rooms.has_places(),
            held_by: held_by.map(|place| rooms.places()[place].name.clone()).collect(),
            castoff,
            words_over: over.words,
            letters_over: over.letters,
            words_spare: spare.words,
            letters_spare: spare.letters,
            largest_size,
            findings: Findings::of(&setting, draft, &brief.typography),
            set_places: setting.places.clone(),
            lines: fit_lines(setting, copy),
            missing: missing_letters(copy, spine.as_ref()),
            stood_in: stood_in(copy, spine.as_ref()),
            styles_missing: styles_missing((draft, copy), brief, faces),
            estimated: estimated(draft, brief),
            spine,
        }
    }

    /// Whether every line stands in its place and none is wider than its measure, and the title fits on the spine.
    pub fn fits(&self) -> bool {
        self.copy_fits() && self.spine.as_ref().is_none_or(SpineTitle::fits)
    }

    /// Whether every line stands in its place and none is wider than its measure.
    pub fn copy_fits(&self) -> bool {
        self.lines.iter().all(|line| line.set.fits())
    }

    /// The lines on one face with their numbers among all, from 0, in the order of the draft.
    pub fn lines_on(&self, face: CoverFace) -> impl Iterator<Item = (usize, &FitLine)> {
        self.lines
            .iter()
            .enumerate()
            .filter(move |(_, line)| self.places.get(line.set.place).is_some_and(|place| place.face == face))
    }

    /// The place in which a block's lines stand, by its number among the draft's blocks, from 0; none where the brief
    /// gives the copy no other places than the live area.
    pub fn place_of_block(&self, block: usize) -> Option<&FitPlace> {
        let line = self.lines.iter().find(|line| line.set.paragraph == block).filter(|_| self.has_places)?;
        self.places.get(line.set.place)
    }

    /// The places that a report tells of: all that hold copy or are the blurb's; the live area alone where there are no
    /// others.
    pub fn told_places(&self) -> impl Iterator<Item = &FitPlace> {
        places::told(&self.places, self.blurb_place)
    }
}

fn fit_lines(setting: Setting, copy: &ShapedCopy<'_>) -> Vec<FitLine> {
    let line = |set: SetLine| {
        let paragraph = &copy.paragraphs[set.paragraph];
        FitLine { kind: paragraph.block.kind, text: printed(&set, paragraph), set }
    };
    setting.lines.into_iter().map(line).collect()
}

fn missing_letters(copy: &ShapedCopy<'_>, spine: Option<&SpineTitle>) -> Vec<char> {
    let mut known = HashSet::new();
    let missing = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.shaped.missing);
    let on_spine = spine.iter().flat_map(|title| &title.missing);
    missing.chain(on_spine).copied().filter(|character| known.insert(*character)).collect()
}

fn stood_in(copy: &ShapedCopy<'_>, spine: Option<&SpineTitle>) -> Vec<StoodIn> {
    let mut all: Vec<StoodIn> = Vec::new();
    let mut known = HashSet::new();
    let stood_in = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.shaped.stood_in);
    let on_spine = spine.iter().flat_map(|title| &title.stood_in);
    for (letter, family) in stood_in.chain(on_spine).filter(|stood_in| known.insert(**stood_in)) {
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

/// The styles that a draft's words, and the title on the spine, ask for and their fonts lack.
pub(super) fn styles_missing(
    (draft, copy): (&Draft, &ShapedCopy<'_>),
    brief: &Brief,
    faces: &Faces,
) -> Vec<MissingStyle> {
    let mut all = Vec::new();
    let mut add = |font: &Font, family: Family<'_>, style: Emphasis| {
        let set_in = font_name(font, family, style);
        let name = family.family_name().unwrap_or_else(|| set_in.clone());
        let found = MissingStyle { font: name, style, set_in };
        if !all.contains(&found) {
            all.push(found);
        }
    };
    for (block, paragraph) in draft.blocks.iter().zip(&copy.paragraphs) {
        let (family, font) = (paragraph.family, &brief.typography.of(block.kind).font);
        let text = block.text();
        let lacking = paragraph.shaped.runs.iter().filter(|run| run.stand_in.is_none() && family.lacks(run.emphasis));
        for run in lacking.filter(|run| !text[run.text.clone()].trim().is_empty()) {
            add(font, family, run.emphasis);
        }
    }
    if let Some(spine) = &brief.spine {
        let family = faces.family(&spine.font);
        if family.lacks(spine.emphasis) {
            add(&spine.font, family, spine.emphasis);
        }
    }
    all
}

/// The fonts of a draft's blocks, and of the title on the spine, that are not at hand, each once.
pub(super) fn estimated(draft: &Draft, brief: &Brief) -> Vec<StandIn> {
    let mut all = Vec::new();
    let of_copy = draft.blocks.iter().map(|block| &brief.typography.of(block.kind).font);
    for font in of_copy.chain(brief.spine.iter().map(|spine| &spine.font)) {
        if let Font::StandIn(stand_in) = font
            && !all.contains(stand_in)
        {
            all.push(stand_in.clone());
        }
    }
    all
}
