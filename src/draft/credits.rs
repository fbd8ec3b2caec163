//! Where in a block quotation a credit ends its quote, and where the next quote begins.
//!
//! A credit is a line that opens with a dash. Not every line with a dash is a credit: a quote may hold dialogue, or go
//! on behind a dash. The standing in a credit (who the reviewer is) may take further lines, which nothing marks; they
//! are told from the next quote by the lines above and below.

use super::kind::BlockKind;

const CREDIT_DASHES: [&str; 4] = ["—", "–", "―", "--"];
/// Marks round spoken words. Those of single strokes are left out, since they are apostrophes too.
const DOUBLE_MARKS: [char; 7] = ['"', '“', '”', '„', '‟', '«', '»'];
const SINGLE_MARKS: [char; 4] = ['\'', '‘', '‚', '‹'];
/// Words that no credit ends with: a credit's line that ends with one goes on in the next line.
const JOINERS: [&str; 13] = ["of", "the", "and", "for", "at", "in", "by", "from", "to", "a", "an", "on", "with"];

/// The parts of a block in a quotation: for each the byte at which it begins, and whether it is a quote or a credit.
///
/// `line_starts` are the bytes at which lines of the file begin, in order. Where the block follows another in the same
/// quotation, it may be a credit from its first word.
pub(super) fn parts(text: &str, line_starts: &[usize], follows_a_quote: bool) -> Vec<(usize, BlockKind)> {
    let mut line_starts = line_starts.to_vec();
    line_starts.extend(credits_behind_quotes(text, &line_starts));
    line_starts.sort_unstable();
    let lines = lines(text, &line_starts);
    let (mut parts, mut kind, mut is_spoken) = (vec![(0, BlockKind::Quote)], BlockKind::Quote, false);
    // Each line is judged once, in order: it begins a credit, begins the next quote, or goes on with the part above.
    for (number, line) in lines.iter().enumerate() {
        let may_be_credit = number > 0 || follows_a_quote;
        let begins = if may_be_credit && line.is_credit(is_spoken) {
            Some(BlockKind::Credit)
        } else if kind == BlockKind::Credit && line.begins_a_quote(&lines[number - 1]) {
            Some(BlockKind::Quote)
        } else {
            None
        };
        if let Some(begun) = begins {
            (kind, is_spoken) = (begun, false);
            parts.push((if number == 0 { 0 } else { line.at }, kind));
        }
        is_spoken = marks(line.words).last().unwrap_or(is_spoken);
    }
    // A block that begins with a credit has no quote of its own, so the empty quote before it goes.
    if parts.get(1).is_some_and(|(at, _)| *at == 0) {
        parts.remove(0);
    }
    parts
}

/// The bytes at which credits begin that stand in one line with their quotes: a dash and a capital behind the mark that
/// closes the speech, and no whole sentence to the end of the line.
fn credits_behind_quotes(text: &str, line_starts: &[usize]) -> Vec<usize> {
    let mut found = Vec::new();
    for (mark, _) in text.char_indices().filter(|(_, letter)| DOUBLE_MARKS.contains(letter)) {
        let behind = text[mark..].trim_start_matches(DOUBLE_MARKS).trim_start_matches(' ');
        let at = text.len() - behind.len();
        let next = line_starts.partition_point(|start| *start <= at);
        let line = &behind[..line_starts.get(next).map_or(behind.len(), |start| start - at)];
        let name = CREDIT_DASHES.iter().find_map(|dash| line.strip_prefix(dash)).map(str::trim_start);
        let is_closing = text[..mark].ends_with(|before: char| !before.is_whitespace());
        let is_credit = name.is_some_and(|name| name.starts_with(char::is_uppercase) && !ends_sentence(name.trim()));
        if is_closing && is_credit && found.last() != Some(&at) && line_starts.binary_search(&at).is_err() {
            found.push(at);
        }
    }
    found
}

