//! Other words on copy that the lists were not made for: what is promised of each holds, and none is offered that must
//! not be.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]
#![expect(clippy::print_stdout, reason = "the table is read with --nocapture")]

use std::fs;
use std::path::Path;
use std::time::Instant;

use blurbwright::brief::Brief;
use blurbwright::brief::queries::Rule;
use blurbwright::brief::stet::Stet;
use blurbwright::draft::{Draft, edited};
use blurbwright::queries::other_words::{MOST_OTHERS, NoOthers};
use blurbwright::report::assess;
use blurbwright::report::effects::Figures;
use blurbwright::report::other_words::{OtherWords, WhichWords};
use blurbwright::report::tighten::DraftFile;
use blurbwright::setting::Faces;
use blurbwright::terms::other_words::are_kin;

use crate::tried::step;

const BRIEF: &str = "book: { readers: 4-8 }\npanel: { trim: 5 x 7 in }\n";

fn brief(text: &str) -> Brief {
    Brief::read(text, Path::new("")).expect("a brief")
}

fn found(source: &str, brief: &Brief, which: WhichWords<'_>) -> OtherWords {
    found_where(source, brief, which, &Stet::default())
}

fn found_where(source: &str, brief: &Brief, which: WhichWords<'_>, stet: &Stet) -> OtherWords {
    let (draft, faces) = (Draft::read(source), Faces::built_in());
    let report = assess(&draft, brief, &faces);
    OtherWords::of(DraftFile { name: "first.md", source, stet }, &draft, brief, (&faces, &report), which)
}

/// The project's own blurbs and samples.
fn copies() -> Vec<String> {
    let read = |folder: &str| -> Vec<String> {
        let entries = fs::read_dir(folder).expect("a folder of drafts");
        let paths = entries.map(|entry| entry.expect("an entry").path());
        let mut paths: Vec<_> = paths.filter(|path| path.extension().is_some_and(|ending| ending == "md")).collect();
        paths.sort();
        paths.iter().map(|path| fs::read_to_string(path).expect("a draft")).collect()
    };
    [read("drafts"), read("tests/blurbs")].concat()
}

/// A change that is made in the file and measured has the figures that were promised; and there are at most three.
#[test]
fn what_is_promised_of_a_word_is_what_it_does() {
    let (brief, faces) = (brief(BRIEF), Faces::built_in());
    let mut tried = 0;
    for source in copies().iter().step_by(step()) {
        let found = found(source, &brief, WhichWords::Whole);
        for word in &found.words {
            assert!(word.others.len() <= MOST_OTHERS);
        }
        let winners = found.lines.iter().flat_map(|line| &line.winners);
        let others = found.words.iter().flat_map(|word| &word.others).chain(winners.clone());
        for other in others.step_by(2) {
            let after = Draft::read(&edited(source, std::slice::from_ref(&other.edit)));
            assert_eq!(Figures::of(&after, &brief, &faces), other.price.after, "{}", other.cut.wording);
            assert_eq!(Figures::of(&Draft::read(source), &brief, &faces), other.price.before);
            tried += 1;
        }
        for winner in winners {
            assert!(winner.price.lines() > 0, "{}", winner.cut.wording);
        }
    }
    assert!(tried > 10, "{tried}");
}

#[test]
fn no_word_is_offered_for_one_of_its_own_family() {
    let brief = brief(BRIEF);
    let mut offered = 0;
    for source in copies() {
        let draft = Draft::read(&source);
        let found = found(&source, &brief, WhichWords::Whole);
        for (word, other) in found.words.iter().flat_map(|word| word.others.iter().map(move |other| (word, other))) {
            let written = draft.blocks[word.asked.block].text()[word.asked.range.clone()].to_lowercase();
            for part in other.cut.wording.to_lowercase().split(' ').filter(|part| !["a", "an"].contains(part)) {
                assert!(!are_kin(part, &written), "{written}: {}", other.cut.wording);
            }
            offered += 1;
        }
    }
    assert!(offered > 50, "{offered}");
}

#[test]
fn each_place_has_its_reason_where_nothing_is_offered() {
    let source = "# A perilous voyage\n\n*The Perilous Isle* is perilous. \"A perilous isle!\" An eerie, perilous \
                  dragon sleeps.\n\n> A perilous read.\n> — A. Fenn, Tide Weekly\n";
    let brief = brief(
        "book: { title: The Perilous Isle, readers: 4-8 }\nterms: [{ term: dragon, must: true }]\n\
         panel: { trim: 8 x 8 in }\n",
    );
    let reasons: Vec<Option<NoOthers>> = found(source, &brief, WhichWords::Named("perilous"))
        .words
        .iter()
        .map(|word| word.asked.others.as_ref().err().copied())
        .collect();
    let wanted = [None, Some(NoOthers::Wanted), None, Some(NoOthers::Quoted), None, Some(NoOthers::NotOwn)];
    assert_eq!(reasons, wanted);
    let term = found(source, &brief, WhichWords::Named("dragon"));
    assert_eq!(term.words[0].asked.others, Err(NoOthers::Wanted));
    let abroad = found(
        "Ein Hund.\n",
        &self::brief("book: { language: de }\npanel: { trim: 8 x 8 in }\n"),
        WhichWords::Named("Hund"),
    );
    assert_eq!(abroad.words[0].asked.others, Err(NoOthers::Language));
}

#[test]
fn what_the_author_lets_stand_has_no_other_word() {
    let source = "At this point in time nobody else can light the perilous lamp.\n";
    let brief = brief(BRIEF);
    let mut stet = Stet::default();
    let point =
        |stet: &Stet| found_where(source, &brief, WhichWords::Named("point"), stet).words[0].asked.others.clone();
    assert_ne!(point(&stet), Err(NoOthers::Stands));
    stet.add("first.md", Rule::WordyPhrase, "At this point in time");
    assert_eq!(point(&stet), Err(NoOthers::Stands));
    assert!(!found_where(source, &brief, WhichWords::Named("perilous"), &stet).words[0].others.is_empty());
}

