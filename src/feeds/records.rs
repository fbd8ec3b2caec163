//! One line of JSON as a record: what the caller knows it by, its brief and its draft, or why it cannot be used.

use std::fmt;
use std::path::PathBuf;

use serde::Deserialize;
use serde::de::{Deserializer, MapAccess, Visitor};
use serde_json::value::RawValue;

use super::{InputLine, LONGEST_LINE};
use crate::brief::chosen;

/// What a line asks for.
#[derive(Debug)]
pub struct RecordLine {
    /// What the caller knows the record by, as it is written in the line; none where there is none or the line cannot
    /// be read.
    pub id: Option<Box<RawValue>>,
    /// The record, or in a sentence without its stop why the line is none.
    pub record: Result<JsonRecord, String>,
}

/// A draft with its brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JsonRecord {
    /// Where the brief is; none where the record has none.
    pub brief: Option<RecordBrief>,
    /// The draft as its file would hold it.
    pub draft: String,
}

/// Where the brief of a record is.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum RecordBrief {
    /// In the record itself.
    Text(String),
    /// In a file.
    File(PathBuf),
}

impl RecordBrief {
    /// A value in one line that ends as the names of YAML files do is a file's name; all else is a brief's own text.
    fn of(value: String) -> Self {
        let is_file = !value.contains('\n') && [".yaml", ".yml"].iter().any(|ending| value.ends_with(ending));
        if is_file { Self::File(value.into()) } else { Self::Text(value) }
    }
}

const KEYS: [(&str, RecordKey); 3] = [("id", RecordKey::Id), ("brief", RecordKey::Brief), ("draft", RecordKey::Draft)];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum RecordKey {
    Id,
    Brief,
    Draft,
}

const FORM: &str = r#"write one object a line, such as {"id": 7, "brief": "my-book/brief.yaml", "draft": "The copy."}"#;

impl RecordLine {
    /// Reads a line; none where nothing but blanks is in it.
    pub fn read(line: &InputLine) -> Option<Self> {
        let bytes = match line {
            InputLine::Bytes(bytes) => bytes,
            InputLine::TooLong => {
                let problem = "which no copy of a back cover needs, and was passed over";
                let problem = format!("the line has more than {LONGEST_LINE} bytes, {problem}");
                return Some(Self { id: None, record: Err(problem) });
            }
        };
        let text = match std::str::from_utf8(bytes) {
            Ok(text) => text,
            Err(error) => {
                let at = error.valid_up_to() + 1;
                let problem =
                    format!("byte {at} of the line is no part of a letter in UTF-8; save the records in that encoding");
                return Some(Self { id: None, record: Err(problem) });
            }
        };
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        (!text.trim_ascii().is_empty()).then(|| Self::read_text(text))
    }

    fn read_text(text: &str) -> Self {
        let Entries(entries) = match serde_json::from_str(text) {
            Ok(entries) => entries,
            Err(error) => return Self { id: None, record: Err(no_object(text, &error)) },
        };
        // The values are parsed only here: for the keys, no more than the end of each was looked for.
        let value = |raw: &RawValue| serde_json::from_str::<serde_json::Value>(raw.get()).map_err(|error| told(&error));
        let id = entries.iter().find(|(key, raw)| key == "id" && value(raw).is_ok());
        let id = id.and_then(|(_, raw)| RawValue::from_string(without_blanks(raw.get())).ok());
        let (mut brief, mut draft) = (None, None);
        for (number, (key, raw)) in entries.iter().enumerate() {
            let is_twice = entries[..number].iter().any(|(known, _)| known == key);
            let known = if is_twice { Err(format!("there are two keys named \"{key}\"")) } else { record_key(key) };
            let taken = known.and_then(|known| match (known, value(raw)?) {
                (RecordKey::Id, _) => Ok(()),
                (RecordKey::Brief, serde_json::Value::String(text)) => {
                    brief = Some(RecordBrief::of(text));
                    Ok(())
                }
                (RecordKey::Draft, serde_json::Value::String(text)) => {
                    draft = Some(text);
                    Ok(())
                }
                (_, other) => Err(format!("the key {key} holds {}, but text was expected", kind(&other))),
            });
            if let Err(problem) = taken {
                return Self { id, record: Err(problem) };
            }
        }
        let record = match draft {
            Some(draft) => Ok(JsonRecord { brief, draft }),
            None => Err(format!("the key draft is missing, which holds the copy; {FORM}")),
        };
        Self { id, record }
    }
}

/// The key of that name, letter by letter; the error is the problem as a message tells it.
fn record_key(name: &str) -> Result<RecordKey, String> {
    let known = KEYS.iter().find(|(known, _)| *known == name);
    known.map(|(_, key)| *key).ok_or_else(|| match chosen(name, &KEYS) {
        Ok(_) => format!("the key \"{name}\" is not known; write it in small letters"),
        Err(problem) => format!("the key {problem}"),
    })
}

/// JSON without the blanks between its parts: an answer is one line, in which no tab stands either.
fn without_blanks(json: &str) -> String {
    let (mut in_text, mut is_escaped) = (false, false);
    let is_kept = |character: &char| {
        let was_escaped = std::mem::take(&mut is_escaped);
        match character {
            '"' if !was_escaped => in_text = !in_text,
            '\\' if in_text && !was_escaped => is_escaped = true,
            _ => {}
        }
        in_text || !character.is_ascii_whitespace()
    };
    json.chars().filter(is_kept).collect()
}

