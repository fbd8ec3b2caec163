//! Finds what a draft takes from its manuscript: wording that belongs to the story's last part, and whole sentences.
//!
//! Wording gives the end away if it stands in the story's last fifth and nowhere before, neither in another form of its
//! word (`family`) nor as a compound written otherwise (`ginger-bread`, `gingerbread`). Such wording is either a single
//! word that is rare, no adverb, and not one that every child knows; or two words that follow each other as in the
//! story, with no mark between them, of which at least one is rare and no adverb. Words of the title give nothing away.
//! Plenty of words stand late in a story by chance, so a finding is something to look at, not a fault. A story of one
//! or two sentences has no end apart from its beginning.
//!
//! A manuscript may hold the blurb itself. That stretch is no part of the story's end, but a sentence that the draft
//! shares with it is reported like any other.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use crate::draft::Span;

use super::family::{are_of_one_word, stems};
use super::frequencies::{count, is_function_word, running_words};
use super::phrases::CutText;
use super::spellings::bare;
use super::story::Story;
use super::tokens::{Token, tokens};
use crate::level::familiar::WordList;
use crate::level::lists::Lists;
use crate::text::Text;

/// The share of a story that comes before its last part, as a fraction. From memory: the resolution of a picture book
/// takes its last three or so of sixteen openings.
const BEFORE_THE_LAST_PART: (usize, usize) = (4, 5);
/// A word is rare where it stands less often than this in a million words.
const RARE: u64 = 50;
/// A shorter sentence, in words, may be anybody's, so it is not looked for.
const SHORTEST_SENTENCE: usize = 4;
/// The fewest sentences of a story that has an end apart from its beginning.
const FEWEST_SENTENCES: usize = 3;
/// The fewest letters of each part of a compound that may also be written as one word.
const SHORTEST_PART: usize = 3;
/// The fewest letters of a word that an adverb is made from: `slow`, `slowly`.
const SHORTEST_ADJECTIVE: usize = 4;

/// What a draft takes from its manuscript.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Borrowed {
    /// Wording that stands in the story's last part alone, in the order of the draft.
    pub late: Vec<Taken>,
    /// Sentences that stand in the story word for word, in the order of the draft.
    pub sentences: Vec<Taken>,
}

/// Wording that a draft and a manuscript share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// Where the wording stands in the draft's file.
    pub in_draft: Span,
    /// Where the wording first stands in the manuscript's file.
    pub in_story: Span,
}

/// Compares a draft's headline and blurb with its manuscript, of a book with this title.
pub fn find(text: &Text, story: &Story, title: &str) -> Borrowed {
    let draft = tokens(text, &[&text.headline, &text.blurb]);
    let blurb = Joined::of(&story.tokens).find(&tokens(text, &[&text.blurb]));
    let outside = |at: &usize| !blurb.as_ref().is_some_and(|blurb| blurb.contains(at));
    let told: Vec<&Token> = (0..story.tokens.len()).filter(outside).map(|at| &story.tokens[at]).collect();
    Borrowed { late: late(&draft, &told, &story.headings, title), sentences: sentences(&draft, &story.tokens) }
}

/// Words that are looked up by any word of their family.
#[derive(Default)]
struct Families<'a> {
    /// Each word and its first position among the words that were given, by each of its stems.
    words: HashMap<String, Vec<(&'a str, usize)>>,
    /// The words that are in the map.
    known: HashSet<&'a str>,
}

impl<'a> Families<'a> {
    fn of(words: impl Iterator<Item = &'a str>) -> Self {
        let mut found = Self::default();
        for (at, word) in words.enumerate() {
            if found.known.insert(word) {
                stems(word).into_iter().for_each(|stem| found.words.entry(stem).or_default().push((word, at)));
            }
        }
        found
    }

    /// The first position of a word that is of one family with this one.
    fn place(&self, word: &str) -> Option<usize> {
        let alike = stems(word).into_iter().filter_map(|stem| self.words.get(&stem)).flatten();
        alike.filter(|(other, _)| are_of_one_word(word, other)).map(|(_, at)| *at).min()
    }
}

/// Each word of `tokens`, and each two neighbours written as one word (`compound`), with the positions of the tokens
/// that it is made of.
fn words_and_compounds(tokens: &[&Token]) -> Vec<(String, Range<usize>)> {
    let words = tokens.iter().enumerate().map(|(at, token)| (bare(&token.folded).to_owned(), at..at + 1));
    let pairs = tokens.windows(2).enumerate();
    words.chain(pairs.filter_map(|(at, pair)| Some((compound(pair[0], pair[1])?, at..at + 2)))).collect()
}

