//! What the YAML parser finds wrong, in words for an author.
//!
//! The parser (serde_yaml) reports a problem only as a message, so a problem is recognised by a part of the message:
//! here and nowhere else.

/// The message for a document whose aliases unfold to too many values.
pub(super) const UNFOLDS: &str = "names for repeated parts (& and *) make it far too long; write the parts out";

/// The message for a document that nests too deep.
pub(super) const TOO_DEEP: &str = "too many brackets or groups stand within each other; take some away";

const NOT_YAML: &str =
    "a line is a key, a colon, a space and its value; put a text that holds other signs in quotation marks";

/// A problem that the parser reports, and its words for an author.
struct ParserProblem {
    /// The part of the message by which the problem is known.
    sign: &'static str,
    /// The problem without the parser's vocabulary.
    told: &'static str,
    /// Whether the place inside the message, where something was opened, helps more than the place of the error.
    is_told_where_opened: bool,
}

const fn problem(sign: &'static str, told: &'static str) -> ParserProblem {
    ParserProblem { sign, told, is_told_where_opened: false }
}

const PARSER_PROBLEMS: [ParserProblem; 10] = [
    problem("repetition limit", UNFOLDS),
    problem("recursion limit", TOO_DEEP),
    problem("more than one document", "a line of --- stands within it, which begins another text; take that line away"),
    problem(
        "found character that cannot start any token",
        "a tab or a special sign begins a value here; take the tab away, or put the text in quotation marks",
    ),
    ParserProblem {
        // The parser finds only at the end of the file that something was never closed; the author needs the place
        // where it was opened.
        is_told_where_opened: true,
        ..problem(
            "found unexpected end of stream",
            "a quotation mark or bracket is opened here and never closed; add the closing one",
        )
    },
    problem("mapping values are not allowed", "there is one colon too many; put the text in quotation marks"),
    problem("did not find expected key", "a key was expected here; look at the indentation and at quotation marks"),
    problem("did not find expected ',' or", "a comma or a closing bracket is missing before this"),
    problem(
        "unknown anchor",
        "a value that begins with * names a part that is not there; put the text in quotation marks",
    ),
    problem("control characters are not allowed", "a sign that cannot be printed stands here; take it away"),
];

/// The place and the words for an author of an error that the parser has found by itself.
pub(super) fn told(error: &serde_yaml::Error) -> (Option<(usize, usize)>, String) {
    let problem = PARSER_PROBLEMS.iter().find(|problem| error.to_string().contains(problem.sign));
    let opened = problem.filter(|problem| problem.is_told_where_opened).and_then(|_| last_place(error));
    let place = opened.or_else(|| error.location().map(|place| (place.line(), place.column())));
    (place, problem.map_or(NOT_YAML, |problem| problem.told).to_owned())
}

/// The last `at line 2 column 10` of the parser's message: the parser gives the place where something was opened in no
/// other way.
fn last_place(error: &serde_yaml::Error) -> Option<(usize, usize)> {
    let message = error.to_string();
    let (_, place) = message.rsplit_once("at line ")?;
    let (line, column) = place.split_once(" column ")?;
    Some((line.parse().ok()?, column.parse().ok()?))
}

/// The message of an error without its place, which the parser adds at the end.
pub(super) fn without_place(error: &serde_yaml::Error) -> String {
    let message = error.to_string();
    let place = error.location().map(|place| format!(" at line {} column {}", place.line(), place.column()));
    place.and_then(|place| message.strip_suffix(&place)).unwrap_or(&message).to_owned()
}
