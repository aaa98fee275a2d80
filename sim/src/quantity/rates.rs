//! The arithmetic of amounts that crews do by hand, in SI.

/// Dry product that carries a wanted nutrient: product = wanted / fraction.
///
/// `wanted_g_m2` g/m2 of nitrogen; `fraction` of it in the product by weight, above 0 (0.46 for
/// 46-0-0). Gives g/m2 of product. Source: Nebraska Extension, lawn fertilizer calculation.
pub fn dry_product_g_m2(wanted_g_m2: f64, fraction: f64) -> f64 {
    wanted_g_m2 / fraction
}

/// Nitrogen in a dry product: the inverse of [`dry_product_g_m2`], g/m2.
pub fn nitrogen_from_dry_g_m2(product_g_m2: f64, fraction: f64) -> f64 {
    product_g_m2 * fraction
}

/// Nitrogen in a liquid, whose analysis is by weight: volume x density x fraction.
///
/// `volume_ml_m2` mL/m2, `density_kg_l` kg/L, `fraction` by weight. Gives g N/m2. Source: the
/// fl oz / 128 x lb/gal x fraction rule of Virginia Cooperative Extension 424-035.
pub fn nitrogen_from_liquid_g_m2(volume_ml_m2: f64, density_kg_l: f64, fraction: f64) -> f64 {
    volume_ml_m2 * density_kg_l * fraction
}

/// Liquid that carries wanted nitrogen, mL/m2: the inverse of [`nitrogen_from_liquid_g_m2`].
pub fn liquid_for_nitrogen_ml_m2(wanted_g_m2: f64, density_kg_l: f64, fraction: f64) -> f64 {
    wanted_g_m2 / (density_kg_l * fraction)
}

/// Phosphorus in phosphate (P2O5), by molar mass: 2 P in P2O5 (IUPAC atomic masses 30.974, 15.999).
pub const PHOSPHORUS_IN_PHOSPHATE: f64 = 2.0 * 30.974 / (2.0 * 30.974 + 5.0 * 15.999);

/// Active ingredient in a dry product, kg ai/ha; `product_g_m2` g/m2, `fraction` by weight.
pub fn active_from_dry_kg_ha(product_g_m2: f64, fraction: f64) -> f64 {
    product_g_m2 * fraction * 10.0
}

/// Dry product that carries an active rate, g/m2; `rate_kg_ha` kg ai/ha, `fraction` above 0.
pub fn dry_for_active_g_m2(rate_kg_ha: f64, fraction: f64) -> f64 {
    rate_kg_ha / 10.0 / fraction
}

/// Active ingredient in a liquid product, kg ai/ha; `volume_ml_m2` mL/m2, `active_kg_l` kg ai/L.
pub fn active_from_liquid_kg_ha(volume_ml_m2: f64, active_kg_l: f64) -> f64 {
    volume_ml_m2 * active_kg_l * 10.0
}

/// Liquid product that carries an active rate, mL/m2; `active_kg_l` kg ai/L, above 0.
pub fn liquid_for_active_ml_m2(rate_kg_ha: f64, active_kg_l: f64) -> f64 {
    rate_kg_ha / 10.0 / active_kg_l
}

/// Area mown in an hour, m2/h: speed x width x efficiency (the ASABE field capacity relation,
/// acres/h = mph x ft x efficiency / 8.25).
///
/// `width_m` m, `speed_m_s` m/s, `efficiency` 0..=1 (overlap and turning taken off).
pub fn mowing_m2_per_h(width_m: f64, speed_m_s: f64, efficiency: f64) -> f64 {
    width_m * speed_m_s * efficiency * 3600.0
}

