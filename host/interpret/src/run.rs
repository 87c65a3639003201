//! From pair resistances to the run: where each conductor arrives, and what resistance it has.

mod contacts;
mod expected;
mod hypothesis;
mod least_squares;
mod legs;
mod model;
mod parts;
mod rank;
mod ring;
mod whole_loop;

pub(crate) use expected::Expected;
pub(crate) use hypothesis::{Fitted, Suspect, penalty};
pub(crate) use legs::{Leg, Together, legs};
pub(crate) use rank::{RIVAL_WITHIN, Ranking, rank};
pub(crate) use ring::Ring;
pub(crate) use whole_loop::{WholeLoop, whole_loop};
