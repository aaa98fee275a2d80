//! Runs a study on the real model: a track for every starting year, member and treatment.

use super::acts::{Doing, SOW, doing, due, grass, month_day};
use super::series;
use super::text::{ConstantText, LawnText, Study, Treatment};
use crate::calendar::Day;
use crate::draw::Streams;
use crate::ensemble::Constants;
use crate::lawn::{LawnDraw, Setting, State};
use crate::parameters::{Catalogue, Parameters};
use crate::scenario::{Compaction, Grass, HydrologicGroup, Lawn, Soil, Uncertain};
use crate::weather::{Forecast, Record, RecordDay, Sky, skies};

/// Seed of the members of every study.
const STUDY_SEED: u64 = 1;

/// One track of a study: a row of all series for each day.
#[derive(Clone, Debug)]
pub struct StudyTrack {
    /// First day.
    pub first: Day,
    /// Rows by day.
    pub rows: Vec<Vec<f64>>,
    /// The worst share by which any book failed to close on any day.
    pub worst_residual: f64,
}

/// Tracks by treatment: `tracks[treatment][year and member]`.
pub type StudyTracks = Vec<Vec<StudyTrack>>;

/// Finds a carried record by key.
pub type Stations<'a> = &'a dyn Fn(&str) -> Option<&'a Record>;

/// Runs all treatments of a study.
///
/// # Errors
/// A message naming what the study file has wrong.
pub fn run(
    study: &Study,
    catalogue: &Catalogue,
    stations: Stations<'_>,
) -> Result<StudyTracks, String> {
    let members = study.run.members.max(1);
    let years = if study.weather.constant.is_some() || study.weather.years.is_empty() {
        vec![2021]
    } else {
        study.weather.years.clone()
    };
    let mut tracks = vec![Vec::new(); study.treatment.len()];
    for &year in &years {
        for member in 0..members {
            let values = draw(study, catalogue, member)?;
            let parameters = catalogue.parameters(&values);
            for (t, treatment) in study.treatment.iter().enumerate() {
                let sky = weather(study, treatment, year, &parameters, stations)?;
                tracks[t].push(track(study, treatment, &sky, &parameters)?);
            }
        }
    }
    Ok(tracks)
}

/// Central values, or a member's draw; what the study states is set on top.
fn draw(study: &Study, catalogue: &Catalogue, member: u32) -> Result<Vec<f64>, String> {
    let stated: Vec<(String, Uncertain)> =
        study.lawn.constants.iter().map(|(n, v)| (n.clone(), Uncertain::Exact(*v))).collect();
    let constants = Constants::new(&catalogue.entries, &stated)
        .map_err(|name| format!("constant {name:?} is not in parameters.toml"))?;
    if study.run.members > 0 {
        return Ok(constants.draw(&Streams::new(STUDY_SEED), member));
    }
    let mut values: Vec<f64> = catalogue.entries.iter().map(|e| e.value).collect();
    for (name, value) in &study.lawn.constants {
        if let Some(at) = catalogue.position(name) {
            values[at] = *value;
        }
    }
    Ok(values)
}

fn weather(
    study: &Study,
    treatment: &Treatment,
    year: i32,
    parameters: &Parameters,
    stations: Stations<'_>,
) -> Result<Vec<Sky>, String> {
    let (m, d) = month_day(&study.run.start)?;
    let first = Day::from_ymd(year, m, d).ok_or("the run starts on a day that the year lacks")?;
    if let Some(c) = treatment.constant.as_ref().or(study.weather.constant.as_ref()) {
        return Ok((0..study.run.days).map(|i| chamber(first.plus(i as i32), c)).collect());
    }
    let key =
        study.weather.station.as_deref().ok_or("weather needs a station or a constant day")?;
    let record = stations(key).ok_or_else(|| format!("station {key:?} is not carried"))?;
    // The filters warm up on the days before the run, from the record's start of that year.
    let lead = Day::from_ymd(year, 1, 1).unwrap_or(first);
    let from = usize::try_from(lead.0 - record.first.0).map_err(|_| "the record starts later")?;
    let lead_days = (first.0 - lead.0) as usize;
    let until = from + lead_days + study.run.days;
    let days = record.days.get(from..until).ok_or("the record ends before the run")?;
    let changed: Vec<RecordDay> = days
        .iter()
        .enumerate()
        .map(|(i, r)| changed(study, treatment, lead.plus(i as i32), r))
        .collect();
    let all =
        skies(&changed, lead, &record.site, record.anemometer_m, &parameters.weather, &mut || 0.5);
    Ok(all[lead_days..].to_vec())
}

