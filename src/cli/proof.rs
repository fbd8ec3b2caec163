//! `proof`: drafts drawn in their panel at true size.

use std::collections::BTreeSet;
use std::panic::resume_unwind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::setup::{Setup, SetupArgs, Setups, drafts_of, read_draft, tell_notes};
use super::{Answer, each, print_bytes};
use crate::brief::Brief;
use crate::brief::typography::Font;
use crate::draft::Draft;
use crate::files::{self, Error, guard};
use crate::proof::sheet::{Sheet, SheetMark};
use crate::proof::tiles::{self, PrinterPaper};
use crate::proof::{self, Proof, pdf, png, slug, svg};
use crate::report::drawing::{ArtStrength, FaceDrawing};
use crate::report::{self, Drawing, Report};
use crate::setting::Faces;

/// What `proof` can be asked.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  blurbwright proof first.md -o first.pdf\n  \
                  blurbwright proof first.md second.md -o both.png --resolution 300\n  \
                  blurbwright proof first.md --size 12pt -o smaller.svg\n  \
                  blurbwright proof first.md --paper a4 -o sheets.pdf\n\n\
                  PDF has a page for each draft, SVG and PNG show them side by side. A proof that is there already is \
                  replaced; a proof to which another program has added something, such as notes, never is, nor is any \
                  other file.")]
pub(super) struct ProofArgs {
    /// Drafts, folders of drafts, or - for standard input; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    #[command(flatten)]
    setup: SetupArgs,
    /// The file to write, ending in .pdf, .svg or .png; - for standard output
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// The form, where the file's ending does not say it
    #[arg(long, value_enum)]
    format: Option<PictureFormat>,
    /// Pixels per inch of a PNG
    #[arg(long, value_name = "NUMBER", default_value_t = png::USUAL_RESOLUTION, value_parser = resolution)]
    resolution: u32,
    /// The paper at hand: sheets of it, to be cut and joined by their marks, in place of one as large as it must be
    #[arg(long, value_enum)]
    paper: Option<PaperSize>,
    /// Art at a third of its strength, so that the lines are judged by themselves
    #[arg(long)]
    faded: bool,
}

/// Parses a resolution in pixels per inch, from 10 to 2400.
///
/// # Errors
///
/// A sentence that says what to write instead, where `text` is no such number.
pub(super) fn resolution(text: &str) -> Result<u32, String> {
    let number = text.parse().ok().filter(|number| (10..=2400).contains(number));
    number.ok_or_else(|| "write a whole number of pixels per inch from 10 to 2400".to_owned())
}

/// Where a picture goes and in which form.
pub(super) struct Picture<'a> {
    pub(super) output: &'a Path,
    pub(super) form: PictureFormat,
    pub(super) resolution: u32,
}

/// The papers that a printer may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PaperSize {
    /// 210 x 297 mm
    A4,
    /// 8.5 x 11 in
    Letter,
    /// 297 x 420 mm
    A3,
}

impl PaperSize {
    fn paper(self) -> PrinterPaper {
        match self {
            Self::A4 => PrinterPaper::A4,
            Self::Letter => PrinterPaper::Letter,
            Self::A3 => PrinterPaper::A3,
        }
    }
}

/// The forms of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PictureFormat {
    /// Pages to print, fonts included, words to be searched and copied
    Pdf,
    /// A drawing of lines
    Svg,
    /// A picture of dots
    Png,
}

/// A draft with everything that its sheet is made from.
pub(super) struct ProofDraft {
    pub(super) name: String,
    pub(super) setup: Arc<Setup>,
    pub(super) draft: Draft,
    pub(super) report: Report,
}

pub(super) fn run(args: &ProofArgs) -> Result<Answer, Error> {
    let form = PictureFormat::of(&args.output, args.format)?;
    if args.paper.is_some() && form != PictureFormat::Pdf {
        return Err(Error::of_option("--paper", "sheets of paper are pages, and only a PDF has pages")
            .with_remedy("end the file's name in .pdf, or leave out --paper"));
    }
    files::check_folder_of(&args.output)?;
    let picture = Picture { output: &args.output, form, resolution: args.resolution };
    let setups = Setups::new(&args.setup)?;
    let strength = if args.faded { ArtStrength::Faded } else { ArtStrength::Full };
    let (drafts, unread) = each(&drafts_of(&args.drafts)?, |path| {
        let source = read_draft(path)?;
        let read = ProofDraft::of(path, &source, &setups)?;
        tell_notes(path, &source, &read.report.notes);
        Ok(read)
    });
    if !drafts.is_empty() {
        let sheets: Result<Vec<Vec<Sheet<'_>>>, Error> = drafts.iter().map(|draft| draft.sheets(strength)).collect();
        let sheets: Vec<Sheet<'_>> = sheets?.into_iter().flatten().collect();
        match args.paper {
            None => picture.write(&sheets)?,
            Some(paper) => {
                let tiled = sheets.iter().flat_map(|sheet| tiles::of(sheet, paper.paper()));
                picture.write(&tiled.collect::<Vec<_>>())?;
            }
        }
    }
    if !unread.is_empty() {
        return Ok(Answer::NotUnderstood);
    }
    let answers = drafts.iter().map(|draft| Answer::from_verdict(&draft.report.verdict));
    Ok(answers.max().unwrap_or(Answer::Within))
}

impl ProofDraft {
    pub(super) fn read(path: &Path, setups: &Setups) -> Result<Self, Error> {
        Self::of(path, &read_draft(path)?, setups)
    }

