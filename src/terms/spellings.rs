//! Finds the brief's names in all that is printed, and capitalised words that are spelt nearly like a name.
//!
//! A name is spelt right in the letters of the brief, or all in capitals, with a straight or a curly apostrophe, with
//! or without a possessive or a plural. A near-twin is a word that the brief does not name, that is capitalised, that
//! no list of ordinary words knows, and that is one step of spelling away, or two for a name of seven letters or more,
//! or two where the ear hears no difference; also a word that differs in accents or in capitals alone. An ordinary word
//! is a near-twin only where a capital inside a sentence shows it to be a name and it sounds like the brief's name.
//! Names in credits, and the author's own name, are nobody in the book.

use std::collections::HashSet;
use std::ops::Range;

use strsim::osa_distance;
use unicode_normalization::UnicodeNormalization;

use crate::brief::Book;
use crate::draft::{Block, BlockKind, Draft, Span};

use super::frequencies;
use super::heard::sound_alike;
use super::name_signs::has_sign;
use crate::level::familiar::WordList;
use crate::level::lists::Lists;
use crate::text::syllables::fold;
use crate::text::words::parts;
use crate::text::{inflections, lexicon};

/// From this many letters on, two steps of spelling are near.
const LONG: usize = 7;
/// Names shorter than this have too many neighbours.
const SHORTEST: usize = 3;
/// A near-twin must begin like the name where the name has no more letters than this or is more than one step away.
const SHORT: usize = 4;
/// The most steps of spelling between a name and a word that the ear takes for it.
const HEARD: usize = 2;
/// The fewest letters of each part of an ordinary word that is made of two: `zoo`, `keeper`.
const SHORTEST_PART: usize = 3;
/// The most words that may stand between a determiner and the name of a thing.
const MOST_BETWEEN: usize = 2;
/// Words that stand before the name of a thing and not before a person's.
const DETERMINERS: [&str; 16] = [
    "a", "an", "the", "my", "your", "his", "her", "its", "our", "their", "this", "that", "every", "each", "no",
    "another",
];

/// A name of the brief, with its places and near-twins in a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NameSpelling {
    /// The name as the brief has it.
    pub name: String,
    /// Every place where the name is spelt right, in the order of the draft.
    pub spans: Vec<Span>,
    /// Words that are spelt nearly like the name, or like a word of it.
    pub twins: Vec<Twin>,
}

/// A word that is spelt nearly like a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Twin {
    /// The word as it is written.
    pub written: String,
    /// The name, or the word of it, that it is near to.
    pub near: String,
    /// Where the word stands in the file.
    pub span: Span,
}

/// Looks for the names of the brief in every block of a draft, and gives them in the order of the brief.
pub fn find(draft: &Draft, book: &Book) -> Vec<NameSpelling> {
    let names: Vec<Vec<String>> = book.names.iter().map(|name| words_of(&name.name)).collect();
    let mut found: Vec<NameSpelling> = book
        .names
        .iter()
        .map(|name| NameSpelling { name: name.name.clone(), spans: Vec::new(), twins: Vec::new() })
        .collect();
    let printed: Vec<PrintedBlock> = draft.blocks.iter().map(PrintedBlock::of).collect();
    let shown: HashSet<String> = printed.iter().flat_map(PrintedBlock::shown_as_names).collect();
    let author = words_of(&book.author);
    // A name is looked for in each block as a whole; a near-twin may be of any word of any name.
    for printed in &printed {
        for (name, spelling) in names.iter().zip(&mut found) {
            spelling.spans.extend(places(printed.block, &printed.words, name));
        }
        for at in (0..printed.words.len()).filter(|at| printed.may_name_someone(*at, &author)) {
            if let Some((name, near)) = nearest(printed, at, &names, &shown) {
                let span = printed.block.span(printed.words[at].clone());
                found[name].twins.push(Twin { written: printed.word(at).to_owned(), near, span });
            }
        }
    }
    found
}

/// A block that is printed, with its words.
struct PrintedBlock<'a> {
    block: &'a Block,
    words: Vec<Range<usize>>,
}

impl<'a> PrintedBlock<'a> {
    fn of(block: &'a Block) -> Self {
        Self { block, words: parts(block.text()) }
    }

