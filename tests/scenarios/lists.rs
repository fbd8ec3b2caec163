//! The list of many drafts in each of its forms: every book counts, what fails stands first, and no cell is a formula.

use std::fs;
use std::process::Output;

use roxmltree::Document;

use super::book::Book;

const BRIEF: &str = "book: { title: \"=1+1\", isbn: 978-0-00-000000-2 }\npanel: { trim: 8 x 8 in }\n\
                     limits: { words: 1..3 }\nterms: [gull]\n";
const BROKEN: &str = "panel: {}\n";

/// A list with a book that is within its limits, one that is outside, one with a broken brief, and one without drafts.
fn list() -> Book {
    Book::empty()
        .file("list/a/brief.yaml", BRIEF)
        .file("list/a/first.md", "A gull.\n")
        .file("list/b/brief.yaml", BRIEF)
        .file("list/b/-b, \"second\".md", "One, two, three, four.\n")
        .file("list/c/brief.yaml", BROKEN)
        .file("list/c/first.md", "A gull.\n")
        .file("list/d/brief.yaml", BRIEF)
}

/// Runs the program where it writes a file, or prints for other programs what no terminal is shown.
fn output(book: &Book, arguments: &[&str], status: i32) -> Output {
    let output = book.output(arguments);
    assert_eq!(output.status.code(), Some(status), "{}", String::from_utf8_lossy(&output.stderr));
    output
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("text")
}

/// The fields of CSV.
///
/// Source: RFC 4180, section 2.
fn fields(csv: &str) -> Vec<Vec<String>> {
    let (mut lines, mut line, mut field, mut quoted) = (Vec::new(), Vec::new(), String::new(), false);
    let mut letters = csv.chars().peekable();
    while let Some(letter) = letters.next() {
        match (letter, quoted) {
            ('"', true) if letters.peek() == Some(&'"') => field.extend(letters.next()),
            ('"', _) => quoted = !quoted,
            (',', false) => line.push(std::mem::take(&mut field)),
            ('\r', false) => {}
            ('\n', false) => {
                line.push(std::mem::take(&mut field));
                lines.push(std::mem::take(&mut line));
            }
            (letter, _) => field.push(letter),
        }
    }
    lines
}

#[test]
fn csv_has_every_book_and_no_formula() {
    let book = list();
    let output = output(&book, &["measure", "list", "--format", "csv"], 2);
    let complained = text(&output.stderr);
    assert!(complained.starts_with("list/c/brief.yaml:1:8: "), "{complained}");
    assert!(complained.contains("\nthere is no draft in list/d"), "{complained}");
    let printed = text(&output.stdout);
    let csv = printed.strip_prefix('\u{feff}').expect("a byte order mark");
    assert_eq!(csv.matches("\r\n").count(), csv.matches('\n').count());
    let rows = fields(csv);
    assert!(rows.iter().all(|row| row.len() == rows[0].len()), "{rows:?}");
    let column = |name: &str| rows[0].iter().position(|head| head == name).expect("a column");
    let of = |name: &str| -> Vec<&str> { rows[1..].iter().map(|row| row[column(name)].as_str()).collect() };
    assert_eq!(of("verdict"), ["unread", "unread", "outside", "within"]);
    assert_eq!(of("draft"), ["list/c/first.md", "list/d", "list/b/-b, \"second\".md", "list/a/first.md"]);
    assert_eq!(of("title"), ["c", "'=1+1", "'=1+1", "'=1+1"]);
    assert_eq!(of("isbn"), ["", "978-0-00-000000-2", "978-0-00-000000-2", "978-0-00-000000-2"]);
    assert_eq!(of("words"), ["", "", "4", "2"]);
    assert_eq!(of("outside")[2], "words: 4; the brief has 1 to 3");
    assert_eq!(of("terms_missing"), ["", "", "gull", ""]);
    assert!(of("error")[0].starts_with("list/c/brief.yaml:1:8: ") && of("error")[3].is_empty());
}

/// A part of a ZIP file that is stored or deflated, by the head before each part.
fn part(bytes: &[u8], name: &str) -> String {
    let head = bytes
        .windows(4)
        .enumerate()
        .filter(|(_, window)| *window == b"PK\x03\x04")
        .map(|(at, _)| at)
        .find(|at| bytes[at + 30..].starts_with(name.as_bytes()))
        .expect("the part");
    let short = |at: usize| usize::from(u16::from_le_bytes([bytes[at], bytes[at + 1]]));
    let long = |at: usize| short(at) | short(at + 2) << 16;
    let from = head + 30 + short(head + 26) + short(head + 28);
    let packed = &bytes[from..from + long(head + 18)];
    let content = if short(head + 8) == 0 {
        packed.to_vec()
    } else {
        miniz_oxide::inflate::decompress_to_vec(packed).expect("sound packing")
    };
    String::from_utf8(content).expect("text")
}

