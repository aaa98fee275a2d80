//! Visual ratings on the 1-9 scale of turfgrass trials (6 = acceptable; NTEP).

mod tell;

pub(super) use tell::{Telling, tell};

use super::iron;
use super::limits::Limits;
use super::reaction;
use super::setting::{MAX_GRASSES, Setting};
use super::state::State;
use crate::parameters::{GrassTraits, Quality};
use crate::work::NitrogenForms;

/// Green leaf that a grass shows over what its canopy would show in full, 0..=1: from above the
/// upper leaves hide the lower, so that with a share s of the leaf 1 - (1 - s)^3 shows green.
pub fn greenness(state: &State, setting: &Setting, i: usize) -> f64 {
    let plant = &state.plants[i];
    let full = plant.full_leaf(&setting.grasses[i], &setting.p.sward);
    let brown = 1.0 - plant.green_share(full);
    1.0 - brown * brown * brown
}

/// What a rater sees, over the ground that grass, and clover beside it, holds.
#[derive(Clone, Copy, Debug, Default)]
struct View {
    /// Colour, 0..=1.
    colour: f64,
    /// Shoots over the densest stand's, over all ground.
    dense: f64,
    /// Brown stubble, 0..=1.
    stubble: f64,
    /// Green cover, over all ground.
    green: f64,
    /// The grasses' part of it: live green turf cover, 0..=1.
    green_turf: f64,
    /// Shagginess, 0..=1.
    tall: f64,
    /// Colour that the leaf would gain were it as rich as growth can use (the critical
    /// concentration), 0..=1: what a richly fed strip shows beside it.
    short: f64,
}

impl View {
    fn of(state: &State, setting: &Setting, cover: f64) -> View {
        let q = &setting.p.quality;
        let mut view = View::default();
        for (i, traits) in setting.grasses.iter().enumerate() {
            let plant = &state.plants[i];
            let shown = greenness(state, setting, i);
            let fed = fed(plant.leaf_n, q);
            view.colour += plant.cover * traits.colour_ceiling * fed * shown;
            let more = (setting.rich_colour - fed).max(0.0);
            view.short += plant.cover * traits.colour_ceiling * more * shown;
            view.dense += (plant.tillers / traits.density_max_m2).at_most(plant.cover);
            view.stubble += plant.cover * plant.stubble;
            view.green += plant.cover * shown;
            let over = (plant.height_mm - q.tall_from_mm) / q.tall_range_mm;
            view.tall += plant.cover * over.clamp(0.0, 1.0);
        }
        view.green_turf = view.green;
        let turf = state.turf_cover().clamp(0.0, 1.0);
        view.short = if turf > 0.0 { view.short / turf } else { 0.0 };
        let clover = clover(state, setting);
        view.dense += clover;
        view.green += clover;
        view.colour += q.clover_colour * clover;
        if cover > 0.0 {
            view.colour /= cover;
            view.colour *= reaction::colour(state, setting);
            view.colour += iron::colour(state, setting) * (view.green / cover).min(1.0);
            view.stubble /= cover;
            view.tall /= cover;
        }
        view
    }
}

/// Ground under clover in terms of grass, 0..=1: less where it has lost its leaf.
fn clover(state: &State, setting: &Setting) -> f64 {
    let cover = state.clover.cover;
    if cover <= 0.0 {
        return 0.0;
    }
    let shown = 1.0 - (-setting.p.sward.extinction * state.clover.leaf_area(setting) / cover).exp();
    cover * setting.p.quality.clover_worth * shown
}

/// How far nitrogen in leaf goes towards a grass's deepest colour, 0..=1.
pub(super) fn fed(leaf_n: f64, q: &Quality) -> f64 {
    1.0 - (-((leaf_n - q.colour_n_zero) / q.colour_n_scale).max(0.0)).exp()
}

/// Points between the ends of the scale.
const POINTS: f64 = 8.0;

/// Quality that counts as acceptable, 1-9: the usual line of turfgrass trials.
pub const ACCEPTABLE: f64 = 6.0;

/// A share 0..=1 on the scale from 1 to 9.
fn on_scale(share: f64) -> f64 {
    1.0 + POINTS * share.clamp(0.0, 1.0)
}

/// Rates this evening's lawn: density, uniformity and colour, weighed as raters weigh them; and what
/// signs read of the same look.
pub fn rate(state: &mut State, setting: &Setting) {
    let cover = (state.turf_cover() + clover(state, setting)).clamp(0.0, 1.0);
    let view = View::of(state, setting, cover);
    let [density, even, colour] = parts(state, setting, cover, &view);
    state.colour = on_scale(view.colour);
    state.quality = on_scale(density + even + colour);
    state.evening.green_cover = view.green_turf;
    state.evening.colour_short = POINTS * view.short;
}

/// What weeds take from evenness: each by its cover and how it looks among grass.
fn weeds(state: &State, setting: &Setting) -> f64 {
    let q = &setting.p.quality;
    let others = q.dandelion_penalty * state.dandelion.cover
        + q.dandelion_flower_penalty * state.dandelion.heads()
        + q.clover_penalty * state.clover.cover;
    q.weed_penalty * (state.weed.cover + state.nutsedge.cover) + others
}

