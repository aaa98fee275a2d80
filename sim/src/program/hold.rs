//! Holds: conditions under which a due practice waits. Plain data against what a crew can know.

use crate::calendar::{Day, MonthDay};
use crate::scenario::Hold;
use crate::weather::Forecast;
use crate::work::{Signs, Why};

/// Whether this hold keeps the crew from working this morning.
///
/// Heat counts if promised for today or felt yesterday. Rain to come is what the forecast
/// promises; rain fallen and wind are yesterday's. `Wet` asks for more than its threshold, the
/// others for at least (`ShorterThan`, `Drier`, `Cooler`, `Calm` and `FewWeeds`: at most). What asks
/// for the crew's own work of late never holds here: `Lately` knows.
pub fn holds(hold: &Hold, today: Day, signs: &Signs, forecast: &Forecast) -> bool {
    match *hold {
        Hold::Hotter { than_c } => forecast.t_max_c >= than_c || signs.t_max_yesterday_c >= than_c,
        Hold::Cooler { than_c } => forecast.t_max_c <= than_c,
        Hold::RainComing { mm } => forecast.rain_today_mm >= mm,
        Hold::RainIn3Days { mm } => forecast.rain_3_days_mm >= mm,
        Hold::Wet { mm } => signs.rain_yesterday_mm > mm,
        Hold::Dormant => signs.dormant,
        Hold::Drier { than } => signs.soil_water <= than,
        Hold::Windy { m_s } => signs.wind_yesterday_m_s >= m_s,
        Hold::Calm { m_s } => signs.wind_yesterday_m_s <= m_s,
        Hold::Closed { from, to } => within(today.month_day(), from, to),
        Hold::GreenWithin { points } => signs.colour_short < points,
        Hold::ShorterThan { mm } => signs.canopy_height_mm <= mm,
        Hold::FewWeeds { sought, below } => sought.cover(signs) <= below,
        // Made into the former when orders are laid out; nothing else is cut or sprayed.
        Hold::NothingToCut | Hold::NothingToSpray { .. } => false,
        Hold::MownWithin { .. } | Hold::SprayedWithin { .. } => false,
    }
}

/// The crew's own work of late.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Lately {
    /// Last mowing.
    pub mown: Option<Day>,
    /// Last spray on standing weeds.
    pub sprayed: Option<Day>,
}

impl Lately {
    /// Whether a hold that asks for it stands.
    pub(super) fn holds(&self, hold: &Hold, today: Day) -> bool {
        let (last, days) = match *hold {
            Hold::MownWithin { days } => (self.mown, days),
            Hold::SprayedWithin { days } => (self.sprayed, days),
            _ => return false,
        };
        last.is_some_and(|last| i64::from(today.0 - last.0) < i64::from(days))
    }
}

/// What a hold is told as where it keeps the crew away.
pub(super) fn why(hold: &Hold) -> Why {
    match hold {
        Hold::Hotter { .. } => Why::Heat,
        Hold::Cooler { .. } => Why::Cold,
        Hold::RainComing { .. } | Hold::RainIn3Days { .. } => Why::RainComing,
        Hold::Wet { .. } => Why::Wet,
        Hold::Dormant => Why::Dormant,
        Hold::Drier { .. } => Why::Dry,
        Hold::Windy { .. } => Why::Wind,
        Hold::Calm { .. } => Why::Calm,
        Hold::Closed { .. } => Why::Closed,
        Hold::GreenWithin { .. } => Why::GreenEnough,
        Hold::ShorterThan { .. } | Hold::NothingToCut => Why::Short,
        Hold::MownWithin { .. } => Why::Mown,
        Hold::SprayedWithin { .. } => Why::Sprayed,
        Hold::FewWeeds { .. } | Hold::NothingToSpray { .. } => Why::FewWeeds,
    }
}

/// The hold that every practice has: nobody works frozen or snow-covered ground (and most local
/// rules forbid fertilizer on it).
pub fn ground_closed(signs: &Signs) -> bool {
    signs.frozen_or_snow
}

/// Whether a day of the year lies between two others, both included; the stretch crosses the new
/// year where `to` comes before `from`.
pub fn within(day: MonthDay, from: MonthDay, to: MonthDay) -> bool {
    if from <= to { from <= day && day <= to } else { from <= day || day <= to }
}
