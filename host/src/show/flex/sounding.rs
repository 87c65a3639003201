//! A watch that is heard as well: ticks while all is well, another tone while it is not, nothing where nobody knows.

use std::io;
use std::time::{Duration, Instant};

use runproof_firmware::signs::HEARD_MICROS;
use runproof_interpret::flex::{FlexEvent, FlexKind, FlexLane, FlexNews, Now as Lane};
use runproof_protocol::{Microseconds, Tune};

use super::face::{Face, Happened, Now, Said};
use crate::show::tone::Tone;

/// As long as the jig sounds it.
const HEARD: Duration = Duration::from_micros(HEARD_MICROS);

/// A jig that tells nothing for so long is not taken for one that tells of nothing.
const FRESH: Duration = Duration::from_millis(500);

/// Whatever shows it, and the computer's sounder.
pub(crate) struct Sounding {
    face: Box<dyn Face>,
    tone: Tone,
    contact: Contact,
}

impl Sounding {
    pub(crate) fn new(face: Box<dyn Face>, tone: Tone) -> Self {
        Self { face, tone, contact: Contact::default() }
    }
}

impl Face for Sounding {
    fn tell(&mut self, happened: Happened<'_>, now: &Now<'_>) -> io::Result<()> {
        self.contact.happened(happened, Instant::now());
        self.face.tell(happened, now)
    }

    fn look(&mut self, now: &Now<'_>) -> io::Result<()> {
        self.tone.play(self.contact.tune(now.lanes, now.at, Instant::now()));
        self.face.look(now)
    }

    fn said(&mut self) -> Option<Said> {
        self.face.said()
    }
}

/// How the run is, as it is to be heard.
#[derive(Default)]
struct Contact {
    lost: bool,
    /// What happened lately, and until when it is heard.
    bad: Option<(Tune, Instant)>,
    /// What the jig told last, and when that came.
    fresh: Option<(Microseconds, Instant)>,
}

impl Contact {
    fn happened(&mut self, happened: Happened<'_>, here: Instant) {
        match happened {
            Happened::News(
                FlexNews::Began { kind, .. } | FlexNews::Ended(FlexEvent { kind, .. }),
            ) => {
                let tune = match kind {
                    FlexKind::Break => Tune::Broke,
                    FlexKind::Touch => Tune::Touched,
                    FlexKind::Step => return,
                };
                self.bad = Some((tune, here + HEARD));
            }
            Happened::News(_) | Happened::Mark(..) => {}
            Happened::Lost => self.lost = true,
            Happened::FoundAgain(_) => self.lost = false,
        }
    }

    fn tune(&mut self, lanes: &[FlexLane], at: Microseconds, here: Instant) -> Tune {
        if self.fresh.is_none_or(|(before, _)| before != at) {
            self.fresh = Some((at, here));
        }
        let is_fresh = self.fresh.is_some_and(|(_, came)| here - came < FRESH);
        if self.lost || !is_fresh {
            return Tune::Silent;
        }
        let lately = self.bad.filter(|(_, until)| here < *until).map(|(tune, _)| tune);
        let still = lanes.iter().find_map(|lane| match lane.now {
            Lane::Broken { .. } => Some(Tune::Broke),
            Lane::Touching { .. } => Some(Tune::Touched),
            _ => None,
        });
        let well =
            || lanes.iter().any(|lane| matches!(lane.now, Lane::Carries { .. } | Lane::Apart));
        lately.or(still).unwrap_or_else(|| if well() { Tune::Carries } else { Tune::Silent })
    }
}

#[cfg(test)]
mod tests {
    use runproof_interpret::flex::FlexLaneOf;
    use runproof_protocol::Post;

    use super::*;

    fn lane(now: Lane) -> FlexLane {
        FlexLane { now, ..FlexLane::new(FlexLaneOf::Conductor(Post::P1)) }
    }

    const CARRIES: Lane = Lane::Carries { ohm: None, rise_ohm: None };
    const BROKEN: Lane = Lane::Broken { since: Microseconds(0) };
    const TOUCHES: Lane = Lane::Touching { since: Microseconds(0) };

    #[test]
    fn what_is_heard_follows_the_contact() {
        let here = Instant::now();
        let tune =
            |now| Contact::default().tune(&[lane(CARRIES), lane(now)], Microseconds(1), here);
        assert_eq!(tune(CARRIES), Tune::Carries);
        assert_eq!(tune(BROKEN), Tune::Broke);
        assert_eq!(tune(TOUCHES), Tune::Touched);
        assert_eq!(tune(Lane::NotWatchedNow), Tune::Carries);
        let unknown = [lane(Lane::NotKnown)];
        assert_eq!(Contact::default().tune(&unknown, Microseconds(1), here), Tune::Silent);
    }

    #[test]
    fn a_short_break_is_heard_for_a_while_and_a_rise_is_not() {
        let here = Instant::now();
        let mut contact = Contact::default();
        let (lane, at) = (FlexLaneOf::Conductor(Post::P1), Microseconds(1));
        let began = |kind| FlexNews::Began { lane, kind, at };
        contact.happened(Happened::News(&began(FlexKind::Step)), here);
        let well = [self::lane(CARRIES)];
        assert_eq!(contact.tune(&well, Microseconds(1), here), Tune::Carries);
        contact.happened(Happened::News(&began(FlexKind::Break)), here);
        let soon = here + HEARD / 2;
        assert_eq!(contact.tune(&well, Microseconds(2), soon), Tune::Broke);
        assert_eq!(contact.tune(&well, Microseconds(3), here + HEARD), Tune::Carries);
    }

    #[test]
    fn a_jig_that_tells_nothing_is_silent() {
        let here = Instant::now();
        let mut contact = Contact::default();
        let well = [lane(CARRIES)];
        assert_eq!(contact.tune(&well, Microseconds(1), here), Tune::Carries);
        assert_eq!(contact.tune(&well, Microseconds(1), here + FRESH), Tune::Silent);
        assert_eq!(contact.tune(&well, Microseconds(2), here + FRESH), Tune::Carries);
        contact.happened(Happened::Lost, here);
        assert_eq!(contact.tune(&well, Microseconds(3), here + FRESH), Tune::Silent);
        contact.happened(Happened::FoundAgain(1.0), here);
        assert_eq!(contact.tune(&well, Microseconds(4), here + FRESH), Tune::Carries);
    }
}
