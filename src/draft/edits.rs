//! Changes of the author's file, made together.

use super::block::Span;

/// A change of the author's file: a stretch of it, and what stands there instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// The stretch; where it is empty, the place at which the text is put in.
    pub span: Span,
    /// What stands there instead; nothing where the stretch goes.
    pub text: String,
}

/// The text of a file with changes made. Of two changes that share a byte, only the one that begins earlier is made. A
/// change whose span is not a stretch of the file is left out.
pub fn edited(source: &str, edits: &[Edit]) -> String {
    let mut ordered: Vec<&Edit> = edits.iter().collect();
    ordered.sort_by_key(|edit| edit.span);
    let (mut text, mut done) = (String::with_capacity(source.len()), 0);
    for Edit { span, text: wording } in ordered {
        let (Some(kept), Some(_)) = (source.get(done..span.start), source.get(span.start..span.end)) else { continue };
        text.push_str(kept);
        text.push_str(wording);
        done = span.end;
    }
    text.push_str(&source[done..]);
    text
}

#[cfg(test)]
mod tests {
    use super::{Edit, edited};
    use crate::draft::Span;

    #[test]
    fn edits_are_made_in_the_order_of_the_file_and_never_over_one_another() {
        let edit = |start, end, text: &str| Edit { span: Span { start, end }, text: text.to_owned() };
        assert_eq!(edited("the old lamp", &[edit(8, 12, "light"), edit(3, 7, "")]), "the light");
        assert_eq!(edited("the old lamp", &[edit(3, 7, ""), edit(4, 8, "new ")]), "the lamp");
        assert_eq!(edited("lamp", &[edit(4, 4, "s"), edit(0, 0, "a ")]), "a lamps");
        assert_eq!(edited("lamp", &[edit(3, 1, "x"), edit(2, 9, "x")]), "lamp");
        assert_eq!(edited("lé", &[edit(2, 3, "x")]), "lé");
    }
}
