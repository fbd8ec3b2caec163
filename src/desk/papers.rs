//! The drafts that the desk lists, open or not, each with a number of its own.

use std::path::{Path, PathBuf};

use super::sheet::DraftSheet;
use crate::report::kept::{KeptFigures, Record};

/// The number of a draft at this desk. A draft keeps its number when it is renamed or moves in the list, and a number
/// is never given to a second draft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DraftId(u32);

/// One draft of the list.
#[derive(Debug)]
pub struct Paper {
    /// The draft's number.
    pub id: DraftId,
    /// The draft's file.
    pub path: PathBuf,
    /// Where the draft comes from.
    pub origin: DraftOrigin,
    /// Whether unsaved words of an earlier desk wait for the draft, neither accepted nor let go.
    pub has_recovered_words: bool,
    /// What is known of the draft from its files; none before it was looked at.
    pub facts: Option<PaperFacts>,
    /// The open draft; none where the draft is only listed.
    pub sheet: Option<DraftSheet>,
}

/// What is known of a draft from its files.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PaperFacts {
    /// What the file of the draft measures; none where that could not be found.
    pub figures: Option<KeptFigures>,
    /// When the file was written, as `2026-11-25 14:10`; empty where that is not known.
    pub written: String,
    /// The kept copies of the draft, the newest first.
    pub copies: Vec<ListedCopy>,
}

/// A kept copy of a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedCopy {
    /// The file of the copy.
    pub path: PathBuf,
    /// What was recorded when it was kept.
    pub record: Record,
}

impl ListedCopy {
    /// When the copy was kept and what the author called it, behind its noun: `of 2026-11-25 14:10, "for Ines"`.
    pub fn told(&self) -> String {
        let name = if self.record.name.is_empty() { String::new() } else { format!(", \"{}\"", self.record.name) };
        let file = || self.path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        match self.record.kept.get(..16).unwrap_or(&self.record.kept) {
            "" => format!("{}{name}", file()),
            moment => format!("of {moment}{name}"),
        }
    }
}

/// A row of the list of drafts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DraftRow {
    /// A draft.
    Draft(DraftId),
    /// A kept copy of a draft, by its number among them.
    Copy(DraftId, usize),
}

impl DraftRow {
    /// The draft that the row is about.
    pub fn draft(self) -> DraftId {
        match self {
            Self::Draft(draft) | Self::Copy(draft, _) => draft,
        }
    }
}

/// Where a draft comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DraftOrigin {
    /// The book's folder.
    Book,
    /// Another place, though the draft is measured by this book's brief.
    Elsewhere,
}

impl Paper {
    /// The file's name without its folder and its ending.
    pub fn name(&self) -> String {
        self.path.file_stem().map_or_else(|| "draft".to_owned(), |name| name.to_string_lossy().into_owned())
    }

    /// The file's name without its folder.
    pub fn file_name(&self) -> String {
        file_name(&self.path)
    }
}

/// A file's name without its folder; empty where the path has none.
pub(super) fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// The list of drafts, in rows.
#[derive(Debug, Default)]
pub struct Papers {
    rows: Vec<Paper>,
    /// How many numbers have been given out.
    given: u32,
}

impl Papers {
    /// A list of drafts that are not open, in the order of `paths`.
    pub(super) fn of(paths: Vec<PathBuf>) -> Self {
        let mut papers = Self::default();
        for path in paths {
            let id = papers.new_id();
            papers.rows.push(listed(id, path));
        }
        papers
    }

    /// A number for a draft that may enter the list; where it never does, the number stays unused.
    pub(super) fn new_id(&mut self) -> DraftId {
        let id = DraftId(self.given);
        self.given += 1;
        id
    }

    /// The number of the draft with this file, or a new one for it.
    pub(super) fn id_for(&mut self, path: &Path) -> DraftId {
        self.with_path(path).map(|paper| paper.id).unwrap_or_else(|| self.new_id())
    }

    /// The draft with this number; a draft that is not listed yet is inserted in the order of the paths.
    pub(super) fn enter(&mut self, id: DraftId, path: PathBuf) -> &mut Paper {
        let row = self.row_of(id).unwrap_or_else(|| {
            let row = self.rows.partition_point(|paper| paper.path < path);
            self.rows.insert(row, listed(id, path));
            row
        });
        &mut self.rows[row]
    }

    /// The draft with this number.
    pub fn get(&self, id: DraftId) -> Option<&Paper> {
        self.rows.iter().find(|paper| paper.id == id)
    }

    /// The draft with this number, to be changed.
    pub fn get_mut(&mut self, id: DraftId) -> Option<&mut Paper> {
        self.rows.iter_mut().find(|paper| paper.id == id)
    }

    /// The draft with this file.
    pub fn with_path(&self, path: &Path) -> Option<&Paper> {
        self.rows.iter().find(|paper| paper.path == path)
    }

    /// The draft in a row, counted from 0.
    pub fn in_row(&self, row: usize) -> Option<&Paper> {
        self.rows.get(row)
    }

    /// The row of a draft, counted from 0.
    pub fn row_of(&self, id: DraftId) -> Option<usize> {
        self.rows.iter().position(|paper| paper.id == id)
    }

    /// The last row; 0 for an empty list.
    pub fn last_row(&self) -> usize {
        self.rows.len().saturating_sub(1)
    }

    /// The rows of the list: every draft, and under each its kept copies.
    pub fn listed(&self) -> Vec<DraftRow> {
        let of = |paper: &Paper| {
            let copies = paper.facts.as_ref().map_or(0, |facts| facts.copies.len());
            let id = paper.id;
            std::iter::once(DraftRow::Draft(id)).chain((0..copies).map(move |number| DraftRow::Copy(id, number)))
        };
        self.rows.iter().flat_map(of).collect()
    }

    /// The row of a draft in the list of drafts with their copies; the first where it is not listed.
    pub(super) fn listed_row_of(&self, id: DraftId) -> usize {
        self.listed().iter().position(|row| *row == DraftRow::Draft(id)).unwrap_or(0)
    }

    /// Every draft, row by row.
    pub fn iter(&self) -> impl Iterator<Item = &Paper> {
        self.rows.iter()
    }

    /// Every draft, row by row, to be changed.
    pub(super) fn iter_mut(&mut self) -> impl Iterator<Item = &mut Paper> {
        self.rows.iter_mut()
    }
}

fn listed(id: DraftId, path: PathBuf) -> Paper {
    Paper { id, path, origin: DraftOrigin::Book, has_recovered_words: false, facts: None, sheet: None }
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use super::Papers;

    #[test]
    fn a_number_stays_with_its_draft_and_is_given_once() {
        let mut papers = Papers::of(["first.md", "third.md"].map(PathBuf::from).to_vec());
        let third = papers.id_for(Path::new("third.md"));
        let second = papers.id_for(Path::new("second.md"));
        papers.enter(second, PathBuf::from("second.md"));
        assert_eq!((papers.row_of(second), papers.row_of(third)), (Some(1), Some(2)));
        papers.get_mut(third).expect("a draft").path = PathBuf::from("tide.md");
        assert_eq!(papers.id_for(Path::new("tide.md")), third);
        let again = papers.id_for(Path::new("third.md"));
        assert!(papers.get(again).is_none(), "a name that is free again is another draft's");
    }
}
