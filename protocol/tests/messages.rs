//! Every message: its bytes do not change unnoticed, and it fits a frame.

use heapless::Vec;
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{
    Capabilities, Channel, Command, Converter, Drive, Edge, Edges, Event, FarLights, Fault,
    HazardKind, Identity, Input, JigParts, Key, Lamp, Microohms, Microseconds, Microvolts,
    Millicelsius, Milliohms, Nanoohms, NotKept, Pattern, Phase, Picofarads, Plug, Post, Range,
    Reading, Record, Refusal, Restart, Rise, Signs, Step, Stop, Tune, records,
};

fn commands() -> std::vec::Vec<Command> {
    vec![
        Command::Hello { version: 1, nonce: 0xDEAD_BEEF },
        Command::Identify,
        Command::Measure { phase: Phase::Open },
        Command::Measure { phase: Phase::Plug },
        Command::Measure { phase: Phase::Glance },
        Command::Abort,
        Command::Rearm,
        Command::Show(Signs::HAZARD),
        Command::Replay { phase: Phase::Plug },
        Command::Keep { key: Key::Zero, record: kept(&zero()) },
        Command::Keep { key: Key::Name, record: Record::new() },
        Command::Keep { key: Key::Parts, record: longest_record() },
        Command::Recall { key: Key::Plug },
        Command::Measure { phase: Phase::Live },
        Command::Measure { phase: Phase::LiveZero },
        Command::Measure { phase: Phase::SupplyLoad },
        Command::Measure { phase: Phase::Fixture },
        Command::Measure { phase: Phase::Flex },
        Command::Measure { phase: Phase::FlexShorts },
        Command::Measure { phase: Phase::FlexAcross },
        Command::Measure { phase: Phase::FlexAlong },
        Command::Show(Signs { tune: Tune::Touched, ..Signs::default() }),
        Command::LightFar(FarLights { pattern: Lamp::BLINK, posts: Post::ALL }),
    ]
}

fn events() -> std::vec::Vec<Event> {
    let parts = JigParts {
        series: [Milliohms(346_000); 4],
        series_tolerance_ppm: 15_000,
        pull: Milliohms(100_000_000),
        divider: Milliohms(4_522_000_000),
        sense: Milliohms(3_197_279),
    };
    let plug =
        Plug { ring: [33_200, 47_500, 68_100, 150_000].map(Milliohms), tolerance_ppm: 1_000 };
    let identity = Identity {
        serial: "A1B2".try_into().expect("short"),
        board: "simulated".try_into().expect("short"),
        firmware: "0.1.0".try_into().expect("short"),
        parts,
        plug,
        supply_load: Milliohms(180_000),
    };
    vec![
        Event::Hello {
            version: 1,
            nonce: 0xDEAD_BEEF,
            capabilities: Capabilities {
                open_phase: true,
                plug_phase: true,
                glance: true,
                rise: true,
                alone: true,
                stores: true,
                live: true,
                far_lights: true,
                supply_load: true,
                fixture: true,
                flex: true,
            },
        },
        Event::Identity(identity),
        Event::Armed,
        Event::Started { phase: Phase::Plug },
        Event::Pattern(pattern(2, i16::MIN, 0x1234)),
        Event::Done { phase: Phase::Plug, patterns: 46 },
        Event::Stopped { phase: Phase::Plug, reason: Stop::Aborted },
        Event::Stopped { phase: Phase::Plug, reason: Stop::Fault(Fault::Absent(Converter::Live)) },
        Event::Stopped {
            phase: Phase::Plug,
            reason: Stop::Fault(Fault::NeverReady(Converter::Sense)),
        },
        Event::Stopped {
            phase: Phase::Plug,
            reason: Stop::Fault(Fault::BusStuck(Converter::Drive)),
        },
        Event::Stopped { phase: Phase::Open, reason: Stop::Fault(Fault::WatchBlind(Post::P3)) },
        Event::Stopped { phase: Phase::Plug, reason: Stop::Fault(Fault::Wrong(Converter::Drive)) },
        Event::Stopped { phase: Phase::Flex, reason: Stop::Fault(Fault::EdgesBlind(Post::P2)) },
        Event::Stopped { phase: Phase::Plug, reason: Stop::HostSilent },
        Event::Hazard { kind: HazardKind::BeforeClosing, largest: Microvolts(33_900_000) },
        Event::Hazard { kind: HazardKind::WhileClosed, largest: Microvolts(-33_900_000) },
        Event::Refused { phase: Phase::Open, reason: Refusal::NotCapable },
        Event::Refused { phase: Phase::Plug, reason: Refusal::HazardLatched },
        Event::Heartbeat { at: Microseconds(500_000) },
        Event::Rise(rise(3, None, 0x1234)),
        Event::Rise(rise(1, Some(Picofarads(1_000)), 0x1234)),
        Event::Warm { phase: Phase::Plug, jig: Millicelsius(-12_345) },
        Event::Restarted(Restart::Panicked {
            file: "session.rs".try_into().expect("short"),
            line: 77,
        }),
        Event::Restarted(Restart::HardFault { address: 0x1000_0A3C }),
        Event::Restarted(Restart::Hung),
        Event::Key,
        Event::Refused { phase: Phase::Plug, reason: Refusal::NothingKept },
        Event::Kept { key: Key::Name },
        Event::Recalled { key: Key::Plug, record: kept(&zero().plug) },
        Event::Recalled { key: Key::Zero, record: longest_record() },
        Event::NotKept { key: Key::Zero, reason: NotKept::Measuring },
        Event::NotKept { key: Key::Parts, reason: NotKept::Fault },
        Event::Done { phase: Phase::FarLights, patterns: 0 },
        Event::Edges(edges(2, 0x1234)),
        Event::Edges(edges(Edges::EDGES_MAX, 0x1234)),
    ]
}

