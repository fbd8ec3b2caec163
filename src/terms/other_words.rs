//! Other words of the same meaning: for a word in its part of speech and its form, those that the lists have, in that
//! form, which are familiar, shorter or more frequent.
//!
//! Sources: plainer words that were collected for this program, which come first, and synonyms of WordNet 3.0. Nothing
//! is said here of the place where the word stands.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::family::are_of_one_word;
use super::frequencies::count;
use super::word_forms::{WordForm as Form, formed, plain_words};
use crate::level::WordList;
use crate::level::lists::Lists;
use crate::text::tagger::WordClass;

pub use super::word_forms::WordForm;

/// A part of speech of the lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ListedPart {
    /// A noun.
    Noun,
    /// A verb.
    Verb,
    /// An adjective.
    Adjective,
    /// An adverb.
    Adverb,
    /// A small word without forms: `upon`, `despite`.
    Small,
}

/// Where alone a word of the lists can stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnlyWhere {
    /// A noun that stands with an article and without one.
    EitherWay,
    /// A noun that has no `a` or `an`.
    NoArticle,
    /// A verb that no object follows.
    NoObject,
    /// A verb that an object follows.
    Object,
    /// A verb that `to` and another verb follow.
    BeforeTo,
}

/// Another word for one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OtherWord {
    /// The word or the words, in small letters and in the form that was asked for.
    pub wording: String,
    /// The plain form of the word that it stands for.
    pub head: &'static str,
    /// The plain form, in small letters.
    pub plain: &'static str,
    /// The part of speech.
    pub part: ListedPart,
    /// The form.
    pub form: WordForm,
    /// Where alone it can stand; none where that is not known.
    pub only: Option<OnlyWhere>,
    /// Whether the list was collected for this program and not taken from a dictionary.
    pub is_collected: bool,
}

/// What the lists have for a word: as which part of speech, the other word, and whether it was collected for this
/// program.
type Listed = (ListedPart, &'static str, bool);

static LISTS: LazyLock<HashMap<&'static str, Vec<Listed>>> = LazyLock::new(|| {
    let mut others: HashMap<&str, Vec<Listed>> = HashMap::new();
    let packed = [
        (&include_bytes!(concat!(env!("OUT_DIR"), "/plain-words.txt"))[..], true),
        (&include_bytes!(concat!(env!("OUT_DIR"), "/other-words.txt"))[..], false),
    ];
    for (packed, is_collected) in packed {
        for line in unpacked(packed).lines().filter(|line| !line.starts_with('#')) {
            let mut fields = line.splitn(3, ' ');
            if let (Some(word), Some(part), Some(listed)) = (fields.next(), fields.next().and_then(part), fields.next())
            {
                others.entry(word).or_default().extend(listed.split(',').map(|other| (part, other, is_collected)));
            }
        }
    }
    others
});

/// The text of a list as the build script has packed it.
fn unpacked(list: &[u8]) -> &'static str {
    let bytes = miniz_oxide::inflate::decompress_to_vec(list).unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default().leak()
}

fn part(letter: &str) -> Option<ListedPart> {
    Some(match letter {
        "n" => ListedPart::Noun,
        "v" => ListedPart::Verb,
        "a" => ListedPart::Adjective,
        "r" => ListedPart::Adverb,
        "x" => ListedPart::Small,
        _ => return None,
    })
}

/// A listed word without the sign behind it, and what the sign says.
fn without_sign(listed: &'static str) -> (&'static str, Option<OnlyWhere>) {
    let only = match listed.as_bytes().last() {
        Some(b'+') => OnlyWhere::EitherWay,
        Some(b'*') => OnlyWhere::NoArticle,
        Some(b'~') => OnlyWhere::NoObject,
        Some(b'>') => OnlyWhere::Object,
        Some(b'^') => OnlyWhere::BeforeTo,
        _ => return (listed, None),
    };
    (&listed[..listed.len() - 1], Some(only))
}

