//! Another type or panel than the brief's. The brief stays as it is until the author asks to have it written.

use crate::brief::panel_values::{CoverPart, WrittenPanel};
use crate::brief::place::CoverFace;
use crate::brief::typography::{Align, BlockType, Font, Leading};
use crate::brief::{Brief, Typography};
use crate::briefing::rewrite::{self, ValueChange};
use crate::draft::BlockKind;
use crate::units::Length;

/// The values tried in place of the brief's own; none where the brief's value is used.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tried {
    /// The size of the blurb.
    pub size: Option<Length>,
    /// The distance between the blurb's baselines.
    pub leading: Option<Length>,
    /// The font of the blurb, and of the blocks that follow the blurb's font.
    pub font: Option<Font>,
    /// The alignment of the blurb.
    pub align: Option<Align>,
    /// The panel, with the flaps and the spine beside it.
    pub panel: Option<WrittenPanel>,
}

/// The sizes that can be tried, in points.
const SIZES: (f64, f64) = (4.0, 40.0);
/// The least and greatest leading as a multiple of the size: closer lines overprint, wider lines fall apart.
const LEADING: (f64, f64) = (0.8, 3.0);

impl Tried {
    /// Whether nothing is tried.
    pub fn is_nothing(&self) -> bool {
        self.has_own_type() && self.panel.is_none()
    }

    /// Whether no other type is tried.
    pub fn has_own_type(&self) -> bool {
        self.size.is_none() && self.leading.is_none() && self.font.is_none() && self.align.is_none()
    }

    /// The brief with the tried values applied.
    pub fn on(&self, brief: &Brief) -> Brief {
        let leading = self.leading.map(Leading::Fixed);
        let mut typography = brief.typography.tried(self.size, leading, self.font.as_ref());
        if let Some(align) = self.align {
            typography = aligned(typography, align);
        }
        let mut brief = Brief { typography, ..brief.clone() };
        if let Some(WrittenPanel { written, panel, flaps, spine, .. }) = self.panel.clone() {
            (brief.panel_written, brief.panel, brief.flaps, brief.spine) = (written, panel, flaps, spine);
        }
        brief
    }

    /// The changes of the brief's file that make the tried values its own.
    pub fn changes(&self, brief: &Brief) -> Vec<ValueChange> {
        let mut changes = rewrite::changes(&brief.typography.blurb, &self.blurb(brief), &brief.written.tree);
        if let Some(panel) = &self.panel {
            changes.extend(rewrite::panel_changes(&brief.written_panel(), panel));
        }
        changes
    }

    /// The panel as it is tried.
    pub fn panel(&self, brief: &Brief) -> WrittenPanel {
        self.panel.clone().unwrap_or_else(|| brief.written_panel())
    }

    /// Tries another panel.
    ///
    /// # Errors
    ///
    /// Why it is impossible beside the brief's other faces, without a full stop; what was tried before stays.
    pub fn set_panel(&mut self, panel: WrittenPanel, brief: &Brief) -> Result<(), String> {
        let panel = (!panel.is_as(&brief.written_panel())).then(|| panel.with_part(CoverPart::Face(CoverFace::Panel)));
        let tried = Self { panel, ..self.clone() };
        match tried.on(brief).fault_of_places() {
            Some((_, problem)) => Err(problem),
            None => {
                *self = tried;
                Ok(())
            }
        }
    }

    /// Tries a size that is larger or smaller by some points.
    pub fn resize(&mut self, by: f64, brief: &Brief) {
        let size = self.blurb(brief).size.to_pt() + by;
        self.set_size(Length::pt(size.clamp(SIZES.0, SIZES.1)), brief);
    }

    /// Tries a size. A tried leading keeps its ratio to the size.
    pub fn set_size(&mut self, size: Length, brief: &Brief) {
        let before = self.blurb(brief).size;
        self.leading = self.leading.map(|leading| leading.scaled(size, before));
        self.size = unless_own(size, brief.typography.blurb.size);
    }

    /// Tries a leading that is wider or closer by some points.
    pub fn lead(&mut self, by: f64, brief: &Brief) {
        let blurb = self.blurb(brief);
        let size = blurb.size.to_pt();
        let leading = Length::pt((blurb.leading().to_pt() + by).clamp(size * LEADING.0, size * LEADING.1));
        let own = Self { leading: None, ..self.clone() }.blurb(brief).leading();
        self.leading = unless_own(leading, own);
    }

    /// Tries the next font: serif, sans, or the brief's own if it is another.
    pub fn next_font(&mut self, brief: &Brief) {
        let own = brief.typography.blurb.font.clone();
        let next = match self.blurb(brief).font {
            Font::Serif => Font::Sans,
            Font::Sans if !own.is_built_in() => own.clone(),
            _ => Font::Serif,
        };
        self.font = unless_own(next, own);
    }

    /// Tries the next alignment.
    pub fn next_align(&mut self, brief: &Brief) {
        let next = match self.blurb(brief).align {
            Align::Left => Align::Centre,
            Align::Centre => Align::Justified,
            Align::Justified => Align::Left,
        };
        self.align = unless_own(next, brief.typography.blurb.align);
    }

    /// The blurb's type as it is tried.
    pub fn blurb(&self, brief: &Brief) -> BlockType {
        self.on(brief).typography.of(BlockKind::Blurb).clone()
    }
}

/// The value, or none where it is the brief's own.
fn unless_own<T: PartialEq>(value: T, own: T) -> Option<T> {
    (value != own).then_some(value)
}

/// Sets another alignment for the blurb and for every block that had the blurb's alignment.
fn aligned(typography: Typography, align: Align) -> Typography {
    let own = typography.blurb.align;
    let change = |set: BlockType| if set.align == own { BlockType { align, ..set } } else { set };
    let others = typography.others.into_iter().map(|(kind, set)| (kind, change(set))).collect();
    Typography { blurb: change(typography.blurb), others, ..typography }
}
