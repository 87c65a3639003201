//! What the built-in steps conclude from what is known, and how what is told stands to what is measured.

use runproof_interpret::next::{FactError, Known, Origin, Reading, Source, Steps, Wiring};

/// The step, what it says of the wiring, what it rules out, what is left.
fn concluded(told: &[(&str, &str)]) -> (String, Option<Wiring>, Vec<String>, Vec<String>) {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    for (key, value) in told {
        known.told(key, value).expect("a fact");
    }
    let advice = known.advice();
    let out = advice.ruled_out.iter().map(|one| one.suspect.name.clone()).collect();
    let left = advice.left.iter().map(|one| one.name.clone()).collect();
    (advice.step.name.clone(), advice.step.wiring, out, left)
}

/// As the rule has it that technicians decide by.
#[test]
fn check_and_temporary_cable_decide() {
    let of = |check, cable| concluded(&[("check", check), ("temporary-cable", cable)]);
    let (name, wiring, out, left) = of("fail", "works");
    assert_eq!((name.as_str(), wiring), ("wiring-proven", Some(Wiring::AtFault)));
    assert!(out.contains(&"board".into()) && left.contains(&"run".into()), "{out:?} {left:?}");
    let (name, wiring, out, left) = of("pass", "fails");
    assert_eq!((name.as_str(), wiring), ("not-the-wiring", Some(Wiring::Cleared)));
    assert!(["run", "route", "metal"].iter().all(|one| out.contains(&(*one).into())), "{out:?}");
    for shows_the_same in ["other-kind", "software", "address", "terminator", "board"] {
        assert!(left.contains(&shows_the_same.into()), "{left:?}");
    }
    let (name, wiring, out, left) = of("pass", "works");
    assert_eq!((name.as_str(), wiring), ("noise-or-intermittent", Some(Wiring::Undecided)));
    assert!(out.contains(&"board".into()) && left.contains(&"route".into()), "{out:?} {left:?}");
    let (name, wiring, out, left) = of("fail", "fails");
    assert_eq!((name.as_str(), wiring), ("more-than-one", Some(Wiring::AtFault)));
    assert!(out.is_empty() && left.contains(&"run".into()), "{out:?} {left:?}");
    assert!(left.contains(&"board".into()), "{left:?}");
}

/// It is neither pass nor fail: it never proves the wiring, nor clears it.
#[test]
fn cannot_tell_is_neither() {
    for cable in ["works", "fails", "unknown"] {
        let told = [("check", "cannot-tell"), ("temporary-cable", cable)];
        assert_eq!(concluded(&told).0, "check-again");
        for (check, repeated) in [("cannot-tell", "yes"), ("unknown", "unknown")] {
            let (name, wiring, out, _) = concluded(&[
                ("check", check),
                ("check-repeated", repeated),
                ("temporary-cable", cable),
                ("mains-cable", "no"),
            ]);
            assert!(!matches!(wiring, Some(Wiring::AtFault | Wiring::Cleared)), "{name}");
            assert!(!out.contains(&"run".into()), "{name}");
        }
    }
}

#[test]
fn what_may_be_mains_stops_everything() {
    let decided = [("check", "fail"), ("temporary-cable", "works")];
    for stop in [("mains-cable", "yes"), ("supply-plate", "31"), ("supply-adapter", "48.5")] {
        let (name, ..) = concluded(&[&decided[..], &[stop]].concat());
        assert!(["mains-interconnect", "voltage"].contains(&name.as_str()), "{name}");
    }
}

#[test]
fn what_was_measured_counts_before_what_is_told() {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    let volts = |value, u| vec![("supply-v", Some(Reading::Number { value, u }))];
    known.measured("plate.jsonl", Source::LivePlate, &volts(17.2, 0.1));
    known.told("supply-plate", "28").expect("a fact");
    let [one] = known.contradictions.as_slice() else { panic!("{:?}", known.contradictions) };
    assert_eq!((one.fact.key.as_str(), one.file.as_str()), ("supply-plate", "plate.jsonl"));
    let advice = known.advice();
    let supply = advice.known.iter().find(|one| one.fact.key == "supply-plate").expect("known");
    assert_eq!(supply.settled.origin, Origin::Measured("plate.jsonl".into()));
    assert!(advice.ruled_out.iter().all(|one| one.suspect.name != "supply"));

    // On the same side of every limit they do not contradict each other.
    let mut known = Known::nothing(&steps);
    known.measured("plate.jsonl", Source::LivePlate, &volts(24.3, 0.1));
    known.told("supply-plate", "26").expect("a fact");
    assert!(known.contradictions.is_empty());
    assert!(known.advice().ruled_out.iter().any(|one| one.suspect.name == "supply"));

    // A limit within the uncertainty: not known, so what is told counts.
    let mut known = Known::nothing(&steps);
    known.measured("plate.jsonl", Source::LivePlate, &volts(20.05, 0.1));
    assert!(known.advice().ruled_out.iter().all(|one| one.suspect.name != "supply"));
    known.told("supply-plate", "24").expect("a fact");
    assert!(known.contradictions.is_empty());
    assert!(known.advice().ruled_out.iter().any(|one| one.suspect.name == "supply"));

    // Of two captures the later one counts.
    let mut known = Known::nothing(&steps);
    known.measured("first.jsonl", Source::LivePlate, &volts(17.0, 0.1));
    known.measured("second.jsonl", Source::LivePlate, &volts(24.0, 0.1));
    assert!(known.advice().ruled_out.iter().any(|one| one.suspect.name == "supply"));
}

#[test]
fn what_is_told_wrong_says_what_it_can_be() {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    let mut told = |key: &str, value: &str| known.told(key, value).expect_err("wrong").to_string();
    assert_eq!(
        told("suply-plate", "24"),
        "there is no fact `suply-plate`; near to it: supply-plate, supply-adapter, pair-plate"
    );
    assert_eq!(told("xyzzy", "24"), "there is no fact `xyzzy`");
    let range = "it is a number from 0 to 1000, in V or unknown";
    for value in ["1001", "-1", "24V", "NaN", "inf", ""] {
        assert_eq!(
            told("supply-plate", value),
            format!("`supply-plate` cannot be `{value}`: {range}")
        );
    }
    assert_eq!(told("devices", "some"), "`devices` cannot be `some`: it is all, one or unknown");
    assert!(told("hazard-plate", "no").contains("only measured"));
    assert_eq!(known.answered("power", "yes"), Ok(()));
    assert_eq!(known.answered("power", "yes"), Err(FactError::Twice { key: "power".into() }));
    assert!(matches!(known.answered("devices", "yes"), Err(FactError::NotYesNo { .. })));
    assert_eq!(known.answered("devices", "unknown"), Ok(()));
}