/// What JSON a value is, as a message names it.
fn kind(value: &serde_json::Value) -> &'static str {
    match value {
        serde_json::Value::Null => "null",
        serde_json::Value::Bool(_) => "true or false",
        serde_json::Value::Number(_) => "a number",
        serde_json::Value::String(_) => "text",
        serde_json::Value::Array(_) => "a list",
        serde_json::Value::Object(_) => "an object",
    }
}

/// Why a line is no object of JSON.
fn no_object(text: &str, error: &serde_json::Error) -> String {
    match serde_json::from_str::<serde_json::Value>(text) {
        Ok(value) if !value.is_object() => {
            format!("the line holds {}, but an object was expected; {FORM}", kind(&value))
        }
        _ => told(error),
    }
}

/// What the parser says, without its place, which counts from the beginning of one value.
fn told(error: &serde_json::Error) -> String {
    let told = error.to_string();
    let problem = told.rsplit_once(" at line ").map_or(told.as_str(), |(problem, _)| problem);
    format!("the line is no record of JSON ({problem}); {FORM}")
}

/// The keys of an object in their order, each with its value as it is written, also where a key is there twice.
struct Entries(Vec<(String, Box<RawValue>)>);

impl<'de> Deserialize<'de> for Entries {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(EntriesVisitor)
    }
}

struct EntriesVisitor;

impl<'de> Visitor<'de> for EntriesVisitor {
    type Value = Entries;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Entries, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(Entries(entries))
    }
}

#[cfg(test)]
mod tests {
    use super::{InputLine, RecordBrief, RecordLine};

    fn read(line: &str) -> RecordLine {
        RecordLine::read(&InputLine::Bytes(line.as_bytes().to_vec())).unwrap()
    }

    fn id(line: &str) -> Option<String> {
        read(line).id.map(|id| id.get().to_owned())
    }

    fn problem(line: &str) -> String {
        read(line).record.unwrap_err()
    }

    #[test]
    fn what_a_record_is_known_by_comes_back_as_it_was_written() {
        assert_eq!(id(r#"{"id": 12345678901234567890123, "draft": ""}"#).as_deref(), Some("12345678901234567890123"));
        assert_eq!(id("{\"id\":\t[1.50,\t\"a \\\" b\"] ,\"draft\":3}").as_deref(), Some(r#"[1.50,"a \" b"]"#));
        assert_eq!(id(r#"{"id": null, "draft": ""}"#).as_deref(), Some("null"));
        // No caller would read the first back as the number that it wrote.
        for without in [
            r#"{"id": 1e400, "draft": ""}"#,
            r#"{"draft": ""}"#,
            r#"{"id": "\ud800", "draft": ""}"#,
            "[]",
            "{",
            r#"{"id": 1} 2"#,
        ] {
            assert_eq!(id(without), None, "{without}");
        }
    }

    #[test]
    fn a_brief_is_a_file_by_its_ending_and_else_a_text() {
        let brief = |line| read(line).record.unwrap().brief;
        let file = Some(RecordBrief::File("a/brief.yaml".into()));
        assert_eq!(brief(r#"{"brief": "a/brief.yaml", "draft": ""}"#), file);
        let text = "panel: { trim: 8 x 8 in }";
        let line = format!(r#"{{"brief": "{text}", "draft": ""}}"#);
        assert_eq!(brief(&line), Some(RecordBrief::Text(text.to_owned())));
        assert_eq!(brief(r#"{"draft": ""}"#), None);
    }

    #[test]
    fn what_is_no_record_says_why() {
        assert!(problem("{").contains("EOF while parsing an object"));
        assert!(problem("[1]").starts_with("the line holds a list, but an object was expected"));
        assert!(problem(r#"{"draft": "\ud800"}"#).starts_with("the line is no record of JSON ("));
        assert!(problem(r#"{"id": 1}"#).starts_with("the key draft is missing"));
        assert_eq!(problem(r#"{"draft": 1}"#), "the key draft holds a number, but text was expected");
        assert_eq!(problem(r#"{"brief": null, "draft": ""}"#), "the key brief holds null, but text was expected");
        assert_eq!(problem(r#"{"draft": "", "draft": ""}"#), "there are two keys named \"draft\"");
        assert_eq!(
            problem(r#"{"drafts": ""}"#),
            "the key \"drafts\" is not known; did you mean draft? The choice is id, brief, draft"
        );
        assert_eq!(problem(r#"{"Draft": ""}"#), "the key \"Draft\" is not known; write it in small letters");
        let cut = RecordLine::read(&InputLine::Bytes(b"{\"id\": \"\xff\"}".to_vec())).unwrap();
        assert!(cut.record.unwrap_err().starts_with("byte 9 of the line"));
        assert!(RecordLine::read(&InputLine::TooLong).unwrap().record.is_err());
        assert!(RecordLine::read(&InputLine::Bytes("\u{feff} \t\r".into())).is_none());
    }
}
