//! Figures in words, as the pages and the one-line answers put them.

use super::visible::visible;
use crate::art::lines::Grade;
use crate::brief::limits::Measure;
use crate::brief::place::{CoverFace, LIVE_AREA};
use crate::brief::typography::{StandIn, Weight};
use crate::draft::Emphasis;
use crate::queries::SilentRules;
use crate::report::Report;
use crate::report::amounts::WordsAndLetters;
use crate::report::fit::{Fit, MissingStyle, StoodIn};
use crate::report::places::FitPlace;
use crate::report::verdict::{Check, Subject, Verdict};
use crate::setting::SpineTitle;
use crate::setting::stretch::MOST_OFF;
use crate::terms::coverage::TermPlace;
use crate::text::language::Language;
use crate::units::nouns::{agrees, some_of};
use crate::units::{Length, trimmed};

pub use crate::units::nouns::counted;

/// How many of the wanted terms the copy carries, in words.
pub(super) fn carried(covered: usize, wanted: usize) -> String {
    let stand = agrees(covered, "stands", "stand");
    match (covered, wanted) {
        (_, 0) => "the brief wants none".to_owned(),
        (0, 1) => "the one wanted term does not stand in the copy".to_owned(),
        (_, 1) => "the one wanted term stands in the copy".to_owned(),
        (0, _) => format!("none of {} stands in the copy", counted(wanted, "wanted term")),
        _ => format!("{} {stand} in the copy", some_of(covered, wanted, "wanted term")),
    }
}

/// How often, in words: `never`, `once`, `twice`, `3 times`.
pub(super) fn times(count: usize) -> String {
    match count {
        0 => "never".to_owned(),
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        _ => format!("{count} times"),
    }
}

/// Items joined in words: `a`, `a and b`, `a, b and c`.
pub fn joined(mut items: Vec<String>) -> String {
    match (items.pop(), items.is_empty()) {
        (None, _) => String::new(),
        (Some(last), true) => last,
        (Some(last), false) => format!("{} and {last}", items.join(", ")),
    }
}

/// A number of seconds as a person would say it.
pub(super) fn seconds(seconds: f64) -> String {
    let whole = seconds.round() as usize;
    match (whole / 60, whole % 60) {
        (0, rest) => counted(rest, "second"),
        (minutes, 0) => counted(minutes, "minute"),
        (minutes, rest) => format!("{} {}", counted(minutes, "minute"), counted(rest, "second")),
    }
}

/// The place where a term first stands, in words.
pub(super) fn place(place: TermPlace) -> &'static str {
    match place {
        TermPlace::Headline => "the headline",
        TermPlace::FirstSentence => "the first sentence",
        TermPlace::Later => "a later sentence",
    }
}

/// The words after a value: ` (the brief has 40 to 100)`, and whether it is outside; without a limit the usual
/// range, ` (usual for a picture book: 40 to 100)`; empty where there is neither.
pub(super) fn limit_of(verdict: &Verdict, measure: Measure) -> String {
    if let Some(check) = verdict.of_measure(measure) {
        let kept = if check.is_within() { "" } else { "outside: " };
        return format!(" ({kept}the brief has {})", check.range);
    }
    verdict.usual_of(measure).map_or(String::new(), |beside| {
        let usual = beside.beyond().map_or("usual".to_owned(), |beyond| format!("{beyond} what is usual"));
        format!(" ({usual} for {}: {})", beside.usual.whose, beside.usual.range)
    })
}

