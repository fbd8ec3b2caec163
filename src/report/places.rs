//! The fit place by place: what each place of copy holds, takes and leaves.

use std::collections::HashSet;

use super::amounts::WordsAndLetters;
use crate::brief::place::CoverFace;
use crate::draft::BlockKind;
use crate::setting::copy::Forms;
use crate::setting::lines::{SetPlace, Setting};
use crate::setting::{Castoff, Rooms, ShapedCopy};
use crate::units::Rect;

/// How the copy of one place stands in it.
#[derive(Debug, Clone, PartialEq)]
pub struct FitPlace {
    /// What the author calls the place; `live area` for what no place holds, the name of its face for a flap that holds
    /// copy by itself.
    pub name: String,
    /// The face that it is on.
    pub face: CoverFace,
    /// The parts of the draft that stand in it, as headings name them, each once: `blurb`, `quote 2`.
    pub blocks: Vec<String>,
    /// The form of the place: `box`, `ellipse`, `round`, `polygon`, `outline`.
    pub shape: &'static str,
    /// Where copy may stand, keep-outs aside, from the face's head left corner.
    pub live: Rect,
    /// Lines and depth, used and left.
    pub castoff: Castoff,
    /// How many lines hold a word that is wider than the measure.
    pub lines_too_wide: usize,
    /// Words and letters on the lines that are over.
    pub over: WordsAndLetters,
    /// About how many more words and letters would go in, by the average width of the copy's words.
    pub spare: WordsAndLetters,
}

impl FitPlace {
    /// Whether every line stands in the place and none is wider than its measure.
    pub fn fits(&self) -> bool {
        self.castoff.lines_over == 0 && self.lines_too_wide == 0
    }
}

/// The places that a report tells of, `blurb` being the number of the blurb's: all but a live area that holds nothing
/// and is not the blurb's.
pub fn told(places: &[FitPlace], blurb: usize) -> impl Iterator<Item = &FitPlace> {
    let is_told = move |(number, place): &(usize, &FitPlace)| {
        *number == blurb || *number + 1 < places.len() || !place.blocks.is_empty()
    };
    places.iter().enumerate().filter(is_told).map(|(_, place)| place)
}

/// Every place of a setting at some sizes, with the counts of the draft's blocks.
pub(super) fn of_setting(
    setting: &Setting,
    (copy, forms, rooms): (&ShapedCopy<'_>, &Forms, &Rooms),
    counts: &[WordsAndLetters],
) -> Vec<FitPlace> {
    let place = |(number, set): (usize, &SetPlace)| {
        let known = &rooms.places()[number];
        let held: Vec<usize> =
            (0..copy.paragraphs.len()).filter(|index| copy.place_of(*index, rooms) == number).collect();
        let castoff = Castoff::of(setting, number, (copy, forms, rooms));
        let of_held = held.iter().map(|index| &counts[*index]);
        FitPlace {
            name: known.name.clone(),
            face: known.face,
            blocks: names(&held, copy),
            shape: known.shape,
            live: set.room.live(),
            lines_too_wide: setting.lines_in(number).filter(|line| line.too_wide).count(),
            over: WordsAndLetters::of_lines_over(setting.lines_in(number), copy, counts),
            spare: WordsAndLetters::that_fill(castoff.spare, setting.lines_in(number), of_held),
            castoff,
        }
    };
    setting.places.iter().enumerate().map(place).collect()
}

/// What headings call the parts that some blocks belong to, each once: `blurb`, or `quote 2` where the draft has
/// several. A credit stands with its quote and is never named.
fn names(held: &[usize], copy: &ShapedCopy<'_>) -> Vec<String> {
    let several: HashSet<BlockKind> = copy.paragraphs.iter().filter(|it| it.part > 1).map(|it| it.block.kind).collect();
    let parts = held.iter().map(|index| (copy.paragraphs[*index].block.kind, copy.paragraphs[*index].part));
    let mut known = HashSet::new();
    let first = parts.filter(|part| part.0 != BlockKind::Credit && known.insert(*part));
    let name = |(kind, part): (BlockKind, usize)| match several.contains(&kind) {
        true => format!("{} {part}", kind.name()),
        false => kind.name().to_owned(),
    };
    first.map(name).collect()
}
