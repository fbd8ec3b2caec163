//! What the set lines are like, in words: how they fall (runts, an uneven edge, lines on different sides, lines that
//! are short or long to read), and whether they can be read on their art, what would mend it and where there is quiet
//! room.

use super::sheet::TextPage;
use super::visible::visible;
use super::words::{counted, joined};
use crate::art::lines::{CLEAR_STAND_OUT, Grade, LineJudgement, LineLetters, Stretch, contrast_wanted};
use crate::art::on_art::{JudgedLine, JudgedTitle};
use crate::brief::colour::Colour;
use crate::report::Legibility;
use crate::report::fit::Findings;
use crate::report::mends::{ArtAdvice, Mend, PlaceMends, VainMend};
use crate::report::quiet::{QuietFinding, TriedRoom};
use crate::setting::findings::{Runt, Uneven};
use crate::units::nouns::agrees;
use crate::units::{Length, Point, Rect, trimmed};

/// How many lines are told one by one.
const MOST_TOLD: usize = 12;
/// How many specks are told one by one.
const MOST_SPECKS: usize = 3;

/// One sentence for each finding, without a full stop; `lines` are the printed lines.
pub(super) fn sentences(findings: &Findings, lines: &[&str]) -> Vec<String> {
    let line = |at: usize| visible(lines.get(at).copied().unwrap_or_default());
    let runt = |runt: &Runt| {
        let letters = counted(runt.letters, "letter");
        format!(
            "line {} is a runt, a last line of one short word: \"{}\", {letters}, {} % of its measure",
            runt.line + 1,
            line(runt.line),
            runt.percent
        )
    };
    let uneven = |uneven: &Uneven| match uneven {
        Uneven::EndsAlike { line: at, .. } => {
            let text = line(*at);
            let last = text.split_whitespace().last().unwrap_or_default();
            format!("lines {at} and {} end alike, with \"{last}\"", at + 1)
        }
        Uneven::Short { line: at, percent, of_measure: None } => {
            format!("line {} is short: {percent} % of the shorter line beside it", at + 1)
        }
        Uneven::Short { line: at, of_measure: Some(percent), .. } => {
            format!("line {} is short: it takes {percent} % of its measure, and the lines beside it more", at + 1)
        }
    };
    let mut sentences: Vec<String> = findings.runts.iter().map(runt).collect();
    sentences.extend(findings.rag.iter().map(uneven));
    let jump = |at: &usize| format!("lines {at} and {} stand on different sides of a keep-out or place", at + 1);
    sentences.extend(findings.jumps.iter().map(jump));
    let lengths = &findings.lengths;
    let of_all = |count: usize| format!("{count} of {} of the blurb", counted(lengths.lines, "line"));
    if lengths.over > 0 {
        sentences.push(format!("longer than the 75 characters that are easy to read: {}", of_all(lengths.over)));
    }
    if lengths.under > 0 {
        sentences.push(format!("shorter than the 45 characters that are easy to read: {}", of_all(lengths.under)));
    }
    sentences
}

/// The sections on ink and on quiet room; empty where no copy stands on art.
pub(super) fn on_art(art: Option<&Legibility>, advice: &ArtAdvice, columns: usize) -> [String; 2] {
    let Some(art) = art else { return Default::default() };
    [ink(art, advice, columns), advice.quiet.as_ref().map_or_else(String::new, |quiet| quiet_room(quiet, columns))]
}

/// The section on ink: how many lines are clear in each, what is not, and what would mend it.
fn ink(art: &Legibility, advice: &ArtAdvice, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let labels = std::iter::once("Ink").chain(std::iter::repeat(""));
    for (sentence, label) in inks(art).iter().zip(labels) {
        sheet.labelled(label, sentence);
    }
    for sentence in lines_not_clear(art) {
        sheet.item(&sentence);
    }
    for sentence in advice.mends.iter().flat_map(mends) {
        sheet.labelled("", &sentence);
    }
    let title = art.title.as_ref().filter(|title| title.judgement.grade != Grade::Clear);
    if art.not_clear().next().is_some() || title.is_some() {
        sheet.labelled("", WHOSE_FIGURES);
    }
    sheet.text()
}

