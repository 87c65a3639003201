//! A judgement on the lights at the far end: told from each other by how many times they are lit, with one
//! colour and over the phone.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{FindingKind, Verdict};
use runproof_protocol::{FarLights, Lamp, Post};

use crate::guide::FarVerdict;

/// One long light.
const PASS: Lamp = Lamp(0xFFFF);
/// Three of 0.3 s, and a pause.
const FAIL: Lamp = Lamp(0x1CE7);
/// Two of 0.2 s, and a pause that is longer.
const CANNOT_TELL: Lamp = Lamp(0x0033);

/// None where it is not known where the conductors arrive, or where nothing may be driven.
pub(crate) fn of(judgement: &Judgement) -> Option<FarVerdict> {
    let grave = [FindingKind::Hazard, FindingKind::ForeignVoltage];
    if judgement.findings.iter().any(|finding| grave.contains(&finding.kind)) {
        return None;
    }
    let contacts = [1, 2, 3, 4]
        .map(|number| Post::from_number(number).and_then(|contact| at(judgement, contact)));
    let pairs =
        [[0, 1], [2, 3]].map(|pair| pair.iter().all(|contact| contacts[*contact].is_some()));
    if pairs == [false; 2] {
        return None;
    }
    // Contacts that nothing reaches get the posts that are left.
    let mut left = Post::ALL.into_iter().filter(|post| !contacts.contains(&Some(*post)));
    let posts = contacts.map(|post| post.or_else(|| left.next()).unwrap_or(Post::P1));
    let pattern = match judgement.verdict {
        Verdict::Pass => PASS,
        Verdict::Fail => FAIL,
        Verdict::CannotTell => CANNOT_TELL,
    };
    Some(FarVerdict { lights: FarLights { pattern, posts }, pairs })
}

/// The post whose conductor reaches this contact of the key: by the tail's clips, whatever they are on.
fn at(judgement: &Judgement, contact: Post) -> Option<Post> {
    let plugged = |terminal: Post| {
        judgement.placed.plug_end.map_or(terminal, |plug_end| plug_end[terminal.index()])
    };
    let reaches = |post: Option<Post>| post.map(plugged) == Some(contact);
    judgement.conductors.iter().find(|one| reaches(one.reaches)).map(|one| one.post)
}

#[cfg(test)]
mod tests {
    use runproof_firmware::boards::simulated::Scene;
    use runproof_interpret::{LimitSheet, RunKnowledge, judge};

    use super::*;
    use crate::guide::Guide;
    use crate::jig::{Conversation, Jig, SimulatedPort};

    fn shown(name: &str) -> Option<(Lamp, [u8; 4], [bool; 2])> {
        let scene = Scene::built_in(name).expect("built in");
        let begun = Conversation::begin(name, move || Ok(SimulatedPort::new(scene, 1)));
        let jig = begun.and_then(Jig::meet).expect("a jig");
        let mut tell = |_| {};
        let mut guide = Guide::new(&jig, &mut tell);
        guide.both();
        let (sheet, known) = (LimitSheet::service_24vac(), RunKnowledge::default());
        let FarVerdict { lights, pairs } = of(&judge(&guide.done(), &sheet, &known))?;
        Some((lights.pattern, lights.posts.map(Post::number), pairs))
    }

    /// By what the scenes say of where their conductors arrive.
    #[test]
    fn the_posts_are_those_that_reach_the_lights() {
        const BOTH: [bool; 2] = [true; 2];
        for (name, expected) in [
            ("good-run", Some((PASS, [1, 2, 3, 4], BOTH))),
            ("reversed-pair", Some((FAIL, [2, 1, 3, 4], BOTH))),
            ("crossed-supply", Some((FAIL, [1, 4, 3, 2], BOTH))),
            ("tail-exchanged", Some((FAIL, [1, 3, 2, 4], BOTH))),
            ("long-thin-run", Some((FAIL, [1, 2, 3, 4], BOTH))),
            ("open-supply", Some((FAIL, [1, 2, 3, 4], [true, false]))),
            ("cut-through", None),
            ("staple-short", None),
            ("no-plug", None),
            ("powered-run", None),
        ] {
            assert_eq!(shown(name), expected, "{name}");
        }
    }

    /// The number of times that each is lit, over and over.
    #[test]
    fn patterns_are_counted() {
        let times = |lamp: Lamp| {
            (0..Lamp::STEPS)
                .filter(|step| lamp.lit(*step) && (*step == 0 || !lamp.lit(step - 1)))
                .count()
        };
        assert_eq!([PASS, CANNOT_TELL, FAIL].map(times), [1, 2, 3]);
        assert!(!FAIL.lit(Lamp::STEPS - 1) && !CANNOT_TELL.lit(Lamp::STEPS - 1));
    }
}
