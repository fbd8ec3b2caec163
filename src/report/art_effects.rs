//! What becomes of lines on art from one setting of the copy to another: which are clear, hard or lost then.
//!
//! Lines are broken anew with every change, so words are followed, and lines are told by their words.

use std::collections::HashSet;
use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::legibility::Legibility;
use crate::art::lines::Grade;
use crate::draft::Draft;
use crate::setting::lines::SetLine;

/// A printed word that stands on art.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GradedWord {
    /// The word.
    pub text: String,
    /// The number of its line among all set lines, from 0.
    pub line: usize,
    /// How well it can be read: as the stretch that it stands in.
    pub grade: Grade,
}

/// What became of a line on art.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineOnArt {
    /// The number of the line among all set lines, from 0: afterwards, or before where it has no grade afterwards.
    pub line: usize,
    /// The grade that its words had; none where most of them are new.
    pub before: Option<Grade>,
    /// The grade that they have; none where most of those that were not clear stand on art no more.
    pub after: Option<Grade>,
    /// The words of the line that make the difference, with a blank between.
    pub words: String,
}

/// Every word on art of a setting whose lines were judged, in the order of the copy.
pub(super) fn words_on_art(art: &Legibility, draft: &Draft, lines: &[&SetLine]) -> Vec<GradedWord> {
    let mut words = Vec::new();
    for judged in &art.lines {
        let block = lines.get(judged.line).and_then(|line| draft.blocks.get(line.paragraph));
        let Some(text) = block.map(|block| block.text()) else { continue };
        let grade = |word: &Range<usize>| {
            let touched = judged.judgement.stretches.iter().filter(|stretch| {
                let stretch = &stretch.text;
                stretch.start < word.end && word.start < stretch.end
            });
            touched.map(|stretch| stretch.grade).max().unwrap_or(Grade::Clear)
        };
        words.extend(judged.letters.words.iter().map(|word| GradedWord {
            text: text.get(word.text.clone()).unwrap_or_default().to_owned(),
            line: judged.line,
            grade: grade(&word.text),
        }));
    }
    words
}

/// How many lines have a grade, the worst of a line's words being that of the line.
pub fn lines_with(words: &[GradedWord], grade: Grade) -> usize {
    words.chunk_by(|one, next| one.line == next.line).filter(|line| worst(*line) == Some(grade)).count()
}

fn worst<'w>(words: impl IntoIterator<Item = &'w GradedWord>) -> Option<Grade> {
    words.into_iter().map(|word| word.grade).max()
}

/// The lines whose grade is another afterwards, in the order of the copy. A line of new words is among them where it is
/// not clear, and a line whose words that were not clear are gone.
pub fn changed_lines(before: &[GradedWord], after: &[GradedWord]) -> Vec<LineOnArt> {
    let texts = |words: &[GradedWord]| words.iter().map(|word| word.text.clone()).collect::<Vec<_>>();
    // For each word afterwards its number among those before; none for a new word.
    let mut was: Vec<Option<usize>> = vec![None; after.len()];
    for same in capture_diff_slices(Algorithm::Patience, &texts(before), &texts(after)) {
        if let DiffOp::Equal { old_index, new_index, len } = same {
            (0..len).for_each(|step| was[new_index + step] = Some(old_index + step));
        }
    }
    let mut changed: Vec<LineOnArt> = Vec::new();
    let mut from = 0;
    // Each line as it stands afterwards, with the grade that its words had before.
    for line in after.chunk_by(|one, next| one.line == next.line) {
        let known: Vec<Option<&GradedWord>> =
            was[from..from + line.len()].iter().map(|at| Some(&before[(*at)?])).collect();
        from += line.len();
        // A line of which most words are new is a new one.
        let is_known = known.iter().flatten().count() * 2 >= line.len();
        let had = worst(known.iter().copied().flatten()).filter(|_| is_known);
        let has = worst(line);
        if had == has || had.is_none() && has == Some(Grade::Clear) {
            continue;
        }
        // Of a line that is clear now, what was not; of one that is not, what is not.
        let tells = |(word, known): (&GradedWord, &Option<&GradedWord>)| match has {
            Some(Grade::Clear) | None => known.is_some_and(|known| known.grade != Grade::Clear),
            _ => Some(word.grade) == has,
        };
        let words = line.iter().zip(&known).filter(|(word, known)| tells((word, known))).map(|(word, _)| word);
        changed.push(LineOnArt { line: line[0].line, before: had, after: has, words: in_a_row(words) });
    }
    // A line before of whose unclear words most are gone: no line afterwards tells of them.
    let stays: HashSet<usize> = was.into_iter().flatten().collect();
    let mut from = 0;
    for line in before.chunk_by(|one, next| one.line == next.line) {
        let unclear: Vec<usize> = (from..from + line.len()).filter(|at| before[*at].grade != Grade::Clear).collect();
        from += line.len();
        if unclear.len() > unclear.iter().filter(|at| stays.contains(at)).count() * 2 {
            let words = || unclear.iter().map(|at| &before[*at]);
            changed.push(LineOnArt {
                line: line[0].line,
                before: worst(words()),
                after: None,
                words: in_a_row(words()),
            });
        }
    }
    changed
}

