//! Two live readings of one run, one at each end: what is lost between them.

use crate::judgement::{At, LiveJudgement, LostBetween, Measured, PairSign};

/// What is lost from the end that the supply comes from to the other one: from the adapter, where it was told
/// which reading is of which end, else from the end with more supply. The readings follow each other, so
/// what changed meanwhile is in it.
#[must_use]
pub fn compare_live(one: &LiveJudgement, other: &LiveJudgement) -> LostBetween {
    let supply_v = |judgement: &LiveJudgement| judgement.supply.as_ref()?.rms_v;
    let (a, b) = (supply_v(one), supply_v(other));
    let turned = match (one.at, other.at) {
        (Some(At::Plate), _) | (_, Some(At::Adapter)) => true,
        (Some(At::Adapter), _) | (_, Some(At::Plate)) => false,
        (None, None) => matches!((a, b), (Some(a), Some(b)) if b.value > a.value),
    };
    let (from, to) = if turned { (other, one) } else { (one, other) };
    let bias_v = |judgement: &LiveJudgement| judgement.pair.as_ref()?.bias_v;
    let sign = |judgement: &LiveJudgement| judgement.pair.as_ref().map(|pair| pair.sign);
    let signs = (sign(from), sign(to));
    LostBetween {
        places: [from.at, to.at],
        supply_v: [supply_v(from), supply_v(to)],
        supply_lost_v: difference(supply_v(from), supply_v(to)),
        bias_v: [bias_v(from), bias_v(to)],
        bias_lost_v: difference(bias_v(from), bias_v(to)),
        exchanged: matches!(
            signs,
            (Some(PairSign::Right), Some(PairSign::Reversed))
                | (Some(PairSign::Reversed), Some(PairSign::Right))
        ),
    }
}

/// Of two readings by one jig: that their errors are partly the same is not made use of.
fn difference(from: Option<Measured>, to: Option<Measured>) -> Option<Measured> {
    let (from, to) = (from?, to?);
    Some(Measured { value: from.value - to.value, u: from.u.hypot(to.u) })
}
