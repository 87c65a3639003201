//! Hears the events of a phase in which the run is flexed.

use runproof_protocol::Event;

use super::{FlexLane, FlexNews, FlexRecord, FlexSetup};

/// A watch that goes on. What it keeps is bounded however long it does.
#[derive(Clone, Debug)]
pub struct Flexed {
    setup: FlexSetup,
    lanes: Vec<FlexLane>,
}

impl Flexed {
    /// A watch that begins with the next event.
    #[must_use]
    pub fn new(setup: FlexSetup) -> Self {
        Self { setup, lanes: vec![] }
    }

    /// Takes the next event of the phase, and passes over all others; adds what began, ended or was lost by it.
    pub fn hear(&mut self, event: &Event, news: &mut Vec<FlexNews>) {
        let _ = (event, news);
    }

    /// With the plug in the four conductors by post, with it out the six pairs; then what cannot be told whom it is of.
    #[must_use]
    pub fn lanes(&self) -> &[FlexLane] {
        &self.lanes
    }

    /// How long the run was watched, by the jig's clock, gaps taken off.
    #[must_use]
    pub fn watched_s(&self) -> f64 {
        0.0
    }

    /// Notes what somebody says, at the jig's time of the last event.
    pub fn mark(&mut self, text: &str) {
        let _ = text;
    }

    /// All that is kept; what still goes on is told as such.
    #[must_use]
    pub fn finish(&self) -> FlexRecord {
        let head = super::FlexHead {
            phase: self.setup.phase,
            step_ohm: self.setup.step_ohm,
            steps_from_ohm: None,
            baseline_ohm: self.setup.baseline_ohm,
            from_us: None,
            watched_us: 0,
            events: 0,
            gaps: 0,
            gaps_us: 0,
            lost_events: 0,
            dropped_edges: 0,
            contradicted_us: 0,
            marks: 0,
        };
        FlexRecord { head, lanes: self.lanes.clone(), events: vec![], gaps: vec![], marks: vec![] }
    }
}
