//! Tells whether a word of the copy is a regular form of a word of a term.
//!
//! Regular forms are the plural and the verb's -s (`-s`, `-es`, `-ies`), `-ed` and `-ing` with a doubled consonant or
//! a dropped e (`grabbed`, `baking`), and the possessives. A plural in a term also accepts its singular. Irregular
//! forms (`mice`) and other words of the family (`baker`, `bravest`) are for the brief to name with `also`.
//!
//! Words of fewer than three letters have no such forms here, so that `be` does not find `bed`.

const SHORTEST: usize = 3;
/// Words that look like a form of another word, and are none: the word, and the other word.
const NO_FORMS: [(&str, &str); 7] = [
    ("thing", "the"),
    ("shed", "she"),
    ("seed", "see"),
    ("feed", "fee"),
    ("weed", "wee"),
    ("need", "nee"),
    ("evening", "even"),
];
/// Ends of words whose last consonant is doubled although two vowels stand before it, the first a u: `quizzed`,
/// `fuelled`.
const U_IS_NO_VOWEL: [&str; 5] = ["uiz", "uip", "uit", "uel", "ual"];

/// Whether `written` is `word` or a regular form of it. Both are in small letters with straight apostrophes.
pub(crate) fn is_form_of(written: &str, word: &str) -> bool {
    if written == word {
        return true;
    }
    let possessor = written.strip_suffix("'s").unwrap_or(written);
    possessor == word
        || (word.len() >= SHORTEST && is_inflected(possessor, word))
        || (possessor.len() >= SHORTEST && is_plural(word, possessor))
}

/// The most bytes at the end of a word that its forms change: the `ie` of `tie`, of which `tying` is made.
const MOST_CHANGED: usize = 2;

/// Whether one word may be a form of another by what two words, or their beginnings, begin with: where it may not,
/// [`is_form_of`] is false either way round, at a fraction of its cost.
pub(crate) fn may_be_forms(one: &str, other: &str) -> bool {
    let alike = one.bytes().zip(other.bytes()).take_while(|(one, other)| one == other).count();
    alike + MOST_CHANGED >= one.len().min(other.len())
}

/// Whether `form` is made from `base` by an ending.
pub(crate) fn is_inflected(form: &str, base: &str) -> bool {
    is_plural(form, base) || is_verb_form(form, base)
}

/// Whether `form` is `base` as a plural noun, or as a verb with -s.
pub(crate) fn is_plural(form: &str, base: &str) -> bool {
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
    if NO_FORMS.contains(&(form, base)) {
        return false;
    }
    let after = |stem: &str| form.strip_prefix(stem).unwrap_or_default();
    if let Some(stem) = before_y(base)
        && after(stem) == "ied"
    {
        return true;
    }
    // The end of the base decides how -ed and -ing are spelt: -ie, -e, -y behind a consonant, -c, or any other end,
    // whose consonant may have to be doubled.
    match (base.strip_suffix("ie"), base.strip_suffix('e')) {
        (Some(stem), _) if after(stem) == "ying" => true,
        (_, Some(stem)) if after(stem) == "ing" => true,
        (_, Some(stem)) => match after(base) {
            "d" => true,
            "ing" => stem.ends_with(['e', 'o', 'y']),
            _ => false,
        },
        _ if before_y(base).is_some() => after(base) == "ing",
        _ if base.ends_with('c') && matches!(after(base), "ked" | "king") => true,
        _ => (matches!(after(base), "ed" | "ing") && !must_double(base)) || is_doubled(after(base), base),
    }
}

/// Whether what follows the base is its last consonant again, then -ed or -ing: `grab`, `grab|bed`.
fn is_doubled(ending: &str, base: &str) -> bool {
    let mut last = base.chars().rev();
    let (Some(consonant), Some(vowel), Some(before)) = (last.next(), last.next(), last.next()) else { return false };
    let doubles = !is_vowel(consonant) && !matches!(consonant, 'w' | 'x' | 'y') && is_vowel(vowel);
    let is_short = !is_vowel(before) || U_IS_NO_VOWEL.iter().any(|end| base.ends_with(end));
    doubles && is_short && matches!(ending.strip_prefix(consonant), Some("ed" | "ing"))
}

/// Whether a base of one syllable ends in one short vowel and a consonant, so that `caring` is no form of `car`.
/// Bases that end in s need not double it: `bused` is a form of `bus`.
fn must_double(base: &str) -> bool {
    let vowels = base.chars().filter(|letter| is_vowel(*letter) || *letter == 'y').count();
    let mut last = base.chars().rev();
    let ends_short = last.next().is_some_and(|letter| !is_vowel(letter) && !matches!(letter, 'w' | 'x' | 'y' | 's'))
        && last.next().is_some_and(is_vowel);
    vowels == 1 && ends_short
}

