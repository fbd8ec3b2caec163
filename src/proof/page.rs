//! Drafts side by side as one self-contained page of HTML: panels to scale, the table, the differences, the history.
//!
//! The page has no script and fetches nothing. Meaning is carried by words, signs and lines; colour only supports them.

use super::seal;
use super::sheet::Sheet;
use super::svg::{SharedPictures, escaped, inline};
use crate::draft::{BlockKind, Draft};
use crate::print::compare::{
    BEST, Between, ComparisonPage, OUTSIDE, beaten, in_places, label, limit, moved_by, on_art, shown, signs, sort_of,
    turns,
};
use crate::print::kept::{KeptRow, Series, series, told};
use crate::report::comparison::Cell;
use crate::report::differences::{ChangeKind, DifferenceMark, Differences, ShownStretch};
use crate::units::{Length, trimmed};

const STYLE: &str = include_str!("page.css");

/// The widest panel on the page, in millimetres, so that two fit side by side on A4; all panels are drawn to one scale.
const WIDEST_PANEL: f64 = 88.0;

/// What the page shows.
pub struct Compared<'a> {
    /// The table, and the differences between two drafts.
    pub page: &'a ComparisonPage<'a>,
    /// The drafts themselves.
    pub drafts: &'a [&'a Draft],
    /// The faces of the drafts: the panel of each, then their flaps.
    pub panels: &'a [Sheet<'a>],
    /// What each face is called: the number and the name of its draft, and which flap it is.
    pub captions: &'a [String],
    /// The kept copies of the drafts that have some, each with its draft's name.
    pub histories: &'a [(String, Vec<KeptRow>)],
    /// Cautions for the reader.
    pub cautions: &'a [&'a str],
}

impl Compared<'_> {
    /// What all that is drawn is called.
    pub(super) fn faces(&self) -> &'static str {
        if self.panels.len() > self.drafts.len() { "panels and flaps" } else { "panels" }
    }
}

/// The page as the text of an HTML file.
pub fn written(compared: &Compared<'_>) -> String {
    let Compared { page, .. } = compared;
    let title = if page.title.is_empty() {
        "Drafts side by side".to_owned()
    } else {
        format!("{}: drafts side by side", page.title)
    };
    let mut html = opening(&title);
    html.push_str(&panels(compared));
    html.push_str(&table(page));
    html.push_str(&page.between.map_or(String::new(), differences));
    html.push_str(&words(compared));
    html.extend(compared.histories.iter().map(|(name, copies)| history(name, copies)));
    html.push_str("<h2>Before you print</h2>\n<ul class=\"soft\">\n");
    html.extend(compared.cautions.iter().map(|caution| format!("<li>{}</li>\n", escaped(caution))));
    html.push_str("</ul>\n");
    closed(html)
}

/// The beginning of every page that is written here, down to its heading: its look, and that it fetches nothing.
pub fn opening(title: &str) -> String {
    let title = escaped(title);
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src \
         data:\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n"
    )
}

/// A page with the end that every page has, and its seal in it.
pub fn closed(mut html: String) -> String {
    html.push_str(&format!("<!-- {} -->\n</body>\n</html>\n", seal::BLANK));
    seal::sealed_text(html)
}

fn panels(compared: &Compared<'_>) -> String {
    let widest = compared.panels.iter().map(|panel| panel.size.width).max().unwrap_or(Length::ZERO).to_mm();
    let scale = if widest > WIDEST_PANEL { WIDEST_PANEL / widest } else { 1.0 };
    let mut pictures = SharedPictures::default();
    let figure = |(number, panel): (usize, &Sheet<'_>)| {
        let caption = escaped(&compared.captions[number]);
        let drawing = inline(panel, (panel.size.width.to_mm() * scale * 10.0).round() / 10.0, &mut pictures);
        format!("<figure>\n{drawing}<figcaption>{caption}</figcaption>\n</figure>\n")
    };
    let figures: String = compared.panels.iter().enumerate().map(figure).collect();
    format!(
        "{}<h2>On the panel</h2>\n<p class=\"soft\">All {} at one scale, {} % of their size. A bar beside the panel \
         marks copy that is over.</p>\n<div class=\"panels\">\n{figures}</div>\n",
        pictures.defined(),
        compared.faces(),
        trimmed(scale * 100.0, 0)
    )
}

fn table(page: &ComparisonPage<'_>) -> String {
    let names = page.names.iter().enumerate();
    let heads: String =
        names.map(|(number, name)| format!("<th scope=\"col\">{}. {}</th>", number + 1, escaped(name))).collect();
    let rows = page.comparison.rows.iter().map(|row| {
        let cells: String = row.cells.iter().map(cell).collect();
        format!("<tr><th scope=\"row\">{}</th><td>{}</td>{cells}</tr>\n", escaped(&label(row)), limit(row))
    });
    let rows: String = rows.collect();
    let said = signs(page.comparison).into_iter().map(|sign| format!("<p class=\"soft\">{}</p>\n", escaped(&sign)));
    let beaten = beaten(page.comparison).into_iter().map(|sentence| format!("<p>{}</p>\n", escaped(&sentence)));
    let below: String = said.chain(beaten).collect();
    format!(
        "<h2>Measures</h2>\n<div class=\"wide\"><table>\n<caption>Every measure by \
         draft</caption>\n<thead><tr><td></td>\
         <th scope=\"col\">limit</th>{heads}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n{below}"
    )
}

