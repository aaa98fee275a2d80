//! Lawns, weather and crews beyond what a sane person would try: nothing may break, and what
//! happens has to point the right way.
//!
//! Every case is played on four years of two stations' weather, with the central constants and 20
//! members' draws; [`support::audit`] looks at every evening.
mod support;

use sim::parameters::Parameters;
use sim::weather::{Record, RecordDay, Sky};
use sim::work::{Act, ActiveId, Carrier, Clippings, NitrogenForms};
use std::sync::LazyLock;
use support::*;

/// The central constants and 20 members'.
static MEMBERS: LazyLock<Vec<Parameters>> = LazyLock::new(|| {
    std::iter::once(CATALOGUE.central()).chain((0..20).map(|m| drawn(1, m))).collect()
});

type Weather = fn(&mut RecordDay);

fn as_it_was(_: &mut RecordDay) {}

/// Plays a case for every station and member; the tracks in the same order for every case.
fn all(place: &Place, weather: Weather, crew: Crew) -> Vec<Played> {
    let mut tracks = Vec::new();
    for (station, record) in stations() {
        for (member, p) in MEMBERS.iter().enumerate() {
            let skies = sky_path(record, p, weather);
            match play(place, p, &skies, crew) {
                Ok(played) => tracks.push(played),
                Err(fault) => panic!("{station}, member {member}, {fault}"),
            }
        }
    }
    tracks
}

fn stations() -> [(&'static str, &'static Record); 2] {
    [("jfk", &JFK), ("seattle", &SEATTLE)]
}

/// Asserts `holds` for each pair of tracks of the same member.
fn compare(ours: &[Played], theirs: &[Played], holds: impl Fn(&Played, &Played) -> (bool, String)) {
    for (i, (a, b)) in ours.iter().zip(theirs).enumerate() {
        let (ok, words) = holds(a, b);
        let station = if i < MEMBERS.len() { "jfk" } else { "seattle" };
        assert!(ok, "{station}, member {}: {words}", i % MEMBERS.len());
    }
}

/// Ordered, and by how much, in words.
fn less(name: &str, a: f64, b: f64) -> (bool, String) {
    (a < b, format!("{name} {a} should be less than {b}"))
}

/// Days of the year of June to September.
const SUMMER: std::ops::Range<usize> = 151..273;

#[test]
fn no_rain_at_all() {
    fn unwatered(sky: &Sky, acts: &mut Vec<Act>) {
        mow_weekly(sky, acts);
        feed(sky, acts);
    }
    let dry = all(&loam(), |d| d.precip_mm = 0.0, unwatered);
    let rained = all(&loam(), as_it_was, unwatered);
    // Browner and thinner in the first season; later there may be nothing left to compare.
    for key in ["green_cover", "quality", "root_mass"] {
        compare(&dry, &rained, |a, b| less(key, a.mean(key, 0, SUMMER), b.mean(key, 0, SUMMER)));
    }
    compare(&dry, &rained, |a, b| {
        let thin = |t: &Played| t.mean("shoot_density", 0, 330..365);
        less("shoots", thin(a), thin(b))
    });
    compare(&dry, &rained, |a, b| less("et", a.last("et_cum"), b.last("et_cum")));
    for track in &dry {
        assert_eq!(track.last("runoff_cum"), 0.0);
        assert!(track.last("soil_water") < 0.2, "{}", track.last("soil_water"));
    }
}

#[test]
fn no_nitrogen_is_paler_and_grows_less() {
    let unfed = all(&loam(), as_it_was, unfed);
    let fed = all(&loam(), as_it_was, usual);
    for season in 1..4 {
        compare(&unfed, &fed, |a, b| {
            let colour = |t: &Played| t.mean("colour", season, 120..320);
            less("colour", colour(a), colour(b))
        });
    }
    compare(&unfed, &fed, |a, b| {
        less("clippings", a.last("clippings_cum"), b.last("clippings_cum"))
    });
    compare(&unfed, &fed, |a, b| less("uptake", a.end.totals.uptake, b.end.totals.uptake));
}

