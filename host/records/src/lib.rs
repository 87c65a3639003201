//! What was measured, kept: a store in one SQLite file, its search, what goes out of it and comes in.
//!
//! A [`Record`] is a whole test: the capture, the limit sheet as it was used, what was told, what followed from it then.
//! [`Store::save`] keeps one in one transaction; nothing that is kept is ever changed or deleted. What somebody says about
//! it afterwards is a [`Detail`] more, and so is that it is void.

mod csv;
mod detail;
mod digest;
mod error;
mod find;
mod list;
mod lots;
mod marks;
mod one;
mod pack;
#[cfg(feature = "parquet")]
mod parquet;
mod proofs;
mod record;
mod save;
mod schema;
mod store;
mod text;
mod used;

pub use detail::{Detail, Key, latest};
pub use digest::Digest;
pub use error::StoreError;
pub use list::{Filter, Listed};
pub use lots::UnitTest;
pub use marks::{DetailMark, Mark};
pub use pack::Packed;
pub use proofs::PieceTest;
pub use record::{Kind, Record, Sheet, sha256, verdict_name, verdict_of};
pub use save::Kept;
pub use store::Store;
pub use text::{TextError, VERSION};
pub use used::{Used, UsedSheet, Versions};
pub use {jiff, uuid};
