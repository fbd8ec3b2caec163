//! Feeds of ONIX for Books: what each code gives, the same by both kinds of tags, and feeds that nobody should send.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::BaseBrief;
use blurbwright::brief::yaml::{Node, YamlStep};
use blurbwright::feeds::FeedFault;
use blurbwright::feeds::onix::{Feed, OnixBook, OnixRecord};
use proptest::collection::vec;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};

use crate::tried;

const CASES: &str = include_str!("cases/onix.txt");

/// Every tag of the cases with its short one, by the standard's own table.
const TAGS: &str = "Product product RecordReference a001 ProductIdentifier productidentifier ProductIDType b221 \
    IDValue b244 DescriptiveDetail descriptivedetail ProductForm b012 Measure measure MeasureType x315 Measurement \
    c094 MeasureUnitCode c095 TitleDetail titledetail TitleType b202 TitleElement titleelement TitleElementLevel x409 \
    TitleText b203 TitlePrefix b030 TitleWithoutPrefix b031 Language language LanguageRole b253 LanguageCode b252 \
    AudienceRange audiencerange AudienceRangeQualifier b074 AudienceRangePrecision b075 AudienceRangeValue b076 \
    CollateralDetail collateraldetail TextContent textcontent TextType x426 ContentAudience x427 Text d104 TextAuthor \
    d107 SourceTitle x428 ContentDetail contentdetail ContentItem contentitem RelatedMaterial relatedmaterial \
    RelatedProduct relatedproduct ProductPart productpart Collection collection ONIXMessage ONIXmessage";

const TRIM: &str = "<Measure><MeasureType>05</MeasureType><Measurement>8</Measurement><MeasureUnitCode>in\
    </MeasureUnitCode></Measure><Measure><MeasureType>04</MeasureType><Measurement>10</Measurement><MeasureUnitCode>in\
    </MeasureUnitCode></Measure>";
const COPY: &str = "<TextContent><TextType>05</TextType><Text>The lamp is out.</Text></TextContent>";

fn feed(records: &str) -> String {
    let begins = "<?xml version=\"1.0\"?>\n<ONIXMessage release=\"3.0\"><Header><Sender/></Header>";
    format!("{begins}\n{records}\n</ONIXMessage>")
}

fn record(own: &str, details: &str, collateral: &str) -> String {
    format!(
        "<Product><RecordReference>gull-1</RecordReference>{own}<DescriptiveDetail>{details}</DescriptiveDetail>\
         <CollateralDetail>{collateral}</CollateralDetail></Product>"
    )
}

fn read(feed: &str) -> Vec<Result<OnixRecord, FeedFault>> {
    Feed::new(feed.as_bytes()).collect()
}

fn base(text: &str) -> BaseBrief {
    BaseBrief::read(text.to_owned(), Path::new("")).expect("a base")
}

/// A feed with short tags in the place of reference names.
fn with_short_tags(feed: &str) -> String {
    let words: Vec<&str> = TAGS.split_whitespace().collect();
    words.chunks(2).fold(feed.to_owned(), |feed, pair| {
        let with = |feed: String, (before, behind): (&str, &str)| {
            feed.replace(&format!("{before}{}{behind}", pair[0]), &format!("{before}{}{behind}", pair[1]))
        };
        [("<", ">"), ("</", ">"), ("<", " ")].into_iter().fold(feed, with)
    })
}

/// What a record gives, in the form of the cases.
fn told(book: Result<OnixBook, String>) -> Vec<String> {
    let OnixBook { values, draft, note } = match book {
        Ok(book) => book,
        Err(problem) => return vec![format!("! {problem}")],
    };
    let mut lines = Vec::new();
    for (path, value) in values {
        let keys = path.iter().map(|step| if let YamlStep::Key(key) = step { key.as_str() } else { "?" });
        let key = keys.collect::<Vec<_>>().join(".");
        let Node::Text(value) = value else { panic!("{key} is no text") };
        lines.push(format!("= {key}: {value}"));
    }
    lines.retain(|line| line != "= panel.trim: 8 in x 10 in");
    lines.extend(draft.lines().map(|line| format!("| {line}").trim_end().to_owned()));
    lines.extend(note.map(|note| format!("~ {note}")));
    lines
}

#[test]
fn each_code_gives_what_its_list_says_by_both_kinds_of_tags() {
    let mut tried = 0;
    for case in CASES.split("\n== ").skip(1) {
        let (name, lines) = case.split_once('\n').expect("a case has lines");
        let lines: Vec<&str> = lines.lines().filter(|line| !line.is_empty() && !line.starts_with('#')).collect();
        let of = |sign: &str| lines.iter().find_map(|line| line.strip_prefix(sign)?.strip_prefix(' '));
        let details = of("D").unwrap_or(TRIM).replace('*', TRIM);
        let written = feed(&record(of("P").unwrap_or_default(), &details, of("C").unwrap_or(COPY)));
        let is_wanted = |line: &&&str| line.starts_with(['=', '|', '!', '~']);
        let mut wanted: Vec<&str> = lines.iter().filter(is_wanted).copied().collect();
        if !wanted.iter().any(|line| line.starts_with(['|', '!'])) {
            let end = wanted.iter().position(|line| line.starts_with('~')).unwrap_or(wanted.len());
            wanted.insert(end, "| The lamp is out.");
        }
        let base = base(&of("B").unwrap_or_default().replace("\\n", "\n"));
        for feed in [written.clone(), with_short_tags(&written)] {
            let records = read(&feed);
            let [Ok(record)] = records.as_slice() else { panic!("{name}: {records:?}") };
            assert_eq!(record.name, "gull-1", "{name}");
            assert_eq!(told(record.book(&base)), wanted, "{name}");
        }
        assert_ne!(written, with_short_tags(&written));
        tried += 1;
    }
    assert!(tried > 40, "{tried}");
}

