//! What is given a second time, what is open again, and what cannot be together: a case in the order in which it goes.

use runproof_interpret::next::{Change, Known, Reading, Source, Steps, Wiring};

/// The step once all of this was told, in this order; `FILE` begins a capture: a check that comes to this.
fn after(told: &[(&str, &str)]) -> (String, Option<Wiring>) {
    let steps = Steps::built_in();
    let step = given(&steps, told).advice().step;
    (step.name.clone(), step.wiring)
}

fn given<'a>(steps: &'a Steps, told: &[(&str, &str)]) -> Known<'a> {
    let mut known = Known::nothing(steps);
    for (key, value) in told {
        known.told(key, value).expect("a fact");
    }
    known
}

fn check(verdict: &'static str, found: &'static str) -> Vec<(&'static str, Option<Reading>)> {
    let word = |word| Some(Reading::Word(word));
    vec![("verdict", word(verdict)), ("found", word(found)), ("hazard", word("no"))]
}

const NO_MAINS: (&str, &str) = ("mains-cable", "no");
const CROSSED: [(&str, &str); 3] = [NO_MAINS, ("check", "fail"), ("check-found", "crossed")];

/// Told, or by captures alone: whether it works is asked before the check to metal.
#[test]
fn a_repair_that_passes_is_put_into_service_first() {
    let of = |more: &[(&str, &str)]| after(&[&CROSSED[..], more].concat());
    assert_eq!(of(&[]).0, "exchange-crossed");
    let repaired = ("repaired", "yes");
    assert_eq!(of(&[repaired]).0, "check-repaired");
    let passes = [repaired, ("check", "pass")];
    assert_eq!(of(&passes).0, "works-now");
    assert_eq!(of(&[("check", "pass")]).0, "works-now");
    let works = [&passes[..], &[("repair-helped", "yes")]].concat();
    assert_eq!(of(&works), ("run-was-it".into(), Some(Wiring::AtFault)));
    let steps = Steps::built_in();
    let known = given(&steps, &[&CROSSED[..], &works].concat());
    let advice = known.advice();
    assert!(advice.left.iter().any(|one| one.name == "run"), "{:?}", advice.ruled_out);
    let does_not = [&passes[..], &[("repair-helped", "no")]].concat();
    assert_eq!(of(&does_not).0, "to-earth");
    let steps = Steps::built_in();
    let mut known = given(&steps, &[NO_MAINS]);
    known.measured("check-1.jsonl", Source::Check, &check("fail", "open"));
    assert_eq!(known.advice().step.name, "put-right-run");
    known.measured("check-2.jsonl", Source::Check, &check("pass", "nothing"));
    let advice = known.advice();
    assert_eq!(advice.step.name, "works-now");
    assert_eq!(advice.first, [Change::ClipsOff, Change::Land, Change::ControlBack]);
    // To metal likewise.
    let metal = [NO_MAINS, ("check", "pass"), ("to-earth", "fail")];
    let of = |more: &[(&str, &str)]| after(&[&metal[..], more].concat()).0;
    assert_eq!(of(&[]), "put-right-metal");
    assert_eq!(of(&[("freed", "yes")]), "to-earth-freed");
    assert_eq!(of(&[("freed", "yes"), ("to-earth", "pass")]), "works-freed");
}

/// What was told before counts no more, and is shown; a second fault is put right like the first.
#[test]
fn what_is_told_again_replaces_what_was_told() {
    let steps = Steps::built_in();
    let mut known = given(&steps, &[&CROSSED[..], &[("check", "pass")]].concat());
    let old: Vec<&str> = known.superseded.iter().map(|one| one.fact.key.as_str()).collect();
    assert_eq!(old, ["check", "check-found"]);
    for (key, value) in [("repair-helped", "no"), ("check", "fail"), ("check-found", "open")] {
        known.told(key, value).expect("a fact");
    }
    assert_eq!(known.advice().step.name, "put-right-run");
    // Not put right: a temporary cable decides, and the check that failed still counts.
    known.told("repaired", "no").expect("a fact");
    known.told("temporary-cable", "works").expect("a fact");
    assert_eq!(known.advice().step.name, "wiring-proven");
    // What was measured counts before what is told, until what it measured is put right.
    let mut known = given(&steps, &[NO_MAINS]);
    known.measured("check-1.jsonl", Source::Check, &check("fail", "crossed"));
    known.told("check", "pass").expect("a fact");
    assert_eq!(
        (known.advice().step.name.as_str(), known.contradictions.len()),
        ("exchange-crossed", 1)
    );
    known.told("repaired", "yes").expect("a fact");
    known.told("check", "pass").expect("a fact");
    assert_eq!((known.advice().step.name.as_str(), known.contradictions.len()), ("works-now", 1));
}

