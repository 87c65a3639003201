//! Texts, made small: zlib streams, which any language reads in ten years.

use std::io::{self, Read, Write};

use flate2::Compression;
use flate2::read::ZlibDecoder;
use flate2::write::ZlibEncoder;

/// A capture has at most a few megabytes; more is no text of ours.
const BYTES_MAX: u64 = 64 << 20;

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
