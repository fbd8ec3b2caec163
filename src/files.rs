//! The only door to the disk: reads drafts, briefs and fonts, finds them, and writes files.
//!
//! Every error names the operation and the file, and says what to do.

mod art;
pub(crate) mod book_outside;
pub(crate) mod brief_recovery;
mod error;
pub mod desk;
mod drafts;
mod feeds;
mod fingerprint;
mod folders;
mod form;
pub mod guard;
pub mod kept;
mod kind;
mod known_groups;
mod plain;
mod notice;
mod recovery;
mod shapes;
mod shelf;
mod sisters;
mod stage;
pub mod story;
pub mod typed;

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::brief::book::title_in_lines;
use crate::brief::phrases::Phrase;
use crate::brief::stet::Stet;
use crate::brief::typography::{Font, Weight};
use crate::brief::{Brief, InType, place_in_type, place_of_list};
use crate::draft::place;
use crate::editor::mending::MendedText;
use crate::level::familiar::FamiliarWords;
use crate::level::lists;
use crate::proof;
use crate::proof::seal::{self, SealFound};
use crate::setting::Faces;
use crate::setting::face::Face;
use crate::setting::faces;
use crate::system;
use crate::units::nouns::sentence;

use error::FilePlace;
use form::FileForm;
use sisters::FontInFile;
use stage::write_whole;

pub use art::{file_mark, fill_in_art, path_of_art, read_art};
pub use drafts::{ReadDraft, read_copy, read_copy_from_input, read_draft, read_manuscript};
pub use error::Error;
pub use feeds::{is_feed, open, open_feed, read_base, read_brief_over};
use folders::{already_there, check_free_for};
pub use folders::{check_folder_of, check_free, check_shown, entries_of, name_of_folder};
pub use known_groups::KnownGroups;

/// The name of a book's brief.
pub const BRIEF_NAME: &str = "brief.yaml";

const DRAFT_ENDING: &str = "md";

const MIB: u64 = 1024 * 1024;
/// The largest draft in bytes: far above a manuscript of 100,000 words, which stays well below 1 MiB.
const LARGEST_DRAFT: u64 = 16 * MIB;
/// The largest brief in bytes: a brief is about a page.
const LARGEST_BRIEF: u64 = MIB;
/// The largest font in bytes: above the largest in use, which hold tens of thousands of characters.
const LARGEST_FONT: u64 = 64 * MIB;
/// The largest proof in bytes that is looked at before it is replaced: enough for a picture of many drafts at a high
/// resolution.
const LARGEST_PROOF: u64 = 512 * MIB;

/// The error for a folder that holds no draft.
pub fn without_drafts(folder: &Path) -> Error {
    let problem = format!("there is no draft in {}", folder.display());
    let remedy = "a draft is a file that ends in .md";
    let is_document = |path: &PathBuf| {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        matches!(ending.as_deref(), Some("docx" | "odt" | "txt")) && path.is_file()
    };
    let document = entries_of(folder).ok().and_then(|entries| entries.into_iter().find(is_document));
    Error::new(problem).with_remedy(match document {
        Some(document) => {
            format!("{remedy}; for a document name it, as in `blurbwright measure {}`", document.display())
        }
        None => remedy.to_owned(),
    })
}

/// Reads a brief, and the lists of phrases, the shapes and the art that it names.
pub fn read_brief(path: &Path) -> Result<Brief, Error> {
    read_brief_again(path, &KnownGroups::default())
}

/// Reads a brief as [`read_brief`] does, but no group that is known from another.
pub fn read_brief_again(path: &Path, known: &KnownGroups) -> Result<Brief, Error> {
    let mut brief = read_briefs_text(path, known)?;
    fill_in_art(&mut brief, path)?;
    Ok(brief)
}

/// Reads a brief, and the lists of phrases and the shapes that it names, but no art, which takes longer.
pub fn read_brief_without_art(path: &Path) -> Result<Brief, Error> {
    read_briefs_text(path, &KnownGroups::default())
}