#[test]
fn an_exchange_is_followed_by_a_reading_of_its_own() {
    let reversed = [NO_MAINS, ("pair-plate", "-0.61"), ("pair-exchange-helped", "no")];
    let of = |more: &[(&str, &str)]| after(&[&reversed[..], more].concat()).0;
    assert_eq!(of(&[]), "read-anew");
    assert_eq!(of(&[("pair-plate", "0.61")]), "devices");
    let found = [("pair-plate", "0.61"), ("check", "fail"), ("check-found", "reversed-pair")];
    assert_eq!(of(&found), "exchange-found");
    let once = [&found[..], &[("repaired", "yes")], &found[1..]].concat();
    assert_eq!(of(&once), "exchange-found");
}

#[test]
fn what_cannot_be_together_is_a_contradiction() {
    let steps = Steps::built_in();
    let fails = [NO_MAINS, ("check", "fail"), ("check-found", "nothing")];
    let known = given(&steps, &fails);
    assert_eq!(known.impossible().len(), 1);
    assert_eq!(known.advice().step.name, "put-right-run");
    let passes =
        [NO_MAINS, ("check", "pass"), ("check-found", "open"), ("temporary-cable", "fails")];
    let known = given(&steps, &passes);
    assert_eq!(known.impossible().len(), 1);
    assert_ne!(known.advice().step.wiring, Some(Wiring::Cleared));
    assert!(given(&steps, &CROSSED).impossible().is_empty());
}

#[test]
fn a_supply_of_another_kind_is_not_a_weak_one() {
    let of = |more: &[(&str, &str)]| after(&[&[NO_MAINS][..], more].concat()).0;
    for (volts, kind) in [("12", "dc"), ("24", "dc"), ("17", "other")] {
        assert_eq!(of(&[("supply-plate", volts)]), "kind-at-plate");
        assert_eq!(of(&[("supply-plate", volts), ("supply-kind-plate", kind)]), "other-supply");
        assert_eq!(of(&[("supply-adapter", volts), ("supply-kind-adapter", kind)]), "other-supply");
    }
    assert_eq!(of(&[("supply-plate", "12"), ("supply-kind-plate", "ac")]), "supply-at-unit-first");
    assert_eq!(of(&[("supply-plate", "0")]), "supply-at-unit-first");
    // A control is not put back on it.
    let steps = Steps::built_in();
    let told = [NO_MAINS, ("supply-plate", "12"), ("supply-kind-plate", "dc")];
    assert_eq!(given(&steps, &told).advice().close, []);
    // Until the kind is known, volts rule nothing out.
    let steps = Steps::built_in();
    let known =
        given(&steps, &[NO_MAINS, ("supply-plate", "24"), ("supply-kind-plate", "unknown")]);
    assert!(known.advice().ruled_out.iter().all(|one| one.suspect.name != "supply"));
}

/// Near to nothing is silence; the wrong way round is another thing.
#[test]
fn a_unit_is_silent_or_reversed() {
    for (alone, step) in
        [("nothing", "unit-silent"), ("reversed", "unit-reversed"), ("right", "check-by-readings")]
    {
        let told = [NO_MAINS, ("pair-adapter", "-0.6"), ("pair-alone", alone)];
        assert_eq!(after(&told).0, step);
    }
}

