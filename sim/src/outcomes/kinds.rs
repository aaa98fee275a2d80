//! What the outcomes are: keys, units, better directions, least differences that matter.

use crate::scenario::Lawn;

/// Which way an outcome is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More is better.
    Higher,
    /// Less is better.
    Lower,
    /// Neither: a fact to know.
    Neither,
}

/// What an outcome is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutcomeKind {
    /// Key in files: "crabgrass_peak".
    pub key: &'static str,
    /// Label for people: "Crabgrass at its worst".
    pub label: &'static str,
    /// Unit as printed in files ("%", "days", "h", "g/m2"); money is "currency".
    pub unit: &'static str,
    /// Better direction.
    pub better: Better,
    /// Differences smaller than this, in the outcome's unit, are told as "the same"; more than 0.
    pub least_difference: f64,
}

/// Every outcome, in file order. All are over the whole run, all its seasons together, unless the
/// label says otherwise.
pub const OUTCOMES: &[OutcomeKind] = &[
    OutcomeKind {
        key: "crabgrass_peak",
        label: "Crabgrass at its worst",
        unit: "%",
        better: Better::Lower,
        least_difference: 5.0,
    },
    OutcomeKind {
        key: "crabgrass_peak_last",
        label: "Crabgrass at its worst in the last season",
        unit: "%",
        better: Better::Lower,
        least_difference: 5.0,
    },
    OutcomeKind {
        key: "crabgrass_last_august",
        label: "Crabgrass on 31 August of the last season",
        unit: "%",
        better: Better::Lower,
        least_difference: 5.0,
    },
    OutcomeKind {
        key: "broadleaf_peak",
        label: "Dandelion and its like at their worst",
        unit: "%",
        better: Better::Lower,
        least_difference: 2.0,
    },
    OutcomeKind {
        key: "broadleaf_end",
        label: "Dandelion and its like in October of the last season",
        unit: "%",
        better: Better::Lower,
        least_difference: 2.0,
    },
    OutcomeKind {
        key: "clover_peak",
        label: "White clover at its most",
        unit: "%",
        better: Better::Neither,
        least_difference: 2.0,
    },
    OutcomeKind {
        key: "quality_summer",
        label: "Mean quality, June to August",
        unit: "1-9",
        better: Better::Higher,
        least_difference: 1.0,
    },
    OutcomeKind {
        key: "days_acceptable",
        label: "Days at quality 6 or better, April to October",
        unit: "days",
        better: Better::Higher,
        least_difference: 14.0,
    },
    OutcomeKind {
        key: "turf_cover_end",
        label: "Turf cover at the end",
        unit: "%",
        better: Better::Higher,
        least_difference: 5.0,
    },
    OutcomeKind {
        key: "turf_cover_low",
        label: "Turf cover at its thinnest in the last season",
        unit: "%",
        better: Better::Higher,
        least_difference: 5.0,
    },
    OutcomeKind {
        key: "organic_matter_change",
        label: "Change in organic matter, top 10 cm",
        unit: "%",
        better: Better::Higher,
        least_difference: 0.05,
    },
    OutcomeKind {
        key: "n_applied",
        label: "Nitrogen laid",
        unit: "g/m2",
        better: Better::Neither,
        least_difference: 0.5,
    },
    OutcomeKind {
        key: "n_leached",
        label: "Nitrogen leached",
        unit: "g/m2",
        better: Better::Lower,
        least_difference: 0.3,
    },
    OutcomeKind {
        key: "runoff",
        label: "Rain and water that ran off",
        unit: "mm",
        better: Better::Lower,
        least_difference: 10.0,
    },
    OutcomeKind {
        key: "water_used",
        label: "Irrigation",
        unit: "mm",
        better: Better::Lower,
        least_difference: 10.0,
    },
    OutcomeKind {
        key: "mowings",
        label: "Mowings",
        unit: "count",
        better: Better::Neither,
        least_difference: 1.0,
    },
    OutcomeKind {
        key: "visits",
        label: "Visits",
        unit: "count",
        better: Better::Lower,
        least_difference: 1.0,
    },
    OutcomeKind {
        key: "crew_hours",
        label: "Crew hours",
        unit: "h",
        better: Better::Lower,
        least_difference: 1.0,
    },
    OutcomeKind {
        key: "cost",
        label: "Cost",
        unit: "currency",
        better: Better::Lower,
        least_difference: 25.0,
    },
    OutcomeKind {
        key: "nutsedge_peak",
        label: "Yellow nutsedge at its worst",
        unit: "%",
        better: Better::Lower,
        least_difference: 2.0,
    },
];

impl OutcomeKind {
    /// Whether it is worth telling of a lawn: not of a weed that the lawn is played without.
    pub fn is_of(&self, lawn: &Lawn) -> bool {
        match self.key {
            "broadleaf_peak" | "broadleaf_end" => lawn.dandelion.is_some(),
            "clover_peak" => lawn.clover.is_some(),
            "nutsedge_peak" => lawn.nutsedge.is_some(),
            _ => true,
        }
    }
}

/// Index of an outcome in [`OUTCOMES`], by key.
pub fn outcome(key: &str) -> Option<usize> {
    OUTCOMES.iter().position(|o| o.key == key)
}