/// Two words that follow each other, written as one; none where something parts them or a part is too short.
fn compound(first: &Token, second: &Token) -> Option<String> {
    let is_long = |token: &Token| bare(&token.folded).chars().count() >= SHORTEST_PART;
    (second.adjoins && is_long(first) && is_long(second)).then(|| format!("{}{}", first.folded, bare(&second.folded)))
}

/// Whether a word has a meaning by itself: whether it is no function word.
fn says_something(token: &Token) -> bool {
    !is_function_word(&token.folded) && !is_function_word(bare(&token.folded))
}

/// Whether a word is rare in English prose.
fn is_rare(word: &str) -> bool {
    u64::from(count(word)) * 1_000_000 < RARE * running_words()
}

/// Whether a word is one that every child knows, in any of its regular forms.
fn is_familiar(word: &str) -> bool {
    Lists::Carried.is_familiar(WordList::DaleChall, word)
}

/// Whether a word is an adverb in -ly, made from an adjective that prose knows. Such a word tells how something is
/// done, which is no news of the end.
fn is_adverb(word: &str) -> bool {
    let stem = word.strip_suffix("ly").filter(|stem| stem.len() >= SHORTEST_ADJECTIVE);
    stem.is_some_and(|stem| {
        [stem.to_owned(), format!("{stem}le"), format!("{stem}l")].iter().any(|word| count(word) > 0)
    })
}

/// Where a story's last part begins, among its words; none where it has no last part.
fn last_part(story: &[&Token]) -> Option<usize> {
    let sentences = story.chunk_by(|one, other| one.sentence == other.sentence).count();
    let (part, whole) = BEFORE_THE_LAST_PART;
    (sentences >= FEWEST_SENTENCES).then_some(story.len() * part / whole)
}

/// The wording of a draft that stands in the story's last part and nowhere before.
fn late(draft: &[Token], story: &[&Token], headings: &[String], title: &str) -> Vec<Taken> {
    let Some(last_part) = last_part(story) else { return Vec::new() };
    let (before, end) = story.split_at(last_part);
    // What the reader knows without the end: the words before it, and those of headings and title, in any form.
    let title: Vec<String> = CutText::cut(title).iter().map(|(_, word)| word.to_owned()).collect();
    let before = words_and_compounds(before);
    let known = before.iter().map(|(word, _)| word).chain(headings).chain(&title);
    let earlier = Families::of(known.map(String::as_str));
    // For each word of the draft that is news, its place in the story's end.
    let ends = words_and_compounds(end);
    let late = Families::of(ends.iter().map(|(word, _)| word.as_str()));
    let place = |at: usize| late.place(bare(&draft[at].folded)).map(|number| ends[number].1.clone());
    let places: Vec<Option<Range<usize>>> =
        (0..draft.len()).map(|at| place(at).filter(|_| is_news(draft, at, &earlier))).collect();
    let pairs = Pairs::of(end);
    let taken = |own: Range<usize>, there: Range<usize>| Taken {
        in_draft: Span { start: draft[own.start].span.start, end: draft[own.end - 1].span.end },
        in_story: Span { start: end[there.start].span.start, end: end[there.end - 1].span.end },
    };
    // Two words that follow each other as in the story say more than one, so a pair is looked for first; at least one
    // of its words has to be news. A single word has to be news and also one that not every child knows.
    let mut found = Vec::new();
    let mut at = 0;
    while at < draft.len() {
        let is_late = |at: usize| places.get(at).is_some_and(Option::is_some);
        let is_telling = |at: usize| is_late(at) && !is_familiar(bare(&draft[at].folded));
        let pair = if is_late(at) || is_late(at + 1) { pairs.place(&draft[at..]) } else { None };
        if let Some(first) = pair {
            found.push(taken(at..at + 2, first..first + 2));
            at += 2;
            continue;
        }
        if let Some(there) = places[at].clone().filter(|_| is_telling(at)) {
            found.push(taken(at..at + 1, there));
        }
        at += 1;
    }
    found
}

/// Whether a word of a draft is rare and new in the story's last part: no word of its family stands before that part,
/// nor does the compound that it makes with a word beside it.
fn is_news(draft: &[Token], at: usize, earlier: &Families<'_>) -> bool {
    let word = bare(&draft[at].folded);
    let beside = [at.checked_sub(1), Some(at)].into_iter().flatten();
    let mut compounds = beside.filter_map(|at| compound(draft.get(at)?, draft.get(at + 1)?));
    says_something(&draft[at])
        && is_rare(word)
        && !is_adverb(word)
        && earlier.place(word).is_none()
        && compounds.all(|word| earlier.place(&word).is_none())
}

