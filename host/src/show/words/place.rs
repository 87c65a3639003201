//! How far along the run, in words.

use runproof_interpret::judgement::{Finding, Interval, LocatedBy, Location};
use runproof_interpret::{Judgement, RunKnowledge};

use super::units::metres_between;
use crate::arguments::Units;

/// So near to an end, as a fraction of the run, an interval is told as reaching to it.
const AT_THE_END: f64 = 0.005;

/// " If nothing else is wrong, it lies 37 % of the way along (30 to 45 %), 33 ft (26 to 39 ft) from the clips."; nothing where
/// the place is not known.
pub(super) fn place(what: &str, location: Option<Location>, units: Units) -> String {
    let Some(Location { by, fraction, metres }) = location else { return String::new() };
    let Interval { value, least, most } = fraction.times(100.0);
    let (least, most) = ((least + 1e-9).floor(), (most - 1e-9).ceil());
    let along = if fraction.least < AT_THE_END {
        format!("within the first {most} % of the run, or at the near end")
    } else if fraction.most > 1.0 - AT_THE_END {
        format!("beyond {least} % of the run, or at the far end")
    } else {
        format!("{value:.0} % of the way along ({least} to {most} %)")
    };
    let by = if by == LocatedBy::BothEnds { ", by both its pieces" } else { "" };
    match metres {
        None => format!(" If nothing else is wrong, {what} lies {along}{by}."),
        Some(metres) => {
            format!(
                " If nothing else is wrong, {what} lies {along}{by}: {} from the clips.",
                metres_between(metres, units)
            )
        }
    }
}

/// That a capture from the other end did not help, where one was given.
pub(crate) fn other_end(judgement: &Judgement, known: &RunKnowledge) -> Option<&'static str> {
    let by_both = |one: &Finding| one.location.is_some_and(|one| one.by == LocatedBy::BothEnds);
    let helped = judgement.findings.iter().any(by_both);
    (known.other_end.is_some() && !helped).then_some(
        "of no use here: another conductor is open in it, or none is here, or it was taken at this end too, \
         or on another run.",
    )
}

#[test]
fn a_place_at_an_end_is_one_sided() {
    let told = |value, least, most| {
        let fraction = Interval { value, least, most };
        place(
            "it",
            Some(Location {
                by: LocatedBy::Resistance,
                fraction,
                metres: Some(fraction.times(30.48)),
            }),
            Units::Us,
        )
    };
    let middle = " If nothing else is wrong, it lies 37 % of the way along (30 to 45 %): 37 ft \
                  (30 to 45 ft) from the clips.";
    assert_eq!(told(0.37, 0.3, 0.45), middle);
    let near = " If nothing else is wrong, it lies within the first 9 % of the run, or at the near end: 2 ft (0 to 9 ft) from the \
                clips.";
    assert_eq!(told(0.02, 0.0, 0.09), near);
    let far = " If nothing else is wrong, it lies beyond 91 % of the run, or at the far end: 98 ft (91 to 100 ft) from the clips.";
    assert_eq!(told(0.98, 0.91, 1.0), far);
    assert_eq!(place("it", None, Units::Us), "");
}
