//! What was found on a live run.

use runproof_interpret::judgement::{
    LiveCause, LiveFinding, LiveFindingKind, LiveJudgement, LiveReason, LiveUnit, LiveZeroStatus,
    Severity,
};

use super::hazard;
use super::names::{on, whom};
use super::numbers::{number, sign};

/// In a few words, for the headline.
pub(super) fn short(finding: &LiveFinding, judgement: &LiveJudgement) -> String {
    use LiveFindingKind as Kind;
    let whom = whom(finding, judgement);
    match finding.kind {
        Kind::Hazard => format!(
            "more voltage than a low-voltage run may have{}",
            hazard::where_it_is(finding, &whom)
        ),
        Kind::AllMoveTogether => "all conductors may be live to earth".into(),
        Kind::SecondSource => format!("a second source{}", on(&whom)),
        Kind::SupplyOnData => format!("the supply touches {whom}"),
        Kind::SupplyElsewhere => format!("the supply is on {whom} instead of its own conductor"),
        Kind::SupplyCrossedWithCommon => "supply and common are exchanged".into(),
        Kind::ForeignVoltage => format!("voltage where none belongs{}", on(&whom)),
        Kind::CommonMissing => "common is missing".into(),
        Kind::NoSupply => "there is no supply".into(),
        Kind::Floats if finding.severity == Severity::CannotTell => {
            format!("{whom} may hang on nothing")
        }
        Kind::Floats => format!("{whom} hangs on nothing"),
        Kind::OtherSupply => "the supply is of another kind".into(),
        Kind::LowSupply => "the supply is low".into(),
        Kind::HighSupply => "the supply is high".into(),
        Kind::SupplyGivesWay => "the supply gives way under a small load".into(),
        Kind::SupplySags => "the supply sags under a control's current".into(),
        Kind::ReversedPair => "the data pair is reversed".into(),
        Kind::PairNotBiased => "nothing biases the data pair".into(),
        Kind::PairLoaded => "the data pair is loaded or shorted".into(),
        Kind::PairAboveRange => "the data pair is above its range".into(),
        Kind::BeyondReceiver => format!("{whom} is beyond what a receiver takes"),
        Kind::Hum => format!("hum{}", on(&whom)),
        Kind::TooCloseToLimit => format!("too close to a limit to tell{}", of(&whom)),
        Kind::LimitUnknown => no_range(&whom, judgement),
        Kind::Incomplete => cause(finding.cause).into(),
        _ => "something that this program has no words for".into(),
    }
}

/// Less is called nothing: the divider and its converter. (judgement)
const NOTHING_V: f64 = 0.5;

