//! The art behind the copy: figures against their published values and against plain sums, and the laws that hold for
//! any picture.

use blurbwright::art::Ground;
use blurbwright::art::lines::{self, Cause, Grade, InkedLine, LineLetters, LineWord};
use blurbwright::art::mends::{self, Reach};
use blurbwright::art::quiet::{CalmMap, QuietType};
use blurbwright::artwork::ground::TintLight;
use blurbwright::artwork::light::{self, InkLight, WindowLight};
use blurbwright::artwork::picture::{ColourModel, Picture, PixelRect};
use blurbwright::units::{Length, Point, Rect};
use proptest::prelude::*;

const WHITE: [u8; 3] = [255; 3];
const BLACK: [u8; 3] = [0; 3];

fn picture(width: usize, height: usize, colour: impl Fn(usize, usize) -> [u8; 3]) -> Picture {
    let pixels = (0..width * height).map(|at| colour(at % width, at / width)).collect();
    Picture { width, height, pixels, model: ColourModel::Rgb }
}

fn hundredths(x: usize, y: usize, width: usize, height: usize) -> Rect {
    let length = |cells: usize| Length::inches(1.0) * cells as i64 / 100;
    Rect { x: length(x), y: length(y), width: length(width), height: length(height) }
}

/// The ground of a part of a picture, `[x, y, width, height]` in pixels, that is drawn out to an area.
fn ground_of(picture: &Picture, [x, y, width, height]: [f64; 4], rect: Rect) -> Ground {
    Ground::of(picture, &PixelRect { x, y, width, height }, rect)
}

/// The ground of a whole picture that is drawn out to an area.
fn ground_on(picture: &Picture, area: Rect) -> Ground {
    ground_of(picture, [0.0, 0.0, picture.width as f64, picture.height as f64], area)
}

/// The ground of a picture at a hundred pixels an inch, so that a cell is a pixel.
fn ground(picture: &Picture) -> Ground {
    ground_on(picture, hundredths(0, 0, picture.width, picture.height))
}

/// The grey of sRGB that is nearest to a lightness.
fn grey(lightness: f64) -> [u8; 3] {
    [(light::encoded(light::luminance_at(lightness)) * 255.0).round() as u8; 3]
}

/// What lies in a window of a picture, summed pixel by pixel.
fn summed(picture: &Picture, (x, y, width, height): (usize, usize, usize, usize)) -> WindowLight {
    let pixels = (y..y + height).flat_map(|row| (x..x + width).map(move |column| (column, row)));
    let luminances: Vec<f64> = pixels.map(|(column, row)| light::luminance_of(picture.at(column, row))).collect();
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let lightnesses: Vec<f64> = luminances.iter().map(|luminance| light::lightness(*luminance)).collect();
    let lightness = mean(&lightnesses);
    let squares: Vec<f64> = lightnesses.iter().map(|value| (value - lightness).powi(2)).collect();
    WindowLight { luminance: mean(&luminances), lightness, spread: mean(&squares).sqrt() }
}

fn assert_near(found: &WindowLight, wanted: &WindowLight, most: f64) {
    let off = [found.luminance - wanted.luminance, found.lightness - wanted.lightness, found.spread - wanted.spread];
    assert!(off.iter().all(|off| off.abs() < most), "{found:?}, not {wanted:?}");
}

/// A line of words of five letters, each half an x-height wide, from a place on.
fn line(x: Length, baseline: Length, x_height: Length, words: usize) -> LineLetters {
    let letter = |at: usize| {
        let from = x + x_height * at as i64 / 2;
        (from, from + x_height / 2)
    };
    let letters = (0..words).flat_map(|word| (0..5).map(move |at| letter(word * 6 + at))).collect();
    let words = (0..words).map(|word| LineWord { letters: word * 5..word * 5 + 5, text: word * 6..word * 6 + 5 });
    LineLetters { baseline, x_height, is_large: false, letters, words: words.collect() }
}

#[test]
fn a_chequer_has_its_mean_and_its_spread() {
    // Greys of sRGB are whole numbers, so lightness is off by up to a third of a unit and is taken as it is.
    let (dark, light) = (grey(60.0), grey(80.0));
    let chequer = picture(40, 40, |x, y| if (x + y).is_multiple_of(2) { dark } else { light });
    let found = ground(&chequer).light_in(&hundredths(10, 10, 20, 20));
    assert_near(&found, &summed(&chequer, (10, 10, 20, 20)), 0.005);
    assert!((found.lightness - 70.0).abs() < 0.2 && (found.spread - 10.0).abs() < 0.2, "{found:?}");
}

