//! Turning points of sprays and nutsedge say what the lawn shows.

use sim::lawn::turning::{Note, Notes, Turning};
use sim::lawn::{LawnDraw, Setting, State};
use sim::parameters::{Catalogue, POSTS};
use sim::scenario::{Compaction, Grass, HydrologicGroup, Lawn, Soil, Uncertain};
use sim::weather::{Site, Sky, read_daily_csv, skies};
use sim::work::{Act, Clippings, PostId, Reach};

/// A thin, low-cut fescue lawn with crabgrass and nutsedge.
fn lawn() -> (Setting, State, Vec<Sky>) {
    let facts = Lawn {
        area_m2: 400.0,
        slope: 0.02,
        sun: 1.0,
        soil: Soil {
            sand: 0.40,
            clay: 0.20,
            organic_matter: Uncertain::Exact(0.03),
            topsoil_mm: 150.0,
            compaction: Compaction::None,
            hydrologic_group: HydrologicGroup::B,
            ph: None,
            test: None,
        },
        grasses: vec![(Grass::TallFescue, 1.0)],
        turf_cover: Uncertain::Exact(0.6),
        crabgrass_last_august: Uncertain::Exact(0.3),
        seed_bank_m2: None,
        dandelion: None,
        clover: None,
        nutsedge: Some(Uncertain::Exact(0.2)),
        irrigation_efficiency: 1.0,
    };
    let draw = LawnDraw {
        turf_cover: 0.6,
        crabgrass_last_august: 0.3,
        seed_bank_m2: Some(2000.0),
        organic_matter: 0.03,
        nutsedge: Some(0.2),
        ..LawnDraw::expected(&facts)
    };
    let p = Catalogue::embedded().central();
    let setting = Setting::new(&p, &draw);
    let state = State::initial(&setting, &draw);
    let text = include_str!("../../scenarios/weather/jfk_2012_2015.csv");
    let site = Site { latitude_deg: 40.639, elevation_m: 3.0 };
    let record = read_daily_csv(text, "jfk", Some(site)).expect("the carried record reads").record;
    let sky = skies(
        &record.days,
        record.first,
        &record.site,
        record.anemometer_m,
        &p.weather,
        &mut || 0.5,
    );
    (setting, state, sky)
}

/// Plays a year with a spray on a day of it; the notes, and every evening.
fn year(name: &str, rate_kg_ha: f64, on: u16, rain_mm: f64) -> (Vec<Note>, Vec<State>) {
    let (setting, mut state, skies) = lawn();
    let post = PostId(POSTS.iter().position(|p| *p == name).expect("known") as u8);
    let mut notes = Notes::new();
    let mut evenings = Vec::new();
    for sky in &skies[..366] {
        let mut sky = *sky;
        let mut acts = Vec::new();
        if (100..300).contains(&sky.day_of_year) && sky.day_of_year % 7 == 0 {
            acts.push(Act::Cut { height_mm: 50.0, clippings: Clippings::Return });
        }
        if (on..on + 3).contains(&sky.day_of_year) {
            let mm = if sky.day_of_year == on { rain_mm } else { 0.0 };
            (sky.precip_mm, sky.water_in_mm) = (mm, mm);
        }
        if sky.day_of_year == on {
            acts.push(Act::Spray { post, rate_kg_ha, reach: Reach::Blanket });
        }
        state.day_told(&setting, &sky, &acts, &mut notes);
        evenings.push(state.clone());
    }
    (notes.finish(), evenings)
}

fn day_of(note: &Note) -> usize {
    usize::from(note.day.day_of_year()) - 1
}

#[test]
fn nutsedge_is_told_as_it_stands() {
    let (notes, evenings) = year("halosulfuron", 0.0, 150, 0.0);
    let mut told = [0; 3];
    for note in &notes {
        let at = day_of(note);
        let cover = |k: usize| evenings[k].nutsedge.cover;
        match note.turning {
            Turning::NutsedgeUp { tubers_m2, .. } => {
                told[0] += 1;
                assert!(evenings[at].nutsedge.emerged >= 1.0);
                assert!(evenings[at - 1].nutsedge.emerged < 1.0);
                assert_eq!(tubers_m2, evenings[at].nutsedge.tubers);
            }
            Turning::NutsedgePasses { level, shoots_m2, .. } => {
                told[1] += 1;
                assert!(cover(at) > level);
                assert!((0..at).all(|k| cover(k) <= level), "{level}");
                assert_eq!(shoots_m2, evenings[at].nutsedge.shoots());
            }
            Turning::NutsedgeKilled { cover: lost, .. } => {
                told[2] += 1;
                assert!((cover(at - 1) - cover(at) - lost).abs() < 1e-12);
            }
            _ => {}
        }
    }
    assert!(told[0] == 1 && told[1] >= 2 && told[2] <= 1, "{told:?}");
}

/// On the third evening it is told what will die, and so much is dead or dying of it.
#[test]
fn a_spray_is_told_when_it_is_settled() {
    for (name, rate) in [("quinclorac", 0.84), ("mesotrione", 0.28), ("halosulfuron", 0.07)] {
        let (notes, evenings) = year(name, rate, 180, 0.0);
        let of: Vec<&Note> =
            notes.iter().filter(|n| matches!(n.turning, Turning::SprayTakes { .. })).collect();
        let [note] = of[..] else { panic!("{name}: told once, not {}", of.len()) };
        let at = day_of(note);
        assert_eq!(at, 179 + 2, "{name}");
        let Turning::SprayTakes { crabgrass, nutsedge, taken, .. } = note.turning else {
            unreachable!()
        };
        assert!((0.8..=1.01).contains(&taken), "{name} {taken}");
        // Weeks on: of those told to die few stand; the others do, but for age, daughters and newcomers.
        let of = |k: usize| (evenings[k].nutsedge.shoots(), evenings[k].nutsedge.emerged);
        let ((stood, up), (stand, up_later)) = (of(at - 1), of(at + 25));
        let dies = nutsedge.expect("nutsedge stood");
        // A seventh of the doomed stands after 25 days at most (1 - exp(-25/14)).
        let left = stood * (1.0 - dies * 0.83) + (up_later - up);
        assert!(stand < 2.0 * left, "{name} {dies} {stand} {left}");
        let plants = |k: usize| evenings[k].weed.plants();
        let dies = crabgrass.expect("crabgrass stood");
        let left = plants(at + 25) / plants(at - 1);
        assert!(left < (1.0 - dies) + 0.25 && left > 0.3 * (1.0 - dies), "{name} {dies} {left}");
    }
}

#[test]
fn what_rain_takes_is_told() {
    let washed = |rain_mm: f64| {
        let (notes, _) = year("2,4-D_mecoprop_dicamba_amine", 1.12, 180, rain_mm);
        notes.iter().find_map(|n| match n.turning {
            Turning::SprayWashed { lost, water_mm, days } => Some((lost, water_mm, days)),
            _ => None,
        })
    };
    assert_eq!(washed(0.0), None);
    let (lost, water_mm, days) = washed(30.0).expect("told");
    assert!((0.15..0.6).contains(&lost) && water_mm == 30.0 && days == 0, "{lost}");
}
