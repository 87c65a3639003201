//! A jig to talk to: a port that carries bytes, a thread that owns it, a conversation over it.

mod conversation;
mod error;
mod find;
mod flexing;
mod link;
mod measurement;
mod serial;
mod simulated;

pub(crate) use conversation::{Conversation, Jig};
pub(crate) use error::JigError;
pub(crate) use find::the_attached_jig;
pub(crate) use flexing::{Watched, Watching};
pub(crate) use measurement::Doing;
pub(crate) use serial::SerialPort;
pub(crate) use simulated::SimulatedPort;
pub(crate) use simulated::hands::Operator;
pub(crate) use simulated::leads::Fault;

use std::io;
use std::time::Duration;

/// How long a port may wait for bytes.
const PATIENCE: Duration = Duration::from_millis(50);

/// Anything that carries bytes to a jig and back.
pub(crate) trait Port {
    /// Sends all of `bytes`.
    fn send(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Waits a little for bytes; 0 means that none came.
    fn receive(&mut self, buffer: &mut [u8]) -> io::Result<usize>;

    /// Time stands still at the other end while the host does not wait to hear something; then one
    /// event comes at a time. So a simulated check comes out the same however busy the computer is.
    fn waits_for_host(&self) -> bool {
        false
    }
}
