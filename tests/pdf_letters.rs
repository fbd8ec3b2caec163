//! A PDF as another program reads it: the letters of its pages, each with its text and its place.
//!
//! Only what the program writes is understood: streams packed with Flate, codes of two bytes, text in `TJ`.

#![expect(clippy::expect_used, reason = "a test stops where it cannot go on")]

use std::collections::BTreeMap;

/// A letter as a reader finds it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ReadLetter {
    /// What the letter stands for; empty where the file does not say.
    pub(crate) text: String,
    /// Where the letter begins, in points from the left edge of the page.
    pub(crate) x: f64,
    /// The letter's baseline, in points from the head of the page.
    pub(crate) y: f64,
}

/// A dictionary of the file as text, and the stream behind it, unpacked.
type Object = (String, Vec<u8>);

/// What the file says of one font: the text of each code, and all advances in thousandths of the size.
struct ReadFont {
    texts: BTreeMap<u16, String>,
    widths: Vec<f64>,
}

fn find(pdf: &[u8], from: usize, what: &[u8]) -> Option<usize> {
    pdf[from..].windows(what.len()).position(|part| part == what).map(|place| from + place)
}

fn number_at(text: &str) -> usize {
    let digits: String = text.trim_start().chars().take_while(char::is_ascii_digit).collect();
    digits.parse().unwrap_or_else(|_| panic!("a number: {text}"))
}

/// The objects of a file by their numbers.
pub(crate) fn objects(pdf: &[u8]) -> BTreeMap<usize, Object> {
    let table = find(pdf, 0, b"xref\n").expect("a table of objects");
    let table = String::from_utf8_lossy(&pdf[table..]).into_owned();
    table.lines().filter(|line| line.trim_end().ends_with(" n")).map(|line| object(pdf, number_at(line))).collect()
}

fn object(pdf: &[u8], start: usize) -> (usize, Object) {
    let body = find(pdf, start, b"obj").expect("an object") + 3;
    let end = find(pdf, body, b"endobj").expect("the object's end");
    let stream = find(pdf, body, b"stream").filter(|stream| *stream < end);
    let dict = String::from_utf8_lossy(&pdf[body..stream.unwrap_or(end)]).into_owned();
    let data = stream.map_or_else(Vec::new, |stream| {
        let data = stream + b"stream\n".len();
        let (_, length) = dict.split_once("/Length ").expect("a length");
        let data = &pdf[data..data + number_at(length)];
        if dict.contains("/FlateDecode") {
            miniz_oxide::inflate::decompress_to_vec_zlib(data).expect("packed data")
        } else {
            data.to_vec()
        }
    });
    (number_at(&String::from_utf8_lossy(&pdf[start..body])), (dict, data))
}

/// The object that a key of a dictionary refers to.
fn of<'a>(objects: &'a BTreeMap<usize, Object>, dict: &str, key: &str) -> &'a Object {
    let (_, after) = dict.split_once(key).unwrap_or_else(|| panic!("{key}: {dict}"));
    &objects[&number_at(after.trim_start_matches('['))]
}

/// The letters of each page, in the order in which they are written.
pub(crate) fn pages(pdf: &[u8]) -> Vec<Vec<ReadLetter>> {
    let objects = objects(pdf);
    let pages = objects.values().filter(|(dict, _)| dict.contains("/Type/Page/"));
    pages
        .map(|(dict, _)| {
            let fonts = &of(&objects, dict, "/Resources ").0;
            letters(&of(&objects, dict, "/Contents ").1, |name| font(&objects, fonts, name))
        })
        .collect()
}

fn font(objects: &BTreeMap<usize, Object>, fonts: &str, name: &str) -> ReadFont {
    let composite = &of(objects, fonts, &format!("/{name} ")).0;
    let cmap = String::from_utf8_lossy(&of(objects, composite, "/ToUnicode ").1).into_owned();
    let pairs = cmap.lines().filter_map(|line| line.strip_prefix('<')?.strip_suffix('>')?.split_once("> <"));
    let texts = pairs.filter(|(code, _)| *code != "0000").map(|(code, text)| {
        let units: Vec<u16> = text.as_bytes().chunks(4).map(hex).collect();
        (hex(code.as_bytes()), String::from_utf16(&units).expect("UTF-16"))
    });
    let widths = &of(objects, composite, "/DescendantFonts").0;
    let (_, widths) = widths.split_once("/W[0[").expect("advances");
    let widths = widths.split(']').next().unwrap_or_default().split(' ');
    ReadFont { texts: texts.collect(), widths: widths.map(|width| width.parse().expect("a width")).collect() }
}

