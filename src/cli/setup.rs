//! What drafts are read with: which drafts are asked for, the brief of each, and type options that override the brief.

use std::collections::{BTreeSet, HashMap};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use clap::Args;

use super::say_aside;
use crate::brief::typography::{Font, Leading};
use crate::brief::{Brief, bounds};
use crate::draft::{Draft, Note};
use crate::files::{self, Error, KnownGroups, ReadDraft, guard, typed};
use crate::print::text;
use crate::print::visible::visible;
use crate::setting::Faces;
use crate::system;
use crate::units::Length;

/// The name that stands for standard input.
pub(super) const INPUT: &str = "-";

/// Which brief, and what to try instead of its type.
#[derive(Debug, Args, Default)]
pub(super) struct SetupArgs {
    /// The brief; without it, the brief.yaml beside the draft or in a folder above
    #[arg(long, value_name = "FILE")]
    brief: Option<PathBuf>,
    /// Try the blurb at another size, such as 12pt; the brief stays as it is
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = size_text)]
    size: Option<String>,
    /// Try another leading, such as 16pt or 130%
    #[arg(long, value_name = "LEADING", allow_hyphen_values = true, value_parser = leading_text)]
    leading: Option<String>,
    /// Try another font: serif, sans or a font file
    #[arg(long, value_name = "FONT")]
    font: Option<String>,
}

/// Passes on a size as it was typed, unless it looks like an option or a number below zero.
///
/// # Errors
///
/// A sentence that says what to write instead.
fn size_text(text: &str) -> Result<String, String> {
    above_nought(text, "a size is a length above nought, such as 12pt")
}

/// Passes on a leading as it was typed, under the rule of [`size_text`].
fn leading_text(text: &str) -> Result<String, String> {
    above_nought(text, "a leading is a length or a percentage above nought, such as 16pt or 130%")
}

fn above_nought(text: &str, expected: &str) -> Result<String, String> {
    if text.trim_start().starts_with('-') { Err(expected.to_owned()) } else { Ok(text.to_owned()) }
}

impl SetupArgs {
    /// The brief that was named.
    pub(super) fn brief(&self) -> Option<&Path> {
        self.brief.as_deref()
    }

    /// A brief, or the draft's own, and nothing else to try.
    pub(super) fn with_brief(brief: Option<PathBuf>) -> Self {
        Self { brief, ..Self::default() }
    }
}

/// The drafts of the book in a folder.
pub(super) fn neighbours(folder: &Path) -> Vec<PathBuf> {
    let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    files::own_drafts(here).unwrap_or_default()
}

/// Drafts, and those of their book that are not among them.
pub(super) fn with_neighbours(named: Vec<PathBuf>, folder: &Path) -> Vec<PathBuf> {
    let mut drafts = named;
    for path in neighbours(folder) {
        if !drafts.iter().any(|known| known.file_name() == path.file_name() && known.parent() == path.parent()) {
            drafts.push(path);
        }
    }
    drafts
}

/// Every draft that was asked for, with folders replaced by the drafts in them.
pub(super) fn drafts_of(named: &[PathBuf]) -> Result<Vec<PathBuf>, Error> {
    if named.is_empty() {
        return book_here();
    }
    let mut drafts = Vec::new();
    for named in named_by(named) {
        if named.as_os_str() == INPUT || !named.is_dir() {
            drafts.push(typed::as_named(&named));
        } else {
            drafts.extend(some(files::drafts_in(&named)?, &named)?);
        }
    }
    Ok(drafts)
}

/// The files and folders that words of the command line name.
pub(super) fn named_by(words: &[PathBuf]) -> Vec<PathBuf> {
    words.iter().flat_map(|word| system::named_by(word)).collect()
}

/// Whether only folders are named, none of which is a book or lies inside a book.
pub(super) fn are_lists_of_books(named: &[PathBuf]) -> bool {
    let named = named_by(named);
    !named.is_empty() && named.iter().all(|folder| folder.is_dir() && files::find_brief(folder).is_err())
}

/// The drafts of the book in the working folder, or in its folder `drafts`.
fn book_here() -> Result<Vec<PathBuf>, Error> {
    let folder = folder_here()?;
    let drafts = some(files::drafts_in(folder)?, folder)?;
    Ok(drafts.into_iter().map(bare).collect())
}

