//! Phrases that a rule looks for, as a list or a brief writes them.
//!
//! One entry a line: words in any case, with blanks between them. `a/b` stands for either word, `@` for a word with a
//! capital, `*` for up to four words or none. Words in round brackets at the end must follow the phrase in the copy,
//! but are not part of the place that is found. Behind ` = ` stand shorter wordings, the best first, with ` | ` between
//! them. Nothing behind ` = ` means that the phrase can be deleted; an entry without ` = ` has no ready wording.
//! `make/makes a plan = plan/plans` pairs the forms of the first word that has several.

use unicode_normalization::UnicodeNormalization;

use crate::units::nouns::counted;

/// A phrase and what can stand in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phrase {
    /// The pieces of the phrase, in order; the first is [`PhrasePiece::Words`].
    pub slots: Vec<PhrasePiece>,
    /// How many of the slots, from the first on, are part of the place that is found; the others must only follow.
    pub held: usize,
    /// Shorter wordings, the best first: each has one form, or as many as the first slot with several words.
    pub wordings: Vec<Vec<String>>,
    /// The phrase as its list has it, without the wordings.
    pub written: String,
}

/// One piece of a phrase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PhrasePiece {
    /// Any of these words, folded.
    Words(Vec<String>),
    /// A word with a capital.
    Capital,
    /// Up to four words, or none.
    Any,
}

/// What is wrong in a list of phrases, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListFault {
    /// The line of the entry, from 1.
    pub line: usize,
    /// What is wrong with the entry, without a stop.
    pub problem: String,
}

/// A word in the form in which words are compared: small letters, straight apostrophes, no hyphens, each letter with
/// its marks as one character, and letters that are written as one or as two (`ß`, `œ`, `ĳ`) as two.
pub fn fold(word: &str) -> String {
    if word.is_ascii() {
        let mut folded = word.to_ascii_lowercase();
        folded.retain(|c| c != '-');
        return folded;
    }
    let mut folded = String::with_capacity(word.len());
    for letter in word.chars().flat_map(char::to_lowercase).nfc() {
        match letter {
            '-' | '\u{2010}' | '\u{2011}' | '\u{ad}' => {}
            '\u{2019}' => folded.push('\''),
            'ß' => folded.push_str("ss"),
            'œ' => folded.push_str("oe"),
            'ĳ' => folded.push_str("ij"),
            letter => folded.push(letter),
        }
    }
    folded
}

/// The most `*` in a phrase, since each is tried with every number of words; and the most pieces of a phrase.
const MOST_OPEN: usize = 3;
const MOST_SLOTS: usize = 24;

/// How many characters a message shows of a phrase that is too long.
const SHOWN: usize = 40;

impl Phrase {
    /// Reads one entry of a list; the error says what is wrong with the entry, without a full stop.
    pub fn read(entry: &str) -> Result<Self, String> {
        // The wordings are split off first, so that a bracket in a wording is not taken for one of the phrase.
        let (phrase, wordings) = match entry.split_once('=') {
            Some((phrase, wordings)) => (phrase.trim(), Some(wordings)),
            None => (entry.trim(), None),
        };
        let (place, behind) = match phrase.split_once('(') {
            Some((place, behind)) => {
                (place, behind.strip_suffix(')').ok_or(format!("\"{phrase}\" does not end with its bracket"))?)
            }
            None => (phrase, ""),
        };
        let mut slots: Vec<PhrasePiece> = place.split_whitespace().map(PhrasePiece::read).collect::<Result<_, _>>()?;
        let held = slots.len();
        slots.extend(behind.split_whitespace().map(PhrasePiece::read).collect::<Result<Vec<_>, _>>()?);
        let is_open = |slot: Option<&PhrasePiece>| !matches!(slot, Some(PhrasePiece::Words(_)));
        if is_open(slots.first()) || matches!(slots.last(), Some(PhrasePiece::Any)) {
            return Err(format!("\"{phrase}\" must begin with a word and cannot end with *"));
        }
        let open = slots.iter().filter(|slot| matches!(slot, PhrasePiece::Any)).count();
        if open > MOST_OPEN || slots.len() > MOST_SLOTS {
            return Err(format!(
                "\"{}\" is too long: a phrase has at most {MOST_SLOTS} words, and * at most {MOST_OPEN} times",
                phrase.chars().take(SHOWN).collect::<String>()
            ));
        }
        let wordings = wordings.map_or(Ok(Vec::new()), |wordings| read_wordings(wordings, &slots))?;
        Ok(Self { slots, held, wordings, written: phrase.to_owned() })
    }

