//! The order of a day.

use super::setting::Setting;
use super::state::{State, Today};
use super::warmth::Warmth;
use super::{
    barrier, crabgrass, growth, measures, mowing, nitrogen, organic, quality, room, seedbed,
    seeding, tillers, water,
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
        let activity = organic::activity(self, setting, sky);
        nitrogen::step(self, setting, sky, activity);
        organic::step(self, setting, activity);
        growth::step(self, setting, sky, &warmth);
        tillers::step(self, setting, sky, &warmth);
        mowing::recover(self, setting, &warmth);
        barrier::step(self, setting, sky);
        seeding::step(self, setting, sky, &warmth);
        crabgrass::step(self, setting, sky);
        room::step(self, setting);
        self.close_books(setting);
        self.read_evening(setting);
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
            Act::LayNitrogen(forms) => nitrogen::lay(self, setting, &forms),
            Act::Wet { water_mm } => self.today.irrigation_mm += water_mm.max(0.0),
            Act::LayCompost { depth_mm } => organic::lay_compost(self, setting, depth_mm),
            Act::SowGrass { seed, pure_live_seed, method } => {
                seeding::sow(self, setting, seed, pure_live_seed, method);
            }
        }
    }

    fn close_books(&mut self, setting: &Setting) {
        let [water, nitrogen, carbon] = self.stocks(setting);
        self.ledger.water.close_day(water);
        self.ledger.nitrogen.close_day(nitrogen);
        self.ledger.carbon.close_day(carbon);
    }

    /// Takes the evening's ratings and readings, once for signs and measures.
    pub(super) fn read_evening(&mut self, setting: &Setting) {
        quality::rate(self, setting);
        self.evening = measures::evening(self, setting);
    }

    /// What a crew can see of the lawn on the morning after `sky` (`None` before the first day).
    pub fn look(&self, setting: &Setting, sky: Option<&Sky>) -> Signs {
        let s = &setting.p.sward;
        let seen = &self.evening;
        let brown = seen.green_cover < s.dormant_green_share * self.turf_cover();
        Signs {
            canopy_height_mm: self.canopy_height_mm(),
            green_cover: seen.green_cover,
            soil_water: seen.soil_water,
            soil_5cm_c: sky.map_or(0.0, |s| s.soil_5cm_c),
            frozen_or_snow: sky.is_none_or(|s| s.frozen || s.snow_mm > 0.0),
            rain_yesterday_mm: sky.map_or(0.0, |s| s.precip_mm),
            t_max_yesterday_c: sky.map_or(0.0, |s| s.t_max_c),
            t_mean_yesterday_c: sky.map_or(0.0, |s| s.t_mean_c),
            wind_yesterday_m_s: sky.map_or(0.0, |s| s.wind_2m_m_s),
            dormant: brown && seen.soil_water < s.dormant_water_share,
        }
    }
}
