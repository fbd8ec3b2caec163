//! Lines that are meant as lines: short ones that begin with capitals, as verse has and prose that is wrapped has not.

/// The most characters in most lines of verse; common practice.
const LONG: usize = 60;
/// At most one line in so many is longer, as one among several may be; common practice.
const LONG_IN: usize = 4;
/// The most characters in any line of verse; common practice.
const LONGEST: usize = 90;
/// At most one line in so many begins without a capital.
const SMALL_IN: usize = 4;
/// So many lines in a row that all begin with a capital do so by no accident.
const STANZA: usize = 4;
/// What most lines of verse end with; of prose that is wrapped few lines do.
const STOPS: [char; 14] = ['.', ',', ';', ':', '!', '?', '…', '—', '–', '-', '”', '"', '’', '\''];

/// Whether lines that the author has ended are verse: two or more, of which at least three in four have at most 60
/// characters, none has more than 90, and at least three in four begin with a capital. Rhyme is not required, since the
/// sounds of many words are on no list.
pub fn are_verse<'a>(lines: impl Iterator<Item = &'a str>) -> bool {
    let (mut count, mut small, mut long) = (0, 0, 0);
    for line in lines.filter(|line| line.contains(char::is_alphabetic)) {
        let length = line.chars().count();
        if length > LONGEST {
            return false;
        }
        count += 1;
        long += usize::from(length > LONG);
        small += usize::from(!line.chars().find(|c| c.is_alphanumeric()).is_some_and(char::is_uppercase));
    }
    count > 1 && small * SMALL_IN <= count && long * LONG_IN <= count
}

/// Whether lines that only the file has, and which are printed as one paragraph, look like verse: prose that is wrapped
/// may begin a line with a name by chance, so half the lines but the last must end with a stop too, or four lines or
/// more begin with a capital, each of them.
pub(super) fn look_like_verse(text: &str, line_starts: &[usize]) -> bool {
    let ends = line_starts.iter().copied().chain([text.len()]);
    let starts = [0].into_iter().chain(line_starts.iter().copied());
    let lines: Vec<&str> = starts.zip(ends).filter_map(|(start, end)| Some(text.get(start..end)?.trim())).collect();
    let Some((_, before)) = lines.split_last() else { return false };
    let stopped = before.iter().filter(|line| line.ends_with(STOPS)).count();
    let is_capital = |line: &&str| line.chars().find(|c| c.is_alphanumeric()).is_some_and(char::is_uppercase);
    let is_stopped = stopped > 0 && stopped * 2 >= before.len();
    (is_stopped || (lines.len() >= STANZA && lines.iter().all(is_capital))) && are_verse(lines.iter().copied())
}

#[cfg(test)]
mod tests {
    use crate::draft::Draft;

    const VERSE: &str = "Good dog Biscuit sits when told.\nBad dog Duke ate Grandma's gold.\nExtremely bad dog Mabel \
                         Brown\nHas just been voted Mayor of Town.\n";

    #[test]
    fn verse_that_is_run_together_is_told_once_and_known() {
        for before in ["", "# Good dog\n\n", "Some *prose*.\n\n"] {
            let draft = Draft::read(&format!("{before}{VERSE}"));
            let [note] = &draft.notes[..] else { panic!("{:?}", draft.notes) };
            assert!(note.text.contains("backslash"), "{}", note.text);
            assert_eq!(note.span.start, before.len());
            let block = draft.blocks.last();
            assert!(block.is_some_and(|block| block.is_run_together() && block.text().contains("told. Bad")));
        }
    }

    #[test]
    fn a_stanza_without_stops_at_its_lines_is_told_as_the_others_are() {
        let stanza = "The lamp at Gull Point\nHas gone out in the night\nAnd nobody, nobody\nIs lighting the light.\n";
        let draft = Draft::read(&format!("{stanza}\n{VERSE}\n{stanza}"));
        assert_eq!(draft.notes.len(), 3, "{:?}", draft.notes);
        assert!(draft.notes.iter().all(|note| note.text.contains("Alt-Enter")));
    }

    #[test]
    fn a_backslash_that_ends_no_line_is_told() {
        for (text, is_told) in [
            ("Good dog.\\\n\nBad dog.", true),
            ("> Good dog.\\\n", true),
            ("Good dog.\\\nBad dog.\\", true),
            ("Good dog.\\\nBad dog.", false),
            ("A sign: `x\\`\n", false),
            ("Good dog.\\\\", false),
        ] {
            let notes = Draft::read(text).notes;
            assert_eq!(notes.iter().any(|note| note.text.contains("backslash")), is_told, "{text:?}: {notes:?}");
        }
    }

    #[test]
    fn a_line_whose_backslash_was_forgotten_is_told_by_its_place() {
        let ended = VERSE.trim_end().replace('\n', "\\\n");
        for forgotten in 0..3 {
            let mut lines: Vec<&str> = ended.lines().collect();
            let line = lines[forgotten].trim_end_matches('\\');
            lines[forgotten] = line;
            let source = lines.join("\n");
            let draft = Draft::read(&source);
            let [note] = &draft.notes[..] else { panic!("{:?}", draft.notes) };
            assert!(note.text.contains("backslash"), "{}", note.text);
            assert_eq!(&source[note.span.start..note.span.end], line);
        }
        let wrapped = "She had never seen the sea.\\\nAnd her brother had told her nothing of it, not once in all the\n\
                       years that she had asked.";
        assert!(Draft::read(wrapped).notes.is_empty());
    }

    #[test]
    fn one_long_line_among_several_does_not_make_verse_prose() {
        let long = "And nobody on the whole of the long grey shore had ever so much as seen him";
        assert!((61..=90).contains(&long.len()));
        let verse = ["The tide comes in", "The tide goes out", "And Wren has gone", long];
        assert!(super::are_verse(verse.into_iter()));
        assert!(!super::are_verse(verse.into_iter().skip(1)));
        assert!(!super::are_verse(verse.into_iter().map(|line| if line == long { VERSE } else { line })));
    }

    #[test]
    fn lines_that_are_ended_and_prose_that_is_wrapped_are_not_told() {
        for text in [
            &VERSE.trim_end().replace('\n', "\\\n"),
            "Oona keeps the lamp at Gull Point, and one night\nit goes out. Who will light it before the\nstorm \
             comes? Oona, and\nQuillon.",
            "She had never seen the sea, and her brother\nQuillon had never told her.",
            "Good dog.",
            "",
        ] {
            let draft = Draft::read(text);
            assert!(draft.notes.is_empty(), "{:?}", draft.notes);
            assert!(draft.blocks.iter().all(|block| !block.is_run_together()), "{text}");
        }
    }
}
