//! A check whose bytes are damaged on the way ends with the right verdict or with none.

use std::cell::Cell;

use proptest::prelude::*;
use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::Capture;
use runproof_interpret::capture::{Ending, PhaseEnd, head_from};
use runproof_interpret::judgement::Verdict;
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Decoded, Decoder, Event, Phase};

use crate::host::Host;
use crate::judged;

/// All bytes that a jig sends during a whole check.
fn stream(scene: &str) -> Vec<u8> {
    let mut host = Host::on(Scene::built_in(scene).expect("a built-in scene"), 1);
    let mut bytes = vec![];
    for phase in [Phase::Open, Phase::Plug] {
        host.measure(phase);
        for event in std::mem::take(&mut host.events) {
            let mut out = [0; MAX_FRAME];
            bytes.extend_from_slice(frame::encode(&event, &mut out).expect("fits"));
        }
        host.listen(host.jig.now() + 150_000_000);
    }
    bytes
}

/// What a host makes of them, read in chunks of this size.
fn heard(bytes: &[u8], chunk: usize) -> Capture {
    let head = head_from(&runproof_firmware::identity("simulated", ""), "test");
    let mut capture = Capture::new(head.expect("a plausible jig"));
    let mut decoder = Decoder::<Event>::default();
    for mut bytes in bytes.chunks(chunk) {
        while let Some(found) = decoder.next(&mut bytes) {
            match found {
                Decoded::Message(Event::Done { phase, patterns }) => {
                    let ending = Ending::Done { patterns: patterns.into() };
                    capture.end(PhaseEnd { phase, ending });
                }
                Decoded::Message(event) => capture.push_event(&event),
                _ => {}
            }
        }
    }
    capture
}

fn is_right_or_cannot_tell(scene: &str, right: Verdict) {
    let whole = stream(scene);
    assert_eq!(judged(&heard(&whole, 64)).verdict, right);
    let (told, untold) = (Cell::new(0), Cell::new(0));
    proptest!(ProptestConfig::with_cases(400), |(
        place in 0..whole.len(), flip in 1..=255_u8, chunk in 1..300_usize,
    )| {
        let mut bytes = whole.clone();
        bytes[place] ^= flip;
        let verdict = judged(&heard(&bytes, chunk)).verdict;
        prop_assert!(verdict == right || verdict == Verdict::CannotTell, "{:?} at {}", verdict, place);
        let count = if verdict == right { &told } else { &untold };
        count.set(count.get() + 1);
    });
    println!("{scene}: {} right, {} cannot tell, 0 wrong", told.get(), untold.get());
}

#[test]
fn one_damaged_byte_never_makes_a_wrong_verdict() {
    is_right_or_cannot_tell("good-run", Verdict::Pass);
    is_right_or_cannot_tell("corroded-splice", Verdict::Fail);
}
