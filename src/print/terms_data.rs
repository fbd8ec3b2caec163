//! The terms of a draft, and its answers to what a blurb answers, as JSON.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

use super::json::{SpanJson, Style, rounded, written};
use super::terms::{ManuscriptText, SourceText};
use crate::draft::Span;
use crate::report::terms::{NameStanding, TermsReport};
use crate::terms::answers::{AnswerInCopy, AnswerWord, AnswersInCopy, LinePlace};
use crate::terms::borrowed::{Borrowed, Taken};
use crate::terms::coverage::{Avoided, CoveredTerm, TermPlace};
use crate::terms::near::{Near, NearKind};
use crate::terms::spellings::NameSpelling;
use crate::terms::story::{Candidate, Named};

/// The name of the present form of the JSON of `terms`.
pub(super) const SCHEMA: &str = "blurbwright-terms-1";

/// The terms and names of one draft.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct TermsOfDraftJson {
    /// The name of this form.
    schema: &'static str,
    /// The draft as it was named.
    path: String,
    /// `within`, or `outside` where a term that must be there is missing, one is there too often, a wording to be
    /// avoided is there, or a name has a near-twin.
    verdict: &'static str,
    /// The wanted terms, in the order of the brief.
    terms: Vec<TermPlacesJson>,
    /// The wordings to avoid, in the order of the brief.
    avoid: Vec<AvoidedPlacesJson>,
    /// The names of the brief, in its order.
    names: Vec<NameJson>,
    /// What the manuscript says; null where none was named.
    story: Option<StoryJson>,
}

/// A place in a file.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct PlaceJson {
    /// The line, from 1.
    line: usize,
    /// The column in characters, from 1.
    column: usize,
    /// The bytes of the file.
    span: SpanJson,
    /// What stands there, markup included.
    written: String,
}

/// One wanted term.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct TermPlacesJson {
    /// The term as the brief has it.
    term: String,
    /// How often the term stands in headline and blurb.
    count: usize,
    /// Where the term first stands: `headline`, `first_sentence` or `later`; null where it stands in none of them.
    first_in: Option<&'static str>,
    /// The draft must carry it.
    must: bool,
    /// The most times that the term may stand in headline and blurb.
    at_most: Option<u32>,
    /// Every place of the term.
    places: Vec<PlaceJson>,
    /// What is nearly the term; never counted.
    near: Vec<NearJson>,
}

/// Something that is nearly a term.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct NearJson {
    /// `spelling`, `broken` (the words of the phrase apart or in another order) or `family` (another form, a word made
    /// from the same word, or its British or American spelling).
    kind: &'static str,
    /// The wording of the brief that it is near to.
    wording: String,
    /// Where it stands.
    place: PlaceJson,
}

/// One wording to avoid.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct AvoidedPlacesJson {
    /// The wording as the brief has it.
    wording: String,
    /// Every place of the wording.
    places: Vec<PlaceJson>,
}

/// One name of the brief.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct NameJson {
    /// The name as the brief has it.
    name: String,
    /// Every place where the name is spelt so, in all that is printed.
    places: Vec<PlaceJson>,
    /// Words that are spelt nearly like the name.
    twins: Vec<TwinJson>,
}

/// A word that is spelt nearly like a name.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct TwinJson {
    /// The name, or the word of it, that it is near to.
    near: String,
    /// Where it stands.
    place: PlaceJson,
}

/// What the manuscript says, and what the draft takes from it. Places are in the manuscript's file unless they say
/// otherwise.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct StoryJson {
    /// The manuscript as it was named.
    path: String,
    /// How many words the manuscript has.
    words: usize,
    /// Single words that are characteristic of the manuscript, the most characteristic first.
    candidates: Vec<CandidateJson>,
    /// Two words side by side, no mark between them and as they are written, that are characteristic of the manuscript.
    phrases: Vec<CandidateJson>,
    /// The names in the manuscript, the most frequent first.
    names: Vec<StoryNameJson>,
    /// Wording of the draft's headline and blurb that stands in the story's last fifth and nowhere before in any form
    /// of its word: a word that is neither common nor an adverb nor of the title, or two that follow each other there
    /// too.
    late: Vec<TakenJson>,
    /// Sentences of the draft that stand in the story word for word.
    lifted: Vec<TakenJson>,
}

/// A word or phrase that is characteristic of the manuscript.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct CandidateJson {
    /// The word or phrase in its most frequent form.
    wording: String,
    /// How often the word or phrase stands in the manuscript, in all its forms.
    count: usize,
    /// Dunning's log-likelihood ratio against English prose.
    likelihood: f64,
    /// Whether the word or phrase is or holds a term of the brief.
    in_brief: bool,
    /// Where it first stands.
    first: PlaceJson,
}

