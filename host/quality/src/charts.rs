//! Control charts: whether a process, or a jig, still does what it did.
//!
//! [`Individuals`] with its moving range, [`ewma`] and [`cusum`] (NIST/SEMATECH e-Handbook 6.3.2); [`signals`] are the points
//! at which a rule says that it does not; [`offset`] and [`slope`] hold check measurements against what they should show.

mod cusum;
mod drift;
mod ewma;
mod individuals;
mod rules;

pub use cusum::{Cusum, CusumPoint, cusum};
pub use drift::{Estimate, offset, slope};
pub use ewma::{Ewma, ewma};
pub use individuals::Individuals;
pub use rules::{Rule, Signal, signals};
