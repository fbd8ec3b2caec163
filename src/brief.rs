//! The author's settings for one book: book, terms, limits, panel and type.
//!
//! A brief is one YAML file, `brief.yaml`. Every value is checked while the file is read, so a [`Brief`] can be used.

pub mod yaml;
pub mod lengths;
pub mod bounds;
mod nodes;
pub mod barcode;
pub mod book;
pub mod terms;
pub mod limits;
pub mod panel;
pub mod panel_values;
pub mod box_values;
mod boards;
mod keep_out;
pub mod place;
pub mod colour;
pub mod art;
pub mod cover;
mod panel_group;
mod font;
pub mod typography;
pub mod phrases;
pub mod queries;
pub mod stet;
mod place_group;
mod shape;

pub use book::Book;
pub use font::{InType, place_in_type};
pub use limits::Limits;
pub use nodes::{Fault, chosen};
pub use panel::Panel;
pub use queries::Queries;
pub use shape::{place_of_shape, quarter_circle};
pub use terms::Terms;
pub use typography::Typography;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use art::{Art, ArtKind, RoundArt};
use cover::{Flap, Spine};
use nodes::{NodeAt, Refusal};
use panel::FaceLayout;
use panel_values::CoverPart;
use place::{CoverFace, FileShape};
use typography::Font;
use yaml::{Node, Unreadable, YamlStep};

/// All settings for one book.
#[derive(Debug, Clone, PartialEq)]
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
    pub flaps: Vec<Flap>,
    /// The spine, where the brief has one.
    pub spine: Option<Spine>,
    /// The group `panel` as the file has it.
    pub panel_written: Node,
    /// Which rules look for queries.
    pub queries: Queries,
    /// How each block is set.
    pub typography: Typography,
    /// The whole brief as its file has it; what is tried in its place is not in it.
    pub written: Arc<WrittenBrief>,
}

/// A brief as its file writes it: keys and values, without comments.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenBrief {
    /// Every group of the brief.
    pub tree: Node,
    /// The folder from which fonts and lists of phrases are named.
    pub folder: PathBuf,
}

impl WrittenBrief {
    /// The brief of another tree in the same folder, with nothing known yet of the files that it names.
    ///
    /// # Errors
    ///
    /// The first value that cannot be used, as of a file, with the line and the column at 0.
    pub fn read_as(&self, tree: Node) -> Result<Brief, Fault> {
        let read = read_root(NodeAt::top(&tree), &self.folder);
        let brief =
            read.map_err(|refusal| Fault { line: 0, column: 0, key: refusal.key(), problem: refusal.problem })?;
        Ok(Brief { written: Arc::new(Self { tree, folder: self.folder.clone() }), ..brief })
    }
}

impl Brief {
    /// The name of the book's physical form: `board book`, or else the name of its binding.
    pub fn bound_as(&self) -> &'static str {
        match (self.book.kind, self.panel.binding) {
            (book::BookKind::BoardBook, panel::Binding::Paperback) => self.book.kind.name(),
            (_, binding) => binding.name(),
        }
    }

    /// Every face that copy may stand on: the back panel, then the flaps.
    pub fn faces(&self) -> impl Iterator<Item = FaceLayout<'_>> {
        std::iter::once(self.panel.layout()).chain(self.flaps.iter().map(Flap::layout))
    }

    /// Every shape that a file has, on all faces.
    pub fn file_shapes_mut(&mut self) -> impl Iterator<Item = &mut FileShape> {
        let panel = panel::file_shapes_mut(&mut self.panel.keep_outs, &mut self.panel.places);
        let flaps = self.flaps.iter_mut();
        panel.chain(flaps.flat_map(|flap| panel::file_shapes_mut(&mut flap.keep_outs, &mut flap.places)))
    }

    /// Every piece of art, on all faces and in all places.
    pub fn arts_mut(&mut self) -> impl Iterator<Item = &mut Art> {
        let flaps = self.flaps.iter_mut().flat_map(|flap| panel::arts_mut(&mut flap.art, &mut flap.places));
        panel::arts_mut(&mut self.panel.art, &mut self.panel.places).chain(flaps)
    }

    /// Every font that something is set in.
    pub fn fonts(&self) -> impl Iterator<Item = &Font> {
        self.typography.fonts().chain(self.spine.iter().map(|spine| &spine.font))
    }

    /// Why the places of all faces do not go together, and on which face, without a full stop; none where they do. In a
    /// brief that was read they do.
    pub fn fault_of_places(&self) -> Option<(CoverFace, String)> {
        place_group::fault(self.faces(), self.typography.blurb.size)
    }

    /// The panel, the flaps and the spine beside it, together with their groups as the file has them.
    pub fn written_panel(&self) -> panel_values::WrittenPanel {
        let (written, panel, flaps) = (self.panel_written.clone(), self.panel.clone(), self.flaps.clone());
        let (spine, part) = (self.spine.clone(), CoverPart::Face(CoverFace::Panel));
        panel_values::WrittenPanel { written, panel, flaps, spine, kind: self.book.kind, part }
    }
}

