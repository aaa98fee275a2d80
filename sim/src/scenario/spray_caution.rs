//! What a person should look at where weeds that are up are sprayed: rates and how often, weather,
//! mowing, the grass, and whether the spray controls what it is meant for.

use super::apart::gap;
use super::caution::{LABEL, name};
use super::day;
use super::fault::Faults;
use super::limit::Limit;
use super::occasion::falls_in;
use super::posts::{PostEmergentProduct, post_name};
use super::practice::Drafted;
use super::products::{Products, active_name};
use super::program::Built;
use super::terms::Terms;
use super::{Crew, Cue, Grass, Hands, Hold, Spray, What};
use crate::calendar::MonthDay;
use crate::quantity::{Kind, Units, show};
use crate::work::Weed;

/// Wind in which a spray goes where it should: 3 to 10 mph, m/s (University of Nebraska 2023; labels
/// of lawn weed killers). Below it the air may be still and carry the mist.
const WIND_MOST_M_S: f64 = 4.4704;

/// When highs past the usual limits of 80-90 degF are met in most cool-season places (our judgement).
const WARM: (MonthDay, MonthDay) = (MonthDay { month: 5, day: 15 }, MonthDay { month: 9, day: 20 });

/// The same of highs below 45-50 degF.
const COLD: (MonthDay, MonthDay) = (MonthDay { month: 11, day: 1 }, MonthDay { month: 4, day: 10 });

/// Urea hurts tall fescue around a spray of sulfentrazone (Delaware extension 2008); that two weeks
/// part them is from memory, days.
const UREA_DAYS: f64 = 14.0;

/// Notes what a person should look at in the sprays of a program, and in what its barriers are for.
pub(super) fn program(
    built: &Built,
    grasses: &[(Grass, f64)],
    products: &Products,
    crew: &Crew,
    faults: &mut Faults,
) {
    let look = Look { built, grasses, products, crew };
    for (i, draft) in built.drafts.iter().enumerate() {
        match &draft.what {
            What::Spray(spray) => look.spray(i, draft, spray, faults),
            What::PreEmergent { .. } => look.barrier_for(i, draft, faults),
            _ => {}
        }
    }
}

struct Look<'b> {
    built: &'b Built,
    grasses: &'b [(Grass, f64)],
    products: &'b Products,
    crew: &'b Crew,
}