/// Two words and the position of the first.
type Pair<'a> = (&'a str, &'a str, usize);

/// The pairs of words in a story with nothing but a blank or a hyphen between them.
struct Pairs<'a> {
    /// Each pair, by a stem of its first word and a stem of its second, for all stems of both. Two stems as the key
    /// leave few pairs to compare with, even where many pairs of a story have one word in common.
    pairs: HashMap<(String, String), Vec<Pair<'a>>>,
}

impl<'a> Pairs<'a> {
    fn of(tokens: &[&'a Token]) -> Self {
        let mut found = Self { pairs: HashMap::new() };
        let mut known = HashSet::new();
        let is_pair = |pair: &[&Token]| pair[1].adjoins && pair.iter().all(|token| says_something(token));
        for (at, pair) in tokens.windows(2).enumerate().filter(|(_, pair)| is_pair(pair)) {
            let (first, second) = (bare(&pair[0].folded), bare(&pair[1].folded));
            if known.insert((first, second)) {
                for of_both in pairs_of_stems(first, second) {
                    found.pairs.entry(of_both).or_default().push((first, second, at));
                }
            }
        }
        found
    }

    /// The first position in the story of the pair that the first two of some tokens make; none where something parts
    /// them or the story has no such pair.
    fn place(&self, tokens: &[Token]) -> Option<usize> {
        let [first, second, ..] = tokens else { return None };
        if !second.adjoins || !says_something(first) || !says_something(second) {
            return None;
        }
        let (first, second) = (bare(&first.folded), bare(&second.folded));
        let alike = pairs_of_stems(first, second).into_iter().filter_map(|of_both| self.pairs.get(&of_both)).flatten();
        let is_same = |pair: &&Pair| {
            begin_alike(second, pair.1) && are_of_one_word(first, pair.0) && are_of_one_word(second, pair.1)
        };
        alike.filter(is_same).map(|(_, _, at)| *at).min()
    }
}

/// Every stem of one word with every stem of another.
fn pairs_of_stems(first: &str, second: &str) -> Vec<(String, String)> {
    let of_second = stems(second);
    let with_second = |stem: String| of_second.iter().map(move |other| (stem.clone(), other.clone()));
    stems(first).into_iter().flat_map(with_second).collect()
}

/// Whether two words begin with the same two letters. The second words of two pairs have to, since wording with an
/// irregular form (`mice` for `mouse`) is not taken from the story.
fn begin_alike(one: &str, other: &str) -> bool {
    one.chars().take(2).eq(other.chars().take(2))
}

/// All words of a text with a blank on either side, and where each begins, so that a stretch of words is found as one
/// string.
struct Joined {
    words: String,
    starts: Vec<usize>,
}

impl Joined {
    fn of(tokens: &[Token]) -> Self {
        let mut found = Self { words: String::from(" "), starts: Vec::new() };
        for token in tokens {
            found.starts.push(found.words.len() - 1);
            found.words.push_str(&token.folded);
            found.words.push(' ');
        }
        found
    }

    /// Where a stretch of words first stands, as positions among the words; none where the stretch is shorter than
    /// `SHORTEST_SENTENCE`.
    fn find(&self, stretch: &[Token]) -> Option<Range<usize>> {
        if stretch.len() < SHORTEST_SENTENCE {
            return None;
        }
        let wanted: String = stretch.iter().map(|token| format!(" {}", token.folded)).collect();
        let first = self.starts.binary_search(&self.words.find(&format!("{wanted} "))?).ok()?;
        Some(first..first + stretch.len())
    }
}

/// The sentences of a draft that stand in the story word for word.
fn sentences(draft: &[Token], story: &[Token]) -> Vec<Taken> {
    let joined = Joined::of(story);
    let lifted = |words: &[Token]| {
        let there = joined.find(words)?;
        let (own, own_end) = (words.first()?.span, words.last()?.span);
        Some(Taken {
            in_draft: Span { start: own.start, end: own_end.end },
            in_story: Span { start: story[there.start].span.start, end: story[there.end - 1].span.end },
        })
    };
    draft.chunk_by(|one, other| one.sentence == other.sentence).filter_map(lifted).collect()
}

#[cfg(test)]
mod tests {
    use super::find;
    use crate::brief::Book;
    use crate::draft::Draft;
    use crate::terms::story::Story;
    use crate::text::Text;

    const STORY: &str = include_str!("../../drafts/manuscript.txt");
    const TITLE: &str = "The Lamp at Gull Point";

