//! What brings the engine its lines, bus, time and bytes.

#[cfg(all(target_os = "none", feature = "rp2040"))]
pub mod rp2040;
#[cfg(feature = "simulated")]
pub mod simulated;
