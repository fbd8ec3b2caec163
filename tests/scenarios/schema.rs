//! The JSON Schemas that the program prints, and a checker of the keywords that stand in them.
//!
//! A general library is held against the same schemas by `tests/reference/schemas/run`, since it takes longer to build
//! than all tests take to run.

use serde_json::Value;

use super::book::Book;

/// Keywords that ask nothing of a value; `format` tells the width of a number here.
const NOTES: [&str; 5] = ["$schema", "$defs", "title", "description", "format"];

/// A JSON Schema of draft 2020-12.
pub(super) struct Schema(Value);

impl Schema {
    /// The schema that `blurbwright schema` prints of what a command prints.
    pub(super) fn of(command: &str) -> Self {
        let printed = Book::empty().run(["schema", command]).answers(0).printed.clone();
        Self(serde_json::from_str(&printed).expect("a schema is JSON"))
    }

    /// The name and version of the schema, which each document has under `schema`.
    pub(super) fn title(&self) -> &Value {
        &self.0["title"]
    }

    /// What a document has that the schema does not allow, each with its path in the document; nothing where it is
    /// valid.
    ///
    /// # Panics
    ///
    /// Where the schema has a keyword that is not known here, since nothing would be checked of it.
    pub(super) fn faults(&self, document: &Value) -> Vec<String> {
        let mut faults = Vec::new();
        self.check(&self.0, document, "", &mut faults);
        faults
    }

    /// Whether a document has no fault.
    pub(super) fn is_kept_by(&self, document: &Value) -> bool {
        self.faults(document).is_empty()
    }

    /// Stops the test where a document has faults, and names them.
    #[track_caller]
    pub(super) fn asserts(&self, document: &Value) {
        let faults = self.faults(document);
        assert!(faults.is_empty(), "by {}: {faults:#?}", self.title());
    }

    fn check(&self, schema: &Value, value: &Value, path: &str, faults: &mut Vec<String>) {
        for (keyword, wanted) in schema.as_object().expect("a schema is an object") {
            if let Some(fault) = self.fault(schema, keyword, wanted, value, path, faults) {
                faults.push(format!("{path}: {fault}"));
            }
        }
    }

    /// The fault of a value itself by one keyword. The faults of its parts are added to `faults`.
    fn fault(
        &self,
        schema: &Value,
        keyword: &str,
        wanted: &Value,
        value: &Value,
        path: &str,
        faults: &mut Vec<String>,
    ) -> Option<String> {
        let mut below = |schema: &Value, value: &Value, key: &str| {
            self.check(schema, value, &format!("{path}/{key}"), faults);
        };
        let is_kept = match keyword {
            "type" => match wanted {
                Value::Array(types) => types.iter().any(|name| is_of_type(value, name)),
                name => is_of_type(value, name),
            },
            // What asks for a number, a list or an object asks nothing of other values.
            "minimum" => value.as_f64().is_none_or(|number| number >= number_of(wanted)),
            "maximum" => value.as_f64().is_none_or(|number| number <= number_of(wanted)),
            "minItems" => value.as_array().is_none_or(|items| items.len() as f64 >= number_of(wanted)),
            "maxItems" => value.as_array().is_none_or(|items| items.len() as f64 <= number_of(wanted)),
            "required" => {
                let mut keys = wanted.as_array().expect("a list of keys").iter();
                value.as_object().is_none_or(|object| keys.all(|key| object.contains_key(text_of(key))))
            }
            "anyOf" => wanted.as_array().expect("a list of schemas").iter().any(|schema| {
                let mut faults = Vec::new();
                self.check(schema, value, path, &mut faults);
                faults.is_empty()
            }),
            "$ref" => {
                let place = text_of(wanted).strip_prefix('#').expect("a place in the same schema");
                self.check(self.0.pointer(place).expect("a part of the schema"), value, path, faults);
                true
            }
            "properties" => {
                for (key, schema) in wanted.as_object().expect("keys with their schemas") {
                    value.get(key).into_iter().for_each(|value| below(schema, value, key));
                }
                true
            }
            "additionalProperties" => {
                let is_named = |key: &String| schema["properties"].get(key).is_some();
                let others = value.as_object().into_iter().flatten().filter(|(key, _)| !is_named(key));
                others.for_each(|(key, value)| below(wanted, value, key));
                true
            }
            "items" => {
                let items = value.as_array().into_iter().flatten().enumerate();
                items.for_each(|(at, item)| below(wanted, item, &at.to_string()));
                true
            }
            note => {
                assert!(NOTES.contains(&note), "the keyword {note} is not known to this checker");
                true
            }
        };
        (!is_kept).then(|| format!("{keyword} {wanted} is not kept by {value}"))
    }
}

