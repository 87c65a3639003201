//! How large letters are: from large to as small as can be read.

/// Nothing is smaller.
const LEAST_PT: f64 = 6.5;
const MOST_PT: f64 = 9.5;
const STEP_PT: f64 = 0.25;
/// Where a section goes over several sheets there is room enough.
const SEVERAL_PT: f64 = 8.0;
/// Of a line, by its letters.
const LEADING: f64 = 1.2;

#[derive(Clone, Copy, Debug)]
pub(super) struct Sizes {
    pub(super) body_pt: f64,
    /// What is looked up.
    pub(super) fine_pt: f64,
    pub(super) heading_pt: f64,
}

impl Sizes {
    fn new(body_pt: f64) -> Self {
        let fine_pt = (body_pt - 1.25).max(LEAST_PT);
        Self { body_pt, fine_pt, heading_pt: body_pt * 1.4 }
    }

    pub(super) fn least() -> Self {
        Self::new(LEAST_PT)
    }

    /// The largest first.
    pub(super) fn all() -> impl Iterator<Item = Self> {
        let steps = ((MOST_PT - LEAST_PT) / STEP_PT).round() as u32;
        (0..=steps).map(|n| Self::new(MOST_PT - STEP_PT * f64::from(n)))
    }

    pub(super) fn several() -> Self {
        Self::new(SEVERAL_PT)
    }

    /// Between blocks.
    pub(super) fn gap_pt(self) -> f64 {
        self.body_pt * 0.55
    }
}

pub(super) fn line_pt(size_pt: f64) -> f64 {
    size_pt * LEADING
}

#[test]
fn the_smallest_can_be_read() {
    let all: Vec<Sizes> = Sizes::all().collect();
    assert!(all.iter().all(|one| one.fine_pt >= LEAST_PT && one.body_pt >= LEAST_PT));
    assert_eq!(all.last().map(|one| one.body_pt), Some(Sizes::least().body_pt));
}
