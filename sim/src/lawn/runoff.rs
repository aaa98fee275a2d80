//! Runoff by curve number: NEH-630 chapter 10 and TR-55 (USDA).

use crate::scenario::HydrologicGroup;

/// Runoff, mm, of a day's water, mm: Q = (P - 0.2 S)^2 / (P + 0.8 S), S = 25400/CN - 254.
/// `curve_number` is held to 1..=100.
pub fn curve_number_runoff(water_mm: f64, curve_number: f64) -> f64 {
    let s = retention_mm(curve_number.clamp(1.0, 100.0));
    let excess = water_mm - 0.2 * s;
    if excess <= 0.0 { 0.0 } else { excess * excess / (water_mm + 0.8 * s) }
}

/// Most water, mm, that ground of a curve number keeps of a long rain: S = 25400/CN - 254.
pub fn retention_mm(curve_number: f64) -> f64 {
    25400.0 / curve_number - 254.0
}

/// Curve number of a lawn at average moisture by hydrologic group and grass cover (TR-55 Table
/// 2-2a, open space: poor < 50 %, fair 50-75 %, good > 75 %), run smoothly between the classes'
/// middles so that it moves as the lawn thickens.
pub fn lawn_curve_number(group: HydrologicGroup, cover: f64) -> f64 {
    let [poor, fair, good] = match group {
        HydrologicGroup::A => [68.0, 49.0, 39.0],
        HydrologicGroup::B => [79.0, 69.0, 61.0],
        HydrologicGroup::C => [86.0, 79.0, 74.0],
        HydrologicGroup::D => [89.0, 84.0, 80.0],
    };
    let (low, mid, high) = (0.375, 0.625, 0.875);
    if cover <= low {
        poor
    } else if cover <= mid {
        poor + (fair - poor) * (cover - low) / (mid - low)
    } else if cover < high {
        fair + (good - fair) * (cover - mid) / (high - mid)
    } else {
        good
    }
}

/// Curve number for a slope, m/m, after Williams (1995): the handbook's numbers stand for 5 %.
/// CN2s = (CN3 - CN2)/3 (1 - 2 exp(-13.86 slope)) + CN2 (from memory).
pub fn for_slope(curve_number: f64, slope: f64) -> f64 {
    let wet = wet_curve_number(curve_number);
    (wet - curve_number) / 3.0 * (1.0 - 2.0 * (-13.86 * slope).exp()) + curve_number
}

/// Curve number of a dry watershed (ARC I): 4.2 CN / (10 - 0.058 CN).
pub fn dry_curve_number(curve_number: f64) -> f64 {
    4.2 * curve_number / (10.0 - 0.058 * curve_number)
}

/// Curve number of a wet watershed (ARC III): 23 CN / (10 + 0.13 CN).
pub fn wet_curve_number(curve_number: f64) -> f64 {
    23.0 * curve_number / (10.0 + 0.13 * curve_number)
}

/// Curve number for today's wetness: dry at the wilting point, average half way to field
/// capacity, wet at saturation.
pub fn for_wetness(curve_number: f64, water: f64, wp: f64, fc: f64, sat: f64) -> f64 {
    let middle = wp + 0.5 * (fc - wp);
    if water <= middle {
        let dry = dry_curve_number(curve_number);
        let share = ((water - wp) / (middle - wp)).max(0.0);
        dry + (curve_number - dry) * share
    } else {
        let wet = wet_curve_number(curve_number);
        let share = ((water - middle) / (sat - middle)).min(1.0);
        curve_number + (wet - curve_number) * share
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of NEH-630 ch. 10's equation in mm, computed independently.
    #[test]
    fn runoff_depths() {
        let rows = [
            (20.0, 74.0, 0.0506),
            (25.0, 74.0, 0.5305),
            (30.0, 74.0, 1.4562),
            (50.0, 74.0, 8.5153),
            (100.0, 74.0, 39.3761),
            (40.0, 61.0, 0.3329),
            (75.0, 61.0, 8.8235),
            (15.0, 80.0, 0.0804),
            (50.0, 80.0, 13.8025),
        ];
        for (p, cn, q) in rows {
            assert!((curve_number_runoff(p, cn) - q).abs() < 6e-5, "{p} {cn}");
        }
    }

    /// TR-55 Table 2-1 (inches): P = 3: CN 60 0.33, 80 1.25, 90 1.98; P = 5: CN 70 2.04.
    #[test]
    fn tr_55_table_2_1() {
        for (p, cn, q) in
            [(3.0, 60.0, 0.33), (3.0, 80.0, 1.25), (3.0, 90.0, 1.98), (5.0, 70.0, 2.04)]
        {
            let inches = curve_number_runoff(p * 25.4, cn) / 25.4;
            assert!((inches - q).abs() < 0.006, "{p} {cn} {inches}");
        }
    }

    /// ARC I and III for CN 61, 70, 74, 80 by the handbook's relation.
    #[test]
    fn antecedent_classes() {
        for (cn, dry, wet) in
            [(61.0, 39.65, 78.25), (70.0, 49.49, 84.29), (74.0, 54.45, 86.75), (80.0, 62.69, 90.20)]
        {
            assert!((dry_curve_number(cn) - dry).abs() < 0.006, "{cn}");
            assert!((wet_curve_number(cn) - wet).abs() < 0.006, "{cn}");
        }
    }

    #[test]
    fn classes_at_their_middles() {
        assert_eq!(lawn_curve_number(HydrologicGroup::B, 0.3), 79.0);
        assert_eq!(lawn_curve_number(HydrologicGroup::B, 0.625), 69.0);
        assert_eq!(lawn_curve_number(HydrologicGroup::B, 0.95), 61.0);
    }
}
