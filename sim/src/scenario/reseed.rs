//! Seed and herbicides in one program: what keeps crabgrass down keeps sown grass down too, and what
//! kills weeds hurts young grass. Cues that wait for the lawn or the weather are taken by the days on which they may fall.

use super::apart::{gap, gaps, own_gap};
use super::caution::{name, us_and_metric};
use super::fault::Faults;
use super::limit::{Limit, Whose};
use super::occasion::most_in_a_year;
use super::posts::{PostEmergentProduct, post_name};
use super::practice::Drafted;
use super::products::{Products, active_name};
use super::program::Built;
use super::terms::{Terms, Typical, ingredients, rate_kg_ha};
use super::{Grass, Spray, What};
use crate::quantity::Kind;
use crate::work::SeedMix;

/// Longest wait after which a barrier counts as safe at seeding, days.
const NO_WAIT_DAYS: f64 = 1.0;

/// Days in which most seed is up (Iowa State: two to three weeks).
const UP_DAYS: f64 = 21.0;

/// What a person should look at where a program sows.
pub(super) fn sowing(
    built: &Built,
    at: usize,
    grasses: &[(Grass, f64)],
    products: &Products,
    faults: &mut Faults,
) {
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
    let tight =
        built.drafts.iter().enumerate().filter_map(|(i, other)| {
            Some((other, Tight::between(built, at, i, grasses, products)?))
        });
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
    fn between(
        built: &Built,
        sown: usize,
        at: usize,
        grasses: &[(Grass, f64)],
        products: &Products,
    ) -> Option<Tight> {
        let (reseed, settle, young) = waits(built, at, grasses, products);
        let tight = |seed_after: bool, wait: Option<Limit>| -> Vec<Tight> {
            let (first, then) = if seed_after { (at, sown) } else { (sown, at) };
            let Some(wait) = wait else { return Vec::new() };
            let pairs = gaps(built, first, then, wait.value).into_iter();
            // What may go down with the seed does, and not on seedlings that are just up.
            let counts = |most: i32| {
                if seed_after { young <= 0.0 || most > 0 } else { f64::from(most) >= young }
            };
            let pairs = pairs.filter(|(_, most)| counts(*most));
            pairs.map(|apart| Tight { seed_after, apart, wait }).collect()
        };
        let both = tight(true, reseed).into_iter().chain(tight(false, settle));
        // What breaks the user's label for sure comes before what may come nearer still; of two alike
        // the one that leaves the least room.
        let rank = |t: &Tight| (t.breaks_label(), t.short(), -f64::from(t.apart.1));
        both.max_by(|a, b| {
            let ((sure_a, short_a, last_a), (sure_b, short_b, last_b)) = (rank(a), rank(b));
            sure_a.cmp(&sure_b).then(short_a.total_cmp(&short_b)).then(last_a.total_cmp(&last_b))
        })
    }

    /// Days that are missing, at the worst.
    fn short(&self) -> f64 {
        self.wait.value - f64::from(self.apart.0.max(0))
    }

    /// Whether there is no way in which the wait is kept.
    fn certain(&self) -> bool {
        self.apart.0 >= 0 && f64::from(self.apart.1) < self.wait.value
    }

    /// The wait that the user read on the label.
    fn label(&self) -> Option<f64> {
        match self.wait.whose {
            Whose::Label => Some(self.wait.value),
            Whose::Stricter(label) => Some(label),
            Whose::Typical => None,
        }
    }

    /// Whether it breaks the figure of the user's label, whatever the weather.
    fn breaks_label(&self) -> bool {
        self.certain() && self.label().is_some_and(|label| f64::from(self.apart.1) < label)
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
        let expected =
            format!("at least {} between the two ({})", self.wait.shown(), self.wait.words());
        let instead = if safe.is_empty() {
            String::new()
        } else {
            format!(", or take one that spares seed ({})", safe.join(", "))
        };
        let help = format!("{later}, or leave one of the two out that year{instead}");
        if self.breaks_label() {
            faults.error("over-label", &sown.span, message, expected, Some(help));
        } else {
            faults.caution(code, &sown.span, message, expected, help);
        }
    }
}

/// What a herbicide asks for before seed is sown, and after it was, with the days after seeding from which
/// the latter counts.
fn waits(
    built: &Built,
    at: usize,
    grasses: &[(Grass, f64)],
    products: &Products,
) -> (Option<Limit>, Option<Limit>, f64) {
    let draft = &built.drafts[at];
    let typical = Typical::of(&draft.what, products);
    let young = typical.and_then(|t| t.barrier?.young_days).map_or(0.0, |young| young.0);
    let terms = Terms::of(draft, standing_kg_ha(built, at, products), grasses, products);
    (terms.reseed, terms.after_seeding, young)
}

/// What counts of a practice's active ingredient for the wait before seeding, kg ai/ha: its own rate, and
/// those of passes before it whose own wait is not over yet.
pub(super) fn standing_kg_ha(built: &Built, at: usize, products: &Products) -> f64 {
    let what = &built.drafts[at].what;
    let Some(rate) = rate_kg_ha(what) else { return 0.0 };
    let wait = |what: &What, rate| {
        Typical::of(what, products).map_or(0.0, |typical| typical.reseed_days(rate))
    };
    let own_wait = wait(what, rate);
    let own = match own_gap(built, at) {
        Some(apart) if f64::from(apart) < own_wait => {
            let again = 1.0 + (own_wait / f64::from(apart.max(1))).floor();
            rate * again.min(most_in_a_year(&built.program, at))
        }
        _ => rate,
    };
    let mine = ingredients(what);
    let others = built.drafts.iter().enumerate().filter(|(i, other)| {
        *i != at && ingredients(&other.what).iter().any(|one| mine.contains(one))
    });
    let standing = others.filter_map(|(i, other)| {
        let rate = rate_kg_ha(&other.what)?;
        gap(built, i, at, wait(&other.what, rate)).map(|_| rate)
    });
    own + standing.sum::<f64>()
}

/// "14 days", "1 day".
pub(super) fn days(n: i32) -> String {
    if n == 1 { "1 day".to_string() } else { format!("{n} days") }
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
