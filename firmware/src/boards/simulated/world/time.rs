//! Time passes: from one change of the circuit to the next.

use super::World;
use crate::boards::simulated::Nanoseconds;
use crate::boards::simulated::contacts::Contacts;
use crate::boards::simulated::converters::ConverterModel;
use crate::boards::simulated::electronics::Looks;

/// More edges than this are not kept for somebody who does not ask.
const EDGES_MAX: usize = 10_000;

impl World {
    /// Lets time pass.
    pub(super) fn advance(&mut self, to: Nanoseconds) {
        while self.now < to {
            let ends = self.converters.iter().filter_map(ConverterModel::due);
            let contacts = [&self.relays, &self.load, &self.supply_load, &self.ring];
            let contacts = contacts.into_iter().filter_map(Contacts::due);
            let run = self.changes.at.last().copied().into_iter().chain(self.changes.plug);
            let moves = self.flexing.due().into_iter().chain(self.catcher.due());
            let next = ends
                .chain(contacts)
                .chain(run)
                .chain(moves)
                .fold(to, Nanoseconds::min)
                .max(self.now);
            self.pass(next);
        }
    }

    /// The circuit stands still from now to `to`.
    fn pass(&mut self, to: Nanoseconds) {
        let span = (self.now, to);
        let looks: Looks = [0, 1, 2].map(|n: usize| self.converters[n].look());
        if looks.iter().any(Option::is_some) {
            self.electronics();
            let Self { solved: Some(solved), converters, random, .. } = self else { return };
            for (converter, seen) in converters.iter_mut().zip(solved.seen(&looks)) {
                if let Some(seen) = seen {
                    converter.pass(seen, span, random);
                }
            }
        }
        self.now = to;
        self.change();
    }

    /// What changes in the circuit now.
    fn change(&mut self) {
        let now = self.now;
        let relays = self.relays.advance(now, &mut self.random);
        let load = self.load.advance(now, &mut self.random);
        let supply_load = self.supply_load.advance(now, &mut self.random);
        let ring = self.ring.advance(now, &mut self.random);
        if self.is_switched() {
            self.stands.plug_in = self.ring.closed();
        }
        self.lines.contacts_closed = self.relays.closed();
        self.lines.loaded = self.load.closed();
        self.lines.supply_loaded = self.supply_load.closed();
        let plug = self.changes.plug.is_some_and(|due| due <= now);
        if plug {
            self.stands.plug_in = !self.stands.plug_in;
            self.changes.plug = None;
            self.changes.open_phase_seen = false;
        }
        let timed = self.changes.at.pop_if(|due| *due <= now).is_some();
        if timed {
            // Beyond what the change was due at, however that was rounded.
            self.stands.seconds = (now as f64 + 0.5) / 1e9;
        }
        let moved = self.flexing.advance(now, &mut self.stands.away);
        let looked_at = self.catcher.due().is_some_and(|due| due <= now);
        if self.catcher.advance(now) && self.edges.len() < EDGES_MAX {
            self.edges.extend(self.catcher.between().map(|between| (now, between)));
        }
        let changed = relays || load || supply_load || ring || plug || timed || moved;
        if changed {
            self.solved = None;
            self.releases.forget();
        }
        if changed || looked_at && self.catcher.looks_again(now) {
            self.follow();
        }
    }
}