/// How many lines of each ink have which grade, a sentence each.
pub(super) fn inks(art: &Legibility) -> Vec<String> {
    let told = |(colour, lines): (Colour, Vec<&JudgedLine>)| format!("{colour}: {}", grades(&lines));
    let title = art
        .title
        .as_ref()
        .map(|title| format!("{}: the title on the spine, {}", title.colour, title.judgement.grade.name()));
    let all: Vec<String> = by_ink(&art.lines).into_iter().map(told).chain(title).collect();
    if all.is_empty() { vec!["no line stands on the art".to_owned()] } else { all }
}

/// A sentence for each of the first lines that are not clear, and how many more there are.
pub(super) fn lines_not_clear(art: &Legibility) -> Vec<String> {
    let mut told: Vec<String> = art.not_clear().filter_map(not_clear).collect();
    let more = told.len().saturating_sub(MOST_TOLD);
    told.truncate(MOST_TOLD);
    told.extend((more > 0).then(|| format!("and {}", counted(more, "more line"))));
    told.extend(art.title.as_ref().and_then(title_not_clear));
    told
}

/// What is said below the figures on lines that are not clear: whose measure they are.
const WHOSE_FIGURES: &str = "Stand-out is this program's own measure: how far ink is from the art's lightness, in \
                             spreads of it; 6 and 3 were found with a program that reads pictures, not with readers. \
                             The contrast ratio is that of WCAG 2.2, 4.5:1, or 3:1 for large type; that a line is lost \
                             below 1.8:1 is this program's own. Inks are a screen's estimate, but for black.";

/// The lines of each ink, in the order in which the inks first stand in the copy.
fn by_ink(lines: &[JudgedLine]) -> Vec<(Colour, Vec<&JudgedLine>)> {
    let mut all: Vec<(Colour, Vec<&JudgedLine>)> = Vec::new();
    for line in lines {
        match all.iter_mut().find(|(colour, _)| *colour == line.colour) {
            Some((_, lines)) => lines.push(line),
            None => all.push((line.colour, vec![line])),
        }
    }
    all
}

/// How many lines have each grade: `9 lines clear, 1 hard, 1 lost`.
fn grades(lines: &[&JudgedLine]) -> String {
    let count = |grade: Grade| lines.iter().filter(|line| line.grade() == grade).count();
    let mut told = format!("{} {}", counted(count(Grade::Clear), "line"), Grade::Clear.name());
    for grade in [Grade::Hard, Grade::Lost] {
        if count(grade) > 0 {
            told.push_str(&format!(", {} {}", count(grade), grade.name()));
        }
    }
    told
}

/// A sentence on a line that is not clear, with the words of its worst stretch; none of a line that is.
fn not_clear(line: &JudgedLine) -> Option<String> {
    unread(&format!("line {}", line.line + 1), (&line.judgement, &line.words), &line.letters)
}

/// A sentence on a title that is not clear, and which ink would make it so; none of a title that is.
fn title_not_clear(title: &JudgedTitle) -> Option<String> {
    let told = unread("the title on the spine", (&title.judgement, &title.words), &title.letters)?;
    Some(match title.mended_by {
        Some(ink) => format!("{told}; {ink} ink makes it clear"),
        None => format!("{told}; neither black nor white ink makes it clear"),
    })
}

/// A sentence on what is not clear, with the words of its worst stretch.
fn unread(what: &str, (judgement, words): (&LineJudgement, &[String]), letters: &LineLetters) -> Option<String> {
    let others = words.len().saturating_sub(1);
    let stretches = judgement.stretches.iter().zip(words);
    let (worst, words) = stretches
        .min_by(|(one, _), (other, _)| (other.grade.cmp(&one.grade)).then(one.stand_out.total_cmp(&other.stand_out)))?;
    let Stretch { grade, cause, stand_out, contrast, .. } = worst;
    let all = &letters.words;
    let is_whole = all.first().map(|word| word.text.start) == Some(worst.text.start)
        && all.last().map(|word| word.text.end) == Some(worst.text.end);
    let others = match others {
        0 => String::new(),
        others => format!(" and in {}", counted(others, "other place")),
    };
    let place = if is_whole { "throughout".to_owned() } else { format!("at \"{}\"{others}", visible(words)) };
    Some(format!(
        "{what} is {} {place}, {}: stand-out {} of {}, contrast {}:1 of {}:1",
        grade.name(),
        cause.name(),
        floored(*stand_out),
        trimmed(CLEAR_STAND_OUT, 1),
        floored(*contrast),
        trimmed(contrast_wanted(letters.is_large), 1)
    ))
}