/// What a word may be in the lists, by its part of speech in its sentence: the first that the lists have counts.
fn readings(class: WordClass) -> &'static [(ListedPart, WordForm)] {
    const DEGREES: [(ListedPart, WordForm); 3] = [
        (ListedPart::Adjective, Form::Plain),
        (ListedPart::Adjective, Form::Comparative),
        (ListedPart::Adjective, Form::Superlative),
    ];
    match class {
        WordClass::Noun => &[(ListedPart::Noun, Form::Plain)],
        WordClass::Plural => &[(ListedPart::Noun, Form::Plural)],
        WordClass::Base => &[(ListedPart::Verb, Form::Plain)],
        WordClass::Present => &[(ListedPart::Verb, Form::Present)],
        WordClass::Past => &[(ListedPart::Verb, Form::Past)],
        WordClass::Participle => &[(ListedPart::Adjective, Form::Plain), (ListedPart::Verb, Form::Participle)],
        WordClass::Gerund => &[(ListedPart::Verb, Form::Gerund), (ListedPart::Adjective, Form::Plain)],
        WordClass::Adjective => &DEGREES,
        WordClass::Adverb => &[(ListedPart::Adverb, Form::Plain)],
        _ => &[],
    }
}

/// What a word may be whose part of speech is not known.
const ANY: [(ListedPart, WordForm); 11] = [
    (ListedPart::Noun, Form::Plain),
    (ListedPart::Verb, Form::Plain),
    (ListedPart::Adjective, Form::Plain),
    (ListedPart::Adverb, Form::Plain),
    (ListedPart::Noun, Form::Plural),
    (ListedPart::Verb, Form::Present),
    (ListedPart::Verb, Form::Past),
    (ListedPart::Verb, Form::Gerund),
    (ListedPart::Adjective, Form::Comparative),
    (ListedPart::Adjective, Form::Superlative),
    (ListedPart::Small, Form::Plain),
];

/// The part of speech of a word in its sentence, as far as that is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KnownClass {
    /// The word has this class.
    Is(WordClass),
    /// The word is a participle behind a form of `have`, and so a verb.
    BehindHave,
    /// No list tells what the word may be.
    Unknown,
}

/// Other words for a word in small letters with straight apostrophes, which has a part of speech in its sentence: the
/// best first, each of another family. What was collected for this program is plainer or shorter; what a dictionary has
/// is familiar to the readers of a list, shorter or more frequent.
pub fn others(word: &str, class: KnownClass, list: WordList) -> Vec<OtherWord> {
    let small = [(ListedPart::Small, Form::Plain)];
    let readings = match class {
        KnownClass::Is(class) => [readings(class), &small].concat(),
        KnownClass::BehindHave => vec![(ListedPart::Verb, Form::Participle)],
        KnownClass::Unknown => ANY.to_vec(),
    };
    // The first reading under which a list has the word is taken, and readings come likeliest first: wordings of two
    // parts of speech are not mixed.
    for (part, form) in readings {
        for plain in plain_words(word, form) {
            let Some((head, listed)) = LISTS.get_key_value(&*plain) else { continue };
            let listed: Vec<&Listed> = listed.iter().filter(|(listed, ..)| *listed == part).collect();
            if listed.is_empty() {
                continue;
            }
            let made = listed.into_iter().filter_map(|(_, listed, is_collected)| {
                let (plain, only) = without_sign(listed);
                let wording = formed(plain, form)?;
                // A wording that holds the word itself, or one of its family, is no other word.
                let is_new = !plain.split(' ').any(|other| are_of_one_word(other, head) || other == word);
                let wins = *is_collected || wins((word, head), (&wording, plain), list);
                (is_new && wins).then_some(OtherWord {
                    wording,
                    head,
                    plain,
                    part,
                    form,
                    only,
                    is_collected: *is_collected,
                })
            });
            return made.collect();
        }
    }
    Vec::new()
}

