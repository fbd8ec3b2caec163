//! The report on one draft as JSON, and what stands in its place where a draft could not be read, so that a script sees
//! as many objects as drafts.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::fit_data::{ArtJson, FindingsJson, PlaceJson, SpineJson};
use super::json::{SpanJson, Style, rounded, written};
use super::level_data::{LevelDetail, LevelJson};
use super::terms_data::AnswersJson;
use super::words::style_name;
use crate::brief::limits::Range;
use crate::brief::typography::StandIn;
use crate::draft::Span;
use crate::queries::SilentRules;
use crate::report::Report;
use crate::report::fit::{Fit, FitLine, MissingStyle, StoodIn};
use crate::report::mends::ArtAdvice;
use crate::report::verdict::{AgainstUsual, Check, Subject};
use crate::setting::stretch::MOST_OFF;
use crate::terms::answers::AnswersInCopy;
use crate::terms::coverage::{Avoided, CoveredTerm, TermPlace};
use crate::text::language::Language;
use crate::units::Length as Distance;

/// The name of the present form.
pub(super) const SCHEMA: &str = "blurbwright-report-2";
/// The name of the present form of what stands in the place of a draft that could not be read.
pub(super) const UNREAD_SCHEMA: &str = "blurbwright-unread-1";

/// The report on one draft.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct ReportJson {
    /// The name of this form: `blurbwright-report-2`.
    schema: &'static str,
    /// Which draft and which brief.
    draft: DraftJson,
    /// How long the blurb is.
    length: LengthJson,
    /// How hard the blurb is to read.
    level: LevelJson,
    /// Which terms headline and blurb carry.
    terms: TermsJson,
    /// How all that is printed stands in the panel.
    fit: FitJson,
    /// Every limit with the value that is held against it, then what is usual of the measures for which the brief has
    /// no limit.
    limits: Vec<LimitJson>,
    /// `within` where all that is printed fits and every limit of the brief is kept, `outside` where not. What is
    /// merely usual does not count.
    verdict: &'static str,
    /// The limits that are not kept, of the brief and the fit.
    outside: Vec<LimitJson>,
    /// Marks of a keyboard that are about to be printed, such as straight quotation marks.
    straight_marks: usize,
    /// The language of the copy, and the rules that do not know it.
    language: LanguageJson,
    /// What was left out of the draft or could not be understood.
    notes: Vec<NoteJson>,
    /// What was told of the document that the draft was read from, such as the comments that were left out; places in
    /// the draft are then those in the Markdown that the desk saves of it. Left out where the draft is a file of text.
    #[serde(skip_serializing_if = "Option::is_none")]
    document: Option<Vec<String>>,
    /// What should be known of the panel, such as a box for a barcode that is too small for one.
    panel_notes: Vec<String>,
    /// The art behind the copy, and whether the copy can be read on it; left out where the brief names no art.
    #[serde(skip_serializing_if = "Option::is_none")]
    art: Option<ArtJson>,
    /// What the draft answers of the questions that a blurb answers; left out where it answers none.
    #[serde(skip_serializing_if = "Option::is_none")]
    answers: Option<AnswersJson>,
}

/// A draft, or a book without one, that could not be read or understood.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct UnreadJson {
    /// The name of this form: `blurbwright-unread-1`.
    schema: &'static str,
    /// The file as it was named, or the book's folder, or a feed's file, a comma and the name of the record; `-` for
    /// standard input.
    path: String,
    /// What went wrong and what to do, as it is told on standard error.
    message: String,
}

impl UnreadJson {
    /// What is told of a file.
    pub fn of(path: &str, message: &str) -> Self {
        Self { schema: UNREAD_SCHEMA, path: path.to_owned(), message: message.to_owned() }
    }

    /// The object as text, without a line ending after it.
    pub fn written(&self, style: Style) -> String {
        written(self, style)
    }
}

