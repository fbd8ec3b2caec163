//! Makes forms of English words: the plain word that a form goes back to, and the same form of another word.
//!
//! Regular endings are spelt by the rules of `text/inflections.rs`; where these leave two spellings, the one that the
//! pronouncing dictionary has is taken. Irregular forms are those of WordNet's exception lists.

use super::family::bases;
use crate::text::inflections::{before_y, is_plural};
use crate::text::lexicon::syllables;
use crate::text::parts::{SpecialForm, irregular_base, irregular_form};

/// A form that a word may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WordForm {
    /// The word as a dictionary lists it: `lamp`, `climb`, `brave`.
    Plain,
    /// A noun's plural: `lamps`.
    Plural,
    /// A verb's form in -s: `climbs`.
    Present,
    /// A verb's past: `climbed`.
    Past,
    /// A verb's past participle: `stolen`.
    Participle,
    /// A verb's form in -ing: `climbing`.
    Gerund,
    /// An adjective's first degree: `braver`.
    Comparative,
    /// An adjective's second degree: `bravest`.
    Superlative,
}

/// Verbs whose regular past is as common as the irregular one that the list has.
const EITHER: [&str; 11] =
    ["burn", "dream", "kneel", "lean", "leap", "learn", "light", "smell", "spell", "spill", "spoil"];

/// The plain words that a word in small letters may go back to, where it is such a form.
pub(super) fn plain_words(word: &str, form: WordForm) -> Vec<String> {
    let regular =
        |ending: &str| -> Vec<String> { if word.ends_with(ending) { bases(word).collect() } else { Vec::new() } };
    let mut found = match form {
        WordForm::Plain => return vec![word.to_owned()],
        WordForm::Plural | WordForm::Present => regular("s").into_iter().filter(|base| is_plural(word, base)).collect(),
        WordForm::Past | WordForm::Participle => regular("d"),
        WordForm::Gerund => regular("ing"),
        WordForm::Comparative => compared(word, "er"),
        WordForm::Superlative => compared(word, "est"),
    };
    if matches!(form, WordForm::Plural | WordForm::Past | WordForm::Participle) {
        found.extend(irregular_base(word).map(str::to_owned));
        // A plain form that is its own past: `put`.
        found.extend((form != WordForm::Plural && !word.ends_with("ed")).then(|| word.to_owned()));
    }
    found
}

/// The adjectives that a word may be a degree of.
fn compared(word: &str, ending: &str) -> Vec<String> {
    let Some(stem) = word.strip_suffix(ending) else { return Vec::new() };
    let single = |stem: &str| {
        let mut letters = stem.chars();
        (letters.next_back() == letters.clone().next_back()).then(|| letters.as_str().to_owned())
    };
    let before_i = stem.strip_suffix('i').map(|stem| format!("{stem}y"));
    [Some(stem.to_owned()), Some(format!("{stem}e")), before_i, single(stem)].into_iter().flatten().collect()
}

/// A form of a wording in small letters. Of several words a verb's first and a noun's last take the ending; none where
/// the wording has no such form.
pub(super) fn formed(wording: &str, form: WordForm) -> Option<String> {
    let split = match form {
        WordForm::Plain => return Some(wording.to_owned()),
        WordForm::Comparative | WordForm::Superlative => return degree(wording, form),
        // `way in`, `ways in`.
        WordForm::Plural if wording.ends_with(" in") => wording.split_once(' ').map(|(first, rest)| ("", first, rest)),
        WordForm::Plural => wording.rsplit_once(' ').map(|(rest, last)| (rest, last, "")),
        _ => wording.split_once(' ').map(|(first, rest)| ("", first, rest)),
    };
    let (before, word, behind) = split.unwrap_or(("", wording, ""));
    let made = match form {
        WordForm::Plural => irregular(word, SpecialForm::Plural).unwrap_or_else(|| with_s(word)),
        WordForm::Past => irregular(word, SpecialForm::Past).unwrap_or_else(|| with_vowel(word, "ed")),
        WordForm::Participle => irregular(word, SpecialForm::Participle).unwrap_or_else(|| with_vowel(word, "ed")),
        WordForm::Gerund => with_vowel(word, "ing"),
        _ => match word {
            "have" => "has".to_owned(),
            "be" => "is".to_owned(),
            _ => with_s(word),
        },
    };
    let parts = [before, &made, behind].into_iter().filter(|part| !part.is_empty());
    Some(parts.collect::<Vec<_>>().join(" "))
}

fn irregular(word: &str, form: SpecialForm) -> Option<String> {
    let is_regular = form != SpecialForm::Plural && EITHER.contains(&word);
    irregular_form(word, form).filter(|_| !is_regular).map(str::to_owned)
}

/// A degree of an adjective: by an ending where it is short, else with a word before it.
fn degree(wording: &str, form: WordForm) -> Option<String> {
    let (ending, before) = if form == WordForm::Comparative { ("er", "more") } else { ("est", "most") };
    match (wording, form) {
        _ if wording.contains([' ', '-']) => return None,
        ("good", WordForm::Comparative) => return Some("better".to_owned()),
        ("good", _) => return Some("best".to_owned()),
        ("bad" | "ill", WordForm::Comparative) => return Some("worse".to_owned()),
        ("bad" | "ill", _) => return Some("worst".to_owned()),
        ("little" | "far" | "more" | "many" | "much", _) => return None,
        _ => {}
    }
    let short = if wording.ends_with('y') { 2 } else { 1 };
    Some(match syllables(wording)? {
        count if count <= short => with_vowel(wording, ending),
        _ => format!("{before} {wording}"),
    })
}

