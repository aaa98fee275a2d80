//! The kinds of quantity: what is asked for, and the unit that the number comes out in.

use super::unit::{self, Dim, Qualifier};

/// What a quantity measures. Each kind names the unit of the number that [`super::parse`] gives
/// and [`super::show`] takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A distance, m.
    Length,
    /// A height of cut, a layer, a depth of water, mm.
    Depth,
    /// An area, m2.
    Area,
    /// A temperature, degrees C.
    Temperature,
    /// Warmth added up over days, degC days; written as "200 degF days".
    DegreeDays,
    /// Product laid, g/m2.
    MassPerArea,
    /// Nitrogen laid, g N/m2; must be written with N ("0.75 lb N/1000 ft2").
    NitrogenRate,
    /// Active ingredient laid, kg ai/ha; must be written with ai ("0.65 lb ai/ac").
    ActiveRate,
    /// Liquid product laid, mL/m2.
    VolumePerArea,
    /// A share, 1 = 100 %.
    Share,
    /// A time in days.
    Duration,
    /// A time in minutes.
    Minutes,
    /// A speed, m/s.
    Speed,
    /// A weight in a volume, kg/L.
    Density,
    /// A weight, kg.
    Weight,
    /// A volume, L.
    Volume,
    /// A depth of water in an hour, mm/h.
    DepthPerHour,
    /// A sum of money, currency.
    Money,
    /// Money for an hour, currency/h.
    MoneyPerHour,
    /// Money for a volume, currency/m3.
    MoneyPerVolume,
    /// Money for an area, currency/m2.
    MoneyPerArea,
    /// Money for nitrogen, currency/kg N; must be written with N ("3.4 $/lb N").
    MoneyPerNitrogen,
    /// Money for a weight, currency/kg.
    MoneyPerWeight,
    /// Work on an area, minutes per 100 m2.
    MinutesPerArea,
    /// Work on an area for each depth of a layer, minutes per 100 m2 and mm.
    MinutesPerLayer,
    /// Things counted on an area, per m2.
    CountPerArea,
    /// An angle, degrees of arc.
    Angle,
    /// A slope, m/m; written as a percentage, as degrees, or as "1:20".
    Slope,
}