fn zero() -> records::KeptZero {
    records::KeptZero {
        ohm: [40_123_456; 6].map(Microohms),
        u: [123_456; 6].map(Nanoohms),
        jig: Some(Millicelsius(23_456)),
        taken_unix_s: 1_790_000_000,
        series: [Milliohms(346_000); 4],
        plug: records::KeptPlug {
            name: "B".try_into().expect("short"),
            plug: Plug {
                ring: [33_200, 47_500, 68_100, 150_000].map(Milliohms),
                tolerance_ppm: 1_000,
            },
        },
    }
}

fn kept<T: serde::Serialize>(value: &T) -> Record {
    records::written(value).expect("fits")
}

fn longest_record() -> Record {
    Record::from_iter(std::iter::repeat_n(0xA5, records::RECORD_MAX))
}

fn edges(count: usize, at: u64) -> Edges {
    let edge = Edge { at: Microseconds(at), carries: 0b1101, changed: 0b0010 };
    let edges = std::iter::repeat_n(edge, count).collect();
    Edges { index: 3, phase: Phase::Flex, dropped: 1, edges }
}

fn pattern(readings: usize, code: i16, at: u64) -> Pattern {
    let reading = Reading {
        channel: Channel { converter: Converter::Live, input: Input::P4 },
        range: Range::V0,
        code,
        at: Microseconds(at),
    };
    Pattern {
        index: u16::MAX,
        phase: Phase::Plug,
        step: Step::Pairs,
        drives: [Drive::High, Drive::Low, Drive::Off, Drive::Off],
        pulls: [Drive::Off; 2],
        relays_closed: true,
        readings: Vec::from_iter(std::iter::repeat_n(reading, readings)),
    }
}

fn rise(releases: usize, reference: Option<Picofarads>, at: u64) -> Rise {
    Rise {
        index: u16::MAX,
        phase: Phase::Open,
        post: Post::P3,
        reference,
        relays_closed: true,
        at: Microseconds(at),
        micros: Vec::from_iter(std::iter::repeat_n(Rise::MICROS_MAX, releases)),
    }
}

fn hex(frame: &[u8]) -> String {
    frame.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[test]
fn golden_bytes() {
    let mut out = [0; MAX_FRAME];
    let mut lines = String::new();
    for command in commands() {
        let frame = frame::encode(&command, &mut out).expect("fits");
        lines += &format!("{command:?}\n    {}\n", hex(frame));
    }
    for event in events() {
        let frame = frame::encode(&event, &mut out).expect("fits");
        lines += &format!("{event:?}\n    {}\n", hex(frame));
    }
    insta::assert_snapshot!(lines);
}

/// The longest of each message that carries text or readings, at values that take most bytes. A
/// jig's clock takes five bytes for the first nine hours, and six for years.
#[test]
fn the_longest_messages_fit_a_frame() {
    let full = pattern(Pattern::READINGS_MAX, i16::MIN, (1 << 42) - 1);
    let identity = Identity {
        serial: "s".repeat(24).as_str().try_into().expect("24"),
        board: "b".repeat(16).as_str().try_into().expect("16"),
        firmware: "f".repeat(16).as_str().try_into().expect("16"),
        parts: JigParts {
            series: [Milliohms(u64::MAX); 4],
            series_tolerance_ppm: u32::MAX,
            pull: Milliohms(u64::MAX),
            divider: Milliohms(u64::MAX),
            sense: Milliohms(u64::MAX),
        },
        plug: Plug { ring: [Milliohms(u64::MAX); 4], tolerance_ppm: u32::MAX },
        supply_load: Milliohms(u64::MAX),
    };
    let rise = rise(Rise::RELEASES_MAX, Some(Picofarads(u32::MAX)), (1 << 42) - 1);
    let longest = [Event::Pattern(full), Event::Identity(identity), Event::Rise(rise)];
    let mut out = [0; MAX_FRAME];
    for event in events().into_iter().chain(longest) {
        let frame = frame::encode(&event, &mut out).map(<[u8]>::len);
        assert!(frame.is_ok_and(|used| used <= MAX_FRAME), "{event:?}");
    }
    for command in commands() {
        assert!(frame::encode(&command, &mut out).is_ok(), "{command:?}");
    }
}
