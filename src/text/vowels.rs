//! Counts the syllables of Spanish, French, German, Italian and Dutch words: one for each vowel sound.
//!
//! A word is read from left to right. Each language has a small table of the letters that stand together for one
//! vowel sound (German `ei`, Dutch `ieu`), longest first; every other vowel letter is a sound of its own. Spanish and
//! Italian have a rule instead: strong vowels (a, e, o and any with an accent) each make a syllable, weak ones (i, u)
//! lean on a neighbour.
//!
//! French counts as it is read aloud with care: a mute e inside a word is a syllable (`mainte|nant`), though quick
//! speech drops it, since who drops which depends on the speaker and the place; one at the end is none (`vie`,
//! `fille`), which no speaker of today's standard says but in verse. Nor is the ending -ent of a verb, where its
//! letters tell it from a noun's.
//!
//! Limits: no dictionary stands behind the rules, so where only the stress or the meaning would tell, the count follows
//! the letters: Italian `paura` and `polizia` one short, French `furent` one long, German `Familienfest` one short.
//! How far the counts agree with a speech synthesiser is measured by a reference check.

use super::language::Language;

/// Letters that stand together for one vowel sound, longest first.
const FRENCH: [&str; 36] = [
    "ouai", "oueu", "oei", "iai", "œu", "eau", "oeu", "oui", "iau", "iei", "iou", "uei", "ueu", "oue", "oué", "ouè",
    "ieu", "eui", "oi", "ai", "au", "ei", "eu", "ou", "oe", "ui", "ie", "ié", "iê", "ia", "io", "iè", "ue", "ué", "uè",
    "ua",
];
const GERMAN: [&str; 13] = ["ie", "ei", "ai", "au", "äu", "eu", "ey", "ay", "aa", "ee", "oo", "ui", "oi"];
const DUTCH: [&str; 24] = [
    "ieuw", "aai", "ooi", "oei", "eeu", "eau", "ij", "ie", "oe", "eu", "ui", "ei", "ou", "au", "aa", "ee", "oo", "uu",
    "ai", "oi", "áá", "éé", "óó", "úú",
];

/// Endings of verbs in the third person of the plural whose -ent is silent; other words in -ent end in a vowel that is
/// said (`souvent`, `moment`). M. Grevisse, Le bon usage (from memory).
const SILENT_ENT: [&str; 12] =
    ["aient", "oient", "nnent", "ssent", "ttent", "stent", "rlent", "èrent", "irent", "ivent", "euvent", "oivent"];

/// Endings whose last two vowels are two syllables, though letters like them are one elsewhere: `na-ti-o-nal`,
/// `Fa-mi-li-en`, `in-di-vi-du-ell` (Deutsche Rechtschreibung, Regeln, section 107), `Ideen`, `Feen` (section 19).
const GERMAN_PARTED: [&str; 22] = [
    "ien", "een", "eum", "tient", "tienten", "iell", "ielle", "iellen", "ieller", "ielles", "familie", "linie",
    "serie", "studie", "ödie", "materie", "prämie", "aktie", "lilie", "silie", "kastanie", "folie",
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
        Language::French => sounds(&as_sounded_in_french(part), &FRENCH, language),
        Language::German => sounds(part, &GERMAN, language) + usize::from(is_parted_in_german(part)),
        Language::Dutch => sounds(part, &DUTCH, language) + usize::from(part.ends_with("eum")),
        Language::English | Language::Other => sounds(part, &[], language),
    }
}

