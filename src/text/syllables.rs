//! Counts the syllables of a word: an English one here, one of another language by `vowels`.
//!
//! In this order: figures as spoken; abbreviations by their list, and words with stops letter by letter; parts of a
//! hyphened word one by one; each part by the CMU Pronouncing Dictionary, else as a possessive or a contraction of
//! a shorter word, else by patterns of letters. Letters with accents count as those without. Capitals make no
//! difference, but capitals without a vowel are spoken letter by letter (`XKQ`).
//!
//! Limits: words in other scripts than Latin count one and are guesses.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::abbreviations::{self, Stop};
use super::language::Language;
use super::spelling::{Spelling, WordMark};
use super::word::{Basis, Word};
use super::words::HYPHENS;
use super::{figures, lexicon, patterns, vowels};

/// Counts the syllables of the words that were found in a text, and completes their spellings. Figures and
/// abbreviations are counted as spoken in English alone.
///
/// Most words are settled by a look-up of all words together ([`lexicon::find_all`]); the others are counted one by
/// one. Each word gets the syllables that [`count`] gives.
pub(super) fn count_all(language: Language, text: &str, words: &mut [Word]) {
    if language != Language::English {
        words.iter_mut().for_each(|word| count_abroad(language, text, word));
        return;
    }
    for at in lexicon::find_all(words, |word| settle(text, word)).as_slice() {
        let word = &mut words[*at];
        // Words of the larger table are settled now. A common word that is left has the letters of an abbreviation.
        if !settle(text, word) {
            count_unsettled(text, word);
        }
    }
}

/// Gives a word the syllables of its entry in the dictionary, and tells whether the count is final: the dictionary has
/// the word, and the list of abbreviations lacks it. Every word comes through here, so the answers are joined without a
/// branch.
#[inline]
fn settle(text: &str, word: &mut Word) -> bool {
    let syllables = word.spelling.listed_syllables();
    let is_listed = word.is_plain & (syllables > 0);
    // A plain word of the dictionary can be a name only if it has a capital; the formulas look at such words one by
    // one.
    let is_small = text.as_bytes().get(word.range.start).is_some_and(u8::is_ascii_lowercase);
    word.syllables = syllables;
    word.basis = Basis::Listed;
    word.is_settled = is_listed & is_small;
    is_listed & !word.spelling.has(WordMark::Abbreviation)
}

/// Counts a word that the dictionary lacks as it stands, or that may be an abbreviation.
fn count_unsettled(text: &str, word: &mut Word) {
    let (written, after) = (&text[word.range.clone()], &text[word.range.end..]);
    let may_be_abbreviated = may_be_abbreviated(after);
    let is_listed = word.spelling.syllables().is_some();
    // The list of abbreviations has these letters, but here they are an ordinary word (`no`, `in`): `settle` has
    // counted it.
    if word.is_plain && is_listed && !(may_be_abbreviated && word.spelling.has(WordMark::Abbreviation)) {
        return;
    }
    word.is_settled = false;
    // A word of letters alone has no ending, hyphen or accent to take away, so its syllables can only be guessed.
    if word.is_plain && !is_listed && !may_be_abbreviated {
        (word.syllables, word.basis) = (guess_piece(written), Basis::Guessed);
        return;
    }
    // The spelling is of the word without its possessive ending: that is what the formulas look for in their lists.
    let folded = fold(written);
    let stem = without_possessive(&folded);
    let is_hyphened = stem.bytes().any(|byte| byte == b'-');
    word.spelling = if is_hyphened { lexicon::find_hyphened(stem) } else { lexicon::find(stem.as_bytes(), stem.len()) };
    // A possessive or hyphened word whose stem the dictionary has needs no second look-up. `added` is none for a word
    // that is neither.
    let added = match folded.get(stem.len() + 1..) {
        Some(ending) => spoken_ending(stem, ending),
        None => is_hyphened.then_some(0),
    };
    (word.syllables, word.basis) = match (word.spelling.syllables(), added) {
        (Some(syllables), Some(added)) => (syllables + added, Basis::Listed),
        _ => count(written, after),
    };
}

/// Counts a word of another language by that language's rules.
fn count_abroad(language: Language, text: &str, word: &mut Word) {
    let written = &text[word.range.clone()];
    word.syllables = vowels::syllables(written, language);
    word.basis = Basis::Rule;
    word.spelling = Spelling::unlisted(without_possessive(&fold(written)));
}

