//! What a spreading practice lays: nitrogen by form, from a product of the file or an analysis.

use super::doubts::doubt;
use super::fault::Faults;
use super::practice::unknown_product;
use super::products::{Fertilizer, Products, analysis_nitrogen, nutrients};
use super::value::{Reading, Value};
use super::{Product, What};
use crate::quantity::{Kind, rates};
use crate::work::NitrogenForms;

/// A fertilizer as stated.
struct Bag {
    name: String,
    nitrogen: f64,
    forms: NitrogenForms,
    density_kg_l: Option<f64>,
    price_kg_n: Option<f64>,
}

impl Bag {
    fn of(product: &Fertilizer) -> Bag {
        Bag {
            name: product.name.clone(),
            nitrogen: product.nitrogen,
            forms: product.forms,
            density_kg_l: product.density_kg_l,
            price_kg_n: Some((product.price_kg_n.0 + product.price_kg_n.1) / 2.0),
        }
    }

    /// Nitrogen in an amount of product, g N/m2, where the measure fits.
    fn nitrogen_in(&self, kind: Kind, amount: f64) -> Option<f64> {
        match (kind, self.density_kg_l) {
            (Kind::MassPerArea, _) => Some(rates::nitrogen_from_dry_g_m2(amount, self.nitrogen)),
            (Kind::VolumePerArea, Some(density)) => {
                Some(rates::nitrogen_from_liquid_g_m2(amount, density, self.nitrogen))
            }
            _ => None,
        }
    }

    /// Product that carries nitrogen: g/m2, or mL/m2 of a liquid.
    fn amount_for(&self, n_g_m2: f64) -> f64 {
        match self.density_kg_l {
            Some(density) => rates::liquid_for_nitrogen_ml_m2(n_g_m2, density, self.nitrogen),
            None => rates::dry_product_g_m2(n_g_m2, self.nitrogen),
        }
    }
}

