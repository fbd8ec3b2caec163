//! Stet: the queries that the author lets stand, remembered with the draft in a file that can be read and kept under version
//! control.
//!
//! `stet.yaml` stands beside the brief. It names each draft, and below it the wordings that stand, each under its rule. A
//! wording that changes is asked about again, since it is another one.

use super::queries::Rule;
use super::read::{Fault, whole};

/// What the author lets stand in the drafts of one book.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stet {
    /// In the order in which it was said.
    pub entries: Vec<Standing>,
}

/// One wording that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// The name of the draft's file, without its folder.
    pub draft: String,
    /// The rule that asks about it.
    pub rule: Rule,
    /// The wording, its blanks and line ends as one blank each.
    pub wording: String,
}

/// What the file says at its top.
const HEAD: &str = "# Queries that stand as they are: under each draft the rule and the wording. Take a line away to be asked again.\n";

impl Stet {
    /// Reads the file.
    ///
    /// # Errors
    ///
    /// The first thing in it that cannot be understood.
    pub fn read(text: &str) -> Result<Self, Fault> {
        whole(text, "a list of what stands", |root| {
            let mut stet = Self::default();
            for (draft, list) in root.entries()? {
                for item in list.items()? {
                    let fields = item.fields(&["rule", "wording"])?;
                    let rule = fields.required("rule", "such as rule: praise")?.choice(&Rule::ALL)?;
                    let wording = fields.required("wording", "the words that stand")?.text()?;
                    stet.entries.push(Standing { draft: draft.to_owned(), rule, wording });
                }
            }
            Ok(stet)
        })
    }

    /// The file's text.
    pub fn written(&self) -> String {
        let mut drafts: Vec<&str> = self.entries.iter().map(|entry| entry.draft.as_str()).collect();
        drafts.sort_unstable();
        drafts.dedup();
        let mut text = HEAD.to_owned();
        for draft in drafts {
            text.push_str(&format!("{}:\n", quoted(draft)));
            for entry in self.entries.iter().filter(|entry| entry.draft == draft) {
                text.push_str(&format!("  - {{ rule: {}, wording: {} }}\n", entry.rule.name(), quoted(&entry.wording)));
            }
        }
        text
    }

    /// Whether a wording stands in a draft.
    pub fn holds(&self, draft: &str, rule: Rule, wording: &str) -> bool {
        let wording = plain(wording);
        self.entries.iter().any(|entry| entry.draft == draft && entry.rule == rule && entry.wording == wording)
    }

    /// Lets a wording stand.
    pub fn add(&mut self, draft: &str, rule: Rule, wording: &str) {
        if !self.holds(draft, rule, wording) {
            self.entries.push(Standing { draft: draft.to_owned(), rule, wording: plain(wording) });
        }
    }
}

/// The wording with its blanks and line ends as one blank each.
fn plain(wording: &str) -> String {
    wording.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text in double quotes, as YAML and JSON both read it.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for character in text.chars() {
        match character {
            '"' | '\\' => quoted.extend(['\\', character]),
            c if c.is_control() => quoted.push_str(&format!("\\u{:04x}", u32::from(c))),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests {
    use super::{Rule, Stet};

    #[test]
    fn what_stands_is_read_back_as_it_was_written() {
        let mut stet = Stet::default();
        stet.add("second.md", Rule::Praise, "a \"truly\"\n magical \\ lamp: yes");
        stet.add("first.md", Rule::Runt, "her");
        stet.add("first.md", Rule::Runt, " her ");
        let again = Stet::read(&stet.written()).unwrap();
        assert_eq!(again.entries.len(), 2);
        assert!(again.holds("second.md", Rule::Praise, "a \"truly\" magical \\ lamp: yes"));
        assert!(!again.holds("second.md", Rule::Runt, "her"));
        assert_eq!(again.written(), stet.written());
        assert_eq!(Stet::read("").unwrap(), Stet::default());
    }

    #[test]
    fn what_cannot_be_understood_is_told_with_its_place() {
        let fault = Stet::read("first.md:\n  - { rule: prays, wording: her }\n").unwrap_err();
        assert_eq!((fault.line, fault.column), (2, 13));
        assert!(fault.problem.contains("did you mean praise"), "{}", fault.problem);
    }
}
