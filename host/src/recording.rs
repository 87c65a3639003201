//! What was measured becomes a record as soon as it exists.

mod keep;
mod made;
mod meanwhile;

pub(crate) use keep::{Recorded, keep, store, store_to_read};
pub(crate) use made::{
    PROGRAM, name, of_check, of_flex, of_live, of_piece, of_reel, of_zero, text,
};
pub(crate) use meanwhile::Meanwhile;
