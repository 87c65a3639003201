//! A short and a break lie where they are said to lie.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Joint, OpenConductor, Scene, Short};
use runproof_interpret::judgement::{FindingKind, LocatedBy, Location};
use runproof_interpret::{LimitSheet, NoOtherEnd, OtherEnd, RunKnowledge, judge};
use runproof_protocol::Post;

use crate::{any_run, maps, measured};

/// What became of many places.
#[derive(Debug, Default)]
struct Places {
    covered: usize,
    off_m: Vec<f64>,
    off_fraction: Vec<f64>,
    not_told: usize,
}

impl Places {
    fn add(&mut self, location: Option<Location>, truth: f64, length_m: f64) {
        let Some(Location { fraction, .. }) = location else {
            self.not_told += 1;
            return;
        };
        self.covered += usize::from((fraction.least..=fraction.most).contains(&truth));
        let off = (fraction.value - truth).abs();
        self.off_fraction.push(off);
        self.off_m.push(off * length_m);
    }

    /// How many of those that were told lie within their interval; and what 95 % are off at most.
    fn told(&mut self, what: &str) -> (f64, f64, f64) {
        let told = self.off_m.len();
        let [p95_m, p95] = [&mut self.off_m, &mut self.off_fraction].map(|all| {
            all.sort_by(f64::total_cmp);
            all[told * 95 / 100]
        });
        let covered = self.covered as f64 / told as f64;
        println!(
            "{what}: {told} places told, {} not; {:.1} % of the intervals hold; p95 {p95_m:.2} m, \
             {:.1} % of the run",
            self.not_told,
            100.0 * covered,
            100.0 * p95
        );
        (covered, p95_m, p95)
    }
}

fn location(scene: Scene, seed: u64, kind: FindingKind) -> Option<Location> {
    location_from(scene, seed, kind, None)
}

fn location_from(
    scene: Scene,
    seed: u64,
    kind: FindingKind,
    other_end: Option<OtherEnd>,
) -> Option<Location> {
    let capture = measured(scene, seed);
    // A few ohms between supply and common may be a device, unless both ends were seen lifted.
    let known = RunKnowledge { lifted: true, other_end, ..RunKnowledge::default() };
    let judgement = judge(&capture, &LimitSheet::service_24vac(), &known);
    let finding = judgement.findings.iter().find(|finding| finding.kind == kind)?;
    finding.location
}

/// Of up to 10 Ω, anywhere on any run under any map.
#[test]
fn a_short_lies_within_its_interval() {
    const RUNS: u64 = 400;
    let mut random = Pcg32::seed_from_u64(41);
    let maps = maps();
    let mut places = Places::default();
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        let (a, b) = Post::PAIRS[random.random_range(0..6)];
        let at = random.random_range(0.0..1.0);
        let ohm = 10.0_f64.powf(random.random_range(-2.0..1.0));
        scene.run.short = vec![Short { posts: [a.number(), b.number()], at, ohm }];
        if seed % 4 == 0 {
            scene.run.arrives_at = maps[random.random_range(0..maps.len())];
        }
        let length_m = scene.run.length_m;
        places.add(location(scene, seed, FindingKind::Short), at, length_m);
    }
    let (covered, p95_m, _) = places.told("shorts");
    assert!(covered >= 0.94, "{covered}");
    assert!(p95_m <= 2.5, "{p95_m} m");
    assert!(places.not_told * 3 <= RUNS as usize, "{} not told", places.not_told);
}

/// A joint beside the short moves it: then mostly no place is told. What is told, is told of a run with
/// nothing else wrong, and holds less often: in 68 % of the drawn runs, within 12 % (two sigmas) of some 60 here.
#[test]
fn a_joint_beside_a_short_seldom_moves_it() {
    const RUNS: u64 = 150;
    let mut random = Pcg32::seed_from_u64(43);
    let mut places = Places::default();
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        let (a, b) = Post::PAIRS[random.random_range(0..6)];
        let at = random.random_range(0.0..1.0);
        scene.run.short = vec![Short { posts: [a.number(), b.number()], at, ohm: 0.1 }];
        let ohm = 10.0_f64.powf(random.random_range(-1.0..1.0));
        let post = random.random_range(1..=4);
        scene.run.joint = vec![Joint { post, at: random.random_range(0.0..1.0), ohm }];
        let length_m = scene.run.length_m;
        places.add(location(scene, seed, FindingKind::Short), at, length_m);
    }
    let (covered, _, _) = places.told("shorts beside a joint");
    assert!(covered >= 0.56, "{covered}");
    assert!(places.not_told * 2 >= RUNS as usize, "{} not told", places.not_told);
}