#[test]
fn ten_times_the_nitrogen_at_once() {
    let heavy = all(&loam(), as_it_was, |sky, acts| {
        mow_and_water(sky, acts);
        if date(sky) == (5, 1) {
            acts.push(Act::LayNitrogen(NitrogenForms {
                urea_g_m2: 50.0,
                ..NitrogenForms::default()
            }));
        }
    });
    let fed = all(&loam(), as_it_was, |sky, acts| {
        mow_and_water(sky, acts);
        if date(sky) == (5, 1) {
            acts.push(Act::LayNitrogen(NitrogenForms {
                urea_g_m2: 5.0,
                ..NitrogenForms::default()
            }));
        }
    });
    compare(&fed, &heavy, |a, b| less("leached", a.last("n_leached_cum"), b.last("n_leached_cum")));
    // A kilogram on 100 m2: 10 g/m2 of every form at once.
    all(&loam(), as_it_was, |sky, acts| {
        if sky.day.0 % 30 == 0 {
            acts.push(every_form(10.0));
        }
    });
}

fn every_form(g_m2: f64) -> Act {
    Act::LayNitrogen(NitrogenForms {
        urea_g_m2: g_m2,
        ammonium_g_m2: g_m2,
        nitrate_g_m2: g_m2,
        coated_g_m2: g_m2,
        coated_days: 0.0,
        on_leaf: false,
        phosphate_g_m2: g_m2,
        unevenness: 0.0,
        organic_g_m2: g_m2,
    })
}

fn feed_and_water(sky: &Sky, acts: &mut Vec<Act>) {
    feed(sky, acts);
    water(sky, acts);
}

#[test]
fn a_year_without_mowing() {
    let unmown = all(&loam(), as_it_was, feed_and_water);
    let mown = all(&loam(), as_it_was, usual);
    for season in 0..4 {
        compare(&mown, &unmown, |a, b| {
            let height = |t: &Played| t.mean("canopy_height", season, SUMMER);
            less("height", height(a), height(b))
        });
    }
    for track in &unmown {
        assert_eq!(track.last("clippings_cum"), 0.0);
        let tallest = track.peak("canopy_height");
        let limit = track.setting.p.sward.height_max_mm;
        assert!(tallest <= limit, "{tallest} mm");
    }
}

#[test]
fn organic_matter_from_one_to_eight_percent() {
    let tracks = [0.01, 0.03, 0.08]
        .map(|share| all(&loam().with(|l| l.organic_matter = share), as_it_was, usual));
    for pair in tracks.windows(2) {
        compare(&pair[0], &pair[1], |a, b| {
            less("mineralized", a.end.totals.mineralized, b.end.totals.mineralized)
        });
        compare(&pair[0], &pair[1], |a, b| {
            less("organic matter", a.last("organic_matter"), b.last("organic_matter"))
        });
    }
}

#[test]
fn no_seed_no_crabgrass() {
    let none = all(&loam().with(|l| l.seed_bank_m2 = Some(0.0)), as_it_was, mow_and_water);
    for track in &none {
        assert_eq!(track.peak("crabgrass_cover"), 0.0);
        assert_eq!(track.peak("crabgrass_emerged"), 0.0);
        assert_eq!(track.end.weed.bank, 0.0);
    }
}

#[test]
fn twenty_thousand_seeds_are_more_than_two_hundred() {
    let [few, many] = [200.0, 20_000.0]
        .map(|n| all(&loam().with(|l| l.seed_bank_m2 = Some(n)), as_it_was, mow_and_water));
    compare(&few, &many, |a, b| {
        less("emerged", a.peak("crabgrass_emerged"), b.peak("crabgrass_emerged"))
    });
    compare(&few, &many, |a, b| {
        less("cover", a.mean("crabgrass_cover", 0, SUMMER), b.mean("crabgrass_cover", 0, SUMMER))
    });
    // On open ground too.
    all(&loam().with(|l| (l.seed_bank_m2, l.turf_cover) = (Some(2e6), 0.0)), as_it_was, feed);
}

#[test]
fn a_frozen_year() {
    let cold =
        all(&loam(), |d| (d.t_min_c, d.t_max_c) = (d.t_min_c - 30.0, d.t_max_c - 30.0), usual);
    for track in &cold {
        assert_eq!(track.peak("crabgrass_emerged"), 0.0);
        let start = track.rows[0][sim::ensemble::measure("canopy_height").expect("a measure")];
        let grown = track.peak("canopy_height") - f64::from(start);
        // The growth index is a bell without an end: a trace is left below freezing.
        assert!(grown < 5.0, "leaves grew {grown} mm");
        assert!(track.last("clippings_cum") < 1.0);
    }
}

