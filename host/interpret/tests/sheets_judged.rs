//! The same runs by other sheets: two-wire loops, siblings, calculated loops and leads.

#[path = "support/bench.rs"]
mod bench;
#[path = "support/chance.rs"]
mod chance;
#[path = "support/network.rs"]
mod network;

use bench::Bench;
use chance::Chance;
use runproof_interpret::judgement::{
    ExplainsComplaint, Finding, FindingKind, Judgement, NotTested, Reason, Verdict,
};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};

fn judged(bench: &Bench, sheet: &str, known: &RunKnowledge) -> Judgement {
    judge(&bench.capture(), &LimitSheet::built_in(sheet).expect(sheet), known)
}

fn known(gauge: &str, length: &str, temperature: &str) -> RunKnowledge {
    RunKnowledge {
        gauge: Some(gauge.parse().expect(gauge)),
        length: Some(length.parse().expect(length)),
        temperature: temperature.parse().expect(temperature),
        ..RunKnowledge::default()
    }
}

fn named(judgement: &Judgement, kind: FindingKind) -> Option<&Finding> {
    judgement.findings.iter().find(|finding| finding.kind == kind)
}

fn two_wires(wire_ohm: f64, seed: u64) -> Bench {
    let mut bench = Bench::new(wire_ohm, seed);
    bench.open = [false, false, true, true];
    bench
}

#[test]
fn a_two_wire_loop_is_told_within_its_uncertainty_whichever_way_round() {
    let (mut inside, mut all, mut widest) = (0, 0, 0.0_f64);
    for seed in 0..300 {
        let chance = &mut Chance::new(!seed);
        let mut bench = two_wires(chance.within(0.0, 8.0), 110_000 + seed);
        if seed % 2 == 1 {
            bench.reaches = [1, 0, 2, 3];
        }
        let loop_ohm = bench.wire_ohm[0] + bench.wire_ohm[1];
        let judgement = judged(&bench, "two-wire-bus", &RunKnowledge::default());
        assert!(judgement.conductors.is_empty(), "never halved");
        assert_eq!(judgement.loops.len(), 1);
        let row = judgement.loops[0];
        let stated = row.resistance_ohm.zip(row.expanded_uncertainty_ohm);
        let (ohm, u_ohm) = stated.unwrap_or_else(|| panic!("{bench:?}\n{judgement:?}"));
        inside += usize::from((ohm - loop_ohm).abs() <= u_ohm);
        all += 1;
        widest = widest.max(u_ohm);
        match judgement.verdict {
            Verdict::Pass => assert!(loop_ohm < 10.3, "{loop_ohm} {judgement:?}"),
            Verdict::Fail => assert!(loop_ohm > 9.7, "{loop_ohm} {judgement:?}"),
            Verdict::CannotTell => assert!((loop_ohm - 10.0).abs() < 2.0 * u_ohm, "{judgement:?}"),
        }
        assert!(named(&judgement, FindingKind::ReversedPair).is_none());
        assert!(named(&judgement, FindingKind::Open).is_none());
    }
    println!("{inside} of {all} within U, the widest {widest:.2} Ω");
    assert!(inside * 100 >= all * 95 && widest < 1.5, "{inside} of {all}, {widest}");
}

#[test]
fn what_is_not_two_wires_through_the_plug_is_no_loop() {
    let all_four = Bench::new(0.6, 1);
    let mut other_posts = two_wires(0.6, 2);
    other_posts.open = [true, false, false, true];
    let mut no_plug = two_wires(0.6, 3);
    no_plug.plug = false;
    let mut one_open = two_wires(0.6, 4);
    one_open.open = [false, true, true, true];
    let terminator = two_wires(22.5, 5); // with the plug's 75 Ω as much as a 120 Ω terminator
    for (bench, kind) in [
        (all_four, FindingKind::Unexplained),
        (other_posts, FindingKind::Unexplained),
        (no_plug, FindingKind::NoEndPlug),
        (one_open, FindingKind::NoEndPlug),
        (terminator, FindingKind::NoEndPlug),
    ] {
        let judgement = judged(&bench, "two-wire-bus", &RunKnowledge::default());
        assert_eq!(judgement.verdict, Verdict::CannotTell, "{bench:?}\n{judgement:?}");
        assert_eq!(judgement.findings[0].kind, kind, "{bench:?}\n{judgement:?}");
        assert_eq!(judgement.loops[0].reason, Reason::NotMeasured);
    }
}