/// Where the report's material came from.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct DraftJson {
    /// The draft's file as it was named, or a feed's file, a comma and the name of the record; `-` for standard input,
    /// and for a draft in a record of JSON.
    path: String,
    /// The brief's file; `-` where a record of JSON holds the brief.
    brief: String,
}

/// Counts of the blurb.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct LengthJson {
    /// Grapheme clusters, blanks between words included.
    characters: usize,
    /// Letters of any script.
    letters: usize,
    /// Words by UAX #29; a hyphened word is one.
    words: usize,
    /// Sentences.
    sentences: usize,
    /// Paragraphs that hold a word.
    paragraphs: usize,
    /// Syllables as spoken.
    syllables: u64,
    /// Words of the longest sentence; 0 where there is none.
    longest_sentence_words: usize,
    /// Where the longest sentence stands in the file.
    longest_sentence_span: Option<SpanJson>,
    /// Words per sentence, on average.
    words_per_sentence: Option<f64>,
    /// Seconds of silent reading by an adult (Brysbaert 2019).
    silent_seconds: f64,
    /// Seconds of reading aloud by an adult (Brysbaert 2019).
    aloud_seconds: f64,
}

/// Coverage of the brief's terms.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct TermsJson {
    /// How many terms the brief wants.
    wanted: usize,
    /// How many of them the copy carries.
    covered: usize,
    /// The wanted terms that the copy does not carry.
    missing: Vec<String>,
    /// The wanted terms, in the order of the brief.
    items: Vec<TermJson>,
    /// The wordings to avoid, in the order of the brief.
    avoid: Vec<AvoidedJson>,
}

/// One wanted term.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct TermJson {
    /// The term as the brief has it.
    term: String,
    /// How often the term stands in headline and blurb.
    count: usize,
    /// Whether the term stands in headline or blurb at all.
    present: bool,
    /// Where the term first stands: `headline`, `first_sentence` or `later`; left out where it stands in none of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    first_in: Option<&'static str>,
    /// The draft must carry it.
    must: bool,
    /// The most times that the term may stand in headline and blurb; left out where the brief names none.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<u32>,
    /// Every place of the term.
    spans: Vec<SpanJson>,
}

/// One wording to avoid.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct AvoidedJson {
    /// The wording as the brief has it.
    wording: String,
    /// Every place of the wording.
    spans: Vec<SpanJson>,
}

/// The setting and its cast-off. Lines are of all blocks; `spare` ones are of the blurb's type.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct FitJson {
    /// Whether every line stands in its place and none is wider than its measure, and the title fits on the spine.
    fits: bool,
    /// `serif`, `sans`, what a font file calls itself, its family and its style, or the name of a font that is not at
    /// hand.
    font: String,
    /// The weight of the blurb on the scale of OpenType: 400 is regular, 700 bold.
    weight: u16,
    /// The size of the blurb.
    size_pt: f64,
    /// From baseline to baseline of the blurb.
    leading_pt: f64,
    /// The height of a lower-case x of the blurb, in millimetres.
    x_height_mm: f64,
    /// Lines set, those over included.
    lines: usize,
    /// Lines that the live area holds; with places, the lines that stand in their places, and those that are left in
    /// the blurb's.
    lines_available: usize,
    /// Lines that do not fit.
    lines_over: usize,
    /// Lines of the blurb's type that are left.
    lines_spare: usize,
    /// Words on the lines that are over.
    words_over: usize,
    /// Letters on the lines that are over.
    letters_over: usize,
    /// About how many words would still go in, by this copy's own average.
    words_spare: usize,
    /// About how many letters would still go in, by this copy's own average.
    letters_spare: usize,
    /// From the head of the live area to the foot of the last line.
    depth_used_pt: f64,
    /// The height of the live area.
    depth_available_pt: f64,
    /// The largest size of the blurb that fits, from 4 to 40 pt in steps of 0.1; null where none does.
    largest_size_pt: Option<f64>,
    /// Letters that no font has.
    missing_letters: Vec<String>,
    /// Letters that the block's font lacks, by the built-in font that they are set in.
    letters_stood_in: Vec<StoodInJson>,
    /// Styles that the copy asks for and its font has not.
    styles_missing: Vec<MissingStyleJson>,
    /// Fonts that are not at hand, for which the built-in serif stands in; the fit is an estimate where there is one.
    fonts_stood_in: Vec<EstimateJson>,
    /// The places that keep a larger size from fitting.
    held_by: Vec<String>,
    /// Every place of copy; the live area alone where the brief has no places. The figures above are those of the
    /// blurb's place, but for `lines`, `lines_over`, `words_over` and `letters_over`, which are of all.
    places: Vec<PlaceJson>,
    /// The book's title on its spine; left out where the brief has no spine.
    #[serde(skip_serializing_if = "Option::is_none")]
    spine: Option<SpineJson>,
    /// How the lines fall; none of it makes the draft fit or not.
    findings: FindingsJson,
    /// Every printed line, from the head to the foot.
    set_lines: Vec<LineJson>,
}