fn cell(cell: &Cell) -> String {
    let (mut class, mut sign) = (String::new(), String::new());
    if cell.best {
        class = " class=\"best\"".to_owned();
        sign = format!(" {BEST}");
    }
    if cell.within == Some(false) {
        class = " class=\"outside\"".to_owned();
        sign.push_str(&format!(" {OUTSIDE}"));
    }
    format!("<td{class}>{}{sign}</td>", escaped(&shown(cell.value)))
}

fn differences(between: Between<'_>) -> String {
    let Between { differences, effects } = between;
    if differences.changes.is_empty() {
        return "<h2>Differences</h2>\n<p>The two drafts print the same.</p>\n".to_owned();
    }
    // The copy of both drafts as one text, block by block.
    let block = |(kind, sentences): (BlockKind, Vec<Vec<ShownStretch>>)| {
        let shown: Vec<&ShownStretch> = sentences.iter().flatten().collect();
        let next = shown.iter().skip(1).map(|next| Some(next.mark)).chain([None]);
        let words: String = shown.iter().zip(next).map(|(shown, next)| marked(shown, next, differences)).collect();
        format!("<h3>{}</h3>\n<p>{words}</p>\n", kind.name())
    };
    let blocks: String = differences.shown().into_iter().map(block).collect();
    // A row for each change: what it did once all before it were made.
    let step = |(number, change): (usize, &crate::report::differences::Change)| {
        let (before, after) = effects.step(number)?;
        let turned = match (before.fits, after.fits) {
            (false, true) => "now it fits",
            (true, false) => "now it spills",
            _ => "",
        };
        let places: Vec<String> = in_places(before, after).into_iter().chain(on_art(before, after)).collect();
        let done: Vec<&str> =
            [turned].into_iter().filter(|turned| !turned.is_empty()).chain(places.iter().map(String::as_str)).collect();
        let done = escaped(&done.join("; "));
        let head = format!("<th scope=\"row\">{}</th><td>{}</td>", number + 1, sort_of(change.kind));
        Some(format!("<tr>{head}{}<td>{done}</td></tr>\n", numbers(&moved_by(before, after))))
    };
    let steps: String = differences.changes.iter().enumerate().filter_map(step).collect();
    // All changes together: what the rows add up to.
    let whole = numbers(&moved_by(&effects.first, &effects.last));
    let done = in_places(&effects.first, &effects.last).into_iter().chain(on_art(&effects.first, &effects.last));
    let done = escaped(&done.collect::<Vec<_>>().join("; "));
    let turns: String = turns(effects).into_iter().map(|sentence| format!("<p>{}</p>\n", escaped(&sentence))).collect();
    format!(
        "<h2>Differences</h2>\n<p class=\"soft\">What is <del>struck out</del> is gone from draft 1, what is \
         <ins>underlined</ins> is new in draft 2; a dotted line is a move. The number is that of the \
         change.</p>\n{blocks}<div class=\"wide\"><table>\n<caption>What each change did, with those above it made: \
         lines, letters and words of all that is printed, the level of the blurb</caption>\n\
         <thead><tr><th scope=\"col\">change</th><td></td><th scope=\"col\">lines</th><th scope=\"col\">letters</th>\
         <th scope=\"col\">words</th><th scope=\"col\">level</th><th \
         scope=\"col\">terms</th><td></td></tr></thead>\n<tbody>\n{steps}\
         <tr><th scope=\"row\">together</th><td></td>{whole}<td>{done}</td></tr>\n</tbody>\n</table></div>\n{turns}"
    )
}

fn numbers(numbers: &[String]) -> String {
    numbers.iter().map(|number| format!("<td>{number}</td>")).collect()
}

/// Words in the HTML element for their mark. The number of the change follows the last of its words at this place.
fn marked(shown: &ShownStretch, next: Option<DifferenceMark>, differences: &Differences<'_>) -> String {
    let words = escaped(&shown.text.replace('\n', " / "));
    let is_moved =
        |change: usize| differences.changes.get(change).is_some_and(|change| change.kind == ChangeKind::Moved);
    let (element, change) = match shown.mark {
        DifferenceMark::Kept => return words,
        DifferenceMark::Gone(change) => ("del", change),
        DifferenceMark::New(change) => ("ins", change),
    };
    let class = if is_moved(change) { " class=\"moved\"" } else { "" };
    let goes_on = next == Some(DifferenceMark::New(change));
    let number = if goes_on { String::new() } else { format!("<sup>{}</sup>", change + 1) };
    format!("<{element}{class}>{words}</{element}>{number}")
}

