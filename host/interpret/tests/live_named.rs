//! Powered runs whose fault is to be named: what alternates on a line, a supply where none belongs, a hazard's place, and
//! two ends laid side by side.

#[path = "support/chance.rs"]
mod chance;
#[expect(dead_code, reason = "what no fault here needs")]
#[path = "support/live_bench.rs"]
mod live_bench;
#[path = "support/live_judged.rs"]
mod live_judged;
#[path = "support/network.rs"]
mod network;

use live_bench::{FAR, LiveBench, Wave};
use live_judged::*;
use runproof_interpret::capture::Entry;
use runproof_interpret::judgement::{
    At, LiveFinding, LiveFindingKind as Kind, LiveJudgement, LiveReason, NotCompared, PairBetween,
    PairSign, SupplyBetween, Verdict,
};
use runproof_interpret::limits::{ConductorName, Severity};
use runproof_interpret::{LimitSheet, LiveKnowledge, compare_live, judge_live};

fn only(found: &LiveJudgement, kind: Kind) -> &LiveFinding {
    let mut all = found.findings.iter().filter(|one| one.kind == kind);
    let (Some(one), None) = (all.next(), all.next()) else {
        panic!("one {kind:?}: {:#?}", found.findings)
    };
    one
}

/// What alternates on a data line, held to 1 V by its high-impedance reading.
#[test]
fn what_alternates_is_held_to_its_own_limit() {
    for (rms_v, reason, verdict, expected) in [
        (0.05, LiveReason::WithinLimits, Verdict::Pass, vec![]),
        (0.5, LiveReason::WithinLimits, Verdict::Pass, vec![Kind::Hum]),
        (1.0, LiveReason::TooCloseToLimit, Verdict::CannotTell, vec![Kind::TooCloseToLimit]),
        (1.5, LiveReason::AboveLimit, Verdict::Fail, vec![Kind::ForeignVoltage]),
    ] {
        let bench = supplied(17, sine(24.0, 60.0))
            .with(1, FAR, 300.0, direct(2.8))
            .with(FAR, 3, 1.0, sine(rms_v, 60.0))
            .with(2, 3, 300.0, direct(2.2));
        let found = judged(&with_zero(&bench));
        let row = found.conductors[0].alternating.expect("a data line");
        assert_eq!((row.reason, row.verdict), (reason, verdict), "{rms_v}");
        let direct = found.conductors[0].direct.expect("a data line");
        assert_eq!(direct.verdict, Verdict::Pass, "{rms_v}");
        assert_eq!((found.verdict, kinds(&found)), (verdict, expected), "{rms_v}");
        let other = found.conductors[1].alternating.expect("a data line");
        assert_eq!(other.verdict, Verdict::Pass, "{rms_v}");
    }
}

#[test]
fn hum_on_both_lines_is_one_remark_and_above_the_limit_a_fault() {
    let hum = Wave::Sine { rms_v: 120.0, hertz: 60.0, turn: 0.4 };
    let couples = |pf: f64| 1e12 / (std::f64::consts::TAU * 60.0 * pf);
    let hums = |ohm: f64| {
        let bench = supplied(18, sine(24.0, 60.0))
            .with(1, 3, ohm, direct(2.8))
            .with(2, 3, ohm, direct(2.2))
            .with(1, 3, couples(1500.0), hum)
            .with(2, 3, couples(900.0), hum);
        judged(&with_zero(&bench))
    };
    let below = hums(6e3);
    assert_eq!((below.verdict, kinds(&below)), (Verdict::Pass, vec![Kind::Hum]));
    let remark = only(&below, Kind::Hum);
    assert_eq!((remark.severity, remark.conductors.len()), (Severity::Note, 2));
    let above = hums(60e3);
    assert_eq!(above.verdict, Verdict::Fail);
    assert!(
        above.findings.iter().any(|one| one.kind == Kind::Hum && one.severity == Severity::Fail)
    );
    let row = above.conductors[0].alternating.expect("a data line");
    assert_eq!((row.verdict, row.reason), (Verdict::Fail, LiveReason::AboveLimit));
}

#[test]
fn a_supply_that_touches_a_data_line() {
    for (supply, sheet) in [
        (sine(26.0, 60.0), LimitSheet::service_24vac()),
        (sine(23.0, 50.0), LimitSheet::service_24vac()),
        (direct(12.0), LimitSheet::built_in("service-12vdc").expect("built in")),
    ] {
        for (line, name) in [(1, ConductorName::DataPlus), (2, ConductorName::DataMinus)] {
            let found = biased(supplied(19, supply), 0.6).joined(4, line, 2.0).joined(1, 2, 120.0);
            let found = judge_live(&with_zero(&found), &sheet, &LiveKnowledge::default());
            let touch = only(&found, Kind::SupplyOnData);
            assert_eq!(touch.conductors, [name]);
            assert_eq!(kinds(&found), [Kind::SupplyOnData], "{:#?}", found.findings);
            assert_eq!(found.verdict, Verdict::Fail);
            assert_eq!(found.pair.expect("four").sign, PairSign::Undecided);
        }
    }
    // Of a part of it only so much is known that it does not belong there.
    let part = biased(supplied(19, sine(26.0, 60.0)), 0.6).joined(4, 1, 1e3);
    let part = judged(&with_zero(&part));
    assert!(has(&part, Kind::ForeignVoltage) && !has(&part, Kind::SupplyOnData));
    // Another transformer's is another size, or turned.
    let other = biased(supplied(19, sine(26.0, 60.0)), 0.6).with(1, 3, 1.0, sine(18.0, 60.0));
    assert!(!has(&judged(&with_zero(&other)), Kind::SupplyOnData));
}

