//! Holds: conditions under which a due practice waits. Plain data against what a crew can know.

use crate::calendar::{Day, MonthDay};
use crate::scenario::Hold;
use crate::weather::Forecast;
use crate::work::{Signs, Why};

/// Whether this hold keeps the crew from working this morning.
///
/// Heat counts if promised for today or felt yesterday. Rain to come is what the forecast
/// promises; rain fallen and wind are yesterday's. `Wet` asks for more than its threshold, the
/// others for at least (`ShorterThan` and `Drier`: at most).
pub fn holds(hold: &Hold, today: Day, signs: &Signs, forecast: &Forecast) -> bool {
    match *hold {
        Hold::Hotter { than_c } => forecast.t_max_c >= than_c || signs.t_max_yesterday_c >= than_c,
        Hold::RainComing { mm } => forecast.rain_today_mm >= mm,
        Hold::RainIn3Days { mm } => forecast.rain_3_days_mm >= mm,
        Hold::Wet { mm } => signs.rain_yesterday_mm > mm,
        Hold::Dormant => signs.dormant,
        Hold::Drier { than } => signs.soil_water <= than,
        Hold::Windy { m_s } => signs.wind_yesterday_m_s >= m_s,
        Hold::Closed { from, to } => within(today.month_day(), from, to),
        Hold::GreenWithin { points } => signs.colour_short < points,
        Hold::ShorterThan { mm } => signs.canopy_height_mm <= mm,
        // Made into the former when orders are laid out; nothing else is cut.
        Hold::NothingToCut => false,
    }
}

/// What a hold is told as where it keeps the crew away.
pub(super) fn why(hold: &Hold) -> Why {
    match hold {
        Hold::Hotter { .. } => Why::Heat,
        Hold::RainComing { .. } | Hold::RainIn3Days { .. } => Why::RainComing,
        Hold::Wet { .. } => Why::Wet,
        Hold::Dormant => Why::Dormant,
        Hold::Drier { .. } => Why::Dry,
        Hold::Windy { .. } => Why::Wind,
        Hold::Closed { .. } => Why::Closed,
        Hold::GreenWithin { .. } => Why::GreenEnough,
        Hold::ShorterThan { .. } | Hold::NothingToCut => Why::Short,
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