    /// Reads a list: one entry a line, empty lines and lines that begin with `#` aside.
    ///
    /// # Errors
    ///
    /// The first entry that cannot be used.
    pub fn read_list(list: &str) -> Result<Vec<Self>, ListFault> {
        let entries = list.lines().enumerate().filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
        entries.map(|(at, line)| Self::read(line).map_err(|problem| ListFault { line: at + 1, problem })).collect()
    }
}

impl PhrasePiece {
    fn read(token: &str) -> Result<Self, String> {
        match token {
            "*" => return Ok(Self::Any),
            "@" => return Ok(Self::Capital),
            _ => {}
        }
        let words: Vec<String> = token.split('/').map(fold).collect();
        let is_word = |word: &String| !word.is_empty() && word.chars().all(|c| c.is_alphanumeric() || c == '\'');
        match words.iter().all(is_word) {
            true => Ok(Self::Words(words)),
            false => Err(format!("\"{token}\" is no word; write words with blanks between them, and no other marks")),
        }
    }
}

/// Reads the wordings, each in one form or in as many forms as the phrase has.
fn read_wordings(wordings: &str, slots: &[PhrasePiece]) -> Result<Vec<Vec<String>>, String> {
    let several = |slot: &PhrasePiece| match slot {
        PhrasePiece::Words(words) if words.len() > 1 => Some(words.len()),
        _ => None,
    };
    let forms = slots.iter().find_map(several).unwrap_or(1);
    let read = |wording: &str| {
        let one = |form: usize| {
            let words = wording.split_whitespace().map(|word| word.split('/').nth(form).unwrap_or(word));
            words.collect::<Vec<_>>().join(" ")
        };
        match wording.split_whitespace().map(|word| word.split('/').count()).find(|count| *count > 1) {
            Some(count) if count != forms => {
                Err(format!("\"{}\" has {}, but the phrase has {forms}", wording.trim(), counted(count, "form")))
            }
            Some(count) => Ok((0..count).map(one).collect()),
            None => Ok(vec![one(0)]),
        }
    };
    wordings.split('|').map(read).collect()
}

#[cfg(test)]
mod tests {
    use super::{Phrase, PhrasePiece, fold};

    #[test]
    fn forms_are_paired() {
        let phrase = Phrase::read("make/makes a plan to = plan/plans to | think of").unwrap();
        assert_eq!(phrase.wordings, [vec!["plan to", "plans to"], vec!["think of"]]);
        let phrase = Phrase::read("Heart-warming (* story) =").unwrap();
        assert_eq!(phrase.slots[..phrase.held], [PhrasePiece::Words(vec!["heartwarming".to_owned()])]);
        assert_eq!(phrase.wordings, [vec![""]]);
        assert!(Phrase::read("in the end").unwrap().wordings.is_empty());
    }

    #[test]
    fn one_word_has_one_form() {
        for (one, other) in [
            ("été", "e\u{301}te\u{301}"),
            ("große", "grosse"),
            ("Cœur", "coeur"),
            ("ĲSJE", "ijsje"),
            ("L’île", "l'i\u{302}le"),
            ("vivre-ensemble", "vivre\u{2011}ensemble"),
        ] {
            assert_eq!(fold(one), fold(other), "{one}");
        }
        assert_ne!(fold("a"), fold("à"));
    }

    #[test]
    fn what_is_no_entry_is_told() {
        for (entry, problem) in [
            ("* story", "\"* story\" must begin with a word and cannot end with *"),
            (
                "a * b * c * d * e",
                "\"a * b * c * d * e\" is too long: a phrase has at most 24 words, and * at most 3 times",
            ),
            ("", "\"\" must begin with a word and cannot end with *"),
            ("once, twice", "\"once,\" is no word; write words with blanks between them, and no other marks"),
            ("make/makes it = a/b/c", "\"a/b/c\" has 3 forms, but the phrase has 2"),
            ("meet (@", "\"meet (@\" does not end with its bracket"),
        ] {
            assert_eq!(Phrase::read(entry).unwrap_err(), problem);
        }
        assert_eq!(Phrase::read_list("# head\n\nmagic\n*").unwrap_err().line, 4);
    }
}
