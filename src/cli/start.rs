//! `start`: a brief and a first draft for a new book.

use clap::Args;

use super::Answer;
use crate::files::Error;

#[derive(Debug, Args)]
pub(super) struct StartArgs {}

pub(super) fn run(_: &StartArgs) -> Result<Answer, Error> {
    Ok(Answer::Within)
}
