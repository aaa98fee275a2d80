//! Turning points: what happened to a lawn, with its cause and the numbers that matter.
//!
//! A process tells its own in a `tell` beside it, which hears nothing of the days to come. It tells
//! them to a [`Sink`]: [`Off`] compiles to nothing, [`Notes`] keeps them. The lines between telling and
//! not telling (half of a barrier, five points of cover) are conventions of the telling: nothing that
//! happens to the lawn depends on them.

mod memory;

pub(in crate::lawn) use memory::{Before, Leg, Memory, Rise, Spell, Waiting};

use super::state::State;
use crate::calendar::Day;
use crate::weather::Sky;

/// Where turning points go.
pub trait Sink {
    /// Hands the notes to whoever has something to tell; does nothing where nobody listens.
    fn hear(&mut self, tell: impl FnOnce(&mut Notes));
}

/// Nobody listens.
#[derive(Clone, Copy, Debug, Default)]
pub struct Off;

impl Sink for Off {
    #[inline(always)]
    fn hear(&mut self, _: impl FnOnce(&mut Notes)) {}
}

impl Sink for Notes {
    #[inline]
    fn hear(&mut self, tell: impl FnOnce(&mut Notes)) {
        tell(self);
    }
}

/// One turning point and its day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Note {
    /// When.
    pub day: Day,
    /// What.
    pub turning: Turning,
}

/// Everything noted of one track so far, and what has to be remembered to note more.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    noted: Vec<Note>,
    pub(super) today: Day,
    /// The lawn on the evening before.
    pub(super) before: Before,
    pub(super) memory: Memory,
}

impl Notes {
    /// Before the first day.
    pub fn new() -> Notes {
        Notes::default()
    }

    /// Notes a turning point of today.
    pub(super) fn note(&mut self, turning: Turning) {
        self.note_on(self.today, turning);
    }

    /// Notes a turning point of an earlier day, which only today shows.
    pub(super) fn note_on(&mut self, day: Day, turning: Turning) {
        self.noted.push(Note { day, turning });
    }

    /// Opens a day on last evening's lawn.
    pub(super) fn open(&mut self, state: &State, sky: &Sky) {
        self.today = sky.day;
        self.before = Before::of(state);
    }

    /// All that was noted, in order of time. Runs end with a year, when whatever is open is told.
    pub fn finish(self) -> Vec<Note> {
        let mut noted = self.noted;
        noted.sort_by_key(|note| note.day);
        noted
    }
}

