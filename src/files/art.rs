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

/// Above a wide cover in four inks at 600 pixels to the inch, unpacked.
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

/// Reads every file of art and fills it in. An error says where the brief names the file.
pub(super) fn fill_in(brief: &mut Brief, text: &str, brief_path: &Path) -> Result<(), Error> {
    let folder = brief_path.parent().unwrap_or(Path::new(""));
    for art in brief.arts_mut() {
        for picture in art.pictures_mut() {
            let read = read(&folder.join(&picture.file)).map_err(|error| {
                error.named_at(place_of_art(text, &picture.file).map(|place| FilePlace::new(brief_path, place)))
            })?;
            picture.read = Some(read);
        }
    }
    Ok(())
}

/// Reads a file of art, unless it is in use and its length and its time are what they were.
fn read(path: &Path) -> Result<Arc<ArtFile>, Error> {
    let metadata = fs::metadata(path).ok();
    let mark = metadata.and_then(|metadata| Some((metadata.len(), metadata.modified().ok()?)));
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
