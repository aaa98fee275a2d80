//! Ceilings on herbicides, barriers and sprays alike: at once by the most sensitive grass, in a year over
//! all that holds one active ingredient, and the time between two. Spots count as though they were the
//! same ground each time.

use super::apart::{gap, own_gap};
use super::caution::{LABEL, name, us_and_metric};
use super::fault::Faults;
use super::limit::{Limit, Unit};
use super::occasion::{most_in_a_year, times};
use super::practice::Drafted;
use super::products::Products;
use super::program::Built;
use super::reseed::{days, standing_kg_ha};
use super::terms::{Terms, Typical, herbicide, ingredients, rate_kg_ha};
use super::{Cue, Grass, What};
use crate::quantity::{Kind, Units, show};

/// Notes what of a program's herbicides passes a ceiling, or may. Figures of the user's label that are
/// passed are errors.
pub(super) fn program(
    built: &Built,
    grasses: &[(Grass, f64)],
    products: &Products,
    faults: &mut Faults,
) {
    let applied: Vec<Applied> =
        (0..built.drafts.len()).filter_map(|i| Applied::of(built, i, grasses, products)).collect();
    let look = Look { built, products, applied: &applied };
    for one in &applied {
        one.draft.known(products, faults);
        if one.draft.key == name(one.draft) {
            one.terms.tell_looser(one.draft, faults);
        }
        look.once(one, faults);
        look.apart(one, faults);
        look.too_far(one, faults);
    }
    look.in_a_year(faults);
}

/// A practice that puts down a herbicide.
struct Applied<'b> {
    /// Its place in the program.
    place: usize,
    draft: &'b Drafted,
    kg_ha: f64,
    /// Most times from January to December.
    times: f64,
    /// Its herbicide, and one by one what is in it.
    herbicide: String,
    ingredients: Vec<String>,
    terms: Terms,
}

impl<'b> Applied<'b> {
    fn of(
        built: &'b Built,
        place: usize,
        grasses: &[(Grass, f64)],
        products: &Products,
    ) -> Option<Applied<'b>> {
        let draft = &built.drafts[place];
        let kg_ha = rate_kg_ha(&draft.what)?;
        let standing = standing_kg_ha(built, place, products);
        Some(Applied {
            place,
            draft,
            kg_ha,
            times: most_in_a_year(&built.program, place),
            herbicide: herbicide(&draft.what),
            ingredients: ingredients(&draft.what),
            terms: Terms::of(draft, standing, grasses, products),
        })
    }

    /// Whether both hold one active ingredient.
    fn shares(&self, other: &Applied<'_>) -> bool {
        self.ingredients.iter().any(|one| other.ingredients.contains(one))
    }

    fn spots(&self) -> bool {
        matches!(&self.draft.what, What::Spray(spray) if spray.spots)
    }
}

impl Drafted {
    /// Notes a herbicide of which no typical figures are known, where the label's are missing too.
    fn known(&self, products: &Products, faults: &mut Faults) {
        let label = &self.label;
        let missing: Vec<&str> = [
            ("once", label.once_kg_ha),
            ("year", label.year_kg_ha),
            ("again", label.again_days),
            ("water-in", label.water_in_mm),
            ("reseed", label.reseed_days),
            ("after-seeding", label.after_seeding_days),
        ]
        .into_iter()
        .filter_map(|(key, figure)| figure.is_none().then_some(key))
        .collect();
        if Typical::of(&self.what, products).is_some() || missing.is_empty() {
            return;
        }
        faults.caution(
            "no-typical-figures",
            &self.span,
            format!(
                "`{}`: no typical figures of {} are known here, so nothing holds what your label would",
                name(self),
                herbicide(&self.what)
            ),
            format!("the label's own figures: {}", missing.join(", ")),
            "read them on the label in your hand and enter them under `label`",
        );
    }
}

struct Look<'l> {
    built: &'l Built,
    products: &'l Products,
    applied: &'l [Applied<'l>],
}

