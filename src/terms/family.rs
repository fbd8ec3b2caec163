//! Tells whether two words are forms of one word, or of one family. Terms and story share this definition.
//!
//! A family holds a word's regular forms (`inflections`), two of which are of one family with each other as well
//! (`baked`, `baking`); its irregular forms (`mice`, `kept`, by the exception lists of WordNet 3.0); words made from
//! one another by a suffix (`keep`, `keeper`; `brave`, `bravest`, `bravery`), with the spelling that regular endings
//! have: a dropped e, a doubled consonant, a y that becomes an i; and the British and the American spelling of a word
//! (`colour`, `color`). Of these only the regular forms of a term count as the term; the others are shown to the
//! author, who may name them with `also`.
//!
//! Limits: spelling knows no meaning, so `corner` passes as made from `corn`.

use std::collections::{BTreeSet, HashMap};
use std::sync::LazyLock;

use super::frequencies::count;
use super::spellings::bare;
use crate::text::inflections::{is_form_of, is_inflected};

static IRREGULAR: LazyLock<HashMap<&str, Vec<&str>>> = LazyLock::new(|| {
    let mut bases: HashMap<&str, Vec<&str>> = HashMap::new();
    let list = wordlist!("irregular-forms.txt").lines().filter(|line| !line.starts_with('#'));
    for (form, base) in list.filter_map(|line| line.split_once(' ')) {
        bases.entry(form).or_default().push(base);
    }
    bases
});

/// The shortest word that regular forms are made from.
const SHORTEST_BASE: usize = 3;
/// The shortest word that a suffix may be added to; shorter words would be the base of too many others: `ear`, `early`.
const SHORTEST: usize = 4;

/// The suffixes that make a word of a family, after R. Quirk and others, A Comprehensive Grammar of the English
/// Language, 1985, appendix I (from memory), as far as children's books have them.
const SUFFIXES: [&str; 25] = [
    "er", "or", "est", "ly", "y", "ness", "ful", "less", "ish", "ment", "en", "ery", "ry", "able", "ous", "al", "ion",
    "ation", "ship", "hood", "like", "some", "let", "ing", "ed",
];

/// Whether a word is of a term's family and does not count as the term. Both are in small letters with straight
/// apostrophes.
pub(super) fn are_kin(written: &str, term: &str) -> bool {
    !is_form_of(written, term) && are_of_one_word(written, term)
}

/// Whether two words are one word in any of its forms, or of one family. Both are in small letters with straight
/// apostrophes.
pub(super) fn are_of_one_word(one: &str, other: &str) -> bool {
    if is_form_of(one, other) || is_form_of(other, one) || is_irregular(one, other) {
        return true;
    }
    // All other kin begin with the same letters. Most pairs of words do not, so the costly tests are seldom made.
    let alike = one.bytes().zip(other.bytes()).take_while(|(one, other)| one == other).count();
    (alike > 1 && (are_forms_of_one(bare(one), bare(other)) || are_respelt(one, other)))
        || (alike + 1 >= SHORTEST && (is_made_from(one, other) || is_made_from(other, one) || share_a_base(one, other)))
}

/// The keys that a word is looked up by: any two words of one family have a stem in common, and hardly any other two
/// do.
pub(super) fn stems(word: &str) -> BTreeSet<String> {
    let mut stems = BTreeSet::new();
    for word in std::iter::once(word).chain(irregular_bases(word).iter().copied()) {
        let word = bare(word);
        let singular = word.strip_suffix("men").map(|stem| format!("{stem}man"));
        for form in without_ending(word).chain(without_ending(&american(word))).chain(singular) {
            let made = SUFFIXES.iter().filter_map(|suffix| form.strip_suffix(suffix));
            stems.extend(made.chain([form.as_str()]).map(|stem| without_joint(stem).to_owned()));
        }
    }
    stems
}

/// A word, and the words that it may be a regular form of.
fn without_ending(word: &str) -> impl Iterator<Item = String> {
    let cut = ["s", "es", "d", "ed", "ing"].into_iter().filter_map(|ending| word.strip_suffix(ending));
    let bases = cut.flat_map(|stem| {
        let before_i = stem.strip_suffix('i').map(|stem| format!("{stem}y"));
        [stem.to_owned(), format!("{stem}e"), without_double(stem).to_owned()].into_iter().chain(before_i)
    });
    std::iter::once(word.to_owned()).chain(bases)
}

/// A word without the letters that endings change: a last e, i or y, a consonant that is doubled, the k in
/// `picnicking`.
fn without_joint(stem: &str) -> &str {
    let stem = without_double(stem.trim_end_matches(['e', 'i', 'y']));
    stem.strip_suffix('k').filter(|stem| stem.ends_with('c')).unwrap_or(stem)
}

