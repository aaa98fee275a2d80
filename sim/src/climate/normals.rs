//! What is usual at a station, month by month.

use super::statistics::{Mean, WET_MM};
use crate::calendar::Day;
use crate::weather::{Record, SiteTables, WeatherParameters, days_in_year, skies_at};

/// A month as it usually is: means over its complete months in the record.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Normal {
    /// Mean daily low, C.
    pub t_min_c: f64,
    /// Mean daily high, C.
    pub t_max_c: f64,
    /// Rain and melted snow, mm.
    pub precip_mm: f64,
    /// Days with 0.254 mm (0.01 in) or more.
    pub wet_days: f64,
    /// Reference evapotranspiration (FAO-56), mm.
    pub et0_mm: f64,
    /// The calendar year and precipitation of each complete month behind these means, mm.
    pub precip_by_year_mm: Vec<(i32, f64)>,
}

/// The twelve months; a month that the record never holds whole has no years and no numbers.
pub fn normals(record: &Record, p: &WeatherParameters) -> [Normal; 12] {
    let tables = SiteTables::new(&record.site, record.anemometer_m);
    // No forecast is looked at.
    let skies = skies_at(&record.days, record.first, &tables, p, &mut || 0.5);
    let mut sums: [Sums; 12] = Default::default();
    let mut rest = skies.as_slice();
    while let Some(start) = rest.first() {
        let (year, month, _) = start.day.ymd();
        let next = if month == 12 { (year + 1, 1) } else { (year, month + 1) };
        let end = Day::from_ymd(next.0, next.1, 1).map_or(i32::MAX, |day| day.0);
        let length = rest.iter().take_while(|sky| sky.day.0 < end).count();
        let (days, others) = rest.split_at(length.max(1));
        rest = others;
        if days.len() < usize::from(days_in_month(year, month)) {
            continue;
        }
        let sum = &mut sums[usize::from(month) - 1];
        for sky in days {
            sum.t_min.add(sky.t_min_c);
            sum.t_max.add(sky.t_max_c);
        }
        sum.wet.add(days.iter().filter(|sky| sky.precip_mm >= WET_MM).count() as f64);
        sum.et0.add(days.iter().map(|sky| sky.et0_mm).sum());
        sum.precip.push((year, days.iter().map(|sky| sky.precip_mm).sum()));
    }
    sums.map(|sum| Normal {
        t_min_c: sum.t_min.mean(),
        t_max_c: sum.t_max.mean(),
        precip_mm: sum.precip.iter().map(|(_, mm)| *mm).collect::<Mean>().mean(),
        wet_days: sum.wet.mean(),
        et0_mm: sum.et0.mean(),
        precip_by_year_mm: sum.precip,
    })
}

#[derive(Default)]
struct Sums {
    t_min: Mean,
    t_max: Mean,
    wet: Mean,
    et0: Mean,
    precip: Vec<(i32, f64)>,
}

fn days_in_month(year: i32, month: u8) -> u16 {
    let leap = days_in_year(year) - 365;
    match month {
        2 => 28 + leap,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}
