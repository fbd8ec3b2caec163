//! Prints what the program reads in drafts, word by word, for the values of other counters to be reckoned from it.
//!
//! Use: level_parts LANGUAGE DRAFT... A row of JSON for each draft: its `text`, one paragraph a line; `sentences` and
//! `words`, each with its place in it by characters; of each word its `syllables`, how they are known, and whether it
//! is `hard` to Gunning, and outside the lists of Dale and Chall and of Spache, were it no name.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::fs;
use std::ops::Range;

use blurbwright::brief::Book;
use blurbwright::draft::Draft;
use blurbwright::level::counts::{Count, Counts};
use blurbwright::level::measure;
use blurbwright::text::Text;
use serde_json::{Value, json};

/// Prints a row for each draft.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let (language, drafts) = arguments.split_first().ok_or("the language is missing")?;
    let book = Book { language: language.clone(), ..Book::default() };
    for path in drafts {
        println!("{}", told(&Draft::read(&fs::read_to_string(path)?), &book));
    }
    Ok(())
}

fn told(draft: &Draft, book: &Book) -> Value {
    let text = Text::read(draft, book);
    let (mut whole, mut starts) = (String::new(), Vec::new());
    for paragraph in &text.blurb.paragraphs {
        starts.push((paragraph.block, whole.chars().count()));
        whole.push_str(text.block(paragraph.block).text());
        whole.push('\n');
    }
    let place = |block: usize, range: &Range<usize>| {
        let written = text.block(block).text();
        let start = starts.iter().find(|(number, _)| *number == block).map_or(0, |(_, start)| *start);
        [range.start, range.end].map(|byte| start + written[..byte].chars().count())
    };
    let words = text.blurb.words.iter().map(|word| {
        let alone = alone(text.word(word), book);
        json!({
            "place": place(word.block, &word.range), "syllables": word.syllables, "basis": format!("{:?}", word.basis),
            "hard": alone.of(Count::Hard), "dale_chall": alone.of(Count::Unfamiliar),
            "spache": alone.of(Count::UnfamiliarOnce),
        })
    });
    let sentences = text.blurb.sentences.iter().map(|sentence| place(sentence.block, &sentence.range));
    json!({ "words": words.collect::<Vec<_>>(), "sentences": sentences.collect::<Vec<_>>(), "text": whole })
}

/// The counts of a word behind a colon, where its capital does not make it a name.
fn alone(word: &str, book: &Book) -> Counts {
    let draft = Draft::read(&format!("A: {word}"));
    measure(&Text::read(&draft, book)).counts
}