/// A word without its last letter where that is doubled.
fn without_double(stem: &str) -> &str {
    let mut letters = stem.chars();
    if letters.next_back() == letters.clone().next_back() { letters.as_str() } else { stem }
}

/// The words that a word is an irregular form of, by the exception lists.
fn irregular_bases(word: &str) -> &'static [&'static str] {
    IRREGULAR.get(bare(word)).map_or(&[], Vec::as_slice)
}

/// Letters that British spelling has and what American has in their place (from memory).
const RESPELT: [(&str, &str); 8] = [
    ("our", "or"),
    ("is", "iz"),
    ("ys", "yz"),
    ("tre", "ter"),
    ("ogue", "og"),
    ("grey", "gray"),
    ("pyjama", "pajama"),
    ("plough", "plow"),
];
/// Shorter words that differ in such letters are different words: `four`, `for`.
const SHORTEST_RESPELT: usize = 5;

/// Whether two words are the British and the American spelling of one, in any of their regular forms.
fn are_respelt(one: &str, other: &str) -> bool {
    let (plain_one, plain_other) = (american(one), american(other));
    (plain_one != one || plain_other != other)
        && (is_form_of(&plain_one, &plain_other) || is_form_of(&plain_other, &plain_one))
}

/// A word in American letters. A word that has such letters for another reason is changed too, and compared in that
/// form.
fn american(word: &str) -> String {
    let changes = RESPELT.iter().filter(|(from, _)| word.len() >= SHORTEST_RESPELT || word == *from);
    changes.fold(word.to_owned(), |word, (from, to)| word.replace(from, to))
}

/// Whether two words are made from one word that prose knows, by endings: `baked`, `baking`.
fn are_forms_of_one(one: &str, other: &str) -> bool {
    let begins_alike = one.bytes().zip(other.bytes()).take_while(|(one, other)| one == other).count() > 1;
    begins_alike && bases(one).any(|base| base.len() >= SHORTEST_BASE && count(&base) > 0 && is_inflected(other, &base))
}

/// The words that a form may be made from by a regular ending.
pub(super) fn bases(form: &str) -> impl Iterator<Item = String> {
    let endings = [
        ("s", ""),
        ("es", ""),
        ("ies", "y"),
        ("ed", ""),
        ("d", ""),
        ("ied", "y"),
        ("ing", ""),
        ("ing", "e"),
        ("ying", "ie"),
    ];
    let whole =
        endings.into_iter().filter_map(|(ending, before)| Some(format!("{}{before}", form.strip_suffix(ending)?)));
    let undoubled = ["ed", "ing"].into_iter().filter_map(|ending| {
        let stem = form.strip_suffix(ending)?;
        let mut letters = stem.chars();
        (letters.next_back() == letters.clone().next_back()).then(|| letters.as_str().to_owned())
    });
    whole.chain(undoubled).filter(|base| is_inflected(form, base)).collect::<Vec<_>>().into_iter()
}

/// Whether one word is an irregular form of the other, or both are forms of one word. Words in -man are looked at
/// first, since the exception lists leave them out.
fn is_irregular(one: &str, other: &str) -> bool {
    let are_man_and_men = |one: &str, other: &str| {
        one.strip_suffix("man").is_some_and(|stem| bare(other).strip_suffix("men") == Some(stem))
    };
    if are_man_and_men(one, other) || are_man_and_men(other, one) {
        return true;
    }
    let (of_one, of_other) = (irregular_bases(one), irregular_bases(other));
    of_one.iter().any(|base| is_form_of(other, base) || of_other.contains(base))
        || of_other.iter().any(|base| is_form_of(one, base))
}

/// Whether a word or a regular form of it is a base with a suffix.
fn is_made_from(word: &str, base: &str) -> bool {
    base.len() >= SHORTEST
        && word.len() > base.len()
        && SUFFIXES.iter().any(|suffix| with_suffix(base, suffix).iter().any(|made| is_form_of(word, made)))
}

/// Whether two words are made from a third, as `bravest` and `bravery` are.
fn share_a_base(one: &str, other: &str) -> bool {
    let stems = |word: &str| -> Vec<String> {
        let cut = SUFFIXES.iter().filter_map(|suffix| word.strip_suffix(suffix));
        cut.filter(|stem| stem.len() >= SHORTEST).flat_map(|stem| [stem.to_owned(), format!("{stem}e")]).collect()
    };
    let of_other = stems(other);
    // A stem must be a word, or any two words that end alike would share one.
    stems(one).iter().any(|stem| of_other.contains(stem) && count(stem) > 0)
}

