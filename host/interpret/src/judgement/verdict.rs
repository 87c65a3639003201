//! Pass, fail, cannot tell: and what several of them make together.

use serde::{Deserialize, Serialize};

/// The answer for a conductor or for the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Within the limit, by more than the uncertainty.
    Pass,
    /// Beyond the limit, by more than the uncertainty; or wired wrongly.
    Fail,
    /// The readings do not decide it.
    CannotTell,
}

impl Verdict {
    /// Fail if either fails; else cannot tell if either cannot; else pass.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Fail, _) | (_, Self::Fail) => Self::Fail,
            (Self::CannotTell, _) | (_, Self::CannotTell) => Self::CannotTell,
            (Self::Pass, Self::Pass) => Self::Pass,
        }
    }
}

#[test]
fn a_fail_outweighs_and_a_pass_needs_all() {
    use Verdict::{CannotTell, Fail, Pass};
    assert_eq!(Pass.and(Pass), Pass);
    assert_eq!(Pass.and(CannotTell), CannotTell);
    assert_eq!(CannotTell.and(Fail), Fail);
    assert_eq!(Fail.and(Pass), Fail);
}
