//! Goes through a pattern in the order of time: edges as they fall between its slots, and into them.

use runproof_protocol::{Drive, Microseconds, Pattern, Phase};

use super::flexed::{Flexed, Stand};
use super::incoming::Change;
use super::lanes::{Out, since};
use super::levels::{self, Told};
use super::slots::slots;
use super::{FlexGap, FlexNews};

/// The first slot begins 0.6 ms after the drives changed; edges until 1 ms after it are that change itself.
const SETTLE_US: u64 = 400;

/// So long after an edge sense nodes are still on their way: with 150 m of cable some 15 µs are their time constant, and of a
/// volt a tenth of a millivolt is left after nine of them.
const RELAX_US: u64 = 200;

impl Flexed {
    /// Takes a pattern, and the edges that were told before it.
    pub(super) fn take_pattern(&mut self, pattern: &Pattern, news: &mut Vec<FlexNews>) {
        let slots = slots(pattern);
        let (Some(first), Some(last)) = (slots.first(), slots.last()) else { return };
        self.drive(pattern.drives, first.at, news);
        for slot in &slots {
            self.take_changes(Some(slot.at), news);
            self.settle_until(slot.at, news);
            self.go_to(slot.at);
            let (stand, settled) = (self.stand, self.settles.is_none());
            let relaxes = self.changed.is_some_and(|changed| since(changed, slot.at) < RELAX_US);
            let disturbed = self.take_changes(Some(slot.until), news) || relaxes;
            self.settle_until(slot.until, news);
            self.go_to(slot.until);
            match stand {
                Stand::Known(carries) if settled && !disturbed => {
                    self.take_slot(slot, carries, news)
                }
                Stand::Lost if settled && !disturbed => self.take_lost_slot(slot, news),
                _ => self.lose_slot(slot),
            }
        }
        // What a change may still belong to waits, unless the next pattern drives otherwise.
        if self.setup.phase == Phase::FlexShorts || !self.incoming.may_go_on(last.until) {
            self.take_changes(None, news);
        }
        // Edges may have been dropped behind the last one as well.
        if std::mem::take(&mut self.dropped) {
            self.lose(0, 0);
        }
        if self.stand == Stand::Blind {
            self.stand = Stand::Lost;
        }
    }

    /// Takes what was lost, and changes before a time; whether there were any.
    pub(super) fn take_changes(
        &mut self,
        before: Option<Microseconds>,
        news: &mut Vec<FlexNews>,
    ) -> bool {
        let mut any = false;
        loop {
            if let Some((events, dropped)) = self.incoming.lost() {
                self.lose(events, dropped);
            } else if let Some(change) = self.incoming.change(before) {
                self.take_change(change, news);
            } else {
                return any;
            }
            any = true;
        }
    }

    fn take_change(&mut self, change: Change, news: &mut Vec<FlexNews>) {
        self.changed = Some(change.at);
        self.settle_until(change.at, news);
        self.go_to(change.at);
        self.know(change.carries, change.at, news);
        let (Some(now), None) = (self.told(change.carries), self.settles) else { return };
        if change.twice != 0
            && let Some(moment) = self.told(change.carries ^ change.twice)
        {
            let mut out = Out { log: &mut self.log, news };
            self.lanes.moment(change.at, now, moment, &mut out);
        }
    }

    /// So the posts stand from now on.
    pub(super) fn know(&mut self, carries: u8, at: Microseconds, news: &mut Vec<FlexNews>) {
        self.end_gap(at, news);
        self.stand = Stand::Known(carries);
        if self.settles.is_none()
            && let Some(told) = self.told(carries)
        {
            let mut out = Out { log: &mut self.log, news };
            self.lanes.stand(at, told, &mut out);
        }
    }

    pub(super) fn told(&self, carries: u8) -> Option<Told> {
        match self.setup.phase {
            Phase::Flex => Some(levels::conductors(carries)),
            phase => {
                let drives = self.drives.or(drives_of(phase))?;
                Some(levels::pairs(&drives, carries, self.lanes.on()))
            }
        }
    }

    /// The posts are driven so from about this time on.
    fn drive(&mut self, drives: [Drive; 4], at: Microseconds, news: &mut Vec<FlexNews>) {
        let before = self.drives.replace(drives);
        if before.is_some_and(|before| before != drives) {
            self.settle_until(at, news);
            self.lanes.blind(self.clock.now);
            self.settles = Some(Microseconds(at.0.saturating_add(SETTLE_US)));
            self.latest = [None; 3];
        }
    }

    /// The drives have settled, if they have by then.
    fn settle_until(&mut self, at: Microseconds, news: &mut Vec<FlexNews>) {
        if let Some(settled) = self.settles.filter(|settled| *settled <= at) {
            self.go_to(settled);
            self.settles = None;
            if let Stand::Known(carries) = self.stand {
                self.know(carries, settled, news);
            }
        }
    }

    /// Time went by.
    fn go_to(&mut self, at: Microseconds) {
        if self.clock.from.is_none() {
            self.clock.from = Some(at);
            self.clock.now = at;
        }
        let us = since(self.clock.now, at);
        if matches!(self.stand, Stand::Known(_)) && self.settles.is_none() {
            self.clock.watched_us += us;
            self.lanes.watched(us);
        }
        self.clock.now = self.clock.now.max(at);
    }

    fn lose(&mut self, events: u16, dropped: u16) {
        let at = self.clock.now;
        let gap =
            self.gap.get_or_insert(FlexGap { at, lasted_us: 0, lost_events: 0, dropped_edges: 0 });
        gap.lost_events = gap.lost_events.saturating_add(events);
        gap.dropped_edges = gap.dropped_edges.saturating_add(dropped);
        self.stand = Stand::Blind;
        self.dropped |= dropped > 0;
        self.lanes.blind(at);
    }

    pub(super) fn end_gap(&mut self, at: Microseconds, news: &mut Vec<FlexNews>) {
        if let Some(mut gap) = self.gap.take() {
            if self.clock.from == Some(at) {
                gap.at = at;
            }
            gap.lasted_us = since(gap.at, at);
            self.log.gap(gap);
            news.push(FlexNews::Gap(gap));
        }
    }
}

/// Where a phase drives alike all the time.
fn drives_of(phase: Phase) -> Option<[Drive; 4]> {
    use Drive::{High, Low};
    match phase {
        Phase::FlexAcross => Some([High, High, Low, Low]),
        Phase::FlexAlong => Some([High, Low, High, Low]),
        _ => None,
    }
}
