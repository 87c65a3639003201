//! Which wires someone holds together, told from glances alone; no jig, no screen.

use runproof_interpret::capture::{End, Touch};
use runproof_interpret::limits::ConductorName::{self, Common, DataMinus, DataPlus, Supply};
use runproof_interpret::limits::LimitSheet;
use runproof_interpret::{Glance, touching};
use runproof_protocol::{Microseconds, Post};

/// Wires are held together when so many glances in a row say so, and apart likewise.
const GLANCES: u32 = 2;

/// Two wires to hold together.
pub(crate) type Wires = [ConductorName; 2];

/// At each end, every wire twice: two touches tell the map, and two more that no wire was mistaken for
/// another in one of them.
pub(crate) const ASKED: [Wires; 4] =
    [[DataPlus, Common], [DataPlus, DataMinus], [Common, Supply], [DataMinus, Supply]];

/// The touches of one end.
#[derive(Debug)]
pub(crate) struct Touching {
    end: End,
    /// How the posts met before.
    before: Glance,
    /// What is asked for, and the terminals of it.
    asked: Vec<(Wires, [Post; 2])>,
    /// The pair that was seen last, and how often in a row.
    seen: Option<(Post, Post)>,
    times: u32,
    /// The pair that was touched before: it is no answer until it is let go.
    held: Option<(Post, Post)>,
}

impl Touching {
    /// None for a run whose conductors have no terminals of their own.
    pub(crate) fn at(end: End, before: Glance, sheet: &LimitSheet) -> Option<Self> {
        let terminal =
            |name| sheet.conductors.iter().find(|one| one.name == name).map(|found| found.terminal);
        let asked = ASKED.map(|[a, b]| Some(([a, b], [terminal(a)?, terminal(b)?])));
        let asked = asked.into_iter().rev().collect::<Option<_>>()?;
        Some(Self { end, before, asked, seen: None, times: 0, held: None })
    }

    /// What to hold together next; none when all was.
    pub(crate) fn wanted(&self) -> Option<Wires> {
        self.asked.last().map(|(wires, _)| *wires)
    }

    /// What a glance that ended at `at` shows: the touch that was waited for and the posts
    /// that met, or nothing yet.
    pub(crate) fn see(
        &mut self,
        at: Microseconds,
        glance: Glance,
    ) -> Option<((Post, Post), Touch)> {
        let pair = touching(&glance, &self.before);
        self.times = if pair == self.seen { self.times + 1 } else { 1 };
        self.seen = pair;
        if self.times < GLANCES {
            return None;
        }
        if pair.is_none() || pair != self.held {
            self.held = None;
        }
        if pair.is_none() || pair == self.held {
            return None;
        }
        let (_, terminals) = self.asked.pop()?;
        self.held = pair;
        Some((pair?, glance.touch(self.end, terminals, at)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLUGGED: [f64; 6] = [74.8, 29.6, 59.4, 73.4, 52.1, 40.0];

    /// The plugged run with one pair held together.
    fn touched(pair: usize) -> Glance {
        let mut ohm = PLUGGED.map(|ohm| 0.7 * ohm);
        ohm[pair] = 0.1;
        Glance { ohm }
    }

    #[test]
    fn each_touch_counts_once_and_only_when_it_is_held() {
        let before = Glance { ohm: PLUGGED };
        let sheet = LimitSheet::service_24vac();
        let mut touching = Touching::at(End::Near, before, &sheet).expect("four conductors");
        let mut at = 0;
        let mut see = |touching: &mut Touching, glance| {
            at += 1;
            touching.see(Microseconds(at), glance).map(|(_, touch)| touch.terminals)
        };
        assert_eq!(see(&mut touching, before), None);
        assert_eq!(see(&mut touching, touched(1)), None);
        assert_eq!(see(&mut touching, before), None, "it was there in one glance only");
        assert_eq!(see(&mut touching, touched(1)), None);
        assert_eq!(see(&mut touching, touched(1)), Some([Post::P1, Post::P3]));
        assert_eq!(touching.wanted(), Some([DataPlus, DataMinus]));
        assert_eq!(see(&mut touching, touched(1)), None, "still the first");
        assert_eq!(see(&mut touching, touched(1)), None, "still the first");
        assert_eq!(see(&mut touching, touched(0)), None);
        assert_eq!(see(&mut touching, touched(0)), Some([Post::P1, Post::P2]));
        for (pair, seen) in [(5, [Post::P3, Post::P4]), (4, [Post::P2, Post::P4])] {
            assert_eq!(see(&mut touching, touched(pair)), None);
            assert_eq!(see(&mut touching, touched(pair)), Some(seen));
        }
        assert_eq!(touching.wanted(), None);
    }

    #[test]
    fn two_wires_have_no_terminals_of_their_own() {
        let sheet = LimitSheet::built_in("two-wire-bus").expect("built in");
        assert!(Touching::at(End::Near, Glance::OPEN, &sheet).is_none());
    }
}
