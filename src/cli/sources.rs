//! What many drafts are measured from: files, and the records of feeds, each with the brief that it is measured by.

use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use super::setup::{Setup, SetupArgs, Setups, TypeOptions};
use super::{Unread, say_aside};
use crate::brief::BaseBrief;
use crate::feeds::onix::{OnixBook, OnixRecord};
use crate::files::{self, Error};
use crate::print::visible::visible;
use crate::units::nouns::{agrees, counted};

/// What one page is of.
pub(super) enum Source {
    /// A draft's file, or standard input.
    File(PathBuf),
    /// A record of a feed, by the name of both.
    Record(PathBuf, OnixRecord, Arc<FeedSetup>),
    /// A feed that cannot be read, or not any further.
    Unread(Unread),
}

/// What was asked for, in order: files, and for each feed its records.
pub(super) struct Sources<'a> {
    drafts: std::slice::Iter<'a, PathBuf>,
    setup: &'a SetupArgs,
    feed: Option<OpenFeed>,
}

impl<'a> Sources<'a> {
    pub(super) fn of(drafts: &'a [PathBuf], setup: &'a SetupArgs) -> Self {
        Self { drafts: drafts.iter(), setup, feed: None }
    }
}

/// A feed that is being read.
struct OpenFeed {
    path: PathBuf,
    setup: Arc<FeedSetup>,
    records: Box<dyn Iterator<Item = Result<OnixRecord, Error>>>,
    is_empty: bool,
    /// How many records so far ask for their book to be deleted, which are told as a sum.
    deleted: usize,
}

impl OpenFeed {
    fn of(path: &Path, setup: &SetupArgs) -> Result<Self, Error> {
        let setup = Arc::new(FeedSetup::of(path, setup)?);
        Ok(Self {
            path: path.to_path_buf(),
            setup,
            records: Box::new(files::open_feed(path)?),
            is_empty: true,
            deleted: 0,
        })
    }

    fn next(&mut self) -> Option<Source> {
        let unread = |why| Source::Unread(Unread { path: self.path.clone(), why });
        let name = |record: &OnixRecord| format!("{}, {}", self.path.display(), record.name);
        let mut next = self.records.next();
        while let Some(Ok(record)) = &next
            && record.is_deletion()
        {
            self.deleted += 1;
            next = self.records.next();
        }
        if !matches!(next, Some(Ok(_))) && self.deleted > 0 {
            let (records, them) = (counted(self.deleted, "record"), agrees(self.deleted, "it was", "they were"));
            let asks = agrees(self.deleted, "asks for its book", "ask for their books");
            let told = format!("{records} {asks} to be deleted (notification type 05); {them} not measured");
            say_aside(&visible(&format!("{}: {told}", self.path.display())));
            self.deleted = 0;
        }
        let was_empty = std::mem::take(&mut self.is_empty);
        match next {
            Some(Ok(record)) => Some(Source::Record(name(&record).into(), record, Arc::clone(&self.setup))),
            Some(Err(why)) => Some(unread(why)),
            None => {
                was_empty.then(|| unread(Error::cannot("measure", &self.path, "there is no record in it to measure")))
            }
        }
    }
}

impl Iterator for Sources<'_> {
    type Item = Source;

    fn next(&mut self) -> Option<Source> {
        loop {
            if let Some(feed) = &mut self.feed {
                if let Some(source) = feed.next() {
                    return Some(source);
                }
                self.feed = None;
            }
            let path = self.drafts.next()?;
            if !files::is_feed(path) {
                return Some(Source::File(path.clone()));
            }
            match OpenFeed::of(path, self.setup) {
                Ok(feed) => self.feed = Some(feed),
                Err(why) => return Some(Source::Unread(Unread { path: path.clone(), why })),
            }
        }
    }
}

/// The setups of drafts that were named: where all are feeds, the brief that was named is the base of their records.
pub(super) fn setups_of(drafts: &[PathBuf], setup: &SetupArgs) -> Result<Setups, Error> {
    if drafts.iter().all(|draft| files::is_feed(draft)) { Setups::of_feeds(setup) } else { Setups::new(setup) }
}

/// The base of a feed's records, and what is read once for all of them.
pub(super) struct FeedSetup {
    pub(super) base: BaseBrief,
    path: PathBuf,
    options: TypeOptions,
    /// The setup of the first record: its fonts are those of all, and as long as it is kept no art is read again.
    first: OnceLock<Arc<Setup>>,
}

impl FeedSetup {
    /// The base is the brief that was named, or that of the feed's folder.
    pub(super) fn of(feed: &Path, args: &SetupArgs) -> Result<Self, Error> {
        let path = match args.brief() {
            Some(named) => named.to_path_buf(),
            None => files::find_brief(feed.parent().unwrap_or(Path::new("")))?,
        };
        let (base, options) = (files::read_base(&path)?, TypeOptions::of(args)?);
        Ok(Self { base, path, options, first: OnceLock::new() })
    }

    /// The setup of a record.
    pub(super) fn of_record(&self, book: &OnixBook) -> Result<Arc<Setup>, Error> {
        let brief = files::read_brief_over(&self.base, &self.path, &book.values)?;
        let mut setup = match self.first.get() {
            None => Setup::of(brief, &self.path, &self.options)?,
            Some(first) => Setup {
                brief: self.options.tried_in(brief),
                faces: Arc::clone(&first.faces),
                path: self.path.clone(),
                panel_note: None,
            },
        };
        setup.panel_note.clone_from(&book.note);
        let setup = Arc::new(setup);
        self.first.get_or_init(|| Arc::clone(&setup));
        Ok(setup)
    }
}
