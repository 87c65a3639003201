//! Runs that are flexed, by a network of the tests' own: what is found on whom, for how long, and that nothing is found in quiet.

use crate::chance::Chance;
use crate::flex_bench::{Jig, Run, SLOT_US};
use runproof_interpret::flex::{
    Depth, FlexEvent, FlexKind, FlexLaneOf, FlexNews, FlexRecord, Flexed, Lasted, Now,
};
use runproof_protocol::{Event, Phase, Post};

fn heard(jig: &Jig, baseline_ohm: [Option<f64>; 4], events: &[Event]) -> (Flexed, FlexRecord) {
    let mut flexed = Flexed::new(jig.setup(baseline_ohm));
    let mut news = vec![];
    for event in events {
        flexed.hear(event, &mut news);
    }
    let told = news.iter().filter(|one| matches!(one, FlexNews::Ended(_))).count() as u64;
    let record = flexed.finish();
    let open = record.events.iter().filter(|one| matches!(one.lasted, Lasted::StillAtEnd(_)));
    assert_eq!(told + open.count() as u64, record.head.events);
    (flexed, record)
}

fn random_run(chance: &mut Chance) -> Run {
    Run::sound(std::array::from_fn(|_| chance.within(0.0, 50.0)))
}

fn conductor(n: usize) -> FlexLaneOf {
    FlexLaneOf::Conductor(Post::ALL[n])
}

fn one(record: &FlexRecord) -> FlexEvent {
    assert_eq!(record.events.len(), 1, "{:?}", record.events);
    record.events[0]
}

#[test]
fn a_step_of_an_ohm_for_ten_milliseconds_is_found_on_its_conductor() {
    let mut chance = Chance::new(7);
    let mut worst = (f64::INFINITY, 0.0_f64);
    for round in 0..400_u64 {
        let run = random_run(&mut chance);
        let mut jig = Jig::new(Phase::Flex);
        let post = (round % 4) as usize;
        // At every phase of a cycle of three patterns.
        let at = jig.now() + 400_000 + round * 24 * SLOT_US / 400;
        let stepped = run.more(post, 1.0);
        let runs = [(0, run), (at, stepped), (at + 10_000, run)];
        let events = jig.watch(&runs, at + 60_000, &mut chance);
        let known = run.ohm.map(|ohm| (round % 2 == 0).then_some(ohm));
        let (_, record) = heard(&jig, known, &events);
        let event = one(&record);
        assert_eq!((event.lane, event.kind), (conductor(post), FlexKind::Step), "round {round}");
        let Depth::Ohm(ohm) = event.depth else { panic!("{event:?}") };
        let rise = if round % 2 == 0 { ohm - run.ohm[post] } else { ohm };
        worst = (worst.0.min(rise), worst.1.max(rise));
        assert!(
            matches!(event.lasted, Lasted::Micros(us) if (3_000..=16_000).contains(&us)),
            "{event:?}"
        );
        assert!(event.at.0.abs_diff(at) <= 4 * SLOT_US);
    }
    assert!(worst.0 > 0.85 && worst.1 < 1.25, "{worst:?}");
}

#[test]
fn a_large_step_is_found_on_its_conductor_alone() {
    let mut chance = Chance::new(8);
    for round in 0..200_u64 {
        let run = random_run(&mut chance);
        let mut jig = Jig::new(Phase::Flex);
        let (post, ohm) = ((round % 4) as usize, chance.within(2.0, 80.0));
        let at = jig.now() + 400_000 + round * 24 * SLOT_US / 200;
        let runs = [(0, run), (at, run.more(post, ohm)), (at + 30_000, run)];
        let events = jig.watch(&runs, at + 100_000, &mut chance);
        let (_, record) = heard(&jig, run.ohm.map(Some), &events);
        let event = one(&record);
        assert_eq!((event.lane, event.kind), (conductor(post), FlexKind::Step), "round {round}");
        let expected = run.ohm[post] + ohm;
        assert!(
            matches!(event.depth, Depth::Ohm(told) if (told / expected - 1.0).abs() < 0.05),
            "{expected} {event:?}"
        );
    }
}

#[test]
fn in_quiet_nothing_is_found() {
    let mut chance = Chance::new(9);
    for _ in 0..20 {
        let run = random_run(&mut chance);
        let mut jig = Jig::new(Phase::Flex);
        jig.noise_v = 60e-6;
        let events = jig.watch(&[(0, run)], jig.now() + 10_000_000, &mut chance);
        let (flexed, record) = heard(&jig, run.ohm.map(Some), &events);
        assert_eq!(record.events, []);
        assert_eq!(record.head.steps_from_ohm, Some(1.0));
        for (lane, ohm) in flexed.lanes().iter().zip(run.ohm) {
            let Now::Carries { ohm: Some(told), .. } = lane.now else { panic!("{lane:?}") };
            assert!((told - ohm).abs() < 0.3, "{told} {ohm}");
            assert!(lane.was_good && lane.most_rise_ohm.expect("seen") < 0.3);
        }
        assert!((record.head.watched_us as f64 / 1e7 - 1.0).abs() < 0.01);
    }
}
