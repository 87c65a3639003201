//! `lead`: tests made-up leads one after the other, as they are plugged into one fixture or more.

mod begin;
mod counting;
mod fixture;

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

use begin::{Begun, Place};
use counting::Counting;
use fixture::AtFixture;

use crate::arguments::Lead as Arguments;
use crate::error::Error;
use crate::exit::Exit;
use crate::guide::{Lines, Said};
use crate::recording;
use crate::shop::leads;
use crate::show::lead as words;

/// What is typed is looked at so often.
const TYPED_WITHIN: Duration = Duration::from_millis(50);

/// Each fixture goes its own way; what they count is counted in one place.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Error> {
    if arguments.undo {
        return undo(arguments);
    }
    let (begun, numbers) = Begun::of(arguments)?;
    let lines = Lines::listen();
    let place = Place::of(arguments)?;
    let jigs = place.jigs(arguments.seed)?;
    let lot = arguments.lot.as_deref().map(|lot| (lot, 1));
    for jig in &jigs {
        super::lot::before(lot, &jig.head().jig.serial)?;
    }
    let is_simulated = place.is_simulated();
    let mut counting = Counting::new(&begun, arguments, numbers, place.operator(), jigs.len());
    counting.screen.begin(lines.any(), is_simulated);
    let counting = Mutex::new(counting);
    let is_over = AtomicBool::new(false);
    let (ending, ended) = mpsc::channel();
    let ran = thread::scope(|scope| {
        for (nth, jig) in jigs.into_iter().enumerate() {
            let (ending, begun, counting, is_over) = (ending.clone(), &begun, &counting, &is_over);
            scope.spawn(move || {
                let ran = AtFixture { nth, jig: &jig, begun, counting, is_over }.serve();
                is_over.store(true, Ordering::Relaxed);
                let _nobody_waits = ending.send(ran);
            });
        }
        drop(ending);
        let mut all = Ok(());
        loop {
            match ended.recv_timeout(TYPED_WITHIN) {
                Ok(ran) => all = all.and(ran),
                Err(RecvTimeoutError::Disconnected) => return all,
                Err(RecvTimeoutError::Timeout) => {}
            }
            match lines.take() {
                Some(Said::Undo) => {
                    let back = locked(&counting).take_back();
                    is_over.fetch_or(back.is_err(), Ordering::Relaxed);
                    all = all.and(back);
                }
                Some(Said::End) => is_over.store(true, Ordering::Relaxed),
                None => {}
            }
        }
    });
    let mut counting = counting.into_inner().unwrap_or_else(PoisonError::into_inner);
    counting.end()?;
    ran?;
    Ok(if counting.tally.all() == counting.tally.pass { Exit::Pass } else { Exit::Fail })
}

fn locked<'a, 'b>(counting: &'a Mutex<Counting<'b>>) -> MutexGuard<'a, Counting<'b>> {
    counting.lock().unwrap_or_else(PoisonError::into_inner)
}

fn undo(arguments: &Arguments) -> Result<Exit, Error> {
    let mut store = recording::store()?;
    let lot = begin::lot(&store, arguments.lot.as_deref())?;
    let (record, number) = leads::last(&store, lot.as_ref())?;
    leads::void(&mut store, record)?;
    super::print(&words::taken_back(number, arguments.json))?;
    Ok(Exit::Pass)
}
