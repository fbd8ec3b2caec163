//! A measure in detail, a page each: what the report says of it, whole.

use super::assessed::Assessed;
use crate::brief::Brief;
use crate::level::lists::Lists;
use crate::print::{level, sizes, text};
use crate::report::levels::Levels;
use crate::report::sizes::Sizes;
use crate::setting::Faces;

/// Which measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DetailsPage {
    /// How long the blurb is.
    Length,
    /// How hard it is to read, by every measure.
    Level,
    /// Which terms it carries, and where.
    Terms,
    /// How it fits, at every size, and what a line costs.
    Fit,
}

impl DetailsPage {
    /// The pages in their order.
    pub const ALL: [Self; 4] = [Self::Length, Self::Level, Self::Terms, Self::Fit];

    /// The next page.
    pub fn next(self) -> Self {
        Self::ALL[(self as usize + 1) % Self::ALL.len()]
    }

    /// The page before.
    pub fn before(self) -> Self {
        Self::ALL[(self as usize + Self::ALL.len() - 1) % Self::ALL.len()]
    }

    /// Its name, which is the label of its part in a report.
    pub fn name(self) -> &'static str {
        match self {
            Self::Length => "Length",
            Self::Level => "Level",
            Self::Terms => "Terms",
            Self::Fit => "Fit",
        }
    }
}

/// The page of a measure as lines of at most `columns`.
pub fn lines(
    page: DetailsPage,
    now: &Assessed,
    source: &str,
    (brief, faces): (&Brief, &Faces),
    (name, columns): (&str, usize),
) -> Vec<String> {
    let whole = match page {
        DetailsPage::Level => {
            level::written(&Levels::of(&now.draft, &brief.book, Lists::Carried), name, source, false, columns)
        }
        DetailsPage::Fit => sizes::written(&Sizes::of(&now.draft, brief, faces), name, columns),
        DetailsPage::Length | DetailsPage::Terms => {
            let paper = text::ReportPage { path: name, title: &brief.book.title, source, columns };
            return part(&text::written(&now.report, &paper), page.name());
        }
    };
    whole.lines().map(str::to_owned).collect()
}

/// The part of a report under a label: from its line to the next that is empty.
fn part(report: &str, label: &str) -> Vec<String> {
    let lines = report.lines().skip_while(|line| !line.starts_with(label));
    lines.take_while(|line| !line.is_empty()).map(str::to_owned).collect()
}
