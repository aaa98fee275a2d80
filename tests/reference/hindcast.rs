//! Years that the generator has not seen: each year of a station is left out, members are drawn
//! from the others, and the year's own values are placed among the members'.
#![allow(dead_code, reason = "each test file uses its own part")]

use sim::calendar::Day;
use sim::draw::{Purpose, Streams};
use sim::ensemble::{MEASURES, measure};
use sim::lawn::measures;
use sim::parameters::Parameters;
use sim::weather::{
    RecordDay, Resampler, Sky, WeatherPlan, YearSpan, complete_years, days_in_year, is_leap, skies,
};

use crate::gates::SEED;
use crate::stations::Station;
use crate::support;

/// Members of each hindcast.
pub const MEMBERS: u32 = 300;

/// What is placed among the members.
pub const QUANTITIES: [&str; 5] = [
    "date of 42 soil degree-days",
    "date of 140 soil degree-days",
    "ET0 April-September, mm",
    "soil water June-August, share",
    "rain of the year, mm",
];

/// One left-out year.
pub struct Hindcast {
    pub year: i32,
    /// The year's own values.
    pub seen: [f64; 5],
    /// Share of members below each, ties counted half: 0..=1.
    pub place: [f64; 5],
    /// The members' 5 %, 50 % and 95 %.
    pub band: [[f64; 3]; 5],
}

impl Hindcast {
    /// Whether a quantity's value lies outside the members' 5-95 %, the band drawn towards its median
    /// by a factor (1 the band itself).
    pub fn outside(&self, quantity: usize, factor: f64) -> bool {
        let [low, mid, high] = self.band[quantity];
        let seen = self.seen[quantity];
        seen < mid + factor * (low - mid) || seen > mid + factor * (high - mid)
    }

    /// The fifth of the members that a quantity's value falls into, 0..=4.
    pub fn fifth(&self, quantity: usize) -> usize {
        ((self.place[quantity] * 5.0) as usize).min(4)
    }
}

/// Leaves out each complete year of a station in turn.
pub fn hindcasts(station: &Station, p: &Parameters) -> Vec<Hindcast> {
    let spans = complete_years(&station.record);
    spans.iter().map(|span| hindcast(station, &spans, *span, p)).collect()
}

fn hindcast(station: &Station, spans: &[YearSpan], left: YearSpan, p: &Parameters) -> Hindcast {
    let record = &station.record;
    let mut rest = record.clone();
    let others = spans.iter().filter(|span| span.year != left.year);
    // The others move together; the calendar goes on from the first one's year.
    let first_year = others.clone().next().expect("more than one year").year;
    rest.first = Day::from_ymd(first_year, 1, 1).expect("a year of the record");
    rest.days = (first_year..)
        .zip(others)
        .flat_map(|(year, span)| year_of(&record.days, *span, is_leap(year)))
        .collect();
    let resampler = Resampler::new(&rest).expect("at least two years are left");
    let streams = Streams::new(SEED);
    let own = &record.days[left.start..][..usize::from(days_in_year(left.year))];
    let seen = values(own, left.year, station, p);
    let mut members: [Vec<f64>; 5] = Default::default();
    for member in 0..MEMBERS {
        let mut rng = streams.of_member(member, Purpose::Weather);
        let path = resampler.draw(WeatherPlan::MatchedBlocks, left.year, 1, &mut rng);
        let drawn = values(&path.expect("a path"), left.year, station, p);
        members.iter_mut().zip(drawn).for_each(|(all, value)| all.push(value));
    }
    members.iter_mut().for_each(|all| all.sort_by(f64::total_cmp));
    let place = std::array::from_fn(|q| {
        let below = members[q].partition_point(|v| *v < seen[q]);
        let to = members[q].partition_point(|v| *v <= seen[q]);
        0.5 * (below + to) as f64 / f64::from(MEMBERS)
    });
    let quantile = |q: usize, at: f64| sim::ensemble::quantile_sorted(&members[q], at);
    let band = std::array::from_fn(|q| [0.05, 0.5, 0.95].map(|at| quantile(q, at)));
    Hindcast { year: left.year, seen, place, band }
}

/// A year's days as a year of the wanted length: 28 February twice, or 29 February left out.
fn year_of(days: &[RecordDay], span: YearSpan, leap: bool) -> Vec<RecordDay> {
    let mut year = days[span.start..][..usize::from(days_in_year(span.year))].to_vec();
    match (is_leap(span.year), leap) {
        (true, false) => drop(year.remove(59)),
        (false, true) => year.insert(59, year[58]),
        _ => {}
    }
    year
}

/// The five quantities of one calendar year, in the order of [`QUANTITIES`]. The lawn is mown
/// weekly and gets nothing else; constants are the central ones.
fn values(days: &[RecordDay], year: i32, station: &Station, p: &Parameters) -> [f64; 5] {
    let record = &station.record;
    let first = Day::from_ymd(year, 1, 1).expect("a year of the record");
    let sky = skies(days, first, &record.site, record.anemometer_m, &p.weather, &mut || 0.5);
    let months: Vec<u8> = sky.iter().map(|s| s.day.ymd().1).collect();
    let within = |from: u8, to: u8| {
        sky.iter().zip(&months).filter(move |(_, m)| (from..=to).contains(*m)).map(|(s, _)| s)
    };
    [
        reaching(within(4, 12), 42.0),
        reaching(within(4, 12), 140.0),
        within(4, 9).map(|s| s.et0_mm).sum(),
        summer_water(&sky, &months, p),
        days.iter().map(|d| d.precip_mm).sum(),
    ]
}

/// Day of the year on which soil degree-days above 12 C at 5 cm reach a goal.
fn reaching<'a>(mut days: impl Iterator<Item = &'a Sky>, goal: f64) -> f64 {
    let mut sum = 0.0;
    days.find(|s| {
        sum += (s.soil_5cm_c - 12.0).max(0.0);
        sum >= goal
    })
    .map_or(366.0, |s| f64::from(s.day_of_year))
}

/// Mean share of available water in the root zone of an unwatered, mown lawn, June to August.
fn summer_water(skies: &[Sky], months: &[u8], p: &Parameters) -> f64 {
    let at = measure("soil_water").expect("a measure");
    let (setting, mut state) = support::loam().start(p);
    let (mut sum, mut n, mut acts) = (0.0, 0.0, vec![]);
    let mut row = [0.0; MEASURES.len()];
    for (sky, month) in skies.iter().zip(months).take_while(|(_, m)| **m <= 8) {
        acts.clear();
        support::mow_weekly(sky, &mut acts);
        state.day(&setting, sky, &acts);
        if *month >= 6 {
            measures::fill(&state, &setting, &mut row);
            sum += f64::from(row[at]);
            n += 1.0;
        }
    }
    sum / n
}
