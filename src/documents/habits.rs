//! What paragraphs are by the plain habits of writers who use no styles: a first line in bold is the headline, a line
//! that is the name of a block is its heading, and spoken words above a line that opens with a dash are a quote with
//! its credit.

use super::paragraph::{Paragraph, ParagraphKind};
use crate::draft::{BlockKind, Emphasis, ends_sentence, is_mark_of_speech, opens_with_dash};

/// A longer first line is no headline, in bytes.
const LONGEST_HEADLINE: usize = 160;
/// A longer line is no credit, in bytes.
const LONGEST_CREDIT: usize = 160;
/// A longer line is no heading that names a block, in bytes.
const LONGEST_NAME: usize = 80;

/// The paragraphs with what each is.
pub(super) fn by_plain_habits(paragraphs: Vec<Paragraph>) -> Vec<Paragraph> {
    let mut paragraphs = paragraphs;
    find_names(&mut paragraphs);
    find_headline(&mut paragraphs);
    // A writer who has a style for credits has said which lines are credits.
    let credit = ParagraphKind::Block(BlockKind::Credit);
    if !paragraphs.iter().any(|paragraph| paragraph.kind == credit) {
        paragraphs = paragraphs.into_iter().flat_map(parted_from_credit).collect();
        find_quotes(&mut paragraphs);
    }
    paragraphs
}

/// Takes the emphasis away that all of a paragraph has: it is how the writer has made a headline or a quote look.
fn quiet(paragraph: &mut Paragraph) {
    let (bold, italic) = (paragraph.is_all(|run| run.bold), paragraph.is_all(|run| run.italic));
    for run in &mut paragraph.runs {
        run.emphasis = Emphasis { bold: run.emphasis.bold && !bold, italic: run.emphasis.italic && !italic };
    }
}

fn find_headline(paragraphs: &mut [Paragraph]) {
    let headline = ParagraphKind::Block(BlockKind::Headline);
    if paragraphs.iter().any(|paragraph| paragraph.kind == headline) {
        return;
    }
    let mut written = paragraphs.iter_mut().filter(|paragraph| !paragraph.is_empty());
    let (Some(first), Some(_)) = (written.next(), written.next()) else { return };
    let is_body = first.kind == ParagraphKind::Body;
    if is_body && first.text().len() <= LONGEST_HEADLINE && first.is_all(|run| run.bold) {
        first.kind = headline;
        quiet(first);
    }
}

/// A line that is a block's name, above another paragraph, is the block's heading.
fn find_names(paragraphs: &mut [Paragraph]) {
    let last = paragraphs.iter().rposition(|paragraph| !paragraph.is_empty()).unwrap_or_default();
    for paragraph in &mut paragraphs[..last] {
        let text = paragraph.text();
        let text = text.trim();
        let is_line = text.len() <= LONGEST_NAME && !text.contains('\n') && !ends_sentence(text);
        if paragraph.kind == ParagraphKind::Body && is_line && BlockKind::named(text).is_some() {
            paragraph.kind = ParagraphKind::Name;
            quiet(paragraph);
        }
    }
}

/// A quote whose credit stands behind it in the same paragraph, as two; any other paragraph as it is.
fn parted_from_credit(paragraph: Paragraph) -> Vec<Paragraph> {
    let quote = ParagraphKind::Block(BlockKind::Quote);
    let text = paragraph.text();
    if paragraph.kind != quote && (paragraph.kind != ParagraphKind::Body || !text.trim().starts_with(is_mark_of_speech))
    {
        return vec![paragraph];
    }
    let mut marks = text.char_indices().filter(|(_, letter)| is_mark_of_speech(*letter));
    let behind = marks.next_back().map_or(0, |(at, mark)| at + mark.len_utf8());
    if behind == 0 || !is_credit(text[behind..].trim()) {
        return vec![paragraph];
    }
    let (mut quote, mut credit) = paragraph.parted(behind, (quote, ParagraphKind::Block(BlockKind::Credit)));
    [&mut quote, &mut credit].into_iter().for_each(quiet);
    vec![quote, credit]
}

/// Whether a line gives the credit of a quote: it opens with a dash and is no sentence.
fn is_credit(line: &str) -> bool {
    opens_with_dash(line) && line.len() <= LONGEST_CREDIT && !ends_sentence(line)
}

/// Spoken words above a credit are a quote; a credit below a quote is one.
fn find_quotes(paragraphs: &mut [Paragraph]) {
    let [quote, credit] = [BlockKind::Quote, BlockKind::Credit].map(ParagraphKind::Block);
    let written: Vec<usize> = (0..paragraphs.len()).filter(|at| !paragraphs[*at].is_empty()).collect();
    for pair in written.windows(2) {
        let (above, below) = (pair[0], pair[1]);
        let is_open = |at: usize| [ParagraphKind::Body, quote].contains(&paragraphs[at].kind);
        if !is_open(above) || !is_open(below) || !is_credit(paragraphs[below].text().trim()) {
            continue;
        }
        let words = paragraphs[above].text();
        let words = words.trim();
        let is_spoken = words.starts_with(is_mark_of_speech) && words.ends_with(is_mark_of_speech);
        if paragraphs[above].kind == quote || is_spoken {
            (paragraphs[above].kind, paragraphs[below].kind) = (quote, credit);
            [above, below].into_iter().for_each(|at| quiet(&mut paragraphs[at]));
        }
    }
}
