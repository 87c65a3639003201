//! Texts, made small: zlib streams, which any language reads in ten years.

use std::io::{self, Read, Write};

use flate2::Compression;
use flate2::read::ZlibDecoder;
use flate2::write::ZlibEncoder;

use crate::{Digest, Record};

/// A capture has at most a few megabytes; more is no text of ours.
const BYTES_MAX: u64 = 64 << 20;

/// A record as it lies in a store: its long texts packed, and what is told by them.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// The record, without capture and result.
    pub record: Record,
    /// Its capture, packed.
    pub capture: Vec<u8>,
    /// Its result, packed.
    pub result: Vec<u8>,
    /// Of the whole of it.
    pub digest: Digest,
    /// Of its capture, hexadecimal.
    pub capture_sha256: String,
}

impl Packed {
    /// Of a record.
    #[must_use]
    pub fn of(record: &Record) -> Self {
        Self {
            capture: packed(&record.capture),
            result: packed(&record.result),
            digest: record.digest(),
            capture_sha256: record.capture_sha256(),
            record: Record { capture: String::new(), result: String::new(), ..record.clone() },
        }
    }

    /// The record again, whole.
    pub fn unpacked(&self) -> io::Result<Record> {
        let [capture, result] = [unpacked(&self.capture)?, unpacked(&self.result)?];
        Ok(Record { capture, result, ..self.record.clone() })
    }
}

pub(crate) fn packed(text: &str) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::default());
    let written = encoder.write_all(text.as_bytes()).and_then(|()| encoder.finish());
    written.unwrap_or_else(|error| unreachable!("memory takes what is written: {error}"))
}

pub(crate) fn unpacked(bytes: &[u8]) -> io::Result<String> {
    let mut text = String::new();
    ZlibDecoder::new(bytes).take(BYTES_MAX).read_to_string(&mut text)?;
    Ok(text)
}

#[test]
fn a_text_comes_back() {
    for text in ["", "one", &"Ω − 数据\n".repeat(10_000)] {
        assert_eq!(unpacked(&packed(text)).expect("a text"), text);
    }
    assert!(unpacked(b"no stream").is_err());
}