fn with_s(word: &str) -> String {
    let hisses = ["s", "x", "z", "ch", "sh"].iter().any(|end| word.ends_with(end));
    let es = format!("{word}es");
    match before_y(word) {
        Some(stem) => format!("{stem}ies"),
        None if hisses || (word.ends_with('o') && (matches!(word, "go" | "do") || syllables(&es).is_some())) => es,
        None => format!("{word}s"),
    }
}

/// A word with an ending that begins with a vowel: the last letter dropped, changed or doubled.
fn with_vowel(word: &str, ending: &str) -> String {
    let is_ing = ending == "ing";
    if let (true, Some(stem)) = (is_ing, word.strip_suffix("ie")) {
        return format!("{stem}ying");
    }
    if let Some(stem) = word.strip_suffix('e') {
        // `see` keeps its letters before -ing.
        let keeps = is_ing && (stem.ends_with(['e', 'o', 'y']) || word == "be");
        return if keeps { format!("{word}{ending}") } else { format!("{stem}{ending}") };
    }
    if let (false, Some(stem)) = (is_ing, before_y(word)) {
        return format!("{stem}i{ending}");
    }
    if word.ends_with('c') {
        return format!("{word}k{ending}");
    }
    let (plain, doubled) = (format!("{word}{ending}"), doubled(word).map(|word| format!("{word}{ending}")));
    match doubled {
        Some(doubled) if syllables(word) == Some(1) => doubled,
        Some(doubled) if syllables(&plain).is_none() && syllables(&doubled).is_some() => doubled,
        // `begin` has its stress on the vowel that is doubled; of `travel` each house has its own spelling.
        Some(doubled) if ["get", "gin", "fit", "mit", "fer", "cur", "gret"].iter().any(|end| word.ends_with(end)) => {
            doubled
        }
        _ => plain,
    }
}

/// A word with its last consonant twice, where it ends in one vowel and one consonant.
fn doubled(word: &str) -> Option<String> {
    let is_vowel = |letter: char| "aeiou".contains(letter);
    let mut last = word.chars().rev();
    let (consonant, vowel) = (last.next()?, last.next()?);
    let is_short = last.next().is_none_or(|before| !is_vowel(before) || (before == 'u' && word.contains("qu")));
    (!is_vowel(consonant) && !"wxy".contains(consonant) && is_vowel(vowel) && is_short)
        .then(|| format!("{word}{consonant}"))
}

#[cfg(test)]
mod tests {
    use super::WordForm::{Comparative, Gerund, Participle, Past, Plural, Present, Superlative};
    use super::{formed, plain_words};

    #[test]
    fn forms_are_made_as_english_spells_them() {
        for (word, form, made) in [
            ("run", Past, "ran"),
            ("run", Participle, "run"),
            ("run", Gerund, "running"),
            ("set off", Past, "set off"),
            ("set off", Gerund, "setting off"),
            ("look into", Present, "looks into"),
            ("go", Present, "goes"),
            ("have", Present, "has"),
            ("make up", Participle, "made up"),
            ("begin", Gerund, "beginning"),
            ("see", Gerund, "seeing"),
            ("hurry", Past, "hurried"),
            ("hurry", Gerund, "hurrying"),
            ("lie", Gerund, "lying"),
            ("stop", Past, "stopped"),
            ("wander", Past, "wandered"),
            ("gather", Gerund, "gathering"),
            ("shout", Past, "shouted"),
            ("leap", Past, "leaped"),
            ("find", Past, "found"),
            ("steal", Participle, "stolen"),
            ("beat", Past, "beat"),
            ("beat", Participle, "beaten"),
            ("put out", Past, "put out"),
            ("safe place", Plural, "safe places"),
            ("way in", Plural, "ways in"),
            ("enemy", Plural, "enemies"),
            ("hero", Plural, "heroes"),
            ("thief", Plural, "thieves"),
            ("brush", Plural, "brushes"),
            ("big", Comparative, "bigger"),
            ("brave", Superlative, "bravest"),
            ("scary", Comparative, "scarier"),
            ("dangerous", Superlative, "most dangerous"),
            ("good", Superlative, "best"),
        ] {
            assert_eq!(formed(word, form).as_deref(), Some(made), "{word}");
        }
        assert_eq!(formed("very big", Comparative), None);
    }

    #[test]
    fn a_form_goes_back_to_its_plain_word() {
        for (word, form, plain) in [
            ("embarked", Past, "embark"),
            ("expeditions", Plural, "expedition"),
            ("cities", Plural, "city"),
            ("discovers", Present, "discover"),
            ("gazing", Gerund, "gaze"),
            ("fled", Past, "flee"),
            ("mice", Plural, "mouse"),
            ("swifter", Comparative, "swift"),
            ("eeriest", Superlative, "eerie"),
            ("put", Past, "put"),
        ] {
            assert!(plain_words(word, form).contains(&plain.to_owned()), "{word}: {:?}", plain_words(word, form));
        }
    }
}
