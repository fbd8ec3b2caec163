//! Quotes whose giver has no standing, or that nobody gave.
//!
//! Source: common practice of editors: a quote weighs what its giver weighs for the reader, and a stranger's name alone
//! weighs nothing. A paper or a review is its own standing.
//!
//! In French, German, Spanish, Italian and Dutch a credit is told only where it is two or three words with capitals of
//! which none is a small word or one of standing, and nothing of it sounds like a paper (`Kölner`, `-blatt`). In any
//! other language only a quote without a credit is told.

use std::collections::HashSet;
use std::sync::LazyLock;

use super::prose::OwnCopy;
use super::query::{Query, Reading};
use super::telling::plain;
use super::tongues::{WordSign, has_sign, unelided};
use crate::brief::phrases::fold;
use crate::brief::queries::Rule;
use crate::draft::{Block, BlockKind};
use crate::text::language::Language;

/// Words that make a credit more than a person's name.
static STANDINGS: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("standings.txt").lines().filter(|line| !line.starts_with('#')).collect());
/// The most words that a person's name has.
const LONGEST_NAME: usize = 4;

/// Finds credits that are a name alone, and quotes without a credit.
pub(super) fn without_standing(reading: &Reading<'_>, own: &OwnCopy<'_>, queries: &mut Vec<Query>) {
    let blocks = &reading.draft.blocks;
    for (number, block) in blocks.iter().enumerate() {
        let next = blocks.get(number + 1).map(|next| next.kind);
        let says = match block.kind {
            BlockKind::Credit
                if is_bare_name(name_of(block), own.language) && !is_title(block) && !may_be_paper(blocks, number) =>
            {
                "a name alone gives the quote no weight; say what its giver does, or where they wrote it"
            }
            BlockKind::Credit if name_of(block).starts_with('@') => {
                "a name on a network gives the quote no weight; say who its giver is, and what they do"
            }
            BlockKind::Quote if credit_inside(block.text()).is_some_and(is_bystander) => {
                "anybody’s kin or customer gives the quote no weight; a reviewer, a teacher or a librarian does"
            }
            BlockKind::Credit if is_anybody(name_of(block)) => {
                "this is anybody; say who gave the quote, what they do, or where they wrote it"
            }
            BlockKind::Quote if credit_inside(block.text()).is_some_and(is_anybody) => {
                "this is anybody; say who gave the quote, what they do, or where they wrote it"
            }
            BlockKind::Credit if is_bystander(name_of(block)) => {
                "anybody’s kin or customer gives the quote no weight; a reviewer, a teacher or a librarian does"
            }
            BlockKind::Blurb if is_praise_alone(block.text()) => {
                "nobody stands behind this quote; without its giver a reader takes it for the publisher's own words"
            }
            BlockKind::Quote if is_last_of_quote(next) && !has_credit_inside(block.text()) => {
                "nobody stands behind this quote; without its giver a reader takes it for the publisher's own words"
            }
            _ => continue,
        };
        let start = block.text().len() - name_of(block).len();
        queries.push(Query {
            rule: Rule::CreditWithoutStanding,
            block: number,
            range: start..block.text().trim_end().len(),
            says: says.to_owned(),
            cuts: Vec::new(),
        });
    }
}

/// Whether a paragraph is somebody's praise of the book in quotation marks, with nobody or only a few words behind it.
fn is_praise_alone(text: &str) -> bool {
    /// Words by which praise of a book is known.
    const OF_BOOKS: [&str; 13] = [
        "book",
        "books",
        "story",
        "stories",
        "read",
        "reading",
        "loved",
        "adored",
        "stars",
        "grandchildren",
        "kids",
        "recommended",
        "recommend",
    ];
    /// The most words that say who is quoted, and nothing of what they do.
    const MOST_BEHIND: usize = 3;
    let Some((_, behind)) = text.strip_prefix(['"', '“']).and_then(|quote| quote.rsplit_once(['"', '”'])) else {
        return false;
    };
    let quote = &text[..text.len() - behind.len()];
    let is_whole = quote.chars().filter(|c| "\"“”".contains(*c)).count() == 2;
    let praises =
        || quote.split(|c: char| !c.is_alphabetic()).any(|word| OF_BOOKS.contains(&word.to_lowercase().as_str()));
    let has_verb = || behind.split_whitespace().any(|word| word.ends_with('s') && word.starts_with(char::is_lowercase));
    is_whole && behind.split_whitespace().count() <= MOST_BEHIND && !has_verb() && praises()
}

