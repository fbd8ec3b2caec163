//! The order of names as a reader has it: numbers in them by their value, so that book 2 stands before book 10.

use std::cmp::Ordering;

/// The order of two names: stretches of figures by their value, all else by its letters. Names that differ in noughts
/// before a number alone stand in the order of their letters, so that no two are equal but the same.
pub fn in_order(one: &str, other: &str) -> Ordering {
    let (mut left, mut right) = (one, other);
    loop {
        let order = match (left.chars().next(), right.chars().next()) {
            (Some(first), Some(next)) if first.is_ascii_digit() && next.is_ascii_digit() => {
                let (number, rest) = number(left);
                let (other_number, other_rest) = self::number(right);
                (left, right) = (rest, other_rest);
                number.len().cmp(&other_number.len()).then_with(|| number.cmp(other_number))
            }
            (Some(first), Some(next)) => {
                (left, right) = (&left[first.len_utf8()..], &right[next.len_utf8()..]);
                first.cmp(&next)
            }
            (first, next) => return first.cmp(&next).then_with(|| one.cmp(other)),
        };
        if order != Ordering::Equal {
            return order;
        }
    }
}

/// The figures at the beginning of a text without noughts before them, and what follows.
fn number(text: &str) -> (&str, &str) {
    let end = text.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(text.len());
    (text[..end].trim_start_matches('0'), &text[end..])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_by_their_value_and_all_else_by_its_letters() {
        let ordered = [
            "",
            "2",
            "10",
            "a",
            "book",
            "book 0",
            "book 01",
            "book 1",
            "book 2",
            "book 2 b",
            "book 10",
            "book 10.md",
            "book 99999999999999999999998",
            "book 99999999999999999999999",
            "book b",
            "é 3",
            "é 20",
        ];
        let mut names = ordered;
        names.reverse();
        names.sort_by(|one, other| in_order(one, other));
        assert_eq!(names, ordered);
    }
}
