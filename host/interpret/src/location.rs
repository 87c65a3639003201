//! How far along the run a fault lies: a short from resistance, a break from capacitance.

mod open;

use crate::capacitance::Capacitance;
use crate::isolation::Isolation;
use crate::judgement::{Finding, FindingKind, Interval, LocatedBy, Location};
use crate::known::RunKnowledge;
use crate::limits::LimitSheet;
use crate::survey::Survey;

/// An interval that leaves out less than this part of the run tells nothing.
const TELLS_FROM: f64 = 0.2;

/// Gives their place to those findings that have one.
pub(crate) fn add(
    findings: &mut [Finding],
    survey: &Survey,
    sheet: &LimitSheet,
    isolation: Option<&Isolation>,
    capacitances: &[Capacitance],
    known: &RunKnowledge,
) {
    if known.cannot_lift.is_some() {
        return; // what hangs on an end is in its readings
    }
    for finding in findings {
        let location = match (finding.kind, finding.posts.as_slice(), isolation) {
            (FindingKind::Short, [_, _], Some(_)) => by_resistance(survey, known),
            (FindingKind::Open, [post], Some(isolation)) if survey.open == [*post] => {
                let name =
                    sheet.conductors.iter().find(|one| one.post == *post).map(|one| one.name);
                let other = known.other_end.as_ref().zip(name);
                let other = other.and_then(|(other, name)| other.picofarads(name));
                let found = open::fraction(*post, isolation, capacitances, other);
                found.map(|(by, fraction)| Location {
                    by,
                    fraction,
                    metres: metres(fraction, known),
                })
            }
            _ => None,
        };
        finding.location = location.filter(|one| one.fraction.width() <= 1.0 - TELLS_FROM);
    }
}

fn by_resistance(survey: &Survey, known: &RunKnowledge) -> Option<Location> {
    let found = survey.past_short.as_ref()?;
    let by_wire = || {
        let [least_per_m, most_per_m] = known.gauge?.ohm_per_m(known.temperature);
        let near = found.near_ohm;
        Some(Interval {
            value: near.value / f64::midpoint(least_per_m, most_per_m),
            least: near.least / most_per_m,
            most: near.most / least_per_m,
        })
    };
    let metres = metres(found.fraction, known).or_else(by_wire);
    Some(Location { by: LocatedBy::Resistance, fraction: found.fraction, metres })
}

/// Of a run whose length was told.
fn metres(fraction: Interval, known: &RunKnowledge) -> Option<Interval> {
    known.length.map(|length| fraction.times(length.metres()))
}
