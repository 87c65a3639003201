//! A chart on a terminal.

use textplots::{Chart as Plot, Plot as _, Shape};

use super::Chart;

/// Dots: two beside and four above each other are a letter.
const WIDTH: u32 = 120;
const HEIGHT: u32 = 40;

pub(super) fn text(chart: &Chart) -> String {
    let points: Vec<(f32, f32)> =
        chart.points.iter().map(|(x, y)| (*x as f32, *y as f32)).collect();
    let (x, y) = (&chart.x, &chart.y);
    let (from, to) = (x.from as f32, x.to as f32);
    let line = Shape::Lines(&points);
    let mut plot = Plot::new_with_y_range(WIDTH, HEIGHT, from, to, y.from as f32, y.to as f32);
    let plot = plot.lineplot(&line);
    plot.axis();
    plot.figures();
    format!("  {} (up) by what {} (across)\n{plot}", y.name, x.name)
}
