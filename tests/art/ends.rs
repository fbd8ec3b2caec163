//! Damaged files of art, by the door that they come in by: each ends with a picture or a sentence, in bounded time.
//!
//! `BLURBWRIGHT_SEEDS` asks for other seeds than the first ones: `10000000` for so many of each door, `5..6` for some.
//! What was done is then told by kinds of damage, with `--nocapture`.

#![expect(clippy::print_stdout, reason = "the table is read with --nocapture")]

use std::collections::BTreeMap;
use std::ops::Range;
use std::time::{Duration, Instant};

use blurbwright::artwork::picture::Picture;
use blurbwright::artwork::{ArtFault, ArtFile, decoded};
use blurbwright::files::guard;

use super::Door;
use super::damage::{Kind, damaged};
use super::whole::whole_files;
use crate::random::Random;
use crate::tried::tried;

/// How many damaged files of each door are tried where all cases are.
const DAMAGED: u32 = 48_000;
/// No file may take longer, on a machine that does much else: by themselves the largest pictures take seconds.
const LONGEST: Duration = Duration::from_secs(600);

/// What became of some damaged files.
#[derive(Default)]
struct Outcome {
    tried: u64,
    read: u64,
    /// How many were refused, by what was said.
    refused: BTreeMap<String, u64>,
    slowest: (Duration, u64),
    took: Duration,
}

impl Outcome {
    /// Reads one damaged file.
    fn take(&mut self, seed: u64, bytes: &[u8]) {
        let start = Instant::now();
        let end = guard::caught(|| decoded(bytes));
        let took = start.elapsed();
        self.tried += 1;
        self.took += took;
        self.slowest = self.slowest.max((took, seed));
        match end {
            Err(_) => panic!("seed {seed} stops the reader"),
            Ok(Err(ArtFault { problem, remedy })) => {
                assert!(!problem.contains('\n') && !problem.ends_with('.') && !remedy.is_empty(), "{seed}: {problem}");
                // Numbers in a sentence are those of the file.
                *self.refused.entry(problem.replace(|letter: char| letter.is_ascii_digit(), "")).or_default() += 1;
            }
            Ok(Ok(ArtFile { picture: Picture { width, height, pixels, .. }, .. })) => {
                assert!(width > 0 && height > 0 && pixels.len() == width * height, "{seed}");
                self.read += 1;
            }
        }
        assert!(took < LONGEST, "seed {seed} takes {took:?}");
    }

    fn row(&self, name: &str) -> String {
        let (refused, slowest) = (self.tried - self.read, self.slowest);
        format!(
            "{name:<10}{:>12} tried{:>12} read{refused:>12} refused{:>9.1} s, the longest {:.3} s ({})\n",
            self.tried,
            self.read,
            self.took.as_secs_f64(),
            slowest.0.as_secs_f64(),
            slowest.1
        )
    }
}

/// The seeds that are asked for, or the first ones.
fn seeds() -> (Range<u64>, bool) {
    let asked = std::env::var("BLURBWRIGHT_SEEDS").ok().and_then(|asked| match asked.split_once("..") {
        Some((from, to)) => Some(from.parse().ok()?..to.parse().ok()?),
        None => Some(1..asked.parse::<u64>().ok()? + 1),
    });
    (asked.clone().unwrap_or(1..u64::from(tried(DAMAGED)) + 1), asked.is_some())
}

fn hold(door: Door) {
    let whole = whole_files(door);
    let (seeds, is_asked) = seeds();
    let mut kinds: Vec<(Kind, Outcome)> = Kind::ALL.map(|kind| (kind, Outcome::default())).into();
    for seed in seeds {
        let mut random = Random(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        let place = seed as usize % kinds.len();
        let (kind, outcome) = &mut kinds[place];
        let [one, other] = [(); 2].map(|()| &whole[random.place(whole.len())]);
        outcome.take(seed, &damaged(door, *kind, one, other, &mut random));
    }
    let mut all = Outcome::default();
    let mut table = String::new();
    for (kind, outcome) in kinds {
        table += &outcome.row(kind.name());
        all.tried += outcome.tried;
        all.read += outcome.read;
        all.took += outcome.took;
        all.slowest = all.slowest.max(outcome.slowest);
        outcome.refused.into_iter().for_each(|(said, count)| *all.refused.entry(said).or_default() += count);
    }
    table += &all.row(door.name());
    all.refused.iter().for_each(|(said, count)| table += &format!("{count:>22} {said}\n"));
    if is_asked {
        println!("{table}");
    }
    let refused = all.tried - all.read;
    assert!(all.tried < 1_000 || all.read > all.tried / 20 && refused > all.tried / 4, "{table}");
}

#[test]
fn damaged_files_end_at_the_door_of_png() {
    hold(Door::Png);
}

#[test]
fn damaged_files_end_at_the_door_of_jpeg() {
    hold(Door::Jpeg);
}

#[test]
fn damaged_files_end_at_the_door_of_tiff() {
    hold(Door::Tiff);
}