/// Letters set in another font than their block's.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct StoodInJson {
    /// `serif` or `sans`.
    font: String,
    /// The letters, in the order in which they first stand in the copy.
    letters: Vec<String>,
}

/// Bold or italic that the copy asks for, of a font that has no such face.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct MissingStyleJson {
    /// What the font's family is called.
    font: String,
    /// `bold`, `italic` or `bold italic`.
    style: &'static str,
    /// What the face is called in which it is set.
    set_in: String,
}

/// A font that is not at hand and is stood in for by the length of its alphabet.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct EstimateJson {
    /// What the font is called.
    font: String,
    /// The length of a to z in the font.
    alphabet_pt: f64,
    /// The size at which the alphabet has that length.
    at_pt: f64,
    /// By how many hundredths of its length a line may come out longer or shorter, fonts for typewriters apart.
    off_percent: u32,
}

/// One printed line.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct LineJson {
    /// What is printed.
    text: String,
    /// What part of the copy the line belongs to.
    block: &'static str,
    /// The place that the line stands in.
    place: String,
    /// Where the line begins, from the panel's fore-edge or a flap's left edge.
    x_pt: f64,
    /// The line's baseline, from the head of the face.
    y_pt: f64,
    /// How long the line is.
    width_pt: f64,
    /// How long the line may be.
    measure_pt: f64,
    /// Whether the line stands below its place.
    over: bool,
    /// Whether the line holds a word wider than the measure.
    too_wide: bool,
}

/// One limit, or what is usual, and the value that the draft has.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct LimitJson {
    /// What is limited: a measure's key, `term`, `avoid`, `lines_over`, `lines_too_wide`, `spine_title`
    /// (points that the title is too long, or its letters too high), `missing_letters` or, on art, `lines_lost` or
    /// `art_pixels_per_inch`.
    limit: &'static str,
    /// Which term or wording; left out of all else.
    #[serde(skip_serializing_if = "Option::is_none")]
    wording: Option<String>,
    /// Which place, of lines over; left out where the copy has no places.
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<String>,
    /// What the draft has; null where there is nothing to measure.
    value: Option<f64>,
    /// The least that is within; left out where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<f64>,
    /// The most that is within; left out where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    to: Option<f64>,
    /// Whether the value lies in the range. Of a usual range this says nothing about the verdict.
    within: bool,
    /// `brief` for what the author has set, `fit` for what must fit, `art` for what must be readable on its art and
    /// have enough pixels, `usual` for what is only told.
    origin: &'static str,
    /// Where it is said that a range is usual; left out of the others.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<&'static str>,
}

/// The language of a copy, as rules read it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct LanguageJson {
    /// The language's name in English; `another language` for one that no list knows.
    read_as: &'static str,
    /// The language of the brief, where the copy's small words are plainly of another; null where they are not.
    brief_says: Option<&'static str>,
    /// The rules that do not know the language and look for nothing.
    rules_silent: Vec<&'static str>,
}

