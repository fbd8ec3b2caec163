//! Comments that begin a line of a draft: what stands in them, and how one is written without touching what is printed.

use std::ops::Range;

use super::block::Span;
use super::edits::{Edit, edited};
use super::version::{Comment, Draft};

/// What opens a comment, and what ends it.
pub(super) const OPENS: &str = "<!--";
const ENDS: &str = "-->";

/// The comments of a stretch of the file that begins with one and ends with the line on which a comment ends; and the
/// words that stand on that line behind them, as a range of the stretch. `start` is the byte of the file at which the
/// stretch begins.
pub(super) fn read(stretch: &str, start: usize) -> (Vec<Comment>, Option<Range<usize>>) {
    let mut comments = Vec::new();
    let mut at = stretch.len() - stretch.trim_start().len();
    // The opening mark may share its dashes with the closing one, so that `<!-->` is a comment without words.
    while stretch[at..].starts_with(OPENS)
        && let Some(end) = stretch[at + 2..].find(ENDS).map(|end| at + 2 + end)
    {
        let inside = stretch.get(at + OPENS.len()..end).unwrap_or_default();
        let span = Span { start: start + at, end: start + end + ENDS.len() };
        comments.push(Comment { span, text: said(inside) });
        at = end + ENDS.len();
        at += stretch[at..].len() - stretch[at..].trim_start().len();
    }
    let behind = at..at + stretch[at..].trim_end().len();
    (comments, Some(behind).filter(|behind| !behind.is_empty()))
}

/// What the words between the marks of a comment say.
fn said(inside: &str) -> String {
    let lines = inside.replace("\r\n", "\n").replace('\r', "\n");
    let text = lines.trim();
    let (mut said, mut done) = (String::with_capacity(text.len()), 0);
    for (at, slashes) in ends(text).filter(|(_, slashes)| *slashes > 0) {
        said.push_str(&text[done..at - slashes]);
        said.push_str(&"\\".repeat(slashes - 1));
        done = at;
    }
    said + &text[done..]
}

/// The words as they stand in a comment: a backslash goes into what would end it.
fn written(words: &str) -> String {
    let (mut text, mut done) = (String::with_capacity(words.len()), 0);
    for (at, _) in ends(words) {
        text.push_str(&words[done..at]);
        text.push('\\');
        done = at;
    }
    text + &words[done..]
}

/// Where `>` ends a comment, or would without the backslashes before it, and how many these are.
fn ends(words: &str) -> impl Iterator<Item = (usize, usize)> {
    words.match_indices('>').filter_map(|(at, _)| {
        let before = words[..at].trim_end_matches('\\');
        before.ends_with("--").then(|| (at, at - before.len()))
    })
}

/// The changes of a file that write a comment of the given words (see [`Comment::text`]) and leave alone all that is
/// printed and every other comment: in the place of the comment `old`; else behind the comment `behind`; else at the
/// end; else, where something is left open there, at the beginning. None where the file has no such place.
pub fn comment_edits(source: &str, words: &str, old: Option<Span>, behind: Option<Span>) -> Option<Vec<Edit>> {
    let draft = Draft::read(source);
    let lines = if words.contains('\n') { "\n" } else { " " };
    let comment = format!("{OPENS} {}{lines}{ENDS}", written(words));
    let edit = |start: usize, end: usize, text: String| Edit { span: Span { start, end }, text };
    let gone: Vec<Edit> = old.iter().map(|old| edit(old.start, old.end, String::new())).collect();
    let apart = match source {
        source if source.trim().is_empty() || source.ends_with("\n\n") => "",
        source if source.ends_with('\n') => "\n",
        _ => "\n\n",
    };
    let head = source.len() - source.trim_start_matches('\u{feff}').len();
    let in_place = old.map(|old| vec![edit(old.start, old.end, comment.clone())]);
    let added = [
        behind.map(|behind| edit(behind.end, behind.end, format!("\n\n{comment}"))),
        Some(edit(source.len(), source.len(), format!("{apart}{comment}\n"))),
        Some(edit(head, head, format!("{comment}\n\n"))),
    ];
    let added = added.into_iter().flatten().map(|edit| gone.iter().cloned().chain([edit]).collect::<Vec<_>>());
    let mut expected: Vec<&str> = said_but(&draft, old);
    expected.push(words);
    expected.sort_unstable();
    in_place.into_iter().chain(added).find(|edits| {
        let changed = Draft::read(&edited(source, edits));
        let mut comments = said_but(&changed, None);
        comments.sort_unstable();
        comments == expected && changed.prints_like(&draft) && is_noted_alike(&changed, &draft)
    })
}

