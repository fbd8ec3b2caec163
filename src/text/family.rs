//! Tells whether two words are of one family though neither is a regular form of the other.
//!
//! Of one family are irregular forms (`mice`, `kept`, by the exception lists of WordNet 3.0) and words made from one
//! another by a suffix (`keep`, `keeper`; `brave`, `bravest`, `bravery`), with the spelling that regular endings have:
//! a dropped e, a doubled consonant, a y that becomes an i. Such words never count as a term; they are shown to the
//! author, who may name them with `also`.
//!
//! Limits: spelling knows no meaning, so `corner` passes as made from `corn`.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::inflections::is_form_of;
use super::spellings::bare;

static IRREGULAR: LazyLock<HashMap<&str, Vec<&str>>> = LazyLock::new(|| {
    let mut bases: HashMap<&str, Vec<&str>> = HashMap::new();
    let list = wordlist!("irregular-forms.txt").lines().filter(|line| !line.starts_with('#'));
    for (form, base) in list.filter_map(|line| line.split_once(' ')) {
        bases.entry(form).or_default().push(base);
    }
    bases
});

/// Shorter words are made into too many others: `ear`, `early`.
const SHORTEST: usize = 4;

/// The suffixes that make a word of a family, after R. Quirk and others, A Comprehensive Grammar of the English
/// Language, 1985, appendix I (from memory), as far as children's books have them.
const SUFFIXES: [&str; 25] = [
    "er", "or", "est", "ly", "y", "ness", "ful", "less", "ish", "ment", "en", "ery", "ry", "able", "ous", "al", "ion",
    "ation", "ship", "hood", "like", "some", "let", "ing", "ed",
];

/// Whether two words, in small letters with straight apostrophes, are of one family and neither is a form of the other.
pub(super) fn are_kin(one: &str, other: &str) -> bool {
    if one.chars().next() != other.chars().next() && !is_irregular(one, other) {
        return false;
    }
    !is_form_of(one, other)
        && !is_form_of(other, one)
        && (is_irregular(one, other)
            || is_made_from(one, other)
            || is_made_from(other, one)
            || share_a_base(one, other))
}

/// Whether one is an irregular form of the other, or both are forms of one word. The exception lists leave out the words
/// in -man.
fn is_irregular(one: &str, other: &str) -> bool {
    let bases = |word: &str| IRREGULAR.get(bare(word)).cloned().unwrap_or_default();
    let are_man_and_men = |one: &str, other: &str| {
        one.strip_suffix("man").is_some_and(|stem| bare(other).strip_suffix("men") == Some(stem))
    };
    if are_man_and_men(one, other) || are_man_and_men(other, one) {
        return true;
    }
    let (of_one, of_other) = (bases(one), bases(other));
    of_one.iter().any(|base| is_form_of(other, base) || of_other.contains(base))
        || of_other.iter().any(|base| is_form_of(one, base))
}

/// Whether a word or a regular form of it is a base with a suffix.
fn is_made_from(word: &str, base: &str) -> bool {
    base.len() >= SHORTEST
        && word.len() > base.len()
        && SUFFIXES.iter().any(|suffix| with_suffix(base, suffix).iter().any(|made| is_form_of(word, made)))
}

/// `bravest` and `bravery`: both made from a word that neither is.
fn share_a_base(one: &str, other: &str) -> bool {
    let stems = |word: &str| -> Vec<String> {
        let cut = SUFFIXES.iter().filter_map(|suffix| word.strip_suffix(suffix));
        cut.filter(|stem| stem.len() >= SHORTEST).flat_map(|stem| [stem.to_owned(), format!("{stem}e")]).collect()
    };
    let of_other = stems(other);
    // A stem must be a word, or any two words that end alike would share one.
    stems(one).iter().any(|stem| of_other.contains(stem) && super::frequencies::count(stem) > 0)
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
    use super::are_kin;

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
    fn forms_and_strangers_are_not() {
        for (one, other) in [
            ("storm", "storms"),
            ("light", "lighting"),
            ("storm", "story"),
            ("ear", "early"),
            ("storm", "thunderstorm"),
            ("night", "knight"),
            ("boat", "boat"),
            ("", ""),
        ] {
            assert!(!are_kin(one, other), "{one} {other}");
        }
    }
}
