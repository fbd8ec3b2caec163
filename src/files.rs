//! The only door to the disk: reading drafts, briefs and fonts, finding them, and writing new files.
//!
//! Every error names the operation and the file, and says what to do.

pub mod desk;
mod fingerprint;
mod form;
pub mod guard;
pub mod kept;
mod kind;
mod plain;
mod notice;
mod recovery;
mod shelf;
mod sisters;
mod stage;
pub mod typed;

use std::fmt;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::brief::phrases::Phrase;
use crate::brief::stet::Stet;
use crate::brief::typography::{Font, Weight};
use crate::brief::{Brief, Fault, InType, place_in_type, place_of_list};
use crate::draft::place;
use crate::level::familiar::FamiliarWords;
use crate::level::lists;
use crate::proof;
use crate::setting::Faces;
use crate::setting::face::Face;
use crate::setting::faces;

use stage::write_whole;

/// The name of a book's brief.
pub const BRIEF_NAME: &str = "brief.yaml";

const DRAFT_ENDING: &str = "md";

const MIB: u64 = 1024 * 1024;
/// A 100,000-word manuscript is well under one of these.
const LARGEST_DRAFT: u64 = 16 * MIB;
/// A brief is a page.
const LARGEST_BRIEF: u64 = MIB;
/// The largest fonts in use, with tens of thousands of characters, stay under this.
const LARGEST_FONT: u64 = 64 * MIB;
/// A picture of many drafts at a high resolution.
const LARGEST_PROOF: u64 = 512 * MIB;

/// What could not be read, found or written.
#[derive(Debug)]
pub struct Error {
    message: String,
}

