//! Lamps and sounder: plays what is to be shown, until something else is.

use core::future::pending;

use embassy_futures::select::{Either, select};
use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::signal::Signal;
use runproof_protocol::{Lamp, Signs, Tune};

use crate::clock::Clock;

/// The lamps beside the posts and the sounder, given to the player by its board.
pub trait Face {
    /// Lights the lamps of posts 1–4, or not.
    fn light(&mut self, posts: [bool; 4]);

    /// Sounds a tone of this height, or none.
    fn sound(&mut self, hertz: Option<u16>);
}

/// What is to be shown next.
pub type Showing = Signal<NoopRawMutex, Signs>;

/// Plays what is shown, for ever.
pub async fn play(face: &mut impl Face, showing: &Showing, clock: &impl Clock) -> ! {
    let mut signs = Signs::default();
    loop {
        signs = match select(showing.wait(), show(signs, face, clock)).await {
            Either::First(next) => next,
            Either::Second(never) => never,
        };
    }
}

async fn show(signs: Signs, face: &mut impl Face, clock: &impl Clock) -> ! {
    let still = signs.lamps.iter().all(|lamp| [Lamp::DARK, Lamp::STEADY].contains(lamp));
    let mut due = clock.now();
    for step in 0.. {
        face.light(signs.lamps.map(|lamp| lamp.lit(step)));
        face.sound(note(signs.tune, step));
        if still && step >= steps(signs.tune) {
            break;
        }
        due = due.after(Lamp::STEP_MICROS);
        clock.until(due).await;
    }
    pending().await
}

/// How long a tune is, in steps of a lamp's pattern.
const fn steps(tune: Tune) -> usize {
    match tune {
        Tune::Silent => 0,
        Tune::Next => 1,
        Tune::Pass => 4,
        Tune::Fail => 11,
        Tune::CannotTell => 5,
        Tune::Hazard | Tune::Carries | Tune::Broke | Tune::Touched => usize::MAX,
    }
}

/// A break or a touch is heard for so long, however short it was. (judgement)
pub const HEARD_MICROS: u64 = 250_000;

/// What is heard of a tune in this step, which lasts [`Lamp::STEP_MICROS`], in hertz: told from each other by number, length and
/// height, as hearing goes. (judgement)
#[must_use]
pub const fn note(tune: Tune, step: usize) -> Option<u16> {
    match (tune, step) {
        (Tune::Next, 0) => Some(1_500),
        (Tune::Pass, 0 | 1) => Some(1_000),
        (Tune::Pass, 2 | 3) => Some(1_500),
        (Tune::Fail, 0..=10) if step % 4 != 3 => Some(300),
        (Tune::CannotTell, 0 | 1 | 3 | 4) => Some(800),
        (Tune::Hazard, _) => Some(if step % 4 < 2 { 2_000 } else { 1_000 }),
        (Tune::Carries, _) if step.is_multiple_of(16) => Some(1_200),
        (Tune::Broke, _) => Some(2_500),
        (Tune::Touched, _) => Some(if step.is_multiple_of(2) { 250 } else { 350 }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TUNES: [Tune; 9] = [
        Tune::Silent,
        Tune::Next,
        Tune::Pass,
        Tune::Fail,
        Tune::CannotTell,
        Tune::Hazard,
        Tune::Carries,
        Tune::Broke,
        Tune::Touched,
    ];

    #[test]
    fn every_tune_is_another_and_ends_or_goes_on() {
        let played =
            TUNES.map(|tune| [(); 32].iter().enumerate().map(|(n, ())| note(tune, n)).collect());
        for (n, one) in played.iter().enumerate() {
            let one: &std::vec::Vec<Option<u16>> = one;
            assert!(!played[..n].contains(one), "{:?}", TUNES[n]);
            let last = one.iter().rposition(Option::is_some).map_or(0, |last| last + 1);
            match steps(TUNES[n]) {
                usize::MAX => assert!(last > 16, "{:?}", TUNES[n]),
                steps => assert_eq!(last, steps, "{:?}", TUNES[n]),
            }
        }
    }
}
