//! Patterns of names, such as `*.md`: `*` is any letters and `?` is one. Where no shell expands them, the program does,
//! as shells do elsewhere.
//!
//! Source: POSIX, Shell Command Language, section 2.13, Pattern Matching Notation; without its brackets, which names on
//! Windows may have.

use std::fs;
use std::path::{Component, Path, PathBuf};

/// What a path with patterns stands for, in the order of the names; the path itself where it has none or nothing is
/// found.
pub fn expanded(path: &Path) -> Vec<PathBuf> {
    let mut found = vec![PathBuf::new()];
    let mut has_pattern = false;
    for part in path.components() {
        match pattern_of(part) {
            Some(pattern) => {
                has_pattern = true;
                found = found.iter().flat_map(|folder| matching(folder, pattern)).collect();
            }
            None => found.iter_mut().for_each(|path| path.push(part)),
        }
    }
    found.retain(|path| path.exists());
    if has_pattern && !found.is_empty() { found } else { vec![path.to_path_buf()] }
}

fn pattern_of(part: Component<'_>) -> Option<&str> {
    let Component::Normal(name) = part else { return None };
    name.to_str().filter(|name| name.contains(['*', '?']))
}

/// The entries of a folder whose names a pattern takes. Hidden ones are passed over, unless the pattern has their dot.
fn matching(folder: &Path, pattern: &str) -> Vec<PathBuf> {
    let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    // What cannot be listed has nothing to be found, as for a shell.
    let Ok(entries) = fs::read_dir(here) else { return Vec::new() };
    let names = entries.flatten().filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| takes(pattern, name)).collect();
    names.sort_by_cached_key(|name| (name.to_lowercase(), name.clone()));
    names.into_iter().map(|name| folder.join(name)).collect()
}

/// Whether a pattern takes a name, in capital or small letters.
fn takes(pattern: &str, name: &str) -> bool {
    let is_hidden = name.starts_with('.') && !pattern.starts_with('.');
    let letters = |text: &str| text.to_lowercase().chars().collect::<Vec<char>>();
    !is_hidden && takes_letters(&letters(pattern), &letters(name))
}

fn takes_letters(pattern: &[char], name: &[char]) -> bool {
    let (mut at, mut taken) = (0, 0);
    // The last `*`, and how much of the name it has taken.
    let mut star: Option<(usize, usize)> = None;
    while taken < name.len() {
        match pattern.get(at) {
            Some('*') => {
                star = Some((at, taken));
                at += 1;
            }
            Some(sign) if *sign == '?' || *sign == name[taken] => (at, taken) = (at + 1, taken + 1),
            _ => {
                let Some((place, end)) = &mut star else { return false };
                *end += 1;
                (at, taken) = (*place + 1, *end);
            }
        }
    }
    pattern[at..].iter().all(|sign| *sign == '*')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_star_takes_any_letters_and_a_question_mark_one() {
        for (pattern, name) in [
            ("*.md", "first.md"),
            ("*", "first.md"),
            ("f*t*.m?", "first.md"),
            ("*lamp*", "The Lamp.md"),
            ("second ?.md", "second 2.md"),
            (".*", ".hidden"),
            ("*ab", "aab"),
            ("[1]*", "[1] first.md"),
            ("É*", "école.md"),
        ] {
            assert!(takes(pattern, name), "{pattern} {name}");
        }
        for (pattern, name) in
            [("*.md", "first.txt"), ("*.md", ".hidden.md"), ("?.md", ".md"), ("?", ""), ("a*b", "ac"), ("*.md", "md")]
        {
            assert!(!takes(pattern, name), "{pattern} {name}");
        }
    }

    #[test]
    fn a_pattern_stands_for_what_is_there_in_the_order_of_names() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name);
        for name in ["second.md", "First.md", "third.txt", ".hidden.md", "b/first.md", "a/first.md", "c/other.md"] {
            fs::create_dir_all(at(name).parent().expect("a folder")).expect("a folder");
            fs::write(at(name), "x").expect("written");
        }
        assert_eq!(expanded(&at("*.md")), ["First.md", "second.md"].map(at));
        assert_eq!(expanded(&at("*/first.md")), ["a/first.md", "b/first.md"].map(at));
        assert_eq!(expanded(&at("?/*.md")), ["a/first.md", "b/first.md", "c/other.md"].map(at));
        for name in ["*.odt", "second.md", "nowhere.md", "d/*.md"] {
            assert_eq!(expanded(&at(name)), [at(name)], "{name}");
        }
    }
}