/// A path without a dot before it; the working folder itself stays a dot.
fn bare(path: PathBuf) -> PathBuf {
    let bare = path.strip_prefix(".").ok().filter(|bare| !bare.as_os_str().is_empty());
    bare.map(Path::to_path_buf).unwrap_or(path)
}

/// The folder of the book here: the working folder, or its folder `drafts`.
pub(super) fn folder_here() -> Result<&'static Path, Error> {
    let folders = [Path::new("."), Path::new("drafts")];
    folders.into_iter().find(|folder| files::has_brief(folder)).ok_or_else(|| {
        let below = files::entries_of(Path::new("."));
        let holds_books = below.is_ok_and(|below| below.iter().any(|folder| files::has_brief(folder)));
        let measure = if holds_books { "measure the books below it with `blurbwright measure .`, or " } else { "" };
        Error::new(format!(
            "there is no book in this folder: no brief.yaml here or in drafts. Go to the book's folder, or {measure}\
             make a new book with `blurbwright start FOLDER`, or see `blurbwright --help`"
        ))
    })
}

fn some(drafts: Vec<PathBuf>, folder: &Path) -> Result<Vec<PathBuf>, Error> {
    if drafts.is_empty() { Err(files::without_drafts(folder)) } else { Ok(drafts) }
}

/// The text of a draft file, or of standard input. What became of a document is told on standard error.
pub(super) fn read_draft(path: &Path) -> Result<String, Error> {
    read_copy(path).map(|file| file.text)
}

/// A draft, under the rule of `read_draft`, with what was told of its document.
pub(super) fn read_copy(path: &Path) -> Result<ReadDraft, Error> {
    let is_input = path.as_os_str() == INPUT;
    let file = if is_input { files::read_copy_from_input() } else { files::read_copy(path) }?;
    tell(&file, if is_input { Path::new("standard input") } else { path });
    Ok(file)
}

/// Tells on standard error what became of a document.
pub(super) fn tell(file: &ReadDraft, path: &Path) {
    if let Some(told) = file.told(&path.to_string_lossy()) {
        say_aside(&visible(&told));
    }
}

/// Tells on standard error, a line each, what of a draft was left out or could not be understood: what is made of the
/// draft has no page that says so.
pub(super) fn tell_notes(path: &Path, source: &str, notes: &[Note]) {
    let told = text::first_notes(notes, source);
    told.iter().for_each(|note| say_aside(&visible(&format!("{}: {note}", path.display()))));
}

/// A brief with its fonts, ready for measuring.
pub(super) struct Setup {
    pub(super) brief: Brief,
    pub(super) faces: Arc<Faces>,
    pub(super) path: PathBuf,
    /// What should be known of the panel and the brief does not tell.
    pub(super) panel_note: Option<String>,
}

/// The setups of many drafts: the brief named for all of them, or the briefs read for each folder so far.
pub(super) struct Setups {
    options: TypeOptions,
    named: Option<Arc<Setup>>,
    by_folder: Mutex<HashMap<PathBuf, Arc<Setup>>>,
    groups: KnownGroups,
}

/// Type that replaces the brief's.
pub(super) struct TypeOptions {
    size: Option<Length>,
    leading: Option<Leading>,
    font: Option<Font>,
}

impl Setups {
    pub(super) fn new(args: &SetupArgs) -> Result<Self, Error> {
        let options = TypeOptions::of(args)?;
        let named = args.brief.as_deref().map(|path| Setup::read(path, &options)).transpose()?.map(Arc::new);
        Ok(Self { options, named, by_folder: Mutex::default(), groups: KnownGroups::default() })
    }

    /// Setups for feeds alone: the brief that was named is the base of their records, and need not be a whole one.
    pub(super) fn of_feeds(args: &SetupArgs) -> Result<Self, Error> {
        let (by_folder, groups) = (Mutex::default(), KnownGroups::default());
        Ok(Self { options: TypeOptions::of(args)?, named: None, by_folder, groups })
    }

    /// The brief that was named, or that of the draft's folder.
    pub(super) fn of_draft(&self, draft: &Path) -> Result<Arc<Setup>, Error> {
        let is_input = draft.as_os_str() == INPUT;
        self.of_folder(if is_input { Path::new("") } else { draft.parent().unwrap_or(Path::new("")) })
    }

