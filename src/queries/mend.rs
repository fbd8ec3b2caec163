//! Makes a cut that leaves good English: one blank between words, a capital where the sentence begins, the right `a` or
//! `an` before the word that moves up, and the author's markup untouched.
//!
//! Where this cannot be had, or where the words beside it forbid the change, there is no cut.

use std::ops::Range;

use super::prose::Prose;
use super::query::Cut;
use super::sense::Rewording;
use crate::text::language::Language;

/// The cut that puts a wording, which may be empty, in the place of some words; none where good English cannot be had,
/// and none in any other language, whose grammar is not known here.
pub(super) fn cut(prose: &Prose<'_>, words: &Range<usize>, wording: &str) -> Option<Cut> {
    if prose.language != Language::English || !(Rewording { prose, words: words.clone(), wording }).is_sound() {
        return None;
    }
    let cut = if wording.is_empty() { deleted(prose, words) } else { replaced(prose, words, wording) }?;
    is_in_one_run(prose, &cut.range).then_some(cut)
}

/// The cut that takes away the second of two words that are one; none where markup begins or ends between them.
pub(super) fn undoubled(prose: &Prose<'_>, second: usize) -> Option<Cut> {
    let range = prose.words.get(second.checked_sub(1)?)?.range.end..prose.words.get(second)?.range.end;
    is_in_one_run(prose, &range).then_some(Cut { range, wording: String::new() })
}

/// The cut that puts a wording in the place of some words.
fn replaced(prose: &Prose<'_>, words: &Range<usize>, wording: &str) -> Option<Cut> {
    let range = prose.bytes(words);
    let wording = if prose.is_capital(words.start) { capitalised(wording) } else { wording.to_owned() };
    Some(match article_before(prose, words.start, &wording) {
        Some((place, article)) => Cut { range: place.start..range.end, wording: format!("{article} {wording}") },
        None => Cut { range, wording },
    })
}

/// The cut that takes some words away, with the blank or the comma that would be left over.
fn deleted(prose: &Prose<'_>, words: &Range<usize>) -> Option<Cut> {
    let sentence = prose.sentence_of(words.start);
    let range = prose.bytes(words);
    let after = prose.gap(words.end - 1);
    if words.start == sentence.start {
        return (words.end < sentence.end && matches!(after, " " | ", "))
            .then(|| moved_up(prose, range.start, words.end));
    }
    let before = prose.gap(words.start - 1);
    if before == ", " && after.starts_with(',') {
        return Some(Cut { range: range.start - before.len()..range.end + 1, wording: String::new() });
    }
    if before != " " && !(before.ends_with(' ') && after == " ") {
        return None;
    }
    let next = prose.written(words.end);
    if let Some((place, article)) = article_before(prose, words.start, next).filter(|_| after == " ") {
        return Some(Cut { range: place.start..range.end, wording: article });
    }
    let in_front = Cut { range: range.start - 1..range.end, wording: String::new() };
    let behind = Cut { range: range.start..range.end + 1, wording: String::new() };
    let takes_blank = before == " " && is_in_one_run(prose, &in_front.range) && is_tight(prose, words.start);
    match after {
        " " if !takes_blank => is_tight(prose, words.end).then_some(behind),
        _ => takes_blank.then_some(in_front),
    }
}

/// Whether no markup begins or ends inside some bytes.
pub(super) fn is_in_one_run(prose: &Prose<'_>, range: &Range<usize>) -> bool {
    let runs = prose.block.runs();
    let run = runs.get(runs.partition_point(|(run, _)| run.end <= range.start));
    run.is_some_and(|(run, _)| run.start <= range.start && range.end <= run.end)
}

/// Whether the blank before a word is all that stands there in the file: blanks at a line's end are not in the text.
fn is_tight(prose: &Prose<'_>, at: usize) -> bool {
    let (Some(before), Some(word)) = (prose.words.get(at - 1), prose.words.get(at)) else { return false };
    prose.block.span(before.range.clone()).end == prose.block.span(before.range.end..word.range.end).start
}

