//! What a share is held against.

use std::fmt;

use crate::statistics::Share;

/// As a fraction.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Bar {
    Unset,
    None,
    All,
    AtLeast(f64),
    AtMost(f64),
    Within(f64, f64),
}

impl Bar {
    /// By what was counted, not by its interval.
    pub(crate) fn met(self, share: Share) -> Option<bool> {
        if share.of == 0 {
            return None;
        }
        match self {
            Self::Unset => None,
            Self::None => Some(share.are == 0),
            Self::All => Some(share.are == share.of),
            Self::AtLeast(least) => Some(share.fraction() >= least),
            Self::AtMost(most) => Some(share.fraction() <= most),
            Self::Within(least, most) => Some((least..=most).contains(&share.fraction())),
        }
    }
}

impl fmt::Display for Bar {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let percent = |fraction: f64| format!("{:.4}", 100.0 * fraction);
        let percent =
            |fraction| percent(fraction).trim_end_matches('0').trim_end_matches('.').to_owned();
        let text = match *self {
            Self::Unset => String::new(),
            Self::None => "none".into(),
            Self::All => "all".into(),
            Self::AtLeast(least) => format!("≥ {} %", percent(least)),
            Self::AtMost(most) => format!("≤ {} %", percent(most)),
            Self::Within(least, most) => format!("{} to {} %", percent(least), percent(most)),
        };
        f.pad(&text)
    }
}
