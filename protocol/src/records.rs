//! What a jig keeps for whoever asks it: records under keys, and what their bytes mean.
//!
//! A record's bytes are postcard. They outlive the program that wrote them: a field is only ever added
//! at the end of a record, with what its absence means; nothing is reordered or removed.

use heapless::{String, Vec};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use crate::{JigParts, Microohms, Millicelsius, Milliohms, Nanoohms, Plug};

/// The most bytes of one record; a zero of an end plug with a long name takes some 110. (judgement)
pub const RECORD_MAX: usize = 128;

/// One record's bytes; none: nothing is kept under that key.
pub type Record = Vec<u8, RECORD_MAX>;

/// What is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Key {
    /// A [`KeptZero`].
    Zero,
    /// A [`KeptPlug`]: the end plug that belongs to the jig.
    Plug,
    /// What its owner calls it: a [`Name`].
    Name,
    /// [`JigParts`], as they were measured.
    Parts,
}

impl Key {
    /// All, in the order of their numbers.
    pub const ALL: [Self; 4] = [Self::Zero, Self::Plug, Self::Name, Self::Parts];

    /// Whether these bytes are what is kept under this key.
    #[must_use]
    pub fn fits(self, bytes: &[u8]) -> bool {
        let mut walk = Walk(bytes);
        match self {
            Self::Zero => walk.zero(),
            Self::Plug => plug(bytes).map(|_| ()),
            Self::Name => walk.text(NAME_MAX),
            Self::Parts => parts(bytes).map(|_| ()),
        }
        .is_some()
    }
}

/// What an owner calls a jig.
pub type Name = String<NAME_MAX>;

const NAME_MAX: usize = 24;
const PLUG_NAME_MAX: usize = 16;

/// An end plug, and what is written on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptPlug {
    /// What is written on it; may be empty.
    pub name: String<PLUG_NAME_MAX>,
    /// Its resistors.
    pub plug: Plug,
}

/// What a jig read of its end plug with nothing between.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptZero {
    /// Between each pair of posts, in the order of [`Post::PAIRS`](crate::Post::PAIRS), by `series`.
    pub ohm: [Microohms; 6],
    /// Standard uncertainty of these, from noise alone.
    pub u: [Nanoohms; 6],
    /// How warm the jig was, if it could tell.
    pub jig: Option<Millicelsius>,
    /// When it was taken: seconds since 1970 began, UTC.
    pub taken_unix_s: u64,
    /// The jig's series resistors that `ohm` is told by: with others, it is another jig's.
    pub series: [Milliohms; 4],
    /// The end plug that was read.
    pub plug: KeptPlug,
}

/// Why nothing was kept, or told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum NotKept {
    /// This jig keeps nothing.
    NotCapable,
    /// It is measuring: its memory rests while the run is driven.
    Measuring,
    /// A hazard is latched; re-arm first.
    HazardLatched,
    /// The bytes are no record of that kind.
    NotARecord,
    /// Its memory does not work.
    Fault,
}

/// What a record's bytes say; none, if they are none of this kind. What a newer writer added behind is
/// passed over.
#[must_use]
pub fn read<T: DeserializeOwned>(bytes: &[u8]) -> Option<T> {
    postcard::from_bytes(bytes).ok()
}

/// The plug of a [`KeptPlug`]'s bytes, for a jig: reading all of it by `read` takes kilobytes of code.
#[must_use]
pub fn plug(bytes: &[u8]) -> Option<Plug> {
    let mut walk = Walk(bytes);
    walk.text(PLUG_NAME_MAX)?;
    walk.plug()
}

/// [`JigParts`], likewise.
#[must_use]
pub fn parts(bytes: &[u8]) -> Option<JigParts> {
    let mut walk = Walk(bytes);
    Some(JigParts {
        series: walk.four()?,
        series_tolerance_ppm: walk.number()? as u32,
        pull: Milliohms(walk.number()?),
        divider: Milliohms(walk.number()?),
        sense: Milliohms(walk.number()?),
    })
}

