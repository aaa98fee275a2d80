//! A plain lawn for the processes' own tests.

use super::{LawnDraw, Setting, State};
use crate::calendar::Day;
use crate::parameters::{Catalogue, Parameters};
use crate::scenario::{Compaction, Grass, HydrologicGroup, Lawn, Soil, Uncertain};
use crate::weather::{Forecast, Sky};

/// The facts of a bluegrass lawn on loam.
pub fn facts() -> Lawn {
    Lawn {
        area_m2: 400.0,
        slope: 0.03,
        sun: 1.0,
        soil: Soil {
            sand: 0.40,
            clay: 0.20,
            organic_matter: Uncertain::Exact(0.03),
            topsoil_mm: 150.0,
            compaction: Compaction::None,
            hydrologic_group: HydrologicGroup::B,
            ph: None,
            test: None,
        },
        grasses: vec![(Grass::KentuckyBluegrass, 1.0)],
        turf_cover: Uncertain::Exact(0.8),
        crabgrass_last_august: Uncertain::Exact(0.1),
        seed_bank_m2: None,
        dandelion: None,
        clover: None,
        nutsedge: None,
        irrigation_efficiency: 1.0,
    }
}

/// That lawn at the constants' central values, on 1 January.
pub fn lawn() -> (Setting, State) {
    lawn_of(&facts(), &Catalogue::embedded().central())
}

/// A lawn of other facts or constants, on 1 January.
pub fn lawn_of(facts: &Lawn, p: &Parameters) -> (Setting, State) {
    let draw = LawnDraw {
        turf_cover: 0.8,
        crabgrass_last_august: 0.1,
        seed_bank_m2: Some(1000.0),
        organic_matter: 0.03,
        ..LawnDraw::expected(facts)
    };
    let setting = Setting::new(p, &draw);
    let state = State::initial(&setting, &draw);
    (setting, state)
}

/// A mild, dry day in June with air and soil at one temperature.
pub fn sky(t_c: f64) -> Sky {
    let day = Day::from_ymd(2013, 6, 10).expect("a day");
    Sky {
        day,
        day_of_year: day.day_of_year(),
        t_min_c: t_c - 5.0,
        t_max_c: t_c + 5.0,
        t_mean_c: t_c,
        precip_mm: 0.0,
        water_in_mm: 0.0,
        snow_mm: 0.0,
        frozen: false,
        rs_mj_m2: 20.0,
        wind_2m_m_s: 1.0,
        et0_mm: 4.0,
        soil_5cm_c: t_c,
        soil_10cm_c: t_c,
        day_length_h: 15.0,
        air_dd10: 0.0,
        forecast: Forecast::default(),
    }
}