impl Kind {
    /// The unit of the number inside the program.
    pub fn si_unit(self) -> &'static str {
        match self {
            Kind::Length => "m",
            Kind::Depth => "mm",
            Kind::Area => "m2",
            Kind::Temperature => "degC",
            Kind::DegreeDays => "degC days",
            Kind::MassPerArea => "g/m2",
            Kind::NitrogenRate => "g N/m2",
            Kind::ActiveRate => "kg ai/ha",
            Kind::VolumePerArea => "mL/m2",
            Kind::Share => "1",
            Kind::Duration => "days",
            Kind::Minutes => "min",
            Kind::Speed => "m/s",
            Kind::Density => "kg/L",
            Kind::Weight => "kg",
            Kind::Volume => "L",
            Kind::DepthPerHour => "mm/h",
            Kind::Money => "$",
            Kind::MoneyPerHour => "$/h",
            Kind::MoneyPerVolume => "$/m3",
            Kind::MoneyPerArea => "$/m2",
            Kind::MoneyPerNitrogen => "$/kg N",
            Kind::MoneyPerWeight => "$/kg",
            Kind::MinutesPerArea => "min/100 m2",
            Kind::MinutesPerLayer => "min/100 m2/mm",
            Kind::CountPerArea => "1/m2",
            Kind::Angle => "deg",
            Kind::Slope => "m/m",
        }
    }

    /// What is asked for, with its article: "a temperature".
    pub fn name(self) -> &'static str {
        match self {
            Kind::Length => "a length",
            Kind::Depth => "a depth or height",
            Kind::Area => "an area",
            Kind::Temperature => "a temperature",
            Kind::DegreeDays => "a sum of degree-days",
            Kind::MassPerArea => "a weight of product per area",
            Kind::NitrogenRate => "a weight of nitrogen per area",
            Kind::ActiveRate => "a weight of active ingredient per area",
            Kind::VolumePerArea => "a volume of product per area",
            Kind::Share => "a share",
            Kind::Duration => "a number of days or weeks",
            Kind::Minutes => "a time",
            Kind::Speed => "a speed",
            Kind::Density => "a weight per volume",
            Kind::Weight => "a weight",
            Kind::Volume => "a volume",
            Kind::DepthPerHour => "a depth per hour",
            Kind::Money => "a sum of money",
            Kind::MoneyPerHour => "money per hour",
            Kind::MoneyPerVolume => "money per volume",
            Kind::MoneyPerArea => "money per area",
            Kind::MoneyPerNitrogen => "money per weight of nitrogen",
            Kind::MoneyPerWeight => "money per weight",
            Kind::MinutesPerArea => "a time per area",
            Kind::MinutesPerLayer => "a time per area and depth",
            Kind::CountPerArea => "a number per area",
            Kind::Angle => "an angle",
            Kind::Slope => "a slope",
        }
    }

    /// One or two examples in the form that a person would write.
    pub fn example(self) -> &'static str {
        match self {
            Kind::Length => "\"21 in\" or \"53 cm\"",
            Kind::Depth => "\"3.25 in\" or \"80 mm\"",
            Kind::Area => "\"6000 ft2\" or \"560 m2\"",
            Kind::DegreeDays => "\"200 degF days\" or \"110 degC days\"",
            Kind::Temperature => "\"60 degF\" or \"15 degC\"",
            Kind::MassPerArea => "\"0.3 oz/1000 ft2\" or \"1 g/m2\"",
            Kind::NitrogenRate => "\"0.75 lb N/1000 ft2\" or \"3.7 g N/m2\"",
            Kind::ActiveRate => "\"0.65 lb ai/ac\" or \"0.73 kg ai/ha\"",
            Kind::VolumePerArea => "\"0.5 fl oz/1000 ft2\" or \"1.6 L/ha\"",
            Kind::Share => "\"55 %\"",
            Kind::Duration => "\"14 days\" or \"8 weeks\"",
            Kind::Minutes => "\"15 min\" or \"0.5 h\"",
            Kind::Speed => "\"3 mph\" or \"1.3 m/s\"",
            Kind::Density => "\"10.58 lb/gal\" or \"1.27 kg/L\"",
            Kind::Weight => "\"50 lb\" or \"25 kg\"",
            Kind::Volume => "\"4 gal\" or \"15 L\"",
            Kind::DepthPerHour => "\"0.5 in/h\" or \"12 mm/h\"",
            Kind::Money => "\"45 $\"",
            Kind::MoneyPerHour => "\"25 $/h\"",
            Kind::MoneyPerVolume => "\"30 $/yd3\" or \"40 $/m3\"",
            Kind::MoneyPerArea => "\"0.6 $/1000 ft2\" or \"65 $/ha\"",
            Kind::MoneyPerNitrogen => "\"3.4 $/lb N\" or \"7.5 $/kg N\"",
            Kind::MoneyPerWeight => "\"6 $/lb\" or \"13 $/kg\"",
            Kind::MinutesPerArea => "\"2 min/1000 ft2\" or \"2.2 min/100 m2\"",
            Kind::MinutesPerLayer => "\"200 min/1000 ft2/in\"",
            Kind::CountPerArea => "\"150 seeds/ft2\" or \"1600 seeds/m2\"",
            Kind::Angle => "\"12 deg\"",
            Kind::Slope => "\"3 %\", \"2 deg\" or \"1:30\"",
        }
    }

    /// Dimension of the unit that is asked for (temperature, degree-days and slope are read apart).
    pub(super) fn dim(self) -> Dim {
        match self {
            Kind::Length | Kind::Depth | Kind::VolumePerArea => unit::LENGTH,
            Kind::Area => unit::AREA,
            Kind::MassPerArea | Kind::NitrogenRate | Kind::ActiveRate => [-2, 1, 0, 0, 0],
            Kind::Temperature | Kind::DegreeDays | Kind::Share | Kind::Slope => unit::NONE,
            Kind::Duration | Kind::Minutes => unit::TIME,
            Kind::Speed | Kind::DepthPerHour => [1, 0, -1, 0, 0],
            Kind::Weight => unit::MASS,
            Kind::Volume => unit::VOLUME,
            Kind::Density => [-3, 1, 0, 0, 0],
            Kind::Money => unit::MONEY,
            Kind::MoneyPerHour => [0, 0, -1, 1, 0],
            Kind::MoneyPerVolume => [-3, 0, 0, 1, 0],
            Kind::MoneyPerArea => [-2, 0, 0, 1, 0],
            Kind::MoneyPerNitrogen | Kind::MoneyPerWeight => [0, -1, 0, 1, 0],
            Kind::MinutesPerArea => [-2, 0, 1, 0, 0],
            Kind::MinutesPerLayer => [-3, 0, 1, 0, 0],
            Kind::CountPerArea => [-2, 0, 0, 0, 0],
            Kind::Angle => unit::ANGLE,
        }
    }

    /// How many of the kind's own unit make one of m, kg, s, money, degree.
    pub(super) fn per_base(self) -> f64 {
        match self {
            Kind::Depth | Kind::MassPerArea | Kind::NitrogenRate => 1e3,
            Kind::ActiveRate => 1e4,
            Kind::VolumePerArea => 1e6,
            Kind::Duration => 1.0 / 86_400.0,
            Kind::Minutes => 1.0 / 60.0,
            Kind::Density => 1e-3,
            Kind::MoneyPerHour => 3600.0,
            Kind::Volume => 1e3,
            Kind::DepthPerHour => 3.6e6,
            Kind::MinutesPerArea => 100.0 / 60.0,
            Kind::MinutesPerLayer => 0.1 / 60.0,
            _ => 1.0,
        }
    }

    /// The word that must stand in the unit, so that nitrogen is not taken for product.
    pub(super) fn must_say(self) -> Option<Qualifier> {
        match self {
            Kind::NitrogenRate | Kind::MoneyPerNitrogen => Some(Qualifier::Nitrogen),
            Kind::ActiveRate => Some(Qualifier::Active),
            _ => None,
        }
    }

    /// Whether this word may stand in the unit.
    pub(super) fn may_say(self, said: Qualifier) -> bool {
        match self {
            Kind::NitrogenRate | Kind::MoneyPerNitrogen => said == Qualifier::Nitrogen,
            Kind::ActiveRate | Kind::Density => said == Qualifier::Active,
            Kind::MassPerArea | Kind::VolumePerArea => said == Qualifier::Product,
            Kind::CountPerArea => said == Qualifier::Count,
            _ => false,
        }
    }
}
