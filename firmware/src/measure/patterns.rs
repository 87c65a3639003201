//! Drives a pattern, takes its slots, lets go, and sends what was read.

use core::convert::Infallible;
use core::future::poll_fn;

use embassy_futures::select::{Either, select};
use embedded_hal::digital::OutputPin;
use heapless::Vec;
use runproof_protocol::{
    Channel, Drive, Event, Microseconds, Microvolts, Pattern, Phase, Picofarads, Post, Reading,
    Rise, Step, Stop,
};

use super::{End, Means, Outbox};
use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::slots::{Conversions, Slot};
use crate::watch::Watch;

/// Sense nodes have settled to well under a code this long after a pattern was set.
const SETTLE_MICROS: u64 = 600;

/// Ten times 0.1 ms.
#[cfg(feature = "flex")]
const STAND_MICROS: u64 = 1_000;

/// A host that takes no event for so long is gone.
const HOST_SILENT_MICROS: u64 = 500_000;

/// The relays stay closed no longer than this, however slow the host is; a phase takes one second. A run that is flexed
/// is driven as long as the host takes what is sent.
const CLOSED_MAX_MICROS: u64 = 3_000_000;

/// A relay's contacts have closed and stopped bouncing this long after its coil was switched on.
const CONTACTS_CLOSE_MICROS: u64 = 25_000;

/// They have opened this long after it was switched off: 5 ms with a Zener diode across the coil.
const CONTACTS_OPEN_MICROS: u64 = 6_000;

pub(super) const PULLS_OFF: [Drive; 2] = [Drive::Off; 2];

/// The patterns of one phase.
pub(super) struct Patterns<'a, L, R, C, W> {
    phase: Phase,
    bench: &'a mut Bench<L, R>,
    means: &'a Means<'a, C, W>,
    outbox: &'a Outbox,
    sent: u16,
    /// When the relays have been closed for too long.
    open_by: Option<Microseconds>,
}

impl<'a, L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch> Patterns<'a, L, R, C, W> {
    pub(super) fn new(
        phase: Phase,
        bench: &'a mut Bench<L, R>,
        means: &'a Means<'a, C, W>,
        outbox: &'a Outbox,
    ) -> Self {
        Self { phase, bench, means, outbox, sent: 0, open_by: None }
    }

    pub(super) fn sent(&self) -> u16 {
        self.sent
    }

    pub(super) fn now(&self) -> Microseconds {
        self.means.clock.now()
    }

    pub(super) async fn until(&self, at: Microseconds) {
        self.means.clock.until(at).await;
    }

    /// The load holds the posts together until the contacts rest, so that the watch can look from before
    /// the closing on: what it then sees does not only couple in.
    pub(super) async fn close_relays(&mut self) {
        self.load(Step::LiveLoaded).await;
        self.means.watch.begin();
        self.bench.close_relays();
        self.open_by = (!self.phase.is_flexed()).then(|| self.now().after(CLOSED_MAX_MICROS));
        self.until(self.now().after(CONTACTS_CLOSE_MICROS)).await;
        self.bench.load(false);
        self.until(self.now().after(CONTACTS_OPEN_MICROS)).await;
    }

    pub(super) fn relays_closed(&self) -> bool {
        self.bench.relays_closed()
    }

    /// By the ring of the fixture, if there is one.
    pub(super) fn join_far_ends(&mut self, on: bool) {
        self.bench.join_far_ends(on);
    }

