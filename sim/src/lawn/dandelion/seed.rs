//! Heads that flower and ripen, seed on the wind, and what comes up of it in gaps.

use super::super::forb;
use super::super::setting::{MAX_GRASSES, Setting};
use super::super::state::State;
use super::super::warmth::trapezoid;
use super::{Dandelion, HEAD_DAYS, NONE_M2, Rosettes, STANDS, kind};
use crate::calendar::SOLSTICE_DAY;
use crate::parameters;
use crate::weather::Sky;

/// Heads that opened on one day.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub(super) struct Heads {
    /// Heads, 1/m2 of lawn.
    pub count: f64,
    /// Warmth that they have had, C-days above 0 C.
    pub warmth_dd: f64,
}

impl Dandelion {
    /// A spray takes a share of the heads.
    pub(super) fn spoil_heads(&mut self, share: f64) {
        for heads in &mut self.heads[..self.heads_used] {
            heads.count *= 1.0 - share.clamp(0.0, 1.0);
        }
    }

    /// No more stands can be told apart: of the young, the neighbours most alike in size become one.
    fn join_alike(&mut self) {
        let size = |stand: &Rosettes| stand.tissue.base / stand.plants.max(NONE_M2);
        let apart = |k: usize| {
            let (a, b) = (size(&self.stands[k]), size(&self.stands[k + 1]));
            (a.max(b) / a.min(b).max(f64::MIN_POSITIVE)).min(f64::MAX)
        };
        let nearest = (1..self.young).min_by(|a, b| apart(*a).total_cmp(&apart(*b)));
        let Some(at) = nearest else { return };
        let older = self.stands[at];
        self.stands[at + 1].plants += older.plants;
        self.stands[at + 1].tissue.join(&older.tissue);
        self.stands.copy_within(at + 1..STANDS, at);
        self.young -= 1;
    }

    /// Takes the heads at an index out of the list.
    fn drop_heads(&mut self, at: usize) {
        self.heads.copy_within(at + 1..self.heads_used, at);
        self.heads_used -= 1;
    }
}

/// How far it is in flower, 0..=1: a flush as days lengthen in spring, some heads in autumn, hardly
/// any in summer or in the cold.
fn flowering(p: &parameters::Dandelion, sky: &Sky) -> f64 {
    let warm = ((sky.t_mean_c - p.flower_t_low_c) / (p.flower_t_full_c - p.flower_t_low_c))
        .clamp(0.0, 1.0);
    let season = if sky.day_of_year <= SOLSTICE_DAY {
        trapezoid(
            sky.day_length_h,
            p.flower_from_h,
            p.flower_full_h,
            p.flower_full_to_h,
            p.flower_to_h,
        )
    } else {
        let autumn = sky.day_length_h < p.autumn_from_h && sky.day_length_h > p.autumn_to_h;
        if autumn { p.autumn_flowering } else { 0.0 }
    };
    warm * season
}

/// Heads open and ripen with warmth; ripe seed flies, part of it from the neighbours.
pub(super) fn ripen(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.dandelion;
    let flowering = flowering(p, sky);
    let blown_in = p.arrivals_m2 / p.flush_days * flowering;
    let mut ripe = 0.0;
    let d = &mut state.dandelion;
    for heads in &mut d.heads[..d.heads_used] {
        heads.warmth_dd += sky.t_mean_c.max(0.0);
    }
    while d.heads_used > 0 && d.heads[0].warmth_dd >= p.ripe_dd {
        ripe += d.heads[0].count;
        d.drop_heads(0);
    }
    let fallen = blown_in + ripe * p.seeds_per_head * p.home_share;
    d.seed_rain += fallen;
    d.seed += fallen * p.entry_share;
    if flowering > 0.0 {
        open(state, setting, flowering);
    }
}

