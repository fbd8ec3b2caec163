//! Counts the syllables of Spanish, French, German, Italian and Dutch words: one for each vowel sound.
//!
//! A word is read from left to right. Each language has a small table of the letters that stand together for one
//! vowel sound (German `ei`, Dutch `ieu`), longest first; every other vowel letter is a sound of its own. Spanish and
//! Italian have a rule instead: strong vowels (a, e, o and any with an accent) each make a syllable, weak ones (i, u)
//! lean on a neighbour. In French a final -e or -es after another syllable is silent.
//!
//! Limits: no dictionary stands behind the rules. Words that part such letters (German `Famili|en`, Dutch
//! `muse|um`, French `prendr|e` before a consonant in verse) are counted as the table says.

use super::language::Language;

/// Letters that stand together for one vowel sound, longest first.
const FRENCH: [&str; 23] = [
    "œu", "eau", "oeu", "oui", "iou", "uei", "oue", "ieu", "eui", "oui", "oi", "ai", "au", "ei", "eu", "ou", "oe",
    "ui", "ie", "ia", "io", "iè", "ue",
];
const GERMAN: [&str; 13] = ["ie", "ei", "ai", "au", "äu", "eu", "ey", "ay", "aa", "ee", "oo", "ui", "oi"];
const DUTCH: [&str; 19] = [
    "aai", "ooi", "oei", "eeu", "ieu", "ij", "ie", "oe", "eu", "ui", "ei", "ou", "au", "aa", "ee", "oo", "uu", "ai",
    "oi",
];

/// The syllables of a word, at least 1. Figures count one.
pub(super) fn syllables(word: &str, language: Language) -> u32 {
    let lower = word.to_lowercase();
    let parts = lower.split(|letter: char| !letter.is_alphabetic());
    let sounds = parts.filter(|part| !part.is_empty()).map(|part| of_letters(part, language)).sum::<usize>();
    u32::try_from(sounds).unwrap_or(u32::MAX).max(1)
}

fn of_letters(part: &str, language: Language) -> usize {
    match language {
        Language::Spanish | Language::Italian => of_strong_and_weak(part, language),
        Language::French => sounds(without_silent_e(part), &FRENCH, language),
        Language::German => sounds(part, &GERMAN, language),
        Language::Dutch => sounds(part, &DUTCH, language),
        Language::English | Language::Other => sounds(part, &[], language),
    }
}

/// Vowel sounds by a table.
fn sounds(word: &str, table: &[&str], language: Language) -> usize {
    let (mut rest, mut count, mut before) = (word, 0, None);
    while let Some(letter) = rest.chars().next() {
        let group = table.iter().find(|group| rest.starts_with(**group));
        let next = rest[letter.len_utf8()..].chars().next();
        let is_silent = letter == 'u' && before == Some('q') || is_gliding(letter, before, next, language);
        if is_silent || (group.is_none() && !is_vowel(letter)) {
            rest = &rest[letter.len_utf8()..];
            before = Some(letter);
            continue;
        }
        count += 1;
        let length = group.map_or(letter.len_utf8(), |group| group.len());
        before = rest[..length].chars().next_back();
        rest = &rest[length..];
    }
    count
}

/// Whether a y is a consonant: before a vowel, at the start of a word or between two vowels (`yeux`, `voyage`, `Yacht`).
fn is_gliding(letter: char, before: Option<char>, next: Option<char>, language: Language) -> bool {
    let consonant_before = before.is_some_and(|before| !is_vowel(before));
    letter == 'y' && next.is_some_and(is_vowel) && !(consonant_before && language != Language::Spanish)
}

/// A French word without a final -e or -es that is not its only vowel.
fn without_silent_e(word: &str) -> &str {
    let Some(stem) = word.strip_suffix("es").or_else(|| word.strip_suffix('e')) else { return word };
    let sounding = stem.strip_suffix("qu").or_else(|| stem.strip_suffix("gu")).unwrap_or(stem);
    if sounding.contains(is_vowel) { stem } else { word }
}