fn read_briefs_text(path: &Path, known: &KnownGroups) -> Result<Brief, Error> {
    if path.is_dir() {
        let remedy = format!("name the file, such as {}", path.join(BRIEF_NAME).display());
        return Err(Error::cannot("read the brief", path, "it is a folder").with_remedy(remedy));
    }
    let text = read_brief_text(path)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut brief = Brief::read_parsed(known.parse(&text), &text, folder).map_err(|fault| {
        if kind::is_named_as_text(path) && !kind::is_brief(&text) && !text.trim().is_empty() {
            return Error::cannot("read the brief", path, "it is a draft or another text")
                .with_remedy(format!("name the book's {BRIEF_NAME}"));
        }
        Error::fault(path, fault)
    })?;
    fill_in_lists(&mut brief, &text, path)?;
    shapes::fill_in(&mut brief, &text, path)?;
    Ok(brief)
}

/// The text of a brief's file.
pub fn read_brief_text(path: &Path) -> Result<String, Error> {
    text_of(path, "the brief", read_up_to(path, "the brief", LARGEST_BRIEF)?)
}

/// The title of a book whose brief cannot be used: as far as the lines of the brief tell it, or else the name of its
/// folder.
pub fn title_of_broken(path: &Path) -> String {
    let told = read_brief_text(path).ok().and_then(|text| title_in_lines(&text));
    told.unwrap_or_else(|| name_of_folder(path.parent().unwrap_or(Path::new(""))))
}

/// The whole path of a folder, without links; the path as it is where there is no such folder.
pub fn real_path(folder: &Path) -> PathBuf {
    system::real_path(folder).unwrap_or_else(|_| folder.to_path_buf())
}

/// The text of a brief that can be read as a text and not as a brief, to be mended; none where nothing in the text is
/// at fault.
pub fn unread_brief(path: &Path) -> Option<MendedText> {
    let text = read_brief_text(path).ok()?;
    let read = read_brief_without_art(path).and_then(|brief| read_faces(&brief, path));
    let error = read.err()?;
    let why = sentence(&error.to_string());
    Some(MendedText::new(FileForm::of(&text).1, error.line_in(path), why))
}

/// The text of a brief that another program has written while it was mended here, and what is wrong in it, if anything.
pub fn mended_elsewhere(path: &Path) -> Option<MendedText> {
    let as_it_is = || {
        let text = FileForm::of(&read_brief_text(path).ok()?).1;
        let why = "The brief can be read now: Ctrl-S goes on with it.".to_owned();
        Some(MendedText { is_readable: true, ..MendedText::new(text, None, why) })
    };
    unread_brief(path).or_else(as_it_is)
}

/// Writes the text of a brief that was mended, whether it can be read by now or not, unless another program has changed
/// the file since its text was `read`; returns whether it was written. The file's line endings stay.
pub fn write_mended_brief(path: &Path, read: &str, text: &str) -> Result<bool, Error> {
    let mut is_written = true;
    change_brief(path, |now| {
        let (form, there) = FileForm::of(now);
        is_written = there == read;
        Ok(if is_written { form.file(text) } else { now.to_owned() })
    })?;
    Ok(is_written)
}

/// Reads a brief that is no file of its own, and the files that it names, from the working folder on. `name` stands in
/// errors for the brief's file.
pub fn read_brief_in(text: &str, name: &Path) -> Result<Brief, Error> {
    let brief = Brief::read(text, Path::new("")).map_err(|fault| Error::fault(name, fault))?;
    filled_in(brief, text, name)
}

/// The brief with the lists of phrases, the shapes and the art that it names; `text` is its text and `path` its file.
fn filled_in(mut brief: Brief, text: &str, path: &Path) -> Result<Brief, Error> {
    fill_in_lists(&mut brief, text, path)?;
    shapes::fill_in(&mut brief, text, path)?;
    fill_in_art(&mut brief, path)?;
    Ok(brief)
}

/// Reads every list of phrases that a brief names. An error says where in its text that is.
fn fill_in_lists(brief: &mut Brief, text: &str, path: &Path) -> Result<(), Error> {
    for list in &mut brief.queries.lists {
        if let Some(file) = &list.file {
            let place = || place_of_list(text, list.rule.name()).map(|place| FilePlace::new(path, place));
            list.instead = read_phrases(file).map_err(|error| error.named_at(place()))?;
        }
    }
    Ok(())
}