/// A line of the file as far as it goes into one block, and what comes after it.
struct QuotedLine<'a> {
    /// The byte of the block's text at which the line begins.
    at: usize,
    words: &'a str,
    below: Below,
}

/// What stands below a line. "The next opening" is the next line that opens with a dash or with a mark of speech.
#[derive(Clone, Copy, Default)]
struct Below {
    /// Whether the next opening is a dash.
    dash: bool,
    /// Whether the line before the next opening ends as a sentence does; without an opening, the last line of the
    /// block.
    is_sentence: bool,
    /// Whether the next mark of speech closes what was spoken, before the next opening.
    closes: bool,
}

/// The lines that hold words.
fn lines<'a>(text: &'a str, line_starts: &[usize]) -> Vec<QuotedLine<'a>> {
    let ends = line_starts.iter().copied().chain([text.len()]);
    let mut lines: Vec<QuotedLine<'a>> = [0]
        .iter()
        .chain(line_starts)
        .zip(ends)
        .map(|(&at, end)| QuotedLine { at, words: text[at..end].trim(), below: Below::default() })
        .filter(|line| !line.words.is_empty())
        .collect();
    // From the last line up: what stands below a line follows from the line right below and what stands below that.
    let mut below: Option<Below> = None;
    let mut next: Option<(bool, bool)> = None;
    for line in lines.iter_mut().rev() {
        let is_sentence = ends_sentence(line.words);
        let stops = next.is_none_or(|(dash, opens)| dash || opens);
        line.below = Below {
            dash: if stops { next.is_some_and(|(dash, _)| dash) } else { below.is_some_and(|below| below.dash) },
            is_sentence: if stops { is_sentence } else { below.is_some_and(|below| below.is_sentence) },
            closes: match marks(line.words).next() {
                Some(opens) => !opens,
                None => below.is_some_and(|below| below.closes) && !next.is_some_and(|(_, opens)| opens),
            },
        };
        below = Some(line.below);
        next = Some((line.has_dash(), line.opens()));
    }
    lines
}

/// Whether words open with a dash, as the line of a credit does.
pub fn opens_with_dash(words: &str) -> bool {
    CREDIT_DASHES.iter().any(|dash| words.starts_with(dash))
}

/// Whether a mark of double strokes stands round spoken words, at their head or at their foot.
pub fn is_mark_of_speech(mark: char) -> bool {
    DOUBLE_MARKS.contains(&mark)
}

impl QuotedLine<'_> {
    /// Whether the line opens with a dash.
    fn has_dash(&self) -> bool {
        opens_with_dash(self.words)
    }

    /// Whether the line opens with a mark of speech.
    fn opens(&self) -> bool {
        self.words.starts_with(|first| DOUBLE_MARKS.contains(&first) || SINGLE_MARKS.contains(&first))
    }

    /// Whether the line gives the credit of the quote above; `is_spoken` where somebody may still be speaking there.
    fn is_credit(&self, is_spoken: bool) -> bool {
        if !self.has_dash() || (is_spoken && self.below.closes) {
            return false;
        }
        // A whole sentence, or a line that begins with a small letter, belongs to the quote (as dialogue or as its next
        // line) if another line with a dash comes below, which can be the credit instead.
        let first = self.words.chars().find(|letter| letter.is_alphanumeric());
        let is_of_the_quote = ends_sentence(self.words) || first.is_some_and(char::is_lowercase);
        !(is_of_the_quote && self.below.dash)
    }

    /// Whether the line begins the next quote, instead of going on with the credit; `above` is the line above, which
    /// belongs to the credit.
    fn begins_a_quote(&self, above: &Self) -> bool {
        let last = above.words.rsplit(' ').next().unwrap_or_default();
        let goes_on = above.words.ends_with([',', '&']) || JOINERS.contains(&last);
        !goes_on && (self.has_dash() || self.opens() || self.below.dash || self.below.is_sentence)
    }
}

