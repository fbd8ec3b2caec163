//! Lays the list of English words and their syllables out as the table that the program carries, and takes in the
//! other lists of words that are there.
//!
//! The list of syllables is 1.2 MB of text and stays readable in `wordlists/`. The table is looked up as it lies, so that nothing is
//! built when the program starts; what the lists say of each word by their rules is settled here, by the program's own code.

use std::cmp::Reverse;
use std::collections::{BTreeSet, HashMap, HashSet};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use level::familiar::{FamiliarWords, WordList, forms_of};
use level::gunning::is_hard;
use text::spelling::{BUCKET, Spelling, Table, WordMark};

// The files of the program that live here too.
#[allow(dead_code, unreachable_pub, reason = "the program needs more of them")]
mod text {
    pub(crate) mod inflections;
    pub(crate) mod spelling;
}
#[allow(dead_code, unreachable_pub, reason = "the program needs more of them")]
mod level {
    pub(crate) mod familiar;
    pub(crate) mod gunning;
}

/// Where the lists are.
const FOLDER: &str = "wordlists";
const SYLLABLES: &str = "cmudict-syllables.txt";
const FREQUENCIES: &str = "word-frequencies.txt";
const DALE_CHALL: &str = "dale-chall.txt";
const SPACHE: &str = "spache.txt";
const ABBREVIATIONS: &str = "abbreviations.txt";
/// The lists that the program takes in as they are; it can do without any of them, and then says that it is missing.
const TAKEN_IN: [&str; 27] = [
    "abbreviations.txt",
    "adjectives.txt",
    "bare-claims.txt",
    "dale-chall.txt",
    "doublets.txt",
    "empty-modifiers.txt",
    "function-words.txt",
    "gradable-words.txt",
    "hidden-verbs.txt",
    "irregular-forms.txt",
    "level-spread.txt",
    "name-signs.txt",
    "participles-done.txt",
    "participles-states.txt",
    "plot-endings.txt",
    "praise.txt",
    "sentence-openers.txt",
    "spache.txt",
    "speech-verbs.txt",
    "standings.txt",
    "stock-phrases.txt",
    "syllable-patterns.txt",
    "tired-words.txt",
    "verbs.txt",
    "weak-openings.txt",
    "word-frequencies.txt",
    "wordy-phrases.txt",
];
/// The files whose code this script shares.
const SHARED: [&str; 5] = ["build", "text/inflections", "text/spelling", "level/familiar", "level/gunning"];

/// Words with a number each, from a list.
type Words = HashMap<String, u32>;

fn main() -> Result<(), Box<dyn Error>> {
    for file in SHARED {
        println!("cargo::rerun-if-changed=src/{file}.rs");
    }
    println!("cargo::rerun-if-changed={FOLDER}");
    let target = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo names no OUT_DIR")?);
    for file in TAKEN_IN {
        fs::write(target.join(file), read_if_there(file)?)?;
    }
    let mut missing = TAKEN_IN.to_vec();
    missing.push(SYLLABLES);
    missing.retain(|file| !Path::new(FOLDER).join(file).exists());
    for file in &missing {
        println!("cargo::warning={FOLDER}/{file} is not there; the program is built without it");
    }
    fs::write(target.join("missing.txt"), missing.join("\n"))?;
    let words = words_of(&read_if_there(SYLLABLES)?)?;
    let [dale_chall, spache] =
        [read_if_there(DALE_CHALL)?, read_if_there(SPACHE)?].map(|list| FamiliarWords::read(&list));
    fs::write(target.join("dictionary"), lay_out(&words, dale_chall.as_ref(), spache.as_ref())?)?;
    Ok(())
}

/// The text of a list; empty where its file was taken away.
fn read_if_there(file: &str) -> io::Result<String> {
    match fs::read_to_string(Path::new(FOLDER).join(file)) {
        Err(fault) if fault.kind() == io::ErrorKind::NotFound => Ok(String::new()),
        read => read,
    }
}

