//! Every limit on a practice with a herbicide, barrier or spray: the figure of the label in hand and
//! the typical one, the stricter of the two.

use super::caution::name;
use super::fault::Faults;
use super::limit::{Figure, Limit, Unit, Whose, at_least, at_most};
use super::posts::{PostEmergentProduct, post_name};
use super::practice::Drafted;
use super::products::{PreEmergentProduct, Products, Term, active_name, most_for, wait_after};
use super::{Grass, What};

/// What products of barriers and sprays have in common.
pub(super) struct Typical<'p> {
    /// Active ingredient and concentration.
    pub product: &'p str,
    /// Low, typical and high rate of one application, kg ai/ha.
    pub rate_kg_ha: [f64; 3],
    /// Fewest and most days between two applications of a sequence.
    pub again_days: Option<(f64, f64)>,
    once_most_kg_ha: &'p [(Option<Grass>, f64)],
    year_most_kg_ha: &'p [(Option<Grass>, f64)],
    times_most: Option<u32>,
    reseed_days: &'p [(f64, f64)],
    after_seeding_days: Option<f64>,
    recalled: &'p [Term],
    /// What barriers alone have, and sprays alone.
    pub barrier: Option<&'p PreEmergentProduct>,
    pub spray: Option<&'p PostEmergentProduct>,
}

