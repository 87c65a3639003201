//! Ten thousand leads, whose contacts bounce, that are pulled half, pulled wrongly, put back, swapped too early: each is
//! counted once, in its order, and each verdict is right.
//!
//! The fixture is a model of its own: which lead is in which socket, moment by moment. What a lead's isolation was
//! measured on is the truth there: a leak is only seen while end A is in.

use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;

use runproof_interpret::judgement::FindingKind;
use runproof_protocol::Post;

use super::*;

const LEADS_A_SESSION: usize = 200;
const IN: Glance = Glance { ohm: [75.0, 29.4, 61.0, 64.6, 51.3, 40.0] };

#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    Sound,
    Crossed,
    Leaks,
}

/// From then on: which lead, and whether its ends A and B are in.
type Stand = (u64, usize, bool, bool);

struct Fixture {
    random: Pcg32,
    faults: Vec<Fault>,
    stands: Vec<Stand>,
    now_millis: u64,
    leads: Leads,
    plug_troubles: Troubles,
    open_troubles: Troubles,
    counted: usize,
    /// The operator has set this one aside, and takes the next.
    set_aside: bool,
}

impl Fixture {
    fn new(seed: u64) -> Self {
        let mut random = Pcg32::seed_from_u64(seed);
        let faults = (0..=LEADS_A_SESSION)
            .map(|_| match random.random_range(0..10) {
                0 => Fault::Crossed,
                1 | 2 => Fault::Leaks,
                _ => Fault::Sound,
            })
            .collect();
        Self {
            random,
            faults,
            stands: vec![(0, 0, false, false)],
            now_millis: 0,
            leads: Leads::new(Way::Fixture),
            plug_troubles: vec![],
            open_troubles: vec![],
            counted: 0,
            set_aside: false,
        }
    }

    fn chance(&mut self, percent: u32) -> bool {
        self.random.random_range(0..100) < percent
    }

    fn between(&mut self, least: u64, most: u64) -> u64 {
        self.random.random_range(least..most)
    }

    /// What hands are about is finished, nothing else that was planned is done.
    fn plan(&mut self) -> u64 {
        let finished = self.now_millis + 600;
        self.stands.retain(|stand| stand.0 <= finished);
        let last = self.stands.last().map_or(0, |stand| stand.0);
        (self.now_millis + self.between(200, 350)).max(last + 1)
    }

    /// From `at` on; its contacts bounce.
    fn put(&mut self, at: u64, lead: usize, a: bool, b: bool) -> u64 {
        let (_, _, a_before, b_before) = self.stands[self.stands.len() - 1];
        let mut at = at;
        for _ in 0..self.between(0, 3) {
            self.stands.push((at, lead, a, b));
            at += self.between(1, 15);
            self.stands.push((at, lead, a_before, b_before));
            at += self.between(1, 15);
        }
        self.stands.push((at, lead, a, b));
        at
    }

    fn push_in(&mut self, from: u64, lead: usize) {
        let a_in = from + self.between(300, 900);
        let a_in = self.put(a_in, lead, true, false);
        let b_in = a_in + self.between(300, 900);
        let b_in = self.put(b_in, lead, true, true);
        if self.chance(10) {
            // Out of both, too early, and in again when nothing is said.
            let out = b_in + self.between(100, 3_500);
            let out = self.put(out, lead, false, false);
            let a_in = out + self.between(1_700, 4_000);
            let a_in = self.put(a_in, lead, true, false);
            let b_in = a_in + self.between(300, 900);
            self.put(b_in, lead, true, true);
        } else if self.chance(25) {
            let [lost_a, lost_b] = [self.chance(50), self.chance(80)];
            let half = b_in + self.between(50, 900);
            let half = self.put(half, lead, !lost_a, !lost_b);
            let back = half + self.between(50, 500);
            self.put(back, lead, true, true);
        }
    }

    /// What stood between two moments, each once.
    fn between_moments(&self, from: u64, to: u64) -> Vec<Stand> {
        let first = self.stands.partition_point(|stand| stand.0 <= from) - 1;
        self.stands[first..].iter().copied().take_while(|stand| stand.0 < to).collect()
    }

    /// 310 ms: which posts meet stands near the middle, what hangs on them behind.
    fn look(&mut self) -> Next {
        let begun = self.now_millis;
        self.now_millis += 310;
        let (_, _, a, b) = self.between_moments(begun + 180, begun + 181)[0];
        let glance = if a && b { IN } else { Glance::OPEN };
        let presence = Some(self.presence(begun + 210, begun + 305));
        let at = Microseconds(self.now_millis * 1_000);
        self.leads.see(at, Some(Seen { glance, presence }))
    }

    /// With the ring switched in or out: a lead in both sockets is told from one in socket A alone elsewhere.
    fn presence(&self, from: u64, to: u64) -> Presence {
        let stood = self.between_moments(from, to);
        let ins = stood.iter().filter(|(_, _, a, _)| *a).count();
        match ins {
            0 => Presence::Empty,
            _ if ins == stood.len() => Presence::Whole,
            _ => Presence::InPart,
        }
    }