#[test]
fn beyond_the_art_is_paper() {
    let black = picture(10, 10, |_, _| BLACK);
    let on_paper = ground_on(&black, hundredths(20, 20, 10, 10));
    let at = |x, y| on_paper.light_in(&hundredths(x, y, 10, 10)).luminance;
    assert_eq!([at(20, 20), at(0, 0), at(20, 30), at(15, 20)], [0.0, 1.0, 1.0, 0.5]);
    let none = ground_on(&picture(0, 0, |_, _| BLACK), hundredths(0, 0, 9, 9));
    assert_eq!(none.light_in(&hundredths(2, 2, 3, 3)), WindowLight { luminance: 1.0, lightness: 100.0, spread: 0.0 });
}

#[test]
fn pixels_are_averaged_in_the_light_and_by_the_part_that_lies_on_a_cell() {
    // Three pixels on two cells: each cell has one and a half.
    let stripes = picture(3, 3, |x, _| [[255; 3], [0; 3], [0; 3]][x]);
    let cells = ground_on(&stripes, hundredths(0, 0, 2, 2));
    let at = |x| cells.light_in(&hundredths(x, 0, 1, 2)).luminance;
    assert!((at(0) - 2.0 / 3.0).abs() < 1e-5 && at(1) == 0.0, "{} {}", at(0), at(1));
    let cropped = ground_of(&stripes, [1.0, 0.0, 1.5, 3.0], hundredths(0, 0, 2, 2));
    assert_eq!(cropped.light_in(&hundredths(0, 0, 2, 2)).luminance, 0.0);
}

#[test]
fn a_line_that_runs_onto_its_own_darkness_is_told_where() {
    // Paper at the left, and black from the fourth word on.
    let half = picture(300, 60, |x, _| if x < 160 { WHITE } else { BLACK });
    let copy = line(Length::inches(0.1), Length::inches(0.4), Length::inches(0.09), 8);
    let judged = lines::judged(&copy, &InkLight::press_black(), &ground(&half));
    assert_eq!(judged.grade, Grade::Lost);
    let told: Vec<_> = judged.stretches.iter().map(|it| (it.text.clone(), it.grade, it.cause)).collect();
    // The word on the edge is on both sides of it; behind it all is black.
    assert_eq!(told, [(30..47, Grade::Lost, Cause::Busy)]);
    assert!(told.iter().all(|stretch| stretch.0.start >= 24), "the first words are clear: {told:?}");
    let clear = lines::judged(
        &line(Length::inches(0.1), Length::inches(0.4), Length::inches(0.09), 4),
        &InkLight::press_black(),
        &ground(&half),
    );
    assert_eq!((clear.grade, clear.stretches.len()), (Grade::Clear, 0));
}

#[test]
fn a_line_without_words_is_clear() {
    let empty =
        LineLetters { letters: Vec::new(), words: Vec::new(), ..line(Length::ZERO, Length::ZERO, Length::pt(5.0), 0) };
    let judged = lines::judged(&empty, &InkLight::press_black(), &ground(&picture(9, 9, |_, _| BLACK)));
    assert_eq!((judged.grade, judged.stand_out, judged.contrast), (Grade::Clear, None, None));
    assert_eq!(empty.window(), None);
}

#[test]
fn the_least_tint_is_just_enough() {
    let busy = picture(300, 100, |x, y| if (x / 4 + y / 4).is_multiple_of(2) { [30; 3] } else { [200; 3] });
    let (ground, ink) = (ground(&busy), InkLight::press_black());
    let copy = line(Length::inches(0.2), Length::inches(0.6), Length::inches(0.09), 6);
    let inked = InkedLine { letters: &copy, ink };
    let percent = mends::least_tint(&[inked], &ground, WHITE).expect("white under black does in the end");
    let is_clear = |percent: u8| {
        let tint = TintLight { colour: WHITE, opacity: f64::from(percent) / 100.0 };
        inked.is_mended_at(&ground.tinted(&tint), Point::default())
    };
    assert!(is_clear(percent) && !is_clear(percent - 1) && percent > 20, "{percent}");
    assert_eq!(mends::least_tint(&[inked], &ground, BLACK), None, "black under black never does");
}

