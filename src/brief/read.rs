//! Reads a brief from YAML, group by group: book, terms, limits, queries, panel, type.

use std::path::Path;

use super::Brief;
use super::book::Book;
use super::limits::Limits;
use super::nodes::{Fault, NodeAt, Refusal, whole};
use super::panel::Panel;
use super::queries::Queries;
use super::terms::Terms;
use super::typography::Typography;
use super::yaml::{self, Node, YamlStep};

impl Brief {
    /// Reads a brief. Paths of fonts in it are taken from `folder`.
    ///
    /// # Errors
    ///
    /// The first fault: text that is not YAML, an unknown group, and then group by group an unknown key, a value that
    /// cannot be used, or values that do not go together.
    pub fn read(text: &str, folder: &Path) -> Result<Self, Fault> {
        whole(text, "a brief", |root| read_root(root, folder))
    }
}

/// The line and the column at which a brief names the file with the list of a rule; none where it names no file.
pub fn place_of_list(text: &str, rule: &str) -> Option<(usize, usize)> {
    yaml::locate(text, &["queries", "lists", rule, "file"].map(|key| YamlStep::Key(key.to_owned())))
}

const SECTIONS: [&str; 7] = ["book", "terms", "avoid", "limits", "queries", "panel", "type"];

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
    let (flaps, spine) = (Vec::new(), None);
    Ok(Brief { book, terms, limits, queries, panel, flaps, spine, panel_written, typography })
}

/// The panel that a group `panel` describes; the error is the problem, without a full stop.
pub(super) fn panel(node: &Node) -> Result<Panel, String> {
    Panel::read(NodeAt::top(node)).map_err(|refusal| refusal.problem)
}