/// For each double mark of speech in some words, in order, whether it opens speech: a blank, a bracket or a dash stands
/// before it.
fn marks(words: &str) -> impl Iterator<Item = bool> {
    let before = [' '].into_iter().chain(words.chars());
    let both = before.zip(words.chars()).filter(|(_, mark)| DOUBLE_MARKS.contains(mark));
    both.map(|(before, _)| before.is_whitespace() || "([—–―-".contains(before))
}

/// Whether words end as a sentence does, closing marks aside.
pub fn ends_sentence(words: &str) -> bool {
    let closing = |last: char| DOUBLE_MARKS.contains(&last) || matches!(last, '\'' | '’' | '›' | ')' | ']');
    words.trim_end_matches(closing).ends_with(['.', '!', '?', '…'])
}

#[cfg(test)]
mod tests {
    use crate::draft::{BlockKind, Draft};

    /// Reads lines as one block quotation and compares its blocks, a credit with a `~` before it. Every byte of a block
    /// has to be found again in the file.
    #[track_caller]
    fn check(lines: &[&str], wanted: &[&str]) {
        let quoted = |ending: &str| lines.iter().map(|line| format!("> {line}{ending}")).collect::<String>();
        let lazy = format!("> {}\n", lines.join("\n"));
        let listed = format!("- {}\n", quoted("\n").trim_end().replace('\n', "\n  "));
        for source in [quoted("\n"), quoted("\r\n"), quoted("  \n"), lazy, listed, format!("\u{feff}{}", quoted("\n"))]
        {
            let mut draft = Draft::read(&source);
            // A quotation in a list has the item's mark above it.
            draft.blocks.retain(|block| block.text() != "•");
            let shown = |block: &crate::draft::Block| {
                let mark = if block.kind == BlockKind::Credit { "~" } else { "" };
                format!("{mark}{}", block.text().replace('\n', " "))
            };
            assert_eq!(draft.blocks.iter().map(shown).collect::<Vec<_>>(), wanted, "{source:?}");
            for block in &draft.blocks {
                let mut done = 0;
                for (at, letter) in block.text().char_indices().filter(|(_, letter)| !letter.is_whitespace()) {
                    let span = block.span(at..at + letter.len_utf8());
                    assert_eq!(&source[span.start..span.end], letter.to_string(), "{source:?}");
                    assert!(span.start >= done, "{source:?}");
                    done = span.end;
                }
            }
        }
    }

    #[test]
    fn a_credit_may_stand_in_one_line_with_its_quote() {
        check(&["“A tide.” — Ida Voss, The Gull"], &["“A tide.”", "~— Ida Voss, The Gull"]);
        check(
            &["\"Twice!\"—Per Lund", "“A tide.” – Ida Voss"],
            &["\"Twice!\"", "~—Per Lund", "“A tide.”", "~– Ida Voss"],
        );
        // Speech that goes on, and a sentence behind speech, are of the quote.
        check(&["“No,” — she said, and laughed."], &["“No,” — she said, and laughed."]);
        check(&["“Stop!” — Oona ran to the stair."], &["“Stop!” — Oona ran to the stair."]);
    }

    #[test]
    fn a_credit_ends_its_quote() {
        check(
            &["\"A tide of a book.\"", "— Ida Voss", "\"I read it twice.\"", "— Per Lund"],
            &["\"A tide of a book.\"", "~— Ida Voss", "\"I read it twice.\"", "~— Per Lund"],
        );
        for dash in ["—", "–", "―", "--"] {
            let credit = |name: &str| format!("{dash} {name}");
            check(
                &["A tide of a book.", &credit("Ida Voss"), "I read it twice.", "And again.", &credit("Per Lund")],
                &[
                    "A tide of a book.",
                    &format!("~{}", credit("Ida Voss")),
                    "I read it twice. And again.",
                    &format!("~{}", credit("Per Lund")),
                ],
            );
        }
        check(&["“Bright", "and salt.”", "— Ida Voss", "“Bold.”"], &["“Bright and salt.”", "~— Ida Voss", "“Bold.”"]);
        check(&["Bright.", "— Ida Voss", "Bold as brass."], &["Bright.", "~— Ida Voss", "Bold as brass."]);
        check(&["“One", "— Ida Voss", "“Two", "— Per Lund"], &["“One", "~— Ida Voss", "“Two", "~— Per Lund"]);
        check(&["One.", "— Ida Voss", "— Per Lund"], &["One.", "~— Ida Voss", "~— Per Lund"]);
    }

