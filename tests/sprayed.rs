//! Sprays on standing weeds and yellow nutsedge beyond what a sane person would try: nothing may
//! break, and what happens has to point the right way. [`support::audit`] looks at every evening.
mod support;

use sim::parameters::{POSTS, Parameters};
use sim::scenario::{Compaction, Grass};
use sim::weather::{RecordDay, Sky, skies};
use sim::work::{Act, PostId, Reach};
use std::sync::LazyLock;
use support::*;

/// The central constants and five members'.
static MEMBERS: LazyLock<Vec<Parameters>> = LazyLock::new(|| {
    std::iter::once(CATALOGUE.central()).chain((0..5).map(|m| drawn(1, m))).collect()
});

/// Two years of New York, each day changed on the way, for every member.
fn played(
    place: &Place,
    weather: impl Fn(&mut RecordDay),
    crew: impl Fn(&Sky, &mut Vec<Act>),
) -> Vec<Played> {
    let run = |p: &Parameters| {
        let skies = sky_path(&JFK, p, &weather);
        play(place, p, &skies[..731], &crew).unwrap_or_else(|fault| panic!("{fault}"))
    };
    MEMBERS.iter().map(run).collect()
}

fn sprayed(name: &str, rate_kg_ha: f64) -> Act {
    let post = POSTS.iter().position(|p| *p == name).expect("known");
    Act::Spray { post: PostId(post as u8), rate_kg_ha, reach: Reach::Blanket }
}

/// A thin lawn with every weed that there is.
fn weedy() -> Place {
    loam().with(|l| {
        l.turf_cover = 0.7;
        (l.dandelion, l.clover, l.nutsedge) = (Some(0.1), Some(0.1), Some(0.1));
    })
}

/// Days of the year from a spray on 20 June to the end of August.
const AFTER: std::ops::Range<usize> = 175..240;

fn assert_all(ours: &[Played], theirs: &[Played], key: &str, less: impl Fn(f64, f64) -> bool) {
    for (i, (a, b)) in ours.iter().zip(theirs).enumerate() {
        let (a, b) = (a.mean(key, 0, AFTER), b.mean(key, 0, AFTER));
        assert!(less(a, b), "member {i}: {key} {a} against {b}");
    }
}

/// Every herbicide, at ten times its rate and more, on every weed, through all the year, in rain and
/// without any.
#[test]
fn ten_times_the_rate_of_everything() {
    for rain in [1.0, 0.0] {
        played(
            &weedy(),
            move |d| d.precip_mm *= rain,
            move |sky, acts| {
                if rain > 0.0 {
                    mow_and_water(sky, acts)
                } else {
                    mow_weekly(sky, acts)
                }
                if sky.day_of_year % 15 == 0 {
                    let name = POSTS[usize::from(sky.day_of_year / 15) % POSTS.len()];
                    acts.push(sprayed(name, 10.0));
                }
            },
        );
    }
    let at = |rate: f64| {
        played(
            &loam(),
            |_| {},
            move |sky, acts| {
                mow_and_water(sky, acts);
                if date(sky) == (6, 20) {
                    acts.push(sprayed("quinclorac", rate));
                }
            },
        )
    };
    let (none, label, tenfold) = (at(0.0), at(0.84), at(8.4));
    assert_all(&label, &none, "crabgrass_cover", |a, b| a < 0.6 * b);
    assert_all(&tenfold, &label, "crabgrass_cover", |a, b| a <= b + 1e-9);
    // Right after the spray turf is browner the higher the rate.
    for (a, b) in tenfold.iter().zip(&label) {
        let green = |t: &Played| t.mean("green_cover", 0, 180..190);
        assert!(green(a) < green(b) - 1.0, "{} {}", green(a), green(b));
    }
}

/// Share of the crabgrass that a spray of mesotrione on 5 August dooms, where the weather of a year is
/// changed by the day of the year; the lawn is watered.
fn doomed(p: &Parameters, weather: impl Fn(u16, &mut RecordDay)) -> f64 {
    let mut days = JFK.days.clone();
    for (k, day) in days.iter_mut().enumerate() {
        weather(JFK.first.plus(k as i32).day_of_year(), day);
    }
    let sky = skies(&days, JFK.first, &JFK.site, JFK.anemometer_m, &p.weather, &mut || 0.5);
    let crew = |sky: &Sky, acts: &mut Vec<Act>| {
        if sky.day_of_year < AUGUST_5 - 1 {
            water(sky, acts);
        }
        if sky.day_of_year == AUGUST_5 {
            acts.push(sprayed("mesotrione", 0.14));
        }
    };
    // The third evening, on which it is settled.
    let track = play(&loam(), p, &sky[..usize::from(AUGUST_5) + 2], crew).expect("sound");
    track.end.sprays.settled.and_then(|s| s.crabgrass).expect("crabgrass stood")
}

/// 5 August of a leap year, as the record's first is.
const AUGUST_5: u16 = 218;

