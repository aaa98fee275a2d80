//! What each practice loads, by material. A new practice must say here what it brings onto the lawn.

use super::load::Dose;
use crate::program::tap_mm;
use crate::scenario::What;
use crate::work::{Carrier, Sowing, Tending};

/// What a material is brought out with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tool {
    /// A spreader on wheels, in two passes.
    Spreader,
    /// A sprayer with a tank.
    Sprayer,
    /// A machine that sows into slits, two ways.
    SlitSeeder,
    /// Barrow and shovel, or a topdresser.
    Barrow,
    /// Sprinklers or a hose.
    Sprinkler,
}

/// Name of the topsoil that a lawn is levelled with.
pub const TOPSOIL: &str = "topsoil";

/// One material of a practice.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// Its name as the products file or the scenario has it; empty for water and compost.
    pub name: String,
    /// How much goes on one square metre.
    pub dose: Dose,
    /// What it is brought out with.
    pub tool: Tool,
}

/// What one visit of a practice brings onto the lawn, as written: nothing for a mowing.
pub fn materials(what: &What) -> Vec<Material> {
    let product = |product: &crate::scenario::Product, tool| {
        let amount = product.amount_per_m2;
        let dose = if product.liquid { Dose::Liquid(amount) } else { Dose::Dry(amount) };
        Material { name: product.name.clone(), dose, tool }
    };
    let mut loaded = match what {
        What::Mow { .. } | What::Water { .. } => vec![],
        What::PreEmergent { carrier: Carrier::Spray, product: p, .. } => {
            vec![product(p, Tool::Sprayer)]
        }
        What::PreEmergent { carrier: Carrier::Granule, product: p, .. } => {
            vec![product(p, Tool::Spreader)]
        }
        What::Tend(tend) => match (tend.tending, &tend.product) {
            (Tending::Level { depth_mm }, _) => {
                let (name, dose) = (TOPSOIL.to_string(), Dose::Layer(depth_mm));
                vec![Material { name, dose, tool: Tool::Barrow }]
            }
            (tending, Some(p)) => {
                let sprayed = p.liquid || tending.sprayed();
                vec![product(p, if sprayed { Tool::Sprayer } else { Tool::Spreader })]
            }
            (_, None) => vec![],
        },
        What::Spray(spray) => vec![product(&spray.product, Tool::Sprayer)],
        What::Spread { product: p, .. } => {
            vec![product(p, if p.liquid { Tool::Sprayer } else { Tool::Spreader })]
        }
        What::Topdress { depth_mm, .. } => {
            vec![Material { name: String::new(), dose: Dose::Layer(*depth_mm), tool: Tool::Barrow }]
        }
        What::Overseed { method, product: p, .. } => {
            let tool = match method {
                Sowing::Broadcast | Sowing::Raked => Tool::Spreader,
                Sowing::Slit => Tool::SlitSeeder,
            };
            vec![product(p, tool)]
        }
    };
    let tap = tap_mm(what);
    if tap > 0.0 {
        let dose = Dose::Water(tap);
        loaded.push(Material { name: String::new(), dose, tool: Tool::Sprinkler });
    }
    loaded
}

/// Whether a practice is done again and again and loads nothing but water: its dates can stand in one
/// line.
pub fn is_routine(what: &What) -> bool {
    matches!(what, What::Mow { .. } | What::Water { .. })
}