fn changed(study: &Study, treatment: &Treatment, day: Day, r: &RecordDay) -> RecordDay {
    let w = &study.weather;
    let (_, m, d) = day.ymd();
    let month = usize::from(m).saturating_sub(1).min(w.warmer_c.len().saturating_sub(1));
    let warmer = w.warmer_c.get(month).copied().unwrap_or(0.0);
    let off = w.no_rain.iter().chain(&treatment.no_rain).any(|[from, to]| {
        matches!((month_day(from), month_day(to)), (Ok(a), Ok(b)) if a <= (m, d) && (m, d) <= b)
    });
    RecordDay {
        t_min_c: r.t_min_c + warmer,
        t_max_c: r.t_max_c + warmer,
        wind_m_s: r.wind_m_s.map(|wind| wind * w.wind_factor),
        precip_mm: if off { 0.0 } else { r.precip_mm * w.rain_factor },
        ..*r
    }
}

fn chamber(day: Day, c: &ConstantText) -> Sky {
    Sky {
        day,
        day_of_year: day.day_of_year(),
        t_min_c: c.t_c - c.swing_c,
        t_max_c: c.t_c + c.swing_c,
        t_mean_c: c.t_c,
        precip_mm: c.rain_mm,
        water_in_mm: c.rain_mm,
        snow_mm: 0.0,
        frozen: false,
        rs_mj_m2: c.rs_mj_m2,
        wind_2m_m_s: 1.0,
        et0_mm: c.et0_mm,
        soil_5cm_c: c.t_c,
        soil_10cm_c: c.t_c,
        day_length_h: c.day_length_h,
        air_dd10: 0.0,
        forecast: Forecast::default(),
    }
}

fn track(
    study: &Study,
    treatment: &Treatment,
    skies: &[Sky],
    parameters: &Parameters,
) -> Result<StudyTrack, String> {
    let text = &study.lawn;
    let grasses = treatment.grasses.as_ref().unwrap_or(&text.grasses);
    let seed = treatment.seed_bank_m2.unwrap_or(text.seed_bank_m2);
    let mut facts = lawn(text, grasses)?;
    list_sown(study, treatment, &mut facts.grasses)?;
    let drawn = LawnDraw {
        facts: &facts,
        turf_cover: text.cover,
        crabgrass_last_august: 0.0,
        seed_bank_m2: Some(seed),
        organic_matter: text.organic_matter_pct / 100.0,
    };
    let setting = Setting::new(parameters, &drawn);
    let mut state = State::initial(&setting, &drawn);
    if let Some(height) = text.height_mm {
        state.set_canopy(&setting, height);
    }
    let mut memory = series::Memory::default();
    let mut rows = Vec::with_capacity(skies.len());
    let mut et0_since = vec![0.0; study.act.len() + treatment.act.len()];
    let mut acts = Vec::new();
    let mut held = None;
    for (index, sky) in skies.iter().enumerate() {
        let mut sky = *sky;
        acts.clear();
        for (k, act) in study.act.iter().chain(&treatment.act).enumerate() {
            if due(act, sky.day, index)? {
                let since = et0_since[k];
                match doing(act, &mut state, &setting, &sky, since, &mut held)? {
                    Doing::Act(act) => acts.push(act),
                    Doing::Rain(mm) => {
                        sky.precip_mm += mm;
                        sky.water_in_mm += mm;
                    }
                    Doing::Done => {}
                }
                et0_since[k] = 0.0;
            }
            et0_since[k] += sky.et0_mm;
        }
        state.day(&setting, &sky, &acts);
        rows.push(series::row(&state, &setting, &sky, &mut memory));
    }
    let books = [&state.ledger.water, &state.ledger.nitrogen, &state.ledger.carbon];
    let worst_residual = books.iter().map(|b| b.worst_share()).fold(0.0, f64::max);
    let first = skies.first().map_or(Day(0), |s| s.day);
    Ok(StudyTrack { first, rows, worst_residual })
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

fn lawn(
    text: &LawnText,
    grasses: &std::collections::BTreeMap<String, f64>,
) -> Result<Lawn, String> {
    let mut list = Vec::new();
    for (name, share) in grasses {
        list.push((grass(name)?, *share));
    }
    let hydrologic_group = match text.hydrologic_group.as_str() {
        "A" => HydrologicGroup::A,
        "B" => HydrologicGroup::B,
        "C" => HydrologicGroup::C,
        "D" => HydrologicGroup::D,
        other => return Err(format!("hydrologic-group {other:?} is not A, B, C or D")),
    };
    Ok(Lawn {
        area_m2: 1.0,
        slope: 0.02,
        sun: 1.0,
        soil: Soil {
            sand: text.sand,
            clay: text.clay,
            organic_matter: Uncertain::Exact(text.organic_matter_pct / 100.0),
            topsoil_mm: text.topsoil_mm,
            compaction: Compaction::None,
            hydrologic_group,
            ph: None,
        },
        grasses: list,
        turf_cover: Uncertain::Exact(text.cover),
        crabgrass_last_august: Uncertain::Exact(0.0),
        seed_bank_m2: Some(Uncertain::Exact(text.seed_bank_m2)),
        irrigation_efficiency: 1.0,
    })
}
