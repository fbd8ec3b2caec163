//! Turns the list of English words and their syllables into the compact map that the program carries.
//!
//! The list is 1.2 MB of text and stays readable in `wordlists/`; the map is a finite-state transducer of about
//! 0.64 MB that is looked up as it lies, so that nothing is built when the program starts.

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

const LIST: &str = "wordlists/cmudict-syllables.txt";

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed={LIST}");
    println!("cargo::rerun-if-changed=src/build.rs");
    let list = fs::read_to_string(LIST)?;
    let mut map = fst::MapBuilder::memory();
    for line in list.lines().filter(|line| !line.starts_with('#')) {
        let (word, syllables) = line.split_once(' ').ok_or_else(|| format!("{LIST}: no count in \"{line}\""))?;
        map.insert(word, syllables.parse()?)?;
    }
    let target = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo names no OUT_DIR")?);
    fs::write(target.join("cmudict-syllables.fst"), map.into_inner()?)?;
    Ok(())
}
