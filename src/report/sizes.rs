//! The copy at every size: what fits, what is read easily, what a line costs.

use super::amounts::{AmountsMemory, WordsAndLetters};
use super::fit::{self, Findings, MissingStyle};
use super::legibility::Legibility;
use super::places::{self, FitPlace};
use crate::art::lines::Grade;
use crate::brief::Brief;
use crate::brief::typography::StandIn;
use crate::draft::{BlockKind, Draft};
use crate::setting::castoff::{self, Castoff};
use crate::setting::lines::{Setting, printed};
use crate::setting::price::{self, Price};
use crate::setting::{Faces, Rooms, SettingMemory, ShapedCopy, SpineTitle, Work};
use crate::units::Length;

/// The copy of a draft at many sizes.
#[derive(Debug, Clone)]
pub struct Sizes {
    /// One row a size, from the smallest to the largest: whole points, the brief's own size and the largest that fits.
    pub rows: Vec<SizeRow>,
    /// The largest size that fits.
    pub largest: Option<Length>,
    /// The places that keep a larger size from fitting, by their names.
    pub held_by: Vec<String>,
    /// Sizes below the largest that do not fit although the largest does.
    pub gaps: Vec<Length>,
    /// Whether the brief gives the copy other places than the live area.
    pub has_places: bool,
    /// Every place that a report tells of, at the brief's size.
    pub places: Vec<SizedPlace>,
    /// The least x-height that is advised for the readers.
    pub advice: Advice,
    /// What a line costs in each paragraph at the brief's size.
    pub prices: Vec<Priced>,
    /// Styles that the copy asks for and its font lacks, each once.
    pub styles_missing: Vec<MissingStyle>,
    /// Fonts of the copy that are not at hand, for which the built-in serif stands in: all figures are estimates.
    pub estimated: Vec<StandIn>,
    /// The book's title on its spine, which keeps its size, where the brief has one.
    pub spine: Option<SpineTitle>,
    /// What the lines look like at the brief's size.
    pub findings: Findings,
    /// The lines at the brief's size as they are printed.
    pub lines: Vec<String>,
    /// Whether the lines can be read on their art; none where no copy stands on art.
    pub legibility: Option<Legibility>,
}

/// The copy at one size.
#[derive(Debug, Clone)]
pub struct SizeRow {
    /// The size of the blurb.
    pub size: Length,
    /// From baseline to baseline of the blurb.
    pub leading: Length,
    /// Whether the size is the brief's own.
    pub own: bool,
    /// What the setting takes and leaves.
    pub castoff: Castoff,
    /// Every place that a report tells of, with what it takes and leaves at this size.
    pub places: Vec<FitPlace>,
    /// Whether everything fits.
    pub fits: bool,
    /// Letters and all other characters on a line of the blurb, on average over its lines but the last of each
    /// paragraph.
    pub characters_a_line: usize,
    /// The height of a lower-case x of the blurb.
    pub x_height: Length,
    /// About how many words the panel holds, by this copy's own average width of a word.
    pub words_held: usize,
}

/// A place with the largest size that it takes.
#[derive(Debug, Clone)]
pub struct SizedPlace {
    /// How the place's copy stands in it at the brief's size.
    pub place: FitPlace,
    /// The largest size of the blurb at which the place holds its copy, whatever the others do; none where none does.
    pub largest: Option<Length>,
}

/// The x-height below which type is hard for the readers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Advice {
    /// The least x-height that is advised.
    pub x_height: Length,
    /// For whom the advice is, as a report says it.
    pub readers: &'static str,
    /// Where the advice is given.
    pub source: &'static str,
}

/// A paragraph with its price.
#[derive(Debug, Clone)]
pub struct Priced {
    /// What part of the copy it is.
    pub kind: BlockKind,
    /// The place that it stands in; none where the brief has no places.
    pub place: Option<String>,
    /// The paragraph's first words.
    pub opening: String,
    /// Whether the paragraph has more words.
    pub goes_on: bool,
    /// Whole words that win a line back; none where nothing less than the paragraph would.
    pub stretch: Option<WholeWords>,
    /// The price.
    pub price: Price,
}