/// Spanish and Italian: strong vowels make a syllable each, weak ones lean on a neighbour.
fn of_strong_and_weak(word: &str, language: Language) -> usize {
    let letters: Vec<char> = word.chars().collect();
    let mut count = 0;
    // What the vowel before was, if one stands right before: whether it is strong.
    let mut last_strong = None;
    for (at, letter) in letters.iter().enumerate() {
        let next = letters.get(at + 1).copied();
        let before = at.checked_sub(1).and_then(|at| letters.get(at)).copied();
        if *letter == 'h' && last_strong.is_some() && language == Language::Spanish {
            continue;
        }
        if !is_vowel(*letter) || is_silent_u(*letter, before, next) || is_gliding(*letter, before, next, language) {
            last_strong = None;
            continue;
        }
        let strong = !matches!(letter, 'i' | 'u' | 'ü' | 'y');
        count += usize::from(match last_strong {
            None => true,
            Some(was_strong) => strong && was_strong,
        });
        last_strong = Some(strong || last_strong.unwrap_or(false));
    }
    count
}

/// The u of que, qui, gue and gui.
fn is_silent_u(letter: char, before: Option<char>, next: Option<char>) -> bool {
    letter == 'u'
        && (before == Some('q') || (before == Some('g') && matches!(next, Some('e' | 'i' | 'é' | 'í' | 'è' | 'ì'))))
}

fn is_vowel(letter: char) -> bool {
    matches!(
        letter,
        'a' | 'e'
            | 'i'
            | 'o'
            | 'u'
            | 'y'
            | 'á'
            | 'à'
            | 'â'
            | 'ä'
            | 'ã'
            | 'å'
            | 'é'
            | 'è'
            | 'ê'
            | 'ë'
            | 'í'
            | 'ì'
            | 'î'
            | 'ï'
            | 'ó'
            | 'ò'
            | 'ô'
            | 'ö'
            | 'õ'
            | 'ø'
            | 'ú'
            | 'ù'
            | 'û'
            | 'ü'
            | 'ÿ'
            | 'æ'
            | 'œ'
    )
}

#[cfg(test)]
mod tests {
    use super::{Language, syllables};

    /// Counted by hand, as the words are parted in the dictionaries of each language; made up for this program.
    fn check(language: Language, words: &[&str]) {
        for (at, row) in words.iter().enumerate() {
            for word in row.split(' ') {
                assert_eq!(syllables(word, language) as usize, at + 1, "{word}");
            }
        }
    }

    #[test]
    fn spanish() {
        check(
            Language::Spanish,
            &[
                "el mar rey buey que sol",
                "faro tierra agua búho ciudad país playa ahí leer",
                "guitarra maría poeta ahora tormenta",
                "océano desayuno",
            ],
        );
    }

    #[test]
    fn french() {
        check(
            Language::French,
            &[
                "la mer les rue vie fille feuille que yeux eau nuit homme",
                "maison voyage théâtre poème bateau payer nation idée lumières",
                "aventure travailler océan",
            ],
        );
    }

    #[test]
    fn german() {
        check(
            Language::German,
            &[
                "See der Haus Freund Qualm",
                "Leuchtturm Köpfchen Bäume Meerwind",
                "Parteien wunderbar",
                "Abenteuer Aufmerksamkeit quantitativ",
            ],
        );
    }

    #[test]
    fn italian() {
        check(
            Language::Italian,
            &["il mar", "mare faro acqua giorno chiave", "paese poeta finestra", "avventura", "lontanissimo"],
        );
    }

    #[test]
    fn dutch() {
        check(Language::Dutch, &["zee huis nieuw mooi eeuw ijs", "meeuwen lampen zeeën", "vuurtoren avontuur"]);
    }
}
