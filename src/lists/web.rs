//! The list as one self-contained page of HTML: a row for each draft with a small panel, what fails first.
//!
//! The page has no script and fetches nothing. Meaning is carried by words; colour only supports them.

use super::row::{ListRow, RowVerdict};
use super::small_panel::SCALE;
use super::summary;
use crate::print::visible::visible;
use crate::proof::page::{closed, opening};
use crate::proof::svg;
use crate::units::trimmed;

const HEADS: [&str; 8] = ["panel", "draft", "verdict", "words", "level", "fit", "terms", "queries"];

/// The rows as the text of an HTML file.
pub fn written(rows: &[ListRow]) -> String {
    let mut html = opening("A list of drafts");
    html.extend(summary::sentences(rows).iter().map(|sentence| format!("<p>{}</p>\n", escaped(sentence))));
    let starred = summary::starred(rows);
    let star = starred.as_ref().map(|(measure, _)| *measure);
    html.extend(starred.iter().map(|(_, said)| format!("<p class=\"soft\">{}</p>\n", escaped(said))));
    html.push_str(&format!(
        "<p class=\"soft\">What could not be read stands first, then what is outside a limit. The back panels are \
         drawn 1 : {} with a bar for each line; a red bar is a line that is over.</p>\n",
        trimmed(SCALE, 0)
    ));
    let heads: String = HEADS.iter().map(|head| format!("<th scope=\"col\">{head}</th>")).collect();
    html.push_str(&format!(
        "<div class=\"wide\"><table>\n<caption>Every draft</caption>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n"
    ));
    html.extend(rows.iter().map(|of| row(of, star)));
    html.push_str("</tbody>\n</table></div>\n");
    closed(html)
}

fn row(row: &ListRow, starred: Option<&str>) -> String {
    let verdict = row.verdict();
    let class = if verdict == RowVerdict::Within { "" } else { " class=\"outside\"" };
    let remarks: String = row.remarks().iter().map(|remark| format!("<br>{}", escaped(remark))).collect();
    let title = if row.title.is_empty() { String::new() } else { format!("{}<br>", escaped(&row.title)) };
    let isbn = if row.isbn.is_empty() { String::new() } else { format!("<br>{}", escaped(&row.isbn)) };
    let (panel, figures) = match row.figures() {
        None => ("", "<td></td>".repeat(5)),
        Some(figures) => {
            let queries = figures.queries.map_or_else(String::new, |queries| queries.to_string());
            let cells = [figures.words.to_string(), figures.band(starred), figures.fit(), figures.terms(), queries];
            (figures.panel.as_str(), cells.iter().map(|cell| format!("<td>{}</td>", escaped(cell))).collect())
        }
    };
    format!(
        "<tr><td>{panel}</td><th scope=\"row\">{title}<span class=\"soft\">{}{isbn}</span></th>\
         <td{class}>{}{remarks}</td>{figures}</tr>\n",
        escaped(&row.draft),
        verdict.name()
    )
}

fn escaped(text: &str) -> String {
    svg::escaped(&visible(text))
}
