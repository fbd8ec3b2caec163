//! Reads Rust source as far as the house needs it: without comments and strings, by rooms and paths named, types and
//! functions.

/// The code with comments, strings and character literals blanked out; every line ending stands.
pub(super) fn bare(code: &str) -> String {
    let mut kept = String::with_capacity(code.len());
    let mut rest = code;
    while let Some(first) = rest.chars().next() {
        let skipped = skipped_length(rest, kept.chars().next_back());
        if skipped > 0 {
            kept.push(' ');
            kept.extend(rest[..skipped].matches('\n'));
            rest = &rest[skipped..];
        } else {
            kept.push(first);
            rest = &rest[first.len_utf8()..];
        }
    }
    kept
}

/// How many bytes at the start of `rest` are a comment or a literal; 0 where code stands.
fn skipped_length(rest: &str, before: Option<char>) -> usize {
    let in_word = before.is_some_and(|character| character.is_alphanumeric() || character == '_');
    if rest.starts_with("//") {
        rest.find('\n').unwrap_or(rest.len())
    } else if rest.starts_with("/*") {
        block_comment(rest)
    } else if rest.starts_with('"') {
        quoted(rest, '"')
    } else if !in_word && let Some(length) = raw_string(rest) {
        length
    } else if rest.starts_with('\'') && is_character(rest) {
        quoted(rest, '\'')
    } else {
        0
    }
}

