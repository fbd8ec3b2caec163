//! What the desk offers to an author who has read nothing: rows that are lines, what helps now, a list of keys that is
//! asked in words, figures, and blocks that are written in their form.

use blurbwright::desk::hints::{advice, hints, ways_to};
use blurbwright::desk::keys::{Command, KEYS, WANTED};
use blurbwright::desk::layout::MARGIN;
use blurbwright::desk::listing::INSERTED;
use blurbwright::desk::mode::Mode;
use blurbwright::desk::rows::CONTINUED;
use blurbwright::desk::theme::Keyboard;
use blurbwright::desk::{Effect, State, settle};
use blurbwright::draft::{BlockKind, Draft};
use blurbwright::panes;
use ratatui::crossterm::event::KeyCode;
use ratatui::style::Color;

use super::desk_harness::{BRIEF, click, control, desk, desk_of_words, desk_on, drawn, press, screen, text, typed};

const SIZES: [(u16, u16); 4] = [(80, 24), (100, 30), (120, 40), (200, 60)];

/// A blurb whose lines are longer than a narrow pane, with quotes, a note, other titles, an age and a price.
const WHOLE: &str = "# Some kites never want to come down

Every morning, before the first gulls are awake, Pim climbs the long sandy path behind the house with a kite that he \
has made out of an old blue curtain. It does not pull. It does not dive. It simply stays, high above the harbour.

> \"A quiet, windswept wonder of a book. I read it twice and then I went outside to look at the sky.\"
> — Benedikt Aalto, school librarian

> \"Every child who has ever been afraid of Monday will want a kite like this one.\"
> — Ruth Sandoval-Hale, bookseller

## Note on the author

M. Oduya-Brandt grew up on an island with more kites than cars.

## Other titles

The Boat in the Attic

## Age line

Ages 4 to 8

## Price line

US $18.99
";

fn over(size: (u16, u16)) -> State {
    desk_on(&"Every night Oona lights the lamp at the top of the stairs, alone. ".repeat(60), size)
}

/// Where the screen has the room each printed line is one row; where it has not, what continues a line is indented and
/// has a sign, and no row that begins a line has either.
#[test]
fn rows_are_lines_and_what_continues_one_does_not_look_like_one() {
    for size in SIZES {
        let mut state = desk_of_words(BRIEF, WHOLE, size);
        let rows = screen(&mut state);
        let sheet = state.sheet().expect("a sheet");
        let is_divided = sheet.rows.iter().any(|row| !row.first);
        assert!(if size.0 == 80 { is_divided } else { size.0 < 200 || !is_divided }, "{size:?}");
        let continued: Vec<&String> = rows.iter().filter(|row| row.contains('⋯')).collect();
        assert_eq!(!continued.is_empty(), is_divided, "{size:?}");
        for row in continued {
            let at = row.chars().position(|sign| sign == '⋯').expect("a sign");
            assert_eq!(at, usize::from(MARGIN) + CONTINUED - 2, "{row}");
        }
        let areas = state.areas();
        let ends = |row: &String| row.chars().take(usize::from(areas.copy.right())).collect::<String>();
        assert!(rows.iter().map(ends).all(|row| row.chars().count() <= usize::from(size.0)));
    }
}

/// The pane does not change its width back with each word that goes.
#[test]
fn the_pane_of_the_copy_only_grows() {
    let mut state = desk_of_words(BRIEF, WHOLE, (200, 60));
    settle(&mut state);
    let wide = state.areas().copy.width;
    control(&mut state, 'a');
    typed(&mut state, "The lamp is out.");
    settle(&mut state);
    assert_eq!(state.areas().copy.width, wide);
    control(&mut state, 'z');
    settle(&mut state);
    assert_eq!(state.areas().copy.width, wide);
}

