//! The supply under the jig's load, and what a control is left with.

use runproof_interpret::judgement::{AtControl, LiveReason, LoadUnknown, Measured, SupplyLoad};

use super::numbers::volts;

/// Of a tenth of a second's load.
pub(super) fn told(load: &SupplyLoad) -> String {
    let known = load.load_ohm.zip(load.alone_v.zip(load.loaded_v)).zip(load.source_ohm);
    let (Some(((ohm, (alone, loaded)), source)), None) = (known, load.unknown) else {
        return unknown(load.unknown).into();
    };
    let milliamperes = 1e3 * load.load_a.unwrap_or_default();
    let [alone, loaded] = [alone, loaded].map(|one| Measured { value: one.value.abs(), ..one });
    format!(
        "{} alone, {} with the jig's {ohm} Ω across it, which takes {milliamperes:.0} mA: {} of source and wire \
         before this place.",
        volts(Some(alone)),
        volts(Some(loaded)),
        ohms(source)
    )
}

/// What is left at a control's current, here and at the far end.
pub(super) fn left(control: &AtControl) -> String {
    let here = volts(Some(control.here_v));
    let far = control.far_v.zip(control.run_ohm).map_or_else(String::new, |(far, run)| {
        format!(
            ", and {} at the far end of the run, whose two conductors have {}",
            volts(Some(far)),
            ohms(run)
        )
    });
    let verdict = match control.reason {
        LiveReason::WithinLimits => "in range",
        LiveReason::BelowLimit => "too low",
        LiveReason::LimitUnknown => "the limit sheet has no range for it",
        _ => "too close to the limit to tell",
    };
    format!("at {} A ({}) {here} is left here{far}: {verdict}.", control.current_a, control.source)
}

fn unknown(why: Option<LoadUnknown>) -> &'static str {
    match why {
        Some(LoadUnknown::TooMuch) => "not put on: there is more than 45 V at an instant.",
        Some(LoadUnknown::OtherPosts) => {
            "the jig loads posts 3 and 4, and the limit sheet has supply and common elsewhere."
        }
        Some(LoadUnknown::NoSupply) => {
            "there is no supply to load, or it could not be told: what stood there is gone under it."
        }
        Some(LoadUnknown::Unsteady) => {
            "the supply changed meanwhile, or changes its form under the load: read again."
        }
        _ => "the reading under the load did not come to its end.",
    }
}

/// "8.1 ± 0.4 Ω".
fn ohms(ohm: Measured) -> String {
    let places = if ohm.u < 0.0995 { 2 } else { 1 };
    format!("{:.places$} ± {:.places$} Ω", ohm.value, ohm.u)
}

#[test]
fn it_is_said_with_its_number_or_with_why_there_is_none() {
    let volt = |value| Some(Measured { value, u: 0.12 });
    let mut load = SupplyLoad {
        load_ohm: Some(180.0),
        alone_v: volt(-26.0),
        loaded_v: volt(-24.0),
        load_a: Some(0.1333),
        source_ohm: Some(Measured { value: 15.0, u: 0.8 }),
        unknown: None,
        control: None,
    };
    assert_eq!(
        told(&load),
        "26.00 ± 0.12 V alone, 24.00 ± 0.12 V with the jig's 180 Ω across it, which takes 133 mA: 15.0 ± 0.8 Ω of \
         source and wire before this place."
    );
    load.unknown = Some(LoadUnknown::TooMuch);
    assert!(told(&load).starts_with("not put on"));
    load.unknown = None;
    load.source_ohm = None;
    assert!(told(&load).contains("did not come to its end"));
}