    fn word(&self, at: usize) -> &'a str {
        &self.block.text()[self.words[at].clone()]
    }

    /// What stands between a word and the one before it; for the first word, all that stands before it.
    fn before(&self, at: usize) -> &'a str {
        let end = at.checked_sub(1).map_or(0, |before| self.words[before].end);
        &self.block.text()[end..self.words[at].start]
    }

    /// Whether only blanks stand between a word and the one before it.
    fn is_joined(&self, at: usize) -> bool {
        self.before(at).chars().all(char::is_whitespace)
    }

    /// The words of the block, folded, whose capital says that they are names: they stand inside a sentence and not in
    /// italics, in which titles stand.
    fn shown_as_names(&self) -> Vec<String> {
        let has_sentences = matches!(self.block.kind, BlockKind::Blurb | BlockKind::Quote | BlockKind::NoteOnTheAuthor);
        let is_slanted = |word: &Range<usize>| {
            self.block.runs().iter().any(|(run, emphasis)| emphasis.italic && run.contains(&word.start))
        };
        let is_shown = |at: &usize| {
            let opens = *at == 0 || self.before(*at).contains(['.', '!', '?', ':', '…', '"', '“', '‘', '«', '(', '•']);
            let word = self.word(*at);
            let has_one_capital = word.starts_with(char::is_uppercase) && word.contains(char::is_lowercase);
            !opens && has_one_capital && !is_slanted(&self.words[*at])
        };
        let shown = (0..self.words.len()).filter(is_shown).map(|at| fold(bare(self.word(at))).into_owned());
        if has_sentences { shown.collect() } else { Vec::new() }
    }

    /// Whether a word may be the name of somebody in the book: not in a credit, nor a word of the author's name in the
    /// note on the author or among other titles, nor two such words side by side anywhere else.
    fn may_name_someone(&self, at: usize, author: &[String]) -> bool {
        let is_author = |at: usize| author.iter().any(|name| is_spelt(self.word(at), name));
        let are_author = |at: usize| is_author(at - 1) && self.is_joined(at) && is_author(at);
        match self.block.kind {
            BlockKind::Credit => false,
            BlockKind::NoteOnTheAuthor | BlockKind::OtherTitles => !is_author(at),
            _ => !((at > 0 && are_author(at)) || (at + 1 < self.words.len() && are_author(at + 1))),
        }
    }

    /// Whether a word stands as the name of a thing does: `her mummy`, `a very sleepy zookeeper`.
    fn follows_determiner(&self, at: usize) -> bool {
        let beside = (at.saturating_sub(MOST_BETWEEN)..=at).rev().take_while(|at| *at > 0 && self.is_joined(*at));
        beside.map(|at| fold(self.word(at - 1))).any(|word| DETERMINERS.contains(&&*word))
    }
}

fn words_of(name: &str) -> Vec<String> {
    parts(name).into_iter().map(|word| plain(&name[word])).collect()
}

/// A word in composed letters with straight apostrophes.
pub(super) fn plain(word: &str) -> String {
    word.nfc().map(|letter| if letter == '\u{2019}' { '\'' } else { letter }).collect()
}

/// Where all the words of a name follow each other.
fn places(block: &Block, words: &[Range<usize>], name: &[String]) -> Vec<Span> {
    let is_name = |stretch: &&[Range<usize>]| {
        stretch.iter().zip(name).all(|(word, name)| is_spelt(&block.text()[word.clone()], name))
    };
    let span = |stretch: &[Range<usize>]| block.span(stretch[0].start..stretch[stretch.len() - 1].end);
    words.windows(name.len().max(1)).filter(is_name).filter(|_| !name.is_empty()).map(span).collect()
}

/// Whether a word of the copy is a word of a name, in its letters or in capitals, with or without a possessive or a
/// plural.
pub(super) fn is_spelt(written: &str, name: &str) -> bool {
    let written = plain(written);
    let is_it = |written: &str| written == name || written == name.to_uppercase();
    let bare = bare(&written);
    is_it(&written) || is_it(bare) || bare.strip_suffix(['s', 'S']).is_some_and(is_it) || is_plural(bare, name)
}

/// Whether a word is a plural that changes the name's end or adds more than an s: `Mummies`, `Joneses`.
fn is_plural(written: &str, name: &str) -> bool {
    let stem = name.strip_suffix('y').unwrap_or(name);
    let begins_like = written.starts_with(stem) || written.starts_with(&stem.to_uppercase());
    begins_like && inflections::is_plural(&written.to_lowercase(), &name.to_lowercase())
}

/// What may hang on a name by an apostrophe, in small letters: `Oona's`, `Oona'll`.
const HANGING: [&str; 5] = ["s", "ll", "d", "ve", "re"];

/// A word without its possessive or the verb that hangs on it.
pub(super) fn bare(word: &str) -> &str {
    match word.rsplit_once(['\'', '’']) {
        Some((name, hanging))
            if !name.is_empty() && HANGING.iter().any(|known| known.eq_ignore_ascii_case(hanging)) =>
        {
            name
        }
        _ => word,
    }
}