    /// What the draft takes from the sample's manuscript: late wording, then sentences.
    fn check(copy: &str, late: &[&str], sentences: &[&str]) {
        let (draft, story, book) = (Draft::read(copy), Draft::read(STORY), Book::default());
        let story = Story::read(&Text::read(&story, &book));
        let found = find(&Text::read(&draft, &book), &story, TITLE);
        let shown = |taken: &[super::Taken]| -> Vec<String> {
            taken.iter().map(|taken| copy[taken.in_draft.start..taken.in_draft.end].to_owned()).collect()
        };
        assert_eq!(shown(&found.late), late, "{copy}");
        assert_eq!(shown(&found.sentences), sentences, "{copy}");
        for taken in found.late.iter().chain(&found.sentences) {
            assert!(STORY.get(taken.in_story.start..taken.in_story.end).is_some_and(|words| !words.is_empty()));
        }
    }

    #[test]
    fn wording_of_the_last_part() {
        check("Will Quillon's nightshirt save the boats?", &["nightshirt"], &[]);
        check("Oona climbs the stairs to the lamp. The star went in and out.", &[], &[]);
    }

    #[test]
    fn sentences_lifted_whole() {
        check("So it is. *Oona* had counted them!  The lamp was dark.", &[], &["Oona* had counted them"]);
        check(
            "“As far as it is needed,” said Quillon. So was the day.",
            &[],
            &["As far as it is needed,” said Quillon", "So was the day"],
        );
    }

    #[test]
    fn nothing_is_taken_from_nothing() {
        check("", &[], &[]);
    }

    /// What a draft takes from the end of a story of its own.
    fn check_end(story: &str, copy: &str, late: &[&str]) {
        let (draft, manuscript, book) = (Draft::read(copy), Draft::read(story), Book::default());
        let story = Story::read(&Text::read(&manuscript, &book));
        let found = find(&Text::read(&draft, &book), &story, "The Velvet Compass");
        let found: Vec<&str> = found.late.iter().map(|taken| &copy[taken.in_draft.start..taken.in_draft.end]).collect();
        assert_eq!(found, late, "{copy}");
    }

    const WENLOCK: &str = "# Hessa and the Otter\n\nHessa polishes the brass on the barge. The barge has never moved. \
                           An otter watches, and a geese-goose quarrel goes on all day. Her neighbours, the Tarrants, \
                           bake ginger-bread. She dreams of catching eels, and her kite is torn. One morning the rope \
                           lies on the quay. The barge drifts past the mill, past the willows and past the town, and \
                           Hessa is glad. She shines the lamp.\n\nAt dusk a stranger swam beside her, caught the \
                           rope, and it was the otter. Her kin polished nothing; the brass shone. Tarrant waved. A \
                           goose ate gingerbread. The neighbor laughed; the otters, the compass, and Bettina, the \
                           lock keeper, happily moored the barge by a wool blanket.\n";

    #[test]
    fn other_forms_that_stand_before_give_nothing_away() {
        check_end(
            WENLOCK,
            "Shone, polishing, waving otters. The neighbor’s goose caught gingerbread. Tarrant’s barge.",
            &[],
        );
        check_end(WENLOCK, "Ginger-bread, and the compass.", &[]);
        check_end(WENLOCK, "Who is Bettina? Bettina’s barge is moored.", &["Bettina", "Bettina’s", "moored"]);
    }

    #[test]
    fn two_words_are_taken_only_as_they_stand() {
        check_end(WENLOCK, "A wool blanket.", &["wool blanket"]);
        check_end(WENLOCK, "A wool, a blanket. Wool. Blanket! Wool, blanket.", &[]);
        check_end(WENLOCK, "Stranger, swam beside her. Stranger beside. Past dusk.", &[]);
    }

    #[test]
    fn common_words_and_adverbs_give_nothing_away() {
        check_end(WENLOCK, "At dusk she laughed happily, and a stranger ate nothing.", &[]);
    }

    #[test]
    fn a_short_story_has_no_last_part() {
        for story in ["", "Bettina moored the barge.", "The barge went. Bettina moored it."] {
            check_end(story, "Bettina moored the barge.", &[]);
        }
        check_end("The barge went. The otter swam. A cat ran on. Bettina moored.", "Bettina’s barge.", &["Bettina’s"]);
    }

    #[test]
    fn a_blurb_in_the_manuscript_itself_is_no_end() {
        let blurb = "Who is Bettina? Nobody on the quay can say. A zither plays.";
        let with_blurb = format!("{WENLOCK}\n{blurb}\n");
        check_end(&with_blurb, "A zither.", &["zither"]);
        check_end(&with_blurb, blurb, &["Bettina"]);
    }
}
