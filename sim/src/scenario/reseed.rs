//! Seed and herbicides in one program: what keeps crabgrass down keeps sown grass down too, and what
//! kills weeds hurts young grass. Cues that wait for the lawn or the weather are taken by the days on which they may fall.

use super::caution::{name, us_and_metric};
use super::fault::Faults;
use super::limit::{Limit, Whose, at_least};
use super::posts::{PostEmergentProduct, post_name};
use super::practice::Drafted;
use super::products::{PreEmergentProduct, Products, active_name};
use super::program::Built;
use super::{Cue, Spray, What};
use crate::calendar::MonthDay;
use crate::quantity::Kind;
use crate::work::SeedMix;

const YEAR: i32 = 365;

/// Longest wait after which a barrier counts as safe at seeding, days.
const NO_WAIT_DAYS: f64 = 1.0;

/// Days in which most seed is up (Iowa State: two to three weeks).
const UP_DAYS: f64 = 21.0;

/// What a person should look at where a program sows.
pub(super) fn sowing(built: &Built, at: usize, products: &Products, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let What::Overseed { seed, .. } = &draft.what else { return };
    untypical_rate(draft, seed, products, faults);
    let watered = built.drafts.iter().any(|d| matches!(d.what, What::Water { .. }));
    if !watered {
        faults.caution(
            "seed-not-kept-moist",
            &draft.span,
            format!("`{}` counts on rain to keep the seed moist", draft.key),
            "moist ground for the two to three weeks in which seed comes up (Iowa State)",
            "add a practice with do = \"water\", or look at how often the seed dries out",
        );
    }
    let tight = built
        .drafts
        .iter()
        .enumerate()
        .filter_map(|(i, other)| Some((other, Tight::between(built, at, i, products)?)));
    // Both halves of a split barrier are told of as one, by the one that is further out of step.
    let mut told: Vec<(&Drafted, Tight)> = Vec::new();
    for (other, tight) in tight {
        match told.iter_mut().find(|(d, _)| name(d) == name(other)) {
            Some(known) if known.1.short() < tight.short() => *known = (other, tight),
            Some(_) => {}
            None => told.push((other, tight)),
        }
    }
    for (other, tight) in told {
        tight.tell(draft, other, products, faults);
    }
}

fn untypical_rate(draft: &Drafted, seed: &SeedMix, products: &Products, faults: &mut Faults) {
    let total = seed.total_g_m2();
    let (mut low, mut high) = (0.0, 0.0);
    for (grass, g_m2) in seed.kinds() {
        let Some(usual) = products.seed(grass) else { return };
        low += usual.overseed_g_m2.0 * g_m2 / total;
        high += usual.new_lawn_g_m2.1 * g_m2 / total;
    }
    let side = match total {
        rate if rate < low * 0.99 => "below",
        rate if rate > high * 1.01 => "above",
        _ => return,
    };
    faults.caution(
        "untypical-seed-rate",
        &draft.amount_span,
        format!(
            "`{}` sows {}, {side} usual rates for this seed",
            draft.key,
            us_and_metric(total, Kind::MassPerArea)
        ),
        format!(
            "{} into a lawn, to {} on bare ground",
            us_and_metric(low, Kind::MassPerArea),
            us_and_metric(high, Kind::MassPerArea)
        ),
        "check the rate; crowded seedlings starve each other",
    );
}

/// A herbicide and a sowing that are, or may come, too near to each other.
struct Tight {
    /// Whether the seed comes after the herbicide.
    seed_after: bool,
    /// Days from the first of the two to the second: fewest, below 0 where they may change places,
    /// and most.
    apart: (i32, i32),
    /// Days that should lie between.
    wait: Limit,
}

impl Tight {
    /// The worse of what practice `at` does to the seed of practice `sown`; none where it is no
    /// herbicide, or keeps away from the seed.
    fn between(built: &Built, sown: usize, at: usize, products: &Products) -> Option<Tight> {
        let (reseed, settle) = waits(&built.drafts[at], products);
        let tight = |seed_after: bool, wait: Option<Limit>| {
            let (first, then) = if seed_after { (at, sown) } else { (sown, at) };
            let wait = wait?;
            let apart = gap(built, first, then, wait.value)?;
            Some(Tight { seed_after, apart, wait })
        };
        let both = [tight(true, reseed), tight(false, settle)];
        both.into_iter().flatten().max_by(|a, b| a.short().total_cmp(&b.short()))
    }

