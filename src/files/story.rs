//! The story of a book: its file, named by the author or found beside the brief, read for the words that are its own.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Error, read_manuscript, typed};
use crate::brief::book::Book;
use crate::report::terms::Manuscript;
use crate::units::nouns::counted;

/// The most words that are shown: far more than a back cover has terms.
const MOST: usize = 60;

/// The words and phrases that are characteristic of a story, each with how often it stands there: the most
/// characteristic first, phrases among them. `asked` is the path of its file as it was typed, perhaps from `here`;
/// where it is empty, the one text beside the brief is taken.
pub fn words_of_story(
    asked: &str,
    here: &Path,
    brief_path: Option<&Path>,
    book: &Book,
) -> Result<Vec<(String, usize)>, Error> {
    let path = match (asked.trim(), brief_path) {
        ("", Some(brief)) => one_beside(brief)?,
        ("", None) => return Err(Error::new("the sample has no story here: name the file of one")),
        (asked, _) => typed::meant(asked, here),
    };
    let draft = Manuscript::paragraphs(&read_manuscript(&path)?.text);
    let story = Manuscript::read(&draft, book).story;
    let mut found: Vec<_> = story.words.into_iter().chain(story.phrases).collect();
    found.sort_by(|one, other| other.likelihood.total_cmp(&one.likelihood));
    Ok(found.into_iter().take(MOST).map(|candidate| (candidate.wording, candidate.count)).collect())
}

/// The one text beside a brief.
fn one_beside(brief_path: &Path) -> Result<PathBuf, Error> {
    let texts = texts_beside(brief_path);
    match texts.as_slice() {
        [only] => Ok(only.clone()),
        [] => Err(Error::new("no text that ends in .txt stands beside the brief: name the file of the story")),
        several => {
            let names =
                several.iter().filter_map(|path| path.file_name()).map(|name| name.to_string_lossy().into_owned());
            let names: Vec<String> = names.take(5).collect();
            let told = counted(several.len(), "text");
            Err(Error::new(format!("{told} stand beside the brief ({}): name the one of the story", names.join(", "))))
        }
    }
}

/// The texts beside a brief: files that end in .txt, in the order of their names.
fn texts_beside(brief_path: &Path) -> Vec<PathBuf> {
    let folder = brief_path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let entries = fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    let is_text = |path: &PathBuf| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("txt"));
    let mut texts: Vec<PathBuf> = entries.filter(|path| is_text(path) && path.is_file()).collect();
    texts.sort();
    texts
}