/// Queries in sight and those that are told as not in sight are all that there are, and every one can be walked to.
#[test]
fn no_query_is_out_of_reach() {
    let words = "The lamp  is out and the sea  is in. ".repeat(12);
    for size in SIZES {
        let mut state = desk_on(&words, size);
        let rows = screen(&mut state).join("\n");
        let count = state.sheet().expect("a sheet").offers().len();
        assert!(count > 8, "{count}");
        let areas = state.areas().queries;
        let told = |words: &str| rows.contains(words);
        if areas.height <= 2 {
            assert!(told(&format!("and {} more: F6", count - usize::from(areas.height))), "{size:?}\n{rows}");
        } else {
            assert!(told(&format!("{count} queries")), "{size:?}\n{rows}");
            assert!(told("not in sight: F6") || size.1 > 50, "{size:?}\n{rows}");
        }
        press(&mut state, KeyCode::F(6));
        for at in 0..count {
            assert!(matches!(state.mode, Mode::Queries(in_hand) if in_hand == at), "{size:?} {:?}", state.mode);
            let rows = screen(&mut state);
            assert!(rows.iter().any(|row| row.contains('▸')), "{size:?} {at}");
            press(&mut state, KeyCode::Down);
        }
    }
}

/// A query that has one row and no cut says beside its words why it is asked.
#[test]
fn a_query_in_one_row_says_why_it_is_asked() {
    let words: Vec<&str> =
        "Every evening Oona lights a lamp at the top of the stairs and looks out over the bay to where \
                            her father and his boat come home with nets full of herring."
            .split(' ')
            .collect();
    let mut seen = 0;
    for count in 8..words.len() {
        let mut state = desk_on(&format!("{}.\n", words[..count].join(" ")), (80, 24));
        let rows = screen(&mut state);
        let sheet = state.sheet().expect("a sheet");
        let [offer, ..] = &sheet.offers()[..] else { continue };
        if offer.edit.is_some() || sheet.words_of(offer.query).contains(' ') {
            continue;
        }
        let row = &rows[usize::from(state.areas().queries.y)];
        let first: Vec<&str> = offer.query.says.split(' ').take(3).collect();
        assert!(row.contains(&first.join(" ")), "{}\n{row}", offer.query.says);
        seen += 1;
    }
    assert!(seen > 0, "no line ends in a short word");
}

/// What helps is offered while something is outside, can be clicked, and goes when all is well.
#[test]
fn what_helps_is_offered_only_while_it_is_needed() {
    for size in SIZES {
        let mut state = over(size);
        let rows = screen(&mut state).join("\n");
        assert!(
            rows.contains("over:  ") && rows.contains("F7 a smaller size") && rows.contains("F4 more room"),
            "{rows}"
        );
        click(&mut state, "F7 a smaller size", 1);
        assert!(matches!(state.mode, Mode::Type), "{size:?}");
        assert!(!screen(&mut state).join("\n").contains("a smaller size"), "nothing is told to one who does it");
        let mut well = desk(size);
        screen(&mut well);
        assert_eq!(advice(&well), None);
    }
    let brief = "panel: { trim: 8.5 x 8.5 in }\nterms: [{ term: kelp, must: true }]\n";
    let mut state = desk_of_words(brief, "The lamp is out.\n", (80, 24));
    let rows = screen(&mut state).join("\n");
    assert!(rows.contains("\"kelp\" is missing:") && rows.contains("F5 what is behind it"), "{rows}");
    press(&mut state, KeyCode::F(5));
    assert!(screen(&mut state)[23].starts_with(" Terms"), "the page that is opened is about what is outside");
    let mut empty = desk_on("", (80, 24));
    assert!(screen(&mut empty).join("\n").contains("Nothing is written yet:  F12"));
}

