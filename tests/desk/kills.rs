//! The desk killed at random moments while an author types: what is lost is at most the last second of typing.
//!
//! The author writes numbers, one after another, so that any text of theirs tells how far they had come; when each was
//! typed is noted, so that for every kill the age of the oldest lost one is known. Each life goes on from what the desk
//! offers.

use std::fs;
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use blurbwright::files::desk::open;
use tempfile::TempDir;

use super::pty::{Desk, book};
use crate::random::Random;
use crate::tried::tried;

/// How often to kill; the reference check asks for more.
const KILLS: &str = "NOTHING_LOST_KILLS";
const USUAL_KILLS: u32 = 48;
/// Fewer kills may all come before anything was kept.
const FEWEST_KILLS: u32 = 24;
/// Desks at once: they mostly wait.
const AUTHORS: u64 = 8;
/// Lives in one book: after that its text is longer than any blurb.
const LIVES: u64 = 8;
/// The longest that an author types before the kill, in milliseconds.
const LONGEST: u64 = 2200;
/// Between one number and the next.
const PACE: Duration = Duration::from_millis(25);
/// All that may be lost.
const SECOND: Duration = Duration::from_secs(1);
/// What a machine that is busy with other tests may add to it.
const BUSY: Duration = Duration::from_secs(1);

/// What was lost.
#[derive(Debug, Default)]
struct Tally {
    kills: u64,
    /// Numbers typed in all.
    typed: usize,
    /// Kills after which words were offered.
    offered: usize,
    /// Texts that are no beginning of what was typed.
    damaged: usize,
    /// Kills that took numbers which an earlier desk had kept.
    kept_lost: usize,
    /// Numbers lost in all.
    lost: usize,
    /// For each kill, the age of the oldest number that it took.
    ages: Vec<Duration>,
}

impl Tally {
    fn add(&mut self, other: Self) {
        self.kills += other.kills;
        self.typed += other.typed;
        self.offered += other.offered;
        self.damaged += other.damaged;
        self.kept_lost += other.kept_lost;
        self.lost += other.lost;
        self.ages.extend(other.ages);
    }

    fn oldest(&self) -> Duration {
        self.ages.iter().max().copied().unwrap_or_default()
    }
}

#[test]
fn a_kill_takes_at_most_the_last_second_of_typing() {
    let asked = std::env::var(KILLS).ok().and_then(|count| count.parse().ok());
    let kills: u64 = asked.unwrap_or_else(|| u64::from(tried(USUAL_KILLS).max(FEWEST_KILLS)));
    let began = Instant::now();
    let authors = (0..AUTHORS).map(|author| thread::spawn(move || author_with(author, kills.div_ceil(AUTHORS))));
    let mut tally = Tally::default();
    for author in authors.collect::<Vec<_>>() {
        tally.add(author.join().expect("an author"));
    }
    let late = tally.ages.iter().filter(|age| **age > SECOND).count();
    println!(
        "{} kills in {:?}: {} numbers typed, {} lost; words offered after {} kills; the oldest lost was typed {:?} \
         before, {late} before the last second; {} texts damaged, {} kills took what was kept",
        tally.kills,
        began.elapsed(),
        tally.typed,
        tally.lost,
        tally.offered,
        tally.oldest(),
        tally.damaged,
        tally.kept_lost
    );
    assert_eq!((tally.damaged, tally.kept_lost), (0, 0), "{tally:?}");
    assert!(tally.offered > 0 && tally.typed > tally.lost, "the authors had no time: {tally:?}");
    assert!(tally.oldest() < SECOND + BUSY, "{tally:?}");
}

fn author_with(author: u64, kills: u64) -> Tally {
    let (mut random, mut tally) = (Random(0x5eed + author), Tally::default());
    let mut lives = 0;
    while lives < kills {
        let book = book();
        fs::write(book.path().join("first.md"), "").expect("an empty draft");
        let mut left = Left::default();
        for _ in 0..LIVES.min(kills - lives) {
            left = one_life(&book, left, random.below(LONGEST), &mut tally);
            lives += 1;
        }
    }
    tally.kills = lives;
    tally
}

/// What the author has at the next start.
#[derive(Debug, Clone, Copy, Default)]
struct Left {
    /// How many numbers are whole.
    numbers: usize,
    /// How many letters there are of the next.
    begun: usize,
    /// Whether the desk offers them; else they are in the file.
    is_offered: bool,
}

/// Opens the desk, takes what it offers, types until the kill, and counts what is left.
fn one_life(book: &TempDir, before: Left, life: u64, tally: &mut Tally) -> Left {
    let mut desk = Desk::run(book, &["desk"], &[], 80, 24);
    if life.is_multiple_of(8) {
        // Before or while it opens, and perhaps while it takes the words that it offers.
        thread::sleep(Duration::from_millis(life / 8));
        desk.keys(b"t");
        return killed(&mut desk, book, before, &[], tally);
    }
    if before.is_offered {
        desk.shows("Unsaved words were kept");
        desk.keys(b"t");
    }
    desk.shows("Ctrl-Q leave");
    desk.keys(b"\x1b[1;5F");
    let end = Instant::now() + Duration::from_millis(life);
    let mut typed = Vec::new();
    while Instant::now() < end {
        let begun = if typed.is_empty() { before.begun } else { 0 };
        let number = format!("{} ", before.numbers + typed.len());
        desk.keys(&number.as_bytes()[begun..]);
        typed.push(Instant::now());
        // Now and then an author saves.
        if typed.len() % 40 == 39 {
            desk.keys(b"\x13");
        }
        thread::sleep(PACE);
    }
    killed(&mut desk, book, before, &typed, tally)
}

fn killed(desk: &mut Desk, book: &TempDir, before: Left, typed: &[Instant], tally: &mut Tally) -> Left {
    desk.signal("KILL");
    let at = Instant::now();
    desk.ends();
    let now = left(&book.path().join("first.md"), tally);
    tally.typed += typed.len();
    tally.kept_lost += usize::from((now.numbers, now.begun) < (before.numbers, before.begun));
    let lost = typed.get(now.numbers.saturating_sub(before.numbers)..).unwrap_or_default();
    tally.lost += lost.len();
    tally.ages.extend(lost.first().map(|oldest| at - *oldest));
    now
}

/// How far the author had come by the words that are offered, or where none are by the file.
fn left(draft: &Path, tally: &mut Tally) -> Left {
    let draft = open(draft).expect("the draft opens");
    let recovered = draft.recovered();
    tally.damaged += usize::from(count(draft.text()).is_none());
    tally.offered += usize::from(recovered.is_some());
    let text = recovered.as_ref().map_or(draft.text(), |found| &found.text);
    let Some((numbers, begun)) = count(text) else {
        tally.damaged += 1;
        return Left { is_offered: recovered.is_some(), ..Left::default() };
    };
    Left { numbers, begun, is_offered: recovered.is_some() }
}

/// How many numbers a text counts up, and how many letters of the next it has; none where it is not a count.
fn count(text: &str) -> Option<(usize, usize)> {
    let mut numbers: Vec<&str> = text.split(' ').collect();
    let begun = numbers.pop().unwrap_or_default();
    let is_count = numbers.iter().enumerate().all(|(number, word)| *word == number.to_string());
    (is_count && numbers.len().to_string().starts_with(begun)).then_some((numbers.len(), begun.len()))
}
