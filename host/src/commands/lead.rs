//! `lead`: tests made-up leads one after the other, as they are plugged into the mated fixture.

mod begin;
mod counting;

use begin::{Begun, Place};
use counting::Counting;
use runproof_interpret::Capture;
use runproof_interpret::judgement::{Judgement, Verdict};
use runproof_protocol::{Lamp, Signs, Tune};

use crate::arguments::Lead as Arguments;
use crate::error::{Error, LeadError};
use crate::exit::Exit;
use crate::guide::lead::Why;
use crate::guide::{Event, Lines, Said, Station};
use crate::recording;
use crate::shop::leads;
use crate::show::lead as words;
use crate::show::signs;
use crate::zeros;

/// What is shown stands at least so long before the jig measures on; a pass tone is 0.4 s long. (judgement)
const SHOWN_MICROS: u64 = 200_000;
const VERDICT_MICROS: u64 = 450_000;

pub(super) fn run(arguments: &Arguments) -> Result<Exit, Error> {
    if arguments.undo {
        return undo(arguments);
    }
    let (begun, numbers) = Begun::of(arguments)?;
    let lines = Lines::listen();
    let place = Place::of(arguments)?;
    let jig = place.jig(arguments.seed)?;
    let lot = arguments.lot.as_deref().map(|lot| (lot, 1));
    super::lot::before(lot, &jig.head().jig.serial)?;
    let judge = |capture: &Capture| begun.judged(capture);
    let mut station = Station::new(&jig, zeros::newest(&jig), begun.lead_pf, &judge);
    let mut counting = Counting::new(&begun, arguments, numbers, place.operator());
    counting.screen.begin(lines.any(), place.is_simulated());
    loop {
        let event = station.next(&|| lines.waits());
        match event {
            Event::Ready => {
                counting.tally.ready(station.now());
                if counting.is_done() {
                    break;
                }
                show(&jig, &station, Signs::all(Lamp::DARK, Tune::Next), SHOWN_MICROS);
                counting.screen.ready(counting.next_number()?);
            }
            Event::TakeEndBOut => {
                show(&jig, &station, Signs::all(Lamp::FLASH, Tune::Next), SHOWN_MICROS);
                counting.screen.take_end_b_out();
            }
            Event::Again(why) => {
                show(&jig, &station, Signs::CANNOT_TELL, VERDICT_MICROS);
                counting.again(why)?;
            }
            Event::TakeOut => {
                show(&jig, &station, Signs::CANNOT_TELL, VERDICT_MICROS);
                counting.screen.take_out();
            }
            Event::NotEmpty => counting.not_empty()?,
            Event::Lead(mut capture) => {
                capture.head.taken_unix_s = Some(super::now_unix_s());
                let judgement = begun.judged(&capture);
                show(&jig, &station, signs_of(&judgement), 0);
                counting.count(&capture, &judgement, station.now())?;
                if counting.is_done() {
                    break;
                }
                station.pause(VERDICT_MICROS);
            }
            Event::Interrupted => match lines.take() {
                Some(Said::Undo) => counting.take_back()?,
                Some(Said::End) => break,
                None => {}
            },
            Event::BrokenOff(capture) => {
                let judgement = begun.judged(&capture);
                jig.show(signs::of(&judgement));
                counting.end()?;
                let why = crate::show::reason(&judgement);
                return Err(LeadError::BrokenOff { why }.into());
            }
        }
    }
    counting.end()?;
    Ok(if counting.tally.all() == counting.tally.pass { Exit::Pass } else { Exit::Fail })
}

fn show(jig: &crate::jig::Jig, station: &Station<'_>, signs: Signs, micros: u64) {
    jig.show(signs);
    station.pause(micros);
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

fn undo(arguments: &Arguments) -> Result<Exit, Error> {
    let mut store = recording::store()?;
    let lot = begin::lot(&store, arguments.lot.as_deref())?;
    let (record, number) = leads::last(&store, lot.as_ref())?;
    leads::void(&mut store, record)?;
    super::print(&words::taken_back(number, arguments.json))?;
    Ok(Exit::Pass)
}

/// So often in a row no operator is to blame. (judgement)
const AGAIN_MAX: u32 = 6;

impl Counting<'_> {
    fn again(&mut self, why: Why) -> Result<(), Error> {
        self.again += 1;
        self.in_a_row += 1;
        self.screen.again(why);
        if self.in_a_row >= AGAIN_MAX {
            return Err(LeadError::NeverThere { times: self.in_a_row }.into());
        }
        Ok(())
    }
}
