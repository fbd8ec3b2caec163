//! Prints a typed copy with its marks mended, for a typeset copy to be held against it.
//!
//! Use: straight_marks LANGUAGE, with a paragraph a line on standard input; a line a paragraph comes back, with a `?`
//! before each mark that the author would be asked about.

#![expect(clippy::print_stdout, reason = "what it prints is what it is for")]

use std::error::Error;
use std::io;

use blurbwright::text::straight_marks::find;

/// Mends the paragraphs of standard input.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let language = arguments.first().ok_or("the language is missing")?;
    let lines: Vec<String> = io::stdin().lines().collect::<Result<_, _>>()?;
    let paragraphs: Vec<&str> = lines.iter().map(String::as_str).collect();
    for (found, text) in find(language, &paragraphs).into_iter().zip(&paragraphs) {
        let mut mended = (*text).to_owned();
        let asked = found.doubtful.into_iter().map(|place| (place.start..place.start, "?".to_owned()));
        let mut changes: Vec<_> = found.changes.into_iter().map(|change| (change.range, change.wording)).collect();
        changes.extend(asked);
        changes.sort_by_key(|(range, _)| std::cmp::Reverse((range.start, range.end)));
        for (range, wording) in changes {
            mended.replace_range(range, &wording);
        }
        println!("{mended}");
    }
    Ok(())
}
