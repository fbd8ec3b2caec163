//! The languages whose reading levels have published measures of their own.

/// The language of the copy, so far as its counting rules are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Language {
    /// English; also where the brief names no language.
    #[default]
    English,
    /// Spanish.
    Spanish,
    /// French.
    French,
    /// German.
    German,
    /// Italian.
    Italian,
    /// Dutch.
    Dutch,
    /// Any other.
    Other,
}

impl Language {
    /// The languages beside English whose words the program knows.
    pub const ABROAD: [Self; 5] = [Self::French, Self::German, Self::Spanish, Self::Italian, Self::Dutch];

    /// The tag of BCP 47 by which a brief names the language; empty for any other.
    pub fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
            Self::French => "fr",
            Self::German => "de",
            Self::Italian => "it",
            Self::Dutch => "nl",
            Self::Other => "",
        }
    }

    /// The language of a BCP 47 tag: `en-GB` is English.
    pub(super) fn of_tag(tag: &str) -> Self {
        match tag.split('-').next().unwrap_or_default().to_ascii_lowercase().as_str() {
            "" | "en" | "eng" => Self::English,
            "es" | "spa" => Self::Spanish,
            "fr" | "fra" | "fre" => Self::French,
            "de" | "deu" | "ger" => Self::German,
            "it" | "ita" => Self::Italian,
            "nl" | "nld" | "dut" => Self::Dutch,
            _ => Self::Other,
        }
    }

    /// The language's name in English.
    pub fn name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::Spanish => "Spanish",
            Self::French => "French",
            Self::German => "German",
            Self::Italian => "Italian",
            Self::Dutch => "Dutch",
            Self::Other => "another language",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Language;

    #[test]
    fn the_first_part_of_a_tag_tells() {
        for (tag, language) in [
            ("", Language::English),
            ("en-GB", Language::English),
            ("es-419", Language::Spanish),
            ("FR", Language::French),
            ("eo", Language::Other),
        ] {
            assert_eq!(Language::of_tag(tag), language, "{tag}");
        }
    }
}
