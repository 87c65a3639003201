//! The lanes while the watch goes on: what is on, since when, and how it ended.

use runproof_protocol::{Microseconds, Phase, Post};

use super::levels::Told;
use super::log::Log;
use super::{
    DURATION_BOUNDS_US, Depth, FASTER_THAN_US, FlexEvent, FlexKind, FlexLane, FlexLaneOf, FlexNews,
    Lasted, Now,
};

/// Where what happens is told and kept.
pub(super) struct Out<'a> {
    pub(super) log: &'a mut Log,
    pub(super) news: &'a mut Vec<FlexNews>,
}

/// All lanes; the last is of what cannot be told whom it is of.
#[derive(Clone, Debug)]
pub(super) struct Lanes {
    pub(super) lanes: Vec<FlexLane>,
    open: Vec<Option<Open>>,
    known: u8,
    pub(super) kind: FlexKind,
}

/// Something that goes on.
#[derive(Clone, Copy, Debug)]
struct Open {
    at: Microseconds,
    /// Since then it is not seen whether it goes on.
    unseen: Option<Microseconds>,
    depth: Depth,
}

impl Lanes {
    pub(super) fn new(phase: Phase) -> Self {
        let (kind, of): (_, Vec<FlexLaneOf>) = match phase {
            Phase::Flex => (FlexKind::Break, Post::ALL.map(FlexLaneOf::Conductor).into()),
            _ => (FlexKind::Touch, Post::PAIRS.map(|(a, b)| FlexLaneOf::Pair(a, b)).into()),
        };
        let of = of.into_iter().chain([FlexLaneOf::Untold]);
        let lanes: Vec<FlexLane> = of.map(FlexLane::new).collect();
        Self { open: vec![None; lanes.len()], lanes, known: 0, kind }
    }

    /// Conductors or pairs.
    fn named(&self) -> usize {
        self.lanes.len() - 1
    }

    /// Those that are on, a bit each.
    pub(super) fn on(&self) -> u8 {
        (0..self.named()).filter(|n| self.open[*n].is_some()).fold(0, |bits, n| bits | 1 << n)
    }

    /// Time went by, as things stand.
    pub(super) fn watched(&mut self, us: u64) {
        let (known, named) = (self.known, self.named());
        for (n, lane) in self.lanes.iter_mut().enumerate() {
            if n == named || known >> n & 1 != 0 {
                lane.watched_us += us;
            }
        }
    }

    /// So they stand from now on.
    pub(super) fn stand(&mut self, at: Microseconds, told: Told, out: &mut Out<'_>) {
        let named = self.named();
        self.known = told.known;
        for n in 0..named {
            let has = |bits: u8| bits >> n & 1 != 0;
            match (has(told.known), has(told.on)) {
                (true, true) => self.begin(n, at, out),
                (true, false) => self.end(n, at, out),
                (false, _) => {
                    self.lose(n, at);
                    if self.open[n].is_none() || !has(told.watched) {
                        let watched = has(told.watched);
                        self.lanes[n].now =
                            if watched { Now::NotKnown } else { Now::NotWatchedNow };
                    }
                }
            }
        }
        match told.untold {
            true => self.begin(named, at, out),
            false => self.end(named, at, out),
        }
    }

    /// Nothing is known any more.
    pub(super) fn blind(&mut self, at: Microseconds) {
        self.known = 0;
        for n in 0..self.lanes.len() {
            self.lose(n, at);
            self.lanes[n].now = Now::NotKnown;
        }
    }

    /// For a moment they stood otherwise.
    pub(super) fn moment(&mut self, at: Microseconds, now: Told, moment: Told, out: &mut Out<'_>) {
        let named = self.named();
        for n in (0..named).filter(|n| now.known & moment.known & 1 << n != 0) {
            match (now.on >> n & 1 != 0, moment.on >> n & 1 != 0) {
                (true, false) if self.open[n].is_some_and(|open| open.at < at) => {
                    self.end(n, at, out);
                    self.begin(n, at, out);
                }
                (false, true) => self.too_fast(n, at, out),
                _ => {}
            }
        }
        if moment.untold && !now.untold {
            self.too_fast(named, at, out);
        }
    }