#[test]
fn a_scorching_year() {
    let hot =
        all(&loam(), |d| (d.t_min_c, d.t_max_c) = (d.t_min_c + 15.0, d.t_max_c + 15.0), usual);
    let was = all(&loam(), as_it_was, usual);
    compare(&hot, &was, |a, b| {
        let green = |t: &Played| t.mean("green_cover", 1, SUMMER);
        less("green cover", green(a), green(b))
    });
}

/// The lawn is one square metre to the model: an area of 1 ft2 changes nothing but the bill.
#[test]
fn one_square_foot() {
    let small = all(&loam().with(|l| l.lawn.area_m2 = 0.092_903), as_it_was, usual);
    let large = all(&loam(), as_it_was, usual);
    for (a, b) in small.iter().zip(&large) {
        assert_eq!(a.rows, b.rows);
    }
}

#[test]
fn bare_and_full_ground() {
    let bare = all(&loam().with(|l| l.turf_cover = 0.0), as_it_was, usual);
    for track in &bare {
        assert_eq!(track.peak("turf_cover"), 0.0, "no grass comes from nowhere");
        assert_eq!(track.last("clippings_cum"), 0.0);
    }
    let nearly = all(&loam().with(|l| l.turf_cover = 0.01), as_it_was, mow_and_water);
    let full = all(&loam().with(|l| l.turf_cover = 1.0), as_it_was, mow_and_water);
    compare(&full, &nearly, |a, b| {
        less(
            "crabgrass",
            a.mean("crabgrass_cover", 0, SUMMER),
            b.mean("crabgrass_cover", 0, SUMMER),
        )
    });
}

#[test]
fn mowing_to_1_mm_every_day() {
    let shaved = all(&loam(), as_it_was, |_, acts| acts.push(mow(1.0)));
    let was = all(&loam(), as_it_was, mow_and_water);
    compare(&shaved, &was, |a, b| less("shoots", a.last("shoot_density"), b.last("shoot_density")));
    for height_mm in [0.0, -5.0] {
        let crew = move |_: &_, acts: &mut Vec<Act>| {
            acts.push(Act::Cut { height_mm, clippings: Clippings::Collect });
        };
        let p = CATALOGUE.central();
        play(&loam(), &p, &sky_path(&JFK, &p, as_it_was), crew).expect("holds");
    }
}

#[test]
fn mowing_to_500_mm_is_not_mowing() {
    // But for its wheels, which press the lawn wherever the deck stands.
    for (_, record) in stations() {
        for p in MEMBERS.iter() {
            let mut p = p.clone();
            p.mowing.track_share = 0.0;
            let skies = sky_path(record, &p, as_it_was);
            let high = play(&loam(), &p, &skies, |sky, acts| {
                feed_and_water(sky, acts);
                acts.push(mow(500.0));
            });
            let never = play(&loam(), &p, &skies, feed_and_water);
            let (high, never) = (high.expect("books close"), never.expect("books close"));
            assert!(high.rows == never.rows, "a deck above the grass changed the lawn");
        }
    }
}

#[test]
fn five_hundred_millimetres_a_day() {
    let flooded = all(&loam(), as_it_was, |sky, acts| {
        usual(sky, acts);
        acts.push(Act::Wet { water_mm: 500.0 });
    });
    let was = all(&loam(), as_it_was, usual);
    compare(&was, &flooded, |a, b| {
        less("drainage", a.last("drainage_cum"), b.last("drainage_cum"))
    });
    compare(&was, &flooded, |a, b| {
        less("leached", a.last("n_leached_cum"), b.last("n_leached_cum"))
    });
}

