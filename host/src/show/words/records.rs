//! What is said of a record.

pub(in crate::show) const VOID: &str = "this record no longer counts:";
