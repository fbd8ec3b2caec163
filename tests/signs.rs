//! The signs that the desk draws with: what the fonts of Windows' console have, and how wide they are.

use blurbwright::desk::event::Outcome;
use blurbwright::desk::keys::KEYS;
use blurbwright::desk::theme::{Colours, Letters, Signs, Theme};
use blurbwright::desk::{Effect, Event, update};
use blurbwright::pictures::Raster;
use blurbwright::pictures::blocks::{Blocks, ColourDepth, cells};
use ratatui::crossterm::event::KeyCode;
use unicode_width::UnicodeWidthStr;

use super::desk_harness::{desk_with, done, press, screen};

/// The signs of Windows Glyph List 4 from U+2013 on, and those of Latin-1. Source: OpenType specification, WGL4.
const LISTED: &str = "¡¢£¤¥¦§¨©ª«¬®¯°±²³´µ¶·¸¹º»¼½¾¿×÷\
    –—―‗‘’‚‛“”„†‡•…‰′″‹›‼‾⁄ⁿ₣₤₧€℅ℓ№™Ω℮⅛⅜⅝⅞←↑→↓↔↕↨∂∆∏∑−∕∙√∞∟∩∫≈≠≡≤≥⌂⌐⌠⌡\
    ─│┌┐└┘├┤┬┴┼═║╒╓╔╕╖╗╘╙╚╛╜╝╞╟╠╡╢╣╤╥╦╧╨╩╪╫╬▀▄█▌▐░▒▓■□▪▫▬▲►▼◄◊○●◘◙◦☺☻☼♀♂♠♣♥♦♪♫";

/// Signs whose width is ambiguous by Unicode Standard Annex #11: one cell wide, but two where a terminal is set up for
/// Chinese, Japanese or Korean. They stay, since the text of the copy has such signs too (dashes, dots, quotation
/// marks), and nothing in their place is narrow there: lines of boxes are ambiguous as a whole. Where they stand out
/// of line, a locale without UTF-8, such as C, has the desk drawn in ASCII.
const AMBIGUOUS: &str = "─━▏·┄├┤●═○–×┌┐┘└│╭╮╯╰";

/// Every sign that a theme draws with.
fn all(signs: &Signs) -> Vec<&'static str> {
    let Signs { rule, foot, edge, line_end, goes_on, point, scale, ends, value, band, terms, room, .. } = *signs;
    let Signs { pointer, dash, minus, grades, brackets, panel, inside, .. } = *signs;
    let single = [rule, foot, edge, line_end, goes_on, point, value, band, pointer, dash, minus];
    let pairs = [scale, ends, terms, room, grades, brackets];
    let boxes = [panel, inside];
    single.into_iter().chain(pairs.into_iter().flatten()).chain(boxes.into_iter().flatten()).collect()
}

fn signs(letters: Letters) -> Vec<&'static str> {
    all(&Theme::new(Colours::Sixteen, letters).signs)
}

fn is_drawn_on_a_console(sign: char) -> bool {
    sign.is_ascii() || LISTED.contains(sign)
}

#[test]
fn every_sign_of_the_console_is_one_that_its_fonts_have() {
    assert_eq!(signs(Letters::Console).into_iter().find(|sign| !sign.chars().all(is_drawn_on_a_console)), None);
    assert_eq!(signs(Letters::Ascii).into_iter().find(|sign| !sign.is_ascii()), None);
    // Where the fonts have it, the console has what every other terminal has.
    for (console, unicode) in signs(Letters::Console).into_iter().zip(signs(Letters::Unicode)) {
        let is_listed = unicode.chars().all(is_drawn_on_a_console);
        assert!(!is_listed || console == unicode || console.is_ascii(), "{console} for {unicode}");
    }
}

#[test]
fn every_sign_is_one_cell_wide_and_those_that_might_be_two_are_told() {
    for letters in [Letters::Unicode, Letters::Console, Letters::Ascii] {
        for sign in signs(letters) {
            assert_eq!((sign.chars().count(), sign.width()), (1, 1), "{sign} of {letters:?}");
            assert_eq!(sign.width_cjk() == 2, AMBIGUOUS.contains(sign), "{sign} of {letters:?}");
        }
    }
}

/// A draft of ASCII letters alone: all else on the screen is drawn by the desk.
const PLAIN: &str = "# The Light Is Out\n\nEvery night Oona climbs the stairs\nwith her father  to the lamp.\n\n\
                     > \"A lamp of a book.\"\n> - Ida Voss\n\n\u{7}Tonight he is away, and the fog is coming in.\n";

#[test]
fn nothing_is_drawn_on_a_console_that_its_fonts_lack() {
    let mut seen = String::new();
    for key in KEYS {
        for size in [(80, 24), (120, 40)] {
            let mut state = desk_with(PLAIN, size, Letters::Console);
            press(&mut state, KeyCode::F(2));
            press(&mut state, KeyCode::F(2));
            for effect in update(&mut state, Event::Key(key.event())) {
                if let Effect::LookAt { draft, .. } = effect {
                    done(&mut state, Outcome::LookedAt { draft, text: "# Another\n\nAnother lamp.\n".to_owned() });
                }
            }
            for _ in 0..3 {
                seen.push_str(&screen(&mut state).concat());
                press(&mut state, KeyCode::PageDown);
            }
        }
    }
    let strange: Vec<char> = seen.chars().filter(|sign| !is_drawn_on_a_console(*sign)).collect();
    assert!(strange.is_empty(), "{strange:?}");
    assert!(['─', '│', '┌', '▬'].into_iter().all(|sign| seen.contains(sign)), "boxes and lines are drawn");
}

#[test]
fn art_on_a_console_is_drawn_by_half_blocks() {
    let pixels: Vec<[u8; 3]> = (0..64 * 64_u32).map(|at| [(at * 37 % 256) as u8, (at * 91 % 256) as u8, 40]).collect();
    let raster = Raster { width: 64, height: 64, pixels };
    let signs = |blocks| -> String {
        cells(&raster, ColourDepth::True, blocks).concat().iter().map(|cell| cell.sign).collect()
    };
    assert!(signs(Blocks::Halves).chars().all(is_drawn_on_a_console));
    assert!(!signs(Blocks::Quarters).chars().all(is_drawn_on_a_console), "quarters are no half blocks");
}
