//! Quotes that praise what the copy does not have: a rhyme, a map, a dragon, a person of another name.
//!
//! Source: common practice of editors: a quote proves what the blurb promises; where it speaks of something that the
//! blurb, the title and the terms never name, a reader asks whether it is about this book. Only things are looked for
//! that a blurb would name: what a book contains, creatures of its kind, and people by their names. What the giver owns
//! (`my cat`) is the giver's.

use std::collections::HashSet;

use super::query::{Query, Reading};
use super::telling::{is_common, plain};
use super::verbs::is_finite;
use crate::brief::book::BookKind;
use crate::brief::queries::Rule;
use crate::draft::{Block, BlockKind};
use crate::terms::name_signs::has_sign;
use crate::text::language::Language;
use crate::text::words;

/// Words for one thing that a book may have: a quote may use any of them where the copy has any.
const THINGS: [&[&str]; 34] = [
    &["rhyme", "rhymes", "rhyming", "verse", "verses", "poem", "poems", "poetry", "stanzas", "couplets"],
    &["recipe", "recipes", "cook", "cooking", "bake", "baking", "cake"],
    &["photographs", "photograph", "photos", "photo", "photography"],
    &["experiment", "experiments", "science", "scientific", "scientist", "laboratory"],
    &["puzzle", "puzzles", "riddle", "riddles", "clues", "codes", "mystery", "mysteries", "whodunit"],
    &["flap", "flaps", "lift-the-flap", "pop-ups", "pop-up"],
    &["sticker", "stickers", "colouring", "coloring"],
    &["glossary", "index", "timeline", "timelines", "facts", "fact", "diagrams"],
    &["song", "songs", "music", "musical", "sing", "sings", "singing", "tune", "tunes"],
    &["jokes", "joke", "puns", "pun"],
    &["romance", "romantic", "kiss", "crush", "sweetheart"],
    &["dragon", "dragons"],
    &["unicorn", "unicorns"],
    &["fairy", "fairies", "pixie", "pixies", "elf", "elves"],
    &["pirate", "pirates", "buccaneer", "captain", "treasure"],
    &["dinosaur", "dinosaurs", "t-rex", "diplodocus", "triceratops"],
    &["robot", "robots", "android", "machine"],
    &["ghost", "ghosts", "haunted", "spook", "phantom"],
    &["witch", "witches", "wizard", "wizards", "spell", "spells", "magic", "magical"],
    &["mermaid", "mermaids"],
    &["monster", "monsters", "beast"],
    &["spaceship", "rocket", "rockets", "astronaut", "astronauts", "space", "planet", "planets", "moon", "stars"],
    &["detective", "detectives", "sleuth", "sleuths", "case", "clue", "mystery"],
    &["train", "trains", "railway", "engine", "locomotive"],
    &["tractor", "tractors", "digger", "diggers", "truck", "trucks", "lorry"],
    &["football", "footballer", "soccer", "goal", "goalkeeper", "team"],
    &["horse", "horses", "pony", "ponies", "foal", "stable"],
    &["whale", "whales", "orca"],
    &["penguin", "penguins"],
    &["elephant", "elephants"],
    &["rabbit", "rabbits", "bunny", "bunnies", "hare", "hares"],
    &["hedgehog", "hedgehogs"],
    &["owl", "owls", "owlet"],
    &["fox", "foxes", "vixen"],
];
/// Words before a thing that make it the giver's own, or one that the book is compared with.
const OWNERS: [&str; 12] = ["my", "our", "your", "like", "than", "as", "no", "not", "without", "or", "every", "any"];

/// Finds the first word in each quote that the copy has no match for.
pub(super) fn find(reading: &Reading<'_>, queries: &mut Vec<Query>) {
    let blocks = &reading.draft.blocks;
    if reading.text.language != Language::English || !blocks.iter().any(|block| block.kind == BlockKind::Quote) {
        return;
    }
    let known = known_words(reading);
    for (number, block) in blocks.iter().enumerate().filter(|(_, block)| block.kind == BlockKind::Quote) {
        if let Some((range, says)) = stray(reading, block, &known) {
            queries.push(Query { rule: Rule::StrayQuote, block: number, range, says, cuts: Vec::new() });
        }
    }
}

