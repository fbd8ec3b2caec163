//! Colours mixed as light, and the ink that can be read on a colour.

use std::sync::LazyLock;

use crate::artwork::light::{contrast, encoded, linear, luminance};

/// How finely light is told apart on the way back to sRGB: none of the 256 steps is narrower than this grid.
const FINENESS: usize = 4095;

/// The light of each of the 256 steps of sRGB, from 0 to 1.
static LINEAR: LazyLock<[f32; 256]> = LazyLock::new(|| std::array::from_fn(|step| linear(step as f64 / 255.0) as f32));

/// The step of sRGB for each of `FINENESS + 1` amounts of light.
static ENCODED: LazyLock<Vec<u8>> = LazyLock::new(|| {
    (0..=FINENESS).map(|light| (encoded(light as f64 / FINENESS as f64) * 255.0).round() as u8).collect()
});

/// The linear light of a colour, channel by channel.
pub(super) fn light(colour: [u8; 3]) -> [f32; 3] {
    colour.map(|step| LINEAR[usize::from(step)])
}

/// The mean of some amounts of linear light as a colour; white where there are none.
pub(super) fn mean(lights: impl IntoIterator<Item = [f32; 3]>) -> [u8; 3] {
    let (mut sum, mut count) = ([0.0_f32; 3], 0.0_f32);
    for light in lights {
        sum.iter_mut().zip(light).for_each(|(sum, light)| *sum += light);
        count += 1.0;
    }
    if count == 0.0 {
        return [255; 3];
    }
    // Rounded: light is never below nothing.
    sum.map(|sum| ENCODED[((sum / count * FINENESS as f32 + 0.5) as usize).min(FINENESS)])
}

/// The mean of colours in linear light; white where there are none.
pub fn mixed(colours: impl IntoIterator<Item = [u8; 3]>) -> [u8; 3] {
    mean(colours.into_iter().map(light))
}

/// Black or white, whichever has the greater contrast on a colour: it is never below 4.5 to 1.
pub fn legible_on(ground: [u8; 3]) -> [u8; 3] {
    let ground = luminance(light(ground).map(f64::from));
    if contrast(ground, 0.0) >= contrast(ground, 1.0) { [0; 3] } else { [255; 3] }
}

#[cfg(test)]
mod tests {
    use super::{contrast, legible_on, mixed};
    use crate::artwork::light::luminance_of;

    /// Half of the light of white is the step 188 of sRGB, not 128. Source: IEC 61966-2-1.
    #[test]
    fn colours_are_mixed_as_light() {
        assert_eq!(mixed([[0; 3], [255; 3]]), [188; 3]);
        assert_eq!(mixed([]), [255; 3]);
        for step in 0..=255 {
            assert_eq!(mixed([[step, 0, 255]; 3]), [step, 0, 255]);
        }
    }

    /// Source of 4.5: WCAG 2.2, success criterion 1.4.3.
    #[test]
    fn ink_can_be_read_on_every_grey() {
        for step in 0..=255 {
            let ground = [step; 3];
            assert!(contrast(luminance_of(legible_on(ground)), luminance_of(ground)) >= 4.5, "{step}");
        }
        assert_eq!(legible_on([255; 3]), [0; 3]);
        assert_eq!(legible_on([17; 3]), [255; 3]);
    }
}
