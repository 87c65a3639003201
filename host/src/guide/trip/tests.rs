//! Scripted trips: what is seen, at which second of the jig's clock, and what must follow.

use super::*;

const WAIT_MICROS: u64 = 60_000_000;
const NO: f64 = f64::INFINITY;

/// 30 m of 18 AWG with the plug in: pairs 1-2, 1-3, 1-4, 2-3, 2-4, 3-4.
const PLUGGED: [f64; 6] = [76.0, 31.0, 66.0, 69.0, 54.0, 41.0];
const OPEN: [f64; 6] = [NO; 6];
/// A receiver across the pair and a transformer across the supply.
const LANDED: [f64; 6] = [120.0, NO, NO, NO, NO, 3.0];

/// Sees one state from a second on, twice a second, until something follows or the next begins.
struct Script {
    trip: Trip,
    told: Vec<(f64, Next)>,
}

impl Script {
    fn new() -> Self {
        Self { trip: Trip::new(WAIT_MICROS), told: vec![] }
    }

    /// An open phase shows what stands when it begins.
    fn stand(&mut self, seconds: std::ops::Range<f64>, ohm: [f64; 6]) -> &mut Self {
        let mut second = seconds.start;
        while second < seconds.end {
            let at = Microseconds((second * 1e6) as u64);
            let next = self.trip.see(at, Glance { ohm });
            if next != Next::Look {
                self.told.push((second, next));
            }
            if [TAKE_OPEN, OPEN_ANYWAY].contains(&next) {
                second += 1.5;
                self.trip.open_measured(at.after(1_500_000), Some(Glance { ohm }));
            }
            if [TAKE_PLUG, PLUG_ANYWAY].contains(&next) {
                return self;
            }
            second += 0.5;
        }
        self
    }

    fn told(&self, wanted: &[(f64, Next)]) {
        assert_eq!(self.told, wanted);
    }
}

const OPEN_ANYWAY: Next = Next::MeasureAllTheSame(Phase::Open);
const PLUG_ANYWAY: Next = Next::MeasureAllTheSame(Phase::Plug);
const TAKE_OPEN: Next = Next::Measure(Phase::Open);
const TAKE_PLUG: Next = Next::Measure(Phase::Plug);
const ASK: Next = Next::AskForKeyOut;

#[test]
fn open_after_three_steady_seconds_and_plug_at_the_second_glance() {
    let mut script = Script::new();
    script.stand(0.0..20.0, OPEN).stand(20.0..30.0, PLUGGED);
    script.told(&[(3.0, TAKE_OPEN), (20.5, TAKE_PLUG)]);
}

#[test]
fn what_is_landed_is_measured_and_again_once_it_is_lifted() {
    let mut script = Script::new();
    script.stand(0.0..10.0, LANDED).stand(10.0..18.0, OPEN).stand(18.0..20.0, PLUGGED);
    script.told(&[(3.0, TAKE_OPEN), (13.0, TAKE_OPEN), (18.5, TAKE_PLUG)]);
}

#[test]
fn a_run_that_is_worked_on_is_not_measured() {
    let mut script = Script::new();
    for second in 0..10 {
        let ohm = if second % 2 == 0 { LANDED } else { OPEN };
        let from = f64::from(second) * 2.0;
        script.stand(from..from + 2.0, ohm);
    }
    script.told(&[]);
}

#[test]
fn a_key_that_is_in_from_the_start_is_asked_for_once_and_then_the_trip_goes_on() {
    let mut script = Script::new();
    script.stand(0.0..20.0, PLUGGED).stand(20.0..30.0, OPEN).stand(30.0..40.0, PLUGGED);
    script.told(&[(0.5, ASK), (23.0, TAKE_OPEN), (30.5, TAKE_PLUG)]);
}

#[test]
fn a_key_put_in_before_the_lifted_run_was_measured_is_asked_for() {
    let mut script = Script::new();
    script.stand(0.0..10.0, LANDED).stand(10.0..11.0, OPEN).stand(11.0..20.0, PLUGGED);
    script.told(&[(3.0, TAKE_OPEN), (11.5, ASK)]);
    script.told.clear();
    script.stand(20.0..26.0, OPEN).stand(26.0..30.0, PLUGGED);
    script.told(&[(23.0, TAKE_OPEN), (26.5, TAKE_PLUG)]);
}

/// No glance fell between lifting and plugging, but the transformer's 3 Ω are gone.
#[test]
fn a_plug_that_contradicts_the_open_phase_is_asked_for() {
    let mut script = Script::new();
    script.stand(0.0..10.0, LANDED).stand(10.0..20.0, PLUGGED);
    script.told(&[(3.0, TAKE_OPEN), (10.5, ASK)]);
}

#[test]
fn a_run_with_a_short_is_measured_although_it_never_stands_open() {
    let mut script = Script::new();
    let short = [0.8, NO, NO, NO, NO, NO];
    let plugged = [0.8, 27.0, 41.0, 27.5, 41.5, 41.0];
    script.stand(0.0..10.0, short).stand(10.0..20.0, plugged);
    script.told(&[(3.0, TAKE_OPEN), (10.5, TAKE_PLUG)]);
}

#[test]
fn one_bad_joint_or_one_open_conductor_does_not_hide_the_plug() {
    for plugged in [
        [1_076.0, 1_031.0, 1_066.0, 69.0, 54.0, 41.0],
        [76.0, 34.0, NO, 70.0, NO, NO],
        [NO, NO, NO, NO, NO, 41.0],
    ] {
        let mut script = Script::new();
        script.stand(0.0..10.0, OPEN).stand(10.0..20.0, plugged);
        script.told(&[(3.0, TAKE_OPEN), (10.5, TAKE_PLUG)]);
    }
}

#[test]
fn wires_that_touch_are_no_plug() {
    let mut script = Script::new();
    script.stand(0.0..10.0, OPEN).stand(10.0..20.0, [0.5, NO, NO, NO, NO, NO]);
    script.told(&[(3.0, TAKE_OPEN)]);
}

#[test]
fn each_phase_is_measured_anyway_when_its_wait_is_over() {
    let mut script = Script::new();
    script.stand(0.0..200.0, PLUGGED);
    script.told(&[(0.5, ASK), (60.0, OPEN_ANYWAY), (121.5, PLUG_ANYWAY)]);

    let mut script = Script::new();
    script.stand(0.0..200.0, OPEN);
    script.told(&[(3.0, TAKE_OPEN), (64.5, PLUG_ANYWAY)]);
}

#[test]
fn whoever_presses_enter_gets_the_next_phase() {
    let mut trip = Trip::new(WAIT_MICROS);
    assert_eq!(trip.forced(), Phase::Open);
    trip.open_measured(Microseconds(0), None);
    assert_eq!(trip.forced(), Phase::Plug);
}
