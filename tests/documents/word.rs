//! What of a .docx is copy.

use super::files::{STYLES, docx, paragraph, read, run, zip};

/// The draft of a body, and nothing to tell.
#[track_caller]
fn check(body: &str, wanted: &str) {
    assert_eq!(read(&docx(body, STYLES, "")), (wanted.to_owned(), Vec::new()), "{body}");
}

/// The draft of a body, and the one clause that is told.
#[track_caller]
fn check_told(body: &str, wanted: &str, told: &str) {
    assert_eq!(read(&docx(body, STYLES, "")), (wanted.to_owned(), vec![told.to_owned()]), "{body}");
}

fn body(runs: &str) -> String {
    paragraph("Standard", runs)
}

#[test]
fn styles_are_known_by_their_names_in_every_language_and_by_what_they_are_based_on() {
    let title = paragraph("Titel", &run("", "The Lamp"));
    let text = body(&run("", "Oona climbs."));
    let quote = paragraph("MeinZitat", &run("", "“A lamp of a book.”"));
    let credit = paragraph("Zitat", &run("", "— Ida Voss"));
    let about = paragraph("berschrift2", &run("", "About the author"));
    let note = body(&run("", "R. Okafor-Lind lives by the sea."));
    check(
        &[title, text, quote, credit, about, note].concat(),
        "# The Lamp\n\nOona climbs.\n\n> “A lamp of a book.”\n> — Ida Voss\n\n## About the author\n\n\
         R. Okafor-Lind lives by the sea.\n",
    );
}

/// Some word processors number the parts, and tell their names in lists.
#[test]
fn parts_are_found_by_the_lists_of_what_needs_them() {
    let list = |kind: &str, target: &str| {
        format!("<Relationships><Relationship Type=\"http://x/{kind}\" Target=\"{target}\"/></Relationships>")
    };
    let body = format!("<w:document xmlns:w=\"w\">{}</w:document>", paragraph("T", &run("", "The Lamp")));
    let styles = "<w:styles xmlns:w=\"w\"><w:style w:styleId=\"T\"><w:name w:val=\"Title\"/></w:style></w:styles>";
    let bytes = zip(&[
        ("_rels/.rels", &list("officeDocument", "/word/document2.xml")),
        ("word/_rels/document2.xml.rels", &list("styles", "styles2.xml")),
        ("word/document2.xml", &body),
        ("word/styles2.xml", styles),
    ]);
    assert_eq!(read(&bytes).0, "# The Lamp\n");
}

/// A chain of styles that leads back into itself, as a damaged document may have it, ends.
#[test]
fn a_circle_of_styles_ends() {
    let circle = r#"<w:style w:type="paragraph" w:styleId="A"><w:basedOn w:val="B"/></w:style>
        <w:style w:type="paragraph" w:styleId="B"><w:basedOn w:val="A"/></w:style>"#;
    let body = paragraph("A", &run("", "Oona climbs."));
    assert_eq!(read(&docx(&body, circle, "")).0, "Oona climbs.\n");
}

#[test]
fn emphasis_is_the_authors_and_not_the_styles() {
    let mixed = [run("", "Every "), run("<w:i/>", "night"), run("", ", "), run("<w:b/><w:i/>", "all"), run("", ".")];
    check(&body(&mixed.concat()), "Every *night*, ***all***.\n");
    check(&body(&[run("", "A "), run("<w:rStyle w:val=\"Betont\"/>", "tide")].concat()), "A *tide*\n");
    // The switch by which a style's look is turned off, in each of its spellings.
    for off in ["0", "false", "off"] {
        let runs = [run(&format!("<w:i w:val=\"{off}\"/>"), "Up"), run("", " and down")].concat();
        check(&paragraph("Schief", &runs), "Up *and down*\n");
    }
    // Italics in italics stand upright.
    let upright = [run("<w:rStyle w:val=\"Betont\"/>", "Up"), run("", " and down")].concat();
    check(&paragraph("Schief", &upright), "Up *and down*\n");
    check(&paragraph("Titel", &run("", "The Lamp")), "# The Lamp\n");
}

