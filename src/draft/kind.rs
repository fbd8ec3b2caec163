//! The parts that a draft may have, and what headings call them.

/// A part of the copy with its own type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BlockKind {
    /// The line or lines that stand over the blurb.
    Headline,
    /// The selling copy itself, on which length and level are measured.
    Blurb,
    /// Words taken from a review or given as an endorsement.
    Quote,
    /// Who said the quote, and their standing.
    Credit,
    /// The note on the author.
    NoteOnTheAuthor,
    /// Other titles or a series list.
    OtherTitles,
    /// For whom the book is, by age.
    AgeLine,
    /// The price in words.
    PriceLine,
}

impl BlockKind {
    /// Every kind, in the order of this list.
    pub const ALL: [Self; 8] = [
        Self::Headline,
        Self::Blurb,
        Self::Quote,
        Self::Credit,
        Self::NoteOnTheAuthor,
        Self::OtherTitles,
        Self::AgeLine,
        Self::PriceLine,
    ];

    /// The kind's name as a draft's heading and a report write it: `note on the author`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Headline => "headline",
            Self::Blurb => "blurb",
            Self::Quote => "quote",
            Self::Credit => "credit",
            Self::NoteOnTheAuthor => "note on the author",
            Self::OtherTitles => "other titles",
            Self::AgeLine => "age line",
            Self::PriceLine => "price line",
        }
    }

    /// The kind's name as a heading begins: `Note on the author`.
    pub fn heading(self) -> String {
        let name = self.name();
        let first = name.chars().next().map_or(String::new(), |letter| letter.to_uppercase().to_string());
        format!("{first}{}", name.get(1..).unwrap_or_default())
    }

    /// Other names for the kind that are common in the trade and accepted in a draft's heading, in small letters. A
    /// heading that begins with `praise for` names quotes too, and one that begins with `also by` other titles.
    pub(super) fn other_names(self) -> &'static [&'static str] {
        match self {
            Self::Headline | Self::Blurb | Self::Credit => &[],
            Self::Quote => &["quotes", "praise", "reviews"],
            Self::NoteOnTheAuthor => &[
                "about the author",
                "the author",
                "about the illustrator",
                "the illustrator",
                "about the authors",
                "the authors",
                "about the illustrators",
                "the illustrators",
                "about the author and illustrator",
                "about the author and the illustrator",
            ],
            Self::OtherTitles => &["also by", "by the same author"],
            Self::AgeLine => &["age", "ages"],
            Self::PriceLine => &["price"],
        }
    }

    /// The kind that words name, as a heading does: in letters of any case, with or without a colon behind them.
    pub fn named(words: &str) -> Option<Self> {
        let name = words.to_lowercase();
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        let name = name.trim_end_matches(':').trim_end();
        let is_named = |kind: &Self| kind.name() == name || kind.other_names().contains(&name);
        let begins = [("praise for ", Self::Quote), ("also by ", Self::OtherTitles)];
        let begun = begins.into_iter().find(|(words, _)| name.starts_with(words)).map(|(_, kind)| kind);
        Self::ALL.into_iter().find(is_named).or(begun)
    }
}
