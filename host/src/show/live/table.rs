//! The table of a live run: a row for the supply, the data pair and each conductor.

use runproof_interpret::judgement::{
    LiveConductor, LiveHeld, LiveJudgement, LivePair, LiveReason, LiveSupply, Measured, SupplyKind,
    Verdict,
};
use runproof_interpret::limits::ConductorName;

use super::super::described::{Column, Table};
use super::super::words;

const COLUMNS: [Column; 5] = [
    Column::new("what", 11),
    Column::new("reading", 21),
    Column::new("under load", 11),
    Column::new("limit", 13),
    Column::new("verdict", 0),
];

pub(super) fn table(judgement: &LiveJudgement) -> Table {
    let supply = judgement.supply.iter().map(supply);
    // Of two wires, the one against the other is all there is.
    let pair = judgement.pair.iter().filter(|_| words::live::has_data(judgement)).map(pair);
    let told = |one: &&LiveConductor| {
        one.against.is_some() && !(one.name == ConductorName::Supply && judgement.supply.is_some())
    };
    let conductors = judgement.conductors.iter().filter(told).flat_map(conductor);
    let rows = supply.chain(pair).chain(conductors).map(Vec::from).collect();
    Table { columns: &COLUMNS, rows, below: None }
}

fn supply(supply: &LiveSupply) -> [String; 5] {
    let volts = match supply.kind {
        SupplyKind::Direct => supply.direct_v,
        _ => supply.rms_v,
    };
    let volts = match supply.kind {
        SupplyKind::Direct => signed(volts),
        _ => words::live::volts(volts),
    };
    let reading = format!("{volts} {}", words::live::kind_short(supply.kind));
    [
        "supply".into(),
        reading.trim_end().into(),
        loaded(supply.loaded_rms_v, |volts| format!("{volts:.1}")),
        supply.limits.first().map_or_else(no_limit, words::live::range),
        verdict(supply.verdict, supply.reason),
    ]
}

/// Held to the range of a pair that is idle; what a receiver does not decide is in the notes.
fn pair(pair: &LivePair) -> [String; 5] {
    [
        "data pair".into(),
        signed(pair.bias_v),
        loaded(pair.loaded_bias_v, |volts| words::live::sign(volts, 2)),
        pair.limits.last().map_or_else(no_limit, words::live::signed_range),
        verdict(pair.verdict, pair.reason),
    ]
}

/// Its mean; and, below it, what alternates.
fn conductor(conductor: &LiveConductor) -> [[String; 5]; 2] {
    let mut limits = conductor.limits.iter();
    let whole = LiveHeld { verdict: conductor.verdict, reason: conductor.reason };
    [
        [
            match conductor.name {
                ConductorName::Wire1 => "wires 1, 2".into(),
                name => words::conductor(name).into(),
            },
            signed(conductor.direct_v),
            loaded(conductor.loaded_direct_v, |volts| words::live::sign(volts, 2)),
            limits.next().map_or_else(no_limit, words::live::signed_range),
            held(conductor.direct.unwrap_or(whole)),
        ],
        [
            "  AC on it".into(),
            words::live::volts(conductor.alternating_rms_v),
            match conductor.loaded_alternating_rms_v {
                Some(loaded) if is_the_jigs_own(conductor, loaded) => "–".into(),
                alternating => loaded(alternating, |volts| format!("{volts:.2}")),
            },
            limits.next().map_or_else(no_limit, words::live::range),
            held(conductor.alternating.unwrap_or(whole)),
        ],
    ]
}

/// The load's star brings something of the supply onto a line that little holds: that is no voltage of the run.
fn is_the_jigs_own(conductor: &LiveConductor, loaded: Measured) -> bool {
    let alone = conductor.alternating_rms_v.filter(|_| conductor.couples_in == Some(true));
    alone.is_some_and(|alone| loaded.value > alone.most())
}

fn signed(volts: Option<Measured>) -> String {
    volts.map_or_else(unknown, words::live::signed_volts)
}

fn loaded(volts: Option<Measured>, told: impl Fn(f64) -> String) -> String {
    volts.map_or_else(unknown, |volts| told(volts.value) + " V")
}

fn unknown() -> String {
    "not known".into()
}

fn no_limit() -> String {
    "none".into()
}

fn held(held: LiveHeld) -> String {
    verdict(held.verdict, held.reason)
}

fn verdict(verdict: Verdict, reason: LiveReason) -> String {
    format!("{}: {}", words::verdict(verdict), words::live::reason(reason))
}
