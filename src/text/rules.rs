//! The counting rules, each stated once: the docs refer to this text, and a report prints it.

/// How one thing is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CountingRule {
    /// What is counted.
    pub counts: &'static str,
    /// How, as sentences.
    pub rule: &'static str,
}

/// Every rule, in the order of a report.
pub const RULES: [CountingRule; 9] = [
    CountingRule {
        counts: "measured",
        rule: "Length and level are measured on the blurb, without headline, quotes, credits and other blocks; \
               terms are looked for in the headline and the blurb.",
    },
    CountingRule {
        counts: "characters",
        rule: "What a reader sees as one character is one (grapheme clusters of Unicode Standard Annex #29). \
               Blanks between words count; the space between paragraphs does not.",
    },
    CountingRule { counts: "letters", rule: "Letters of any script; no figures, blanks or marks." },
    CountingRule {
        counts: "words",
        rule: "Words of Unicode Standard Annex #29 that hold a letter or a figure. \
               A hyphened word is one, a contraction is one, a figure is one, and symbols alone are none.",
    },
    CountingRule {
        counts: "sentences",
        rule: "A sentence ends at a stop with a blank behind it where no small letter follows, and at the end of a \
               paragraph. Stops of abbreviations, initials and decimals end none, nor does speech that a verb of \
               saying follows. A line of verse (short, ended by the author, with a capital) is one sentence; the \
               measures of reading level leave such lines out where a sentence runs on over the end of one.",
    },
    CountingRule { counts: "paragraphs", rule: "Blocks of the blurb that hold a word." },
    CountingRule {
        counts: "syllables",
        rule: "As spoken; of several pronunciations in the CMU Pronouncing Dictionary the shortest. Figures and \
               abbreviations as they are read out. Names as the brief gives them. Other words are guessed from their \
               letters, and listed.",
    },
    CountingRule {
        counts: "reading time",
        rule: "Adults read 260 words of fiction a minute silently, 238 of non-fiction, and 183 aloud \
               (Brysbaert 2019).",
    },
    CountingRule {
        counts: "terms",
        rule: "Whole words in any case, with regular endings (-s, -ed, -ing, possessives), with or without hyphens, \
               and the other wordings that the brief names. Terms that overlap each count.",
    },
];
