//! What makes a number uncertain, in words.

use runproof_interpret::judgement::Budget;
use runproof_interpret::limits::DecisionRule;
use runproof_interpret::{Capture, LimitSheet};

/// One cause of uncertainty.
pub(crate) struct Cause {
    /// Its standard uncertainty.
    pub(crate) u_ohm: f64,
    /// What it is, and what is taken for it.
    pub(crate) what: String,
}

pub(crate) const METHOD: &str = "standard uncertainties, combined as in the GUM (JCGM 100:2008, 5.1.2 \
    and 5.2.2), each cause carried over to the conductors by the fit's own gain. What may lie anywhere \
    between two bounds has half their distance over √3 (4.3.7). ± holds the true value with 95 %: k \
    is less than 2 where the one contact at the plug makes most of it (JCGM 101).";

/// All of a budget.
pub(crate) fn causes(budget: &Budget, capture: &Capture, sheet: &LimitSheet) -> Vec<Cause> {
    let [least, most] = sheet.contact_mohm;
    let percent = |fraction: f64| 100.0 * fraction;
    let cause = |u_ohm, what| Cause { u_ohm, what };
    let by_zero =
        if capture.zero().is_some() { "a zero and the plug settle" } else { "the plug settles" };
    let left =
        if capture.zero().is_some() { ", less what a zero tells" } else { ", without a zero" };
    let mut causes = vec![
        cause(
            budget.far_contact_ohm,
            format!(
                "the contact at the end plug: anywhere from {least} to {most} mΩ; the mean is taken off."
            ),
        ),
        cause(
            budget.near_contacts_ohm,
            "the contacts at the jig: a third of what a clip and a relay have.".into(),
        ),
        cause(
            budget.plug_ohm,
            format!(
                "the end plug's resistors: {} % either way{left}.",
                percent(capture.head.plug.tolerance)
            ),
        ),
        cause(
            budget.scale_ohm,
            format!(
                "the jig's ohm: its series resistors are within {} % of what it says, and {by_zero} most \
                 of that.",
                percent(capture.head.jig.series_tolerance)
            ),
        ),
        cause(
            budget.temperature_ohm,
            format!(
                "warmth: resistors change by up to 25 ppm a kelvin; {}.",
                temperatures(capture)
            ),
        ),
        cause(
            budget.instrument_ohm,
            "noise and steps of the two converters, by their data sheet.".into(),
        ),
        cause(budget.model_ohm, "what the model of the jig leaves out.".into()),
    ];
    if capture.zero().is_some() {
        let what = "the zero: the contacts between tail and clips, and its noise.";
        causes.push(cause(budget.zeroing_ohm, what.into()));
    }
    causes
}

fn temperatures(capture: &Capture) -> String {
    let jig = match (capture.jig_c(), capture.zero().map(|zero| zero.jig_c)) {
        (None, _) | (_, Some(None)) => "how warm the jig was is not known".into(),
        (Some(now), None) => format!("the jig was at {now:.0} °C"),
        (Some(now), Some(Some(then))) => {
            format!("the jig was at {now:.0} °C, and at {then:.0} °C when it was zeroed")
        }
    };
    format!("{jig}, the end plug anywhere from −20 to 70 °C")
}

/// How a pass and a fail were decided.
pub(crate) fn decision_rule(rule: DecisionRule) -> &'static str {
    match rule {
        DecisionRule::Guarded => {
            "pass when reading + uncertainty is within the limit, fail when \
             reading − uncertainty is beyond it, cannot tell between (guard band as wide as the \
             expanded uncertainty: JCGM 106, ILAC-G8). At the edge of a pass the risk to be beyond the \
             limit is 2.5 %."
        }
        DecisionRule::Simple => {
            "pass or fail at the limit itself, whatever the uncertainty (simple \
             acceptance: JCGM 106, ILAC-G8). At the edge the risk to be wrong is 50 %."
        }
    }
}

/// "92 %", "more than 99.99 %".
pub(crate) fn probability(probability: Option<f64>) -> String {
    match probability.map(|one| 100.0 * one) {
        None => "an unknown size".into(),
        Some(percent) if percent > 99.99 => "more than 99.99 %".into(),
        Some(percent) if percent < 0.01 => "less than 0.01 %".into(),
        Some(percent) if (1.0..99.0).contains(&percent) => format!("{percent:.0} %"),
        Some(percent) => format!("{percent:.2} %"),
    }
}

#[test]
fn a_probability_is_not_told_as_certain() {
    for (one, told) in [
        (Some(1.0), "more than 99.99 %"),
        (Some(0.0), "less than 0.01 %"),
        (Some(0.919), "92 %"),
        (Some(0.9977), "99.77 %"),
        (None, "an unknown size"),
    ] {
        assert_eq!(probability(one), told);
    }
}
