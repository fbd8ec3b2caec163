//! The shape of the JSON of how copy stands, as it is in a report: places, the title on the spine, how the lines fall,
//! whether they can be read on their art, and what that is.

#[cfg(test)]
use schemars::JsonSchema;
use std::ops::Range;

use serde::Serialize;

use super::art::{colours, says};
use super::json::rounded;
use crate::art::facts::{ArtFacts, ArtFinding};
use crate::art::lines::{Grade, Stretch};
use crate::art::on_art::{JudgedLine, JudgedTitle};
use crate::report::fit::Findings;
use crate::report::mends::{ArtAdvice, Mend, PlaceMends, VainMend};
use crate::report::places::FitPlace;
use crate::report::quiet::{QuietFinding, TriedRoom};
use crate::report::{Legibility, Report};
use crate::setting::SpineTitle;
use crate::setting::findings::{Runt, Uneven};
use crate::units::{Length as Distance, Rect};

/// A place of copy with what it holds, takes and leaves. Lengths are from the head left corner of its face.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct PlaceJson {
    /// What the brief calls the place; `live area` for the part of the panel where all stands that no place holds.
    name: String,
    /// `back panel`, `front flap` or `back flap`.
    face: &'static str,
    /// The parts of the draft that stand in the place: `blurb`, `quote 2`.
    blocks: Vec<String>,
    /// `box`, `ellipse`, `round`, `polygon` or, of a file, `outline`; the next four are then the box that the shape
    /// fills.
    shape: &'static str,
    /// The left edge of the place, less its inset where it is a box.
    x_pt: f64,
    /// The upper edge; that of the copy's beginning where the place follows another.
    y_pt: f64,
    /// From the left edge to the right one.
    width_pt: f64,
    /// From the upper edge to the foot.
    height_pt: f64,
    /// Whether every line stands in the place and none is wider than its measure.
    fits: bool,
    /// Lines set, those over included.
    lines: usize,
    /// Lines that the place holds.
    lines_available: usize,
    /// Lines that do not fit.
    lines_over: usize,
    /// Lines that are left, of the type of the place's last block.
    lines_spare: usize,
    /// Words on the lines that are over.
    words_over: usize,
    /// Letters on the lines that are over.
    letters_over: usize,
    /// About how many words would still go in, by the copy's own average.
    words_spare: usize,
    /// About how many letters would still go in, by the copy's own average.
    letters_spare: usize,
    /// From the head of the place to the foot of the last line, all columns in a row.
    depth_used_pt: f64,
    /// The height of the place, times its columns.
    depth_available_pt: f64,
}

impl PlaceJson {
    pub(super) fn of(place: &FitPlace) -> Self {
        let (live, cast) = (place.live, &place.castoff);
        Self {
            name: place.name.clone(),
            face: place.face.name(),
            blocks: place.blocks.clone(),
            shape: place.shape,
            x_pt: points(live.x),
            y_pt: points(live.y),
            width_pt: points(live.width),
            height_pt: points(live.height),
            fits: place.fits(),
            lines: cast.lines,
            lines_available: cast.lines_available,
            lines_over: cast.lines_over,
            lines_spare: cast.lines_spare,
            words_over: place.over.words,
            letters_over: place.over.letters,
            words_spare: place.spare.words,
            letters_spare: place.spare.letters,
            depth_used_pt: points(cast.depth_used),
            depth_available_pt: points(cast.depth_available),
        }
    }
}

/// The book's title on its spine, in one line.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct SpineJson {
    /// What is printed.
    title: String,
    /// Whether the title goes between head and foot, and its letters between the folds.
    fits: bool,
    /// `descending`, from head to foot, or `ascending`, from foot to head.
    direction: &'static str,
    /// The size of the title.
    size_pt: f64,
    /// How long the title is.
    length_pt: f64,
    /// The height of the spine less its margins at head and foot.
    room_pt: f64,
    /// From the highest ink of the letters to the lowest.
    height_pt: f64,
    /// The width of the spine less the room that stays clear of either fold.
    width_room_pt: f64,
    /// The largest size that fits, from 3 to 200 pt in steps of 0.1; null where none does.
    largest_size_pt: Option<f64>,
}

