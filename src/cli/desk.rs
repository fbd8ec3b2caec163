//! `desk`: the draft and its measures side by side on the whole screen.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use super::door::Door;
use super::setup::folder_here;
use super::{Answer, lobby, screen};
use crate::desk::theme::{Colours, Keyboard, Letters, Theme};
use crate::files::{self, Error};
use crate::pictures::blocks::ColourDepth;
use crate::pictures::{PictureForm, sixel};
use crate::system;
use crate::terminal::{Modes, Wanted};

/// What `desk` can be asked.
#[derive(Debug, Args, Default)]
#[command(
    after_help = "Examples:\n  blurbwright desk\n  blurbwright desk first.md second.md\n  blurbwright desk my-books\n  \
                  blurbwright desk --tour\n\n\
                  In a folder of books they are listed first; in one without a book you are asked what a brief \
                  needs, and the desk opens on a first draft. \
                  F1, or Esc k, shows every key; Ctrl-Q leaves. Where there is no terminal, or for a screen reader, \
                  `blurbwright measure --watch` prints the report again at each save."
)]
pub(super) struct DeskArgs {
    /// Drafts of one book, or folders of them; the book in this folder where nothing is named
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// The brief; without it, the brief.yaml beside the draft or in a folder above
    #[arg(long, value_name = "FILE")]
    brief: Option<PathBuf>,
    /// Look round on the sample book; nothing is written
    #[arg(long, conflicts_with_all = ["drafts", "brief"])]
    tour: bool,
    /// Leave the mouse to the terminal
    #[arg(long)]
    no_mouse: bool,
    /// Show letters behind Escape in the place of function keys and Alt, which a Mac's keyboard does not send by itself
    #[arg(long)]
    letters: bool,
    /// How the panel is shown: as its proof where the terminal says that it shows pictures, or in signs
    #[arg(long, value_enum, default_value_t)]
    pictures: Pictures,
}

/// How the panel is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum Pictures {
    /// As the terminal says; it is asked at the start, but not behind tmux or screen, nor with NO_COLOR
    #[default]
    Auto,
    /// As a picture by the protocol of kitty, unasked
    Kitty,
    /// As a picture of sixels, unasked
    Sixel,
    /// In signs, with the art behind them
    Blocks,
    /// In signs alone
    Off,
}

impl Pictures {
    fn wanted(self) -> Wanted {
        match self {
            Self::Auto if may_be_asked() => Wanted::Asked,
            Self::Auto | Self::Blocks | Self::Off => Wanted::Nothing,
            Self::Kitty => Wanted::Form(PictureForm::Kitty),
            Self::Sixel => Wanted::Form(PictureForm::Sixel { colours: sixel::COLOURS, widest: u16::MAX }),
        }
    }
}

/// Whether a question of pictures does no harm: behind another program it may be printed or taken for something else,
/// and the console of Linux and whoever wants no colours have no use for it.
fn may_be_asked() -> bool {
    let term = std::env::var("TERM").unwrap_or_default();
    let is_behind = is_set("TMUX") || is_set("STY") || ["screen", "tmux"].iter().any(|name| term.starts_with(name));
    system::KNOWS_BYTES && !is_behind && !is_set("NO_COLOR") && !term.is_empty() && term != "linux"
}

/// Whether an environment variable has a value.
fn is_set(name: &str) -> bool {
    std::env::var_os(name).is_some_and(|value| !value.is_empty())
}

/// Whether a bare `blurbwright` may open the desk: on a terminal.
pub(super) fn suits() -> bool {
    check_terminal().is_ok()
}

pub(super) fn run(args: &DeskArgs) -> Result<Answer, Error> {
    check_terminal()?;
    check_pictures(args.pictures)?;
    let keyboard = if args.letters { Keyboard::Short } else { Keyboard::Whole };
    let theme = theme().with_keyboard(keyboard).with_art((args.pictures != Pictures::Off).then(colour_depth));
    let (pictures, is_afar) = (args.pictures.wanted(), is_set("SSH_CONNECTION"));
    let modes = Modes { mouse: !args.no_mouse, pictures, is_afar };
    if let Some(folder) = args.folder()
        && let Some(answer) = lobby::run(folder, theme, modes)?
    {
        return Ok(answer);
    }
    // Drafts of a book that lies above are opened from their own folder too.
    let is_below = !args.tour && args.drafts.is_empty() && folder_here().is_err();
    let named = if is_below { files::own_drafts(Path::new("."))? } else { args.drafts.clone() };
    let set_up = || if args.tour { Door::tour(theme) } else { Door::set_up(&named, args.brief.as_deref(), theme) };
    let mut ears = None;
    let (mut door, state, first) = match set_up() {
        Ok(opened) => opened,
        Err(error) => match brief_of(&named, args.brief.as_deref()) {
            Ok(brief) if !args.tour => {
                let ears = ears.insert(lobby::open_ears(modes)?);
                if !lobby::mended(&brief, theme, modes, ears)? {
                    return Err(error);
                }
                set_up()?
            }
            _ => return Err(error),
        },
    };
    let ears = ears.map_or_else(|| lobby::open_ears(modes), Ok)?;
    screen::run(state, &mut door, first, modes, &ears)
}