/// A broken limit as a sentence, with a remedy where a single figure gives one.
pub fn told(check: &Check, report: &Report) -> String {
    let value = check.value.map_or("nothing".to_owned(), |value| trimmed(value, 1));
    let range = check.range;
    match &check.subject {
        Subject::Measure(measure) => {
            let name = measure.name();
            match check.value {
                Some(_) => format!("{name}: {value}; the brief has {range}"),
                None => format!("{name}: there are no words to measure; the brief has {range}"),
            }
        }
        Subject::Term(term) if check.value == Some(0.0) => {
            format!("the term \"{}\" must be there and is missing", visible(term))
        }
        Subject::Term(term) => {
            format!("the term \"{}\" is there {}; the brief has {range}", visible(term), times_of(check))
        }
        Subject::Avoided(wording) => {
            format!("\"{}\" is to be avoided and is there {}", visible(wording), times_of(check))
        }
        Subject::LinesOver(place) => over_in(place.as_deref(), report),
        Subject::LinesTooWide => {
            format!("{} a word that is wider than the room beside the margins and keep-outs", holds(check))
        }
        Subject::SpineTitle => report.fit.spine.as_ref().map_or_else(String::new, spine_over),
        Subject::LinesLost => report
            .legibility
            .as_ref()
            .map_or_else(String::new, |art| lost_on_art(art.lines_of(Grade::Lost), art.is_title_lost())),
        Subject::ArtPixels => format!(
            "the art has {value} pixels to the inch where it is printed, so that they will be seen; {} are the least",
            trimmed(range.from.unwrap_or_default(), 0)
        ),
        Subject::NoCopy => "words: 0; there is no copy".to_owned(),
        Subject::MissingLetters => {
            format!("no font at hand has a letter for {}", letters(&report.fit.missing))
        }
    }
}

/// Says that lines are lost on the art, and with them the title on the spine where it is.
pub fn lost_on_art(lines: usize, is_title_lost: bool) -> String {
    let title = "the title on the spine";
    match (lines, is_title_lost) {
        (0, true) => format!("{title} is lost on the art"),
        (_, true) => format!("{} and {title} are lost on the art", counted(lines, "line")),
        (1, false) => "1 line is lost on the art: readers may not make out its words".to_owned(),
        (_, false) => format!("{lines} lines are lost on the art: readers may not make out their words"),
    }
}

fn letters(letters: &[char]) -> String {
    let named = letters.iter().map(|letter| format!("{} (U+{:04X})", visible(&letter.to_string()), u32::from(*letter)));
    joined(named.collect())
}

/// A note on letters that are set in another font because the block's font lacks them.
pub fn stood_in(stood_in: &StoodIn) -> String {
    format!("the font lacks {}: set in the built-in {}", letters(&stood_in.letters), stood_in.font)
}

/// The name of a style.
pub fn style_name(style: Emphasis) -> &'static str {
    match (style.bold, style.italic) {
        (true, true) => "bold italic",
        (true, false) => "bold",
        (false, true) => "italic",
        (false, false) => "regular",
    }
}

/// A note that the copy needs a style that its font lacks, and what to do.
pub fn style_missing(missing: &MissingStyle) -> String {
    let MissingStyle { font, style, set_in } = missing;
    let style = style_name(*style);
    format!(
        "the font {} has no {style} at hand: what is {style} is set in {}; put the file of that style beside the \
         font's own, or name it in the brief",
        visible(font),
        visible(set_in)
    )
}

/// A note that marks of a keyboard are about to be printed, and what sets the printed ones.
pub fn straight_marks(count: usize) -> String {
    format!(
        "{} {} a typewriter's, and would be printed as {}: `blurbwright tighten --apply marks` makes a draft with \
         printed ones",
        counted(count, "mark"),
        agrees(count, "is", "are"),
        agrees(count, "it stands", "they stand")
    )
}

/// What is told of a copy's language: that the brief names another, and which rules do not know it. Each is a sentence
/// without its stop.
pub fn silent_rules(silent: &SilentRules) -> Vec<String> {
    let language = silent.language.name();
    let other = silent.brief_says.map(|says| {
        format!(
            "the words of this copy are {language}, and the book's language is {}: queries are those for {language}; \
             write `language: {}` under `book` in the brief, so that the level, the quotation marks and the \
             division of words go by it too",
            says.name(),
            silent.language.tag()
        )
    });
    let count = silent.rules.len();
    let names = || silent.rules.iter().map(|rule| rule.name()).collect::<Vec<_>>().join(", ");
    let unknown = (count > 0).then(|| {
        let known = if silent.language == Language::Other { "the language of this copy" } else { language };
        let (know, look) = (agrees(count, "does", "do"), agrees(count, "looks", "look"));
        format!("{} {know} not know {known} and {look} for nothing: {}", counted(count, "rule"), names())
    });
    other.into_iter().chain(unknown).collect()
}