impl Brief {
    /// Reads a brief. Paths of fonts in it are taken from `folder`.
    ///
    /// # Errors
    ///
    /// The first fault: text that is not YAML, an unknown group, and then group by group an unknown key, a value that
    /// cannot be used, or values that do not go together.
    pub fn read(text: &str, folder: &Path) -> Result<Self, Fault> {
        Self::read_parsed(yaml::parse(text), text, folder)
    }

    /// Reads a brief whose text is parsed already.
    ///
    /// # Errors
    ///
    /// Any error of [`Brief::read`].
    pub fn read_parsed(parsed: Result<Node, Unreadable>, text: &str, folder: &Path) -> Result<Self, Fault> {
        let tree = parsed.map_err(|unreadable| nodes::unread(unreadable, "a brief"))?;
        let brief = read_root(NodeAt::top(&tree), folder).map_err(|refusal| refusal.in_text(text))?;
        Ok(Self { written: Arc::new(WrittenBrief { tree, folder: folder.to_path_buf() }), ..brief })
    }

    /// Takes over what is known of the files of another brief that this one names too: lists of phrases, outlines of
    /// shapes and pictures.
    pub fn take_known(&mut self, known: &Self) {
        for list in self.queries.lists.iter_mut().filter(|list| list.instead.is_empty()) {
            let read = known.queries.lists.iter().find(|read| list.file.is_some() && read.file == list.file);
            list.instead = read.map_or_else(Vec::new, |read| read.instead.clone());
        }
        panel::take_outlines(&mut self.panel.keep_outs, &mut self.panel.places, known.panel.layout());
        for flap in &mut self.flaps {
            if let Some(read) = known.flaps.iter().find(|read| read.face == flap.face) {
                panel::take_outlines(&mut flap.keep_outs, &mut flap.places, read.layout());
            }
        }
        self.arts_mut().for_each(|art| art.take_pictures(known.faces().flat_map(|face| face.arts())));
    }

    /// Whether this brief names a font or a list of phrases of which nothing is known from another.
    pub fn names_more_files(&self, known: &Self) -> bool {
        let is_new = |font: &Font| matches!(font, Font::File { .. }) && !known.fonts().any(|other| other == font);
        let lists = &known.queries.lists;
        let is_new_list =
            |file: &PathBuf| !lists.iter().any(|list| list.file.as_ref() == Some(file) && !list.instead.is_empty());
        self.fonts().any(is_new) || self.queries.lists.iter().filter_map(|list| list.file.as_ref()).any(is_new_list)
    }
}

/// The line and the column at which a brief names the file with the list of a rule; none where it names no file.
pub fn place_of_list(text: &str, rule: &str) -> Option<(usize, usize)> {
    yaml::locate(text, &["queries", "lists", rule, "file"].map(|key| YamlStep::Key(key.to_owned())))
}

const SECTIONS: [&str; 10] =
    ["book", "terms", "avoid", "limits", "queries", "panel", "front_flap", "back_flap", "spine", "type"];

/// What a brief is read from is noted once all of it could be read.
const NOT_WRITTEN: WrittenBrief = WrittenBrief { tree: Node::Null, folder: PathBuf::new() };

const FLAPS: [CoverFace; 2] = [CoverFace::FrontFlap, CoverFace::BackFlap];

