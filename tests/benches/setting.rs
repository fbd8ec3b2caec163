//! Times the setting of a three-paragraph blurb and prints for each step: name, least and median microseconds.
//!
//! tests/reference/speed/run runs this beside the same work in C. The copy is read before the clock starts, and
//! everything has run once. To set again, the one paragraph that changed is shaped and the others are kept, by the
//! bench itself. `cargo bench` with a number after it sets how many rounds are timed.

#![expect(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::hint::black_box;
use std::time::Instant;

use blurbwright::brief::Typography;
use blurbwright::brief::colour::Colour;
use blurbwright::brief::lengths::Unit;
use blurbwright::brief::panel::{Binding, KeepOut, KeepOutOrigin, Margins, Panel};
use blurbwright::brief::place::Shape;
use blurbwright::brief::typography::{Align, BlockType, Breaks, Font, Leading, Stack};
use blurbwright::draft::Draft;
use blurbwright::setting::shaped::{BlockStyle, shape};
use blurbwright::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};
use blurbwright::units::{Length, Rect, Size};

const BLURB: &str = include_str!("../reference/speed/blurb.txt");

/// The paragraph of the blurb in which a word changes, and the word before and after.
const CHANGED: (usize, &str, &str) = (1, "leaky", "creaky");

/// Times and prints all of it.
pub(crate) fn run() {
    let rounds = std::env::args().skip(1).find_map(|argument| argument.parse().ok()).unwrap_or(2000);
    let faces = Faces::built_in();
    let typography = typography();
    let draft = Draft::read(BLURB);
    let changed = Draft::read(&BLURB.replace(CHANGED.1, CHANGED.2));
    let wide = Rooms::on([panel(300.0, 600.0, None).layout()].into_iter());
    let boxed = Rooms::on([panel(396.0, 288.0, Some((144.0, 86.4))).layout()].into_iter());

    time("ours cold", rounds, |_| {
        let copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
        Setting::new(&copy, copy.forms(), &wide).lines.len()
    });

    let mut copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
    let mut setting = Setting::default();
    time("ours again", rounds, |round| {
        let paragraph = &mut copy.paragraphs[CHANGED.0];
        paragraph.block = &if round % 2 == 0 { &changed } else { &draft }.blocks[CHANGED.0];
        paragraph.shaped = shape(
            paragraph.block,
            paragraph.family,
            BlockStyle { emphasis: typography.blurb.emphasis(), hyphenation: None },
        )
        .into();
        setting.set_again(&copy, copy.forms(), &wide);
        setting.lines.len()
    });

    let copy = ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default());
    time("ours shape", rounds, |_| {
        ShapedCopy::shape(&draft, &typography, &faces, &mut SettingMemory::default()).paragraphs.len()
    });
    time("ours one size", rounds, |_| {
        setting.set_again(&copy, copy.forms(), &wide);
        setting.lines.len()
    });
    time("ours all sizes", rounds / 4, |_| all_sizes(&copy, &boxed, &mut setting));
}

/// Sets the copy at every size from 4 to 40 pt, in steps of a tenth, and counts those at which it fits.
fn all_sizes(copy: &ShapedCopy<'_>, room: &Rooms, setting: &mut Setting) -> usize {
    let sizes = (40..=400).map(|tenths| Length::pt(0.1) * tenths);
    let fitting = sizes.filter(|size| {
        setting.set_again(copy, &copy.forms().at(*size), room);
        setting.fits()
    });
    fitting.count()
}

/// Runs `work` some times unwatched and then `rounds` times by the clock.
fn time(name: &str, rounds: usize, mut work: impl FnMut(usize) -> usize) {
    for round in 0..20 {
        black_box(work(round));
    }
    let mut times: Vec<f64> = (0..rounds)
        .map(|round| {
            let start = Instant::now();
            black_box(work(round));
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("{name}\t{:.3}\t{:.3}", times[0], times[rounds / 2]);
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