/// A ratio to a tenth, rounded down, so that none that is too low is told as one that does.
fn floored(ratio: f64) -> String {
    trimmed((ratio * 10.0).floor() / 10.0, 1)
}

/// What makes every line of a place clear, and what does not.
pub(super) fn mends(place: &PlaceMends) -> Vec<String> {
    let of = place.name.as_ref().map_or_else(String::new, |name| format!(" in \"{}\"", visible(name)));
    let helps: Vec<String> = place.helps.iter().map(mend).collect();
    let in_vain: Vec<String> = place.in_vain.iter().map(vain).collect();
    let does = agrees(in_vain.len(), "does", "do");
    let (helped, failed) = (helps.len(), joined(in_vain));
    let mut told = vec![match helped {
        0 => format!("nothing that was tried makes every line{of} clear: {failed}"),
        1 => format!("this makes every line{of} clear: {}", joined(helps)),
        _ => format!("each of these makes every line{of} clear: {}", helps.join("; ")),
    }];
    told.extend((helped > 0 && !failed.is_empty()).then(|| format!("{failed} {does} not")));
    told
}

fn mend(mend: &Mend) -> String {
    match mend {
        Mend::Ink(colour) => format!("{colour} ink"),
        Mend::Tint { colour, percent } => format!("a {colour} tint of {percent} % behind the copy"),
        Mend::Move(by) => format!("the copy {}", way(*by)),
        Mend::Larger(size) => format!("type of {size}"),
    }
}

fn vain(mend: &VainMend) -> String {
    match mend {
        VainMend::Ink(colour) => format!("{colour} ink"),
        VainMend::Tint(colour) => format!("a {colour} tint"),
        VainMend::Move => "another place near by".to_owned(),
        VainMend::Larger => "larger type".to_owned(),
    }
}

/// A way on the face: `10.2 mm lower and 3 mm to the left`.
fn way(by: Point) -> String {
    let along = |length: Length, less: &str, more: &str| {
        let word = if length < Length::ZERO { less } else { more };
        (length != Length::ZERO).then(|| format!("{} {word}", mm(length.max(-length))))
    };
    joined([along(by.y, "higher", "lower"), along(by.x, "to the left", "to the right")].into_iter().flatten().collect())
}

/// The section on quiet room: the largest in which the copy fits, or else the largest.
fn quiet_room(quiet: &QuietFinding, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    let Some(best) = quiet.best() else {
        sheet.labelled("Quiet", &format!("no room on the {} is quiet enough for {} ink", quiet.face.name(), quiet.ink));
        return sheet.text();
    };
    // Where the room is, whether the copy goes there, how a brief would ask for it, and the specks for the author to
    // judge.
    let TriedRoom { room, takes, fits, margins } = best;
    let Rect { x, y, width, height } = room.rect;
    sheet.labelled(
        "Quiet",
        &format!(
            "{} by {} for {} ink, {} from the left edge of the {} and {} from its head",
            mm(width),
            mm(height),
            quiet.ink,
            mm(x),
            quiet.face.name(),
            mm(y)
        ),
    );
    let copy =
        quiet.place.as_ref().map_or_else(|| "the copy".to_owned(), |name| format!("the copy of \"{}\"", visible(name)));
    let takes =
        takes.map_or_else(String::new, |takes| format!(" and takes {} by {}", mm(takes.width), mm(takes.height)));
    sheet.labelled(
        "",
        &match fits {
            true => format!("{copy} fits there at its size{takes}, with every line clear"),
            false => format!("{copy} does not fit there at its size"),
        },
    );
    if let Some(margins) = margins.filter(|_| *fits) {
        let all = [
            ("head", margins.head),
            ("foot", margins.foot),
            ("spine", margins.spine),
            ("fore-edge", margins.fore_edge),
        ];
        let all = all.map(|(edge, margin)| format!("{edge}: {}", mm(margin))).join(", ");
        sheet.labelled("", &format!("in the brief: margins: {{ {all} }}"));
    }
    for speck in room.specks.iter().take(MOST_SPECKS) {
        let (x, y) = (mm(speck.x), mm(speck.y));
        sheet.item(&format!("a speck in it, {x} from the left edge and {y} from the head"));
    }
    if room.specks.len() > MOST_SPECKS {
        sheet.item(&format!("and {}", counted(room.specks.len() - MOST_SPECKS, "more speck")));
    }
    sheet.text()
}

fn mm(length: Length) -> String {
    format!("{} mm", trimmed(length.to_mm(), 1))
}