fn hex(digits: &[u8]) -> u16 {
    u16::from_str_radix(&String::from_utf8_lossy(digits), 16).expect("digits of sixteen")
}

/// One word of a page's content.
enum Word {
    Number(f64),
    Text(Vec<u8>),
    Other(String),
}

/// The letters that a page's content draws; `font` reads a font by its name.
fn letters(content: &[u8], font: impl Fn(&str) -> ReadFont) -> Vec<ReadLetter> {
    let mut fonts: BTreeMap<String, ReadFont> = BTreeMap::new();
    let (mut name, mut size, mut at) = (String::new(), 0.0, [0.0; 6]);
    let mut first = true;
    let (mut operands, mut found) = (Vec::new(), Vec::new());
    for word in words(content) {
        let Word::Other(operator) = &word else {
            operands.push(word);
            continue;
        };
        if let Some(called) = operator.strip_prefix('/') {
            name = called.to_owned();
            continue;
        }
        let numbers: Vec<f64> = operands
            .iter()
            .filter_map(|word| if let Word::Number(number) = word { Some(*number) } else { None })
            .collect();
        match operator.as_str() {
            // What comes after it turns single pictures.
            "cm" if first => {
                assert_eq!(numbers[..5], [1.0, 0.0, 0.0, -1.0, 0.0], "places count from the head");
                first = false;
            }
            "Tf" => size = numbers[0],
            "Tm" => at.copy_from_slice(&numbers),
            "TJ" => {
                let font = fonts.entry(name.clone()).or_insert_with(|| font(&name));
                for operand in &operands {
                    match operand {
                        Word::Number(back) => at[4] -= back / 1000.0 * size * at[0],
                        Word::Text(codes) => {
                            for code in codes.chunks(2) {
                                let code = u16::from_be_bytes([code[0], code[1]]);
                                let text = font.texts.get(&code).cloned().unwrap_or_default();
                                found.push(ReadLetter { text, x: at[4], y: at[5] });
                                at[4] += font.widths[usize::from(code)] / 1000.0 * size * at[0];
                            }
                        }
                        Word::Other(_) => {}
                    }
                }
            }
            _ => {}
        }
        operands.clear();
    }
    found
}

fn words(content: &[u8]) -> Vec<Word> {
    let mut words = Vec::new();
    let mut rest = content;
    while let Some((first, after)) = rest.split_first() {
        match first {
            b'(' => {
                let (text, after) = literal(after);
                words.push(Word::Text(text));
                rest = after;
            }
            b'<' => {
                let end = after.iter().position(|byte| *byte == b'>').expect("the end of a text");
                let bytes = after[..end].chunks(2).map(|digits| hex(digits) as u8);
                words.push(Word::Text(bytes.collect()));
                rest = &after[end + 1..];
            }
            b' ' | b'\n' | b'[' | b']' => rest = after,
            _ => {
                let end = after.iter().position(|byte| b" \n[]()<>/".contains(byte)).unwrap_or(after.len());
                let word = String::from_utf8_lossy(&rest[..=end]).into_owned();
                words.push(word.parse().map_or(Word::Other(word), Word::Number));
                rest = &after[end..];
            }
        }
    }
    words
}

/// The bytes of a text between parentheses, and what follows it.
fn literal(mut rest: &[u8]) -> (Vec<u8>, &[u8]) {
    let (mut text, mut open) = (Vec::new(), 0);
    while let Some((first, after)) = rest.split_first() {
        rest = after;
        match first {
            b')' if open == 0 => break,
            b'\\' => {
                // Three digits of eight are a byte that cannot be shown.
                let octal = rest.iter().take_while(|byte| (b'0'..=b'7').contains(*byte)).count().min(3);
                let escaped = match octal {
                    0 => *b"nrtbf"
                        .iter()
                        .zip(b"\n\r\t\x08\x0c")
                        .find_map(|(name, byte)| (*name == rest[0]).then_some(byte))
                        .unwrap_or(&rest[0]),
                    _ => rest[..octal].iter().fold(0, |byte, digit| byte * 8 + (digit - b'0')),
                };
                rest = &rest[octal.max(1)..];
                text.push(escaped);
                continue;
            }
            b'(' => open += 1,
            b')' => open -= 1,
            _ => {}
        }
        text.push(*first);
    }
    (text, rest)
}
