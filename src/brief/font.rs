//! Which font a block is set in: a built-in font, a font file at a weight, or a font that is not at hand, for which the
//! built-in serif stands in.

use std::fmt;
use std::path::{Path, PathBuf};

use super::bounds;
use super::lengths::Unit;
use super::nodes::{NodeAt, Refusal, chosen};
use super::yaml::{self, Node, YamlStep};
use crate::draft::Emphasis;
use crate::units::{Length, trimmed};

/// Which font a block is set in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Font {
    /// The built-in serif.
    Serif,
    /// The built-in sans.
    Sans,
    /// A font file.
    File {
        /// An absolute path or one from the working folder.
        path: PathBuf,
        /// The weight of text that is not bold.
        weight: Weight,
        /// The other files of its family, as far as the brief names them.
        sisters: Sisters,
    },
    /// A font that is not at hand.
    StandIn(StandIn),
}

/// The files of a family that a brief names beside the regular file. Their paths are absolute or from the working
/// folder.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sisters {
    /// The bold file.
    pub bold: Option<PathBuf>,
    /// The italic file.
    pub italic: Option<PathBuf>,
    /// The file that is both bold and italic.
    pub bold_italic: Option<PathBuf>,
}

impl Sisters {
    /// The file for an emphasis.
    pub fn of(&self, emphasis: Emphasis) -> Option<&Path> {
        match (emphasis.bold, emphasis.italic) {
            (false, false) => None,
            (true, false) => self.bold.as_deref(),
            (false, true) => self.italic.as_deref(),
            (true, true) => self.bold_italic.as_deref(),
        }
    }
}

/// A weight of the OpenType scale, from 1 to 1000.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Weight(u16);

/// A font that is not at hand. The built-in serif stands in for the font, with all widths scaled by the ratio of the
/// lengths of the two alphabets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StandIn {
    /// What the font is called.
    pub name: String,
    /// The length of a to z in the font.
    pub alphabet: Length,
    /// The size at which the alphabet has that length.
    pub at: Length,
}

/// The names of weights.
///
/// Source: OpenType specification, table OS/2, usWeightClass; CSS Fonts Level 4, section 2.2, has the same.
const NAMES: [(&str, Weight); 9] = [
    ("thin", Weight(100)),
    ("extra-light", Weight(200)),
    ("light", Weight(300)),
    ("regular", Weight::REGULAR),
    ("medium", Weight(500)),
    ("semibold", Weight(600)),
    ("bold", Weight::BOLD),
    ("extra-bold", Weight(800)),
    ("black", Weight(900)),
];

/// The least and the greatest length of an alphabet, in multiples of the size: a narrow face for headings has about 7,
/// and at 26 every letter is as wide as it is high.
const ALPHABET_IN_SIZES: (i64, i64) = (6, 26);

/// The keys of a family whose files are named one by one, the regular one first.
const FILES: [&str; 4] = ["regular", "bold", "italic", "bold_italic"];
const FILES_EXAMPLE: &str = "such as { regular: face.ttf, italic: face-italic.ttf }";

const STAND_IN: [&str; 3] = ["name", "alphabet", "at"];
const STAND_IN_EXAMPLE: &str = "such as { name: Some Face, alphabet: 128 pt, at: 12 pt }";

impl Weight {
    /// Regular, neither light nor bold.
    pub const REGULAR: Self = Self(400);
    /// Bold.
    pub const BOLD: Self = Self(700);

    /// The place on the scale.
    pub fn number(self) -> u16 {
        self.0
    }

    pub(super) fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        Self::parse(&value.text()?).map_err(|problem| value.refuse(problem))
    }

    fn parse(text: &str) -> Result<Self, String> {
        match text.parse() {
            Ok(number @ 1..=1000) => Ok(Self(number)),
            _ => chosen(text, &NAMES).map_err(|problem| format!("{problem}, or a number from 1 to 1000, such as 600")),
        }
    }

    /// Whether a value in a brief's file asks for this weight.
    fn is_written(self, node: &Node) -> bool {
        match node {
            Node::Text(text) => Self::parse(text.trim()) == Ok(self),
            Node::Number(number) => *number == f64::from(self.0),
            _ => false,
        }
    }
}

