//! Reads the drawings and pictures that a brief names for the shapes of its places and keep-outs.

use std::path::Path;
use std::sync::Arc;

use super::error::FilePlace;
use super::{Error, MIB, guard, kind, read_up_to};
use crate::brief::place::{FileOutline, FileShape};
use crate::brief::{Brief, place_of_shape};
use crate::outlines::{OutlineFault, outline_of_drawing, outline_of_picture};

/// The largest file of a shape in bytes: above a picture of a whole cover at 300 to the inch; a drawing of one path has
/// some kilobytes.
const LARGEST_SHAPE: u64 = 20 * MIB;

/// Reads every file once and fills its outline in. An error says where the brief names the file.
pub(super) fn fill_in(brief: &mut Brief, text: &str, brief_path: &Path) -> Result<(), Error> {
    let folder = brief_path.parent().unwrap_or(Path::new(""));
    let mut known: Vec<FileShape> = Vec::new();
    for shape in brief.file_shapes_mut() {
        if let Some(read) = known.iter().find(|read| read.is_of_one_file(shape)) {
            shape.outline.clone_from(&read.outline);
            continue;
        }
        let outline = read(&folder.join(&shape.file), shape.opacity).map_err(|error| {
            let place = place_of_shape(text, shape).map(|place| FilePlace::new(brief_path, place));
            error.named_at(place)
        })?;
        shape.outline = Some(Arc::new(outline));
        known.push(shape.clone());
    }
    Ok(())
}

/// Reads the outline in a file; its ending tells its kind.
fn read(path: &Path, opacity: f64) -> Result<FileOutline, Error> {
    let bytes = read_up_to(path, "the shape", LARGEST_SHAPE)?;
    let is_picture = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png"));
    let cannot = |problem: String, remedy: &str| Error::cannot("read the shape", path, problem).with_remedy(remedy);
    let found = kind::of_bytes(&bytes);
    let is_as_named = if is_picture { bytes.starts_with(b"\x89PNG") } else { found.is_none() };
    if !is_as_named {
        let found = found.map_or(String::new(), |found| format!("{found} and "));
        let wanted = if is_picture { "a PNG" } else { "an SVG" };
        return Err(cannot(format!("it is {found}not {wanted}"), "save the shape as an .svg or .png file"));
    }
    let outline = guard::caught(|| match is_picture {
        true => outline_of_picture(&bytes, opacity),
        false => outline_of_drawing(&bytes),
    });
    let damaged = || OutlineFault { problem: "it is damaged".to_owned(), remedy: "save it again" };
    outline.unwrap_or_else(|_| Err(damaged())).map_err(|fault| cannot(fault.problem, fault.remedy))
}
