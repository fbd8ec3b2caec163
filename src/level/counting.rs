//! How each formula counts sentences, hyphens, figures, names, endings and repeats: makes the table of DEVELOPERS.md,
//! and tests the table against the counts. Built for the tests alone, since the program does not need this file.
//!
//! What a formula does with a hyphen or a name follows from what the formula counts, so it is stated once per
//! [`Count`].

use super::counts::Count;
use super::familiar::WordList;
use super::formula::Formula;

/// How a formula counts each of six things; a dash where a thing makes no difference to the formula.
struct Counting {
    /// What ends a sentence.
    sentences: String,
    /// A hyphened word.
    hyphens: String,
    /// A figure.
    figures: String,
    /// A name.
    names: String,
    /// A regular ending.
    endings: String,
    /// A word that stands more than once.
    repeats: String,
}

impl Counting {
    /// How one formula counts.
    fn of(formula: Formula) -> Self {
        let facts = formula.facts();
        let told = |tell: fn(Count) -> &'static str| {
            let mut told: Vec<&str> = facts.counts.iter().map(|count| tell(*count)).collect();
            told.retain(|words| !words.is_empty());
            told.dedup();
            if told.is_empty() { "–".to_owned() } else { told.join("; ") }
        };
        Self {
            sentences: told(sentences),
            hyphens: told(hyphens),
            figures: told(figures),
            names: told(names),
            endings: facts.list.map_or_else(|| told(endings), |list| of_list(list).to_owned()),
            repeats: told(repeats),
        }
    }

    /// The table of all formulas, in Markdown, its last line ended.
    fn table() -> String {
        let mut table = "| measure | sentence ends at | hyphened word | figure | name | ending | repeated word |\n\
                         |---|---|---|---|---|---|---|\n"
            .to_owned();
        for formula in Formula::ALL {
            let Self { sentences, hyphens, figures, names, endings, repeats } = Self::of(formula);
            let cells = [formula.facts().name.to_owned(), sentences, hyphens, figures, names, endings, repeats];
            table.push_str(&format!("| {} |\n", cells.join(" | ")));
        }
        table
    }
}

fn sentences(count: Count) -> &'static str {
    match count {
        Count::Sentences => "a stop",
        Count::SentencesAtColons => "a stop or a colon",
        _ => "",
    }
}

fn hyphens(count: Count) -> &'static str {
    match count {
        Count::Words => "one word",
        Count::Hard => "hard where a part has three syllables",
        Count::Unfamiliar | Count::UnfamiliarOnce => "familiar where all parts are",
        _ => "",
    }
}

fn figures(count: Count) -> &'static str {
    match count {
        Count::Syllables | Count::OneSyllable | Count::ThreeSyllables => "syllables as spoken",
        Count::SyllablesByFlesch => "one syllable",
        Count::Letters | Count::Long => "no letters",
        Count::LettersAndDigits => "each digit",
        Count::Hard => "not hard",
        Count::Unfamiliar | Count::UnfamiliarOnce => "familiar",
        Count::Words | Count::Sentences | Count::SentencesAtColons => "",
    }
}

fn names(count: Count) -> &'static str {
    match count {
        Count::Hard => "not hard",
        Count::Unfamiliar | Count::UnfamiliarOnce => "familiar",
        _ => "",
    }
}

fn endings(count: Count) -> &'static str {
    match count {
        Count::Hard => "third syllable by -es, -ed: not hard",
        _ => "",
    }
}

fn of_list(list: WordList) -> &'static str {
    match list {
        WordList::DaleChall => {
            "-s, -es, -ies, -'s, -d, -ed, -ied, -ing, -n, -er, -est, -ly: familiar; a doer in -er: not"
        }
        WordList::Spache => "-s, -es, -ies, -'s, -d, -ed, -ied, -ing: familiar",
    }
}

fn repeats(count: Count) -> &'static str {
    match count {
        Count::Hard | Count::Long | Count::OneSyllable | Count::ThreeSyllables | Count::Unfamiliar => "each time",
        Count::UnfamiliarOnce => "once",
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::Counting;
    use crate::brief::Book;
    use crate::draft::Draft;
    use crate::level::counts::Count;
    use crate::level::measure;
    use crate::text::Text;

    /// The docs hold the table as it is made here.
    #[test]
    fn the_docs_hold_the_table() {
        let docs = include_str!("../../DEVELOPERS.md");
        assert!(docs.contains(&Counting::table()), "the table of DEVELOPERS.md should be:\n{}", Counting::table());
    }

    /// The counts do what the table says: a copy is counted with and without the thing, and the difference compared.
    #[test]
    fn the_counts_do_what_the_table_says() {
        let of = |copy: &str, count| {
            let draft = Draft::read(copy);
            measure(&Text::read(&draft, &Book::default())).counts.of(count)
        };
        for (plain, other, count, more) in [
            ("The dog ran. It sat.", "The dog ran: it sat.", Count::Sentences, -1),
            ("The dog ran. It sat.", "The dog ran: it sat.", Count::SentencesAtColons, 0),
            ("The well known dog.", "The well-known dog.", Count::Words, -1),
            ("A dog ran.", "A word-of-mouth dog ran.", Count::Hard, 0),
            ("A dog ran.", "A half-adventurous dog ran.", Count::Hard, 1),
            ("A dog ran.", "A big-dog ran.", Count::Unfamiliar, 0),
            ("It was one.", "It was 1984.", Count::SyllablesByFlesch, 0),
            ("It was one.", "It was 1984.", Count::ThreeSyllables, 1),
            ("It was.", "It was 1984.", Count::LettersAndDigits, 4),
            ("It was.", "It was 1984567.", Count::Long, 0),
            ("It was one.", "It was 1984.", Count::Hard, 0),
            ("It was one.", "It was 1984.", Count::Unfamiliar, 0),
            ("The dog saw it.", "The dog saw Quillonia.", Count::Unfamiliar, 0),
            ("The dog saw it.", "The dog saw Quillonia.", Count::Hard, 0),
            ("The dog saw.", "The dog created.", Count::Hard, 0),
            ("The dog.", "The keeper.", Count::Unfamiliar, 1),
            ("A da.", "A da da.", Count::Unfamiliar, 1),
            ("A da.", "A da da.", Count::UnfamiliarOnce, 0),
        ] {
            let added = of(other, count).cast_signed() - of(plain, count).cast_signed();
            assert_eq!(added, more, "{count:?}: {plain} {other}");
        }
    }
}