/// The name of the weight, or `weight 650` where it has none.
impl fmt::Display for Weight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match NAMES.iter().find(|(_, weight)| weight == self) {
            Some((name, _)) => f.write_str(name),
            None => write!(f, "weight {}", self.0),
        }
    }
}

impl Font {
    /// `serif` or `sans` in letters of any case, or the path of a font file, from `folder` where it is not absolute.
    pub fn named(name: &str, folder: &Path) -> Self {
        match name.to_ascii_lowercase().as_str() {
            "serif" => Self::Serif,
            "sans" => Self::Sans,
            _ => Self::file(folder.join(name)),
        }
    }

    /// A font file at its regular weight.
    pub fn file(path: PathBuf) -> Self {
        Self::File { path, weight: Weight::REGULAR, sisters: Sisters::default() }
    }

    pub(super) fn read(value: &NodeAt<'_>, folder: &Path) -> Result<Self, Refusal> {
        if !value.is_map() {
            return Ok(Self::named(&value.text()?, folder));
        }
        if value.entries()?.iter().any(|(key, _)| STAND_IN.contains(key)) {
            return StandIn::read(value).map(Self::StandIn);
        }
        let fields = value.fields(&FILES)?;
        let file = |value: NodeAt<'_>| value.text().map(|name| folder.join(name));
        let [regular, bold, italic, bold_italic] = FILES;
        let sister = |key| fields.optional(key).map(file).transpose();
        let path = file(fields.required(regular, FILES_EXAMPLE)?)?;
        let sisters = Sisters { bold: sister(bold)?, italic: sister(italic)?, bold_italic: sister(bold_italic)? };
        Ok(Self::File { path, weight: Weight::REGULAR, sisters })
    }

    /// Whether the font is one of those that are part of the program.
    pub fn is_built_in(&self) -> bool {
        matches!(self, Self::Serif | Self::Sans)
    }

    /// Whether the two are the same font, perhaps at different weights.
    pub fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::File { path, sisters, .. }, Self::File { path: other, sisters: others, .. }) => {
                path == other && sisters == others
            }
            _ => self == other,
        }
    }

    /// The weight of text that is not bold.
    pub fn weight(&self) -> Weight {
        match self {
            Self::File { weight, .. } => *weight,
            Self::Serif | Self::Sans | Self::StandIn(_) => Weight::REGULAR,
        }
    }

    /// The font at another weight, which `value` asks for.
    pub(super) fn at_weight(self, wanted: Weight, value: &NodeAt<'_>) -> Result<Self, Refusal> {
        let refuse = |what: &str| {
            let problem = format!("{what} has no {wanted}, only regular and bold");
            Err(value.refuse(format!("{problem}; write one of these, or name a variable font file at font")))
        };
        match self {
            Self::File { path, sisters, .. } => Ok(Self::File { path, weight: wanted, sisters }),
            font if wanted == Weight::REGULAR => Ok(font),
            Self::StandIn(_) => refuse("a font that is stood in for"),
            font => refuse(&format!("the built-in {font}")),
        }
    }
}

/// The font as a brief names it.
impl fmt::Display for Font {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Serif => f.write_str("serif"),
            Self::Sans => f.write_str("sans"),
            Self::File { path, .. } => write!(f, "{}", path.display()),
            Self::StandIn(stand_in) => f.write_str(&stand_in.name),
        }
    }
}

impl StandIn {
    fn read(value: &NodeAt<'_>) -> Result<Self, Refusal> {
        let fields = value.fields(&STAND_IN)?;
        let name = fields.required("name", STAND_IN_EXAMPLE)?.text()?;
        let of_alphabet = fields.required("alphabet", STAND_IN_EXAMPLE)?;
        let alphabet = of_alphabet.length(bounds::ALPHABET)?;
        let of_size = fields.required("at", STAND_IN_EXAMPLE)?;
        let at = of_size.length(bounds::SIZE)?;
        let (least, most) = (at * ALPHABET_IN_SIZES.0, at * ALPHABET_IN_SIZES.1);
        if least <= alphabet && alphabet <= most {
            return Ok(Self { name, alphabet, at });
        }
        let written = |value: &NodeAt<'_>, length| value.unit().unwrap_or(Unit::Points).written(length);
        let (least, most) = (written(&of_alphabet, least), written(&of_alphabet, most));
        let (alphabet_written, at_written) = (written(&of_alphabet, alphabet), written(&of_size, at));
        let sizes = trimmed(alphabet.to_pt() / at.to_pt(), 1);
        Err(of_alphabet.refuse(format!(
            "an alphabet of {alphabet_written} at {at_written} is {sizes} times the size, and no face for reading has \
             that: \
             set the letters a to z in one line at {at_written} and measure it; it must be from {least} to {most}"
        )))
    }
}