#[test]
fn a_break_lies_within_its_interval() {
    const RUNS: u64 = 200;
    let mut random = Pcg32::seed_from_u64(42);
    let mut places = Places::default();
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        scene.run.pf_per_m = random.random_range(70.0..160.0) / 3.0;
        let at = random.random_range(0.0..1.0);
        scene.run.open = vec![OpenConductor { post: random.random_range(1..=4), at }];
        let length_m = scene.run.length_m;
        places.add(location(scene, seed, FindingKind::Open), at, length_m);
    }
    let (covered, _, p95) = places.told("breaks");
    assert!(covered >= 0.94, "{covered}");
    assert!(p95 <= 0.025, "{p95}");
    // More than some 17 nF does not rise in time.
    assert!(places.not_told * 10 <= RUNS as usize, "{} not told", places.not_told);
}

/// Two jigs, or one that went round: each measures its own piece, and no sibling is asked.
#[test]
fn a_break_lies_where_both_ends_put_it() {
    const RUNS: u64 = 120;
    let mut random = Pcg32::seed_from_u64(44);
    let sheet = LimitSheet::service_24vac();
    let mut places = Places::default();
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        scene.run.pf_per_m = random.random_range(70.0..160.0) / 3.0;
        let at = random.random_range(0.0..1.0);
        let post = random.random_range(1..=4);
        let mut other = scene.clone();
        scene.run.open = vec![OpenConductor { post, at }];
        other.run.open = vec![OpenConductor { post, at: 1.0 - at }];
        let other_end = OtherEnd::of(&measured(other, seed + RUNS), &sheet).ok();
        let length_m = scene.run.length_m;
        let location =
            other_end.and_then(|other| location_from(scene, seed, FindingKind::Open, Some(other)));
        let location = location.filter(|location| location.by == LocatedBy::BothEnds);
        places.add(location, at, length_m);
    }
    let (covered, _, p95) = places.told("breaks from both ends");
    assert!(covered >= 0.94, "{covered}");
    assert!(p95 <= 0.015, "{p95}");
    // Siblings of more than some 17 nF do not rise in time: they say that it is one conductor.
    assert!(places.not_told * 6 <= RUNS as usize, "{} not told", places.not_told);
}

/// Its own capture, one of another run, or of another conductor.
#[test]
fn what_is_not_the_other_end_places_nothing() {
    let sheet = LimitSheet::service_24vac();
    let broken = |post, at, length_m| {
        let mut scene = crate::good_run();
        scene.run.open = vec![OpenConductor { post, at }];
        scene.run.length_m = length_m;
        scene
    };
    let here = broken(4, 0.45, 30.0);
    let from = |other: Scene, seed| {
        let other = OtherEnd::of(&measured(other, seed), &sheet).expect("one is open");
        location_from(here.clone(), 7, FindingKind::Open, Some(other)).map(|place| place.by)
    };
    assert_eq!(from(broken(4, 0.55, 30.0), 8), Some(LocatedBy::BothEnds));
    assert_eq!(from(broken(3, 0.55, 30.0), 8), Some(LocatedBy::Capacitance), "another wire");
    let alone = Some(LocatedBy::Capacitance);
    assert_eq!(from(here.clone(), 7), alone, "its own capture");
    assert_eq!(from(broken(4, 0.55, 60.0), 8), alone, "another run");
    assert_eq!(from(broken(4, 0.3, 30.0), 8), alone, "the two pieces are not one conductor");
    let whole = OtherEnd::of(&measured(crate::good_run(), 8), &sheet);
    assert_eq!(whole, Err(NoOtherEnd::NotOneOpen));
}
