//! Sprays on standing weeds and yellow nutsedge beyond what a sane person would try: nothing may
//! break, and what happens has to point the right way. [`support::audit`] looks at every evening.
mod support;

use sim::parameters::{POSTS, Parameters};
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

/// Every herbicide, at its highest rate times ten, on every weed, in every month of the season.
#[test]
fn ten_times_the_rate_of_everything() {
    played(
        &weedy(),
        |_| {},
        |sky, acts| {
            mow_and_water(sky, acts);
            if sky.day_of_year % 15 == 0 {
                let name = POSTS[usize::from(sky.day_of_year / 15) % POSTS.len()];
                acts.push(sprayed(name, 10.0));
            }
        },
    );
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

/// Rain within hours, drought, cold: each lets less of a spray in than a mild dry day.
#[test]
fn a_storm_or_a_drought_costs_kill() {
    let june = |sky: &Sky, acts: &mut Vec<Act>| {
        mow_weekly(sky, acts);
        if date(sky) == (6, 20) {
            acts.push(sprayed("quinclorac", 0.42));
        }
    };
    let watered = |sky: &Sky, acts: &mut Vec<Act>| {
        june(sky, acts);
        if sky.day_of_year < 168 {
            water(sky, acts);
        }
    };
    let from = JFK.first;
    let storm = move |days: &mut Vec<RecordDay>, wet: bool| {
        for (k, day) in days.iter_mut().enumerate() {
            let (_, month, of) = from.plus(k as i32).ymd();
            if month == 6 && (17..=26).contains(&of) {
                day.precip_mm = if wet && of == 20 { 60.0 } else { 0.0 };
            }
        }
    };
    for p in MEMBERS.iter() {
        let plants = |wet: bool| {
            let mut days = JFK.days.clone();
            storm(&mut days, wet);
            let sky = skies(&days, JFK.first, &JFK.site, JFK.anemometer_m, &p.weather, &mut || 0.5);
            let track = play(&loam(), p, &sky[..195], watered).expect("sound");
            track.end.weed.plants()
        };
        assert!(plants(true) > 1.1 * plants(false), "{} {}", plants(true), plants(false));
    }
    // In a year without rain from April on, and no watering, the same spray kills a smaller share.
    for p in MEMBERS.iter() {
        let share = |dry: bool| {
            let plants = |spray: bool| {
                let from = JFK.first;
                let mut days = JFK.days.clone();
                for (k, day) in days.iter_mut().enumerate() {
                    if dry && from.plus(k as i32).day_of_year() > 150 {
                        day.precip_mm = 0.0;
                    }
                }
                let sky =
                    skies(&days, JFK.first, &JFK.site, JFK.anemometer_m, &p.weather, &mut || 0.5);
                let crew = |sky: &Sky, acts: &mut Vec<Act>| {
                    if !dry {
                        water(sky, acts);
                    }
                    if spray && date(sky) == (7, 10) {
                        acts.push(sprayed("mesotrione", 0.14));
                    }
                };
                let track = play(&loam(), p, &sky[..215], crew).expect("sound");
                track.end.weed.plants()
            };
            1.0 - plants(true) / plants(false).max(1e-9)
        };
        assert!(share(true) < share(false) - 0.05, "{} {}", share(true), share(false));
    }
}

/// At 35 C a mix burns turf that it spares in mild weather.
#[test]
fn a_spray_in_heat_burns_turf() {
    let at = |hot_c: f64, spray: bool| {
        played(
            &loam(),
            move |d| (d.t_min_c, d.t_max_c) = (hot_c - 14.0, hot_c),
            move |sky, acts| {
                mow_and_water(sky, acts);
                if spray && date(sky) == (6, 1) {
                    acts.push(sprayed("2,4-D_mecoprop_dicamba_amine", 1.12));
                }
            },
        )
    };
    for (hot_c, least, most) in [(22.0, -1.0, 1.0), (36.0, 1.0, 100.0)] {
        for (a, b) in at(hot_c, true).iter().zip(&at(hot_c, false)) {
            let green = |t: &Played| t.mean("green_cover", 0, 157..170);
            let lost = green(b) - green(a);
            assert!((least..=most).contains(&lost), "{hot_c} C: {lost} points");
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
        l.lawn.soil.compaction = sim::scenario::Compaction::Severe;
        l.lawn.soil.topsoil_mm = 80.0;
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
