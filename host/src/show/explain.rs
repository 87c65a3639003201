//! The uncertainty of each conductor, cause by cause, and the rule that it was judged by.

use runproof_interpret::judgement::{Budget, Conductor, Loop, Reason, Verdict};
use runproof_interpret::{Capture, Judgement, LimitSheet, posts_touched};

use super::terminal::{headline, paragraph};
use super::{to_earth, words};

pub(crate) fn budgets(capture: &Capture, judgement: &Judgement, sheet: &LimitSheet) -> String {
    let mut lines = headline(judgement);
    if let Some(told) = &judgement.to_earth {
        to_earth::explained(&mut lines, told, judgement, sheet);
    }
    for one in &judgement.conductors {
        lines.push(String::new());
        match (one.resistance_ohm, one.expanded_uncertainty_ohm, one.budget) {
            (Some(ohm), Some(u_ohm), Some(budget)) => {
                conductor(&mut lines, one, (ohm, u_ohm), budget.coverage_factor());
                table(&mut lines, &budget, capture, sheet);
            }
            _ => {
                let name = words::conductor(one.name);
                lines.push(format!(
                    "{name}, post {}: no number ({}).",
                    one.post,
                    words::reason(one.reason)
                ));
            }
        }
    }
    for row in &judgement.loops {
        lines.push(String::new());
        around(&mut lines, row, judgement);
    }
    if judgement.to_earth.is_some() {
        return joined(&lines);
    }
    touches(&mut lines, capture, judgement, sheet);
    lines.push(String::new());
    paragraph(&mut lines, "rule", words::decision_rule(judgement.decision_rule));
    paragraph(&mut lines, "method", words::METHOD);
    lines.push(String::new());
    joined(&lines)
}

fn joined(lines: &[String]) -> String {
    lines.join("\n").replace(|c: char| c.is_control() && c != '\n', "?")
}

fn conductor(lines: &mut Vec<String>, one: &Conductor, read: (f64, f64), k: f64) {
    let name = words::conductor(one.name);
    let reading = words::resistance(Some(read.0), Some(read.1));
    lines.push(format!("{name}, post {}: {reading} (95 %, k = {k:.2})", one.post));
    let limit = one.limit_ohm.zip(one.limit_expanded_uncertainty_ohm);
    held(lines, read, limit, one.conformance, (one.verdict, one.reason));
}

/// A loop's uncertainty is that of its conductors, added up: their errors may be of one mind.
fn around(lines: &mut Vec<String>, row: &Loop, judgement: &Judgement) {
    let name = words::loop_name(row, judgement);
    let Some(read) = row.resistance_ohm.zip(row.expanded_uncertainty_ohm) else {
        lines.push(format!("{name}: no number ({}).", words::reason(row.reason)));
        return;
    };
    lines.push(format!("{name}: {}", words::resistance(Some(read.0), Some(read.1))));
    let limit = Some((row.limit_ohm, row.limit_expanded_uncertainty_ohm));
    held(lines, read, limit, row.conformance, (row.verdict, row.reason));
}

/// What was seen while wires were held together, and what it shows.
fn touches(lines: &mut Vec<String>, capture: &Capture, judgement: &Judgement, sheet: &LimitSheet) {
    if capture.touches().next().is_none() {
        return;
    }
    lines.push(String::new());
    for touch in capture.touches() {
        let (label, told) = words::touch_seen(touch, posts_touched(capture, touch), sheet);
        paragraph(lines, label, &told);
    }
    for told in words::placed(judgement) {
        paragraph(lines, "they show", &told);
    }
}

/// The limit, how far the reading is from it, and how likely it is within.
fn held(
    lines: &mut Vec<String>,
    (ohm, u_ohm): (f64, f64),
    limit: Option<(f64, f64)>,
    conformance: Option<f64>,
    (verdict, reason): (Verdict, Reason),
) {
    let Some((limit_ohm, limit_u_ohm)) = limit else {
        return paragraph(lines, "limit", "unknown: it takes the wire's gauge and length.");
    };
    let itself = if limit_u_ohm > 0.0 {
        format!(", itself known to ± {limit_u_ohm:.2} Ω by what was told")
    } else {
        String::new()
    };
    let room_ohm = limit_ohm - ohm;
    let side = if room_ohm >= 0.0 { "below it" } else { "above it" };
    let text = format!(
        "{}{itself}; the reading is {:.2} Ω {side}, {:.1} times its uncertainty of {:.2} Ω: {} ({}). \
         Within the limit with a probability of {}.",
        words::at_most_ohm(limit_ohm),
        room_ohm.abs(),
        room_ohm.abs() / u_ohm.hypot(limit_u_ohm),
        u_ohm.hypot(limit_u_ohm),
        words::verdict(verdict),
        words::reason(reason),
        words::probability(conformance)
    );
    paragraph(lines, "limit", &text);
}

/// Standard uncertainties, the largest first, with their share of the variance.
fn table(lines: &mut Vec<String>, budget: &Budget, capture: &Capture, sheet: &LimitSheet) {
    let mut causes = words::causes(budget, capture, sheet);
    causes.sort_by(|a, b| b.u_ohm.total_cmp(&a.u_ohm));
    let combined_ohm = budget.combined_ohm();
    for cause in causes {
        let share = 100.0 * (cause.u_ohm / combined_ohm).powi(2);
        let amount = format!("{:.1} mΩ, {share:.0} %", 1e3 * cause.u_ohm);
        paragraph(lines, &amount, &cause.what);
    }
    paragraph(
        lines,
        &format!("{:.1} mΩ", 1e3 * combined_ohm),
        "together, as the root of their squares.",
    );
}