/// The number of the name that a word is spelt nearly like, and which word of that name; none where the word itself is
/// a name's own.
fn nearest(
    printed: &PrintedBlock<'_>,
    at: usize,
    names: &[Vec<String>],
    shown: &HashSet<String>,
) -> Option<(usize, String)> {
    let written = bare(printed.word(at));
    // A word of any name of the brief is nobody's near-twin, however near another name is.
    let is_small = !written.starts_with(char::is_uppercase);
    if names.iter().flatten().any(|name| is_spelt(printed.word(at), name)) {
        return None;
    }
    let all = names.iter().enumerate().flat_map(|(number, name)| name.iter().map(move |word| (number, word)));
    let is_shown = || shown.contains(&*fold(written));
    let mut near = all.filter_map(|(number, word)| Some((steps_between(written, word, is_shown)?, number, word)));
    // `her mummy` is no name, though the brief has a `Mummy`. Finding that out takes longer, so only a word that is
    // near some name is tested.
    let first = near.next()?;
    let is_thing = || lexicon::syllables(&fold(written)).is_some() && printed.follows_determiner(at);
    if is_small && is_thing() {
        return None;
    }
    // Of two names equally near, the one that comes first in the brief.
    let (_, number, word) = near.fold(first, |best, next| if next.0 < best.0 { next } else { best });
    Some((number, word.clone()))
}

/// How a name found in a story compares with a name of the brief.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Likeness {
    /// Each of its words is a word of the brief's name, in the brief's spelling.
    Same,
    /// Spelt nearly like a word of the brief's name.
    Near,
    /// Neither.
    Other,
}

/// Compares a name, which its capitals have shown to be one, with a name of the brief.
pub fn likeness(written: &str, name: &str) -> Likeness {
    let (own, words) = (words_of(written), words_of(name));
    if own.iter().all(|own| words.iter().any(|word| is_spelt(own, word))) {
        return Likeness::Same;
    }
    let is_near = words.iter().any(|word| steps_between(written, word, || true).is_some());
    if is_near { Likeness::Near } else { Likeness::Other }
}

/// The steps of spelling between a word and a name that it is spelt nearly like. None where the word is far from the
/// name, or is an ordinary word that is not shown to be a name or does not sound like this one.
pub(super) fn steps_between(written: &str, name: &str, is_shown: impl Fn() -> bool) -> Option<usize> {
    let (folded, name_folded) = (fold(written), fold(name));
    let is_capital = |word: &str| word.starts_with(char::is_uppercase);
    if !is_capital(name) {
        return None;
    }
    // The letters differ in capitals or accents alone: a slip, unless the word is also an ordinary one (`rose`).
    if folded == name_folded {
        return (!is_ordinary(&folded)).then_some(0);
    }
    // Lengths and the distance are cheap and tell nearly all words apart, before the ear and the lists are asked.
    let letters = name_folded.chars().count();
    let most = if letters >= LONG { 2 } else { 1 };
    if !is_capital(written) || folded.chars().count().abs_diff(letters) > HEARD {
        return None;
    }
    let steps = osa_distance(&folded, &name_folded);
    if steps > HEARD {
        return None;
    }
    // To the eye a word passes for the name if it is close and begins like it; to the ear it may pass however it is
    // written.
    let is_heard = sound_alike(&folded, &name_folded);
    let begins_alike = folded.chars().next() == name_folded.chars().next();
    let is_seen = steps <= most && letters >= SHORTEST && (begins_alike || (steps == 1 && letters > SHORT));
    // An ordinary word is itself, unless its capital shows it to be a name and it sounds like this one.
    let may_be_name = || !is_ordinary(&folded) || (is_heard && !has_sign(&folded, "nobody") && is_shown());
    ((is_seen || is_heard) && !frequencies::is_function_word(&folded) && may_be_name()).then_some(steps)
}

/// Whether a word in small letters is no name by itself: a list of ordinary words has it, or has both words that it is
/// made of, or the word is a title or what children call their family.
fn is_ordinary(word: &str) -> bool {
    let is_listed = |word: &str| frequencies::count(word) > 0 || is_familiar(word);
    let is_made_of_two = || {
        let cuts = word.char_indices().map(|(at, _)| word.split_at(at));
        let is_part = |part: &str| part.chars().count() >= SHORTEST_PART && is_listed(part);
        let mut parts = cuts.filter(|(first, second)| is_part(first) && is_part(second));
        parts.next().is_some()
    };
    is_listed(word)
        || frequencies::is_function_word(word)
        || ["title", "nobody"].iter().any(|sign| has_sign(word, sign))
        || is_made_of_two()
}

fn is_familiar(word: &str) -> bool {
    [WordList::DaleChall, WordList::Spache]
        .into_iter()
        .any(|list| Lists::Carried.of(list).is_some_and(|list| list.has(word)))
}

#[cfg(test)]
mod tests {
    use super::find;
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::draft::Draft;

