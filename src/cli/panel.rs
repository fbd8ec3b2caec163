//! `panel`: the figures of a panel and its flaps for its illustrator and its editor, printed or drawn.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::proof::{Picture, PictureFormat, resolution};
use super::setup::{Setup, SetupArgs, Setups, folder_here, read_draft};
use super::{Answer, columns, print};
use crate::brief::place::CoverFace;
use crate::draft::Draft;
use crate::files::{self, Error};
use crate::print::panel::{self, PanelPage};
use crate::print::panel_data;
use crate::proof::{self, Proof, slug};
use crate::report::panel::{FaceFigures, PanelFigures};
use crate::report::{Drawing, Fit};

/// What `panel` can be asked.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  blurbwright panel\n  blurbwright panel my-book --resolution 600\n  \
                        blurbwright panel my-book --draft my-book/first.md\n  \
                        blurbwright panel my-book -o panel.svg\n\n\
                        A picture that is there already is replaced; a file that was not drawn by this program never \
                        is.")]
pub(super) struct PanelArgs {
    /// The brief or the book's folder; the book in this folder where nothing is named
    #[arg(value_name = "BRIEF")]
    brief: Option<PathBuf>,
    /// Say what has to stay quiet behind this draft, and not behind any
    #[arg(long, value_name = "DRAFT")]
    draft: Option<PathBuf>,
    /// What to print
    #[arg(long, value_enum, default_value_t)]
    format: PanelFormat,
    /// Pixels per inch of the art, and of a PNG
    #[arg(long, value_name = "NUMBER", default_value_t = USUAL_RESOLUTION, value_parser = resolution)]
    resolution: u32,
    /// Draw the panel in a file that ends in .pdf, .svg or .png, and print nothing
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// The forms of the figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum PanelFormat {
    /// A page to read
    #[default]
    Text,
    /// One JSON object
    Json,
}

/// Common practice: art is asked for at 300 pixels per inch of its printed size.
const USUAL_RESOLUTION: u32 = 300;

pub(super) fn run(args: &PanelArgs) -> Result<Answer, Error> {
    let form = args.output.as_deref().map(|output| PictureFormat::of(output, None)).transpose()?;
    args.output.as_deref().map_or(Ok(()), files::check_folder_of)?;
    let setup = args.setup()?;
    let fit = args.draft.as_deref().map(|draft| fit_of(draft, &setup)).transpose()?;
    let figures = PanelFigures::of(&setup.brief, fit.as_ref());
    if let Some((output, form)) = args.output.as_deref().zip(form) {
        let picture = Picture { output, form, resolution: args.resolution };
        draw(&figures, &setup, &picture)?;
    } else {
        let page =
            PanelPage { brief: &setup.brief, figures: &figures, resolution: args.resolution, columns: columns() };
        print(&match args.format {
            PanelFormat::Text => panel::written(&page),
            PanelFormat::Json => format!("{}\n", panel_data::json(&page)),
        })?;
    }
    Ok(Answer::Within)
}

impl PanelArgs {
    /// The brief that was named, or that of the named folder, or the draft's, or the one in this folder.
    fn setup(&self) -> Result<Arc<Setup>, Error> {
        let named = self.brief.as_ref().filter(|named| !named.is_dir());
        let setups = Setups::new(&SetupArgs::with_brief(named.cloned()))?;
        match (&self.brief, &self.draft) {
            (Some(folder), _) => setups.of_folder(folder),
            (None, Some(draft)) => setups.of_draft(draft),
            (None, None) => setups.of_folder(folder_here()?),
        }
    }
}

fn fit_of(path: &Path, setup: &Setup) -> Result<Fit, Error> {
    let source = read_draft(path)?;
    let draft = Draft::read(&source);
    setup.check_letters(&draft)?;
    setup.guarded(|| Fit::of(&draft, &setup.brief, &setup.faces))
}

fn draw(figures: &PanelFigures, setup: &Setup, picture: &Picture<'_>) -> Result<(), Error> {
    let Setup { brief, faces, .. } = setup;
    let mut facts = vec![slug::of_panel(brief)];
    facts.extend(figures.notes.iter().map(|note| slug::sentence(note)));
    facts.extend(panel::of_type(figures).map(|note| slug::sentence(&note)));
    let sheet = |((face, drawing), figures): ((CoverFace, Drawing), &FaceFigures)| {
        let proof = Proof {
            around: face.around(),
            drawing: &drawing.with_quiet(figures.quiet()),
            title: &brief.book.title,
            subject: &format!("the {}, seen from outside", face.name()),
            facts: &facts,
            cautions: &slug::CAUTIONS[..4],
        };
        proof::sheet(&proof, faces)
    };
    let drawn = Drawing::of_faces_alone(brief).into_iter().zip(&figures.faces);
    picture.write(&drawn.map(sheet).collect::<Vec<_>>())
}
