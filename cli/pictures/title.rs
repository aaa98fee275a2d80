//! Titles: one message a picture, as natural frequencies, computed from tracks.

use sim::ensemble::{ProgramResults, Results};

use crate::words::odds::Odds;
use crate::words::program::{CLAIMS, Claim, odds, tracks_are_called};

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

/// "The crabgrass stays under 10 % of the lawn in 17 of 20 simulated seasons with Weekly cuts, in
/// 3 of 20 with Usual care".
pub fn claim(results: &Results, claim: &Claim) -> String {
    let called = tracks_are_called(results);
    let told = |p: &ProgramResults| odds(p, claim);
    let all: Vec<Odds> = results.programs.iter().map(told).collect();
    let scale = Odds::common_scale(&all);
    let of = |p: &ProgramResults| told(p).of_scale(scale);
    let subject = upper_first(claim.words);
    let mut ranked: Vec<&ProgramResults> = results.programs.iter().collect();
    // Stable: programs with equal odds stay in the scenario's order.
    ranked.sort_by_key(|p| std::cmp::Reverse(told(p).hits));
    match ranked[..] {
        [] => String::new(),
        [only] => format!("{subject} in {} {called}", of(only)),
        [first, .., last] if alike(told(first), told(last)) => {
            let (best, worst) = (of(first), of(last));
            let counts =
                if best == worst { format!("in {best}") } else { format!("{worst} to {best}") };
            format!("{subject} about as often under every program: {counts} {called}")
        }
        [first, .., last] => format!(
            "{subject} in {} {called} with {}, in {} with {}",
            of(first),
            first.title,
            of(last),
            last.title
        ),
    }
}

/// Whether two odds cannot be told apart: their intervals overlap. Too careful for paired members,
/// which is the right side to err on in a title.
fn alike(a: Odds, b: Odds) -> bool {
    let (a, b) = (a.interval(), b.interval());
    a.0 <= b.1 && b.0 <= a.1
}

fn upper_first(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