/// Whole words of a paragraph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WholeWords {
    /// The words as they stand in the copy.
    pub text: String,
    /// How many they are.
    pub words: usize,
    /// How many letters and figures they have.
    pub letters: usize,
}

/// Sizes in the table, in whole points.
const TABLE: std::ops::RangeInclusive<i64> = 8..=20;

/// The school minima: lower-case o in millimetres, by the youngest who reads.
///
/// Source: H. Cohn's figures as E. G. Gress (The Art & Practice of Typography, 1917) and E. B. Huey (Popular Science
/// Monthly 70, 1907) give them; adults by Huey, the same place.
const SCHOOL_MINIMA: [(u32, f64, &str); 5] = [
    (6, 2.6, "readers of six and under"),
    (8, 2.0, "readers of seven and eight"),
    (9, 1.8, "readers of nine"),
    (15, 1.6, "readers of ten and over"),
    (u32::MAX, 1.5, "adults"),
];
const SCHOOL_SOURCE: &str = "Cohn's school minima, in Gress 1917 and Huey 1907";

impl Sizes {
    /// Sets a draft at every size.
    pub fn of(draft: &Draft, brief: &Brief, faces: &Faces) -> Self {
        let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
        let rooms = Rooms::of(brief);
        let own = copy.forms().form(BlockKind::Blurb).size;
        let largest = castoff::largest_size(&copy, &rooms);
        let held_by = castoff::held_by(largest, &copy, &rooms);
        let mut sizes: Vec<Length> = TABLE.map(|points| Length::pt(1.0) * points).chain([own]).chain(largest).collect();
        sizes.sort();
        sizes.dedup();
        let blurb = brief.typography.of(BlockKind::Blurb);
        let x_height = faces.family(&blurb.font).face(blurb.emphasis()).x_height();
        let counts = WordsAndLetters::of_blocks(draft, &mut AmountsMemory::default());
        let row = |size: Length| SizeRow {
            x_height: x_height.at(size),
            own: size == own,
            ..SizeRow::at(size, &copy, &counts, &rooms)
        };
        let setting = Setting::new(&copy, copy.forms(), &rooms);
        Self {
            rows: sizes.into_iter().map(row).collect(),
            largest,
            held_by: held_by.into_iter().map(|place| rooms.places()[place].name.clone()).collect(),
            has_places: rooms.has_places(),
            places: sized(&setting, (&copy, &rooms), &counts),
            gaps: largest.map_or_else(Vec::new, |largest| castoff::sizes_over_below(largest, &copy, &rooms)),
            advice: Advice::for_youngest(brief.book.readers.from),
            prices: priced(draft, &copy, &setting, &rooms, &|| true),
            styles_missing: fit::styles_missing((draft, &copy), brief, faces),
            estimated: fit::estimated(draft, brief),
            spine: SpineTitle::of(brief, faces),
            findings: Findings::of(&setting, draft, &brief.typography),
            legibility: Legibility::of_setting(&setting, &copy, brief, &rooms),
            lines: setting.lines.iter().map(|line| printed(line, &copy.paragraphs[line.paragraph])).collect(),
        }
    }

    /// Whether the copy at the brief's size, and the title on the spine, fit, and no line is lost on its art.
    pub fn fits(&self) -> bool {
        let is_lost = self.legibility.as_ref().is_some_and(|art| art.count(Grade::Lost) > 0);
        !is_lost && self.rows.iter().all(|row| row.fits || !row.own) && self.spine.as_ref().is_none_or(SpineTitle::fits)
    }
}

impl SizeRow {
    fn at(size: Length, copy: &ShapedCopy<'_>, counts: &[WordsAndLetters], rooms: &Rooms) -> Self {
        let forms = copy.forms().at(size);
        let setting = Setting::new(copy, &forms, rooms);
        let castoff = Castoff::of_all(&setting, (copy, &forms, rooms));
        let over = WordsAndLetters::of_lines_over(setting.lines.iter(), copy, counts).words;
        let places = places::of_setting(&setting, (copy, &forms, rooms), counts);
        let spare = places[rooms.blurb()].spare.words;
        let all: usize = counts.iter().map(|block| block.words).sum();
        Self {
            size,
            leading: forms.form(BlockKind::Blurb).leading,
            own: false,
            fits: setting.fits(),
            characters_a_line: characters_a_line(&setting, copy),
            x_height: Length::ZERO,
            words_held: all - over + spare,
            castoff,
            places: places::told(&places, rooms.blurb()).cloned().collect(),
        }
    }
}

