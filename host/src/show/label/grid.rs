//! Labels on sheets: a plain grid, told by numbers.

use maud::html;

use super::Label;
use super::drawing::on_white;
use super::size::Size;
use crate::show::words;

/// Where labels are on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Grid {
    pub(crate) paper: Size,
    pub(crate) label: Size,
    /// Beside each other and below each other.
    pub(crate) counts: [u32; 2],
    /// From the paper's left and upper edge.
    pub(crate) margin: Size,
    /// From one label's edge to the next one's.
    pub(crate) pitch: Size,
}

/// So much may be rounded away of numbers that are told.
const NEAR_MM: f64 = 0.05;

impl Grid {
    /// As many as fit, as far from the other edges.
    pub(crate) fn full(paper: Size, label: Size, margin: Size, pitch: Size) -> Self {
        let fit = |paper: f64, label: f64, margin: f64, pitch: f64| {
            ((paper - 2.0 * margin - label + NEAR_MM) / pitch + 1.0).clamp(0.0, 1e3) as u32
        };
        let counts = [
            fit(paper.width_mm, label.width_mm, margin.width_mm, pitch.width_mm),
            fit(paper.height_mm, label.height_mm, margin.height_mm, pitch.height_mm),
        ];
        Self { paper, label, counts, margin, pitch }
    }

    /// Every label is whole on the paper, none over another, and there is at least one.
    pub(crate) fn fits(&self) -> bool {
        let fits = |count: u32, paper: f64, label: f64, margin: f64, pitch: f64| {
            let end = margin + pitch * f64::from(count.saturating_sub(1)) + label;
            count > 0 && end <= paper + NEAR_MM && (count == 1 || pitch + NEAR_MM >= label)
        };
        let Self { paper, label, counts: [across, down], margin, pitch } = self;
        fits(*across, paper.width_mm, label.width_mm, margin.width_mm, pitch.width_mm)
            && fits(*down, paper.height_mm, label.height_mm, margin.height_mm, pitch.height_mm)
    }

    /// Row by row; a drawing for each sheet.
    pub(crate) fn sheets(&self, labels: &[Label]) -> Vec<String> {
        let [across, down] = self.counts.map(|count| count.max(1) as usize);
        let Size { width_mm, height_mm } = self.paper;
        let sheet = |labels: &[Label]| {
            let drawn = html! {
                svg xmlns="http://www.w3.org/2000/svg" width=(format!("{width_mm}mm")) height=(format!("{height_mm}mm"))
                    viewBox=(format!("0 0 {width_mm} {height_mm}")) {
                    @for (n, label) in labels.iter().enumerate() {
                        g transform=(self.at(n % across, n / across)) { (on_white(label, self.label)) }
                    }
                }
            };
            words::printable(&drawn.into_string())
        };
        labels.chunks(across * down).map(sheet).collect()
    }

    fn at(&self, column: usize, row: usize) -> String {
        let x = self.margin.width_mm + self.pitch.width_mm * column as f64;
        let y = self.margin.height_mm + self.pitch.height_mm * row as f64;
        format!("translate({x:.3} {y:.3})")
    }
}

#[test]
fn a_grid_stays_on_its_paper() {
    let size = |text: &str| text.parse::<Size>().expect("a size");
    let (letter, label) = (size("215.9x279.4mm"), size("30x15mm"));
    let full = Grid::full(letter, label, size("10x10mm"), size("32x17mm"));
    assert_eq!(full.counts, [6, 15]);
    assert!(full.fits());
    assert!(!Grid { counts: [7, 15], ..full }.fits(), "one more is beyond the paper");
    assert!(!Grid { pitch: size("20x17mm"), counts: [2, 2], ..full }.fits(), "one over another");
    assert!(!Grid::full(size("20x20mm"), label, size("1x1mm"), label).fits());
    for wrong in ["", "30x15", "x15mm", "-1x15mm", "NaNx15mm", "1e9x15mm", "30mm"] {
        assert!(wrong.parse::<Size>().is_err(), "{wrong}");
    }
}
