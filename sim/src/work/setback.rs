//! What did not go by the calendar: visits that were pushed, missed or given up, and why.

use serde::{Deserialize, Serialize};

use crate::calendar::Day;

/// One due practice that was not done on its day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Setback {
    /// The day on which its cue called.
    pub due: Day,
    /// The day on which it was made after all, or on which the crew stopped trying.
    pub day: Day,
    /// Index of the practice in its program.
    pub practice: u16,
    /// What became of it.
    pub fate: Fate,
    /// What stood in the way, last of all.
    pub why: Why,
}

/// What became of a due practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Fate {
    /// Done on a later day.
    Pushed,
    /// Nobody came that week.
    Missed,
    /// Tried until it was given up for this time.
    GivenUp,
    /// Still waiting when its window closed.
    WindowClosed,
    /// Not wanted: nothing to cut or to spray, or rain did the watering.
    NotNeeded,
}

/// What stood in the way of a due practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Why {
    /// The visit was forgotten.
    Forgotten,
    /// The crew was late.
    Late,
    /// No visit day yet.
    NoVisitDay,
    /// The ground was frozen or under snow.
    Frozen,
    /// Too much rain fell yesterday.
    Wet,
    /// Rain was promised.
    RainComing,
    /// Heat.
    Heat,
    /// Cold.
    Cold,
    /// Wind.
    Wind,
    /// Still air.
    Calm,
    /// The turf was dormant from drought.
    Dormant,
    /// The soil was too dry.
    Dry,
    /// A closed season.
    Closed,
    /// A local rule: the place is closed to fertilizer.
    FertilizerClosed,
    /// A local rule: the place is closed to pesticides.
    PesticideClosed,
    /// A local rule: no watering on that day.
    WaterDay,
    /// A local rule: no fertilizer ahead of heavy rain.
    FertilizerRain,
    /// An event.
    Event,
    /// The grass was too short to cut.
    Short,
    /// The lawn had been mown shortly before.
    Mown,
    /// The lawn had been sprayed shortly before.
    Sprayed,
    /// Too few weeds stood to spray.
    FewWeeds,
    /// The lawn was as green as its fed strip.
    GreenEnough,
}

impl Fate {
    /// Every fate.
    pub const ALL: [Fate; 5] =
        [Fate::Pushed, Fate::Missed, Fate::GivenUp, Fate::WindowClosed, Fate::NotNeeded];

    /// Whether work that was wanted was not done.
    pub fn is_lost(self) -> bool {
        matches!(self, Fate::Missed | Fate::GivenUp | Fate::WindowClosed)
    }
}
