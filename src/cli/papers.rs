//! What the program prints about itself: JSON Schemas, licences, shell completions and manual pages.

use clap::{CommandFactory, ValueEnum};
use clap_complete::Shell;

use super::{Answer, Cli, print};
use crate::files::Error;
use crate::print::schema;

/// What is built in and has a licence of its own: what it is, the SPDX expression of its licence, and its text.
const LICENCES: [(&str, &str, &str); 7] = [
    ("Blurbwright", "MIT", include_str!("../../LICENSE")),
    ("Crimson Pro, the built-in serif", "OFL-1.1", include_str!("../fonts/CrimsonPro-OFL.txt")),
    ("Nunito, the built-in sans", "OFL-1.1", include_str!("../fonts/Nunito-OFL.txt")),
    (
        "CMU Pronouncing Dictionary, from which syllables are counted",
        "BSD-2-Clause",
        include_str!("../../wordlists/cmudict-LICENSE.txt"),
    ),
    (
        "WordNet 3.0, from which irregular forms, parts of speech, other words and a part of the word frequencies are \
         taken",
        "LicenseRef-WordNet-3.0",
        include_str!("../../wordlists/wordnet-LICENSE.txt"),
    ),
    (
        "Unicode Common Locale Data Repository, from which quotation marks are taken",
        "Unicode-3.0",
        include_str!("../../wordlists/unicode-LICENSE.txt"),
    ),
    (
        "SCOWL, from which British and American spellings are taken",
        "LicenseRef-SCOWL",
        include_str!("../../wordlists/scowl-LICENSE.txt"),
    ),
];

/// The crates that the program is built from.
const CRATES: &str = include_str!("crates.txt");

/// The texts of their licences, packed by the build script.
const CRATE_LICENCES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/crate-licences"));

/// The program's name on the command line.
const PROGRAM: &str = "blurbwright";

/// What has a schema.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
pub(super) enum Described {
    /// What `measure` prints of one draft
    #[default]
    Report,
    /// What `compare` prints
    Compare,
    /// What `terms` prints of one draft
    Terms,
    /// What `tighten` prints of one draft
    Tighten,
    /// What `words` prints of one draft
    Words,
    /// What `level` prints of one text
    Level,
    /// What `fit` prints of one draft
    Fit,
    /// What `panel` prints
    Panel,
    /// What `measure --records` answers to one record
    Answer,
    /// What every command prints in the place of a draft that could not be read
    Unread,
}

pub(super) fn schema(of: Described) -> Result<Answer, Error> {
    let schema = match of {
        Described::Report => schema::report(),
        Described::Compare => schema::comparison(),
        Described::Terms => schema::terms(),
        Described::Tighten => schema::tighten(),
        Described::Words => schema::words(),
        Described::Level => schema::level(),
        Described::Fit => schema::fit(),
        Described::Panel => schema::panel(),
        Described::Answer => schema::answer(),
        Described::Unread => schema::unread(),
    };
    say(schema)
}

pub(super) fn licences() -> Result<Answer, Error> {
    let mut texts: Vec<String> =
        LICENCES.iter().map(|(of, spdx, text)| format!("{of} ({spdx})\n\n{}\n", text.trim())).collect();
    texts.push(crates());
    texts.push(crate_licences()?);
    say(&texts.join("\n\n"))
}

/// The crates, each on a line with its version and its licence.
fn crates() -> String {
    let lines = CRATES.lines().filter(|line| !line.starts_with('#'));
    let parts = lines.map(|line| line.splitn(3, ' ').collect::<Vec<_>>());
    let rows: Vec<(String, &str)> = parts
        .filter_map(|parts| match parts[..] {
            [name, version, spdx] => Some((format!("{name} {version}"), spdx)),
            _ => None,
        })
        .collect();
    let width = rows.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
    let heading = "Crates from which the program is built on one platform or another, each with its licence as an \
                   SPDX expression";
    let lines: String = rows.iter().map(|(name, spdx)| format!("{name:width$}  {spdx}\n")).collect();
    format!("{heading}\n\n{lines}")
}

/// The texts of the crates' licences, each under the crates that have it.
fn crate_licences() -> Result<String, Error> {
    let damaged = || Error::new("the licences are damaged").with_remedy("install the program again");
    let bytes = miniz_oxide::inflate::decompress_to_vec(CRATE_LICENCES).map_err(|_| damaged())?;
    let text = String::from_utf8(bytes).map_err(|_| damaged())?;
    let texts = text.split_once("\n\n").map_or("", |(_, texts)| texts);
    Ok(format!("The texts of those licences, each under the crates that carry it\n\n{}\n", texts.trim_end()))
}

pub(super) fn completions(shell: Shell) -> Result<Answer, Error> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), PROGRAM, &mut script);
    say(&String::from_utf8_lossy(&script))
}

pub(super) fn manual(named: Option<&str>) -> Result<Answer, Error> {
    let mut program = Cli::command();
    program.build();
    let version = program.get_version().unwrap_or_default().to_owned();
    // Each page is of the whole program, by its version, and has the name by which `man` finds it.
    let (command, title) = match named {
        None => (program, PROGRAM.to_owned()),
        Some(name) => {
            let known: Vec<&str> =
                program.get_subcommands().map(clap::Command::get_name).filter(|known| *known != "help").collect();
            let unknown = Error::new(format!("there is no command named {name}"))
                .with_remedy(format!("the commands are {}", known.join(", ")));
            (program.find_subcommand(name).ok_or(unknown)?.clone(), format!("{PROGRAM}-{name}"))
        }
    };
    let mut page = Vec::new();
    let manual = clap_mangen::Man::new(command).title(title).source(format!("{PROGRAM} {version}"));
    let rendered = manual.render(&mut page);
    rendered.map_err(|error| {
        Error::new(error.to_string()).of_operation("write the manual page").with_remedy("try again")
    })?;
    say(&String::from_utf8_lossy(&page))
}

fn say(text: &str) -> Result<Answer, Error> {
    print(text)?;
    Ok(Answer::Within)
}
