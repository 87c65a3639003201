//! What the built-in steps conclude from what is known, and how what is told stands to what is measured.

use runproof_interpret::next::{Change, FactError, Known, Origin, Reading, Source, Steps, Wiring};

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
    for stop in [
        ("mains-cable", "yes"),
        ("supply-plate", "31"),
        ("supply-adapter", "48.5"),
        ("pair-plate", "-31"),
    ] {
        let (name, ..) = concluded(&[&decided[..], &[stop]].concat());
        assert!(["mains-interconnect", "voltage"].contains(&name.as_str()), "{name}");
    }
}

#[test]
fn what_was_measured_counts_before_what_is_told() {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    let ac = ("supply-kind", Some(Reading::Word("ac")));
    let volts = |value, u| vec![("supply-v", Some(Reading::Number { value, u })), ac];
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
        "there is no fact `suply-plate`; near to it: supply-plate, supply-alone, supply-adapter"
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
    assert!(matches!(known.answered("devices", "yes"), Err(FactError::NotYesNo { .. })));
    assert_eq!(known.answered("devices", "unknown"), Ok(()));
}

/// The steps from here on, each answered by what is told of its facts; else it is not known.
fn path(told: &[(&str, &str)], answers: &[(&str, &str)]) -> Vec<String> {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    for (key, value) in told {
        known.told(key, value).expect("a fact");
    }
    let mut path = vec![];
    loop {
        let step = known.advice().step;
        path.push(step.name.clone());
        if step.is_end() {
            return path;
        }
        for fact in step.settles.iter().map(|fact| &steps.facts[*fact]) {
            let answer = answers.iter().find(|(key, _)| *key == fact.key);
            let value = answer.map_or("unknown", |(_, value)| *value);
            if known.advice().known.iter().all(|one| one.fact.key != fact.key) {
                known.told(&fact.key, value).expect("a fact");
            }
        }
    }
}

/// Whatever a lifted check and a temporary cable come to: what was read with power on is dealt with first.
#[test]
fn readings_with_power_on_are_never_ignored() {
    let decided = [
        ("check", "pass"),
        ("temporary-cable", "works"),
        ("mains-cable", "no"),
        ("supply-kind-adapter", "ac"),
    ];
    let at = |reading: (&str, &str), answers: &[(&str, &str)]| {
        path(&[&decided[..], &[reading]].concat(), answers)
    };
    let lost =
        at(("supply-plate", "0"), &[("supply-adapter", "24"), ("landed-anew", "reads-wrong")]);
    assert_eq!(
        lost,
        ["supply-at-unit-first", "to-earth-by-readings", "land-anew-and-read", "wrong-as-landed"]
    );
    let no_source = at(("supply-plate", "0"), &[("supply-adapter", "1"), ("supply-alone", "no")]);
    assert_eq!(no_source, ["supply-at-unit-first", "supply-alone", "weak-source"]);
    let sags = at(("supply-sags", "at-plate-only"), &[]);
    assert_eq!(sags, ["to-earth-by-readings", "land-anew-and-read", "wrong-as-landed"]);
    assert_eq!(at(("supply-sags", "at-unit"), &[]), ["overloaded"]);
    assert_eq!(
        at(("pair-adapter", "0"), &[("pair-alone", "nothing")]),
        ["pair-alone", "unit-silent"]
    );
    let held = at(("pair-adapter", "0"), &[("pair-alone", "right"), ("landed-anew", "works")]);
    assert_eq!(
        held,
        ["pair-alone", "to-earth-by-readings", "land-anew-and-read", "landing-was-it"]
    );
    let right = at(("supply-sags", "at-plate-only"), &[("landed-anew", "reads-right")]);
    assert_eq!(right.last().map(String::as_str), Some("noise-or-intermittent"));
    for reading in [("supply-plate", "0"), ("supply-sags", "at-plate-only"), ("pair-plate", "0")] {
        for cable in ["works", "fails", "unknown"] {
            let told =
                [("check", "pass"), ("temporary-cable", cable), ("mains-cable", "no"), reading];
            let (name, wiring, out, _) = concluded(
                &[
                    &told[..],
                    &[
                        ("supply-adapter", "24"),
                        ("supply-kind-adapter", "ac"),
                        ("pair-adapter", "0.6"),
                        ("to-earth", "pass"),
                        ("landed-anew", "reads-wrong"),
                    ],
                ]
                .concat(),
            );
            assert_ne!(wiring, Some(Wiring::Cleared), "{name}");
            assert!(name.starts_with("wrong-") && !out.contains(&"landing".into()), "{name}");
        }
    }
}

