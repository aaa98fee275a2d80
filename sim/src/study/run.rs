//! Runs a study on the real model: a track for every record, starting year, member and treatment.

use super::acts::{Doing, SOW, Since, called_for, doing, due, grass, in_window, waits};
use super::series;
use super::start;
use super::text::{LawnText, Study, Treatment};
use super::weather::{Path, Sources, paths, weather};
use crate::calendar::Day;
use crate::draw::Streams;
use crate::ensemble::Constants;
use crate::lawn::{LawnDraw, Setting};
use crate::parameters::{Catalogue, Parameters};
use crate::scenario::{Grass, Uncertain};
use crate::weather::Sky;
use std::collections::BTreeMap;

/// Seed of the members of every study.
const STUDY_SEED: u64 = 1;

/// One track of a study: a row of all series for each day.
#[derive(Clone, Debug)]
pub struct StudyTrack {
    /// First day.
    pub first: Day,
    /// Rows by day.
    pub rows: Vec<Vec<f64>>,
    /// What was observed at the record's place, by column.
    pub observed: BTreeMap<String, BTreeMap<Day, f64>>,
    /// The worst share by which any book failed to close on any day.
    pub worst_residual: f64,
}

/// Tracks by treatment: `tracks[treatment][record, year and member]`.
pub type StudyTracks = Vec<Vec<StudyTrack>>;

/// Runs all treatments of a study.
///
/// # Errors
/// A message naming what the study file has wrong.
pub fn run(study: &Study, catalogue: &Catalogue, sources: &Sources) -> Result<StudyTracks, String> {
    study
        .treatment
        .iter()
        .map(|treatment| {
            let mut tracks = Vec::new();
            for path in paths(study, &treatment.sky, sources)? {
                for member in 0..study.run.members.max(1) {
                    let values = draw(study, &treatment.ground, catalogue, member)?;
                    let parameters = catalogue.parameters(&values);
                    let sky = weather(study, &treatment.sky, path, &parameters)?;
                    tracks.push(track(study, treatment, path, &sky, &parameters)?);
                }
            }
            Ok(tracks)
        })
        .collect()
}

/// Central values, or a member's draw; what the study states is set on top.
fn draw(
    study: &Study,
    ground: &LawnText,
    catalogue: &Catalogue,
    member: u32,
) -> Result<Vec<f64>, String> {
    let stated = start::constants(ground);
    if study.run.members > 0 {
        let exact: Vec<(String, Uncertain)> =
            stated.iter().map(|(n, v)| (n.clone(), Uncertain::Exact(*v))).collect();
        let constants = Constants::new(&catalogue.entries, &exact)
            .map_err(|name| format!("constant {name:?} is not in parameters.toml"))?;
        return Ok(constants.draw(&Streams::new(STUDY_SEED), member));
    }
    let mut values: Vec<f64> = catalogue.entries.iter().map(|e| e.value).collect();
    for (name, value) in &stated {
        let at = catalogue
            .position(name)
            .ok_or_else(|| format!("constant {name:?} is not in parameters.toml"))?;
        values[at] = *value;
    }
    Ok(values)
}

fn track(
    study: &Study,
    treatment: &Treatment,
    path: Path<'_>,
    skies: &[Sky],
    parameters: &Parameters,
) -> Result<StudyTrack, String> {
    let ground = &treatment.ground;
    let mut facts = start::lawn(ground)?;
    list_sown(study, treatment, &mut facts.grasses)?;
    let drawn = LawnDraw {
        turf_cover: ground.cover,
        crabgrass_last_august: 0.0,
        seed_bank_m2: Some(ground.seed_bank_m2),
        dandelion: ground.dandelion,
        clover: ground.clover,
        organic_matter: ground.organic_matter_pct / 100.0,
        ..LawnDraw::expected(&facts)
    };
    let setting = Setting::new(parameters, &drawn);
    let mut state = start::state(ground, &setting, &drawn)?;
    let mut memory = series::Memory::default();
    let mut rows = Vec::with_capacity(skies.len());
    let acts: Vec<_> = study.act.iter().chain(&treatment.act).collect();
    let mut since = vec![Since::default(); acts.len()];
    let mut todo = Vec::new();
    let mut held = None;
    for (index, sky) in skies.iter().enumerate() {
        let mut sky = *sky;
        let natural_mm = sky.precip_mm;
        todo.clear();
        for (act, since) in acts.iter().zip(&mut since) {
            if !in_window(act, sky.day, index)? {
                *since = Since::default();
            }
            let year = sky.day.ymd().0 - path.year;
            if due(act, sky.day, index, year)? || since.waits {
                let waits = waits(act, &setting, &sky);
                if !waits && called_for(act, &state) {
                    match doing(act, &mut state, &setting, &sky, *since, &mut held)? {
                        Doing::Act(act) => todo.push(act),
                        Doing::Rain(mm) => {
                            sky.precip_mm += mm;
                            sky.water_in_mm += mm;
                        }
                        Doing::Done => {}
                    }
                }
                *since = Since { waits, ..Since::default() };
            }
            since.et0_mm += sky.et0_mm;
            since.rain_mm += natural_mm;
        }
        state.day(&setting, &sky, &todo);
        rows.push(series::row(&state, &setting, &sky, &mut memory));
    }
    let books = [&state.ledger.water, &state.ledger.nitrogen, &state.ledger.carbon];
    let worst_residual = books.iter().map(|b| b.worst_share()).fold(0.0, f64::max);
    let first = skies.first().map_or(Day(0), |s| s.day);
    let observed = path.observed.cloned().unwrap_or_default();
    Ok(StudyTrack { first, rows, observed, worst_residual })
}

/// A grass that is sown is one of the lawn's, with no cover at first.
fn list_sown(
    study: &Study,
    treatment: &Treatment,
    grasses: &mut Vec<(Grass, f64)>,
) -> Result<(), String> {
    for act in study.act.iter().chain(&treatment.act).filter(|act| act.what == SOW) {
        if let Some(name) = &act.grass {
            let sown = grass(name)?;
            if grasses.iter().all(|(g, _)| *g != sown) {
                grasses.push((sown, 0.0));
            }
        }
    }
    Ok(())
}