/// Whether a value is of one of JSON's types; 2.0 is an integer as well as 2.
fn is_of_type(value: &Value, name: &Value) -> bool {
    match text_of(name) {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "integer" => value.as_f64().is_some_and(|number| number.fract() == 0.0),
        "number" => value.is_number(),
        "string" => value.is_string(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        other => panic!("{other} is no type of JSON"),
    }
}

fn number_of(value: &Value) -> f64 {
    value.as_f64().expect("the keyword has a number")
}

fn text_of(value: &Value) -> &str {
    value.as_str().expect("the keyword has a text")
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    /// Each keyword with a value that keeps to it and one that does not, by its sections in JSON Schema 2020-12.
    #[test]
    fn every_keyword_refuses_what_it_does_not_allow() {
        let cases = [
            (json!({"type": "null"}), json!(null), json!(0)),
            (json!({"type": "boolean"}), json!(true), json!("true")),
            (json!({"type": "integer"}), json!(2.0), json!(2.5)),
            (json!({"type": "number"}), json!(2.5), json!("2.5")),
            (json!({"type": "string"}), json!(""), json!(null)),
            (json!({"type": "array"}), json!([]), json!({})),
            (json!({"type": "object"}), json!({}), json!([])),
            (json!({"type": ["number", "null"]}), json!(null), json!(false)),
            (json!({"minimum": 0}), json!(0), json!(-1)),
            (json!({"maximum": 65535}), json!(65535), json!(65536)),
            (json!({"minItems": 2}), json!([1, 2]), json!([1])),
            (json!({"maxItems": 2}), json!([1, 2]), json!([1, 2, 3])),
            (json!({"required": ["a", "b"]}), json!({"a": 1, "b": null}), json!({"a": 1})),
            (json!({"properties": {"a": {"type": "null"}}}), json!({"b": 1}), json!({"a": 1})),
            (json!({"additionalProperties": {"type": "null"}}), json!({"a": null}), json!({"a": 1})),
            (json!({"items": {"minimum": 3}}), json!([3, 4]), json!([3, 2])),
            (json!({"anyOf": [{"type": "null"}, {"minimum": 3}]}), json!(null), json!(2)),
            (json!({"$ref": "#/$defs/A", "$defs": {"A": {"type": "null"}}}), json!(null), json!(1)),
        ];
        for (schema, right, wrong) in cases {
            let schema = Schema(schema);
            assert_eq!(schema.faults(&right), [""; 0], "{}", schema.0);
            assert_eq!(schema.faults(&wrong).len(), 1, "{}", schema.0);
        }
    }

    #[test]
    fn a_keyword_asks_nothing_of_values_of_another_type() {
        let schema = Schema(json!({
            "minimum": 1, "maximum": 1, "minItems": 1, "maxItems": 1, "required": ["a"], "items": {"type": "null"},
            "properties": {"a": {"type": "null"}}, "additionalProperties": {"type": "null"},
        }));
        schema.asserts(&json!("none of these is a text"));
    }

    #[test]
    fn named_keys_are_no_additional_ones_and_a_fault_is_told_by_its_path() {
        let schema = Schema(json!({
            "properties": {"a": {"items": {"type": "null"}}},
            "additionalProperties": {"type": "null"},
        }));
        assert!(schema.is_kept_by(&json!({"a": [null], "b": null})));
        assert_eq!(schema.faults(&json!({"a": [null, 7]})), ["/a/1: type \"null\" is not kept by 7"]);
    }

    #[test]
    #[should_panic(expected = "the keyword pattern is not known to this checker")]
    fn a_keyword_that_is_not_known_stops_the_test() {
        Schema(json!({"pattern": "^a"})).asserts(&json!("b"));
    }
}
