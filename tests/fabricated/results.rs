//! Results made up by hand, so that files and words can be checked against figures known before.

use sim::calendar::{Day, MonthDay, Weekdays};
use sim::ensemble::{
    Account, Band, Contrast, DIFFERENCES, Difference, MEASURES, ProgramResults, Results,
};
use sim::outcomes::OUTCOMES;
use sim::scenario::*;
use sim::weather::WeatherPlan;
use sim::work::{Act, Clippings, WorkEntry};

pub const FIRST: (i32, u8, u8) = (2026, 1, 1);
pub const DAYS: usize = 365;

/// Two programs on one lawn; the second changes one thing.
pub fn scenario() -> Scenario {
    let exact = Uncertain::Exact;
    Scenario {
        season_before: None,
        scouting: None,
        rules: LocalRules::default(),
        goals: sim::scenario::Goals::default(),
        gear: Gear::default(),
        title: "A thin lawn".into(),
        about: String::new(),
        lawn: Lawn {
            area_m2: 650.0,
            slope: 0.02,
            sun: 1.0,
            soil: Soil {
                sand: 0.4,
                clay: 0.2,
                organic_matter: exact(0.02),
                topsoil_mm: 100.0,
                compaction: Compaction::Moderate,
                hydrologic_group: HydrologicGroup::C,
                ph: None,
                test: None,
            },
            grasses: vec![(Grass::KentuckyBluegrass, 1.0)],
            turf_cover: exact(0.55),
            crabgrass_last_august: exact(0.25),
            seed_bank_m2: None,
            dandelion: None,
            clover: None,
            nutsedge: None,
            irrigation_efficiency: 0.7,
        },
        weather: WeatherChoice {
            source: WeatherSource::Carried("jfk".into()),
            plan: WeatherPlan::WholeYears,
            file: StationFile::default(),
            so_far: None,
        },
        first_year: 2026,
        seasons: 1,
        programs: vec![
            program("usual", "Usual care", None, ""),
            program("weekly", "Weekly cuts", Some("usual"), "Mowing every week, not every other"),
        ],
        crew: crew(),
        slips: Slips {
            missed: 0.0,
            late: 0.0,
            late_mean_days: 0.0,
            rate_cv: 0.0,
            unevenness_cv: 0.0,
        },
        doubts: Doubts::default(),
        events: vec![],
        overrides: vec![],
    }
}

fn program(id: &str, title: &str, based_on: Option<&str>, difference: &str) -> Program {
    Program {
        id: id.into(),
        title: title.into(),
        based_on: based_on.map(str::to_string),
        difference: difference.into(),
        practices: vec![Practice {
            key: "mow".into(),
            what: What::Mow { height_mm: 76.2, clippings: Clippings::Return },
            cue: Cue::Dates(vec![MonthDay { month: 5, day: 1 }]),
            holds: vec![],
            give_up_days: 7,
            by: Hands::Crew,
        }],
    }
}

fn crew() -> Crew {
    Crew {
        currency: "USD".into(),
        hour_cost: 45.0,
        visit_minutes: 15.0,
        mower_width_m: 0.9,
        mower_speed_m_s: 1.2,
        mower_efficiency: 0.8,
        trim_minutes_per_100_m2: 2.0,
        bagging_factor: 1.3,
        spread_minutes_per_100_m2: 1.0,
        spray_minutes_per_100_m2: 1.5,
        weeds_found: 0.8,
        spot_margin: 1.0,
        spot_walk_minutes_per_100_m2: 1.0,
        spot_spray_minutes_per_100_m2: 10.0,
        topdress_minutes_per_100_m2_mm: 3.0,
        overseed_minutes_per_100_m2: 1.1,
        rake_in_minutes_per_100_m2: 16.0,
        slit_seed_minutes_per_100_m2: 9.0,
        water_minutes: 5.0,
        water_price_m3: 1.5,
        visit_days: Weekdays::ALL,
        least_visit_minutes: 0.0,
        least_visit_cost: 0.0,
        rain_out: None,
    }
}