#[test]
fn a_spreadsheet_reads_words_and_figures_as_they_are() {
    let book = list();
    let run = || {
        let told = text(&output(&book, &["measure", "list", "-o", "list.xlsx"], 2).stdout);
        assert!(told.starts_with("4 drafts of 4 books: 2 could not be read"), "{told}");
        fs::read(book.path("list.xlsx")).expect("the file")
    };
    let bytes = run();
    assert_eq!(bytes, run(), "the same list, the same bytes");
    let sheet = part(&bytes, "xl/worksheets/sheet1.xml");
    let document = Document::parse(&sheet).expect("XML");
    let rows: Vec<_> = document.descendants().filter(|node| node.has_tag_name("row")).collect();
    let nodes = document.descendants().filter(|node| node.is_element());
    assert!(nodes.clone().all(|node| node.tag_name().name() != "f"), "a formula");
    assert_eq!(rows.len(), 5);
    let cell = |at: &str| document.descendants().find(|node| node.attribute("r") == Some(at));
    let words = |at: &str| cell(at).and_then(|cell| cell.descendants().find_map(|node| node.text().map(str::to_owned)));
    assert_eq!(words("B5").as_deref(), Some("=1+1"));
    assert_eq!(cell("B5").and_then(|cell| cell.attribute("t").map(str::to_owned)).as_deref(), Some("inlineStr"));
    assert_eq!(words("C4").as_deref(), Some("list/b/-b, \"second\".md"));
    assert_eq!(words("G4").as_deref(), Some("4"));
    for name in ["[Content_Types].xml", "_rels/.rels", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"] {
        assert!(Document::parse(&part(&bytes, name)).is_ok(), "{name}");
    }
}

#[test]
fn a_list_is_replaced_by_a_newer_one_and_nothing_else_is() {
    let book = list().file("own.html", "<p>mine</p>").file("own.xlsx", "mine").file("own.csv", "mine");
    for name in ["list.html", "list.xlsx"] {
        output(&book, &["measure", "list", "-o", name], 2);
        let told = output(&book, &["measure", "list/a", "-o", name], 0).stdout;
        assert_eq!(text(&told), "1 draft of 1 book: 1 is within every limit.\n");
        let noted = [fs::read(book.path(name)).expect("a list"), b" ".to_vec()].concat();
        fs::write(book.path(name), &noted).expect("written");
        book.run(["measure", "list/a", "-o", name]).answers(2).complains("another program has changed the file");
        assert_eq!(fs::read(book.path(name)).expect("there"), noted);
    }
    for name in ["own.html", "own.xlsx"] {
        let told =
            format!("cannot write the list {name}: there is a file already that is not one that was written here");
        book.run(["measure", "list/a", "-o", name]).answers(2).complains(&told);
    }
    // What is there already is told before anything of the list.
    book.run(["measure", "list", "-o", "own.csv"]).refuses(
        "cannot write own.csv: there is one already, and it is never overwritten; name another place, or move it away",
    );
    for (name, content) in [("own.html", "<p>mine</p>"), ("own.xlsx", "mine"), ("own.csv", "mine")] {
        assert_eq!(book.read(name), content);
    }
    book.run(["measure", "list/a", "-o", "list.doc"]).refuses(
        "cannot tell the form of list.doc; \
            end the file's name in .csv, .xlsx or .html, or say --format csv, xlsx or html",
    );
}

#[test]
fn a_page_has_a_small_panel_for_each_book_and_fetches_nothing() {
    let book = list().file("list/b/brief.yaml", BRIEF.replace("=1+1", "A <b>bold</b> title"));
    let page = book.run(["measure", "list", "--format", "html"]);
    let page = &page.answers(2).printed;
    // A page for a browser is no document of XML; its table is one.
    let table = &page[page.find("<table>").expect("a table")..page.find("</div>").expect("its end")];
    let table = table.replace("<br>", "<br/>").replace("&nbsp;", " ");
    let document = Document::parse(&table).expect("a sound table");
    let rows: Vec<_> = document.descendants().filter(|node| node.has_tag_name("tr")).skip(1).collect();
    let panels: Vec<bool> = rows.iter().map(|row| row.descendants().any(|node| node.has_tag_name("svg"))).collect();
    assert_eq!(panels, [false, false, true, true]);
    assert!(page.contains("A &lt;b&gt;bold&lt;/b&gt; title") && !page.contains("<b>bold"));
    assert!(!page.contains("http://") && !page.contains("https://") && !page.contains("<script"));
    // A bar for each line of the copy.
    let is_bar = |node: &roxmltree::Node<'_, '_>| node.attribute("fill") == Some("#111111");
    assert_eq!(rows[3].descendants().filter(is_bar).count(), 1);
}

