//! The picture of a lesson: the shown measure under both programs, and when the work fell.

use sim::analysis::lesson::{Answer, CHANGED, USUAL};
use sim::ensemble::{MEASURES, Results};

use super::source::Ready;
use super::told::headline;
use crate::pictures::overview::ticks;
use crate::pictures::sketch::{Content, Sketch, map_band, note, panel, span, these_programs};
use crate::words::name;

/// The bands of both programs.
pub fn sketch(ready: &Ready, results: &Results, answer: &Answer) -> Sketch {
    let lesson = &ready.lesson;
    let both = [USUAL, CHANGED];
    let panels = panel(results, MEASURES[lesson.show].key, ready.units).map(|mut panel| {
        panel.bands.truncate(both.len());
        // Shares of one are told in % throughout a lesson.
        if MEASURES[lesson.show].unit == "share" {
            panel.bands = panel.bands.iter().map(|b| map_band(b, |v| 100.0 * v)).collect();
            panel.unit = "%".into();
        }
        panel
    });
    let title = headline(ready, answer);
    let mut ticks = ticks(results, &lesson.scenario);
    ticks.retain(|row| both.contains(&row.program));
    Sketch {
        name: format!("lesson-{}", ready.name),
        subtitle: format!(
            "{}: with the change and without, day by day in {}",
            name::quoted(&lesson.scenario.title),
            name::simulated(results.members)
        ),
        alt: format!("Daily bands with the change and without. {title}."),
        title,
        note: note(results),
        programs: these_programs(results, &both),
        content: Content::Overview(span(results), panels.into_iter().collect(), ticks, None),
    }
}
