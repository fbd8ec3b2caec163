//! A brief with what is tried in place of its own values, step by step.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::tried::Tried;
use crate::artwork::ArtFile;
use crate::brief::Brief;
use crate::brief::art::{Art, ArtPicture};
use crate::brief::panel_values::{CoverPart, WrittenPanel};
use crate::brief::place::CoverFace;
use crate::brief::yaml::Node;
use crate::briefing::rewrite::{self, ValueChange};

/// The brief as its file has it, what was changed on its own page, the values that are tried, and the brief with those
/// values applied. The last is made anew with each change, so all agree.
#[derive(Debug)]
pub struct TriedBrief {
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
    /// What was tried before, each with the part that was in hand then, the last one at the end.
    before: Vec<(CoverPart, Tried)>,
    /// A number that is another whenever something was changed or tried.
    revision: u64,
}

/// A brief before a change of one of its values, with what was tried then.
#[derive(Debug)]
struct BriefBefore {
    own: Arc<Brief>,
    tried: Tried,
    before: Vec<(CoverPart, Tried)>,
}

/// The most steps that can be taken back, of what is tried and of the brief.
const MOST_STEPS: usize = 500;

impl TriedBrief {
    /// A brief with nothing tried.
    pub fn of(own: Brief) -> Self {
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
            before: Vec::new(),
            revision: 0,
        }
    }

    /// A number that is another whenever something was changed or tried.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Goes by a brief with another value, read from a tree that has all that was tried.
    pub fn change(&mut self, mut own: Brief) {
        own.take_known(&self.brief);
        if self.briefs_before.len() == MOST_STEPS {
            self.briefs_before.remove(0);
        }
        let (of, tried) = (Arc::clone(&self.own), std::mem::take(&mut self.tried));
        let before = std::mem::take(&mut self.before);
        self.briefs_before.push(BriefBefore { own: of, tried, before });
        self.own = Arc::new(own);
        self.set(Tried::default());
    }

    /// Goes by the brief before the last change of a value again; false where there is nothing to take back.
    pub fn take_change_back(&mut self) -> bool {
        let Some(BriefBefore { own, tried, before }) = self.briefs_before.pop() else { return false };
        let known = Arc::clone(&self.own);
        let mut own = Brief::clone(&own);
        let names: Vec<_> = pictures_of(&known).filter_map(|it| Some((it.file.clone(), it.read.clone()?))).collect();
        fill_in(own.arts_mut(), &names);
        (self.own, self.before) = (Arc::new(own), before);
        self.set(tried);
        true
    }

    /// Whether a value of the brief was changed that can be taken back.
    pub fn has_change(&self) -> bool {
        !self.briefs_before.is_empty()
    }

    /// The brief's tree with all that was changed and is tried.
    pub fn tree(&self) -> Node {
        rewrite::applied(&self.own.written.tree, &self.tried.changes(&self.own))
    }

    /// The changes that write into the brief's file all that was changed and is tried.
    pub fn changes(&self) -> Vec<ValueChange> {
        let own = rewrite::tree_changes(&self.file.written.tree, &self.own.written.tree);
        own.into_iter().chain(self.tried.changes(&self.own)).collect()
    }

    /// Whether a value was changed on the brief's own page that the brief's file lacks.
    pub fn is_changed(&self) -> bool {
        !Arc::ptr_eq(&self.file, &self.own) && self.file.written.tree != self.own.written.tree
    }

    /// Whether something is tried or changed that goes by the brief as it was read, so that another has to wait.
    pub fn holds_brief(&self) -> bool {
        self.tried.panel.is_some() || self.is_changed()
    }

    /// The brief as its file has it.
    pub fn file(&self) -> &Arc<Brief> {
        &self.file
    }

    /// Notes what is tried, so that what comes next can be taken back.
    pub fn note(&mut self) {
        if self.before.len() == MOST_STEPS {
            self.before.remove(0);
        }
        self.before.push((self.part, self.tried.clone()));
    }

    /// Tries again what was noted last, with the part in hand that was then; returns whether anything was noted.
    pub fn take_back(&mut self) -> bool {
        let Some((part, tried)) = self.before.pop() else { return false };
        self.part = part;
        self.set(tried);
        true
    }

    /// The part of the cover whose values are in hand; the panel where the brief has no such part any more.
    pub fn part(&self) -> CoverPart {
        self.panel().part
    }

    /// Whether anything was noted that can be tried again.
    pub fn can_take_back(&self) -> bool {
        !self.before.is_empty()
    }

    /// Takes another part of the cover in hand.
    pub fn set_part(&mut self, part: CoverPart) {
        self.part = part;
    }

    /// The panel as it is tried, with the part in hand.
    pub fn panel(&self) -> WrittenPanel {
        self.tried.panel(&self.own).with_part(self.part)
    }

    /// Tries these values, and no others, in place of the brief's own.
    pub fn set(&mut self, tried: Tried) {
        let mut brief = tried.on(&self.own);
        brief.queries.close = self.close;
        self.brief = Arc::new(brief);
        self.tried = tried;
        self.revision += 1;
    }

    /// Reads the copy closely, or no longer.
    pub fn set_close(&mut self, close: bool) {
        self.close = close;
        self.set(self.tried.clone());
    }

    /// Whether the copy is read closely.
    pub fn is_close(&self) -> bool {
        self.close
    }

    /// Goes by a brief that was read anew, with some values tried in place of its own. What is known of pictures that
    /// it still names is kept.
    pub fn renew(&mut self, mut own: Brief, tried: Tried) {
        let known = |picture: &ArtPicture| Some((picture.file.clone(), picture.read.clone()?));
        let known: Vec<(PathBuf, Arc<ArtFile>)> = pictures_of(&self.own).filter_map(known).collect();
        fill_in(own.arts_mut(), &known);
        let (part, close, revision) = (self.part, self.close, self.revision + 1);
        *self = Self::of(own);
        (self.part, self.close, self.revision) = (part, close, revision);
        if close || !tried.is_nothing() {
            self.set(tried);
        }
    }

    /// Whether a brief says what the present one does, whatever is known of its pictures.
    pub fn is_as(&self, other: &Brief) -> bool {
        let bare = |brief: &Brief| {
            let mut brief = brief.clone();
            brief.arts_mut().flat_map(Art::pictures_mut).for_each(|picture| picture.read = None);
            brief
        };
        bare(&self.file) == bare(other)
    }

    /// Fills in what is in a file of art: in the brief, in what is tried and in what was tried before. Returns whether
    /// the brief names the file and did not know it as it was read.
    pub fn take_art(&mut self, file: &Path, read: &Arc<ArtFile>) -> bool {
        let known = [(file.to_path_buf(), Arc::clone(read))];
        let mut own = Brief::clone(&self.own);
        let is_news = fill_in(own.arts_mut(), &known);
        let mut file = Brief::clone(&self.file);
        fill_in(file.arts_mut(), &known);
        self.file = Arc::new(file);
        let before = self.before.iter_mut().filter_map(|(_, tried)| tried.panel.as_mut());
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
    pub fn own(&self) -> &Brief {
        &self.own
    }

    /// The brief without what is tried in its place, to be shared.
    pub fn shared_own(&self) -> Arc<Brief> {
        Arc::clone(&self.own)
    }

    /// What is tried.
    pub fn tried(&self) -> &Tried {
        &self.tried
    }

    /// The brief with what is tried.
    pub fn brief(&self) -> &Brief {
        &self.brief
    }

    /// The brief with what is tried, to be shared.
    pub fn shared(&self) -> Arc<Brief> {
        Arc::clone(&self.brief)
    }
}

/// Every picture that a brief names for the art of its faces and places.
pub fn pictures_of(brief: &Brief) -> impl Iterator<Item = &ArtPicture> {
    brief.faces().flat_map(|face| face.arts()).flat_map(Art::pictures)
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
