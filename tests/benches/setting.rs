//! Times the setting of a three-paragraph blurb and prints for each step: name, least and median microseconds, and what
//! is asked of the median.
//!
//! tests/reference/speed/run runs this beside the same work in C. The copy is read before the clock starts, and
//! everything has run once, so that a face knows the words of the blurb, but where they are said to be new. To set
//! again, one word is changed for one that was never seen, the paragraph that has it is shaped, and the others are
//! kept, by the bench itself. `cargo bench` with a number after it sets how many rounds are timed.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use blurbwright::brief::colour::Colour;
use blurbwright::brief::lengths::Unit;
use blurbwright::brief::panel::{Binding, KeepOut, KeepOutOrigin, Margins, Panel};
use blurbwright::brief::place::Shape;
use blurbwright::brief::typography::{Align, BlockType, Breaks, Font, Leading, Stack};
use blurbwright::brief::{Brief, Typography};
use blurbwright::draft::Draft;
use blurbwright::setting::shaped::shape;
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy, castoff};
use blurbwright::units::{Length, Rect, Size};

use crate::random::Random;

const BLURB: &str = include_str!("../reference/speed/blurb.txt");

/// The paragraph of the blurb in which a word changes, and the word.
const CHANGED: (usize, &str) = (1, "leaky");

/// Times and prints all of it.
pub(crate) fn run() {
    let rounds = std::env::args().skip(1).find_map(|argument| argument.parse().ok()).unwrap_or(2000);
    let (faces, typography) = (Faces::built_in(), typography());
    let draft = Draft::read(BLURB);
    let wide = Rooms::on([panel(300.0, 600.0, None).layout()].into_iter());
    let boxed = Rooms::on([panel(396.0, 288.0, Some((144.0, 86.4))).layout()].into_iter());
    let mut setting = Setting::default();

    let again = |_| ();
    time("ours cold", None, rounds, again, |()| {
        let copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
        Setting::new(&copy, copy.forms(), &wide).lines.len()
    });
    time("ours shape, known words", Some(38.0), rounds, again, |()| {
        ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default()).paragraphs.len()
    });
    time("ours shape, new words", None, rounds, with_new_words, |draft| {
        ShapedCopy::shape(draft, &typography, &faces, &mut SettingMemory::default()).paragraphs.len()
    });

    let copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
    time("ours one size", None, rounds, again, |()| {
        setting.set_again(&copy, copy.forms(), &wide);
        setting.lines.len()
    });
    time("ours all sizes", Some(150.0), rounds / 4, again, |()| {
        let largest = castoff::largest_size(&copy, &boxed);
        largest.map_or(0, |largest| castoff::sizes_over_below(largest, &copy, &boxed).len())
    });
    let mut copy = copy;
    let (style, family) = (copy.paragraphs[CHANGED.0].style, copy.paragraphs[CHANGED.0].family);
    let changed: Vec<Draft> = (0..rounds + UNTIMED).map(with_a_new_word).collect();
    time(
        "ours again",
        None,
        rounds,
        |round| &changed[round],
        |changed| {
            let paragraph = &mut copy.paragraphs[CHANGED.0];
            paragraph.block = &changed.blocks[CHANGED.0];
            paragraph.shaped = shape(paragraph.block, family, style).into();
            setting.set_again(&copy, copy.forms(), &wide);
            setting.lines.len()
        },
    );
    time_total_fit(&faces, &wide, rounds / 4);
}

/// Times total fit of one paragraph of 150 and of 400 words, shaped before.
fn time_total_fit(faces: &Faces, rooms: &Rooms, rounds: usize) {
    for (words, asked) in [(150, 300.0), (400, 1000.0)] {
        let copy: Vec<&str> = BLURB.split_whitespace().cycle().take(words).collect();
        let draft = Draft::read(&copy.join(" "));
        for (name, keys) in [
            ("ragged", "breaks: total-fit"),
            ("ragged, hyphenated", "breaks: total-fit, hyphenate: true"),
            ("justified", "align: justified"),
            ("justified, hyphenated", "align: justified, hyphenate: true"),
        ] {
            let brief = typed(&format!("size: 12 pt, leading: 125%, {keys}"));
            let copy = ShapedCopy::shape(&draft, &brief.typography, faces, &mut SettingMemory::default());
            let mut setting = Setting::default();
            time(
                &format!("ours total fit, {words} words, {name}"),
                Some(asked),
                rounds,
                |_| (),
                |()| {
                    setting.set_again(&copy, copy.forms(), rooms);
                    setting.lines.len()
                },
            );
        }
    }
}

