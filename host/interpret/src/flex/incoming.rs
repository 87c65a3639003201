//! What came from the jig and waits for its pattern: edges are told before the pattern during which they came.

use std::collections::VecDeque;

use runproof_protocol::{Edge, Edges, Microseconds};

use super::lanes::since;

/// Posts that turn the same way within this turned together: the catcher takes them one after the other, and each line has its own
/// capacitance. (judgement)
const TOGETHER_US: u64 = 20;

/// More than a pattern can be behind: 20,000 edges a second for a fifth of one.
const ITEMS_MAX: usize = 4_096;

/// Something that came.
#[derive(Clone, Copy, Debug)]
pub(super) enum Item {
    Edge(Edge),
    Lost { events: u16, dropped: u16 },
}

/// Posts that changed together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Change {
    pub(super) at: Microseconds,
    /// Posts that carry from now on.
    pub(super) carries: u8,
    /// Posts that changed twice, too fast to be timed.
    pub(super) twice: u8,
}

/// What waits, and which index is next.
#[derive(Clone, Debug, Default)]
pub(super) struct Incoming {
    next: u16,
    items: VecDeque<Item>,
    /// As the last edge that was taken told it.
    carries: Option<u8>,
}

impl Incoming {
    /// Takes an index; what is missing before it waits as lost.
    pub(super) fn index(&mut self, index: u16) {
        let events = index.wrapping_sub(self.next);
        self.next = index.wrapping_add(1);
        if events > 0 {
            self.items.push_back(Item::Lost { events, dropped: 0 });
        }
    }

    pub(super) fn edges(&mut self, edges: &Edges) {
        self.index(edges.index);
        if edges.dropped > 0 {
            self.items.push_back(Item::Lost { events: 0, dropped: edges.dropped });
        }
        self.items.extend(edges.edges.iter().copied().map(Item::Edge));
    }

    /// No pattern comes, and nothing more should wait for one.
    pub(super) fn is_full(&self) -> bool {
        self.items.len() >= ITEMS_MAX
    }

    /// What waits is given up: nobody knows how the posts were driven meanwhile.
    pub(super) fn give_up(&mut self) {
        let edges =
            self.items.drain(..).fold((0_u16, 0_u16), |(events, dropped), item| match item {
                Item::Edge(_) => (events, dropped.saturating_add(1)),
                Item::Lost { events: more, dropped: edges } => {
                    (events.saturating_add(more), dropped.saturating_add(edges))
                }
            });
        self.items.push_back(Item::Lost { events: edges.0, dropped: edges.1 });
    }

    pub(super) fn lost(&mut self) -> Option<(u16, u16)> {
        let &Item::Lost { events, dropped } = self.items.front()? else { return None };
        self.items.pop_front();
        self.carries = None;
        Some((events, dropped))
    }

    /// The next change before that time, or at any.
    pub(super) fn change(&mut self, before: Option<Microseconds>) -> Option<Change> {
        let Item::Edge(first) = *self.items.front()? else { return None };
        if before.is_some_and(|before| first.at >= before) {
            return None;
        }
        self.items.pop_front();
        let (way, twice) = self.turn(first);
        let mut change = Change { at: first.at, carries: first.carries & EVERY_POST, twice };
        while let Some(&Item::Edge(next)) = self.items.front() {
            let near = since(first.at, next.at) <= TOGETHER_US;
            let carries = self.carries;
            let (next_way, twice) = self.turn(next);
            if !near || way.is_none() || next_way != way || twice != 0 || change.twice != 0 {
                self.carries = carries;
                break;
            }
            self.items.pop_front();
            change.carries = next.carries & EVERY_POST;
        }
        Some(change)
    }

    /// Which way posts turn by an edge, if all do alike: on, or off; and those that turned twice.
    fn turn(&mut self, edge: Edge) -> (Option<bool>, u8) {
        let carries = edge.carries & EVERY_POST;
        let Some(before) = self.carries.replace(carries) else { return (None, 0) };
        let turned = before ^ carries;
        let way = match turned & carries {
            _ if turned == 0 => None,
            0 => Some(false),
            on if on == turned => Some(true),
            _ => None,
        };
        (way, edge.changed & !turned & EVERY_POST)
    }

    /// Something may still join what came last before that time.
    pub(super) fn may_go_on(&self, end: Microseconds) -> bool {
        matches!(self.items.back(), Some(Item::Edge(last)) if since(last.at, end) < TOGETHER_US)
    }

    /// How all posts stand, known by something else than edges.
    pub(super) fn stand(&mut self, carries: u8) {
        self.carries = Some(carries);
    }
}

const EVERY_POST: u8 = 0b1111;

#[cfg(test)]
mod tests {
    use super::*;

    fn told(edges: &[(u64, u8, u8)]) -> Vec<Change> {
        let mut incoming = Incoming::default();
        incoming.edges(&Edges {
            index: 0,
            phase: runproof_protocol::Phase::Flex,
            dropped: 0,
            edges: edges
                .iter()
                .map(|&(at, carries, changed)| Edge { at: Microseconds(at), carries, changed })
                .collect(),
        });
        std::iter::from_fn(|| incoming.change(None)).collect()
    }

    fn change(at: u64, carries: u8, twice: u8) -> Change {
        Change { at: Microseconds(at), carries, twice }
    }

    #[test]
    fn posts_that_change_together_are_one_change() {
        let edges = [(0, 15, 15), (1000, 14, 1), (1004, 12, 2), (1007, 0, 12), (5000, 15, 15)];
        assert_eq!(told(&edges), [change(0, 15, 0), change(1000, 0, 0), change(5000, 15, 0)]);
    }

    #[test]
    fn a_post_that_changes_again_is_another_change() {
        let edges = [(0, 15, 15), (1000, 14, 1), (1012, 15, 1), (1040, 13, 2), (1100, 15, 2)];
        let alone = [(0, 15), (1000, 14), (1012, 15), (1040, 13), (1100, 15)];
        assert_eq!(told(&edges), alone.map(|(at, carries)| change(at, carries, 0)));
    }

    #[test]
    fn a_post_that_is_as_before_changed_twice() {
        assert_eq!(told(&[(0, 15, 15), (1000, 15, 1)]), [change(0, 15, 0), change(1000, 15, 1)]);
        // One broke, the other for a moment only.
        assert_eq!(told(&[(0, 15, 0), (1000, 14, 5)])[1], change(1000, 14, 4));
    }

    #[test]
    fn an_index_wraps_and_a_hole_in_it_is_seen() {
        let mut incoming = Incoming { next: 65_534, ..Incoming::default() };
        for index in [65_534, 65_535, 0, 1, 3, 3] {
            incoming.index(index);
        }
        assert_eq!(incoming.lost(), Some((1, 0)));
        assert_eq!(incoming.lost(), Some((65_535, 0)));
        assert_eq!(incoming.lost(), None);
    }
}