#[test]
fn a_supply_on_the_wrong_conductor() {
    let dc = LimitSheet::built_in("service-12vdc").expect("built in");
    for (supply, sheet) in [(sine(26.0, 60.0), LimitSheet::service_24vac()), (direct(12.2), dc)] {
        // Its wire and data+'s are exchanged; and it is landed on data+ with nothing where it belongs.
        let crossed = LiveBench::new(20)
            .with(1, 3, 1.5, supply)
            .with(4, 3, 300.0, direct(2.8))
            .with(2, 3, 300.0, direct(2.2));
        let landed = LiveBench::new(20).with(1, 3, 1.5, supply).with(2, 3, 300.0, direct(2.2));
        for bench in [crossed, landed] {
            let found = judge_live(&with_zero(&bench), &sheet, &LiveKnowledge::default());
            let elsewhere = only(&found, Kind::SupplyElsewhere);
            assert_eq!(elsewhere.conductors, [ConductorName::DataPlus]);
            assert!(!has(&found, Kind::NoSupply) && !has(&found, Kind::ReversedPair));
            assert_eq!(found.verdict, Verdict::Fail);
        }
    }
    // Both of its wires on the pair, the pair's where they belong: seen from each other conductor it is on data+.
    let on_the_pair = LiveBench::new(20)
        .with(1, 2, 1.5, sine(26.0, 60.0))
        .with(4, 2, 300.0, direct(2.8))
        .with(3, 2, 300.0, direct(2.2));
    let on_the_pair = judged(&with_zero(&on_the_pair));
    assert_eq!(only(&on_the_pair, Kind::SupplyElsewhere).conductors, [ConductorName::DataPlus]);
}

#[test]
fn a_supply_that_is_exchanged_with_common() {
    let dc = LimitSheet::built_in("service-12vdc").expect("built in");
    for (supply, sheet) in [(sine(26.0, 60.0), LimitSheet::service_24vac()), (direct(12.2), dc)] {
        let crossed = LiveBench::new(21)
            .with(3, 4, 1.5, supply)
            .with(1, 4, 300.0, direct(2.8))
            .with(2, 4, 300.0, direct(2.2));
        let found = judge_live(&with_zero(&crossed), &sheet, &LiveKnowledge::default());
        assert_eq!(kinds(&found), [Kind::SupplyCrossedWithCommon], "{:#?}", found.findings);
        assert_eq!(found.verdict, Verdict::Fail);
        assert_eq!(found.pair.expect("four").sign, PairSign::Right);
    }
    // Fed the wrong way round, the lines as they should be: no crossing between here and there.
    let dc = LimitSheet::built_in("service-12vdc").expect("built in");
    let reversed = judge_live(
        &with_zero(&biased(supplied(21, direct(-12.2)), 0.6)),
        &dc,
        &LiveKnowledge::default(),
    );
    assert!(!has(&reversed, Kind::SupplyCrossedWithCommon) && has(&reversed, Kind::LowSupply));
}

/// No sound run, whatever is on its pair, has its supply anywhere else.
#[test]
fn a_supply_in_its_place_is_never_looked_for_elsewhere() {
    for seed in 0..200 {
        let c = &mut chance::Chance::new(seed ^ 0x5151);
        let direct_v = c.unit() < 0.4;
        let supply = match direct_v {
            true => direct(c.within(11.5, 12.5)),
            false => Wave::Sine { rms_v: c.within(19.0, 29.0), hertz: 60.0, turn: c.unit() },
        };
        let sheet = if direct_v { "service-12vdc" } else { "service-24vac" };
        let (mean_v, bias_v) = (c.within(0.5, 4.5), c.within(-1.0, 1.0));
        let ohm = 10.0_f64.powf(c.within(2.0, 4.5));
        let bench = supplied(seed, supply)
            .with(1, 3, ohm, direct(mean_v + bias_v / 2.0))
            .with(2, 3, ohm, direct(mean_v - bias_v / 2.0))
            .joined(1, 2, 10.0_f64.powf(c.within(1.5, 4.5)));
        let found = judge_live(
            &with_zero(&bench),
            &LimitSheet::built_in(sheet).expect("built in"),
            &LiveKnowledge::default(),
        );
        for kind in [Kind::SupplyOnData, Kind::SupplyElsewhere, Kind::SupplyCrossedWithCommon] {
            assert!(!has(&found, kind), "{seed}: {bench:#?} {:#?}", found.findings);
        }
    }
}