/// The places of the brief's own setting that a report tells of, with their largest sizes.
fn sized(setting: &Setting, (copy, rooms): (&ShapedCopy<'_>, &Rooms), counts: &[WordsAndLetters]) -> Vec<SizedPlace> {
    let places = places::of_setting(setting, (copy, copy.forms(), rooms), counts);
    let largest = castoff::largest_sizes(copy, rooms);
    let told = places::told(&places, rooms.blurb());
    // The places that are not told of come last.
    told.zip(largest).map(|(place, largest)| SizedPlace { place: place.clone(), largest }).collect()
}

/// The average number of characters on the blurb's full lines; on all its lines where no paragraph has two.
fn characters_a_line(setting: &Setting, copy: &ShapedCopy<'_>) -> usize {
    let blurb = |index: usize| copy.paragraphs[index].block.kind == BlockKind::Blurb;
    let next = setting.lines.iter().skip(1).map(|line| Some(line.paragraph)).chain([None]);
    let pairs = setting.lines.iter().zip(next).filter(|(line, _)| blurb(line.paragraph));
    let count = |line: &crate::setting::SetLine| {
        copy.paragraphs[line.paragraph].block.text()[line.text.clone()].chars().count()
    };
    let (full, all): (Vec<_>, Vec<_>) = (
        pairs.clone().filter(|(line, next)| *next == Some(line.paragraph)).map(|(line, _)| count(line)).collect(),
        pairs.map(|(line, _)| count(line)).collect(),
    );
    let lines = if full.is_empty() { all } else { full };
    lines.iter().sum::<usize>() / lines.len().max(1)
}

impl Advice {
    fn for_youngest(age: u32) -> Self {
        let row = SCHOOL_MINIMA.iter().find(|(to, _, _)| age <= *to).unwrap_or(&SCHOOL_MINIMA[SCHOOL_MINIMA.len() - 1]);
        Self { x_height: Length::mm(row.1), readers: row.2, source: SCHOOL_SOURCE }
    }
}

/// How many words are shown of a paragraph's beginning.
const OPENING_WORDS: usize = 4;

/// Steps of work that are done for the prices of a draft: enough for some hundred words in one paragraph, or for ten
/// times as many in paragraphs of a blurb's length.
const PRICING_STEPS: usize = 20_000_000;

/// What a line costs in each paragraph of a draft as it stands in a setting; the search ends once nobody wants to know.
pub fn priced(
    draft: &Draft,
    copy: &ShapedCopy<'_>,
    setting: &Setting,
    rooms: &Rooms,
    is_wanted: &dyn Fn() -> bool,
) -> Vec<Priced> {
    let work = Work::of(PRICING_STEPS, is_wanted);
    let place_of = |block: usize| {
        let place = &rooms.places()[copy.place_of(block, rooms)];
        rooms.has_places().then(|| place.name.clone())
    };
    let priced = |price: Price| Priced::of(place_of(price.paragraph), price, draft);
    price::prices(copy, setting, rooms, &work).into_iter().map(priced).collect()
}

impl WholeWords {
    fn of(text: &str) -> Self {
        let is_word = |word: &&str| word.contains(char::is_alphanumeric);
        Self {
            text: text.to_owned(),
            words: text.split(|c: char| c.is_whitespace() || c == '—' || c == '–').filter(is_word).count(),
            letters: text.chars().filter(|c| c.is_alphanumeric()).count(),
        }
    }
}

impl Priced {
    fn of(place: Option<String>, price: Price, draft: &Draft) -> Self {
        let block = &draft.blocks[price.paragraph];
        let mut words = block.text().split_whitespace();
        let opening: Vec<&str> = words.by_ref().take(OPENING_WORDS).collect();
        let whole = price.win.as_ref().and_then(|win| win.whole.clone());
        let stretch = whole.map(|whole| WholeWords::of(block.text()[whole].trim()));
        let (opening, goes_on) = (opening.join(" "), words.next().is_some());
        Self { kind: block.kind, place, opening, goes_on, stretch, price }
    }
}
