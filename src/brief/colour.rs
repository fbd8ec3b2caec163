//! Colours of ink and tint, as a brief writes them.

use std::fmt;

use super::nodes::{KeyGroup, NodeAt, Refusal};

/// A colour of ink or of a tint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colour {
    /// Black ink alone.
    #[default]
    Black,
    /// The paper's own white: letters are left out of the art, and a tint takes it back.
    White,
    /// Red, green and blue, as a screen has them (sRGB).
    Screen([u8; 3]),
}

const EXPECTED: &str = "write black, white, or a colour in quotation marks, such as \"#1f3a5f\"";

impl Colour {
    /// The colour as a screen has it; how dark printed black is and how light paper is, is not said by it.
    pub fn srgb(self) -> [u8; 3] {
        match self {
            Self::Black => [0; 3],
            Self::White => [255; 3],
            Self::Screen(channels) => channels,
        }
    }

    /// Whether the colour is nearer to white than to black, by what each channel adds to its luma (ITU-R BT.601).
    pub fn is_light(self) -> bool {
        let [red, green, blue] = self.srgb().map(u32::from);
        299 * red + 587 * green + 114 * blue > 127_500
    }

    /// Reads the colour of a key; none where the key is not there.
    ///
    /// # Errors
    ///
    /// What is no colour; and a key with nothing behind it, since a `#` without quotation marks opens a comment.
    pub(super) fn read(fields: &KeyGroup<'_>, key: &str) -> Result<Option<Self>, Refusal> {
        match fields.optional(key) {
            Some(value) => Self::of(&value).map(Some),
            None if fields.has(key) => Err(fields.refuse_key(key, format!("there is no colour here; {EXPECTED}"))),
            None => Ok(None),
        }
    }

    fn of(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        let text = value.text()?;
        if let Some((_, named)) = NAMED.into_iter().find(|(name, _)| text.eq_ignore_ascii_case(name)) {
            return Ok(named);
        }
        let digits = text.strip_prefix('#').filter(|digits| digits.chars().all(|digit| digit.is_ascii_hexdigit()));
        let digits: Vec<u8> =
            digits.unwrap_or_default().chars().filter_map(|it| Some(it.to_digit(16)? as u8)).collect();
        match digits[..] {
            [red, green, blue] => Ok(Self::Screen([red, green, blue].map(|digit| digit * 17))),
            [a, b, c, d, e, f] => Ok(Self::Screen([(a, b), (c, d), (e, f)].map(|(high, low)| high * 16 + low))),
            _ => Err(value.refuse(format!("\"{text}\" is no colour; {EXPECTED}"))),
        }
    }
}

const NAMED: [(&str, Colour); 2] = [("black", Colour::Black), ("white", Colour::White)];

/// The colour as a brief writes it, without quotation marks: `black`, `#1f3a5f`.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Screen([red, green, blue]) => write!(f, "#{red:02x}{green:02x}{blue:02x}"),
            named => f.write_str(NAMED.iter().find(|(_, colour)| colour == named).map_or("", |(name, _)| name)),
        }
    }
}
