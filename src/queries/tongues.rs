//! What words of French, German, Spanish, Italian and Dutch tell, and of which language a copy's small words are.
//!
//! Source: the lists `words-LANGUAGE.txt`, which name theirs. The brief says what the language of a copy is. Where the
//! small words of the copy are of another one that is known here, and by far, the brief has named the wrong language or
//! none, and rules that read words would be wrong throughout: they go by the copy, and the author is told. The share
//! that small words must have, and the margin, are those at which every blurb of tests/blurbs is known for what it is.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::brief::phrases::fold;
use crate::terms::frequencies::is_function_word;
use crate::text::Text;
use crate::text::language::Language;

/// What a word tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum WordSign {
    /// One of the small words that every text is full of.
    Small,
    /// The word says little by itself.
    Tired,
    /// A small word that nobody says twice in a row on purpose.
    Double,
    /// The word stands before a person's name, or is used as one by the family.
    Title,
    /// What a person is to somebody.
    Kin,
    /// The word stands before the name of a place.
    Before,
    /// The word stands before the names of places and persons alike.
    Open,
    /// What gives a quote its weight.
    Standing,
}

impl WordSign {
    /// Every sign by its name in the lists.
    const ALL: [(&str, Self); 8] = [
        ("small", Self::Small),
        ("tired", Self::Tired),
        ("double", Self::Double),
        ("title", Self::Title),
        ("kin", Self::Kin),
        ("before", Self::Before),
        ("open", Self::Open),
        ("standing", Self::Standing),
    ];

    fn bit(self) -> u8 {
        1 << self as u8
    }
}

/// The signs of each word, folded, by language.
static SIGNS: LazyLock<HashMap<Language, HashMap<String, u8>>> = LazyLock::new(|| {
    let read = |language: Language| {
        let mut signs: HashMap<String, u8> = HashMap::new();
        for line in list(language).lines().filter(|line| !line.starts_with('#')) {
            let known = line.split_once(' ').and_then(|(word, sign)| {
                let sign = WordSign::ALL.iter().find(|(name, _)| *name == sign)?.1;
                Some((fold(word), sign))
            });
            if let Some((word, sign)) = known {
                *signs.entry(word).or_default() |= sign.bit();
            }
        }
        (language, signs)
    };
    Language::ABROAD.map(read).into_iter().collect()
});

fn list(language: Language) -> &'static str {
    match language {
        Language::French => wordlist!("words-french.txt"),
        Language::German => wordlist!("words-german.txt"),
        Language::Spanish => wordlist!("words-spanish.txt"),
        Language::Italian => wordlist!("words-italian.txt"),
        Language::Dutch => wordlist!("words-dutch.txt"),
        Language::English | Language::Other => "",
    }
}

/// Whether a word, folded, has a sign in a language; never in English, whose lists are others.
pub(super) fn has_sign(language: Language, word: &str, sign: WordSign) -> bool {
    let signs = SIGNS.get(&language).and_then(|signs| signs.get(word));
    signs.is_some_and(|signs| signs & sign.bit() != 0)
}

/// Words, without their last vowel, that French and Italian write together with the next.
const ELIDED: [(Language, &[&str]); 2] = [
    (
        Language::French,
        &["l", "d", "qu", "j", "m", "t", "s", "n", "c", "jusqu", "lorsqu", "puisqu", "quoiqu", "presqu"],
    ),
    (
        Language::Italian,
        &[
            "l", "un", "d", "c", "s", "m", "t", "v", "n", "dell", "all", "dall", "nell", "sull", "quest", "quell",
            "bell", "sant", "com", "dov", "quand", "tutt", "mezz", "anch", "gliel", "senz", "nessun", "qualcun",
            "ciascun",
        ],
    ),
];

/// A folded word in two, where it begins with an elided one: `l'aventure` is `l` and `aventure`. Without one, no first
/// part.
pub(super) fn unelided(language: Language, word: &str) -> (Option<&str>, &str) {
    let of_language = ELIDED.iter().find(|(of, _)| *of == language);
    let parts = of_language.and_then(|(_, elided)| {
        let (first, rest) = word.split_once('\'')?;
        (elided.contains(&first) && !rest.is_empty()).then_some((first, rest))
    });
    parts.map_or((None, word), |(first, rest)| (Some(first), rest))
}

/// The fewest words of a copy that show a language.
const LEAST: usize = 20;
/// How many words are looked at.
const MOST: usize = 200;
/// One word in so many must be a small word of the language.
const ONE_IN: usize = 4;
/// How many times as many small words must be of the language as of the brief's.
const MARGIN: usize = 2;

/// The language by which rules read a copy: the brief's, unless the copy's small words are plainly of another.
pub(super) fn language_of(text: &Text<'_>) -> Language {
    other_language(text).unwrap_or(text.language)
}

