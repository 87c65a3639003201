//! The table of a live run: a row for the supply, the data pair and each conductor.

use runproof_interpret::judgement::{
    LiveConductor, LiveJudgement, LivePair, LiveReason, LiveSupply, Measured, SupplyKind, Verdict,
};

use super::super::words;

/// Columns; the last takes what is left.
const HEADINGS: [&str; 5] = ["what", "reading", "under load", "limit", "verdict"];
const WIDTHS: [usize; 5] = [11, 18, 12, 15, 0];

pub(super) fn table(judgement: &LiveJudgement) -> impl Iterator<Item = String> {
    let supply = judgement.supply.iter().map(supply);
    let pair = judgement.pair.iter().map(pair);
    let conductors = judgement.conductors.iter().filter(|one| one.against.is_some());
    let conductors = conductors.flat_map(conductor);
    let rows = supply.chain(pair).chain(conductors);
    [HEADINGS.map(str::to_owned)].into_iter().chain(rows).map(|one| row(&one))
}

fn supply(supply: &LiveSupply) -> [String; 5] {
    let loaded = supply.loaded_rms_v.map(|volts| format!("{:.1} V", volts.value));
    let reading = match (supply.kind, supply.direct_v) {
        (SupplyKind::Direct, Some(direct)) => words::live::volts(Some(direct)),
        _ => words::live::volts(supply.rms_v),
    };
    let kind = words::live::kind_short(supply.kind);
    [
        "supply".into(),
        format!("{reading} {kind}").trim_end().into(),
        loaded.unwrap_or_else(unknown),
        supply.limits.first().map_or_else(no_limit, words::live::range),
        verdict(supply.verdict, supply.reason),
    ]
}

fn pair(pair: &LivePair) -> [String; 5] {
    [
        "data pair".into(),
        signed(pair.bias_v),
        loaded_signed(pair.loaded_bias_v),
        pair.limits.first().map_or_else(no_limit, words::live::signed_range),
        verdict(pair.verdict, pair.reason),
    ]
}

/// Its mean; and, behind it, what alternates.
fn conductor(conductor: &LiveConductor) -> [[String; 5]; 2] {
    let name = words::conductor(conductor.name);
    let mut limits = conductor.limits.iter();
    [
        [
            name.into(),
            signed(conductor.direct_v),
            loaded_signed(conductor.loaded_direct_v),
            limits.next().map_or_else(no_limit, words::live::signed_range),
            verdict(conductor.verdict, conductor.reason),
        ],
        [
            "  alternating".into(),
            words::live::volts(conductor.alternating_rms_v),
            conductor
                .loaded_alternating_rms_v
                .map_or_else(unknown, |volts| format!("{:.2} V", volts.value)),
            limits.next().map_or_else(no_limit, words::live::range),
            String::new(),
        ],
    ]
}

fn signed(volts: Option<Measured>) -> String {
    volts.map_or_else(unknown, words::live::signed_volts)
}

fn loaded_signed(volts: Option<Measured>) -> String {
    volts.map_or_else(unknown, |volts| words::live::sign(volts.value, 2) + " V")
}

fn unknown() -> String {
    "not known".into()
}

fn no_limit() -> String {
    "none".into()
}

fn verdict(verdict: Verdict, reason: LiveReason) -> String {
    format!("{}: {}", words::verdict(verdict), words::live::reason(reason))
}

fn row(cells: &[String; 5]) -> String {
    let padded = cells.iter().zip(WIDTHS).map(|(cell, width)| format!("{cell:<width$}"));
    format!("  {}", padded.collect::<String>().trim_end())
}
