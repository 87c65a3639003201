//! Where a conductor is broken: its capacitance against that of its siblings, or of both its pieces.

use runproof_protocol::Post;

use crate::capacitance::Capacitance;
use crate::isolation::Isolation;
use crate::judgement::{COVERAGE_FACTOR, Interval, LocatedBy};

/// Standard deviation of what a core brings to its capacitances, as a fraction of it. (judgement)
const SPREAD: f64 = 0.02;

/// The capacitance between two cores goes with what both bring, e. A core's own to three others, against
/// the mean of theirs, is off by 2/3 e − 2/9 (e′ + e″ + e‴): of SPREAD √(16/27).
const OF_SPREAD: f64 = 0.769_8;

/// Of a metre of one core from that of another metre of it. (judgement)
const SPREAD_ALONG: f64 = 0.01;

/// Both pieces together have what a whole sibling has, or up to 3/(8/3) of it, as far as cores are
/// alike: beyond this they are not of one conductor. (judgement)
const WHOLE_BY_SIBLING: std::ops::RangeInclusive<f64> = 0.85..=1.3;

/// The fraction of the run that the conductor on this post is whole for; none where leaks hide it. By
/// both its pieces, where the other one was measured from the other end and can be its other piece: not
/// this one, to the last digit, and not such that the siblings would contradict.
pub(super) fn fraction(
    post: Post,
    isolation: &Isolation,
    capacitances: &[Capacitance],
    other_piece: Option<(f64, f64)>,
) -> Option<(LocatedBy, Interval)> {
    if isolation.paths.iter().any(|path| !path.at_least) || capacitances.len() != Post::ALL.len() {
        return None;
    }
    let piece = capacitances.iter().find(|one| one.post == post)?;
    let siblings: Vec<&Capacitance> = capacitances.iter().filter(|one| one.post != post).collect();
    let mean = |of: fn(&Capacitance) -> f64| siblings.iter().map(|one| of(one)).sum::<f64>() / 3.0;
    let whole = (mean(|one| one.picofarads), mean(|one| one.u_picofarads));
    let piece = (piece.picofarads, piece.u_picofarads);
    let alone = interval(by_siblings(piece, whole))?;
    let is_other = |other: &(f64, f64)| {
        *other != piece && WHOLE_BY_SIBLING.contains(&((piece.0 + other.0) / whole.0))
    };
    let both =
        other_piece.filter(is_other).and_then(|other| interval(by_both_pieces(piece, other)));
    let agrees = |both: &Interval| both.least <= alone.most && alone.least <= both.most;
    Some(match both.filter(agrees) {
        Some(both) => (LocatedBy::BothEnds, both),
        None => (LocatedBy::Capacitance, alone),
    })
}

/// From value and half width, as far as it is on the run.
fn interval((value, half_width): (f64, f64)) -> Option<Interval> {
    let within = |fraction: f64| fraction.clamp(0.0, 1.0);
    let (least, most) = (within(value - half_width), within(value + half_width));
    (least < most).then_some(Interval { value: within(value), least, most })
}

/// Value and half width. Let c be the capacitance between any two conductors, whole. The near piece,
/// of length x, has 3cx to the others. These have 3cx too, beside it; further on, the far piece floats
/// between them and passes on two thirds of its third: (3 − 1/3)c(1 − x). So a piece has
/// ρ = 9x/(8 + x) of its sibling's capacitance, and x = 8ρ/(9 − ρ).
fn by_siblings(piece: (f64, f64), whole: (f64, f64)) -> (f64, f64) {
    let ratio = piece.0 / whole.0;
    let u_ratio = (piece.1 / whole.0).hypot(ratio * whole.1 / whole.0);
    let u_ratio = u_ratio.hypot(ratio * OF_SPREAD * SPREAD);
    // By the law above, dx/dρ = 72/(9 − ρ)².
    let half_width = COVERAGE_FACTOR * u_ratio * 72.0 / (9.0 - ratio).powi(2);
    (8.0 * ratio / (9.0 - ratio), half_width)
}

/// Both pieces have the same capacitance a metre, whatever it is: x = C/(C + C′), of which
/// u(x) = x(1 − x)·√(u²(C)/C² + u²(C′)/C′²).
fn by_both_pieces(piece: (f64, f64), other: (f64, f64)) -> (f64, f64) {
    let both = piece.0 + other.0;
    let fraction = piece.0 / both;
    let u = (other.0 * piece.1).hypot(piece.0 * other.1) / both.powi(2);
    let u_along = SPREAD_ALONG * fraction * (1.0 - fraction);
    (fraction, COVERAGE_FACTOR * u.hypot(u_along))
}