impl Error {
    /// An error with a message that names the file and the remedy.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into() }
    }

    fn io(operation: &str, path: &Path, error: &io::Error) -> Self {
        let (reason, remedy) = match error.kind() {
            io::ErrorKind::NotFound => ("there is no such file".to_owned(), "check the name and the folder"),
            io::ErrorKind::PermissionDenied => {
                ("you are not allowed to".to_owned(), "change the file's permissions, or work on a copy of it")
            }
            io::ErrorKind::IsADirectory => ("it is a folder".to_owned(), "name the file in it"),
            io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => {
                ("there is a file, and no folder, of that name".to_owned(), "name another folder")
            }
            io::ErrorKind::Unsupported => (error.to_string(), "name a plain file"),
            io::ErrorKind::StorageFull => ("the disk is full".to_owned(), "make room on it and try again"),
            io::ErrorKind::QuotaExceeded => {
                ("your share of the disk is full".to_owned(), "make room on it and try again")
            }
            io::ErrorKind::ReadOnlyFilesystem => {
                ("the disk can only be read".to_owned(), "work on a copy of it on another disk")
            }
            _ => (error.to_string(), "see that the disk and the file are in order, then try again"),
        };
        Self::new(format!("cannot {operation} {}: {reason}; {remedy}", path.display()))
    }

    fn fault(path: &Path, fault: &Fault) -> Self {
        Self::new(format!("{}:{fault}", path.display()))
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Error {}

/// Reads a draft as UTF-8 text.
pub fn read_draft(path: &Path) -> Result<String, Error> {
    if path.is_dir() {
        let is_without = has_brief(path) && drafts_in(path).is_ok_and(|drafts| drafts == [path]);
        return Err(if is_without {
            without_drafts(path)
        } else {
            Error::new(format!("cannot read {}: it is a folder; name a draft in it", path.display()))
        });
    }
    let text = text_of(path, "the draft", read_up_to(path, "the draft", LARGEST_DRAFT)?)?;
    no_brief(path, "the draft", "name a draft, which is a text file that ends in .md, or the book's folder", text)
}

/// The error of a folder in which there is no draft.
pub fn without_drafts(folder: &Path) -> Error {
    Error::new(format!("there is no draft in {}; a draft is a file that ends in .md", folder.display()))
}

/// Gives a text back that is no brief.
fn no_brief(path: &Path, what: &str, remedy: &str, text: String) -> Result<String, Error> {
    if kind::is_brief(&text) {
        return Err(Error::new(format!("cannot read {what} {}: it is a brief; {remedy}", path.display())));
    }
    Ok(text)
}

/// Reads a draft from standard input.
pub fn read_draft_from_input() -> Result<String, Error> {
    let path = Path::new("standard input");
    let mut bytes = Vec::new();
    let read = io::stdin().lock().take(LARGEST_DRAFT + 1).read_to_end(&mut bytes);
    read.map_err(|error| Error::io("read the draft from", path, &error))?;
    if bytes.len() as u64 > LARGEST_DRAFT {
        return Err(too_large(path, "the draft", LARGEST_DRAFT));
    }
    let text = text_of(path, "the draft", bytes)?;
    no_brief(path, "the draft from", "hand over a draft, and name the brief with --brief", text)
}

/// Reads a manuscript as UTF-8 text.
pub fn read_manuscript(path: &Path) -> Result<String, Error> {
    let text = text_of(path, "the manuscript", read_up_to(path, "the manuscript", LARGEST_DRAFT)?)?;
    if text.trim().is_empty() {
        return Err(Error::new(format!("cannot use the manuscript {}: it is empty; name the story", path.display())));
    }
    no_brief(path, "the manuscript", "name the story, which is a text file", text)
}

/// Reads a brief, and the lists of phrases that it names.
pub fn read_brief(path: &Path) -> Result<Brief, Error> {
    if path.is_dir() {
        let inside = path.join(BRIEF_NAME);
        return Err(Error::new(format!(
            "cannot read the brief {}: it is a folder; name the file, such as {}",
            path.display(),
            inside.display()
        )));
    }
    let text = text_of(path, "the brief", read_up_to(path, "the brief", LARGEST_BRIEF)?)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut brief = Brief::read(&text, folder).map_err(|fault| {
        if kind::is_named_as_text(path) && !kind::is_brief(&text) && !text.trim().is_empty() {
            return Error::new(format!(
                "cannot read the brief {}: it is a draft or another text; name the book's {BRIEF_NAME}",
                path.display()
            ));
        }
        Error::fault(path, &fault)
    })?;
    for list in &mut brief.queries.lists {
        if let Some(file) = &list.file {
            list.instead = read_phrases(file).map_err(|error| match place_of_list(&text, list.rule.name()) {
                Some((line, column)) => Error::new(format!("{}:{line}:{column}: {error}", path.display())),
                None => error,
            })?;
        }
    }
    Ok(brief)
}

/// Reads a list of phrases that a rule looks for.
fn read_phrases(path: &Path) -> Result<Vec<Phrase>, Error> {
    let text = text_of(path, "the list of phrases", read_up_to(path, "the list of phrases", LARGEST_DRAFT)?)?;
    Phrase::read_list(&text).map_err(|(line, problem)| {
        Error::new(format!("cannot use the list of phrases {}, line {line}: {problem}", path.display()))
    })
}

/// Reads every font file that a brief's type names, and its sisters: those that the brief names too, and for the styles that
/// are left those of the same family beside it. What cannot be read is told with its place in the brief, unless it was named elsewhere.
pub fn read_faces(brief: &Brief, brief_path: &Path) -> Result<Faces, Error> {
    let mut all = Faces::built_in();
    for font in brief.typography.fonts() {
        if let Font::File { path, weight, sisters } = font
            && !all.has(font)
        {
            let named = |path: &Path| read_face(path).map_err(|error| placed(error, &InType::Font(path), brief_path));
            let face = named(path)?;
            check_weight(&face, path, *weight)
                .map_err(|error| placed(error, &InType::Weight(path, *weight), brief_path))?;
            let mut read = Vec::new();
            for style in faces::STYLES {
                read.extend(sisters.of(style).map(named).transpose()?.map(|sister| (style, sister)));
            }
            let left = faces::styles_left(&face, &read, *weight);
            let found = sisters::beside(path, face.naming(), *weight, &left).into_iter();
            read.extend(found.filter_map(|(style, path)| Some((style, read_sister(&path)?))));
            all.add_family(font.clone(), face, read);
            check_drawable(&all, font, path).map_err(|error| placed(error, &InType::Font(path), brief_path))?;
        }
    }
    Ok(all)
}

/// A face that nobody named: one that cannot be set and drawn is passed over.
fn read_sister(path: &Path) -> Option<Face> {
    let font = Font::file(path.to_path_buf());
    let mut alone = Faces::built_in();
    alone.add(font.clone(), read_face(path).ok()?);
    check_drawable(&alone, &font, path).ok()?;
    read_face(path).ok()
}

/// Regular and bold are set as near as a font has them; any other weight has to be there.
fn check_weight(face: &Face, path: &Path, weight: Weight) -> Result<(), Error> {
    let refuse =
        |problem: String| Err(Error::new(format!("cannot set the font {} at {weight}: {problem}", path.display())));
    match face.naming().weights() {
        _ if weight == Weight::REGULAR => Ok(()),
        None => refuse("it has one weight; write regular or bold, or name the file of that weight at font".to_owned()),
        Some((least, most)) if !(least..=most).contains(&f32::from(weight.number())) => {
            refuse(format!("its weights are from {least} to {most}; write one of these, or regular or bold"))
        }
        Some(_) => Ok(()),
    }
}

fn placed(error: Error, what: &InType<'_>, brief_path: &Path) -> Error {
    let folder = brief_path.parent().unwrap_or(Path::new(""));
    let bytes = read_up_to(brief_path, "the brief", LARGEST_BRIEF).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    match place_in_type(&text, folder, what) {
        Some((line, column)) => Error::new(format!("{}:{line}:{column}: {error}", brief_path.display())),
        None => error,
    }
}

/// Reads a list of familiar words, one a line.
pub fn read_familiar(path: &Path) -> Result<FamiliarWords, Error> {
    let text = text_of(path, "the list of words", read_up_to(path, "the list of words", LARGEST_DRAFT)?)?;
    let text = no_brief(path, "the list of words", "name a text file with one word a line", text)?;
    lists::read_own(&text).ok_or_else(|| {
        Error::new(format!(
            "cannot use the list of words {}: there is no word in it; write one word a line",
            path.display()
        ))
    })
}

fn read_face(path: &Path) -> Result<Face, Error> {
    if fs::metadata(path).is_err_and(|error| error.kind() == io::ErrorKind::NotFound) {
        return Err(Error::new(format!(
            "cannot read the font {}: there is no such file; write serif or sans for a built-in one, or the path of a .ttf or .otf \
             file; one that is not at hand is written in the brief as font: {{ name: {}, alphabet: 128 pt, at: 12 pt }}, with the \
             length of its a to z",
            path.display(),
            path.file_stem().map_or_else(|| "Some Face".into(), |name| name.to_string_lossy())
        )));
    }
    let bytes = read_up_to(path, "the font", LARGEST_FONT)?;
    let given = kind::of_bytes(&bytes).filter(|kind| *kind != "a font");
    guard::caught(|| Face::read(bytes)).map_err(|_| damaged_font(path))?.ok_or_else(|| {
        let given = given.map_or(String::new(), |kind| format!("{kind} and "));
        Error::new(format!(
            "cannot read the font {}: it is {given}not a TrueType or OpenType font with letters; name a .ttf or .otf file, or \
             serif or sans for a built-in one",
            path.display()
        ))
    })
}

/// The error of a font file over which a library falls, or that no proof can be drawn with.
pub fn damaged_font(path: &Path) -> Error {
    Error::new(format!(
        "cannot use the font {}: the file is damaged, so that a proof cannot be drawn with it; take another copy of it, or serif \
         or sans for a built-in one",
        path.display()
    ))
}

/// Refuses a font that cannot be set, shaped and put into every form of a proof.
fn check_drawable(faces: &Faces, font: &Font, path: &Path) -> Result<(), Error> {
    guard::caught(|| proof::specimen(font, faces))
        .unwrap_or_else(|_| Err(String::new()))
        .map_err(|_| damaged_font(path))
}

fn read_up_to(path: &Path, what: &str, limit: u64) -> Result<Vec<u8>, Error> {
    let operation = format!("read {what}");
    let fail = |error: io::Error| Error::io(&operation, path, &error);
    let file = plain::open(path).map_err(fail)?;
    let mut bytes = Vec::new();
    file.take(limit + 1).read_to_end(&mut bytes).map_err(fail)?;
    if bytes.len() as u64 > limit {
        return Err(too_large(path, what, limit));
    }
    Ok(bytes)
}

fn too_large(path: &Path, what: &str, limit: u64) -> Error {
    Error::new(format!(
        "cannot read {what} {}: it is larger than {} MB, which no such file needs; check that it is the file you meant",
        path.display(),
        limit / MIB
    ))
}

fn text_of(path: &Path, what: &str, bytes: Vec<u8>) -> Result<String, Error> {
    if let Some(kind) = kind::of_bytes(&bytes) {
        return Err(Error::new(format!(
            "cannot read {what} {}: it is {kind}, and {what} is a text file; name that",
            path.display()
        )));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let before = String::from_utf8_lossy(&error.as_bytes()[..good]).into_owned();
        let (line, column) = place(&before, good);
        Error::new(format!(
            "{}:{line}:{column}: cannot read {what}: a letter here is saved in a form that cannot be read; in your editor save \
             the file as plain text with the encoding UTF-8, and try again",
            path.display()
        ))
    })
}

