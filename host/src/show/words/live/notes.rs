//! What else a live run showed, beside the table.

use runproof_interpret::judgement::{
    Activity, At, AtMost, LiveJudgement, LiveNotTested, LivePair, LiveReason, LiveSupply,
    LiveZeroStatus, LiveZeroed, PairSign, SupplyKind,
};
use runproof_interpret::limits::ConductorName;

use super::names;
use super::numbers::volts;
use crate::arguments::Units;

/// Where the jig is clipped on.
pub(crate) fn place(at: At) -> &'static str {
    match at {
        At::Adapter => "at the adapter",
        At::Plate => "at the wall plate",
    }
}

/// Labelled, in the order in which they are read.
pub(crate) fn notes(judgement: &LiveJudgement) -> Vec<(&'static str, String)> {
    let supply = judgement.supply.as_ref().map(|supply| ("supply", supply_told(supply)));
    let load = judgement.supply_load.as_ref();
    let control = judgement.at_control();
    let load = load.map(|load| ("load", super::supply_load::told(load)));
    let control = control.map(|control| ("control", super::supply_load::left(control)));
    let pair = judgement.pair.as_ref().map(|pair| match has_data(judgement) {
        true => (
            "data pair",
            format!(
                "{}; {}.",
                sign_told(pair, judgement.may_float().is_some()),
                activity_told(pair)
            ),
        ),
        false => {
            ("wires", format!("which way round they are is not told; {}.", activity_told(pair)))
        }
    });
    let between = between(judgement).map(|told| ("between", told));
    let together = judgement.moves_together_v.filter(|moved| moved.least() > 0.0).map(|moved| {
        let told = format!(
            "all conductors move together by {} alternating against the jig; what they have to earth is \
             another matter.",
            volts(Some(moved))
        );
        ("together", told)
    });
    [supply, load, control, pair, between, together].into_iter().flatten().collect()
}

fn supply_told(supply: &LiveSupply) -> String {
    let kind = match supply.kind {
        SupplyKind::AlternatingMains => "alternating",
        SupplyKind::HalfWave => "half-wave rectified: every second half wave",
        SupplyKind::FullWave => "full-wave rectified, not smoothed",
        SupplyKind::Direct => "direct",
        SupplyKind::None => "none",
        SupplyKind::Other => "alternating, of a form that is not the mains'",
        _ => "not told",
    };
    let hertz = supply
        .hertz
        .map(|hertz| format!(", {:.2} ± {:.2} Hz", hertz.value, hertz.u.max(0.005)))
        .unwrap_or_default();
    let rectified = matches!(supply.kind, SupplyKind::HalfWave | SupplyKind::FullWave);
    let direct = supply
        .direct_v
        .filter(|_| rectified)
        .map(|direct| format!(", its mean {}", super::numbers::signed_volts(direct)))
        .unwrap_or_default();
    format!("{kind}{hertz}{direct}.")
}

/// Whether it is a data pair that the jig is clipped on, and not two wires that may be exchanged.
pub(crate) fn has_data(judgement: &LiveJudgement) -> bool {
    judgement.conductors.iter().any(|one| one.name == ConductorName::DataPlus)
}

/// As a row names it.
pub(crate) fn pair_name(judgement: &LiveJudgement) -> &'static str {
    if has_data(judgement) { "data pair" } else { "wires 1, 2" }
}

fn sign_told(pair: &LivePair, may_float: bool) -> &'static str {
    match (pair.sign, pair.reason) {
        (PairSign::Right, _) => "data+ above data−, as it should be",
        (PairSign::Reversed, _) => "data+ below data−",
        (PairSign::Undecided, LiveReason::LimitUnknown) => {
            "which way round is not told: the limit sheet has no threshold for it"
        }
        (PairSign::Undecided, LiveReason::BeyondRange | LiveReason::NotMeasured) => {
            "which way round is not told"
        }
        (PairSign::Undecided, LiveReason::Floats) => {
            "which way round is not told: it hangs on nothing, or a line of it does"
        }
        (PairSign::Undecided, LiveReason::Undecided) if may_float => {
            "which way round is not told: a line of it may hang on nothing"
        }
        (PairSign::Undecided, _) => "which way round is not decided: a receiver needs 0.2 V",
    }
}

fn activity_told(pair: &LivePair) -> &'static str {
    match pair.activity {
        Activity::Idle => "idle while the jig looked",
        Activity::Busy if pair.between_messages => "someone sends; read between two messages",
        Activity::Busy => "someone sends, so the reading is a mean of what is sent",
        Activity::Unknown => "whether someone sends is not told",
    }
}

fn between(judgement: &LiveJudgement) -> Option<String> {
    let largest = &judgement.largest;
    if largest.beyond_range {
        return Some("beyond what the jig can tell.".into());
    }
    let AtMost { posts: [a, b], most_v } = largest.peak_v?;
    let [a, b] = [a, b].map(|post| names::of(post, judgement));
    Some(format!("at most {most_v:.1} V at any instant between any two: {a} and {b}."))
}

/// "AC".
pub(crate) fn kind_short(kind: SupplyKind) -> &'static str {
    match kind {
        SupplyKind::AlternatingMains => "AC",
        SupplyKind::HalfWave => "half",
        SupplyKind::FullWave => "full",
        SupplyKind::Direct => "DC",
        _ => "",
    }
}

/// "idle"; nothing where it is not told.
pub(crate) fn activity_short(activity: Activity) -> &'static str {
    match activity {
        Activity::Idle => "idle",
        Activity::Busy => "busy",
        Activity::Unknown => "",
    }
}

pub(crate) fn not_tested(what: &[LiveNotTested]) -> String {
    let told = what.iter().map(|one| match one {
        LiveNotTested::AgainstEarth => "anything against earth or chassis",
        LiveNotTested::UnderTheControlsLoad => "the supply under the current that a control takes",
        LiveNotTested::ComesAndGoes => "what comes and goes: this is a third of a second",
        LiveNotTested::TheData => "what is sent on the pair",
        LiveNotTested::UnderTheLoad => "anything under the load",
        LiveNotTested::TheWiring => "the wiring itself (`runproof check`, supply off)",
    });
    format!("{}.", told.collect::<Vec<_>>().join("; "))
}

/// How the zero of its dividers served.
pub(crate) fn zero(zero: &LiveZeroed, units: Units) -> String {
    let age = match zero.age_days {
        None => "of unknown age".into(),
        Some(days) if days < 1.0 => "less than a day old".into(),
        Some(days) => format!("{days:.0} days old"),
    };
    let warmer = zero.warmer_k.map_or_else(String::new, |kelvins| match units {
        Units::Us => format!(", the jig {:+.0} °F from then", 1.8 * kelvins),
        Units::Metric => format!(", the jig {kelvins:+.0} °C from then"),
    });
    match zero.status {
        LiveZeroStatus::None => {
            "none of this jig's voltmeter: the numbers stand on the nominal values of its parts. \
             `runproof zero` takes one."
                .into()
        }
        LiveZeroStatus::Fresh => format!("{age}{warmer}."),
        LiveZeroStatus::Stale => format!(
            "{age}{warmer}: too old or too far for its numbers; take it again with `runproof zero`."
        ),
        LiveZeroStatus::Refused => {
            "there is one, but it cannot be right: something was clipped on, or it is another jig's. Take it \
             again with `runproof zero`."
                .into()
        }
    }
}
