//! Colours of a file's pixels as sRGB on white paper, and what a pixel costs in ink.

/// One channel of a colour that covers white paper by a share of 255.
pub(super) fn on_paper(channel: u8, alpha: u8) -> u8 {
    let (channel, alpha) = (u32::from(channel), u32::from(alpha));
    ((channel * alpha + 255 * (255 - alpha) + 127) / 255) as u8
}

/// One channel that was multiplied by its own alpha when the file was written, on white paper.
pub(super) fn premultiplied_on_paper(channel: u8, alpha: u8) -> u8 {
    channel.saturating_add(255 - alpha)
}

/// The eight bits that come nearest to sixteen.
pub(super) fn eight_of(sixteen: u16) -> u8 {
    ((u32::from(sixteen) * 255 + 32_767) / 65_535) as u8
}

/// The sRGB colour of four inks, each from 0, no ink, to 255, by the plain rule: every ink takes its share of the light
/// that black has left. A press's own colours need its profile; the rule is common practice for a screen.
pub(super) fn of_inks([cyan, magenta, yellow, black]: [u8; 4]) -> [u8; 3] {
    let left = |ink: u8| ((255 - u32::from(ink)) * (255 - u32::from(black)) + 127) / 255;
    [cyan, magenta, yellow].map(|ink| left(ink) as u8)
}

/// How many pixels of a picture in four inks take how much ink altogether.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InkTotals {
    /// The number of pixels by their total ink in whole percent, from 0 to 400.
    pixels: Vec<u32>,
}

impl InkTotals {
    /// The most ink that a pixel takes, in percent of one full ink.
    pub fn most(&self) -> usize {
        self.pixels.iter().rposition(|count| *count > 0).unwrap_or(0)
    }

    /// The share of the pixels that take more than a number of percent, from 0 to 1.
    pub fn share_above(&self, percent: usize) -> f64 {
        let sum = |counts: &[u32]| counts.iter().map(|count| u64::from(*count)).sum::<u64>();
        let above = self.pixels.get(percent + 1..).map_or(0, sum);
        above as f64 / (sum(&self.pixels) as f64).max(1.0)
    }

    pub(super) fn none() -> Self {
        Self { pixels: vec![0; 401] }
    }

    /// Counts one pixel of four inks, each from 0, no ink, to 255.
    pub(super) fn count(&mut self, inks: [u8; 4]) {
        let total: u32 = inks.into_iter().map(u32::from).sum();
        self.pixels[(total * 100 / 255) as usize] += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_keep_their_ends_on_paper() {
        for channel in 0..=255 {
            assert_eq!((on_paper(channel, 255), on_paper(channel, 0)), (channel, 255));
            assert_eq!((premultiplied_on_paper(channel, 255), premultiplied_on_paper(0, 0)), (channel, 255));
            assert_eq!(eight_of(u16::from(channel) * 257), channel);
        }
        assert_eq!(on_paper(0, 128), 127);
    }

    #[test]
    fn inks_take_light_and_are_counted() {
        assert_eq!(of_inks([0; 4]), [255; 3]);
        assert_eq!(of_inks([0, 0, 0, 255]), [0; 3]);
        assert_eq!(of_inks([255, 0, 0, 0]), [0, 255, 255]);
        assert_eq!(of_inks([0, 128, 0, 128]), [127, 63, 127]);
        let mut totals = InkTotals::none();
        for inks in [[0; 4], [255; 4], [255, 255, 255, 0], [255, 255, 255, 3]] {
            totals.count(inks);
        }
        assert_eq!(totals.most(), 400);
        assert!((totals.share_above(300) - 0.5).abs() < 1e-9 && totals.share_above(400) == 0.0);
    }
}