/// The vowel sounds of a word, by a table of the letters that stand together for one.
fn sounds(word: &str, table: &[&str], language: Language) -> usize {
    let (mut rest, mut count, mut before) = (word, 0, None);
    while let Some(letter) = rest.chars().next() {
        // The table has longer groups first, so the first group that fits is the longest.
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

/// Whether a y is a consonant: before a vowel, at the start of a word or between two vowels (`yeux`, `voyage`,
/// `Yacht`).
fn is_gliding(letter: char, before: Option<char>, next: Option<char>, language: Language) -> bool {
    let consonant_before = before.is_some_and(|before| !is_vowel(before));
    letter == 'y' && next.is_some_and(is_vowel) && !(consonant_before && language != Language::Spanish)
}

/// A French word with the letters that are sounded: without silent letters, and with `|` between vowels that are two
/// syllables.
fn as_sounded_in_french(word: &str) -> String {
    let mut sounded = without_silent_end(word).replace("aoû", "ou").replace(['û', 'ù'], "u").replace('î', "i");
    // The e and the u that only tell how a g is said: pi-geon, Jean, gui-tare, lon-gueur.
    for (written, said) in [("gea", "ga"), ("geo", "go"), ("jea", "ja"), ("gue", "ge"), ("gué", "gé"), ("gui", "gi")]
    {
        sounded = sounded.replace(written, said);
    }
    parted_in_french(&sounded)
}

/// A French word without a silent final -e, -es or -ent that is not its only vowel.
fn without_silent_end(word: &str) -> &str {
    let verb = SILENT_ENT.iter().any(|ending| word.ends_with(ending)).then(|| word.strip_suffix("ent")).flatten();
    let Some(stem) = verb.or_else(|| word.strip_suffix("es")).or_else(|| word.strip_suffix('e')) else { return word };
    let sounding = stem.strip_suffix("qu").or_else(|| stem.strip_suffix("gu")).unwrap_or(stem);
    if sounding.contains(is_vowel) { sounding } else { word }
}

/// A French word with `|` behind each i, u and ou that is a syllable of its own although a vowel follows, since it
/// stands behind a consonant with l or r: `cli-ent`, `fé-vri-er`, `cru-el`, but `bruit` (P. Fouché, Traité de
/// prononciation française, 1959, from memory).
fn parted_in_french(word: &str) -> String {
    let letters: Vec<char> = word.chars().collect();
    let is_behind_cluster = |at: usize| {
        at >= 2
            && matches!(letters[at - 1], 'l' | 'r')
            && matches!(letters[at - 2], 'b' | 'c' | 'd' | 'f' | 'g' | 'h' | 'k' | 'p' | 't' | 'v')
    };
    let mut parted = String::with_capacity(word.len() + 1);
    for (at, letter) in letters.iter().enumerate() {
        parted.push(*letter);
        let rest = &letters[at + 1..];
        let parts = match letter {
            'i' => is_behind_cluster(at),
            'u' if at > 0 && letters[at - 1] == 'o' => is_behind_cluster(at - 1) && !rest.starts_with(&['i', 'l', 'l']),
            'u' => is_behind_cluster(at) && rest.first() != Some(&'i'),
            _ => false,
        };
        if parts && rest.first().copied().is_some_and(is_vowel) && !rest.starts_with(&['e', 'u']) {
            parted.push('|');
        }
    }
    parted
}

/// Whether a German word ends in two syllables that the table takes for one; `Wien`, `erschien` and `Parteien` do not.
fn is_parted_in_german(word: &str) -> bool {
    GERMAN_PARTED.iter().find_map(|ending| Some((word.strip_suffix(ending)?, *ending))).is_some_and(
        |(before, ending)| {
            ending != "ien" || (before.contains(is_vowel) && !before.ends_with("sch") && !before.ends_with('e'))
        },
    )
}

/// The vowel sounds of a Spanish or Italian word: strong vowels make a syllable each, weak ones lean on a neighbour.
fn of_strong_and_weak(word: &str, language: Language) -> usize {
    let letters: Vec<char> = word.chars().collect();
    let mut count = usize::from(language == Language::Italian && is_parted_in_italian(word));
    // Whether the vowel right before is strong; none where no vowel stands right before.
    let mut last_strong = None;
    for (at, letter) in letters.iter().enumerate() {
        let next = letters.get(at + 1).copied();
        let before = at.checked_sub(1).and_then(|at| letters.get(at)).copied();
        if *letter == 'h' && last_strong.is_some() && language == Language::Spanish {
            continue;
        }
        let is_consonant = is_silent_u(*letter, before, next) || is_gliding(*letter, before, next, language);
        let is_between = *letter == 'i' && last_strong.is_some() && next.is_some_and(is_vowel);
        if !is_vowel(*letter) || is_consonant || (is_between && language == Language::Italian) {
            last_strong = None;
            continue;
        }
        let strong = !matches!(letter, 'i' | 'u' | 'ü' | 'y');
        // A vowel is a syllable of its own unless it joins the vowel right before, which it does if either is weak.
        count += usize::from(match last_strong {
            None => true,
            Some(was_strong) => strong && was_strong,
        });
        last_strong = Some(strong || last_strong.unwrap_or(false));
    }
    count
}

/// Whether an Italian word has two vowels alone, at its end: an i or u, which then bears the stress, and an a, e or o:
/// `mi-o`, `du-e`, `sci-a` (L. Serianni, Italiano, 1989, on the hiatus; from memory). A word with the stress on the
/// last vowel has an accent: `già`.
fn is_parted_in_italian(word: &str) -> bool {
    let Some(stem) = word.strip_suffix(['a', 'e', 'o']) else { return false };
    let Some(onset) = stem.strip_suffix(['i', 'u']) else { return false };
    !onset.contains(is_vowel) && !onset.ends_with(['q', 'g'])
}

/// Whether a letter is the silent u of que, qui, gue and gui.
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

    /// Words chosen for this program, counted by hand as the dictionaries of each language divide them.
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

    /// Mute letters, and vowels that lean on the next or part from it, as dictionaries give the sounds (from memory).
    #[test]
    fn french_letters_that_are_not_said() {
        check(
            Language::French,
            &[
                "où août goût maître langue gueule Jean aient peuvent viennent tuer ouais vieille nuage fruit joueur \
                 oeil",
                "étaient moitié prière liaison pigeon longueur client plier cruel brouillard guitare sociaux",
                "société février oublier éblouir maintenant situation",
                "bibliothèque",
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
        // The hiatus of short words, and an i between vowels, which opens a syllable: aiu-to, no-io-so.
        check(Language::Italian, &["già qui lui noi può", "mio due zia sua buio gioia", "aiuto noioso aiuola"]);
    }

    /// Deutsche Rechtschreibung, Regeln, sections 19 and 107.
    #[test]
    fn german_vowels_that_part() {
        check(
            Language::German,
            &[
                "Wien schien sie Spiel",
                "Feen Seen erschien verdient vielleicht",
                "Ideen Museum Linie Parteien Patient Melodie speziell",
                "Familie Familien Italien",
            ],
        );
    }

    #[test]
    fn dutch() {
        check(
            Language::Dutch,
            &[
                "zee huis nieuw mooi eeuw ijs één vóór",
                "meeuwen lampen zeeën niveau",
                "vuurtoren avontuur museum serieus",
            ],
        );
    }
}