#[test]
fn the_nearest_place_is_the_least_way_that_does() {
    // Busy for the first inch and a half, calm below.
    let half = picture(300, 300, |x, y| if y < 150 && (x / 4 + y / 4).is_multiple_of(2) { [30; 3] } else { [220; 3] });
    let (ground, ink) = (ground(&half), InkLight::press_black());
    let copy = line(Length::inches(0.2), Length::inches(1.3), Length::inches(0.09), 4);
    let inked = InkedLine { letters: &copy, ink };
    let boxed = copy.window().expect("a line with words");
    let reach = Reach::within(&boxed, &hundredths(0, 0, 300, 300)).expect("the line is on the face");
    let way = mends::nearest_places(&[inked], &ground, &reach, |_| true).next().expect("there is calm below");
    assert!(way.x == Length::ZERO && way.y > Length::inches(0.3) && way.y < Length::inches(0.5), "{way:?}");
    assert!(inked.is_mended_at(&ground, way));
    assert_eq!(mends::nearest_places(&[inked], &ground, &reach, |_| false).next(), None);
}

#[test]
fn quiet_room_keeps_off_the_edge_of_what_is_busy_and_off_keep_outs() {
    let half = picture(400, 400, |x, y| if x < 200 && (x / 4 + y / 4).is_multiple_of(2) { [30; 3] } else { [240; 3] });
    let form = QuietType { ink: InkLight::press_black(), x_height: Length::inches(0.08), is_large: false };
    let (face, barcode) = (hundredths(0, 0, 400, 400), hundredths(300, 300, 100, 100));
    let map = CalmMap::of(&ground(&half), &form, face, &[barcode]);
    let rooms = map.rooms(10);
    assert!(rooms[0].rect.x >= Length::inches(2.0) && rooms[0].rect.x < Length::inches(2.2), "{:?}", rooms[0]);
    assert!(rooms.iter().all(|room| !room.rect.overlaps(&barcode) && face.holds(&room.rect)));
    assert!((0.3..0.5).contains(&map.calm_share()), "{}", map.calm_share());
    let white = QuietType { ink: InkLight::of(WHITE), ..form };
    assert!(CalmMap::of(&ground(&half), &white, face, &[]).rooms(10).is_empty());
}