    /// Days that are missing, at the worst.
    fn short(&self) -> f64 {
        self.wait.value - f64::from(self.apart.0.max(0))
    }

    /// Whether there is no way in which the wait is kept.
    fn certain(&self) -> bool {
        self.apart.0 >= 0 && f64::from(self.apart.1) < self.wait.value
    }

    fn tell(&self, sown: &Drafted, other: &Drafted, products: &Products, faults: &mut Faults) {
        let comes = match self.apart {
            (0, 0) => "comes on the day of".to_string(),
            (a, b) if a == b => format!("comes {} after", days(a)),
            (a, b) if self.certain() => format!("comes {a} to {} after", days(b)),
            (a, _) if a <= 0 => "may come right after".to_string(),
            (a, _) => format!("may come as soon as {} after", days(a)),
        };
        let (code, reason, later, safe) = match &other.what {
            What::PreEmergent { active, .. } => {
                let active = active_name(*active);
                let reason = if self.seed_after {
                    format!("{active} stops sown grass as it stops crabgrass")
                } else {
                    format!("{active} stops the seed that is not up yet and hurts what is young")
                };
                ("seed-near-barrier", reason, "lay the barrier later", safe_at_seeding(products))
            }
            What::Spray(spray) => {
                let post = post_name(spray.post);
                let reason = if self.seed_after {
                    format!("what is left of {post} hurts seedlings")
                } else {
                    format!("{post} hurts young grass")
                };
                let safe = safe_spray(spray, self.seed_after, products);
                ("seed-near-spray", reason, "spray later", safe)
            }
            _ => return,
        };
        let (message, later) = if self.seed_after {
            (format!("`{}` {comes} `{}`", sown.key, name(other)), "sow later")
        } else {
            (format!("`{}` {comes} `{}`", name(other), sown.key), later)
        };
        let message = format!("{message}: {reason}");
        let wait = self.wait.value.round() as i32;
        let expected =
            format!("at least {} between the two ({})", days(wait), self.wait.whose.words());
        let instead = if safe.is_empty() {
            String::new()
        } else {
            format!(", or take one that spares seed ({})", safe.join(", "))
        };
        let help = format!("{later}, or leave one of the two out that year{instead}");
        if self.wait.whose == Whose::Label && self.certain() {
            faults.error("over-label", &sown.span, message, expected, Some(help));
        } else {
            faults.caution(code, &sown.span, message, expected, help);
        }
    }
}

/// What a herbicide asks for before seed is sown, and after it was. A barrier's label is taken by
/// itself, a spray's with typical figures beside it.
fn waits(draft: &Drafted, products: &Products) -> (Option<Limit>, Option<Limit>) {
    let (label, settled) = (draft.label.reseed_days, draft.label.after_seeding_days);
    match &draft.what {
        What::PreEmergent { rate_kg_ha, .. } => {
            let typical = typical(draft, products);
            let reseed = typical.map(|p| p.reseed_wait_days(*rate_kg_ha));
            let settle = typical.and_then(|p| p.after_seeding_days);
            let one = |label: Option<f64>, typical: Option<f64>| {
                at_least(label, typical.filter(|_| label.is_none()))
            };
            (one(label, reseed), one(settled, settle))
        }
        What::Spray(spray) => {
            let typical = products.post_emergent(&spray.product.name);
            let typical = typical.or_else(|| products.with_post(spray.post));
            (
                at_least(label, typical.map(|p| p.reseed_wait_days(spray.rate_kg_ha))),
                at_least(settled, typical.map(|p| p.after_seeding_days)),
            )
        }
        _ => (None, None),
    }
}

/// "14 days", "1 day".
pub(super) fn days(n: i32) -> String {
    if n == 1 { "1 day".to_string() } else { format!("{n} days") }
}

/// The product of a barrier, or one like it.
fn typical<'p>(draft: &Drafted, products: &'p Products) -> Option<&'p PreEmergentProduct> {
    let What::PreEmergent { active, carrier, product, .. } = &draft.what else { return None };
    products.pre_emergent(&product.name).or_else(|| products.like(*active, *carrier))
}

