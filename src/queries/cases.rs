//! Checks rules against marked copy.
//!
//! A case is a line: the name of a rule, a colon, and the copy with every place that the rule should find in
//! [brackets]; none means that it must be silent. Behind ` > ` may stand the copy as it is when the first cut of every
//! place is made, which must come out the same when the cuts are made in the author's file. A backslash is a line's
//! end. A line that begins with `@` is a brief in YAML, without its panel, for the cases below it.

use std::path::Path;

use proptest::prelude::{TestCaseError, any, prop_assert, proptest};

use super::query::{Query, Reading};
use super::{QueryMemory, find, mark_mends};
use crate::brief::Brief;
use crate::brief::queries::Rule;
use crate::draft::{Draft, Edit, edited};
use crate::level;
use crate::setting::{Faces, Rooms, Setting, SettingMemory, ShapedCopy};
use crate::text::Text;

/// Every query of a draft.
pub(super) fn queries_of(draft: &Draft, brief: &Brief) -> Vec<Query> {
    let text = Text::read(draft, &brief.book);
    let faces = Faces::built_in();
    let copy = ShapedCopy::shape(draft, &brief.typography, &faces, &mut SettingMemory::default());
    let setting = Setting::new(&copy, copy.forms(), &Rooms::of(brief));
    let level = level::measure(&text);
    let reading = Reading { draft, text: &text, level: &level, setting: &setting, art: &[], brief };
    find(&reading, &mut QueryMemory::default())
}

/// Checks every line of a file of cases.
pub(super) fn check(cases: &str) {
    check_all(cases, false);
}

/// Checks every line of a file of cases that are read closely.
pub(super) fn check_closely(cases: &str) {
    check_all(cases, true);
}

fn check_all(cases: &str, close: bool) {
    let mut settings = String::new();
    let mut checked = 0;
    for case in cases.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        if let Some(yaml) = case.strip_prefix('@') {
            settings = yaml.trim().replace('\\', "\n");
            continue;
        }
        let (name, marked) = case.split_once(": ").unwrap_or_else(|| panic!("{case}: a rule and a colon are missing"));
        let rule =
            Rule::ALL.iter().find(|(known, _)| *known == name).unwrap_or_else(|| panic!("{name}: no such rule")).1;
        check_one(rule, &marked.replace('\\', "\n"), &settings, close);
        checked += 1;
    }
    assert!(checked > 0, "there is no case");
}

fn check_one(rule: Rule, case: &str, settings: &str, close: bool) {
    let (marked, wanted) = case.split_once(" > ").map_or((case, None), |(marked, wanted)| (marked, Some(wanted)));
    let mut brief = Brief::read(&format!("{settings}\npanel: {{ trim: 8.5 x 8.5 in }}\n"), Path::new("")).unwrap();
    brief.queries.close = close;
    let source = marked.replace(['[', ']'], "");
    let draft = Draft::read(&source);
    let found: Vec<Query> = queries_of(&draft, &brief).into_iter().filter(|query| query.rule == rule).collect();
    let mut shown = source.clone();
    for query in found.iter().rev() {
        let span = draft.blocks[query.block].span(query.range.clone());
        shown.insert(span.end, ']');
        shown.insert(span.start, '[');
        assert!(!query.says.is_empty() && !query.says.ends_with('.'), "{case}: {}", query.says);
    }
    assert_eq!(shown, marked, "{}", rule.name());
    let Some(wanted) = wanted else { return };
    let cut = |query: &Query| Some(query.cuts.first()?.edit(&draft.blocks[query.block]));
    let edits: Vec<Edit> = found.iter().filter_map(cut).collect();
    assert_eq!(edited(&source, &edits), wanted, "{}", rule.name());
}

/// Checks every line of a file of mended drafts: a language's tag, a colon, the copy as it is typed, and behind ` > `
/// the copy as it is when all its marks are mended; none where nothing is to be mended. A backslash is a line's end.
pub(super) fn check_marks(cases: &str) {
    let lines = cases.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    let (mut checked, mut wrong) = (0, Vec::new());
    for case in lines {
        let (tag, case) = case.split_once(": ").unwrap_or_else(|| panic!("{case}: a tag and a colon are missing"));
        let case = case.replace('\\', "\n");
        let (source, wanted) = case.split_once(" > ").unwrap_or((&case, &case));
        let draft = Draft::read(source);
        let edits: Vec<Edit> = mark_mends(&draft, tag).iter().filter_map(|mend| mend.edit(&draft)).collect();
        let mended = edited(source, &edits);
        if mended != wanted {
            wrong.push(format!("{tag}: {source}\nmended {mended}\nwanted {wanted}\n"));
        }
        checked += 1;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(checked > 0, "there is no case");
}

/// Every place and cut is a stretch of its block, and a cut is found again in the author's file.
fn check_places(source: &str) -> Result<(), TestCaseError> {
    let settings = "book: { names: [Otto Fenn, Oona] }\npanel: { trim: 60 x 60 mm, margins: 2 mm }\n";
    let brief = Brief::read(settings, Path::new("")).unwrap();
    let draft = Draft::read(source);
    for query in queries_of(&draft, &brief) {
        let block = &draft.blocks[query.block];
        prop_assert!(block.text().get(query.range.clone()).is_some_and(|place| !place.is_empty()), "{query:?}");
        for cut in &query.cuts {
            prop_assert!(block.text().get(cut.range.clone()).is_some(), "{query:?}");
            let span = cut.edit(block).span;
            prop_assert!(source.get(span.start..span.end).is_some(), "{query:?}");
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn places_are_stretches_of_any_copy(source in any::<String>()) {
        check_places(&source)?;
    }

    #[test]
    fn places_are_stretches_of_any_prose(
        source in "((She|Otto|Fenn|Mr|big|bad|ran|runs|we|you|é|犬|4|12) ?|[.!?…,;—–-]|[\"'“”‘’()]|\n\n|\n|  |# |> |## \
                   Age line\n\n|\\*){0,60}"
    ) {
        check_places(&source)?;
    }
}
