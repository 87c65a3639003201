//! What the edge catcher sees of a run that is driven while it is flexed.

use runproof_protocol::Drive;

use super::World;
use crate::boards::simulated::Nanoseconds;

impl World {
    /// Which posts' sense nodes stand between the edge catcher's thresholds, the lowest bit first.
    pub fn between(&mut self, at: Nanoseconds) -> u8 {
        self.advance(at);
        if let Some(between) = self.catcher.between() {
            return between;
        }
        let [low, high] = self.parts.window_volts;
        let seconds = at as f64 * 1e-9;
        let radians = |hertz: f64| std::f64::consts::TAU * hertz * seconds;
        let senses = self.electronics().senses();
        let is_between = senses.map(|emf| (low..high).contains(&emf.at(seconds, radians)));
        is_between.iter().rev().fold(0, |posts, between| posts << 1 | u8::from(*between))
    }

    /// The edges since the last call, the first first: when, and how posts stand from then on.
    pub fn edges(&mut self, at: Nanoseconds) -> impl Iterator<Item = (Nanoseconds, u8)> {
        self.advance(at);
        self.edges.drain(..)
    }

    /// When the posts may stand otherwise next, if nobody switches anything.
    pub fn edge_due(&mut self, at: Nanoseconds) -> Option<Nanoseconds> {
        self.advance(at);
        self.catcher.between()?;
        self.catcher.due().into_iter().chain(self.flexing.due()).min()
    }

    /// The run is driven as it is flexed: all posts, and not alike.
    fn is_followed(&self) -> bool {
        let [first, rest @ ..] = self.lines.posts;
        self.lines.contacts_closed
            && !self.lines.posts.contains(&Drive::Off)
            && rest.iter().any(|drive| *drive != first)
    }

    pub(super) fn follow(&mut self) {
        if self.is_followed() {
            self.catcher.change(self.now, &self.scene, &self.parts, &self.lines, self.stands);
        } else if self.catcher.between().is_some() {
            self.catcher.rest();
        }
    }
}