/// What is looked for in the type of the blocks, or of the spine, of a brief's file.
#[derive(Debug, Clone, Copy)]
pub enum InType<'a> {
    /// Where a font file is named.
    Font(&'a Path),
    /// Where a key `weight` asks for this weight of the font file.
    Weight(&'a Path, Weight),
}

/// The line and the column at which a brief names a font file or asks a weight of it; none where it does not. Paths in
/// the brief are from `folder`.
pub fn place_in_type(text: &str, folder: &Path, what: &InType<'_>) -> Option<(usize, usize)> {
    let Ok(Node::Map(sections)) = yaml::parse(text) else { return None };
    let step = |key: &str| YamlStep::Key(key.to_owned());
    let group = |keys: &[&str]| {
        let way: Vec<YamlStep> = keys.iter().map(|key| step(key)).collect();
        let found = keys.iter().try_fold(&sections, |group, key| match value_of(group, key)? {
            Node::Map(keys) => Some(keys),
            _ => None,
        });
        (way, found.map_or(&[][..], Vec::as_slice))
    };
    let (of_type, keys) = group(&["type"]);
    let found = |way: [Vec<YamlStep>; 2]| yaml::locate(text, &way.concat());
    if let Some(way) = what.way(keys, None, folder) {
        return found([of_type, way]);
    }
    let font = value_of(keys, "font");
    let in_block = keys.iter().find_map(|(block, node)| match node {
        Node::Map(own) => Some([vec![step("type"), step(block)], what.way(own, font, folder)?]),
        _ => None,
    });
    let of_headline = group(&["type", "headline"]).1;
    let (of_spine, own) = group(&["spine", "type"]);
    let on_spine = || Some([of_spine, what.way(own, value_of(of_headline, "font").or(font), folder)?]);
    found(in_block.or_else(on_spine)?)
}

impl InType<'_> {
    /// The way from a group with these keys to the value that is looked for; `above` is the font that the group takes
    /// over where it names none.
    fn way(&self, keys: &[(String, Node)], above: Option<&Node>, folder: &Path) -> Option<Vec<YamlStep>> {
        let own = value_of(keys, "font");
        match self {
            Self::Font(file) => {
                let way = way_to_file(own?, file, folder)?;
                Some([vec![YamlStep::Key("font".to_owned())], way].concat())
            }
            Self::Weight(file, weight) => {
                way_to_file(own.or(above)?, file, folder)?;
                let is_written = value_of(keys, "weight").is_some_and(|node| weight.is_written(node));
                is_written.then(|| vec![YamlStep::Key("weight".to_owned())])
            }
        }
    }
}

/// The way from the value of a key `font` to where it names a file: no step, or the key of one of a family's files;
/// none where the file is not named.
fn way_to_file(font: &Node, file: &Path, folder: &Path) -> Option<Vec<YamlStep>> {
    let names = |node: &Node| name_in(node).is_some_and(|name| folder.join(name) == file);
    match font {
        Node::Map(files) => {
            let (key, _) = files.iter().find(|(key, node)| FILES.contains(&key.as_str()) && names(node))?;
            Some(vec![YamlStep::Key(key.clone())])
        }
        font => names(font).then(Vec::new),
    }
}

/// A value as a file name, even where YAML reads it as a number or a truth value.
fn name_in(node: &Node) -> Option<String> {
    match node {
        Node::Text(text) => Some(text.trim().to_owned()),
        Node::Number(number) => Some(number.to_string()),
        Node::Bool(value) => Some(value.to_string()),
        Node::Null | Node::List(_) | Node::Map(_) => None,
    }
}

fn value_of<'a>(keys: &'a [(String, Node)], key: &str) -> Option<&'a Node> {
    keys.iter().find(|(name, _)| name == key).map(|(_, node)| node)
}
