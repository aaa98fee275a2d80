//! From a sketch to its files: SVG and PNG.

use plots::{
    Application, BandSeries, BarrierPicture, BarrierProgram, Better, Caption, ContrastPanel,
    ContrastPicture, Dates, DotRow, DotsPicture, Mark, Overview, Picture, PlotError, PracticeTicks,
    ProgramStyle, ScoreCell, ScoreRow, Scorecard, Seen,
};
use sim::ensemble::Band;

use crate::failure::Failure;
use crate::pictures::Sketch;
use crate::pictures::sketch::{self, Content, Dots, Named, Span};

/// Pixels of a PNG for each pixel of its SVG: enough for a phone and for print on half a page.
const PNG_SCALE: f64 = 2.0;

/// The files of a picture: name and bytes.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub fn draw(sketch: &Sketch) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let failed = |error: PlotError| failed(&sketch.name, &error);
    let picture = picture(sketch).map_err(failed)?;
    let png = picture.png(PNG_SCALE).map_err(failed)?;
    Ok(vec![
        (format!("{}.svg", sketch.name), picture.svg.into_bytes()),
        (format!("{}.png", sketch.name), png),
    ])
}

/// A picture as SVG text, for a page that holds it.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub fn svg(sketch: &Sketch) -> Result<String, Failure> {
    let picture = picture(sketch).map_err(|error| failed(&sketch.name, &error))?;
    Ok(picture.svg)
}

/// What to say of a picture that cannot be drawn.
pub fn failed(name: &str, error: &PlotError) -> Failure {
    Failure::Machine(format!("the picture `{name}` cannot be drawn: {error}"))
}

/// A picture's PNG.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be made.
pub fn png(name: &str, picture: &Picture) -> Result<Vec<u8>, Failure> {
    picture.png(PNG_SCALE).map_err(|error| failed(name, &error))
}

fn picture(sketch: &Sketch) -> Result<Picture, PlotError> {
    let caption = caption(sketch);
    let programs: Vec<ProgramStyle> = styles(sketch);
    match &sketch.content {
        Content::Overview(span, panels, ticks, today) => plots::overview(&Overview {
            caption,
            dates: dates(span),
            programs,
            panels: panels.iter().map(panel).collect(),
            ticks: ticks
                .iter()
                .map(|t| PracticeTicks {
                    program: t.program,
                    label: t.practice.clone(),
                    shares: t.shares.clone(),
                })
                .collect(),
            today: today.map(|day| (day, "seen until here".to_string())),
        }),
        Content::Contrast(span, panels) => plots::contrast(&ContrastPicture {
            caption,
            dates: dates(span),
            panels: panels.iter().map(difference).collect(),
        }),
        Content::Barrier(span, unit, rows) => plots::barrier(&BarrierPicture {
            caption,
            dates: dates(span),
            seedlings_unit: unit.clone(),
            programs: programs.into_iter().zip(rows).map(|(p, row)| barrier(p, row)).collect(),
        }),
        Content::Dots(content) => plots::dots(&dots(caption, programs, content)),
        Content::Scorecard(covered, rows) => plots::scorecard(&Scorecard {
            caption,
            covered: covered.clone(),
            programs,
            rows: rows.iter().map(score).collect(),
        }),
    }
}

fn caption(sketch: &Sketch) -> Caption {
    Caption {
        title: sketch.title.clone(),
        subtitle: Some(sketch.subtitle.clone()),
        alt: sketch.alt.clone(),
        note: Some(sketch.note.clone()),
    }
}

fn styles(sketch: &Sketch) -> Vec<ProgramStyle> {
    let style = |named: &Named| ProgramStyle {
        name: named.name.clone(),
        short: Some(named.short.clone()),
        place: named.place,
    };
    sketch.programs.iter().map(style).collect()
}

fn dates(span: &Span) -> Dates {
    Dates { first: span.first, days: span.days }
}

fn series(band: &Band) -> BandSeries {
    BandSeries {
        p05: band.p05.clone(),
        p25: band.p25.clone(),
        p50: band.p50.clone(),
        p75: band.p75.clone(),
        p95: band.p95.clone(),
    }
}

fn mark((value, label): &(f64, String)) -> Mark {
    Mark { value: *value, label: label.clone() }
}

fn panel(panel: &sketch::Panel) -> plots::Panel {
    plots::Panel {
        title: panel.label.clone(),
        unit: panel.unit.clone(),
        range: panel.range,
        series: panel.bands.iter().map(series).collect(),
        acceptable: panel.mark.as_ref().map(mark),
        seen: panel
            .seen
            .iter()
            .map(|&(day, value, give_or_take)| Seen { day, value, give_or_take })
            .collect(),
    }
}

fn difference(panel: &sketch::DifferencePanel) -> ContrastPanel {
    ContrastPanel {
        title: panel.label.clone(),
        unit: panel.unit.clone(),
        band: series(&panel.band),
        above: panel.above.clone(),
        below: panel.below.clone(),
        least: Some(panel.least),
    }
}

fn barrier(style: ProgramStyle, row: &sketch::BarrierRow) -> BarrierProgram {
    let laid = row.laid.iter().map(|(label, early, usual, late)| Application {
        label: label.clone(),
        early_day: *early,
        usual_day: *usual,
        late_day: *late,
    });
    BarrierProgram {
        style,
        strength: series(&row.strength),
        trying: row.trying.clone(),
        through: row.through.clone(),
        applications: laid.collect(),
        result: Some(row.result.clone()),
    }
}

fn dots(caption: Caption, programs: Vec<ProgramStyle>, content: &Dots) -> DotsPicture {
    let rows = programs.into_iter().zip(&content.rows).zip(&content.counts);
    DotsPicture {
        caption,
        axis: content.axis.clone(),
        range: None,
        line: Some(mark(&content.line)),
        better: if content.above_is_good { Better::Higher } else { Better::Lower },
        rows: rows
            .map(|((style, values), count)| DotRow {
                style,
                values: values.clone(),
                count: count.clone(),
                remark: Some(content.remark.clone()),
            })
            .collect(),
    }
}

fn score(row: &sketch::ScoreRow) -> ScoreRow {
    let cells = row.cells.iter().map(|([low, middle, high], text, between)| ScoreCell {
        low: *low,
        middle: *middle,
        high: *high,
        text: text.clone(),
        between: between.clone(),
    });
    ScoreRow {
        title: row.label.clone(),
        remark: row.remark.clone(),
        range: None,
        cells: cells.collect(),
    }
}