/// The open phase sees it, whatever the plug hides.
#[test]
fn a_path_across_two_wires_is_named() {
    for seed in 0..40 {
        for (short_ohm, kind) in [
            (0.0, FindingKind::Short),
            (10.0, FindingKind::Short),
            (300.0, FindingKind::Short),
            (3e3, FindingKind::Leakage),
            (50e3, FindingKind::Leakage),
        ] {
            let mut bench = two_wires(0.3, 210_000 + seed);
            bench.short = Some((0, 1, 0.5, short_ohm + 1e-3));
            let judgement = judged(&bench, "two-wire-bus", &RunKnowledge::default());
            assert_eq!(judgement.verdict, Verdict::Fail, "{bench:?}\n{judgement:?}");
            assert!(named(&judgement, kind).is_some(), "{bench:?}\n{judgement:?}");
        }
    }
}

/// Half an ohm more than the others is workmanship on a data conductor: it fails acceptance, not
/// service, and explains no complaint.
#[test]
fn half_an_ohm_on_one_conductor_fails_acceptance_and_not_service() {
    for seed in 0..40 {
        for post in 0..4 {
            let mut bench = Bench::new(0.6, 120_000 + seed);
            bench.wire_ohm[post] += 0.65;
            let service = judged(&bench, "service-24vac", &RunKnowledge::default());
            assert_eq!(service.verdict, Verdict::Pass, "{bench:?}\n{service:?}");
            let acceptance = judged(&bench, "acceptance-24vac", &RunKnowledge::default());
            let found = named(&acceptance, FindingKind::SiblingDifference);
            let found = found.unwrap_or_else(|| panic!("{bench:?}\n{acceptance:?}"));
            assert_eq!(found.posts[0].index(), post);
            assert_eq!(found.explains_complaint, ExplainsComplaint::Unlikely);
            assert_eq!(acceptance.verdict, Verdict::Fail);
            assert!(named(&acceptance, FindingKind::UnevenResistance).is_none());
        }
    }
}

#[test]
fn a_difference_is_judged_by_its_uncertainty() {
    for seed in 0..300 {
        let chance = &mut Chance::new(!seed);
        let mut bench = Bench::new(chance.within(0.2, 6.0), 130_000 + seed);
        bench.wire_ohm[(seed % 4) as usize] += chance.within(0.0, 1.0);
        let ohm = bench.wire_ohm.iter();
        let least = ohm.clone().copied().fold(f64::INFINITY, f64::min);
        let difference = ohm.copied().fold(0.0, f64::max) - least;
        let allowed = (0.1 * least).max(0.35);
        let judgement = judged(&bench, "acceptance-24vac", &RunKnowledge::default());
        let beyond = named(&judgement, FindingKind::SiblingDifference).is_some();
        let unsure = named(&judgement, FindingKind::TooCloseToSiblingDifference).is_some();
        let told = judgement.conductors.iter().all(|one| one.resistance_ohm.is_some());
        if told && difference > allowed + 0.3 {
            assert!(beyond, "{difference} {bench:?}\n{judgement:?}");
        }
        if told && difference > allowed + 0.05 {
            assert!(beyond || unsure, "{difference} {bench:?}\n{judgement:?}");
            assert_ne!(judgement.verdict, Verdict::Pass);
        }
        if difference < allowed - 0.05 {
            assert!(!beyond, "{difference} {bench:?}\n{judgement:?}");
        }
    }
}