/// A warning that the copy is set in estimated widths because its font is not at hand, with the possible error.
pub fn estimate(stand_in: &StandIn) -> String {
    format!(
        "an estimate: the font {} is not at hand; the serif stands in for it by its alphabet length, and lines may \
         come out up to {MOST_OFF} letters in a hundred longer or shorter (not for typewriter faces); the x-height is \
         the serif's",
        visible(&stand_in.name)
    )
}

/// What the copy is set in: the font, and its weight where it is not regular and the font's name does not include it.
pub fn type_words(fit: &Fit) -> String {
    let font = visible(&fit.font);
    let is_told = fit.weight == Weight::REGULAR || fit.weight_in_name;
    if is_told { font.into_owned() } else { format!("{font} ({})", fit.weight) }
}

fn times_of(check: &Check) -> String {
    times(check.value.unwrap_or_default() as usize)
}

fn holds(check: &Check) -> String {
    let lines = check.value.unwrap_or_default() as usize;
    format!("{} {}", counted(lines, "line"), agrees(lines, "holds", "hold"))
}

/// `4 words (25 letters)`: the form for all copy that is over, has room, or can go.
pub fn amount(words: usize, letters: usize) -> String {
    format!("{} ({})", counted(words, "word"), counted(letters, "letter"))
}

fn over(report: &Report) -> String {
    let fit = &report.fit;
    lines_over(fit.castoff.lines_over, "", WordsAndLetters { words: fit.words_over, letters: fit.letters_over })
}

/// In which place, as a sentence says it behind what is there; nothing where the brief has no places.
pub(super) fn in_place(name: Option<&str>) -> String {
    name.map_or(String::new(), |name| format!(" in {}", named(name)))
}

/// What is over in a place; without its name, in all.
fn over_in(place: Option<&str>, report: &Report) -> String {
    match place.and_then(|name| report.fit.places.iter().find(|place| place.name == name)) {
        Some(place) => lines_over(place.castoff.lines_over, &format!(" in {}", place_name(place)), place.over),
        None => over(report),
    }
}

/// What a page calls a place: the author's own name in quotation marks.
pub fn place_name(place: &FitPlace) -> String {
    named(&place.name)
}

/// What a page calls the place of a name: `the live area`, `the front flap`, or the author's own name in quotation
/// marks.
pub fn named(place: &str) -> String {
    let flaps = [CoverFace::FrontFlap, CoverFace::BackFlap].map(CoverFace::name);
    let is_ours = place == LIVE_AREA || flaps.contains(&place);
    if is_ours { format!("the {place}") } else { format!("\"{}\"", visible(place)) }
}

fn lines_over(lines: usize, place: &str, over: WordsAndLetters) -> String {
    let (verb, copy) = (agrees(lines, "is", "are"), amount(over.words, over.letters));
    format!("{} {verb} over{place}: {copy} too many at this size", counted(lines, "line"))
}

/// The largest size that fits, and the places that hold it down.
pub fn largest_size(fit: &Fit) -> String {
    let Some(size) = fit.largest_size else { return "no size from 4 to 40 pt fits".to_owned() };
    let held = if fit.has_places { held_by(&fit.held_by, fit.places.iter()) } else { String::new() };
    format!("the largest size that fits is {size}{held}")
}

/// The places that hold the largest size down: `, held by "bubble"`; empty where none does.
pub(super) fn held_by<'p>(names: &[String], places: impl Iterator<Item = &'p FitPlace>) -> String {
    let named = places.filter(|place| names.contains(&place.name)).map(place_name);
    match joined(named.collect()).as_str() {
        "" => String::new(),
        held => format!(", held by {held}"),
    }
}

/// A place with what stands in it: `"bubble" (headline): 3 lines set, 4 available; 1 line is left`.
pub fn place_line(place: &FitPlace) -> String {
    format!("{}: {}", place_and_blocks(place), place_sentence(place))
}

