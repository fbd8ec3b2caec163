//! What rules read, and what they find: a query on a place, and the cuts that shorten it.

use std::ops::Range;

use crate::art::on_art::JudgedLine;
use crate::brief::Brief;
use crate::brief::queries::Rule;
use crate::draft::{Block, Draft, Edit};
use crate::level::Level;
use crate::setting::Setting;
use crate::text::Text;

/// A place that the author should look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Query {
    /// The rule that found it.
    pub rule: Rule,
    /// The number of the place's block among the draft's blocks, from 0.
    pub block: usize,
    /// Bytes of the block's text.
    pub range: Range<usize>,
    /// What may be wrong with the place and why, as a sentence without its stop.
    pub says: String,
    /// Shorter wordings, the best first; none where there is no ready one.
    pub cuts: Vec<Cut>,
}

/// A shorter wording of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// Bytes of the block's text that go; those of a blank that would be left over are among them.
    pub range: Range<usize>,
    /// What stands there instead; often nothing.
    pub wording: String,
}

impl Cut {
    /// The cut as a change of the author's file.
    pub fn edit(&self, block: &Block) -> Edit {
        Edit { span: block.span(self.range.clone()), text: self.wording.clone() }
    }
}

/// One draft, measured and set: what rules read.
pub struct Reading<'a> {
    /// All that is printed.
    pub draft: &'a Draft,
    /// The headline and the blurb in words and sentences.
    pub text: &'a Text<'a>,
    /// How hard the blurb is to read.
    pub level: &'a Level,
    /// The copy in lines.
    pub setting: &'a Setting,
    /// The lines that stand on art; empty where no copy does.
    pub art: &'a [JudgedLine],
    /// The author's settings.
    pub brief: &'a Brief,
}