/// Reads the lists of phrases, the shapes and the fonts that a brief names which is in no file yet.
pub fn read_named(brief: &mut Brief, path: &Path) -> Result<Faces, Error> {
    fill_in_lists(brief, "", path)?;
    shapes::fill_in(brief, "", path)?;
    read_faces(brief, path)
}

/// Reads a brief from a text that is not in its file, with what is in the files that it names, but no art.
pub fn read_left_brief(text: &str, path: &Path) -> Result<(Brief, Faces), Error> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut brief = Brief::read(text, folder).map_err(|fault| Error::new(fault.to_string()))?;
    let faces = read_named(&mut brief, path)?;
    Ok((brief, faces))
}

/// Every file that a brief names, as a path from the working folder: shapes, art, fonts and lists of phrases, whether
/// they are there or not. None where the brief itself cannot be read.
pub fn named_in_brief(path: &Path) -> Vec<PathBuf> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let text = read_up_to(path, "the brief", LARGEST_BRIEF).ok().and_then(|bytes| String::from_utf8(bytes).ok());
    let Some(mut brief) = text.and_then(|text| Brief::read(&text, folder).ok()) else { return Vec::new() };
    let mut named: Vec<PathBuf> = brief.file_shapes_mut().map(|shape| folder.join(&shape.file)).collect();
    named.extend(brief.arts_mut().flat_map(|art| art.pictures_mut()).map(|picture| folder.join(&picture.file)));
    named.extend(brief.queries.lists.iter().filter_map(|list| list.file.clone()));
    for font in brief.fonts() {
        if let Font::File { path, sisters, .. } = font {
            named.push(path.clone());
            named.extend(faces::STYLES.into_iter().filter_map(|style| sisters.of(style)).map(Path::to_path_buf));
        }
    }
    named
}

/// Whether two paths lead to one folder, by whatever way.
pub fn is_one_folder(one: &Path, other: &Path) -> bool {
    one == other || system::real_path(one).is_ok_and(|one| system::real_path(other).is_ok_and(|other| one == other))
}

/// Reads a list of phrases that a rule looks for.
fn read_phrases(path: &Path) -> Result<Vec<Phrase>, Error> {
    let text = text_of(path, "the list of phrases", read_up_to(path, "the list of phrases", LARGEST_DRAFT)?)?;
    Phrase::read_list(&text).map_err(|fault| {
        Error::cannot("use the list of phrases", path, fault.problem).at(FilePlace::line(path, fault.line))
    })
}

/// Reads every font file that a brief's type names, and its sisters: the files that the brief names for other styles,
/// and for the remaining styles fonts of the family in the same collection or folder. An error says where the brief
/// names the font, unless it was named elsewhere.
pub fn read_faces(brief: &Brief, brief_path: &Path) -> Result<Faces, Error> {
    let mut all = Faces::built_in();
    for font in brief.fonts() {
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
            let found = sisters::find(path, face.naming(), *weight, &left).into_iter();
            read.extend(found.filter_map(|(style, font)| Some((style, read_sister(&font)?))));
            all.add_family(font.clone(), face, read);
            check_drawable(&all, font, path).map_err(|error| placed(error, &InType::Font(path), brief_path))?;
        }
    }
    Ok(all)
}

/// Reads a font that nobody named; one that cannot be set and drawn is passed over.
fn read_sister(FontInFile { path, index }: &FontInFile) -> Option<Face> {
    let font = Font::file(path.clone());
    let mut alone = Faces::built_in();
    alone.add(font.clone(), read_face_of(path, *index).ok()?);
    check_drawable(&alone, &font, path).ok()?;
    read_face_of(path, *index).ok()
}

/// Checks a weight. Regular and bold may be approximated by what the font has; any other weight has to be in the font.
fn check_weight(face: &Face, path: &Path, weight: Weight) -> Result<(), Error> {
    let refuse = |problem: String, remedy: &str| {
        let error = Error::cannot("set the font", path, problem).of_part(format!("at {weight}"));
        Err(error.with_remedy(remedy))
    };
    match face.naming().weights() {
        _ if weight == Weight::REGULAR => Ok(()),
        None => {
            refuse("it has one weight".to_owned(), "write regular or bold, or name the file of that weight at font")
        }
        Some((least, most)) if !(least..=most).contains(&f32::from(weight.number())) => {
            refuse(format!("its weights are from {least} to {most}"), "write one of these, or regular or bold")
        }
        Some(_) => Ok(()),
    }
}

