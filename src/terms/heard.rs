//! How an English name sounds by its spelling: two names that sound alike have one form.
//!
//! Only differences by which names are often misspelt are folded (from memory): letters that are written twice or not
//! at all (`Fin`, `Finn`; `Sara`, `Sarah`; `Wren`, `Ren`), those that stand for one sound (`Carl`, `Karl`; `Gemma`,
//! `Jemma`; `Robyn`, `Robin`), and the endings (`Nicky`, `Niki`; `Anne`, `Ann`). No pronouncing dictionary is used,
//! since it would lack the names that authors make up.

/// Beginnings of which a letter is not heard.
const BEGINNINGS: [(&str, &str); 6] = [("kn", "n"), ("gn", "n"), ("wr", "r"), ("wh", "w"), ("rh", "r"), ("ps", "s")];
/// Endings that are heard as others.
const ENDINGS: [(&str, &str); 12] = [
    ("ay", "ei"),
    ("oey", "oi"),
    ("ey", "i"),
    ("ie", "i"),
    ("ee", "i"),
    ("ea", "i"),
    ("y", "i"),
    ("oe", "o"),
    ("ae", "ei"),
    ("ai", "ei"),
    ("ou", "u"),
    ("ue", "u"),
];

/// Whether two words in small letters without accents sound alike.
pub(super) fn sound_alike(one: &str, other: &str) -> bool {
    heard(one) == heard(other)
}

/// A word as it is heard, in letters that each stand for one sound.
fn heard(word: &str) -> String {
    let word = changed(word, &BEGINNINGS, |word, from| word.strip_prefix(from), |rest, to| format!("{to}{rest}"));
    let word = changed(&word, &ENDINGS, |word, from| word.strip_suffix(from), |rest, to| format!("{rest}{to}"));
    let word = without_last_e(&word);
    let letters: Vec<char> = word.chars().collect();
    let beside = |at: usize| (at.checked_sub(1).map(|before| letters[before]), letters.get(at + 1).copied());
    let mut sounds: Vec<char> = (0..letters.len()).filter_map(|at| sound(letters[at], beside(at))).collect();
    sounds.dedup_by(|next, last| next == last && !is_vowel(*last));
    sounds.into_iter().collect()
}

/// A word after the first of `changes` that applies to it: `rest` cuts off the letters to be replaced, and `whole`
/// joins what is left to their replacement.
fn changed<'a>(
    word: &'a str,
    changes: &[(&str, &str)],
    rest: impl Fn(&'a str, &str) -> Option<&'a str>,
    whole: impl Fn(&str, &str) -> String,
) -> String {
    let mut found =
        changes.iter().filter_map(|(from, to)| Some(whole(rest(word, from).filter(|rest| !rest.is_empty())?, to)));
    found.next().unwrap_or_else(|| word.to_owned())
}

/// A word without a silent e at its end.
fn without_last_e(word: &str) -> String {
    let stem = word.strip_suffix('e').filter(|stem| !stem.ends_with(is_vowel) && stem.contains(is_vowel));
    stem.unwrap_or(word).to_owned()
}

/// The sound that a letter stands for, by the letters before and behind it; none where the letter is silent.
fn sound(letter: char, (before, after): (Option<char>, Option<char>)) -> Option<char> {
    let is_soft = after.is_some_and(|after| matches!(after, 'e' | 'i' | 'y'));
    let is_beside_vowel = |beside: Option<char>| beside.is_some_and(|beside| is_vowel(beside) || beside == 'y');
    match (letter, after) {
        ('c', Some('k')) => None,
        ('c', Some('h')) => Some('c'),
        ('c', _) if is_soft => Some('s'),
        ('c' | 'q', _) => Some('k'),
        ('g', _) if is_soft => Some('j'),
        ('p', Some('h')) => Some('f'),
        ('h', _) if before == Some('p') => None,
        ('h', _) if !matches!(before, Some('s' | 't' | 'c')) && !is_beside_vowel(after) => None,
        ('s', _) if is_beside_vowel(before) && is_beside_vowel(after) => Some('z'),
        ('y', _) if before.is_some() => Some('i'),
        _ => Some(letter),
    }
}

fn is_vowel(letter: char) -> bool {
    matches!(letter, 'a' | 'e' | 'i' | 'o' | 'u')
}

#[cfg(test)]
mod tests {
    use super::sound_alike;

    #[test]
    fn names_that_sound_alike() {
        for (one, other) in [
            ("fin", "finn"),
            ("sara", "sarah"),
            ("jon", "john"),
            ("jo", "joe"),
            ("carl", "karl"),
            ("catherine", "katherine"),
            ("marc", "mark"),
            ("gemma", "jemma"),
            ("robyn", "robin"),
            ("lilly", "lily"),
            ("nicky", "niki"),
            ("ann", "anne"),
            ("wren", "ren"),
            ("phil", "fil"),
            ("elliot", "eliott"),
            ("mae", "may"),
            ("susan", "suzan"),
            ("", ""),
        ] {
            assert!(sound_alike(one, other), "{one} {other}");
        }
    }

    #[test]
    fn names_that_do_not() {
        for (one, other) in [
            ("tim", "tom"),
            ("milo", "mila"),
            ("joe", "joey"),
            ("ben", "bee"),
            ("cara", "clara"),
            ("e", ""),
            ("beth", "bet"),
        ] {
            assert!(!sound_alike(one, other), "{one} {other}");
        }
    }
}