/// The brief of a draft or a folder: beside it, or in a folder above.
pub fn find_brief(beside: &Path) -> Result<PathBuf, Error> {
    let start = if beside.as_os_str().is_empty() { Path::new(".") } else { beside };
    let start = fs::canonicalize(start).map_err(|error| Error::io("look for a brief in", start, &error))?;
    let found = start.ancestors().find(|folder| has_brief(folder)).map(|folder| folder.join(BRIEF_NAME));
    found.map(|path| shortened(&path)).ok_or_else(|| {
        Error::new(format!(
            "there is no {BRIEF_NAME} in {} or above it; make one with `blurbwright start FOLDER`, or name one with --brief",
            shortened(&start).display()
        ))
    })
}

/// Whether a folder is a book's: something but a folder has the name of a brief in it. Whether that can be read is told by who
/// reads it.
pub fn has_brief(folder: &Path) -> bool {
    let path = folder.join(BRIEF_NAME);
    fs::symlink_metadata(&path).is_ok() && !path.is_dir()
}

/// The drafts in a folder and the folders below it, in the order of their names; hidden ones are passed over. A book's folder
/// without any stands for itself, so that who reads it tells of it.
pub fn drafts_in(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let mut drafts = Vec::new();
    collect_drafts(folder, &mut drafts)?;
    Ok(drafts)
}

