//! What the judgement of a live look tells.

use super::{Reading, Readings, Source};
use crate::judgement::{
    Activity, At, LiveFinding, LiveFindingKind, LiveJudgement, Measured, PairSign, SupplyKind,
    Verdict,
};
use crate::limits::Severity;

/// What a live look tells, and at which end it was; none where that is not known. `beside` is the look at the other
/// end, if there is one: what is lost between them is told of alike.
#[must_use]
pub fn of_live(
    judgement: &LiveJudgement,
    beside: Option<&LiveJudgement>,
) -> Option<(Source, Readings)> {
    let source = match judgement.at? {
        At::Adapter => Source::LiveAdapter,
        At::Plate => Source::LivePlate,
    };
    let found =
        |kinds: &[LiveFindingKind]| judgement.findings.iter().any(|one| kinds.contains(&one.kind));
    let whole = !found(&[LiveFindingKind::Incomplete]);
    let yes_no = |is: bool| match (is, whole) {
        (true, _) => Some(Reading::Word("yes")),
        (false, true) => Some(Reading::Word("no")),
        // What was not looked at whole may be there.
        (false, false) => None,
    };
    let traffic = judgement.pair.as_ref().and_then(|pair| match pair.activity {
        Activity::Busy => Some(Reading::Word("yes")),
        Activity::Idle => Some(Reading::Word("no")),
        Activity::Unknown => None,
    });
    let readings = vec![
        ("hazard", yes_no(found(&[LiveFindingKind::Hazard, LiveFindingKind::AllMoveTogether]))),
        ("second-source", yes_no(found(&[LiveFindingKind::SecondSource]))),
        ("foreign", yes_no(judgement.findings.iter().any(|one| is_foreign(one.kind)))),
        ("fault", fault(judgement, whole)),
        ("supply-v", supply(judgement, beside)),
        ("supply-kind", supply_kind(judgement)),
        ("pair-v", pair(judgement)),
        ("traffic", traffic),
    ];
    Some((source, readings))
}

/// Voltage where none belongs, whatever it comes from: the kinds stand in the order of their gravity.
fn is_foreign(kind: LiveFindingKind) -> bool {
    kind > LiveFindingKind::SecondSource && kind <= LiveFindingKind::ForeignVoltage
}

/// What it fails by that no other reading tells: the gravest.
fn fault(judgement: &LiveJudgement, whole: bool) -> Option<Reading> {
    use LiveFindingKind as Kind;
    let is_told = |kind: Kind| match kind {
        Kind::NoSupply | Kind::LowSupply | Kind::HighSupply => supply(judgement, None).is_some(),
        Kind::SupplySags => sagged(judgement, None).is_some(),
        Kind::OtherSupply => supply_kind(judgement).is_some(),
        Kind::ReversedPair | Kind::PairNotBiased | Kind::PairLoaded | Kind::PairAboveRange => {
            pair(judgement).is_some()
        }
        kind => kind <= Kind::ForeignVoltage,
    };
    let fails = |one: &&LiveFinding| {
        (one.severity == Severity::Fail || one.kind == Kind::PairAboveRange) && !is_told(one.kind)
    };
    let is_told_whole = whole && judgement.may_float().is_none();
    Some(Reading::Word(match judgement.findings.iter().find(fails).map(|one| one.kind) {
        Some(Kind::CommonMissing) => "common-missing",
        Some(Kind::Floats) => "floats",
        Some(Kind::SupplyGivesWay) => "gives-way",
        Some(Kind::BeyondReceiver) => "beyond-receiver",
        Some(_) => "other",
        None if is_told_whole => "nothing",
        None => return None,
    }))
}

fn supply_kind(judgement: &LiveJudgement) -> Option<Reading> {
    Some(Reading::Word(match judgement.supply.as_ref()?.kind {
        SupplyKind::AlternatingMains => "ac",
        SupplyKind::Direct => "dc",
        SupplyKind::HalfWave | SupplyKind::FullWave | SupplyKind::Other => "other",
        SupplyKind::None | SupplyKind::Unknown => return None,
    }))
}

fn number(measured: Option<Measured>) -> Option<Reading> {
    measured.map(|Measured { value, u }| Reading::Number { value, u })
}

fn supply(judgement: &LiveJudgement, beside: Option<&LiveJudgement>) -> Option<Reading> {
    let supply = judgement.supply.as_ref()?;
    match supply.kind {
        SupplyKind::Unknown => None,
        // What only couples in feeds nothing.
        SupplyKind::None => number(supply.loaded_rms_v),
        _ => number(sagged(judgement, beside).or(supply.rms_v)),
    }
}

/// Where a control's current takes it out of its range at either end, what is left of it then is what counts; at both
/// ends, if it is known there.
fn sagged(judgement: &LiveJudgement, beside: Option<&LiveJudgement>) -> Option<Measured> {
    let sags = |one: &LiveJudgement| one.found(LiveFindingKind::SupplySags);
    let by_both = beside.is_some_and(|other| sags(other) && other.at_control().is_some());
    let control = judgement.at_control().filter(|_| sags(judgement) || by_both)?;
    Some(control.here_v)
}

/// A number only where the judgement decides which way round the pair is, or that it is neither.
fn pair(judgement: &LiveJudgement) -> Option<Reading> {
    let pair = judgement.pair.as_ref()?;
    let is_neither = pair.sign == PairSign::Undecided && pair.verdict == Verdict::Fail;
    (pair.sign != PairSign::Undecided || is_neither).then(|| number(pair.bias_v))?
}
