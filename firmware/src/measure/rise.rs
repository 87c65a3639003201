//! Both pulls lift one post while the others are held low: how long until its line reads high?
//!
//! The pulls are some 100 kΩ and the line's threshold is what it is; the same post with nothing but
//! the jig on it, and with a known capacitor beside, say what a picofarad takes.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use heapless::Vec;
use runproof_protocol::{Drive, Post, Rise};

use super::End;
use super::patterns::{PULLS_OFF, Patterns};
use super::turns::turns;
use crate::bench::Line;
use crate::clock::Clock;
use crate::identity::REFERENCE;
use crate::watch::Watch;

/// By itself the jig picks up no hum worth the time.
const ALONE: usize = 4;
const WITH_RUN: usize = Rise::RELEASES_MAX;

const ALL_LOW: [Drive; 4] = [Drive::Low; 4];

/// With the relays open the jig alone, and what the reference adds to it; with them closed the run.
/// All posts in turn, so many times; sent when nothing is driven any more.
pub(super) async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    let with_run = patterns.relays_closed();
    let references = if with_run { &[None][..] } else { &[None, Some(REFERENCE)] };
    let releases = if with_run { WITH_RUN } else { ALONE };
    for &reference in references {
        let mut rises = [const { Vec::new() }; 4];
        patterns.refer(reference.is_some());
        patterns.hold(ALL_LOW, PULLS_OFF);
        let begin = patterns.now().after(u64::from(Rise::MICROS_MAX));
        for (due, post) in turns(begin, releases * Post::ALL.len()) {
            patterns.until(due).await;
            // Until it is let go the pulls are off: they would lift its sense node a little, and by another
            // voltage where the relays are open.
            let from = patterns.now();
            patterns.let_rise(post, from.after(u64::from(Rise::MICROS_MAX))).await;
            let micros = patterns.now().0 - from.0;
            patterns.hold(ALL_LOW, PULLS_OFF);
            let micros = micros.min(u64::from(Rise::MICROS_MAX)) as u16;
            let fits = rises[post.index()].push(micros);
            debug_assert!(fits.is_ok(), "an event has room for RELEASES_MAX");
        }
        patterns.let_go();
        patterns.refer(false);
        for (post, micros) in Post::ALL.into_iter().zip(&rises) {
            patterns.send_rise(post, reference, begin, micros).await?;
        }
    }
    Ok(())
}
