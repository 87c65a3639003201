//! Thousands of runs on jigs with parts as they come: the right verdict, and resistances that are
//! as good as they say.

#[path = "support/bench.rs"]
mod bench;
#[path = "support/chance.rs"]
mod chance;
#[path = "support/network.rs"]
mod network;

use bench::Bench;
use chance::Chance;
use runproof_interpret::judgement::{Finding, FindingKind, Judgement, Reason, Verdict};
use runproof_interpret::{Capture, JOINED_BELOW_OHM, LimitSheet, RunKnowledge, glance, judge};
use runproof_protocol::{Phase, Post};

const SEEDS: u64 = 50;

/// 16 to 24 AWG, 1 to 150 m, -10 to 45 °C: ASTM B258, and IEC 60028 for copper.
fn any_wire_ohm(chance: &mut Chance) -> f64 {
    let gauge = 16.0 + 2.0 * chance.within(0.0, 5.0).floor().min(4.0);
    let diameter_mm = 0.127 * 92.0_f64.powf((36.0 - gauge) / 39.0);
    let area_mm2 = std::f64::consts::PI / 4.0 * diameter_mm * diameter_mm;
    let warmth = 1.0 + 0.003_93 * (chance.within(-10.0, 45.0) - 20.0);
    chance.within(1.0, 150.0) / 58.0 / area_mm2 * warmth
}

fn any_bench(seed: u64) -> Bench {
    Bench::new(any_wire_ohm(&mut Chance::new(!seed)), seed)
}

/// The bench's clips have up to 50 mΩ, and the sheet is told so.
fn judged(capture: &Capture) -> Judgement {
    let sheet = LimitSheet { contact_mohm: [0.0, 50.0], ..LimitSheet::service_24vac() };
    judge(capture, &sheet, &RunKnowledge::default())
}

fn has(judgement: &Judgement, kind: FindingKind) -> bool {
    judgement.findings.iter().any(|finding| finding.kind == kind)
}

fn maps() -> Vec<[usize; 4]> {
    let codes = (0..256_usize).map(|code| [0, 2, 4, 6].map(|shift| code >> shift & 3));
    codes.filter(|map| (0..4).all(|post| map.contains(&post))).collect()
}

/// Errors of all resistances that were stated, with the uncertainty that was stated beside them.
#[derive(Default)]
struct Errors(Vec<(f64, f64)>);

impl Errors {
    fn add(&mut self, judgement: &Judgement, wire_ohm: [f64; 4]) {
        for (conductor, wire_ohm) in judgement.conductors.iter().zip(wire_ohm) {
            let stated = conductor.resistance_ohm.zip(conductor.expanded_uncertainty_ohm);
            self.0.extend(stated.map(|(ohm, u)| (ohm - wire_ohm, u)));
        }
    }

    /// Prints them; returns the 95th percentile of their size, and the part within U.
    fn told(&self, of: &str) -> (f64, f64) {
        let count = self.0.len() as f64;
        let mean = self.0.iter().map(|(error, _)| error).sum::<f64>() / count;
        let mut sizes: Vec<f64> = self.0.iter().map(|(error, _)| error.abs()).collect();
        sizes.sort_by(f64::total_cmp);
        let within = self.0.iter().filter(|(error, u)| error.abs() <= *u).count() as f64 / count;
        let (p95, largest) = (sizes[(sizes.len() - 1) * 95 / 100], sizes[sizes.len() - 1]);
        println!(
            "{of}: error mean {mean:+.3}, 95 % {p95:.3}, largest {largest:.3} Ω; {within:.3} within U"
        );
        (p95, within)
    }
}

/// What the verdict must be by the true resistances; none where a limit is too near to say.
fn verdict_due(wire_ohm: [f64; 4]) -> Option<Verdict> {
    let over = wire_ohm.iter().zip([50.0, 50.0, 3.0, 3.0]).map(|(wire, limit)| wire - limit);
    match over.fold(f64::NEG_INFINITY, f64::max) {
        worst if worst.abs() < 0.25 => None,
        worst if worst > 0.0 => Some(Verdict::Fail),
        _ => Some(Verdict::Pass),
    }
}