/// Grown plants open heads as their reserves let them; what is spent on them ends as litter.
fn open(state: &mut State, setting: &Setting, flowering: f64) {
    let p = &setting.p.dandelion;
    let d = &mut state.dandelion;
    let grown = &mut d.stands[0];
    let level = forb::level(&grown.tissue, &kind(setting));
    let count = p.heads_per_plant / p.flush_days * flowering * level * grown.plants;
    if count <= NONE_M2 {
        return;
    }
    let spent = (count * p.head_g).min(grown.tissue.reserves);
    grown.tissue.reserves -= spent;
    state.litter.c += spent * setting.p.sward.carbon_share;
    d.flowered += count;
    if d.heads_used == HEAD_DAYS {
        // In a cold spring the two oldest days ripen as one.
        let old = d.heads[0];
        let next = &mut d.heads[1];
        let all = old.count + next.count;
        next.warmth_dd = (old.count * old.warmth_dd + next.count * next.warmth_dd) / all;
        next.count = all;
        d.drop_heads(0);
    }
    d.heads[d.heads_used] = Heads { count, warmth_dd: 0.0 };
    d.heads_used += 1;
}

/// A mower takes the heads that stand above the deck. Of those far enough on, seed ripens all the
/// same where they fall; a bag carries it off.
pub(super) fn mow_heads(state: &mut State, setting: &Setting, height_mm: f64, bagged: bool) {
    let p = &setting.p.dandelion;
    let d = &mut state.dandelion;
    let mut fallen = 0.0;
    for at in (0..d.heads_used).rev() {
        let heads = d.heads[at];
        let ripeness = (heads.warmth_dd / p.ripe_dd).min(1.0);
        let stands_mm = p.bud_mm + (p.ripe_mm - p.bud_mm) * ripeness;
        if stands_mm < height_mm {
            continue;
        }
        let viable = (heads.warmth_dd - p.viable_dd) / (p.ripe_dd - p.viable_dd);
        fallen += heads.count * viable.max(0.0);
        d.drop_heads(at);
    }
    if !bagged {
        let seed = fallen * p.seeds_per_head;
        d.seed_rain += seed;
        d.seed += seed * p.entry_share;
    }
}

/// Seed comes up where it is moist, mild and light: in gaps and thin turf.
pub(super) fn germinate(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    leaks: &[f64; MAX_GRASSES],
) {
    let p = &setting.p.dandelion;
    if state.dandelion.seed <= NONE_M2 {
        return;
    }
    let moist = 0.5
        * (setting.grass_germination_pace(state.today.seedbed_wet)
            + setting.grass_germination_pace(state.seedbed));
    let warm = trapezoid(
        sky.soil_5cm_c,
        p.germination_t_low_c,
        p.germination_t_opt_low_c,
        p.germination_t_opt_high_c,
        p.germination_t_high_c,
    );
    let lit = state.bare() + leaks.iter().sum::<f64>();
    let d = &mut state.dandelion;
    let sprouting = d.seed * (p.germination * moist * warm).min(1.0);
    let up = sprouting * lit.min(1.0);
    d.seed = (d.seed - up) * (1.0 - p.seed_loss);
    if up <= NONE_M2 {
        return;
    }
    d.emerged += up;
    establish(state, setting, up);
}

/// Puts today's seedlings into the youngest stand. They bring their first mass with the seed.
fn establish(state: &mut State, setting: &Setting, plants: f64) {
    let p = &setting.p.dandelion;
    let d = &mut state.dandelion;
    if d.young == 0 || f64::from(d.open_days) >= p.stand_days {
        if d.young + 1 == STANDS {
            d.join_alike();
        }
        d.young += 1;
        d.open_days = 0;
        d.stands[d.young] = Rosettes::default();
    }
    let grams = plants * p.seedling_g;
    let leaf = grams * p.seedling_leaf;
    let tissue = super::Tissue { leaf, base: grams - leaf, reserves: 0.0 };
    state.ledger.bring_in(tissue.stock(setting, &kind(setting)));
    let stand = &mut d.stands[d.young];
    stand.plants += plants;
    stand.tissue.join(&tissue);
}
