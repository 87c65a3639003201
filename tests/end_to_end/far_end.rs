//! A far end of the port that says what a test wants it to say.

use std::fs::File;
use std::io::{self, Read, Write};
use std::os::fd::OwnedFd;
use std::thread;
use std::time::{Duration, Instant};

use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{
    Capabilities, Channel, Command, Converter, Decoded, Decoder, Drive, Event, Input, Microseconds,
    Pattern, Phase, Range, Reading, Step, VERSION,
};

use crate::terminal::{raw, terminal};

/// What a far end does on a command.
pub(crate) enum Then {
    /// Says this.
    Say(Vec<u8>),
    /// Says this, lets it arrive, and hangs up.
    HangUpAfter(Vec<u8>),
}

pub(crate) const NOTHING: Then = Then::Say(vec![]);

/// Long enough for a program to read what was said. [judgement]
const ARRIVES_WITHIN: Duration = Duration::from_millis(500);

/// When there is nothing to do.
const BREATH: Duration = Duration::from_millis(1);

/// Runs `program` on the path of a port whose far end answers each command with `answer`, and says
/// `unasked` again and again, with a pause before each.
pub(crate) fn against_speaking<R>(
    unasked: (Vec<u8>, Duration),
    mut answer: impl FnMut(Command) -> Then + Send + 'static,
    program: impl FnOnce(&str) -> R,
) -> R {
    let (master, port) = terminal();
    let held = raw(&port);
    let far_end = thread::spawn(move || {
        let _closed = serve(master, &unasked, &mut answer);
    });
    let result = program(&port);
    drop(held);
    far_end.join().expect("the far end ends");
    result
}

/// Until it hangs up or the near end is closed. It never blocks: a writer that waits for room is
/// not woken when the near end closes.
fn serve(
    master: OwnedFd,
    (unasked, pause): &(Vec<u8>, Duration),
    answer: &mut dyn FnMut(Command) -> Then,
) -> io::Result<()> {
    rustix::io::ioctl_fionbio(&master, true)?;
    let mut port = File::from(master);
    let mut decoder = Decoder::default();
    let mut buffer = [0; 256];
    let mut to_say = vec![];
    let mut hang_up = false;
    let mut due = Instant::now() + *pause;
    loop {
        let used = or_none_yet(port.read(&mut buffer))?;
        let mut bytes = &buffer[..used];
        while let Some(found) = decoder.next(&mut bytes) {
            let Decoded::Message(command) = found else { continue };
            match answer(command) {
                Then::Say(bytes) => to_say.extend(bytes),
                Then::HangUpAfter(bytes) => {
                    to_say.extend(bytes);
                    hang_up = true;
                }
            }
        }
        if to_say.is_empty() && due <= Instant::now() {
            to_say.extend(unasked);
            due = Instant::now() + *pause;
        }
        let said = or_none_yet(port.write(&to_say))?;
        to_say.drain(..said);
        if hang_up && to_say.is_empty() {
            thread::sleep(ARRIVES_WITHIN);
            return Ok(());
        }
        if used + said == 0 {
            thread::sleep(BREATH);
        }
    }
}

fn or_none_yet(moved: io::Result<usize>) -> io::Result<usize> {
    match moved {
        Err(error) if error.kind() == io::ErrorKind::WouldBlock => Ok(0),
        other => other,
    }
}

/// The same with nothing said unasked.
pub(crate) fn against<R>(
    answer: impl FnMut(Command) -> Then + Send + 'static,
    program: impl FnOnce(&str) -> R,
) -> R {
    against_speaking((vec![], Duration::from_secs(3600)), answer, program)
}

pub(crate) fn framed(event: &Event) -> Vec<u8> {
    let mut out = [0; MAX_FRAME];
    frame::encode(event, &mut out).expect("fits").to_vec()
}

pub(crate) fn hello(version: u16, nonce: u32) -> Vec<u8> {
    let capabilities = Capabilities {
        open_phase: true,
        plug_phase: true,
        glance: true,
        rise: true,
        alone: true,
        stores: false,
        live: false,
        far_lights: false,
        supply_load: false,
        fixture: false,
        flex: false,
    };
    framed(&Event::Hello { version, nonce, capabilities })
}

pub(crate) fn identity() -> Vec<u8> {
    framed(&Event::Identity(runproof_firmware::identity("test", "stand-in")))
}

/// A jig that greets well, and does `measure` when it is asked to measure.
pub(crate) fn jig(mut measure: impl FnMut() -> Then) -> impl FnMut(Command) -> Then {
    move |command| match command {
        Command::Hello { nonce, .. } => Then::Say(hello(VERSION, nonce)),
        Command::Identify => Then::Say(identity()),
        Command::Measure { .. } => measure(),
        _ => NOTHING,
    }
}

pub(crate) fn started() -> Vec<u8> {
    framed(&Event::Started { phase: Phase::Open })
}

pub(crate) fn heartbeat() -> Vec<u8> {
    framed(&Event::Heartbeat { at: Microseconds(1) })
}

/// The frames of this many patterns, with one reading each.
pub(crate) fn patterns(count: u16) -> Vec<u8> {
    let reading = Reading {
        channel: Channel { converter: Converter::Sense, input: Input::P1 },
        range: Range::V4,
        code: 1000,
        at: Microseconds(9),
    };
    let frame = |index| {
        framed(&Event::Pattern(Pattern {
            index,
            phase: Phase::Open,
            step: Step::Pairs,
            drives: [Drive::High, Drive::Low, Drive::Off, Drive::Off],
            pulls: [Drive::Off; 2],
            relays_closed: true,
            readings: [reading].into_iter().collect(),
        }))
    };
    (0..count).flat_map(frame).collect()
}
