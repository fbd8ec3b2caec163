//! What a colour is to the eye: its luminance, its lightness, and how far two colours are apart.
//!
//! Luminance (Y) is a share of white's light, from 0 to 1; lightness (L*) is how light that looks, from 0 to 100. An
//! ink and what lies behind it are compared twice: by the contrast ratio of WCAG 2.2, which guards readers of low
//! vision, and by the stand-out ratio, which also knows how busy the ground is.
//!
//! Sources: WCAG 2.2, "relative luminance" and "contrast ratio"; CIE 15:2004, 8.2.1 (L*); the transfer function is that
//! of sRGB (IEC 61966-2-1), with the threshold .04045. The stand-out ratio is this project's own: it was the best of
//! the measures tried against a reader of pictures, as `tests/reference/art/` tries it again.

/// The full scale of linear light in whole numbers: a channel of white.
pub(super) const FULL: u32 = 1 << 20;

/// What is added to both luminances of a contrast ratio for the light that any page throws back (WCAG 2.2).
const FLARE: f64 = 0.05;

/// The spread of lightness that the eye brings along on plain ground, in L*. The figure is this project's own; between
/// 1 and 6 it makes next to no difference.
const OWN_SPREAD: f64 = 3.0;

/// Black on a press is no absence of light: one ink, of about this lightness (ISO 12647-2, from memory).
const PRESS_BLACK: f64 = 16.0;
/// Paper on a press is no full white (ISO 12647-2, from memory).
const PRESS_PAPER: f64 = 95.0;

/// One channel of sRGB, from 0 to 1, in linear light.
pub fn linear(channel: f64) -> f64 {
    if channel <= 0.04045 { channel / 12.92 } else { ((channel + 0.055) / 1.055).powf(2.4) }
}

/// A share of linear light as a channel of sRGB, from 0 to 1: the inverse of [`linear`].
pub fn encoded(light: f64) -> f64 {
    if light <= 0.04045 / 12.92 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 }
}

/// The luminance of linear red, green and blue.
pub fn luminance([red, green, blue]: [f64; 3]) -> f64 {
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// The luminance of a colour in sRGB.
pub fn luminance_of(colour: [u8; 3]) -> f64 {
    luminance(colour.map(|channel| linear(f64::from(channel) / 255.0)))
}

/// The lightness L* of a luminance.
pub fn lightness(luminance: f64) -> f64 {
    const KNEE: f64 = 216.0 / 24389.0;
    if luminance > KNEE { 116.0 * luminance.cbrt() - 16.0 } else { luminance * 24389.0 / 27.0 }
}

/// The luminance of a lightness L*: the inverse of [`lightness`].
pub fn luminance_at(lightness: f64) -> f64 {
    if lightness > 8.0 { ((lightness + 16.0) / 116.0).powi(3) } else { lightness * 27.0 / 24389.0 }
}

/// The contrast ratio of two luminances by WCAG 2.2, from 1 to 21.
pub fn contrast(one: f64, other: f64) -> f64 {
    (one.max(other) + FLARE) / (one.min(other) + FLARE)
}

/// What of the art lies in a window behind letters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindowLight {
    /// The mean luminance, from 0 to 1.
    pub luminance: f64,
    /// The mean lightness L*, from 0 to 100.
    pub lightness: f64,
    /// The standard deviation of lightness.
    pub spread: f64,
}

impl WindowLight {
    /// What a plain ground of one luminance is.
    pub fn plain(luminance: f64) -> Self {
        Self { luminance, lightness: lightness(luminance), spread: 0.0 }
    }
}

/// A colour of type as it looks on the printed page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InkLight {
    /// The ink's luminance.
    pub luminance: f64,
    /// The ink's lightness L*.
    pub lightness: f64,
    /// The luminance of what is white in the art: that of paper beside a press's black, 1 on a screen.
    white: f64,
}

impl InkLight {
    /// Black as one ink of a press, on paper.
    pub fn press_black() -> Self {
        let luminance = luminance_at(PRESS_BLACK);
        Self { luminance, lightness: PRESS_BLACK, white: luminance_at(PRESS_PAPER) }
    }

    /// A colour of sRGB, as a screen shows it.
    pub fn of(colour: [u8; 3]) -> Self {
        let luminance = luminance_of(colour);
        Self { luminance, lightness: lightness(luminance), white: 1.0 }
    }

    /// The contrast ratio of WCAG 2.2 between the ink and a ground of this mean luminance.
    pub fn contrast_on(&self, luminance: f64) -> f64 {
        contrast(self.luminance, luminance * self.white)
    }

    /// The stand-out ratio: how many spreads of the ground's lightness, its own and the eye's, the ink is away from it.
    pub fn stand_out_on(&self, light: &WindowLight) -> f64 {
        (self.lightness - light.lightness).abs() / light.spread.hypot(OWN_SPREAD)
    }

    /// Whether the ink is darker than middle grey, so that it needs a light ground.
    pub fn is_dark(&self) -> bool {
        self.lightness < 50.0
    }