#[track_caller]
fn breaks(feed: &str, line: usize, problem: &str) {
    let last = read(feed).pop().expect("a fault");
    let fault = last.expect_err(problem);
    assert!(fault.line == line && fault.problem.contains(problem), "{fault:?}");
}

#[test]
fn a_feed_that_cannot_be_read_says_why_and_where() {
    let good = record("", TRIM, COPY);
    breaks(&feed(&good).replace("</ONIXMessage>", ""), 4, "breaks off");
    breaks(&feed(&format!("{good}\n<Product><RecordReference>tern</RecordReference><a></b>")), 4, "in the record tern");
    breaks("<html><body/></html>", 1, "its first tag is html");
    breaks("<ONIXMessage release=\"2.1\"></ONIXMessage>", 1, "release 2.1");
    breaks("<ONIXMessage></ONIXMessage>", 1, "does not say its release");
    breaks(&feed("<Product>&nosuch;</Product>"), 3, "no character named &nosuch;");
    let latin = feed(&good).replace("version=\"1.0\"", "version=\"1.0\" encoding=\"ISO-8859-1\"");
    breaks(&latin, 1, "not saved as UTF-8");
    let first: Vec<_> = Feed::new(&b"<ONIXMessage release=\"3.0\"><Product>\xff</Product></ONIXMessage>"[..]).collect();
    assert!(matches!(first.as_slice(), [Err(fault)] if fault.problem.contains("UTF-8")), "{first:?}");
    breaks("", 1, "there is no tag in it");
    breaks("The lamp\nis out.", 2, "there is no tag in it");
    assert!(read(&feed("")).is_empty());
}

#[test]
fn a_hostile_feed_is_refused_in_bounded_room() {
    let doctype =
        |inside: &str| feed(&record("", TRIM, COPY)).replace("\n<ONIX", &format!("\n<!DOCTYPE a {inside}>\n<ONIX"));
    breaks(&doctype("[<!ENTITY b \"bb\"><!ENTITY c \"&b;&b;\">]"), 2, "declares something of its own");
    // The standard's own type is named by many feeds, and nothing is fetched.
    assert!(matches!(read(&doctype("SYSTEM \"http://example.org/reference.dtd\"")).as_slice(), [Ok(_)]));
    breaks(&feed(&format!("<Product>{}", "<a>".repeat(500_000))), 3, "more than 256 deep");
    breaks(&feed(&format!("<Product>{}</Product>", "<a/>".repeat(60_000))), 3, "more than 50000 tags");
    let long = "a".repeat(5 << 20);
    breaks(&feed(&format!("<Product>{long}</Product>")), 3, "more than 4194304 bytes");
    breaks(&feed(&format!("<!--{long}-->")), 3, "more than 4194304 bytes");
    breaks(&feed(&format!("<Product b=\"{long}\"/>")), 3, "more than 4194304 bytes");
    // The bytes of one record, not of the feed.
    let text = &long[..2 << 20];
    let copy = format!("<TextContent><TextType>05</TextType><Text>{text}</Text></TextContent>");
    let many = record("", TRIM, &copy);
    assert_eq!(read(&feed(&many.repeat(3))).iter().filter(|record| record.is_ok()).count(), 3);
}

#[test]
fn a_record_without_a_name_has_its_number() {
    let unnamed = record("", TRIM, COPY).replace("<RecordReference>gull-1</RecordReference>", "");
    let names: Vec<String> = read(&feed(&unnamed.repeat(2))).into_iter().flatten().map(|record| record.name).collect();
    assert_eq!(names, ["number 1", "number 2"]);
}

proptest! {
    #![proptest_config(tried::law(600))]

    #[test]
    fn any_damage_of_a_feed_ends_without_a_panic(places in vec((any::<u16>(), any::<u8>()), 1..6)) {
        let mut bytes = feed(&record("", TRIM, COPY).repeat(2)).into_bytes();
        for (place, byte) in places {
            let at = usize::from(place) % bytes.len();
            bytes[at] = byte;
        }
        let records: Vec<_> = Feed::new(bytes.as_slice()).collect();
        prop_assert!(records.iter().rev().skip(1).all(Result::is_ok));
        let base = base("");
        for record in records.into_iter().flatten() {
            drop(record.book(&base));
        }
    }

    #[test]
    fn any_text_comes_through_as_it_stands(text in "([ a-c.#>*_`\\[\\]<&;+=~1)!|\"'\\\\-]|é|\n|— ){0,40}") {
        let escaped = text.replace('&', "&amp;").replace('<', "&lt;");
        let copy = format!("<TextContent><TextType>05</TextType><Text>{escaped}</Text></TextContent>");
        let records = read(&feed(&record("", TRIM, &copy)));
        let [Ok(record)] = records.as_slice() else { panic!("{records:?}") };
        let paragraphs = text.split("\n").map(str::trim).collect::<Vec<_>>().join("\n");
        let wanted = paragraphs.split("\n\n").map(|one| one.split_whitespace().collect::<Vec<_>>().join(" "));
        let wanted: Vec<String> = wanted.filter(|one| !one.is_empty()).collect();
        let found = record.book(&base("")).map(|book| blurbwright::draft::Draft::read(&book.draft).blocks);
        let found: Vec<String> = found.into_iter().flatten().map(|block| block.text().to_owned()).collect();
        prop_assert_eq!(found, wanted);
    }
}
