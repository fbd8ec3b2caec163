//! Briefs that cannot be used: one message with file, line, column, what was expected and what to do.
//!
//! The words of every fault are held in tests/cases/brief_faults.txt; here the way to the reader is.

use super::book::{Book, DRAFT};

#[track_caller]
fn refused(brief: &str, message: &str) {
    let book = Book::empty().file("brief.yaml", brief).file("first.md", DRAFT).file("second.md", DRAFT);
    book.run(["measure", "first.md"]).refuses(message);
    let in_json = book.run(["measure", "--format", "json", "first.md"]);
    in_json.answers(2);
    assert_eq!(in_json.complained, format!("{message}\n"));
    let unread: serde_json::Value = serde_json::from_str(&in_json.printed).expect("an object");
    assert_eq!((&unread["path"], &unread["message"]), (&"first.md".into(), &message.into()));
    // Several drafts of one book do not repeat it.
    book.run(["measure", "--brief", "brief.yaml", "first.md", "second.md"]).refuses(message);
}

#[test]
fn an_unknown_key_is_answered_with_the_nearest() {
    refused(
        "panel:\n  trim: 8.5 x 8.5 in\n  margin: 0.5 in\n",
        "brief.yaml:3:3: panel.margin: there is no such key; did you mean margins? The choice is trim, binding, \
         square, turn_in, joint, bleed, round_corners, margins, keep_out, places, art, tint",
    );
}

#[test]
fn a_wrong_unit_is_answered_with_the_right_ones() {
    refused(
        "panel:\n  trim: 816 x 816 px\n",
        "brief.yaml:2:9: panel.trim: \"816 x 816 px\" has the unit \"px\", which is not one of in, mm, cm, pt and pc",
    );
}

#[test]
fn margins_wider_than_the_panel_are_added_up() {
    refused(
        "panel:\n  trim: 5 x 5 in\n  margins: 3 in\n",
        "brief.yaml:3:12: panel.margins: the margins at fore-edge and spine add up to 6 in, and the panel has only 5 \
         in: no room is left for copy; make them smaller",
    );
}

#[test]
fn a_keep_out_outside_the_panel_is_named() {
    refused(
        "panel:\n  trim: 5 x 5 in\n  keep_out:\n    - \
         { name: mark, size: 1 x 1 in, at: { head: 4.5 in, spine: 1 in } }\n",
        "brief.yaml:4:7: panel.keep_out[1]: mark is 1 in wide and 1 in high and does not lie inside the panel of 5 in \
         by 5 in; make it smaller or move it",
    );
}

#[test]
fn anchors_that_explode_are_stopped() {
    let mut brief = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
    for level in 1..20 {
        let below = format!("*a{}, ", level - 1).repeat(10);
        brief.push_str(&format!("a{level}: &a{level} [{}]\n", below.trim_end_matches(", ")));
    }
    refused(
        &brief,
        "brief.yaml:1:1: this cannot be read as a brief: names for repeated parts (& and *) make it far too long; \
         write the parts out",
    );
}

#[test]
fn depth_without_end_is_stopped() {
    let deep = format!("panel: {}", "[".repeat(100_000));
    let book = Book::empty().file("brief.yaml", deep).file("first.md", DRAFT);
    book.run(["measure", "first.md"]).answers(2).complains("brief.yaml:");
}

#[test]
fn a_brief_that_is_empty_or_no_map_is_told_what_it_needs() {
    refused(
        "",
        "brief.yaml:1:1: the brief is empty; it needs a panel with its trim at least, such as panel: { trim: 8.5 x \
         8.5 in }",
    );
    for brief in ["- a\n- b\n", "just words\n", "7\n", "panel: 7\n", "book: {}\n"] {
        let book = Book::empty().file("brief.yaml", brief).file("first.md", DRAFT);
        book.run(["measure", "first.md"]).answers(2).complains("brief.yaml:1:");
    }
}

#[test]
fn a_folder_as_brief_is_told() {
    let book = Book::with_draft(DRAFT).folder("other");
    book.run(["measure", "first.md", "--brief", "other"])
        .refuses("cannot read the brief other: it is a folder; name the file, such as other/brief.yaml");
}

#[test]
fn a_brief_that_is_not_there_is_told_with_the_way_to_one() {
    Book::empty()
        .file("first.md", DRAFT)
        .run(["measure", "first.md"])
        .answers(2)
        .complains("; make one with `blurbwright start FOLDER`, or name one with --brief");
    Book::with_draft(DRAFT)
        .run(["measure", "first.md", "--brief", "bref.yaml"])
        .refuses("cannot read the brief bref.yaml: there is no such file; check the name and the folder");
}

#[test]
fn a_brief_that_is_not_utf8_is_told_with_its_place() {
    let book = Book::empty().file("brief.yaml", b"book:\n  title: Caf\xe9\n").file("first.md", DRAFT);
    book.run(["measure", "first.md"]).refuses(
        "brief.yaml:2:13: cannot read the brief: a letter here is saved in a form that cannot be read; in your editor \
         save the file as plain text with the encoding UTF-8, and try again",
    );
}

#[test]
fn more_than_the_program_holds_against_every_word_is_refused_with_its_limit() {
    let terms = |count: usize| {
        format!("terms: [{}]\n", (0..count).map(|at| format!("tide {at}")).collect::<Vec<_>>().join(", "))
    };
    refused(
        &terms(201),
        "brief.yaml:1:1899: terms[201]: there are more than 200 wordings in terms and avoid, their other wordings \
         counted; leave some of them out",
    );
    refused(
        &format!("{}avoid: [tide]\n", terms(200)),
        "brief.yaml:2:9: avoid[1]: there are more than 200 wordings in terms and avoid, their other wordings counted; \
         leave some of them out",
    );
    refused(
        &format!("terms: [{}]\n", "tide ".repeat(41)),
        "brief.yaml:1:9: terms[1]: this wording is longer than 200 characters; write a word or a phrase, and each in \
         an entry of its own",
    );
    refused(
        &format!("book: {{ names: [{}] }}\n", "Imme, ".repeat(201)),
        "brief.yaml:1:1217: book.names[201]: there are more than 200 names; leave out those that stand on no back \
         cover",
    );
    refused(
        &format!("book: {{ names: [{}] }}\n", "Na".repeat(101)),
        "brief.yaml:1:17: book.names[1]: this name is longer than 200 characters; write each name in an entry of its \
         own",
    );
}
