//! A message as bytes: postcard, CRC-32, COBS, and a zero byte that ends it.

use core::fmt;

use crc::{CRC_32_ISO_HDLC, Crc, Table};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The longest frame either side sends, its final zero byte included.
pub const MAX_FRAME: usize = 256;

/// The longest message inside a frame: less the CRC, COBS's overhead and the final zero byte.
pub const MAX_MESSAGE: usize = MAX_FRAME - CRC_BYTES - 3;

const CRC_BYTES: usize = 4;

/// No table: bit by bit a frame takes some 20 µs, and a microcontroller's flash is scarce.
#[cfg(target_os = "none")]
type CrcTable = Table<0>;

/// 16 KiB of table take sixteen bytes at a time.
#[cfg(not(target_os = "none"))]
type CrcTable = Table<16>;

/// CRC-32/ISO-HDLC, check value 0xCBF43926.
static CRC: Crc<u32, CrcTable> = Crc::<u32, CrcTable>::new(&CRC_32_ISO_HDLC);

/// The message is longer than [`MAX_MESSAGE`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLong;

impl fmt::Display for TooLong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the message is longer than a frame can carry ({MAX_MESSAGE} bytes)")
    }
}

impl core::error::Error for TooLong {}

/// The CRC that ends a frame's message, of any bytes.
#[must_use]
#[inline(never)]
pub fn checksum(bytes: &[u8]) -> u32 {
    CRC.checksum(bytes)
}

/// Writes `message` as one frame into `out`; returns the bytes of it that are used.
pub fn encode<'a, T: Serialize>(
    message: &T,
    out: &'a mut [u8; MAX_FRAME],
) -> Result<&'a [u8], TooLong> {
    let mut body = [0; MAX_MESSAGE + CRC_BYTES];
    let used = postcard::to_slice(message, &mut body[..MAX_MESSAGE]).map_err(|_| TooLong)?.len();
    let crc = checksum(&body[..used]);
    body[used..used + CRC_BYTES].copy_from_slice(&crc.to_le_bytes());
    let coded = cobs::encode(&body[..used + CRC_BYTES], &mut out[..MAX_FRAME - 1]);
    out[coded] = 0;
    Ok(&out[..=coded])
}

/// Reads the message of one frame, its final zero byte taken off; `None` if it is damaged or not
/// a message of this kind. `frame` is overwritten. Bytes behind the known fields are a newer
/// sender's and are passed over; known fields behind the bytes are zero.
pub fn decode<T: DeserializeOwned>(frame: &mut [u8]) -> Option<T> {
    let used = cobs::decode_in_place(frame).ok()?;
    let (body, crc) = frame[..used].split_last_chunk::<CRC_BYTES>()?;
    if checksum(body) != u32::from_le_bytes(*crc) {
        return None;
    }
    match postcard::from_bytes(body) {
        Err(postcard::Error::DeserializeUnexpectedEnd) if !body.is_empty() => lengthened(body),
        read => read.ok(),
    }
}

/// An older sender's message ends before the fields that it does not know of: they are zero. Only at the
/// end, as its CRC is right.
#[cold]
fn lengthened<T: DeserializeOwned>(body: &[u8]) -> Option<T> {
    let mut longer = [0; MAX_MESSAGE + ZEROS];
    longer.get_mut(..body.len())?.copy_from_slice(body);
    postcard::from_bytes(&longer[..body.len() + ZEROS]).ok()
}

/// More fields are not added to a message. (judgement)
const ZEROS: usize = 16;
