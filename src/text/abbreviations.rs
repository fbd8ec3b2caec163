//! Knows abbreviations: what the stop after one means, and how it is spoken.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::spelling::ByHash;

static LIST: LazyLock<HashMap<&str, Abbreviation, ByHash>> =
    LazyLock::new(|| wordlist!("abbreviations.txt").lines().filter_map(entry).collect());

/// The longest abbreviation of the list, in bytes.
const LONGEST: usize = 6;

/// What the list says about an abbreviation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Abbreviation {
    /// What the stop after the abbreviation means.
    pub(super) stop: Stop,
    /// The syllables of the words that the abbreviation stands for, as spoken.
    pub(super) syllables: u32,
}

/// What the stop after an abbreviation means for the sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stop {
    /// A name follows (`Mr.`).
    Name,
    /// The sentence goes on (`e.g.`).
    Inside,
    /// The word is an abbreviation only before a figure (`No. 5`).
    Figure,
    /// The sentence may end here (`etc.`).
    End,
}

/// The entry for a word written without its last stop. An entry in small letters stands for any case.
pub(super) fn find(word: &str) -> Option<Abbreviation> {
    let lower = || word.contains(char::is_uppercase).then(|| LIST.get(word.to_lowercase().as_str())).flatten();
    if word.len() > LONGEST { None } else { LIST.get(word).or_else(lower).copied() }
}

/// Whether a word is pieces of one or two letters with stops between them, as `U.S` and `Ph.D` are without their last
/// stop.
pub(super) fn is_dotted(word: &str) -> bool {
    word.contains('.')
        && word.split('.').all(|piece| matches!(piece.len(), 1..=2) && piece.chars().all(char::is_alphabetic))
}

fn entry(line: &'static str) -> Option<(&'static str, Abbreviation)> {
    if line.starts_with('#') {
        return None;
    }
    let mut fields = line.split(' ');
    let word = fields.next()?;
    let stop = match fields.next()? {
        "name" => Stop::Name,
        "inside" => Stop::Inside,
        "figure" => Stop::Figure,
        "end" => Stop::End,
        _ => return None,
    };
    Some((word, Abbreviation { stop, syllables: fields.next()?.parse().ok()? }))
}

#[cfg(test)]
mod tests {
    use super::{LIST, Stop, find, is_dotted};

    #[test]
    fn the_list_is_whole() {
        let text = include_str!("../../wordlists/abbreviations.txt");
        let entries = text.lines().filter(|line| !line.starts_with('#')).count();
        assert_eq!(LIST.len(), entries);
        assert!(text.contains(&format!("# Entries: {entries}\n")));
    }

    #[test]
    fn small_letters_stand_for_any_case() {
        assert_eq!(find("Etc").map(|found| found.stop), Some(Stop::End));
        assert_eq!(find("Mr").map(|found| found.stop), Some(Stop::Name));
        assert_eq!(find("gen"), None);
    }

    #[test]
    fn dotted_words() {
        assert!(is_dotted("U.S") && is_dotted("Ph.D"));
        assert!(!is_dotted("3.5") && !is_dotted("Mr") && !is_dotted("gullpoint.example"));
    }
}
