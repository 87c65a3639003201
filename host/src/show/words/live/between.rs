//! What two live readings, one at each end, say of the run between them, and what to do next.

use runproof_interpret::judgement::{
    LostBetween, Measured, NotCompared, PairBetween, SupplyBetween, SupplyKind,
};

use super::numbers::{signed_volts, volts};

/// Labelled: a sentence on the supply, one on the pair, and what to do.
pub(crate) fn between(
    told: &Result<LostBetween, NotCompared>,
    pair: &str,
    both_pass: bool,
) -> Vec<(&'static str, String)> {
    let lost = match told {
        Ok(lost) => lost,
        Err(obstacle) => {
            let told = format!("cannot be compared: {obstacle}.");
            return vec![("other end", told), ("", not_compared(*obstacle).into())];
        }
    };
    let supply = supply_told(lost).map(|told| ("other end", told));
    let pair = pair_told(lost, pair).map(|told| ("other end", told));
    let next = ("", format!("next: {}", next_step(lost, both_pass)));
    supply.into_iter().chain(pair).chain([next]).collect()
}

fn supply_told(lost: &LostBetween) -> Option<String> {
    let [from_kind, to_kind] = lost.supply_kind;
    let (Some(between), Some(lost_v)) = (lost.supply, lost.supply_lost_v) else {
        // Two wires have none.
        from_kind.zip(to_kind)?;
        return Some(
            "the supply is not known at both ends, so nothing is said of what it loses.".into(),
        );
    };
    let said = |volts_there: Option<Measured>, kind: Option<SupplyKind>| match kind {
        Some(SupplyKind::Direct) => volts_there.map_or_else(String::new, signed_volts),
        _ => volts(volts_there),
    };
    let [a, b] = [0, 1].map(|n| said(lost.supply_v[n], lost.supply_kind[n]));
    let size = volts(Some(Measured { value: lost_v.value.abs(), ..lost_v }));
    let told = match between {
        SupplyBetween::None => "at neither is there a supply".into(),
        SupplyBetween::LostAltogether => "none of it arrives".into(),
        SupplyBetween::OnlyAtThePlate => {
            "what is at the plate does not come from the adapter".into()
        }
        SupplyBetween::Alike => "the same within what the readings can tell".into(),
        SupplyBetween::More => format!(
            "{size} more at the plate, which no run adds: something changed between the readings, or they are of \
             two runs"
        ),
        SupplyBetween::Exchanged => "supply and common are exchanged between".into(),
        SupplyBetween::LessAndInRange => {
            format!("{size} are lost between, and what arrives is in range")
        }
        _ => format!("{size} are lost between"),
    };
    let current = lost.control_current_a;
    let at = current.map_or_else(String::new, |amperes| format!(" at a control's {amperes} A"));
    Some(format!("supply{at} {a} at the adapter, {b} at the wall plate: {told}."))
}

fn pair_told(lost: &LostBetween, pair: &str) -> Option<String> {
    let (between, lost_v) = (lost.pair?, lost.bias_lost_v?);
    let [a, b] = lost.bias_v.map(|bias| bias.map_or_else(String::new, signed_volts));
    let size = volts(Some(Measured { value: lost_v.value.abs(), ..lost_v }));
    let told = match between {
        PairBetween::Exchanged => "the two data conductors are exchanged between".into(),
        PairBetween::Alike => "the same within what the readings can tell".into(),
        PairBetween::BothInRange => format!("they differ by {size}, and both are in range"),
        _ => format!("they differ by {size}"),
    };
    Some(format!("{pair} {a} at the adapter, {b} at the wall plate: {told}."))
}

/// Of what is gravest.
fn next_step(lost: &LostBetween, both_pass: bool) -> &'static str {
    match (lost.supply, lost.pair) {
        (Some(SupplyBetween::OnlyAtThePlate), _) => {
            "find what feeds the run at the wall plate before anything else: it is not this adapter. Power both off, \
             and prove the run dead with a rated meter before you touch it."
        }
        (Some(SupplyBetween::Exchanged), _) => {
            "power off, prove the run dead with a rated meter, lift both ends, and `runproof check`: it tells where \
             supply and common arrive."
        }
        (Some(SupplyBetween::LostAltogether), _) => {
            "power off, prove the run dead with a rated meter, lift both ends, and `runproof check`: supply or common \
             is open between the two ends."
        }
        (Some(SupplyBetween::More), _) => {
            "read both ends of this run again, one right after the other, with the same things switched on."
        }
        (_, Some(PairBetween::Exchanged)) => {
            "supply off, then exchange the two data conductors at the end where data+ stands below data−, and read \
             both ends again."
        }
        (Some(SupplyBetween::None), _) => {
            "the run loses no supply, as none reaches it: look at fuse, transformer and switches at the adapter."
        }
        (Some(SupplyBetween::Less), _) => {
            "these volts are lost in supply and common, or in their joints: power off, prove the run dead with a \
             rated meter, lift both ends, and `runproof check` tells their resistance."
        }
        (_, Some(PairBetween::Differs)) => {
            "the pair is open, joined badly, or loaded between the two ends: power off, prove the run dead with a \
             rated meter, lift both ends, and `runproof check`."
        }
        (None, None) => "read both ends again.",
        _ if !both_pass => {
            "no volts are lost between that would explain it: what was found at either end stands, and its own next \
             step comes first."
        }
        _ => {
            "the run loses nothing that matters at the current that flows now. Read both again with everything \
             switched on that it feeds; what is out of range at both ends is not the run's doing."
        }
    }
}

fn not_compared(obstacle: NotCompared) -> &'static str {
    match obstacle {
        NotCompared::SameEnd => {
            "next: give the reading of the other end; how one end changes over time, `--watch` tells."
        }
        NotCompared::EndNotTold => {
            "next: read both ends again, with `--at adapter` at the unit and `--at plate` at the wall plate."
        }
        NotCompared::OtherKind | NotCompared::OtherFrequency => {
            "next: make sure that both are of one run, then read both ends again. If they are, a second supply feeds \
             one end, or a rectifier lies between: power off, prove the run dead with a rated meter, lift both ends, \
             and `runproof check`."
        }
        NotCompared::Hazard => "next: see to that hazard first; nothing else matters.",
        _ => "next: read both ends again.",
    }
}