fn is_last_of_quote(next: Option<BlockKind>) -> bool {
    !matches!(next, Some(BlockKind::Quote | BlockKind::Credit))
}

/// A credit without its dash.
fn name_of(block: &Block) -> &str {
    block.text().trim_start_matches(|c: char| c.is_whitespace() || "—–―-".contains(c))
}

/// What stands behind the dash that ends a quote's own text.
fn credit_inside(text: &str) -> Option<&str> {
    let behind = text.rfind(['”', '"', '’']).map_or(text, |at| &text[at..]);
    behind.rfind(['—', '–', '―']).map(|at| behind[at..].trim_start_matches(['—', '–', '―', ' ']))
}

/// Whether the quote's own last line names its giver behind a dash.
fn has_credit_inside(text: &str) -> bool {
    let behind = text.rfind(['”', '"', '’']).map_or(text, |at| &text[at..]);
    behind.contains(['—', '–', '―']) || behind.contains("--")
}

/// Whether the credit, from its first word on, stands in italics, as the name of a paper does.
fn is_title(block: &Block) -> bool {
    let start = block.text().len() - name_of(block).len();
    block.runs().iter().any(|(run, emphasis)| run.contains(&start) && emphasis.italic)
}

/// Whether a credit of one word may be a paper: in the quote nobody speaks of themselves.
fn may_be_paper(blocks: &[Block], credit: usize) -> bool {
    let quote = credit.checked_sub(1).map_or("", |quote| blocks[quote].text());
    let speaks = quote.split(|c: char| !c.is_alphabetic()).any(|word| matches!(word, "I" | "my" | "My" | "me"));
    !name_of(&blocks[credit]).trim().contains(' ') && !speaks
}

/// Kin, friends and buyers, who have no standing.
const BYSTANDERS: [&str; 40] = [
    "niece",
    "nephew",
    "son",
    "daughter",
    "granddaughter",
    "grandson",
    "colleague",
    "reviewer",
    "mum",
    "mom",
    "mummy",
    "mommy",
    "dad",
    "daddy",
    "mother",
    "father",
    "parent",
    "grandma",
    "grandpa",
    "granny",
    "gran",
    "nan",
    "nana",
    "grandmother",
    "grandfather",
    "grandparent",
    "aunt",
    "auntie",
    "uncle",
    "cousin",
    "sister",
    "brother",
    "wife",
    "husband",
    "neighbour",
    "neighbor",
    "friend",
    "customer",
    "buyer",
    "shopper",
];
/// Callings that give a quote weight, whoever else its giver is.
const CALLINGS: [&str; 18] = [
    "author",
    "librarian",
    "teacher",
    "headteacher",
    "illustrator",
    "editor",
    "bookseller",
    "critic",
    "poet",
    "writer",
    "educator",
    "professor",
    "nurse",
    "doctor",
    "psychologist",
    "blogger",
    "therapist",
    "storyteller",
];

/// Words of credits that name nobody: where all words are of these, anybody may have said it.
const ANYBODY: [&str; 44] = [
    "a",
    "an",
    "the",
    "of",
    "from",
    "on",
    "who",
    "has",
    "read",
    "it",
    "this",
    "book",
    "by",
    "and",
    "my",
    "one",
    "our",
    "reader",
    "readers",
    "reviewer",
    "reviewers",
    "review",
    "reviews",
    "blogger",
    "blog",
    "bloggers",
    "goodreads",
    "amazon",
    "customer",
    "library",
    "online",
    "verified",
    "purchase",
    "early",
    "advance",
    "beta",
    "happy",
    "anonymous",
    "everyone",
    "everybody",
    "fan",
    "star",
    "five",
    "netgalley",
];

