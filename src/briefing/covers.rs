//! What is usual of a new book's cover, and what an author may choose for it: trims, bindings, the barcode, the art.

use crate::brief::book::BookKind;
use crate::brief::panel::Binding;
use crate::system::file_names;

/// The bindings, the commonest first.
pub const BINDINGS: [Binding; 3] = [Binding::Paperback, Binding::Case, Binding::Jacket];

/// The barcode on the back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BarcodePlan {
    /// No barcode: one stands elsewhere, or the book has no ISBN.
    None,
    /// The barcode of the ISBN alone.
    #[default]
    Plain,
    /// The barcode of the ISBN with the price beside it.
    WithPrice,
}

impl BarcodePlan {
    /// Every plan.
    pub const ALL: [Self; 3] = [Self::None, Self::Plain, Self::WithPrice];

    /// The plan as an author answers it.
    pub fn name(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Plain => "plain",
            Self::WithPrice => "with price",
        }
    }
}

/// What is behind the copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BackArt {
    /// Plain paper, or one colour.
    #[default]
    Plain,
    /// A picture of its own over the whole back.
    Own,
    /// The picture of the front, which runs on round the spine.
    Round,
    /// Small drawings on plain paper.
    Drawings,
}

impl BackArt {
    /// Every kind of art, and none.
    pub const ALL: [Self; 4] = [Self::Plain, Self::Own, Self::Round, Self::Drawings];

    /// The art as an author answers it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Own => "own picture",
            Self::Round => "picture all round",
            Self::Drawings => "small drawings",
        }
    }

    /// What is said of the art in a brief besides its file: an entry of the group `art`; none for plain paper.
    pub(super) fn entry(self) -> Option<&'static str> {
        match self {
            Self::Plain => None,
            Self::Own => Some("kind: scene"),
            Self::Round => Some("kind: round, front: art/front.jpg"),
            Self::Drawings => Some("kind: spot"),
        }
    }
}

/// The usual trims for a kind of book, the commonest first. Common practice of printers in inches and in millimetres.
pub fn usual_trims(kind: BookKind) -> &'static [&'static str] {
    match kind {
        BookKind::BoardBook => &["7 x 7 in", "6 x 6 in", "5 x 7 in", "8 x 8 in", "180 x 180 mm"],
        BookKind::PictureBook => {
            &["8.5 x 8.5 in", "8 x 10 in", "8.5 x 11 in", "11 x 8.5 in", "8 x 8 in", "210 x 210 mm", "210 x 297 mm"]
        }
        BookKind::EarlyReader | BookKind::NonFiction => {
            &["6 x 9 in", "7 x 10 in", "8.5 x 11 in", "148 x 210 mm", "170 x 240 mm"]
        }
        BookKind::ChapterBook => &["5.25 x 7.5 in", "5 x 8 in", "5.5 x 8.5 in", "129 x 198 mm", "148 x 210 mm"],
        BookKind::MiddleGrade | BookKind::YoungAdult => {
            &["5.5 x 8.25 in", "5 x 8 in", "6 x 9 in", "129 x 198 mm", "148 x 210 mm"]
        }
        BookKind::AdultFiction => &["5.5 x 8.5 in", "5 x 8 in", "6 x 9 in", "129 x 198 mm", "148 x 210 mm"],
    }
}

/// The longest name of a folder that is made of a title, in characters.
const LONGEST_FOLDER: usize = 40;

/// A name for the folder of a book: the words of its title in small letters, with hyphens between them; `new-book` for
/// a title without a letter or a figure.
pub fn folder_name(title: &str) -> String {
    let words = title.split(|c: char| !c.is_alphanumeric() && !matches!(c, '\'' | '’'));
    let bare =
        |word: &str| word.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>();
    let mut name = String::new();
    for word in words.map(bare).filter(|word| !word.is_empty()) {
        if !name.is_empty() && name.chars().count() + word.chars().count() >= LONGEST_FOLDER {
            break;
        }
        let gap = if name.is_empty() { "" } else { "-" };
        name.extend([gap, &word]);
    }
    let name: String = name.chars().take(LONGEST_FOLDER).collect();
    if name.is_empty() {
        return "new-book".to_owned();
    }
    // Not every system takes every name.
    if file_names::fault_of(&name).is_some() { format!("{name}-book") } else { name }
}

#[cfg(test)]
mod tests {
    use super::folder_name;

    #[test]
    fn a_folder_is_named_by_its_title() {
        let cases = [
            ("The Lamp at Gull Point", "the-lamp-at-gull-point"),
            ("Who's \"that\"?", "whos-that"),
            ("../.. Été & Übermut", "été-übermut"),
            ("!", "new-book"),
            (" . ", "new-book"),
            ("Con", "con-book"),
            ("The Lamp at Gull Point and Everything That Oona Saw", "the-lamp-at-gull-point-and-everything"),
        ];
        for (title, name) in cases {
            assert_eq!(folder_name(title), name);
        }
        assert_eq!(folder_name(&"o".repeat(90)).len(), 40);
    }
}