    /// Measures a text as the draft at a path.
    pub(super) fn of(path: &Path, source: &str, setups: &Setups) -> Result<Self, Error> {
        let draft = Draft::read(source);
        let setup = setups.of_draft(path)?;
        setup.check_letters(&draft)?;
        let report = setup.guarded(|| report::assess(&draft, &setup.brief, &setup.faces))?;
        Ok(Self { name: path.display().to_string(), setup, draft, report })
    }

    /// A sheet for each face of the cover.
    fn sheets(&self, strength: ArtStrength) -> Result<Vec<Sheet<'_>>, Error> {
        let Setup { brief, faces, .. } = self.setup.as_ref();
        let sheets = || {
            each_face(&self.report, &self.draft, (brief, faces), &self.name, |proof, faces| {
                let drawing = &proof.drawing.clone().with_art(strength);
                proof::sheet(&Proof { drawing, around: proof.around.clone(), ..*proof }, faces)
            })
        };
        Ok(self.setup.guarded(sheets)?.into_iter().map(|(_, sheet)| sheet).collect())
    }

    /// A sheet for each face with only the face and the copy on it.
    pub(super) fn faces_alone(&self) -> Result<Vec<(Option<&'static str>, Sheet<'_>)>, Error> {
        let Setup { brief, faces, .. } = self.setup.as_ref();
        self.setup.guarded(|| each_face(&self.report, &self.draft, (brief, faces), &self.name, proof::panel_alone))
    }
}

/// A sheet for each face of the cover: the panel, the flaps, then the spine.
pub(super) fn sheets_of<'a>(
    report: &Report,
    draft: &Draft,
    (brief, faces): (&Brief, &'a Faces),
    name: &str,
) -> Vec<Sheet<'a>> {
    each_face(report, draft, (brief, faces), name, proof::sheet).into_iter().map(|(_, sheet)| sheet).collect()
}

/// Lays every face out, the panel first, each with its name where it is another.
fn each_face<'a>(
    report: &Report,
    draft: &Draft,
    (brief, faces): (&Brief, &'a Faces),
    name: &str,
    laid_out: impl Fn(&Proof<'_>, &'a Faces) -> Sheet<'a>,
) -> Vec<(Option<&'static str>, Sheet<'a>)> {
    let sheet = |FaceDrawing { name: face, around, drawing }: &FaceDrawing| {
        let facts = slug::facts(report, brief, drawing.title().is_some());
        let (title, subject, cautions) = (&brief.book.title, &on_face(name, *face), &slug::CAUTIONS);
        let proof = Proof { around: around.clone(), drawing, title, subject, facts: &facts, cautions };
        (*face, laid_out(&proof, faces))
    };
    Drawing::of_faces(report, draft, brief, faces).iter().map(sheet).collect()
}

/// A draft's name, and behind it the face that is shown, where it is not the panel.
pub(super) fn on_face(name: &str, face: Option<&str>) -> String {
    face.map_or_else(|| name.to_owned(), |face| format!("{name}, {face}"))
}

impl Picture<'_> {
    /// Writes the sheets to a file or to standard output.
    pub(super) fn write(&self, sheets: &[Sheet<'_>]) -> Result<(), Error> {
        let bytes = drawn(sheets, || match self.form {
            PictureFormat::Pdf => Ok(pdf::written(sheets)),
            PictureFormat::Svg => Ok(svg::written(sheets).into_bytes()),
            PictureFormat::Png => png::written(sheets, self.resolution).ok_or_else(|| self.too_many_pixels(sheets)),
        })?;
        if self.output.as_os_str() == "-" {
            return print_bytes(&bytes).map(|_| ());
        }
        files::write_proof(self.output, &bytes)
    }

    fn too_many_pixels(&self, sheets: &[Sheet<'_>]) -> Error {
        let (width, height) = png::size(sheets, self.resolution);
        Error::new(format!("a PNG of {width} x {height} pixels is too large"))
            .with_remedy("take a smaller --resolution, fewer drafts, or PDF or SVG")
    }
}

/// Runs `draw` over the sheets. If a drawing library panics, the error names the font files of the letters on the
/// sheets, of which one is damaged; without font files the panic goes on.
pub(super) fn drawn(sheets: &[Sheet<'_>], draw: impl FnOnce() -> Result<Vec<u8>, Error>) -> Result<Vec<u8>, Error> {
    let own = |mark: &SheetMark| match mark {
        SheetMark::Glyphs(run, _) => {
            Some(&run.font).filter(|font| matches!(font, Font::File { .. })).map(ToString::to_string)
        }
        _ => None,
    };
    guard::caught(draw).unwrap_or_else(|fault| {
        let names: BTreeSet<String> = sheets.iter().flat_map(|sheet| &sheet.marks).filter_map(own).collect();
        if names.is_empty() {
            resume_unwind(fault);
        }
        Err(files::damaged_font(Path::new(&names.into_iter().collect::<Vec<_>>().join(" or "))))
    })
}

impl PictureFormat {
    /// The form that was asked for, or else the form of the file's ending.
    pub(super) fn of(output: &Path, asked: Option<Self>) -> Result<Self, Error> {
        let ending = output.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        let named = Self::value_variants().iter().copied().find(|form| ending.as_deref() == Some(form.ending()));
        asked.or(named).ok_or_else(|| {
            Error::new(format!("cannot tell the form of {}", output.display()))
                .with_remedy("end the file's name in .pdf, .svg or .png, or say --format pdf, svg or png")
        })
    }

    fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Png => "png",
        }
    }
}