    #[test]
    fn a_standing_may_take_several_lines() {
        check(
            &["“Salt.”", "— Ida Voss,", "keeper of the tide tables", "“Bold.”", "— Per Lund"],
            &["“Salt.”", "~— Ida Voss, keeper of the tide tables", "“Bold.”", "~— Per Lund"],
        );
        check(
            &["“Salt.”", "— Ida Voss", "Harbour Gazette", "“Bold.”"],
            &["“Salt.”", "~— Ida Voss Harbour Gazette", "“Bold.”"],
        );
        check(&["Salt.", "— Ida Voss", "Harbour Gazette"], &["Salt.", "~— Ida Voss Harbour Gazette"]);
        check(&["Salt.", "— Ida Voss, author of", "“Low Water”"], &["Salt.", "~— Ida Voss, author of “Low Water”"]);
    }

    #[test]
    fn a_dash_inside_a_quote_is_no_credit() {
        check(
            &["— Who rang the bell?", "— Nobody, said the tide.", "— Ida Voss"],
            &["— Who rang the bell? — Nobody, said the tide.", "~— Ida Voss"],
        );
        check(
            &["“A bell that never rests", "— nor its ringer.”", "— Ida Voss"],
            &["“A bell that never rests — nor its ringer.”", "~— Ida Voss"],
        );
        check(
            &["“A bell that never rests", "— And what a ringer", "it has.”", "— Ida Voss", "“Bold.”"],
            &["“A bell that never rests — And what a ringer it has.”", "~— Ida Voss", "“Bold.”"],
        );
        check(
            &["A bell that rests", "— but never for long", "at a time.", "— Ida Voss"],
            &["A bell that rests — but never for long at a time.", "~— Ida Voss"],
        );
        check(&["— Who rang?"], &["— Who rang?"]);
    }

    #[test]
    fn empty_lines_part_quotes_and_join_a_credit_to_its_own() {
        let read = |source: &str| -> Vec<(BlockKind, String)> {
            Draft::read(source).blocks.iter().map(|block| (block.kind, block.text().to_owned())).collect()
        };
        use BlockKind::{Credit, Quote};
        let wanted = [(Quote, "“Salt.”"), (Credit, "— Ida"), (Quote, "“Bold.”"), (Credit, "— Per")]
            .map(|(kind, text)| (kind, text.to_owned()));
        for source in [
            "> “Salt.”\n>\n> — Ida\n>\n> “Bold.”\n>\n> — Per\n",
            "> “Salt.”\n> — Ida\n\n> “Bold.”\n> — Per\n",
            "> “Salt.”\n>\n> — Ida\n> “Bold.”\n> — Per\n",
            "> “Salt.”\n\n> — Ida\n\n> “Bold.”\n\n> — Per\n",
            "## Quote\n\n“Salt.”\n— Ida\n“Bold.”\n— Per\n",
        ] {
            assert_eq!(read(source), wanted, "{source:?}");
        }
        for between in ["A tide.\n\n", "## Quote\n\n", "# Salt\n\n", "> — Per\n\n"] {
            let blocks = read(&format!("> “Salt.”\n\n{between}> — Ida\n"));
            assert_eq!(blocks.last(), Some(&(Quote, "— Ida".to_owned())), "{between:?}");
        }
    }
}