    /// The mean lightness L* that a ground of some spread needs behind this ink for a stand-out ratio and a contrast
    /// ratio: at least so much behind a dark ink, at most behind a light one.
    pub fn ground_needed(&self, spread: f64, stand_out: f64, ratio: f64) -> f64 {
        let away = stand_out * spread.hypot(OWN_SPREAD);
        if self.is_dark() {
            let bright = (self.luminance + FLARE) * ratio - FLARE;
            (self.lightness + away).max(lightness(bright / self.white))
        } else {
            let dim = (self.luminance + FLARE) / ratio - FLARE;
            (self.lightness - away).min(lightness(dim / self.white))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHITE: [u8; 3] = [255; 3];
    const BLACK: [u8; 3] = [0; 3];

    fn ratio(one: [u8; 3], other: [u8; 3]) -> f64 {
        contrast(luminance_of(one), luminance_of(other))
    }

    /// Source: the pairs that the working group and its critics discuss (w3c/wcag, discussion 695).
    #[test]
    fn contrast_has_the_published_values() {
        let pairs = [
            (BLACK, WHITE, 21.0),
            ([0x77; 3], WHITE, 4.478),
            ([0x76; 3], WHITE, 4.542),
            ([0, 0, 255], WHITE, 8.593),
            ([255, 0, 0], WHITE, 3.999),
            ([0x76, 0x53, 0x13], BLACK, 3.017),
        ];
        for (one, other, published) in pairs {
            let found = ratio(one, other);
            assert!((found - published).abs() < 0.001, "{one:?} on {other:?}: {found}, not {published}");
            assert_eq!(found, ratio(other, one));
        }
    }

    #[test]
    fn lightness_and_its_inverse_meet() {
        assert_eq!([lightness(0.0), lightness(1.0).round()], [0.0, 100.0]);
        for tenths in 0..=1000 {
            let wanted = f64::from(tenths) / 10.0;
            assert!((lightness(luminance_at(wanted)) - wanted).abs() < 1e-9, "L* {wanted}");
        }
        for channel in 0..=255 {
            let share = f64::from(channel) / 255.0;
            assert!((encoded(linear(share)) - share).abs() < 1e-9, "channel {channel}");
        }
    }

    #[test]
    fn print_tops_out_near_thirteen_to_one() {
        let black = InkLight::press_black();
        assert!((black.contrast_on(1.0) - 13.05).abs() < 0.01, "{}", black.contrast_on(1.0));
        assert!((InkLight::of(WHITE).contrast_on(0.0) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn stand_out_falls_as_the_ground_grows_busier_and_is_nothing_on_the_ink_itself() {
        let ink = InkLight::of([8, 20, 60]);
        let own = WindowLight::plain(ink.luminance);
        assert_eq!(ink.stand_out_on(&own), 0.0);
        assert!((ink.contrast_on(own.luminance) - 1.0).abs() < 1e-12);
        let at = |spread: f64| ink.stand_out_on(&WindowLight { luminance: 0.4, lightness: 70.0, spread });
        let ratios: Vec<f64> = (0..60).map(|spread| at(f64::from(spread))).collect();
        assert!(ratios.windows(2).all(|pair| pair[1] < pair[0]));
    }

    /// A ground of exactly the lightness that is asked for reaches both ratios, and one a little nearer does not.
    #[test]
    fn the_ground_that_is_needed_is_just_enough() {
        for ink in [InkLight::press_black(), InkLight::of(WHITE), InkLight::of([0x1f, 0x3a, 0x5f])] {
            for (spread, stand_out, wanted) in [(8.0, 6.0, 4.5), (0.0, 6.0, 4.5), (2.0, 1.0, 7.0)] {
                let needed = ink.ground_needed(spread, stand_out, wanted);
                let reaches = |by: f64| {
                    let lightness = if ink.is_dark() { needed + by } else { needed - by };
                    let light = WindowLight { luminance: luminance_at(lightness), lightness, spread };
                    ink.stand_out_on(&light) >= stand_out && ink.contrast_on(light.luminance) >= wanted
                };
                assert!(reaches(1e-6) && !reaches(-1e-3), "{ink:?} on {spread}: {needed}");
            }
        }
    }

    /// Source: worked by hand in this project's notes: a chequer of L* 60 and 80 behind an ink of L* 8.
    #[test]
    fn a_chequer_has_its_stand_out_ratio() {
        let ink = InkLight { lightness: 8.0, ..InkLight::of(BLACK) };
        let found = ink.stand_out_on(&WindowLight { luminance: 0.0, lightness: 70.0, spread: 10.0 });
        assert!((found - 5.9385).abs() < 0.0001, "{found}");
    }

    /// Source: worked by hand in this project's notes: 16 + 6 times the root of 8 and 3 squared.
    #[test]
    fn the_illustrator_is_told_what_black_needs() {
        let needed = InkLight::press_black().ground_needed(8.0, 6.0, 4.5);
        assert!((needed - 67.264).abs() < 0.001, "{needed}");
    }
}
