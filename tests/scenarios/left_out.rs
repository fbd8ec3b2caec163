//! What no page tells is told aside: words that are left out, copy that is none, and places that are not there.

use super::book::{BRIEF, Book, DRAFT};

const OPEN: &str = "Oona climbs the stairs.\n\n<!-- the rest\n\nThe lamp is dark.\n";

/// A list as CSV, whose lines end as no terminal wants them, and what was told aside.
fn csv(book: &Book, arguments: &[&str]) -> (String, String) {
    let output = book.output(arguments.iter().chain(&["--format", "csv"]));
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (text(&output.stdout), text(&output.stderr))
}

/// A proof and copy that is handed over have no room for notes, and a list has one for them.
#[test]
fn words_that_are_left_out_are_told_wherever_copy_goes() {
    let book = Book::with_draft(OPEN);
    let told = "first.md: line 3, column 1: a comment is opened here and never closed; all below it was left out\n";
    for command in [&["handover", "first.md", "-o", "-", "--format", "text"][..], &["proof", "-o", "-", "--format=svg"]]
    {
        let outcome = book.run(command);
        assert_eq!(outcome.answers(0).complained.lines().next().map(|line| format!("{line}\n")), Some(told.to_owned()));
    }
    book.run(["measure", ".", "--list"]).answers(0).prints("- note: line 3, column 1: a comment is opened");
    let csv = csv(&book, &["measure", "."]).0;
    assert!(csv.contains(",notes,error") && csv.contains("never closed; all below"), "{csv}");
    let many = Book::with_draft(format!("{DRAFT}{}", "\n<only>\n\nThe end.\n".repeat(8)));
    let outcome = many.run(["proof", "-o", "-", "--format", "svg"]);
    outcome.answers(0).complains("first.md: 3 more notes; `blurbwright measure` tells all\n");
    assert_eq!(outcome.complained.lines().count(), 6, "{}", outcome.complained);
}

#[test]
fn copy_that_is_none_is_outside_and_told() {
    for draft in ["", "# The lamp\n", "<!-- nothing yet -->\n", "\u{2014}\n"] {
        let book = Book::empty().file("brief.yaml", "panel: { trim: 8.5 x 8.5 in }\n").file("first.md", draft);
        book.run(["measure", "first.md"]).answers(1).prints("words: 0; there is no copy");
        book.run(["measure", ".", "--list"])
            .answers(1)
            .prints("- words: 0; there is no copy")
            .prints("no copy (1 draft)");
        book.run(["fit", "first.md"]).answers(1).complains("first.md: there is no copy to set\n");
        let handed = book.run(["handover", "first.md", "-o", "-", "--format", "text"]);
        assert!(handed.complained.contains("there is no copy in it") || handed.complained.contains("There is no copy"));
    }
    Book::with_draft("> \u{201c}A lamp.\u{201d}\n> \u{2014} Ida Voss\n").run(["fit", "first.md"]).answers(0);
}

#[test]
fn the_text_of_a_new_draft_is_told_until_it_is_written_over() {
    let book = Book::empty();
    let started = book.output(["start", "gull", "--title", "The Lamp"]).status.code();
    assert_eq!(started, Some(0));
    book.run(["measure", "gull"]).prints("this is still the text that a new draft begins with");
    assert!(!Book::with_draft(DRAFT).run(["measure"]).printed.contains("begins with"));
}

#[test]
fn a_short_description_needs_a_blurb() {
    let book = Book::with_draft("> \u{201c}A lamp.\u{201d}\n> \u{2014} Ida Voss\n");
    book.run(["handover", "first.md", "-o", "blurb.xml", "--short"]).refuses(
        "--short: there is no blurb that could be the short description; leave it out, or name a draft with a blurb",
    );
}

#[test]
fn a_folder_that_is_not_there_is_told_before_anything_is_measured() {
    let book = Book::with_draft(DRAFT);
    for command in
        [&["measure", "first.md", "-o", "no/x.csv"][..], &["proof", "-o", "no/x.pdf"], &["panel", "-o", "no/x.svg"]]
    {
        let wanted = format!("cannot write {}: there is no folder no; ", command[command.len() - 1]);
        book.run(command).answers(2).complains(&wanted);
    }
    let never = ["compare", "none.md", "nor.md", "-o", "no/x.html"];
    book.run(never).answers(2).complains("cannot write no/x.html: there is no folder no; ");
    book.run(["measure", "--records", "-o", "x.csv"]).answers(2).complains("--records");
}

#[test]
fn a_folder_of_books_and_one_of_documents_say_what_to_type() {
    let books = Book::empty().file("gull/brief.yaml", BRIEF).file("gull/first.md", DRAFT);
    books.run(["measure"]).answers(2).complains("measure the books below it with `blurbwright measure .`, or make");
    Book::new().file("story.docx", "").run(["measure"]).refuses(
        "there is no draft in .; a draft is a file that ends in .md; for a document name it, as in `blurbwright \
         measure ./story.docx`",
    );
}

/// A record that cannot be measured keeps its name, and one that asks for a deletion is told and no draft.
#[test]
fn records_that_are_not_measured_are_told_by_their_names() {
    let record = |name: &str, kind: &str| {
        format!(
            "<Product><RecordReference>{name}</RecordReference><NotificationType>{kind}</NotificationType>\
             <ProductIdentifier><ProductIDType>15</ProductIDType><IDValue>9780000000002</IDValue></ProductIdentifier>\
             <DescriptiveDetail><TitleDetail><TitleType>01</TitleType><TitleElement><TitleText>Low Water</TitleText>\
             </TitleElement></TitleDetail></DescriptiveDetail></Product>"
        )
    };
    let feed = format!("<ONIXMessage release=\"3.0\">{}{}</ONIXMessage>", record("tide", "05"), record("gull", "03"));
    let feed = feed.replace("</ONIXMessage>", &(record("ebb", "05") + &record("tern", "03") + "</ONIXMessage>"));
    let book = Book::new().file("season.xml", feed);
    let (printed, told) = csv(&book, &["measure", "season.xml"]);
    let deleted =
        "season.xml: 2 records ask for their books to be deleted (notification type 05); they were not measured";
    assert!(told.contains(deleted) && !told.contains("tide"), "{told}");
    // Two records of one title are two books.
    book.run(["measure", "season.xml", "--list"]).answers(2).prints("2 drafts of 2 books: 2 could not be read.\n");
    assert!(told.contains("\nseason.xml, gull: it has no trim size"), "{told}");
    assert!(printed.contains("9780000000002,Low Water,\"season.xml, gull\"") && !printed.contains("tide"), "{printed}");
}

/// A page that was handed over, or saved from elsewhere, is no draft: read as one it would have no copy at all.
#[test]
fn a_page_of_html_is_refused_and_told_what_to_save_it_as() {
    let book = Book::with_draft(DRAFT).file("other.md", "\n<HTML lang=en>\n<p>A lamp.</p>\n");
    book.output(["handover", "first.md", "-o", "page.html"]);
    assert!(book.path("page.html").exists());
    for page in ["page.html", "other.md"] {
        book.run(["measure", page]).refuses(&format!(
            "cannot read the draft {page}: it is a page of HTML, whose marks would be read as copy; save its words as \
             .docx, .odt or .txt, and try that"
        ));
    }
}
