//! More people named than a reader can hold.
//!
//! Source: common practice of editors: one name or two on a back cover, not five. A name counts as a person's where the
//! copy shows it to be one: by a title, by a word of kin before it, by an action behind it, or by standing beside such a
//! name. Places and what may be one do not count, nor does anything in non-fiction, which names those it tells of.

use std::ops::Range;

use super::telling::{self, Told};
use super::verbs::tense;
use super::{Query, Reading};
use crate::brief::book::Kind;
use crate::brief::queries::Rule;
use crate::text::language::Language;

/// As many as a reader holds.
const MOST: usize = 2;

const TITLES: [&str; 32] = [
    "aunt",
    "auntie",
    "baron",
    "captain",
    "count",
    "countess",
    "doctor",
    "dr",
    "duchess",
    "duke",
    "grandad",
    "grandma",
    "grandpa",
    "granny",
    "gran",
    "inspector",
    "king",
    "lady",
    "lord",
    "madame",
    "miss",
    "mr",
    "mrs",
    "ms",
    "nana",
    "prince",
    "princess",
    "professor",
    "queen",
    "sir",
    "sister",
    "uncle",
];
/// Words that stand before a person's name.
const KIN: [&str; 44] = [
    "bear",
    "boy",
    "brother",
    "cat",
    "child",
    "classmate",
    "companion",
    "cousin",
    "dad",
    "daughter",
    "dog",
    "dragon",
    "father",
    "fox",
    "friend",
    "friends",
    "ghost",
    "girl",
    "grandfather",
    "grandmother",
    "help",
    "helps",
    "join",
    "joins",
    "kitten",
    "meet",
    "meets",
    "mother",
    "mouse",
    "mum",
    "named",
    "neighbour",
    "neighbor",
    "otter",
    "puppy",
    "rabbit",
    "rival",
    "sister",
    "sisters",
    "teacher",
    "twin",
    "twins",
    "witch",
    "with",
];
/// Words that stand before a place's name, or a thing's.
const BEFORE_PLACES: [&str; 21] = [
    "the", "in", "at", "near", "from", "into", "across", "through", "around", "inside", "outside", "of", "on", "over",
    "beyond", "above", "towards", "toward", "reach", "leaves", "by",
];
/// Last words of the names of places and things.
const PLACES: [&str; 45] = [
    "academy",
    "bay",
    "beach",
    "bridge",
    "castle",
    "city",
    "coast",
    "cottage",
    "county",
    "cove",
    "farm",
    "field",
    "forest",
    "garden",
    "gardens",
    "hall",
    "harbour",
    "harbor",
    "head",
    "hill",
    "hills",
    "house",
    "island",
    "islands",
    "isle",
    "kingdom",
    "lake",
    "lane",
    "manor",
    "market",
    "mountain",
    "mountains",
    "park",
    "point",
    "river",
    "road",
    "rock",
    "school",
    "sea",
    "street",
    "tower",
    "town",
    "valley",
    "village",
    "woods",
];
/// Words with a capital that are nobody's name, or are what children call their own.
const NOBODY: [&str; 52] = [
    "i",
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
    "christmas",
    "easter",
    "halloween",
    "english",
    "french",
    "german",
    "african",
    "american",
    "asian",
    "british",
    "european",
    "earth",
    "god",
    "victorian",
    "mum",
    "mummy",
    "mom",
    "mommy",
    "dad",
    "daddy",
    "mama",
    "papa",
    "mother",
    "father",
    "brother",
    "baby",
    "granddad",
    "grandfather",
    "grandmother",
    "nan",
    "nanna",
    "teacher",
];
const MODALS: [&str; 10] = ["must", "can", "will", "cannot", "can't", "won't", "doesn't", "isn't", "who", "has"];

/// Somebody named.
struct Person {
    /// The words of the name in small letters.
    words: Vec<String>,
    block: usize,
    first: Range<usize>,
    written: String,
    is_person: bool,
    may_be_place: bool,
}

/// One place of a name.
struct Mention {
    /// Positions among the words of its sentence.
    words: Range<usize>,
    is_person: bool,
    may_be_place: bool,
}

/// The third person named, at the first place.
pub(super) fn find(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    if reading.text.language != Language::English || reading.brief.book.kind == Kind::NonFiction {
        return;
    }
    let people = people(reading);
    let people: Vec<&Person> = people.iter().filter(|person| person.is_person && !person.may_be_place).collect();
    let Some(third) = people.get(MOST) else { return };
    queries.push(Query {
        rule: Rule::ManyNames,
        block: third.block,
        range: third.first.clone(),
        says: format!(
            "“{}” is the third of the people who are named here; a reader of a back cover holds one or two",
            third.written
        ),
        cuts: Vec::new(),
    });
}

