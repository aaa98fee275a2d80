//! What a crew loads for one area: bags, tank fills, spreader passes, water, compost. Arithmetic only.

/// How much of a material goes on one square metre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dose {
    /// Dry material by weight, g/m2.
    Dry(f64),
    /// A liquid product by volume, mL/m2.
    Liquid(f64),
    /// A layer of loose material, mm.
    Layer(f64),
    /// Water from the tap, mm.
    Water(f64),
}

impl Dose {
    /// The amount for an area, m2: kg of a dry material, L of a liquid or of water, m3 of a layer.
    pub fn on(self, area_m2: f64) -> f64 {
        match self {
            // 1 mm on 1 m2 is 1 L.
            Dose::Water(mm) => mm * area_m2,
            Dose::Dry(per_m2) | Dose::Liquid(per_m2) | Dose::Layer(per_m2) => {
                per_m2 * area_m2 / 1000.0
            }
        }
    }

    /// The least water that a spray of it is, mL/m2: its own volume where it is a liquid.
    pub fn carries_ml_m2(self) -> f64 {
        match self {
            Dose::Liquid(ml_m2) => ml_m2,
            Dose::Dry(_) | Dose::Layer(_) | Dose::Water(_) => 0.0,
        }
    }
}

/// Full bags to buy for a weight; both in kg.
pub fn bags_to_buy(weight_kg: f64, bag_kg: f64) -> u32 {
    // A bag that is just used up needs no further one for the sake of a rounding error.
    (weight_kg / bag_kg - 1e-9).ceil().max(0.0) as u32
}

/// How a sprayed product is divided over the fills of a tank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TankMix {
    /// Spray mix for the whole area, L.
    pub mix_l: f64,
    /// Fills of the whole tank.
    pub full_fills: u32,
    /// Mix in the fill after those, L; 0 where the full ones do.
    pub last_l: f64,
    /// Product in each full fill, in the unit of the product.
    pub product_a_fill: f64,
    /// Product in the last one.
    pub product_in_last: f64,
}

/// Divides a product for `area_m2` over tanks of `tank_l`, at `carrier_ml_m2` of mix. Every litre of
/// mix has the same product: product in a fill = product x fill / mix, as extension sheets on hand
/// sprayers have it. `least_ml_m2` is the product itself where it is a liquid: a mix cannot be less.
pub fn tank_mix(
    product: f64,
    least_ml_m2: f64,
    area_m2: f64,
    carrier_ml_m2: f64,
    tank_l: f64,
) -> TankMix {
    let mix_l = carrier_ml_m2.max(least_ml_m2) * area_m2 / 1000.0;
    let full_fills = (mix_l / tank_l + 1e-9).floor();
    let last_l = mix_l - full_fills * tank_l;
    // A fill of a millionth is a rounding error.
    let last_l = if last_l < 1e-6 * mix_l { 0.0 } else { last_l };
    let share = |fill_l: f64| if mix_l > 0.0 { product * fill_l / mix_l } else { 0.0 };
    TankMix {
        mix_l,
        full_fills: full_fills as u32,
        last_l,
        product_a_fill: share(tank_l),
        product_in_last: share(last_l),
    }
}

/// Two passes of half the rate, the second across the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passes {
    /// Product in each of the two, in the unit of the product.
    pub each: f64,
    /// Times across a square lawn of the area in each of the two.
    pub across: u32,
}

/// Halves a product, in whatever it is weighed in, over two passes of a spreader that covers `width_m`
/// (more than 0).
pub fn passes(product: f64, area_m2: f64, width_m: f64) -> Passes {
    let across = (area_m2.sqrt() / width_m - 1e-9).ceil().max(1.0) as u32;
    Passes { each: product / 2.0, across }
}

/// Minutes that sprinklers run for a depth: depth / rate, the rate more than 0.
pub fn minutes_of_water(depth_mm: f64, rate_mm_h: f64) -> f64 {
    depth_mm / rate_mm_h * 60.0
}

/// Plot of the 1/128 acre calibration, m2: an acre is 4046.8564224 m2 and a gallon 128 fl oz, so the
/// fl oz caught in the time that the plot takes are the gallons per acre.
pub const ACRE_128TH_M2: f64 = 4_046.856_422_4 / 128.0;

