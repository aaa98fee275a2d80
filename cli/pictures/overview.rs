//! The overview: turf, crabgrass, quality, nitrogen and organic matter under one time axis.

use std::collections::BTreeSet;

use sim::ensemble::condition::Seen;
use sim::ensemble::{ProgramResults, Results};
use sim::lawn::quality::ACCEPTABLE;
use sim::scenario::Scenario;

use super::sketch::{Content, Sketch, Ticks, every_program, note, panel, span};
use super::title;
use crate::units::Units;
use crate::words::name;

/// Measures shown, top to bottom.
const SHOWN: [&str; 5] =
    ["turf_cover", "crabgrass_cover", "quality", "mineral_n", "organic_matter"];

/// The overview of all programs.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Sketch {
    let panels = SHOWN.iter().filter_map(|key| {
        let mut panel = panel(results, key, units)?;
        if *key == "quality" {
            panel.mark = Some((ACCEPTABLE, "6 = acceptable".into()));
        }
        panel.seen = seen(results, key);
        Some(panel)
    });
    let title = title::claim(results, title::telling_claim(results));
    Sketch {
        name: "overview".into(),
        subtitle: format!("{}, day by day in {}", scenario.title, name::simulated(results.members)),
        alt: format!("Daily bands for each program under one time axis. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Overview(
            span(results),
            panels.collect(),
            ticks(results, scenario),
            last_look(results),
        ),
    }
}

/// Day of the run on which what has been ends.
fn last_look(results: &Results) -> Option<usize> {
    let until = results.conditioning.as_ref()?.until?;
    usize::try_from(until.0 - results.first.0).ok()
}

/// Looks at one measure: day, value, give or take. Shares of the lawn are % in every unit system.
fn seen(results: &Results, key: &str) -> Vec<(usize, f64, f64)> {
    let looks = results.conditioning.iter().flat_map(|c| &c.seen);
    let within = |seen: &Seen| {
        let (what, day) = seen.what?;
        let day = usize::try_from(day.0 - results.first.0).ok()?;
        (what.measure() == key).then_some((day, seen.value, seen.sd))
    };
    looks.filter_map(within).collect()
}

/// When each practice of each program was done.
pub fn ticks(results: &Results, scenario: &Scenario) -> Vec<Ticks> {
    let mut rows = Vec::new();
    for (index, (played, written)) in results.programs.iter().zip(&scenario.programs).enumerate() {
        for (number, practice) in written.practices.iter().enumerate() {
            let shares = shares(results, played, number);
            if shares.iter().any(|s| *s > 0.0) {
                rows.push((practice.key.as_str(), index, shares));
            }
        }
    }
    // The second half of a split practice stands below the first, whichever program has it.
    let whole = |key: &str| key.trim_end_matches(name::SECOND).to_string();
    let mut order: Vec<String> = rows.iter().map(|row| whole(row.0)).collect();
    let mut seen = BTreeSet::new();
    order.retain(|key| seen.insert(key.clone()));
    rows.sort_by_key(|(key, ..)| {
        (order.iter().position(|k| *k == whole(key)), key.ends_with(name::SECOND))
    });
    let row = |(key, program, shares): (&str, usize, Vec<f64>)| Ticks {
        program,
        practice: name::practice(key),
        shares,
    };
    rows.into_iter().map(row).collect()
}

/// Share of the members that did a practice, by day.
fn shares(results: &Results, program: &ProgramResults, practice: usize) -> Vec<f64> {
    let mut done = vec![0_u32; results.days];
    for work in &program.work {
        // A practice with two acts, such as spreading and watering in, counts once a day.
        let mut last = None;
        for entry in work.iter().filter(|e| usize::from(e.practice) == practice) {
            if last == Some(entry.day) {
                continue;
            }
            last = Some(entry.day);
            let day = usize::try_from(entry.day.0 - results.first.0).ok();
            if let Some(count) = day.and_then(|d| done.get_mut(d)) {
                *count += 1;
            }
        }
    }
    let members = f64::from(results.members.max(1));
    done.into_iter().map(|n| f64::from(n) / members).collect()
}