/// What nutsedge that stands above the turf takes from evenness beyond its cover, 0..=1.
fn nutsedge_above(state: &State, setting: &Setting) -> f64 {
    let n = &setting.p.nutsedge;
    if state.nutsedge.cover <= 0.0 {
        return 0.0;
    }
    let above = state.nutsedge.above_mm(state.canopy_height_mm()) / n.tall_full_mm;
    (n.tall_penalty * state.nutsedge.cover * above.min(1.0)).min(1.0)
}

/// How unlike each two grasses look: evenness lost where each has half of the sward, 0..=1. Leaf that
/// is much wider shows, and so does another green; what is nearly alike passes for one.
pub(super) fn unlike(q: &Quality, grasses: &[GrassTraits]) -> [[f64; MAX_GRASSES]; MAX_GRASSES] {
    let pair = |a: &GrassTraits, b: &GrassTraits| {
        let wider = (a.leaf_width_mm / b.leaf_width_mm).max(b.leaf_width_mm / a.leaf_width_mm);
        let doublings = (wider / q.texture_like_ratio).log2().max(0.0);
        let hue = ((a.colour_ceiling - b.colour_ceiling).abs() - q.hue_like).max(0.0);
        (q.texture_penalty * doublings + q.hue_penalty * hue).min(q.unlike_max)
    };
    let at = |i: usize, j: usize| Some(pair(grasses.get(i)?, grasses.get(j)?));
    std::array::from_fn(|i| std::array::from_fn(|j| at(i, j).unwrap_or(0.0)))
}

/// What a mixture of unlike grasses takes from evenness, 0..=1: most where two share the sward by halves.
fn mixed(state: &State, setting: &Setting) -> f64 {
    let cover = state.turf_cover();
    let grasses = setting.grasses.len();
    if grasses < 2 || cover <= 0.0 {
        return 0.0;
    }
    let mut lost = 0.0;
    for i in 0..grasses {
        for j in 0..i {
            let shares = state.plants[i].cover * state.plants[j].cover / (cover * cover);
            lost += 4.0 * shares * setting.unlike[i][j];
        }
    }
    lost.min(1.0)
}

/// A feeding that is less even than the eye overlooks leaves streaks; those of two feedings lie
/// independently of each other, so that their variances add.
pub(super) fn streak(state: &mut State, setting: &Setting, forms: &NitrogenForms) {
    let shows = (forms.unevenness - setting.p.quality.streak_cv).max(0.0);
    state.streak_g_m2 = state.streak_g_m2.hypot(shows * forms.total_g_m2());
}

/// Streaks fade with the feeding.
pub(super) fn fade(state: &mut State, setting: &Setting) {
    if state.streak_g_m2 > 0.0 {
        state.streak_g_m2 *= setting.streaks_left;
    }
}

/// What streaks take from evenness, 0..=1: by how much strips that got more and strips that got less
/// differ from the lawn in colour. A richly fed lawn hides them.
fn streaked(state: &State, setting: &Setting) -> f64 {
    if state.streak_g_m2 <= 0.0 {
        return 0.0;
    }
    let (q, s) = (&setting.p.quality, &setting.p.sward);
    let mass: f64 = state.plants.iter().map(|plant| plant.leaf_equivalent(s)).sum();
    let cover = state.turf_cover();
    if mass <= 0.0 || cover <= 0.0 {
        return 0.0;
    }
    let more = q.streak_uptake * state.streak_g_m2 / mass;
    let contrast = setting.grasses.iter().zip(&state.plants).map(|(traits, plant)| {
        let range = fed(plant.leaf_n + more, q) - fed(plant.leaf_n - more, q);
        plant.cover / cover * traits.colour_ceiling * 0.5 * range
    });
    (q.streak_penalty * contrast.sum::<f64>()).min(1.0)
}

