//! What places and shapes cost: a key and the fit of the same copy on a panel without places, in boxes, in a bubble and
//! in a cloud of 400 points, each beside what is asked of it.
//!
//! All take turns in one run, so that a slow moment of the machine does not fall on one of them alone. A number after
//! it sets how many rounds are timed.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::f64::consts::TAU;
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use blurbwright::brief::Brief;
use blurbwright::draft::Draft;
use blurbwright::report::{Assessment, Fit, ReportMemory};
use blurbwright::setting::Faces;

/// 150 words in four paragraphs under a headline, with a quote.
const DRAFT: &str = include_str!("blurb.md");

/// The copy of all panels takes nearly the same room, 7 in wide.
const BOXES: &str = "
    - { name: top, holds: headline, edges: { head: 0.5 in, foot: 8.5 in } }
    - { name: middle, holds: blurb, edges: { head: 2 in, foot: 3 in } }
    - { name: praise, holds: quote 1, edges: { head: 7.5 in, foot: 1.75 in, spine: 3 in } }
    - { name: titles, holds: other titles, edges: { head: 8.5 in, spine: 4 in } }
";

/// A bubble with a tail, with straight edges.
const BUBBLE: [(f64, f64); 7] =
    [(0.06, 0.0), (0.94, 0.0), (1.0, 0.1), (0.96, 0.8), (0.6, 0.8), (0.45, 1.0), (0.04, 0.8)];
const CLOUD_POINTS: u32 = 400;

/// How many rounds are timed, where the command line does not say.
const ROUNDS: usize = 300;

/// What may be asked of a panel beside another.
enum Asked {
    /// At most so many times the time.
    Times(f64),
    /// At most so many milliseconds more.
    More(f64),
}

/// A panel, and what is asked of a key and of the fit there, beside another panel.
struct Kind {
    name: &'static str,
    beside: &'static str,
    key: Asked,
    fit: Asked,
}

const fn kind(name: &'static str, beside: &'static str, key: Asked, fit: Asked) -> Kind {
    Kind { name, beside, key, fit }
}

const KINDS: [Kind; 5] = [
    kind("no places", "no places", Asked::Times(1.0), Asked::Times(1.0)),
    kind("four boxes", "no places", Asked::Times(1.2), Asked::Times(1.2)),
    kind("one box", "no places", Asked::Times(1.2), Asked::Times(1.2)),
    kind("bubble", "one box", Asked::More(2.0), Asked::More(30.0)),
    kind("cloud", "one box", Asked::More(2.0), Asked::More(30.0)),
];

/// Times and prints all of it.
pub(crate) fn run() {
    let rounds = std::env::args().skip(1).find_map(|argument| argument.parse().ok()).unwrap_or(ROUNDS);
    let faces = Faces::built_in();
    let briefs = KINDS.map(|kind| brief(kind.name));
    let drafts = [Draft::read(DRAFT), Draft::read(&format!("{DRAFT} Or so."))];
    for (brief, kind) in briefs.iter().zip(&KINDS) {
        let fit = Fit::of(&drafts[0], brief, &faces);
        println!("{:12} {} lines, {} over", kind.name, fit.castoff.lines, fit.castoff.lines_over);
    }
    let mut memories = KINDS.map(|_| ReportMemory::default());
    let keys = timed(rounds, |kind, round| {
        black_box(Assessment::of(&drafts[round % 2], &briefs[kind], &faces, &mut memories[kind]));
    });
    told("a key", &keys, |kind| &kind.key);
    let fits = timed(rounds, |kind, round| {
        black_box(Fit::of(&drafts[round % 2], &briefs[kind], &faces));
    });
    told("the fit", &fits, |kind| &kind.fit);
}

/// The milliseconds of each kind: the median of all rounds, each of which does all kinds.
fn timed(rounds: usize, mut work: impl FnMut(usize, usize)) -> Vec<f64> {
    let mut times = vec![Vec::new(); KINDS.len()];
    for round in 0..rounds + 4 {
        for (kind, times) in times.iter_mut().enumerate() {
            let start = Instant::now();
            work(kind, round);
            times.push(start.elapsed().as_secs_f64() * 1e3);
        }
    }
    let median = |mut times: Vec<f64>| {
        times.drain(..4);
        times.sort_by(f64::total_cmp);
        times[times.len() / 2]
    };
    times.into_iter().map(median).collect()
}

fn told(what: &str, times: &[f64], asked: fn(&Kind) -> &Asked) {
    for (kind, time) in KINDS.iter().zip(times) {
        let beside = KINDS.iter().position(|other| other.name == kind.beside).expect("a panel of that name");
        let (is_met, beside) = match asked(kind) {
            Asked::Times(most) => {
                let ratio = time / times[beside];
                (ratio <= *most, format!("{ratio:.2} times {} (asked: {most})", kind.beside))
            }
            Asked::More(most) => {
                let more = time - times[beside];
                (more <= *most, format!("{more:+.3} ms beside {} (asked: {most})", kind.beside))
            }
        };
        println!("{what}, {:12} {time:7.3} ms, {beside}{}", kind.name, if is_met { "" } else { " MISSED" });
    }
}

/// A panel of one kind: 8 by 10 in with margins of half an inch and a barcode.
fn brief(kind: &str) -> Brief {
    let all = "holds: [headline, blurb, quote], size: 7 x 8.5 in, corner: head-fore-edge";
    let polygon = |points: &[(f64, f64)]| {
        let point = |(x, y): &(f64, f64)| format!("{:.6}% {:.6}%", x * 100.0, y * 100.0);
        let points: Vec<String> = points.iter().map(point).collect();
        format!("\n    - {{ name: it, {all}, shape: {{ polygon: [{}] }}, inset: 6 pt }}\n", points.join(", "))
    };
    let places = match kind {
        "no places" => String::new(),
        "four boxes" => BOXES.to_owned(),
        "one box" => format!("\n    - {{ name: it, {all} }}\n"),
        "bubble" => polygon(&BUBBLE),
        _ => polygon(&cloud()),
    };
    let places = if places.is_empty() { places } else { format!("  places:{places}") };
    let yaml = format!(
        "panel:\n  trim: 8 x 10 in\n  margins: 0.5 in\n  keep_out: [{{ barcode: EAN-13, corner: foot-spine }}]\n\
         {places}type: {{ size: 13 pt, leading: 17 pt }}\n"
    );
    Brief::read(&yaml, Path::new("")).expect("a brief")
}

/// A cloud of eight lobes, as a drawing program traces it.
fn cloud() -> Vec<(f64, f64)> {
    let point = |at: u32| {
        let turn = f64::from(at) / f64::from(CLOUD_POINTS) * TAU;
        let way = 0.45 + 0.05 * (8.0 * turn).cos();
        (0.5 + way * turn.cos(), 0.5 + way * turn.sin())
    };
    (0..CLOUD_POINTS).map(point).collect()
}