/// `a` and `b`, each once.
fn names<'d>(of: impl Iterator<Item = &'d Drafted>) -> String {
    let mut keys: Vec<String> = Vec::new();
    for draft in of {
        let key = format!("`{}`", name(draft));
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys.join(" and ")
}

/// The strictest of several practices' ceilings.
fn strictest(limits: impl Iterator<Item = Limit>) -> Option<Limit> {
    limits.min_by(|a, b| a.value.total_cmp(&b.value))
}

/// Room for rounding, as a share.
const ROOM: f64 = 1.001;

impl Look<'_> {
    /// What goes on at one time.
    fn once(&self, one: &Applied<'_>, faults: &mut Faults) {
        let (draft, rate) = (one.draft, one.kg_ha);
        let does = if matches!(draft.what, What::Spray(_)) { "sprays" } else { "lays" };
        let told = us_and_metric(rate, Kind::ActiveRate);
        if let Some(most) = draft.label.once_kg_ha.filter(|most| rate > most * ROOM) {
            let message = format!("`{}` {does} {told} at once", name(draft));
            over_label(draft, message, Unit::Rate.show(most), faults);
            return;
        }
        if let Some(most) = one.terms.once.filter(|most| rate > most.value * ROOM) {
            faults.caution(
                "much-active-at-once",
                &draft.amount_span,
                format!(
                    "`{}` {does} {told} of {} at once, more than the most sensitive grass here bears",
                    name(draft),
                    one.herbicide
                ),
                format!("at most {} ({})", most.shown(), most.words()),
                "lower the rate, or halve it and come twice, as far apart as the label asks",
            );
            return;
        }
        let Some(typical) = Typical::of(&draft.what, self.products) else { return };
        let (low, high) = (typical.rate_kg_ha[0], typical.rate_kg_ha[2]);
        let (side, whose) = match one.terms.high {
            _ if rate < low * 0.99 => ("below", LABEL.to_string()),
            Some(most) if rate > high * 1.01 => ("above", most.words()),
            _ => return,
        };
        faults.caution(
            "untypical-rate",
            &draft.amount_span,
            format!(
                "`{}` {does} {told}, {side} the typical range of {}",
                name(draft),
                typical.product
            ),
            format!(
                "{} to {} ({whose})",
                show(low, Kind::ActiveRate, Units::Us),
                us_and_metric(high, Kind::ActiveRate)
            ),
            "check the rate, and whether it is product or active ingredient",
        );
    }

    /// Each active ingredient over all that holds it.
    fn in_a_year(&self, faults: &mut Faults) {
        let mut told: Vec<Vec<usize>> = Vec::new();
        for ingredient in self.applied.iter().flat_map(|one| &one.ingredients) {
            let holding: Vec<&Applied<'_>> =
                self.applied.iter().filter(|one| one.ingredients.contains(ingredient)).collect();
            let places: Vec<usize> = holding.iter().map(|one| one.place).collect();
            if told.contains(&places) {
                continue;
            }
            told.push(places);
            let alike = holding.iter().all(|one| one.herbicide == holding[0].herbicide);
            let what = if alike { &holding[0].herbicide } else { ingredient };
            self.amount_in_a_year(&holding, what, faults);
            self.times_in_a_year(&holding, what, faults);
        }
    }

    fn amount_in_a_year(&self, of: &[&Applied<'_>], what: &str, faults: &mut Faults) {
        let [first, ..] = of else { return };
        let sum: f64 = of.iter().map(|one| one.kg_ha * one.times).sum();
        let known = |one: &&Applied<'_>| times(&self.built.program, one.place) == Some(one.times);
        let up_to = if of.iter().all(known) { "" } else { "up to " };
        let does = if of.iter().all(|one| name(one.draft) == name(first.draft)) {
            "puts down"
        } else {
            "put down"
        };
        let spots = if of.iter().any(|one| one.spots()) {
            ", on ground where its spots fall on each other"
        } else {
            ""
        };
        let message = format!(
            "{} {does} {up_to}{} of {what} in a year{spots}",
            names(of.iter().map(|one| one.draft)),
            us_and_metric(sum, Kind::ActiveRate),
        );
        let stated = of.iter().filter_map(|one| one.draft.label.year_kg_ha).min_by(f64::total_cmp);
        if let Some(most) = stated.filter(|most| sum > most * ROOM) {
            over_label(first.draft, message, Unit::Rate.show(most), faults);
            return;
        }
        let most = strictest(of.iter().filter_map(|one| one.terms.year));
        let Some(most) = most.filter(|most| sum > most.value * ROOM) else { return };
        faults.caution(
            "much-active-in-a-year",
            &first.draft.amount_span,
            message,
            format!(
                "at most {} for the most sensitive grass here ({})",
                most.shown(),
                most.words()
            ),
            "lower the rate or drop an application",
        );
    }

    fn times_in_a_year(&self, of: &[&Applied<'_>], what: &str, faults: &mut Faults) {
        let [first, ..] = of else { return };
        let sum: f64 = of.iter().map(|one| one.times).sum();
        let message = format!(
            "{}: {what} goes out up to {sum:.0} times a year in this program",
            names(of.iter().map(|one| one.draft))
        );
        let stated = of.iter().filter_map(|one| one.draft.label.times).min_by(f64::total_cmp);
        if let Some(most) = stated.filter(|most| sum > most + 0.5) {
            over_label(first.draft, message, Unit::Times.show(most), faults);
            return;
        }
        let most = strictest(of.iter().filter_map(|one| one.terms.times));
        let Some(most) = most.filter(|most| sum > most.value + 0.5) else { return };
        faults.caution(
            "many-sprays-in-a-year",
            &first.draft.cue_span,
            message,
            format!("at most {} ({})", most.shown(), most.words()),
            "spray less often, or in turn with another herbicide for the same weeds",
        );
    }

    /// Two of one active ingredient too near to each other: two times of a practice, or two practices, told
    /// by the later one of the text.
    fn apart(&self, one: &Applied<'_>, faults: &mut Faults) {
        let before = self.applied.iter().filter(|other| other.place <= one.place);
        let near = before.filter(|other| one.shares(other)).filter_map(|other| {
            let longest = |a: Limit, b: Limit| if a.value >= b.value { a } else { b };
            let wait =
                [one.terms.again, other.terms.again].into_iter().flatten().reduce(longest)?;
            let apart = if other.place == one.place {
                own_gap(self.built, one.place).map(|fewest| (fewest, fewest, true))
            } else {
                let ways = [(other.place, one.place, true), (one.place, other.place, false)];
                ways.into_iter()
                    .filter_map(|(a, b, after)| {
                        let (fewest, most) = gap(self.built, a, b, wait.value)?;
                        Some((fewest.max(0), most, after))
                    })
                    .min_by_key(|(fewest, ..)| *fewest)
            };
            apart.filter(|(fewest, ..)| f64::from(*fewest) < wait.value).map(|a| (other, wait, a))
        });
        let Some((other, wait, (fewest, most, after))) =
            near.min_by_key(|(_, _, (fewest, ..))| *fewest)
        else {
            return;
        };
        let (own, its) = (&one.draft.key, &other.draft.key);
        let message = if other.place == one.place {
            format!("`{own}` may come again after {}", days(fewest))
        } else if fewest < most {
            format!("`{own}` and `{its}` may come within {} of each other", days(fewest))
        } else if fewest == 0 {
            format!("`{own}` and `{its}` come on one day")
        } else {
            let (then, first) = if after { (own, its) } else { (its, own) };
            format!("`{then}` comes {} after `{first}`", days(fewest))
        };
        let what = one.ingredients.iter().find(|one| other.ingredients.contains(one));
        let what = what.filter(|_| one.herbicide != other.herbicide).unwrap_or(&one.herbicide);
        faults.caution(
            "odd-sequence",
            &one.draft.cue_span,
            message,
            format!("at least {} between two of {what} ({})", wait.shown(), wait.words()),
            "set them further apart: days-after counts from the day on which the first was done",
        );
    }

    /// The second of a sequence that comes when the first is used up.
    fn too_far(&self, one: &Applied<'_>, faults: &mut Faults) {
        let Cue::DaysAfter { practice, days } = self.built.program.practices[one.place].cue else {
            return;
        };
        let Some(first) = self.applied.iter().find(|other| other.place == practice) else { return };
        let barriers = [one, first].into_iter().all(|it| {
            matches!(it.draft.what, What::PreEmergent { .. }) && it.herbicide == one.herbicide
        });
        let typical = Typical::of(&one.draft.what, self.products).filter(|_| barriers);
        let Some((from, to)) = typical.and_then(|t| t.again_days) else { return };
        if f64::from(days) > to {
            faults.caution(
                "odd-sequence",
                &one.draft.span,
                format!("`{}` comes {days} days after `{}`", one.draft.key, first.draft.key),
                format!("{from:.0} to {to:.0} days between two of {} ({LABEL})", one.herbicide),
                "look at the label's sequence",
            );
        }
    }
}

/// A figure of the user's own label that is passed.
fn over_label(draft: &Drafted, message: String, most: String, faults: &mut Faults) {
    faults.error(
        "over-label",
        &draft.amount_span,
        format!("{message}, more than the label figure that you gave"),
        format!("at most {most}"),
        Some("the label is the law: less at once, or less often".to_string()),
    );
}