/// Every word of the copy, the title, the names, the terms and the author's name, in small letters.
fn known_words(reading: &Reading<'_>) -> HashSet<String> {
    let (book, terms) = (&reading.brief.book, &reading.brief.terms.wanted);
    let own = |block: &&Block| !matches!(block.kind, BlockKind::Quote | BlockKind::Credit);
    let blocks = reading.draft.blocks.iter().filter(own).map(Block::text);
    let names = book.names.iter().map(|name| name.name.as_str()).chain([book.title.as_str(), book.author.as_str()]);
    let terms = terms.iter().flat_map(|term| std::iter::once(&term.term).chain(&term.also)).map(String::as_str);
    let texts = blocks.chain(names).chain(terms);
    texts.flat_map(|text| words::find(text).into_iter().map(|word| bare(&plain(&text[word])))).collect()
}

/// A word without its possessive.
fn bare(word: &str) -> String {
    word.strip_suffix("'s").unwrap_or(word).to_owned()
}

/// The first word of a quote that speaks of something the copy does not have, with what is said of it.
fn stray(reading: &Reading<'_>, block: &Block, known: &HashSet<String>) -> Option<(std::ops::Range<usize>, String)> {
    let text = block.text();
    let found = words::find(text);
    let plains: Vec<String> = found.iter().map(|word| plain(&text[word.clone()])).collect();
    let before = |at: usize, back: usize| at.checked_sub(back).map_or("", |at| plains[at].as_str());
    (0..found.len()).find_map(|at| {
        let written = &text[found[at].clone()];
        let word = plains[at].as_str();
        // `A ghost story` is a kind of book, which a blurb need not name.
        let is_kind = matches!(word, "ghost" | "fairy" | "detective" | "mystery")
            && matches!(plains.get(at + 1).map(String::as_str), Some("story" | "tale" | "stories" | "tales"));
        let is_own = is_kind || (1..=3).any(|back| OWNERS.contains(&before(at, back)));
        let thing = THINGS.iter().find(|thing| thing.contains(&word)).filter(|_| !is_own);
        let lacks =
            thing.is_some_and(|thing| !thing.iter().any(|kin| known.contains(*kin)) && !is_shown(reading, thing));
        if lacks {
            return Some((
                found[at].clone(),
                format!("the quote speaks of “{written}”, and the copy has nothing of it; a reader will look for it"),
            ));
        }
        let next = plains.get(at + 1).map_or("", String::as_str);
        let is_inside =
            at > 0 && !text[found[at - 1].end..found[at].start].contains(['.', '!', '?', '“', '"', ':', '—']);
        let acts = (is_finite(next) || word.ends_with("'s")) && written.starts_with(char::is_uppercase);
        let name = bare(word);
        let shouts = !written.contains(char::is_lowercase);
        let is_name = acts && is_inside && !shouts && !is_common(&name) && !has_sign(&name, "nobody");
        let after_title = has_sign(before(at, 1), "title") || matches!(before(at, 1), "the" | "in" | "of");
        (is_name && !after_title && !known.contains(&name)).then(|| {
            let says = format!(
                "the quote speaks of “{name}”, whom neither the copy nor the brief names",
                name = bare_of(written)
            );
            (found[at].clone(), says)
        })
    })
}

/// A written word without its possessive.
fn bare_of(written: &str) -> &str {
    written.strip_suffix("'s").or_else(|| written.strip_suffix("’s")).unwrap_or(written)
}

/// Whether the book has a thing though no word says so: verse is its own proof, and a book of facts has facts.
fn is_shown(reading: &Reading<'_>, thing: &[&str]) -> bool {
    let is_verse = || reading.draft.blocks.iter().any(|block| crate::text::verse::is_verse(block.text()));
    match thing[0] {
        "rhyme" => is_verse(),
        "glossary" | "experiment" => reading.brief.book.kind == BookKind::NonFiction,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn stray_quotes_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/stray_quotes.txt"));
    }
}