/// Whether what follows a word lets it be an abbreviation: a stop, or the capital of a name.
fn may_be_abbreviated(after: &str) -> bool {
    match after.as_bytes() {
        [b'.', ..] => true,
        [b' ', next, ..] => next.is_ascii_uppercase() || !next.is_ascii(),
        _ => false,
    }
}

/// A folded word without a possessive ending.
pub(crate) fn without_possessive(folded: &str) -> &str {
    folded.strip_suffix("'s").or_else(|| folded.strip_suffix('\'')).unwrap_or(folded)
}

/// The syllables of an English word as spoken, at least 1. `after` is the text behind the word, which shows whether the
/// word is an abbreviation.
pub fn count(word: &str, after: &str) -> (u32, Basis) {
    if has_digit(word) {
        let parts = word.split(HYPHENS);
        return (parts.map(|part| of_part(part).0).fold(0, u32::saturating_add), Basis::Figure);
    }
    if (word.contains('.') || may_be_abbreviated(after))
        && let Some(syllables) = of_abbreviation(word, after)
    {
        return (syllables, Basis::Abbreviation);
    }
    let parts = word.split(HYPHENS).map(of_part);
    parts.fold((0, Basis::Listed), |(sum, basis), (count, found)| (sum.saturating_add(count), basis.max(found)))
}

fn has_digit(word: &str) -> bool {
    word.bytes().any(|byte| byte.is_ascii_digit())
}

/// The syllables of an abbreviation; none where the word is no abbreviation. An abbreviation has its stop behind it; a
/// title may also stand without (`Mr Fenn`).
fn of_abbreviation(word: &str, after: &str) -> Option<u32> {
    if abbreviations::is_dotted(word) {
        let letters = word.chars().filter(|character| *character != '.');
        return Some(letters.map(figures::of_letter).fold(0, u32::saturating_add));
    }
    let known = abbreviations::find(word)?;
    let next = after.strip_prefix('.').map(str::trim_start);
    let is_one = match known.stop {
        Stop::Name => {
            next.is_some() || after.strip_prefix(' ').is_some_and(|next| next.starts_with(char::is_uppercase))
        }
        Stop::Figure => next.is_some_and(|next| next.starts_with(|next: char| next.is_ascii_digit())),
        Stop::Inside | Stop::End => next.is_some(),
    };
    is_one.then_some(known.syllables)
}

/// The syllables of a word without a hyphen, and how they are known.
pub(crate) fn of_part(part: &str) -> (u32, Basis) {
    if let Some(syllables) = lexicon::syllables(part) {
        return (syllables, Basis::Listed);
    }
    if has_digit(part) {
        return (figures::syllables(part), Basis::Figure);
    }
    let folded = fold(part);
    if let Some(listed) = lexicon::syllables(&folded).or_else(|| of_ending(&folded)) {
        return (listed, Basis::Listed);
    }
    (guess(part, &folded), Basis::Guessed)
}

/// The syllables of a possessive or contraction whose stem the dictionary has; none for any other word.
fn of_ending(folded: &str) -> Option<u32> {
    let (stem, ending) = folded.rsplit_once('\'')?;
    Some(lexicon::syllables(stem)? + spoken_ending(stem, ending)?)
}

/// The syllables that an ending behind an apostrophe adds to its stem; none where the letters behind the apostrophe are
/// no known ending.
pub(super) fn spoken_ending(stem: &str, ending: &str) -> Option<u32> {
    let ends_in = |ends: &[&str]| ends.iter().any(|end| stem.ends_with(end));
    let is_spoken = match ending {
        "s" => ends_in(&["s", "x", "z", "ch", "sh", "ce", "ge", "se", "ze"]),
        "d" => ends_in(&["t", "d", "te", "de"]),
        "ll" | "re" | "ve" => !stem.ends_with(patterns::is_vowel),
        "" | "m" => false,
        _ => return None,
    };
    Some(u32::from(is_spoken))
}

/// The likely syllables of a word without a hyphen that the dictionary lacks; at least 1.
fn guess(part: &str, folded: &str) -> u32 {
    if is_spelt(part, folded) {
        return spelt(part);
    }
    let known_ending = |(stem, ending)| spoken_ending(stem, ending).map(|added| (stem, added));
    let (stem, added) = folded.rsplit_once('\'').and_then(known_ending).unwrap_or((folded, 0));
    let pieces = stem.split('\'').filter(|piece| !piece.is_empty());
    let counted = pieces.map(|piece| lexicon::syllables(piece).unwrap_or_else(|| patterns::syllables(piece)));
    counted.fold(added, u32::saturating_add).max(1)
}