impl Look<'_> {
    fn spray(&self, i: usize, draft: &Drafted, spray: &Spray, faults: &mut Faults) {
        let Some(typical) = self.products.post(spray.post, &spray.product.name) else { return };
        let terms = Terms::of(draft, spray.rate_kg_ha, self.grasses, self.products);
        self.aim(i, draft, spray, typical, faults);
        self.turf(i, draft, spray, typical, faults);
        self.air(i, draft, spray, &terms, faults);
        self.rain(draft, &terms, faults);
        wind(draft, faults);
        self.mowing(draft, &terms, faults);
        volume(draft, spray, typical, faults);
        note(draft, spray, typical, faults);
    }

    /// Whether the spray controls what it is meant for.
    fn aim(
        &self,
        i: usize,
        draft: &Drafted,
        spray: &Spray,
        typical: &PostEmergentProduct,
        faults: &mut Faults,
    ) {
        let missed = missed(draft, &self.built.program.practices[i].cue, &typical.weeds);
        for (weeds, some) in missed {
            let others = self.products.post_emergents.iter();
            let mut names: Vec<String> = others
                .filter(|other| some.iter().any(|weed| other.weeds.contains(weed)))
                .map(|other| post_name(other.post))
                .collect();
            names.dedup();
            faults.caution(
                "wrong-weed",
                &draft.span,
                format!(
                    "`{}` is meant for {weeds}, and {} does not control it",
                    draft.key,
                    post_name(spray.post)
                ),
                format!("for {weeds}: {}", names.join(", ")),
                "take another product, or state in `against` what this one is for",
            );
        }
    }

    /// What the grass itself takes.
    fn turf(
        &self,
        i: usize,
        draft: &Drafted,
        spray: &Spray,
        typical: &PostEmergentProduct,
        faults: &mut Faults,
    ) {
        let what = post_name(spray.post);
        for (grass, _) in self.grasses.iter().filter(|(grass, _)| typical.hurts.contains(grass)) {
            faults.caution(
                "hurts-grass",
                &draft.span,
                format!("`{}`: {what} browns {} for some weeks", draft.key, grass.name()),
                "a herbicide that every grass of the lawn bears",
                "take another product or the low rate, and try it on a corner first",
            );
        }
        let fescue = self.grasses.iter().any(|(grass, _)| *grass == Grass::TallFescue);
        if what != "sulfentrazone" || !fescue {
            return;
        }
        let near = self.built.drafts.iter().enumerate().find(|(at, other)| {
            let urea =
                matches!(&other.what, What::Spread { nitrogen, .. } if nitrogen.urea_g_m2 > 0.0);
            let tight = |a, b| gap(self.built, a, b, UREA_DAYS).is_some();
            urea && (tight(*at, i) || tight(i, *at))
        });
        if let Some((_, urea)) = near {
            faults.caution(
                "sulfentrazone-and-urea",
                &draft.span,
                format!(
                    "`{}` and `{}` may come within two weeks: sulfentrazone with urea hurts tall fescue",
                    draft.key,
                    name(urea)
                ),
                "two weeks between the two (Delaware extension 2008; the days are from memory)",
                "move one of them, or take another herbicide",
            );
        }
    }

    /// Heat and cold, where the spray may fall due in either and nothing holds it.
    fn air(&self, i: usize, draft: &Drafted, spray: &Spray, terms: &Terms, faults: &mut Faults) {
        let falls =
            |stretch| falls_in(&self.built.program, i, stretch).map(|(on, _)| day::show(on));
        let what = post_name(spray.post);
        let hottest = terms.hottest.filter(|most| {
            let keeps =
                |h: &Hold| matches!(h, Hold::Hotter { than_c } if *than_c <= most.value + 0.06);
            !draft.holds.iter().any(keeps)
        });
        if let (Some(most), Some(on)) = (hottest, falls(WARM)) {
            faults.caution(
                "spray-in-heat",
                &draft.span,
                format!(
                    "`{}` may fall due on {on}, and nothing keeps it out of heat, in which {what} burns \
                     grass and kills less",
                    draft.key
                ),
                format!("air of at most {} ({})", most.shown(), most.words()),
                format!("hold = [\"hotter than {}\"]", show(most.value, Kind::Temperature, Units::Us)),
            );
        }
        let coolest = terms.coolest.filter(|least| {
            let keeps =
                |h: &Hold| matches!(h, Hold::Cooler { than_c } if *than_c >= least.value - 0.06);
            !draft.holds.iter().any(keeps)
        });
        if let (Some(least), Some(on)) = (coolest, falls(COLD)) {
            faults.caution(
                "spray-in-cold",
                &draft.span,
                format!(
                    "`{}` may fall due on {on}, and nothing keeps it out of cold, in which weeds take up \
                     little of {what}",
                    draft.key
                ),
                format!("highs of at least {} ({})", least.shown(), least.words()),
                format!("hold = [\"cooler than {}\"]", show(least.value, Kind::Temperature, Units::Us)),
            );
        }
    }

    fn rain(&self, draft: &Drafted, terms: &Terms, faults: &mut Faults) {
        let held = draft
            .holds
            .iter()
            .any(|hold| matches!(hold, Hold::RainComing { .. } | Hold::RainIn3Days { .. }));
        let Some(wait) = terms.rain_free else { return };
        if held || draft.by == Hands::Crew && self.crew.rain_out.is_some() {
            return;
        }
        faults.caution(
            "spray-before-rain",
            &draft.span,
            format!("`{}` goes out whatever the forecast: rain washes it off", draft.key),
            format!("{} dry after it ({})", wait.shown(), wait.words()),
            "hold = [\"rain coming 0.1 in\"], or [crew.rain-out]",
        );
    }

    /// The days between mower and spray, both ways.
    fn mowing(&self, draft: &Drafted, terms: &Terms, faults: &mut Faults) {
        let mows = self.built.drafts.iter().filter(|d| matches!(d.what, What::Mow { .. }));
        let (Some(before), Some(after)) = (terms.mow_before, terms.mow_after) else { return };
        let long = |days: u32, wait: Limit| f64::from(days) >= wait.value - 1e-6;
        let waits = |hold: &Hold| matches!(hold, Hold::MownWithin { days } if long(*days, before));
        let rests =
            |hold: &Hold| matches!(hold, Hold::SprayedWithin { days } if long(*days, after));
        let first = before.value <= 0.0 || draft.holds.iter().any(waits);
        let open = mows.filter(|mow| !first || after.value > 0.0 && !mow.holds.iter().any(rests));
        let keys: Vec<String> = open.map(|mow| format!("`{}`", mow.key)).collect();
        if keys.is_empty() {
            return;
        }
        let whose = if before.of_label() { after.words() } else { before.words() };
        faults.caution(
            "mowing-near-spray",
            &draft.span,
            format!(
                "nothing keeps {} and `{}` apart: a spray needs leaf to land on and time to go in",
                keys.join(", "),
                draft.key
            ),
            format!(
                "{} from a mowing to the spray, {} from it to the next ({whose})",
                before.shown(),
                after.shown()
            ),
            format!(
                "hold = [\"mown within {:.0} days\"] here, and \"sprayed within {:.0} days\" on the \
                 mowing",
                before.value.ceil(),
                after.value.ceil()
            ),
        );
    }

    /// What a barrier cannot do.
    fn barrier_for(&self, i: usize, draft: &Drafted, faults: &mut Faults) {
        let What::PreEmergent { active, .. } = &draft.what else { return };
        for (weeds, _) in missed(draft, &self.built.program.practices[i].cue, &[Weed::Crabgrass]) {
            faults.caution(
                "wrong-weed",
                &draft.span,
                format!(
                    "`{}` is meant for {weeds}, and a barrier of {} does nothing to what comes from \
                     roots and tubers",
                    name(draft),
                    active_name(*active)
                ),
                "a barrier for crabgrass, a spray for weeds that are up",
                "do = \"spray\" with a product for these weeds",
            );
        }
    }
}

