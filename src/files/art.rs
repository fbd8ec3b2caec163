//! Reads the pictures that a brief names for its art, each once for as long as somebody holds it.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError, Weak};
use std::time::SystemTime;

use super::error::FilePlace;
use super::{Error, MIB, guard, read_up_to};
use crate::artwork::{ArtFault, ArtFile, decoded};
use crate::brief::Brief;
use crate::brief::art::place_of_art;

/// The largest file of art in bytes: above a wide cover in four inks at 600 pixels to the inch, unpacked.
const LARGEST_ART: u64 = 512 * MIB;

/// A picture that was read, for as long as it is in use.
struct KeptArt {
    path: PathBuf,
    length: u64,
    modified: SystemTime,
    art: Weak<ArtFile>,
}

/// The pictures that are in use, so that a brief that is read again does not have its art unpacked again.
static KEPT: Mutex<Vec<KeptArt>> = Mutex::new(Vec::new());

/// Reads every file of art of a brief that is not read yet, and fills it in. The first time for a picture this may take
/// seconds.
///
/// # Errors
///
/// A file that cannot be read or is no picture, with where the brief names it.
pub fn fill_in_art(brief: &mut Brief, brief_path: &Path) -> Result<(), Error> {
    for picture in brief.arts_mut().flat_map(|art| art.pictures_mut()).filter(|picture| picture.read.is_none()) {
        picture.read = Some(read_art(brief_path, &picture.file)?);
    }
    Ok(())
}

/// Reads one file of art, by the name that a brief has for it.
///
/// # Errors
///
/// A file that cannot be read or is no picture, with where the brief names it.
pub fn read_art(brief_path: &Path, file: &Path) -> Result<Arc<ArtFile>, Error> {
    read(&path_of_art(brief_path, file)).map_err(|error| {
        let text = super::read_up_to(brief_path, "the brief", super::LARGEST_BRIEF).unwrap_or_default();
        let place = place_of_art(&String::from_utf8_lossy(&text), file);
        error.named_at(place.map(|place| FilePlace::new(brief_path, place)))
    })
}

/// The path of a file of art from the working folder, by the name that a brief has for it.
pub fn path_of_art(brief_path: &Path, file: &Path) -> PathBuf {
    brief_path.parent().unwrap_or(Path::new("")).join(file)
}

/// The length and the time of a file, by which it is told whether another program has written it; none where it cannot
/// be looked at.
pub fn file_mark(path: &Path) -> Option<(u64, SystemTime)> {
    let metadata = fs::metadata(path).ok()?;
    Some((metadata.len(), metadata.modified().ok()?))
}

/// Reads a file of art, unless it is in use and its length and its time are what they were.
fn read(path: &Path) -> Result<Arc<ArtFile>, Error> {
    let mark = file_mark(path);
    if let Some(art) = mark.and_then(|mark| kept(path, mark)) {
        return Ok(art);
    }
    let bytes = read_up_to(path, "the art", LARGEST_ART)?;
    let damaged = || ArtFault { problem: "the picture is damaged".to_owned(), remedy: "export it again" };
    let found = guard::caught(|| decoded(&bytes)).unwrap_or_else(|_| Err(damaged()));
    let cannot = |ArtFault { problem, remedy }| Error::cannot("use the art", path, problem).with_remedy(remedy);
    let art = Arc::new(found.map_err(cannot)?);
    if let Some((length, modified)) = mark {
        let mut all = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
        all.retain(|one| one.path != path && one.art.strong_count() > 0);
        all.push(KeptArt { path: path.to_path_buf(), length, modified, art: Arc::downgrade(&art) });
    }
    Ok(art)
}

fn kept(path: &Path, mark: (u64, SystemTime)) -> Option<Arc<ArtFile>> {
    let all = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
    all.iter().find(|one| one.path == path && (one.length, one.modified) == mark)?.art.upgrade()
}
