//! The art of a book's faces in words: what each picture is as it is printed, and what of it should be looked at.

use super::sheet::TextPage;
use super::visible::visible;
use super::words::joined;
use crate::art::facts::{ArtFacts, ArtFinding, LEAST_PPI, MOST_INK, USUAL_PPI};
use crate::artwork::picture::ColourModel;
use crate::brief::art::ArtExtent;
use crate::brief::lengths::Unit;
use crate::brief::place::CoverFace;
use crate::units::nouns::{agrees, in_number};
use crate::units::trimmed;

/// Writes a line for each piece of art, and an item for each thing about it that should be looked at.
pub(super) fn write(sheet: &mut TextPage, art: &[ArtFacts]) {
    for (number, facts) in art.iter().enumerate() {
        sheet.labelled(if number == 0 { "Art" } else { "" }, &told(facts));
        for sentence in sentences(facts) {
            sheet.item(&sentence);
        }
    }
}

/// A piece of art as it is printed: its file, its pixels and colours, and how far it goes.
pub(super) fn told(facts: &ArtFacts) -> String {
    let ArtFacts { face, place, file, kind, placed, pixels: (columns, rows), model, .. } = facts;
    let own = place.as_ref().map(|place| format!("in \"{}\", ", visible(place)));
    let on = if *face == CoverFace::Panel { String::new() } else { format!("on the {}, ", face.name()) };
    let goes = match placed {
        _ if place.is_some() => "",
        ArtExtent::Bleed => " to the bleed",
        ArtExtent::Trim => " to the trim",
    };
    let file = file.to_string_lossy();
    let ppi = facts.whole_ppi();
    let told = own.unwrap_or_else(|| format!("{on}{kind}, "));
    format!("{}, {told}{columns} x {rows} pixels, {}: {ppi} to the inch{goes}", visible(&file), colours(*model))
}

/// The colours of a file's pixels, as a page names them.
pub(super) fn colours(model: ColourModel) -> &'static str {
    match model {
        ColourModel::Grey => "grey",
        ColourModel::Rgb => "RGB",
        ColourModel::Cmyk => "CMYK",
    }
}

/// What should be known of a piece of art, a sentence each without its stop: what was found under its name, then how
/// far its colours can be trusted.
pub(super) fn sentences(facts: &ArtFacts) -> Vec<String> {
    let found = facts.findings.iter().map(|finding| format!("{}: {}", finding.name(), says(finding, facts)));
    let rough = match (&facts.profile, facts.model) {
        (_, ColourModel::Cmyk) => Some(
            "its four inks are shown by a plain rule and not by the press's profile, so what is told of its colours is \
             rough"
                .to_owned(),
        ),
        (Some(profile), _) => Some(format!(
            "its colours are meant for \"{}\" and are taken for sRGB, so what is told of them is rough",
            visible(profile)
        )),
        (None, _) => None,
    };
    found.chain(rough).collect()
}

/// One finding in words.
pub(super) fn says(finding: &ArtFinding, facts: &ArtFacts) -> String {
    match finding {
        ArtFinding::TooSmall => format!(
            "it has {} pixels to the inch where it is printed; printers ask for {USUAL_PPI}, and under {LEAST_PPI} the \
             pixels show",
            facts.whole_ppi()
        ),
        ArtFinding::OtherShape => format!("its shape is not that of its place, so {} cut off", cut(facts)),
        ArtFinding::StopsAtTrim => {
            "it stops at the trim, so a cut that is a little off shows white; let it go on to the bleed".to_owned()
        }
        ArtFinding::BlankBleed(edges) => format!(
            "the art goes up to the trim and stops there at {}, so a cut that is a little off shows white",
            edges_of(edges)
        ),
        ArtFinding::TooMuchInk(share) => format!(
            "up to {} % of ink, all inks together, and {} % of it has more than {MOST_INK} %, which dries badly; ask \
             the printer for the limit",
            facts.most_ink.unwrap_or_default(),
            trimmed((share * 1000.0).ceil() / 10.0, 1)
        ),
        ArtFinding::GreyPaper(lightness) => format!(
            "the paper round the drawings is not white (L* {} of 100), so it prints as a tone; make it white",
            trimmed(*lightness, 1)
        ),
        ArtFinding::NearTrim(edges) => format!(
            "a drawing ends within 3 mm of the trim at {}; move it in, or let it run on into the bleed",
            edges_of(edges)
        ),
        ArtFinding::Seam(off) => format!(
            "back and front do not meet at the spine: their lightness differs there by {} of 100",
            trimmed(*off, 1)
        ),
        ArtFinding::OverFold => {
            "the tint behind the copy reaches over the fold at the spine; give it a smaller pad, or the panel a wider \
             margin at the spine"
                .to_owned()
        }
        ArtFinding::Crowded(lines) => {
            let numbers = joined(lines.iter().map(|line| (line + 1).to_string()).collect());
            format!(
                "{} {numbers} {} closer to a drawing than a line is high",
                in_number(lines.len(), "line"),
                agrees(lines.len(), "stands", "stand")
            )
        }
    }
}

fn edges_of(edges: &[&str]) -> String {
    joined(edges.iter().map(|edge| format!("the {edge}")).collect())
}

/// What the shape of the art loses, with its verb: `6.4 mm at the sides is`.
fn cut(facts: &ArtFacts) -> String {
    let (across, down) = facts.cut;
    let (length, place) = if across > down { (across, "at the sides") } else { (down, "at head and foot") };
    format!("{} of it {place}, together, is", Unit::Millimetres.told(length))
}