/// No key is cut off: it is whole on the foot, or the foot says where the rest is.
#[test]
fn no_key_is_cut_off() {
    let ways: [&[KeyCode]; 6] = [
        &[],
        &[KeyCode::Esc],
        &[KeyCode::F(4), KeyCode::Enter, KeyCode::Right],
        &[KeyCode::F(7)],
        &[KeyCode::F(6)],
        &[KeyCode::F(12)],
    ];
    let sizes = [(40, 12), (60, 16), (80, 24), (100, 30), (120, 40), (200, 60)];
    for (size, keyboard) in sizes.iter().flat_map(|size| [(*size, Keyboard::Whole), (*size, Keyboard::Short)]) {
        for keys in ways {
            let mut state = desk(size);
            state.theme = state.theme.with_keyboard(keyboard);
            for key in keys {
                press(&mut state, *key);
            }
            let rows = screen(&mut state);
            let foot = rows[rows.len().saturating_sub(4)..].join("\n");
            let (_, hints) = hints(&state);
            let is_whole = hints.iter().all(|hint| foot.contains(&format!("{} {}", hint.shown, hint.does)));
            let list = state.key_name(Command::Keys);
            let is_told = ["keys", "all keys"].iter().any(|told| foot.contains(&format!("{list} {told}")));
            assert!(is_whole || is_told, "{size:?} {keyboard:?} {keys:?}\n{foot}");
        }
    }
    // On a low screen the keys take the row that the measures leave.
    let rows = screen(&mut desk((60, 16)));
    assert!(rows[14].contains("F12 insert") && rows[13].contains("lines left"), "{rows:?}");
}

#[test]
fn a_key_that_would_do_nothing_is_not_offered() {
    let offered = |state: &State| hints(state).1.iter().map(|hint| hint.does).collect::<Vec<_>>();
    let mut state = desk((80, 24));
    assert!(!offered(&state).contains(&"undo"));
    typed(&mut state, "x");
    assert!(offered(&state).contains(&"undo"));
    press(&mut state, KeyCode::F(7));
    assert!(!offered(&state).contains(&"write to brief") && !offered(&state).contains(&"brief's own"));
    press(&mut state, KeyCode::Right);
    assert!(offered(&state).contains(&"write to brief") && offered(&state).contains(&"brief's own"));
    press(&mut state, KeyCode::Char('b'));
    press(&mut state, KeyCode::Char('p'));
    assert!(!offered(&state).contains(&"take away"));
    assert!(offered(&state).contains(&"undo"), "what was tried of the type is taken back here too");
    press(&mut state, KeyCode::End);
    assert!(offered(&state).contains(&"take away"), "the last value is that of a keep-out");
    press(&mut state, KeyCode::F(1));
    settle(&mut state);
    assert!(offered(&state).contains(&"more"));
    typed(&mut state, "largest");
    assert!(!offered(&state).contains(&"more"), "one way alone is found");
}

/// A word of what is wanted finds its key, and Enter does it.
#[test]
fn a_command_is_found_by_a_word_of_what_is_wanted() {
    let mut state = desk((80, 24));
    press(&mut state, KeyCode::F(1));
    typed(&mut state, "largest");
    assert!(screen(&mut state).join("\n").contains("▸ F7, then l"), "{}", screen(&mut state).join("\n"));
    assert!(screen(&mut state).join("\n").contains(" Enter does it."), "of one way no other is offered");
    press(&mut state, KeyCode::Enter);
    settle(&mut state);
    let largest = state.sheet().and_then(|sheet| sheet.now.report.fit.largest_size).expect("a size fits");
    assert_eq!(state.brief().typography.blurb.size, largest);
    for (words, first) in [
        ("smaller", "F7"),
        ("praise", "F12"),
        ("print", "Ctrl-P"),
        ("quit", "Ctrl-Q"),
        ("barcode", "F4"),
        ("HELP", "F1"),
        ("How do I make it smaller?", "F7"),
        ("I want to print this", "Ctrl-P"),
        ("write a review quote", "F12"),
        ("compare two drafts", "F9"),
    ] {
        let found = ways_to(words, Keyboard::Whole);
        assert!(found.first().is_some_and(|way| way.shown.starts_with(first)), "{words}: {found:?}");
    }
    assert!(
        ways_to("", Keyboard::Whole).is_empty()
            && ways_to("zebra", Keyboard::Whole).is_empty()
            && ways_to("  ", Keyboard::Whole).is_empty()
    );
    press(&mut state, KeyCode::F(1));
    typed(&mut state, "zebra");
    assert!(screen(&mut state).join("\n").contains("Nothing here goes by that word."));
    press(&mut state, KeyCode::Enter);
    assert!(matches!(state.mode, Mode::Keys(_)));
}