    /// The brief that was named, or that of the folder.
    pub(super) fn of_folder(&self, folder: &Path) -> Result<Arc<Setup>, Error> {
        if let Some(named) = &self.named {
            return Ok(Arc::clone(named));
        }
        if let Some(known) = self.known().get(folder) {
            return Ok(Arc::clone(known));
        }
        let path = files::find_brief(folder)?;
        let brief = files::read_brief_again(&path, &self.groups)?;
        let setup = Arc::new(Setup::of(brief, &path, &self.options)?);
        self.known().insert(folder.to_path_buf(), Arc::clone(&setup));
        Ok(setup)
    }

    /// Forgets the briefs, so that a list of thousands of books takes no more memory than a short list. Groups that
    /// books may have in common stay known.
    pub(super) fn clear(&self) {
        self.known().clear();
    }

    fn known(&self) -> MutexGuard<'_, HashMap<PathBuf, Arc<Setup>>> {
        self.by_folder.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Setup {
    /// Runs something that uses the fonts. If a library panics over a damaged font file that the brief names, the error
    /// names that file.
    pub(super) fn guarded<T>(&self, run: impl FnOnce() -> T) -> Result<T, Error> {
        let files = || self.brief.fonts().filter(|font| matches!(font, Font::File { .. }));
        if files().next().is_none() {
            return Ok(run());
        }
        guard::caught(run).map_err(|_| {
            let names: BTreeSet<String> = files().map(ToString::to_string).collect();
            files::damaged_font(Path::new(&names.into_iter().collect::<Vec<_>>().join(" or ")))
        })
    }

    /// Refuses a font file that has none of the letters of a draft, as a font of symbols or of another script has:
    /// every letter would be set in another face, and no measure of the copy would be of that font.
    pub(super) fn check_letters(&self, draft: &Draft) -> Result<(), Error> {
        match self.faces.without_letters(draft, &self.brief.typography) {
            None => Ok(()),
            Some(path) => Err(Error::cannot("set the copy in the font", path, "it has none of the copy's letters")
                .with_remedy("name a font of its script, or serif or sans for a built-in one")),
        }
    }

    pub(super) fn read(path: &Path, options: &TypeOptions) -> Result<Self, Error> {
        Self::of(files::read_brief(path)?, path, options)
    }

    /// The setup of a brief that was read; `path` is its file.
    pub(super) fn of(brief: Brief, path: &Path, options: &TypeOptions) -> Result<Self, Error> {
        let brief = options.tried_in(brief);
        let faces = Arc::new(files::read_faces(&brief, path)?);
        Ok(Self { brief, faces, path: path.to_path_buf(), panel_note: None })
    }
}

impl TypeOptions {
    /// The brief with the type that is tried.
    pub(super) fn tried_in(&self, mut brief: Brief) -> Brief {
        brief.typography = brief.typography.tried(self.size, self.leading, self.font.as_ref());
        brief
    }

    pub(super) fn of(args: &SetupArgs) -> Result<Self, Error> {
        let size = |text: &String| bounds::SIZE.length(text);
        let size = args.size.as_ref().map(size).transpose().map_err(|problem| Error::of_option("--size", problem))?;
        let leading = args
            .leading
            .as_deref()
            .map(Leading::parse)
            .transpose()
            .map_err(|problem| Error::of_option("--leading", problem))?;
        let font = args.font.as_deref().map(|name| Font::named(name, Path::new("")));
        Ok(Self { size, leading, font })
    }
}

/// The longest draft, in bytes, that may be set at every size, searched for cuts or compared with a story: far more
/// than fits on a cover.
const LARGEST_COVER_COPY: usize = 200 * KB;
const KB: usize = 1000;

/// Refuses copy as long as a book, which would keep the operation busy for minutes.
pub(super) fn check_length(path: &Path, source: &str, operation: &str) -> Result<(), Error> {
    if source.len() <= LARGEST_COVER_COPY {
        return Ok(());
    }
    let (length, most) = (source.len() / KB, LARGEST_COVER_COPY / KB);
    Err(Error::cannot(operation, path, format!("it has {length} kB, and {most} kB are the most for that"))
        .with_remedy("measure and level take longer ones"))
}
