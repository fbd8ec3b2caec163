//! Where the single marks of a paragraph stand: whether one may close a quotation, measures feet, or begins a word that
//! is cut short.

use super::language::Language;

/// What a single mark may be, by what stands beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SinglePlace {
    /// Behind a figure, as feet and minutes are written.
    Feet,
    /// Behind a word and before one in small letters: more often an apostrophe (`the dogs' bowls`) than a mark that
    /// closes.
    Weak,
    /// Any other place.
    Other,
}

/// The single marks of a paragraph that may close a quotation, by their bytes, in order. They are found once, so that
/// any number of marks that may open are looked up without reading on.
pub(super) struct SinglePlaces {
    strong: Vec<usize>,
    weak: Vec<usize>,
}

/// How many bytes a quotation that ends at a weak place may have: `the 'old' lamp`.
const SOON: usize = 32;

/// Words that begin with an apostrophe and are no words without it, by language; found in fiction for children.
const SURE: [(Language, &[&str]); 4] = [
    (
        Language::English,
        &[
            "tis",
            "twas",
            "twere",
            "twill",
            "twould",
            "twasn't",
            "tisn't",
            "em",
            "n",
            "til",
            "bout",
            "nough",
            "nuff",
            "neath",
            "tween",
            "twixt",
            "gainst",
            "appen",
            "cept",
            "spose",
            "fraid",
            "scuse",
            "specially",
            "stead",
            "cos",
            "coz",
            "cuz",
            "zat",
            "kay",
            "tain't",
            "un",
            "uns",
            "ee",
            "er",
            "im",
            "is'n",
        ],
    ),
    (Language::Dutch, &["s", "t", "n", "k", "m", "r", "ns", "tje"]),
    (Language::German, &["s", "n", "ne", "nen", "ner", "nem", "rauf", "raus", "rein", "runter", "rüber", "ran"]),
    (Language::Italian, &["sto", "sta", "sti", "ste", "l", "n", "ndo"]),
];
/// Words that may be cut short, and are words of their own too: their mark opens where one that closes follows.
const MAYBE: [&str; 15] = [
    "cause", "round", "till", "cross", "fore", "long", "less", "way", "ere", "ello", "side", "sides", "course",
    "tention", "most",
];

impl SinglePlaces {
    pub(super) fn of(text: &str) -> Self {
        let mut found = Self { strong: Vec::new(), weak: Vec::new() };
        for (at, mark) in text.char_indices().filter(|(_, mark)| matches!(mark, '\'' | '’')) {
            let before = text[..at].chars().next_back();
            let mut behind = text[at + mark.len_utf8()..].chars();
            let after = behind.next();
            let ends = before.is_some_and(|c| !c.is_whitespace() && !"([{—–\"“".contains(c) || c == '—');
            if !ends || after.is_some_and(char::is_alphanumeric) {
                continue;
            }
            let goes_on = after.is_some_and(char::is_whitespace) && behind.next().is_some_and(char::is_lowercase);
            let is_weak = goes_on && before.is_some_and(char::is_alphabetic);
            if is_weak { &mut found.weak } else { &mut found.strong }.push(at);
        }
        found
    }

    /// What a straight mark may be.
    pub(super) fn place(&self, text: &str, at: usize) -> SinglePlace {
        let (before, behind) = (&text[..at], &text[at + 1..]);
        let is_figure = |c: char| c.is_ascii_digit();
        let inches = behind.trim_start_matches(' ').trim_start_matches(is_figure);
        let has_inches = inches.starts_with(['"', '″']) && inches.len() < behind.len();
        let ends = behind.chars().next().is_none_or(|c| c.is_whitespace() || ",.;)x×".contains(c));
        let figures = before.len() - before.trim_end_matches(is_figure).len();
        // Four figures are a year.
        if (1..=3).contains(&figures) && (has_inches || ends) {
            SinglePlace::Feet
        } else if self.weak.binary_search(&at).is_ok() {
            SinglePlace::Weak
        } else {
            SinglePlace::Other
        }
    }

    /// The first mark from a byte on and before another that may close a quotation.
    pub(super) fn close_within(&self, text: &str, from: usize, end: usize) -> Option<usize> {
        let first = |places: &[usize]| places.get(places.partition_point(|at| *at <= from)).copied();
        let is_soon = |at: &usize| *at - from <= SOON && !text[from..*at].contains(['.', '!', '?', ',', ';']);
        let strong = first(&self.strong).filter(|at| *at < end);
        strong.or(first(&self.weak).filter(|at| *at < end && is_soon(at)))
    }

    /// Whether a word is cut short at its start: none if it is not known to be, or whether that is sure. Two figures
    /// with an `s` are a decade, and two alone may be a year.
    pub(super) fn cut_short(&self, after: &str, language: Language) -> Option<bool> {
        let word = first_word(after);
        let figures = word.len() - word.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        match (figures, &word[figures..]) {
            (2, "s") => return Some(true),
            (2, "") => return Some(false),
            _ => {}
        }
        if is_listed(&word, language) {
            return Some(true);
        }
        (language == Language::English && MAYBE.contains(&word.as_str())).then_some(false)
    }
}

/// When something is done, in Dutch, behind `'s`.
const TIMES: [&str; 9] =
    ["avonds", "morgens", "ochtends", "middags", "namiddags", "nachts", "zomers", "winters", "maandags"];

/// Whether a word, behind its first mark, is one that is cut short and no other, so that a printed mark that opens is a
/// slip. In Dutch that mark opens speech, which may begin with any word, and only `'s` before a time is sure.
pub(super) fn is_cut_short(after: &str, language: Language) -> bool {
    let word = first_word(after);
    if language == Language::Dutch {
        let time = after.strip_prefix("s ").map(first_word);
        return time.is_some_and(|time| TIMES.contains(&time.as_str()));
    }
    let is_decade = word.len() == 3 && word.ends_with('s') && word.starts_with(|c: char| c.is_ascii_digit());
    (is_decade && language == Language::English) || is_listed(&word, language)
}

fn is_listed(word: &str, language: Language) -> bool {
    SURE.iter().any(|(of, words)| *of == language && words.contains(&word))
}

/// The word that a text begins with, in small letters; an apostrophe inside it is straight.
fn first_word(text: &str) -> String {
    let is_part = |c: char| c.is_alphanumeric() || matches!(c, '\'' | '’');
    let end = text.find(|c| !is_part(c)).unwrap_or(text.len());
    text[..end].trim_end_matches(['\'', '’']).to_lowercase().replace('’', "'")
}