/// A name in the manuscript.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct StoryNameJson {
    /// The name in its most frequent spelling.
    name: String,
    /// How often the name is spelt so.
    count: usize,
    /// Where it first stands.
    first: PlaceJson,
    /// Whether the brief has the name.
    in_brief: bool,
    /// The brief's name that is spelt nearly like this one.
    near: Option<String>,
    /// Other spellings of the name in the manuscript.
    variants: Vec<VariantJson>,
}

/// Another spelling of a name.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct VariantJson {
    /// The name in the other spelling.
    written: String,
    /// How often the name is spelt that way.
    count: usize,
    /// Where it first stands.
    first: PlaceJson,
}

/// Wording that the draft and the manuscript share.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct TakenJson {
    /// Where it stands in the draft's file.
    in_draft: PlaceJson,
    /// Where it first stands in the manuscript.
    in_story: PlaceJson,
}

/// What the draft answers, in its comments, of the questions that a blurb answers.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub(super) struct AnswersJson {
    /// How many questions there are.
    asked: usize,
    /// How many of them are answered.
    answered: usize,
    /// The questions, in the order in which they are asked.
    items: Vec<AnswerJson>,
    /// Comments that open with a question spelt nearly like one of these, and are not read as answers.
    near: Vec<NearQuestionJson>,
}

/// A question, and the answer to it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct AnswerJson {
    /// What is asked, whatever the wording: `who`, `want`, `obstacle`, `stakes`, `reason` or `readers`.
    question: &'static str,
    /// The question as the draft has it, or as it is asked for the kind of book.
    wording: &'static str,
    /// The answer; null where the question is not answered.
    answer: Option<String>,
    /// The comment with the question; null where the draft has none.
    span: Option<SpanJson>,
    /// Further comments with an answer to the question, which are not read.
    again: Vec<SpanJson>,
    /// The names and the words of the answer that say something.
    words: Vec<AnswerWordJson>,
    /// How many more different words a very long answer has, which were not looked for.
    words_untried: usize,
}

/// A name or a word of an answer.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct AnswerWordJson {
    /// The word as the answer has it, or the name as the brief has it.
    word: String,
    /// Whether it is one of the brief's names.
    name: bool,
    /// Whether it stands, in any of its regular forms, in what is printed.
    present: bool,
    /// Every place where it stands in what is printed.
    places: Vec<LinePlaceJson>,
    /// Where it does not stand there: words of its family that do, each with its first place.
    near: Vec<NearWordJson>,
}

/// A place in the draft's file.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct LinePlaceJson {
    /// The bytes.
    span: SpanJson,
    /// The line of the file, from 1.
    line: usize,
}

/// A word of the copy that is only of the family of a word of an answer.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct NearWordJson {
    /// The word in small letters.
    word: String,
    /// The first place where it stands.
    place: LinePlaceJson,
}

/// A comment that opens with a question spelt nearly like one that a blurb answers.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct NearQuestionJson {
    /// The question as it is written.
    written: String,
    /// The question that it nearly is.
    meant: &'static str,
    /// The whole comment.
    span: SpanJson,
}

impl AnswersJson {
    /// The answers of a draft; none where it has none.
    pub(super) fn of(found: &AnswersInCopy) -> Option<Self> {
        let near = found.near.iter().map(|(near, _)| NearQuestionJson {
            written: near.written.clone(),
            meant: near.meant,
            span: near.span.into(),
        });
        (!found.is_empty()).then(|| Self {
            asked: found.all.len(),
            answered: found.answered(),
            items: found.all.iter().map(AnswerJson::of).collect(),
            near: near.collect(),
        })
    }
}

impl AnswerJson {
    fn of(item: &AnswerInCopy) -> Self {
        let answer = &item.answer;
        Self {
            question: answer.question.key(),
            wording: answer.asked,
            answer: answer.is_answered().then(|| answer.text.clone()),
            span: answer.span.map(SpanJson::from),
            again: answer.again.iter().map(|span| SpanJson::from(*span)).collect(),
            words: item.words.iter().map(AnswerWordJson::of).collect(),
            words_untried: item.untried,
        }
    }
}

impl AnswerWordJson {
    fn of(word: &AnswerWord) -> Self {
        let near = |(form, place): &(String, LinePlace)| NearWordJson { word: form.clone(), place: (*place).into() };
        Self {
            word: word.wording.clone(),
            name: word.is_name,
            present: !word.places.is_empty(),
            places: word.places.iter().map(|place| LinePlaceJson::from(*place)).collect(),
            near: word.kin.iter().map(near).collect(),
        }
    }
}

impl From<LinePlace> for LinePlaceJson {
    fn from(place: LinePlace) -> Self {
        Self { span: place.span.into(), line: place.line }
    }
}

