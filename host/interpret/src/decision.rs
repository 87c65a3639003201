//! Is a resistance within its limit? And how likely is it?

use std::f64::consts::SQRT_2;

use crate::judgement::Reason;
use crate::limits::DecisionRule;

/// What is known no better than this part of its limit is not said to be within it. [judgement]
const UNCERTAINTY_MAX: f64 = 0.5;

/// By the guarded rule, pass if R + U ≤ limit, fail if R − U > limit, else it cannot be told (JCGM
/// 106:2012, 8.3: guarded acceptance and guarded rejection, guard band U). By the simple one, pass or
/// fail at the limit itself (8.2).
pub(crate) fn by_limit(rule: DecisionRule, ohm: f64, expanded_ohm: f64, limit_ohm: f64) -> Reason {
    let guard_band = match rule {
        DecisionRule::Guarded => expanded_ohm,
        DecisionRule::Simple if expanded_ohm.is_finite() => 0.0,
        DecisionRule::Simple => f64::NAN,
    };
    if ohm + guard_band <= limit_ohm && expanded_ohm <= UNCERTAINTY_MAX * limit_ohm {
        Reason::WithinLimit
    } else if ohm - guard_band > limit_ohm {
        Reason::BeyondLimit
    } else {
        Reason::TooCloseToLimit
    }
}

/// The probability that the true value is within its limit: Φ((limit − R)/u) (JCGM 106:2012, clause 7).
pub(crate) fn conformance(ohm: f64, standard_uncertainty_ohm: f64, limit_ohm: f64) -> Option<f64> {
    let z = (limit_ohm - ohm) / standard_uncertainty_ohm;
    (standard_uncertainty_ohm > 0.0 && z.is_finite()).then(|| libm::erfc(-z / SQRT_2) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_guard_band_belongs_to_neither_side() {
        let by_limit =
            |ohm, u_ohm: f64, limit| by_limit(DecisionRule::Guarded, ohm, 2.0 * u_ohm, limit);
        assert_eq!(by_limit(2.8, 0.1, 3.0), Reason::WithinLimit);
        assert_eq!(by_limit(2.81, 0.1, 3.0), Reason::TooCloseToLimit);
        assert_eq!(by_limit(3.2, 0.1, 3.0), Reason::TooCloseToLimit);
        assert_eq!(by_limit(3.21, 0.1, 3.0), Reason::BeyondLimit);
        assert_eq!(by_limit(0.0, 0.8, 3.0), Reason::TooCloseToLimit);
        assert_eq!(by_limit(f64::NAN, 0.1, 3.0), Reason::TooCloseToLimit);
        assert_eq!(by_limit(1.0, f64::NAN, 3.0), Reason::TooCloseToLimit);
    }

    #[test]
    fn the_simple_rule_has_no_guard_band() {
        let by_limit =
            |ohm, u_ohm: f64, limit| by_limit(DecisionRule::Simple, ohm, 2.0 * u_ohm, limit);
        assert_eq!(by_limit(3.0, 0.1, 3.0), Reason::WithinLimit);
        assert_eq!(by_limit(3.01, 0.1, 3.0), Reason::BeyondLimit);
        assert_eq!(by_limit(0.0, 0.8, 3.0), Reason::TooCloseToLimit);
        assert_eq!(by_limit(f64::NAN, 0.1, 3.0), Reason::TooCloseToLimit);
        assert_eq!(by_limit(1.0, f64::NAN, 3.0), Reason::TooCloseToLimit);
    }

    /// JCGM 106:2012, clause 7: a Zener diode, at most −5.40 V, measured −5.47 V with u = 0.05 V: 0.92;
    /// and a container, at least 490, measured 509.7 with u = 8.6: 0.99 (from memory; the arithmetic
    /// agrees).
    #[test]
    fn the_examples_of_jcgm_106() {
        let near = |found: Option<f64>, printed: f64| {
            assert!((found.expect("known") - printed).abs() < 0.005, "{found:?}");
        };
        near(conformance(-5.47, 0.05, -5.40), 0.92);
        near(conformance(-509.7, 8.6, -490.0), 0.99);
    }

    /// ILAC-G8:09/2019, table of guard bands: what is accepted at the edge is beyond the limit with
    /// less than 2.5 % (w = U), 0.16 % (w = 1.5 U), 50 % (none), 1 in a million (3 U).
    #[test]
    fn the_guard_bands_of_ilac_g8() {
        for (guard_bands, risk) in [(1.0, 0.025), (1.5, 0.0016), (0.0, 0.5), (3.0, 1e-6)] {
            let u_ohm = 0.1;
            let ohm = 3.0 - guard_bands * 2.0 * u_ohm;
            let found = 1.0 - conformance(ohm, u_ohm, 3.0).expect("known");
            assert!(found <= risk, "{guard_bands} U: {found}");
            assert!(guard_bands == 3.0 || found >= 0.8 * risk, "{guard_bands} U: {found}");
        }
    }

    #[test]
    fn what_is_not_known_has_no_probability() {
        assert_eq!(conformance(1.0, 0.0, 3.0), None);
        assert_eq!(conformance(f64::NAN, 0.1, 3.0), None);
        assert_eq!(conformance(1.0, f64::NAN, 3.0), None);
    }
}
