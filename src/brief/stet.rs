//! Stet: the queries that the author lets stand, remembered with the draft in a file that can be read and kept under
//! version control.
//!
//! `stet.yaml` stands beside the brief. The file names each draft, and below it the wordings that stand, each with the
//! rule that asks about it. If the author changes a wording, the rule asks again, since the new wording is not listed.

use super::nodes::{Fault, whole};
use super::queries::Rule;

/// What the author lets stand in the drafts of one book.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stet {
    /// The wordings that stand, in the order in which the author let them stand.
    pub entries: Vec<StetEntry>,
}

/// One wording that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StetEntry {
    /// The name of the draft's file, without its folder.
    pub draft: String,
    /// The rule that asks about it.
    pub rule: Rule,
    /// The wording, its blanks and line ends as one blank each.
    pub wording: String,
}

/// One wording that stands in a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stood {
    /// The rule that asks about it.
    pub rule: Rule,
    /// The wording, its blanks and line ends as one blank each.
    pub wording: String,
}

impl Stood {
    /// A wording as a draft has it.
    pub fn new(rule: Rule, wording: &str) -> Self {
        Self { rule, wording: plain(wording) }
    }
}

/// What the file says at its top.
const HEAD: &str = "# Queries that stand as they are: under each draft the rule and the wording. Take a line away to \
                    be asked again.\n";

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
                    // A query about the whole draft has no wording.
                    let wording =
                        fields.optional("wording").map_or_else(|| Ok(String::new()), |wording| wording.text())?;
                    stet.entries.push(StetEntry { draft: draft.to_owned(), rule, wording });
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

    /// The wordings that stand in a draft, in the order in which the author let them stand.
    pub fn of(&self, draft: &str) -> Vec<Stood> {
        let own = self.entries.iter().filter(|entry| entry.draft == draft);
        own.map(|entry| Stood { rule: entry.rule, wording: entry.wording.clone() }).collect()
    }

    /// Removes a draft's entries that are in `from` and not in `to`, and adds those that are in `to` and not in `from`.
    /// Other entries stay.
    pub fn change(&mut self, draft: &str, from: &[Stood], to: &[Stood]) {
        let is_gone = |entry: &StetEntry| {
            let stood = Stood { rule: entry.rule, wording: entry.wording.clone() };
            entry.draft == draft && from.contains(&stood) && !to.contains(&stood)
        };
        self.entries.retain(|entry| !is_gone(entry));
        for new in to.iter().filter(|new| !from.contains(new)) {
            self.add(draft, new.rule, &new.wording);
        }
    }

    /// Lets a wording stand.
    pub fn add(&mut self, draft: &str, rule: Rule, wording: &str) {
        if !self.holds(draft, rule, wording) {
            self.entries.push(StetEntry { draft: draft.to_owned(), rule, wording: plain(wording) });
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
    use super::{Rule, Stet, Stood};

    #[test]
    fn what_stands_is_read_back_as_it_was_written() {
        let mut stet = Stet::default();
        stet.add("second.md", Rule::Praise, "a \"truly\"\n magical \\ lamp: yes");
        stet.add("first.md", Rule::Runt, "her");
        stet.add("first.md", Rule::Runt, " her ");
        stet.add("first.md", Rule::Praise, "");
        let again = Stet::read(&stet.written()).unwrap();
        assert_eq!(again.entries.len(), 3);
        assert!(again.holds("first.md", Rule::Praise, " "));
        assert!(again.holds("second.md", Rule::Praise, "a \"truly\" magical \\ lamp: yes"));
        assert!(!again.holds("second.md", Rule::Runt, "her"));
        assert_eq!(again.written(), stet.written());
        assert_eq!(Stet::read("").unwrap(), Stet::default());
    }

    #[test]
    fn a_change_of_one_draft_leaves_what_others_let_stand() {
        let mut stet = Stet::default();
        stet.add("first.md", Rule::Runt, "tide");
        stet.add("second.md", Rule::Runt, "tide");
        let before = stet.of("first.md");
        let after = [Stood::new(Rule::Praise, "a  salty tale")];
        stet.add("first.md", Rule::Runt, "said elsewhere");
        stet.change("first.md", &before, &after);
        let kept = [Stood::new(Rule::Runt, "said elsewhere"), Stood::new(Rule::Praise, "a salty tale")];
        assert_eq!(stet.of("first.md"), kept);
        assert_eq!(stet.of("second.md"), before);
    }

    #[test]
    fn what_cannot_be_understood_is_told_with_its_place() {
        let fault = Stet::read("first.md:\n  - { rule: prays, wording: her }\n").unwrap_err();
        assert_eq!((fault.line, fault.column), (2, 13));
        assert!(fault.problem.contains("did you mean praise"), "{}", fault.problem);
    }
}
