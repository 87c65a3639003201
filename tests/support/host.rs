//! A host in a few lines, that talks to a simulated jig in its own time.

use runproof_firmware::boards::simulated::{Scene, SimulatedJig};
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Command, Decoded, Decoder, Event, Phase};

/// The order that starts a phase.
pub(crate) const fn order(phase: Phase) -> Command {
    Command::Measure { phase }
}

/// A host in a few lines: sends commands, collects events.
pub(crate) struct Host {
    /// What it talks to.
    pub(crate) jig: SimulatedJig,
    decoder: Decoder<Event>,
    /// What it has heard.
    pub(crate) events: Vec<Event>,
}

impl Host {
    /// In front of a scene.
    pub(crate) fn on(scene: Scene, seed: u64) -> Self {
        Self::at(SimulatedJig::new(scene, seed))
    }

    /// At a jig of its own.
    pub(crate) fn at(jig: SimulatedJig) -> Self {
        Self { jig, decoder: Decoder::default(), events: vec![] }
    }

    /// Sends a command.
    pub(crate) fn send(&mut self, command: Command) {
        let mut buffer = [0; MAX_FRAME];
        let frame = frame::encode(&command, &mut buffer).expect("a command fits");
        assert_eq!(self.jig.write(frame), frame.len());
    }

    /// Reads until the jig's clock shows `until`.
    pub(crate) fn listen(&mut self, until: u64) {
        let mut buffer = [0; 64];
        while self.jig.now() < until {
            self.jig.run(until);
            let used = self.jig.read(&mut buffer);
            let mut bytes = &buffer[..used];
            while let Some(found) = self.decoder.next(&mut bytes) {
                match found {
                    Decoded::Message(event) => self.events.push(event),
                    Decoded::Damaged => panic!("the link is perfect"),
                }
            }
        }
    }

    /// One phase from order to end; returns how long it took.
    pub(crate) fn measure(&mut self, phase: Phase) -> u64 {
        self.events.clear();
        let begun = self.jig.now();
        self.send(order(phase));
        while !self.events.iter().any(ends) {
            assert!(self.jig.now() < begun + 3_000_000_000, "no end: {:?}", self.events.last());
            self.listen(self.jig.now() + 1_000_000);
        }
        self.jig.now() - begun
    }
}

/// Whether an event ends a phase.
pub(crate) fn ends(event: &Event) -> bool {
    matches!(event, Event::Done { .. } | Event::Stopped { .. } | Event::Hazard { .. })
}
