//! What keeps the readings from telling more.

use runproof_protocol::Post;

use crate::judgement::{Cause, Finding, FindingKind, Severity, Unit};

/// Why a step of the way to a judgement cannot be taken.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Obstacle {
    pub(crate) kind: FindingKind,
    pub(crate) cause: Option<Cause>,
    pub(crate) posts: Vec<Post>,
    pub(crate) value: Option<(f64, Unit)>,
}

impl Obstacle {
    pub(crate) fn new(kind: FindingKind) -> Self {
        Self { kind, cause: None, posts: Vec::new(), value: None }
    }

    pub(crate) fn incomplete(cause: Cause) -> Self {
        Self { cause: Some(cause), ..Self::new(FindingKind::Incomplete) }
    }

    pub(crate) fn cause(mut self, cause: Cause) -> Self {
        self.cause = Some(cause);
        self
    }

    pub(crate) fn posts(mut self, posts: impl Into<Vec<Post>>) -> Self {
        self.posts = posts.into();
        self
    }

    pub(crate) fn value(mut self, value: f64, unit: Unit) -> Self {
        self.value = Some((value, unit));
        self
    }
}

impl From<Obstacle> for Finding {
    fn from(obstacle: Obstacle) -> Self {
        let mut finding = Self::new(obstacle.kind, Severity::CannotTell);
        finding.cause = obstacle.cause;
        finding.posts = obstacle.posts;
        finding.value = obstacle.value.map(|value| value.0);
        finding.unit = obstacle.value.map(|value| value.1);
        finding
    }
}
