//! Chooses members that show what was seen: the year before, and looks since the season began.

use super::super::condition::{Chosen, Seen, choose};
use super::super::facts::settle;
use super::super::{MEASURES, Observer, RunFault, measure};
use super::StationWorld;
use crate::calendar::Day;
use crate::draw::Purpose;
use crate::lawn::{State, measures};
use crate::outcomes::Almanac;
use crate::parameters;
use crate::scenario::{Scenario, Uncertain};
use crate::season::{Script, rehearse};

impl StationWorld<'_> {
    /// Chooses the members of a run by what was seen of the lawn.
    pub(super) fn choose(&self, observer: Observer) -> Result<Chosen, RunFault> {
        let scenario = self.plan.scenario;
        let constants = super::super::run::constants(self.plan)?;
        let until = self.until();
        let seen = seen(scenario, &self.catalogue.central().seen);
        let notes = scenario.scouting.as_ref().map_or(&[][..], |s| &s.notes);
        let before = seen.len() - notes.len();
        let year = scenario.first_year - 1;
        let day_of = |month, day| {
            Day::from_ymd(year, month, day)
                .zip(Day::from_ymd(year, 1, 1))
                .map_or(0, |(day, first)| (day.0 - first.0) as usize)
        };
        let (august, autumn) = (day_of(8, 25), day_of(10, 15));
        let almanac = Almanac::of_years(scenario.first_year, scenario.seasons);
        let followed = scenario
            .scouting
            .as_ref()
            .map(|s| Script::new(scenario, &scenario.programs[s.program], &almanac));
        let show = |origin: u32| -> Result<Vec<f64>, RunFault> {
            let fault = |reason: String| RunFault::Member { member: origin, reason };
            let mut shown = Vec::with_capacity(before + notes.len());
            let values = constants.draw(&self.base, origin);
            let (mut crabgrass, mut dandelion, mut clover) = (0.0, 0.0, 0.0);
            let last_year = |at: usize, lawn: &State| {
                if at == august {
                    crabgrass = lawn.weed.cover;
                }
                if at == autumn {
                    (dandelion, clover) = (lawn.dandelion.cover, lawn.clover.cover);
                }
            };
            let (parameters, setting, start) =
                self.lawn(&self.base, &values, origin, last_year).map_err(fault)?;
            if before > 0 {
                shown.extend([100.0 * crabgrass, 100.0 * start.turf_cover()]);
                let weeds =
                    [(&scenario.lawn.dandelion, dandelion), (&scenario.lawn.clover, clover)];
                let played = weeds.iter().filter(|(known, _)| known.is_some());
                shown.extend(played.map(|(_, cover)| 100.0 * cover));
            }
            let Some((script, until)) = followed.as_ref().zip(until) else {
                return Ok(shown);
            };
            let days = self.path(&self.base, origin).map_err(fault)?;
            let first = Day::from_ymd(scenario.first_year, 1, 1).unwrap_or(until);
            let days = &days[..days.len().min((until.0 - first.0 + 1).max(0) as usize)];
            let luck = self.base.of_member(origin, Purpose::Forecast);
            let skies = self.skies(days, first, &parameters, luck);
            let settled = settle(scenario, &self.base, origin);
            let script = script.of_member(&settled);
            let mut at_look = vec![0.0; notes.len()];
            let mut row = vec![0.0f32; MEASURES.len()];
            rehearse(&script, &self.base, origin, start, &setting, &skies, |at, lawn| {
                for (note, shown) in notes.iter().zip(&mut at_look) {
                    if note.on.in_year(scenario.first_year) == first.plus(at as i32) {
                        measures::fill(lawn, &setting, &mut row);
                        let at = measure(note.what.measure()).unwrap_or(0);
                        *shown = f64::from(row[at]);
                    }
                }
            });
            shown.extend(at_look);
            Ok(shown)
        };
        choose(self.plan, seen, until, show, observer)
    }
}

/// What was seen of a scenario's lawn: the year before, then looks since the season began.
pub(in super::super) fn seen(scenario: &Scenario, p: &parameters::Seen) -> Vec<Seen> {
    let mut seen = seen_before(scenario, p);
    let notes = scenario.scouting.as_ref().map_or(&[][..], |s| &s.notes);
    seen.extend(notes.iter().map(|note| Seen {
        what: Some((note.what, note.on.in_year(scenario.first_year))),
        label: note.what.label(),
        value: note.value,
        sd: note.sd,
    }));
    seen
}

/// What the walk-round says of the year before: crabgrass in August and cover at its end, %.
fn seen_before(scenario: &Scenario, p: &parameters::Seen) -> Vec<Seen> {
    if scenario.season_before.is_none() {
        return vec![];
    }
    let look = |label: &'static str, known: &Uncertain| {
        let value = 100.0 * known.mean();
        let eye = (p.look_share * value).max(100.0 * p.look_least);
        let sd = if known.sd() > 0.0 { 100.0 * known.sd() } else { eye };
        Seen { label, what: None, value, sd: sd.max(100.0 * p.look_finest) }
    };
    let mut all = vec![
        look("crabgrass last August", &scenario.lawn.crabgrass_last_august),
        look("grass cover at the start", &scenario.lawn.turf_cover),
    ];
    let weeds = [
        ("dandelion last autumn", &scenario.lawn.dandelion),
        ("clover last autumn", &scenario.lawn.clover),
    ];
    all.extend(weeds.into_iter().filter_map(|(label, known)| Some(look(label, known.as_ref()?))));
    all
}