/// Every command is on the page of keys in a group, and a click on its line does it.
#[test]
fn the_list_of_keys_is_in_groups_and_a_click_does_what_a_line_says() {
    let mut state = desk((120, 60));
    press(&mut state, KeyCode::F(1));
    let mut seen = String::new();
    for _ in 0..12 {
        seen.push_str(&screen(&mut state).join("\n"));
        press(&mut state, KeyCode::PageDown);
    }
    assert!(WANTED.iter().all(|(name, _)| seen.contains(name)));
    assert!(KEYS.iter().all(|key| seen.contains(&format!("{}, or Esc {}", key.shown, key.letter))));
    let mut state = desk((120, 40));
    press(&mut state, KeyCode::F(1));
    let asked = click(&mut state, "save the draft", 1);
    assert!(matches!(asked.as_slice(), [Effect::Save { .. }]), "{asked:?}");
    assert!(matches!(state.mode, Mode::Writing));
}

/// The panel's page has its figures in the unit of the brief, says what each part is, and draws the panel once.
#[test]
fn the_page_of_the_panel_has_its_figures_and_one_picture() {
    let metric = "panel: { trim: 210 x 210 mm, margins: 12 mm, keep_out: [{ barcode: EAN-13, corner: foot-spine }] }\n";
    for size in [(60, 30), (80, 40), (100, 50), (120, 40), (200, 60)] {
        for (brief, told) in [(BRIEF, ["8.5 x 8.5 in", "0.5 in"]), (metric, ["210 x 210 mm", "12 mm"])] {
            let mut state = desk_of_words(brief, WHOLE, size);
            press(&mut state, KeyCode::F(4));
            let mut rows = String::new();
            for _ in 0..8 {
                rows.push_str(&screen(&mut state).join("\n"));
                press(&mut state, KeyCode::PageDown);
            }
            assert!(rows.contains("The back panel, seen from outside"), "{size:?}\n{rows}");
            for words in told.into_iter().chain(["trim", "live area", "margin at the head", "a keep-out: no copy"]) {
                assert!(rows.contains(words), "{size:?}: {words}\n{rows}");
            }
            assert_eq!(panes::pictures(&state).len(), 1, "{size:?}");
            press(&mut state, KeyCode::Enter);
            assert!(matches!(state.mode, Mode::Values(_)));
        }
    }
}

/// Lines over are drawn below the panel's foot in the colour of a fault, which the mark of the cursor has not, and no
/// name of a keep-out is lost in them.
#[test]
fn what_is_over_is_drawn_and_hides_no_name() {
    for size in [(120, 40), (200, 60)] {
        let mut state = over(size);
        let buffer = drawn(&mut state);
        let panel = state.areas().panel;
        let row = |y: u16| (panel.left()..panel.right()).map(|x| buffer[(x, y)].symbol()).collect::<String>();
        let foot = (panel.top()..panel.bottom()).find(|y| row(*y).contains('└')).expect("a foot");
        let is_stroke = |x: u16, y: u16| {
            let cell = &buffer[(x, y)];
            cell.fg == Color::Red && cell.symbol().chars().all(|sign| ('\u{2801}'..='\u{28ff}').contains(&sign))
        };
        let below = (foot + 1..panel.bottom()).filter(|y| (panel.left()..panel.right()).any(|x| is_stroke(x, *y)));
        assert!(below.count() > 2, "{size:?}\n{}", screen(&mut state).join("\n"));
        let shown = (panel.top()..panel.bottom()).map(row).collect::<Vec<_>>().join("\n");
        assert!(shown.contains("barcode") || shown.contains("a barcode"), "{shown}");
        let pointer = (panel.top()..panel.bottom())
            .flat_map(|y| (panel.left()..panel.right()).map(move |x| (x, y)))
            .find(|at| buffer[*at].symbol() == "▸");
        assert!(pointer.is_some_and(|at| buffer[at].fg != Color::Red), "{size:?}");
    }
}

