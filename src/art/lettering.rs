//! The letters of a set line as boxes, for holding them against the art that they stand on.

use super::lines::{LineLetters, LineWord, is_large};
use crate::setting::copy::ShapedBlock;
use crate::setting::glyphs::{GlyphRun, PlainType};
use crate::setting::lines::SetLine;
use crate::setting::{Faces, SpineTitle};
use crate::units::Length;

/// The letters of a line by its glyphs: a box for each cluster, as wide as its advance, and the words by their bytes in
/// the block's text. Blanks part words and have no box; a hyphen at the line's end belongs to the last word.
pub fn of_line(line: &SetLine, paragraph: &ShapedBlock<'_>, runs: &[GlyphRun], size: Length) -> LineLetters {
    let emphasis = paragraph.style.emphasis;
    let all = LineLetters {
        baseline: line.baseline,
        x_height: paragraph.family.face(emphasis).x_height().at(size),
        is_large: is_large(size, emphasis.bold),
        letters: Vec::with_capacity(line.text.len()),
        words: Vec::new(),
    };
    with_letters(all, &clusters(&line.text, runs), line.x + line.width)
}

/// The letters of a title where it stands on its spine, as those of a line are boxes.
pub fn of_title(title: &SpineTitle, faces: &Faces) -> LineLetters {
    let PlainType { font, emphasis, size } = &title.set;
    let (rect, baseline) = title.stands();
    let all = LineLetters {
        baseline,
        x_height: faces.family(font).face(*emphasis).x_height().at(*size),
        is_large: is_large(*size, emphasis.bold),
        letters: Vec::with_capacity(title.text.len()),
        words: Vec::new(),
    };
    with_letters(all, &clusters(&(0..title.text.len()), &title.runs(faces)), rect.right())
}

/// A line with the letters and words that its clusters make; the last ends at `right`.
fn with_letters(mut all: LineLetters, clusters: &[Cluster], right: Length) -> LineLetters {
    let ends = clusters.iter().skip(1).map(|cluster| cluster.from).chain([right]);
    let mut in_word = false;
    for (cluster, end) in clusters.iter().zip(ends) {
        if cluster.is_blank {
            in_word = false;
            continue;
        }
        let letter = all.letters.len();
        all.letters.push((cluster.from, end.max(cluster.from)));
        match all.words.last_mut().filter(|_| in_word) {
            Some(word) => {
                word.letters.end = letter + 1;
                word.text.end = cluster.text.end.max(word.text.end);
            }
            None => all.words.push(LineWord { letters: letter..letter + 1, text: cluster.text.clone() }),
        }
        in_word = true;
    }
    all
}

/// Glyphs that belong together: a letter with its marks, or letters drawn as one.
struct Cluster {
    /// Where it begins, from the face's left edge.
    from: Length,
    is_blank: bool,
    /// The bytes of the letter in the block's text.
    text: std::ops::Range<usize>,
}

fn clusters(line: &std::ops::Range<usize>, runs: &[GlyphRun]) -> Vec<Cluster> {
    let mut clusters: Vec<Cluster> = Vec::with_capacity(line.len());
    let mut start = line.start;
    for run in runs {
        for glyph in &run.glyphs {
            // A hyphen that the setter adds stands for no byte.
            let byte = |at: usize| (start + at).min(line.end);
            let text = byte(glyph.text.start)..byte(glyph.text.end);
            let is_mark = clusters.last().is_some_and(|last| last.text == text && !text.is_empty());
            if !is_mark {
                let is_blank = run.text.get(glyph.text.clone()).is_some_and(|text| text.trim().is_empty());
                clusters.push(Cluster { from: glyph.at.x, is_blank, text });
            }
        }
        start += run.text.len();
    }
    clusters
}