/// What turned. Shares are 0..=1; days count from the thing named.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turning {
    /// Rain or irrigation has brought a barrier into the soil.
    BarrierInPlace {
        /// Days since it was laid.
        days: u32,
        /// Water since then, mm.
        water_mm: f64,
        /// Share of it that light took on the leaves meanwhile.
        lost: f64,
        /// Share of emerging crabgrass that is stopped now.
        stopped: f64,
        /// Share of the year's crabgrass that has yet to come up.
        to_come: f64,
    },
    /// A barrier still lies on leaves, or in granules, and waits for water.
    BarrierWaits {
        /// Days since it was laid.
        days: u32,
        /// Water since then, mm.
        water_mm: f64,
        /// Share of it that light has taken.
        lost: f64,
        /// Share of emerging crabgrass that is stopped meanwhile.
        stopped: f64,
    },
    /// A barrier stops less than a share of emerging crabgrass.
    BarrierBelow {
        /// That share.
        level: f64,
        /// Days since the last of it was laid.
        days: u32,
        /// Residue in the soil over the most that there was.
        residue: f64,
        /// Share of the year's crabgrass that has yet to come up.
        to_come: f64,
    },
    /// The year's first crabgrass seedling in a square metre tries to come up.
    FirstSeedlings {
        /// Warmth of moist soil above the base since 1 January, C-days.
        warmth_dd: f64,
        /// Soil temperature at 5 cm, degrees C.
        soil_c: f64,
        /// Share that the barrier stops.
        stopped: f64,
    },
    /// So much of the year's crabgrass has tried to come up.
    Flush {
        /// Share of the year's.
        share: f64,
        /// Seedlings since 1 January, stopped ones too, 1/m2.
        emerging_m2: f64,
        /// Those that came through, 1/m2.
        through_m2: f64,
        /// Days since the first.
        days: u32,
    },
    /// Crabgrass covers more of the lawn than a share, for the first time in the year.
    CrabgrassPasses {
        /// That share.
        level: f64,
        /// Plants, 1/m2.
        plants_m2: f64,
        /// Turf that it has shaded out this year, share of the lawn.
        displaced: f64,
    },
    /// Crabgrass at its most of the year.
    CrabgrassPeak {
        /// Share of the lawn.
        cover: f64,
        /// Turf that it has shaded out this year, share of the lawn.
        displaced: f64,
    },
    /// Frost kills crabgrass.
    CrabgrassKilled {
        /// The night's low, degrees C.
        t_min_c: f64,
        /// Ground that it gave up, share of the lawn.
        cover: f64,
        /// Bare ground in the evening.
        bare: f64,
    },
    /// Crabgrass has died back of age, its seed shed.
    CrabgrassDiesBack {
        /// Its most of the year, share of the lawn.
        most: f64,
        /// What it covers now.
        cover: f64,
        /// Bare ground in the evening.
        bare: f64,
    },
    /// What the year's crabgrass leaves in the ground.
    SeedSet {
        /// Viable seed shed, 1/m2.
        seed_m2: f64,
        /// Seed of earlier years that will be left after the winter, 1/m2.
        old_m2: f64,
    },
    /// Dandelion covers more of the lawn than a share, for the first time in the run.
    DandelionPasses {
        /// That share.
        level: f64,
        /// Grown plants, 1/m2.
        plants_m2: f64,
        /// Younger ones, 1/m2.
        seedlings_m2: f64,
    },
    /// The spring's dandelion seed has fallen.
    DandelionSeeds {
        /// Heads that opened this year, 1/m2.
        heads_m2: f64,
        /// Seed that came down on the lawn, its own and the wind's, 1/m2.
        seed_m2: f64,
    },
    /// Most dandelions have died, and leave a gap.
    DandelionDies {
        /// Ground given up, share of the lawn.
        cover: f64,
        /// Plants lost, share of them.
        share: f64,
        /// Bare ground in the evening.
        bare: f64,
    },
    /// Clover covers more of the lawn than a share, for the first time in the run.
    CloverPasses {
        /// That share.
        level: f64,
        /// Nitrogen that it has taken from the air since the first day, g/m2.
        fixed_g_m2: f64,
    },
    /// Most of the clover has died, and leaves a gap.
    CloverDies {
        /// Ground given up, share of the lawn.
        cover: f64,
        /// Stolons lost, share of them.
        share: f64,
        /// Bare ground in the evening.
        bare: f64,
    },
    /// Yellow nutsedge comes up.
    NutsedgeUp {
        /// Soil temperature at 10 cm, degrees C.
        soil_c: f64,
        /// Tubers that have not sprouted, 1/m2.
        tubers_m2: f64,
    },
    /// Yellow nutsedge covers more of the lawn than a share, for the first time in the year.
    NutsedgePasses {
        /// That share.
        level: f64,
        /// Shoots, 1/m2.
        shoots_m2: f64,
        /// How far it stands above the turf, mm.
        above_mm: f64,
    },
    /// Frost kills the tops of yellow nutsedge.
    NutsedgeKilled {
        /// The night's low, degrees C.
        t_min_c: f64,
        /// Ground that it gave up, share of the lawn.
        cover: f64,
        /// Tubers in the ground, 1/m2.
        tubers_m2: f64,
    },
    /// Rain or irrigation took much of a spray off the leaves.
    SprayWashed {
        /// Days since the spray.
        days: u32,
        /// Water of the day, mm.
        water_mm: f64,
        /// Share of the spray that it took.
        lost: f64,
    },
    /// A spray has gone in, and what it will kill is settled; a weed that did not stand is none.
    SprayTakes {
        /// Days since the spray.
        days: u32,
        /// What went in, over what goes in on a mild dry day.
        taken: f64,
        /// Share of crabgrass plants that will die.
        crabgrass: Option<f64>,
        /// Share of crabgrass plants that had tillered.
        tillered: f64,
        /// Share of dandelions that will die, root and all.
        dandelion: Option<f64>,
        /// Share of clover.
        clover: Option<f64>,
        /// Share of nutsedge shoots, tuber and all.
        nutsedge: Option<f64>,
        /// Turf leaf that browns, share.
        turf: f64,
    },
    /// Turf spread into bare ground.
    TurfFilled {
        /// When it was thinnest.
        since: Day,
        /// Turf cover then and now.
        from: f64,
        /// See `from`.
        to: f64,
        /// Bare ground then and now.
        bare_from: f64,
        /// See `bare_from`.
        bare_to: f64,
    },
    /// Turf lost ground.
    TurfThinned {
        /// When it was thickest.
        since: Day,
        /// Turf cover then and now.
        from: f64,
        /// See `from`.
        to: f64,
        /// What took it, share of the lawn each.
        losses: Losses,
    },
    /// A mowing.
    Cut {
        /// Height of the canopy before, mm.
        from_mm: f64,
        /// Height of cut, mm.
        to_mm: f64,
        /// Share of the green blade that was taken.
        leaf: f64,
        /// Turf that opened for it, share of the lawn.
        cover_lost: f64,
    },
    /// A storm runs off.
    Storm {
        /// Rain and melt, mm.
        rain_mm: f64,
        /// What ran off, mm.
        runoff_mm: f64,
    },
    /// Growth all but stops for want of water.
    GrowthStops {
        /// Share of the root zone's available water that is left.
        soil_water: f64,
        /// Days since 5 mm fell.
        dry_days: u32,
    },
    /// Leaf turns brown.
    Browns {
        /// Share of the turf that is still green.
        green: f64,
        /// Whether want of water did most of it; else heat.
        dry: bool,
        /// Share of the root zone's available water that is left.
        soil_water: f64,
        /// Mean high of the last week, degrees C.
        t_max_c: f64,
    },
    /// The turf goes dormant.
    Dormant {
        /// Share of the turf that is still green.
        green: f64,
        /// Share of the root zone's available water that is left.
        soil_water: f64,
        /// Days since 5 mm fell.
        dry_days: u32,
    },
    /// It wakes.
    Wakes {
        /// Days that it was dormant.
        days: u32,
        /// Water of the last week, mm.
        water_mm: f64,
    },
    /// It is green again after browning.
    GreenAgain {
        /// Days since it browned.
        days: u32,
        /// Water of the last week, mm.
        water_mm: f64,
    },
    /// Nitrate leached below 1 m.
    Leached {
        /// Last day of the spell; the first is the note's.
        until: Day,
        /// Nitrogen, g/m2.
        n_g_m2: f64,
        /// Water that drained, mm.
        drained_mm: f64,
    },
    /// Nitrogen was laid on a lawn that was already about as green as nitrogen makes it.
    FedWhenGreen {
        /// Nitrogen, g/m2.
        n_g_m2: f64,
        /// Colour that more nitrogen could show, points of the scale from 1 to 9.
        colour_short: f64,
    },
    /// A storm washes fertilizer off.
    WashedOff {
        /// Nitrogen, g/m2.
        n_g_m2: f64,
        /// Rain, mm.
        rain_mm: f64,
        /// What ran off, mm.
        runoff_mm: f64,
    },
    /// Urea on the surface was lost as ammonia.
    Ammonia {
        /// Nitrogen, g/m2.
        n_g_m2: f64,
        /// Quick nitrogen that was laid as urea, g/m2.
        laid_g_m2: f64,
        /// Days that it lay.
        days: u32,
    },
    /// Quick fertilizer that lay on the turf in heat has burned leaf.
    Burned {
        /// Green leaf, share.
        leaf: f64,
        /// Quick nitrogen that lay when it began, g/m2.
        n_g_m2: f64,
        /// The hottest day's high, degrees C.
        t_max_c: f64,
        /// Days from the first to the last.
        days: u32,
        /// Turf that opened, share of the lawn.
        cover_lost: f64,
    },
    /// Wheels and feet have crushed leaf.
    Tracks {
        /// Green turf that browned, share of the lawn.
        browned: f64,
        /// Turf that opened, share of the lawn.
        opened: f64,
        /// Mowings that it took.
        visits: u32,
        /// What made it weak, at the last of them.
        by: Tread,
    },
    /// Seed was sown over a barrier that stops grass too.
    SownOnBarrier {
        /// Share of emerging grass that it stops today.
        stopped: f64,
    },
    /// Half of the sown seed that has not died is up.
    SownUp {
        /// Days since the last of it was sown.
        days: u32,
        /// Seedlings that came up since, 1/m2.
        seedlings_m2: f64,
        /// Share of emerging grass that a barrier stops today.
        stopped: f64,
    },
    /// Turf is short of nitrogen.
    Hungry {
        /// Growth over that of well-fed turf, 0..=1.
        growth: f64,
    },
    /// Turf greens after feeding.
    Greens {
        /// Days since it was fed.
        days: u32,
        /// Nitrogen laid, g/m2.
        n_g_m2: f64,
        /// Colour before, 1-9.
        from: f64,
        /// Colour now, 1-9.
        to: f64,
    },
    /// Nitrogen that the year's clippings carried back.
    ClippingsGaveBack {
        /// In clippings left on the lawn, g/m2.
        n_g_m2: f64,
        /// Laid as fertilizer in the year, g/m2.
        laid_g_m2: f64,
    },
    /// Quality comes to stand on the other side of acceptable.
    QualityPasses {
        /// Whether it is acceptable now.
        up: bool,
        /// What it is, 1-9.
        quality: f64,
        /// What moved it most in the two weeks before.
        by: Part,
    },
}

