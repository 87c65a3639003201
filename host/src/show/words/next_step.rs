//! What to do now.

use super::exchanged::is_whole;
use runproof_interpret::Judgement;
use runproof_interpret::judgement::{Cause, Finding, FindingKind, Place, Severity, Verdict};
use runproof_protocol::Post;

use super::to_earth;

/// What to do now; one thing.
pub(crate) fn next_step(judgement: &Judgement) -> &'static str {
    if judgement.to_earth.is_some() && judgement.findings.is_empty() {
        return to_earth::NOTHING_FOUND;
    }
    let asks_nothing =
        |one: &Finding| matches!(one.kind, FindingKind::ClipsExchanged | FindingKind::ThickWire);
    let Some(first) = judgement.findings.iter().find(|one| !asks_nothing(one)) else {
        return match judgement.verdict {
            Verdict::Pass => {
                "as far as it was tested, the wiring is not the cause: look at what was not \
                 tested, then at set-up and devices."
            }
            _ => "measure again.",
        };
    };
    if let Some(told) = to_earth::next_step(first, judgement) {
        return told;
    }
    if judgement.findings.iter().any(|one| one.kind == FindingKind::NotLifted)
        && let Some(told) = with_one_end_landed(first)
    {
        return told;
    }
    match first.kind {
        FindingKind::Hazard => {
            "keep off; find and switch off the source (`runproof live --rearm` reads what it is), prove the \
             run dead with a rated meter, lift both ends, then measure again: the jig has latched the hazard, \
             and --rearm clears it."
        }
        FindingKind::AllMoveTogether => {
            "keep off; have every conductor measured to earth with a rated meter, low impedance. A cable alongside \
             or a charger that feeds the jig does the same: unplug it, run the computer on its battery, and \
             measure again."
        }
        FindingKind::Short => {
            "re-clip, so that no bare ends touch, and measure again; if it stays, look at both ends, \
             then along the run where it is stapled or bends."
        }
        FindingKind::Leakage => {
            "look at the splices and terminals of those conductors, dry them, and measure again; if \
             both ends are lifted and it stays, the cable is damaged."
        }
        FindingKind::Hum if first.severity == Severity::CannotTell => {
            "unplug what runs alongside, or move the run away from it, and measure again; how much stands on the run \
             `runproof live` tells."
        }
        FindingKind::CoupledVoltage | FindingKind::Hum => {
            "the wiring passes; if the complaint stays, unplug chargers and loads alongside and see \
             whether it goes."
        }
        FindingKind::NotLifted => {
            "free that end, at the device's plug if it has one, and measure again: only so can the run pass."
        }
        FindingKind::ColoursDisagree => {
            "check the clips at both ends by terminal, not by colour, and measure again with --touch \
             always; do not power up before."
        }
        FindingKind::Incomplete
            if matches!(first.cause, Some(Cause::TouchesDisagree | Cause::TouchesUnfinished)) =>
        {
            "check the clips at both ends, measure again, and touch the wires in the order that is asked \
             for."
        }
        FindingKind::SomethingConnected
            if matches!(
                first.cause,
                Some(Cause::Winding | Cause::Terminator | Cause::Receiver)
            ) =>
        {
            "lift both ends of all conductors and measure again; if you have seen that both are \
             lifted, say so with --lifted: then it is a fault."
        }
        FindingKind::SomethingConnected if first.cause == Some(Cause::NotPlain) => {
            "find what is still landed on those conductors, at either end or at a splice between; lift \
             it, and measure again."
        }
        FindingKind::Open if opens(judgement) == [Post::P3, Post::P4] => {
            "if this run has two wires only, choose its limit sheet: --sheet two-wire-bus; otherwise \
             re-clip those conductors at both ends and measure again."
        }
        FindingKind::Open => {
            "re-clip that conductor at both ends and measure again; if it stays, \
             look for the break at the terminations first, then along the run."
        }
        FindingKind::Crossed if !is_whole(&first.posts, judgement) => {
            "put right first what else was found, and measure again: only then is it known where every \
             conductor arrives."
        }
        FindingKind::ReversedPair | FindingKind::Crossed => exchange(first),
        FindingKind::HighResistance if count(judgement, first.kind) > 1 => {
            "re-clip and measure again; if it stays and they read alike, the run is too long or too \
             thin: measure its length, and compare it with its gauge."
        }
        FindingKind::HighResistance | FindingKind::UnevenResistance => {
            "re-clip that conductor and \
             measure again; if it stays, look at its screws and splices."
        }
        FindingKind::SiblingDifference | FindingKind::TooCloseToSiblingDifference => {
            "re-clip that conductor and measure again; if it stays, make its terminations anew."
        }
        FindingKind::HighLoopResistance => {
            "re-clip and measure again; if it stays, look at screws and splices, and whether gauge \
             and length are what was told."
        }
        FindingKind::TooCloseToLoopLimit => {
            "re-clip and measure again; where the limit was calculated, tell the cable's temperature \
             with --cable-temp, and whether it is solid or stranded."
        }
        FindingKind::TooLong => {
            "measure the length again, or ask whether this sheet is the right one."
        }
        FindingKind::LengthUnlikely => {
            "check the length that was told; if it is right, look at the gauge on the jacket. As far as \
             it was tested, the wiring is not the cause."
        }
        FindingKind::LessThanWire => {
            "look at the gauge on the jacket, measure the length again, and judge again by what you \
             find."
        }
        FindingKind::LimitUnknown => {
            "say what the wire is, for instance --gauge 18awg --length 5.5ft, and judge again."
        }
        FindingKind::Unexplained if first.cause == Some(Cause::OtherPosts) => {
            "clip the two wires on posts 1 and 2, with nothing on the others, or choose the limit \
             sheet for this run with --sheet."
        }
        FindingKind::TooCloseToLimit if judgement.calculated.is_some() => {
            "re-clip that conductor and measure again; tell the cable's temperature with --cable-temp, \
             and whether it is solid or stranded: that narrows its limit."
        }
        FindingKind::TooCloseToLimit => "re-clip that conductor and measure again.",
        FindingKind::NoEndPlug if judgement.looks_long.is_some() => {
            "put the end plug into the far end of this cable and measure again; if it is in, check at \
             both ends that this is the right cable; if it should be longer than it looks, it is cut \
             through."
        }
        FindingKind::NoEndPlug => {
            "put the end plug into the far end of this cable and measure again; if it is in, check \
             at both ends that this is the right cable."
        }
        FindingKind::ForeignVoltage => {
            "find and switch off what feeds the run, prove it dead with a rated meter, lift both \
             ends of all conductors, and measure again."
        }
        FindingKind::SomethingConnected | FindingKind::Unexplained => {
            "lift both ends of all conductors, so that nothing but the jig and the end plug is on them, and measure \
             again."
        }
        FindingKind::Incomplete
            if matches!(first.cause, Some(Cause::SelfCalibration | Cause::Saturated)) =>
        {
            "prove the run dead with a rated meter, lift both ends of all conductors, and \
             measure again; if it stays, have the jig looked at."
        }
        FindingKind::Incomplete if first.cause == Some(Cause::Stopped) => {
            "put right what broke it off, and measure again; a latched hazard is cleared with \
             --rearm, once its source is found and removed."
        }
        FindingKind::Incomplete if first.cause == Some(Cause::NoEnd) => {
            "copy the capture again, whole, or measure again."
        }
        FindingKind::Incomplete if first.cause == Some(Cause::Lost) => {
            "check the cable between the jig and this computer, and measure again."
        }
        FindingKind::Incomplete if first.cause == Some(Cause::PlugNotOut) => {
            "take the end plug's key out, lift all wires at both ends, wait until the open phase is \
             measured, put the key in, and measure again."
        }
        FindingKind::Unsteady => {
            "keep the clips still, switch off loads alongside, and measure \
             again."
        }
        _ => "measure again.",
    }
}

