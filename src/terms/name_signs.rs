//! What English words say of the names beside them: that they are titles, kin, or what places are called.

use std::collections::HashSet;
use std::sync::LazyLock;

/// The entries of `wordlists/name-signs.txt`: a word, a blank, and what the word says of a name beside it.
static SIGNS: LazyLock<HashSet<&str>> =
    LazyLock::new(|| wordlist!("name-signs.txt").lines().filter(|line| !line.starts_with('#')).collect());

/// Whether a word in small letters has a sign of the list: `title`, `kin`, `before`, `place` or `nobody`, as the head
/// of the list explains them.
pub fn has_sign(word: &str, sign: &str) -> bool {
    SIGNS.contains([word, sign].join(" ").as_str())
}

#[cfg(test)]
mod tests {
    use super::has_sign;

    #[test]
    fn signs_are_read_from_the_list() {
        assert!(has_sign("grandpa", "title") && has_sign("mummy", "nobody") && has_sign("point", "place"));
        assert!(!has_sign("oona", "title") && !has_sign("grandpa", "place") && !has_sign("# Entries", "203"));
    }
}
