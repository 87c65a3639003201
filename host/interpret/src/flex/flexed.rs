//! Hears the events of a phase in which the run is flexed.

use runproof_protocol::{Drive, Event, Microseconds, Phase, Step};

use super::circuit::Circuit;
use super::contradiction::Contradiction;
use super::extremes::Extremes;
use super::incoming::Incoming;
use super::lanes::{Lanes, Out};
use super::log::Log;
use super::resistances::Resistances;
use super::slots::Slot;
use super::steps::Steps;
use super::{FlexGap, FlexHead, FlexLane, FlexNews, FlexRecord, FlexSetup};

/// A watch that goes on. What it keeps is bounded however long it does.
#[derive(Clone, Debug)]
pub struct Flexed {
    pub(super) setup: FlexSetup,
    pub(super) incoming: Incoming,
    pub(super) stand: Stand,
    pub(super) drives: Option<[Drive; 4]>,
    /// Until then edges are those of the drives' own change.
    pub(super) settles: Option<Microseconds>,
    pub(super) clock: Clock,
    /// When the posts changed last.
    pub(super) changed: Option<Microseconds>,
    /// Edges were dropped in the pattern that is being read.
    pub(super) dropped: bool,
    /// Not over yet.
    pub(super) gap: Option<FlexGap>,
    pub(super) lanes: Lanes,
    pub(super) circuit: Option<Circuit>,
    /// The newest of each input, and which posts carried meanwhile.
    pub(super) latest: [Option<Slot>; 3],
    pub(super) latest_stand: Option<u8>,
    pub(super) resistances: Resistances,
    pub(super) steps: Steps,
    pub(super) extremes: Extremes,
    pub(super) contradiction: Contradiction,
    pub(super) log: Log,
}

/// What is known of how the posts stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stand {
    /// Nothing yet: the phase's first edge tells.
    Unheard,
    /// Something was lost. In the pattern that is being read nothing is known.
    Blind,
    /// Something was lost before the pattern that is being read; the next edge tells, or the converters.
    Lost,
    /// These carry.
    Known(u8),
}

/// The jig's time, as far as it was heard.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Clock {
    pub(super) from: Option<Microseconds>,
    pub(super) now: Microseconds,
    pub(super) watched_us: u64,
}

impl Flexed {
    /// A watch that begins with the next event.
    #[must_use]
    pub fn new(setup: FlexSetup) -> Self {
        let mut lanes = Lanes::new(setup.phase);
        if setup.phase == Phase::Flex {
            for (lane, ohm) in lanes.lanes.iter_mut().zip(setup.baseline_ohm) {
                lane.baseline_ohm = ohm;
            }
        }
        Self {
            incoming: Incoming::default(),
            stand: Stand::Unheard,
            drives: None,
            settles: None,
            clock: Clock::default(),
            changed: None,
            dropped: false,
            gap: None,
            lanes,
            circuit: Circuit::of(&setup.parts, &setup.plug),
            latest: [None; 3],
            latest_stand: None,
            resistances: Resistances::new(setup.baseline_ohm),
            steps: Steps::default(),
            extremes: Extremes::default(),
            contradiction: Contradiction::default(),
            log: Log::default(),
            setup,
        }
    }

    /// Takes the next event of the phase, and passes over all others; adds what began, ended or was lost by it. Edges wait for the
    /// pattern during which they came, so news are a pattern late, but for what fills a pattern by itself.
    pub fn hear(&mut self, event: &Event, news: &mut Vec<FlexNews>) {
        match event {
            Event::Edges(edges) if edges.phase == self.setup.phase => {
                self.incoming.edges(edges);
                if self.incoming.is_full() {
                    match self.setup.phase {
                        Phase::FlexShorts => self.incoming.give_up(),
                        _ => _ = self.take_changes(None, news),
                    }
                }
            }
            Event::Pattern(pattern) if pattern.phase == self.setup.phase => {
                self.incoming.index(pattern.index);
                if pattern.step == Step::Flex {
                    self.take_pattern(pattern, news);
                }
            }
            _ => {}
        }
    }

    /// With the plug in the four conductors by post, with it out the six pairs; then what cannot be told whom it is of.
    #[must_use]
    pub fn lanes(&self) -> &[FlexLane] {
        &self.lanes.lanes
    }

    /// How long the run was watched, by the jig's clock, gaps taken off.
    #[must_use]
    pub fn watched_s(&self) -> f64 {
        self.clock.watched_us as f64 / 1e6
    }

    /// The jig's time of what was heard last.
    #[must_use]
    pub fn now(&self) -> Microseconds {
        self.clock.now
    }

    /// Notes what somebody says, at the jig's time of what was heard last.
    pub fn mark(&mut self, text: &str) {
        self.log.mark(self.clock.now, text);
    }

    /// All that is kept; what still goes on is told as such.
    #[must_use]
    pub fn finish(&self) -> FlexRecord {
        let mut last = self.clone();
        last.close();
        let steps_from_ohm = self.steps_from_ohm().map(|ohm| ohm.max(self.steps.hum_ohm()));
        let Self { setup, clock, lanes, contradiction, log, .. } = last;
        let head = FlexHead {
            phase: setup.phase,
            step_ohm: setup.step_ohm,
            steps_from_ohm,
            baseline_ohm: setup.baseline_ohm,
            from_us: clock.from.map(|from| from.0),
            watched_us: clock.watched_us,
            events: log.events,
            gaps: log.gap_count,
            gaps_us: log.gaps_us,
            lost_events: log.lost_events,
            dropped_edges: log.dropped_edges,
            contradicted_us: contradiction.longest_us,
            marks: log.mark_count,
        };
        let events = log.kept();
        FlexRecord { head, lanes: lanes.lanes, events, gaps: log.gaps, marks: log.marks }
    }

    /// Steps are found from so much on, as noise and hum are; nothing where none can be told, or not yet.
    #[must_use]
    pub fn steps_from_ohm(&self) -> Option<f64> {
        match self.setup.phase {
            Phase::Flex => self.resistances.steps_from_ohm(self.setup.step_ohm),
            _ => None,
        }
    }

    fn close(&mut self) {
        let mut news = vec![];
        // Of these nobody knows how the posts were driven.
        if self.setup.phase != Phase::FlexShorts {
            self.take_changes(None, &mut news);
        }
        self.end_gap(self.clock.now, &mut news);
        self.close_steps(&mut news);
        let mut out = Out { log: &mut self.log, news: &mut news };
        self.lanes.finish(self.clock.now, &mut out);
    }
}