/// A storm on the day of a spray lets less of it take hold than one on the day before.
#[test]
fn a_storm_costs_kill() {
    for p in MEMBERS.iter() {
        let with_rain_on = |rainy: u16| {
            doomed(p, move |day, d| {
                if (AUGUST_5 - 3..AUGUST_5 + 3).contains(&day) {
                    d.precip_mm = if day == rainy { 60.0 } else { 0.0 };
                }
            })
        };
        let (fair, storm) = (with_rain_on(AUGUST_5 - 1), with_rain_on(AUGUST_5));
        assert!(storm < fair - 0.03, "{storm} {fair}");
    }
}

/// On a day of 36 C a mix burns turf that it spares on one of 22 C.
#[test]
fn a_spray_in_heat_burns_turf() {
    for (hot_c, least, most) in [(22.0, -0.02, 0.02), (36.0, 0.04, 1.0)] {
        for p in MEMBERS.iter() {
            let mut sky = sky_path(&JFK, p, |_| {});
            for day in sky.iter_mut().filter(|s| (150..156).contains(&s.day_of_year)) {
                (day.t_min_c, day.t_max_c, day.t_mean_c) = (hot_c - 12.0, hot_c, hot_c - 6.0);
                (day.precip_mm, day.water_in_mm) = (0.0, 0.0);
            }
            let leaf = |spray: bool| {
                let crew = |sky: &Sky, acts: &mut Vec<Act>| {
                    mow_and_water(sky, acts);
                    if spray && sky.day_of_year == 152 {
                        acts.push(sprayed("2,4-D_mecoprop_dicamba_amine", 1.12));
                    }
                };
                let track = play(&loam(), p, &sky[..200], crew).expect("sound");
                track.mean("leaf_area_index", 0, 157..166)
            };
            let lost = 1.0 - leaf(true) / leaf(false);
            assert!((least..=most).contains(&lost), "{hot_c} C: {lost} of the leaf");
        }
    }
}

/// Twenty years of nutsedge on thin wet ground and on dense fed turf: it keeps to its ground, closes
/// the books, and dense turf resists it; a crabgrass barrier does nothing to it.
#[test]
fn nutsedge_for_twenty_years() {
    let p = CATALOGUE.central();
    let days = JFK.days.repeat(5);
    let sky = skies(&days, JFK.first, &JFK.site, JFK.anemometer_m, &p.weather, &mut || 0.5);
    let wet = loam().with(|l| {
        (l.nutsedge, l.turf_cover, l.seed_bank_m2) = (Some(0.1), 0.6, Some(0.0));
        l.lawn.grasses = vec![(Grass::TallFescue, 1.0)];
        (l.lawn.soil.sand, l.lawn.soil.clay) = (0.30, 0.34);
        (l.lawn.soil.compaction, l.lawn.soil.topsoil_mm) = (Compaction::Severe, 80.0);
    });
    let low = |sky: &Sky, acts: &mut Vec<Act>| {
        if (95..320).contains(&sky.day_of_year) && sky.day.0 % 7 == 0 {
            acts.push(mow(45.0));
        }
        water(sky, acts);
    };
    let thin = play(&wet, &p, &sky, low).expect("sound");
    let dense = loam().with(|l| {
        (l.nutsedge, l.turf_cover, l.seed_bank_m2) = (Some(0.1), 0.95, Some(0.0));
    });
    let fed = |sky: &Sky, acts: &mut Vec<Act>| {
        if (95..320).contains(&sky.day_of_year) && sky.day.0 % 7 == 0 {
            acts.push(mow(90.0));
        }
        feed(sky, acts);
    };
    let high = play(&dense, &p, &sky, fed).expect("sound");
    let summer = |t: &Played, season: usize| t.mean("nutsedge_cover", season, 180..240);
    assert!(summer(&thin, 15) > 1.0, "{}", summer(&thin, 15));
    assert!(summer(&high, 5) < 0.3 * summer(&thin, 5), "{} {}", summer(&high, 5), summer(&thin, 5));
    assert!(thin.peak("nutsedge_cover") <= 100.0);
    let barred = play(&wet, &p, &sky[..365], |sky, acts| {
        low(sky, acts);
        if date(sky) == (4, 5) {
            acts.push(barrier(0.84));
        }
    })
    .expect("sound");
    let open = play(&wet, &p, &sky[..365], low).expect("sound");
    assert_eq!(barred.peak("nutsedge_cover"), open.peak("nutsedge_cover"));
}

/// Where nobody saw nutsedge there is none, whatever is sprayed.
#[test]
fn none_stated_none_played() {
    for track in played(
        &loam(),
        |_| {},
        |sky, acts| {
            mow_and_water(sky, acts);
            if date(sky) == (6, 20) {
                acts.push(sprayed("halosulfuron", 0.07));
            }
        },
    ) {
        for key in ["nutsedge_cover", "broadleaf_cover", "clover_cover"] {
            assert_eq!(track.peak(key), 0.0, "{key}");
        }
    }
}
