//! Was it shown that a clip touches its metal? Cores and metal were held together there, before and after.

use runproof_protocol::{Microseconds, Phase, Post};

use super::{CORES, METAL, SHIELD};
use crate::capture::{Capture, End, Entry};
use crate::glance::Glance;

/// Bare wire held against bare metal has far less, and a hundredth of what fails hides no leak. [judgement]
const CONTACT_BELOW_OHM: f64 = 1_000.0;

/// The cores are held against this post's metal, and against the shield where there is one.
#[must_use]
pub fn shows_contact(glance: &Glance, with_shield: bool) -> bool {
    let posts: &[Post] = if with_shield { &[METAL, SHIELD] } else { &[METAL] };
    posts.iter().all(|post| meets(glance, *post))
}

/// Before the open phase and after it. What may have been clipped on, or have slipped off, meanwhile shows
/// in one of them.
pub(super) fn shown(capture: &Capture, post: Post) -> bool {
    let times = || {
        capture.entries.iter().filter_map(|entry| match entry {
            Entry::Reading(reading) if reading.phase == Phase::Open => Some(reading.at),
            Entry::Rise(rise) if rise.phase == Phase::Open => Some(rise.at),
            _ => None,
        })
    };
    let Some((first, last)) = times().min().zip(times().max()) else { return false };
    let touched = |then: &dyn Fn(Microseconds) -> bool| {
        let mut here = capture.touches().filter(|touch| touch.end == End::Near && then(touch.at));
        here.any(|touch| meets(&Glance::while_touched(touch), post))
    };
    touched(&|at| at < first) && touched(&|at| at > last)
}

fn meets(glance: &Glance, post: Post) -> bool {
    let pair = Post::PAIRS.into_iter().position(|pair| pair == (CORES, post));
    pair.is_some_and(|pair| glance.ohm[pair] < CONTACT_BELOW_OHM)
}
