//! Fertilizer burn: the salt of quick granules that lie on turf draws water out of the leaf, the more the
//! hotter the day. A usual rate harms nothing in cool weather; a spill kills turf in any.

use super::leaf;
use super::setting::Setting;
use super::state::State;
use super::tillers;
use super::turning::{Losses, Notes, Turning};
use crate::weather::Sky;

/// Leaf burned in a spell that is worth a word, share.
const WORTH: f64 = 0.02;

/// Of the load that burns half, a share that burns nothing worth reckoning.
const TRACE: f64 = 0.05;

/// Leaf burned in a day that belongs to a spell, share.
const COUNTS: f64 = 0.001;

/// Days without burn that end a spell.
const QUIET_DAYS: i32 = 2;

/// One day of burn, after the day's water has taken in what it could.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    let n = &setting.p.nitrogen;
    let g = &state.granules;
    if g.quick() <= 0.0 || sky.frozen || sky.snow_mm > 0.0 {
        return;
    }
    let salt = n.salt_urea * g.urea + n.salt_ammonium * g.ammonium + n.salt_nitrate * g.nitrate;
    let range_c = n.burn_t_high_c - n.burn_t_low_c;
    let hot = ((sky.t_max_c - n.burn_t_low_c) / range_c).clamp(0.0, 1.0);
    // A leaf that loses little water bears more salt.
    let felt = salt * (n.burn_cool_share + (1.0 - n.burn_cool_share) * hot);
    if felt * (1.0 + g.unevenness.min(1.0)) < TRACE * n.burn_half {
        return;
    }
    let harmed = |half: f64| {
        n.burn_day
            * over_strips(felt, g.unevenness, |load| {
                let times = (load / half).powf(n.burn_power);
                times / (1.0 + times)
            })
    };
    let (share, crowns) = (harmed(n.burn_half), harmed(n.burn_crown_half));
    let before = state.turf_cover();
    for i in 0..setting.grasses.len() {
        leaf::wither(state, setting, i, share);
        tillers::open(state, setting, i, crowns);
    }
    state.today.burned = share;
    state.today.burned_out = before - state.turf_cover();
}

/// Mean over the area of a response to a load that lies in strips laid over and strips missed, as much
/// of the one as of the other: mean `load`, coefficient of variation `cv` (the two-point rule that
/// keeps both).
fn over_strips(load: f64, cv: f64, response: impl Fn(f64) -> f64) -> f64 {
    let cv = cv.min(1.0);
    0.5 * (response(load * (1.0 + cv)) + response(load * (1.0 - cv)))
}

/// Tells the evening of a day.
pub(super) fn tell(state: &State, sky: &Sky, notes: &mut Notes) {
    let today = notes.today;
    let (burned, out) = (state.today.burned, state.today.burned_out);
    if burned > 0.0 {
        notes.memory.turf.lost(&Losses { burn: out, ..Losses::default() });
    }
    if burned >= COUNTS {
        let memory = &mut notes.memory.burn;
        // What lay when it began, and the hottest day.
        if memory.spell.since.is_none() {
            memory.quick_g_m2 = state.granules.quick();
            memory.t_max_c = sky.t_max_c;
        }
        memory.t_max_c = memory.t_max_c.max(sky.t_max_c);
        memory.spell.add(today, [burned, out]);
    }
    let memory = &mut notes.memory.burn;
    let (n_g_m2, t_max_c) = (memory.quick_g_m2, memory.t_max_c);
    if let Some((since, spell)) = memory.spell.over(today, QUIET_DAYS) {
        let [leaf, cover_lost] = spell.sum;
        if leaf >= WORTH {
            let days = (spell.until.0 - since.0).unsigned_abs() + 1;
            notes.note_on(
                spell.until,
                Turning::Burned { leaf: leaf.min(1.0), n_g_m2, t_max_c, days, cover_lost },
            );
        }
    }
}

/// What is remembered of a burn.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    spell: super::turning::Spell,
    quick_g_m2: f64,
    t_max_c: f64,
}

#[cfg(test)]
mod tests {
    use super::super::nitrogen;
    use super::super::tests_support::{lawn, sky};
    use super::*;
    use crate::work::NitrogenForms;

    fn burned(forms: NitrogenForms, t_c: f64) -> f64 {
        let (setting, mut state) = lawn();
        nitrogen::lay(&mut state, &setting, &forms);
        let carbon = state.stocks(&setting)[2];
        step(&mut state, &setting, &sky(t_c));
        assert!((state.stocks(&setting)[2] - carbon).abs() < 1e-9 * carbon);
        state.today.burned
    }

    /// Salt index per unit of nitrogen (Oregon State forage table 26-2): urea half of ammonium
    /// sulfate, coated less. UC: slow nitrogen does not burn even at high rates. Common practice: no
    /// quick nitrogen in heat.
    #[test]
    fn burn_goes_with_salt_heat_and_overlap() {
        let urea = |g| NitrogenForms { urea_g_m2: g, ..NitrogenForms::default() };
        let ammonium = NitrogenForms { ammonium_g_m2: 4.0, ..NitrogenForms::default() };
        let coated =
            NitrogenForms { coated_g_m2: 8.0, coated_days: 60.0, ..NitrogenForms::default() };
        assert!(burned(urea(5.0), 18.0) < 0.002);
        assert_eq!(burned(coated, 34.0), 0.0);
        assert!(burned(urea(4.0), 34.0) > 1.5 * burned(urea(2.0), 34.0));
        assert!(burned(ammonium, 34.0) > 1.2 * burned(urea(4.0), 34.0));
        let uneven = NitrogenForms { unevenness: 0.6, ..urea(3.0) };
        assert!(burned(uneven, 34.0) > 1.2 * burned(urea(3.0), 34.0));
    }

    /// Trials feed 7.5 g N/m2 of ammonium nitrate at once in spring and report no burn. A hundred grams (four
    /// bags of 34-0-0 on 300 m2, a garden column's case) leaves patches dead, in any weather; heat is worse at
    /// every rate.
    #[test]
    fn a_spill_kills_turf_on_a_cool_day_and_a_feeding_does_not() {
        let dead = |g_m2: f64, t_c: f64| {
            let (setting, mut state) = lawn();
            let (ammonium_g_m2, nitrate_g_m2) = (0.5 * g_m2, 0.5 * g_m2);
            let forms = NitrogenForms { ammonium_g_m2, nitrate_g_m2, ..NitrogenForms::default() };
            nitrogen::lay(&mut state, &setting, &forms);
            let tillers = state.plants[0].tillers;
            (0..10).for_each(|_| step(&mut state, &setting, &sky(t_c)));
            1.0 - state.plants[0].tillers / tillers
        };
        assert!(dead(7.5, 18.0) < 0.005, "{}", dead(7.5, 18.0));
        assert!(dead(100.0, 18.0) > 0.3, "{}", dead(100.0, 18.0));
        for g_m2 in [2.0, 5.0, 15.0, 100.0] {
            assert!(dead(g_m2, 34.0) > dead(g_m2, 18.0), "{g_m2}");
        }
    }

    /// Mean and mean square of a load with mean 3 and coefficient of variation 0.5: 3 and 9 x 1.25.
    #[test]
    fn strips_keep_mean_and_variance() {
        assert!((over_strips(3.0, 0.5, |x| x) - 3.0).abs() < 1e-12);
        assert!((over_strips(3.0, 0.5, |x| x * x) - 11.25).abs() < 1e-12);
    }
}
