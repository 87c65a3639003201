//! The interlock: two register writes that let go of the run, and the flag that keeps it let go.
//!
//! It needs no task, lock or bus, so the watch's interrupt and a panic can use it. Whoever drives a pin
//! looks at the flag afterwards: what was driven too late is let go again.

use core::sync::atomic::{AtomicBool, Ordering};

use embassy_rp::pac::SIO;

/// What the pins module has for posts, pulls and references.
const LINES: u32 = 0b1111 << 2 | 0b11 << 6 | 0b1111 << 10;
/// The relays' coils.
const COILS: u32 = 0b11 << 8 | 0b11 << 24;

static TRIPPED: AtomicBool = AtomicBool::new(false);

/// Lets go of every line and coil, until [`rearm`].
pub(super) fn trip() {
    TRIPPED.store(true, Ordering::SeqCst);
    let_go();
}

/// Lets go of every line and coil, now.
pub(super) fn let_go() {
    SIO.gpio_oe(0).value_clr().write_value(LINES);
    SIO.gpio_out(0).value_clr().write_value(LINES | COILS);
}

/// For whoever has just driven a pin.
pub(super) fn heed() {
    if TRIPPED.load(Ordering::SeqCst) {
        let_go();
    }
}

/// Lines and coils may be driven again.
pub(super) fn rearm() {
    TRIPPED.store(false, Ordering::SeqCst);
}
