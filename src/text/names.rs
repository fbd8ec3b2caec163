//! The names of the brief: which words they are, and the syllables that the author has counted.

use crate::brief::book::Name;

use super::syllables::{fold, spoken_ending};
use super::word::{Basis, Word};
use super::words;

/// The names of the brief.
#[derive(Debug, Clone)]
pub(crate) struct Names {
    /// The words of all names, in small letters without accents.
    words: Vec<String>,
    /// The names whose syllables are given.
    counted: Vec<CountedName>,
}

/// A name whose syllables the brief gives.
#[derive(Debug, Clone)]
struct CountedName {
    /// The words of the name in small letters without accents; never empty.
    words: Vec<String>,
    syllables: u32,
}

impl Names {
    /// Reads the names; those without a count are left to the dictionary.
    pub(crate) fn read(names: &[Name]) -> Self {
        let mut found = Self { words: Vec::new(), counted: Vec::new() };
        for name in names {
            let words: Vec<String> =
                words::find(&name.name).into_iter().map(|word| fold(&name.name[word]).into_owned()).collect();
            found.words.extend(words.iter().cloned());
            if let Some(syllables) = name.syllables
                && !words.is_empty()
            {
                found.counted.push(CountedName { words, syllables: syllables.max(1) });
            }
        }
        found
    }

    /// Every word of every name, in small letters without accents.
    pub(crate) fn words(&self) -> impl Iterator<Item = &str> {
        self.words.iter().map(String::as_str)
    }

    /// Sets the syllables of each name among the words of one block.
    pub(crate) fn count(&self, text: &str, words: &mut [Word]) {
        for name in &self.counted {
            for at in 0..words.len() {
                let end = at + name.words.len();
                if let Some(added) = words.get(at..end).and_then(|stretch| name.ending_of(text, stretch)) {
                    name.set(&mut words[at..end], added);
                }
            }
        }
    }
}

impl CountedName {
    /// The syllables that a possessive or contraction adds to the name, zero where the words are the bare name; none
    /// where the words are not this name.
    fn ending_of(&self, text: &str, words: &[Word]) -> Option<u32> {
        // Most words differ from the name in their first letter already, and need not be folded.
        let first = text[words.first()?.range.clone()].chars().next()?;
        if first.is_ascii() && !self.words.first()?.starts_with(first.to_ascii_lowercase()) {
            return None;
        }
        let (last, front) = self.words.split_last()?;
        let written = |word: &Word| fold(&text[word.range.clone()]);
        if !front.iter().zip(words).all(|(name, word)| *name == written(word)) {
            return None;
        }
        let word = written(words.last()?);
        if word == *last {
            return Some(0);
        }
        let ending = word.strip_prefix(last.as_str())?.strip_prefix('\'')?;
        spoken_ending(last, ending)
    }

    /// Shares the name's syllables and `added` out among the name's words: the first word whose syllables were guessed,
    /// or else the last word, gets what the counts of the others leave, at least 1.
    fn set(&self, words: &mut [Word], added: u32) {
        let guessed = words.iter().position(|word| word.basis == Basis::Guessed);
        let taker = guessed.unwrap_or(words.len() - 1);
        let others: u32 = words.iter().enumerate().filter(|(at, _)| *at != taker).map(|(_, word)| word.syllables).sum();
        words[taker].syllables = (self.syllables + added).saturating_sub(others).max(1);
        for word in words {
            (word.basis, word.is_settled) = (Basis::Given, false);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::brief::Book;
    use crate::brief::book::Name;
    use crate::draft::Draft;
    use crate::text::Text;

    fn check(names: &[(&str, u32)], copy: &str, syllables: &[u32]) {
        let names = names.iter().map(|(name, count)| Name { name: (*name).to_owned(), syllables: Some(*count) });
        let book = Book { names: names.collect(), ..Book::default() };
        let draft = Draft::read(copy);
        let text = Text::read(&draft, &book);
        let found: Vec<u32> = text.blurb.words.iter().map(|word| word.syllables).collect();
        assert_eq!(found, syllables, "{copy}");
    }

    #[test]
    fn a_given_count_wins() {
        check(&[("Siobhánna", 3)], "Siobhánna and Siobhanna’s dog", &[3, 1, 3, 1]);
        check(&[("Oonax", 2)], "OONAX'S Oonaxes", &[3, 3]);
    }

    #[test]
    fn a_name_of_several_words_is_given_as_a_whole() {
        check(&[("Gull Pointe", 2)], "To Gull Pointe, Gull.", &[1, 1, 1, 1]);
        check(&[("Xquith Hill", 4)], "Xquith Hill’s lamp", &[3, 1, 1]);
    }
}