/// Adds to an error about a font where the brief names it.
fn placed(error: Error, what: &InType<'_>, brief_path: &Path) -> Error {
    let folder = brief_path.parent().unwrap_or(Path::new(""));
    let bytes = read_up_to(brief_path, "the brief", LARGEST_BRIEF).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    error.named_at(place_in_type(&text, folder, what).map(|place| FilePlace::new(brief_path, place)))
}

/// Reads a list of familiar words, one a line.
pub fn read_familiar(path: &Path) -> Result<FamiliarWords, Error> {
    let text = text_of(path, "the list of words", read_up_to(path, "the list of words", LARGEST_DRAFT)?)?;
    let text = drafts::no_brief(path, "the list of words", "name a text file with one word a line", text)?;
    lists::read_own(&text).ok_or_else(|| {
        Error::cannot("use the list of words", path, "there is no word in it").with_remedy("write one word a line")
    })
}

fn read_face(path: &Path) -> Result<Face, Error> {
    if fs::metadata(path).is_err_and(|error| error.kind() == io::ErrorKind::NotFound) {
        return Err(Error::cannot("read the font", path, "there is no such file").with_remedy(format!(
            "write serif or sans for a built-in one, or the path of a .ttf or .otf file; one that is not at hand is \
             written in the brief as font: {{ name: {}, alphabet: 128 pt, at: 12 pt }}, with the length of its a to z",
            path.file_stem().map_or_else(|| "Some Face".into(), |name| name.to_string_lossy())
        )));
    }
    read_face_of(path, 0)
}

/// Reads one font of a file, by its number in a collection.
fn read_face_of(path: &Path, index: u32) -> Result<Face, Error> {
    let bytes = read_up_to(path, "the font", LARGEST_FONT)?;
    let given = kind::of_bytes(&bytes).filter(|kind| *kind != "a font");
    guard::caught(|| Face::read_in_collection(bytes, index)).map_err(|_| damaged_font(path))?.ok_or_else(|| {
        let given = given.map_or(String::new(), |kind| format!("{kind} and "));
        let problem = format!("it is {given}not a TrueType or OpenType font with letters");
        let remedy = "name a .ttf or .otf file, or serif or sans for a built-in one";
        Error::cannot("read the font", path, problem).with_remedy(remedy)
    })
}

/// The error for a font file on which a library panics, or with which no proof can be drawn.
pub fn damaged_font(path: &Path) -> Error {
    let problem = "the file is damaged, so that a proof cannot be drawn with it";
    let remedy = "take another copy of it, or serif or sans for a built-in one";
    Error::cannot("use the font", path, problem).with_remedy(remedy)
}

/// Refuses a font that cannot be set, shaped and drawn in every form of a proof.
fn check_drawable(faces: &Faces, font: &Font, path: &Path) -> Result<(), Error> {
    let is_drawable = guard::caught(|| proof::specimen(font, faces)).unwrap_or(false);
    if is_drawable { Ok(()) } else { Err(damaged_font(path)) }
}

fn read_up_to(path: &Path, what: &str, limit: u64) -> Result<Vec<u8>, Error> {
    let operation = format!("read {what}");
    let fail = |error: io::Error| Error::io(&operation, path, &error);
    let file = plain::open(path).map_err(fail)?;
    // Room for the whole file is made once: it is then read in one go.
    let length = file.metadata().map_err(fail)?.len().min(limit);
    let mut bytes = Vec::with_capacity(usize::try_from(length).unwrap_or_default());
    file.take(limit + 1).read_to_end(&mut bytes).map_err(fail)?;
    if bytes.len() as u64 > limit {
        return Err(too_large(path, what, limit));
    }
    Ok(bytes)
}