/// The JSON of one draft, without a line ending after it.
pub fn json(terms: &TermsReport, draft: SourceText, told: Option<ManuscriptText>, style: Style) -> String {
    let coverage = &terms.coverage;
    let items = coverage.items.iter().zip(&terms.near);
    let view = TermsOfDraftJson {
        schema: SCHEMA,
        path: draft.path.to_owned(),
        verdict: if terms.is_within() { "within" } else { "outside" },
        terms: items.map(|(item, near)| TermPlacesJson::of(item, near, draft)).collect(),
        avoid: coverage.avoid.iter().map(|avoided| AvoidedPlacesJson::of(avoided, draft)).collect(),
        names: terms.names.iter().map(|name| NameJson::of(name, draft)).collect(),
        story: told.zip(terms.borrowed.as_ref()).map(|(told, borrowed)| StoryJson::of(told, borrowed, draft)),
    };
    written(&view, style)
}

impl PlaceJson {
    fn of(span: Span, source: SourceText) -> Self {
        let (line, column) = source.lines.place(span.start);
        let written = source.text.get(span.start..span.end).unwrap_or_default().to_owned();
        Self { line, column, span: span.into(), written }
    }

    fn all(spans: &[Span], source: SourceText) -> Vec<Self> {
        spans.iter().map(|span| Self::of(*span, source)).collect()
    }
}

impl TermPlacesJson {
    fn of(item: &CoveredTerm, near: &[Near], source: SourceText) -> Self {
        let near = near.iter().map(|near| NearJson {
            kind: match near.kind {
                NearKind::Spelling => "spelling",
                NearKind::Broken => "broken",
                NearKind::Family => "family",
            },
            wording: near.wording.clone(),
            place: PlaceJson::of(near.span, source),
        });
        Self {
            term: item.term.term.clone(),
            count: item.count(),
            first_in: item.first_in.map(|place| match place {
                TermPlace::Headline => "headline",
                TermPlace::FirstSentence => "first_sentence",
                TermPlace::Later => "later",
            }),
            must: item.term.must,
            at_most: item.term.at_most,
            places: PlaceJson::all(&item.spans, source),
            near: near.collect(),
        }
    }
}

impl AvoidedPlacesJson {
    fn of(avoided: &Avoided, source: SourceText) -> Self {
        Self { wording: avoided.wording.clone(), places: PlaceJson::all(&avoided.spans, source) }
    }
}

impl NameJson {
    fn of(name: &NameSpelling, source: SourceText) -> Self {
        let twins =
            name.twins.iter().map(|twin| TwinJson { near: twin.near.clone(), place: PlaceJson::of(twin.span, source) });
        Self { name: name.name.clone(), places: PlaceJson::all(&name.spans, source), twins: twins.collect() }
    }
}

impl StoryJson {
    fn of(told: ManuscriptText, borrowed: &Borrowed, draft: SourceText) -> Self {
        let story = &told.manuscript.story;
        let candidates = |found: &[Candidate]| found.iter().map(|one| CandidateJson::of(one, told)).collect();
        let taken = |found: &[Taken]| found.iter().map(|taken| TakenJson::of(taken, draft, told.source)).collect();
        Self {
            path: told.source.path.to_owned(),
            words: story.len(),
            candidates: candidates(&story.words),
            phrases: candidates(&story.phrases),
            names: story
                .names
                .iter()
                .zip(&told.manuscript.standings)
                .map(|(name, standing)| StoryNameJson::of(name, standing, told.source))
                .collect(),
            late: taken(&borrowed.late),
            lifted: taken(&borrowed.sentences),
        }
    }
}

impl CandidateJson {
    fn of(candidate: &Candidate, told: ManuscriptText) -> Self {
        Self {
            wording: candidate.wording.clone(),
            count: candidate.count,
            likelihood: rounded(candidate.likelihood),
            in_brief: told.has(candidate),
            first: PlaceJson::of(candidate.first, told.source),
        }
    }
}

impl StoryNameJson {
    fn of(name: &Named, standing: &NameStanding, source: SourceText) -> Self {
        let variants = name.variants.iter().map(|variant| VariantJson {
            written: variant.written.clone(),
            count: variant.count,
            first: PlaceJson::of(variant.first, source),
        });
        Self {
            name: name.name.clone(),
            count: name.count,
            first: PlaceJson::of(name.first, source),
            in_brief: *standing == NameStanding::Declared,
            near: match standing {
                NameStanding::Near(near) => Some(near.clone()),
                NameStanding::Declared | NameStanding::Unknown => None,
            },
            variants: variants.collect(),
        }
    }
}

impl TakenJson {
    fn of(taken: &Taken, draft: SourceText, story: SourceText) -> Self {
        Self { in_draft: PlaceJson::of(taken.in_draft, draft), in_story: PlaceJson::of(taken.in_story, story) }
    }
}