/// 100 ft of 18 AWG at 20 °C: 0.6385 Ω a conductor (ASTM B258, IEC 60028).
#[test]
fn loops_are_held_against_what_is_calculated_where_gauge_and_length_are_told() {
    let told = known("18awg-solid", "100ft", "15..25C");
    for seed in 0..40 {
        let good = Bench::new(0.6385, 140_000 + seed);
        let judgement = judged(&good, "acceptance-24vac", &told);
        assert_eq!(judgement.verdict, Verdict::Pass, "{good:?}\n{judgement:?}");
        assert_eq!(judgement.loops.len(), 2);

        // The right wire, half as long again.
        let long = Bench::new(0.6385 * 1.5, 150_000 + seed);
        let judgement = judged(&long, "acceptance-24vac", &told);
        assert_eq!(judgement.verdict, Verdict::Fail, "{long:?}\n{judgement:?}");
        assert!(named(&judgement, FindingKind::HighLoopResistance).is_some());

        let untold = judged(&long, "acceptance-24vac", &RunKnowledge::default());
        assert_eq!(untold.verdict, Verdict::Pass);
        assert!(untold.loops.is_empty());
        assert!(untold.not_tested.contains(&NotTested::LoopAgainstLength));

        // It could be as hot as an attic: then it could be right.
        let perhaps = judged(
            &Bench::new(0.6385 * 1.3, 160_000 + seed),
            "acceptance-24vac",
            &known("18awg", "100ft", "-20..70C"),
        );
        assert_eq!(perhaps.verdict, Verdict::CannotTell, "{perhaps:?}");
    }
}

/// 5.5 ft of 18 AWG: 0.035 Ω (ASTM B258, IEC 60028).
#[test]
fn a_lead_is_held_against_its_wire() {
    let told = known("18awg-solid", "5.5ft", "20C");
    for seed in 0..40 {
        let good = Bench::new(0.035, 170_000 + seed);
        let judgement = judged(&good, "made-up-lead", &told);
        let limit_ohm = judgement.conductors[0].limit_ohm.expect("it was told");
        assert!((limit_ohm - 0.2351).abs() < 1e-3, "{limit_ohm}");
        assert_eq!(judgement.verdict, Verdict::Pass, "{good:?}\n{judgement:?}");
        for post in 0..4 {
            let mut bad = Bench::new(0.035, 180_000 + seed);
            bad.wire_ohm[post] += 0.5;
            let judgement = judged(&bad, "made-up-lead", &told);
            assert_eq!(judgement.verdict, Verdict::Fail, "{bad:?}\n{judgement:?}");
            let found = named(&judgement, FindingKind::HighResistance).expect("found");
            assert_eq!(found.posts[0].index(), post);
        }
        let untold = judged(&good, "made-up-lead", &RunKnowledge::default());
        assert_eq!(untold.verdict, Verdict::CannotTell);
        assert_eq!(untold.findings[0].kind, FindingKind::LimitUnknown);
    }
}

#[test]
fn a_length_beyond_the_sheet_is_a_remark() {
    let bench = two_wires(0.6, 190_000);
    for (length, too_long) in [("30m", false), ("31m", true)] {
        let known = RunKnowledge { length: length.parse().ok(), ..RunKnowledge::default() };
        let judgement = judged(&bench, "two-wire-bus", &known);
        assert_eq!(named(&judgement, FindingKind::TooLong).is_some(), too_long, "{length}");
        assert_eq!(judgement.verdict, Verdict::Pass, "{judgement:?}");
    }
}

/// A stricter limit that is only noted does not hide one that fails.
#[test]
fn every_limit_of_a_loop_counts() {
    let text = include_str!("../src/sheets/two-wire-bus.toml");
    let noted = "[loop_of_calculated]\nvalue = 120\nunit = \"percent\"\nseverity = \"note\"\n\
                 explains_complaint = \"unlikely\"\nsource = \"house rule\"\n";
    let sheet = LimitSheet::read(&format!("{text}\n{noted}")).expect("a sheet");
    let told = known("18awg", "100ft", "20C");
    for (wire_ohm, verdict, kinds) in
        [(0.6, Verdict::Pass, 0), (3.0, Verdict::Pass, 1), (7.0, Verdict::Fail, 2)]
    {
        let judgement = judge(&two_wires(wire_ohm, 200_000).capture(), &sheet, &told);
        assert_eq!(judgement.verdict, verdict, "{judgement:?}");
        assert_eq!(judgement.loops.len(), 2);
        let high = judgement.findings.iter();
        let high = high.filter(|one| one.kind == FindingKind::HighLoopResistance).count();
        assert_eq!(high, kinds, "{judgement:?}");
    }
}
