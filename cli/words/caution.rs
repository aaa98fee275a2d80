//! What to know before acting on a result.

use sim::parameters::Entry;

use super::belief;
use super::lines::wrap;
use super::name::years_of_record;

/// Fewest years of record from which the spread between years can be read. Our judgement.
pub const RECORD_YEARS_FEW: u32 = 8;

/// The usual cautions: what stands above any result, chemicals, dust and granules, mowers.
pub const USUAL: [&str; 4] = [
    "The product label and local law come first; where the law asks for a licensed applicator, use \
     one. This is no substitute for either, nor for a soil test.",
    "Wear the protective gear that the label names; spray only where and when it cannot drift onto \
     people, pets, water or other plants; keep people and pets off until the lawn is dry and the label \
     allows them back.",
    "Sweep granules off walks and drives back onto the grass, away from drains and water; wear a mask \
     where compost, seed or granules raise dust.",
    "Mower: clear the lawn of stones and people, wear sturdy shoes and eye and ear protection, stop \
     the engine before reaching under the deck.",
];

/// The usual cautions, in one short block.
pub fn block(catalogue: &[Entry]) -> String {
    let lacks = format!("Not in the model: {}.", belief::in_a_line());
    let lines = USUAL.iter().copied().chain([lacks.as_str()]);
    let told: String = lines.map(|line| wrap(line, 2, 2)).collect();
    format!("Before you act on it\n{told}{}", wrap(&judgement(catalogue), 2, 2))
}

/// How much of the model rests on judgement.
pub fn judgement(catalogue: &[Entry]) -> String {
    let of = |grade: char| catalogue.iter().filter(|e| e.grade == grade).count();
    let all = catalogue.len();
    if all == 0 {
        return "What rests on judgement: `swardplay facts` grades every number.".into();
    }
    format!(
        "The model's {all} numbers: {} rest on our judgement, {} on common practice; \
         `swardplay facts` lists each with its source.",
        of('D'),
        of('C')
    )
}

/// How far the weather behind the run can be trusted.
pub fn record(years: u32) -> String {
    let weather = format!("Weather: {}.", years_of_record(years));
    if years < RECORD_YEARS_FEW {
        format!(
            "{weather} The year-to-year spread is not known from so \
             few years; a season outside them is not in these odds."
        )
    } else {
        weather
    }
}
