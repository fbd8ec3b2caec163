//! Measures how far each measure of reading level scatters between passages of one document: `level_spread FOLDER`.
//!
//! Every text of the folder is a document. It is cut, from its first sentence on, into passages of whole sentences that
//! have so many words at least; nothing is drawn by lot, so that the figures are the same each time. Of each measure it
//! prints the standard deviation between the passages of a document, as the median over the documents that have
//! passages enough.

#![expect(clippy::print_stdout, reason = "the figures are what it is for")]

use std::error::Error;
use std::fs;

use blurbwright::brief::Book;
use blurbwright::draft::Draft;
use blurbwright::level::formula::Formula;
use blurbwright::level::{Scores, scores};
use blurbwright::text::language::Language;
use blurbwright::text::{Text, sentences_of, words};

/// The lengths of the table, in words.
const LENGTHS: [usize; 7] = [50, 75, 100, 150, 250, 500, 1000];
/// A document with fewer passages tells little of their scatter.
const FEWEST_PASSAGES: usize = 4;

/// Prints the table of the texts in a folder.
pub(crate) fn run(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let folder = arguments.first().ok_or("name a folder of texts")?;
    let mut paths: Vec<_> =
        fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>()?;
    paths.sort();
    let documents: Vec<String> = paths.iter().map(fs::read_to_string).collect::<Result<_, _>>()?;
    let formulas: Vec<Formula> = Formula::shown_for(Language::English).collect();
    let keys: Vec<&str> = formulas.iter().map(|formula| formula.facts().key).collect();
    println!("words {}", keys.join(" "));
    for length in LENGTHS {
        let spreads: Vec<Vec<f64>> =
            documents.iter().filter_map(|document| spreads(document, length, &formulas)).collect();
        let row = (0..formulas.len()).map(|at| median(spreads.iter().map(|document| document[at]).collect()));
        let cells: Vec<String> =
            row.map(|spread| spread.map_or_else(|| "-".to_owned(), |spread| format!("{spread:.2}"))).collect();
        println!("{length} {}", cells.join(" "));
    }
    println!("# {} documents", documents.len());
    Ok(())
}

/// The standard deviation of each formula between the passages of a document; none where they are too few.
fn spreads(document: &str, length: usize, formulas: &[Formula]) -> Option<Vec<f64>> {
    let passages = passages(document, length);
    let found: Vec<Scores> = passages.into_iter().map(scores_of).collect();
    if found.len() < FEWEST_PASSAGES {
        return None;
    }
    let value = |scores: &Scores, formula: Formula| {
        scores.scores.iter().find(|score| score.formula == formula).and_then(|score| score.value)
    };
    formulas
        .iter()
        .map(|formula| deviation(&found.iter().filter_map(|scores| value(scores, *formula)).collect::<Vec<f64>>()))
        .collect()
}

fn scores_of(passage: &str) -> Scores {
    scores(&Text::read(&Draft::read(passage), &Book::default()))
}

/// Passages of whole sentences, one after another, of so many words at least. What is left at the end is not used.
fn passages(document: &str, length: usize) -> Vec<&str> {
    let (mut passages, mut start, mut count) = (Vec::new(), None, 0);
    for sentence in sentences_of(document) {
        let from = *start.get_or_insert(sentence.start);
        count += words::find(&document[sentence.clone()]).len();
        if count >= length {
            passages.push(&document[from..sentence.end]);
            (start, count) = (None, 0);
        }
    }
    passages
}

/// The standard deviation of a sample.
fn deviation(values: &[f64]) -> Option<f64> {
    let count = f64::from(u32::try_from(values.len()).ok().filter(|count| *count > 1)?);
    let mean = values.iter().sum::<f64>() / count;
    Some((values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt())
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    let upper = *values.get(middle)?;
    Some(if values.len() % 2 == 1 { upper } else { f64::midpoint(values[middle - 1], upper) })
}
