//! The JSON Schemas of what is printed, so that a script's author need not guess.

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema};

use super::compare_data::{self, ComparisonJson};
use super::level_data::{self, LevelsJson};
use super::panel_data::{self, PanelJson};
use super::report_data::{self, ReportJson};
use super::sizes_data::{self, SizesJson};
use super::terms_data::{self, TermsOfDraftJson};
use super::tighten_data::{self, TightenJson};
use super::unread_data::{self, UnreadJson};

/// The schema of one report, in JSON Schema draft 2020-12.
pub fn report() -> String {
    written::<ReportJson>(report_data::SCHEMA)
}

/// The schema of a comparison, in JSON Schema draft 2020-12.
pub fn comparison() -> String {
    written::<ComparisonJson>(compare_data::SCHEMA)
}

/// The schema of the terms of one draft, in JSON Schema draft 2020-12.
pub fn terms() -> String {
    written::<TermsOfDraftJson>(terms_data::SCHEMA)
}

/// The schema of what can go, in JSON Schema draft 2020-12.
pub fn tighten() -> String {
    written::<TightenJson>(tighten_data::SCHEMA)
}

/// The schema of the reading level of one text, in JSON Schema draft 2020-12.
pub fn level() -> String {
    written::<LevelsJson>(level_data::SCHEMA)
}

/// The schema of one draft at every size, in JSON Schema draft 2020-12.
pub fn fit() -> String {
    written::<SizesJson>(sizes_data::SCHEMA)
}

/// The schema of a panel's figures, in JSON Schema draft 2020-12.
pub fn panel() -> String {
    written::<PanelJson<'_>>(panel_data::SCHEMA)
}

/// The schema of what is printed in place of a draft that could not be read, in JSON Schema draft 2020-12.
pub fn unread() -> String {
    written::<UnreadJson>(unread_data::SCHEMA)
}

fn written<T: JsonSchema>(title: &str) -> String {
    let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(description_on_one_line));
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    schema.insert("title".to_owned(), title.into());
    serde_json::to_string_pretty(&schema).unwrap_or_default()
}

/// A description is a doc comment of this program, whose line ends say nothing to who reads the schema.
fn description_on_one_line(schema: &mut Schema) {
    if let Some(serde_json::Value::String(description)) = schema.get_mut("description") {
        *description = description.replace('\n', " ");
    }
}
