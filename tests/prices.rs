//! The price of a line, as laws: what is named wins exactly one line, and nothing shorter would.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::path::Path;

use blurbwright::brief::Brief;
use blurbwright::draft::{Block, Draft};
use blurbwright::setting::lines::Setting;
use blurbwright::setting::price::{Price, prices};
use blurbwright::setting::{Faces, Rooms, SettingMemory, ShapedCopy, Work};
use proptest::prelude::*;

use crate::tried::{law, step};

fn brief(width: f64) -> Brief {
    brief_with(width, "")
}

/// A brief with more keys of its type, such as `align: justified`.
fn brief_with(width: f64, keys: &str) -> Brief {
    let panel = format!("panel: {{ trim: {width} x 400 pt, margins: 0 pt }}\n");
    let text = format!("{panel}type: {{ size: 12 pt, leading: 15 pt, {keys} }}\n");
    Brief::read(&text, Path::new("")).expect("a brief")
}

fn lines(blocks: Vec<Block>, brief: &Brief, faces: &Faces) -> usize {
    let draft = Draft { blocks, ..Draft::default() };
    let copy = ShapedCopy::shape(&draft, &brief.typography, faces, &mut SettingMemory::default());
    Setting::new(&copy, copy.forms(), &Rooms::of(brief)).lines.len()
}

fn priced(draft: &Draft, brief: &Brief, faces: &Faces) -> Price {
    let copy = ShapedCopy::shape(draft, &brief.typography, faces, &mut SettingMemory::default());
    let room = Rooms::of(brief);
    let work = Work::of(usize::MAX, &|| true);
    prices(&copy, &Setting::new(&copy, copy.forms(), &room), &room, &work).remove(0)
}

/// Every stretch of `letters` letters that ends with a word, with the blank that goes with whole words.
fn stretches(text: &str, letters: usize) -> Vec<std::ops::Range<usize>> {
    let is_letter = |c: char| c.is_alphanumeric();
    let places: Vec<usize> = text.char_indices().filter(|(_, c)| is_letter(*c)).map(|(at, _)| at).collect();
    let ends = places.iter().enumerate().filter(|(_, at)| {
        let after = &text[*at + text[**at..].chars().next().map_or(0, char::len_utf8)..];
        !after.starts_with(|c: char| is_letter(c) || c == '’')
    });
    ends.filter_map(|(index, at)| {
        let start = places[(index + 1).checked_sub(letters)?];
        let end = at + text[*at..].chars().next().map_or(0, char::len_utf8);
        let blank = usize::from(text[..start].ends_with(' '));
        let follows = usize::from(start == 0 && text[end..].starts_with(' '));
        Some(start - blank..end + follows)
    })
    .collect()
}

fn copy() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "the",
        "lamp",
        "lighthouse",
        "a",
        "storm",
        "is",
        "coming",
        "home",
        "well-worn",
        "boats",
        "sea,",
    ]);
    prop::collection::vec(words, 6..22).prop_map(|words| words.join(" "))
}

