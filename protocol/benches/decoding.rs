//! How fast a stream of pattern events is read: our decoder beside postcard's own way with a CRC
//! and COBS, on the same bytes. Prints both and their ratio; ours must not be the slower one.

use std::hint::black_box;
use std::time::{Duration, Instant};

use cobs::decode_in_place;
use crc::{CRC_32_ISO_HDLC, Crc};
use criterion::{Criterion, Throughput};
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{
    Channel, Converter, Decoded, Decoder, Drive, Event, Input, Microseconds, Pattern, Phase, Range,
    Reading, Step,
};

const PATTERNS: u16 = 512;

/// As a port gives it.
const CHUNK_BYTES: usize = 1024;

/// Rounds of either way in turn, for the ratio.
const ROUNDS: usize = 400;

static CRC: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);

fn stream() -> Vec<u8> {
    let mut stream = vec![];
    for index in 0..PATTERNS {
        let readings = (0..Pattern::READINGS_MAX as u64).map(|n| Reading {
            channel: Channel { converter: Converter::Sense, input: Input::ALL[n as usize % 8] },
            range: Range::ALL[n as usize % 4],
            code: (n as i16 - 8).wrapping_mul(1 + index as i16),
            at: Microseconds(9_000 * u64::from(index) + 1_700 * n),
        });
        let event = Event::Pattern(Pattern {
            index,
            phase: Phase::Plug,
            step: Step::Pairs,
            drives: [Drive::High, Drive::Low, Drive::Off, Drive::Off],
            pulls: [Drive::Off; 2],
            relays_closed: true,
            readings: readings.collect(),
        });
        let mut out = [0; MAX_FRAME];
        stream.extend(frame::encode(&event, &mut out).expect("fits"));
    }
    stream
}

/// Ours: any chunks, any damage.
fn ours(stream: &[u8]) -> usize {
    let mut decoder = Decoder::default();
    let mut events = 0;
    for mut bytes in stream.chunks(CHUNK_BYTES) {
        while let Some(found) = decoder.next(&mut bytes) {
            if let Decoded::<Event>::Message(event) = found {
                black_box(event);
                events += 1;
            }
        }
    }
    events
}

/// Postcard's: whole frames, each copied once because COBS is taken off in place.
fn postcards(stream: &[u8]) -> usize {
    let mut events = 0;
    let mut buffer = [0; MAX_FRAME];
    for frame in stream.split(|byte| *byte == 0).filter(|frame| !frame.is_empty()) {
        let frame_copy = &mut buffer[..frame.len()];
        frame_copy.copy_from_slice(frame);
        let Ok(used) = decode_in_place(frame_copy) else { continue };
        if let Ok(event) = postcard::from_bytes_crc32::<Event>(&frame_copy[..used], CRC.digest()) {
            black_box(event);
            events += 1;
        }
    }
    events
}

fn seconds(way: impl Fn(&[u8]) -> usize, stream: &[u8]) -> Duration {
    let begun = Instant::now();
    assert_eq!(way(black_box(stream)), usize::from(PATTERNS));
    begun.elapsed()
}

/// Both ways in turn, so that a busy machine slows both; the fastest round of each counts.
fn ratio(stream: &[u8]) -> f64 {
    let (mut ours_best, mut postcards_best) = (Duration::MAX, Duration::MAX);
    for _ in 0..ROUNDS {
        ours_best = ours_best.min(seconds(ours, stream));
        postcards_best = postcards_best.min(seconds(postcards, stream));
    }
    ours_best.as_secs_f64() / postcards_best.as_secs_f64()
}

fn main() {
    let stream = stream();
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("decoding");
    group.throughput(Throughput::Bytes(stream.len() as u64));
    group.bench_function("ours", |bench| bench.iter(|| ours(black_box(&stream))));
    group.bench_function("postcard's", |bench| bench.iter(|| postcards(black_box(&stream))));
    group.finish();
    criterion.final_summary();
    let ratio = ratio(&stream);
    println!("ours takes {ratio:.2} of the time that postcard's takes");
    assert!(ratio <= 1.0, "ours is the slower one");
}