#[test]
fn a_hazard_names_the_two_with_most() {
    let found = judged(&with_zero(&sound(22, sine(36.0, 60.0), 0.6)));
    let hazard = only(&found, Kind::Hazard);
    assert_eq!(hazard.conductors.len(), 2);
    assert!(hazard.conductors.contains(&ConductorName::Supply), "{hazard:#?}");
    assert_eq!(hazard.at_least, None);
    assert!((35.9..37.0).contains(&hazard.value.expect("within the range")));
    // Beyond the range: at least so much, and never more than there is.
    for (a, b, rms_v) in [(1, 2, 120.0), (1, 2, 230.0), (3, 4, 480.0), (1, 4, 480.0), (2, 3, 120.0)]
    {
        let found = judged(&LiveBench::new(23).with(a, b, 1.0, sine(rms_v, 60.0)).capture());
        let hazard = only(&found, Kind::Hazard);
        let mut posts: Vec<usize> = hazard.posts.iter().map(|post| post.index() + 1).collect();
        posts.sort_unstable();
        assert_eq!(posts, [a, b], "{hazard:#?}");
        let peak_v = rms_v * 2.0_f64.sqrt();
        let told = hazard.at_least.or(hazard.value).expect("one of the two");
        assert!(hazard.at_least.is_none_or(|least| least <= peak_v), "{hazard:#?}");
        assert!(told > 50.0);
    }
}

fn at(place: At, bench: &LiveBench, sheet: &str) -> LiveJudgement {
    let mut capture = with_zero(bench);
    capture.entries.insert(0, Entry::At(place));
    judge_live(&capture, &LimitSheet::built_in(sheet).expect("built in"), &LiveKnowledge::default())
}

#[test]
fn what_is_lost_between_two_ends() {
    let ends = |from: Wave, to: Wave, sheet: &str| {
        let plate = at(At::Plate, &sound(24, to, 0.6), sheet);
        let adapter = at(At::Adapter, &sound(24, from, 0.6), sheet);
        let [one, other] = [compare_live(&plate, &adapter), compare_live(&adapter, &plate)];
        assert_eq!(one, other, "whichever is read last");
        one
    };
    let (ac, dc) = ("service-24vac", "service-12vdc");
    for (from, to, sheet, expected) in [
        (sine(26.0, 60.0), sine(26.0, 60.0), ac, SupplyBetween::Alike),
        (sine(26.0, 60.0), sine(23.0, 60.0), ac, SupplyBetween::LessAndInRange),
        (sine(26.0, 60.0), sine(15.0, 60.0), ac, SupplyBetween::Less),
        (sine(23.0, 60.0), sine(26.0, 60.0), ac, SupplyBetween::More),
        (sine(26.0, 60.0), sine(0.0, 60.0), ac, SupplyBetween::LostAltogether),
        (sine(0.0, 60.0), sine(26.0, 60.0), ac, SupplyBetween::OnlyAtThePlate),
        (sine(0.0, 60.0), sine(0.0, 60.0), ac, SupplyBetween::None),
        (direct(12.2), direct(10.0), dc, SupplyBetween::Less),
        (direct(12.2), direct(-12.2), dc, SupplyBetween::Exchanged),
        (direct(-12.2), direct(-10.0), dc, SupplyBetween::Less),
    ] {
        let lost = ends(from, to, sheet).expect("of one kind");
        assert_eq!(lost.supply, Some(expected), "{from:?} {to:?}");
        assert_eq!(lost.pair, Some(PairBetween::Alike));
    }
    for (from, to, expected) in [
        (sine(26.0, 60.0), direct(12.0), NotCompared::OtherKind),
        (sine(26.0, 60.0), sine(26.0, 50.0), NotCompared::OtherFrequency),
        (sine(26.0, 60.0), sine(40.0, 60.0), NotCompared::Hazard),
    ] {
        assert_eq!(ends(from, to, ac), Err(expected), "{from:?} {to:?}");
    }
}

#[test]
fn a_pair_at_two_ends() {
    let read = |place, bias_v| at(place, &sound(25, sine(26.0, 60.0), bias_v), "service-24vac");
    for (from_v, to_v, expected) in [
        (0.6, 0.6, PairBetween::Alike),
        (0.6, 0.4, PairBetween::BothInRange),
        (0.6, 0.05, PairBetween::Differs),
        (0.6, -0.6, PairBetween::Exchanged),
    ] {
        let lost =
            compare_live(&read(At::Plate, to_v), &read(At::Adapter, from_v)).expect("both ends");
        assert_eq!(lost.pair, Some(expected), "{from_v} {to_v}");
    }
    let plate = read(At::Plate, 0.6);
    assert_eq!(compare_live(&plate, &plate), Err(NotCompared::SameEnd));
    let nowhere = judged(&with_zero(&sound(25, sine(26.0, 60.0), 0.6)));
    assert_eq!(compare_live(&plate, &nowhere), Err(NotCompared::EndNotTold));
}
