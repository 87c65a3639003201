//! How two glances differ: has something been lifted, or has the end plug gone in?

use runproof_interpret::{Glance, THROUGH_THE_PLUG_OHM};

/// What a glance may be off, as a fraction and in ohms. (judgement)
const OFF_FRACTION: f64 = 0.3;
const OFF_OHM: f64 = 2.0;

/// Posts meet that did not before, as they do through the end plug: none by metal that touches, and
/// two at least within what the ring and a run come to. With a bad joint the others may be beyond.
pub(super) fn joins_as_a_plug(now: &Glance, before: &Glance) -> bool {
    let new_ohm: Vec<f64> = joins(now, before).collect();
    new_ohm.iter().all(|ohm| *ohm >= THROUGH_THE_PLUG_OHM.start)
        && new_ohm.iter().any(|ohm| THROUGH_THE_PLUG_OHM.contains(ohm))
}

/// Something has been lifted since, and nothing joined.
pub(super) fn more_open(now: &Glance, before: &Glance) -> bool {
    joins(now, before).next().is_none() && contradicts(now, before)
}

/// Two posts meet less well than before: what joined them then is gone, which no plug explains.
pub(super) fn contradicts(now: &Glance, before: &Glance) -> bool {
    let was_joined = before.ohm.iter().zip(before.joined()).zip(now.ohm);
    was_joined
        .filter(|((_, joined), _)| *joined)
        .any(|((before_ohm, _), now_ohm)| now_ohm > (1.0 + OFF_FRACTION) * before_ohm + OFF_OHM)
}

/// At how many ohms those pairs meet that did not before.
fn joins(now: &Glance, before: &Glance) -> impl Iterator<Item = f64> {
    let pairs = now.ohm.into_iter().zip(now.joined()).zip(before.joined());
    pairs.filter(|((_, joined), was_joined)| *joined && !was_joined).map(|((ohm, _), _)| ohm)
}