#[test]
fn volts_lost_between_two_readings_lead_to_a_check() {
    let told = |plate| {
        let kinds = [("supply-kind-adapter", "ac"), ("supply-kind-plate", "ac")];
        let volts = [("supply-adapter", "27.1"), ("supply-plate", plate)];
        [&[("mains-cable", "no")][..], &kinds, &volts].concat()
    };
    assert_eq!(concluded(&told("21.8")).0, "check-by-readings");
    assert_eq!(concluded(&told("26.4")).0, "devices");
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    let ac = ("supply-kind", Some(Reading::Word("ac")));
    let volts = |value| vec![("supply-v", Some(Reading::Number { value, u: 0.3 })), ac];
    known.measured("plate.jsonl", Source::LivePlate, &volts(23.0));
    known.measured("unit.jsonl", Source::LiveAdapter, &volts(25.2));
    known.told("mains-cable", "no").expect("a fact");
    // 2.2 ± 0.42 V: not told from 2 V.
    assert_ne!(known.advice().step.name, "check-by-readings");
    known.measured("unit.jsonl", Source::LiveAdapter, &volts(25.6));
    let advice = known.advice();
    assert_eq!(advice.step.name, "check-by-readings");
    assert_eq!(advice.because[0].settled.origin, Origin::Computed);
}

#[test]
fn what_was_found_is_what_is_put_right() {
    for (found, step) in [
        ("reversed-pair", "exchange-found"),
        ("crossed", "exchange-crossed"),
        ("resistance", "remake-joint"),
        ("short", "put-right-run"),
        ("unknown", "put-right-run"),
    ] {
        let told = [("mains-cable", "no"), ("check", "fail"), ("check-found", found)];
        assert_eq!(concluded(&told).0, step);
    }
    assert_eq!(concluded(&[("mains-cable", "no"), ("to-earth", "fail")]).0, "put-right-metal");
    assert_eq!(concluded(&[("mains-cable", "no"), ("pair-plate", "-0.6")]).0, "exchange-pair");
    let damage = path(&[("visible-damage", "yes")], &[("check", "pass"), ("mains-cable", "no")]);
    assert!(damage.windows(2).any(|two| two == ["put-right", "check"]), "{damage:?}");
}

#[test]
fn voltage_where_none_belongs_leads_to_a_check_with_power_off() {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    known.told("mains-cable", "no").expect("a fact");
    known.measured(
        "plate.jsonl",
        Source::LivePlate,
        &vec![("foreign", Some(Reading::Word("yes")))],
    );
    let advice = known.advice();
    assert_eq!(advice.step.name, "check-foreign");
    assert_eq!(advice.first, [Change::PowerOff, Change::Lift]);
    known.measured("run.jsonl", Source::Check, &vec![("verdict", Some(Reading::Word("pass")))]);
    known.told("temporary-cable", "works").expect("a fact");
    assert_eq!(known.advice().step.name, "foreign-stays");
}

/// After a dead check the conductors are landed before power comes on, and nothing is said twice.
#[test]
fn the_bench_is_brought_to_stand_as_the_step_needs_it() {
    let steps = Steps::built_in();
    let mut known = Known::nothing(&steps);
    known.told("mains-cable", "no").expect("a fact");
    known.measured("run.jsonl", Source::Check, &vec![("verdict", Some(Reading::Word("pass")))]);
    assert_eq!((known.advice().step.name.as_str(), known.advice().first), ("to-earth", vec![]));
    known.told("to-earth", "pass").expect("a fact");
    for key in ["devices", "worked-before", "power", "visible-damage"] {
        assert_eq!(known.advice().first, [], "{key}");
        known.told(key, "unknown").expect("a fact");
    }
    let advice = known.advice();
    assert_eq!(advice.step.name, "live-at-unit");
    use Change::{ClipsOff, ControlBack, Land, PowerOn};
    assert_eq!(advice.first, [ClipsOff, Land, ControlBack, PowerOn]);
}
