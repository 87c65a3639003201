//! A bad contact as a Markov chain of two states: what is found of a hundred thousand breaks is what the chain must give.

use runproof_interpret::flex::{Flexed, Lasted};
use runproof_protocol::Phase;

use crate::chance::Chance;
use crate::flex_bench::{Jig, Run};

/// On the mean, closed and open.
const CLOSED_US: f64 = 4_000.0;
const OPEN_US: f64 = 1_000.0;
const BREAKS: usize = 100_000;
const SIGMAS: f64 = 4.0;

fn exponential(chance: &mut Chance, mean_us: f64) -> u64 {
    (-mean_us * (1.0 - chance.unit()).ln()).round() as u64
}

#[test]
fn a_hundred_thousand_breaks_have_the_chains_rate_and_share() {
    let mut chance = Chance::new(11);
    let run = Run::sound([0.5, 0.6, 0.7, 0.8]);
    let broken = run.broken(1);
    let mut jig = Jig::new(Phase::Flex);
    let mut at = jig.now() + 1;
    let begins = at;
    let (mut runs, mut injected) = (vec![(0, run)], vec![]);
    while injected.len() < BREAKS {
        at += exponential(&mut chance, CLOSED_US);
        let us = exponential(&mut chance, OPEN_US);
        // What begins with the end of another, or has no length, is none.
        if us > 0 && runs.last().is_some_and(|(last, _)| *last < at) {
            runs.push((at, broken));
            runs.push((at + us, run));
            injected.push(us);
        }
        at += us;
    }
    let mut flexed = Flexed::new(jig.setup([None; 4]));
    let (mut news, mut found) = (vec![], vec![]);
    for event in jig.watch(&runs, at, &mut chance) {
        flexed.hear(&event, &mut news);
        for one in news.drain(..) {
            if let runproof_interpret::flex::FlexNews::Ended(event) = one {
                let Lasted::Micros(us) = event.lasted else { panic!("{event:?}") };
                found.push(us);
            }
        }
    }
    assert_eq!(found, injected);

    let lane = flexed.lanes()[1];
    let (seconds, cycle_us) = ((at - begins) as f64 / 1e6, CLOSED_US + OPEN_US);
    // A renewal process, and an alternating one (any textbook).
    let rate = 1e6 / cycle_us;
    let spread = CLOSED_US.powi(2) + OPEN_US.powi(2);
    let u_rate = (rate * spread / cycle_us.powi(2) / seconds).sqrt();
    let told = lane.count as f64 / seconds;
    assert!((told - rate).abs() < SIGMAS * u_rate, "{told} {rate} ± {u_rate}");
    let share = OPEN_US / cycle_us;
    let both = (CLOSED_US * OPEN_US).powi(2);
    let u_share = (2.0 * both / (cycle_us.powi(3) * seconds * 1e6)).sqrt();
    let told = lane.total_us as f64 / 1e6 / seconds;
    assert!((told - share).abs() < SIGMAS * u_share, "{told} {share} ± {u_share}");
    assert_eq!(lane.durations.iter().sum::<u64>(), BREAKS as u64);
    for other in flexed.lanes().iter().filter(|other| other.of != lane.of) {
        assert_eq!((other.count, other.steps), (0, 0));
    }
}
