//! The JSON Schemas of what is printed, so that a script's author need not guess.
//!
//! The schemas stand in `schemas/` as `schema` prints them, so that the program carries nothing to make them with. A
//! test makes them from the types that are printed, and holds them to that.

/// The schema of one report, in JSON Schema draft 2020-12.
pub fn report() -> &'static str {
    include_str!("schemas/report.json")
}

/// The schema of a comparison, in JSON Schema draft 2020-12.
pub fn comparison() -> &'static str {
    include_str!("schemas/compare.json")
}

/// The schema of the terms of one draft, in JSON Schema draft 2020-12.
pub fn terms() -> &'static str {
    include_str!("schemas/terms.json")
}

/// The schema of what can go, in JSON Schema draft 2020-12.
pub fn tighten() -> &'static str {
    include_str!("schemas/tighten.json")
}

/// The schema of other words in one draft, in JSON Schema draft 2020-12.
pub fn words() -> &'static str {
    include_str!("schemas/words.json")
}

/// The schema of the reading level of one text, in JSON Schema draft 2020-12.
pub fn level() -> &'static str {
    include_str!("schemas/level.json")
}

/// The schema of one draft at every size, in JSON Schema draft 2020-12.
pub fn fit() -> &'static str {
    include_str!("schemas/fit.json")
}

/// The schema of a panel's figures, in JSON Schema draft 2020-12.
pub fn panel() -> &'static str {
    include_str!("schemas/panel.json")
}

/// The schema of the answer to one record, in JSON Schema draft 2020-12.
pub fn answer() -> &'static str {
    include_str!("schemas/answer.json")
}

/// The schema of what is printed in place of a draft that could not be read, in JSON Schema draft 2020-12.
pub fn unread() -> &'static str {
    include_str!("schemas/unread.json")
}

#[cfg(test)]
mod tests {
    use std::{env, fs};

    use schemars::generate::SchemaSettings;
    use schemars::transform::RecursiveTransform;
    use schemars::{JsonSchema, Schema};

    use crate::feeds::answer_data::{self, AnswerJson};

    use super::super::compare_data::{self, ComparisonJson};
    use super::super::level_data::{self, LevelsJson};
    use super::super::panel_data::{self, PanelJson};
    use super::super::report_data::{self, ReportJson, UnreadJson};
    use super::super::sizes_data::{self, SizesJson};
    use super::super::terms_data::{self, TermsOfDraftJson};
    use super::super::tighten_data::{self, TightenJson, WordsJson};

    /// Set to write the schemas anew, where what is printed was meant to change.
    const WRITE: &str = "WRITE_SCHEMAS";

    fn written<T: JsonSchema>(title: &str) -> String {
        let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(description_on_one_line));
        let mut schema = settings.into_generator().into_root_schema_for::<T>();
        schema.insert("title".to_owned(), title.into());
        serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
    }

    /// A description is a doc comment of this program, whose line ends say nothing to whoever reads the schema.
    fn description_on_one_line(schema: &mut Schema) {
        if let Some(serde_json::Value::String(description)) = schema.get_mut("description") {
            *description = description.replace('\n', " ");
        }
    }

    #[test]
    fn the_schemas_are_those_of_the_types_that_are_printed() {
        let all = [
            ("report", super::report(), written::<ReportJson>(report_data::SCHEMA)),
            ("compare", super::comparison(), written::<ComparisonJson>(compare_data::SCHEMA)),
            ("terms", super::terms(), written::<TermsOfDraftJson>(terms_data::SCHEMA)),
            ("tighten", super::tighten(), written::<TightenJson>(tighten_data::SCHEMA)),
            ("words", super::words(), written::<WordsJson>(tighten_data::WORDS_SCHEMA)),
            ("level", super::level(), written::<LevelsJson>(level_data::SCHEMA)),
            ("fit", super::fit(), written::<SizesJson>(sizes_data::SCHEMA)),
            ("panel", super::panel(), written::<PanelJson<'_>>(panel_data::SCHEMA)),
            ("answer", super::answer(), written::<AnswerJson<'_>>(answer_data::SCHEMA)),
            ("unread", super::unread(), written::<UnreadJson>(report_data::UNREAD_SCHEMA)),
        ];
        for (name, kept, of_type) in all {
            if env::var_os(WRITE).is_some() {
                fs::write(format!("src/print/schemas/{name}.json"), of_type).unwrap();
            } else {
                assert!(
                    kept == of_type,
                    "the schema {name} is another; `{WRITE}=1 cargo test schemas_are` writes it anew"
                );
            }
        }
    }
}
