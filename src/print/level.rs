//! The reading level as a page of text.

use super::sheet::TextPage;
use super::visible::{in_a_row, visible};
use super::words::{counted, times};
use crate::draft::{self, LinePlaces};
use crate::level::counts::Count;
use crate::level::drivers::{HardSentence, UnfamiliarWord};
use crate::level::facts::ScoreScale;
use crate::level::headline::LEAST_WORDS;
use crate::level::lists;
use crate::level::{Level, Score, WhyNot, WordList};
use crate::report::levels::Levels;
use crate::units::nouns::agrees;
use crate::units::trimmed;

/// The most unfamiliar words that a page lists; the JSON has all of them.
const MOST_WORDS: usize = 40;

/// The page about one text, ending with a line ending. With `is_counted`, each measure says how it counts.
pub fn written(levels: &Levels, path: &str, source: &str, is_counted: bool, columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line(format!("{}: reading level", visible(path)));
    sheet.line(String::new());
    first(&mut sheet, &levels.whole);
    drivers(&mut sheet, &levels.whole, source);
    if is_counted {
        counted_measures(&mut sheet, &levels.whole)
    } else {
        others(&mut sheet, &levels.whole)
    }
    sections(&mut sheet, levels, source);
    sheet.text()
}

/// Where to find the rules of counting, as the line below all pages.
pub fn where_counted(columns: usize) -> String {
    let mut sheet = TextPage::new(columns);
    sheet.line(String::new());
    sheet.indented("`blurbwright level --counted` says how each measure counts, and from what.", 0);
    sheet.text()
}

/// The headline band, and the measure that it comes from.
pub(super) fn first(sheet: &mut TextPage, level: &Level) {
    match &level.headline {
        Some(headline) => {
            sheet.labelled("Level", &headline.sentence());
            let facts = headline.measure.facts();
            sheet.labelled("", &format!("by {}, which suits the readers and the copy ({})", facts.name, facts.source));
        }
        None => sheet.labelled("Level", &untold(level)),
    }
    if level.verse_words > 0 {
        let says = format!(
            "{} of verse {} left out: a sentence runs on over the end of a line, and the measures were made on prose.",
            counted(level.verse_words, "word"),
            agrees(level.verse_words, "is", "are")
        );
        sheet.labelled("", &says);
    }
    for missing in level.missing_lists() {
        let without = match missing {
            WhyNot::NoList(WordList::DaleChall) => " Without it Gunning fog counts compounds of easy words as hard.",
            _ => "",
        };
        let remedy = "Put that file back and build it again, or name a list of your own with `level --familiar`.";
        sheet.labelled("", &format!("Missing: {missing}.{without} {remedy}"));
    }
    for (file, without) in lists::taken_away().filter_map(|file| Some((file, without(file)?))) {
        let says = format!(
            "Missing: this program was built without the list wordlists/{file}, so that {without}. Put that file back \
             and build it again."
        );
        sheet.labelled("", &says);
    }
    sheet.labelled("", "A rough guide for the copy, not for the book, and no judgement of a reader.");
}

/// The reason why there is no level.
pub(super) fn untold(level: &Level) -> String {
    let words = level.counts.of(Count::Words);
    if words == 0 && level.verse_words > 0 {
        return "not told, since all of it is verse".to_owned();
    }
    if words == 0 {
        return "there are no words to measure".to_owned();
    }
    if level.missing_lists().next().is_some() {
        return "not told, since the measure that suits the readers stands on a list that is missing".to_owned();
    }
    if level.is_too_short() {
        let are = agrees(words, "is", "are");
        let of_prose = if level.verse_words > 0 { " of prose" } else { "" };
        return format!(
            "{}{of_prose} {are} too few to tell a level from; it takes {LEAST_WORDS}",
            counted(words, "word")
        );
    }
    "no measure with a known band suits this text".to_owned()
}

/// What happens without a built-in list that was removed; none where a measure says so itself.
fn without(file: &str) -> Option<&'static str> {
    Some(match file {
        "dale-chall.txt" | "spache.txt" => return None,
        "cmudict-syllables.txt" => "all syllables are guessed",
        "syllable-patterns.txt" => "syllables of words that no list knows are counted by their vowels alone",
        "abbreviations.txt" => "the stop of an abbreviation ends a sentence, and its syllables are guessed",
        "sentence-openers.txt" => "a sentence that ends in an abbreviation runs on into the next",
        "speech-verbs.txt" => "speech before a name and a verb of saying ends a sentence",
        "level-spread.txt" => "no level has a band",
        "word-frequencies.txt" | "function-words.txt" => "a story's own words are not told from common ones",
        "other-words.txt" | "plain-words.txt" => "fewer words have others that say the same",
        "irregular-forms.txt" => "irregular forms of a term are not taken for it",
        _ => "some queries are missed or raised in vain",
    })
}

/// What makes the text hard; nothing is written where there is no level.
fn drivers(sheet: &mut TextPage, level: &Level, source: &str) {
    let Some(headline) = &level.headline else { return };
    sheet.line(String::new());
    let facts = headline.measure.facts();
    let easier = match facts.scale {
        ScoreScale::Ease => "higher",
        ScoreScale::Grade | ScoreScale::Hardness => "lower",
    };
    let now = format!("{} is {} now; a {easier} figure is easier to read.", facts.name, trimmed(headline.value, 2));
    sheet.labelled("Drivers", &now);
    hard_sentences(sheet, &level.hardest_sentences, source);
    unfamiliar_words(sheet, &level.unfamiliar, source);
    if level.hardest_sentences.is_empty() && level.unfamiliar.is_empty() {
        sheet.labelled("", "No sentence and no word stands out.");
    }
}