fn read_root(root: NodeAt<'_>, folder: &Path) -> Result<Brief, Refusal> {
    if root.is_nothing() {
        return Err(root.refuse(
            "the brief is empty; it needs a panel with its trim at least, such as panel: { trim: 8.5 x 8.5 in }",
        ));
    }
    let fields = root.fields(&SECTIONS)?;
    let book = fields.optional("book").map_or_else(|| Ok(Book::default()), Book::read)?;
    let terms = Terms::read(fields.optional("terms"), fields.optional("avoid"))?;
    let limits = fields.optional("limits").map_or_else(|| Ok(Limits::default()), Limits::read)?;
    let queries =
        fields.optional("queries").map(|queries| Queries::read(queries, folder)).transpose()?.unwrap_or_default();
    let panel = fields.required("panel", "such as panel: { trim: 8.5 x 8.5 in }")?;
    let (panel_written, panel) = (panel.node.clone(), Panel::read(panel)?);
    let typography = Typography::read(fields.optional("type"), &book, folder)?;
    let mut flaps = Vec::new();
    for face in FLAPS {
        if let Some(value) = fields.optional(face.key()) {
            flaps.push(Flap::read(&value, face, &panel, book.kind)?);
        }
    }
    let spine = fields.optional("spine").map(|value| Spine::read(&value, (&book, &panel), &typography, folder));
    let spine = spine.transpose()?;
    if let Some(problem) = spines_differ(&panel, spine.as_ref()) {
        return Err(fields.optional("spine").unwrap_or(root).refuse(problem));
    }
    let brief = Brief {
        book,
        terms,
        limits,
        queries,
        panel,
        flaps,
        spine,
        panel_written,
        typography,
        written: Arc::new(NOT_WRITTEN),
    };
    let Some((face, problem)) = brief.fault_of_places() else { return Ok(brief) };
    Err(fields.optional(face.key()).unwrap_or(root).refuse(problem))
}

/// Why the spine's width is not that of the art that runs round it; none where the two agree or one is not there.
fn spines_differ(panel: &Panel, spine: Option<&Spine>) -> Option<String> {
    let (Some(Art { kind: ArtKind::Round(RoundArt::Whole { spine: of_art }), .. }), Some(spine)) = (&panel.art, spine)
    else {
        return None;
    };
    let (own, other) = (spine.unit.written(spine.width), spine.unit.written(*of_art));
    let is_same = spine.width.fits(*of_art) && of_art.fits(spine.width);
    (!is_same).then(|| format!("the spine is {own} wide, and in the art that runs round it {other}; write one width"))
}

/// A brief that is the base of others: each is read with values of its own put over it.
#[derive(Debug, Clone)]
pub struct BaseBrief {
    text: String,
    node: yaml::Node,
    folder: PathBuf,
}

/// What makes a base and the values over it no brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BaseFault {
    /// Something in the base's own text.
    InText(Fault),
    /// One of the values.
    InValue {
        /// The key of the value with the keys above it, `panel.trim`.
        key: String,
        /// What was found, what was expected and what to do, without a full stop.
        problem: String,
    },
}

impl BaseBrief {
    /// Reads the text of a base, which need not be a whole brief. Paths of fonts in it are taken from `folder`.
    ///
    /// # Errors
    ///
    /// A text that is not YAML.
    pub fn read(text: String, folder: &Path) -> Result<Self, Fault> {
        let node = nodes::tree(&text, "a brief")?;
        Ok(Self { text, node, folder: folder.to_path_buf() })
    }

    /// The base as its file has it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The value that the base itself has at the end of a path.
    pub fn value(&self, path: &[YamlStep]) -> Option<&yaml::Node> {
        self.node.at(path)
    }

    /// Whether any of the base's values is a text of which something is true.
    pub fn has_text(&self, is_meant: impl Fn(&str) -> bool) -> bool {
        fn holds(node: &yaml::Node, is_meant: &impl Fn(&str) -> bool) -> bool {
            match node {
                yaml::Node::Text(text) => is_meant(text),
                yaml::Node::List(items) => items.iter().any(|item| holds(item, is_meant)),
                yaml::Node::Map(entries) => entries.iter().any(|(_, value)| holds(value, is_meant)),
                _ => false,
            }
        }
        holds(&self.node, &is_meant)
    }

    /// Reads the base with other values at the ends of paths, whether it has something there or not.
    ///
    /// # Errors
    ///
    /// The first fault, as [`Brief::read`] finds it.
    pub fn with(&self, values: &[(Vec<YamlStep>, yaml::Node)]) -> Result<Brief, BaseFault> {
        let mut node = self.node.clone();
        for (path, value) in values {
            node.put(path, value.clone());
        }
        read_root(NodeAt::top(&node), &self.folder).map_err(|refusal| {
            if values.iter().any(|(path, _)| refusal.is_inside(path)) {
                BaseFault::InValue { key: refusal.key(), problem: refusal.problem }
            } else {
                BaseFault::InText(refusal.in_text(&self.text))
            }
        })
    }
}
