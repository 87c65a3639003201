//! Time, given to the engine by its board.

use core::future::Future;

use runproof_protocol::Microseconds;

/// A board's clock.
pub trait Clock {
    /// Now.
    fn now(&self) -> Microseconds;

    /// Ready at `at`, or at once if that has passed.
    fn until(&self, at: Microseconds) -> impl Future<Output = ()>;
}
