//! Which rules look for nothing in a copy, because they do not know its language.

use super::{finders, tongues};
use crate::brief::Brief;
use crate::brief::queries::Rule;
use crate::text::Text;
use crate::text::language::Language;

/// The rules that do not know the language of a copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SilentRules {
    /// The language of the copy, as rules take it.
    pub language: Language,
    /// The language of the brief, where the copy's small words are so plainly of another that rules go by that one.
    pub brief_says: Option<Language>,
    /// Every rule that looks for nothing, in the order of a report; none in English.
    pub rules: Vec<Rule>,
}

/// The rules that do not know the language of a copy, those aside that the brief has switched off.
pub fn silent_rules(text: &Text<'_>, brief: &Brief) -> SilentRules {
    let language = tongues::language_of(text);
    SilentRules {
        language,
        brief_says: (language != text.language).then_some(text.language),
        rules: finders::silent(language, &brief.queries),
    }
}