/// The part before a final y that follows a consonant: `stor` of `story`.
pub(crate) fn before_y(base: &str) -> Option<&str> {
    base.strip_suffix('y').filter(|stem| !stem.ends_with(is_vowel))
}

fn is_vowel(letter: char) -> bool {
    matches!(letter, 'a' | 'e' | 'i' | 'o' | 'u')
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet, HashSet};

    use super::{is_form_of, may_be_forms};

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
            ("quit", "quits quitting"),
            ("picnic", "picnics picnicked picnicking"),
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
    fn forms_begin_alike_and_so_do_their_beginnings() {
        let mut forms = 0;
        for (word, written) in
            lexicon().into_iter().flat_map(|(word, forms)| forms.into_iter().map(move |form| (word, form)))
        {
            if !is_form_of(written, word) {
                continue;
            }
            forms += 1;
            let beginnings = |text: &'static str| (1..=text.len()).filter_map(|end| text.get(..end));
            for (one, other) in beginnings(word).flat_map(|one| beginnings(written).map(move |other| (one, other))) {
                assert!(may_be_forms(one, other), "{written} of {word}: {other}, {one}");
            }
        }
        assert!(forms > 1000, "{forms}");
        assert!(!may_be_forms("lamp", "lighthouse") && !may_be_forms("storm", "stairs"));
    }

    #[test]
    fn other_words_are_not() {
        for (word, others) in [
            ("be", "bed being bees"),
            ("car", "cared caring"),
            ("hop", "hoped hoping"),
            ("bed", "be"),
            ("bake", "baker bak bakeing"),
            ("glass", "glasss glas"),
            ("brave", "bravest braver bravery"),
            ("storm", "stormy thunderstorm stor"),
            ("mouse", "mice"),
            ("sing", "s singe"),
            ("box", "boxs"),
            ("story", "storys"),
            ("see", "seed"),
            ("she", "shed"),
            ("the", "thing"),
            ("even", "evening"),
        ] {
            for other in others.split(' ') {
                assert!(!is_form_of(other, word), "{other} of {word}");
            }
        }
    }

    /// A word with the forms that the lexicon gives it.
    fn lexicon() -> Vec<(&'static str, Vec<&'static str>)> {
        let lines = include_str!("../../tests/data/inflections.tsv").lines().filter(|line| !line.starts_with('#'));
        let entry = |line: &'static str| {
            let (word, forms) = line.split_once('\t').unwrap();
            (word, forms.split_once('\t').unwrap().1.split(' ').collect())
        };
        lines.map(entry).collect()
    }

    /// Source: the SPECIALIST Lexicon, as the file says. Forms on the list of irregular forms are left out.
    #[test]
    fn regular_forms_of_an_open_lexicon_are_found() {
        let irregular: HashSet<&str> = include_str!("../../wordlists/irregular-forms.txt").lines().collect();
        let (mut found, mut all, mut missed) = (0, 0, Vec::new());
        for (word, forms) in lexicon() {
            for form in forms.into_iter().filter(|form| !irregular.contains(format!("{form} {word}").as_str())) {
                all += 1;
                if is_form_of(form, word) { found += 1 } else { missed.push(format!("{form} {word}")) }
            }
        }
        assert!(all > 5_500, "{all}");
        let recall = f64::from(found) / f64::from(all);
        assert!(recall >= 0.985, "{found} of {all}: {missed:?}");
    }

    /// Two words of the lexicon that are taken for forms of one another are so by the lexicon too.
    #[test]
    fn hardly_any_other_word_of_the_lexicon_is_taken_for_a_form() {
        let mut bases: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for (word, forms) in lexicon() {
            bases.entry(word).or_default().insert(word);
            forms.into_iter().for_each(|form| _ = bases.entry(form).or_default().insert(word));
        }
        let mut alike: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for word in bases.keys().filter(|word| word.len() >= 3) {
            alike.entry(&word[..3]).or_default().push(word);
        }
        let (mut right, mut wrong) = (0, Vec::new());
        for words in alike.values() {
            for (one, other) in words.iter().flat_map(|one| words.iter().map(move |other| (one, other))) {
                if one != other && is_form_of(one, other) {
                    if bases[one].is_disjoint(&bases[other]) {
                        wrong.push(format!("{one} {other}"))
                    } else {
                        right += 1
                    }
                }
            }
        }
        let precision = f64::from(right) / (f64::from(right) + wrong.len() as f64);
        assert!(right > 6_000 && precision >= 0.998, "{right} right, wrong: {wrong:?}");
    }
}