/// The likely syllables of a word of ASCII letters that the dictionary lacks: [`guess`] for a word without accents and
/// apostrophes.
fn guess_piece(piece: &str) -> u32 {
    if is_spelt(piece, piece) { spelt(piece) } else { patterns::syllables(piece) }
}

/// The syllables of the names of a word's letters.
fn spelt(word: &str) -> u32 {
    word.chars().map(figures::of_letter).fold(0, u32::saturating_add).max(1)
}

/// Whether a word is capitals without a vowel, which are spoken letter by letter.
fn is_spelt(part: &str, folded: &str) -> bool {
    part.chars().all(char::is_uppercase) && !folded.contains(patterns::is_vowel)
}

/// Small letters without accents, straight apostrophes and plain hyphens: `Zoë’s` becomes `zoe's`.
pub(crate) fn fold(word: &str) -> Cow<'_, str> {
    if word.is_ascii() {
        let has_capital = word.bytes().fold(false, |found, byte| found | byte.is_ascii_uppercase());
        return if has_capital { Cow::Owned(word.to_ascii_lowercase()) } else { Cow::Borrowed(word) };
    }
    let mut folded = String::with_capacity(word.len());
    for character in word.nfd().filter(|character| !is_combining_mark(*character)).flat_map(char::to_lowercase) {
        match character {
            '\u{2019}' => folded.push('\''),
            '\u{2010}' | '\u{2011}' => folded.push('-'),
            '\u{ad}' => {}
            'æ' => folded.push_str("ae"),
            'œ' => folded.push_str("oe"),
            'ß' => folded.push_str("ss"),
            'ø' => folded.push('o'),
            'ł' => folded.push('l'),
            'ð' | 'đ' => folded.push('d'),
            'þ' => folded.push_str("th"),
            'ı' => folded.push('i'),
            _ => folded.push(character),
        }
    }
    Cow::Owned(folded)
}

#[cfg(test)]
mod tests {
    use super::Basis::{self, Abbreviation, Figure, Guessed, Listed};
    use super::count;

    fn check(word: &str, after: &str, syllables: u32, basis: Basis) {
        assert_eq!(count(word, after), (syllables, basis), "{word}{after}");
    }

    #[test]
    fn words_of_the_dictionary() {
        check("lighthouse", " ", 2, Listed);
        check("Every", " ", 2, Listed);
        check("FAMILY", "!", 2, Listed);
        check("hmm", ".", 1, Listed);
    }

    #[test]
    fn possessives_and_contractions() {
        check("lighthouse’s", " ", 3, Listed);
        check("dog's", " ", 1, Listed);
        check("don’t", " ", 1, Listed);
        check("o'clock", " ", 2, Listed);
        check("Quillonia’s", " ", 4, Guessed);
        check("keeper'll", " ", 3, Listed);
    }

    #[test]
    fn hyphened_words_are_the_sum_of_their_parts() {
        check("well-known", " ", 2, Listed);
        check("rock-a-bye", " ", 3, Listed);
        check("bed\u{2010}time", " ", 2, Listed);
        check("Okafor-Lind", " ", 4, Guessed);
        check("4-8", ".", 2, Figure);
        check("three-year-old", " ", 3, Listed);
    }

    #[test]
    fn accents_and_other_scripts() {
        check("café", " ", 2, Listed);
        check("naïve", " ", 2, Listed);
        check("Zoë’s", " ", 2, Listed);
        check("маяк", " ", 1, Guessed);
        check("犬", " ", 1, Guessed);
    }

    #[test]
    fn abbreviations_and_figures() {
        check("Mr", ". ", 2, Abbreviation);
        check("Dr", " Fenn", 2, Abbreviation);
        check("No", ". 5", 2, Abbreviation);
        check("No", ". She", 1, Listed);
        check("U.S", ".", 2, Abbreviation);
        check("etc", ".", 4, Abbreviation);
        check("2026", ".", 5, Figure);
        check("XKQ", " ", 3, Guessed);
        check("no", ". ", 1, Listed);
    }

    #[test]
    fn a_very_long_word_takes_little_time() {
        assert_eq!(count(&"na".repeat(500_000), "").1, Guessed);
        assert_eq!(count(&format!("{}a", "a-".repeat(500_000)), "").1, Listed);
        assert_eq!(count(&"a'".repeat(500_000), "").1, Guessed);
    }
}
