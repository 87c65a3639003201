//! The watch itself: hears the jig, tells what happens, finds a jig that went away, until somebody ends it.

use std::borrow::Cow;
use std::io;
use std::thread;
use std::time::{Duration, Instant};

use runproof_interpret::Capture;
use runproof_interpret::capture::Ending;
use runproof_interpret::flex::{FlexGap, FlexLane, FlexRecord, FlexSetup, Flexed};
use runproof_protocol::{Event, Microseconds, Phase};

use crate::error::Error;
use crate::jig::{Jig, Watched, Watching};
use crate::show::flex::face::{Clock, Face, Happened, Now, Said};
use crate::show::flex::merged;
use crate::signals::Signals;

/// A jig that went away may have been unplugged by a tug at its cable.
const LOOKED_FOR: Duration = Duration::from_secs(10);
const LOOKS_AGAIN: Duration = Duration::from_millis(500);

/// So much is lost by a power cut.
const KEPT_EVERY: Duration = Duration::from_secs(60);

/// What is not watched of a time is watched after it, to this measure.
const LONGER: f64 = 1.1;
const LONGER_S: f64 = 2.0;

/// How soon keys and signals are heard while nothing comes.
const HEARS_WITHIN: Duration = Duration::from_millis(50);

/// What is to be done.
pub(super) struct Plan<'a> {
    pub(super) setup: FlexSetup,
    /// Of the jig's time.
    pub(super) during: Option<Duration>,
    /// The jig is simulated, and shown as fast as a real one.
    pub(super) paced: bool,
    pub(super) signals: &'a Signals,
    pub(super) meet: &'a dyn Fn() -> Result<Jig, Error>,
}

/// Why it ended.
#[derive(Debug)]
pub(super) enum Why {
    Over,
    Said,
    /// By this signal.
    Asked(i32),
    NobodyReads,
    Jig(Ending),
    Gone(String),
}

pub(super) struct Watch<'a> {
    plan: Plan<'a>,
    face: &'a mut dyn Face,
    flexed: Flexed,
    clock: Clock,
    /// The last that was heard.
    at: Microseconds,
    /// Of the watches before the jig went away.
    before: Vec<FlexLane>,
    watched_before_s: f64,
    /// Since when each mark was meant.
    marked: Vec<Microseconds>,
}

impl<'a> Watch<'a> {
    pub(super) fn new(plan: Plan<'a>, face: &'a mut dyn Face) -> Self {
        Self {
            flexed: Flexed::new(plan.setup.clone()),
            plan,
            face,
            clock: Clock::default(),
            at: Microseconds(0),
            before: vec![],
            watched_before_s: 0.0,
            marked: vec![],
        }
    }

    /// Adds what was seen to the capture, which is kept from time to time; the jig, where it is still there, and why it ended.
    pub(super) fn go(
        mut self,
        mut jig: Jig,
        capture: &mut Capture,
        keep: &mut dyn FnMut(Capture),
    ) -> (Option<Jig>, Why) {
        loop {
            let why = match jig.watch(self.plan.setup.phase) {
                Ok(watching) => self.stretch(watching, capture, keep),
                Err(error) => Why::Gone(error.to_string()),
            };
            let mut record = self.record();
            let Why::Gone(reason) = why else {
                capture.push_flex(record);
                return (Some(jig), why);
            };
            let gone = Instant::now();
            let serial = jig.head().jig.serial.clone();
            drop(jig);
            let Some(found) = self.found_again(gone, &serial) else {
                capture.push_flex(record);
                return (None, Why::Gone(reason));
            };
            jig = found;
            let hole = gone.elapsed();
            let lasted_us = u64::try_from(hole.as_micros()).unwrap_or(u64::MAX);
            record.head.gaps += 1;
            record.head.gaps_us = record.head.gaps_us.saturating_add(lasted_us);
            record.gaps.push(FlexGap { at: self.at, lasted_us, lost_events: 0, dropped_edges: 0 });
            self.begin_anew(&record.lanes, hole);
            capture.push_flex(record);
            let _nobody_reads = self.tell(Happened::FoundAgain(hole.as_secs_f64()));
        }
    }

    /// The jig's clock may begin anew.
    fn begin_anew(&mut self, lanes: &[FlexLane], hole: Duration) {
        self.before = merged(&self.before, lanes);
        self.watched_before_s += self.flexed.watched_s();
        let before_s = self.clock.s(self.at) + hole.as_secs_f64();
        self.clock = Clock { from: None, before_s };
        self.flexed = Flexed::new(self.plan.setup.clone());
        self.marked.clear();
    }

    /// What was seen since the jig last began; a mark counts from when somebody began to type it.
    fn record(&self) -> FlexRecord {
        let mut record = self.flexed.finish();
        for (mark, at) in record.marks.iter_mut().zip(&self.marked) {
            mark.at = *at;
        }
        record
    }

