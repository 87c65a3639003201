//! What the jig says, as lines of a capture.

use runproof_protocol::{Converter, Event, Identity, Pattern};

use super::{
    Capture, Channel, Entry, Head, Implausible, JigConstants, Node, Plug, Reading, Warmth,
};

const PER_MILLION: f64 = 1e-6;

/// The head of a capture that the jig of this identity is about to fill.
pub fn head_from(identity: &Identity, made_by: &str) -> Result<Head, Implausible> {
    let Identity { serial, board, firmware, parts, plug, supply_load } = identity;
    let head = Head {
        made_by: made_by.to_owned(),
        taken_unix_s: None,
        jig: JigConstants {
            serial: serial.to_string(),
            board: board.to_string(),
            firmware: firmware.to_string(),
            series_ohm: parts.series.map(|part| part.ohms()),
            series_tolerance: f64::from(parts.series_tolerance_ppm) * PER_MILLION,
            sense_ohm: parts.sense.ohms(),
            pull_ohm: parts.pull.ohms(),
            divider_ohm: parts.divider.ohms(),
            supply_load_ohm: (supply_load.0 > 0).then(|| supply_load.ohms()),
        },
        plug: Plug {
            id: String::new(),
            ring_ohm: plug.ring.map(|part| part.ohms()),
            tolerance: f64::from(plug.tolerance_ppm) * PER_MILLION,
        },
    };
    head.plausible().map(|()| head)
}

impl Capture {
    /// Adds what an event of the measurement tells; passes over all others.
    pub fn push_event(&mut self, event: &Event) {
        match event {
            Event::Pattern(pattern) => self.push_pattern(pattern),
            Event::Rise(rise) => self.push_rise(rise.into()),
            Event::Warm { phase, jig } => {
                let jig_c = f64::from(jig.0) / 1e3;
                self.entries.push(Entry::Warmth(Warmth { phase: *phase, jig_c }));
            }
            _ => {}
        }
    }

    /// Adds the readings of one pattern.
    fn push_pattern(&mut self, pattern: &Pattern) {
        for reading in &pattern.readings {
            let (post, against) = reading.channel.input.posts();
            let node = match reading.channel.converter {
                Converter::Sense => Node::Sense,
                Converter::Drive => Node::Drive,
                Converter::Live => Node::Live,
            };
            self.push(Reading {
                phase: pattern.phase,
                step: pattern.step,
                pattern: pattern.index.into(),
                drives: pattern.drives,
                pulls: pattern.pulls,
                relays_closed: pattern.relays_closed,
                channel: Channel { node, post, against },
                range: reading.range,
                volts: reading.volts(),
                saturated: reading.saturated(),
                at: reading.at,
            });
        }
    }
}
