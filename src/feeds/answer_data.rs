//! What is answered to one line of records, as JSON.

#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::value::RawValue;

use crate::print::json::{self, Style};
use crate::print::report_data::ReportJson;

/// The name of the present form.
#[cfg(test)]
pub(crate) const SCHEMA: &str = "blurbwright-answer-1";

/// The answer to one line of records.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct AnswerJson<'a> {
    /// The version of this form, which rises when a key is given another meaning: 1.
    v: u32,
    /// The file of the records as it was named; left out where they came through standard input.
    #[serde(skip_serializing_if = "Option::is_none")]
    path: Option<&'a str>,
    /// The line of the input that is answered, from 1; lines without anything in them count and are not answered.
    line: usize,
    /// What the record is known by, as the line has it; null where it has nothing or could not be read.
    #[cfg_attr(test, schemars(with = "serde_json::Value"))]
    id: Option<&'a RawValue>,
    /// What `measure` prints of the draft, in detail with `--counted`; left out where there is an error.
    #[serde(skip_serializing_if = "Option::is_none")]
    report: Option<ReportJson>,
    /// Why the record could not be measured; left out where there is a report.
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<RecordErrorJson>,
}

/// Why a record could not be measured.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
struct RecordErrorJson {
    /// What went wrong and what to do.
    message: String,
}

/// Which line an answer belongs to.
#[derive(Debug, Clone, Copy)]
pub struct AnsweredLine<'a> {
    /// The file as it was named; none for standard input.
    pub path: Option<&'a str>,
    /// The line in it, from 1.
    pub number: usize,
    /// What the record is known by.
    pub id: Option<&'a RawValue>,
}

impl<'a> AnswerJson<'a> {
    /// The answer of one line: its report, or the message of what went wrong.
    pub fn of(line: AnsweredLine<'a>, found: Result<ReportJson, String>) -> Self {
        let AnsweredLine { path, number, id } = line;
        let (report, error) = match found {
            Ok(report) => (Some(report), None),
            Err(message) => (None, Some(RecordErrorJson { message })),
        };
        Self { v: 1, path, line: number, id, report, error }
    }

    /// The answer in one line with its ending.
    pub fn written(&self) -> String {
        json::written(self, Style::Compact) + "\n"
    }
}
