//! More people named than a reader can hold.
//!
//! Source: common practice of editors: one name or two on a back cover, not five. A name of the brief counts as a
//! person's unless the copy shows it to be a place's. Any other name counts where the copy shows it to be a person's:
//! by a title, by a word of kin before it, by an action behind it, or by standing beside such a name. Names of places,
//! and names that may be a place's, do not count, nor does any name in non-fiction, which names those it tells of. Six
//! names are too many though nothing shows whose they are. In the headline, where most words may have a capital, only
//! the brief's names are looked for.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use super::names_abroad;
use super::prose::OwnCopy;
use super::query::{Query, Reading};
use super::telling::{self, ToldSentence};
use super::verbs::tense;
use crate::brief::book::BookKind;
use crate::brief::queries::Rule;
use crate::draft::BlockKind;
use crate::terms::name_signs::has_sign;
use crate::text::language::Language;

/// How many people a reader can hold in mind.
const MOST: usize = 2;
/// How many people are told: three or four are named in much good copy, each with a part to play.
const TOLD_FROM: usize = 5;
/// How many names are too many, though nothing shows whose they are.
const CROWD: usize = 6;
/// How many people the query tells by name.
const MOST_TOLD: usize = 6;

const MODALS: [&str; 10] = ["must", "can", "will", "cannot", "can't", "won't", "doesn't", "isn't", "who", "has"];

/// Somebody or something with a name.
struct Person {
    /// The words of the name in small letters, in the longest form in which it stands.
    words: Vec<String>,
    /// The number of the block of the first place.
    block: usize,
    /// The first place, in bytes of the block's text.
    first: Range<usize>,
    /// The name as it is written at the first place.
    written: String,
    /// What all places together show.
    signs: NameEvidence,
}

/// What the brief and the copy show a name to be.
#[derive(Clone, Copy, Default)]
struct NameEvidence {
    /// Whether the name is one of the brief's.
    is_declared: bool,
    /// Whether a title, a word of kin or an action shows a person.
    is_person: bool,
    /// Whether a word before it may show a place, but stands before persons too: `from`.
    may_be_place: bool,
    /// Whether its last word shows a place, or a word before it does that never stands before a person.
    is_place: bool,
}

impl NameEvidence {
    fn or(self, other: Self) -> Self {
        Self {
            is_declared: self.is_declared || other.is_declared,
            is_person: self.is_person || other.is_person,
            may_be_place: self.may_be_place || other.may_be_place,
            is_place: self.is_place || other.is_place,
        }
    }

    /// Whether nothing shows that a name is a place's.
    fn may_be_person(self) -> bool {
        !self.is_place && (self.is_declared || !self.may_be_place)
    }

    /// Whether a name with these signs is a person's.
    fn show_person(self) -> bool {
        !self.is_place
            && if self.is_declared {
                self.is_person || !self.may_be_place
            } else {
                self.is_person && !self.may_be_place
            }
    }
}

/// A name at one of its places.
struct Mention {
    /// Positions among the words of its sentence.
    words: Range<usize>,
    /// The words in small letters, without a title before them.
    names: Vec<String>,
    /// The words of the brief's name that has all of these; empty where no name has.
    whole: Vec<String>,
    /// What this place shows.
    signs: NameEvidence,
}

/// Finds more people than a reader can hold; they are told at the first place of the third.
pub(super) fn find(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    if reading.brief.book.kind == BookKind::NonFiction {
        return;
    }
    if own.language != Language::English {
        queries.extend(told(&names_abroad::people(reading, own), "people are named"));
        return;
    }
    let named = people(reading, own);
    let those = |is_meant: fn(NameEvidence) -> bool| {
        let meant = named.iter().filter(|person| is_meant(person.signs));
        meant.map(|person| (person.block, person.first.clone(), person.written.clone())).collect::<Vec<_>>()
    };
    let shown = those(NameEvidence::show_person);
    let people = told(&shown, "people are named").filter(|_| shown.len() >= TOLD_FROM);
    // Six names are too many, whoever has them.
    let names = those(NameEvidence::may_be_person);
    queries.extend(people.or_else(|| told(&names, "names stand").filter(|_| names.len() >= CROWD)));
}

