//! Powered runs that come with the program.

/// For reading what is on them, by name. A test of a run ends on most of them before it drives anything.
pub const LIVE: [(&str, &str); 23] = [
    ("live-good", include_str!("../scenes/live/live-good.toml")),
    ("live-reversed", include_str!("../scenes/live/live-reversed.toml")),
    ("live-no-supply", include_str!("../scenes/live/live-no-supply.toml")),
    ("live-low-supply", include_str!("../scenes/live/live-low-supply.toml")),
    ("live-sags", include_str!("../scenes/live/live-sags.toml")),
    ("live-no-bias", include_str!("../scenes/live/live-no-bias.toml")),
    ("live-pair-shorted", include_str!("../scenes/live/live-pair-shorted.toml")),
    ("live-four-terminators", include_str!("../scenes/live/live-four-terminators.toml")),
    ("live-traffic", include_str!("../scenes/live/live-traffic.toml")),
    ("live-hum", include_str!("../scenes/live/live-hum.toml")),
    ("live-ghost", include_str!("../scenes/live/live-ghost.toml")),
    ("live-common-missing", include_str!("../scenes/live/live-common-missing.toml")),
    ("live-half-wave", include_str!("../scenes/live/live-half-wave.toml")),
    ("live-full-wave", include_str!("../scenes/live/live-full-wave.toml")),
    ("live-dc12", include_str!("../scenes/live/live-dc12.toml")),
    ("live-second-phase", include_str!("../scenes/live/live-second-phase.toml")),
    ("live-second-frequency", include_str!("../scenes/live/live-second-frequency.toml")),
    ("live-to-earth", include_str!("../scenes/live/live-to-earth.toml")),
    ("live-to-earth-grounded", include_str!("../scenes/live/live-to-earth-grounded.toml")),
    ("live-50hz", include_str!("../scenes/live/live-50hz.toml")),
    ("live-over-voltage", include_str!("../scenes/live/live-over-voltage.toml")),
    ("live-mains-on-data", include_str!("../scenes/live/live-mains-on-data.toml")),
    ("live-industrial-mains", include_str!("../scenes/live/live-industrial-mains.toml")),
];
