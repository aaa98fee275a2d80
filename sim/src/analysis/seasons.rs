//! What the weather of a member's season was like, beside what is usual at the station.

use crate::climate::Normal;
use crate::lawn::water::DRY_MM;
use crate::weather::Sky;

/// First months of spring, summer and fall, of three months each.
pub const SEASONS: [u8; 3] = [3, 6, 9];

/// One year's growing weather.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// The year.
    pub year: i32,
    /// Rain of spring, summer and fall and what is usual, mm.
    pub rain_mm: [(f64, f64); 3],
    /// The hottest month, 1..=12, its mean high, and the usual one of that month, degrees C.
    pub hottest: (u8, f64, f64),
    /// The longest run of days under 5 mm from April to September, days.
    pub dry_days: u32,
}

/// The years of a path.
pub fn seasons(skies: &[Sky], normals: &[Normal; 12]) -> Vec<Season> {
    let years = skies.chunk_by(|a, b| a.day.ymd().0 == b.day.ymd().0);
    years.filter_map(|days| season(days, normals)).collect()
}

fn season(days: &[Sky], normals: &[Normal; 12]) -> Option<Season> {
    let mut rain = [0.0; 12];
    let mut highs = [(0.0, 0.0); 12];
    let (mut run, mut longest) = (0, 0);
    for sky in days {
        let (_, month, _) = sky.day.ymd();
        let at = usize::from(month) - 1;
        rain[at] += sky.precip_mm;
        highs[at] = (highs[at].0 + sky.t_max_c, highs[at].1 + 1.0);
        let dry = (4..=9).contains(&month) && sky.precip_mm < DRY_MM;
        run = if dry { run + 1 } else { 0 };
        longest = longest.max(run);
    }
    let sum = |of: &dyn Fn(usize) -> f64, first: u8| {
        (0..3).map(|k| of(usize::from(first) - 1 + k)).sum::<f64>()
    };
    let high = |at: &usize| if highs[*at].1 > 0.0 { highs[*at].0 / highs[*at].1 } else { f64::MIN };
    let hottest = (0..12).max_by(|a, b| high(a).total_cmp(&high(b)))?;
    Some(Season {
        year: days.first()?.day.ymd().0,
        rain_mm: SEASONS
            .map(|first| (sum(&|at| rain[at], first), sum(&|at| normals[at].precip_mm, first))),
        hottest: (hottest as u8 + 1, high(&hottest), normals[hottest].t_max_c),
        dry_days: longest,
    })
}
