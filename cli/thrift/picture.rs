//! The picture of cost against odds.

use plots::{Caption, Mark, NamedPrice, Picture, Priced, TradeoffPicture};
use sim::analysis::thrift::Finalist;
use sim::scenario::Spare;

use super::{Told, words};
use crate::drawing::failed;
use crate::failure::Failure;
use crate::round;
use crate::words::name::{over, shorts, simulated};
use crate::words::odds::Odds;

/// Draws it.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub(super) fn draw(told: &Told) -> Result<Picture, Failure> {
    plots::tradeoff(&picture(told)).map_err(|error| failed("thrift", &error))
}

fn picture(told: &Told) -> TradeoffPicture {
    let answer = told.answer;
    let all: Vec<Odds> = answer.finalists.iter().map(|f| told.odds_of(f)).collect();
    // Odds are told on a scale; marks lie where they are.
    let scale = Odds::common_scale(&all).unwrap_or(5);
    let marks = |share: f64| share * f64::from(scale);
    let priced = |f: &Finalist| Priced {
        cost: told.units.shown(told.kind().unit).difference(words::mean(told, f)),
        marks: marks(f.judged.odds().share()),
    };
    let titles: Vec<&str> = told.programs.iter().map(|p| p.title.as_str()).collect();
    let figures = |f: &Finalist| {
        format!("{}, {}", words::cost(told, f), words::count_on(told, f, Some(scale)))
    };
    let mut named: Vec<NamedPrice> = shorts(&titles)
        .into_iter()
        .zip(&answer.finalists)
        .zip(told.programs)
        .map(|((name, finalist), program)| NamedPrice {
            at: priced(finalist),
            name,
            figures: figures(finalist),
            place: told.scenario.programs.iter().position(|p| p.id == program.id),
        })
        .collect();
    if let Some(pick) = told.pick().filter(|pick| pick.changes > 0) {
        named.push(NamedPrice {
            at: priced(pick),
            name: match told.spare {
                Spare::Money => "the cheapest found that holds".into(),
                other => format!("found with the least {}", words::thing(other)),
            },
            figures: figures(pick),
            place: None,
        });
    }
    let title = words::message(told);
    let others = (answer.starts..answer.finalists.len()).filter(|at| !answer.curve.contains(at));
    TradeoffPicture {
        caption: Caption {
            subtitle: Some(told.scenario.title.clone()),
            alt: format!(
                "Programs by what they {} and in how many futures all that is asked holds, with the line \
                 of the odds wanted: {title}.",
                words::takes(told, 2)
            ),
            note: Some(note(told)),
            title,
        },
        axis: axis(told),
        odds: format!("Futures of {scale} in which all of it holds"),
        scale,
        wanted: Mark { value: marks(told.odds), label: format!("wanted: {}", words::wanted(told)) },
        curve: answer.curve.iter().map(|at| priced(&answer.finalists[*at])).collect(),
        others: others.map(|at| priced(&answer.finalists[at])).collect(),
        named,
        dots: "others that were judged; the line joins those that none beats".into(),
    }
}

/// What is spared, with its unit.
fn axis(told: &Told) -> String {
    let unit = told.units.shown(told.kind().unit).unit;
    let what = match told.spare {
        Spare::Money => "Cost",
        Spare::Hours => "Crew hours",
        Spare::Water => "Water from the tap",
        Spare::Nitrogen => "Nitrogen laid",
    };
    let unit = if unit == "currency" { &told.scenario.crew.currency } else { unit };
    format!("{what} {}, {unit}, on average", over(told.scenario))
}

fn needs(told: &Told) -> String {
    let all: Vec<String> = (0..told.asked.len()).map(|at| told.asked(at)).collect();
    format!("Wanted: {}.", all.join("; "))
}

fn note(told: &Told) -> String {
    let years = told.answer.record_years;
    format!(
        "{} {}, the same for every program, none of which had a part in the search of {} programs. Weather from \
         {years} year{} of record.",
        needs(told),
        simulated(told.answer.members.1),
        round::spoken(told.answer.tried as f64, 1.0),
        if years == 1 { "" } else { "s" }
    )
}
