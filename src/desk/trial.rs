//! Another type or panel than the brief's, tried at the desk. The brief stays as it is until the author asks to have it
//! written.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::event::Grip;
use crate::artwork::ArtFile;
use crate::brief::art::{Art, ArtPicture};
use crate::brief::box_values::PanelBox;
use crate::brief::panel_values::{CoverPart, WrittenPanel};
use crate::brief::place::CoverFace;
use crate::brief::typography::{Align, BlockType, Font, Leading};
use crate::brief::yaml::Node;
use crate::brief::{Brief, Typography};
use crate::briefing::rewrite::{self, ValueChange};
use crate::draft::BlockKind;
use crate::units::Length;

/// The values tried in place of the brief's own; none where the brief's value is used.
#[derive(Debug, Clone, Default)]
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

/// The brief as its file has it, what was changed on its own page, the values that are tried, and the brief with those
/// values applied. The last is made anew with each change, so all agree.
#[derive(Debug)]
pub(super) struct TriedBrief {
    /// The brief as its file has it.
    file: Arc<Brief>,
    /// The brief with the values that were changed on its own page, in whose place others are tried.
    own: Arc<Brief>,
    /// The briefs that were changed on that page, the last one at the end.
    briefs_before: Vec<BriefBefore>,
    tried: Tried,
    brief: Arc<Brief>,
    /// Whether the copy is read closely, as on the last read.
    close: bool,
    /// The part of the cover whose values are in hand.
    part: CoverPart,
    /// The panels that were tried before, each with the part that was changed then, the last one at the end.
    panels_before: Vec<(CoverPart, Option<WrittenPanel>)>,
}

/// A brief before a change of one of its values, with what was tried then.
#[derive(Debug)]
struct BriefBefore {
    own: Arc<Brief>,
    tried: Tried,
    panels: Vec<(CoverPart, Option<WrittenPanel>)>,
}

/// The most steps of the panel, and of the brief, that can be taken back.
const MOST_STEPS: usize = 500;

impl TriedBrief {
    /// A brief with nothing tried.
    pub(super) fn of(own: Brief) -> Self {
        let own = Arc::new(own);
        let part = CoverPart::Face(CoverFace::Panel);
        Self {
            file: Arc::clone(&own),
            brief: Arc::clone(&own),
            own,
            briefs_before: Vec::new(),
            tried: Tried::default(),
            close: false,
            part,
            panels_before: Vec::new(),
        }
    }

    /// Goes by a brief with another value, read from a tree that has all that was tried.
    pub(super) fn change(&mut self, mut own: Brief) {
        own.take_known(&self.brief);
        if self.briefs_before.len() == MOST_STEPS {
            self.briefs_before.remove(0);
        }
        let (before, tried) = (Arc::clone(&self.own), std::mem::take(&mut self.tried));
        let panels = std::mem::take(&mut self.panels_before);
        self.briefs_before.push(BriefBefore { own: before, tried, panels });
        self.own = Arc::new(own);
        self.set(Tried::default());
    }

    /// Goes by the brief before the last change of a value again; false where there is nothing to take back.
    pub(super) fn take_change_back(&mut self) -> bool {
        let Some(BriefBefore { own, tried, panels }) = self.briefs_before.pop() else { return false };
        let known = Arc::clone(&self.own);
        let mut own = Brief::clone(&own);
        let names: Vec<_> = pictures_of(&known).filter_map(|it| Some((it.file.clone(), it.read.clone()?))).collect();
        fill_in(own.arts_mut(), &names);
        (self.own, self.panels_before) = (Arc::new(own), panels);
        self.set(tried);
        true
    }

    /// Whether a value of the brief was changed that can be taken back.
    pub(super) fn has_change(&self) -> bool {
        !self.briefs_before.is_empty()
    }

    /// The brief's tree with all that was changed and is tried.
    pub(super) fn tree(&self) -> Node {
        rewrite::applied(&self.own.written.tree, &self.tried.changes(&self.own))
    }

    /// The changes of the brief's file that make all of that its own.
    pub(super) fn changes(&self) -> Vec<ValueChange> {
        let own = rewrite::tree_changes(&self.file.written.tree, &self.own.written.tree);
        own.into_iter().chain(self.tried.changes(&self.own)).collect()
    }

    /// Whether a value was changed on the brief's own page that its file has not.
    pub(super) fn is_changed(&self) -> bool {
        !Arc::ptr_eq(&self.file, &self.own) && self.file.written.tree != self.own.written.tree
    }

    /// Whether something is tried or changed that goes by the brief as it was read, so that another has to wait.
    pub(super) fn holds_brief(&self) -> bool {
        self.tried.panel.is_some() || self.is_changed()
    }

    /// The brief as its file has it.
    pub(super) fn file(&self) -> &Arc<Brief> {
        &self.file
    }

    /// Notes the panel that is tried, so that what comes next can be taken back.
    pub(super) fn note_panel(&mut self) {
        if self.panels_before.len() == MOST_STEPS {
            self.panels_before.remove(0);
        }
        self.panels_before.push((self.part, self.tried.panel.clone()));
    }