/// The blurb with a word that no other round has.
fn with_a_new_word(round: usize) -> Draft {
    let letter = |place: u32| char::from(b'a' + (round / 26_usize.pow(place) % 26) as u8);
    let word: String =
        ["cr", "ea", "ky"].iter().zip(0..).flat_map(|(part, place)| [part.to_string(), letter(place).into()]).collect();
    Draft::read(&BLURB.replace(CHANGED.1, &word))
}

/// The blurb with its small letters exchanged for each other, so that hardly a word is one of another round.
fn with_new_words(round: usize) -> Draft {
    let (mut lots, mut letters) = (Random(round as u64 + 1), [0; 26]);
    for place in 0..letters.len() {
        let other = lots.place(place + 1);
        letters[place] = letters[other];
        letters[other] = place as u8;
    }
    let exchanged = |letter: char| match letter {
        'a'..='z' => char::from(b'a' + letters[usize::from(letter as u8 - b'a')]),
        other => other,
    };
    Draft::read(&BLURB.chars().map(exchanged).collect::<String>())
}

/// A brief whose type has these keys.
fn typed(keys: &str) -> Brief {
    Brief::read(&format!("panel: {{ trim: 8 x 8 in }}\ntype: {{ {keys} }}\n"), Path::new("")).expect("a brief")
}

/// Rounds before the clock starts.
const UNTIMED: usize = 20;

/// Runs `work` some times unwatched and then `rounds` times by the clock, each time with what `made` makes before that,
/// and prints what the median is asked to be.
fn time<T>(
    name: &str,
    asked: Option<f64>,
    rounds: usize,
    made: impl Fn(usize) -> T,
    mut work: impl FnMut(&T) -> usize,
) {
    let timed = |round| {
        let made = made(round);
        let start = Instant::now();
        black_box(work(&made));
        start.elapsed().as_secs_f64() * 1e6
    };
    let mut times: Vec<f64> = (0..rounds + UNTIMED).map(timed).skip(UNTIMED).collect();
    times.sort_by(f64::total_cmp);
    let asked = asked.map_or(String::new(), |asked| format!("\tasked: {asked} at the most"));
    println!("{name}\t{:.3}\t{:.3}{asked}", times[0], times[rounds / 2]);
}

fn typography() -> Typography {
    let blurb = BlockType {
        font: Font::Serif,
        size: Length::pt(12.0),
        own_size: false,
        own_space: false,
        leading: Leading::Percent(125.0),
        bold: false,
        italic: false,
        align: Align::Left,
        own_align: false,
        space_above: Length::ZERO,
        indent: Length::ZERO,
        breaks: Breaks::FirstFit,
        own_breaks: false,
        hyphenate: None,
        hang_quotes: false,
        ink: Colour::Black,
        own_ink: false,
    };
    Typography { blurb, others: Vec::new(), stack: Stack::Head }
}

/// A panel of these points, with a box of these points at its foot on the spine side.
fn panel(width: f64, height: f64, foot: Option<(f64, f64)>) -> Panel {
    let keep_out = |(wide, high): (f64, f64)| KeepOut {
        origin: KeepOutOrigin::Named,
        name: "barcode".to_owned(),
        rect: Rect {
            x: Length::pt(width - wide),
            y: Length::pt(height - high),
            width: Length::pt(wide),
            height: Length::pt(high),
        },
        shape: Shape::Box,
        clearance: Length::ZERO,
        unit: Unit::Points,
    };
    Panel {
        trim: Size { width: Length::pt(width), height: Length::pt(height) },
        binding: Binding::Paperback,
        square: Length::ZERO,
        bleed: Length::ZERO,
        round_corners: Length::ZERO,
        margins: Margins::default(),
        art: None,
        tint: None,
        keep_outs: foot.map(keep_out).into_iter().collect(),
        places: Vec::new(),
    }
}
