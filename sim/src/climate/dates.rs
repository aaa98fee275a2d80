//! The dates of a year that matter to a lawn: frosts, and when warmth adds up.

use crate::calendar::Day;
use crate::weather::{RecordDay, SiteTables, WeatherParameters, days_in_year, skies_at};

/// A frost: a low at or below freezing, C.
const FROST_C: f64 = 0.0;
/// Frosts before this month are the spring's, the others the fall's.
const FALL_FROM: u8 = 7;

/// A sum of warmth above a base, from a day of the year on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmth {
    /// The sum, C-days.
    pub goal_c_days: f64,
    /// What it tells.
    pub meaning: &'static str,
}

/// Base of the air's sums, C; the month they start in.
const AIR_BASE_C: f64 = 10.0;
const AIR_FROM_MONTH: u8 = 3;
/// Base of the soil's sums at 5 cm, C; the month they start in. Fidanza, Dernoeden & Zhang 1996 (Crop
/// Science 36:990), who measured at 2.5 cm.
const SOIL_BASE_C: f64 = 12.0;
const SOIL_FROM_MONTH: u8 = 4;

/// Air, mean of low and high above 10 C (50 F) from 1 March: 100, 200 and 500 F-days. The second is an
/// extension rule for crabgrass (Purdue Turfgrass Science, "When will crabgrass germinate?").
pub const AIR: [Warmth; 3] = [
    Warmth { goal_c_days: 100.0 / 1.8, meaning: "spring warmth, 100 °F-days" },
    Warmth { goal_c_days: 200.0 / 1.8, meaning: "200 °F-days, a rule of thumb for crabgrass" },
    Warmth { goal_c_days: 500.0 / 1.8, meaning: "early summer, 500 °F-days" },
];

/// Soil at 5 cm above 12 C from 1 April: first seedlings of smooth crabgrass at 42 to 78 C-days, the main
/// flush from 140 to 230 (Fidanza, Dernoeden & Zhang 1996, Crop Science 36:990).
pub const SOIL: [Warmth; 4] = [
    Warmth { goal_c_days: 42.0, meaning: "first crabgrass seedlings, earliest" },
    Warmth { goal_c_days: 78.0, meaning: "first crabgrass seedlings, latest" },
    Warmth { goal_c_days: 140.0, meaning: "main flush of crabgrass begins" },
    Warmth { goal_c_days: 230.0, meaning: "main flush of crabgrass ends" },
];

/// The dates of one year, as days of the year; `None` where it did not come to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct YearDates {
    /// The calendar year.
    pub year: i32,
    /// Last low at or below 0 C before July.
    pub last_frost: Option<u16>,
    /// First one from July on.
    pub first_frost: Option<u16>,
    /// When the sums of [`AIR`] were reached.
    pub air: [Option<u16>; AIR.len()],
    /// When the sums of [`SOIL`] were reached.
    pub soil: [Option<u16>; SOIL.len()],
}

/// The dates of the whole calendar years among days that begin on `first`. Soil temperature is worked out
/// from the first day on.
pub fn dates(
    days: &[RecordDay],
    first: Day,
    tables: &SiteTables,
    p: &WeatherParameters,
) -> Vec<YearDates> {
    // No forecast is looked at.
    let skies = skies_at(days, first, tables, p, &mut || 0.5);
    let mut years: Vec<YearDates> = vec![];
    let (mut air, mut soil) = (0.0, 0.0);
    let mut left = 0_u16;
    for sky in &skies {
        let (year, month, _) = sky.day.ymd();
        if sky.day_of_year == 1 {
            (air, soil, left) = (0.0, 0.0, days_in_year(year));
            years.push(YearDates {
                year,
                last_frost: None,
                first_frost: None,
                air: [None; AIR.len()],
                soil: [None; SOIL.len()],
            });
        }
        let Some(this) = years.last_mut() else { continue };
        left = left.saturating_sub(1);
        if sky.t_min_c <= FROST_C {
            if month < FALL_FROM {
                this.last_frost = Some(sky.day_of_year);
            } else {
                this.first_frost.get_or_insert(sky.day_of_year);
            }
        }
        if month >= AIR_FROM_MONTH {
            air += (sky.t_mean_c - AIR_BASE_C).max(0.0);
            reach(&mut this.air, &AIR, air, sky.day_of_year);
        }
        if month >= SOIL_FROM_MONTH {
            soil += (sky.soil_5cm_c - SOIL_BASE_C).max(0.0);
            reach(&mut this.soil, &SOIL, soil, sky.day_of_year);
        }
    }
    if left > 0 {
        years.pop();
    }
    years
}

fn reach(dates: &mut [Option<u16>], goals: &[Warmth], sum: f64, day_of_year: u16) {
    for (date, goal) in dates.iter_mut().zip(goals).filter(|(date, _)| date.is_none()) {
        if sum >= goal.goal_c_days {
            *date = Some(day_of_year);
        }
    }
}