#[test]
fn tracked_changes_are_read_as_if_accepted() {
    let inserted = format!("<w:ins w:id=\"1\">{}</w:ins>", run("", "bright "));
    let struck = "<w:del w:id=\"2\"><w:r><w:delText>old </w:delText></w:r></w:del>";
    let text = body(&[run("", "The "), inserted, struck.to_owned(), run("", "lamp.")].concat());
    let told = "it was read as if all tracked changes were accepted: 1 insertion and 1 deletion";
    check_told(&text, "The bright lamp.\n", told);
    // A paragraph whose end was struck out goes on with the next one, whose style holds.
    let end = "<w:pPr><w:pStyle w:val=\"Titel\"/><w:rPr><w:del w:id=\"3\"/></w:rPr></w:pPr>";
    let joined = format!("<w:p>{end}{}</w:p>{}", run("", "The "), body(&run("", "lamp.")));
    check_told(&joined, "The lamp.\n", "it was read as if all tracked changes were accepted: 1 deletion");
    // What was formatted otherwise before is no copy, nor is a row that was struck out.
    let before = "<w:b w:val=\"0\"/><w:rPrChange w:id=\"4\"><w:rPr><w:b/></w:rPr></w:rPrChange>";
    check(&body(&run(before, "The lamp.")), "The lamp.\n");
    let row = |struck: &str, words: &str| {
        format!("<w:tr><w:trPr>{struck}</w:trPr><w:tc>{}</w:tc></w:tr>", body(&run("", words)))
    };
    let table = format!("<w:tbl>{}{}</w:tbl>", row("<w:del w:id=\"5\"/>", "Gone."), row("", "Here."));
    let told = read(&docx(&table, STYLES, ""));
    assert_eq!(told.0, "Here.\n");
    let moved = format!("<w:moveFrom>{}</w:moveFrom>", run("", "Here "));
    let moved = body(&[moved, run("", "there"), format!("<w:moveTo>{}</w:moveTo>", run("", " here."))].concat());
    assert_eq!(read(&docx(&moved, STYLES, "")).0, "there here.\n");
}

#[test]
fn what_is_no_copy_is_left_out_and_told() {
    let words = run("", "The lamp.");
    let with = |what: &str| body(&format!("{words}<w:r>{what}</w:r>"));
    for (what, told) in [
        ("<w:commentReference w:id=\"0\"/>", "1 comment was left out"),
        ("<w:footnoteReference w:id=\"1\"/>", "1 footnote or endnote was left out"),
        ("<w:drawing><a:graphicData><pic:pic/></a:graphicData></w:drawing>", "1 picture was left out"),
        ("<w:pict><v:shape><v:imagedata/></v:shape></w:pict>", "1 picture was left out"),
        ("<w:sym w:font=\"Wingdings\" w:char=\"F04A\"/>", "1 sign of a font of symbols was left out"),
        ("<w:rPr><w:vanish/></w:rPr><w:t>Gone.</w:t>", "1 stretch of hidden text was left out"),
        ("<w:rPr><w:rStyle w:val=\"Weg\"/></w:rPr><w:t>Gone.</w:t>", "1 stretch of hidden text was left out"),
    ] {
        check_told(&with(what), "The lamp.\n", told);
    }
}

/// A field shows what stands behind its code, and a box of text stands in the file twice: for newer readers and for
/// older ones.
#[test]
fn fields_and_boxes_are_read_once() {
    let field = |kind: &str| format!("<w:r><w:fldChar w:fldCharType=\"{kind}\"/></w:r>");
    let code = "<w:r><w:instrText> AUTHOR </w:instrText></w:r>";
    let inner = [field("begin"), run("", "secret"), field("separate"), run("", "inner"), field("end")].concat();
    let runs = [field("begin"), code.to_owned(), inner, field("separate"), run("", "Ida Voss"), field("end")].concat();
    check(&body(&format!("{}{runs}{}", run("", "By "), run("", "."))), "By Ida Voss.\n");
    let simple = format!("<w:fldSimple w:instr=\"TITLE\">{}</w:fldSimple>", run("", "The Lamp"));
    check(&body(&simple), "The Lamp\n");
    let inside = format!("<w:txbxContent>{}</w:txbxContent>", body(&run("", "In a box.")));
    let newer = format!("<mc:Choice><w:drawing><wps:txbx>{inside}</wps:txbx></w:drawing></mc:Choice>");
    let older = format!("<mc:Fallback><w:pict><v:textbox>{inside}</v:textbox></w:pict></mc:Fallback>");
    let both = format!("<w:r><mc:AlternateContent>{newer}{older}</mc:AlternateContent></w:r>");
    let told = "1 text box was read as paragraphs";
    check_told(&body(&format!("{}{both}", run("", "The lamp."))), "In a box.\n\nThe lamp.\n", told);
}