/// Whether a wording is familiar where the word is not, shorter, or more frequent. Each comes as written and in its
/// plain form.
fn wins((word, head): (&str, &str), (wording, plain): (&str, &str), list: WordList) -> bool {
    let is_familiar = |words: &str| words.split(' ').all(|word| Lists::Carried.is_familiar(list, word));
    let letters = |words: &str| words.chars().filter(|letter| letter.is_alphanumeric()).count();
    let least = |words: &str| words.split([' ', '-']).map(count).min().unwrap_or(0);
    (is_familiar(wording) && !is_familiar(word))
        || letters(wording) < letters(word)
        || least(plain) > count(head).saturating_mul(2)
}

/// Whether two words in small letters are forms of one word, or of one family.
pub fn are_kin(one: &str, other: &str) -> bool {
    are_of_one_word(one, other)
}

/// Whether prose has a noun in the plural, so that it takes an article in the singular.
pub fn is_counted(noun: &str) -> bool {
    formed(noun, Form::Plural).is_some_and(|plural| count(&plural) > 0)
}

#[cfg(test)]
mod tests {
    use super::{KnownClass, LISTS, others, unpacked, without_sign};
    use crate::level::WordList;
    use crate::text::tagger::WordClass;

    fn check(word: &str, class: WordClass, wanted: &[&str]) {
        let found = others(word, KnownClass::Is(class), WordList::Spache);
        let found: Vec<&str> = found.iter().map(|other| other.wording.as_str()).collect();
        assert_eq!(found, wanted, "{word}");
    }

    #[test]
    fn others_have_the_form_of_the_word() {
        check("embarked", WordClass::Past, &["set off", "started", "set out"]);
        check("expeditions", WordClass::Plural, &["trips", "journeys", "treks"]);
        check("gazing", WordClass::Gerund, &["looking", "staring"]);
        check("swifter", WordClass::Adjective, &["faster", "quicker"]);
        check("timid", WordClass::Adjective, &["shy", "scared", "fearful"]);
        check("silently", WordClass::Adverb, &["quietly", "without a sound"]);
    }

    #[test]
    fn a_part_of_speech_that_the_lists_lack_has_none() {
        check("voyage", WordClass::Name, &[]);
        check("lamp", WordClass::Noun, &[]);
        check("beckon", WordClass::Noun, &[]);
        check("", WordClass::Noun, &[]);
        let found = others("outwit", KnownClass::Unknown, WordList::Spache);
        assert_eq!(found.first().map(|other| other.wording.as_str()), Some("trick"));
    }

    #[test]
    fn the_lists_are_whole_and_in_order() {
        for (packed, text) in [
            (
                &include_bytes!(concat!(env!("OUT_DIR"), "/plain-words.txt"))[..],
                include_str!("../../wordlists/plain-words.txt"),
            ),
            (
                &include_bytes!(concat!(env!("OUT_DIR"), "/other-words.txt"))[..],
                include_str!("../../wordlists/other-words.txt"),
            ),
        ] {
            assert_eq!(unpacked(packed), text);
            assert!(packed.len() < 30_000, "{}", packed.len());
            let lines: Vec<&str> = text.lines().filter(|line| !line.starts_with('#')).collect();
            assert!(text.contains(&format!("# Entries: {}\n", lines.len())), "{}", lines.len());
            let keys: Vec<Vec<&str>> = lines.iter().map(|line| line.split(' ').take(2).collect()).collect();
            assert!(keys.is_sorted() && keys.windows(2).all(|pair| pair[0] != pair[1]));
        }
        assert!(LISTS.len() > 2_400, "{}", LISTS.len());
    }

    #[test]
    fn no_list_has_a_word_of_the_words_own_family() {
        let pairs = LISTS.iter().flat_map(|(word, listed)| {
            listed.iter().flat_map(|(_, other, _)| without_sign(other).0.split(' ')).map(move |other| (*word, other))
        });
        let kin: Vec<(&str, &str)> = pairs.filter(|(word, other)| super::are_of_one_word(other, word)).collect();
        assert_eq!(kin, []);
    }
}
