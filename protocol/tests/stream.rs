//! A stream in any chunks, with any damage: the same messages or a told loss, never a wrong one.

use crc::{CRC_32_ISO_HDLC, Crc};
use proptest::prelude::*;
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Capabilities, Command, Decoded, Decoder, Event, Phase};

fn command() -> impl Strategy<Value = Command> {
    prop_oneof![
        (any::<u16>(), any::<u32>()).prop_map(|(version, nonce)| Command::Hello { version, nonce }),
        Just(Command::Identify),
        Just(Command::Measure { phase: Phase::Plug }),
        Just(Command::Abort),
        Just(Command::Rearm),
    ]
}

fn stream_of(commands: &[Command]) -> Vec<u8> {
    let mut out = [0; MAX_FRAME];
    let frames = commands.iter().map(|one| frame::encode(one, &mut out).expect("fits").to_vec());
    frames.collect::<Vec<_>>().concat()
}

fn decoded(decoder: &mut Decoder<Command>, mut bytes: &[u8]) -> Vec<Decoded<Command>> {
    std::iter::from_fn(|| decoder.next(&mut bytes)).collect()
}

fn messages(found: &[Decoded<Command>]) -> Vec<Command> {
    found
        .iter()
        .filter_map(|found| match found {
            Decoded::Message(command) => Some(command.clone()),
            Decoded::Damaged => None,
        })
        .collect()
}

proptest! {
    #[test]
    fn any_chunks_give_the_same_messages(
        commands in prop::collection::vec(command(), 0..20),
        cuts in prop::collection::vec(1_usize..40, 1..40),
    ) {
        let stream = stream_of(&commands);
        let mut decoder = Decoder::default();
        let mut found = vec![];
        let mut rest = stream.as_slice();
        for cut in cuts.iter().cycle() {
            if rest.is_empty() {
                break;
            }
            let (chunk, after) = rest.split_at((*cut).min(rest.len()));
            found.extend(decoded(&mut decoder, chunk));
            rest = after;
        }
        prop_assert_eq!(messages(&found), commands);
    }

    #[test]
    fn one_changed_byte_is_told_and_nothing_false_is_read(
        commands in prop::collection::vec(command(), 1..10),
        place in any::<prop::sample::Index>(),
        change in 1_u8..=255,
    ) {
        let mut stream = stream_of(&commands);
        let at = place.index(stream.len());
        stream[at] ^= change;
        let mut decoder = Decoder::default();
        let mut found = decoded(&mut decoder, &stream);
        found.extend(decoded(&mut decoder, &[0])); // the next frame's border
        let read = messages(&found);
        let mut left = commands.iter();
        prop_assert!(read.iter().all(|one| left.any(|sent| sent == one)), "{:?}", read);
        prop_assert!(found.contains(&Decoded::Damaged));
        prop_assert!(read.len() + 2 >= commands.len(), "at most two frames are lost");
    }

    #[test]
    fn garbage_is_survived(garbage in prop::collection::vec(any::<u8>(), 0..2_000)) {
        let mut decoder = Decoder::default();
        decoded(&mut decoder, &garbage);
        decoded(&mut decoder, &[0]);
        let found = decoded(&mut decoder, &stream_of(&[Command::Identify]));
        prop_assert_eq!(found, vec![Decoded::Message(Command::Identify)]);
    }
}

/// A frame of a newer sender, with fields that this version does not know, is read all the same.
#[test]
fn fields_added_at_the_end_are_passed_over() {
    let mut out = [0; MAX_FRAME];
    let newer = (Command::Hello { version: 7, nonce: 9 }, "something new");
    let frame = frame::encode(&newer, &mut out).expect("fits");
    let found = decoded(&mut Decoder::default(), frame);
    assert_eq!(found, [Decoded::Message(Command::Hello { version: 7, nonce: 9 })]);
}

/// A hello of a sender that does not know the last capabilities, and one of a sender that knows more.
#[test]
fn fields_at_the_end_may_be_missing_or_more() {
    let known = Event::Hello { version: 1, nonce: 7, capabilities: Capabilities::default() };
    let mut room = [0; 64];
    let body = postcard::to_slice(&known, &mut room).expect("short");
    for body in [&body[..body.len() - 2], body, &[&body[..], &[1, 2, 3]].concat()] {
        assert_eq!(in_a_frame(body), Some(known.clone()), "{body:?}");
    }
    assert_eq!(in_a_frame(&[]), None, "a frame without a message");
    assert_eq!(in_a_frame(&[99]), None, "a variant of a newer sender");
}

fn in_a_frame(body: &[u8]) -> Option<Event> {
    let crc = Crc::<u32>::new(&CRC_32_ISO_HDLC).checksum(body);
    let mut frame = [body, &crc.to_le_bytes()].concat();
    let mut coded = vec![0; cobs::max_encoding_length(frame.len())];
    let used = cobs::encode(&frame, &mut coded);
    frame = coded[..used].to_vec();
    frame::decode(&mut frame)
}
