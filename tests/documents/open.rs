//! What of an .odt is copy.

use super::files::{odt, read, zip};

const STYLES: &str = r#"
<style:style style:name="P1" style:family="paragraph" style:parent-style-name="Quotations"/>
<style:style style:name="P2" style:family="paragraph" style:parent-style-name="Heading_20_1"/>
<style:style style:name="Heading_20_1" style:family="paragraph"/>
<style:style style:name="Quotations" style:family="paragraph"><style:text-properties fo:font-style="italic"/>
</style:style>
<style:style style:name="T1" style:family="text"><style:text-properties fo:font-style="italic"/></style:style>
<style:style style:name="T2" style:family="text"><style:text-properties fo:font-weight="700"/></style:style>
<style:style style:name="T3" style:family="text"><style:text-properties fo:font-style="normal"/></style:style>
<style:style style:name="T4" style:family="text"><style:text-properties text:display="none"/></style:style>
<text:list-style style:name="L1"><text:list-level-style-number text:level="1" style:num-format="1"/>
</text:list-style>"#;

#[track_caller]
fn check(body: &str, wanted: &str, told: &[&str]) {
    let told: Vec<String> = told.iter().map(|clause| (*clause).to_owned()).collect();
    assert_eq!(read(&odt(STYLES, body)), (wanted.to_owned(), told), "{body}");
}

#[test]
fn styles_and_headings_say_what_is_what() {
    check(
        "<text:h text:outline-level=\"1\">The Lamp</text:h><text:p>Oona climbs.</text:p>\
         <text:p text:style-name=\"P1\">“A lamp.”</text:p><text:p text:style-name=\"P1\">— Ida Voss</text:p>\
         <text:h text:outline-level=\"2\">Other titles</text:h><text:p>Low Water</text:p>",
        "# The Lamp\n\nOona climbs.\n\n> “A lamp.”\n> — Ida Voss\n\n## Other titles\n\nLow Water\n",
        &[],
    );
    check("<text:p text:style-name=\"P2\">The Lamp</text:p><text:p>Oona.</text:p>", "# The Lamp\n\nOona.\n", &[]);
}

#[test]
fn stretches_lines_and_blanks_are_copy() {
    check(
        "<text:p>A <text:span text:style-name=\"T1\">tide <text:span text:style-name=\"T2\">of</text:span></text:span>\
         \n   <text:span text:style-name=\"T2\">a</text:span> book<text:s text:c=\"2\"/>&amp;<text:tab/>gull\
         <text:line-break/>here</text:p>",
        "A *tide* ***of*** **a** book  & gull\\\nhere\n",
        &[],
    );
    check(
        "<text:p><text:span text:style-name=\"T1\">all <text:span text:style-name=\"T3\">but</text:span></text:span>\
         </text:p>",
        "*all* but\n",
        &[],
    );
    check(
        "<text:list text:style-name=\"L1\"><text:list-item><text:p>Low</text:p></text:list-item><text:list-item>\
         <text:p>High</text:p></text:list-item></text:list><text:list><text:list-item><text:p>Tide</text:p>\
         </text:list-item></text:list>",
        "1. Low\n2. High\n\n- Tide\n",
        &[],
    );
}

#[test]
fn what_is_no_copy_is_left_out_and_told() {
    let changes = "<text:tracked-changes><text:changed-region><text:deletion><text:p>Gone.</text:p></text:deletion>\
                   </text:changed-region><text:changed-region><text:insertion/></text:changed-region>\
                   </text:tracked-changes>";
    check(
        &format!("{changes}<text:p>The <text:change/>lamp.</text:p>"),
        "The lamp.\n",
        &["it was read as if all tracked changes were accepted: 1 insertion and 1 deletion"],
    );
    let note = "<text:note><text:note-citation>1</text:note-citation><text:note-body>\
                <text:p>Low.</text:p></text:note-body></text:note>";
    let comment = "<office:annotation><text:p>Why?</text:p></office:annotation>";
    let picture = "<draw:frame><draw:image/><svg:title>A gull</svg:title><svg:desc>White</svg:desc></draw:frame>";
    let hidden = "<text:span text:style-name=\"T4\">Gone.</text:span>";
    check(
        &format!("<text:p>The lamp.{note}{comment}{picture}{hidden}</text:p>"),
        "The lamp.\n",
        &["1 comment, 1 footnote or endnote, 1 picture and 1 stretch of hidden text were left out"],
    );
    let frame = "<draw:frame><draw:text-box><text:p>In a box.</text:p></draw:text-box></draw:frame>";
    check(&format!("<text:p>{frame}Out.</text:p>"), "In a box.\n\nOut.\n", &["1 text box was read as paragraphs"]);
    check(
        "<text:section text:display=\"none\"><text:p>Gone.</text:p></text:section>",
        "",
        &["1 stretch of hidden text was left out"],
    );
}

/// Heads and feet of pages stand in the part with the styles.
#[test]
fn heads_and_feet_of_pages_are_no_copy() {
    let styles = "<o:document-styles xmlns:o=\"o\" xmlns:s=\"s\" xmlns:t=\"t\"><o:master-styles><s:footer>\
                  <t:p>Foot</t:p></s:footer></o:master-styles></o:document-styles>";
    let content =
        "<o:document-content xmlns:o=\"o\" xmlns:t=\"t\"><o:body><t:p>Oona.</t:p></o:body></o:document-content>";
    assert_eq!(read(&zip(&[("content.xml", content), ("styles.xml", styles)])).0, "Oona.\n");
}

#[test]
fn headings_of_one_level_name_their_blocks_and_crossed_out_words_are_told() {
    let struck = "<style:style style:name=\"T9\" style:family=\"text\"><style:text-properties \
                  style:text-line-through-style=\"solid\"/></style:style>";
    let body = "<text:h text:outline-level=\"1\">The Lamp</text:h><text:p>Oona climbs<text:span \
                text:style-name=\"T9\"> on</text:span>.</text:p><text:h text:outline-level=\"1\">Also by the \
                author</text:h><text:p>Low Water</text:p>";
    let (markdown, told) = read(&odt(&format!("{STYLES}{struck}"), body));
    assert_eq!(markdown, "# The Lamp\n\nOona climbs.\n\n## Also by the author\n\nLow Water\n");
    assert_eq!(told, ["1 stretch of crossed-out text was left out"]);
}