/// The letter of a mark stands in a row of its box that has no copy, however small the picture is.
#[test]
fn the_letter_of_a_mark_does_not_lie_in_the_copy() {
    let brief = include_str!("../drafts/brief.yaml");
    for size in [(112, 30), (120, 40), (130, 34), (160, 45)] {
        let mut state = desk_of_words(brief, include_str!("../drafts/first.md"), size);
        let (rows, area) = (screen(&mut state), state.areas().panel);
        let rows = &rows[usize::from(area.y)..usize::from(area.bottom())];
        let is_stroke = |sign: Option<&char>| sign.is_some_and(|sign| ('\u{2801}'..='\u{28ff}').contains(sign));
        for row in rows.iter().filter(|row| !row.contains("barcode")) {
            let signs: Vec<char> = row.chars().skip(usize::from(area.x)).collect();
            let letters = signs.iter().enumerate().filter(|(_, sign)| matches!(sign, 'a' | 'b'));
            for (at, _) in letters {
                let beside = [at.checked_sub(1).and_then(|at| signs.get(at)), signs.get(at + 1)];
                assert!(!beside.into_iter().any(is_stroke), "{size:?}\n{}", rows.join("\n"));
            }
        }
    }
}

/// Lines that are equally far apart in print are so in the picture.
#[test]
fn the_lines_of_the_picture_are_spaced_as_in_print() {
    const BITS: [[u32; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];
    for size in [(120, 40), (200, 60)] {
        let mut state = desk_on(&"Every night Oona lights the lamp at the top of the stairs. ".repeat(10), size);
        let (buffer, panel) = (drawn(&mut state), state.areas().panel);
        // The dots of one column from head to foot.
        let x = panel.x + panel.width / 2;
        let column = (panel.top()..panel.bottom()).flat_map(|y| {
            let dots = buffer[(x, y)].symbol().chars().next().map_or(0, u32::from);
            let dots = if (0x2800..0x2900).contains(&dots) { dots - 0x2800 } else { 0 };
            BITS.map(|row| row.iter().any(|bit| dots & bit != 0))
        });
        let lines: Vec<usize> = column.enumerate().filter(|(_, inked)| *inked).map(|(at, _)| at).collect();
        let gaps: Vec<usize> = lines.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let usual = gaps.get(gaps.len() / 2).copied().expect("lines");
        let uneven = gaps.iter().filter(|gap| **gap != usual).count();
        assert!(gaps.len() > 6 && uneven <= 2, "{size:?} {gaps:?}");
    }
}

/// The terms stand one by one where there is room: which must be there and are missing first, and where the others are.
#[test]
fn a_wide_screen_tells_of_each_term() {
    let terms = "terms: [lamp, { term: kelp, must: true }, tide, { term: stairs, at_most: 1 }]";
    let brief = format!("panel: {{ trim: 8.5 x 8.5 in }}\n{terms}\n");
    let words = "# The stairs\n\nOona climbs the stairs. The lamp is out.\n";
    let mut state = desk_of_words(&brief, words, (200, 60));
    let rows = screen(&mut state);
    let told =
        |words: &str| rows.iter().any(|row| row.split_whitespace().collect::<Vec<_>>().join(" ").contains(words));
    for words in [
        "4 terms, 2 missing",
        "kelp missing; it must be there",
        "tide missing",
        "lamp once in line 2",
        "stairs 2 times",
    ] {
        assert!(told(words), "{words}\n{}", rows.join("\n"));
    }
    click(&mut state, "4 terms, 2 missing", 1);
    assert!(matches!(state.mode, Mode::Details(..)));
}

#[test]
fn a_sign_of_a_query_is_clicked_and_the_head_too() {
    let mut state = desk_on("The lamp is out.\n\nThe sea  is in.\n", (120, 40));
    let rows = screen(&mut state);
    let y = rows.iter().position(|row| row.starts_with(" ? The sea")).expect("a sign") as u16;
    let target = panes::hit(&state, 1, y);
    assert!(matches!(target, Some(blurbwright::desk::Target::Query(_))), "{target:?}");
    click(&mut state, "serif 13", 1);
    assert!(matches!(state.mode, Mode::Type), "{:?}", state.mode);
}

/// Each block is written in the form that it is read in, in one step that is taken back byte for byte.
#[test]
fn a_block_is_written_without_a_word_of_markup() {
    let answers =
        ["A lamp for Oona", "A light of a book.", "Ida Voss lives by the sea.", "One; Two", "Ages 4 to 8", "$18.99"];
    for words in ["", "The lamp is out.\n", WHOLE] {
        for (at, (kind, _)) in INSERTED.iter().enumerate() {
            let mut state = desk_on(words, (80, 24));
            press(&mut state, KeyCode::F(12));
            for _ in 0..at {
                press(&mut state, KeyCode::Down);
            }
            press(&mut state, KeyCode::Enter);
            typed(&mut state, answers[at]);
            press(&mut state, KeyCode::Enter);
            if *kind == BlockKind::Quote {
                typed(&mut state, "Ida Voss, librarian");
                press(&mut state, KeyCode::Enter);
            }
            let draft = Draft::read(text(&state));
            let found = |words: &str| draft.blocks.iter().find(|block| block.text() == words).map(|block| block.kind);
            match kind {
                BlockKind::Quote => {
                    assert_eq!(found("“A light of a book.”"), Some(BlockKind::Quote), "{}", text(&state));
                    let credit = draft.blocks.iter().find(|block| block.text().contains("Ida Voss, librarian"));
                    assert_eq!(credit.map(|block| block.kind), Some(BlockKind::Credit), "{}", text(&state));
                }
                BlockKind::OtherTitles => {
                    assert_eq!((found("One"), found("Two")), (Some(*kind), Some(*kind)), "{}", text(&state));
                }
                _ => assert_eq!(found(answers[at]), Some(*kind), "{}", text(&state)),
            }
            assert!(screen(&mut state)[16].contains("is in the draft"));
            control(&mut state, 'z');
            assert_eq!(text(&state), words);
        }
    }
    // Going back loses nothing that was typed: neither from the credit nor from the words of a block.
    let mut state = desk_on("The lamp is out.\n", (80, 24));
    press(&mut state, KeyCode::F(12));
    press(&mut state, KeyCode::Down);
    press(&mut state, KeyCode::Enter);
    typed(&mut state, "A light of a book.");
    press(&mut state, KeyCode::Enter);
    press(&mut state, KeyCode::Esc);
    assert!(screen(&mut state)[23].contains("The quote, word for word: A light of a book."));
    press(&mut state, KeyCode::Esc);
    assert!(matches!(state.mode, Mode::Inserting(1)), "{:?}", state.mode);
    press(&mut state, KeyCode::Esc);
    press(&mut state, KeyCode::F(12));
    press(&mut state, KeyCode::Down);
    press(&mut state, KeyCode::Enter);
    assert!(screen(&mut state)[23].contains("A light of a book."));
    let mut state = desk_on(WHOLE, (80, 24));
    press(&mut state, KeyCode::F(12));
    click(&mut state, "price line", 2);
    assert!(screen(&mut state)[23].contains("The price line"), "{:?}", screen(&mut state)[23]);
}

/// Words of the trade are explained on the page on which they are met.
#[test]
fn words_of_the_trade_are_explained_where_they_are_met() {
    let mut state = desk((80, 24));
    control(&mut state, 'o');
    let rows = screen(&mut state).join(" ");
    assert!(
        rows.contains("\"In front\" is the draft that you write in.") && rows.contains("\"Double\" copies"),
        "{rows}"
    );
    let mut state = desk_on("The tide  is out.\n", (80, 24));
    press(&mut state, KeyCode::F(6));
    press(&mut state, KeyCode::Char('s'));
    let said = screen(&mut state).join(" ");
    assert!(state.said.is_some() || said.contains("stet"), "{said}");
}