    /// Until somebody ends it, or the jig is gone.
    fn stretch(
        &mut self,
        mut watching: Watching<'_>,
        capture: &Capture,
        keep: &mut dyn FnMut(Capture),
    ) -> Why {
        let begun = Instant::now();
        let mut kept = begun;
        let why = loop {
            if let Some(why) = self.asked() {
                break why;
            }
            if kept.elapsed() >= KEPT_EVERY {
                kept = Instant::now();
                let mut capture = capture.clone();
                capture.push_flex(self.record());
                keep(capture);
            }
            if let Some(ahead) = self.ahead(begun) {
                thread::sleep(ahead.min(HEARS_WITHIN));
                continue;
            }
            let heard = match watching.next(HEARS_WITHIN) {
                Watched::Event(event) => self.hear(&event),
                Watched::Quiet => Ok(()),
                Watched::Ended(ending) => break Why::Jig(ending),
                Watched::Lost(reason) => return Why::Gone(reason),
            };
            if heard.and_then(|()| self.look()).is_err() {
                break Why::NobodyReads;
            }
        };
        // What the jig still had to say is seen as well; who does not read any more misses it.
        watching.end(|event| {
            let _nobody_reads = self.hear(event);
        });
        why
    }

    fn hear(&mut self, event: &Event) -> io::Result<()> {
        if let Some(at) = time_of(event, self.plan.setup.phase) {
            self.clock.from.get_or_insert(at);
            self.at = at;
        }
        let mut news = vec![];
        self.flexed.hear(event, &mut news);
        news.iter().try_for_each(|one| self.tell(Happened::News(one)))
    }

    /// Keys, signals, the time.
    fn asked(&mut self) -> Option<Why> {
        if let Some(signal) = self.plan.signals.asked() {
            return Some(Why::Asked(signal));
        }
        match self.face.said() {
            Some(Said::Enough) => return Some(Why::Said),
            Some(Said::Mark { text, at }) => {
                self.flexed.mark(&text);
                let at = at.unwrap_or(self.at);
                self.marked.push(at);
                if self.tell(Happened::Mark(&text, at)).is_err() {
                    return Some(Why::NobodyReads);
                }
            }
            #[cfg(feature = "screen")]
            Some(Said::Gone) => return Some(Why::NobodyReads),
            None => {}
        }
        self.is_over().then_some(Why::Over)
    }

    /// The time was watched; or is over, whatever of it could be.
    fn is_over(&self) -> bool {
        let Some(during) = self.plan.during else { return false };
        let (during_s, s) = (during.as_secs_f64(), self.clock.s(self.at));
        let watched_s = self.watched_before_s + self.flexed.watched_s();
        s >= during_s && (watched_s >= during_s || s >= during_s * LONGER + LONGER_S)
    }

    /// How much sooner a simulated jig is than a real one would be.
    fn ahead(&self, begun: Instant) -> Option<Duration> {
        let s = self.clock.s(self.at) - self.clock.before_s - begun.elapsed().as_secs_f64();
        (self.plan.paced && s > 0.0).then(|| Duration::from_secs_f64(s))
    }

    fn found_again(&mut self, gone: Instant, serial: &str) -> Option<Jig> {
        let has_begun = self.clock.from.is_some() || self.clock.before_s > 0.0;
        if !has_begun || self.tell(Happened::Lost).is_err() {
            return None;
        }
        while gone.elapsed() < LOOKED_FOR && self.plan.signals.asked().is_none() {
            match (self.plan.meet)() {
                Ok(jig) if jig.head().jig.serial == serial && jig.watches_flexing() => {
                    return Some(jig);
                }
                _ => thread::sleep(LOOKS_AGAIN),
            }
            if self.face.said() == Some(Said::Enough) || self.look().is_err() {
                return None;
            }
        }
        None
    }

    fn tell(&mut self, happened: Happened<'_>) -> io::Result<()> {
        let lanes = lanes(&self.before, &self.flexed);
        self.face
            .tell(happened, &now(&lanes, self.clock, self.at, self.watched_before_s, &self.flexed))
    }

    fn look(&mut self) -> io::Result<()> {
        let lanes = lanes(&self.before, &self.flexed);
        self.face.look(&now(&lanes, self.clock, self.at, self.watched_before_s, &self.flexed))
    }
}

fn now<'a>(
    lanes: &'a [FlexLane],
    clock: Clock,
    at: Microseconds,
    watched_before_s: f64,
    flexed: &Flexed,
) -> Now<'a> {
    Now { lanes, clock, at, watched_s: watched_before_s + flexed.watched_s() }
}

/// All that was seen so far, before the jig went away as well.
fn lanes<'a>(before: &[FlexLane], flexed: &'a Flexed) -> Cow<'a, [FlexLane]> {
    match before {
        [] => Cow::Borrowed(flexed.lanes()),
        before => Cow::Owned(merged(before, flexed.lanes())),
    }
}

/// When it was, where it is of the watch.
fn time_of(event: &Event, watched: Phase) -> Option<Microseconds> {
    match event {
        Event::Pattern(pattern) if pattern.phase == watched => {
            pattern.readings.iter().map(|reading| reading.at).max()
        }
        Event::Edges(edges) if edges.phase == watched => edges.edges.last().map(|edge| edge.at),
        _ => None,
    }
}