/// Volume of a layer, m3 per m2; `depth_mm` mm.
pub fn layer_m3_per_m2(depth_mm: f64) -> f64 {
    depth_mm / 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Kind, parse};

    fn si(text: &str, kind: Kind) -> f64 {
        parse(text, kind).unwrap_or_else(|f| panic!("{text}: {f:?}"))
    }

    /// How many of `unit` are in `value`.
    fn count(value: f64, unit: &str, kind: Kind) -> f64 {
        value / si(&format!("1 {unit}"), kind)
    }

    fn to_hundredth(got: f64, printed: f64) {
        assert!((got - printed).abs() < 0.005 + 1e-9, "{got} against the printed {printed}");
    }

    /// Nebraska Extension (byf.unl.edu): 28-3-6 at 1 lb N is 3.57 lb/1000 ft2, 21.42 lb on 6000;
    /// 46-0-0: 1/0.46 = 2.17 lb.
    #[test]
    fn dry_fertilizer() {
        let pound = si("1 lb N/1000 ft2", Kind::NitrogenRate);
        let per_m = count(dry_product_g_m2(pound, 0.28), "lb/1000 ft2", Kind::MassPerArea);
        to_hundredth(per_m, 3.57);
        assert!((per_m * 6.0 - 21.42).abs() < 0.01, "{}", per_m * 6.0);
        let urea = count(dry_product_g_m2(pound, 0.46), "lb/1000 ft2", Kind::MassPerArea);
        to_hundredth(urea, 2.17);
        assert!(
            (nitrogen_from_dry_g_m2(dry_product_g_m2(pound, 0.46), 0.46) - pound).abs() < 1e-12
        );
    }

    /// The fl oz / 128 x lb/gal rule with 18-3-6 at 10.58 lb/gal: 6 fl oz lay 0.089 lb N, 9 lay
    /// 0.134, 1 lb N needs 67.2 fl oz. And the rule's printed example: 10.68 / 128 = 0.083.
    #[test]
    fn liquid_fertilizer() {
        let density = si("10.58 lb/gal", Kind::Density);
        for (ounces, pounds) in [("6", 0.089), ("9", 0.134)] {
            let volume = si(&format!("{ounces} fl oz/1000 ft2"), Kind::VolumePerArea);
            let n = nitrogen_from_liquid_g_m2(volume, density, 0.18);
            let got = count(n, "lb N/1000 ft2", Kind::NitrogenRate);
            assert!((got - pounds).abs() < 0.000_5, "{got}");
        }
        let pound = si("1 lb N/1000 ft2", Kind::NitrogenRate);
        let volume = liquid_for_nitrogen_ml_m2(pound, density, 0.18);
        let ounces = count(volume, "fl oz/1000 ft2", Kind::VolumePerArea);
        assert!((ounces - 67.2).abs() < 0.05, "{ounces}");
        let one = si("1 fl oz/1000 ft2", Kind::VolumePerArea);
        let product = nitrogen_from_liquid_g_m2(one, si("10.68 lb/gal", Kind::Density), 1.0);
        assert!((count(product, "lb/1000 ft2", Kind::MassPerArea) - 0.083).abs() < 0.000_5);
    }

    /// Rate table by concentration: product per 1000 ft2 for an ai rate per acre, as printed in
    /// trade rate tables (two figures).
    #[test]
    fn pre_emergent_rate_table() {
        for (rate, fraction, unit, printed) in [
            ("0.38 lb ai/ac", 0.65, "oz/1000 ft2", 0.21),
            ("0.65 lb ai/ac", 0.65, "oz/1000 ft2", 0.37),
            ("1.5 lb ai/ac", 0.65, "oz/1000 ft2", 0.85),
            ("0.25 lb ai/ac", 0.40, "oz/1000 ft2", 0.23),
            ("12 lb ai/ac", 0.50, "oz/1000 ft2", 8.8),
            ("0.50 lb ai/ac", 0.0043, "lb/1000 ft2", 2.7),
            ("0.5 lb ai/ac", 0.0013, "lb/1000 ft2", 8.8),
            ("2 lb ai/ac", 0.0086, "lb/1000 ft2", 5.3),
            ("3 lb ai/ac", 0.02, "lb/1000 ft2", 3.4),
        ] {
            let product = dry_for_active_g_m2(si(rate, Kind::ActiveRate), fraction);
            let got = count(product, unit, Kind::MassPerArea);
            let slack = if printed < 1.0 { 0.005 } else { 0.05 };
            assert!((got - printed).abs() <= slack + 1e-9, "{rate} {fraction}: {got} {printed}");
        }
        for (rate, strength, printed) in [
            ("0.75 lb ai/ac", "4 lb/gal", 0.55),
            ("0.38 lb ai/ac", "2 lb/gal", 0.56),
            ("1.5 lb ai/ac", "3.3 lb/gal", 1.34),
            ("2 lb ai/ac", "3.8 lb/gal", 1.55),
            ("0.125 lb ai/ac", "4 lb/gal", 0.092),
        ] {
            let rate_kg_ha = si(rate, Kind::ActiveRate);
            let strength = si(strength, Kind::Density);
            let volume = liquid_for_active_ml_m2(rate_kg_ha, strength);
            let got = count(volume, "fl oz/1000 ft2", Kind::VolumePerArea);
            assert!((got - printed).abs() <= 0.005 + 1e-9, "{rate}: {got} {printed}");
            assert!((active_from_liquid_kg_ha(volume, strength) - rate_kg_ha).abs() < 1e-12);
        }
    }

    /// Trade press, by the ASABE relation: 60 in at 8.5 mph and 80 % mow 4.12 acres an hour; and
    /// 21 in at 2.5 mph, 75 %, take 3.5 minutes per 1000 ft2.
    #[test]
    fn mowing_capacity() {
        let wide = mowing_m2_per_h(si("60 in", Kind::Length), si("8.5 mph", Kind::Speed), 0.8);
        assert!((count(wide, "ac", Kind::Area) - 4.12).abs() < 0.005);
        let push = mowing_m2_per_h(si("21 in", Kind::Length), si("2.5 mph", Kind::Speed), 0.75);
        let minutes = 60.0 * si("1000 ft2", Kind::Area) / push;
        assert!((minutes - 3.5).abs() < 0.05, "{minutes}");
    }

    /// Extension's factor of 0.44 from P2O5 to P; and 14.3 lb of 6-4-0 as the 0.25 lb of phosphorus that
    /// Pennsylvania and Michigan allow at once.
    #[test]
    fn phosphate_as_phosphorus() {
        assert!((PHOSPHORUS_IN_PHOSPHATE - 0.44).abs() < 0.005);
        assert!((14.3 * 0.04 * PHOSPHORUS_IN_PHOSPHATE - 0.25).abs() < 0.001);
    }

    /// 1/4 in of compost is 0.77 yd3 per 1000 ft2 (324 ft2 an inch deep make a cubic yard).
    #[test]
    fn compost_volume() {
        let volume = layer_m3_per_m2(si("1/4 in", Kind::Depth)) * si("1000 ft2", Kind::Area);
        assert!((volume / 0.764_554_857_984 - 0.77).abs() < 0.005);
    }
}
