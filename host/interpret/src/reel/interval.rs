//! How uncertain a quotient is, of parts that are normal and parts that lie anywhere between bounds.

use crate::judgement::budget::coverage;

/// Half of what holds 95 %, as a fraction: the widest of the parts that may lie anywhere within ± their half widths as
/// it is, all others as if they were normal (JCGM 100:2008, 4.3.7 and 5.1).
pub(super) fn half_width(anywhere: &[f64], normal: &[f64]) -> f64 {
    let widest = anywhere.iter().copied().fold(0.0, f64::max);
    let squares = |parts: &[f64]| parts.iter().map(|part| part * part).sum::<f64>();
    let rest = (squares(anywhere) - widest * widest) / 3.0 + squares(normal);
    coverage::half_width(widest, rest.max(0.0).sqrt())
}

#[test]
fn one_rectangle_is_kept_and_the_rest_is_normal() {
    assert!((half_width(&[0.02], &[]) - 0.019).abs() < 1e-9);
    assert!((half_width(&[], &[0.01]) - 0.0196).abs() < 1e-5);
    // By hand: normal parts 0.003 and 0.01/√3 come to 0.00651.
    let both = half_width(&[0.02, 0.01], &[0.003]);
    let by_hand = coverage::half_width(0.02, (0.003_f64.powi(2) + 0.01_f64.powi(2) / 3.0).sqrt());
    assert!((both - by_hand).abs() < 1e-12, "{both}");
}
