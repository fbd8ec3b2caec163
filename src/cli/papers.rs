//! What the program prints about itself: JSON Schemas, licences, shell completions and manual pages.

use clap::{CommandFactory, ValueEnum};
use clap_complete::Shell;

use super::{Answer, Cli, print};
use crate::files::Error;
use crate::print::schema;

const LICENCES: [(&str, &str); 7] = [
    ("Blurbwright", include_str!("../../LICENSE")),
    ("Crimson Pro, the built-in serif", include_str!("../fonts/CrimsonPro-OFL.txt")),
    ("Nunito, the built-in sans", include_str!("../fonts/Nunito-OFL.txt")),
    (
        "CMU Pronouncing Dictionary, from which syllables are counted",
        include_str!("../../wordlists/cmudict-LICENSE.txt"),
    ),
    (
        "WordNet 3.0, from which irregular forms, parts of speech, other words and a part of the word frequencies are \
         taken",
        include_str!("../../wordlists/wordnet-LICENSE.txt"),
    ),
    (
        "Unicode Common Locale Data Repository, from which quotation marks are taken",
        include_str!("../../wordlists/unicode-LICENSE.txt"),
    ),
    ("SCOWL, from which British and American spellings are taken", include_str!("../../wordlists/scowl-LICENSE.txt")),
];

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
    let texts: Vec<String> = LICENCES.iter().map(|(of, text)| format!("{of}\n\n{}\n", text.trim())).collect();
    say(&texts.join("\n\n"))
}

pub(super) fn completions(shell: Shell) -> Result<Answer, Error> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "blurbwright", &mut script);
    say(&String::from_utf8_lossy(&script))
}

pub(super) fn manual(named: Option<&str>) -> Result<Answer, Error> {
    let mut program = Cli::command();
    program.build();
    let command = match named {
        None => program,
        Some(name) => {
            let known: Vec<&str> =
                program.get_subcommands().map(clap::Command::get_name).filter(|known| *known != "help").collect();
            let unknown = Error::new(format!("there is no command named {name}"))
                .with_remedy(format!("the commands are {}", known.join(", ")));
            program.find_subcommand(name).ok_or(unknown)?.clone()
        }
    };
    let mut page = Vec::new();
    let rendered = clap_mangen::Man::new(command).render(&mut page);
    rendered.map_err(|error| {
        Error::new(error.to_string()).of_operation("write the manual page").with_remedy("try again")
    })?;
    say(&String::from_utf8_lossy(&page))
}

fn say(text: &str) -> Result<Answer, Error> {
    print(text)?;
    Ok(Answer::Within)
}