/// Postcard, byte by byte (whether a text is one is for its reader to see, who has room for the code): whole numbers by seven bits, the low ones first; texts behind their length.
struct Walk<'a>(&'a [u8]);

impl Walk<'_> {
    #[inline(never)]
    fn number(&mut self) -> Option<u64> {
        let mut number = 0;
        for shift in (0..64).step_by(7) {
            let (byte, rest) = self.0.split_first()?;
            self.0 = rest;
            number |= u64::from(byte & 0x7F) << shift;
            if *byte < 0x80 {
                return Some(number);
            }
        }
        None
    }

    fn text(&mut self, max: usize) -> Option<()> {
        let length = usize::try_from(self.number()?).ok().filter(|length| *length <= max)?;
        self.0 = self.0.get(length..)?;
        Some(())
    }

    fn four(&mut self) -> Option<[Milliohms; 4]> {
        let mut four = [Milliohms(0); 4];
        for one in &mut four {
            *one = Milliohms(self.number()?);
        }
        Some(four)
    }

    fn plug(&mut self) -> Option<Plug> {
        Some(Plug { ring: self.four()?, tolerance_ppm: self.number()? as u32 })
    }

    /// A [`KeptZero`], of which a jig wants no more than that it is one.
    fn zero(&mut self) -> Option<()> {
        for _ in 0..12 {
            self.number()?;
        }
        if self.number()? > 0 {
            self.number()?;
        }
        self.number()?;
        self.four()?;
        self.text(PLUG_NAME_MAX)?;
        self.plug().map(|_| ())
    }
}

/// A record's bytes; none, if they are more than [`RECORD_MAX`].
pub fn written<T: Serialize>(value: &T) -> Option<Record> {
    let mut record = Record::new();
    record.resize_default(RECORD_MAX).ok()?;
    let used = postcard::to_slice(value, &mut record).ok()?.len();
    record.truncate(used);
    Some(record)
}

#[test]
fn a_record_is_read_as_it_was_written_and_not_when_it_is_cut() {
    let plug =
        Plug { ring: [33_200, 47_500, 68_100, 150_000].map(Milliohms), tolerance_ppm: 1_000 };
    let plug = KeptPlug { name: "the red one, No 7".chars().take(16).collect(), plug };
    let zero = KeptZero {
        ohm: [999_999_999; 6].map(Microohms),
        u: [999_999_999; 6].map(Nanoohms),
        jig: Some(Millicelsius(i32::MAX)),
        taken_unix_s: u64::from(u32::MAX),
        series: [346_000; 4].map(Milliohms),
        plug: plug.clone(),
    };
    let bytes = written(&zero).expect("fits");
    assert_eq!(read(&bytes), Some(zero));
    for cut in 0..bytes.len() {
        assert!(!Key::Zero.fits(&bytes[..cut]), "cut to {cut}");
    }
    let mut newer = bytes.clone();
    newer.push(7).expect("room");
    assert!(Key::Zero.fits(&newer));
    let bytes = written(&plug).expect("fits");
    assert_eq!(self::plug(&bytes), Some(plug.plug));
    assert_eq!(read(&bytes), Some(plug));
    let parts = JigParts {
        series: [1, 128, 346_000, u64::MAX].map(Milliohms),
        series_tolerance_ppm: u32::MAX,
        pull: Milliohms(0),
        divider: Milliohms(4_522_000_000),
        sense: Milliohms(3_197_279),
    };
    let bytes = written(&parts).expect("fits");
    assert_eq!(self::parts(&bytes), Some(parts));
    assert!((0..bytes.len()).all(|cut| !Key::Parts.fits(&bytes[..cut])));
    assert!(!Key::Name.fits(&[25]) && !Key::Name.fits(&[1]));
}