/// Parts of a quality rating.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// How dense the stand is.
    Density,
    /// How even: weeds, bare ground, stubble, clumps, shagginess.
    Evenness,
    /// How green.
    Colour,
}

/// What makes leaf break under wheels and feet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tread {
    /// Want of water.
    Wilted,
    /// Frost.
    Frosted,
}

/// Turf cover lost by what took it, share of the lawn each.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Losses {
    /// Standing drought.
    pub drought: f64,
    /// Reserves run out.
    pub hunger: f64,
    /// Heat.
    pub heat: f64,
    /// Summer blight.
    pub blight: f64,
    /// Crabgrass.
    pub crabgrass: f64,
    /// Mowing: scalping, cuts under stress, clumps, wheels.
    pub mowing: f64,
    /// Fertilizer burn.
    pub burn: f64,
}

impl Losses {
    /// The sum.
    pub fn total(&self) -> f64 {
        self.drought
            + self.hunger
            + self.heat
            + self.blight
            + self.crabgrass
            + self.mowing
            + self.burn
    }

    pub(super) fn add(&mut self, more: &Losses) {
        self.drought += more.drought;
        self.hunger += more.hunger;
        self.heat += more.heat;
        self.blight += more.blight;
        self.crabgrass += more.crabgrass;
        self.mowing += more.mowing;
        self.burn += more.burn;
    }
}
