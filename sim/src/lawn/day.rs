//! The order of a day.

use super::setting::Setting;
use super::state::{State, Today};
use super::turning::{Notes, Off, Sink};
use super::warmth::Warmth;
use super::{
    barrier, burn, clover, crabgrass, cultivation, dandelion, growth, iron, measures, mowing,
    nitrogen, nutsedge, organic, quality, reaction, renovation, room, seedbed, seeding, spray,
    tillers, traffic, water,
};
use crate::weather::{Sky, days_in_year};
use crate::work::{Act, Signs, Tending};

/// Tells what is open on a year's last evening.
fn tell_end(notes: &mut Notes) {
    mowing::tell_end(notes);
    nitrogen::tell_end(notes);
    tillers::tell_end(notes);
}

impl State {
    /// One day: the crew's acts on last evening's lawn, then the weather, then the processes.
    /// Returns the signs that the crew can read tomorrow morning.
    pub fn day(&mut self, setting: &Setting, sky: &Sky, acts: &[Act]) -> Signs {
        self.day_told(setting, sky, acts, &mut Off)
    }

    /// The same, and the turning points of the day go to `sink`.
    pub fn day_told<S: Sink>(
        &mut self,
        setting: &Setting,
        sky: &Sky,
        acts: &[Act],
        sink: &mut S,
    ) -> Signs {
        sink.hear(|notes| notes.open(self, sky));
        self.today =
            Today { clumps: self.today.clumps, soil_5cm_c: sky.soil_5cm_c, ..Today::default() };
        for act in acts {
            self.perform(setting, sky, act);
            sink.hear(|notes| self.tell_act(setting, act, notes));
        }
        let warmth = Warmth::of(setting, sky);
        water::step(self, setting, sky);
        seedbed::step(self, setting, sky);
        let activity = organic::activity(self, setting, sky);
        nitrogen::step(self, setting, sky, activity);
        burn::step(self, setting, sky);
        organic::step(self, setting, activity);
        growth::step(self, setting, sky, &warmth);
        sink.hear(|notes| tillers::tell_stress(self, setting, sky, &warmth, notes));
        tillers::step(self, setting, sky, &warmth);
        mowing::recover(self, setting, &warmth);
        barrier::step(self, setting, sky);
        seeding::step(self, setting, sky, &warmth);
        spray::step(self, setting, sky);
        crabgrass::step(self, setting, sky);
        dandelion::step(self, setting, sky, &warmth);
        clover::step(self, setting, sky, &warmth);
        nutsedge::step(self, setting, sky);
        room::step(self, setting);
        cultivation::step(self, setting);
        renovation::step(self, setting);
        iron::step(self, setting);
        reaction::step(self, setting, sky);
        self.close_books(setting);
        self.read_evening(setting);
        self.begun = true;
        let signs = self.look(setting, Some(sky));
        sink.hear(|notes| self.tell_evening(setting, sky, &signs, notes));
        signs
    }

    fn tell_act(&self, setting: &Setting, act: &Act, notes: &mut Notes) {
        match act {
            Act::Cut { height_mm, clippings } => {
                mowing::tell_cut(self, setting, *height_mm, *clippings, notes);
            }
            Act::LayBarrier { .. } => barrier::tell_laid(self, notes),
            Act::LayNitrogen(forms) => nitrogen::tell_laid(self, forms, notes),
            Act::SowGrass { .. } => seeding::tell_sown(self, setting, notes),
            Act::Spray { .. } => spray::tell_sprayed(notes),
            Act::Wet { .. } | Act::LayCompost { .. } | Act::Tend(_) => {}
        }
    }

    fn tell_evening(&self, setting: &Setting, sky: &Sky, signs: &Signs, notes: &mut Notes) {
        barrier::tell(self, setting, sky, notes);
        crabgrass::tell(self, setting, sky, notes);
        dandelion::tell(self, sky, notes);
        clover::tell(self, notes);
        nutsedge::tell(self, setting, sky, notes);
        spray::tell(self, sky, notes);
        water::tell(self, setting, sky, signs, notes);
        nitrogen::tell(self, sky, notes);
        burn::tell(self, sky, notes);
        traffic::tell(self, setting, sky, notes);
        seeding::tell(self, setting, notes);
        tillers::tell(self, notes);
        quality::tell(self, setting, notes);
        if sky.day_of_year == days_in_year(notes.today.ymd().0) {
            tell_end(notes);
        }
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
            Act::Spray { post, rate_kg_ha, reach } => {
                spray::spray(self, setting, sky, post, rate_kg_ha, reach);
            }
            Act::SowGrass { seed, pure_live_seed, method } => {
                seeding::sow(self, setting, seed, pure_live_seed, method);
            }
            Act::Tend(tending) => self.tend(setting, sky, &tending),
        }
    }

    fn tend(&mut self, setting: &Setting, sky: &Sky, tending: &Tending) {
        match *tending {
            Tending::Core { depth_mm, opened } => {
                cultivation::core(self, setting, depth_mm, opened);
            }
            Tending::Scarify { depth_mm } => cultivation::scarify(self, setting, depth_mm),
            Tending::Kill { rate_kg_ha } => renovation::kill(self, setting, sky, rate_kg_ha),
            Tending::Level { depth_mm } => renovation::level(self, setting, depth_mm),
            Tending::LaySod { kinds } => renovation::lay_sod(self, setting, kinds),
            Tending::Lime { carbonate_g_m2 } => reaction::lime(self, carbonate_g_m2),
            Tending::SprayIron { iron_kg_ha } => iron::spray(self, setting, sky, iron_kg_ha),
            Tending::Stimulate { root_growth, .. } => {
                self.ground.stimulus = self.ground.stimulus.max(root_growth);
            }
            // The strip is a few square metres: the lawn does not feel it.
            Tending::FeedStrip => {}
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
            colour_short: seen.colour_short,
            dormant: brown && seen.soil_water < s.dormant_water_share,
            crabgrass: self.weed.cover,
            broadleaf: self.dandelion.cover + self.clover.cover,
            nutsedge: self.nutsedge.cover,
        }
    }
}
