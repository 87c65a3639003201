//! Is a lead in socket A, while nothing else joins the posts? Told by its capacitance against the empty fixture's.

use runproof_interpret::Hanging;

/// Of what a lead has at least: from here on it hangs there, and up to here nothing does. (judgement)
const IS_THERE: f64 = 0.5;
const IS_NOT: f64 = 0.25;

/// What hangs on socket A.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Presence {
    /// Nothing on any post.
    Empty,
    /// Something on some of them, or too little to say.
    InPart,
    /// A lead, on all four.
    Whole,
    /// Something on all four, and some of them are held by what conducts.
    HeldInPart,
    /// All four are.
    Held,
}

/// The empty fixture, and what a lead adds to it at least.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fixture {
    empty_pf: [f64; 4],
    lead_pf: f64,
}

impl Fixture {
    /// None where a post was held, or not timed: then it is not empty.
    pub(crate) fn of(empty: [Hanging; 4], lead_pf: f64) -> Option<Self> {
        let mut empty_pf = [0.0; 4];
        for (picofarads, hanging) in empty_pf.iter_mut().zip(empty) {
            let Hanging::Picofarads(found) = hanging else { return None };
            *picofarads = found;
        }
        Some(Self { empty_pf, lead_pf })
    }

    /// It was no empty fixture that this was made of, as less hangs there now.
    pub(crate) fn was_not_empty(&self, now: [Hanging; 4]) -> bool {
        self.more_pf(now).iter().any(|more| more.is_some_and(|pf| pf < -IS_NOT * self.lead_pf))
    }

    pub(crate) fn presence(&self, now: [Hanging; 4]) -> Presence {
        if now == [Hanging::Held; 4] {
            return Presence::Held;
        }
        let more_pf = self.more_pf(now);
        if more_pf.iter().all(|more| more.is_some_and(|pf| pf < IS_NOT * self.lead_pf)) {
            return Presence::Empty;
        }
        let there = now.iter().zip(more_pf).all(|(hanging, more)| {
            *hanging == Hanging::Held || more.is_some_and(|pf| pf >= IS_THERE * self.lead_pf)
        });
        match (there, now.contains(&Hanging::Held)) {
            (true, false) => Presence::Whole,
            (true, true) => Presence::HeldInPart,
            (false, _) => Presence::InPart,
        }
    }

    fn more_pf(&self, now: [Hanging; 4]) -> [Option<f64>; 4] {
        std::array::from_fn(|post| match now[post] {
            Hanging::Picofarads(picofarads) => Some(picofarads - self.empty_pf[post]),
            Hanging::Held | Hanging::NotTimed => None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lead_is_told_from_an_empty_socket_post_by_post() {
        let pf = |picofarads: [f64; 4]| picofarads.map(Hanging::Picofarads);
        let Some(fixture) = Fixture::of(pf([12.0, 15.0, 9.0, 11.0]), 117.0) else {
            panic!("all were timed");
        };
        for (now, told) in [
            (pf([14.0, 13.0, 10.0, 15.0]), Presence::Empty),
            (pf([170.0, 180.0, 165.0, 175.0]), Presence::Whole),
            (pf([170.0, 180.0, 165.0, 15.0]), Presence::InPart),
            (pf([55.0; 4]), Presence::InPart),
            ([Hanging::Held; 4], Presence::Held),
            ([Hanging::NotTimed; 4], Presence::InPart),
        ] {
            assert_eq!(fixture.presence(now), told, "{now:?}");
        }
        let mut shorted = pf([170.0; 4]);
        shorted[..2].fill(Hanging::Held);
        assert_eq!(fixture.presence(shorted), Presence::HeldInPart);
        assert!(Fixture::of([Hanging::Held; 4], 117.0).is_none());
        let filled = Fixture::of(pf([180.0; 4]), 117.0).expect("timed");
        assert!(filled.was_not_empty(pf([12.0; 4])) && !fixture.was_not_empty(pf([170.0; 4])));
    }
}
