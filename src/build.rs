//! Lays the list of English words and their syllables out as the table that the program carries, and takes in the
//! lists of familiar words that are there.
//!
//! The list is 1.2 MB of text and stays readable in `wordlists/`. The table is two files that are looked up as they
//! lie, so that nothing is built when the program starts: slots, found by the hash of a spelling, and entries.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

#[path = "text/spelling_hash.rs"]
mod spelling_hash;

const SYLLABLES: &str = "wordlists/cmudict-syllables.txt";
/// Lists that the program can do without: it then says that they are missing.
const FAMILIAR: [&str; 2] = ["dale-chall.txt", "spache.txt"];
/// A power of two, above twice the number of entries.
const SLOTS: usize = 1 << 18;

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=src/build.rs");
    println!("cargo::rerun-if-changed=src/text/spelling_hash.rs");
    println!("cargo::rerun-if-changed=wordlists");
    let target = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo names no OUT_DIR")?);
    for list in FAMILIAR {
        fs::write(target.join(list), read_if_there(&Path::new("wordlists").join(list))?)?;
    }
    let (slots, entries) = lay_out(&read_if_there(Path::new(SYLLABLES))?)?;
    fs::write(target.join("syllables.slots"), slots)?;
    fs::write(target.join("syllables.entries"), entries)?;
    Ok(())
}

/// The text of a list; empty, with a warning, where its file was taken away.
fn read_if_there(path: &Path) -> io::Result<String> {
    match fs::read_to_string(path) {
        Err(fault) if fault.kind() == io::ErrorKind::NotFound => {
            println!("cargo::warning={} is not there; the program is built without it", path.display());
            Ok(String::new())
        }
        read => read,
    }
}

/// Slots of four bytes: where an entry begins, nought for none. Entries: the count, the length, the word.
fn lay_out(list: &str) -> Result<(Vec<u8>, Vec<u8>), Box<dyn Error>> {
    let (mut slots, mut entries) = (vec![0_u32; SLOTS], vec![0_u8]);
    // Short words are the commonest: side by side they stay in the processor's cache.
    let mut lines: Vec<&str> = list.lines().filter(|line| !line.starts_with('#')).collect();
    lines.sort_by_key(|line| line.len());
    for line in lines {
        let (word, syllables) = line.split_once(' ').ok_or_else(|| format!("{SYLLABLES}: no count in \"{line}\""))?;
        let mut slot = usize::try_from(spelling_hash::hash(word) >> 46)?;
        while slots[slot] != 0 {
            slot = (slot + 1) % SLOTS;
        }
        slots[slot] = u32::try_from(entries.len())?;
        entries.extend([syllables.parse()?, u8::try_from(word.len())?]);
        entries.extend(word.as_bytes());
    }
    Ok((slots.into_iter().flat_map(u32::to_le_bytes).collect(), entries))
}
