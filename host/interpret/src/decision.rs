//! Is a resistance within its limit? Only if it is so by more than its uncertainty.

use crate::judgement::{COVERAGE_FACTOR, Reason};

/// What is known no better than this part of its limit is not said to be within it. [judgement]
const UNCERTAINTY_MAX: f64 = 0.5;

/// The decision rule: pass if R + U ≤ limit, fail if R − U > limit, else it cannot be told (JCGM
/// 106:2012, 8.3: guarded acceptance and guarded rejection, guard band U).
pub(crate) fn by_limit(ohm: f64, standard_uncertainty_ohm: f64, limit_ohm: f64) -> Reason {
    let expanded = COVERAGE_FACTOR * standard_uncertainty_ohm;
    if ohm + expanded <= limit_ohm && expanded <= UNCERTAINTY_MAX * limit_ohm {
        Reason::WithinLimit
    } else if ohm - expanded > limit_ohm {
        Reason::BeyondLimit
    } else {
        Reason::TooCloseToLimit
    }
}

#[test]
fn the_guard_band_belongs_to_neither_side() {
    assert_eq!(by_limit(2.8, 0.1, 3.0), Reason::WithinLimit);
    assert_eq!(by_limit(2.81, 0.1, 3.0), Reason::TooCloseToLimit);
    assert_eq!(by_limit(3.2, 0.1, 3.0), Reason::TooCloseToLimit);
    assert_eq!(by_limit(3.21, 0.1, 3.0), Reason::BeyondLimit);
    assert_eq!(by_limit(0.0, 0.8, 3.0), Reason::TooCloseToLimit);
    assert_eq!(by_limit(f64::NAN, 0.1, 3.0), Reason::TooCloseToLimit);
    assert_eq!(by_limit(1.0, f64::NAN, 3.0), Reason::TooCloseToLimit);
}