fn too_large(path: &Path, what: &str, limit: u64) -> Error {
    let problem = format!("it is larger than {} MB, which no such file needs", limit / MIB);
    Error::cannot(format!("read {what}"), path, problem).with_remedy("check that it is the file you meant")
}

fn text_of(path: &Path, what: &str, bytes: Vec<u8>) -> Result<String, Error> {
    if let Some(kind) = kind::of_bytes(&bytes) {
        let problem = format!("it is {kind}, and {what} is a text file");
        return Err(Error::cannot(format!("read {what}"), path, problem).with_remedy("name that"));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let before = String::from_utf8_lossy(&error.as_bytes()[..good]).into_owned();
        let problem = "a letter here is saved in a form that cannot be read";
        Error::cannot(format!("read {what}"), path, problem)
            .with_remedy("in your editor save the file as plain text with the encoding UTF-8, and try again")
            .at(FilePlace::new(path, place(&before, good)))
    })
}

/// The brief of a draft or a folder: in its folder, or in a folder above.
pub fn find_brief(beside: &Path) -> Result<PathBuf, Error> {
    let start = if beside.as_os_str().is_empty() { Path::new(".") } else { beside };
    let start = system::real_path(start).map_err(|error| Error::io("look for a brief in", start, &error))?;
    let found = start.ancestors().find(|folder| has_brief(folder)).map(|folder| folder.join(BRIEF_NAME));
    found.map(|path| shortened(&path)).ok_or_else(|| {
        Error::new(format!("there is no {BRIEF_NAME} in {} or above it", shortened(&start).display()))
            .with_remedy("make one with `blurbwright start FOLDER`, or name one with --brief")
    })
}

/// Whether a folder is a book's: it contains something named as a brief that is not a folder. An unreadable brief is
/// reported by whoever reads it.
pub fn has_brief(folder: &Path) -> bool {
    let path = folder.join(BRIEF_NAME);
    fs::symlink_metadata(&path).is_ok() && !path.is_dir()
}

/// The drafts in a folder and the folders below it, in the order of their names, book 2 before book 10; hidden entries
/// are passed over. A book's folder without drafts is returned itself, so that reading it reports the lack.
pub fn drafts_in(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let mut drafts = Vec::new();
    collect_drafts(folder, &mut drafts)?;
    Ok(drafts)
}

/// The drafts of a book, without those of books in folders below.
pub fn own_drafts(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let mut drafts = drafts_in(folder)?;
    let is_own =
        |draft: &Path| draft.ancestors().skip(1).take_while(|above| *above != folder).all(|above| !has_brief(above));
    drafts.retain(|draft| !draft.is_dir() && is_own(draft));
    Ok(drafts.into_iter().map(|draft| draft.strip_prefix(".").map(Path::to_path_buf).unwrap_or(draft)).collect())
}

/// Whether a file is named as a draft.
pub fn is_draft_name(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(DRAFT_ENDING))
}

fn collect_drafts(folder: &Path, drafts: &mut Vec<PathBuf>) -> Result<(), Error> {
    let fail = |error: io::Error| Error::io("list the folder", folder, &error);
    let before = drafts.len();
    for entry in folders::shown_in(folder).map_err(fail)? {
        let path = entry.path();
        // A link to a folder is not followed: it may lead back up.
        if entry.file_type().map_err(fail)?.is_dir() {
            if kept::is_kept_folder(&path) {
                continue;
            }
            collect_drafts(&path, drafts)?;
        } else if is_draft_name(&path) {
            drafts.push(path);
        }
    }
    if drafts.len() == before && has_brief(folder) {
        drafts.push(folder.to_path_buf());
    }
    Ok(())
}

/// The path relative to the working folder if it lies there, which is shorter to read.
fn shortened(path: &Path) -> PathBuf {
    let here = std::env::current_dir().and_then(|here| system::real_path(&here));
    let inside = here.ok().and_then(|here| path.strip_prefix(here).ok().map(Path::to_path_buf));
    match inside {
        Some(inside) if inside.as_os_str().is_empty() => PathBuf::from("."),
        Some(inside) => inside,
        None => path.to_path_buf(),
    }
}

/// The file beside the brief that records the wordings that are let stand.
const STET_NAME: &str = "stet.yaml";