impl LanguageJson {
    /// The language of a copy, with the rules that do not know it.
    pub(super) fn of(silent: &SilentRules) -> Self {
        Self {
            read_as: silent.language.name(),
            brief_says: silent.brief_says.map(Language::name),
            rules_silent: silent.rules.iter().map(|rule| rule.name()).collect(),
        }
    }
}

/// Something about the draft's form.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct NoteJson {
    /// What was found and what was done about it.
    note: String,
    /// Where it stands.
    span: SpanJson,
}

impl ReportJson {
    /// The report on the draft at `path`, measured by the brief at `brief`, with what was tried for its lines on art,
    /// and so much of its level.
    pub fn of(report: &Report, advice: &ArtAdvice, detail: LevelDetail, (path, brief): (&str, &str)) -> Self {
        Self {
            schema: SCHEMA,
            draft: DraftJson { path: path.to_owned(), brief: brief.to_owned() },
            length: LengthJson::of(report),
            level: LevelJson::of(&report.level, detail),
            terms: TermsJson::of(report),
            fit: FitJson::of(report),
            limits: limits(report),
            verdict: if report.verdict.is_within() { "within" } else { "outside" },
            outside: report.verdict.outside().map(LimitJson::of).collect(),
            straight_marks: report.straight_marks,
            language: LanguageJson::of(&report.silent_rules),
            notes: report
                .notes
                .iter()
                .map(|note| NoteJson { note: note.text.clone(), span: note.span.into() })
                .collect(),
            document: None,
            panel_notes: report.panel_notes.clone(),
            art: ArtJson::of(report, advice),
            answers: None,
        }
    }

    /// The report with what the draft answers.
    pub fn with_answers(self, found: &AnswersInCopy) -> Self {
        Self { answers: AnswersJson::of(found), ..self }
    }

    /// The report with what was told of the document that the draft was read from.
    pub fn with_document(self, told: Option<&[String]>) -> Self {
        Self { document: told.map(<[String]>::to_vec), ..self }
    }
}

impl LengthJson {
    fn of(report: &Report) -> Self {
        let length = &report.length;
        Self {
            characters: length.characters,
            letters: length.letters,
            words: length.words,
            sentences: length.sentences,
            paragraphs: length.paragraphs,
            syllables: length.syllables,
            longest_sentence_words: length.longest_sentence.map_or(0, |sentence| sentence.words),
            longest_sentence_span: length.longest_sentence.map(|sentence| sentence.span.into()),
            words_per_sentence: length.words_per_sentence.map(rounded),
            silent_seconds: rounded(length.silent_seconds),
            aloud_seconds: rounded(length.aloud_seconds),
        }
    }
}

impl TermsJson {
    fn of(report: &Report) -> Self {
        let coverage = &report.coverage;
        let avoided =
            |avoided: &Avoided| AvoidedJson { wording: avoided.wording.clone(), spans: spans(&avoided.spans) };
        Self {
            wanted: coverage.wanted(),
            covered: coverage.covered(),
            missing: coverage.missing().map(|item| item.term.term.clone()).collect(),
            items: coverage.items.iter().map(TermJson::of).collect(),
            avoid: coverage.avoid.iter().map(avoided).collect(),
        }
    }
}

impl TermJson {
    fn of(item: &CoveredTerm) -> Self {
        let place = |place| match place {
            TermPlace::Headline => "headline",
            TermPlace::FirstSentence => "first_sentence",
            TermPlace::Later => "later",
        };
        Self {
            term: item.term.term.clone(),
            count: item.count(),
            present: item.is_present(),
            first_in: item.first_in.map(place),
            must: item.term.must,
            at_most: item.term.at_most,
            spans: spans(&item.spans),
        }
    }
}