    /// The converters saw so much of what goes on.
    pub(super) fn deepen(&mut self, n: usize, seen: Depth) {
        let Some(open) = &mut self.open[n] else { return };
        open.depth = match (open.depth, seen, self.kind) {
            (old, Depth::NotSeen, _) => old,
            (Depth::NotSeen, new, _) => new,
            (Depth::Ohm(old), Depth::Ohm(new), FlexKind::Touch) => Depth::Ohm(old.min(new)),
            (Depth::Ohm(old), Depth::Ohm(new), _) => Depth::Ohm(old.max(new)),
            (Depth::Ohm(ohm), Depth::Open, FlexKind::Touch)
            | (Depth::Open, Depth::Ohm(ohm), FlexKind::Touch) => Depth::Ohm(ohm),
            (Depth::Open, _, _) | (_, Depth::Open, _) => Depth::Open,
        };
        if let (FlexKind::Touch, Depth::Ohm(ohm)) = (self.kind, open.depth) {
            let least = &mut self.lanes[n].least_touch_ohm;
            *least = Some(least.map_or(ohm, |least| least.min(ohm)));
        }
    }

    /// The watch is over.
    pub(super) fn finish(&mut self, at: Microseconds, out: &mut Out<'_>) {
        for n in 0..self.lanes.len() {
            if let Some(open) = self.open[n].take() {
                let lasted = match open.unseen {
                    Some(unseen) => Lasted::AtLeastMicros(since(open.at, unseen)),
                    None => Lasted::StillAtEnd(since(open.at, at)),
                };
                self.over(n, open, lasted, out);
            }
        }
    }

    fn begin(&mut self, n: usize, at: Microseconds, out: &mut Out<'_>) {
        match &mut self.open[n] {
            Some(open) => open.unseen = None,
            none => {
                *none = Some(Open { at, unseen: None, depth: Depth::NotSeen });
                let (lane, kind) = (self.lanes[n].of, self.kind);
                out.news.push(FlexNews::Began { lane, kind, at });
            }
        }
        let since = self.open[n].map_or(at, |open| open.at);
        self.lanes[n].now = match self.kind {
            FlexKind::Touch => Now::Touching { since },
            _ => Now::Broken { since },
        };
    }

    fn end(&mut self, n: usize, at: Microseconds, out: &mut Out<'_>) {
        if let Some(open) = self.open[n].take() {
            let lasted = match open.unseen {
                Some(unseen) => Lasted::AtLeastMicros(since(open.at, unseen)),
                None => Lasted::Micros(since(open.at, at)),
            };
            self.over(n, open, lasted, out);
        }
        let lane = &mut self.lanes[n];
        lane.was_good = true;
        match (self.kind, lane.now) {
            (FlexKind::Touch, _) => lane.now = Now::Apart,
            (_, Now::Carries { .. }) => {}
            _ => lane.now = Now::Carries { ohm: None, rise_ohm: None },
        }
    }

    fn lose(&mut self, n: usize, at: Microseconds) {
        if let Some(open) = &mut self.open[n] {
            open.unseen.get_or_insert(at);
        }
    }

    fn too_fast(&mut self, n: usize, at: Microseconds, out: &mut Out<'_>) {
        let open = Open { at, unseen: None, depth: Depth::NotSeen };
        self.over(n, open, Lasted::AtMostMicros(FASTER_THAN_US), out);
    }

    fn over(&mut self, n: usize, open: Open, lasted: Lasted, out: &mut Out<'_>) {
        let (lane, us) = (&mut self.lanes[n], lasted.micros());
        lane.count += 1;
        lane.longest_us = lane.longest_us.max(us);
        lane.total_us = lane.total_us.saturating_add(us);
        lane.durations[DURATION_BOUNDS_US.iter().filter(|bound| us >= **bound).count()] += 1;
        let event =
            FlexEvent { lane: lane.of, kind: self.kind, at: open.at, lasted, depth: open.depth };
        out.log.event(event);
        out.news.push(FlexNews::Ended(event));
    }
}

pub(super) const fn since(from: Microseconds, to: Microseconds) -> u64 {
    to.0.saturating_sub(from.0)
}