#[test]
fn every_map_is_judged_right_and_resistances_are_within_their_uncertainty() {
    let mut errors = Errors::default();
    let mut wrong = vec![];
    for (index, map) in maps().into_iter().enumerate() {
        for seed in 0..SEEDS {
            let mut bench = any_bench(1000 * index as u64 + seed);
            bench.reaches = map;
            let judgement = judged(&bench.capture());
            let (kind, due) = match map {
                [0, 1, 2, 3] => (None, verdict_due(bench.wire_ohm)),
                [1, 0, 2, 3] => (Some(FindingKind::ReversedPair), Some(Verdict::Fail)),
                _ => (Some(FindingKind::Crossed), Some(Verdict::Fail)),
            };
            let reaches = judgement.conductors.iter().map(|one| one.reaches.map(Post::index));
            let right = reaches.eq(map.map(Some))
                && kind.is_none_or(|kind| has(&judgement, kind))
                && due.is_none_or(|due| due == judgement.verdict);
            if !right {
                wrong.push(format!("{map:?} {seed} {bench:?}\n{judgement:?}"));
            }
            errors.add(&judgement, bench.wire_ohm);
        }
    }
    println!("{} runs, {} wrong", 24 * SEEDS, wrong.len());
    let (p95, within) = errors.told("all maps");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Of 95 % that are meant, with what chance takes from 4,800 that are four to a run.
    assert!(p95 < 0.075 && within > 0.94, "{p95} Ω, {within}");
}

