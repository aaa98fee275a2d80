//! Needs and budgets in words.

use sim::analysis::thrift::Asked;
use sim::outcomes::{OUTCOMES, outcome};
use sim::quantity::{Kind, show};
use sim::scenario::{
    Budget, Fold, Goal, Need, NeedUnit, Period, Resource, Scenario, Seasons, Side, day_of_year,
    show_day,
};

use crate::round;
use crate::units::Units;
use crate::words::event;
use crate::words::figure::{self, Figure};
use crate::words::name::lower_first;

/// What is asked, in words: "quality is 6 or better on 60 % of summer days, in each season".
pub(super) fn words(asked: &Asked, scenario: &Scenario, units: Units) -> String {
    match asked {
        Asked::Need(goal) => need(goal, scenario, units),
        Asked::Budget(budget) => spend(budget, scenario, units),
    }
}

fn need(goal: &Goal, scenario: &Scenario, units: Units) -> String {
    match goal {
        Goal::Measure { need, fold, stretch, seasons } => {
            let said = match fold {
                Fold::Days(share) if *share >= 1.0 => {
                    let when = match goal.stretch_name() {
                        Some("year") => String::new(),
                        Some("growing") => " from April to October".into(),
                        Some(name) => format!(" in {name}"),
                        None => dates(*stretch),
                    };
                    format!("{}{when}", always(need, units))
                }
                Fold::Days(share) => {
                    let days = match goal.stretch_name() {
                        Some("year") => "all days".into(),
                        Some("growing") => "days from April to October".into(),
                        Some(name) => format!("{name} days"),
                        None => format!("days{}", dates(*stretch)),
                    };
                    format!(
                        "{} on {} % of {days}",
                        event::words(need, units),
                        number(share * 100.0)
                    )
                }
                Fold::Mean => {
                    let when = match goal.stretch_name() {
                        Some("year") => "over the year".into(),
                        Some("growing") => "from April to October".into(),
                        Some(name) => format!("over {name}"),
                        None => dates(*stretch).trim_start().to_string(),
                    };
                    format!("{} on average {when}", event::words(need, units))
                }
                Fold::Last => {
                    let when = match goal.stretch_name() {
                        Some("year") => "at the end of the year".to_string(),
                        Some("growing") => "at the end of October".to_string(),
                        Some(name) => format!("at the end of {name}"),
                        None => format!("on {}", show_day(day_of_year(stretch.1))),
                    };
                    format!("{} {when}", event::words(need, units))
                }
            };
            let seasons = match seasons {
                _ if scenario.seasons <= 1 => "",
                Seasons::Every => ", in each season",
                Seasons::First => ", in the first season",
                Seasons::Last => ", in the last season",
            };
            format!("{said}{seasons}")
        }
        Goal::Outcome { key, side, line } => {
            let kind = outcome(key).map(|at| &OUTCOMES[at]);
            let (label, unit) = kind.map_or((*key, ""), |kind| (kind.label, kind.unit));
            let figure = Figure::new(&[*line], unit, units, &scenario.crew.currency);
            let figure = figure.as_fine_as(key).middle();
            format!("{}: {} {figure}", lower_first(label), side_words(*side))
        }
    }
}

fn always(need: &Need, units: Units) -> String {
    let line = event::line(need, units);
    let several = need.name().ends_with("weeds");
    let how = match (need.side, several) {
        (Side::AtLeast, false) => "never falls below",
        (Side::AtLeast, true) => "never fall below",
        (Side::Above, false) => "always stays above",
        (Side::Above, true) => "always stay above",
        (Side::AtMost, false) => "never passes",
        (Side::AtMost, true) => "never pass",
        (Side::Below, false) => "always stays under",
        (Side::Below, true) => "always stay under",
    };
    format!("{} {how} {line}", need.name())
}

fn side_words(side: Side) -> &'static str {
    match side {
        Side::AtLeast => "at least",
        Side::Above => "more than",
        Side::AtMost => "at most",
        Side::Below => "less than",
    }
}

fn number(value: f64) -> String {
    let told = round::fixed(value, 1);
    told.strip_suffix(".0").unwrap_or(&told).to_string()
}

fn dates((from, to): (sim::calendar::MonthDay, sim::calendar::MonthDay)) -> String {
    format!(" from {} to {}", show_day(day_of_year(from)), show_day(day_of_year(to)))
}

fn spend(budget: &Budget, scenario: &Scenario, units: Units) -> String {
    let Budget { of, most, per } = budget;
    let figure = match of {
        Resource::Money => figure::money(*most, &scenario.crew.currency),
        Resource::Hours => format!("{} crew hours", number(*most)),
        Resource::WaterDepth => format!("{} of water", show(*most, Kind::Depth, units.into())),
        Resource::WaterVolume => match units {
            // Exact by definition: the US gallon is 3.785411784 L.
            Units::Us => format!("{} gal of water", round::spoken(most / 0.003_785_411_784, 1.0)),
            Units::Metric => format!("{} m3 of water", number(*most)),
        },
        Resource::Nitrogen => show(*most, Kind::NitrogenRate, units.into()),
    };
    let per = match per {
        _ if scenario.seasons <= 1 => "",
        Period::Season => " a season",
        Period::Run => " in all",
    };
    format!("at most {figure}{per}")
}

/// What one thing asked is drawn as: its title, unit in words and line, in the reader's units.
pub(super) struct Drawn {
    pub title: String,
    pub unit: String,
    pub line: f64,
    /// Factor from the model's figures.
    pub factor: f64,
    /// The axis shows at least this.
    pub range: Option<(f64, f64)>,
}

/// How one thing asked is drawn; `None` for an outcome, which has no days.
pub(super) fn drawn(asked: &Asked, scenario: &Scenario, units: Units) -> Option<Drawn> {
    match asked {
        Asked::Need(Goal::Measure { need, .. }) => {
            let height = units.shown("mm");
            let (unit, factor, range) = match need.unit() {
                NeedUnit::Rating => ("1-9", 1.0, (1.0, 9.0)),
                NeedUnit::Share => ("% of the lawn", 1.0, (0.0, 0.0)),
                NeedUnit::Height => (height.unit, height.factor, (0.0, 0.0)),
            };
            Some(Drawn {
                title: crate::words::name::upper_first(need.name()),
                unit: unit.into(),
                line: need.line * factor,
                factor,
                range: Some(range),
            })
        }
        Asked::Need(Goal::Outcome { .. }) => None,
        Asked::Budget(Budget { of, most, per }) => {
            let (what, unit, factor) = match of {
                Resource::Money => ("Money spent", scenario.crew.currency.clone(), 1.0),
                Resource::Hours => ("Crew hours", "h".to_string(), 1.0),
                Resource::WaterVolume => ("Water from the tap", "m3".to_string(), 1.0),
                Resource::WaterDepth => {
                    let shown = units.shown("mm");
                    ("Water from the tap", shown.unit.to_string(), shown.factor)
                }
                Resource::Nitrogen => {
                    let shown = units.shown("g/m2");
                    ("Nitrogen laid", shown.unit.to_string(), shown.factor)
                }
            };
            let since = match per {
                Period::Season => "since the season began",
                Period::Run => "since the start",
            };
            Some(Drawn {
                title: format!("{what} {since}"),
                unit,
                line: most * factor,
                factor,
                range: Some((0.0, 0.0)),
            })
        }
    }
}
