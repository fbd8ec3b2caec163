//! Lays the list of English words and their syllables out as the dictionary that the program carries, and copies the
//! other lists of words to where the program includes them.
//!
//! The list of syllables is 1.2 MB of text and stays readable in `wordlists/`. The program looks words up in the bytes
//! of the dictionary as they are, so that nothing has to be built when the program starts. What the lists of familiar
//! words and of abbreviations say of each word is settled here, by the program's own rules, and stored with the word as
//! marks. The source files with these rules are compiled into this script and into the program.

use std::cmp::Reverse;
use std::collections::{BTreeSet, HashMap, HashSet};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use level::familiar::{FamiliarWords, WordList, forms_of};
use level::gunning::is_hard;
use miniz_oxide::deflate::compress_to_vec;
use text::spelling::{BUCKET, Spelling, SpellingTable, WordMark};

// The source files that this script shares with the program. They stand in modules of the same names as there, so that
// their paths to one another hold in both.
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

/// The folder of the lists.
const FOLDER: &str = "wordlists";
const SYLLABLES: &str = "cmudict-syllables.txt";
const FREQUENCIES: &str = "word-frequencies.txt";
const DALE_CHALL: &str = "dale-chall.txt";
const SPACHE: &str = "spache.txt";
const ABBREVIATIONS: &str = "abbreviations.txt";
/// The lists that the program includes as they are. The program works without any of them, and says which is missing.
const INCLUDED: [&str; 54] = [
    "abbreviations.txt",
    "adjectives.txt",
    "bare-claims.txt",
    "british-american.txt",
    "calls.txt",
    "dale-chall.txt",
    "doublets.txt",
    "empty-modifiers.txt",
    "empty-quotes.txt",
    "function-words.txt",
    "gradable-words.txt",
    "hidden-verbs.txt",
    "intensifiers.txt",
    "hyphened-words.txt",
    "irregular-forms.txt",
    "kindred-words.txt",
    "level-spread.txt",
    "misspellings.txt",
    "name-signs.txt",
    "participles-done.txt",
    "participles-states.txt",
    "parts-of-speech.txt",
    "plot-endings.txt",
    "praise-dutch.txt",
    "praise-french.txt",
    "praise-german.txt",
    "praise-italian.txt",
    "praise-spanish.txt",
    "praise.txt",
    "quotation-marks.txt",
    "rare-words.txt",
    "sentence-openers.txt",
    "spache.txt",
    "speech-verbs.txt",
    "standings.txt",
    "stock-phrases-dutch.txt",
    "stock-phrases-french.txt",
    "stock-phrases-german.txt",
    "stock-phrases-italian.txt",
    "stock-phrases-spanish.txt",
    "stock-phrases.txt",
    "syllable-patterns.txt",
    "tired-words.txt",
    "verbs.txt",
    "weak-openings.txt",
    "weak-verbs.txt",
    "word-frequencies.txt",
    "words-dutch.txt",
    "words-french.txt",
    "words-german.txt",
    "words-italian.txt",
    "words-spanish.txt",
    "wordy-phrases.txt",
    "wrong-wordings.txt",
];
/// The lists that the program includes in fewer bytes, and unpacks when they are first asked for.
const PACKED: [&str; 2] = ["other-words.txt", "plain-words.txt"];
/// The texts of the crates' licences, which the program includes in fewer bytes.
const LICENCES: &str = "src/cli/crate-licences.txt";
/// How much work is put into making a list smaller: the most.
const SMALLEST: u8 = 10;
/// The files whose code this script shares.
const SHARED: [&str; 5] = ["build", "text/inflections", "text/spelling", "level/familiar", "level/gunning"];

/// The words of a list, each with its number.
type NumberOfWord = HashMap<String, u32>;

fn main() -> Result<(), Box<dyn Error>> {
    for file in SHARED {
        println!("cargo::rerun-if-changed=src/{file}.rs");
    }
    println!("cargo::rerun-if-changed={FOLDER}");
    println!("cargo::rerun-if-changed={LICENCES}");
    let target = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo names no OUT_DIR")?);
    for file in INCLUDED {
        fs::write(target.join(file), read_if_there(file)?)?;
    }
    for file in PACKED {
        fs::write(target.join(file), compress_to_vec(read_if_there(file)?.as_bytes(), SMALLEST))?;
    }
    fs::write(target.join("crate-licences"), compress_to_vec(&fs::read(LICENCES)?, SMALLEST))?;
    let mut missing = INCLUDED.to_vec();
    missing.push(SYLLABLES);
    missing.extend(PACKED);
    missing.retain(|file| !Path::new(FOLDER).join(file).exists());
    for file in &missing {
        println!("cargo::warning={FOLDER}/{file} is not there; the program is built without it");
    }
    fs::write(target.join("missing.txt"), missing.join("\n"))?;
    fs::write(target.join("dictionary"), lay_out(&Entries::read()?)?)?;
    Ok(())
}