/// Block comments nest.
fn block_comment(rest: &str) -> usize {
    let (mut depth, mut at) = (0, 0);
    while at < rest.len() {
        if rest[at..].starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest[at..].starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += rest[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    rest.len()
}

fn quoted(rest: &str, mark: char) -> usize {
    let mut escaped = false;
    for (at, character) in rest.char_indices().skip(1) {
        match character {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            _ if character == mark => return at + 1,
            _ => {}
        }
    }
    rest.len()
}

fn raw_string(rest: &str) -> Option<usize> {
    let after = rest.strip_prefix("br").or_else(|| rest.strip_prefix('r'))?;
    let hashes = after.len() - after.trim_start_matches('#').len();
    after[hashes..].strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(hashes));
    let start = rest.len() - after.len() + hashes + 1;
    Some(rest[start..].find(&end).map_or(rest.len(), |at| start + at + end.len()))
}

/// A quotation mark opens a character, not a lifetime, where the next but one closes it or a backslash follows.
fn is_character(rest: &str) -> bool {
    let mut after = rest.chars().skip(1);
    matches!((after.next(), after.next()), (Some('\\'), _) | (Some(_), Some('\'')))
}

/// The code with every module under `#[cfg(test)]` taken out, on whatever system.
pub(super) fn without_tests(bare: &str) -> String {
    const MARKS: [&str; 2] = ["#[cfg(test)]", "#[cfg(all(test, unix))]"];
    let mut kept = String::new();
    let mut rest = bare;
    while let Some((at, mark)) = MARKS.iter().filter_map(|mark| Some((rest.find(mark)?, mark))).min() {
        kept.push_str(&rest[..at]);
        let after = &rest[at + mark.len()..];
        let is_module = after.trim_start().starts_with("mod ");
        let end = after.find('{').filter(|_| is_module).map_or(0, |open| open + block_length(&after[open..]));
        rest = &after[end..];
    }
    kept + rest
}

/// The bytes from an opening brace to the brace that closes it.
fn block_length(from_brace: &str) -> usize {
    let mut depth = 0_usize;
    for (at, character) in from_brace.char_indices() {
        match character {
            '{' => depth += 1,
            '}' if depth == 1 => return at + 1,
            '}' => depth -= 1,
            _ => {}
        }
    }
    from_brace.len()
}

/// The rooms that bare code names by `crate::` or, from `depth` folders below the library, by as many `super::` as lead
/// up to it and one more.
pub(super) fn rooms_named(bare: &str, depth: usize) -> Vec<String> {
    let tokens = tokens(bare);
    let is = |at: usize, token: &str| tokens.get(at).is_some_and(|found| found == token);
    let mut rooms = Vec::new();
    for at in 0..tokens.len() {
        let leads_up = |step: usize| is(at + 2 * step, "super") && is(at + 2 * step + 1, "::");
        let goes_on = at >= 2 && is(at - 2, "super");
        if is(at, "crate") && is(at + 1, "::") {
            rooms.extend(first_names(&tokens[at + 2..]));
        } else if !goes_on && (0..=depth).all(leads_up) && !leads_up(depth + 1) {
            rooms.extend(first_names(&tokens[at + 2 * (depth + 1)..]));
        }
    }
    rooms
}

/// Every path of bare code that begins with `crate`, `super` or `self`, from there to its last name; one for each name
/// where a path ends in braces.
pub(super) fn paths(bare: &str) -> Vec<Vec<String>> {
    let tokens = tokens(bare);
    let mut paths = Vec::new();
    for at in 0..tokens.len() {
        let begins = matches!(tokens[at].as_str(), "crate" | "super" | "self");
        let goes_on = at > 0 && tokens[at - 1] == "::";
        if begins && !goes_on && tokens.get(at + 1).is_some_and(|token| token == "::") {
            add_paths(&tokens, at, &[], &mut paths);
        }
    }
    paths
}

/// Adds the paths that begin at a token, behind the names that lead to them, and gives the token behind them.
fn add_paths(tokens: &[String], mut at: usize, leading: &[String], paths: &mut Vec<Vec<String>>) -> usize {
    let mut names = leading.to_vec();
    while let Some(token) = tokens.get(at) {
        if token == "{" {
            at += 1;
            while tokens.get(at).is_some_and(|token| token != "}") {
                at = add_paths(tokens, at, &names, paths);
                at += usize::from(tokens.get(at).is_some_and(|token| token == ","));
            }
            return at + 1;
        }
        names.push(token.clone());
        at += 1;
        if tokens.get(at).is_none_or(|token| token != "::") {
            break;
        }
        at += 1;
    }
    // What follows a name in a list of imports is at most another name for it.
    if tokens.get(at).is_some_and(|token| token == "as") {
        at += 2;
    }
    paths.push(names);
    at
}

/// The names of the public types that bare code declares.
pub(super) fn public_types(bare: &str) -> Vec<String> {
    let tokens = tokens(bare);
    let is_type = |words: &&[String]| {
        words[0] == "pub" && matches!(words[1].as_str(), "struct" | "enum" | "union" | "trait" | "type")
    };
    tokens.windows(3).filter(is_type).map(|words| words[2].clone()).collect()
}

/// The name that a path goes on with, or the first name of each path inside its braces.
fn first_names(tokens: &[String]) -> Vec<String> {
    if tokens.first().is_none_or(|token| token != "{") {
        return tokens.first().cloned().into_iter().collect();
    }
    let mut names = Vec::new();
    let mut depth = 0;
    let mut fresh = false;
    for token in tokens {
        match token.as_str() {
            "{" => {
                depth += 1;
                fresh = depth == 1;
            }
            "}" if depth == 1 => break,
            "}" => depth -= 1,
            "," if depth == 1 => fresh = true,
            name if fresh => {
                names.push(name.to_owned());
                fresh = false;
            }
            _ => {}
        }
    }
    names
}

/// Words, `::` and single marks.
fn tokens(bare: &str) -> Vec<String> {
    let mut tokens: Vec<String> = Vec::new();
    let mut rest = bare.trim_start();
    while let Some(first) = rest.chars().next() {
        let is_word = |character: char| character.is_alphanumeric() || character == '_';
        let length = if is_word(first) {
            rest.find(|character| !is_word(character)).unwrap_or(rest.len())
        } else if rest.starts_with("::") {
            2
        } else {
            first.len_utf8()
        };
        tokens.push(rest[..length].to_owned());
        rest = rest[length..].trim_start();
    }
    tokens
}

/// Every function that has a body, with the lines between its braces.
pub(super) fn functions(bare: &str) -> Vec<(String, usize)> {
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(at) = bare[from..].find("fn ").map(|at| from + at) {
        from = at + 3;
        let in_word = bare[..at].ends_with(|character: char| character.is_alphanumeric() || character == '_');
        let name: String = bare[from..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        if in_word || name.is_empty() {
            continue;
        }
        if let Some(open) = body_start(&bare[from..]).map(|open| from + open) {
            let lines = bare[open..open + block_length(&bare[open..])].matches('\n').count();
            found.push((name, lines.saturating_sub(1)));
        }
    }
    found
}

/// The brace that opens a function's body; none where the function is only declared.
fn body_start(signature: &str) -> Option<usize> {
    let mut depth = 0;
    for (at, character) in signature.char_indices() {
        match character {
            '(' | '[' => depth += 1,
            ')' | ']' => depth -= 1,
            ';' if depth == 0 => return None,
            '{' if depth == 0 => return Some(at),
            _ => {}
        }
    }
    None
}
