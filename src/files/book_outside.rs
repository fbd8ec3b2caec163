//! What other programs do to a book's brief and to the art that it names while the desk is open.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::{self as files, Error};
use crate::brief::Brief;
use crate::desk::Outcome;

/// The length and the time of a file; none where it cannot be looked at.
type FileMark = Option<(u64, SystemTime)>;

/// The brief and its art as they were last looked at.
pub(crate) struct WatchedBook {
    brief: PathBuf,
    seen: FileMark,
    art: Vec<(PathBuf, FileMark)>,
}

impl WatchedBook {
    /// A book whose brief was just read.
    pub(crate) fn of(path: &Path, brief: &Brief) -> Self {
        let mut watched = Self { brief: path.to_path_buf(), seen: None, art: Vec::new() };
        watched.saw(brief);
        watched
    }

    /// The brief's file.
    pub(crate) fn path(&self) -> &Path {
        &self.brief
    }

    /// Notes that the brief was read.
    pub(crate) fn saw(&mut self, brief: &Brief) {
        let files = brief.faces().flat_map(|face| face.arts()).flat_map(|art| art.pictures());
        let paths = files.map(|picture| files::path_of_art(&self.brief, &picture.file));
        self.art = paths.map(|path| (path.clone(), files::file_mark(&path))).collect();
        self.seen = files::file_mark(&self.brief);
    }

    /// The folders in which something may change.
    pub(crate) fn folders(&self) -> impl Iterator<Item = &Path> {
        let files = std::iter::once(&self.brief).chain(self.art.iter().map(|(path, _)| path));
        files.filter_map(|file| file.parent())
    }

    /// What has changed since the last look, each change told once; an error is about a brief that cannot be read.
    pub(crate) fn changes(&mut self) -> Vec<Result<Outcome, Error>> {
        let mut outcomes = Vec::from_iter(self.brief_again());
        let mut has_changed = false;
        for (path, seen) in &mut self.art {
            let now = files::file_mark(path);
            has_changed |= now != *seen;
            *seen = now;
        }
        outcomes.extend(has_changed.then_some(Ok(Outcome::ArtWaits)));
        outcomes
    }

    /// The brief, where its file is another. One that cannot be read just now, as while it is written, is told once.
    fn brief_again(&mut self) -> Option<Result<Outcome, Error>> {
        let now = files::file_mark(&self.brief);
        if now == self.seen {
            return None;
        }
        self.seen = now;
        let read = files::read_brief_without_art(&self.brief)
            .and_then(|brief| files::read_faces(&brief, &self.brief).map(|faces| (brief, faces)));
        Some(read.map(|(brief, faces)| {
            self.saw(&brief);
            // What was written after the look at the file is looked at again.
            self.seen = now;
            Outcome::BriefChanged { brief: Box::new(brief), faces }
        }))
    }
}