    fn plug_phase(&mut self) -> Next {
        let stood = self.between_moments(self.now_millis + 300, self.now_millis + 700);
        self.now_millis += 730;
        let ins = stood.iter().filter(|(_, _, a, b)| *a && *b).count();
        self.plug_troubles = if ins == 0 {
            vec![(FindingKind::NoEndPlug, vec![])]
        } else if ins < stood.len() {
            vec![(FindingKind::HighResistance, vec![self.any_post()])]
        } else if self.faults[stood[0].1] == Fault::Crossed {
            vec![(FindingKind::Crossed, vec![Post::P1, Post::P4])]
        } else {
            vec![]
        };
        let glance = if ins > 0 { IN } else { Glance::OPEN };
        self.leads.plug_measured(Some(glance), &self.plug_troubles)
    }

    fn open_phase(&mut self) -> Next {
        let begun = self.now_millis;
        self.now_millis += 1_580;
        let isolation = self.between_moments(begun + 350, begun + 1_350);
        let leaks =
            isolation.iter().any(|(_, lead, a, _)| *a && self.faults[*lead] == Fault::Leaks);
        let mut troubles = vec![];
        if leaks {
            troubles.push((FindingKind::Leakage, vec![Post::P1, Post::P2]));
        }
        let presence = self.presence(begun + 1_400, begun + 1_550);
        self.open_troubles.clone_from(&troubles);
        self.leads.open_measured(presence, &troubles)
    }

    fn any_post(&mut self) -> Post {
        Post::ALL[self.random.random_range(0..4_usize)]
    }

    fn again(&mut self) {
        let lead = self.counted;
        let at = self.plan();
        let out = self.put(at, lead, false, false);
        self.push_in(out, lead);
    }

    /// The operator hears a verdict.
    fn set_aside(&mut self) {
        let lead = self.counted - 1;
        let mut at = self.plan() + self.between(150, 2_000);
        let is_in = self.stands.last().is_some_and(|stand| stand.2 && stand.3);
        if is_in && self.chance(15) {
            // End B first, and in again.
            let half = self.put(at, lead, true, false);
            let in_again = half + self.between(100, 900);
            let in_again = self.put(in_again, lead, true, true);
            at = in_again + self.between(100, 3_000);
        }
        if is_in && self.chance(15) {
            // Half out, all contacts of end A, and in again.
            let half = self.put(at, lead, false, true);
            let in_again = half + self.between(30, 400);
            let in_again = self.put(in_again, lead, true, true);
            at = in_again + self.between(100, 1_000);
        }
        let out = self.put(at, lead, false, false);
        self.set_aside = true;
        if self.chance(15) {
            // The next one, before it was asked for.
            self.push_in(out, lead + 1);
            self.set_aside = false;
        }
    }

    fn ready(&mut self) {
        if self.counted == 0 || std::mem::take(&mut self.set_aside) {
            let at = self.plan();
            self.push_in(at, self.counted);
        }
    }

    /// What was put in before it was asked for comes out again, and is put in when it is.
    fn take_out(&mut self) {
        let lead = self.counted;
        let at = self.plan();
        self.put(at, lead, false, false);
        self.set_aside = true;
    }

    /// Until all leads are counted; what went wrong, if anything.
    fn session(&mut self) -> Result<(), String> {
        let mut next = Next::Look;
        let mut same_lead = 0;
        while self.counted < LEADS_A_SESSION {
            same_lead += 1;
            if same_lead > 5_000 {
                return Err(format!("nothing comes of lead {}: {:?}", self.counted, self.leads));
            }
            // Swapped sooner than anybody could see: nothing is said, so it is taken out again.
            if same_lead % 30 == 0 && matches!(self.leads.at, At::Leaving { .. }) {
                self.take_out();
            }
            next = match next {
                Next::Look => self.look(),
                Next::Measure(Phase::Plug) => self.plug_phase(),
                Next::Measure(_) => self.open_phase(),
                Next::Count => {
                    self.right()?;
                    same_lead = 0;
                    self.told(Self::set_aside)
                }
                Next::Again(_) => self.told(Self::again),
                Next::TakeOut => self.told(Self::take_out),
                Next::Ready => self.told(Self::ready),
                Next::EndB | Next::EndBOff => return Err("of clips".into()),
            };
        }
        Ok(())
    }

    fn told(&mut self, hears: impl Fn(&mut Self)) -> Next {
        hears(self);
        self.now_millis += 500;
        Next::Look
    }

    /// The lead in socket A is the one that is due, and its verdict is the truth.
    fn right(&mut self) -> Result<(), String> {
        let (_, lead, ..) = self.between_moments(self.now_millis, self.now_millis + 1)[0];
        let passes = self.plug_troubles.is_empty() && self.open_troubles.is_empty();
        let due = self.counted;
        self.counted += 1;
        if lead != due {
            return Err(format!("lead {lead} was counted, {due} was due"));
        }
        if passes != (self.faults[lead] == Fault::Sound) {
            return Err(format!(
                "lead {lead} is {:?}, passes: {passes}: {:?} {:?}",
                self.faults[lead], self.plug_troubles, self.open_troubles
            ));
        }
        Ok(())
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 50, ..ProptestConfig::default() })]

    #[test]
    fn none_is_skipped_none_counted_twice_and_every_verdict_is_right(seed in any::<u64>()) {
        let told = Fixture::new(seed).session();
        prop_assert!(told.is_ok(), "{told:?}");
    }
}
