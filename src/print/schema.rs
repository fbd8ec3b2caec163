//! The JSON Schema of the report, so that a script's author need not guess.

use schemars::generate::SchemaSettings;

use super::json::{ReportJson, SCHEMA};

/// The schema of one report, in JSON Schema draft 2020-12.
pub fn report() -> String {
    let mut schema = SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<ReportJson>();
    schema.insert("title".to_owned(), SCHEMA.into());
    serde_json::to_string_pretty(&schema).unwrap_or_default()
}