/// Active ingredients that may go down with the seed.
fn safe_at_seeding(products: &Products) -> Vec<String> {
    let mut names = Vec::new();
    for product in &products.pre_emergents {
        let waits = [product.reseed_wait_days(product.rate_kg_ha[2])]
            .into_iter()
            .chain(product.after_seeding_days);
        let name = active_name(product.active);
        if waits.into_iter().all(|days| days <= NO_WAIT_DAYS) && !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// Sprays for the same weeds that wait no longer than a day for seed after them, or than seed needs to
/// come up where it is sown before.
fn safe_spray(spray: &Spray, seed_after: bool, products: &Products) -> Vec<String> {
    let spares = |product: &&PostEmergentProduct| {
        if seed_after {
            product.reseed_wait_days(product.rate_kg_ha[2]) <= NO_WAIT_DAYS
        } else {
            product.after_seeding_days <= UP_DAYS
        }
    };
    let same = |product: &&PostEmergentProduct| {
        product.post != spray.post && product.weeds.iter().any(|w| spray.weeds.contains(w))
    };
    let safe = products.post_emergents.iter().filter(spares).filter(same);
    safe.map(|product| post_name(product.post)).collect()
}

/// Days of a common year on which a practice may be done, and what it hangs on.
#[derive(Clone, Copy)]
struct Turn {
    /// The practice whose cue calls, the number of its call, and the days after it.
    root: (usize, usize),
    after: i32,
    /// First and last day, from 1 January.
    days: (i32, i32),
    /// Whether it is one day of work, and not several within the window.
    once: bool,
}

/// Fewest and most days from practice `first` to practice `then`, this year's or next year's, where
/// they may be fewer than `wait`; of several pairs the nearest.
pub(super) fn gap(built: &Built, first: usize, then: usize, wait: f64) -> Option<(i32, i32)> {
    let mut nearest: Option<(i32, i32)> = None;
    let (first, then) = (turns(built, first), turns(built, then));
    for a in &first {
        for b in &then {
            for later in [0, YEAR] {
                let (fewest, most) = if a.root == b.root && a.once && later == 0 {
                    (b.after - a.after, b.after - a.after)
                } else {
                    (b.days.0 + later - a.days.1, b.days.1 + later - a.days.0)
                };
                if most < 0 || f64::from(fewest) >= wait {
                    continue;
                }
                let nearer = |known: (i32, i32)| (fewest.max(0), most) < (known.0.max(0), known.1);
                if nearest.is_none_or(nearer) {
                    nearest = Some((fewest, most));
                }
            }
        }
    }
    nearest
}

/// When a practice may be done in a year.
fn turns(built: &Built, practice: usize) -> Vec<Turn> {
    let practices = &built.program.practices;
    let (mut at, mut after) = (practice, 0);
    for _ in 0..=practices.len() {
        let window = |days: (MonthDay, MonthDay), number: usize, once: bool| {
            let days = (day_of_year(days.0) + after, day_of_year(days.1) + after);
            Turn { root: (at, number), after, days, once }
        };
        match practices.get(at).map(|p| &p.cue) {
            Some(Cue::DaysAfter { practice, days }) => {
                (at, after) = (*practice, after + i32::try_from(*days).unwrap_or(YEAR));
            }
            Some(Cue::Dates(dates)) => {
                let each = dates.iter().enumerate();
                return each.map(|(number, day)| window((*day, *day), number, true)).collect();
            }
            Some(Cue::SoilTemperature { from, to, .. } | Cue::DegreeDays { from, to, .. }) => {
                return vec![window((*from, *to), 0, true)];
            }
            Some(
                Cue::Every { from, to, .. }
                | Cue::CanopyHeight { from, to, .. }
                | Cue::DrySoil { from, to, .. }
                | Cue::WeedCover { from, to, .. },
            ) => return vec![window((*from, *to), 0, false)],
            None => break,
        }
    }
    vec![]
}

/// Days since 1 January of a common year.
fn day_of_year(day: MonthDay) -> i32 {
    let year = 2025;
    day.in_year(year).0 - MonthDay { month: 1, day: 1 }.in_year(year).0
}