    /// The panel that was noted last, whose part is in hand then; none where there is nothing to take back.
    pub(super) fn noted_panel(&mut self) -> Option<Option<WrittenPanel>> {
        let (part, panel) = self.panels_before.pop()?;
        self.part = part;
        Some(panel)
    }

    /// The part of the cover whose values are in hand; the panel where the brief has no such part any more.
    pub(super) fn part(&self) -> CoverPart {
        self.panel().part
    }

    /// Whether a panel was noted that can be tried again.
    pub(super) fn has_noted_panel(&self) -> bool {
        !self.panels_before.is_empty()
    }

    /// Takes another part of the cover in hand.
    pub(super) fn set_part(&mut self, part: CoverPart) {
        self.part = part;
    }

    /// The panel as it is tried, with the part in hand.
    pub(super) fn panel(&self) -> WrittenPanel {
        self.tried.panel(&self.own).with_part(self.part)
    }

    /// Tries these values, and no others, in place of the brief's own.
    pub(super) fn set(&mut self, tried: Tried) {
        let mut brief = tried.on(&self.own);
        brief.queries.close = self.close;
        self.brief = Arc::new(brief);
        self.tried = tried;
    }

    /// Reads the copy closely, or no longer.
    pub(super) fn set_close(&mut self, close: bool) {
        self.close = close;
        self.set(self.tried.clone());
    }

    /// Whether the copy is read closely.
    pub(super) fn is_close(&self) -> bool {
        self.close
    }

    /// Goes by a brief that was read anew, with some values tried in place of its own. What is known of pictures that
    /// it still names is kept.
    pub(super) fn renew(&mut self, mut own: Brief, tried: Tried) {
        let known = |picture: &ArtPicture| Some((picture.file.clone(), picture.read.clone()?));
        let known: Vec<(PathBuf, Arc<ArtFile>)> = pictures_of(&self.own).filter_map(known).collect();
        fill_in(own.arts_mut(), &known);
        let (part, close) = (self.part, self.close);
        *self = Self::of(own);
        (self.part, self.close) = (part, close);
        if close || !tried.is_nothing() {
            self.set(tried);
        }
    }

    /// Whether a brief says what the present one does, whatever is known of its pictures.
    pub(super) fn is_as(&self, other: &Brief) -> bool {
        let bare = |brief: &Brief| {
            let mut brief = brief.clone();
            brief.arts_mut().flat_map(Art::pictures_mut).for_each(|picture| picture.read = None);
            brief
        };
        bare(&self.file) == bare(other)
    }

    /// Fills in what is in a file of art: in the brief, in what is tried and in what was tried before. Returns whether
    /// the brief names the file and it was not known so.
    pub(super) fn take_art(&mut self, file: &Path, read: &Arc<ArtFile>) -> bool {
        let known = [(file.to_path_buf(), Arc::clone(read))];
        let mut own = Brief::clone(&self.own);
        let is_news = fill_in(own.arts_mut(), &known);
        let mut file = Brief::clone(&self.file);
        fill_in(file.arts_mut(), &known);
        self.file = Arc::new(file);
        let before = self.panels_before.iter_mut().filter_map(|(_, panel)| panel.as_mut());
        for panel in self.tried.panel.iter_mut().chain(before) {
            fill_in(panel.arts_mut(), &known);
        }
        if is_news {
            self.own = Arc::new(own);
            self.set(self.tried.clone());
        }
        is_news
    }

    /// The brief as its own page has it, without what is tried in its place.
    pub(super) fn own(&self) -> &Brief {
        &self.own
    }

    /// What is tried.
    pub(super) fn tried(&self) -> &Tried {
        &self.tried
    }

    /// The brief with what is tried.
    pub(super) fn brief(&self) -> &Brief {
        &self.brief
    }

    /// The brief with what is tried, to be shared.
    pub(super) fn shared(&self) -> Arc<Brief> {
        Arc::clone(&self.brief)
    }
}

/// Every picture that a brief names for the art of its faces.
pub(super) fn pictures_of(brief: &Brief) -> impl Iterator<Item = &ArtPicture> {
    brief.faces().filter_map(|face| face.art).flat_map(Art::pictures)
}

/// Fills in what is known of files of art, and returns whether anything of it is new.
fn fill_in<'a>(arts: impl Iterator<Item = &'a mut Art>, known: &[(PathBuf, Arc<ArtFile>)]) -> bool {
    let mut is_news = false;
    for art in arts {
        for (file, read) in known {
            is_news |= art.fill_in(file, read);
        }
    }
    is_news
}

/// The files of art that are not known as they are on the disk, by the names that the brief has for them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct ArtReading {
    /// The files that are being read.
    pub(super) waiting: Vec<PathBuf>,
    /// The files that could not be read.
    pub(super) unread: Vec<PathBuf>,
}

/// A box on a face that the mouse holds.
#[derive(Debug, Clone)]
pub(super) struct HeldBox {
    /// What of it the mouse has hold of.
    pub(super) grip: Grip,
    /// The box as it was taken hold of.
    pub(super) found: PanelBox,
    /// Where on the face the mouse was then.
    pub(super) from: (Length, Length),
    /// The panel as it was then.
    pub(super) before: WrittenPanel,
    /// Whether the box has been moved since.
    pub(super) is_moved: bool,
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
