//! The words of the next step: heads, cautions, evidence.

use runproof_interpret::next::{
    Act, Change, Contradiction, Evidence, Fact, Hands, Impossible, Kind, Origin, Source, Step,
    Value, Wiring,
};

/// What stands before its text.
pub(crate) fn next_head(step: &Step) -> &'static str {
    match (step.act, step.hands) {
        (Act::Ask, _) => "ASK:",
        (Act::Do, Hands::KeepOff) => "STOP:",
        (Act::Do, _) => "NEXT:",
        (Act::Conclude, _) => "CONCLUSION:",
    }
}

const KEEP_OFF: &str = "clip nothing on and touch nothing. Cable that carries mains, as between indoor \
    and outdoor units, is no control run; local codes and licensed practice come first.";

const KEEP_OFF_CLIPPED: &str = "leave the clips where they are and touch nothing. Cable that carries mains, as \
    between indoor and outdoor units, is no control run; local codes and licensed practice come first.";

const LIVE: &str = "power is on. Measure with a rated meter first, every conductor against every other and \
    against chassis; more than 30 V AC or 42 V DC anywhere: keep off. Clip on extra-low-voltage terminals \
    only, and touch no bare metal. Local codes and licensed practice come first.";

const WIRES: &str = "power off at every unit and kept off, 10 minutes or what the units ask for; prove the \
    wires by a rated meter before you touch them: the jig never proves it. Local codes and licensed \
    practice come first.";

const PAIR: &str = "exchange the two data conductors alone, power off; never data with common or supply: \
    that destroys boards.";

/// How the bench is brought to stand as the step needs it, in this order.
pub(crate) fn next_first(changes: &[Change]) -> impl Iterator<Item = &'static str> {
    changes.iter().map(|change| match change {
        Change::PowerOff => "switch power off at every unit, and keep it off.",
        Change::TemporaryOff => "take the temporary cable off.",
        Change::ClipsOff => "take jig and end plug off the run.",
        Change::Lift => "lift every conductor at both ends.",
        Change::Land => "land every conductor on its own terminal again, at both ends.",
        Change::SeeLanded => "see that every conductor is landed, at both ends.",
        Change::ControlOff => "take the control off its wall plate.",
        Change::ControlBack => "put the control back on its wall plate.",
        Change::PowerOn => "power on.",
    })
}

/// What goes with the hands, then the step's own.
pub(crate) fn next_cautions(step: &Step, is_clipped_on: bool) -> Vec<String> {
    let with_hands: &[&str] = match step.hands {
        Hands::None => &[],
        Hands::Live => &[LIVE],
        Hands::Wires => &[WIRES],
        Hands::Pair => &[WIRES, PAIR],
        Hands::KeepOff if is_clipped_on => &[KEEP_OFF_CLIPPED],
        Hands::KeepOff => &[KEEP_OFF],
    };
    with_hands.iter().map(|text| (*text).to_owned()).chain(step.caution.clone()).collect()
}

pub(crate) fn wiring(wiring: Wiring) -> &'static str {
    match wiring {
        Wiring::AtFault => "at fault.",
        Wiring::Cleared => "cleared, as far as it was tested.",
        Wiring::Undecided => "not decided.",
    }
}

/// "the supply at the wall plate: 24.3 V (told, not measured)"
pub(crate) fn evidence(one: &Evidence<'_>) -> String {
    let value = one.settled.value.map_or("not known".into(), |value| said(one.fact, value));
    let by = match &one.settled.origin {
        Origin::Measured(file) => format!("measured, {file}"),
        Origin::Told => "told, not measured".into(),
        Origin::Answered => "answered".into(),
        Origin::Computed => "the one less the other".into(),
    };
    format!("{}: {value} ({by})", one.fact.about)
}

pub(crate) fn contradiction(one: &Contradiction<'_>) -> String {
    let Contradiction { fact, told, measured, file } = one;
    format!(
        "{}: {} was told, {} was measured ({file}). What was measured counts.",
        fact.about,
        said(fact, *told),
        said(fact, *measured)
    )
}

/// "A check that fails … (the check of the run: fail (told, not measured); …)"
pub(crate) fn impossible(one: &Impossible<'_>) -> String {
    let given: Vec<String> = one.given.iter().map(evidence).collect();
    format!("{}. {}", given.join("; "), one.never.text)
}

/// How what was done at an end is closed; where the run failed its check, only once it passes.
pub(crate) fn next_closing(step: &Step, changes: &[Change]) -> Vec<String> {
    let is_mended = !step.remedy.is_empty();
    let each = next_first(changes).zip(0..).map(|(text, at)| match (is_mended, at) {
        (true, 0) => format!("once the run passes its check: {text}"),
        _ => text.to_owned(),
    });
    each.collect()
}

fn said(fact: &Fact, value: Value) -> String {
    let unit = match &fact.kind {
        Kind::Number { unit, .. } => unit.as_str(),
        _ => "",
    };
    let text = match value {
        Value::Word(place) => fact.kind.word(place).to_owned(),
        Value::Number { value, u: 0.0 } => format!("{value} {unit}"),
        Value::Number { value, u } => format!("{value:.2} ± {u:.2} {unit}"),
    };
    match value {
        Value::Word(_) => text,
        Value::Number { .. } => text.replace('-', "−"),
    }
}

/// Which capture it is.
pub(crate) fn taken(source: Source) -> &'static str {
    match source {
        Source::Check => "a check of the run",
        Source::ToEarth => "a check to metal",
        Source::LiveAdapter => "live at the unit",
        Source::LivePlate => "live at the wall plate",
    }
}