/// A fertilizer with its nitrogen by form and its product as bought.
pub(super) fn spread(
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<What> {
    let bag = bag(reading, products, faults)?;
    let release_days =
        doubt(reading.uncertain("slow-lasts")).filter(|_| bag.forms.coated_g_m2 > 0.0);
    let n_g_m2 = nitrogen(reading, &bag, faults)?;
    let amount_per_m2 = bag.amount_for(n_g_m2);
    let price_per_m2 = match reading.value("price") {
        Some(Value::Quantity(Kind::MoneyPerArea, price)) => *price,
        Some(Value::Quantity(_, price_kg_n)) => price_kg_n * n_g_m2 / 1000.0,
        _ => bag.price_kg_n.unwrap_or(0.0) * n_g_m2 / 1000.0,
    };
    Some(What::Spread {
        nitrogen: bag.forms.scaled(n_g_m2),
        water_in_mm: reading.number("water-in"),
        product: Product {
            name: bag.name,
            amount_per_m2,
            liquid: bag.density_kg_l.is_some(),
            price_per_m2,
        },
        release_days,
    })
}

fn bag(reading: &Reading<'_>, products: &Products, faults: &mut Faults) -> Option<Bag> {
    let mut bag = match (reading.text("product"), reading.text("analysis")) {
        (Some(name), None) => match products.fertilizer(name) {
            Some(product) => Bag::of(product),
            None => {
                let ids = products.fertilizers.iter().map(|p| p.id.as_str());
                unknown_product(name, "fertilizer", ids, reading, faults);
                return None;
            }
        },
        (None, Some(analysis)) => by_analysis(analysis, reading, products, faults)?,
        (Some(_), Some(_)) => {
            let message = "`product` and `analysis` are both there";
            let span = reading.span_of("analysis");
            faults.error("exclude-each-other", &span, message, "one of the two", None);
            return None;
        }
        (None, None) if reading.has("product") || reading.has("analysis") => return None,
        (None, None) => {
            faults.error(
                "missing-key",
                &reading.span,
                format!("`{}` does not say what is spread", reading.text("key").unwrap_or("?")),
                "product = \"urea-46-0-0\", or analysis = \"24-0-11\"",
                None,
            );
            return None;
        }
    };
    bag.density_kg_l = reading.maybe("density").or(bag.density_kg_l);
    if ["slow", "slow-form", "slow-lasts", "quick-form"].iter().any(|k| reading.has(k)) {
        bag.forms = forms(reading, bag.forms);
    }
    bag.forms.on_leaf = bag.density_kg_l.is_some();
    let phosphate = nutrients(&bag.name).map_or(0.0, |[_, phosphate, _]| phosphate);
    bag.forms.phosphate_g_m2 = phosphate / bag.nitrogen;
    Some(bag)
}

fn by_analysis(
    analysis: &str,
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Bag> {
    let Some(nitrogen) = analysis_nitrogen(analysis) else {
        faults.error(
            "bad-analysis",
            &reading.span_of("analysis"),
            format!("\"{analysis}\" is not the analysis of a nitrogen fertilizer"),
            "three numbers with dashes, nitrogen first and above 0, such as \"24-0-11\"",
            None,
        );
        return None;
    };
    let slow = reading.maybe("slow").unwrap_or(0.0);
    let priced_as =
        products.fertilizers.iter().filter(|p| p.density_kg_l.is_none()).min_by(|a, b| {
            let far = |p: &Fertilizer| (p.forms.coated_g_m2 + p.forms.organic_g_m2 - slow).abs();
            far(a).total_cmp(&far(b))
        });
    Some(Bag {
        name: analysis.to_string(),
        nitrogen,
        forms: NitrogenForms { urea_g_m2: 1.0, ..NitrogenForms::default() },
        density_kg_l: None,
        price_kg_n: priced_as.map(|p| (p.price_kg_n.0 + p.price_kg_n.1) / 2.0),
    })
}

/// The forms of one gram of nitrogen as stated, over those of the product.
fn forms(reading: &Reading<'_>, usual: NitrogenForms) -> NitrogenForms {
    let usual_slow = usual.coated_g_m2 + usual.organic_g_m2;
    let slow = reading.maybe("slow").unwrap_or(usual_slow);
    let quick = 1.0 - slow;
    let usual_quick = (1.0 - usual_slow).max(1e-9);
    let mut forms = match reading.text("quick-form") {
        Some("ammonium") => NitrogenForms { ammonium_g_m2: quick, ..NitrogenForms::default() },
        Some("nitrate") => NitrogenForms { nitrate_g_m2: quick, ..NitrogenForms::default() },
        None if usual_slow < 1.0 => NitrogenForms {
            urea_g_m2: quick * usual.urea_g_m2 / usual_quick,
            ammonium_g_m2: quick * usual.ammonium_g_m2 / usual_quick,
            nitrate_g_m2: quick * usual.nitrate_g_m2 / usual_quick,
            ..NitrogenForms::default()
        },
        _ => NitrogenForms { urea_g_m2: quick, ..NitrogenForms::default() },
    };
    let organic = match reading.text("slow-form") {
        Some("organic") => true,
        Some(_) => false,
        None => usual.organic_g_m2 > usual.coated_g_m2,
    };
    if organic {
        forms.organic_g_m2 = slow;
    } else if slow > 0.0 {
        forms.coated_g_m2 = slow;
        // Eight weeks: the low end of common coats (from memory).
        let usual_days = if usual.coated_days > 0.0 { usual.coated_days } else { 56.0 };
        forms.coated_days = reading.maybe("slow-lasts").unwrap_or(usual_days);
    }
    forms
}

fn nitrogen(reading: &Reading<'_>, bag: &Bag, faults: &mut Faults) -> Option<f64> {
    match (reading.value("nitrogen"), reading.value("rate")) {
        (Some(Value::Quantity(_, n)), None) => Some(*n),
        (None, Some(Value::Quantity(kind, amount))) => {
            let n = bag.nitrogen_in(*kind, *amount);
            if n.is_none() {
                faults.error(
                    "wrong-measure",
                    &reading.span_of("rate"),
                    "`rate` is a volume, but the weight of the product is not known",
                    "a weight of product, or density = \"10.58 lb/gal\"",
                    None,
                );
            }
            n.filter(|n| {
                let fits = (0.01..=30.0).contains(n);
                if !fits {
                    let message = format!("`rate` lays {n:.2} g N/m2: out of range");
                    let expected = "0.01 to 30 g N/m2 (0.002 to 6 lb N/1000 ft2)";
                    faults.error("out-of-range", &reading.span_of("rate"), message, expected, None);
                }
                fits
            })
        }
        (Some(_), Some(_)) => {
            let message = "`nitrogen` and `rate` are both there";
            let span = reading.span_of("rate");
            faults.error("exclude-each-other", &span, message, "one of the two", None);
            None
        }
        _ if reading.has("nitrogen") || reading.has("rate") => None,
        _ => {
            faults.error(
                "missing-key",
                &reading.span,
                format!("`{}` does not say how much", reading.text("key").unwrap_or("?")),
                "nitrogen = \"0.75 lb N/1000 ft2\", or the rate of product",
                None,
            );
            None
        }
    }
}