/// What the comments of a draft say, without the one at a place.
fn said_but(draft: &Draft, old: Option<Span>) -> Vec<&str> {
    let others = draft.comments.iter().filter(|comment| Some(comment.span) != old);
    others.map(|comment| comment.text.as_str()).collect()
}

fn is_noted_alike(one: &Draft, other: &Draft) -> bool {
    let notes = |draft: &Draft| draft.notes.iter().map(|note| note.text.clone()).collect::<Vec<_>>();
    notes(one) == notes(other) && one.rules == other.rules
}

#[cfg(test)]
mod tests {
    use super::{comment_edits, said, written};
    use crate::draft::{Draft, edited};

    #[test]
    fn what_would_end_a_comment_has_a_backslash_in_the_file() {
        for (words, file) in [
            ("a --> b", "a --\\> b"),
            ("a --\\> b", "a --\\\\> b"),
            ("--->", "---\\>"),
            ("-> > \\>", "-> > \\>"),
            ("a\n-->\nb", "a\n--\\>\nb"),
        ] {
            assert_eq!((written(words).as_str(), said(file).as_str()), (file, words));
        }
    }

    /// CommonMark 0.31, 4.6: a line that begins with `<!--` opens a stretch that ends with the line that holds `-->`.
    #[test]
    fn comments_that_begin_a_line_are_read() {
        let check = |source: &str, expected: &[&str], notes: usize| {
            let draft = Draft::read(source);
            let texts: Vec<&str> = draft.comments.iter().map(|comment| comment.text.as_str()).collect();
            assert_eq!((texts.as_slice(), draft.notes.len()), (expected, notes), "{source:?}");
            for comment in &draft.comments {
                let file = &source[comment.span.start..comment.span.end];
                assert!(file.starts_with("<!--") && file.ends_with("-->"), "{file}");
            }
        };
        check("Lamp.\n\n<!-- One.\n\n<b>Two.\n<br>\n-->\n", &["One.\n\n<b>Two.\n<br>"], 0);
        check("Lamp.\n<!--a-->  <!-- b -->\n\nOil.", &["a", "b"], 0);
        check("\u{feff}<!-- a\r\nb -->\r\nLamp.\r\n", &["a\nb"], 0);
        check("<!-->\n\n<!--->\n", &["", ""], 0);
        check("The <!-- a --> lamp.\n\n> <!-- b -->\n\n- <!-- c -->\n", &[], 0);
        check("<!-- a --> The lamp.\n", &["a"], 1);
        check("Lamp.\n\n<!-- a\n", &[], 1);
        check("    <!-- code -->\n", &[], 0);
    }

    #[test]
    fn a_comment_is_put_where_it_changes_nothing_else() {
        for (source, expected) in [
            ("", "<!-- a -->\n"),
            ("Lamp.", "Lamp.\n\n<!-- a -->\n"),
            ("Lamp.\n", "Lamp.\n\n<!-- a -->\n"),
            ("- Lamp.\n", "- Lamp.\n\n<!-- a -->\n"),
            ("Lamp.\n\n<!-- open\n", "<!-- a -->\n\nLamp.\n\n<!-- open\n"),
            ("```\nLamp.\n", "<!-- a -->\n\n```\nLamp.\n"),
        ] {
            let edits = comment_edits(source, "a", None, None).unwrap();
            assert_eq!(edited(source, &edits), expected);
        }
        let two = "Lamp.\n\n<!-- a --> <!-- b -->\n\nOil.\n";
        let span = Draft::read(two).comments[1].span;
        let replaced = |words: &str| edited(two, &comment_edits(two, words, Some(span), None).unwrap());
        assert_eq!(replaced("c"), "Lamp.\n\n<!-- a --> <!-- c -->\n\nOil.\n");
        assert_eq!(replaced("c\nd"), "Lamp.\n\n<!-- a --> \n\nOil.\n\n<!-- c\nd\n-->\n");
    }
}
