//! The author's settings for one book: book, terms, limits, panel and type.
//!
//! A brief is one YAML file, `brief.yaml`. Every value is checked while the file is read, so a [`Brief`] can be used.

mod yaml_problems;
pub mod yaml;
pub mod lengths;
pub mod bounds;
mod nodes;
pub mod barcode;
pub mod book;
pub mod terms;
pub mod limits;
pub mod usual;
pub mod panel;
pub mod panel_values;
mod boards;
mod keep_out;
pub mod place;
pub mod faces;
mod panel_group;
mod font;
pub mod typography;
pub mod phrases;
pub mod queries;
pub mod stet;
mod read;
pub mod rewrite;
pub mod start;

pub use book::Book;
pub use font::{InType, place_in_type};
pub use limits::Limits;
pub use nodes::Fault;
pub use panel::Panel;
pub use queries::Queries;
pub use read::place_of_list;
pub use terms::Terms;
pub use typography::Typography;

/// All settings for one book.
#[derive(Debug, Clone)]
pub struct Brief {
    /// The book itself.
    pub book: Book,
    /// What the copy should carry and what it should not.
    pub terms: Terms,
    /// The ranges that the author has set for measures.
    pub limits: Limits,
    /// The back cover's face.
    pub panel: Panel,
    /// The flaps of a jacket that carry copy: the front one, then the back one, as far as the brief has them.
    pub flaps: Vec<faces::Flap>,
    /// The spine, where the printer has given its width.
    pub spine: Option<faces::Spine>,
    /// The group `panel` as the file has it.
    pub panel_written: yaml::Node,
    /// Which rules look for queries.
    pub queries: Queries,
    /// How each block is set.
    pub typography: Typography,
}

impl Brief {
    /// The name of the book's physical form: `board book`, or else the name of its binding.
    pub fn bound_as(&self) -> &'static str {
        match (self.book.kind, self.panel.binding) {
            (book::BookKind::BoardBook, panel::Binding::Paperback) => self.book.kind.name(),
            (_, binding) => binding.name(),
        }
    }

    /// The panel together with the group `panel` as the file has it.
    pub fn written_panel(&self) -> panel_values::WrittenPanel {
        let (written, panel) = (self.panel_written.clone(), self.panel.clone());
        panel_values::WrittenPanel { written, panel, kind: self.book.kind }
    }
}