/// What a sprayer must let out in the time that it takes to spray a plot, mL.
pub fn calibration_catch_ml(carrier_ml_m2: f64, plot_m2: f64) -> f64 {
    carrier_ml_m2 * plot_m2
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Kind, parse, rates};

    fn si(text: &str, kind: Kind) -> f64 {
        parse(text, kind).unwrap_or_else(|f| panic!("{text}: {f:?}"))
    }

    fn hundredth(got: f64, printed: f64) {
        assert!((got - printed).abs() < 0.005 + 1e-9, "{got} against the printed {printed}");
    }

    const LB_KG: f64 = 0.453_592_37;
    const GAL_L: f64 = 3.785_411_784;
    const FL_OZ_L: f64 = GAL_L / 128.0;

    /// Nebraska Extension (byf.unl.edu): 6,000 ft2 at 1 lb N from 28-3-6 take 21.42 lb, at 3.57 lb on
    /// 1,000 ft2 (the sheet multiplies the rounded rate, so 21.43 is within the hundredth of it).
    #[test]
    fn bags_of_a_dry_fertilizer() {
        let area = si("6000 ft2", Kind::Area);
        let rate = rates::dry_product_g_m2(si("1 lb N/1000 ft2", Kind::NitrogenRate), 0.28);
        let weight = Dose::Dry(rate).on(area);
        assert!((weight / LB_KG - 21.42).abs() < 0.011, "{}", weight / LB_KG);
        assert_eq!(bags_to_buy(weight, si("50 lb", Kind::Weight)), 1);
        assert_eq!(bags_to_buy(3.0 * weight, si("50 lb", Kind::Weight)), 2);
        assert_eq!(bags_to_buy(50.0, 25.0), 2);
        assert_eq!(bags_to_buy(50.001, 25.0), 3);
        assert_eq!(bags_to_buy(0.0, 25.0), 0);
    }

    /// University training slides on the 1/128 acre method: 40 fl oz caught are 40 gallons per acre; a
    /// quart of product an acre is then 0.8 fl oz in each gallon of mix.
    #[test]
    fn calibration_of_a_hand_sprayer() {
        let per_acre = si("40 gal/ac", Kind::VolumePerArea);
        hundredth(calibration_catch_ml(per_acre, ACRE_128TH_M2) / 1000.0 / FL_OZ_L, 40.0);
        hundredth(ACRE_128TH_M2 / si("1 ft2", Kind::Area), 340.31);
        let acre = si("1 ac", Kind::Area);
        let product = Dose::Liquid(si("1 qt/ac", Kind::VolumePerArea)).on(acre);
        let mix = tank_mix(product, 0.0, acre, per_acre, GAL_L);
        assert_eq!(mix.full_fills, 40);
        hundredth(mix.product_a_fill / FL_OZ_L, 0.8);
        assert_eq!((mix.last_l, mix.product_in_last), (0.0, 0.0));
    }

    /// Virginia Cooperative Extension, as quoted from its 456-502: 1.5 gal on 1,000 ft2 are 65 gallons
    /// per acre; 3 pints an acre are then 0.74 fl oz in a gallon of mix.
    #[test]
    fn product_in_a_gallon_of_mix() {
        let carrier = si("1.5 gal/1000 ft2", Kind::VolumePerArea);
        let acre = si("1 ac", Kind::Area);
        let product = Dose::Liquid(si("3 pt/ac", Kind::VolumePerArea)).on(acre);
        let mix = tank_mix(product, 0.0, acre, carrier, GAL_L);
        assert!((mix.mix_l / GAL_L - 65.0).abs() < 0.5, "{}", mix.mix_l / GAL_L);
        // The sheet divides by its rounded 65.
        hundredth(mix.product_a_fill / FL_OZ_L * 65.34 / 65.0, 0.74);
        // The parts make up the whole.
        let whole = f64::from(mix.full_fills) * mix.product_a_fill + mix.product_in_last;
        assert!((whole - product).abs() < 1e-9);
        assert!((f64::from(mix.full_fills) * GAL_L + mix.last_l - mix.mix_l).abs() < 1e-9);
    }

    /// Trade rate tables: 0.65 lb ai/ac of a 65 % WG is 0.37 oz on 1,000 ft2, so 2.2 oz on 6,000; a
    /// tank of 4 gal at 1 gal on 1,000 ft2 is filled once and then with 2 gal.
    #[test]
    fn a_powder_in_two_fills() {
        let rate = rates::dry_for_active_g_m2(si("0.65 lb ai/ac", Kind::ActiveRate), 0.65);
        let ounce = LB_KG / 16.0;
        let (one, area) = (si("1000 ft2", Kind::Area), si("6000 ft2", Kind::Area));
        hundredth(Dose::Dry(rate).on(one) / ounce, 0.37);
        let carrier = si("1 gal/1000 ft2", Kind::VolumePerArea);
        let mix = tank_mix(Dose::Dry(rate).on(area), 0.0, area, carrier, 4.0 * GAL_L);
        assert_eq!(mix.full_fills, 1);
        hundredth(mix.last_l / GAL_L, 2.0);
        hundredth(mix.product_a_fill / ounce, 4.0 * 0.367);
        hundredth(mix.product_in_last / ounce, 2.0 * 0.367);
    }

    /// A liquid that is more than its carrier goes out as it is.
    #[test]
    fn a_mix_is_never_less_than_its_product() {
        let mix = tank_mix(6.0, 60.0, 100.0, 40.0, 10.0);
        assert!((mix.mix_l - 6.0).abs() < 1e-12);
        assert!((mix.product_in_last - 6.0).abs() < 1e-12);
    }

    /// An acre-inch is 27,154 gal, and a square foot an inch deep 0.62 gal (handbook values; US
    /// Geological Survey: 27,154 gallons for an inch on an acre).
    #[test]
    fn gallons_of_an_inch() {
        let inch = Dose::Water(si("1 in", Kind::Depth));
        assert!((inch.on(si("1 ac", Kind::Area)) / GAL_L - 27_154.0).abs() < 0.5);
        hundredth(inch.on(si("1 ft2", Kind::Area)) / GAL_L, 0.62);
        let minutes =
            minutes_of_water(si("0.5 in", Kind::Depth), si("0.5 in/h", Kind::DepthPerHour));
        hundredth(minutes, 60.0);
    }

    /// Cubic yards = ft2 x in / 324 (several extension tables): 1/4 in on 1,000 ft2 is 0.77 yd3.
    #[test]
    fn cubic_yards_of_compost() {
        let yard = 0.764_554_857_984;
        let quarter = Dose::Layer(si("1/4 in", Kind::Depth));
        hundredth(quarter.on(si("1000 ft2", Kind::Area)) / yard, 0.77);
        hundredth(quarter.on(si("6000 ft2", Kind::Area)) / yard, 6000.0 * 0.25 / 324.0);
    }

    #[test]
    fn two_passes_hold_the_whole() {
        let area = si("6400 ft2", Kind::Area);
        let halves = passes(10.0, area, si("8 ft", Kind::Length));
        assert_eq!(halves, Passes { each: 5.0, across: 10 });
        assert_eq!(passes(1.0, 1.0, 3.0).across, 1);
    }
}