/// Whether a credit names nobody.
fn is_anybody(credit: &str) -> bool {
    let mut words = credit.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).peekable();
    words.peek().is_some() && words.all(|word| ANYBODY.contains(&plain(word).as_str()))
}

/// How many children somebody has.
const COUNTS: [&str; 6] = ["one", "two", "three", "four", "five", "six"];

/// Whether a credit says only that its giver is somebody's kin, a friend or a customer, and names no calling.
fn is_bystander(credit: &str) -> bool {
    let words: Vec<String> = credit
        .split(|c: char| !c.is_alphabetic() && !"-'’".contains(c))
        .filter(|word| !word.is_empty())
        .map(plain)
        .collect();
    let is_one = |list: &[&str], word: &str| list.contains(&word.strip_suffix('s').unwrap_or(word));
    let has = |list: &[&str]| words.iter().any(|word| is_one(list, word));
    // In a name of a paper such a word has a capital and others beside it.
    let is_written_small = credit.split_whitespace().any(|word| {
        word.starts_with(char::is_lowercase)
            && is_one(&BYSTANDERS, &plain(word.trim_matches(|c: char| !c.is_alphabetic())))
    });
    // `Karen, Mum of Two`: whoever counts the children has no other standing.
    let counts_children = words
        .windows(3)
        .any(|three| is_one(&BYSTANDERS, &three[0]) && three[1] == "of" && COUNTS.contains(&three[2].as_str()));
    // A reviewer for a paper that is named has its standing.
    let has_paper = words.iter().any(|word| word != "reviewer" && STANDINGS.contains(word.as_str()));
    let is_reviewer = words.iter().any(|word| word == "reviewer");
    has(&BYSTANDERS)
        && !has(&CALLINGS)
        && !(is_reviewer && has_paper)
        && (is_written_small || counts_children || words.len() <= 2)
}

/// Whether the words are a person's name and nothing else: all of them with capitals.
fn is_bare_name(credit: &str, language: Language) -> bool {
    let words: Vec<&str> = credit.split_whitespace().collect();
    let is_name = |word: &&str| {
        let mut letters = word.chars();
        let is_plain = word.chars().all(|c| c.is_alphabetic() || "-.'’".contains(c));
        letters.next().is_some_and(char::is_uppercase) && is_plain && !STANDINGS.contains(plain(word).as_str())
    };
    let may_be_paper = || {
        let is_of_town = language == Language::German && words[0].ends_with("er");
        !(2..=3).contains(&words.len()) || is_of_town || words.iter().any(|word| gives(word, language))
    };
    if language == Language::Other || (language != Language::English && may_be_paper()) {
        return false;
    }
    let shouts = |word: &&str| word.len() > 3 && !word.chars().any(char::is_lowercase);
    (1..=LONGEST_NAME).contains(&words.len())
        && words.iter().all(is_name)
        && !matches!(words[0], "The" | "Dr." | "Dr" | "Prof." | "Professor" | "Sir" | "Dame" | "Rev." | "A")
        && !words.iter().all(shouts)
}

/// Whether a word of a credit in another language than English gives it weight, or may be of a paper's name.
fn gives(word: &str, language: Language) -> bool {
    const PAPERS: [&str; 12] = [
        "blatt",
        "zeitung",
        "anzeiger",
        "kurier",
        "bote",
        "post",
        "rundschau",
        "krant",
        "blad",
        "bode",
        "courant",
        "nieuws",
    ];
    let word = fold(word);
    let has = |sign| has_sign(language, unelided(language, &word).1, sign);
    has(WordSign::Small) || has(WordSign::Standing) || PAPERS.iter().any(|paper| word.ends_with(paper))
}

#[cfg(test)]
mod tests {
    use crate::queries::cases::check;

    #[test]
    fn credits_are_found_as_marked() {
        check(include_str!("../../tests/cases/queries/credits.txt"));
    }
}