impl SpineJson {
    pub(super) fn of(title: &SpineTitle) -> Self {
        Self {
            title: title.text.clone(),
            fits: title.fits(),
            direction: title.direction.name(),
            size_pt: points(title.set.size),
            length_pt: points(title.length()),
            room_pt: points(title.live.width),
            height_pt: points(title.height()),
            width_room_pt: points(title.live.height),
            largest_size_pt: title.largest_size().map(points),
        }
    }
}

/// How the lines fall.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct FindingsJson {
    /// Last lines of paragraphs that are one short word.
    runts: Vec<RuntJson>,
    /// Lines that end with the same word as the line before them, counted from 1.
    lines_that_end_alike: Vec<usize>,
    /// Lines that are much shorter than both their neighbours.
    short_lines: Vec<ShortJson>,
    /// Lines, counted from 1, that stand on another side of a keep-out than the line before them in their paragraph;
    /// looked for where the brief has places or shapes.
    lines_on_another_side: Vec<usize>,
    /// Full lines of the blurb of fewer than 45 characters.
    lines_under_45: usize,
    /// Lines of the blurb of more than 75 characters.
    lines_over_75: usize,
}

/// A last line that is one short word.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct RuntJson {
    /// The line, counted from 1.
    line: usize,
    /// How many letters the line has.
    letters: usize,
    /// How much of its measure the line takes.
    percent: usize,
}

/// A line that is much shorter than both its neighbours.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ShortJson {
    /// The line, counted from 1.
    line: usize,
    /// How long the line is, as a part of its shorter neighbour; in a shape, how much of its measure it takes, as a
    /// part of what that neighbour takes of its own.
    percent: usize,
    /// How much of its measure the line takes, where the lines beside it have other measures; null elsewhere.
    percent_of_measure: Option<usize>,
}

impl FindingsJson {
    pub(super) fn of(findings: &Findings) -> Self {
        let runt = |runt: &Runt| RuntJson { line: runt.line + 1, letters: runt.letters, percent: runt.percent };
        let alike = |uneven: &Uneven| match uneven {
            Uneven::EndsAlike { line, .. } => Some(line + 1),
            Uneven::Short { .. } => None,
        };
        let short = |uneven: &Uneven| match uneven {
            Uneven::Short { line, percent, of_measure } => {
                Some(ShortJson { line: line + 1, percent: *percent, percent_of_measure: *of_measure })
            }
            Uneven::EndsAlike { .. } => None,
        };
        Self {
            runts: findings.runts.iter().map(runt).collect(),
            lines_that_end_alike: findings.rag.iter().filter_map(alike).collect(),
            short_lines: findings.rag.iter().filter_map(short).collect(),
            lines_on_another_side: findings.jumps.iter().map(|line| line + 1).collect(),
            lines_under_45: findings.lengths.under,
            lines_over_75: findings.lengths.over,
        }
    }
}

/// Whether the copy can be read on its art, line by line.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct LegibilityJson {
    /// How many lines, the title on its spine with them, are clear: a stand-out ratio of 6 in each word, and a contrast
    /// ratio of 4.5 (3 for large type, by WCAG 2.2) in each letter.
    clear: usize,
    /// How many lines are hard to read.
    hard: usize,
    /// How many lines are lost: a stand-out ratio below 3, or a contrast ratio below 1.8.
    lost: usize,
    /// Every line that stands on art.
    lines: Vec<JudgedLineJson>,
    /// The title on the art of its spine; null where no art lies there.
    spine_title: Option<JudgedTitleJson>,
    /// What makes every line of a place clear, for each place that has lines that are not.
    mends: Vec<PlaceMendsJson>,
    /// Quiet room on the face that the blurb stands on, the largest first, one with specks last.
    quiet: Vec<QuietJson>,
}

