//! What was measured becomes a record as soon as it exists.

mod keep;
mod made;

pub(crate) use keep::{Recorded, keep, store, store_to_read};
pub(crate) use made::{PROGRAM, name, of_check, of_live, of_piece, of_reel, of_zero, text};
