//! What work takes, against worked numbers.
mod toy;

use sim::program::{Job, Toll, mowing_m2_per_minute, toll, travel};
use sim::scenario::{Crew, Grass, Lawn, Product, What};
use sim::work::{Act, ActiveId, Carrier, Clippings, SeedMix, Sowing};
use toy::*;

const M_PER_IN: f64 = 0.0254;
const M_S_PER_MPH: f64 = 0.44704;
const M2_PER_1000_FT2: f64 = 92.90304;
const M2_PER_ACRE: f64 = 4046.8564224;

fn minutes_per_1000_ft2(inches: f64, mph: f64, efficiency: f64) -> f64 {
    M2_PER_1000_FT2 / mowing_m2_per_minute(inches * M_PER_IN, mph * M_S_PER_MPH, efficiency)
}

fn close(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got} is not {want} +/- {tolerance}");
}

/// acres/h = mph x ft x efficiency / 8.25 (ASABE EP496 relation), worked through by hand.
#[test]
fn mowing_pace_agrees_with_the_us_relation() {
    for (inches, mph, efficiency) in [(21.0, 2.5, 0.75), (30.0, 3.0, 0.8), (60.0, 8.5, 0.8)] {
        let acres_per_hour = mph * (inches / 12.0) * efficiency / 8.25;
        let ours = 60.0 * mowing_m2_per_minute(inches * M_PER_IN, mph * M_S_PER_MPH, efficiency)
            / M2_PER_ACRE;
        close(ours, acres_per_hour, 1e-9);
    }
    close(minutes_per_1000_ft2(21.0, 2.5, 0.75), 3.5, 0.05);
    close(minutes_per_1000_ft2(21.0, 3.0, 0.8), 2.7, 0.05);
    close(minutes_per_1000_ft2(30.0, 3.0, 0.8), 1.9, 0.05);
    close(minutes_per_1000_ft2(42.0, 4.0, 0.75), 1.1, 0.05);
}

/// "60 in at 8.5 mph, 80 %: 4.12 acres an hour" (trade article on mower productivity).
#[test]
fn mowing_pace_agrees_with_a_printed_example() {
    let m2_per_minute = mowing_m2_per_minute(60.0 * M_PER_IN, 8.5 * M_S_PER_MPH, 0.8);
    close(m2_per_minute * 60.0 / M2_PER_ACRE, 4.12, 0.005);
}

fn of(what: &What, act: Act, rate_factor: f64) -> Toll {
    toll(&crew(), &lawn(), what, &Job { practice: 0, act, rate_factor, ground: 1.0 })
}

#[test]
fn bagging_lengthens_the_passes_and_not_the_trimming() {
    let cut = |clippings| {
        let what = What::Mow { height_mm: 75.0, clippings };
        of(&what, Act::Cut { height_mm: 75.0, clippings }, 1.0)
    };
    let (left, bagged) = (cut(Clippings::Return), cut(Clippings::Collect));
    // 500 m2 at 0.5334 m x 1.1176 m/s x 0.75 = 26.825 m2/min, and 2 minutes trimming a 100 m2.
    close(left.minutes, 18.639 + 10.0, 1e-3);
    close(bagged.minutes, 1.43 * 18.639 + 10.0, 2e-3);
    close(left.cost, 45.0 * left.minutes / 60.0, 1e-9);
}

#[test]
fn product_is_paid_as_laid_and_sprays_at_their_own_pace() {
    let act = Act::LayBarrier {
        active: ActiveId(0),
        rate_kg_ha: 0.73,
        carrier: Carrier::Spray,
        unevenness: 0.2,
    };
    let (meant, heavy) = (of(&barrier(), act, 1.0), of(&barrier(), act, 1.2));
    close(meant.minutes, 2.2 * 5.0, 1e-9);
    close(meant.cost, 11.0 * 0.75 + 0.02 * 500.0, 1e-9);
    close(heavy.cost - meant.cost, 0.2 * 0.02 * 500.0, 1e-9);
}

#[test]
fn compost_is_paid_by_its_volume_and_water_as_it_leaves_the_tap() {
    let what = What::Topdress { depth_mm: 6.0, price_m3: 40.0 };
    let compost = of(&what, Act::LayCompost { depth_mm: 6.0 }, 1.0);
    // 6 mm on 500 m2 is 3 m3; 10 minutes a 100 m2 and mm.
    close(compost.minutes, 300.0, 1e-9);
    close(compost.cost, 300.0 * 0.75 + 120.0, 1e-9);

    let water = of(&What::Water { depth_mm: 15.0 }, Act::Wet { water_mm: 12.0 }, 1.0);
    // 15 mm on 500 m2 is 7.5 m3 at 2 each, though only 12 mm reach the roots.
    close(water.cost, 4.0 * 0.75 + 15.0, 1e-9);
    let watered_in = of(&barrier(), Act::Wet { water_mm: 10.4 }, 1.0);
    close(watered_in.cost, 4.0 * 0.75 + 13.0, 1e-9);
}

/// The three ways of sowing take the crew's three paces; seed is paid as it was laid.
#[test]
fn seed_is_paid_as_laid_and_each_way_of_sowing_has_its_pace() {
    let seed = SeedMix::one(Grass::TallFescue, 20.0);
    let sow = |method, rate_factor| {
        let product = Product {
            name: "tall fescue seed".into(),
            amount_per_m2: 20.0,
            liquid: false,
            price_per_m2: 0.2,
        };
        let what = What::Overseed { seed, pure_live_seed: 0.8, method, water_in_mm: 6.0, product };
        let act = Act::SowGrass { seed: seed.scaled(rate_factor), pure_live_seed: 0.8, method };
        (of(&what, act, rate_factor), of(&what, Act::Wet { water_mm: 4.8 }, 1.0))
    };
    // 500 m2 at 1.1, 1.1 and 16, and 9 minutes a 100 m2.
    for (method, minutes) in [(Sowing::Broadcast, 5.5), (Sowing::Raked, 85.5), (Sowing::Slit, 45.0)]
    {
        let (sown, watered) = sow(method, 1.0);
        close(sown.minutes, minutes, 1e-9);
        close(sown.cost, minutes * 0.75 + 0.2 * 500.0, 1e-9);
        close(sow(method, 1.1).0.cost - sown.cost, 0.1 * 0.2 * 500.0, 1e-9);
        // 6 mm leave the tap on 500 m2: 3 m3 at 2 each.
        close(watered.cost, 4.0 * 0.75 + 6.0, 1e-9);
    }
}

#[test]
fn travel_costs_its_minutes() {
    close(travel(&crew()).cost, 15.0 * 0.75, 1e-9);
}

#[test]
fn no_lawn_takes_no_product() {
    let nothing = Lawn { area_m2: 0.0, ..lawn() };
    let idle = Crew { water_minutes: 0.0, ..crew() };
    let job = Job { practice: 0, act: Act::Wet { water_mm: 12.0 }, rate_factor: 1.0, ground: 1.0 };
    assert_eq!(toll(&idle, &nothing, &What::Water { depth_mm: 15.0 }, &job), Toll::default());
}
