//! The order of a day.

use super::growth::Warmth;
use super::setting::Setting;
use super::state::{State, Today};
use super::{
    barrier, crabgrass, growth, measures, mowing, nitrogen, organic, quality, room, seedbed,
    tillers, water,
};
use crate::weather::Sky;
use crate::work::{Act, Signs};

impl State {
    /// One day: the crew's acts on last evening's lawn, then the weather, then the processes.
    /// Returns the signs that the crew can read tomorrow morning.
    pub fn day(&mut self, setting: &Setting, sky: &Sky, acts: &[Act]) -> Signs {
        self.today =
            Today { clumps: self.today.clumps, soil_5cm_c: sky.soil_5cm_c, ..Today::default() };
        for act in acts {
            self.perform(setting, sky, act);
        }
        let warmth = Warmth::of(setting, sky);
        water::step(self, setting, sky);
        seedbed::step(self, setting, sky);
        nitrogen::step(self, setting, sky);
        organic::step(self, setting, sky);
        growth::step(self, setting, sky, &warmth);
        tillers::step(self, setting, sky, &warmth);
        mowing::recover(self, setting, &warmth);
        barrier::step(self, setting, sky);
        crabgrass::step(self, setting, sky);
        room::step(self, setting);
        quality::rate(self, setting);
        self.close(setting);
        self.begun = true;
        self.look(setting, Some(sky))
    }

    fn perform(&mut self, setting: &Setting, sky: &Sky, act: &Act) {
        match *act {
            Act::Cut { height_mm, clippings } => {
                mowing::cut(self, setting, sky, height_mm, clippings);
            }
            Act::LayBarrier { active, rate_kg_ha, carrier, unevenness } => {
                barrier::lay(self, setting, active, rate_kg_ha, carrier, unevenness);
            }
            Act::LayNitrogen(forms) => nitrogen::lay(self, &forms),
            Act::Wet { water_mm } => self.today.irrigation_mm += water_mm.max(0.0),
            Act::LayCompost { depth_mm } => organic::lay_compost(self, setting, depth_mm),
        }
    }

    fn close(&mut self, setting: &Setting) {
        let [water, nitrogen, carbon] = self.stocks(setting);
        self.ledger.water.close_day(water);
        self.ledger.nitrogen.close_day(nitrogen);
        self.ledger.carbon.close_day(carbon);
    }

    /// What a crew can see of the lawn on the morning after `sky` (`None` before the first day).
    pub fn look(&self, setting: &Setting, sky: Option<&Sky>) -> Signs {
        let green = quality::green_cover(self, setting);
        let depth = measures::root_depth(self, setting).max(50.0);
        let soil_water = water::available_share(self, setting, depth);
        Signs {
            canopy_height_mm: self.canopy_height_mm(),
            green_cover: green,
            soil_water,
            soil_5cm_c: sky.map_or(0.0, |s| s.soil_5cm_c),
            frozen_or_snow: sky.is_none_or(|s| s.frozen || s.snow_mm > 0.0),
            rain_yesterday_mm: sky.map_or(0.0, |s| s.precip_mm),
            t_max_yesterday_c: sky.map_or(0.0, |s| s.t_max_c),
            wind_yesterday_m_s: sky.map_or(0.0, |s| s.wind_2m_m_s),
            dormant: green < 0.4 * self.turf_cover() && soil_water < 0.3,
        }
    }
}