/// Whatever fails a live look is taken up before check and temporary cable conclude.
#[test]
fn every_fault_of_a_live_look_is_taken_up() {
    let decided = [NO_MAINS, ("check", "pass"), ("to-earth", "pass"), ("temporary-cable", "works")];
    for (word, step) in [
        ("common-missing", "land-anew-and-read"),
        ("floats", "land-anew-and-read"),
        ("gives-way", "land-anew-and-read"),
        ("beyond-receiver", "foreign-stays"),
        ("other", "foreign-stays"),
        ("nothing", "noise-or-intermittent"),
    ] {
        for source in [Source::LiveAdapter, Source::LivePlate] {
            let steps = Steps::built_in();
            let mut known = given(&steps, &[NO_MAINS]);
            known.measured("live.jsonl", source, &vec![("fault", Some(Reading::Word(word)))]);
            if word != "nothing" {
                assert!(known.advice().step.name.starts_with("check-"), "{word}");
            }
            for (key, value) in decided {
                known.told(key, value).expect("a fact");
            }
            assert_eq!(known.advice().step.name, step, "{word}");
        }
    }
    // Mended, and read again: it is no longer what it was.
    let steps = Steps::built_in();
    let wrong = [("supply-plate", "0"), ("supply-adapter", "24"), ("supply-kind-adapter", "ac")];
    let wrong = [&decided[..], &wrong, &[("landed-anew", "reads-wrong")]].concat();
    let mut known = given(&steps, &wrong);
    assert_eq!(known.advice().step.name, "wrong-as-landed");
    let word = |word| Some(Reading::Word(word));
    let volts = |value| Some(Reading::Number { value, u: 0.1 });
    let read = [
        ("supply-v", volts(24.0)),
        ("supply-kind", word("ac")),
        ("pair-v", volts(0.6)),
        ("fault", word("nothing")),
    ];
    known.measured("plate.jsonl", Source::LivePlate, &read.to_vec());
    assert_eq!(known.advice().step.name, "noise-or-intermittent");
    for volts in ["5", "14", "-5", "24"] {
        let told = [NO_MAINS, ("pair-plate", volts)];
        assert_eq!(after(&told).0, "check-foreign", "{volts}");
    }
}

#[test]
fn a_restart_that_helped_concludes() {
    assert_eq!(after(&[("restart-helped", "yes")]).0, "recovered");
    // A reading that is wrong comes first.
    let told = [NO_MAINS, ("supply-plate", "0"), ("restart-helped", "yes")];
    assert_eq!(after(&told).0, "supply-at-unit-first");
}

#[test]
fn no_power_is_never_skipped() {
    assert_eq!(after(&[("power", "no")]).0, "mains-cable-before-power");
    let decided = [NO_MAINS, ("check", "pass"), ("temporary-cable", "fails")];
    let without = [&decided[..], &[("power", "no")]].concat();
    assert_eq!(after(&without).0, "restore-power");
    assert_eq!(after(&[&without[..], &[("power", "yes")]].concat()).0, "not-the-wiring");
}

/// The control goes off its plate and back with power off; an end closes what is open.
#[test]
fn a_control_is_moved_with_power_off_and_an_end_closes_the_bench() {
    use Change::{ControlBack, ControlOff, Land, PowerOff, PowerOn, TemporaryOff};
    let steps = Steps::built_in();
    let mut known = given(&steps, &[NO_MAINS]);
    for key in ["devices", "worked-before", "power", "visible-damage"] {
        known.told(key, "unknown").expect("a fact");
    }
    for key in ["supply-adapter", "supply-kind-adapter", "pair-adapter"] {
        known.told(key, "unknown").expect("a fact");
    }
    let advice = known.advice();
    assert_eq!(advice.step.name, "live-at-plate");
    assert_eq!(advice.first, [PowerOff, ControlOff, PowerOn]);
    for key in ["supply-plate", "supply-kind-plate", "pair-plate"] {
        known.told(key, "unknown").expect("a fact");
    }
    let advice = known.advice();
    assert_eq!(advice.step.name, "traffic");
    assert_eq!(advice.first, [PowerOff, ControlBack, PowerOn]);
    known.told("check", "fail").expect("a fact");
    known.told("temporary-cable", "works").expect("a fact");
    let advice = known.advice();
    assert_eq!((advice.step.name.as_str(), &advice.first[..]), ("wiring-proven", &[PowerOff][..]));
    assert_eq!(advice.close, [TemporaryOff, Land, ControlBack, PowerOn]);
    // Nothing is said of a bench that nobody knows to be open.
    assert_eq!(given(&steps, &[("restart-helped", "yes")]).advice().close, []);
}
