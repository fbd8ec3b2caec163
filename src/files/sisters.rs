//! The sisters of a font file: bold, italic and bold italic of the same family in the same folder, by what the files
//! say of themselves.
//!
//! A folder may hold the fonts of a whole machine. Its names are cheap; of the files, those are looked at whose names
//! are most like the font's own, and of each only the tables that say what it is.

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use crate::brief::typography::Weight;
use crate::draft::Emphasis;
use crate::setting::naming::{Naming, TABLES};

/// The endings of files that hold one font.
const ENDINGS: [&str; 2] = ["ttf", "otf"];

/// Files that are looked at: more than the largest families have.
const MOST_LOOKED_AT: usize = 256;

/// Names that are read of a folder.
const MOST_NAMES: usize = 100_000;

/// A font has a few dozen tables.
const MOST_TABLES: usize = 256;

/// The largest table that is read; names in many languages take some ten thousand bytes.
const LARGEST_TABLE: u32 = 1024 * 1024;

/// The files beside a font that are what each emphasis asks for, as far as there are any; `own` is what the font says
/// of itself, and it is set at a weight.
pub(super) fn beside(path: &Path, own: &Naming, weight: Weight, styles: &[Emphasis]) -> Vec<(Emphasis, PathBuf)> {
    if styles.is_empty() {
        return Vec::new();
    }
    let looked_at: Vec<(Naming, PathBuf)> = nearest_names(path)
        .into_iter()
        .map(|name| path.with_file_name(name))
        .filter_map(|sister| Some((naming_of(&sister)?, sister)))
        .collect();
    let nearest = |style: &Emphasis| {
        let near = looked_at.iter().filter_map(|(naming, file)| Some((naming.distance(own, weight, *style)?, file)));
        let (_, file) = near.min_by(|(one, _), (other, _)| one.total_cmp(other))?;
        Some((*style, file.clone()))
    };
    styles.iter().filter_map(nearest).collect()
}

/// The names of the other font files in a font's folder, those most like its own first.
fn nearest_names(path: &Path) -> Vec<String> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let own = path.file_name().unwrap_or(OsStr::new("")).to_string_lossy().into_owned();
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let names = entries.flatten().take(MOST_NAMES).filter_map(|entry| entry.file_name().into_string().ok());
    nearest(&own, names.filter(|name| is_font(name)).collect())
}

fn is_font(name: &str) -> bool {
    let ending = Path::new(name).extension().and_then(OsStr::to_str);
    !name.starts_with('.') && ending.is_some_and(|ending| ENDINGS.iter().any(|one| one.eq_ignore_ascii_case(ending)))
}

/// As many names as are looked at, by how much of their start they share with `own`, then by the alphabet.
fn nearest(own: &str, mut names: Vec<String>) -> Vec<String> {
    let shared = |name: &str| {
        let same = |(one, other): &(char, char)| one.to_lowercase().eq(other.to_lowercase());
        name.chars().zip(own.chars()).take_while(same).count()
    };
    names.retain(|name| name != own);
    names.sort_by_cached_key(|name| (std::cmp::Reverse(shared(name)), name.clone()));
    names.truncate(MOST_LOOKED_AT);
    names
}

/// What a font file says of itself; nothing where it is no plain file or no font.
fn naming_of(path: &Path) -> Option<Naming> {
    // A pipe would be waited for.
    if !fs::metadata(path).ok()?.is_file() {
        return None;
    }
    let file = File::open(path).ok()?;
    let tables = tables_of(&file)?;
    Naming::read(move |wanted| {
        let (_, start, length) = tables.iter().find(|(tag, _, _)| tag == wanted)?;
        let mut bytes = vec![0; *length as usize];
        (&file).seek(SeekFrom::Start(u64::from(*start))).ok()?;
        (&file).read_exact(&mut bytes).ok()?;
        Some(bytes)
    })
}

/// Where those tables stand in a font file that say what it is: tag, first byte, length.
///
/// Source: OpenType specification, "Organization of an OpenType Font".
fn tables_of(mut file: &File) -> Option<Vec<([u8; 4], u32, u32)>> {
    let mut head = [0; 12];
    file.read_exact(&mut head).ok()?;
    let [a, b, c, d, high, low, ..] = head;
    let is_font = matches!(&[a, b, c, d], b"\0\x01\0\0" | b"OTTO" | b"true");
    let count = usize::from(u16::from_be_bytes([high, low]));
    if !is_font || count > MOST_TABLES {
        return None;
    }
    let mut records = vec![0; count * 16];
    file.read_exact(&mut records).ok()?;
    let number = |bytes: &[u8]| Some(u32::from_be_bytes(bytes.try_into().ok()?));
    let tables = records.chunks_exact(16).filter_map(|record| {
        let tag: [u8; 4] = record[..4].try_into().ok()?;
        let (start, length) = (number(&record[8..12])?, number(&record[12..16])?);
        (TABLES.contains(&&tag) && length <= LARGEST_TABLE).then_some((tag, start, length))
    });
    Some(tables.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_ten_thousand_fonts_those_are_looked_at_that_are_called_alike() {
        let names = (0..10_000).map(|number| format!("face{number}.ttf"));
        let names = names.chain(["Gull-Italic.otf", "gullbd.ttf", "Gull.ttf"].map(str::to_owned)).collect();
        let near = nearest("Gull.ttf", names);
        assert_eq!(
            (near.len(), &near[..2]),
            (MOST_LOOKED_AT, &["Gull-Italic.otf".to_owned(), "gullbd.ttf".to_owned()][..])
        );
    }

    #[test]
    fn only_fonts_of_one_face_are_sisters() {
        let kept = ["a.ttf", "B.OTF", ".a.ttf", "a.ttc", "a.ttf.bak", "ttf", "a.woff2"].map(is_font);
        assert_eq!(kept, [true, true, false, false, false, false, false]);
    }
}
