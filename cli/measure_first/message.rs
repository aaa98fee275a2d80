//! The one message, computed from the numbers.

use sim::analysis::measure_first::{Elsewhere, Judged, SURE, Switch};
use sim::outcomes::{Better, OUTCOMES};

use super::{Told, how};
use crate::words::figure;
use crate::words::name::{futures, listed, listed_with, lower_first, quoted};
use crate::words::odds::Odds;

/// Fewest members for a message at all.
const FEWEST: u32 = 100;

/// What the findings come to.
pub(super) enum Verdict<'a> {
    /// Too few members.
    TooFew,
    /// Facts that change the choice by what matters, the most valuable first; at least one.
    Worth(Vec<&'a Judged>),
    /// The most valuable one changes it, and by less than matters.
    Little(&'a Judged),
    /// None changes it.
    Nothing,
}

impl<'a> Told<'a> {
    /// Whether what knowing a fact is worth stands out from noise.
    pub(super) fn clear(&self, judged: &Judged) -> bool {
        let floor = if judged.subject.findable() {
            self.findings.floor
        } else {
            self.findings.constants_floor
        };
        let knowing = &judged.knowing;
        knowing.above(floor) && self.seen(knowing.switch).is_some()
    }

    /// A switch that happens in at least one of the futures that the odds can tell.
    pub(super) fn seen(&self, switch: Option<Switch>) -> Option<Switch> {
        switch.filter(|switch| {
            let odds = Odds::from_share(switch.share, self.findings.members);
            odds.scale().is_some_and(|scale| odds.marks(scale) > 0)
        })
    }

    pub(super) fn verdict(&self) -> Verdict<'a> {
        if self.findings.members < FEWEST {
            return Verdict::TooFew;
        }
        let clear: Vec<&Judged> = self.findings.facts.iter().filter(|f| self.clear(f)).collect();
        let worth: Vec<&Judged> =
            clear.iter().filter(|judged| self.matters(judged)).copied().collect();
        match (worth.is_empty(), clear.first()) {
            (false, _) => Verdict::Worth(worth),
            (true, Some(first)) => Verdict::Little(first),
            (true, None) => Verdict::Nothing,
        }
    }

    /// Whether it pays to find a fact out: money where that is known, else what it gains where it changes
    /// the choice.
    fn matters(&self, judged: &Judged) -> bool {
        if self.in_money() {
            let price = how::way_of(&judged.subject.key).price(&self.scenario.crew);
            return judged.knowing.value >= price;
        }
        judged.knowing.switch.is_some_and(|switch| switch.gain >= self.findings.aim.least())
    }

    /// Whether gains are money, and so can be held against what finding out costs.
    fn in_money(&self) -> bool {
        self.gain_kind().unit == "currency"
    }

    /// Whether a fact is worth a line on how to find it out: it changes the choice, or moves the lawn by
    /// what matters.
    pub(super) fn telling(&self, judged: &Judged) -> bool {
        let least = self.findings.aim.least();
        self.clear(judged) || judged.effect.is_some_and(|effect| effect.moved >= least)
    }

    /// The outcome in a few words: "mean quality".
    pub(super) fn label(&self) -> String {
        lower_first(self.kind.label.split(',').next().unwrap_or(self.kind.label))
    }

    /// "brings crabgrass at its worst down by about 6 points", "gains about $40".
    pub(super) fn gain(&self, gain: f64, error: f64) -> String {
        let amount = self.amount(gain, error);
        match (&self.worth, self.kind.better) {
            (Some(_), _) => format!("gains about {amount}"),
            (None, Better::Lower) => {
                format!("brings {} down by about {amount}", self.label())
            }
            (None, _) => format!("brings {} up by about {amount}", self.label()),
        }
    }

    /// "in 3 of 20 futures".
    pub(super) fn in_futures(&self, share: f64) -> String {
        let members = self.findings.members;
        format!("in {} {}", Odds::from_share(share, members).of(), futures(members))
    }

    /// What the choice is by: "crabgrass at its worst", with the money that it is worth.
    pub(super) fn by(&self) -> String {
        let label = lower_first(self.kind.label);
        match &self.worth {
            Some(worth) => format!("the balance of {label}, at {worth}, and cost"),
            None => label,
        }
    }
}