fn words_of(list: &str) -> Result<Words, Box<dyn Error>> {
    let mut words = Words::new();
    for line in list.lines().filter(|line| !line.starts_with('#')) {
        let (word, syllables) = line.split_once(' ').ok_or_else(|| format!("{SYLLABLES}: no count in \"{line}\""))?;
        words.insert(word.to_owned(), syllables.parse()?);
    }
    Ok(words)
}

/// What may be familiar by either list, of letters and hyphens alone.
fn possible_forms() -> io::Result<BTreeSet<String>> {
    let lists = [DALE_CHALL, SPACHE].map(read_if_there);
    let mut forms: BTreeSet<String> = ('a'..='z').map(String::from).collect();
    for list in lists {
        let list = list?.to_ascii_lowercase();
        let words = list.lines().filter(|line| !line.starts_with('#')).map(|line| line.trim().trim_end_matches('.'));
        forms.extend(words.flat_map(forms_of));
    }
    forms.retain(|form| !form.is_empty() && form.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'));
    Ok(forms)
}

/// The tables of spellings, eight bytes each; nought where there is none.
fn lay_out(
    words: &Words,
    dale_chall: Option<&FamiliarWords>,
    spache: Option<&FamiliarWords>,
) -> Result<Vec<u8>, Box<dyn Error>> {
    let frequencies = words_of(&read_if_there(FREQUENCIES)?)?;
    let abbreviations = read_if_there(ABBREVIATIONS)?.to_ascii_lowercase();
    let entries = abbreviations.lines().filter(|line| !line.starts_with('#'));
    let abbreviations: HashSet<&str> = entries.filter_map(|line| line.split(' ').next()).collect();
    let syllables_of = |word: &str| words.get(word).copied();
    let mut dictionary = vec![0_u64; Table::OTHERS.end()];
    let mut ordered: Vec<(&str, u32)> = words.iter().map(|(word, syllables)| (word.as_str(), *syllables)).collect();
    ordered.sort_unstable_by_key(|(word, _)| (Reverse(frequencies.get(*word)), word.len(), *word));
    let forms = possible_forms()?;
    // The dictionary has no syllables of these; they stand in it for their marks alone.
    let others = forms.iter().filter(|form| !words.contains_key(*form)).map(|form| (form.as_str(), 0));
    for (word, syllables) in ordered.into_iter().chain(others) {
        let is_familiar = |words: Option<&FamiliarWords>, list| {
            words.is_some_and(|words| words.is_familiar(word, list, syllables_of))
        };
        let marks = [
            (WordMark::FamiliarToDaleChall, is_familiar(dale_chall, WordList::DaleChall)),
            (WordMark::FamiliarToSpache, is_familiar(spache, WordList::Spache)),
            (WordMark::Hard, is_hard(word, syllables, dale_chall, syllables_of)),
            (WordMark::Abbreviation, abbreviations.contains(word)),
        ];
        if syllables == 0 && !marks.iter().any(|(_, holds)| *holds) {
            continue;
        }
        let marks = marks.into_iter().filter(|(_, holds)| *holds).map(|(mark, _)| mark);
        let spelling = Spelling::unlisted(word).listed(u64::from(syllables), marks);
        let key = spelling.key();
        // A common word whose place is taken is one of the others.
        let common = frequencies.contains_key(word).then(|| Table::COMMON.place(key, 0));
        let buckets = (0..Table::OTHERS.buckets()).map(|tries| Table::OTHERS.place(key, tries));
        let others = buckets.flat_map(|first| first..first + BUCKET);
        let place = common
            .into_iter()
            .chain(others)
            .map(|place| (place, dictionary[place]))
            .find(|(_, there)| [0, key].contains(&Spelling(*there).key()));
        let (place, _) = place
            .filter(|(_, there)| *there == 0)
            .ok_or_else(|| format!("{SYLLABLES}: \"{word}\" has no place of its own"))?;
        dictionary[place] = spelling.0;
    }
    Ok(dictionary.into_iter().flat_map(u64::to_le_bytes).collect())
}