/// A line on its art.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct JudgedLineJson {
    /// The line, counted from 1.
    line: usize,
    /// `clear`, `hard` or `lost`: the worst of its words.
    grade: &'static str,
    /// `black`, `white` or the colour in sRGB, such as `#1f3a5f`.
    ink: String,
    /// The least stand-out ratio of a word; null in a line without words.
    stand_out: Option<f64>,
    /// The least contrast ratio of a letter by WCAG 2.2; null in a line without words.
    ratio: Option<f64>,
    /// Words side by side that are not clear.
    stretches: Vec<StretchJson>,
    /// How thick the thinnest stroke of the letters is, where they are light on a dark ground and it may fill in with
    /// ink; null elsewhere.
    fine_stroke_pt: Option<f64>,
}

/// The title on the art of its spine.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct JudgedTitleJson {
    /// `clear`, `hard` or `lost`: the worst of its words.
    grade: &'static str,
    /// `black`, `white` or the colour in sRGB, such as `#1f3a5f`.
    ink: String,
    /// The least stand-out ratio of a word; null in a title without words.
    stand_out: Option<f64>,
    /// The least contrast ratio of a letter by WCAG 2.2; null in a title without words.
    ratio: Option<f64>,
    /// Words side by side that are not clear, by their bytes in the title.
    stretches: Vec<StretchJson>,
    /// `black` or `white` where that ink makes a title clear that is not; null elsewhere.
    mended_by: Option<String>,
}

/// Words side by side that are not clear.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct StretchJson {
    /// The first byte in the line's text.
    from: usize,
    /// The byte behind the last one.
    to: usize,
    /// The words.
    words: String,
    /// `hard` or `lost`: the worst of the words.
    grade: &'static str,
    /// `faint` where the ink is too near to the art's lightness, `busy` where the art is too uneven: of the worst word.
    why: &'static str,
    /// The least stand-out ratio of a word.
    stand_out: f64,
    /// The least contrast ratio of a letter.
    ratio: f64,
}

/// What was tried for the lines of one place.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct PlaceMendsJson {
    /// The place; null where the copy has no places.
    place: Option<String>,
    /// The lines that are not clear, counted from 1.
    lines: Vec<usize>,
    /// What makes every line of the place clear, each by itself.
    helps: Vec<MendJson>,
    /// What does not: `black ink`, `white ink`, `white tint`, `black tint`, `move`, `larger`.
    in_vain: Vec<String>,
}

/// A change that makes every line of a place clear. What belongs to another sort of change is null.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct MendJson {
    /// `ink`, `tint`, `move` or `larger`.
    change: &'static str,
    /// The colour of the ink or the tint.
    colour: Option<String>,
    /// The least opacity of the tint that does, in hundredths.
    opacity_percent: Option<u8>,
    /// How far the copy goes to the right; to the left where it is below zero.
    right_pt: Option<f64>,
    /// How far the copy goes down; up where it is below zero.
    down_pt: Option<f64>,
    /// The size of the blurb.
    size_pt: Option<f64>,
}

/// A rectangle in which copy of the blurb's ink and size can be read anywhere, from the head left corner of its face.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct QuietJson {
    /// The left edge.
    x_pt: f64,
    /// The upper edge.
    y_pt: f64,
    /// From the left edge to the right one.
    width_pt: f64,
    /// From the upper edge to the foot.
    height_pt: f64,
    /// The ink for which the room is quiet.
    ink: String,
    /// Whether the copy fits there at its size, with every line clear; it was set there.
    fits: bool,
    /// Small places in it where copy could not be read.
    specks: Vec<SpeckJson>,
}

/// A small place in quiet room.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct SpeckJson {
    /// The left edge.
    x_pt: f64,
    /// The upper edge.
    y_pt: f64,
    /// Across.
    width_pt: f64,
    /// Down.
    height_pt: f64,
}