/// Results of [`scenario`] over `members` members. Crabgrass at its worst runs evenly from 5 to
/// 45 % under usual care and from 1 to 13 % under weekly cuts; quality is 5.5 and 6.5.
pub fn results(members: u32) -> Results {
    let first = Day::from_ymd(FIRST.0, FIRST.1, FIRST.2).unwrap();
    let spread = |low: f64, high: f64| -> Vec<f64> {
        (0..members)
            .map(|m| low + (high - low) * (f64::from(m) + 0.5) / f64::from(members))
            .collect()
    };
    let usual = played("usual", "Usual care", first, members, spread(5.0, 45.0), 5.5, 1000.0);
    let weekly = played("weekly", "Weekly cuts", first, members, spread(1.0, 13.0), 6.5, 1600.0);
    let contrasts = contrasts(&usual, &weekly);
    let less = |measure: usize| {
        let (ours, theirs) = (&weekly.bands[measure].p50, &usual.bands[measure].p50);
        let by_day: Vec<f64> = ours.iter().zip(theirs).map(|(a, b)| a - b).collect();
        let band = Band {
            p05: by_day.clone(),
            p25: by_day.clone(),
            p50: by_day.clone(),
            p75: by_day.clone(),
            p95: by_day.clone(),
            mean: by_day,
        };
        Difference { program: 1, baseline: 0, measure, band }
    };
    let differences = DIFFERENCES.map(less).to_vec();
    Results {
        spread: vec![],
        conditioning: None,
        first,
        days: DAYS,
        members,
        seed: 7,
        record_years: 4,
        looks: vec![],
        programs: vec![usual, weekly],
        contrasts,
        differences,
    }
}

fn played(
    id: &str,
    title: &str,
    first: Day,
    members: u32,
    crabgrass: Vec<f64>,
    quality: f64,
    cost: f64,
) -> ProgramResults {
    let flat = |v: f64| vec![v; DAYS];
    let band = Band {
        p05: flat(10.0),
        p25: flat(15.04),
        p50: flat(20.06),
        p75: flat(25.0),
        p95: flat(42.9),
        mean: flat(-0.000_001),
    };
    let outcomes = OUTCOMES
        .iter()
        .map(|o| match o.key {
            "crabgrass_peak" => crabgrass.clone(),
            "quality_summer" => vec![quality; members as usize],
            "cost" => vec![cost; members as usize],
            "crew_hours" => vec![cost / 50.0; members as usize],
            _ => vec![70.0; members as usize],
        })
        .collect();
    let entry = WorkEntry {
        day: first.plus(120),
        practice: 0,
        act: Act::Cut { height_mm: 76.2, clippings: Clippings::Return },
        minutes: 42.26,
        cost: 31.695,
        ground: 1.0,
    };
    let account = Account { entered: 900.0, left: 890.5, stored_change: 9.5, worst_day: 2e-12 };
    ProgramResults {
        id: id.into(),
        title: title.into(),
        bands: vec![band; MEASURES.len()],
        outcomes,
        work: vec![vec![entry]; members as usize],
        setbacks: vec![vec![]; members as usize],
        looks: vec![],
        ledgers: vec![[account; 3]; members as usize],
        tracks: Some(vec![vec![0.5; DAYS * MEASURES.len()]; members as usize]),
    }
}

fn contrasts(usual: &ProgramResults, weekly: &ProgramResults) -> Vec<Contrast> {
    let quantile = |sorted: &[f64], p: f64| sorted[((sorted.len() - 1) as f64 * p) as usize];
    let mut all = Vec::new();
    for (outcome, kind) in OUTCOMES.iter().enumerate() {
        let mut d: Vec<f64> = weekly.outcomes[outcome]
            .iter()
            .zip(&usual.outcomes[outcome])
            .map(|(a, b)| a - b)
            .collect();
        let n = d.len() as f64;
        let better = match kind.better {
            sim::outcomes::Better::Higher => 1.0,
            _ => -1.0,
        };
        let share = |f: &dyn Fn(f64) -> bool| d.iter().filter(|x| f(**x)).count() as f64 / n;
        let share_better = share(&|x| better * x >= kind.least_difference);
        let share_same = share(&|x| x.abs() < kind.least_difference);
        d.sort_by(f64::total_cmp);
        all.push(Contrast {
            program: 1,
            baseline: 0,
            outcome,
            quantiles: [0.05, 0.25, 0.5, 0.75, 0.95].map(|p| quantile(&d, p)),
            share_better,
            share_same,
            mean: d.iter().sum::<f64>() / n,
            mean_se: 0.1,
        });
    }
    all
}