/// Whoever and whatever has a name, in the order of the first place.
fn people(reading: &Reading<'_>) -> Vec<Person> {
    let told = telling::sentences(reading);
    let known: Vec<&str> = told
        .iter()
        .flat_map(|told| told.words.iter().skip(1))
        .filter(|word| word.written.starts_with(char::is_uppercase))
        .map(|word| bare(&word.plain))
        .collect();
    let small: Vec<&str> = told
        .iter()
        .flat_map(|told| &told.words)
        .filter(|word| word.written.starts_with(char::is_lowercase))
        .map(|word| word.plain.as_str())
        .collect();
    let declared: Vec<String> =
        reading.brief.book.names.iter().flat_map(|name| name.name.split_whitespace()).map(telling::plain).collect();
    let author: Vec<String> = reading.brief.book.author.split_whitespace().map(telling::plain).collect();
    let is_name = |told: &Told<'_>, at: usize| {
        let word = &told.words[at];
        let plain = bare(&word.plain);
        let is_declared = declared.iter().any(|name| name == plain);
        let shouts = word.written.len() > 1 && !word.written.contains(char::is_lowercase);
        let opens = at == 0 || word.before.contains(['.', '!', '?', ':', '“', '"', '‘', '\'', '…']);
        word.written.starts_with(char::is_uppercase)
            && (!opens
                || is_declared
                || (!telling::is_common(plain)
                    && (known.contains(&plain) || acts(told, at + 1) || goes_on(told, at + 1))))
            && !NOBODY.contains(&plain)
            && !TITLES.contains(&plain)
            && (is_declared || !small.contains(&plain))
            && !shouts
            && !author.iter().any(|name| name == plain)
    };
    let mut people: Vec<Person> = Vec::new();
    for told in told.iter().filter(|told| !told.words.iter().any(|word| is_of_books(&word.plain))) {
        let mut before: Option<(usize, usize)> = None;
        let mut at = 0;
        while at < told.words.len() {
            let Some(mention) = mention(told, at, is_name) else {
                at += 1;
                continue;
            };
            at = mention.words.end;
            let person = place(&mut people, told, &mention);
            // Names in one list are of one kind.
            if let Some((other, _)) = before.filter(|(_, end)| is_listed(told, *end, mention.words.start)) {
                let is_person = people[other].is_person || people[person].is_person;
                let may_be_place = people[other].may_be_place || people[person].may_be_place;
                for one in [other, person] {
                    (people[one].is_person, people[one].may_be_place) = (is_person, may_be_place);
                }
            }
            before = Some((person, at));
        }
    }
    people
}

/// Adds a place of a name to whom it names.
fn place(people: &mut Vec<Person>, told: &Told<'_>, mention: &Mention) -> usize {
    let words = &told.words[mention.words.clone()];
    let plain = words.iter().map(|word| bare(&word.plain).to_owned());
    let plain: Vec<String> = plain.filter(|word| words.len() == 1 || !TITLES.contains(&word.as_str())).collect();
    let known = people.iter().position(|person| person.words.iter().any(|word| plain.contains(word)));
    let at = known.unwrap_or_else(|| {
        let first = words[0].word.range.start..words[words.len() - 1].word.range.end;
        let written = words.iter().map(|word| bare(word.written)).collect::<Vec<_>>().join(" ");
        let block = told.sentence.block;
        people.push(Person { words: plain, block, first, written, is_person: false, may_be_place: false });
        people.len() - 1
    });
    people[at].is_person |= mention.is_person;
    people[at].may_be_place |= mention.may_be_place;
    at
}

/// The name that begins at a word.
fn mention(told: &Told<'_>, at: usize, is_name: impl Fn(&Told<'_>, usize) -> bool) -> Option<Mention> {
    let is_title = |at: usize| {
        let word = &told.words[at];
        word.written.starts_with(char::is_uppercase) && TITLES.contains(&word.plain.as_str())
    };
    if !is_name(told, at) && !(is_title(at) && at + 1 < told.words.len() && is_name(told, at + 1)) {
        return None;
    }
    let mut end = at + 1;
    while told.words.get(end).is_some_and(|word| matches!(word.before, " " | ". ") && is_name(told, end))
        && (told.words[end].before == " " || is_title(end - 1) || told.words[end - 1].plain.chars().count() == 1)
        && !told.words[end - 1].plain.ends_with("'s")
    {
        end += 1;
    }
    let last = bare(&told.words[end - 1].plain);
    let previous =
        at.checked_sub(1).map(|before| told.words[before].plain.as_str()).filter(|_| told.words[at].before == " ");
    let has_title = is_title(at) && end > at + 1;
    let is_of_kin = previous.is_some_and(|word| KIN.contains(&word));
    let owns_kin = told.words[end - 1].plain.ends_with("'s")
        && told.words.get(end).is_some_and(|word| KIN[..KIN.len() - 2].contains(&word.plain.as_str()));
    Some(Mention {
        words: at..end,
        is_person: has_title || is_of_kin || owns_kin || acts(told, end),
        may_be_place: previous.is_some_and(|word| BEFORE_PLACES.contains(&word)) || PLACES.contains(&last),
    })
}

/// Whether a word is what somebody does, or names them further: `Bram hides`, `Bram the badger`.
fn acts(told: &Told<'_>, at: usize) -> bool {
    told.words.get(at).is_some_and(|word| {
        let plain = word.plain.as_str();
        word.before == " " && (tense(plain).is_some() || plain == "the" || MODALS.contains(&plain))
    })
}

/// Whether a word has a capital and goes on with the name before it: `Otto Fenn`.
fn goes_on(told: &Told<'_>, at: usize) -> bool {
    told.words.get(at).is_some_and(|word| word.before == " " && word.written.starts_with(char::is_uppercase))
}

/// Whether only `and`, or a comma, stands between two names.
fn is_listed(told: &Told<'_>, end: usize, start: usize) -> bool {
    match start - end {
        0 => told.words[start].before == ", ",
        1 => told.words[end].plain == "and" && matches!(told.words[end].before, " " | ", "),
        _ => false,
    }
}

/// A word without its possessive.
fn bare(word: &str) -> &str {
    word.strip_suffix("'s").or_else(|| word.strip_suffix("’s")).unwrap_or(word)
}

/// A sentence with such a word names those who made the book.
fn is_of_books(word: &str) -> bool {
    matches!(word, "author" | "illustrator" | "illustrated" | "written" | "bestselling" | "winner" | "series")
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn the_third_name_is_found_as_marked() {
        check(include_str!("../../tests/cases/queries/many_names.txt"));
    }
}
