//! The bytes of a frame against published values.

use runproof_protocol::frame::{self, MAX_FRAME};
use serde::Serialize;

/// The CRC catalogue's check value of CRC-32/ISO-HDLC, over the digits 1 to 9: 0xCBF43926.
#[test]
fn the_crc_is_the_catalogues() {
    #[derive(Serialize)]
    struct Digits([u8; 9]);
    let mut out = [0; MAX_FRAME];
    let frame = frame::encode(&Digits(*b"123456789"), &mut out).expect("fits");
    // Without a zero byte inside, COBS only puts the length in front.
    let expected = [b"\x0e123456789".as_slice(), &0xCBF4_3926_u32.to_le_bytes(), &[0]].concat();
    assert_eq!(frame, expected);
}

/// Examples 1 to 6 of the table in the encyclopaedia's article on COBS (Wikipedia, "Consistent
/// Overhead Byte Stuffing"), each with its delimiter.
#[test]
fn cobs_is_the_articles() {
    let table: [(&[u8], &[u8]); 6] = [
        (&[0x00], &[1, 1, 0]),
        (&[0x00, 0x00], &[1, 1, 1, 0]),
        (&[0x00, 0x11, 0x00], &[1, 2, 0x11, 1, 0]),
        (&[0x11, 0x22, 0x00, 0x33], &[3, 0x11, 0x22, 2, 0x33, 0]),
        (&[0x11, 0x22, 0x33, 0x44], &[5, 0x11, 0x22, 0x33, 0x44, 0]),
        (&[0x11, 0x00, 0x00, 0x00], &[2, 0x11, 1, 1, 1, 0]),
    ];
    for (plain, coded) in table {
        let mut out = [0; 16];
        let used = cobs::encode(plain, &mut out);
        assert_eq!(out[..used], coded[..coded.len() - 1]);
    }
}

/// The postcard wire format, version 1: varints and zigzag, its own examples (the specification's
/// table misprints 32 767, which by its own rule is FE FF 03).
#[test]
fn postcard_is_the_specifications() {
    let mut out = [0; 8];
    for (value, bytes) in [
        (0_u16, &[0x00_u8][..]),
        (127, &[0x7F]),
        (128, &[0x80, 0x01]),
        (16_383, &[0xFF, 0x7F]),
        (16_384, &[0x80, 0x80, 0x01]),
        (65_535, &[0xFF, 0xFF, 0x03]),
    ] {
        assert_eq!(postcard::to_slice(&value, &mut out).expect("fits"), bytes);
    }
    for (value, bytes) in [
        (0_i16, &[0x00_u8][..]),
        (-1, &[0x01]),
        (63, &[0x7E]),
        (-64, &[0x7F]),
        (64, &[0x80, 0x01]),
        (32_767, &[0xFE, 0xFF, 0x03]),
        (-32_768, &[0xFF, 0xFF, 0x03]),
    ] {
        assert_eq!(postcard::to_slice(&value, &mut out).expect("fits"), bytes);
    }
}
