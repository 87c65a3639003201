//! How wide the columns of a grid are: as wide as what stands in them where there is room, else the long ones share it.

/// `natural_pt` is what each would need on one line.
pub(super) fn widths_pt(natural_pt: &[f64], width_pt: f64) -> Vec<f64> {
    let mut widths: Vec<Option<f64>> = vec![None; natural_pt.len()];
    loop {
        let taken: f64 = widths.iter().flatten().sum();
        let open = widths.iter().filter(|one| one.is_none()).count();
        if open == 0 {
            break;
        }
        let share = (width_pt - taken) / open as f64;
        let mut is_changed = false;
        for (width, natural) in widths.iter_mut().zip(natural_pt) {
            if width.is_none() && *natural <= share {
                *width = Some(*natural);
                is_changed = true;
            }
        }
        if !is_changed {
            return shared(&widths, natural_pt, width_pt - taken);
        }
    }
    widths.into_iter().flatten().collect()
}

/// Whoever needs more gets more, but nobody less than half of a fair share.
fn shared(widths: &[Option<f64>], natural_pt: &[f64], left_pt: f64) -> Vec<f64> {
    let open: Vec<f64> =
        widths.iter().zip(natural_pt).filter(|(one, _)| one.is_none()).map(|(_, pt)| *pt).collect();
    let all: f64 = open.iter().sum();
    let fair = left_pt / open.len().max(1) as f64;
    let share = |natural: f64| 0.5 * fair + 0.5 * left_pt * natural / all;
    widths
        .iter()
        .zip(natural_pt)
        .map(|(one, natural)| one.unwrap_or_else(|| share(*natural)))
        .collect()
}

#[test]
fn they_fill_the_sheet_and_no_more() {
    assert_eq!(widths_pt(&[10.0, 20.0], 100.0), [10.0, 20.0]);
    let widths = widths_pt(&[10.0, 500.0, 100.0], 200.0);
    assert!((widths.iter().sum::<f64>() - 200.0).abs() < 1e-9, "{widths:?}");
    assert_eq!(widths[0], 10.0);
    assert!(widths[1] > widths[2] && widths[2] > 40.0, "{widths:?}");
    assert_eq!(widths_pt(&[], 100.0), [] as [f64; 0]);
}