/// The message as a sentence without its stop, with what else belongs to it.
pub(super) fn title(told: &Told) -> String {
    let near = near(told);
    let headline = headline(told);
    match told.verdict() {
        Verdict::Nothing if !near.is_empty() && near.len() < told.findings.others.len() => {
            let hardly = if near.len() > 1 { "hardly differ" } else { "hardly differs" };
            format!("{headline}, and {} {hardly} from it", listed(&near))
        }
        _ => headline,
    }
}

/// The message for a picture, which has less room.
pub(super) fn short(told: &Told) -> String {
    match told.verdict() {
        Verdict::Worth(worth) => {
            let way = how::way_of(&worth[0].subject.key);
            format!("{}: {}", way.act, changes(told, worth[0]))
        }
        Verdict::Little(first) => {
            let little = if told.in_money() {
                "less than it costs to find out"
            } else {
                "less than matters"
            };
            format!(
                "Little hangs on what you can find out: {} tells most, and that gains {little}",
                how::way_of(&first.subject.key).name,
            )
        }
        _ => headline(told),
    }
}

/// The message without what else belongs to it.
fn headline(told: &Told) -> String {
    let findings = told.findings;
    match told.verdict() {
        Verdict::TooFew => format!(
            "{} {} are too few to tell what is worth measuring",
            findings.members,
            futures(findings.members)
        ),
        Verdict::Worth(worth) => {
            let first = worth[0];
            let way = how::way_of(&first.subject.key);
            let rest: Vec<String> = worth[1..]
                .iter()
                .map(|judged| how::way_of(&judged.subject.key).name.to_string())
                .collect();
            let rest = if rest.is_empty() {
                "nothing else that you can find out would pay".to_string()
            } else {
                format!("so would knowing {}", listed(&rest))
            };
            format!("{}: {}; {rest}", way.act, changes(told, first))
        }
        Verdict::Little(first) => format!(
            "Little hangs on what you can find out: {} tells most, and {}, {}",
            how::way_of(&first.subject.key).name,
            changes(told, first),
            too_little(told, first)
        ),
        Verdict::Nothing if findings.facts.is_empty() => {
            "The scenario states every fact as one number, so there is nothing left to find out"
                .into()
        }
        Verdict::Nothing if near(told).len() == findings.others.len() => format!(
            "Nothing that you can find out changes the choice: by {} the programs hardly differ",
            told.by()
        ),
        Verdict::Nothing => format!(
            "Nothing that you can find out changes the choice: {} does best whatever it turns out to be",
            told.best()
        ),
    }
}

/// "knowing it changes the choice in 3 of 20 futures, and in these gains $40".
fn changes(told: &Told, judged: &Judged) -> String {
    let knowing = &judged.knowing;
    let Some(switch) = knowing.switch else { return "knowing it changes nothing".into() };
    let error = knowing.error / switch.share.max(f64::MIN_POSITIVE);
    format!(
        "knowing it changes the choice {}, and {} in these",
        told.in_futures(switch.share),
        told.gain(switch.gain, error)
    )
}

/// Why a value is little.
fn too_little(told: &Told, judged: &Judged) -> String {
    if !told.in_money() {
        return "which is less than matters".into();
    }
    let crew = &told.scenario.crew;
    let price = how::way_of(&judged.subject.key).price(crew);
    format!(
        "or {} over all: less than the {} or so that finding out costs",
        told.finely(judged.knowing.value, judged.knowing.error),
        figure::money(price.round(), &crew.currency)
    )
}

/// Of the choices by other outcomes, those in which another program is better by what matters.
fn against<'a>(told: &'a Told) -> impl Iterator<Item = &'a Elsewhere> {
    told.findings.elsewhere.iter().filter(|found| {
        found.best != told.findings.best
            && found.lead.0 >= OUTCOMES[found.outcome].least_difference
            && found.lead.0 > SURE * found.lead.1
    })
}

/// That the choice hangs on what is wanted, where it does.
pub(super) fn what_is_wanted(told: &Told) -> Option<String> {
    let parts: Vec<String> = against(told)
        .map(|found| {
            let label = lower_first(OUTCOMES[found.outcome].label);
            format!("by {label} {} does best", quoted(&told.programs[found.best].title))
        })
        .collect();
    (!parts.is_empty())
        .then(|| format!("It hangs on what you want, though: {}.", listed_with(&parts, ", and ")))
}

/// The programs that on average differ from the best by less than matters.
fn near(told: &Told) -> Vec<String> {
    let gains = told.findings.gains.iter().enumerate();
    gains
        .filter(|(_, (mean, _))| mean.abs() < told.findings.aim.least())
        .map(|(at, _)| told.other(at))
        .collect()
}
