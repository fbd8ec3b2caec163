//! What stands below the panel: what was measured, and what is to be borne in mind.

use crate::brief::Panel;
use crate::print::words::{counted, fit_sentence, told};
use crate::report::Report;
use crate::units::trimmed;

/// What is to be borne in mind with every proof.
pub const CAUTIONS: [&str; 5] = [
    "Print at 100 % and measure the rule above before trusting anything on this sheet.",
    "The printer's own specification governs bleed, margins, joint, barcode and black; the figures here are habits.",
    "This is not artwork for press.",
    "Scan a printed barcode before the run.",
    "Quotes need permission and the giver's exact words.",
];

/// What was measured on a draft, one paragraph each.
pub fn facts(report: &Report, panel: &Panel) -> Vec<String> {
    let fit = &report.fit;
    let outside: Vec<String> = report.verdict.outside().map(|check| told(check, report)).collect();
    let verdict = if outside.is_empty() {
        "Verdict: within every limit.".to_owned()
    } else {
        format!("Verdict: outside {}: {}.", counted(outside.len(), "limit"), outside.join("; "))
    };
    vec![
        verdict,
        format!("Fit: {}.", fit_sentence(report)),
        format!(
            "Type of the blurb: {} at {} on {}, x-height {} mm. Small type shuts readers out.",
            fit.font,
            fit.size,
            fit.leading,
            trimmed(fit.x_height.to_mm(), 2)
        ),
        of_panel(panel),
    ]
}

/// The panel in one sentence.
pub fn of_panel(panel: &Panel) -> String {
    let mm = |length: crate::units::Length| trimmed(length.to_mm(), 1);
    let live = panel.live_area();
    let keep_outs: Vec<String> = panel
        .keep_outs
        .iter()
        .map(|keep_out| {
            let clear = if keep_out.clearance > crate::units::Length::ZERO {
                format!(" and {} mm clear round it", mm(keep_out.clearance))
            } else {
                String::new()
            };
            format!("{} {} x {} mm{clear}", keep_out.name, mm(keep_out.rect.width), mm(keep_out.rect.height))
        })
        .collect();
    let kept = if keep_outs.is_empty() { "none".to_owned() } else { keep_outs.join("; ") };
    format!(
        "Panel: trim {} x {} mm, bleed {} mm, live area {} x {} mm. Keep-outs: {kept}.",
        mm(panel.trim.width),
        mm(panel.trim.height),
        mm(panel.bleed),
        mm(live.width),
        mm(live.height)
    )
}
