//! The weather part's constants, as the catalogue gives them.

/// Constants of everything between a station's day and the lawn's [`super::Sky`].
///
/// The values live in `parameters.toml`, each with its source; nothing here has a default outside
/// the tests.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeatherParameters {
    /// Coefficient of FAO-56 eq 50 (radiation from the day's temperature range), C^-0.5;
    /// 0.13..=0.20, 0.16 inland, 0.19 at the coast.
    pub krs: f64,
    /// Albedo of the reference surface, 0..=1; 0.23 (FAO-56 eq 38).
    pub albedo: f64,
    /// Wind at 2 m where the record has none, m/s; 2 (FAO-56 p. 63).
    pub wind_missing_m_s: f64,
    /// Least wind at 2 m that enters reference evapotranspiration, m/s; 0.5 (FAO-56 p. 63).
    pub wind_floor_m_s: f64,
    /// Coefficient of the radiation that drives the soil filters, C^-0.5. It belongs to their fit
    /// and does not follow [`Self::krs`].
    pub soil_krs: f64,
    /// Share of the way to the forcing that the 5 cm soil goes in a day, 0..=1.
    pub soil5_k: f64,
    /// Warming of the 5 cm forcing by radiation, C per MJ/m2/day.
    pub soil5_b: f64,
    /// Share of the way to the forcing that the 10 cm soil goes in a day, 0..=1.
    pub soil10_k: f64,
    /// Warming of the 10 cm forcing by radiation, C per MJ/m2/day.
    pub soil10_b: f64,
    /// Share of a forcing below 0 C that reaches the soil (snow and freezing hold it back), 0..=1.
    pub frost_factor: f64,
    /// Precipitation is snow on days with a mean air temperature at or below this, degrees C.
    pub snow_threshold_c: f64,
    /// Snow melts on days with a mean air temperature above this, degrees C.
    pub snow_melt_base_c: f64,
    /// Snow melt per degree and day, mm of water per C-day.
    pub snow_melt_mm_c_day: f64,
    /// The top of the ground is frozen with a 5 cm soil temperature at or below this, degrees C.
    pub frozen_soil_c: f64,
    /// The top of the ground is frozen on days whose high is at or below this, degrees C.
    pub frozen_t_max_c: f64,
    /// A day is wet, for the forecast, from this much precipitation on, mm.
    pub forecast_wet_mm: f64,
    /// Share of wet days for which that morning's forecast promises rain, 0..=1.
    pub forecast_hit_rate: f64,
    /// Share of dry days for which that morning's forecast promises rain, 0..=1.
    pub forecast_false_alarm_rate: f64,
    /// Fall of the hit rate with each further day ahead, 0..=1.
    pub forecast_hit_loss_per_day: f64,
    /// Rise of the false-alarm rate with each further day ahead, 0..=1.
    pub forecast_false_alarm_gain_per_day: f64,
    /// Standard deviation of ln(promised / fallen) on wet days rightly forecast, same day.
    pub forecast_rain_log_sd: f64,
    /// Growth of that standard deviation with each further day ahead.
    pub forecast_rain_log_sd_gain_per_day: f64,
    /// Mean amount promised beyond `forecast_wet_mm` in a false alarm, mm (exponential).
    pub forecast_false_rain_mm: f64,
    /// Standard deviation of the error of today's promised high, degrees C.
    pub forecast_t_max_sd_c: f64,
}

#[cfg(test)]
impl Default for WeatherParameters {
    fn default() -> Self {
        WeatherParameters {
            krs: 0.16,
            albedo: 0.23,
            wind_missing_m_s: 2.0,
            wind_floor_m_s: 0.5,
            soil_krs: 0.16,
            soil5_k: 0.20,
            soil5_b: 0.045,
            soil10_k: 0.15,
            soil10_b: 0.036,
            frost_factor: 0.05,
            snow_threshold_c: 1.0,
            snow_melt_base_c: 0.0,
            snow_melt_mm_c_day: 3.5,
            frozen_soil_c: 0.0,
            frozen_t_max_c: 0.0,
            forecast_wet_mm: 1.0,
            forecast_hit_rate: 0.82,
            forecast_false_alarm_rate: 0.09,
            forecast_hit_loss_per_day: 0.06,
            forecast_false_alarm_gain_per_day: 0.02,
            forecast_rain_log_sd: 0.6,
            forecast_rain_log_sd_gain_per_day: 0.1,
            forecast_false_rain_mm: 2.0,
            forecast_t_max_sd_c: 1.8,
        }
    }
}