fn in_a_row<'w>(words: impl Iterator<Item = &'w GradedWord>) -> String {
    words.map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lines of words: a word with `~` is hard, one with `!` lost.
    fn words(lines: &[&str]) -> Vec<GradedWord> {
        let of_line = |(line, words): (usize, &&str)| {
            let word = move |word: &str| {
                let grade = match word.chars().next() {
                    Some('~') => Grade::Hard,
                    Some('!') => Grade::Lost,
                    _ => Grade::Clear,
                };
                GradedWord { text: word.trim_start_matches(['~', '!']).to_owned(), line, grade }
            };
            words.split(' ').map(word).collect::<Vec<_>>()
        };
        lines.iter().enumerate().flat_map(of_line).collect()
    }

    fn told(before: &[&str], after: &[&str]) -> Vec<String> {
        let grade = |grade: Option<Grade>| grade.map_or("none", Grade::name);
        let line =
            |line: &LineOnArt| format!("{} {} {}: {}", line.line, grade(line.before), grade(line.after), line.words);
        changed_lines(&words(before), &words(after)).iter().map(line).collect()
    }

    #[test]
    fn lines_are_told_whose_words_have_another_grade() {
        let same = ["the lamp !is !out", "and ~nobody comes"];
        assert!(told(&same, &same).is_empty());
        assert_eq!(
            told(&same, &["the lamp is out", "and !nobody comes"]),
            ["0 lost clear: is out", "1 hard lost: nobody"]
        );
    }

    #[test]
    fn words_are_followed_over_new_line_ends() {
        assert_eq!(told(&["the lamp !is", "out"], &["the", "lamp is out"]), ["1 lost clear: is"]);
        assert!(told(&["the lamp !is", "out"], &["the lamp", "!is out"]).is_empty());
    }

    #[test]
    fn new_words_count_where_they_are_not_clear_and_gone_ones_where_they_were_not() {
        assert_eq!(told(&["the lamp"], &["the lamp", "!is !out"]), ["1 none lost: is out"]);
        assert!(told(&["the lamp"], &["the lamp", "is out"]).is_empty());
        assert_eq!(told(&["the lamp", "!is !out"], &["the lamp"]), ["1 lost none: is out"]);
        // The line is lost before and after, whichever of its words is another.
        assert!(told(&["the !lamp !is out"], &["the !light !is out"]).is_empty());
    }

    #[test]
    fn a_line_counts_by_its_worst_word() {
        let words = words(&["the ~lamp !is out", "and ~nobody", "comes"]);
        assert_eq!([Grade::Clear, Grade::Hard, Grade::Lost].map(|grade| lines_with(&words, grade)), [1, 1, 1]);
        assert_eq!(lines_with(&[], Grade::Lost), 0);
    }
}
