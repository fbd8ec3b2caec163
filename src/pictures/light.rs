//! Colours as light: sRGB made linear and back, and which ink can be read on a colour.
//!
//! Sources: IEC 61966-2-1 for sRGB; WCAG 2.2 for relative luminance and contrast, and 4.5 to 1 as what text needs
//! (success criterion 1.4.3).

use std::sync::LazyLock;

/// How finely light is told apart on the way back to sRGB: one of the 256 steps is never wider than this grid.
const FINENESS: usize = 4095;

/// The light of each of the 256 steps of sRGB, from 0 to 1.
static LINEAR: LazyLock<[f32; 256]> = LazyLock::new(|| {
    std::array::from_fn(|step| {
        let share = step as f32 / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    })
});

/// The step of sRGB for each of `FINENESS + 1` amounts of light.
static CODED: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let coded = |step: usize| {
        let light = step as f32 / FINENESS as f32;
        let share = if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
        (share * 255.0).round().clamp(0.0, 255.0) as u8
    };
    (0..=FINENESS).map(coded).collect()
});

/// The light of a colour, a number from 0 to 1 for each channel.
pub(super) fn linear(colour: [u8; 3]) -> [f32; 3] {
    colour.map(|step| LINEAR[usize::from(step)])
}

/// The colour in sRGB of an amount of light.
pub(super) fn coded(light: [f32; 3]) -> [u8; 3] {
    light.map(|share| CODED[((share * FINENESS as f32).round().max(0.0) as usize).min(FINENESS)])
}

/// The mean of colours in linear light; white where there are none.
pub fn mixed(colours: impl IntoIterator<Item = [u8; 3]>) -> [u8; 3] {
    let (mut sum, mut count) = ([0.0; 3], 0.0_f32);
    for colour in colours {
        let light = linear(colour);
        sum = std::array::from_fn(|channel| sum[channel] + light[channel]);
        count += 1.0;
    }
    if count == 0.0 { [255; 3] } else { coded(sum.map(|share| share / count)) }
}

/// The relative luminance of a colour, from 0 to 1.
pub fn luminance(colour: [u8; 3]) -> f32 {
    let [red, green, blue] = linear(colour);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Black or white, whichever has the greater contrast on a colour: it is never below 4.5 to 1.
pub fn legible_on(ground: [u8; 3]) -> [u8; 3] {
    let light = luminance(ground) + 0.05;
    if light / 0.05 >= 1.05 / light { [0; 3] } else { [255; 3] }
}

#[cfg(test)]
mod tests {
    use super::{coded, legible_on, linear, luminance, mixed};

    #[test]
    fn every_step_comes_back() {
        for step in 0..=255 {
            assert_eq!(coded(linear([step, 0, 255])), [step, 0, 255]);
        }
    }

    /// Half of the light of white is the step 188 of sRGB, not 128. Source: IEC 61966-2-1.
    #[test]
    fn colours_are_mixed_as_light() {
        assert_eq!(mixed([[0; 3], [255; 3]]), [188; 3]);
        assert_eq!(mixed([[10, 20, 30]]), [10, 20, 30]);
        assert_eq!(mixed([]), [255; 3]);
    }

    /// Source of 4.5: WCAG 2.2, success criterion 1.4.3.
    #[test]
    fn ink_can_be_read_on_every_grey() {
        for step in 0..=255 {
            let ground = [step; 3];
            let (light, ink) = (luminance(ground) + 0.05, luminance(legible_on(ground)) + 0.05);
            assert!((light / ink).max(ink / light) >= 4.5, "{step}");
        }
        assert_eq!(legible_on([255; 3]), [0; 3]);
        assert_eq!(legible_on([17; 3]), [255; 3]);
    }
}
