//! Two live readings of one run, one at each end: what is lost between them.

use crate::judgement::{
    At, LiveFindingKind, LiveJudgement, LiveReason, LiveSupply, LostBetween, Measured, NotCompared,
    PairBetween, PairSign, SupplyBetween, SupplyKind, Verdict,
};

/// What is lost from the adapter, where the supply comes from, to the wall plate. The readings follow each other, so
/// what changed meanwhile is in it.
///
/// # Errors
///
/// Readings that are not of both ends, or of supplies that cannot be one.
pub fn compare_live(
    one: &LiveJudgement,
    other: &LiveJudgement,
) -> Result<LostBetween, NotCompared> {
    let [from, to] = match live_ends(one.at, other.at)? {
        At::Adapter => [one, other],
        At::Plate => [other, one],
    };
    if from.found(LiveFindingKind::Hazard) || to.found(LiveFindingKind::Hazard) {
        return Err(NotCompared::Hazard);
    }
    let supplies = [from.supply.as_ref(), to.supply.as_ref()];
    alike(supplies)?;
    let at_current = at_one_current([from, to]);
    let supply_v = at_current.map_or(supplies.map(volts), |(_, volts)| volts.map(Some));
    let supply_lost_v = difference(supply_v);
    let sags_at_that = at_current.is_some() && to.found(LiveFindingKind::SupplySags);
    let arrives_in_range =
        !sags_at_that && to.supply.as_ref().is_some_and(|one| one.verdict == Verdict::Pass);
    let bias_v = [from, to].map(bias_v);
    let bias_lost_v = difference(bias_v);
    if supply_lost_v.is_none() && bias_lost_v.is_none() {
        return Err(NotCompared::NothingKnown);
    }
    let signs = [from, to].map(|one| one.pair.as_ref().map(|pair| pair.sign));
    let exchanged = matches!(
        signs,
        [Some(PairSign::Right), Some(PairSign::Reversed)]
            | [Some(PairSign::Reversed), Some(PairSign::Right)]
    );
    Ok(LostBetween {
        places: [At::Adapter, At::Plate],
        supply_kind: supplies.map(|supply| Some(supply?.kind)),
        supply_v,
        supply_lost_v,
        control_current_a: at_current.map(|(current_a, _)| current_a),
        supply: supply_lost_v
            .and_then(|lost| supply_between(supplies, supply_v, lost, arrives_in_range)),
        bias_v,
        bias_lost_v,
        pair: bias_lost_v.map(|lost| pair_between([from, to], exchanged, lost)),
        exchanged,
    })
}

/// Whether two readings may be of both ends: where the first was taken.
///
/// # Errors
///
/// Both are of one end, or it is not told.
pub fn live_ends(one: Option<At>, other: Option<At>) -> Result<At, NotCompared> {
    match (one, other) {
        (Some(one), Some(other)) if one == other => Err(NotCompared::SameEnd),
        (Some(one), Some(_)) => Ok(one),
        _ => Err(NotCompared::EndNotTold),
    }
}

/// Of one kind and one frequency, or at least one of them is none, or not told.
fn alike([from, to]: [Option<&LiveSupply>; 2]) -> Result<(), NotCompared> {
    let (Some(from), Some(to)) = (from, to) else { return Ok(()) };
    let is_told = |kind| !matches!(kind, SupplyKind::None | SupplyKind::Unknown);
    if !is_told(from.kind) || !is_told(to.kind) {
        return Ok(());
    }
    if from.kind != to.kind {
        return Err(NotCompared::OtherKind);
    }
    match (from.nominal_hertz, to.nominal_hertz) {
        (Some(a), Some(b)) if a != b => Err(NotCompared::OtherFrequency),
        _ => Ok(()),
    }
}

fn volts(supply: Option<&LiveSupply>) -> Option<Measured> {
    let supply = supply?;
    match supply.kind {
        SupplyKind::Unknown | SupplyKind::Other => None,
        SupplyKind::Direct => supply.direct_v,
        // What only couples in feeds nothing.
        SupplyKind::None => supply.loaded_rms_v,
        _ => supply.rms_v,
    }
}

/// Where the supply sags under a control's current at either end: what is left of it at that current, if that is known
/// of both.
fn at_one_current(ends: [&LiveJudgement; 2]) -> Option<(f64, [Measured; 2])> {
    let control = |one: &LiveJudgement| {
        let control = one.at_control()?;
        let sign = volts(one.supply.as_ref())?.value;
        let value = control.here_v.value.copysign(sign);
        Some((control.current_a, Measured { value, ..control.here_v }))
    };
    let ((a, from), (b, to)) = (control(ends[0])?, control(ends[1])?);
    let sags = ends.into_iter().any(|one| one.found(LiveFindingKind::SupplySags));
    (sags && a == b).then_some((a, [from, to]))
}

/// Of a pair that was seen at rest, and held against a range.
fn bias_v(judgement: &LiveJudgement) -> Option<Measured> {
    let pair = judgement.pair.as_ref()?;
    let is_known = !matches!(pair.reason, LiveReason::Busy | LiveReason::NotMeasured);
    pair.bias_v.filter(|_| is_known)
}

fn supply_between(
    [from, to]: [Option<&LiveSupply>; 2],
    volts: [Option<Measured>; 2],
    lost: Measured,
    arrives_in_range: bool,
) -> Option<SupplyBetween> {
    let (from, to) = (from?, to?);
    Some(match (from.kind == SupplyKind::None, to.kind == SupplyKind::None) {
        (true, true) => SupplyBetween::None,
        (false, true) => SupplyBetween::LostAltogether,
        (true, false) => SupplyBetween::OnlyAtThePlate,
        (false, false) => {
            let [a, b] = volts.map(|volts| volts.map_or(0.0, |volts| volts.value));
            let lost_v = if a < 0.0 && b < 0.0 { -lost.value } else { lost.value };
            if a * b < 0.0 {
                SupplyBetween::Exchanged
            } else if lost_v.abs() <= lost.u {
                SupplyBetween::Alike
            } else if lost_v < 0.0 {
                SupplyBetween::More
            } else if arrives_in_range {
                SupplyBetween::LessAndInRange
            } else {
                SupplyBetween::Less
            }
        }
    })
}

fn pair_between(judgements: [&LiveJudgement; 2], exchanged: bool, lost: Measured) -> PairBetween {
    let is_in =
        |one: &LiveJudgement| one.pair.as_ref().is_some_and(|pair| pair.verdict == Verdict::Pass);
    if exchanged {
        PairBetween::Exchanged
    } else if lost.value.abs() <= lost.u {
        PairBetween::Alike
    } else if judgements.into_iter().all(is_in) {
        PairBetween::BothInRange
    } else {
        PairBetween::Differs
    }
}

/// Of two readings by one jig: that their errors are partly the same is not made use of.
fn difference([from, to]: [Option<Measured>; 2]) -> Option<Measured> {
    let (from, to) = (from?, to?);
    Some(Measured { value: from.value - to.value, u: from.u.hypot(to.u) })
}