/// The query on people or names, each with the number of the block and the bytes of the first place, and the name as it
/// stands there; none where a reader can hold them.
fn told(people: &[(usize, Range<usize>, String)], noun: &str) -> Option<Query> {
    let (block, range, _) = people.get(MOST)?;
    let names: Vec<&str> = people.iter().map(|(.., name)| name.as_str()).collect();
    Some(Query {
        rule: Rule::ManyNames,
        block: *block,
        range: range.clone(),
        says: format!(
            "{} {noun} here: {}; a reader of a back cover keeps one or two in mind",
            people.len(),
            listed(&names)
        ),
        cuts: Vec::new(),
    })
}

/// `Oona, Bram and Tilly`; of many, the first and how many more.
fn listed(names: &[&str]) -> String {
    let told = if names.len() > MOST_TOLD + 1 { MOST_TOLD } else { names.len() - 1 };
    let first = names[..told].join(", ");
    match &names[told..] {
        [last] => format!("{first} and {last}"),
        more => format!("{first} and {} more", more.len()),
    }
}

/// What the brief and the whole copy say of capitals.
struct Capitals<'a> {
    /// For each name of the brief, its words that begin with a capital; a title only where it is the whole name.
    declared: Vec<Vec<String>>,
    /// The number of the headline's block, where there is one.
    headline: Option<usize>,
    /// The words of the author's name.
    author: Vec<String>,
    /// Words that have a capital inside a sentence.
    inside: HashSet<&'a str>,
    /// Words that have none.
    small: HashSet<&'a str>,
}

