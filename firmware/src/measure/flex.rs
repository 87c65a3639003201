//! The run while it is flexed: driven without a pause, read without a pause, until somebody ends it.
//!
//! The converters follow how much resistance there is; what is shorter than a conversion the edge catcher sees,
//! which is seen to see before it is trusted. What goes by is heard and shown as it happens.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use heapless::Vec;
use runproof_protocol::{
    Converter, Drive, Edges, Event, Fault, Input, Lamp, Microseconds, Phase, Post, Range, Signs,
    Step, Stop, Tune,
};

use super::End;
use super::patterns::{PULLS_OFF, Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::edges::BEHIND_A_HOLE;
use crate::signs::HEARD_MICROS;
use crate::slots::Slot;
use crate::watch::Watch;

/// All the converters can tell of three currents and three voltages, turn by turn.
const LOOKS: [Input; 3] = [Input::P1P4, Input::P2P4, Input::P3P4];

/// Pulls that put every sense node in the middle, and at either rail.
const SEEN: [([Drive; 2], u8); 3] =
    [([Drive::High, Drive::Low], EVERY_POST), ([Drive::High; 2], 0), ([Drive::Low; 2], 0)];
const EVERY_POST: u8 = 0b1111;

const ACROSS: [Drive; 4] = [Drive::High, Drive::High, Drive::Low, Drive::Low];
const ALONG: [Drive; 4] = [Drive::High, Drive::Low, Drive::High, Drive::Low];

/// Goes on until it is dropped.
pub(super) async fn watch<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    phase: Phase,
) -> Result<Infallible, End> {
    for (pulls, between) in SEEN {
        patterns.stand([Drive::Off; 4], pulls).await;
        let wrong = patterns.watch().between() ^ between;
        if let Some(post) = Post::ALL.get(wrong.trailing_zeros() as usize) {
            return Err(End::Stop(Stop::Fault(Fault::EdgesBlind(*post))));
        }
    }
    patterns.let_go();
    patterns.close_relays().await;
    let mut taken = Taken::new();
    let mut heard = Heard::new(phase);
    let mut drives = [Drive::Off; 4];
    let mut slot = 0;
    loop {
        if taken.readings().is_empty() {
            let along = phase == Phase::FlexAlong || phase == Phase::FlexShorts && drives == ACROSS;
            let next = if along { ALONG } else { ACROSS };
            if drives != next {
                drives = next;
                patterns.stand(drives, PULLS_OFF).await;
                patterns.watch().catch();
                heard.dropped = 0;
            }
        }
        let look = (LOOKS[slot], Range::V4);
        slot = if slot == 2 { 0 } else { slot + 1 };
        let both = Slot::default().and(Converter::Sense, look).and(Converter::Drive, look);
        taken.add(&both, &patterns.convert(both).await?);
        loop {
            patterns.room().await?;
            if let Some(event) = heard.hear(phase, patterns) {
                patterns.tell(event);
                continue;
            }
            if taken.is_full() {
                patterns.tell(patterns.pattern(Step::Flex, drives, PULLS_OFF, &taken));
                taken.clear();
            }
            break;
        }
    }
}

/// What was caught, on its way to the host, the lamps and the sounder.
struct Heard {
    /// Which posts carry when all is well.
    well: u8,
    carries: u8,
    dropped: u16,
    /// What is heard is heard until then.
    until: Microseconds,
    shown: (u8, Tune),
}

impl Heard {
    fn new(phase: Phase) -> Self {
        let well = if phase == Phase::Flex { EVERY_POST } else { 0 };
        let (until, shown) = (Microseconds(0), (0, Tune::Silent));
        Self { well, carries: well, dropped: 0, until, shown }
    }

    /// What is caught by now, if anything is; and shows it.
    fn hear<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
        &mut self,
        phase: Phase,
        patterns: &Patterns<'_, L, R, C, W>,
    ) -> Option<Event> {
        let (now, watch) = (patterns.now(), patterns.watch());
        let (mut is_well, mut dropped) = (true, 0);
        let mut edges = Vec::new();
        while !edges.is_full()
            && let Some(mut edge) = watch.caught(now, edges.is_empty())
        {
            if edge.changed & BEHIND_A_HOLE != 0 {
                edge.changed -= BEHIND_A_HOLE;
                let before = core::mem::replace(&mut self.dropped, watch.dropped());
                dropped = self.dropped - before;
            }
            self.carries = edge.carries;
            is_well &= edge.changed == 0;
            let _room = edges.push(edge);
        }
        let sounds = self.tune(is_well & (self.carries == self.well), now);
        if self.shown != (self.carries, sounds) {
            self.shown = (self.carries, sounds);
            patterns.show(self.signs());
        }
        if edges.is_empty() {
            return None;
        }
        Some(Event::Edges(Edges { index: patterns.sent(), phase, dropped, edges }))
    }

    fn tune(&mut self, is_well: bool, now: Microseconds) -> Tune {
        if !is_well {
            self.until = now.after(HEARD_MICROS);
        }
        match (now < self.until, self.well) {
            (false, _) => Tune::Carries,
            (true, 0) => Tune::Touched,
            (true, _) => Tune::Broke,
        }
    }

    fn signs(&self) -> Signs {
        let lit = |post: Post| self.carries >> post.index() & 1 != 0;
        let lamps = Post::ALL.map(|post| if lit(post) { Lamp::STEADY } else { Lamp::DARK });
        Signs { lamps, tune: self.shown.1 }
    }
}