/// A sentence or two, with its number.
pub(crate) fn finding(finding: &LiveFinding, judgement: &LiveJudgement) -> String {
    use LiveFindingKind as Kind;
    let value = number(finding, finding.value);
    let value = value.as_deref().unwrap_or("a voltage");
    let loaded = number(finding, finding.loaded);
    let loaded =
        loaded.map_or_else(String::new, |loaded| format!(", {loaded} under the load of 47 kΩ"));
    let whom = whom(finding, judgement);
    let is_direct = finding.unit == Some(LiveUnit::VoltDirect);
    let is_negative = is_direct && finding.value.is_some_and(|volts| volts < -NOTHING_V);
    match finding.kind {
        Kind::Hazard => hazard::told(finding, &whom, &loaded),
        Kind::AllMoveTogether => format!(
            "all conductors move together against the jig, by {value}: one of them may be live to earth, at a \
             voltage that the jig cannot tell."
        ),
        Kind::SecondSource => format!(
            "{value}{} does not keep step with the supply{loaded}: another transformer feeds it.",
            on(&whom)
        ),
        Kind::SupplyOnData => format!(
            "{whom} carries the supply's own voltage, {value}: of the same kind, in step with it and of its size. \
             Supply and {whom} touch, or are landed together."
        ),
        Kind::SupplyElsewhere => format!(
            "{value}, as a supply has it, stands on {whom}, and none between supply and common: the supply is \
             landed on the wrong conductor, or crossed with {whom}."
        ),
        Kind::SupplyCrossedWithCommon => format!(
            "{value} between supply and common, but the data lines stand still against supply, and carry the \
             supply's voltage against common: the two are exchanged between here and where they come from."
        ),
        Kind::ForeignVoltage => format!("{value}{} that does not belong there{loaded}.", on(&whom)),
        Kind::CommonMissing => {
            "supply and data lines float against common: common is open somewhere before this place.".into()
        }
        Kind::Floats if finding.severity == Severity::CannotTell => format!(
            "{whom} stands where the jig's own load puts what hangs on nothing, and without a fresh zero the jig cannot \
             tell whether it does or is held just there."
        ),
        Kind::Floats => format!(
            "{whom} hangs on nothing: it stands where the jig's own load puts it, so it is open before this place."
        ),
        Kind::NoSupply if finding.value.is_some_and(|volts| volts < NOTHING_V) => {
            "nothing stands between supply and common: no supply reaches this place.".into()
        }
        Kind::OtherSupply | Kind::LowSupply | Kind::NoSupply if is_negative => format!(
            "supply stands at {value} against common: the two are exchanged, or what feeds them is."
        ),
        Kind::NoSupply if loaded.is_empty() && !couples_in(judgement) => {
            format!("{value} between supply and common: no supply reaches this place.")
        }
        Kind::NoSupply => format!(
            "{value} between supply and common by the high-impedance reading{loaded}: what is there only \
             couples in."
        ),
        Kind::OtherSupply => {
            format!("{value} between supply and common, not of the kind that the limit sheet is made for.")
        }
        Kind::LowSupply => format!("{value} between supply and common{loaded}: below its range."),
        Kind::HighSupply => format!("{value} between supply and common{loaded}: above its range."),
        Kind::SupplyGivesWay => format!(
            "{value} between supply and common{loaded}: it comes through many kilohms, so it feeds nothing."
        ),
        Kind::SupplySags => {
            format!("only {value} of the supply would be left at a control's current: below its range.")
        }
        Kind::ReversedPair => {
            format!("data+ stands at {value} against data−: the two are exchanged.")
        }
        Kind::PairNotBiased => format!(
            "data+ against data− {value}{loaded}: nothing biases the pair where the jig is clipped on."
        ),
        Kind::PairLoaded => format!(
            "data+ against data− only {value}: a receiver needs 0.2 V. The pair is shorted, or terminated more \
             than at its two ends, or the wrong device hangs on it."
        ),
        Kind::PairAboveRange => format!(
            "data+ against data− {value}: more than a pair at rest has. It may be another kind of bus, or common in \
             the place of a data line."
        ),
        Kind::BeyondReceiver => {
            format!("{whom} stands at {value} against common, beyond what a receiver takes.")
        }
        Kind::Hum if finding.severity == Severity::Note => format!(
            "up to {value} of mains{}{loaded}: it couples in, from a cable alongside or, where nothing holds the line, through the jig, and is no fault by itself.",
            on(&whom)
        ),
        Kind::Hum => format!(
            "{value} of mains{}{loaded}: more than may be there. It couples in from a cable alongside, and little \
             holds the conductor.",
            on(&whom)
        ),
        Kind::TooCloseToLimit => {
            let whom = or_it(&whom);
            undecided(finding, whom, value, judgement)
                .unwrap_or_else(|| format!("{whom} reads {value}: nearer to a limit than it is known."))
        }
        Kind::LimitUnknown if whom.is_empty() => {
            format!("{}: what was read is told, and nothing of it is held to a limit.", no_range("", judgement))
        }
        Kind::LimitUnknown => format!("{}.", no_range(&whom, judgement)),
        Kind::Incomplete => format!("{}.", cause(finding.cause)),
        _ => "something that this program has no words for.".into(),
    }
}

/// As a supply that was read aloud says without the number under the load.
fn couples_in(judgement: &LiveJudgement) -> bool {
    judgement.supply.as_ref().is_some_and(|supply| supply.reason == LiveReason::CouplesIn)
}

fn cause(cause: Option<LiveCause>) -> &'static str {
    match cause {
        Some(LiveCause::NotMeasured) => "the run was not measured live",
        Some(LiveCause::NotFinished) => "the measurement did not come to its end",
        Some(LiveCause::PatternsMissing) => "part of the readings was lost on the way",
        Some(LiveCause::ReadingsMissing) => "readings are missing that the numbers need",
        Some(LiveCause::LoadedMissing) => {
            "without readings under the load nothing tells what only couples in"
        }
        Some(LiveCause::Unexplained) => {
            "no supply of the mains and nothing direct explains the readings: it changed meanwhile, or it is \
             of another kind"
        }
        Some(LiveCause::Busy) => {
            "someone sends all the time, so the pair was never seen at rest: read again, or switch off who sends"
        }
        Some(LiveCause::CommonMissing) => "common is open, and nothing can be told against it",
        _ => "something could not be told",
    }
}

/// Of the pair's bias, which is told from the receiver's threshold by more than its uncertainty.
fn undecided(
    finding: &LiveFinding,
    whom: &str,
    value: &str,
    judgement: &LiveJudgement,
) -> Option<String> {
    let pair = judgement.pair.as_ref().filter(|pair| finding.posts == pair.posts)?;
    let (beyond_v, threshold) = (pair.decided_beyond_v?, pair.limits.first()?);
    let nearer_v = if finding.value? < 0.0 { threshold.least_v } else { threshold.most_v };
    let zero = if judgement.zero.status == LiveZeroStatus::Fresh {
        ""
    } else {
        "; with a fresh zero of the jig, nearer"
    };
    Some(format!(
        "{whom} reads {value}: within {beyond_v:.3} V of a receiver's threshold, {} V, the jig decides nothing{zero}.",
        sign(nearer_v, 1)
    ))
}

fn no_range(whom: &str, judgement: &LiveJudgement) -> String {
    let sheet = &judgement.sheet.name;
    if whom.is_empty() {
        format!("the limit sheet {sheet} has no ranges for a powered run")
    } else {
        format!("the limit sheet {sheet} has no range for {whom}")
    }
}

fn of(whom: &str) -> String {
    if whom.is_empty() { String::new() } else { format!(" for {whom}") }
}

fn or_it(whom: &str) -> &str {
    if whom.is_empty() { "a voltage" } else { whom }
}