/// The hardest sentences. The headline measure takes one value, whichever sentence is divided in two.
fn hard_sentences(sheet: &mut TextPage, sentences: &[HardSentence], source: &str) {
    let Some(first) = sentences.first() else { return };
    let costliest = agrees(sentences.len(), "This one costs", "These cost");
    let parted = trimmed(first.split, 2);
    sheet.labelled("", &format!("A sentence parted in two would make it {parted}. {costliest} most:"));
    for sentence in sentences {
        let (line, _) = draft::place(source, sentence.span.start);
        let than = if sentence.without.is_some() { "without it" } else { "parted in two" };
        sheet.item(&format!(
            "line {line}, {}, {} harder than {than}: {}",
            counted(sentence.words, "word"),
            trimmed(sentence.cost, 2),
            in_a_row(&sentence.text)
        ));
    }
}

/// The words outside the measure's list. Where the value that a familiar word would bring differs between them, each
/// word has its own.
fn unfamiliar_words(sheet: &mut TextPage, words: &[UnfamiliarWord], source: &str) {
    let Some(first) = words.first() else { return };
    let made = |word: &UnfamiliarWord| trimmed(word.replaced, 2);
    let are_alike = words.iter().all(|word| made(word) == made(first));
    let told = |word: &UnfamiliarWord| {
        let (line, _) = draft::place(source, word.span.start);
        let often = if word.times > 1 { format!(", {}", times(word.times)) } else { String::new() };
        let makes = if are_alike { String::new() } else { format!(" {}", made(word)) };
        format!("{} (line {line}{often}){makes}", visible(&word.word))
    };
    let listed: Vec<String> = words.iter().take(MOST_WORDS).map(told).collect();
    let more = words.len() - listed.len();
    let rest = if more > 0 { format!(", and {}", counted(more, "more word")) } else { String::new() };
    let would = if are_alike {
        format!(
            "A familiar word in the place of {} would make it {}",
            agrees(words.len(), "this one", "one of these"),
            made(first)
        )
    } else {
        "A familiar word in its place would make it what stands behind each of these".to_owned()
    };
    sheet.labelled("", &format!("{would}: {}{rest}", listed.join(", ")));
}

/// Every measure except the headline, on one line; none for a text so short that figures would mean nothing.
fn others(sheet: &mut TextPage, level: &Level) {
    if level.is_too_short() || level.counts.of(Count::Words) == 0 {
        return;
    }
    sheet.line(String::new());
    let first = level.headline.as_ref().map(|headline| headline.measure);
    let mut label = if first.is_some() { "Others" } else { "Measures" };
    for score in level.scores.iter().filter(|score| Some(score.formula) != first) {
        sheet.labelled(label, &format!("{}: {}", score.formula.facts().name, in_short(score)));
        label = "";
    }
}

/// The value of a measure in a few words; where it says nothing about this text, what the measure is for.
fn in_short(score: &Score) -> String {
    let Some(value) = score.value else {
        return match score.why_not {
            Some(WhyNot::Language(language)) => format!("no value; made for {}", language.name()),
            Some(WhyNot::NoList(_)) => "no value; its list is missing".to_owned(),
            _ => "no value".to_owned(),
        };
    };
    let value = trimmed(value, 2);
    match score.why_not {
        None => format!("{value}{}", reading_and_spread(score)),
        Some(WhyNot::Words { needed, .. }) => format!("{value}, but it needs {}", counted(needed, "word")),
        Some(WhyNot::Sentences { needed, .. }) => format!("{value}, but it needs {}", counted(needed, "sentence")),
        Some(WhyNot::Readers { first, last } | WhyNot::Grades { first, last }) => {
            format!("{value}, but made for grades {first} to {last}")
        }
        Some(reason) => format!("{value}, but {reason}"),
    }
}

fn reading_and_spread(score: &Score) -> String {
    let reading = score.reading().map_or(String::new(), |reading| format!(" ({reading})"));
    let spread = score.spread.map_or(String::new(), |spread| format!(", give or take {}", trimmed(spread, 1)));
    format!("{reading}{spread}")
}

/// Every measure with what it counted and how, including measures that do not apply.
fn counted_measures(sheet: &mut TextPage, level: &Level) {
    sheet.line(String::new());
    let mut label = "Measures";
    for score in &level.scores {
        let facts = score.formula.facts();
        let value = score.value.map_or("no value".to_owned(), |value| trimmed(value, 2));
        let validity = score.why_not.map_or(String::new(), |reason| format!("; does not apply: {reason}"));
        sheet.labelled(label, &format!("{}: {value}{}{validity}", facts.name, reading_and_spread(score)));
        let counts = score.counts(&level.counts);
        let counts: Vec<String> = counts.iter().map(|(count, number)| format!("{}: {number}", count.name())).collect();
        sheet.labelled("", &format!("  from {}. {} {}", counts.join("; "), facts.counting, facts.source));
        label = "";
    }
}

fn sections(sheet: &mut TextPage, levels: &Levels, source: &str) {
    if levels.sections.is_empty() {
        return;
    }
    sheet.line(String::new());
    let places = LinePlaces::of(source);
    let mut label = "Sections";
    for section in &levels.sections {
        let (line, _) = places.place(section.span.start);
        let words = section.level.counts.of(Count::Words);
        let level = match &section.level.headline {
            Some(headline) => format!("{}: {}", counted(words, "word"), headline.sentence()),
            None => untold(&section.level),
        };
        sheet.labelled(label, &format!("{}, line {line}, {level}", visible(&section.name)));
        label = "";
    }
}