/// Reads the wordings that are let stand in the drafts of a brief's book; none where there is no file.
pub fn read_stet(brief: &Path) -> Result<Stet, Error> {
    let path = brief.with_file_name(STET_NAME);
    if !path.exists() {
        return Ok(Stet::default());
    }
    let text = text_of(&path, "what stands", read_up_to(&path, "what stands", LARGEST_BRIEF)?)?;
    Stet::read(&text).map_err(|fault| Error::fault(&path, fault))
}

/// Changes the wordings that are let stand in the drafts of a brief's book, and returns the result. The folder is
/// locked, so that no other instance changes the file between reading and writing.
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

/// Writes a new file of text; an existing file is never touched.
pub fn write_new(path: &Path, text: &str) -> Result<(), Error> {
    write_new_bytes(path, text.as_bytes())
}

/// Writes a new file; an existing file is never touched. What a killed program has left half-written on the way to it
/// is removed: the folder is locked, so that no other instance is writing it.
pub fn write_new_bytes(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    folders::check_name(path)?;
    folders::check_apart(path, None)?;
    let written = stage::hold(path).and_then(|_held| {
        stage::sweep(stage::folder_of(path), &[path.to_path_buf()]);
        write_whole(path, bytes)
    });
    written.map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => already_there(path),
        _ => Error::io("write", path, &error),
    })
}

/// Writes a proof, replacing an older one that is as it was written here; any other file is never touched.
pub fn write_proof(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    write_over_own(path, bytes, "the proof", "a proof")
}

/// Writes a list of drafts, replacing an older one that is as it was written here; any other file is never touched.
pub fn write_list(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    write_over_own(path, bytes, "the list", "one that was written here")
}

/// Checks that a list of drafts may be written, under the rule of [`write_list`].
pub fn check_list(path: &Path) -> Result<(), Error> {
    check_over_own(path, "the list", "one that was written here")
}

fn write_over_own(path: &Path, bytes: &[u8], what: &str, own: &str) -> Result<(), Error> {
    check_over_own(path, what, own)?;
    stage::replace(path, bytes).map_err(|error| Error::io(&format!("write {what}"), path, &error))
}

fn check_over_own(path: &Path, what: &str, own: &str) -> Result<(), Error> {
    let operation = format!("write {what}");
    let fail = |error: io::Error| Error::io(&operation, path, &error);
    if path.exists() {
        fs::metadata(path).and_then(|there| plain::check(&there)).map_err(fail)?;
        let problem = match seal::found(&read_up_to(path, "the file that is there", LARGEST_PROOF)?) {
            SealFound::Whole => None,
            SealFound::Broken => Some(
                "another program has changed the file that is there, and what it added, such as notes, would be lost"
                    .to_owned(),
            ),
            SealFound::Nothing => {
                Some(format!("there is a file already that is not {own}, and it is never overwritten"))
            }
        };
        if let Some(problem) = problem {
            return Err(Error::cannot(operation, path, problem).with_remedy("name another file, or move it away"));
        }
    }
    folders::check_name(path)
}

/// Makes a folder, and the folders above it that are missing.
pub fn make_folder(path: &Path) -> Result<(), Error> {
    folders::check_name(path)?;
    fs::create_dir_all(path).map_err(|error| Error::io("make the folder", path, &error))
}

/// Changes a brief: `change` receives its text, and the text that it returns replaces the file, whose permissions are
/// kept. The folder is locked, so that no other instance changes the file between reading and writing.
pub fn change_brief(path: &Path, change: impl FnOnce(&str) -> Result<String, Error>) -> Result<(), Error> {
    let fail = |error: io::Error| match error.kind() {
        io::ErrorKind::PermissionDenied => Error::cannot("write the brief", path, "you may read it but not change it")
            .with_remedy("change its permissions, then try again"),
        _ => Error::io("write the brief", path, &error),
    };
    let _held = stage::hold(path).map_err(fail)?;
    let text = text_of(path, "the brief", read_up_to(path, "the brief", LARGEST_BRIEF)?)?;
    let new = change(&text)?;
    stage::replace(path, new.as_bytes()).map_err(fail)
}
