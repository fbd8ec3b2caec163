//! The text below the panel: what was measured, and cautions.

use crate::art::lines::Grade;
use crate::brief::Brief;
use crate::brief::cover::Spine;
use crate::brief::panel::{Binding, KeepOut};
use crate::print::words::{
    counted, estimate, fit_sentence, lost_on_art, spine_line, stood_in, straight_marks, style_missing, told, type_words,
};
use crate::report::Report;
use crate::report::panel::symbols;
use crate::report::verdict::{Check, Subject};
use crate::units::{Length, trimmed};

/// The cautions on every proof.
pub const CAUTIONS: [&str; 5] = [
    "Print at 100 % and measure the rule above before trusting anything on this sheet.",
    "The printer's own specification governs bleed, margins, joint, barcode and black; the figures here are habits.",
    "This is not artwork for press.",
    "Scan a printed barcode before the run.",
    "Quotes need permission and the giver's exact words.",
];

/// What was measured on a draft, one paragraph each. That the title is lost on the art is told on the spine's own
/// sheet.
pub fn facts(report: &Report, brief: &Brief, is_spine: bool) -> Vec<String> {
    let fit = &report.fit;
    let outside: Vec<String> = report.verdict.outside().map(|check| told_on(check, report, is_spine)).collect();
    let verdict = if outside.is_empty() {
        "Verdict: within every limit.".to_owned()
    } else {
        format!("Verdict: outside {}: {}.", counted(outside.len(), "limit"), outside.join("; "))
    };
    let mut facts = vec![
        verdict,
        sentence(&fit_sentence(report)),
        format!(
            "Type of the blurb: {} at {} on {}, x-height {} mm. Small type shuts readers out.",
            type_words(fit),
            fit.size,
            fit.leading,
            trimmed(fit.x_height.to_mm(), 2)
        ),
        of_panel(brief),
    ];
    facts.extend(brief.spine.as_ref().map(|spine| of_spine(spine, brief)));
    facts.extend(fit.spine.as_ref().map(|title| sentence(&spine_line(title))));
    let drawn =
        |stand_in| format!("{}. Its letters are drawn as the serif's, made wider or narrower", estimate(stand_in));
    facts.extend(fit.estimated.iter().map(|stand_in| sentence(&drawn(stand_in))));
    facts.extend(fit.styles_missing.iter().map(|missing| sentence(&style_missing(missing))));
    facts.extend(fit.stood_in.iter().map(|letters| sentence(&stood_in(letters))));
    if report.straight_marks > 0 {
        facts.push(sentence(&straight_marks(report.straight_marks)));
    }
    facts.extend(symbols(&brief.panel).map(|note| sentence(&note)));
    facts.extend(report.panel_notes.iter().map(|note| sentence(note)));
    facts
}

fn told_on(check: &Check, report: &Report, is_spine: bool) -> String {
    let lost = report.legibility.as_ref().filter(|art| check.subject == Subject::LinesLost && art.is_title_lost());
    match lost.filter(|_| !is_spine).map(|art| art.lines_of(Grade::Lost)) {
        None => told(check, report),
        Some(0) => "what the sheet of the spine tells".to_owned(),
        Some(lines) => lost_on_art(lines, false),
    }
}

/// A description of the panel in a few sentences.
pub fn of_panel(brief: &Brief) -> String {
    let panel = &brief.panel;
    let face = panel.face();
    let keep_outs: Vec<String> = panel.keep_outs.iter().map(of_keep_out).collect();
    let kept = if keep_outs.is_empty() { "none".to_owned() } else { keep_outs.join("; ") };
    let boards = if panel.binding == Binding::Paperback {
        String::new()
    } else {
        format!(", {} {}", panel.binding.edges(), size(face.width, face.height))
    };
    format!(
        "Panel of a {}: trim {}{boards}, {} {} mm, live area {}. Keep-outs: {kept}.",
        brief.bound_as(),
        size(panel.trim.width, panel.trim.height),
        panel.binding.art(),
        mm(panel.bleed),
        size(panel.live_area().width, panel.live_area().height)
    )
}

/// A description of the spine in a sentence.
fn of_spine(spine: &Spine, brief: &Brief) -> String {
    format!(
        "Spine {}, {} mm clear of either fold, {} mm at its head and {} mm at its foot.",
        size(spine.width, brief.panel.face().height),
        mm(spine.clear),
        mm(spine.head),
        mm(spine.foot)
    )
}

fn of_keep_out(keep_out: &KeepOut) -> String {
    let clear = if keep_out.clearance > Length::ZERO {
        format!(" and {} mm clear round it", mm(keep_out.clearance))
    } else {
        String::new()
    };
    format!("{} {}{clear}", keep_out.name, size(keep_out.rect.width, keep_out.rect.height))
}

fn size(width: Length, height: Length) -> String {
    format!("{} x {} mm", mm(width), mm(height))
}

fn mm(length: Length) -> String {
    trimmed(length.to_mm(), 1)
}

/// The words with a capital at the start and a full stop at the end.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map_or(String::new(), |first| first.to_uppercase().collect());
    format!("{first}{}.", letters.as_str())
}