/// A base with a suffix, in each spelling that it may take.
fn with_suffix(base: &str, suffix: &str) -> Vec<String> {
    let mut made = vec![format!("{base}{suffix}")];
    let begins_with_vowel = suffix.starts_with(['a', 'e', 'i', 'o', 'u', 'y']);
    if begins_with_vowel && let Some(stem) = base.strip_suffix('e') {
        made.push(format!("{stem}{suffix}"));
    }
    if let Some(stem) = base.strip_suffix('y') {
        made.push(format!("{stem}i{suffix}"));
    }
    if begins_with_vowel && let Some(last) = base.chars().next_back().filter(|last| !"aeiouwxy".contains(*last)) {
        made.push(format!("{base}{last}{suffix}"));
    }
    made
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::{are_forms_of_one, are_kin, are_of_one_word, stems};

    #[test]
    fn words_of_one_family_are_found() {
        for (one, other) in [
            ("mouse", "mice"),
            ("keep", "kept"),
            ("keep", "keeper"),
            ("keepers", "keep"),
            ("brave", "bravest"),
            ("bravery", "bravest"),
            ("storm", "stormy"),
            ("happy", "happiness"),
            ("magic", "magical"),
            ("light", "lightest"),
            ("light", "lighters"),
            ("swim", "swimmer"),
            ("went", "gone"),
            ("woman", "women's"),
            ("hear", "heard"),
        ] {
            assert!(are_kin(one, other), "{one} {other}");
            assert!(are_kin(other, one), "{other} {one}");
        }
    }

    #[test]
    fn other_forms_of_a_term_are_its_kin_and_do_not_count() {
        for (written, term) in
            [("sails", "sailing"), ("baked", "baking"), ("waved", "waving"), ("color", "colours"), ("grey", "gray")]
        {
            assert!(are_kin(written, term) && are_of_one_word(term, written), "{written} {term}");
        }
        assert!(!are_kin("sailing", "sail") && are_of_one_word("sailing", "sail"));
    }

    #[test]
    fn two_forms_of_one_word_share_it() {
        for (one, other) in [("baked", "baking"), ("waves", "waving"), ("grabbed", "grabs"), ("cried", "crying")] {
            assert!(are_forms_of_one(one, other) && are_forms_of_one(other, one), "{one} {other}");
        }
        for (one, other) in
            [("hoped", "hopping"), ("string", "stripes"), ("thing", "this"), ("shed", "shes"), ("zed", "zing")]
        {
            assert!(!are_forms_of_one(one, other) && !are_forms_of_one(other, one), "{one} {other}");
        }
    }

    /// Compares each word of every third entry of the lexicon, and of some words that it lacks, with all that begin
    /// alike.
    #[test]
    fn words_of_one_family_share_a_stem() {
        let lexicon = include_str!("../../tests/data/inflections.tsv").lines().filter(|line| !line.starts_with('#'));
        let words = lexicon.step_by(3).flat_map(|line| line.split(['\t', ' ']));
        let more =
            ["braveries", "bravest", "happier", "happiness", "picnicked", "picnic", "women's", "woman", "gone", "went"];
        let more = more.into_iter().chain(["colours", "coloring", "grey", "grays", "tying", "tie", "keepers", "kept"]);
        let mut alike: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for word in words.chain(more).filter(|word| word.is_ascii() && word.len() > 2) {
            alike.entry(&word[..3]).or_default().push(word);
        }
        let mut shared = 0;
        for words in alike.values() {
            for (one, other) in words.iter().flat_map(|one| words.iter().map(move |other| (one, other))) {
                if one < other && are_of_one_word(one, other) {
                    assert!(!stems(one).is_disjoint(&stems(other)), "{one} {other}");
                    shared += 1;
                }
            }
        }
        assert!(shared > 1_000, "{shared}");
        for (one, other) in
            [("gone", "went"), ("mouse", "mice"), ("kept", "keepers"), ("women's", "woman"), ("grays", "grey")]
        {
            assert!(!stems(one).is_disjoint(&stems(other)), "{one} {other}");
        }
        assert!(stems("lamp").is_disjoint(&stems("lantern")));
    }

    #[test]
    fn forms_and_strangers_are_not_kin() {
        for (written, term) in [
            ("storms", "storm"),
            ("lighting", "light"),
            ("storm", "story"),
            ("ear", "early"),
            ("storm", "thunderstorm"),
            ("night", "knight"),
            ("boat", "boat"),
            ("she", "shed"),
            ("the", "thing"),
            ("four", "for"),
            ("hiss", "hizs"),
            ("", ""),
        ] {
            assert!(!are_kin(written, term), "{written} {term}");
        }
    }
}