impl LegibilityJson {
    /// Judged lines, with what was tried for them; `text` gives the words of a set line by its number.
    pub(super) fn of<'t>(art: &Legibility, advice: &ArtAdvice, text: impl Fn(usize) -> &'t str) -> Self {
        let rooms = advice.quiet.iter().flat_map(|quiet| quiet.rooms.iter().map(|room| QuietJson::of(room, quiet)));
        Self {
            clear: art.count(Grade::Clear),
            hard: art.count(Grade::Hard),
            lost: art.count(Grade::Lost),
            lines: art.lines.iter().map(|line| JudgedLineJson::of(line, text(line.line))).collect(),
            spine_title: art.title.as_ref().map(JudgedTitleJson::of),
            mends: advice.mends.iter().map(PlaceMendsJson::of).collect(),
            quiet: rooms.collect(),
        }
    }

    /// The judged lines of a report; none where no copy stands on art.
    pub(super) fn of_report(report: &Report, advice: &ArtAdvice) -> Option<Self> {
        let text = |line: usize| report.fit.lines.get(line).map_or("", |line| line.text.as_str());
        Some(Self::of(report.legibility.as_ref()?, advice, text))
    }
}

impl JudgedLineJson {
    fn of(line: &JudgedLine, text: &str) -> Self {
        let mut behind = 0;
        let mut stretch = |(stretch, words): (&Stretch, &String)| {
            let from = text.get(behind..).and_then(|rest| rest.find(words.as_str())).map_or(behind, |at| behind + at);
            behind = from + words.len();
            StretchJson::of(stretch, words, from..behind)
        };
        Self {
            line: line.line + 1,
            grade: line.grade().name(),
            ink: line.colour.to_string(),
            stand_out: line.judgement.stand_out.map(rounded),
            ratio: line.judgement.contrast.map(rounded),
            stretches: line.judgement.stretches.iter().zip(&line.words).map(&mut stretch).collect(),
            fine_stroke_pt: line.fine_reversed.map(points),
        }
    }
}

impl JudgedTitleJson {
    fn of(title: &JudgedTitle) -> Self {
        let stretch = |(stretch, words): (&Stretch, &String)| StretchJson::of(stretch, words, stretch.text.clone());
        Self {
            grade: title.judgement.grade.name(),
            ink: title.colour.to_string(),
            stand_out: title.judgement.stand_out.map(rounded),
            ratio: title.judgement.contrast.map(rounded),
            stretches: title.judgement.stretches.iter().zip(&title.words).map(stretch).collect(),
            mended_by: title.mended_by.map(|ink| ink.to_string()),
        }
    }
}

impl StretchJson {
    fn of(stretch: &Stretch, words: &str, bytes: Range<usize>) -> Self {
        Self {
            from: bytes.start,
            to: bytes.end,
            words: words.to_owned(),
            grade: stretch.grade.name(),
            why: stretch.cause.name(),
            stand_out: rounded(stretch.stand_out),
            ratio: rounded(stretch.contrast),
        }
    }
}

impl PlaceMendsJson {
    fn of(mends: &PlaceMends) -> Self {
        let in_vain = |mend: &VainMend| match mend {
            VainMend::Ink(colour) => format!("{colour} ink"),
            VainMend::Tint(colour) => format!("{colour} tint"),
            VainMend::Move => "move".to_owned(),
            VainMend::Larger => "larger".to_owned(),
        };
        Self {
            place: mends.name.clone(),
            lines: mends.lines.iter().map(|line| line + 1).collect(),
            helps: mends.helps.iter().map(MendJson::of).collect(),
            in_vain: mends.in_vain.iter().map(in_vain).collect(),
        }
    }
}

impl MendJson {
    fn of(mend: &Mend) -> Self {
        match mend {
            Mend::Ink(colour) => Self { change: "ink", colour: Some(colour.to_string()), ..Self::default() },
            Mend::Tint { colour, percent } => Self {
                change: "tint",
                colour: Some(colour.to_string()),
                opacity_percent: Some(*percent),
                ..Self::default()
            },
            Mend::Move(by) => {
                Self { change: "move", right_pt: Some(points(by.x)), down_pt: Some(points(by.y)), ..Self::default() }
            }
            Mend::Larger(size) => Self { change: "larger", size_pt: Some(points(*size)), ..Self::default() },
        }
    }
}