impl<'a> Capitals<'a> {
    fn of(reading: &Reading<'_>, told: &'a [&ToldSentence<'_>]) -> Self {
        let book = &reading.brief.book;
        let words = |name: &str| name.split_whitespace().map(telling::plain).collect::<Vec<_>>();
        let mut found = Self {
            declared: book.names.iter().map(|name| declared(&name.name)).collect(),
            headline: reading.draft.blocks.iter().position(|block| block.kind == BlockKind::Headline),
            author: words(&book.author),
            inside: HashSet::new(),
            small: HashSet::with_capacity(told.iter().map(|told| told.words.len()).sum()),
        };
        for (at, word) in told.iter().flat_map(|told| told.words.iter().enumerate()) {
            if word.written.starts_with(char::is_lowercase) {
                found.small.insert(word.plain);
            } else if at > 0 && word.written.starts_with(char::is_uppercase) {
                found.inside.insert(bare(word.plain));
            }
        }
        found
    }

    /// Whether a word in small letters, without its possessive, is one of a name of the brief.
    fn is_declared(&self, plain: &str) -> bool {
        self.declared.iter().flatten().any(|name| name == plain)
    }

    /// Whether a word is a part of a name.
    fn is_name(&self, told: &ToldSentence<'_>, at: usize) -> bool {
        let word = &told.words[at];
        if !word.written.starts_with(char::is_uppercase) {
            return false;
        }
        let plain = bare(word.plain);
        // `I’d`, `I’m`: the narrator.
        if plain == "i" || plain.starts_with("i'") {
            return false;
        }
        if self.is_declared(plain) || self.headline == Some(told.sentence.block) {
            return self.is_declared(plain);
        }
        let shouts = word.written.len() > 1 && !word.written.contains(char::is_lowercase);
        let is_nobody = || has_sign(plain, "nobody") || has_sign(plain, "title");
        if shouts || is_nobody() || self.author.iter().any(|name| name == plain) {
            return false;
        }
        // `Turning the tale on its head`: a participle opens a sentence.
        if at == 0 && plain.ends_with("ing") && told.words.get(1).is_some_and(|word| word.plain == "the") {
            return false;
        }
        let opens = at == 0 || word.before.contains(['.', '!', '?', ':', '“', '"', '‘', '\'', '…']);
        let is_shown = || self.inside.contains(plain) || acts(told, at + 1) || goes_on(told, at + 1);
        !self.small.contains(plain) && (!opens || (!telling::is_common(plain) && is_shown()))
    }
}

/// The words of a name of the brief by which it is known.
fn declared(name: &str) -> Vec<String> {
    let capital = name.split_whitespace().filter(|word| word.starts_with(char::is_uppercase));
    let words: Vec<String> = capital.map(telling::plain).map(|word| word.trim_end_matches('.').to_owned()).collect();
    let is_alone = words.len() == 1;
    words.into_iter().filter(|word| is_alone || !has_sign(word, "title")).collect()
}

/// Whoever and whatever has a name, in the order of the first places.
fn people(reading: &Reading<'_>, own: &OwnCopy<'_>) -> Vec<Person> {
    let told: Vec<&ToldSentence<'_>> = own.copy().iter().flat_map(|prose| &prose.told).collect();
    let capitals = Capitals::of(reading, &told);
    let (mut people, mut directory) = (Vec::new(), Directory::default());
    let counts = |at: usize| {
        !is_in_a_row(&told, at) && !told[at].words.iter().any(|word| is_of_books(word.plain)) && !is_of_maker(&told, at)
    };
    for told in (0..told.len()).filter(|at| counts(*at)).map(|at| told[at]) {
        // The last name of the sentence, with the word behind it.
        let mut before: Option<(usize, usize)> = None;
        let mut at = 0;
        while at < told.words.len() {
            let Some(mention) = mention(told, at, &capitals) else {
                at += 1;
                continue;
            };
            // Each place is added to whom it names, so that what later places show counts for the first.
            let person = place(&mut people, &mut directory, told, &mention);
            // What is shown of one name in a list is shown of its neighbour: `Aske, Bram and Tilly hide`.
            if let Some((other, _)) = before.filter(|(_, end)| is_listed(told, *end, mention.words.start)) {
                level(&mut people, [other, person]);
            }
            at = mention.words.end;
            before = Some((person, at));
        }
    }
    people
}

/// Whether a sentence is built as the one before it or behind it: `Priya has gymnastics. Max has a kidney stone.` Such
/// a row is a list of other people, none of whom a reader has to remember.
fn is_in_a_row(told: &[&ToldSentence<'_>], at: usize) -> bool {
    let second = |at: usize| told.get(at).and_then(|told| Some((told.sentence.block, told.words.get(1)?.plain)));
    let Some(own) = second(at) else { return false };
    let begins_with_name = |at: usize| {
        told[at].words[0].written.starts_with(char::is_uppercase)
            && acts(told[at], 1)
            && told[at].words[1].plain != "the"
    };
    let is_like = |other: usize| {
        second(other) == Some(own)
            && told[other].words[0].plain != told[at].words[0].plain
            && begins_with_name(other)
            && begins_with_name(at)
    };
    is_like(at + 1) || at.checked_sub(1).is_some_and(is_like)
}

/// Gives two names of one list what is shown of either, for they are of one kind. What the brief says of a name holds
/// for that name alone.
fn level(people: &mut [Person], pair: [usize; 2]) {
    let both = people[pair[0]].signs.or(people[pair[1]].signs);
    for one in pair {
        let own = people[one].signs;
        let is_place = if own.is_declared { own.is_place } else { both.is_place };
        let is_person = both.is_person || both.is_declared;
        people[one].signs = NameEvidence { is_declared: own.is_declared, is_person, is_place, ..both };
    }
}

/// People by the words of their names, so that whom a name means is looked up and not searched for.
#[derive(Default)]
struct Directory {
    /// The first who has a word, wherever it stands in the name.
    any: HashMap<String, usize>,
    /// The first who has a word and no other.
    alone: HashMap<String, usize>,
    /// The first who has a word before others.
    first: HashMap<String, usize>,
}

impl Directory {
    /// Adds the words of a person's name, whose position among the people is given.
    fn add(&mut self, person: usize, words: &[String]) {
        for word in words {
            self.any.entry(word.clone()).or_insert(person);
        }
        match words {
            [word] => drop(self.alone.entry(word.clone()).or_insert(person)),
            [word, ..] => drop(self.first.entry(word.clone()).or_insert(person)),
            [] => {}
        }
    }

    /// The people that a name may mean. Each has to be compared again, since a person's name may have become longer
    /// after it was added here.
    fn candidates<'d>(&'d self, own: &'d [String]) -> impl Iterator<Item = usize> + 'd {
        let (whoever, before) = match own {
            [_] => (&self.any, None),
            own => (&self.alone, own.first().and_then(|first| self.first.get(first))),
        };
        // A family may be named before one of it: `the Thorns`, `Mrs Thorn`.
        let forms = |word: &'d String| {
            [Some(word.clone()), word.strip_suffix('s').map(str::to_owned), Some(format!("{word}s"))]
        };
        let found = own.iter().flat_map(forms).flatten().filter_map(|word| whoever.get(&word));
        found.chain(before).copied()
    }
}

/// Whether a name means a person, by the words of both.
fn is_one(own: &[String], person: &[String]) -> bool {
    let is_plural = |one: &str, other: &str| one.strip_suffix('s') == Some(other);
    match (own, person) {
        // Two people of one surname are two.
        ([first, _, ..], [other, _, ..]) => first == other,
        _ => {
            person.iter().any(|word| own.iter().any(|own| own == word || is_plural(own, word) || is_plural(word, own)))
        }
    }
}

/// Adds a place of a name to whoever it names, or to the people as somebody new. Returns the position among the people.
fn place(people: &mut Vec<Person>, directory: &mut Directory, told: &ToldSentence<'_>, mention: &Mention) -> usize {
    let words = &told.words[mention.words.clone()];
    let own = &mention.names;
    let known = directory.candidates(own).filter(|person| is_one(own, &people[*person].words)).min();
    let at = known.unwrap_or_else(|| {
        let first = words[0].word.range.start..words[words.len() - 1].word.range.end;
        let written = words.iter().map(|word| bare(word.written)).collect::<Vec<_>>().join(" ");
        let block = told.sentence.block;
        people.push(Person { words: Vec::new(), block, first, written, signs: NameEvidence::default() });
        people.len() - 1
    });
    // A person is looked up by the longest form of the name that has stood so far.
    let whole = if mention.whole.len() > own.len() { &mention.whole } else { own };
    if whole.len() > people[at].words.len() {
        people[at].words.clone_from(whole);
        directory.add(at, whole);
    }
    people[at].signs = people[at].signs.or(mention.signs);
    at
}

/// The name that begins at a word, with what stands round it; none where no name begins there.
fn mention(told: &ToldSentence<'_>, at: usize, capitals: &Capitals<'_>) -> Option<Mention> {
    let is_name = |at: usize| capitals.is_name(told, at);
    let is_title = |at: usize| {
        let word = &told.words[at];
        word.written.starts_with(char::is_uppercase) && has_sign(word.plain, "title")
    };
    let is_titled = || is_title(at) && at + 1 < told.words.len() && is_name(at + 1);
    if !is_name(at) && !is_titled() {
        return None;
    }
    // The name goes on as long as its parts do with nothing but a blank between, or the stop of a title or an initial.
    // A possessive ends it.
    let mut end = at + 1;
    while told.words.get(end).is_some_and(|word| matches!(word.before, " " | ". ") && is_name(end))
        && (told.words[end].before == " " || is_title(end - 1) || told.words[end - 1].plain.chars().count() == 1)
        && !told.words[end - 1].plain.ends_with("'s")
    {
        end += 1;
    }
    // What stands right before and behind shows who or what it is.
    let last = bare(told.words[end - 1].plain);
    let previous = at.checked_sub(1).map(|before| told.words[before].plain).filter(|_| told.words[at].before == " ");
    let has_title = is_title(at) && end > at + 1;
    let is_of_kin = previous.is_some_and(|word| has_sign(word, "kin"));
    let owns = told.words[end - 1].plain.ends_with("'s");
    let owns_kin = owns && told.words.get(end).is_some_and(|word| has_sign(word.plain, "kin"));
    let is_family = previous == Some("the") && last.ends_with('s');
    let is_thing = previous.is_some_and(|word| matches!(word, "in" | "the")) && !owns && !is_of_kin && !is_family;
    let signs = NameEvidence {
        is_declared: told.words[at..end].iter().any(|word| capitals.is_declared(bare(word.plain))),
        is_person: has_title || is_of_kin || owns_kin || acts(told, end),
        may_be_place: previous.is_some_and(|word| has_sign(word, "before")),
        is_place: has_sign(last, "place") || is_thing,
    };
    // The title is no part of the name, unless it is all there is of it.
    let names = told.words[at..end].iter().map(|word| bare(word.plain).to_owned());
    let names: Vec<String> = names.filter(|word| end == at + 1 || !has_sign(word, "title")).collect();
    let has_all = |name: &&Vec<String>| !names.is_empty() && names.iter().all(|word| name.contains(word));
    let whole = capitals.declared.iter().find(has_all);
    let whole = whole.cloned().unwrap_or_default();
    Some(Mention { words: at..end, names, whole, signs })
}

/// Whether a word is what somebody does, or names them further: `Bram hides`, `Bram the badger`.
fn acts(told: &ToldSentence<'_>, at: usize) -> bool {
    told.words.get(at).is_some_and(|word| {
        let plain = word.plain;
        word.before == " " && (tense(plain).is_some() || plain == "the" || MODALS.contains(&plain))
    })
}

/// Whether a word has a capital and goes on with the name before it: `Otto Fenn`.
fn goes_on(told: &ToldSentence<'_>, at: usize) -> bool {
    told.words.get(at).is_some_and(|word| word.before == " " && word.written.starts_with(char::is_uppercase))
}

/// Whether only `and`, or a comma, stands between two names.
fn is_listed(told: &ToldSentence<'_>, end: usize, start: usize) -> bool {
    match start - end {
        0 => told.words[start].before == ", ",
        1 => told.words[end].plain == "and" && matches!(told.words[end].before, " " | ", "),
        _ => false,
    }
}

/// Whether a sentence begins the last paragraph but one or the last, and tells of somebody by first name and surname
/// where they live or what they do: whoever made the book.
fn is_of_maker(told: &[&ToldSentence<'_>], at: usize) -> bool {
    const LIVES: [&str; 15] = [
        "lives", "is", "was", "has", "grew", "works", "worked", "writes", "wrote", "reside", "resides", "teaches",
        "taught", "loves", "spent",
    ];
    let own = told[at];
    let block = own.sentence.block;
    let opens = at > 0 && told[at - 1].sentence.block != block;
    let is_last = !told[at..].iter().any(|other| other.sentence.block > block + 1);
    let is_capital = |at: usize| own.words.get(at).is_some_and(|word| word.written.starts_with(char::is_uppercase));
    opens
        && is_last
        && is_capital(0)
        && is_capital(1)
        && own.words.get(2).is_some_and(|word| LIVES.contains(&word.plain))
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
    use std::path::Path;

    use crate::brief::Brief;
    use crate::brief::queries::Rule;
    use crate::draft::Draft;
    use crate::queries::cases::{check, queries_of};

    #[test]
    fn the_third_name_is_found_as_marked() {
        check(include_str!("../../tests/cases/queries/many_names.txt"));
    }

    #[test]
    fn all_people_are_told() {
        let told = |copy: &str| {
            let brief =
                Brief::read("panel: { trim: 8 x 8 in }\nbook: { names: [Wilfa, Aske] }", Path::new("")).unwrap();
            let queries = queries_of(&Draft::read(copy), &brief);
            let found = queries.into_iter().find(|query| query.rule == Rule::ManyNames).map(|query| query.says);
            found.unwrap_or_default()
        };
        let hold = "a reader of a back cover keeps one or two in mind";
        assert_eq!(
            told("Where is Wilfa? Ask Aske. Bram hides, and Tilly hides, and Mr. Holm hides."),
            format!("5 people are named here: Wilfa, Aske, Bram, Tilly and Mr Holm; {hold}")
        );
        assert_eq!(told("Wilfa, Aske, Bram and Mr Holm."), "");
        let many = "Wilfa, Aske, Bram, Tilly, Otto, Lena, Milo and Pip hide.";
        assert_eq!(
            told(many),
            format!("8 people are named here: Wilfa, Aske, Bram, Tilly, Otto, Lena and 2 more; {hold}")
        );
        assert_eq!(told("Wilfa, Aske and Bram."), "");
    }
}
