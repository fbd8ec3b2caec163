//! How long it takes to read a text and take every measure of its level.
//!
//! The texts are made from the word lists by a fixed rule: mostly familiar words, some from the whole dictionary, a
//! name now and then. They repeat themselves less than prose does, and so are rather slower. Where LEVEL_TEXTS names a
//! file of texts parted by form feeds, those are timed instead: `tests/reference/level_speed/run` does so.

#![allow(missing_docs, reason = "a bench has no readers of its documentation")]
#![allow(clippy::print_stdout, reason = "what was timed is printed")]

use blurbwright::brief::Book;
use blurbwright::draft::Draft;
use blurbwright::level::{Level, measure, scores};
use blurbwright::text::Text;

use crate::random::Random;

/// Prints the seconds that the first round of a file's texts takes and the best of thirty, and how many measures there
/// are.
pub(crate) fn time(file: &str) {
    let texts: Vec<&str> = file.split('\u{c}').collect();
    // The lists are in memory before, as those of whatever is timed beside: the dictionary, and by the sentences behind
    // it those of patterns, openers, verbs of saying, abbreviations and familiar words.
    let dictionary = entries(include_str!("../../wordlists/cmudict-syllables.txt")).join(" ");
    let others =
        "“Stop!” Quilloniad said. Mr. Fenn’s 3-year-old, o'lamp-keeper'll see. No. 5 is at St. Ann’s. The end.";
    level(&Draft::read(&format!("{dictionary}.\n\n{others}")));
    let book = Book::default();
    let round = || {
        let start = std::time::Instant::now();
        for text in &texts {
            divan::black_box(scores(&Text::read(&Draft::read(text), &book)));
        }
        start.elapsed().as_secs_f64()
    };
    let rounds: Vec<f64> = (0..30).map(|_| round()).collect();
    let best = rounds.iter().copied().fold(f64::INFINITY, f64::min);
    let measures = level(&Draft::read(texts[0])).scores.iter().filter(|score| score.value.is_some()).count();
    println!("ours {} {best} {measures}", rounds[0]);
}

fn entries(list: &'static str) -> Vec<&'static str> {
    let lines = list.lines().filter(|line| !line.starts_with('#'));
    lines.filter_map(|line| line.split(' ').next()).filter(|word| word.len() > 1).collect()
}

/// Texts of so many words each.
fn texts(count: usize, words: usize) -> Vec<String> {
    let familiar = entries(include_str!("../../wordlists/dale-chall.txt"));
    let openers = entries(include_str!("../../wordlists/sentence-openers.txt"));
    let all = entries(include_str!("../../wordlists/cmudict-syllables.txt"));
    let mut random = Random(1);
    let mut text = || {
        let mut copy = String::new();
        let mut left_in_sentence = 0;
        for at in 0..words {
            let word = match random.place(20) {
                0 | 1 => all[random.place(all.len())],
                2..12 => familiar[random.place(familiar.len())],
                _ => openers[random.place(openers.len())],
            };
            if left_in_sentence == 0 {
                left_in_sentence = 4 + random.place(20);
                copy.push_str(if at == 0 {
                    ""
                } else if at % 90 > 80 {
                    ".\n\n"
                } else {
                    ". "
                });
                copy.push_str(&word[..1].to_uppercase());
                copy.push_str(&word[1..]);
            } else {
                copy.push_str(if random.place(12) == 0 { ", " } else { " " });
                copy.push_str(word);
            }
            left_in_sentence -= 1;
        }
        copy + "."
    };
    (0..count).map(|_| text()).collect()
}

fn level(draft: &Draft) -> Level {
    measure(&Text::read(draft, &Book::default()))
}

/// A thousand texts of 158 words: from the file's text to every measure.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn a_thousand_texts(bencher: divan::Bencher) {
    let texts = texts(1000, 158);
    level(&Draft::read(&texts[0]));
    bencher.bench_local(|| {
        for text in &texts {
            divan::black_box(level(&Draft::read(text)));
        }
    });
}

/// A thousand drafts, their Markdown read before.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn a_thousand_drafts(bencher: divan::Bencher) {
    let drafts: Vec<Draft> = texts(1000, 158).iter().map(|text| Draft::read(text)).collect();
    bencher.bench_local(|| {
        for draft in &drafts {
            divan::black_box(level(draft));
        }
    });
}

/// A thousand drafts without their level: words, sentences and syllables.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn a_thousand_drafts_read_alone(bencher: divan::Bencher) {
    let drafts: Vec<Draft> = texts(1000, 158).iter().map(|text| Draft::read(text)).collect();
    bencher.bench_local(|| {
        for draft in &drafts {
            divan::black_box(Text::read(draft, &Book::default()).blurb.words.len());
        }
    });
}

/// A manuscript of a picture book.
#[divan::bench]
fn six_hundred_words(bencher: divan::Bencher) {
    let text = &texts(1, 600)[0];
    bencher.bench_local(|| level(&Draft::read(text)));
}

/// A novel.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn a_hundred_thousand_words(bencher: divan::Bencher) {
    let text = &texts(1, 100_000)[0];
    bencher.bench_local(|| level(&Draft::read(text)));
}