/// The brief with which the desk opens drafts.
fn brief_of(drafts: &[PathBuf], named: Option<&Path>) -> Result<PathBuf, Error> {
    let first = drafts.first().map_or(Path::new(""), PathBuf::as_path);
    let folder = if first.is_dir() { first } else { first.parent().unwrap_or(Path::new("")) };
    named.map_or_else(|| files::find_brief(folder), |brief| Ok(brief.to_path_buf()))
}

impl DeskArgs {
    /// The folder whose content says what is opened; none where drafts or a brief are named, and on the tour.
    fn folder(&self) -> Option<&Path> {
        match self.drafts.as_slice() {
            _ if self.tour || self.brief.is_some() => None,
            [] => Some(Path::new(".")),
            [only] => Some(only.as_path()).filter(|only| only.is_dir()),
            _ => None,
        }
    }
}

fn check_terminal() -> Result<(), Error> {
    let dumb = std::env::var("TERM").is_ok_and(|term| term == "dumb");
    if std::io::stdin().is_terminal() && std::io::stdout().is_terminal() && !dumb {
        return Ok(());
    }
    Err(Error::new(
        "the desk needs a terminal that it can draw on, and here is none; `blurbwright measure` prints the same as \
         text",
    ))
}

/// Refuses pictures by a protocol where the terminal's answers, of which they have need, do not reach the program.
fn check_pictures(pictures: Pictures) -> Result<(), Error> {
    if system::KNOWS_BYTES || !matches!(pictures, Pictures::Kitty | Pictures::Sixel) {
        return Ok(());
    }
    let problem = "what a terminal answers about pictures does not reach a program on this system";
    Err(Error::of_option("--pictures", problem).with_remedy("write blocks, which shows the art in signs"))
}

/// The theme for this terminal.
fn theme() -> Theme {
    let colours = if is_set("NO_COLOR") { Colours::None } else { Colours::Sixteen };
    // The first of these variables that is set decides (POSIX, Environment Variables, section 8.2).
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(|name| std::env::var(name).ok());
    let locale = locale.into_iter().find(|value| !value.is_empty()).unwrap_or_default().to_lowercase();
    Theme::new(colours, letters(&locale, system::CONSOLE_IS_UNICODE))
}

/// The signs for a locale, and for a system whose console shows Unicode where no locale is set: in the signs that the
/// console's fonts have.
fn letters(locale: &str, console_is_unicode: bool) -> Letters {
    if locale.contains("utf-8") || locale.contains("utf8") {
        Letters::Unicode
    } else if locale.is_empty() && console_is_unicode {
        Letters::Console
    } else {
        Letters::Ascii
    }
}

/// How many colours the terminal says that it shows. Source: common practice, since nothing else tells it:
/// `COLORTERM` as terminals set it for their children, `WT_SESSION` of Windows' terminal, which sets no other, and the
/// endings of names in the terminfo database.
fn colour_depth() -> ColourDepth {
    let variable = |name: &str| std::env::var(name).unwrap_or_default();
    let term = variable("TERM");
    let is_told_all = ["truecolor", "24bit"].contains(&variable("COLORTERM").as_str()) || term.ends_with("-direct");
    if is_told_all || (system::SHOWS_ALL_COLOURS && term.is_empty()) {
        ColourDepth::True
    } else if term.ends_with("-256color") || term == "xterm-kitty" {
        ColourDepth::Indexed
    } else {
        ColourDepth::Sixteen
    }
}

#[cfg(test)]
mod tests {
    use super::{Letters, letters};

    #[test]
    fn the_signs_are_those_that_the_system_shows() {
        for (locale, console_is_unicode, signs) in [
            ("en_gb.utf-8", false, Letters::Unicode),
            ("en_gb.utf-8", true, Letters::Unicode),
            ("", true, Letters::Console),
            ("c", true, Letters::Ascii),
            ("c", false, Letters::Ascii),
            ("", false, Letters::Ascii),
        ] {
            assert_eq!(letters(locale, console_is_unicode), signs, "{locale:?}, {console_is_unicode}");
        }
    }
}
