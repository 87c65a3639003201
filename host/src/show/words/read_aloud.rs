//! A result that was told by its code, in words: those of any other result, and what must be said beside them.

mod rounded;

use rounded::about;
pub(crate) use rounded::{ohm, volts};
use runproof_interpret::Judgement;
use runproof_interpret::judgement::{LiveJudgement, SheetName, Unit, Verdict};
use runproof_interpret::read_aloud::{
    BiasVolt, ConductorOhm, LiveAmount, PathOhm, Spoken, SpokenFinding, SpokenSheet, SupplyVolt,
};

use super::between::ohms;
use super::live::number;
use crate::arguments::Units;

pub(crate) const HOW_TO_SAY_IT: [(&str, &str); 2] = [
    (
        "say",
        "group by group, and let each be said back. Where one symbol was misheard, `runproof decode` names it; \
         two it notices.",
    ),
    (
        "carries",
        "the verdict, the gravest finding and rounded numbers. What it leaves out is in the capture: send that \
         as well.",
    ),
];

/// That nothing here was measured.
pub(crate) fn told_not_measured(spoken: &Spoken) -> &'static str {
    if spoken.simulated() {
        "restored from a code, not measured here. The run was SIMULATED: this is of no real cable."
    } else {
        "restored from a code that somebody said: told, not measured here."
    }
}

pub(crate) const DETAILS: &str = "uncertainties, limits, places along the run, other findings and the next step are \
    not in a code: for these ask for the capture, and `runproof judge` it.";

pub(crate) const MORE: &str = "there are more findings than this one, which are not told: hear them, or judge the \
    capture, before anybody acts on this.";

const NO_NAME: &str =
    "what was found has no name in this program, which is older than the one that found it";

/// The verdict's reason.
pub(crate) fn headline(finding: &SpokenFinding, judgement: &Judgement) -> String {
    let told = match finding.kind {
        Some(kind) if kind.value().is_none() => format!("{NO_NAME}."),
        None if judgement.verdict != Verdict::Pass => "of a finding nothing is told.".into(),
        _ => super::headline(judgement),
    };
    with_more(told, finding.more && judgement.verdict != Verdict::Pass)
}

/// Of a live run.
pub(crate) fn live_headline(spoken: &Spoken, judgement: &LiveJudgement) -> String {
    let Spoken::Live(live) = spoken else { return String::new() };
    let told = match live.finding.kind {
        Some(kind) if kind.value().is_none() => format!("{NO_NAME}."),
        _ => match judgement.findings.first().and_then(|first| number(first, first.value)) {
            Some(exact) => about(&super::live::headline(judgement), &exact),
            None => super::live::headline(judgement),
        },
    };
    with_more(told, live.finding.more && judgement.verdict != Verdict::Pass)
}

fn with_more(told: String, more: bool) -> String {
    if more { format!("{}; there is more.", told.trim_end_matches('.')) } else { told }
}

/// The first finding, its number said to be rounded.
pub(crate) fn findings(judgement: &Judgement, units: Units) -> Option<String> {
    let first = judgement.findings.first()?;
    let told = super::finding(first, judgement, units);
    let Some(value) = first.value else { return Some(told) };
    let exact = match first.unit {
        Some(Unit::Ohm) => vec![format!("{value:.2} Ω"), ohms(Some(value))],
        Some(Unit::Volt) => vec![format!("{value:.1} V")],
        _ => vec![],
    };
    Some(exact.iter().fold(told, |told, exact| about(&told, exact)))
}

/// Of a live run.
pub(crate) fn live_findings(judgement: &LiveJudgement) -> Option<String> {
    let first = judgement.findings.first()?;
    let told = super::live::finding(first, judgement);
    let exact = number(first, first.value);
    Some(exact.map_or(told.clone(), |exact| about(&told, &exact)))
}

/// How well the numbers are told.
pub(crate) fn rounding(spoken: &Spoken) -> String {
    let within = |percent: f64| format!("within {percent:.1} %");
    let all = match spoken {
        Spoken::Check(_) => format!("resistances {}", within(ConductorOhm::within_percent())),
        Spoken::ToEarth(_) => format!("paths {}", within(PathOhm::within_percent())),
        Spoken::Live(_) => format!(
            "the supply's volts {}, the data pair's {}, the number in what was found {}",
            within(SupplyVolt::within_percent()),
            within(BiasVolt::within_percent()),
            within(LiveAmount::within_percent())
        ),
    };
    let amount = match spoken {
        Spoken::Check(told) => told.finding.amount.within_percent(),
        Spoken::ToEarth(told) => told.finding.amount.within_percent(),
        Spoken::Live(_) => None,
    };
    let amount = amount.map_or_else(String::new, |percent| {
        format!(", the number in what was found {}", within(percent))
    });
    format!(
        "{all}{amount} of what was measured, which has its own uncertainty. The verdict stands on what was measured."
    )
}

/// Which limit sheet it was, `given` being the one that the listener has.
pub(crate) fn sheet(told: &SpokenSheet, given: Option<&SheetName>) -> String {
    let mismatch = given.filter(|given| !told.may_be(given)).map_or_else(String::new, |given| {
        format!("; it is not {} {}, which was given with --sheet", given.name, given.version)
    });
    match (told, given.filter(|given| told.may_be(given))) {
        (SpokenSheet::BuiltIn(its), _) => format!("{} {}{mismatch}.", its.name, its.version),
        (SpokenSheet::Later(_), _) => {
            format!("one that comes with a later version of this program{mismatch}.")
        }
        (SpokenSheet::Hash(hash), Some(given)) => format!(
            "{} {}, as far as its hash {hash:02x} tells: one sheet in 256 has the same.",
            given.name, given.version
        ),
        (SpokenSheet::Hash(hash), None) => format!(
            "a sheet not held here, of hash {hash:02x}{mismatch}. Give it with --sheet, to see whether it is that one."
        ),
    }
}

/// One sentence, to be repeated to whoever called.
pub(crate) fn say_back(spoken: &Spoken, headline: &str) -> String {
    let what = match spoken {
        Spoken::Check(_) => "a check",
        Spoken::ToEarth(_) => "a test to earth",
        Spoken::Live(_) => "a live reading",
    };
    let simulated = if spoken.simulated() { " of a simulated run" } else { "" };
    let verdict = match spoken.verdict() {
        Verdict::Pass => "it passes",
        Verdict::Fail => "it fails",
        Verdict::CannotTell => "it could not tell",
    };
    let headline = headline.trim_end_matches('.');
    format!("“I have {what}{simulated}: {verdict}, {headline}. Is that what you have?”")
}