    /// What is found of each name: how often it is spelt right, and its near-twins.
    fn check(names: &[&str], copy: &str, expected: &[(usize, &[&str])]) {
        let name = |name: &&str| Name { name: (*name).to_owned(), syllables: None };
        let book = Book { names: names.iter().map(name).collect(), ..Book::default() };
        let found = find(&Draft::read(copy), &book);
        let found: Vec<(usize, Vec<&str>)> = found
            .iter()
            .map(|name| {
                (name.spans.len(), name.twins.iter().map(|twin| &copy[twin.span.start..twin.span.end]).collect())
            })
            .collect();
        let expected: Vec<(usize, Vec<&str>)> =
            expected.iter().map(|(count, twins)| (*count, twins.to_vec())).collect();
        assert_eq!(found, expected, "{copy}");
    }

    #[test]
    fn names_are_counted_in_every_block() {
        check(
            &["Oona", "Gull Point"],
            "# OONA\n\n*Oona*’s lamp on Gull\nPoint.\n\n> \"Oh, Oona!\"\n> — Oona Gull\n",
            &[(4, &[]), (1, &[])],
        );
    }

    #[test]
    fn near_twins_are_told() {
        check(
            &["Oona", "Quillon"],
            "Ona and Quilon, Quilllan’s Oonah.",
            &[(0, &["Ona", "Oonah"]), (0, &["Quilon", "Quilllan’s"])],
        );
        check(&["Oona"], "> Dear Oonna\n> — Una, Only\n", &[(0, &["Oonna"])]);
        check(&["Oona"], "I know oona.", &[(0, &["oona"])]);
        check(&["Siobhán"], "Siobhan and Siobha\u{301}n", &[(1, &["Siobhan"])]);
    }

    #[test]
    fn ordinary_words_and_other_names_are_no_twins() {
        check(&["Rose", "Tom"], "A rose rose. Nose, Hose. Too.", &[(0, &[]), (0, &[])]);
        check(&["Ada", "Ida"], "Ada and Ida’s.", &[(1, &[]), (1, &[])]);
        check(&["", "!"], "Oona.", &[(0, &[]), (0, &[])]);
    }

    #[test]
    fn common_nouns_are_no_names() {
        check(
            &["Mummy", "Zookeeper", "Grandpa Joe"],
            "Her mummy is a zookeeper. Every very sleepy zookeeper has a mummy, and mummy sings to Grandma.",
            &[(0, &[]), (0, &[]), (0, &[])],
        );
        check(&["Mrs Fenn", "Paddy"], "Mr Fenn and Daddy.", &[(0, &[]), (0, &[])]);
        check(&["Nelly"], "my jelly, her nelly, nelly", &[(0, &["nelly"])]);
    }

    #[test]
    fn names_that_sound_alike_are_told() {
        check(
            &["Karl", "Jo", "Lilly", "Finn"],
            "So Carl and Joe met Lily. Fin, said Lily, and Tim.",
            &[(0, &["Carl"]), (0, &["Joe"]), (0, &["Lily", "Lily"]), (0, &[])],
        );
        check(&["Finn"], "Ann saw Fin. Fin ran.", &[(0, &["Fin", "Fin"])]);
        check(&["Finn"], "A Fish and his fin. Fin. *The Fin*! FIN", &[(0, &[])]);
        check(&["Mae", "Bea", "Will"], "It is May. Be so good: Wilt.", &[(0, &[]), (0, &[]), (0, &[])]);
        check(&["Tom", "Mila"], "I am Tim, you are Milo.", &[(0, &["Tim"]), (0, &["Milo"])]);
    }

    #[test]
    fn a_name_is_spelt_right_in_plurals_and_with_either_apostrophe() {
        check(
            &["O'Malley", "Jones", "Harry", "Anne-Marie"],
            "The O’Malleys, O’MALLEY’S, the Joneses’, two Harries, Harrys, ANNE-MARIE’s",
            &[(2, &[]), (1, &[]), (2, &[]), (1, &[])],
        );
    }

    #[test]
    fn who_reviews_and_who_writes_are_nobody_in_the_book() {
        let copy = "By Sarah Vane: Sarah climbs.\n\n> Dear Sarah!\n> — Sarah Jones, baker\n\n## Note on the author\n\n\
                    Sarah lives in a shed with Sera.\n";
        let book = Book {
            author: "Sarah Vane".to_owned(),
            names: vec![Name { name: "Sara".to_owned(), syllables: None }],
            ..Book::default()
        };
        let found = find(&Draft::read(copy), &book).remove(0);
        let lines: Vec<_> = found.twins.iter().map(|twin| (twin.written.as_str(), twin.span.start)).collect();
        assert_eq!(lines, [("Sarah", 15), ("Sarah", 37), ("Sera", copy.len() - 6)]);
    }
}