/// What is named wins one line, and no shorter stretch does.
fn check_win(text: &str, brief: &Brief) -> Result<(), TestCaseError> {
    let (faces, draft) = (Faces::built_in(), Draft::read(text));
    let price = priced(&draft, brief, &faces);
    let block = &draft.blocks[0];
    let taken = |stretch| lines(vec![block.without(stretch)], brief, &faces);
    let Some(win) = &price.win else {
        prop_assert_eq!(price.lines, 1);
        return Ok(());
    };
    prop_assert_eq!(taken(win.text.clone()), price.lines - 1, "{:?}", &text[win.text.clone()]);
    if let Some(whole) = &win.whole {
        let shown = text[whole.clone()].trim();
        prop_assert!(taken(whole.clone()) < price.lines, "{shown:?} wins nothing");
        let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).count();
        prop_assert!(letters(shown) >= win.letters, "{shown:?}");
        // Of runs of whole words, none with fewer letters does.
        let words: Vec<(usize, &str)> =
            text.split(' ').map(|word| (word.as_ptr() as usize - text.as_ptr() as usize, word)).collect();
        for (first, (start, _)) in words.iter().enumerate() {
            for (at, last) in &words[first..] {
                let end = at + last.trim_end_matches(',').len();
                let fewer = letters(&text[*start..end]) < letters(shown);
                let before = usize::from(*start > 0);
                let follows = usize::from(*start == 0 && text[end..].starts_with(' '));
                prop_assert!(
                    !fewer || taken(start - before..end + follows) >= price.lines,
                    "{:?} wins too",
                    &text[*start..end]
                );
            }
        }
        let is_edge = |c: Option<char>| c.is_none_or(|c| c == ' ' || c == ',');
        let (before, after) = (&text[..whole.start], &text[whole.end..]);
        prop_assert!(shown.starts_with(char::is_alphanumeric) && shown.ends_with(char::is_alphanumeric), "{shown:?}");
        prop_assert!(before.is_empty() || text[whole.start..].starts_with(' '), "{shown:?} begins in mid-word");
        prop_assert!(is_edge(after.chars().next()) || text[..whole.end].ends_with(' '), "{shown:?} ends in mid-word");
    }
    for stretch in (1..win.letters).flat_map(|letters| stretches(text, letters)) {
        prop_assert!(taken(stretch.clone()) >= price.lines, "{:?} wins too", &text[stretch]);
    }
    Ok(())
}

/// Where a stretch goes, what it parted may come together and take a line more: that is no win.
#[test]
fn a_stretch_inside_a_hyphened_word_may_cost_a_line() {
    let text = "is sea, lamp home well-worn a lighthouse lamp lighthouse well-worn coming coming";
    check_win(text, &brief(140.979_300_335_143_5)).expect("the cheapest stretch is found");
}

/// Of runs of whole words that cost the same, one inside a sentence is named.
#[test]
fn what_could_go_runs_over_no_sentence_end_without_need() {
    let faces = Faces::built_in();
    let text =
        "Bram lost a boat. It sank at once. Now a gull has it. “Go!” he said. She went. No one saw it go. Was it so?";
    let draft = Draft::read(text);
    let is_over_an_end = |run: &str| run.trim().contains(". ") || run.contains("!” ");
    let letters = |run: &str| run.chars().filter(|c| c.is_alphanumeric()).count();
    let mut told = 0;
    for width in (100..300).step_by(step()) {
        let brief = brief(f64::from(width));
        let price = priced(&draft, &brief, &faces);
        let Some(whole) = price.win.and_then(|win| win.whole) else { continue };
        told += 1;
        if is_over_an_end(&text[whole.clone()]) {
            let many = letters(&text[whole.clone()]);
            let others = stretches(text, many).into_iter().filter(|run| !is_over_an_end(&text[run.clone()]));
            for run in others.filter(|run| text[run.clone()].starts_with(' ') || run.start == 0) {
                let left = lines(vec![draft.blocks[0].without(run.clone())], &brief, &faces);
                assert!(left >= price.lines, "{width}: {:?} wins too, not only {:?}", &text[run], &text[whole]);
            }
        }
    }
    assert!(told * step() > 100, "{told}");
}

/// What is typed first at a paragraph's beginning, and what is nothing but signs.
#[test]
fn a_paragraph_without_a_letter_has_a_price() {
    let (brief, faces) = (brief(200.0), Faces::built_in());
    for text in
        ["...", "!", "“", "—", "🦉", "*…*", "\u{a0}", "&nbsp;", "\u{301}", "\u{200d}", "# ?", "> \"", "> !\n> — —"]
    {
        for block in Draft::read(text).blocks {
            let draft = Draft { blocks: vec![block], ..Draft::default() };
            let price = priced(&draft, &brief, &faces);
            assert_eq!((price.lines, &price.win, price.searched), (1, &None, true), "{text}");
            let with = |letters: usize| {
                let longer = draft.blocks[0].followed_by(&format!(" {}", "n".repeat(letters)));
                lines(vec![longer], &brief, &faces)
            };
            assert_eq!(with(price.letters_spare), 1, "{text}: {}", price.letters_spare);
            assert!(with(price.letters_spare + 1) > 1, "{text}: {}", price.letters_spare);
        }
    }
}

