//! Counted nouns and the verbs that agree with them: the one place that tells `1 query stands` from `2 queries stand`;
//! and whole sentences of what is said in part.

/// A number with its noun, given in the singular: `0 lines`, `1 line`, `2 queries`, `3 boxes`.
pub fn counted(count: usize, noun: &str) -> String {
    format!("{count} {}", in_number(count, noun))
}

/// How many of all things, with the noun in the number of all: `1 of 4 wanted terms`, `0 of 1 wanted term`.
pub fn some_of(some: usize, all: usize, noun: &str) -> String {
    format!("{some} of {}", counted(all, noun))
}

/// A noun, given in the singular, in the form that goes with a number: `line`, `lines`.
pub fn in_number(count: usize, noun: &str) -> String {
    if count == 1 { noun.to_owned() } else { plural(noun) }
}

/// The form of a verb, or of any word, for a number: the first for one, the second for none and for many.
pub fn agrees<'w>(count: usize, one: &'w str, many: &'w str) -> &'w str {
    if count == 1 { one } else { many }
}

/// Words as a whole sentence, with a capital at the start and a full stop at the end; the name of a file at the start
/// stays as it is.
pub fn sentence(words: &str) -> String {
    let first = words.split_whitespace().next().unwrap_or_default();
    let is_name = first.contains(['.', '/', '\\']);
    let mut letters = words.chars();
    let begun = match letters.next() {
        Some(letter) if !is_name => letter.to_uppercase().to_string(),
        letter => letter.map(String::from).unwrap_or_default(),
    };
    format!("{begun}{}.", letters.as_str().trim_end_matches('.'))
}

/// The regular plural: `queries`, `boxes`, `inches`, `days`.
fn plural(noun: &str) -> String {
    let ends_in = |endings: &[&str]| endings.iter().any(|ending| noun.ends_with(ending));
    match noun.strip_suffix('y') {
        Some(stem) if !ends_in(&["ay", "ey", "oy", "uy"]) => format!("{stem}ies"),
        _ if ends_in(&["s", "x", "ch", "sh"]) => format!("{noun}es"),
        _ => format!("{noun}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::{agrees, counted, sentence, some_of};

    #[test]
    fn one_is_told_from_none_and_many() {
        assert_eq!([0, 1, 2].map(|count| counted(count, "line")), ["0 lines", "1 line", "2 lines"]);
        assert_eq!([0, 1, 2].map(|count| agrees(count, "stands", "stand")), ["stand", "stands", "stand"]);
        assert_eq!(
            [(0, 1), (1, 1), (1, 4)].map(|(some, all)| some_of(some, all, "wanted term")),
            ["0 of 1 wanted term", "1 of 1 wanted term", "1 of 4 wanted terms"]
        );
    }

    #[test]
    fn a_sentence_has_its_capital_and_its_stop_and_a_file_keeps_its_name() {
        let cases = ["there is none", "lamp/brief.yaml:3:1: no such key.", "étés", ""].map(sentence);
        assert_eq!(cases, ["There is none.", "lamp/brief.yaml:3:1: no such key.", "Étés.", "."]);
    }

    #[test]
    fn plurals_end_as_they_are_said() {
        let two = |noun: &str| counted(2, noun);
        assert_eq!(
            ["query", "copy", "box", "inch", "essay", "class"].map(two),
            ["2 queries", "2 copies", "2 boxes", "2 inches", "2 essays", "2 classes"]
        );
    }
}