#[test]
fn odd_copy_has_no_words_or_its_own() {
    let brief = brief(BRIEF);
    for source in
        ["", ".", "# \n", "犬は走る。\n", "An eerie night.\r\n\r\nAn eerie *day*.\r\n", "a'b's '", "<!-- -->\n"]
    {
        for which in [WhichWords::Whole, WhichWords::Named("eerie"), WhichWords::At(0), WhichWords::At(9_999)] {
            let found = found(source, &brief, which);
            for other in found.words.iter().flat_map(|word| &word.others) {
                let changed = edited(source, std::slice::from_ref(&other.edit));
                assert_eq!(changed.matches("\r\n").count(), source.matches("\r\n").count());
            }
        }
    }
    assert_eq!(found("An eerie night.\r\n", &brief, WhichWords::At(5)).words[0].others.len(), 3);
}

/// Work on a long draft ends, and what was left out is told.
#[test]
fn a_long_draft_is_tried_as_far_as_the_work_goes() {
    let source = "The perilous voyage is eerie. ".repeat(400);
    let begun = Instant::now();
    let found = found(&source, &brief(BRIEF), WhichWords::Whole);
    assert!(found.untried > 0 && found.words.len() > 1_000, "{} {}", found.untried, found.words.len());
    assert!(begun.elapsed().as_secs() < 120);
}

/// Hard words as an editor marked them, who had not seen the lists.
const MARKED: &str = include_str!("data/other_words.tsv");

/// Half of all hard words have an acceptable one among the first three, and of those that are offered at most one in
/// ten is marked as wrong.
#[test]
fn half_of_the_marked_words_have_an_acceptable_other() {
    let brief = brief(BRIEF);
    let (mut words, mut met, mut offered, mut accepted, mut wrong) = (0, 0, 0, 0, Vec::new());
    for line in MARKED.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let fields: Vec<&str> = line.split('\t').collect();
        let [word, sentence, acceptable, refused] = fields[..] else { panic!("{line}") };
        let listed = |list: &'static str| list.split(',').map(str::trim).collect::<Vec<_>>();
        let (acceptable, refused) = (listed(acceptable), listed(refused));
        let at = sentence.find(word).expect("the word in its sentence");
        let found = found(sentence, &brief, WhichWords::At(at + 1));
        let others: Vec<String> = found.words.iter().flat_map(|word| &word.others).map(plain).collect();
        let is_listed = |list: &[&str], other: &String| list.contains(&other.as_str());
        words += 1;
        met += usize::from(others.iter().any(|other| is_listed(&acceptable, other)));
        offered += others.len();
        accepted += others.iter().filter(|other| is_listed(&acceptable, other)).count();
        let wrong_here = others.iter().filter(|other| is_listed(&refused, other));
        wrong.extend(wrong_here.map(|other| format!("{word}: {other}")));
    }
    println!("{words} words, {met} met; {offered} offered, {accepted} acceptable, {} wrong: {wrong:?}", wrong.len());
    assert_eq!(words, 100);
    assert!(met * 2 >= words, "{met} of {words}");
    assert!(wrong.len() * 10 <= offered, "{wrong:?} of {offered}");
}

/// Another word in small letters, without the article that changed with it.
fn plain(other: &blurbwright::report::cuts::PricedCut) -> String {
    let wording = other.cut.wording.to_lowercase();
    let bare = wording.strip_prefix("a ").or_else(|| wording.strip_prefix("an ")).unwrap_or(&wording);
    bare.to_owned()
}

/// What is offered for the word in braces, joined by commas; a dash where nothing is, or why the word is left alone.
fn offered(brief: &Brief, marked: &str) -> String {
    let start = marked.find('{').expect("a word");
    let source = marked.replace(['{', '}'], "");
    let found = found(&source, brief, WhichWords::At(start + 1));
    let word = found.words.first().expect("the word");
    match &word.asked.others {
        Err(NoOthers::Unlisted) => "-".to_owned(),
        Err(why) => format!("{why:?}").to_uppercase(),
        Ok(_) => word.others.iter().map(|other| other.cut.wording.clone()).collect::<Vec<_>>().join(", "),
    }
}

/// Each line of the cases: the copy with the word in braces, then what is offered.
#[test]
fn others_are_offered_as_the_cases_say() {
    let brief = brief(
        "book: { title: The Perilous Isle, language: en, readers: 4-8, names: [Oona] }\n\
         terms: [expedition, { term: timid fox, must: true }]\navoid: [scary]\npanel: { trim: 8 x 8 in }\n",
    );
    let cases = fs::read_to_string("tests/cases/other_words.txt").expect("the cases");
    let mut wrong = Vec::new();
    for line in cases.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let (copy, wanted) = line.split_once(" = ").expect("a case and what is offered");
        let found = offered(&brief, &copy.replace("\\n", "\n"));
        if found != wanted {
            wrong.push(format!("{copy}: {found}, not {wanted}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_spelling_is_that_of_the_briefs_language() {
    let brief = |tag: &str| brief(&format!("book: {{ language: {tag} }}\npanel: {{ trim: 8 x 8 in }}\n"));
    let copy = "An {explorer} waits.";
    for (tag, wanted) in [("en-GB", "A traveller"), ("en-US", "A traveler"), ("de", "LANGUAGE")] {
        assert!(offered(&brief(tag), copy).starts_with(wanted), "{tag}: {}", offered(&brief(tag), copy));
    }
}