/// One letter, and behind it what takes no room or never comes to another letter.
#[test]
fn a_paragraph_of_one_letter_and_many_signs_has_a_price() {
    let (brief, faces) = (brief(200.0), Faces::built_in());
    for sign in ["\u{301}", ".", "—", "\u{200d}", "-"] {
        let draft = Draft::read(&format!("a{}", sign.repeat(4000)));
        assert!(priced(&draft, &brief, &faces).letters_spare < 80, "{sign}");
    }
}

/// What wins a line by the letter is told in whole words: a hyphened one goes with all its parts, and a dash parts two.
#[test]
fn what_can_go_is_told_in_whole_words() {
    let faces = Faces::built_in();
    let mut in_mid_word = 0;
    for text in [
        "Mabel keeps three left-over buttons in a tin—nobody else may open it, for every one of them is somebody’s.",
        "Mabel keeps three buttons in a tin, and nobody else may open it until the first of the great grey geese is \
         home.",
    ] {
        for width in (100..260).step_by(9) {
            let (brief, draft) = (brief(f64::from(width)), Draft::read(text));
            let win = priced(&draft, &brief, &faces).win.expect("more than one line");
            let own = draft.blocks[0].text();
            let whole = win.whole.unwrap_or_else(|| panic!("whole words win at {width}"));
            let words: Vec<&str> = own.split([' ', '—']).map(|word| word.trim_matches([',', '.'])).collect();
            let shown: Vec<&str> =
                own[whole].trim().split([' ', '—']).map(|word| word.trim_matches([',', '.'])).collect();
            assert!(words.windows(shown.len()).any(|some| some == shown), "{shown:?} at {width}");
            in_mid_word += usize::from(own[..win.text.start].ends_with(char::is_alphanumeric));
        }
    }
    assert!(in_mid_word > 3, "only {in_mid_word} stretches begin in mid-word, which shows little");
}

/// Two words of which one has to go are told; one word that is broken over two lines has none.
#[test]
fn where_nothing_but_all_would_do_no_words_are_told() {
    let (brief, faces) = (brief(90.0), Faces::built_in());
    let price = priced(&Draft::read("well-worn-and-often-mended-harbour-boats"), &brief, &faces);
    assert!(price.lines > 1 && price.win.is_none_or(|win| win.whole.is_none()));
}

proptest! {
    #![proptest_config(law(48))]

    #[test]
    fn what_is_named_wins_one_line_and_nothing_shorter_does(text in copy(), width in 90.0..220.0_f64) {
        check_win(&text, &brief(width))?;
    }

    #[test]
    fn what_is_spare_goes_in_and_what_is_more_spills(text in copy(), width in 90.0..220.0_f64) {
        let (brief, faces, draft) = (brief(width), Faces::built_in(), Draft::read(&text));
        let price = priced(&draft, &brief, &faces);
        // The letters of the paragraph's own beginning, as they follow one another there.
        let tail = |letters: usize| {
            let mut left = letters;
            let endless = format!("{text} ").repeat(8);
            let end = endless.char_indices().find(|(_, c)| {
                let stop = left == 0;
                left -= usize::from(c.is_alphanumeric() && !stop);
                stop
            });
            format!(" {}", endless[..end.map_or(0, |(at, _)| at)].trim_end())
        };
        let with = |letters| lines(vec![draft.blocks[0].followed_by(&tail(letters))], &brief, &faces);
        if price.letters_spare > 0 {
            prop_assert_eq!(with(price.letters_spare), price.lines);
        }
        prop_assert_eq!(with(price.letters_spare + 1), price.lines + 1);
    }
}

proptest! {
    // Each case sets the copy without every stretch of it, three times.
    #![proptest_config(law(10))]

    /// Where all lines are chosen together, a stretch anywhere may win one.
    #[test]
    fn what_is_named_wins_where_lines_are_chosen_together(text in copy(), width in 90.0..220.0_f64) {
        check_win(&text, &brief_with(width, "breaks: total-fit"))?;
        check_win(&text, &brief_with(width, "align: justified"))?;
        check_win(&text, &brief_with(width, "align: justified, hang_quotes: true, hyphenate: true"))?;
    }
}