/// The copy of every draft as text that can be read and copied.
fn words(compared: &Compared<'_>) -> String {
    let block = |block: &crate::draft::Block| {
        let words = escaped(block.text());
        let kind = if block.kind == BlockKind::Blurb {
            String::new()
        } else {
            format!("<span class=\"soft\">{}: </span>", block.kind.name())
        };
        format!("<p>{kind}{words}</p>\n")
    };
    let draft = |(name, draft): (&String, &&Draft)| {
        let blocks: String = draft.blocks.iter().map(block).collect();
        format!("<details>\n<summary>{}</summary>\n{blocks}</details>\n", escaped(name))
    };
    let drafts: String = compared.page.names.iter().zip(compared.drafts).map(draft).collect();
    format!("<section class=\"words\">\n<h2>The words</h2>\n{drafts}</section>\n")
}

/// How the measures of a draft changed from copy to copy.
fn history(name: &str, copies: &[KeptRow]) -> String {
    let row = |series: &Series| {
        let values = series.values.iter().map(|value| value.map_or("none".to_owned(), |value| trimmed(value, 1)));
        let values = values.collect::<Vec<_>>().join(" ");
        format!("<tr><th scope=\"row\">{}</th><td>{}</td><td>{values}</td></tr>\n", series.name, chart(series))
    };
    let rows: String = series(copies).iter().map(row).collect();
    let item = |copy: &KeptRow| format!("<li>{}</li>\n", escaped(&told(&copy.record)));
    let items: String = copies.iter().map(item).collect();
    format!(
        "<h2>How {} came to be</h2>\n<div class=\"wide\"><table>\n<caption>The oldest kept copy on the left, the \
         present draft on the right; lines are those left, or over below \
         zero</caption>\n<tbody>\n{rows}</tbody>\n</table></div>\n<ol class=\"soft\">\n{items}</ol>\n",
        escaped(name)
    )
}

/// The width, the height and the margin of a chart, in the units of the drawing.
const CHART: (f64, f64, f64) = (160.0, 28.0, 4.0);

/// A line from value to value, with the least value at the foot; broken where a value is missing.
fn chart(series: &Series) -> String {
    let (width, height, room) = CHART;
    let known = || series.values.iter().flatten().copied();
    let (least, most) = (known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max));
    let steps = series.values.len().saturating_sub(1).max(1) as f64;
    let place = |(at, value): (usize, f64)| {
        let part = if most > least { (value - least) / (most - least) } else { 0.5 };
        (room + at as f64 / steps * (width - 2.0 * room), height - room - part * (height - 2.0 * room))
    };
    let places: Vec<Option<(f64, f64)>> =
        series.values.iter().enumerate().map(|(at, value)| value.map(|value| place((at, value)))).collect();
    let lines = places.split(Option::is_none).filter(|part| part.len() > 1).map(|part| {
        let points: Vec<String> = part.iter().flatten().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        format!("<polyline points=\"{}\"/>", points.join(" "))
    });
    let dots = places.iter().flatten().map(|(x, y)| format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"2\"/>"));
    let drawn: String = lines.chain(dots).collect();
    format!(
        "<svg class=\"chart\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" \
         aria-hidden=\"true\">{drawn}</svg>"
    )
}

#[cfg(test)]
mod tests {
    use super::STYLE;
    use crate::proof::sheet::Ink;

    /// Source: Web Content Accessibility Guidelines 2.2, relative luminance and contrast ratio.
    fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
        let linear = |part: u8| match f64::from(part) / 255.0 {
            part if part <= 0.04045 => part / 12.92,
            part => ((part + 0.055) / 1.055).powf(2.4),
        };
        let luminance = |[r, g, b]: [u8; 3]| 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
        let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
        if one > other { one / other } else { other / one }
    }

    /// The colour that a line of the style sheet gives to a name: `#fff` or `#ffffff`.
    fn colour(line: &str, name: &str) -> [u8; 3] {
        let (_, from) = line.split_once(&format!("--{name}: #")).unwrap_or_default();
        let digits = from.split(';').next().unwrap_or_default();
        let width = digits.len() / 3;
        std::array::from_fn(|part| {
            let digits = &digits[part * width..(part + 1) * width];
            u8::from_str_radix(&digits.repeat(3 - width), 16).unwrap_or_default()
        })
    }

    /// 4.5 to 1 is what the guidelines ask of running text (success criterion 1.4.3).
    #[test]
    fn the_page_is_white_with_the_one_accent_and_legible_on_either_ground() {
        let grounds: Vec<&str> = STYLE.lines().filter(|line| line.contains("--ground: ")).collect();
        assert_eq!(grounds.len(), 3, "light, dark and paper");
        assert_eq!(colour(grounds[0], "ground"), [255; 3]);
        assert_eq!(colour(grounds[0], "mark"), Ink::Accent.rgb());
        for line in grounds {
            for name in ["ink", "soft", "mark"] {
                let found = contrast(colour(line, name), colour(line, "ground"));
                assert!(found >= 4.5, "{name}: {found:.2} in {line}");
            }
        }
    }
}