/// The cut that begins the sentence with a later word, which gets the capital.
fn moved_up(prose: &Prose<'_>, start: usize, next: usize) -> Cut {
    Cut { range: start..prose.words[next].range.end, wording: capitalised(prose.written(next)) }
}

/// Where the article before a word is, and its right form before another word, if it has to change.
pub(super) fn article_before(prose: &Prose<'_>, at: usize, next: &str) -> Option<(Range<usize>, String)> {
    let before = at.checked_sub(1).filter(|before| prose.gap(*before) == " ")?;
    let place = prose.words[before].range.clone();
    let written = &prose.text()[place.clone()];
    let right = if begins_with_vowel(next) { "an" } else { "a" };
    if !matches!(written, "a" | "an" | "A" | "An") || written.eq_ignore_ascii_case(right) {
        return None;
    }
    Some((place, if written.starts_with('A') { capitalised(right) } else { right.to_owned() }))
}

/// Whether a word is spoken with a vowel at its beginning. Common practice: the exceptions are few and can be listed.
fn begins_with_vowel(word: &str) -> bool {
    let word = word.to_lowercase();
    let begins = |starts: &[&str]| starts.iter().any(|start| word.starts_with(start));
    if begins(&["hour", "honest", "honour", "honor", "heir", "8", "11", "18"]) {
        return true;
    }
    let is_glide =
        begins(&["uni", "use", "usu", "uto", "ukulele", "eu", "ewe", "once", "one"]) && !begins(&["unin", "unim"]);
    !is_glide && begins(&["a", "e", "i", "o", "u"])
}

/// A wording with a capital.
pub(super) fn capitalised(wording: &str) -> String {
    let mut letters = wording.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use proptest::prelude::{TestCaseError, any, prop_assert, prop_assert_eq, proptest};

    use super::begins_with_vowel;
    use crate::brief::Brief;
    use crate::brief::queries::{LISTED, Rule};
    use crate::draft::{Draft, edited};
    use crate::queries::cases::queries_of;

    /// Every cut is inside its block and comes out the same when it is made in the author's file.
    fn check(source: &str) -> Result<(), TestCaseError> {
        let brief = Brief::read("book: { names: [Oona] }\npanel: { trim: 8 x 8 in }\n", Path::new("")).unwrap();
        let draft = Draft::read(source);
        let mended = |rule: Rule| rule == Rule::RepeatedWord || LISTED.iter().any(|(_, listed)| *listed == rule);
        for query in queries_of(&draft, &brief).iter().filter(|query| mended(query.rule)) {
            let block = &draft.blocks[query.block];
            prop_assert!(!block.text()[query.range.clone()].is_empty());
            for cut in &query.cuts {
                let mut wanted = block.text().to_owned();
                wanted.replace_range(cut.range.clone(), &cut.wording);
                let again = Draft::read(&edited(source, &[cut.edit(block)]));
                let text = again.blocks.get(query.block).map_or("", |block| block.text());
                prop_assert_eq!(text, wanted.trim(), "{:?}", query);
                prop_assert!(wanted.contains("  ") || !text.contains("  "));
            }
        }
        Ok(())
    }

    proptest! {
        #[test]
        fn no_draft_stops_the_rules(source in any::<String>()) {
            check(&source)?;
        }

        #[test]
        fn every_cut_comes_out_the_same_in_the_file(
            source in "(an |a |The |truly |very |in order to |In this book|, |\\. |Oona |lamp|amazing|heartwarming \
                       |story|\n|\\*|\"| and |“|” |the |’s |makes a decision to |is able to |bestseller){0,24}"
        ) {
            check(&source)?;
        }
    }

    #[test]
    fn articles_go_by_sound() {
        for word in ["amazing", "hour-long", "honest", "8-year-old", "Ink", "unimportant", "umbrella"] {
            assert!(begins_with_vowel(word), "{word}");
        }
        for word in ["unicorn", "useful", "one-eyed", "lamp", "ewe", "house", "7-year-old"] {
            assert!(!begins_with_vowel(word), "{word}");
        }
    }
}
