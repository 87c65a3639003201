//! Reels of cable, for a shop's test, that come with the program.

/// Reels by name.
pub const REELS: [(&str, &str); 7] = [
    ("reel-copper", include_str!("../scenes/reels/reel-copper.toml")),
    ("reel-copper-clad", include_str!("../scenes/reels/reel-copper-clad.toml")),
    ("reel-warming", include_str!("../scenes/reels/reel-warming.toml")),
    ("reel-buried", include_str!("../scenes/reels/reel-buried.toml")),
    ("reel-open", include_str!("../scenes/reels/reel-open.toml")),
    ("reel-short", include_str!("../scenes/reels/reel-short.toml")),
    ("reel-thin", include_str!("../scenes/reels/reel-thin.toml")),
];
