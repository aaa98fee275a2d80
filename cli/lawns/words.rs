//! What the terminal says of many lawns: which program does best on which, at what odds and cost.

use std::collections::BTreeMap;

use sim::ensemble::Results;
use sim::scenario::{Checked, Scenario};

use super::table::Table;
use crate::round;
use crate::terminal::harmless;
use crate::units::Units;
use crate::words::lines::wrap;
use crate::words::name::{futures, listed, quoted};
use crate::words::program::Claim;
use crate::words::ranked::{self, ANSWERS};

/// Lawns that are told one by one; the table has all.
const TOLD_MAX: usize = 20;

/// Cautions that are told one by one.
const CAUTIONS_MAX: usize = 10;

/// The lawns so far, in words.
pub(super) struct Overview {
    members: u32,
    units: Units,
    lawns: usize,
    each: String,
    /// For each claim, on how many lawns a program leads, by place; `None` where none does.
    leads: Vec<BTreeMap<Option<usize>, usize>>,
    titles: Vec<String>,
}

impl Overview {
    pub(super) fn new(members: u32, units: Units) -> Overview {
        let leads = vec![BTreeMap::new(); ANSWERS.len()];
        Overview { members, units, lawns: 0, each: String::new(), leads, titles: vec![] }
    }

    /// Takes the next lawn.
    pub(super) fn add(&mut self, lawn: &str, results: &Results, scenario: &Scenario) {
        self.lawns += 1;
        if self.titles.is_empty() {
            self.titles = results.programs.iter().map(|p| p.title.clone()).collect();
        }
        for (claim, leads) in ANSWERS.iter().zip(&mut self.leads) {
            *leads.entry(ranked::leader(results, claim)).or_default() += 1;
        }
        if self.lawns <= TOLD_MAX {
            self.each.push_str(&format!("\n{lawn}\n"));
            for (about, sentence) in ranked::answer(results, scenario, self.units) {
                self.each.push_str(&wrap(&format!("{about}: {sentence}"), 2, 4));
            }
        }
    }

    /// All of it.
    pub(super) fn tell(&self, cautions: &[String], folder: &str) -> String {
        let count = |n: usize| round::spoken(n as f64, 1.0);
        let mut out = format!(
            "{} lawn{}, each in {} simulated {}, the same weather on all of them\n",
            count(self.lawns),
            if self.lawns == 1 { "" } else { "s" },
            count(self.members as usize),
            futures(self.members)
        );
        for (claim, leads) in ANSWERS.iter().zip(&self.leads) {
            out.push_str(&wrap(&self.led(claim, leads), 0, 2));
        }
        out.push_str(&self.each);
        if self.lawns > TOLD_MAX {
            let more = count(self.lawns - TOLD_MAX);
            out.push_str(&format!("\n... and {more} more, in lawns.csv\n"));
        }
        if !cautions.is_empty() {
            out.push_str("\nCautions that the template alone does not call for\n");
            cautions.iter().take(CAUTIONS_MAX).for_each(|c| out.push_str(&wrap(c, 2, 4)));
            if cautions.len() > CAUTIONS_MAX {
                let more = count(cautions.len() - CAUTIONS_MAX);
                out.push_str(&format!("  ... and {more} more\n"));
            }
        }
        out.push_str(&format!("\nFiles are in {folder}\n"));
        out.push_str("  lawns.csv  every outcome by lawn and program\n");
        out.push_str("  odds.csv   in how many futures a claim holds, by lawn and program\n");
        harmless(&out)
    }

    /// "Crabgrass stays under 10 % most often: with “Two halves” on 7 lawns; on 5 no program leads".
    fn led(&self, claim: &Claim, leads: &BTreeMap<Option<usize>, usize>) -> String {
        let lawns = |n: usize| {
            format!("{} lawn{}", round::spoken(n as f64, 1.0), if n == 1 { "" } else { "s" })
        };
        let mut ranked: Vec<(usize, usize)> =
            leads.iter().filter_map(|(program, n)| Some(((*program)?, *n))).collect();
        ranked.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
        let title = |at: usize| self.titles.get(at).map_or_else(String::new, |t| quoted(t));
        let led: Vec<String> =
            ranked.iter().map(|(at, n)| format!("with {} on {}", title(*at), lawns(*n))).collect();
        let none = leads.get(&None).copied().unwrap_or(0);
        match (led.is_empty(), none) {
            (true, _) => format!(
                "{}: no one program leads on any lawn; the odds of each are told lawn by lawn.",
                claim.title
            ),
            (false, 0) => format!("{} most often: {}.", claim.title, listed(&led)),
            (false, _) => format!(
                "{} most often: {}; on {} no program leads.",
                claim.title,
                listed(&led),
                lawns(none)
            ),
        }
    }
}

/// What the check says of a lawn and not of the template, with the lawn's name.
pub(super) fn cautions(table: &Table, lawns: &[Checked], template: &Checked) -> Vec<String> {
    let usual = |message: &str| template.cautions.iter().any(|c| c.message == message);
    let of = |(row, checked): (&super::table::Row, &Checked)| {
        let own = checked.cautions.iter().filter(|c| !usual(&c.message));
        own.map(|c| format!("{}: {}", row.name, c.message)).collect::<Vec<_>>()
    };
    table.rows.iter().zip(lawns).flat_map(of).collect()
}
