//! How the four contacts of one end go in and out of a socket: one after the other, and not at once for good.

use rand::RngExt;
use rand_pcg::Pcg32;

/// In a socket all four are in within this, and each may be lost again as often for as long. (judgement)
const GOES_IN_MILLIS: u64 = 40;
const REBREAKS_MAX: u32 = 2;
const REBREAK_MILLIS: u64 = 15;
/// Of a hundred ends so many are pulled half and pushed in again: contacts are lost for so long. (judgement)
const HALF_PULLED_PERCENT: u32 = 15;
const HALF_PULLED_MILLIS: (u64, u64) = (50, 400);

/// Milliseconds from the beginning, and which contacts are made from then on.
pub(super) type Course = Vec<(u64, [bool; 4])>;

pub(super) fn in_(random: &mut Pcg32) -> Course {
    let mut changes = vec![];
    for contact in 0..4 {
        let mut at = random.random_range(0..GOES_IN_MILLIS);
        changes.push((at, contact, true));
        for _ in 0..random.random_range(0..=REBREAKS_MAX) {
            let lost = at + random.random_range(1..REBREAK_MILLIS);
            at = lost + random.random_range(1..REBREAK_MILLIS);
            changes.extend([(lost, contact, false), (at, contact, true)]);
        }
    }
    if random.random_range(0..100) < HALF_PULLED_PERCENT {
        let lost = random.random_range(120..600);
        let back = lost + random.random_range(HALF_PULLED_MILLIS.0..HALF_PULLED_MILLIS.1);
        let first = random.random_range(0..4_usize);
        for contact in first..4 {
            changes.extend([(lost, contact, false), (back, contact, true)]);
        }
    }
    course(changes, [false; 4])
}

pub(super) fn out(random: &mut Pcg32) -> Course {
    let mut changes = vec![];
    for contact in 0..4 {
        let at = random.random_range(0..GOES_IN_MILLIS);
        changes.push((at, contact, false));
        if random.random_range(0..4) == 0 {
            let made = at + random.random_range(1..REBREAK_MILLIS);
            let lost = made + random.random_range(1..REBREAK_MILLIS);
            changes.extend([(made, contact, true), (lost, contact, false)]);
        }
    }
    course(changes, [true; 4])
}

fn course(mut changes: Vec<(u64, usize, bool)>, mut made: [bool; 4]) -> Course {
    changes.sort_by_key(|change| change.0);
    let mut course: Course = vec![];
    for (at, contact, is_made) in changes {
        made[contact] = is_made;
        course.push((at, made));
    }
    course
}
