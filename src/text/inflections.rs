//! Tells whether a word of the copy is a regular form of a word of a term.
//!
//! Regular forms are the plural and the verb's -s (`-s`, `-es`, `-ies`), `-ed` and `-ing` with a doubled consonant or
//! a dropped e (`grabbed`, `baking`), and the possessives. A plural in a term also accepts its singular. Irregular
//! forms (`mice`) and other words of the family (`baker`, `bravest`) are for the brief to name with `also`.
//!
//! Words of fewer than three letters have no forms here, so that `be` does not find `bed`.

const SHORTEST: usize = 3;

/// Whether `written` is `word` or a regular form of it. Both are in small letters with straight apostrophes.
pub(super) fn is_form_of(written: &str, word: &str) -> bool {
    if written == word {
        return true;
    }
    let possessor = written.strip_suffix("'s").unwrap_or(written);
    possessor == word
        || (word.len() >= SHORTEST && is_inflected(possessor, word))
        || (possessor.len() >= SHORTEST && is_plural(word, possessor))
}

/// Whether `form` is made from `base` by an ending.
pub(super) fn is_inflected(form: &str, base: &str) -> bool {
    is_plural(form, base) || is_verb_form(form, base)
}

fn is_plural(form: &str, base: &str) -> bool {
    if let Some(stem) = before_y(base) {
        return form.strip_prefix(stem) == Some("ies");
    }
    let hisses = ["s", "x", "z", "ch", "sh"].iter().any(|end| base.ends_with(end));
    match form.strip_prefix(base) {
        Some("s") => !hisses,
        Some("es") => hisses || base.ends_with('o'),
        _ => false,
    }
}

fn is_verb_form(form: &str, base: &str) -> bool {
    let after = |stem: &str| form.strip_prefix(stem).unwrap_or_default().to_owned();
    if let Some(stem) = before_y(base)
        && after(stem) == "ied"
    {
        return true;
    }
    match (base.strip_suffix("ie"), base.strip_suffix('e')) {
        (Some(stem), _) if after(stem) == "ying" => true,
        (_, Some(stem)) if after(stem) == "ing" => true,
        (_, Some(stem)) => match after(base).as_str() {
            "d" => true,
            "ing" => stem.ends_with(['e', 'o', 'y']),
            _ => false,
        },
        _ if before_y(base).is_some() => after(base) == "ing",
        _ => matches!(after(base).as_str(), "ed" | "ing") || is_doubled(&after(base), base),
    }
}

/// Whether what follows the base is its last consonant again, then -ed or -ing: `grab`, `grab|bed`.
fn is_doubled(ending: &str, base: &str) -> bool {
    let mut last = base.chars().rev();
    let (Some(consonant), Some(vowel), Some(before)) = (last.next(), last.next(), last.next()) else { return false };
    let doubles = !is_vowel(consonant) && !matches!(consonant, 'w' | 'x' | 'y') && is_vowel(vowel);
    let is_short = !is_vowel(before) || base.ends_with("uiz") || base.ends_with("uip");
    doubles && is_short && matches!(ending.strip_prefix(consonant), Some("ed" | "ing"))
}

/// The part before a final y that follows a consonant: `stor` of `story`.
fn before_y(base: &str) -> Option<&str> {
    base.strip_suffix('y').filter(|stem| !stem.ends_with(is_vowel))
}

fn is_vowel(letter: char) -> bool {
    matches!(letter, 'a' | 'e' | 'i' | 'o' | 'u')
}

#[cfg(test)]
mod tests {
    use super::is_form_of;

    #[test]
    fn regular_forms_are_found() {
        for (word, forms) in [
            ("lighthouse", "lighthouses lighthouse's lighthouses's"),
            ("story", "stories story's stories's"),
            ("fox", "foxes fox's"),
            ("potato", "potatoes potatos"),
            ("boy", "boys boy's"),
            ("sail", "sails sailed sailing"),
            ("grab", "grabs grabbed grabbing"),
            ("travel", "travels travelled traveling travelling traveled"),
            ("bake", "bakes baked baking"),
            ("cry", "cries cried crying"),
            ("tie", "ties tied tying"),
            ("see", "sees seeing"),
            ("play", "plays played playing"),
            ("storms", "storm storms"),
            ("stories", "story"),
            ("foxes", "fox"),
            ("gull's", "gull's"),
        ] {
            for form in forms.split(' ') {
                assert!(is_form_of(form, word), "{form} of {word}");
            }
        }
    }

    #[test]
    fn other_words_are_not() {
        for (word, others) in [
            ("be", "bed being bees"),
            ("bed", "be"),
            ("bake", "baker bak bakeing"),
            ("glass", "glasss glas"),
            ("brave", "bravest braver bravery"),
            ("storm", "stormy thunderstorm stor"),
            ("mouse", "mice"),
            ("sing", "s singe"),
            ("box", "boxs"),
            ("story", "storys"),
        ] {
            for other in others.split(' ') {
                assert!(!is_form_of(other, word), "{other} of {word}");
            }
        }
    }
}