fn collect_drafts(folder: &Path, drafts: &mut Vec<PathBuf>) -> Result<(), Error> {
    let fail = |error: io::Error| Error::io("list the folder", folder, &error);
    let before = drafts.len();
    let entries: Result<Vec<_>, _> = fs::read_dir(folder).map_err(fail)?.collect();
    let mut entries = entries.map_err(fail)?;
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries.iter().filter(|entry| !entry.file_name().to_string_lossy().starts_with('.')) {
        let path = entry.path();
        // A link to a folder is not followed: it may lead back up.
        if entry.file_type().map_err(fail)?.is_dir() {
            if kept::is_kept_folder(&path) {
                continue;
            }
            collect_drafts(&path, drafts)?;
        } else if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(DRAFT_ENDING)) {
            drafts.push(path);
        }
    }
    if drafts.len() == before && has_brief(folder) {
        drafts.push(folder.to_path_buf());
    }
    Ok(())
}

/// The path from the working folder where it lies in it, which is shorter to read.
fn shortened(path: &Path) -> PathBuf {
    let inside = std::env::current_dir().ok().and_then(|here| path.strip_prefix(here).ok().map(Path::to_path_buf));
    match inside {
        Some(inside) if inside.as_os_str().is_empty() => PathBuf::from("."),
        Some(inside) => inside,
        None => path.to_path_buf(),
    }
}

