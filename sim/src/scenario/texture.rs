//! The USDA texture triangle and what follows from a texture.

use super::{Compaction, HydrologicGroup};

/// Sand and clay by weight that stand for each texture class: the class values of Saxton & Rawls
/// 2006, Soil Sci. Soc. Am. J. 70:1569, table 3 (from memory).
pub(crate) const CLASSES: [(&str, f64, f64); 12] = [
    ("sand", 0.88, 0.05),
    ("loamy sand", 0.80, 0.05),
    ("sandy loam", 0.65, 0.10),
    ("loam", 0.40, 0.20),
    ("silt loam", 0.20, 0.15),
    ("silt", 0.10, 0.05),
    ("sandy clay loam", 0.60, 0.25),
    ("clay loam", 0.30, 0.35),
    ("silty clay loam", 0.10, 0.35),
    ("sandy clay", 0.50, 0.40),
    ("silty clay", 0.10, 0.45),
    ("clay", 0.25, 0.50),
];

/// Sand and clay, mass fractions, of a texture class.
pub(crate) fn of_class(name: &str) -> Option<(f64, f64)> {
    CLASSES.iter().find(|c| c.0 == name).map(|c| (c.1, c.2))
}

/// Texture class of sand and clay (mass fractions): the boundaries of the USDA Soil Survey
/// Manual, chapter 3.
pub(super) fn class(sand: f64, clay: f64) -> &'static str {
    let silt = 1.0 - sand - clay;
    if silt + 1.5 * clay < 0.15 {
        "sand"
    } else if silt + 2.0 * clay < 0.30 {
        "loamy sand"
    } else if (clay < 0.20 && sand > 0.52) || (clay < 0.07 && silt < 0.50) {
        "sandy loam"
    } else if silt >= 0.80 && clay < 0.12 {
        "silt"
    } else if silt >= 0.50 && clay < 0.27 {
        "silt loam"
    } else if clay < 0.27 && sand <= 0.52 {
        if clay >= 0.07 && silt >= 0.28 { "loam" } else { loamy(sand, clay) }
    } else {
        clayey(sand, clay, silt)
    }
}

fn loamy(sand: f64, clay: f64) -> &'static str {
    if sand > 0.45 && clay >= 0.20 { "sandy clay loam" } else { "sandy loam" }
}

fn clayey(sand: f64, clay: f64, silt: f64) -> &'static str {
    if clay < 0.35 && silt < 0.28 && sand > 0.45 {
        "sandy clay loam"
    } else if clay >= 0.35 && sand > 0.45 {
        "sandy clay"
    } else if clay < 0.40 && sand <= 0.20 {
        "silty clay loam"
    } else if clay < 0.40 {
        "clay loam"
    } else if silt >= 0.40 {
        "silty clay"
    } else {
        "clay"
    }
}

/// Hydrologic group by texture (TR-55, appendix A), one step worse over moderately compacted
/// subsoil and D over severely compacted subsoil (our judgement: TR-55 asks for judgement there).
pub(crate) fn hydrologic_group(sand: f64, clay: f64, compaction: Compaction) -> HydrologicGroup {
    use HydrologicGroup::{A, B, C, D};
    let loose = match class(sand, clay) {
        "sand" | "loamy sand" | "sandy loam" => A,
        "loam" | "silt loam" | "silt" => B,
        "sandy clay loam" => C,
        _ => D,
    };
    match (compaction, loose) {
        (Compaction::None, group) => group,
        (Compaction::Moderate, A) => B,
        (Compaction::Moderate, B) => C,
        (Compaction::Moderate | Compaction::Severe, _) => D,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_class_lies_in_its_own_part_of_the_triangle() {
        for (name, sand, clay) in CLASSES {
            assert_eq!(class(sand, clay), name);
        }
    }

    #[test]
    fn corners_of_the_triangle() {
        assert_eq!(class(1.0, 0.0), "sand");
        assert_eq!(class(0.0, 1.0), "clay");
        assert_eq!(class(0.0, 0.0), "silt");
        // Published examples: 60 % sand, 10 % clay is a sandy loam; 33/33/33 is a clay loam.
        assert_eq!(class(0.60, 0.10), "sandy loam");
        assert_eq!(class(0.333, 0.333), "clay loam");
    }

    /// TR-55, appendix A: sand to sandy loam A; silt loam and loam B; sandy clay loam C; the rest D.
    #[test]
    fn groups_by_texture() {
        assert_eq!(hydrologic_group(0.65, 0.10, Compaction::None), HydrologicGroup::A);
        assert_eq!(hydrologic_group(0.40, 0.20, Compaction::None), HydrologicGroup::B);
        assert_eq!(hydrologic_group(0.60, 0.25, Compaction::None), HydrologicGroup::C);
        assert_eq!(hydrologic_group(0.30, 0.35, Compaction::None), HydrologicGroup::D);
        assert_eq!(hydrologic_group(0.40, 0.20, Compaction::Severe), HydrologicGroup::D);
    }
}
