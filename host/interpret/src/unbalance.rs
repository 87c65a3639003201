//! How unlike the two conductors of the data pair are.

use runproof_protocol::Post;

use crate::judgement::{COVERAGE_FACTOR, Unbalance};
use crate::limits::ConductorName::{DataMinus, DataPlus};
use crate::limits::LimitSheet;
use crate::survey::Survey;

/// The difference, and its share of both together: |R₊ − R₋| / (R₊ + R₋), as IEEE Std 802.3, clause 33,
/// defines the resistance unbalance of a pair (from memory).
pub(crate) fn unbalance(survey: &Survey, sheet: &LimitSheet) -> Option<Unbalance> {
    let of = |name| {
        let post = sheet.post_of(name)?;
        let leg = survey.legs.iter().find(|leg| leg.post == post)?;
        Some((post, leg.ohm, leg.budget.combined_ohm()))
    };
    between(of(DataPlus)?, of(DataMinus)?)
}

/// Of each its post, resistance and standard uncertainty.
fn between(a: (Post, f64, f64), b: (Post, f64, f64)) -> Option<Unbalance> {
    let (more, less) = if a.1 >= b.1 { (a, b) } else { (b, a) };
    let ((post, more_ohm, u_more_ohm), (_, less_ohm, u_less_ohm)) = (more, less);
    let (ohm, together_ohm) = (more_ohm - less_ohm, more_ohm + less_ohm);
    let share = together_ohm > COVERAGE_FACTOR * (u_more_ohm + u_less_ohm);
    // GUM 5.1.2: d = (a − b)/(a + b) changes by 2b/(a + b)² with a, and by −2a/(a + b)² with b.
    let u_share = 2.0 * f64::hypot(less_ohm * u_more_ohm, more_ohm * u_less_ohm);
    ohm.is_finite().then(|| Unbalance {
        post,
        ohm,
        expanded_uncertainty_ohm: COVERAGE_FACTOR * u_more_ohm.hypot(u_less_ohm),
        percent: share.then(|| 100.0 * ohm / together_ohm),
        expanded_uncertainty_percent: share
            .then(|| 100.0 * COVERAGE_FACTOR * u_share / together_ohm.powi(2)),
    })
}

#[test]
fn the_difference_is_told_beside_its_share_of_both() {
    let found = between((Post::P1, 0.9, 0.03), (Post::P2, 1.1, 0.04)).expect("known");
    let near = |value: f64, expected: f64| assert!((value - expected).abs() < 1e-3, "{found:?}");
    assert_eq!(found.post, Post::P2);
    near(found.ohm, 0.2);
    near(found.expanded_uncertainty_ohm, 0.1);
    near(found.percent.expect("a share"), 10.0);
    // By hand: 2 √((0.9 · 0.04)² + (1.1 · 0.03)²) / 2² is 2.442 %.
    near(found.expanded_uncertainty_percent.expect("with it"), 4.884);
    let nothing = between((Post::P1, 0.01, 0.03), (Post::P2, -0.01, 0.04)).expect("known");
    assert_eq!(nothing.percent, None);
}
