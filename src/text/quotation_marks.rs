//! Which quotation marks a language uses, and which of them a straight mark of the copy stands for.
//!
//! The table is that of the Unicode Common Locale Data Repository, `wordlists/quotation-marks.txt`. A copy that has
//! printed marks already keeps to them, since houses differ within a language: where its first printed pair is not the
//! table's, the pair goes first. Departure from the table: where a language has one pair of single marks for both
//! depths (Dutch), a quotation inside another takes double ones, without which nobody could tell them apart (common
//! practice).

/// A pair of quotation marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct QuotePair {
    /// The mark that opens.
    pub open: char,
    /// The mark that closes.
    pub close: char,
}

/// Which pair the straight marks of a copy stand for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct QuotationMarks {
    /// The pair for `"`.
    pub double: QuotePair,
    /// The pair for `'`.
    pub single: QuotePair,
}

const LIST: &str = wordlist!("quotation-marks.txt");
/// The language whose marks stand for those of a language that the table does not name.
const ROOT: &str = "en";
const DOUBLE: QuotePair = QuotePair { open: '“', close: '”' };
const SINGLE: QuotePair = QuotePair { open: '‘', close: '’' };

impl QuotationMarks {
    /// The marks of a language by its BCP 47 tag: for the outer quotation, and for one inside another. A tag that the
    /// table does not have goes by its first parts.
    pub fn of_language(tag: &str) -> (QuotePair, QuotePair) {
        let tag = tag.to_ascii_lowercase();
        let shorter = std::iter::successors(Some(tag.as_str()), |tag| Some(tag.rsplit_once('-')?.0));
        let (outer, inner) = shorter.chain([ROOT]).find_map(in_table).unwrap_or((DOUBLE, SINGLE));
        (outer, if inner == outer && outer == SINGLE { DOUBLE } else { inner })
    }

    /// The marks for a copy in a language, by the copy's paragraphs.
    pub fn of_copy<'t>(tag: &str, paragraphs: impl Iterator<Item = &'t str> + Clone) -> Self {
        let (mut outer, mut inner) = Self::of_language(tag);
        if let Some(own) = paragraphs.clone().find_map(first_printed).filter(|own| *own != outer) {
            inner = if own == inner || inner == outer { SINGLE } else { inner };
            outer = own;
        }
        // Where the pairs look as they are typed, each straight mark keeps its kind, whichever comes first.
        if outer == DOUBLE && inner == SINGLE {
            return Self { double: outer, single: inner };
        }
        match paragraphs.clone().find_map(first_straight) {
            Some('\'') => Self { double: inner, single: outer },
            _ => Self { double: outer, single: inner },
        }
    }
}

/// The line of the table that names a language.
fn in_table(tag: &str) -> Option<(QuotePair, QuotePair)> {
    LIST.lines().filter(|line| !line.starts_with('#')).find_map(|line| {
        let mut parts = line.split(' ');
        let mut mark = || parts.next()?.chars().next();
        let outer = QuotePair { open: mark()?, close: mark()? };
        let inner = QuotePair { open: mark()?, close: mark()? };
        parts.any(|language| language == tag).then_some((outer, inner))
    })
}

/// The first printed pair of double marks in a paragraph: of a mark that stands where one opens, and one behind it.
fn first_printed(text: &str) -> Option<QuotePair> {
    let (at, open) = text.char_indices().find(|(at, mark)| "“„«»”".contains(*mark) && opens(text, *at, *mark))?;
    let closes: &[char] = match open {
        '“' => &['”'],
        '„' => &['“', '”'],
        '«' => &['»'],
        '»' => &['«', '»'],
        _ => &['”'],
    };
    let behind = &text[at + open.len_utf8()..];
    let close = behind.chars().find(|mark| closes.contains(mark))?;
    Some(QuotePair { open, close })
}

/// The first straight mark of a paragraph that opens a quotation: a double one, or a single one that is closed behind a
/// stop.
fn first_straight(text: &str) -> Option<char> {
    let mut marks = text.char_indices().filter(|(at, mark)| matches!(mark, '"' | '\'') && opens(text, *at, *mark));
    let is_closed = |(at, mark): &(usize, char)| {
        *mark == '"' || [",'", ".'", "!'", "?'"].iter().any(|close| text[*at..].contains(close))
    };
    // Only the first few are tried, so that a copy full of apostrophes takes no time that grows with its square.
    marks.by_ref().take(MOST_TRIED).find(is_closed).map(|(_, mark)| mark)
}

/// How many marks of a paragraph are asked whether they open the copy's first quotation.
const MOST_TRIED: usize = 8;

/// Whether a mark stands where a quotation opens: at the beginning or behind a blank or a bracket, and before a word.
fn opens(text: &str, at: usize, mark: char) -> bool {
    let before = text[..at].chars().next_back();
    let after = text[at + mark.len_utf8()..].chars().next();
    let has_blank = matches!(mark, '«' | '»');
    before.is_none_or(|c| c.is_whitespace() || "([—–".contains(c))
        && after.is_some_and(|c| has_blank || !c.is_whitespace())
}

#[cfg(test)]
mod tests {
    use super::QuotationMarks;

    fn shown(tag: &str, copy: &[&str]) -> String {
        let marks = QuotationMarks::of_copy(tag, copy.iter().copied());
        [marks.double.open, marks.double.close, marks.single.open, marks.single.close].iter().collect()
    }

    #[test]
    fn each_language_has_its_own() {
        for (tag, marks) in [
            ("en", "“”‘’"),
            ("en-GB", "“”‘’"),
            ("de", "„“‚‘"),
            ("de-AT", "„“‚‘"),
            ("fr", "«»«»"),
            ("fr-CH", "«»‹›"),
            ("it", "«»“”"),
            ("es-MX", "“”‘’"),
            ("nl", "‘’“”"),
            ("pl", "„”«»"),
            ("sv", "””’’"),
            ("pt-PT", "«»“”"),
            ("ja", "「」『』"),
            ("xx", "“”‘’"),
        ] {
            assert_eq!(shown(tag, &[]), marks, "{tag}");
        }
    }

    #[test]
    fn a_copy_keeps_to_its_own_marks() {
        assert_eq!(shown("de", &["»Komm!«, rief sie.", "\"Ja.\""]), "»«‚‘");
        assert_eq!(shown("it", &["“Vieni!” disse."]), "“”‘’");
        assert_eq!(shown("de", &["„Komm!” rief sie."]), "„”‚‘");
        assert_eq!(shown("nl", &["'Kom!' riep ze. 'Zei hij \"ja\"?'"]), "“”‘’");
        assert_eq!(shown("nl", &["\"Kom!\" riep ze."]), "‘’“”");
        assert_eq!(shown("en", &["'Come!' she cried."]), "“”‘’");
    }
}
