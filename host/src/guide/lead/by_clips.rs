//! Leads by clips: end A first, as it should be, and as it goes wrong.

use runproof_interpret::judgement::FindingKind;
use runproof_protocol::Post;

use super::*;

const IN: Glance = Glance { ohm: [75.0, 29.4, 61.0, 64.6, 51.3, 40.0] };
const OPEN: Glance = Glance::OPEN;

struct Bench {
    leads: Leads,
    now_micros: u64,
}

impl Bench {
    fn empty() -> Self {
        let mut bench = Self { leads: Leads::new(Way::Clips), now_micros: 0 };
        assert_eq!(bench.look(OPEN, Presence::Empty), Next::Measure(Phase::Open));
        assert_eq!(bench.leads.open_measured(Presence::Empty, &vec![]), Next::Ready);
        bench.now_micros += 2_000_000;
        bench
    }

    fn look(&mut self, glance: Glance, presence: Presence) -> Next {
        self.now_micros += 310_000;
        let seen = Seen { glance, presence: Some(presence) };
        self.leads.see(Microseconds(self.now_micros), Some(seen))
    }

    /// So long as there is nothing to do.
    fn until(&mut self, glance: Glance, presence: Presence) -> Next {
        let told = (0..60).map(|_| self.look(glance, presence)).find(|next| *next != Next::Look);
        told.unwrap_or(Next::Look)
    }

    fn sound(&mut self) -> Next {
        self.leads.plug_measured(Some(IN), &vec![])
    }
}

#[test]
fn end_a_then_end_b_then_off() {
    let mut bench = Bench::empty();
    assert_eq!(bench.until(OPEN, Presence::Whole), Next::Measure(Phase::Open));
    assert_eq!(bench.leads.open_measured(Presence::Whole, &vec![]), Next::EndB);
    assert_eq!(bench.until(OPEN, Presence::Whole), Next::Look, "end B is waited for");
    assert_eq!(bench.until(IN, Presence::Held), Next::Measure(Phase::Plug));
    assert_eq!(bench.sound(), Next::Count);
    assert_eq!(bench.until(IN, Presence::Held), Next::Look, "counted once");
    assert_eq!(bench.until(OPEN, Presence::Empty), Next::Ready);
}

#[test]
fn end_b_that_is_on_too_early_comes_off_first() {
    let mut bench = Bench::empty();
    assert_eq!(bench.until(IN, Presence::Held), Next::Measure(Phase::Open));
    assert_eq!(bench.leads.ring_stays(), Next::EndBOff);
    assert_eq!(bench.until(IN, Presence::Held), Next::Look);
    assert_eq!(bench.until(OPEN, Presence::Whole), Next::Measure(Phase::Open));
}

#[test]
fn a_clip_that_hangs_on_nothing_passes_nothing() {
    let open = vec![(FindingKind::Open, vec![Post::P2])];
    for (found, told) in [(vec![], Next::Again(Why::NotInSocketA)), (open, Next::Count)] {
        let mut bench = Bench::empty();
        assert_eq!(bench.until(OPEN, Presence::InPart), Next::Measure(Phase::Open));
        assert_eq!(bench.leads.open_measured(Presence::InPart, &vec![]), Next::EndB);
        assert_eq!(bench.until(IN, Presence::Held), Next::Measure(Phase::Plug));
        let times = if found.is_empty() { 1 } else { SAME_PLUG };
        let next = (0..times).map(|_| bench.leads.plug_measured(Some(IN), &found)).last();
        assert_eq!(next, Some(told));
    }
}

#[test]
fn a_lead_that_comes_off_before_end_b_is_on_is_asked_for_again() {
    let mut bench = Bench::empty();
    assert_eq!(bench.until(OPEN, Presence::Whole), Next::Measure(Phase::Open));
    assert_eq!(bench.leads.open_measured(Presence::Whole, &vec![]), Next::EndB);
    assert_eq!(bench.until(OPEN, Presence::Empty), Next::Again(Why::NotInSocketA));
}
