//! What the person does on the trip, and what the jig does meanwhile.

use runproof_interpret::LimitSheet;
use runproof_interpret::capture::End;
use runproof_protocol::{Phase, Step};

use super::conductor;
use crate::jig::Doing;

pub(crate) const PROVE_DEAD: &str = "switch the supply off, and prove the run dead with a rated \
    meter before you touch it: this jig is never the device that proves it.";

pub(crate) const THE_TRIP: &str = "go once, to the far end and back:";

pub(crate) const SIMULATED_TRIP: &str = "with a real jig one person does this; here it is \
    simulated, and there is nothing to do:";

pub(crate) const ENTER: &str = "measures the next phase at once, for whoever stands here.";

/// An end that stays landed is not asked for.
pub(crate) fn take_key_out(cannot_lift: Option<End>) -> String {
    let lift = match cannot_lift {
        None => "lift all wires",
        Some(End::Near) => "lift all wires at the far end",
        Some(End::Far) => "lift all wires here",
    };
    format!(
        "the key seems to be in, or something is still landed, and the open run is not measured yet: \
         take the key out, {lift}, and wait 3 s."
    )
}

/// The steps, each with its place.
pub(crate) fn trip(
    sheet: &LimitSheet,
    cannot_lift: Option<End>,
    far_lights: bool,
) -> [(&'static str, String); 5] {
    let then = |end| {
        if cannot_lift == Some(end) {
            "Leave the wires where they are, as this end cannot be lifted."
        } else {
            "Then lift the wires."
        }
    };
    let [here, there] = [End::Near, End::Far].map(then);
    let mut landed: Vec<_> = sheet.conductors.iter().map(|one| (one.post, one.name)).collect();
    landed.sort_by_key(|(post, _)| *post);
    let clips: Vec<_> =
        landed.into_iter().map(|(post, name)| format!("{post} on {}", conductor(name))).collect();
    let clips = clips.join(", ");
    [
        (
            "1 here",
            format!(
                "while the wires are still landed, put the clips on them by terminal: {clips}. \
                 {here}"
            ),
        ),
        (
            "2 far end",
            format!(
                "with the end plug's key out (the part that pulls out of its tail): while the wires \
                 are still landed, put the tail's clips on them by terminal: {clips}. {there}"
            ),
        ),
        (
            "3 far end",
            "hands off, and count slowly to ten: the jig measures the open run when it has stood \
             unchanged for 3 s."
                .into(),
        ),
        (
            "4 far end",
            format!(
                "put the key in, and count slowly to five: the jig measures with the end plug.{}",
                if far_lights { super::far_lights::TURN_IT } else { "" }
            ),
        ),
        ("5 here", "the result is on this screen.".into()),
    ]
}

pub(crate) fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::Open => "the open run",
        Phase::Plug => "the run with the end plug",
        Phase::Glance => "a glance",
        Phase::Live => "the live run",
        Phase::LiveZero => "the jig's own voltmeter",
        Phase::FarLights => "the key's lights",
        Phase::SupplyLoad => "the supply under the jig's load",
        Phase::Fixture => "the fixture",
        Phase::Flex | Phase::FlexShorts | Phase::FlexAcross | Phase::FlexAlong => {
            "the run while it is flexed"
        }
    }
}

/// What is waited for, before a phase.
pub(crate) fn waiting(phase: Phase) -> &'static str {
    match phase {
        Phase::Open => "waiting until the run stands still for 3 s …",
        Phase::Plug => "waiting for the key to be put in …",
        Phase::FlexShorts => "waiting for the key to be taken out …",
        Phase::LiveZero => "now take the key out, and touch nothing: waiting for that …",
        _ => "waiting …",
    }
}

/// Why a phase is measured although the run is not ready for it.
pub(crate) fn did_not_come(phase: Phase) -> &'static str {
    match phase {
        Phase::Open => "the run did not stand open for 3 s in time: measured all the same.",
        Phase::LiveZero => "the key was not taken out in time: the jig's voltmeter is not zeroed.",
        _ => "no end plug was seen in time: measured all the same.",
    }
}

/// What a jig of this version takes in each phase.
const OPEN_PATTERNS: u16 = 86;
const PLUG_PATTERNS: u16 = 50;
const GLANCE_PATTERNS: u16 = 10;
const LIVE_PATTERNS: u16 = 12;
const LIVE_ZERO_PATTERNS: u16 = 64;
const SUPPLY_LOAD_PATTERNS: u16 = 3;
const FIXTURE_PATTERNS: u16 = GLANCE_PATTERNS + 4;

/// "the open run: leakage, 55 of 86".
pub(crate) fn doing(of: Phase, doing: Doing, index: u16) -> String {
    let patterns = match of {
        Phase::Open => OPEN_PATTERNS,
        Phase::Plug => PLUG_PATTERNS,
        Phase::Glance => GLANCE_PATTERNS,
        Phase::Live | Phase::FarLights => LIVE_PATTERNS,
        Phase::Flex | Phase::FlexShorts | Phase::FlexAcross | Phase::FlexAlong => LIVE_PATTERNS,
        Phase::LiveZero => LIVE_ZERO_PATTERNS,
        Phase::SupplyLoad => SUPPLY_LOAD_PATTERNS,
        Phase::Fixture => FIXTURE_PATTERNS,
    };
    let what = match doing {
        Doing::Step(Step::Live | Step::LiveLoaded) => "is there voltage?",
        Doing::Step(Step::SelfCalibration | Step::LiveZero) => "the jig itself",
        Doing::Step(Step::PreScan | Step::Pairs) => "each pair",
        Doing::Step(Step::Leakage) => "leakage",
        Doing::Step(Step::SupplyLoaded) => "what is left",
        Doing::Step(Step::Flex) => "does it break?",
        Doing::Rise => "capacitance",
    };
    format!("measuring {}: {what} {} of {patterns}", phase(of), index + 1)
}
