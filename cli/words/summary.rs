//! The whole summary: result, choices, what stands behind it, cautions, files.

use sim::ensemble::Results;
use sim::parameters::Entry;
use sim::scenario::{Scenario, Uncertain};

use super::lines::wrap;
use super::name::{futures, over, simulated};
use super::{caution, choice, event, figure, program, ranked, rules, seen};
use crate::round;
use crate::terminal::harmless;
use crate::units::Units;

/// Fewest members for odds in tenths: half-width 1.96 sqrt(p (1 - p) / n) is 0.1 at p = 1/2.
const MEMBERS_FEW: u32 = 100;

/// What the summary is made from.
#[derive(Clone, Copy, Debug)]
pub struct Told<'a> {
    /// The run.
    pub results: &'a Results,
    /// Its scenario.
    pub scenario: &'a Scenario,
    /// The reader's units.
    pub units: Units,
    /// The model's constants, for the share that rests on judgement.
    pub catalogue: &'a [Entry],
    /// One line for each caution of the scenario.
    pub cautions: &'a [String],
    /// Folder of the files, as typed, and the names in it.
    pub folder: &'a str,
    /// Names of the files.
    pub files: &'a [String],
}

/// The summary that `play` prints.
pub fn summary(told: &Told) -> String {
    let Told { results, scenario, units, .. } = *told;
    let mut out = opening(results, scenario);
    out.push_str(&seen::tell(results, scenario));
    out.push('\n');
    for (about, sentence) in ranked::answer(results, scenario, units) {
        out.push_str(&wrap(&format!("{about}: {sentence}"), 0, 2));
    }
    for (at, each) in results.programs.iter().enumerate() {
        out.push('\n');
        let spread = results.spread.get(at).map_or(&[][..], Vec::as_slice);
        out.push_str(&program::tell(each, spread, scenario, units));
        out.push_str(&event::tell(results, scenario, each, units));
    }
    let choices = choice::tell(results, scenario, units);
    if !choices.is_empty() {
        out.push_str("\nWhat each choice changes, in the same weather\n");
        out.push_str(&wrap(choice::TYPICAL, 0, 0));
        out.push_str(&choices);
    }
    let rules = rules::tell(scenario, units);
    if !rules.is_empty() {
        out.push('\n');
        out.push_str(&rules);
    }
    out.push('\n');
    out.push_str(&behind(results));
    if !told.cautions.is_empty() {
        out.push_str("\nCautions on this scenario (`swardplay vet` shows the lines)\n");
        told.cautions.iter().for_each(|c| out.push_str(&wrap(c, 2, 4)));
    }
    out.push('\n');
    out.push_str(&caution::block(told.catalogue));
    out.push('\n');
    out.push_str(&what_to_open(told.folder, told.files));
    harmless(&out)
}

fn opening(results: &Results, scenario: &Scenario) -> String {
    let programs = results.programs.len();
    let seasons = scenario.seasons;
    let last = scenario.first_year + seasons.max(1) as i32 - 1;
    let years = if seasons > 1 {
        format!("{seasons} seasons, {} to {last}", scenario.first_year)
    } else {
        format!("the season of {}", scenario.first_year)
    };
    format!(
        "{}\n{programs} program{} over {years}, each through the same {}.\n{}{}",
        scenario.title,
        if programs == 1 { "" } else { "s" },
        simulated(results.members),
        few(results.members),
        wrap(&cost_means(scenario), 0, 0)
    )
}

/// Whose cost it is, and what it holds.
pub fn cost_means(scenario: &Scenario) -> String {
    let crew = &scenario.crew;
    let money = |sum: f64| figure::money(sum, &crew.currency);
    let least = if crew.least_visit_minutes > 0.0 {
        let minutes = round::spoken(crew.least_visit_minutes, 1.0);
        format!(" A visit counts for {minutes} minutes at least.")
    } else if crew.least_visit_cost > 0.0 {
        format!(" A visit counts for {} at least.", money(crew.least_visit_cost))
    } else {
        String::new()
    };
    format!(
        "Hours and cost add up {}. Cost is what the work costs whoever does it: crew time at {} \
         an hour, travel and set-up counted in, with products and water; not a price to a \
         client.{least}",
        over(scenario),
        hour(scenario)
    )
}

/// The cost of an hour, or its range.
fn hour(scenario: &Scenario) -> String {
    let money = |amount| figure::money(amount, &scenario.crew.currency);
    match scenario.doubts.hour_cost {
        Some(Uncertain::Range(low, high) | Uncertain::Triple(low, _, high)) => {
            format!("{} to {}", money(low), money(high))
        }
        _ => money(scenario.crew.hour_cost),
    }
}

/// A warning where the members are too few; empty otherwise.
pub fn few(members: u32) -> String {
    if members >= MEMBERS_FEW {
        return String::new();
    }
    let are = if members == 1 { "is" } else { "are" };
    format!(
        "Warning: {members} {} {are} too few for odds; play more, with --members 1000, say.\n",
        futures(members)
    )
}

/// The members and the record: how far the odds can be trusted.
fn behind(results: &Results) -> String {
    let members = results.members;
    format!(
        "The counts come from {} (seed {}). \"Give or take\" is how far a \
         count could\nmove with other draws; it does not cover what the model gets wrong.\n{}",
        simulated(members),
        results.seed,
        wrap(&caution::record(results.record_years), 0, 2)
    )
}

/// Files worth a look, the best to open first.
const OPEN: [(&str, &str); 8] = [
    ("report.html", "the whole result on one page, to send or print"),
    ("overview.png", "the programs side by side through the seasons"),
    ("scorecard.png", "results beside hours and cost"),
    ("barrier.png", "how long the pre-emergent holds, and what comes up behind it"),
    ("outcomes.csv", "every outcome of every future, for a spreadsheet"),
    ("contrasts.csv", "the differences between programs"),
    ("work.csv", "dates, amounts, minutes and cost of the work"),
    ("missed.csv", "work that was pushed, missed or given up, and why"),
];

fn what_to_open(folder: &str, files: &[String]) -> String {
    let mut out = format!("Files are in {folder}\n");
    let there = OPEN.iter().filter(|(name, _)| files.iter().any(|f| f == name));
    let mut first = "   <- open this first";
    for (name, what) in there {
        out.push_str(&format!("  {name:<24} {what}{first}\n"));
        first = "";
    }
    let any = |start: &str| files.iter().any(|f| f.starts_with(start) && f.ends_with(".png"));
    if any("dots-") {
        out.push_str("  dots-*.png               one result each, as dots to count\n");
    }
    if any("contrast-") {
        out.push_str("  contrast-*.png           what one choice changes, day by day\n");
    }
    out
}
