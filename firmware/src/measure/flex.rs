//! The run while it is flexed: driven without a pause, read without a pause, until somebody ends it.
//!
//! The converters follow how much resistance there is; what is shorter than a conversion the edge catcher sees,
//! which is seen to see before it is trusted. What goes by is heard and shown as it happens.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use heapless::Vec;
use runproof_protocol::{
    Converter, Drive, Edge, Edges, Fault, Input, Lamp, Microseconds, Phase, Post, Range, Signs,
    Step, Stop, Tune,
};

use super::End;
use super::patterns::{PULLS_OFF, Patterns, Taken};
use crate::bench::Line;
use crate::clock::Clock;
use crate::slots::Slot;
use crate::watch::Watch;

/// All the converters can tell of three currents and three voltages, turn by turn.
const LOOKS: [Input; 3] = [Input::P1P4, Input::P2P4, Input::P3P4];

/// Pulls that put every sense node in the middle, and at either rail: 0.1 ms, ten times over.
const SEEN: [([Drive; 2], u8); 3] =
    [([Drive::High, Drive::Low], EVERY_POST), ([Drive::High; 2], 0), ([Drive::Low; 2], 0)];
const PULLED_MICROS: u64 = 1_000;
const EVERY_POST: u8 = 0b1111;

/// The run has settled, with 15 nF behind 660 Ω.
const SETTLE_MICROS: u64 = 600;

/// What is shorter would not be heard. [judgement]
const HEARD_MICROS: u64 = 250_000;

const ACROSS: [Drive; 4] = [Drive::High, Drive::High, Drive::Low, Drive::Low];
const ALONG: [Drive; 4] = [Drive::High, Drive::Low, Drive::High, Drive::Low];

/// Goes on until it is dropped.
pub(super) async fn watch<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    phase: Phase,
) -> Result<Infallible, End> {
    for (pulls, between) in SEEN {
        patterns.hold([Drive::Off; 4], pulls);
        patterns.until(patterns.now().after(PULLED_MICROS)).await;
        let wrong = patterns.watch().between() ^ between;
        if let Some(post) = Post::ALL.get(wrong.trailing_zeros() as usize) {
            return Err(End::Stop(Stop::Fault(Fault::EdgesBlind(*post))));
        }
    }
    patterns.let_go();
    patterns.close_relays().await;
    let mut taken = Taken::new();
    let mut heard = Heard::new(phase);
    let mut before = [Drive::Off; 4];
    let (mut turn, mut slot) = (0_u8, 0);
    loop {
        let along = phase == Phase::FlexAlong || phase == Phase::FlexShorts && turn % 2 == 1;
        let drives = if along { ALONG } else { ACROSS };
        if drives != before {
            patterns.hold(drives, PULLS_OFF);
            patterns.until(patterns.now().after(SETTLE_MICROS)).await;
            patterns.watch().catch();
            heard.dropped = 0;
            before = drives;
        }
        taken.clear();
        while !taken.is_full() {
            let look = (LOOKS[slot], Range::V4);
            slot = if slot == 2 { 0 } else { slot + 1 };
            let both = Slot::default().and(Converter::Sense, look).and(Converter::Drive, look);
            taken.add(&both, &patterns.convert(both).await?);
            heard.send(patterns).await?;
        }
        patterns.send(Step::Flex, drives, PULLS_OFF, &taken).await?;
        turn = turn.wrapping_add(1);
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
    shown: Signs,
}

impl Heard {
    fn new(phase: Phase) -> Self {
        let well = if phase == Phase::Flex { EVERY_POST } else { 0 };
        let (until, shown) = (Microseconds(0), Signs::default());
        Self { well, carries: well, dropped: 0, until, shown }
    }

    /// All that is caught by now.
    async fn send<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
        &mut self,
        patterns: &mut Patterns<'_, L, R, C, W>,
    ) -> Result<(), End> {
        let now = patterns.now();
        let mut is_well = true;
        loop {
            let mut edges = Vec::<Edge, { Edges::EDGES_MAX }>::new();
            while !edges.is_full()
                && let Some(edge) = patterns.watch().caught(now)
            {
                self.carries = edge.carries;
                is_well &= edge.changed == 0;
                let _room = edges.push(edge);
            }
            if edges.is_empty() {
                break;
            }
            let dropped = patterns.watch().dropped();
            let since = dropped - core::mem::replace(&mut self.dropped, dropped);
            patterns.send_edges(since, &edges).await?;
        }
        let signs = self.signs(is_well & (self.carries == self.well), now);
        if signs != self.shown {
            patterns.show(signs);
            self.shown = signs;
        }
        Ok(())
    }

    fn signs(&mut self, is_well: bool, now: Microseconds) -> Signs {
        let lamps = Post::ALL.map(|post| match self.carries >> post.index() & 1 {
            0 => Lamp::DARK,
            _ => Lamp::STEADY,
        });
        if !is_well {
            self.until = now.after(HEARD_MICROS);
        }
        let tune = match (now < self.until, self.well) {
            (false, _) => Tune::Carries,
            (true, 0) => Tune::Touched,
            (true, _) => Tune::Broke,
        };
        Signs { lamps, tune }
    }
}
