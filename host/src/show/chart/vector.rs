//! A chart as SVG.

use std::error::Error;

use plotters::prelude::*;

use super::Chart;

const SIZE: (u32, u32) = (640, 320);

/// What cannot be drawn is left out: the numbers stand beside it.
pub(super) fn svg(chart: &Chart) -> String {
    let mut drawn = String::new();
    match draw(chart, &mut drawn) {
        Ok(()) => named(&drawn, &chart.caption),
        Err(_) => String::new(),
    }
}

fn draw(chart: &Chart, drawn: &mut String) -> Result<(), Box<dyn Error>> {
    let area = SVGBackend::with_string(drawn, SIZE).into_drawing_area();
    let (x, y) = (&chart.x, &chart.y);
    let mut on = ChartBuilder::on(&area)
        .margin(12)
        .x_label_area_size(42)
        .y_label_area_size(52)
        .build_cartesian_2d(x.from..x.to, y.from..y.to)?;
    on.configure_mesh()
        .x_desc(x.name)
        .y_desc(y.name)
        .light_line_style(TRANSPARENT)
        .label_style(("sans-serif", 14))
        .axis_desc_style(("sans-serif", 15))
        .draw()?;
    for (at, name) in &chart.across {
        let line = [(x.from, *at), (x.to, *at)];
        on.draw_series(DashedLineSeries::new(line, 6, 4, BLACK.stroke_width(1)))?;
        let beside = (x.to - (x.to - x.from) * 0.08, *at + (y.to - y.from) * 0.06);
        on.draw_series([Text::new(*name, beside, ("sans-serif", 14))])?;
    }
    let line = chart.points.iter().copied();
    on.draw_series(LineSeries::new(line, BLUE.stroke_width(2)))?;
    if chart.marked {
        let dots = chart.points.iter().map(|at| Circle::new(*at, 3, BLUE.filled()));
        on.draw_series(dots)?;
    }
    area.present()?;
    Ok(())
}

/// Read aloud by what it shows.
fn named(svg: &str, caption: &str) -> String {
    let caption = maud::html! { (caption) }.into_string();
    svg.replacen("<svg ", &format!("<svg role=\"img\" aria-label=\"{caption}\" "), 1)
}