/// The picture of the proof, with as few pixels as a small panel shows.
#[test]
fn a_small_panel_has_the_art_of_the_face_and_of_its_places() {
    let art = fs::read("drafts/night-sea/art/back.jpg").expect("the sample's art");
    let place = "{ name: moon, holds: blurb, shape: ellipse, size: 4 x 3 in, at: { head: 2 in, spine: 2 in }, \
                 art: sea.jpg, ink: white }";
    let brief = |keys: &str| format!("panel: {{ trim: 8 x 8 in, {keys} }}\n");
    let book = Book::empty()
        .file("plain/brief.yaml", brief("margins: 1 in"))
        .file("plain/first.md", "The lamp is dark.\n")
        .file("sea/brief.yaml", brief(&format!("art: sea.jpg, places: [{place}]")))
        .file("sea/sea.jpg", &art)
        .file("sea/first.md", "The lamp is dark.\n");
    let page = book.run(["measure", "plain", "sea", "--format", "html"]);
    let page = &page.printed;
    let panels: Vec<&str> = page.split("<svg class=\"small\"").skip(1).collect();
    let count = |sign: &str| panels.iter().map(|panel| panel.matches(sign).count()).collect::<Vec<_>>();
    assert_eq!(count("<image "), [0, 2], "{page}");
    assert_eq!((count("<clipPath "), count("clip-path=")), (vec![0, 1], vec![0, 1]));
    assert_eq!((count("fill=\"#111111\""), count("fill=\"#ffffff\" d=")), (vec![1, 0], vec![0, 2]));
    assert!(page.len() < 150_000 && art.len() > 100_000, "{} from {}", page.len(), art.len());
}

/// The rows of a page with the names of the columns, which stand first.
fn rows(page: &str) -> Vec<&str> {
    page.lines().take_while(|line| !line.is_empty()).collect()
}

#[test]
fn a_list_keeps_to_its_width() {
    let long = "the very long title of a book that goes on and on, and then on";
    let book = list().file("list/b/brief.yaml", BRIEF.replace("=1+1", long));
    let page = book.run(["measure", "list"]);
    let page = &page.answers(2).printed;
    assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
    assert!(rows(page)[0].starts_with("verdict  title "), "{page}");
    assert!(page.contains("\n         - words: 4; the brief has 1 to 3\n"), "{page}");
}

#[test]
fn a_list_goes_where_it_is_sent_in_the_form_that_is_asked_for() {
    let book = list();
    let printed = output(&book, &["measure", "list/a", "--format", "csv"], 0).stdout;
    assert_eq!(output(&book, &["measure", "list/a", "-o", "-", "--format", "csv"], 0).stdout, printed);
    output(&book, &["measure", "list/a", "-o", "x.csv", "--format", "csv"], 0);
    assert_eq!(fs::read(book.path("x.csv")).expect("a list"), printed);
    book.run(["measure", "list/a", "-o", "-"]).refuses(
        "cannot tell the form of -; end the file's name in .csv, .xlsx or .html, or say --format csv, xlsx or html",
    );
    book.run(["measure", "list/a", "-o", "x.json", "--format", "json"]).refuses(
        "--format: a file is written of a list alone: csv, xlsx or html; leave out -o and print it, or ask for one of \
         these",
    );
}

#[test]
fn a_book_whose_brief_is_broken_has_its_title_as_far_as_lines_tell_it() {
    let titles = [
        ("book: { title: The Lamp, kind: ??? }\npanel: {}\n", "The Lamp"),
        ("book: { title: \"Lamp, lit\" }\npanel: {}\n", "Lamp, lit"),
        ("book:\n  readers: 4-8\n  title: Oona # for now\npanel: {}\n", "Oona"),
        ("book:\n  title: \"Oona\nspine:\n  title: 9\n", "Oona"),
        ("spine:\n  title: 9\n", "a"),
    ];
    for (brief, title) in titles {
        let book = Book::empty().file("list/a/brief.yaml", brief).file("list/a/first.md", "A gull.\n");
        let printed = output(&book, &["measure", "list", "--format", "csv"], 2).stdout;
        assert_eq!(fields(text(&printed).trim_start_matches('\u{feff}'))[1][1], title, "{brief}");
    }
}

#[test]
fn a_draft_that_is_named_twice_is_listed_once() {
    let book = list();
    let told = book.run(["measure", "list/a", "list/a/first.md", "list/b/../a/first.md", "--list"]);
    told.answers(0).prints("1 draft of 1 book: 1 is within every limit.\n");
}