impl FitJson {
    fn of(report: &Report) -> Self {
        let fit = &report.fit;
        let cast = &fit.castoff;
        Self {
            fits: fit.fits(),
            font: fit.font.clone(),
            weight: fit.weight.number(),
            size_pt: points(fit.size),
            leading_pt: points(fit.leading),
            x_height_mm: rounded(fit.x_height.to_mm()),
            lines: cast.lines,
            lines_available: cast.lines_available,
            lines_over: cast.lines_over,
            lines_spare: cast.lines_spare,
            words_over: fit.words_over,
            letters_over: fit.letters_over,
            words_spare: fit.words_spare,
            letters_spare: fit.letters_spare,
            depth_used_pt: points(cast.depth_used),
            depth_available_pt: points(cast.depth_available),
            largest_size_pt: fit.largest_size.map(points),
            missing_letters: fit.missing.iter().map(char::to_string).collect(),
            letters_stood_in: fit.stood_in.iter().map(StoodInJson::of).collect(),
            styles_missing: fit.styles_missing.iter().map(MissingStyleJson::of).collect(),
            fonts_stood_in: fit.estimated.iter().map(EstimateJson::of).collect(),
            held_by: fit.held_by.clone(),
            places: fit.told_places().map(PlaceJson::of).collect(),
            spine: fit.spine.as_ref().map(SpineJson::of),
            findings: FindingsJson::of(&fit.findings),
            set_lines: fit.lines.iter().map(|line| LineJson::of(line, fit)).collect(),
        }
    }
}

impl EstimateJson {
    pub(super) fn of(stand_in: &StandIn) -> Self {
        Self {
            font: stand_in.name.clone(),
            alphabet_pt: points(stand_in.alphabet),
            at_pt: points(stand_in.at),
            off_percent: MOST_OFF,
        }
    }
}

impl MissingStyleJson {
    pub(super) fn of(missing: &MissingStyle) -> Self {
        let MissingStyle { font, style, set_in } = missing.clone();
        Self { font, style: style_name(style), set_in }
    }
}

impl StoodInJson {
    fn of(stood_in: &StoodIn) -> Self {
        let letters = stood_in.letters.iter().map(char::to_string).collect();
        Self { font: stood_in.font.to_string(), letters }
    }
}

impl LineJson {
    fn of(line: &FitLine, fit: &Fit) -> Self {
        Self {
            text: line.text.clone(),
            block: line.kind.name(),
            place: fit.places.get(line.set.place).map_or_else(String::new, |place| place.name.clone()),
            x_pt: points(line.set.x),
            y_pt: points(line.set.baseline),
            width_pt: points(line.set.width),
            measure_pt: points(line.set.measure),
            over: line.set.over,
            too_wide: line.set.too_wide,
        }
    }
}

fn limits(report: &Report) -> Vec<LimitJson> {
    let (checks, usual) = (&report.verdict.checks, &report.verdict.usual);
    checks.iter().map(LimitJson::of).chain(usual.iter().map(LimitJson::usual)).collect()
}

impl LimitJson {
    pub(super) fn of(check: &Check) -> Self {
        let Range { from, to } = check.range;
        let wording = match &check.subject {
            Subject::Term(wording) | Subject::Avoided(wording) => Some(wording.clone()),
            _ => None,
        };
        let place = match &check.subject {
            Subject::LinesOver(place) => place.clone(),
            _ => None,
        };
        let origin = match &check.subject {
            Subject::LinesLost | Subject::ArtPixels => "art",
            subject if subject.is_fit() => "fit",
            _ => "brief",
        };
        let value = check.value.map(rounded);
        let limit = check.subject.key();
        Self { limit, wording, place, value, from, to, within: check.is_within(), origin, source: None }
    }

    fn usual(beside: &AgainstUsual) -> Self {
        let AgainstUsual { usual, value } = beside;
        Self {
            limit: usual.measure.key(),
            wording: None,
            place: None,
            value: value.map(rounded),
            from: usual.range.from,
            to: usual.range.to,
            within: beside.beyond().is_none(),
            origin: "usual",
            source: Some(usual.source),
        }
    }
}

fn spans(spans: &[Span]) -> Vec<SpanJson> {
    spans.iter().map(|span| SpanJson::from(*span)).collect()
}

fn points(length: Distance) -> f64 {
    rounded(length.to_pt())
}
