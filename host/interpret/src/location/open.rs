//! Where a conductor is broken: its capacitance against that of its siblings.

use runproof_protocol::Post;

use crate::capacitance::Capacitance;
use crate::isolation::Isolation;
use crate::judgement::{COVERAGE_FACTOR, Interval};

/// Standard deviation of a core's capacitance to the other three from that of its siblings, as a
/// fraction of it. (judgement)
const SPREAD: f64 = 0.03;

/// The fraction of the run that the conductor on this post is whole for; none where leaks hide it.
///
/// Let c be the capacitance between any two conductors, whole. The near piece, of length x, has 3cx to
/// the others. These have 3cx too, beside it; further on, the far piece floats between them and passes
/// on two thirds of its third: (3 − 1/3)c(1 − x). So a piece has ρ = 9x/(8 + x) of its sibling's
/// capacitance, and x = 8ρ/(9 − ρ).
pub(super) fn fraction(
    post: Post,
    isolation: &Isolation,
    capacitances: &[Capacitance],
) -> Option<Interval> {
    if isolation.paths.iter().any(|path| !path.at_least) || capacitances.len() != Post::ALL.len() {
        return None;
    }
    let piece = capacitances.iter().find(|one| one.post == post)?;
    let siblings = || capacitances.iter().filter(|one| one.post != post);
    let mean = |of: fn(&Capacitance) -> f64| siblings().map(of).sum::<f64>() / 3.0;
    let whole_pf = mean(|one| one.picofarads);
    let u_whole_pf = mean(|one| one.u_picofarads).hypot(SPREAD / 3.0_f64.sqrt() * whole_pf);
    let ratio = piece.picofarads / whole_pf;
    let u_ratio =
        (piece.u_picofarads / whole_pf).hypot(ratio * SPREAD).hypot(ratio * u_whole_pf / whole_pf);
    // By the law above, dx/dρ = 72/(9 − ρ)².
    let at = |ratio: f64| 8.0 * ratio / (9.0 - ratio);
    let half_width = COVERAGE_FACTOR * u_ratio * 72.0 / (9.0 - ratio).powi(2);
    let within = |fraction: f64| fraction.clamp(0.0, 1.0);
    let interval = Interval {
        value: within(at(ratio)),
        least: within(at(ratio) - half_width),
        most: within(at(ratio) + half_width),
    };
    (whole_pf > 0.0 && interval.least < interval.most).then_some(interval)
}
