//! Prints how many syllables the program counts in each word, for another engine's count to be held against it.
//!
//! Use: syllables_abroad LANGUAGE, with a word a line on standard input; a number a line comes back.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::io;

use blurbwright::brief::Book;
use blurbwright::draft::Draft;
use blurbwright::text::Text;

/// Counts the words of standard input.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let language = arguments.first().ok_or("the language is missing")?;
    let book = Book { language: language.clone(), ..Book::default() };
    for line in io::stdin().lines() {
        let draft = Draft::read(&line?);
        println!("{}", Text::read(&draft, &book).blurb.words.iter().map(|word| word.syllables).sum::<u32>());
    }
    Ok(())
}
