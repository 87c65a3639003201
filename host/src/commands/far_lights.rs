//! The end of `check`: the verdict at the far end, for whoever turns the key over there.

use std::time::Duration;

use runproof_interpret::capture::Ending;
use runproof_interpret::{Capture, Judgement};
use runproof_protocol::Phase;

use crate::guide::{Guide, Keys};
use crate::jig::Jig;
use crate::show::progress::Screen;
use crate::show::{NotAtFarEnd, far_lights, signs};

/// Whoever has just put the key in turns it over within this. (judgement)
const WAIT: Duration = Duration::from_secs(60);
const SIMULATED_WAIT: Duration = Duration::from_secs(20);

/// How long to look for a key that is turned over, if at all: as `told`; else where somebody is there, or where
/// a simulated scene turns the key.
pub(super) fn wait_micros(
    told: Option<Duration>,
    scene_turns: Option<bool>,
    somebody: bool,
) -> Option<u64> {
    let unless_told = match scene_turns {
        Some(turns) => turns.then_some(SIMULATED_WAIT),
        None => somebody.then_some(WAIT),
    };
    let wait = told.or(unless_told).filter(|wait| !wait.is_zero())?;
    u64::try_from(wait.as_micros()).ok()
}

/// The result is printed and stays as it is, whatever happens here.
pub(super) fn show(
    jig: &Jig,
    capture: &Capture,
    judgement: &Judgement,
    screen: &mut Screen,
    wait_micros: u64,
    keys: &Keys,
) {
    let whole = |phase| {
        let mut ends = capture.ends(phase).peekable();
        ends.peek().is_some() && ends.all(|end| matches!(end, Ending::Done { .. }))
    };
    let verdict = if !jig.conversation().capabilities.far_lights {
        Err(NotAtFarEnd::NotCapable)
    } else if ![Phase::Open, Phase::Plug].into_iter().all(whole) {
        Err(NotAtFarEnd::NotMeasured)
    } else {
        far_lights::of(judgement).ok_or(NotAtFarEnd::MapUnknown)
    };
    screen.offer_far(verdict.as_ref().map_err(|why| *why));
    let Ok(verdict) = verdict else { return };
    let mut tell = |told| screen.tell(told);
    let mut guide = Guide::new(jig, &mut tell);
    let shown = guide.show_far(verdict, signs::of(judgement), wait_micros, keys);
    drop(guide);
    screen.far_shown(&shown);
}