#[test]
fn an_open_is_named_and_the_others_are_measured() {
    let mut wrong = vec![];
    for open in Post::ALL {
        let mut errors = Errors::default();
        for seed in 0..SEEDS {
            let mut bench = any_bench(50_000 + 1000 * open.index() as u64 + seed);
            bench.open[open.index()] = true;
            let judgement = judged(&bench.capture());
            let named =
                |finding: &Finding| finding.kind == FindingKind::Open && finding.posts == [open];
            let right = judgement.verdict == Verdict::Fail
                && judgement.findings.iter().any(named)
                && judgement
                    .conductors
                    .iter()
                    .map(|one| one.reaches)
                    .eq(Post::ALL.map(|post| (post != open).then_some(post)));
            if !right {
                wrong.push(format!("{open} {seed} {bench:?}\n{judgement:?}"));
            }
            errors.add(&judgement, bench.wire_ohm);
        }
        let (_, within) = errors.told(&format!("post {open} open"));
        assert!(within > 0.93, "post {open} open: {within}");
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn without_a_plug_nothing_is_told() {
    for seed in 0..SEEDS {
        let mut bench = any_bench(60_000 + seed);
        bench.plug = false;
        let judgement = judged(&bench.capture());
        assert_eq!(judgement.verdict, Verdict::CannotTell, "{bench:?}");
        assert!(has(&judgement, FindingKind::NoEndPlug), "{bench:?}");
    }
}

/// From a dead short to 2 kΩ, anywhere along the run.
#[test]
fn no_short_passes() {
    let mut passed = vec![];
    let mut runs = 0;
    for (a, b) in Post::PAIRS {
        for ohm in [1e-3, 0.1, 0.8, 5.0, 50.0, 200.0, 1000.0, 2000.0] {
            for at in [0.0, 0.3, 0.7, 1.0] {
                for seed in 0..4 {
                    runs += 1;
                    let mut bench = any_bench(70_000 + runs * 10 + seed);
                    bench.short = Some((a.index(), b.index(), at, ohm));
                    let judgement = judged(&bench.capture());
                    if judgement.verdict == Verdict::Pass {
                        passed.push(format!("{bench:?}\n{judgement:?}"));
                    }
                }
            }
        }
    }
    println!("{runs} shorts, {} passed", passed.len());
    assert!(passed.is_empty(), "{}", passed.join("\n"));
}

/// More resistance in one conductor, up to an open: once too close to its limit it never passes,
/// and once failed it stays so. (Some 0.3 Ω more may look like a path of some 10 kΩ to another
/// conductor: then the run is not explained yet, which is not about the limit.)
#[test]
fn more_resistance_never_improves_a_verdict() {
    let steps = (0..).map(|step| 0.05 * 1.22_f64.powi(step)).take_while(|ohm| *ohm < 30e3);
    let steps: Vec<f64> = steps.collect();
    let mut unexplained = 0;
    for post in Post::ALL {
        for seed in 0..6 {
            let mut worst = 0;
            for joint_ohm in &steps {
                let mut bench = Bench::new(0.6, 80_000 + seed);
                bench.wire_ohm[post.index()] += joint_ohm;
                let conductor = judged(&bench.capture()).conductors[post.index()];
                let now = match (conductor.verdict, conductor.reason) {
                    (Verdict::Fail, _) => 2,
                    (_, Reason::TooCloseToLimit) => 1,
                    (Verdict::Pass, _) => 0,
                    (Verdict::CannotTell, _) => {
                        assert!(*joint_ohm < 1.0, "post {post} seed {seed} {joint_ohm} Ω");
                        unexplained += 1;
                        continue;
                    }
                };
                assert!(now >= worst, "post {post} seed {seed} {joint_ohm} Ω: {worst} to {now}");
                worst = now;
            }
            assert_eq!(worst, 2, "post {post} seed {seed}");
        }
    }
    println!("{} runs, {unexplained} unexplained", 24 * steps.len());
}

#[test]
fn a_joint_is_named_on_whichever_conductor() {
    for post in Post::ALL {
        let (kind, verdict) = match post {
            Post::P1 | Post::P2 => (FindingKind::UnevenResistance, Verdict::Pass),
            Post::P3 | Post::P4 => (FindingKind::HighResistance, Verdict::Fail),
        };
        for seed in 0..SEEDS {
            let mut bench = Bench::new(0.6, 90_000 + seed);
            bench.wire_ohm[post.index()] += 5.0;
            let judgement = judged(&bench.capture());
            let named = |finding: &Finding| finding.kind == kind && finding.posts == [post];
            assert!(judgement.findings.iter().any(named), "{bench:?}\n{judgement:?}");
            assert_eq!(judgement.verdict, verdict, "{bench:?}");
        }
    }
}

/// A joint as large as a result says it could just miss is seen in most runs: it is named, or keeps
/// the run from passing without a remark.
#[test]
fn a_joint_that_is_not_to_be_missed_is_seen() {
    let (mut seen, mut runs) = (0, 0);
    for post in Post::ALL {
        for seed in 0..SEEDS {
            let mut bench = any_bench(110_000 + seed);
            let misses = judged(&bench.capture()).misses.joint_ohm;
            bench.wire_ohm[post.index()] += misses.expect("all four are measured");
            runs += 1;
            seen += usize::from(!judged(&bench.capture()).findings.is_empty());
        }
    }
    println!("{seen} of {runs} joints seen");
    assert!(seen * 100 >= runs * 90, "{seen} of {runs}");
}

/// A glance knows which posts meet, whoever floats, and at how many ohms within a fifth.
#[test]
fn a_glance_sees_a_path_between_any_two_posts() {
    let mut wrong = vec![];
    for seed in 0..SEEDS {
        for (pair, (a, b)) in Post::PAIRS.into_iter().enumerate() {
            for path_ohm in [0.1, 30.0, 1_000.0, 8_000.0, 13_000.0, 1e6] {
                let mut bench = any_bench(seed);
                bench.plug = false;
                bench.short = Some((a.index(), b.index(), 0.0, path_ohm));
                let glance = glance(&bench.capture(), Phase::Plug).expect("all is there");
                let others = glance.joined().iter().filter(|joined| **joined).count();
                let joined = path_ohm < JOINED_BELOW_OHM;
                let seen_ohm = glance.ohm[pair];
                let right = others == usize::from(joined)
                    && (!joined || (seen_ohm - path_ohm).abs() <= 0.2 * path_ohm + 0.5);
                if !right {
                    wrong.push(format!("seed {seed}: {path_ohm} Ω as {:?}", glance.ohm));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}: {:#?}", wrong.len(), &wrong[..wrong.len().min(5)]);
}
