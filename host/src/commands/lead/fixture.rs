//! One fixture of a session: what its jig finds is counted, shown and sounded there.

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};

use runproof_interpret::Capture;
use runproof_interpret::judgement::{Judgement, Verdict};
use runproof_protocol::{Lamp, Signs, Tune};

use super::begin::Begun;
use super::counting::{Counted, Counting};
use super::locked;
use crate::error::{Error, LeadError};
use crate::guide::{Event, Station};
use crate::jig::Jig;
use crate::show::{self, signs};
use crate::zeros;

/// What is shown stands at least so long before the jig measures on; a pass tone is 0.4 s long. (judgement)
const SHOWN_MICROS: u64 = 200_000;
const VERDICT_MICROS: u64 = 450_000;

/// So often in a row no operator is to blame. (judgement)
const AGAIN_MAX: u32 = 6;
/// It is asked for so often that the fixture be emptied. (judgement)
const NOT_EMPTY_MAX: u32 = 3;

pub(super) struct AtFixture<'a, 'b> {
    /// From 0.
    pub(super) nth: usize,
    pub(super) jig: &'a Jig,
    pub(super) begun: &'a Begun,
    pub(super) counting: &'a Mutex<Counting<'b>>,
    /// Enough was counted, or was said, or something is wrong at another fixture.
    pub(super) is_over: &'a AtomicBool,
}

impl AtFixture<'_, '_> {
    pub(super) fn serve(&self) -> Result<(), Error> {
        let Self { nth, jig, begun, counting, is_over } = *self;
        let judge = |capture: &Capture| begun.judged(capture);
        let mut station = Station::new(jig, zeros::newest(jig), begun.way, begun.lead_pf, &judge);
        let (mut again, mut not_empty) = (0, 0);
        loop {
            let event = station.next(&|| is_over.load(Ordering::Relaxed));
            match event {
                Event::Ready => {
                    if !locked(counting).ready(nth, station.now()) {
                        return Ok(());
                    }
                    self.show(&station, Signs::all(Lamp::DARK, Tune::Next), SHOWN_MICROS);
                }
                Event::Again(why) => {
                    again += 1;
                    locked(counting).again(nth, why);
                    self.show(&station, Signs::CANNOT_TELL, VERDICT_MICROS);
                    if again >= AGAIN_MAX {
                        return Err(LeadError::NeverThere { times: again }.into());
                    }
                }
                Event::EndB => {
                    locked(counting).screen.end_b(nth);
                    self.show(&station, Signs::all(Lamp::FLASH, Tune::Next), SHOWN_MICROS);
                }
                Event::EndBOff => {
                    locked(counting).screen.end_b_off(nth);
                    self.show(&station, Signs::CANNOT_TELL, VERDICT_MICROS);
                }
                Event::TakeOut => {
                    locked(counting).screen.take_out(nth);
                    self.show(&station, Signs::CANNOT_TELL, VERDICT_MICROS);
                }
                Event::NotEmpty => {
                    not_empty += 1;
                    if not_empty > NOT_EMPTY_MAX {
                        return Err(LeadError::NeverEmpty.into());
                    }
                    locked(counting).screen.not_empty(nth);
                }
                Event::Lead(mut capture) => {
                    again = 0;
                    capture.head.taken_unix_s = Some(crate::commands::now_unix_s());
                    let judgement = begun.judged(&capture);
                    self.show(&station, signs_of(&judgement), 0);
                    let counted =
                        Counted { capture: &capture, judgement: &judgement, fixture: nth };
                    if !locked(counting).count(counted, station.now())? {
                        return Ok(());
                    }
                    station.pause(VERDICT_MICROS);
                }
                Event::Interrupted => return Ok(()),
                Event::RingStays => return Err(LeadError::RingStays.into()),
                Event::BrokenOff(capture) => {
                    let judgement = begun.judged(&capture);
                    jig.show(signs::of(&judgement));
                    return Err(LeadError::BrokenOff { why: show::reason(&judgement) }.into());
                }
            }
        }
    }

    fn show(&self, station: &Station<'_>, signs: Signs, micros: u64) {
        self.jig.show(signs);
        station.pause(micros);
    }
}

/// What is no pass sounds as a fail: the other tone asks for both ends again.
fn signs_of(judgement: &Judgement) -> Signs {
    let signs = signs::of(judgement);
    if judgement.verdict == Verdict::CannotTell {
        Signs { tune: Tune::Fail, ..signs }
    } else {
        signs
    }
}