impl QuietJson {
    fn of(tried: &TriedRoom, quiet: &QuietFinding) -> Self {
        let Rect { x, y, width, height } = tried.room.rect;
        let speck = |speck: &Rect| SpeckJson {
            x_pt: points(speck.x),
            y_pt: points(speck.y),
            width_pt: points(speck.width),
            height_pt: points(speck.height),
        };
        Self {
            x_pt: points(x),
            y_pt: points(y),
            width_pt: points(width),
            height_pt: points(height),
            ink: quiet.ink.to_string(),
            fits: tried.fits,
            specks: tried.room.specks.iter().map(speck).collect(),
        }
    }
}

fn points(length: Distance) -> f64 {
    rounded(length.to_pt())
}

/// The art of a book.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct ArtJson {
    /// The picture of each face that has one, the panel's first, and behind it those of the face's places.
    files: Vec<ArtFileJson>,
    /// Whether the copy can be read on it; left out where no copy stands on art.
    #[serde(flatten)]
    copy: Option<LegibilityJson>,
}

impl ArtJson {
    /// The art of a report, with what was tried for the lines on it; none where no face has art.
    pub(super) fn of(report: &Report, advice: &ArtAdvice) -> Option<Self> {
        let files: Vec<ArtFileJson> = report.art.iter().map(ArtFileJson::of).collect();
        (!files.is_empty()).then(|| Self { files, copy: LegibilityJson::of_report(report, advice) })
    }
}

/// The art of one face or one place, as it is printed.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct ArtFileJson {
    /// `back panel`, `front flap` or `back flap`.
    face: &'static str,
    /// The place that it fills; null where it is the face's own.
    place: Option<String>,
    /// The file as the brief names it.
    file: String,
    /// `scene`, `round` or `spot`.
    kind: &'static str,
    /// `bleed` or `trim`; the art of a place ends with the place, and here `trim` stands for that.
    placed: &'static str,
    /// The picture's columns and rows.
    pixels: [usize; 2],
    /// The pixels to the inch as it is printed.
    ppi: f64,
    /// `grey`, `RGB` or `CMYK`.
    colour: &'static str,
    /// The name of its colour profile where that is not sRGB's; null where it is, or where there is none.
    profile: Option<String>,
    /// The most ink that a pixel takes, all inks together, in percent of one full ink; null but for CMYK.
    most_ink: Option<usize>,
    /// What its shape cuts off, in points: at both sides together, and at head and foot together.
    cut: [f64; 2],
    /// Whether it goes past the trim at every edge at which it should.
    bleed: bool,
    /// What should be looked at.
    queries: Vec<ArtQueryJson>,
}

/// Something about art that should be looked at.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct ArtQueryJson {
    /// `art too small`, `art shape`, `no bleed`, `too much ink`, `grey paper`, `near the trim`, `seam`, `over the fold`
    /// or `crowded by art`.
    name: &'static str,
    /// What it is, as a sentence without its stop.
    says: String,
}

impl ArtFileJson {
    pub(super) fn of(facts: &ArtFacts) -> Self {
        let stops = |finding: &ArtFinding| matches!(finding, ArtFinding::StopsAtTrim | ArtFinding::BlankBleed(_));
        let query = |finding: &ArtFinding| ArtQueryJson { name: finding.name(), says: says(finding, facts) };
        Self {
            face: facts.face.name(),
            place: facts.place.clone(),
            file: facts.file.to_string_lossy().into_owned(),
            kind: facts.kind,
            placed: facts.placed.name(),
            pixels: [facts.pixels.0, facts.pixels.1],
            ppi: rounded(facts.ppi),
            colour: colours(facts.model),
            profile: facts.profile.clone(),
            most_ink: facts.most_ink,
            cut: [rounded(facts.cut.0.to_pt()), rounded(facts.cut.1.to_pt())],
            bleed: !facts.findings.iter().any(stops),
            queries: facts.findings.iter().map(query).collect(),
        }
    }
}