    pub(super) fn watch(&self) -> &'a W {
        self.means.watch
    }

    #[cfg(feature = "flex")]
    pub(super) fn show(&self, signs: runproof_protocol::Signs) {
        self.means.showing.signal(signs);
    }

    /// Puts across the posts what a step is read under, unless the load is there.
    pub(super) async fn load(&mut self, step: Step) {
        if step == Step::SupplyLoaded {
            self.bench.load_supply(true);
        } else if self.bench.loaded() {
            return;
        } else {
            self.bench.load(true);
        }
        self.until(self.now().after(CONTACTS_CLOSE_MICROS)).await;
    }

    /// Drives posts and pulls until [`let_go`](Self::let_go).
    pub(super) fn hold(&mut self, drives: [Drive; 4], pulls: [Drive; 2]) {
        self.bench.drive(drives);
        self.bench.pull(pulls);
    }

    /// The same, and waits until all stands still: nodes behind the pulls, with 1 nF, and 15 nF of cable behind a drive.
    #[cfg(feature = "flex")]
    pub(super) async fn stand(&mut self, drives: [Drive; 4], pulls: [Drive; 2]) {
        self.hold(drives, pulls);
        self.until(self.now().after(STAND_MICROS)).await;
    }

    /// Drives nothing; the relays stay as they are.
    pub(super) fn let_go(&mut self) {
        self.hold([Drive::Off; 4], PULLS_OFF);
    }

    /// Puts the references beside the posts, or takes them off.
    pub(super) fn refer(&mut self, on: bool) {
        self.bench.refer(on);
    }

    /// Lets one post go under both pulls until its line reads high, or until `latest`.
    pub(super) async fn let_rise(&mut self, post: Post, latest: Microseconds) {
        select(self.bench.let_rise(post), self.means.clock.until(latest)).await;
    }

    /// One pattern from drive to send. The drives are off before the host is waited for: a slow
    /// host stretches a test, never the time that a run is driven.
    pub(super) async fn drive(
        &mut self,
        step: Step,
        drives: [Drive; 4],
        slots: &[Slot],
        taken: &mut Taken,
    ) -> Result<(), End> {
        self.bench.drive(drives);
        self.until(self.now().after(SETTLE_MICROS)).await;
        self.means.watch.observe();
        taken.clear();
        for slot in slots {
            taken.add(slot, &self.convert(*slot).await?);
        }
        taken.observed = self.means.watch.observed();
        self.bench.drive([Drive::Off; 4]);
        self.send(step, drives, PULLS_OFF, taken).await
    }

    pub(super) async fn convert(&self, slot: Slot) -> Result<Conversions, End> {
        self.means.slots.ask(slot).await.map_err(|fault| End::Stop(Stop::Fault(fault)))
    }

    pub(super) async fn send(
        &mut self,
        step: Step,
        drives: [Drive; 4],
        pulls: [Drive; 2],
        taken: &Taken,
    ) -> Result<(), End> {
        if self.phase == Phase::FarLights {
            return Ok(());
        }
        self.room().await?;
        self.tell(self.pattern(step, drives, pulls, taken));
        Ok(())
    }

    #[inline(never)]
    pub(super) fn pattern(
        &self,
        step: Step,
        drives: [Drive; 4],
        pulls: [Drive; 2],
        taken: &Taken,
    ) -> Event {
        Event::Pattern(Pattern {
            index: self.sent,
            phase: self.phase,
            step,
            drives,
            pulls,
            relays_closed: self.bench.relays_closed(),
            readings: taken.readings.clone(),
        })
    }

    pub(super) async fn send_rise(
        &mut self,
        post: Post,
        reference: Option<Picofarads>,
        at: Microseconds,
        micros: &Vec<u16, { Rise::RELEASES_MAX }>,
    ) -> Result<(), End> {
        self.room().await?;
        let rise = Rise {
            index: self.sent,
            phase: self.phase,
            post,
            reference,
            relays_closed: self.bench.relays_closed(),
            at,
            micros: micros.clone(),
        };
        self.tell(Event::Rise(rise));
        Ok(())
    }

    /// Waits for room for an event, so that none is kept meanwhile.
    pub(super) async fn room(&self) -> Result<(), End> {
        let silent_by = self.now().after(HOST_SILENT_MICROS);
        let give_up = self.open_by.map_or(silent_by, |open_by| open_by.min(silent_by));
        let limit = self.means.clock.until(give_up);
        match select(poll_fn(|context| self.outbox.poll_ready_to_send(context)), limit).await {
            Either::First(()) => Ok(()),
            Either::Second(()) => Err(End::Stop(Stop::HostSilent)),
        }
    }

    /// Sends what was read, and counts it; there is room.
    #[inline(never)]
    pub(super) fn tell(&mut self, event: Event) {
        let sent = self.outbox.try_send(event);
        debug_assert!(sent.is_ok(), "room was waited for");
        self.sent = self.sent.wrapping_add(1);
    }
}

/// The readings of one pattern.
pub(super) struct Taken {
    readings: Vec<Reading, { Pattern::READINGS_MAX }>,
    /// What the watch saw of the posts meanwhile, if they were driven.
    observed: [Microvolts; 4],
}

impl Taken {
    pub(super) const fn new() -> Self {
        Self { readings: Vec::new(), observed: [Microvolts(0); 4] }
    }

    pub(super) fn readings(&self) -> &[Reading] {
        &self.readings
    }

    pub(super) fn observed(&self) -> [Microvolts; 4] {
        self.observed
    }

    pub(super) fn clear(&mut self) {
        self.readings.clear();
    }

    pub(super) fn is_full(&self) -> bool {
        self.readings.is_full()
    }

    /// Adds a slot's answers; a pattern's slots are written so that they fit.
    #[inline(never)]
    pub(super) fn add(&mut self, slot: &Slot, conversions: &Conversions) {
        for (converter, (input, range)) in slot.looks() {
            let conversion = conversions[converter.index()];
            let reading = Reading {
                channel: Channel { converter, input },
                range,
                code: conversion.code,
                at: conversion.at,
            };
            let fits = self.readings.push(reading);
            debug_assert!(fits.is_ok(), "a pattern has at most READINGS_MAX readings");
        }
    }
}