/// The file beside the brief that remembers what stands.
const STET_NAME: &str = "stet.yaml";

/// Reads what stands in the drafts of a brief's book; nothing does where there is no such file.
pub fn read_stet(brief: &Path) -> Result<Stet, Error> {
    let path = brief.with_file_name(STET_NAME);
    if !path.exists() {
        return Ok(Stet::default());
    }
    let text = text_of(&path, "what stands", read_up_to(&path, "what stands", LARGEST_BRIEF)?)?;
    Stet::read(&text).map_err(|fault| Error::fault(&path, &fault))
}

/// Changes what stands in the drafts of a brief's book, and returns what stands then. Nobody else changes it between the reading
/// and the writing.
pub fn change_stet(brief: &Path, change: impl FnOnce(&mut Stet)) -> Result<Stet, Error> {
    let path = brief.with_file_name(STET_NAME);
    let fail = |error: io::Error| Error::io("write what stands to", &path, &error);
    let _held = stage::hold(&path).map_err(fail)?;
    let before = read_stet(brief)?;
    let mut stet = before.clone();
    change(&mut stet);
    if stet != before {
        stage::replace(&path, stet.written().as_bytes()).map_err(fail)?;
    }
    Ok(stet)
}

/// Makes sure that a file may be written anew: there is none yet.
pub fn check_free(path: &Path) -> Result<(), Error> {
    if fs::symlink_metadata(path).is_ok() { Err(taken(path)) } else { Ok(()) }
}

fn taken(path: &Path) -> Error {
    Error::new(format!(
        "cannot write {}: there is one already, and it is never overwritten; name another place, or move it away",
        path.display()
    ))
}

/// Writes a new file; one that is already there is never touched.
pub fn write_new(path: &Path, text: &str) -> Result<(), Error> {
    write_whole(path, text.as_bytes()).map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => taken(path),
        _ => Error::io("write", path, &error),
    })
}

/// Writes a proof in the place of an older one; a file that is not a proof is never touched.
pub fn write_proof(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    let fail = |error: io::Error| Error::io("write the proof", path, &error);
    if path.exists() {
        fs::metadata(path).and_then(|there| plain::check(&there)).map_err(fail)?;
        if !is_proof(&read_up_to(path, "the file that is there", LARGEST_PROOF)?) {
            return Err(Error::new(format!(
                "cannot write the proof {}: there is a file already that is not a proof, and it is never overwritten; name \
                 another file, or move it away",
                path.display()
            )));
        }
    }
    stage::replace(path, bytes).map_err(fail)
}

fn is_proof(bytes: &[u8]) -> bool {
    let mark = proof::MARK.as_bytes();
    bytes.windows(mark.len()).any(|part| part == mark)
}

/// Makes a folder and those above it, where they are not there yet.
pub fn make_folder(path: &Path) -> Result<(), Error> {
    fs::create_dir_all(path).map_err(|error| Error::io("make the folder", path, &error))
}

/// Changes a brief: what `change` makes of its text is written whole in its place, its permissions kept. Nobody else changes it
/// between the reading and the writing.
pub fn change_brief(path: &Path, change: impl FnOnce(&str) -> Result<String, Error>) -> Result<(), Error> {
    let fail = |error: io::Error| match error.kind() {
        io::ErrorKind::PermissionDenied => Error::new(format!(
            "cannot write the brief {}: you may read it but not change it; change its permissions, then try again",
            path.display()
        )),
        _ => Error::io("write the brief", path, &error),
    };
    let _held = stage::hold(path).map_err(fail)?;
    let text = text_of(path, "the brief", read_up_to(path, "the brief", LARGEST_BRIEF)?)?;
    let new = change(&text)?;
    stage::replace(path, new.as_bytes()).map_err(fail)
}