/// What a practice is meant for and does not control: how it is told, and the weeds.
fn missed(draft: &Drafted, cue: &Cue, controlled: &[Weed]) -> Vec<(&'static str, Vec<Weed>)> {
    let mut out: Vec<(&'static str, Vec<Weed>)> = Vec::new();
    for weed in draft.against.iter().filter(|weed| !controlled.contains(weed)) {
        out.push((weed.name(), vec![*weed]));
    }
    if let (Cue::WeedCover { stand, .. }, true) = (cue, draft.against.is_empty()) {
        let all: Vec<Weed> = Weed::ALL.into_iter().filter(|weed| weed.stand() == *stand).collect();
        if !all.iter().any(|weed| controlled.contains(weed)) {
            out.push((stand.name(), all));
        }
    }
    out
}

fn wind(draft: &Drafted, faults: &mut Faults) {
    let held = |hold: &Hold| matches!(hold, Hold::Windy { m_s } if *m_s <= WIND_MOST_M_S + 0.01);
    if draft.holds.iter().any(held) {
        return;
    }
    faults.caution(
        "spray-in-wind",
        &draft.span,
        format!("`{}` goes out in any wind: it drifts onto gardens and neighbours", draft.key),
        "wind of 3 to 10 mph (Nebraska extension); the label in your hand may allow less",
        "hold = [\"windy 10 mph\", \"calm 3 mph\"]: still air carries mist too",
    );
}

fn volume(draft: &Drafted, spray: &Spray, typical: &PostEmergentProduct, faults: &mut Faults) {
    let (low, high) = typical.volume_ml_m2;
    if (low * 0.99..=high * 1.01).contains(&spray.volume_ml_m2) {
        return;
    }
    // 1 gal/1000 ft2 is 40.7 mL/m2.
    let gallons = |ml_m2: f64| format!("{:.1} gal/1000 ft2 ({ml_m2:.0} mL/m2)", ml_m2 / 40.746);
    faults.caution(
        "odd-volume",
        &draft.span,
        format!("`{}` sprays {} of mix", draft.key, gallons(spray.volume_ml_m2)),
        format!("{} to {} ({LABEL})", gallons(low), gallons(high)),
        "set `volume` to what your nozzles lay and the label asks for",
    );
}

/// What a crew must know of the product besides.
fn note(draft: &Drafted, spray: &Spray, typical: &PostEmergentProduct, faults: &mut Faults) {
    let mut told = format!("at its best on {}", typical.stage);
    if !typical.adjuvant.is_empty() {
        told.push_str(&format!("; with {}", typical.adjuvant));
    }
    if !typical.note.is_empty() {
        told.push_str(&format!(". {}", typical.note));
    }
    faults.caution(
        "product-note",
        &draft.span,
        format!("`{}`, {}: {told}", draft.key, post_name(spray.post)),
        "a use that the label and the place allow",
        "read the label and the rules of the place",
    );
}