/// What density, uniformity and colour add to a rating of 0..=1.
fn parts(state: &State, setting: &Setting, cover: f64, view: &View) -> [f64; 3] {
    let q = &setting.p.quality;
    let green_of_cover = view.green / cover.max(1e-9);
    let density = view.dense.clamp(0.0, 1.0).powf(q.density_power)
        * (q.brown_density_share + (1.0 - q.brown_density_share) * green_of_cover);
    let clumps = (state.today.clumps / setting.p.mowing.clump_g_m2 - 1.0).clamp(0.0, 1.0);
    let even = (1.0 - weeds(state, setting)).max(0.0)
        * (1.0 - q.bare_penalty * state.bare()).max(0.0)
        * (1.0 - q.stubble_penalty * view.stubble)
        * (1.0 - q.clump_penalty * clumps)
        * (1.0 - q.tall_penalty * view.tall)
        * (1.0 - nutsedge_above(state, setting))
        * (1.0 - mixed(state, setting))
        * (1.0 - streaked(state, setting));
    [
        q.weight_density * density,
        q.weight_uniformity * even * view.green.clamp(0.0, 1.0).sqrt(),
        q.weight_colour * view.colour * cover,
    ]
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{facts, lawn, lawn_of};
    use super::*;
    use crate::parameters::Catalogue;
    use crate::scenario::Grass;

    /// The ends of the scale (NTEP: 1 poorest, 9 best, 6 acceptable): bare ground is the poorest;
    /// a dense, fed, even stand is past acceptable; weeds and hunger pull it down.
    #[test]
    fn the_ends_of_the_scale() {
        let (setting, mut state) = lawn();
        let traits = setting.grasses[0];
        state.plants[0].cover = 1.0;
        state.plants[0].tillers = traits.density_max_m2;
        state.set_canopy(&setting, 60.0);
        rate(&mut state, &setting);
        let (best, green) = (state.quality, state.colour);
        assert!(best > 7.0 && best <= 9.0, "{best}");
        state.plants[0].set_leaf_n(setting.p.quality.colour_n_zero, &setting.p.sward);
        rate(&mut state, &setting);
        assert!(state.quality < best && state.colour < green);
        // What the strip would show is what was lost of colour, and nothing where the leaf is rich.
        assert!((state.evening.colour_short - (green - state.colour)).abs() < 1e-9);
        state.plants[0].set_leaf_n(setting.p.sward.nitrogen_max, &setting.p.sward);
        rate(&mut state, &setting);
        assert_eq!(state.evening.colour_short, 0.0);
        state.plants[0] = super::super::Plant::default();
        rate(&mut state, &setting);
        assert_eq!((state.quality, state.colour), (1.0, 1.0));
    }

    /// A dense, fed lawn of these grasses, half and half.
    fn half_and_half(a: Grass, b: Grass) -> (Setting, State) {
        let mut facts = facts();
        facts.grasses = vec![(a, 0.5), (b, 0.5)];
        let (setting, mut state) = lawn_of(&facts, &Catalogue::embedded().central());
        for (plant, traits) in state.plants.iter_mut().zip(&setting.grasses) {
            plant.cover = 0.5;
            plant.tillers = 0.5 * traits.density_max_m2;
        }
        state.set_canopy(&setting, 60.0);
        (setting, state)
    }

    /// Uniformity is a part of the visual rating (NTEP, "A Guide to NTEP Turfgrass Ratings": density,
    /// texture, uniformity, colour): like grasses mix unseen, a coarse one in a needle-leaved one shows,
    /// and what is mixed in by a tenth shows less. Tall fescue with bluegrass was among the best of
    /// seven (a Romanian trial on the same scale): less than half a point may go.
    #[test]
    fn unlike_grasses_are_less_even() {
        use Grass::{FineFescue, KentuckyBluegrass, PerennialRyegrass, TallFescue};
        let lost = |a, b| {
            let (setting, state) = half_and_half(a, b);
            mixed(&state, &setting)
        };
        assert_eq!(lost(KentuckyBluegrass, PerennialRyegrass), 0.0);
        let close = lost(TallFescue, KentuckyBluegrass);
        let far = lost(TallFescue, FineFescue);
        assert!(close > 0.0 && far > 2.0 * close, "{close} {far}");
        let (setting, mut state) = half_and_half(TallFescue, KentuckyBluegrass);
        rate(&mut state, &setting);
        let mixture = state.quality;
        let mut alike = setting.clone();
        alike.unlike = Default::default();
        rate(&mut state, &alike);
        assert!(state.quality > mixture && state.quality - mixture < 0.5);
        (state.plants[0].cover, state.plants[1].cover) = (0.9, 0.1);
        assert!(mixed(&state, &setting) < 0.5 * close);
    }

    /// Farm spreaders stripe a crop from a coefficient of variation of 20-25 % (from memory): below it
    /// nothing shows. Streaks show on a hungry lawn more than on a rich one, and fade.
    #[test]
    fn an_uneven_feeding_leaves_streaks() {
        let (setting, state) = lawn();
        let fed_at = |unevenness: f64, leaf_n: f64| {
            let mut state = state.clone();
            state.plants[0].set_leaf_n(leaf_n, &setting.p.sward);
            let forms = NitrogenForms { urea_g_m2: 4.0, unevenness, ..NitrogenForms::default() };
            streak(&mut state, &setting, &forms);
            state
        };
        let lost = |state: &State| streaked(state, &setting);
        let hungry = fed_at(0.5, 0.022);
        assert_eq!(lost(&fed_at(0.20, 0.022)), 0.0);
        assert!(lost(&hungry) > lost(&fed_at(0.3, 0.022)));
        assert!(lost(&hungry) > 1.5 * lost(&fed_at(0.5, 0.040)));
        let mut later = hungry.clone();
        for _ in 0..60 {
            fade(&mut later, &setting);
        }
        // A quarter of the difference is left, which shows less than half as much.
        assert!(lost(&later) < 0.5 * lost(&hungry));
    }
}
