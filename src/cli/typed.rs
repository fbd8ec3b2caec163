//! Mistakes on the command line in plain words: the messages of the library that parses the arguments are for
//! programmers.

use clap::error::{ContextKind, ErrorKind};

const PROGRAM: &str = "blurbwright";

/// Whether the desk has an option, given as `--letters`.
fn is_of_desk(option: &str, program: &clap::Command) -> bool {
    let desk = program.find_subcommand("desk");
    desk.is_some_and(|desk| {
        desk.get_arguments().any(|it| it.get_long().map(|long| format!("--{long}")).as_deref() == Some(option))
    })
}

/// What is wrong, and where the right form is explained.
pub(super) fn in_plain_words(error: &clap::Error, program: &clap::Command) -> String {
    let told = |kind| error.get(kind).map(ToString::to_string).unwrap_or_default();
    let option = named(&told(ContextKind::InvalidArg));
    let value = told(ContextKind::InvalidValue);
    let meant = |kind| match told(kind) {
        none if none.is_empty() => String::new(),
        near => format!("; did you mean {near}?"),
    };
    let usage = told(ContextKind::Usage);
    if error.kind() == ErrorKind::UnknownArgument && command(&usage) == PROGRAM && is_of_desk(&option, program) {
        return format!("{option} is an option of the desk: write `{PROGRAM} desk {option}`");
    }
    let is_name = !option.starts_with('-') && told(ContextKind::ValidValue).is_empty();
    let said = match error.kind() {
        ErrorKind::InvalidSubcommand => {
            let near = meant(ContextKind::SuggestedSubcommand);
            format!("there is no command {}{near}", told(ContextKind::InvalidSubcommand))
        }
        ErrorKind::UnknownArgument => format!("{option} is not known here{}", meant(ContextKind::SuggestedArg)),
        // Only an option can stand there with nothing behind it.
        ErrorKind::InvalidValue if value.is_empty() && is_name => {
            format!("the name of the {} is empty; write one", option.to_lowercase())
        }
        ErrorKind::InvalidValue if value.is_empty() => format!("{option} needs a word behind it"),
        ErrorKind::InvalidValue => match meant(ContextKind::SuggestedValue) {
            none if none.is_empty() => {
                format!("{option}: \"{value}\" is not known; write one of {}", told(ContextKind::ValidValue))
            }
            near => format!("{option}: \"{value}\" is not known{near}"),
        },
        ErrorKind::ValueValidation => {
            let why = std::error::Error::source(error).map(ToString::to_string).unwrap_or_default();
            format!("{option}: \"{value}\" cannot be used; {why}")
        }
        ErrorKind::ArgumentConflict => {
            let other = named(&told(ContextKind::PriorArg));
            format!("{option} and {other} do not go together; leave one of them out")
        }
        ErrorKind::MissingRequiredArgument => format!("{option} is missing"),
        _ => error.to_string().lines().next().unwrap_or_default().trim_start_matches("error: ").to_owned(),
    };
    let stop = if said.ends_with('?') { "" } else { "." };
    format!("{said}{stop} See `{} --help`", command(&usage))
}

/// An option or a value without the brackets round its form, such as `--output` or `FOLDER`; of several, each one.
fn named(argument: &str) -> String {
    let one = |argument: &str| match argument.split_once(' ') {
        Some((option, _)) if option.starts_with('-') => option.to_owned(),
        _ => argument.trim_matches(['<', '>', '[', ']', '.']).to_owned(),
    };
    argument.split(", ").map(one).collect::<Vec<_>>().join(" and ")
}

/// The command named in a usage line, such as `blurbwright measure`.
fn command(usage: &str) -> String {
    let words = usage.split_whitespace().skip_while(|word| *word != "Usage:").skip(2);
    let named = words.take_while(|word| word.chars().all(|letter| letter.is_ascii_lowercase()));
    [PROGRAM].into_iter().chain(named).collect::<Vec<_>>().join(" ")
}