impl<'p> Typical<'p> {
    /// Typical figures of what a practice lays or sprays; none where it is no herbicide, or no product
    /// with its active ingredient is known.
    pub(super) fn of(what: &What, products: &'p Products) -> Option<Typical<'p>> {
        match what {
            What::PreEmergent { active, carrier, product, .. } => {
                products.barrier(*active, *carrier, &product.name).map(Typical::of_barrier)
            }
            What::Spray(spray) => {
                products.post(spray.post, &spray.product.name).map(Typical::of_spray)
            }
            _ => None,
        }
    }

    fn of_barrier(of: &'p PreEmergentProduct) -> Typical<'p> {
        Typical {
            product: &of.name,
            rate_kg_ha: of.rate_kg_ha,
            again_days: of.again_days,
            once_most_kg_ha: &of.once_most_kg_ha,
            year_most_kg_ha: &of.year_most_kg_ha,
            times_most: None,
            reseed_days: &of.reseed_days,
            after_seeding_days: of.young_days.map(|young| young.1).or(of.after_seeding_days),
            recalled: &of.recalled,
            barrier: Some(of),
            spray: None,
        }
    }

    fn of_spray(of: &'p PostEmergentProduct) -> Typical<'p> {
        Typical {
            product: &of.name,
            rate_kg_ha: of.rate_kg_ha,
            again_days: Some(of.again_days),
            once_most_kg_ha: &of.once_most_kg_ha,
            year_most_kg_ha: &of.year_most_kg_ha,
            times_most: of.times_most,
            reseed_days: &of.reseed_days,
            after_seeding_days: Some(of.after_seeding_days),
            recalled: &of.recalled,
            barrier: None,
            spray: Some(of),
        }
    }

    fn figure(&self, term: Term, value: f64) -> Figure {
        Figure { value, recalled: self.recalled.contains(&term) }
    }

    /// Wait before seeding after a rate, days.
    pub(super) fn reseed_days(&self, rate_kg_ha: f64) -> f64 {
        wait_after(self.reseed_days, rate_kg_ha)
    }
}

/// The limits on a practice, where any is known.
pub(super) struct Terms {
    /// At once, by the most sensitive grass, kg ai/ha; none where only the usual range is known.
    pub once: Option<Limit>,
    /// The high end of the usual range, or the label's most where that is lower, kg ai/ha.
    pub high: Option<Limit>,
    /// In a year, by the most sensitive grass, kg ai/ha.
    pub year: Option<Limit>,
    pub times: Option<Limit>,
    pub again: Option<Limit>,
    pub reseed: Option<Limit>,
    pub after_seeding: Option<Limit>,
    pub water_in: Option<Limit>,
    pub within: Option<Limit>,
    pub rain_free: Option<Limit>,
    pub mow_before: Option<Limit>,
    pub mow_after: Option<Limit>,
    pub coolest: Option<Limit>,
    pub hottest: Option<Limit>,
}

impl Terms {
    /// The limits on a practice. `standing_kg_ha` is what of its active ingredient counts for the wait
    /// before seeding.
    pub(super) fn of(
        draft: &Drafted,
        standing_kg_ha: f64,
        grasses: &[(Grass, f64)],
        products: &Products,
    ) -> Terms {
        let label = &draft.label;
        let typical = Typical::of(&draft.what, products);
        let typical = typical.as_ref();
        let figure = |term: Term, value: fn(&Typical<'_>) -> Option<f64>| {
            typical.and_then(|t| Some(t.figure(term, value(t)?)))
        };
        let by_grass = |term: Term, most: Option<&[(Option<Grass>, f64)]>| {
            let most = most_for(most?, grasses.iter().map(|g| g.0))?;
            typical.map(|t| t.figure(term, most))
        };
        let reseed = typical.map(|t| t.figure(Term::Reseed, t.reseed_days(standing_kg_ha)));
        let rate = |label, typical| at_most(label, typical, Unit::Rate);
        let wait = |label, typical| at_least(label, typical, Unit::Days);
        Terms {
            once: rate(
                label.once_kg_ha,
                by_grass(Term::OnceMost, typical.map(|t| t.once_most_kg_ha)),
            ),
            high: rate(label.once_kg_ha, figure(Term::Rate, |t| Some(t.rate_kg_ha[2]))),
            year: rate(
                label.year_kg_ha,
                by_grass(Term::YearMost, typical.map(|t| t.year_most_kg_ha)),
            ),
            times: at_most(
                label.times,
                figure(Term::Times, |t| t.times_most.map(f64::from)),
                Unit::Times,
            ),
            again: wait(label.again_days, figure(Term::Again, |t| Some(t.again_days?.0))),
            reseed: wait(label.reseed_days, reseed),
            after_seeding: wait(
                label.after_seeding_days,
                figure(Term::AfterSeeding, |t| t.after_seeding_days),
            ),
            water_in: at_least(
                label.water_in_mm,
                figure(Term::WaterIn, |t| Some(t.barrier?.water_in_mm)),
                Unit::Depth,
            ),
            within: at_most(
                label.within_days,
                figure(Term::WaterIn, |t| Some(t.barrier?.water_in_days)),
                Unit::Days,
            ),
            rain_free: at_least(
                label.rain_free_days,
                figure(Term::RainFree, |t| Some(t.spray?.rain_free_days)),
                Unit::Hours,
            ),
            mow_before: wait(
                label.mow_before_days,
                figure(Term::Mowing, |t| Some(t.spray?.mowing_days.0)),
            ),
            mow_after: wait(
                label.mow_after_days,
                figure(Term::Mowing, |t| Some(t.spray?.mowing_days.1)),
            ),
            coolest: at_least(
                label.coolest_c,
                figure(Term::Temperature, |t| t.spray?.temperature_c.0),
                Unit::Temperature,
            ),
            hottest: at_most(
                label.hottest_c,
                figure(Term::Temperature, |t| t.spray?.temperature_c.1),
                Unit::Temperature,
            ),
        }
    }

    /// Says where the label that was typed is looser than typical figures, and that these are kept.
    pub(super) fn tell_looser(&self, draft: &Drafted, faults: &mut Faults) {
        let all = [
            (self.once.or(self.high), "at once"),
            (self.year, "in a year"),
            (self.times, "in a year"),
            (self.again, "between two"),
            (self.reseed, "before seeding"),
            (self.after_seeding, "after seeding"),
            (self.water_in, "of water"),
            (self.within, "for the water"),
            (self.rain_free, "without rain"),
            (self.mow_before, "from a mowing"),
            (self.mow_after, "until a mowing"),
            (self.coolest, "at the coolest"),
            (self.hottest, "at the hottest"),
        ];
        let looser = all.into_iter().filter_map(|(limit, of)| match limit? {
            limit @ Limit { whose: Whose::Stricter(label), .. } => Some((limit, label, of)),
            _ => None,
        });
        let (mut stated, mut kept) = (Vec::new(), Vec::new());
        for (limit, label, of) in looser {
            stated.push(format!("{} {of}", limit.unit.show(label)));
            let memory = if limit.recalled { ", from memory" } else { "" };
            kept.push(format!("{} {of} (typical{memory})", limit.shown()));
        }
        if stated.is_empty() {
            return;
        }
        faults.caution(
            "looser-label",
            &draft.span,
            format!(
                "`{}`: the label figures that you gave are looser than typical ones: {}",
                name(draft),
                stated.join("; ")
            ),
            format!("the stricter is held to: {}", kept.join("; ")),
            "read your label again, for every grass of the lawn and the place it lies in; where it stands \
             by its figure, keep to the stricter one all the same",
        );
    }
}

/// The rate of what a practice lays or sprays of a herbicide, kg ai/ha.
pub(super) fn rate_kg_ha(what: &What) -> Option<f64> {
    match what {
        What::PreEmergent { rate_kg_ha, .. } => Some(*rate_kg_ha),
        What::Spray(spray) => Some(spray.rate_kg_ha),
        _ => None,
    }
}

/// A herbicide as people write it, mixtures with all that is in them; empty where it is none.
pub(super) fn herbicide(what: &What) -> String {
    match what {
        What::PreEmergent { active, .. } => active_name(*active),
        What::Spray(spray) => post_name(spray.post),
        _ => String::new(),
    }
}

/// The active ingredients of a herbicide: those of a mixture one by one.
pub(super) fn ingredients(what: &What) -> Vec<String> {
    let name = herbicide(what);
    let mix = name.split(" (").next().unwrap_or_default();
    mix.split(" + ").filter(|one| !one.is_empty()).map(str::to_string).collect()
}
