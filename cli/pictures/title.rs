//! Titles: one message a picture, as natural frequencies, computed from tracks.

use sim::ensemble::{ProgramResults, Results};
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use crate::units::Units;
use crate::words::figure::Figure;
use crate::words::name::{futures, lower_first, over, quoted, upper_first};
use crate::words::odds::{Odds, again};
use crate::words::program::{CLAIMS, Claim, odds, values};

/// The claim on which the programs differ most, and so the one worth a title.
pub fn telling_claim(results: &Results) -> &'static Claim {
    let range = |claim: &Claim| {
        let shares = results.programs.iter().map(|p| odds(p, claim).share());
        let (low, high) = shares.fold((1.0_f64, 0.0_f64), |(l, h), s| (l.min(s), h.max(s)));
        high - low
    };
    // Ties go to the first claim.
    let mut best = &CLAIMS[0];
    for claim in &CLAIMS[1..] {
        if range(claim) > range(best) {
            best = claim;
        }
    }
    best
}

/// "Crabgrass stays under 10 % in 17 of 20 futures with “Weekly cuts”, in 3 with “Usual care”".
pub fn claim(results: &Results, claim: &Claim) -> String {
    let told = |p: &ProgramResults| odds(p, claim);
    let all: Vec<Odds> = results.programs.iter().map(told).collect();
    let scale = Odds::common_scale(&all);
    let of = |p: &ProgramResults| told(p).of_scale(scale);
    let subject = claim.title;
    let mut ranked: Vec<&ProgramResults> = results.programs.iter().collect();
    // Stable: programs with equal odds stay in the scenario's order.
    ranked.sort_by_key(|p| std::cmp::Reverse(told(p).hits));
    match ranked[..] {
        [] => String::new(),
        [only] => format!("{subject} in {} simulated {}", of(only), futures(results.members)),
        [first, .., last] if scale.is_none() => {
            let (most, least) = (told(first).hits, told(last).hits);
            let counts =
                if most == least { most.to_string() } else { format!("{least} to {most}") };
            let subject = lower_first(subject);
            format!("Too few futures to tell: {subject} in {counts} of only {}", results.members)
        }
        [first, .., last] if told(first).alike(&told(last)) => {
            let (best, worst) = (of(first), of(last));
            let counts = if best == worst { best } else { format!("{worst} to {best}") };
            format!("{subject} in {counts} futures, whatever the program")
        }
        [first, .., last] => format!(
            "{subject} in {} futures with {}, in {} with {}",
            of(first),
            quoted(&first.title),
            again(&of(first), &of(last)),
            quoted(&last.title)
        ),
    }
}

/// "Over 2 seasons the work costs about $590 with “Usual care” and $1,310 with “Weekly cuts”":
/// the first program and the one that differs most from it. `None` where costs are alike.
pub fn cost(results: &Results, scenario: &Scenario, units: Units) -> Option<String> {
    let figure = |p: &ProgramResults| {
        Figure::new(values(p, "cost"), "currency", units, &scenario.crew.currency)
    };
    let (first, others) = results.programs.split_first()?;
    let base = figure(first);
    let apart = |p: &&ProgramResults| (figure(p).quantile(0.5) - base.quantile(0.5)).abs();
    let other = others.iter().max_by(|a, b| apart(a).total_cmp(&apart(b)))?;
    let (one, two) = (base.middle(), figure(other).middle());
    let least = OUTCOMES.iter().find(|o| o.key == "cost")?.least_difference;
    (one != two && apart(&other) >= least).then(|| {
        format!(
            "{} the work costs about {one} with {} and {two} with {}",
            upper_first(&over(scenario)),
            quoted(&first.title),
            quoted(&other.title)
        )
    })
}