/// Numbers that are drawn by lot from 0 to 1, the same in every run.
fn lots() -> impl FnMut() -> f64 {
    let mut state = 11_u64;
    move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// A field of so many columns, each value the mean of those so far to its left and right, or above and below.
fn smoothed(field: &[f64], columns: usize, side: usize) -> Vec<f64> {
    let rows = field.len() / columns;
    let mean = |at: &dyn Fn(usize) -> f64| (0..side).map(at).sum::<f64>() / side as f64;
    let turned = |place: usize, by: usize, all: usize| (place + all + by - side / 2) % all;
    let across: Vec<f64> = (0..field.len())
        .map(|at| mean(&|by| field[at / columns * columns + turned(at % columns, by, columns)]))
        .collect();
    (0..field.len()).map(|at| mean(&|by| across[turned(at / columns, by, rows) * columns + at % columns])).collect()
}

/// The grounds of the paper below: what they are called, and how far each cell is from the middle. All noise, and noise
/// in four bands, each an octave from the next, in cycles of a letter of so many cells; all are equally uneven.
fn textures((columns, rows): (usize, usize), letter: usize) -> Vec<(&'static str, Vec<f64>)> {
    let mut uniform = lots();
    // The sum of twelve is near enough to a normal distribution.
    let noise: Vec<f64> = (0..columns * rows).map(|_| (0..12).map(|_| uniform()).sum::<f64>() - 6.0).collect();
    let even = |field: Vec<f64>| {
        let mean = field.iter().sum::<f64>() / field.len() as f64;
        let spread = (field.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / field.len() as f64).sqrt();
        field.into_iter().map(|value| (value - mean) / spread).collect::<Vec<_>>()
    };
    // Half a cycle is the side of the square that wipes it out.
    let below = |cycles: f64| smoothed(&noise, columns, (letter as f64 / cycles / 2.0).round().max(1.0) as usize);
    let band = |from: f64| below(from * 2.0).iter().zip(below(from)).map(|(fine, coarse)| fine - coarse).collect();
    let bands = [("0.75 to 1.5", 0.75), ("1.5 to 3", 1.5), ("3 to 6", 3.0), ("6 to 12", 6.0)];
    let all = std::iter::once(("all", even(noise.clone())));
    all.chain(bands.map(|(name, from)| (name, even(band(from))))).collect()
}

/// Stand-out ratios and grades stand in the order of the search times that L. Scharff, A. Hill and A. Ahumada published
/// (Optics Express 6, 2000): contrasts of .95, .35 and .15 on plain ground, on noise and on noise in four bands. The
/// lower the text's contrast, the slower it is found; a textured ground matters at low contrast alone; and at .15 copy
/// on all noise and on the band from .75 to 1.5 cycles a letter could not be read. The figures of their grounds are not
/// given in the abstract, so the order is held and no figure.
#[test]
fn contrasts_and_textures_stand_in_their_published_order() {
    const MEAN: f64 = 0.5;
    const UNEVEN: f64 = 0.1;
    // Letters of forty cells, so that every band has room.
    let (size, letter) = ((620, 180), 40);
    let shade = |luminance: f64| [(light::encoded(luminance.clamp(0.0, 1.0)) * 255.0).round() as u8; 3];
    let ground_of = |rms: f64, field: &[f64]| {
        ground(&picture(size.0, size.1, |x, y| shade(MEAN * (1.0 + rms * field[y * size.0 + x]))))
    };
    let copy = line(Length::inches(0.6), Length::inches(1.1), Length::inches(1.0) * letter as i64 / 100, 4);
    let at = |contrast: f64, ground: &Ground| {
        let judged = lines::judged(&copy, &InkLight::of(shade(MEAN * (1.0 - contrast))), ground);
        (judged.stand_out.expect("words"), judged.grade)
    };
    let on = |ground: &Ground| [0.95, 0.35, 0.15].map(|contrast| at(contrast, ground));
    let textures = textures(size, letter);
    let plain = on(&ground_of(0.0, &textures[0].1));
    for (name, field) in &textures {
        let found = on(&ground_of(UNEVEN, field));
        for pair in found.windows(2).chain(plain.windows(2)) {
            assert!(
                pair[0].0 > pair[1].0 && pair[0].1 <= pair[1].1,
                "{name}: less contrast stands out less: {found:?}"
            );
        }
        assert!(plain.iter().zip(&found).all(|(plain, found)| plain.0 > found.0), "{name}: {plain:?}, {found:?}");
        assert_eq!((plain[0].1, found[0].1), (Grade::Clear, Grade::Clear), "{name}: at full contrast it does no harm");
        if ["all", "0.75 to 1.5"].contains(name) {
            assert_eq!(found[2].1, Grade::Lost, "{name}: at a low contrast it does");
        }
    }
}

#[test]
fn grades_end_at_their_bounds() {
    for (stand_out, contrast, is_large, grade) in [
        (6.0, 4.5, false, Grade::Clear),
        (5.99, 4.5, false, Grade::Hard),
        (6.0, 4.49, false, Grade::Hard),
        (6.0, 3.0, true, Grade::Clear),
        (6.0, 2.99, true, Grade::Hard),
        (3.0, 1.8, false, Grade::Hard),
        (2.99, 21.0, false, Grade::Lost),
        (30.0, 1.79, true, Grade::Lost),
    ] {
        assert_eq!(Grade::of(stand_out, contrast, is_large), grade, "{stand_out}, {contrast}, {is_large}");
    }
}

prop_compose! {
    fn any_picture()(width in 4_usize..40, height in 4_usize..40)
        (width in Just(width), height in Just(height), bytes in prop::collection::vec(any::<u8>(), width * height * 3))
        -> Picture {
        let pixels = bytes.chunks_exact(3).map(|it| [it[0], it[1], it[2]]).collect();
        Picture { width, height, pixels, model: ColourModel::Rgb }
    }
}

/// A rectangle in hundredths of an inch, or parts of them.
fn rect_of([x, y, width, height]: [f64; 4]) -> Rect {
    let inches = |value: f64| Length::inches(value / 100.0);
    Rect { x: inches(x), y: inches(y), width: inches(width), height: inches(height) }
}

fn mirrored(of: &Picture) -> Picture {
    picture(of.width, of.height, |x, y| of.at(of.width - 1 - x, y))
}

proptest! {
    #[test]
    fn sums_of_a_window_are_those_of_its_pixels(
        picture in any_picture(),
        shares in prop::array::uniform4(0.0_f64..1.0),
    ) {
        let at = |share: f64, of: usize| ((of as f64 * share) as usize).min(of - 1);
        let (x, y) = (at(shares[0], picture.width), at(shares[1], picture.height));
        let (width, height) = (1 + at(shares[2], picture.width - x), 1 + at(shares[3], picture.height - y));
        let found = ground(&picture).light_in(&hundredths(x, y, width, height));
        assert_near(&found, &summed(&picture, (x, y, width, height)), 0.005);
    }

    #[test]
    fn mirrored_art_has_mirrored_figures(
        picture in any_picture(),
        cells in (1_usize..50, 1_usize..50),
        window in prop::array::uniform4(-5.0_f64..40.0),
    ) {
        let area = hundredths(0, 0, cells.0, cells.1);
        let [ground, other] = [&picture, &mirrored(&picture)].map(|it| ground_on(it, area));
        let rect = rect_of([window[0], window[1], window[2].abs(), window[3].abs()]);
        let turned = Rect { x: area.width - rect.right(), ..rect };
        prop_assert_eq!(ground.light_in(&rect), other.light_in(&turned));
    }

    #[test]
    fn copy_and_quiet_room_on_mirrored_art_are_mirrored(picture in any_picture(), words in 1_usize..5) {
        let area = hundredths(0, 0, picture.width, picture.height);
        let copy = line(Length::inches(0.01), Length::inches(0.12), Length::inches(0.04), words);
        let last = copy.letters.len();
        let turned = LineLetters {
            letters: copy.letters.iter().rev().map(|(from, to)| (area.width - *to, area.width - *from)).collect(),
            words: copy.words.iter().rev().map(|word| LineWord {
                letters: last - word.letters.end..last - word.letters.start,
                text: word.text.clone(),
            }).collect(),
            ..copy.clone()
        };
        let ink = InkLight::press_black();
        let [here, there] = [(&picture, &copy), (&mirrored(&picture), &turned)].map(|(picture, copy)| {
            lines::judged(copy, &ink, &ground_on(picture, area))
        });
        prop_assert_eq!((here.grade, here.stand_out, here.contrast), (there.grade, there.stand_out, there.contrast));
        // A cell of half an x-height is one of the ground, so that the cells of both stand alike.
        let form = QuietType { ink, x_height: Length::inches(0.02), is_large: false };
        let calm = |of: &Picture| CalmMap::of(&ground_on(of, area), &form, area, &[]);
        let (map, other) = (calm(&picture), calm(&mirrored(&picture)));
        prop_assert_eq!(map.calm_share(), other.calm_share());
        let cells = |map: &CalmMap| {
            let count = |length: Length| length.count_of(form.x_height / 2);
            map.rooms(1).first().map(|room| count(room.rect.width) * count(room.rect.height))
        };
        prop_assert_eq!(cells(&map), cells(&other));
    }

    #[test]
    fn a_part_is_the_ground_itself(picture in any_picture(), window in prop::array::uniform4(0.0_f64..40.0)) {
        let ground = ground(&picture);
        let rect = rect_of(window);
        prop_assert_eq!(ground.part(&rect).light_in(&rect), ground.light_in(&rect));
    }

    #[test]
    fn an_opaque_tint_is_all_that_is_seen(picture in any_picture(), colour in any::<[u8; 3]>()) {
        let area = hundredths(0, 0, picture.width, picture.height);
        let tinted = ground(&picture).tinted(&TintLight { colour, opacity: 1.0 });
        let found = tinted.light_in(&area);
        assert_near(&found, &WindowLight::plain(light::luminance_of(colour)), 0.005);
        let none = ground(&picture).tinted(&TintLight { colour, opacity: 0.0 });
        assert_near(&none.light_in(&area), &ground(&picture).light_in(&area), 0.005);
    }

    #[test]
    fn more_tint_is_nearer_to_its_colour_and_plainer(picture in any_picture()) {
        let area = hundredths(0, 0, picture.width, picture.height);
        let bare = ground(&picture);
        let at = |tenths: u32| {
            let opacity = f64::from(tenths) / 10.0;
            bare.tinted(&TintLight { colour: WHITE, opacity }).light_in(&area)
        };
        let lights: Vec<WindowLight> = (0..=10).map(at).collect();
        for pair in lights.windows(2) {
            prop_assert!(pair[1].lightness >= pair[0].lightness && pair[1].luminance >= pair[0].luminance);
        }
        let black = InkLight::press_black();
        let (stand_out, contrast) = (black.stand_out_on(&lights[10]), black.contrast_on(lights[10].luminance));
        prop_assert_eq!(Grade::of(stand_out, contrast, false), Grade::Clear);
    }

    #[test]
    fn ink_of_the_grounds_own_colour_is_lost(colour in any::<[u8; 3]>()) {
        let plain = ground(&picture(60, 40, |_, _| colour));
        let copy = line(Length::inches(0.1), Length::inches(0.2), Length::inches(0.06), 2);
        let judged = lines::judged(&copy, &InkLight::of(colour), &plain);
        prop_assert!(judged.stand_out.is_some_and(|ratio| ratio < 0.01));
        prop_assert!(judged.contrast.is_some_and(|ratio| ratio < 1.001));
        prop_assert_eq!(judged.grade, Grade::Lost);
    }
}