/// The language that a copy's small words are of, where that is another than the brief's, and sure.
fn other_language(text: &Text<'_>) -> Option<Language> {
    if text.language == Language::Other {
        return None;
    }
    let words = || text.parts().into_iter().flat_map(|part| &part.words).take(MOST).map(|word| fold(text.word(word)));
    let count: usize = text.parts().into_iter().map(|part| part.words.len()).sum();
    let enough = count.min(MOST).div_ceil(ONE_IN);
    let has_enough = || words().filter(|word| is_function_word(word)).take(enough).count() == enough;
    // So it is with nearly every copy: about half of it tells, and no other language has to be looked at.
    if text.language == Language::English && has_enough() {
        return None;
    }
    let words: Vec<String> = words().collect();
    let small = |language: Language| {
        let is_small = |word: &&String| match language {
            Language::English => is_function_word(word),
            _ => {
                let (elided, rest) = unelided(language, word);
                let is = |word: &str| has_sign(language, word, WordSign::Small);
                elided.is_some_and(is) || is(rest)
            }
        };
        words.iter().filter(is_small).count()
    };
    let own = small(text.language);
    let others = Language::ABROAD.into_iter().chain([Language::English]).filter(|other| *other != text.language);
    let (count, other) = others.map(|other| (small(other), other)).max_by_key(|(count, _)| *count)?;
    let is_sure = words.len() >= LEAST && count * ONE_IN >= words.len() && count > own * MARGIN;
    is_sure.then_some(other)
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;
    use std::fs;
    use std::path::Path;

    use super::{WordSign, has_sign, list, other_language, unelided};
    use crate::brief::Brief;
    use crate::draft::Draft;
    use crate::queries::cases::check;
    use crate::text::Text;
    use crate::text::language::Language;

    #[test]
    fn copy_in_other_languages_is_read_as_marked() {
        check(include_str!("../../tests/cases/queries/abroad.txt"));
    }

    #[test]
    fn every_line_of_the_lists_can_be_read() {
        for language in Language::ABROAD {
            let mut by_sign: HashMap<&str, usize> = HashMap::new();
            for line in list(language).lines().filter(|line| !line.starts_with('#')) {
                let (word, sign) = line.split_once(' ').unwrap();
                assert!(WordSign::ALL.iter().any(|(name, _)| *name == sign), "{line}");
                assert!(!word.is_empty() && !word.contains(char::is_uppercase), "{line}");
                *by_sign.entry(sign).or_default() += 1;
            }
            assert_eq!(by_sign.len(), WordSign::ALL.len(), "{}: {by_sign:?}", language.name());
        }
    }

    #[test]
    fn no_small_word_is_tired() {
        for language in Language::ABROAD {
            for word in list(language).lines().filter_map(|line| line.strip_suffix(" tired")) {
                assert!(!has_sign(language, word, WordSign::Small), "{}: {word}", language.name());
            }
        }
    }

    #[test]
    fn an_elided_word_is_parted_from_the_next() {
        assert_eq!(unelided(Language::French, "l'aventure"), (Some("l"), "aventure"));
        assert_eq!(unelided(Language::French, "aujourd'hui"), (None, "aujourd'hui"));
        assert_eq!(unelided(Language::Italian, "un'avventura"), (Some("un"), "avventura"));
        assert_eq!(unelided(Language::Italian, "po'"), (None, "po'"));
        assert_eq!(unelided(Language::German, "l'aventure"), (None, "l'aventure"));
    }

    fn other(copy: &str, tag: &str) -> Option<Language> {
        let brief = format!("panel: {{ trim: 8 x 8 in }}\nbook: {{ language: {tag} }}\n");
        let brief = Brief::read(&brief, Path::new("")).unwrap();
        other_language(&Text::read(&Draft::read(copy), &brief.book))
    }

    fn blurbs(folder: &str) -> Vec<String> {
        let files = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path());
        files
            .filter(|path| path.extension().is_some_and(|ending| ending == "md"))
            .map(|path| fs::read_to_string(path).unwrap())
            .collect()
    }

    #[test]
    fn every_blurb_is_known_by_its_small_words() {
        let folder = |language: Language| match language {
            Language::English => "tests/blurbs".to_owned(),
            other => format!("tests/blurbs/{}", other.name().to_lowercase()),
        };
        let all = || Language::ABROAD.into_iter().chain([Language::English]);
        let mut checked = 0;
        for language in all() {
            for copy in blurbs(&folder(language)) {
                assert_eq!(other(&copy, language.tag()), None, "{copy}");
                // Of two languages that share many small words (Spanish, Italian) the brief's may stand.
                for wrong in all().filter(|wrong| *wrong != language) {
                    let found = other(&copy, wrong.tag());
                    let must_be_sure = [wrong, language].contains(&Language::English);
                    assert!(found == Some(language) || (found.is_none() && !must_be_sure), "{found:?}: {copy}");
                    checked += 1;
                }
                assert_eq!(other(&copy, "sv"), None, "{copy}");
            }
        }
        assert!(checked > 500, "{checked}");
    }

    #[test]
    fn too_few_words_show_no_language() {
        assert_eq!(other("Le petit chat dort dans la maison de la voisine.", "en"), None);
        assert_eq!(other("", "fr"), None);
        assert_eq!(other(&"犬が走る。".repeat(40), "en"), None);
    }
}
