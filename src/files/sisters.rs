//! The sisters of a font: bold, italic and bold italic of the family in its collection or its folder, found by the
//! names in the files.
//!
//! A folder may hold the fonts of a whole machine. Listing names is cheap; only the files whose names are most like the
//! font's own are opened, and of each only the tables that name it are read.

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use crate::brief::typography::Weight;
use crate::draft::Emphasis;
use crate::setting::naming::{Naming, TABLES};

/// The endings of files that hold one font.
const ENDINGS: [&str; 2] = ["ttf", "otf"];

/// The most files that are opened: more than the largest families have.
const MOST_LOOKED_AT: usize = 256;

/// The most names that are read in a folder.
const MOST_NAMES: usize = 100_000;

/// The most fonts of a collection that are read; collections have a few dozen.
const MOST_FONTS: u32 = 256;

/// The most tables of a font that are read; fonts have a few dozen.
const MOST_TABLES: usize = 256;

/// The largest table that is read; names in many languages take some ten thousand bytes.
const LARGEST_TABLE: u32 = 1024 * 1024;

/// One font of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FontInFile {
    /// The file, in the folder of the font whose sister it is.
    pub(super) path: PathBuf,
    /// The number of the font in a collection, from 0; 0 where the file holds one font.
    pub(super) index: u32,
}

/// The nearest font for each style, as far as there is one: from the file of the font itself, if that is a collection,
/// and from the files beside it. `own` is the naming in the font, and `weight` the weight at which it is set.
pub(super) fn find(path: &Path, own: &Naming, weight: Weight, styles: &[Emphasis]) -> Vec<(Emphasis, FontInFile)> {
    if styles.is_empty() {
        return Vec::new();
    }
    // The first font of the file is the font itself and no sister.
    let inside = heads_of(path).into_iter().skip(1).map(|font| (path.to_path_buf(), font));
    let names = nearest_names(path).into_iter().map(|name| path.with_file_name(name));
    let beside = names.flat_map(|path| heads_of(&path).into_iter().take(1).map(move |font| (path.clone(), font)));
    let found: Vec<(Naming, FontInFile)> = inside
        .chain(beside)
        .filter_map(|(path, (index, head))| Some((naming_of(&path, head)?, FontInFile { path, index })))
        .collect();
    let nearest = |style: &Emphasis| {
        let near = found.iter().filter_map(|(naming, font)| Some((naming.distance(own, weight, *style)?, font)));
        let (_, font) = near.min_by(|(one, _), (other, _)| one.total_cmp(other))?;
        Some((*style, font.clone()))
    };
    styles.iter().filter_map(nearest).collect()
}

/// The names of the other font files in a font's folder, most like its own name first.
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

/// The names that are worth opening, sorted by the length of the start shared with `own`, then alphabetically.
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

/// The fonts of a file, each with its number and the byte at which its header stands; none where this is no plain file.
///
/// Source: OpenType specification, "Font Collections".
fn heads_of(path: &Path) -> Vec<(u32, u32)> {
    let read = || {
        // Opening a pipe could block.
        if !fs::metadata(path).ok()?.is_file() {
            return None;
        }
        let mut file = File::open(path).ok()?;
        let mut start = [0; 12];
        file.read_exact(&mut start).ok()?;
        let [tag @ .., _, _, _, _, a, b, c, d] = start;
        if tag != *b"ttcf" {
            return Some(vec![(0, 0)]);
        }
        let count = u32::from_be_bytes([a, b, c, d]).min(MOST_FONTS);
        let mut heads = vec![0; count as usize * 4];
        file.read_exact(&mut heads).ok()?;
        let heads = heads.chunks_exact(4).filter_map(|head| Some(u32::from_be_bytes(head.try_into().ok()?)));
        Some((0..).zip(heads).collect())
    };
    read().unwrap_or_default()
}

/// The naming in the font whose header stands at a byte of a file; none where there is no font.
fn naming_of(path: &Path, head: u32) -> Option<Naming> {
    let file = File::open(path).ok()?;
    let tables = tables_of(&file, head)?;
    Naming::read(move |wanted| {
        let (_, start, length) = tables.iter().find(|(tag, _, _)| tag == wanted)?;
        let mut bytes = vec![0; *length as usize];
        (&file).seek(SeekFrom::Start(u64::from(*start))).ok()?;
        (&file).read_exact(&mut bytes).ok()?;
        Some(bytes)
    })
}

/// The tables of a font file that hold its naming: tag, first byte and length. `head` is the byte at which the font's
/// header stands.
///
/// Source: OpenType specification, "Organization of an OpenType Font".
fn tables_of(mut file: &File, head: u32) -> Option<Vec<([u8; 4], u32, u32)>> {
    file.seek(SeekFrom::Start(u64::from(head))).ok()?;
    let mut start = [0; 12];
    file.read_exact(&mut start).ok()?;
    let [a, b, c, d, high, low, ..] = start;
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
