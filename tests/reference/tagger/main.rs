//! Prints the part of speech of each word, for another tagger's to be held against it, and the time that a word takes.
//!
//! Use: tagger, with a sentence a line on standard input, its words and marks parted by blanks; a line a sentence comes
//! back, a class or `-` for each. With --time only the time is printed, of reading the same sentences a hundred times.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::io;
use std::time::Instant;

use blurbwright::text::tagger::{TaggerWord, WordClass, tag};

/// How often the sentences are read for the time.
const TIMES: usize = 100;

/// Tags the sentences of standard input, or times it.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let lines: Vec<String> = io::stdin().lines().collect::<Result<_, _>>()?;
    let folded: Vec<Vec<String>> =
        lines.iter().map(|line| line.split(' ').map(|word| word.to_lowercase().replace('’', "'")).collect()).collect();
    if arguments.iter().any(|argument| argument == "--time") {
        let start = Instant::now();
        let mut words = 0;
        for _ in 0..TIMES {
            words += lines.iter().zip(&folded).map(|(line, folded)| classes(line, folded).len()).sum::<usize>();
        }
        println!("{:.3} microseconds a word", start.elapsed().as_secs_f64() * 1e6 / words as f64);
        return Ok(());
    }
    for (line, folded) in lines.iter().zip(&folded) {
        let told: Vec<String> = classes(line, folded)
            .iter()
            .map(|class| class.map_or("-".to_owned(), |class| format!("{class:?}")))
            .collect();
        println!("{}", told.join(" "));
    }
    Ok(())
}

/// The class of each word of a line; none for a mark.
fn classes(line: &str, folded: &[String]) -> Vec<Option<WordClass>> {
    let is_word = |word: &str| word.chars().any(char::is_alphanumeric);
    let (mut words, mut follows_stop) = (Vec::new(), true);
    for (written, word) in line.split(' ').zip(folded) {
        if is_word(written) {
            words.push(TaggerWord { word, is_capital: written.starts_with(char::is_uppercase), follows_stop });
        }
        follows_stop = !is_word(written);
    }
    let mut tagged = tag(&words).into_iter();
    line.split(' ').map(|written| if is_word(written) { tagged.next() } else { None }).collect()
}