/// A hundred kilograms a hectare: of the most persistent active ingredient once in March, of the
/// others every month (an active that the model does not know counts as the last one).
#[test]
fn a_barrier_of_100_kg_ha() {
    fn heavy<const ACTIVE: u8>(sky: &Sky, acts: &mut Vec<Act>) {
        mow_and_water(sky, acts);
        let (month, day) = date(sky);
        if day == 1 && (month == 3 || (ACTIVE != 0 && (3..10).contains(&month))) {
            acts.push(Act::LayBarrier {
                active: ActiveId(ACTIVE),
                rate_kg_ha: 100.0,
                carrier: Carrier::Granule,
                unevenness: 0.3,
            });
        }
    }
    let without = all(&loam(), as_it_was, mow_and_water);
    for crew in [heavy::<0>, heavy::<1>, heavy::<3>, heavy::<5>, heavy::<7>, heavy::<200>] {
        let with = all(&loam(), as_it_was, crew);
        compare(&with, &without, |a, b| {
            less("through", a.peak("crabgrass_emerged"), 0.01 * b.peak("crabgrass_emerged"))
        });
    }
}

#[test]
fn a_hundred_millimetres_of_compost() {
    let buried = all(&loam(), as_it_was, |sky, acts| {
        mow_and_water(sky, acts);
        if date(sky) == (9, 15) {
            acts.push(Act::LayCompost { depth_mm: 100.0 });
        }
    });
    let was = all(&loam(), as_it_was, mow_and_water);
    compare(&was, &buried, |a, b| {
        less("organic matter", a.last("organic_matter"), b.last("organic_matter"))
    });
    compare(&was, &buried, |a, b| {
        less("mineralized", a.end.totals.mineralized, b.end.totals.mineralized)
    });
}

#[test]
fn every_practice_every_day() {
    all(&loam(), as_it_was, |sky, acts| {
        acts.push(mow(40.0));
        acts.push(every_form(1.0));
        acts.push(Act::Wet { water_mm: 10.0 });
        acts.push(Act::LayCompost { depth_mm: 1.0 });
        let day = sky.day_of_year;
        let carrier = if day % 2 == 0 { Carrier::Spray } else { Carrier::Granule };
        let active = ActiveId((day % 9) as u8);
        acts.push(Act::LayBarrier { active, rate_kg_ha: 1.0, carrier, unevenness: 0.5 });
        acts.push(Act::Cut { height_mm: 30.0, clippings: Clippings::Collect });
    });
}

#[test]
fn pure_sand_and_pure_clay() {
    let [sand, clay] = [(1.0, 0.0), (0.0, 1.0)].map(|(sand, clay)| {
        let place = loam().with(|l| (l.lawn.soil.sand, l.lawn.soil.clay) = (sand, clay));
        all(&place, as_it_was, usual)
    });
    compare(&clay, &sand, |a, b| less("drainage", a.last("drainage_cum"), b.last("drainage_cum")));
    // Pure silt, and sand without organic matter.
    all(&loam().with(|l| (l.lawn.soil.sand, l.lawn.soil.clay) = (0.0, 0.0)), as_it_was, usual);
    all(
        &loam().with(|l| {
            (l.lawn.soil.sand, l.lawn.soil.clay) = (1.0, 0.0);
            l.organic_matter = 0.0;
        }),
        as_it_was,
        usual,
    );
}

#[test]
fn no_topsoil() {
    for topsoil_mm in [0.0, 1000.0] {
        all(&loam().with(|l| l.lawn.soil.topsoil_mm = topsoil_mm), as_it_was, usual);
    }
}

#[test]
fn no_sun() {
    let dark = all(&loam().with(|l| l.lawn.sun = 0.0), as_it_was, usual);
    for track in &dark {
        assert!(track.last("turf_cover") < 5.0, "{}", track.last("turf_cover"));
    }
}

#[test]
fn no_sun_no_crabgrass() {
    let dark = all(&loam().with(|l| l.lawn.sun = 0.0), as_it_was, mow_and_water);
    for track in &dark {
        let peak = track.peak("crabgrass_cover");
        // Seedlings come up on what their seed holds, and die.
        assert!(peak < 1.0, "{peak} % crabgrass in the dark");
    }
}

/// Common practice: unwatered cool-season lawns of the Pacific Northwest go brown in the dry
/// summer and green up with the autumn rains.
#[test]
fn a_dormant_lawn_greens_up_with_the_autumn_rain() {
    let p = CATALOGUE.central();
    let skies = sky_path(&SEATTLE, &p, as_it_was);
    let track = play(&loam(), &p, &skies, mow_weekly).expect("holds");
    let [brown, green] = [255..275, 320..350].map(|days| track.mean("green_cover", 0, days));
    assert!(brown < 10.0 && green > 35.0, "green cover {brown} % in September, {green} % after");
}
