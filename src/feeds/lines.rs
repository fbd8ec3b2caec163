//! The lines of an input, each of bounded length, so that no input fills the memory.

use std::io::{self, BufRead, Read};

/// The most bytes of a line: the copy of a back cover has about a thousandth of that.
pub const LONGEST_LINE: usize = 1 << 20;

/// A line of an input.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InputLine {
    /// The bytes of the line, without its ending.
    Bytes(Vec<u8>),
    /// A line of more than [`LONGEST_LINE`] bytes, which were passed over.
    TooLong,
}

/// Reads the next line; none at the end of the input.
///
/// # Errors
///
/// The input's own error.
pub fn next_line(input: &mut impl BufRead) -> io::Result<Option<InputLine>> {
    let mut bytes = Vec::new();
    // One byte more than a line may have, and its ending.
    input.by_ref().take(LONGEST_LINE as u64 + 1).read_until(b'\n', &mut bytes)?;
    if bytes.is_empty() {
        return Ok(None);
    }
    if bytes.ends_with(b"\n") {
        bytes.pop();
    } else if bytes.len() > LONGEST_LINE {
        pass_over_line(input)?;
        return Ok(Some(InputLine::TooLong));
    }
    Ok(Some(InputLine::Bytes(bytes)))
}

/// Reads to the end of the line that is open, and keeps nothing of it.
fn pass_over_line(input: &mut impl BufRead) -> io::Result<()> {
    loop {
        let (passed, is_end) = match input.fill_buf() {
            Ok([]) => return Ok(()),
            Ok(bytes) => match bytes.iter().position(|byte| *byte == b'\n') {
                Some(at) => (at + 1, true),
                None => (bytes.len(), false),
            },
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        input.consume(passed);
        if is_end {
            return Ok(());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{InputLine, LONGEST_LINE, next_line};

    fn lines(mut input: &[u8]) -> Vec<InputLine> {
        std::iter::from_fn(|| next_line(&mut input).unwrap()).collect()
    }

    #[test]
    fn a_line_ends_at_its_ending_or_with_the_input() {
        let bytes = |text: &str| InputLine::Bytes(text.as_bytes().to_vec());
        assert_eq!(lines(b"a\n\nb"), [bytes("a"), bytes(""), bytes("b")]);
        assert_eq!(lines(b"a\r\n"), [bytes("a\r")]);
        assert_eq!(lines(b""), []);
    }

    #[test]
    fn a_line_that_is_too_long_is_passed_over_and_the_next_is_read() {
        let longest = vec![b'a'; LONGEST_LINE];
        let input = [&longest[..], b"\n", &longest, b"a\nb\n", &longest, b"aa"].concat();
        let b = InputLine::Bytes(b"b".to_vec());
        let found = lines(&input);
        assert_eq!(found[0], InputLine::Bytes(longest));
        assert_eq!(found[1..], [InputLine::TooLong, b, InputLine::TooLong]);
    }
}
