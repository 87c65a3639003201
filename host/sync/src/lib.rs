//! Records, copied both ways between a store and a PostgreSQL database: whatever one side lacks, by marks of what is there.
//!
//! `sync-format.md`, beside this, says how, what the database holds, and why nothing is lost or doubled whenever it is cut.

mod address;
mod compare;
mod error;
mod receive;
mod schema;
mod send;
mod server;
mod synced;
mod tls;
mod transfer;

pub use address::{Address, NotAnAddress};
pub use error::SyncError;
pub use server::Server;
pub use synced::{Follows, Refusal, Refused, Synced};
pub use transfer::sync;