#[test]
fn lines_tabs_lists_and_tables_are_copy() {
    let line = "<w:r><w:t>One</w:t><w:br/><w:t>two</w:t><w:tab/><w:t>three</w:t></w:r>";
    check(&body(line), "One\\\ntwo three\n");
    let list = |id: &str, words: &str| {
        let number = format!("<w:numPr><w:ilvl w:val=\"0\"/><w:numId w:val=\"{id}\"/></w:numPr>");
        format!("<w:p><w:pPr>{number}</w:pPr>{}</w:p>", run("", words))
    };
    let lists = r#"<w:abstractNum w:abstractNumId="7"><w:lvl w:ilvl="0"><w:numFmt w:val="decimal"/></w:lvl>
        </w:abstractNum>
        <w:abstractNum w:abstractNumId="8"><w:lvl w:ilvl="0"><w:numFmt w:val="bullet"/></w:lvl></w:abstractNum>
        <w:num w:numId="1"><w:abstractNumId w:val="7"/></w:num>
        <w:num w:numId="2"><w:abstractNumId w:val="8"/></w:num>"#;
    let items = [list("1", "Low"), list("1", "High"), list("2", "Tide"), list("0", "No item.")].concat();
    assert_eq!(read(&docx(&items, STYLES, lists)).0, "1. Low\n2. High\n\n- Tide\n\nNo item.\n");
    let cell = |words: &str| format!("<w:tc>{}</w:tc>", body(&run("", words)));
    let table = format!("<w:tbl><w:tr>{}{}</w:tr></w:tbl>", cell("Ages"), cell("4 to 8"));
    check_told(&table, "## Ages\n\n4 to 8\n", "1 table was read cell by cell");
}

#[test]
fn without_styles_plain_habits_say_what_is_what() {
    let lines = |lines: &[&str]| lines.iter().map(|line| body(&run("", line))).collect::<String>();
    let bold = body(&run("<w:b/>", "The Lamp"));
    check(&format!("{bold}{}", lines(&["", "Oona climbs."])), "# The Lamp\n\nOona climbs.\n");
    // A line in bold alone is copy, and one that is a block's name is its heading.
    check(&bold, "**The Lamp**\n");
    let labelled = format!("{}{}", body(&run("<w:b/>", "Headline:")), lines(&["The Lamp", "Blurb", "Oona climbs."]));
    check(&labelled, "## Headline:\n\nThe Lamp\n\n## Blurb\n\nOona climbs.\n");
    check(&lines(&["“A lamp.”", "— Ida Voss"]), "> “A lamp.”\n> — Ida Voss\n");
    check(&lines(&["“A lamp.” — Ida Voss"]), "> “A lamp.”\n> — Ida Voss\n");
    check(&lines(&["“Come,” she said.", "— Nobody came."]), "“Come,” she said.\n\n— Nobody came.\n");
    check(&lines(&["Also by Ida Voss", "Low Water"]), "## Also by Ida Voss\n\nLow Water\n");
    check(&lines(&["Also by the sea there was a lamp.", "Oona."]), "Also by the sea there was a lamp.\n\nOona.\n");
    check(&lines(&["# 1", "> 2", "1. 3"]), "\\# 1\n\n\\> 2\n\n1\\. 3\n");
}

#[test]
fn letters_are_read_whatever_way_they_are_written() {
    check(&body(&run("", "Salt &amp; &#x2014; &#8212; &lt;b&gt; <![CDATA[&amp;]]>")), "Salt & — — \\<b> \\&amp;\n");
    check("<w:p/><w:p><w:r><w:t/></w:r></w:p>", "");
}

/// A later title that is the name of a block names it; the first is the headline, whatever its words.
#[test]
fn headings_of_one_level_name_their_blocks() {
    let headed = |heading: &str, words: &str| paragraph("Titel", &run("", heading)) + &body(&run("", words));
    check(
        &[headed("Praise", "Oona climbs."), headed("About the author", "A keeper."), headed("Ages", "4 to 8")].concat(),
        "# Praise\n\nOona climbs.\n\n## About the author\n\nA keeper.\n\n## Ages\n\n4 to 8\n",
    );
}

#[test]
fn what_a_line_is_drawn_through_is_left_out_and_told() {
    let told = "2 stretches of crossed-out text were left out";
    let runs = [
        run("", "Oona climbs"),
        run("<w:strike/>", " and climbs"),
        run("<w:rStyle w:val=\"Strich\"/>", " on"),
        run("<w:rStyle w:val=\"Strich\"/><w:strike w:val=\"0\"/>", "."),
    ];
    check_told(&body(&runs.concat()), "Oona climbs.\n", told);
}
