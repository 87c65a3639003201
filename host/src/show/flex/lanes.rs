//! Lanes of several watches as one: the jig may have gone and come back.

use runproof_interpret::flex::{FlexLane, FlexRecord};

/// Each lane of all watches.
pub(super) fn of_all(watches: &[FlexRecord]) -> Vec<FlexLane> {
    watches.iter().fold(vec![], |all, watch| merged(&all, &watch.lanes))
}

/// What was seen before, and what is seen now.
pub(crate) fn merged(before: &[FlexLane], now: &[FlexLane]) -> Vec<FlexLane> {
    let mut all = before.to_vec();
    for lane in now {
        match all.iter_mut().find(|one| one.of == lane.of) {
            Some(one) => *one = together(one, lane),
            None => all.push(*lane),
        }
    }
    all
}

fn together(before: &FlexLane, now: &FlexLane) -> FlexLane {
    let either = |a: Option<f64>, b: Option<f64>, of: fn(f64, f64) -> f64| match (a, b) {
        (Some(a), Some(b)) => Some(of(a, b)),
        (one, other) => one.or(other),
    };
    let mut durations = before.durations;
    durations.iter_mut().zip(now.durations).for_each(|(sum, one)| *sum += one);
    FlexLane {
        of: now.of,
        now: now.now,
        baseline_ohm: now.baseline_ohm.or(before.baseline_ohm),
        least_rise_ohm: either(before.least_rise_ohm, now.least_rise_ohm, f64::min),
        most_rise_ohm: either(before.most_rise_ohm, now.most_rise_ohm, f64::max),
        least_touch_ohm: either(before.least_touch_ohm, now.least_touch_ohm, f64::min),
        count: before.count + now.count,
        longest_us: before.longest_us.max(now.longest_us),
        total_us: before.total_us + now.total_us,
        durations,
        steps: before.steps + now.steps,
        largest_step_ohm: either(before.largest_step_ohm, now.largest_step_ohm, f64::max),
        longest_step_us: before.longest_step_us.max(now.longest_step_us),
        watched_us: before.watched_us + now.watched_us,
        was_good: before.was_good || now.was_good,
    }
}