/// What asks for both ends to be lifted, where one cannot be.
fn with_one_end_landed(first: &Finding) -> Option<&'static str> {
    Some(match (first.kind, first.cause) {
        (FindingKind::Hazard, _) => {
            "keep off; find and switch off the source, prove the run dead with a rated meter, free the \
             end that is still landed, at the device's plug if it has one, then measure again, with \
             --rearm: the jig has latched the hazard."
        }
        (FindingKind::ForeignVoltage, _)
        | (FindingKind::Incomplete, Some(Cause::SelfCalibration | Cause::Saturated)) => {
            "find and switch off what may feed the run, prove it dead with a rated meter, free the end \
             that is still landed, at the device's plug if it has one, and measure again."
        }
        (FindingKind::SomethingConnected | FindingKind::Unexplained, _) => {
            "free the end that is still landed as well, at the device's plug if it has one, and measure \
             again: only so is a device told from a fault."
        }
        (FindingKind::Incomplete, Some(Cause::PlugNotOut)) => {
            "take the end plug's key out, lift the wires at the end where they can be lifted, wait until \
             the open phase is measured, put the key in, and measure again."
        }
        _ => return None,
    })
}

fn count(judgement: &Judgement, kind: FindingKind) -> usize {
    judgement.findings.iter().filter(|one| one.kind == kind).count()
}

/// Which conductors are open.
fn opens(judgement: &Judgement) -> Vec<Post> {
    let opens = judgement.findings.iter().filter(|one| one.kind == FindingKind::Open);
    opens.flat_map(|one| one.posts.iter().copied()).collect()
}

/// By where it may lie, and by how many conductors it has.
fn exchange(finding: &Finding) -> &'static str {
    let several = finding.posts.len() > 2;
    match finding.places.as_slice() {
        [Place::Run] if several => {
            "move each conductor to its own terminal, at one end only, once, power off: to land the far end \
             as told below is that, not one more. Then check again before power comes on."
        }
        [Place::Run] => {
            "exchange the conductors at one end only, once, power off: to land the far end as told below is \
             that exchange, not one more. Then check again before power comes on."
        }
        [Place::Run, Place::PlugEnd] => {
            "check the end plug's clips against the terminals; if they are right, land the wires as told \
             below, power off."
        }
        [Place::Clips, Place::Run] => {
            "check the clips here against the terminals; if they are right, land the wires as told \
             below, power off."
        }
        _ if several => {
            "check the clips at both ends against the terminals; if they are right, move each \
             conductor to its own terminal, at one end only, power off."
        }
        _ => {
            "check the clips at both ends against the terminals; if they are right, exchange the \
             conductors at one end only, power off."
        }
    }
}
