//! Which words are finite verbs, and of which tense, so far as their form tells it.
//!
//! A form that can be another tense or another word is left out: a wrong tense is worse than none.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use crate::text::parts::{SpecialForm, irregular_base, irregular_form};

/// When a thing is told to happen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tense {
    /// `climbed`.
    Past,
    /// `climbs`.
    Present,
}

static FORMS: LazyLock<HashMap<String, Tense>> = LazyLock::new(|| {
    let mut forms = HashMap::new();
    for line in wordlist!("verbs.txt").lines().filter(|line| !line.starts_with('#')) {
        let (base, past) = line.split_once(' ').unwrap_or((line, ""));
        let past = if past.is_empty() { regular_past(base) } else { past.to_owned() };
        forms.insert(third_person(base), Tense::Present);
        forms.insert(past, Tense::Past);
    }
    forms
});

/// Whether a word is a listed verb behind a subject, or a verb that helps others.
pub(super) fn is_finite(word: &str) -> bool {
    const HELPERS: [&str; 16] = [
        "is", "are", "was", "were", "has", "have", "had", "can", "cannot", "could", "must", "will", "would", "does",
        "did", "may",
    ];
    HELPERS.contains(&word) || tense(word).is_some()
}

static BASES: LazyLock<HashSet<&str>> = LazyLock::new(|| {
    let lines = wordlist!("verbs.txt").lines().filter(|line| !line.starts_with('#'));
    lines.map(|line| line.split_once(' ').map_or(line, |(base, _)| base)).collect()
});

/// Whether a word is the base of a listed verb: `climb`.
pub(super) fn is_base(word: &str) -> bool {
    BASES.contains(word)
}

/// Whether a word is the participle of a verb, regular or not: `stolen`.
pub(super) fn is_participle(word: &str) -> bool {
    let is_irregular = || {
        irregular_base(word)
            .and_then(|base| irregular_form(base, SpecialForm::Participle))
            .is_some_and(|own| own == word)
    };
    (word.ends_with("ed") && tense(word).is_some()) || is_irregular()
}

/// The tense of an action's verb behind `he`, `she` or a name; none for other words, and for `be` and `have`.
pub(super) fn tense(word: &str) -> Option<Tense> {
    FORMS.get(word).copied()
}

fn regular_past(base: &str) -> String {
    if base.ends_with('e') {
        return format!("{base}d");
    }
    stem_of_y(base).map_or_else(|| format!("{base}ed"), |stem| format!("{stem}ied"))
}

/// What one does, of the base of a verb: `climbs`.
pub(super) fn third_person(base: &str) -> String {
    if let Some(stem) = stem_of_y(base) {
        return format!("{stem}ies");
    }
    let hisses = ["s", "x", "z", "ch", "sh", "o"].iter().any(|end| base.ends_with(end));
    format!("{base}{}", if hisses { "es" } else { "s" })
}

/// A word without a `y` that follows a consonant.
fn stem_of_y(base: &str) -> Option<&str> {
    base.strip_suffix('y').filter(|stem| !stem.ends_with(['a', 'e', 'i', 'o', 'u']))
}

#[cfg(test)]
mod tests {
    use super::{Tense, tense};

    #[test]
    fn forms_are_made_by_rule_and_by_list() {
        for (past, present) in
            [("climbed", "climbs"), ("hid", "hides"), ("carried", "carries"), ("stopped", "stops"), ("went", "goes")]
        {
            assert_eq!((tense(past), tense(present)), (Some(Tense::Past), Some(Tense::Present)), "{past}");
        }
        for word in ["climb", "put", "read", "need", "was"] {
            assert_eq!(tense(word), None, "{word}");
        }
    }
}
