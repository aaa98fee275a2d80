//! What barriers and sprays are written in alike: a product or an active ingredient, a rate, a price,
//! and the figures of the label in hand.

use super::Product;
use super::fault::Faults;
use super::products::{Strength, price_at};
use super::value::{Reading, Value};
use crate::quantity::Kind;

/// A herbicide as stated, of a product of the file or as an active ingredient.
pub(super) struct Stated<A> {
    /// With what.
    pub of: A,
    /// How strong it is, where that is known.
    pub strength: Option<Strength>,
    pub name: String,
    /// Price of the low and the high rate, currency/m2, and the rates, kg ai/ha.
    pub priced: Option<((f64, f64), [f64; 3])>,
}

/// What the user read on the label in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct LabelFigures {
    pub once_kg_ha: Option<f64>,
    pub year_kg_ha: Option<f64>,
    pub times: Option<f64>,
    pub again_days: Option<f64>,
    pub reseed_days: Option<f64>,
    pub after_seeding_days: Option<f64>,
    pub water_in_mm: Option<f64>,
    pub within_days: Option<f64>,
    pub rain_free_days: Option<f64>,
    pub mow_before_days: Option<f64>,
    pub mow_after_days: Option<f64>,
    pub coolest_c: Option<f64>,
    pub hottest_c: Option<f64>,
}

impl LabelFigures {
    /// The figures of a label table, each under its key where it is there.
    fn read(read: &Reading<'_>, strength: Option<Strength>, faults: &mut Faults) -> LabelFigures {
        LabelFigures {
            once_kg_ha: rate(read, "once", strength, faults),
            year_kg_ha: rate(read, "year", strength, faults),
            times: read.maybe("times"),
            again_days: read.maybe("again"),
            reseed_days: read.maybe("reseed"),
            after_seeding_days: read.maybe("after-seeding"),
            water_in_mm: read.maybe("water-in"),
            within_days: read.maybe("within"),
            rain_free_days: read.maybe("rain-free"),
            mow_before_days: read.maybe("mow-before"),
            mow_after_days: read.maybe("mow-after"),
            coolest_c: read.maybe("coolest"),
            hottest_c: read.maybe("hottest"),
        }
    }

    /// Whether the user gave the figures for once and for a year.
    pub(super) fn read_for_once_and_year(&self) -> bool {
        self.once_kg_ha.is_some() && self.year_kg_ha.is_some()
    }

    /// The stricter figure of two readings of one label.
    pub(super) fn stricter(self, other: LabelFigures) -> LabelFigures {
        let pick = |a: Option<f64>, b: Option<f64>, of: fn(f64, f64) -> f64| match (a, b) {
            (Some(a), Some(b)) => Some(of(a, b)),
            (a, b) => a.or(b),
        };
        let least = |a, b| pick(a, b, f64::min);
        let most = |a, b| pick(a, b, f64::max);
        LabelFigures {
            once_kg_ha: least(self.once_kg_ha, other.once_kg_ha),
            year_kg_ha: least(self.year_kg_ha, other.year_kg_ha),
            times: least(self.times, other.times),
            again_days: most(self.again_days, other.again_days),
            reseed_days: most(self.reseed_days, other.reseed_days),
            after_seeding_days: most(self.after_seeding_days, other.after_seeding_days),
            water_in_mm: most(self.water_in_mm, other.water_in_mm),
            within_days: least(self.within_days, other.within_days),
            rain_free_days: most(self.rain_free_days, other.rain_free_days),
            mow_before_days: most(self.mow_before_days, other.mow_before_days),
            mow_after_days: most(self.mow_after_days, other.mow_after_days),
            coolest_c: most(self.coolest_c, other.coolest_c),
            hottest_c: least(self.hottest_c, other.hottest_c),
        }
    }
}

/// The rate, kg ai/ha, and the product as bought of what is stated; the figures of its label go into
/// `label`.
pub(super) fn bought<A>(
    reading: &Reading<'_>,
    stated: &Stated<A>,
    label: &mut LabelFigures,
    faults: &mut Faults,
) -> Option<(f64, Product)> {
    let rate_kg_ha = rate(reading, "rate", stated.strength, faults);
    if let Some(read) = reading.table("label") {
        *label = LabelFigures::read(read, stated.strength, faults);
    }
    let rate_kg_ha = rate_kg_ha?;
    let of_file = stated.priced.map(|(prices, rates)| price_at(prices, rates, rate_kg_ha));
    let product = Product {
        name: stated.name.clone(),
        amount_per_m2: stated.strength.map_or(rate_kg_ha / 10.0, |s| s.amount_per_m2(rate_kg_ha)),
        liquid: matches!(stated.strength, Some(Strength::Liquid(_))),
        price_per_m2: price(reading, of_file, faults),
    };
    Some((rate_kg_ha, product))
}

