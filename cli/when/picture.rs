//! The picture of a sweep.

use plots::{Caption, Mark, Picture, SweepPicture, SweepPoint};

use super::{Told, words};
use crate::drawing::failed;
use crate::failure::Failure;
use crate::pictures::sketch::unit_in_words;
use crate::words::name;

/// Draws it.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub(super) fn draw(told: &Told) -> Result<Picture, Failure> {
    plots::sweep(&picture(told)).map_err(|error| failed("when", &error))
}

fn picture(told: &Told) -> SweepPicture {
    let (sweep, speech) = (told.sweep, &told.speech);
    let shown = told.units.shown(told.kind.unit);
    let values = || sweep.settings.iter().filter_map(|setting| setting.value);
    let point = |setting: &sim::analysis::when::Setting| {
        Some(SweepPoint {
            setting: speech.shown(setting.value?),
            quantiles: setting.fresh.quantiles.map(|value| shown.value(value)),
        })
    };
    let own = sweep.settings.iter().find(|setting| setting.own).and_then(|s| s.value);
    let without = sweep.apart.as_ref().filter(|setting| setting.value.is_none());
    let runs = words::stretches(told);
    let at = |index: usize| sweep.settings[index].value.unwrap_or(f64::NAN);
    let title = words::title(told);
    let unit = match shown.unit {
        "currency" => told.scenario.crew.currency.clone(),
        unit => unit_in_words(told.kind.key, unit),
    };
    SweepPicture {
        caption: Caption {
            subtitle: Some(format!(
                "{}, {}",
                told.scenario.title,
                name::quoted(&told.program.title)
            )),
            alt: format!(
                "{} against the setting, as a band of futures with its middle: {title}.",
                told.kind.label
            ),
            note: Some(words::note(told)),
            title: speech.unbroken(&title),
        },
        outcome: told.kind.label.into(),
        unit,
        range: words::is_amount(told.kind).then_some((0.0, 0.0)),
        axis: speech.axis().into(),
        ticks: values().map(|value| (speech.shown(value), speech.figure(value))).collect(),
        points: sweep.settings.iter().filter_map(point).collect(),
        own: own.map(|value| Mark {
            value: speech.shown(value),
            label: format!("yours: {}", speech.value(value)),
        }),
        without: without.map(|setting| Mark {
            value: shown.value(setting.fresh.quantiles[2]),
            label: format!("yours, {}", words::WITHOUT),
        }),
        runs: runs.iter().map(|(a, b)| (speech.shown(at(*a)), speech.shown(at(*b)))).collect(),
        bracket: "as good as the best that was tried".into(),
    }
}
