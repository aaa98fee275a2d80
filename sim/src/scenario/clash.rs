//! Practices that work against each other, or against the season: each alone is sound.

use super::caution::{LB_PER_1000_FT2, us_and_metric};
use super::day;
use super::fault::Faults;
use super::nitrogen_caution::{Year, year};
use super::occasion::{Occasion, due, falls_in};
use super::practice::Drafted;
use super::program::Built;
use super::{Cue, Hold, What};
use crate::calendar::MonthDay;
use crate::quantity::Kind;
use crate::work::Clippings;

/// The weeks in which quick nitrogen meets heat (common practice: none on cool-season turf from mid-June to
/// mid-August).
const HEAT: (MonthDay, MonthDay) = (MonthDay { month: 6, day: 15 }, MonthDay { month: 8, day: 15 });

/// Quick nitrogen below which nobody burns a lawn, g/m2: spoon-feeding at 1/4 lb/1000 ft2 (common practice).
const LITTLE_QUICK: f64 = 0.25 * LB_PER_1000_FT2;

/// Water that takes quick granules off the leaf, mm: the usual watering-in is 1/4 in.
const WATERS_IN_MM: f64 = 6.0;

/// Nitrogen a year below which bagged clippings take away what the lawn cannot spare, g/m2: turf without
/// clippings needs about twice the nitrogen of turf with them (Kopp & Guillard 2002), and 2 lb/1000 ft2 is
/// the low end of programs (University of Illinois 1995).
const LOW_YEAR: f64 = 2.0 * LB_PER_1000_FT2;

/// Days after sowing on which no mower should run. Our judgement: seed takes a week or more to come up and
/// root.
const SOWN_DAYS: i32 = 10;

/// Notes the practices of a program that fight.
pub(super) fn program(built: &Built, faults: &mut Faults) {
    for (i, draft) in built.drafts.iter().enumerate() {
        match &draft.what {
            What::Spread { .. } => nitrogen_in_heat(built, i, draft, faults),
            What::Mow { clippings: Clippings::Collect, .. } => bagged(built, draft, faults),
            _ => {}
        }
        if matches!(draft.what, What::Mow { .. }) {
            after_seeding(built, i, draft, faults);
        }
    }
}

fn nitrogen_in_heat(built: &Built, i: usize, draft: &Drafted, faults: &mut Faults) {
    let What::Spread { nitrogen, water_in_mm, product, .. } = &draft.what else { return };
    let waits = draft.holds.iter().any(|h| matches!(h, Hold::Hotter { .. }));
    let quick = nitrogen.quick_g_m2();
    if waits
        || product.liquid
        || nitrogen.on_leaf
        || quick <= LITTLE_QUICK
        || *water_in_mm >= WATERS_IN_MM
    {
        return;
    }
    if let Some((on, _)) = falls_in(&built.program, i, HEAT) {
        faults.caution(
            "nitrogen-in-heat",
            &draft.cue_span,
            format!(
                "`{}` lays {} of quick nitrogen about {} and does not water it in: in heat its salt burns the \
                 leaf",
                draft.key,
                us_and_metric(quick, Kind::NitrogenRate),
                day::show(on)
            ),
            "quick nitrogen in cool weather, or watered in at once",
            "move it to spring or September, add hold = [\"hotter than 85 degF\"] or water-in = \"1/4 in\", or \
             take slow nitrogen",
        );
    }
}

fn bagged(built: &Built, draft: &Drafted, faults: &mut Faults) {
    let Year { least_g_m2: sum, places, .. } = year(built);
    if sum < LOW_YEAR * 0.999 {
        let laid = if places.is_empty() {
            "and nothing is spread".to_string()
        } else {
            format!("and only {} a year is spread", us_and_metric(sum, Kind::NitrogenRate))
        };
        faults.caution(
            "bagged-and-hungry",
            &draft.span,
            format!("`{}` carries the clippings off with their nitrogen, {laid}", draft.key),
            "clippings returned, or about twice the nitrogen (Kopp & Guillard 2002)",
            "clippings = \"returned\"",
        );
    }
}

/// Fewest days, from 0 on, from one practice to another, where both days are known.
fn soonest(built: &Built, first: usize, then: usize) -> Option<i32> {
    let apart = |a: &Occasion, b: &Occasion| {
        if a.root == b.root && a.once {
            Some(b.after - a.after)
        } else {
            Some(b.day()?.0 - a.day()?.0)
        }
    };
    let (a, b) = (due(&built.program, first), due(&built.program, then));
    let all = a.iter().flat_map(|a| b.iter().filter_map(move |b| apart(a, b)));
    all.filter(|days| *days >= 0).min()
}

/// A mowing that is set for the days right after a sowing. One that comes by an interval goes over every
/// sowing, and is for the crew to skip.
fn after_seeding(built: &Built, i: usize, draft: &Drafted, faults: &mut Faults) {
    let set = matches!(built.program.practices[i].cue, Cue::Dates(_) | Cue::DaysAfter { .. });
    for (j, sown) in built.drafts.iter().enumerate().filter(|_| set) {
        let sows = matches!(sown.what, What::Overseed { .. });
        let Some(days) = soonest(built, j, i).filter(|days| sows && (1..SOWN_DAYS).contains(days))
        else {
            continue;
        };
        faults.caution(
            "mow-on-seed",
            &draft.cue_span,
            format!(
                "`{}` comes {days} day{} after `{}`: wheels and mower move the seed and tear what is coming up",
                draft.key,
                if days == 1 { "" } else { "s" },
                sown.key
            ),
            format!("no mowing for {SOWN_DAYS} days and more, until seedlings stand a third above the cut"),
            "cut low before sowing, and then wait",
        );
    }
}