/// A product of the file or an active ingredient, by name.
pub(super) enum Which<'r> {
    Product(&'r str),
    Active(&'r str),
}

/// Which of the two a practice names; it must be one. `done` is what it does with it: "laid".
pub(super) fn which<'r>(
    reading: &'r Reading<'_>,
    done: &str,
    example: &str,
    faults: &mut Faults,
) -> Option<Which<'r>> {
    match (reading.text("product"), reading.text("active")) {
        (Some(name), None) => {
            for stray in ["carrier", "strength"].into_iter().filter(|k| reading.has(k)) {
                faults.error(
                    "stray-key",
                    &reading.span_of(stray),
                    format!("`{stray}` is known from `product`"),
                    format!("no `{stray}`; or `active` instead of `product`"),
                    None,
                );
            }
            Some(Which::Product(name))
        }
        (None, Some(name)) => Some(Which::Active(name)),
        (Some(_), Some(_)) => {
            let expected = "one of the two";
            let message = "`product` and `active` are both there";
            faults.error("exclude-each-other", &reading.span_of("active"), message, expected, None);
            None
        }
        (None, None) if reading.has("product") || reading.has("active") => None,
        (None, None) => {
            faults.error(
                "missing-key",
                &reading.span,
                format!("`{}` does not say what is {done}", reading.text("key").unwrap_or("?")),
                example,
                None,
            );
            None
        }
    }
}

/// How strong the stated active ingredient is, where that is said.
pub(super) fn strength(reading: &Reading<'_>, faults: &mut Faults) -> Option<Strength> {
    match reading.value("strength")? {
        Value::Quantity(Kind::Share, share) if *share > 0.0 && *share <= 1.0 => {
            Some(Strength::Dry(*share))
        }
        Value::Quantity(Kind::Density, kg_l) if *kg_l > 0.0 => Some(Strength::Liquid(*kg_l)),
        _ => {
            faults.error(
                "out-of-range",
                &reading.span_of("strength"),
                "`strength` is above 100 % or not above zero",
                "\"65 %\" or \"4 lb/gal\"",
                None,
            );
            None
        }
    }
}

/// An active ingredient with its strength, as a product is called.
pub(super) fn product_name(active: &str, reading: &Reading<'_>) -> String {
    match reading.raw("strength") {
        Some(text) => format!("{active} {text}"),
        None => format!("{active} (weight of active ingredient)"),
    }
}

/// Price of a rate on one m2: as stated, or as the file has it; a practice without one counts as free.
fn price(reading: &Reading<'_>, of_file: Option<f64>, faults: &mut Faults) -> f64 {
    if !reading.has("price") && of_file.is_none() {
        faults.caution(
            "no-price",
            &reading.span,
            format!("`{}` has no price: it counts as free", reading.text("key").unwrap_or("?")),
            "price = \"0.6 $/1000 ft2\"",
            "give the price of the whole rate",
        );
    }
    reading.maybe("price").or(of_file).unwrap_or(0.0)
}

/// An amount of active ingredient or product as kg ai/ha.
fn rate(
    reading: &Reading<'_>,
    key: &str,
    strength: Option<Strength>,
    faults: &mut Faults,
) -> Option<f64> {
    let Some(Value::Quantity(kind, value)) = reading.value(key) else { return None };
    let rate = match (kind, strength) {
        (Kind::ActiveRate, _) => *value,
        (Kind::MassPerArea, Some(s @ Strength::Dry(_)))
        | (Kind::VolumePerArea, Some(s @ Strength::Liquid(_))) => s.rate_kg_ha(*value),
        (_, strength) => {
            let (message, expected) = match strength {
                Some(Strength::Dry(_)) => {
                    ("is a volume, but the product is dry", "oz/1000 ft2 or lb ai/ac")
                }
                Some(Strength::Liquid(_)) => {
                    ("is a weight, but the product is liquid", "fl oz/1000 ft2 or lb ai/ac")
                }
                None => ("is of a product whose strength is not known", "lb ai/ac, or `strength`"),
            };
            let message = format!("`{key}` {message}");
            faults.error("wrong-measure", &reading.span_of(key), message, expected, None);
            return None;
        }
    };
    if !(0.005..=30.0).contains(&rate) {
        let message = format!("`{key}` is {rate:.3} kg ai/ha: out of range");
        let expected = "0.005 to 30 kg ai/ha (0.0045 to 27 lb ai/ac)";
        faults.error("out-of-range", &reading.span_of(key), message, expected, None);
        return None;
    }
    Some(rate)
}
