//! Damaged documents, by their seeds: each is read or refused with one line, and none stops the program.
//!
//! `BLURBWRIGHT_SEEDS` asks for other seeds than the first ones: `1000000` for so many, `5..6` for some.

use std::ops::Range;

use blurbwright::documents;
use blurbwright::draft::Draft;

use super::files::{STYLES, docx, odt, paragraph, run, zip};
use crate::random::Random;
use crate::tried::tried;

/// How many are tried where all cases are.
const DAMAGED: u32 = 3_000;

fn seeds() -> Range<u64> {
    let asked = std::env::var("BLURBWRIGHT_SEEDS").ok().and_then(|asked| match asked.split_once("..") {
        Some((from, to)) => Some(from.parse().ok()?..to.parse().ok()?),
        None => Some(1..asked.parse::<u64>().ok()? + 1),
    });
    asked.unwrap_or(1..u64::from(tried(DAMAGED)) + 1)
}

/// The parts of a .docx and of an .odt that have much in them.
fn parts() -> [(&'static str, String); 3] {
    let emphasis = [run("", "Every "), run("<w:i/>", "night"), run("<w:vanish/>", "gone")].concat();
    let field = "<w:r><w:fldChar w:fldCharType=\"begin\"/></w:r><w:ins><w:r><w:tab/><w:br/></w:r></w:ins>";
    let cell =
        format!("<w:tbl><w:tr><w:trPr><w:del/></w:trPr><w:tc>{}</w:tc></w:tr></w:tbl>", paragraph("Zitat", &emphasis));
    let body = [paragraph("Titel", &emphasis), paragraph("MeinZitat", field), cell, paragraph("X", &emphasis)].concat();
    let text = "<o:document-content xmlns:o=\"o\"><o:automatic-styles><s:style s:name=\"T1\" s:family=\"text\">\
                <s:text-properties f:font-weight=\"bold\"/></s:style></o:automatic-styles><o:body><t:tracked-changes>\
                <t:deletion><t:p>Gone</t:p></t:deletion></t:tracked-changes><t:h t:outline-level=\"1\">Lamp</t:h>\
                <t:p>A <t:span t:style-name=\"T1\">tide<t:s t:c=\"3\"/></t:span>&amp;<t:note><t:p>n</t:p></t:note>\
                </t:p>\
                <t:list><t:list-item><t:p>Low</t:p></t:list-item></t:list></o:body></o:document-content>";
    [
        ("word/document.xml", format!("<w:document xmlns:w=\"w\"><w:body>{body}</w:body></w:document>")),
        ("word/styles.xml", format!("<w:styles xmlns:w=\"w\">{STYLES}</w:styles>")),
        ("content.xml", text.to_owned()),
    ]
}

/// Bytes with a few of them another, missing, there twice, or cut off.
fn damaged(whole: &[u8], random: &mut Random) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=random.below(4) {
        if bytes.is_empty() {
            break;
        }
        let at = random.place(bytes.len());
        let end = (at + 1 + random.place(12)).min(bytes.len());
        match random.below(6) {
            0 => bytes[at] ^= 1 << random.below(8),
            1 => bytes[at] = random.below(256) as u8,
            2 => drop(bytes.drain(at..end)),
            3 => {
                let part = bytes[at..end].to_vec();
                let to = random.place(bytes.len());
                bytes.splice(to..to, part);
            }
            4 => bytes[at] = b"<>/&\"= :"[random.place(8)],
            _ => bytes.truncate(at.max(1)),
        }
    }
    bytes
}

/// A document of a seed: damaged inside, and packed whole; or whole inside, and its file damaged.
fn document(seed: u64) -> Vec<u8> {
    let mut random = Random(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
    let [body, styles, text] = parts();
    if random.below(4) == 0 {
        let whole = if random.below(2) == 0 { docx(&body.1, STYLES, "") } else { odt("", "<text:p>A tide.</text:p>") };
        return damaged(&whole, &mut random);
    }
    let mut inside = |(name, xml): &(&'static str, String)| {
        (*name, String::from_utf8_lossy(&damaged(xml.as_bytes(), &mut random)).into_owned())
    };
    let parts = if seed.is_multiple_of(3) { vec![inside(&text)] } else { vec![inside(&body), inside(&styles)] };
    zip(&parts.iter().map(|(name, xml)| (*name, xml.as_str())).collect::<Vec<_>>())
}

#[test]
fn damaged_documents_end() {
    let (mut read, mut refused) = (0, 0);
    for seed in seeds() {
        match documents::read(&document(seed)) {
            Ok(copy) => {
                read += 1;
                // What was read is a draft.
                let draft = Draft::read(&copy.markdown);
                assert!(copy.told.iter().all(|told| !told.contains('\n')) && draft.blocks.len() < 100, "{seed}");
            }
            Err(fault) => {
                refused += 1;
                assert!(!fault.problem.contains('\n') && !fault.remedy.is_empty(), "{seed}: {}", fault.problem);
            }
        }
    }
    assert!(read + refused < 100 || (read > 0 && refused > 0), "{read} read, {refused} refused");
}