/// A place with its face and the names of what stands in it: `"life" on the back flap (note on the author)`.
pub(super) fn place_and_blocks(place: &FitPlace) -> String {
    let is_told = place.face != CoverFace::Panel && place.name != place.face.name();
    let face = if is_told { format!(" on the {}", place.face.name()) } else { String::new() };
    let blocks = if place.blocks.is_empty() { String::new() } else { format!(" ({})", joined(place.blocks.clone())) };
    format!("{}{face}{blocks}", place_name(place))
}

/// How the copy of a place stands in it, in one sentence.
pub fn place_sentence(place: &FitPlace) -> String {
    let cast = &place.castoff;
    if place.blocks.is_empty() {
        return "no copy stands here".to_owned();
    }
    let available = match cast.lines_available {
        0 => "and none goes in".to_owned(),
        lines => format!("{lines} available"),
    };
    let lines = format!("{} set, {available}", counted(cast.lines, "line"));
    if cast.lines_over > 0 {
        return format!("{lines}; {}", lines_over(cast.lines_over, "", place.over));
    }
    match cast.lines_spare {
        _ if place.lines_too_wide > 0 => format!("{lines}; a word is wider than its line"),
        0 => format!("{lines}; no line is left"),
        spare => format!("{lines}; {} {} left", counted(spare, "line"), agrees(spare, "is", "are")),
    }
}

/// By how much the title does not fit on the spine, and the size at which it does: `the title is 3.2 mm too long for
/// the spine; 14.5 pt is the largest size that fits`.
pub fn spine_over(title: &SpineTitle) -> String {
    // What would be rounded to nothing is told to more decimals.
    let told = |length: Length| match length < Length::mm(0.1) {
        true => title.unit.written(length),
        false => title.unit.told(length),
    };
    let long = title.too_long().map(|over| format!("the title is {} too long", told(over)));
    let whose = if long.is_some() { "its" } else { "the title's" };
    let high = title.too_high().map(|over| format!("{whose} letters are {} too high", told(over)));
    let faults = joined([long, high].into_iter().flatten().collect());
    format!("{faults} for the spine; {}", largest_on_spine(title))
}

/// The title on the spine with its room, in one sentence.
pub fn spine_line(title: &SpineTitle) -> String {
    let told = |length| title.unit.told(length);
    let fits = if title.fits() { "fits" } else { "does not fit" };
    format!(
        "the title on the spine, {}, at {}: {fits}; {} of {} long, letters {} of {} high; {}",
        title.direction.name(),
        title.set.size,
        told(title.length()),
        told(title.live.width),
        told(title.height()),
        told(title.live.height),
        largest_on_spine(title)
    )
}

fn largest_on_spine(title: &SpineTitle) -> String {
    let none = "no size from 3 to 200 pt fits".to_owned();
    title.largest_size().map_or(none, |size| format!("{size} is the largest size that fits"))
}

/// The fit in one sentence.
pub fn fit_sentence(report: &Report) -> String {
    let fit = &report.fit;
    let cast = &fit.castoff;
    let lines = format!("{} set, {} available", counted(cast.lines, "line"), cast.lines_available);
    if cast.lines_over > 0 {
        return format!("does not fit: {lines}; {}", over(report));
    }
    let spare = match cast.lines_spare {
        0 => "no line is left".to_owned(),
        1 => "1 line is left".to_owned(),
        more => format!("{more} lines are left"),
    };
    let room = match (fit.letters_spare, cast.lines_spare) {
        (0, 0) => ", no room for a letter more".to_owned(),
        // Without copy there is nothing from which to estimate the room in words.
        (0, _) => String::new(),
        (letters, _) => format!(", room for about {} more", amount(fit.words_spare, letters)),
    };
    let title = fit.spine.as_ref().filter(|title| !title.fits());
    let spine = title.map_or_else(String::new, |title| format!("; {}", spine_over(title)));
    let fits = if fit.fits() { "fits" } else { "does not fit" };
    format!("{fits}: {lines}; {spare}{room}{spine}")
}
