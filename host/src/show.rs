//! A result as a person or a program meets it. Nothing here computes.

pub(crate) mod json;
pub(crate) mod terminal;
mod words;