/// The text of a list; empty where its file was taken away.
fn read_if_there(file: &str) -> io::Result<String> {
    match fs::read_to_string(Path::new(FOLDER).join(file)) {
        Err(fault) if fault.kind() == io::ErrorKind::NotFound => Ok(String::new()),
        read => read,
    }
}

/// The words of a list and the number behind each.
fn read_numbers(file: &str) -> Result<NumberOfWord, Box<dyn Error>> {
    let mut words = NumberOfWord::new();
    for line in read_if_there(file)?.lines().filter(|line| !line.starts_with('#')) {
        let (word, number) = line.split_once(' ').ok_or_else(|| format!("{file}: no number in \"{line}\""))?;
        words.insert(word.to_owned(), number.parse()?);
    }
    Ok(words)
}

/// Every form that the rules may derive from a word of either list of familiar words, if it is of letters and hyphens
/// alone; and each single letter.
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

/// What the lists say about words.
struct Entries {
    syllables: NumberOfWord,
    frequencies: NumberOfWord,
    dale_chall: Option<FamiliarWords>,
    spache: Option<FamiliarWords>,
    /// The abbreviations, in small letters.
    abbreviations: HashSet<String>,
}

impl Entries {
    fn read() -> Result<Self, Box<dyn Error>> {
        let familiar = |file| io::Result::Ok(FamiliarWords::read(&read_if_there(file)?));
        let abbreviations = read_if_there(ABBREVIATIONS)?.to_ascii_lowercase();
        let lines = abbreviations.lines().filter(|line| !line.starts_with('#'));
        Ok(Self {
            syllables: read_numbers(SYLLABLES)?,
            frequencies: read_numbers(FREQUENCIES)?,
            dale_chall: familiar(DALE_CHALL)?,
            spache: familiar(SPACHE)?,
            abbreviations: lines.filter_map(|line| line.split(' ').next()).map(str::to_owned).collect(),
        })
    }

    /// The spelling of a word with its syllables, zero where they are not known, and all its marks.
    fn of(&self, word: &str, syllables: u32) -> Spelling {
        let syllables_of = |word: &str| self.syllables.get(word).copied();
        let is_familiar = |words: &Option<FamiliarWords>, list| {
            words.as_ref().is_some_and(|words| words.is_familiar(word, list, syllables_of))
        };
        let marks = [
            (WordMark::FamiliarToDaleChall, is_familiar(&self.dale_chall, WordList::DaleChall)),
            (WordMark::FamiliarToSpache, is_familiar(&self.spache, WordList::Spache)),
            (WordMark::Hard, is_hard(word, syllables, self.dale_chall.as_ref(), syllables_of)),
            (WordMark::Abbreviation, self.abbreviations.contains(word)),
        ];
        let marks = marks.into_iter().filter(|(_, holds)| *holds).map(|(mark, _)| mark);
        Spelling::unlisted(word).listed(u64::from(syllables), marks)
    }
}

/// The dictionary: its two tables of spellings, eight bytes each, zero in a place without one.
fn lay_out(entries: &Entries) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut dictionary = vec![0_u64; SpellingTable::OTHERS.end()];
    // Where two words want one place, the more common word gets it. Sorting also makes the dictionary independent of
    // the order of files and maps.
    let mut listed: Vec<(&str, u32)> =
        entries.syllables.iter().map(|(word, syllables)| (word.as_str(), *syllables)).collect();
    listed.sort_unstable_by_key(|(word, _)| (Reverse(entries.frequencies.get(*word)), word.len(), *word));
    // Forms that the list of syllables lacks stand in the dictionary for their marks alone.
    let forms = possible_forms()?;
    let unlisted = forms.iter().filter(|form| !entries.syllables.contains_key(*form)).map(|form| (form.as_str(), 0));
    for (word, syllables) in listed.into_iter().chain(unlisted) {
        let spelling = entries.of(word, syllables);
        // A form that has neither syllables nor a mark has no entry.
        if !spelling.is_there() {
            continue;
        }
        let is_common = entries.frequencies.contains_key(word);
        let place = free_place(&dictionary, spelling.key(), is_common)
            .ok_or_else(|| format!("{SYLLABLES}: \"{word}\" has no place of its own"))?;
        dictionary[place] = spelling.0;
    }
    Ok(dictionary.into_iter().flat_map(u64::to_le_bytes).collect())
}

/// The place that a new key takes, found in the order in which the program looks a key up: first the one place among
/// the common words, then the key's own bucket among the other words and the buckets after it. None where another word
/// has the same key, or every place is taken.
fn free_place(dictionary: &[u64], key: u64, is_common: bool) -> Option<usize> {
    let common = is_common.then(|| SpellingTable::COMMON.place(key, 0));
    let buckets = (0..SpellingTable::OTHERS.buckets()).map(|tries| SpellingTable::OTHERS.place(key, tries));
    let mut places = common.into_iter().chain(buckets.flat_map(|first| first..first + BUCKET));
    places.find(|place| [0, key].contains(&Spelling(dictionary[*place]).key())).filter(|place| dictionary[*place] == 0)
}
