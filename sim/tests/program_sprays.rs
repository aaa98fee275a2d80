//! Sprays on standing weeds through the crew: when they are made, on what ground, and what they take.
mod toy;

use sim::calendar::Day;
use sim::draw::Streams;
use sim::program::{Job, Orders, Runner, ground, toll, toll_on};
use sim::scenario::*;
use sim::work::{Act, Fate, PostId, Reach, Signs, Sought, Stand, Weed, Why};
use toy::*;

fn spray(spots: bool) -> What {
    let weeds = vec![Weed::Crabgrass];
    What::Spray(Spray {
        post: PostId(5),
        rate_kg_ha: 0.84,
        spots,
        sought: Sought::of(weeds.iter().copied()),
        weeds,
        volume_ml_m2: 40.7,
        product: Product {
            name: "quinclorac 75 %".into(),
            amount_per_m2: 0.112,
            liquid: false,
            price_per_m2: 0.016,
        },
        label_read: false,
    })
}

fn close(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-9, "{got} is not {want}");
}

/// A season of one program; what was done each day, and the setbacks.
fn played(
    practices: Vec<Practice>,
    slips: &Slips,
    signs: impl Fn(Day) -> Signs,
) -> (Vec<(Day, Job)>, Vec<sim::work::Setback>) {
    let program = program("p", practices);
    let (first, last) = (day(2026, 1, 1), day(2026, 12, 31));
    let orders = Orders::new(&program, &lawn(), slips, first, last).under(&crew());
    let streams = Streams::new(3);
    let mut runner = Runner::new(&orders, &streams, 1);
    let (mut log, mut jobs) = (Vec::new(), Vec::new());
    for n in first.0..=last.0 {
        jobs.clear();
        runner.morning(Day(n), &signs(Day(n)), &fair(), &mut jobs);
        log.extend(jobs.iter().map(|job| (Day(n), *job)));
    }
    (log, runner.setbacks())
}

fn weedy(cover: f64) -> Signs {
    Signs { crabgrass: cover, ..mild() }
}

fn days(log: &[(Day, Job)], practice: u16) -> Vec<Day> {
    log.iter().filter(|(_, job)| job.practice == practice).map(|(day, _)| *day).collect()
}

/// Spots take product, minutes and money for the ground that they go on, a margin around what is
/// found included; the whole lawn is walked.
#[test]
fn spots_take_what_their_ground_takes() {
    let dated = Cue::Dates(vec![on(6, 15)]);
    let (log, _) =
        played(vec![practice("s", spray(true), dated.clone())], &NO_SLIPS, |_| weedy(0.05));
    let job = log[0].1;
    // 80 % of 5 % found, and as much again around it.
    close(job.ground, 0.08);
    assert_eq!(
        job.act,
        Act::Spray { post: PostId(5), rate_kg_ha: 0.84, reach: Reach::Spots { found: 0.8 } }
    );
    let spots = toll(&crew(), &lawn(), &spray(true), &job);
    // 500 m2: walked at 1 minute a 100 m2, 40 m2 sprayed at 10.
    close(spots.minutes, 5.0 + 4.0);
    close(spots.cost, 9.0 * 0.75 + 0.016 * 40.0);
    let (log, _) = played(vec![practice("s", spray(false), dated)], &NO_SLIPS, |_| weedy(0.05));
    let job = log[0].1;
    assert!(matches!(job.act, Act::Spray { reach: Reach::Blanket, .. }));
    let blanket = toll(&crew(), &lawn(), &spray(false), &job);
    close(blanket.minutes, 2.2 * 5.0);
    close(blanket.cost, 11.0 * 0.75 + 0.016 * 500.0);
    // A strip beside water that gets none.
    close(toll_on(0.75, blanket, &job).cost, 0.75 * blanket.cost);
    close(ground(0.75, &job), 0.75);
}

/// More weeds than the lawn has room for around them: no more ground than the lawn.
#[test]
fn no_spots_are_larger_than_the_lawn() {
    let dated = Cue::Dates(vec![on(6, 15)]);
    let (log, _) = played(vec![practice("s", spray(true), dated)], &NO_SLIPS, |_| weedy(0.9));
    close(log[0].1.ground, 1.0);
}

/// Laid rates scatter around what was meant, as a barrier's do, and product is paid as laid.
#[test]
fn rates_slip_as_a_barriers_do() {
    let all: Vec<_> = (1..=28).map(|d| on(6, d)).collect();
    let program = program("p", vec![practice("s", spray(false), Cue::Dates(all))]);
    let slips = Slips { rate_cv: 0.15, ..NO_SLIPS };
    let orders = Orders::new(&program, &lawn(), &slips, day(2026, 1, 1), day(2026, 12, 31));
    let streams = Streams::new(3);
    let mut laid = Vec::new();
    for member in 0..200 {
        let mut runner = Runner::new(&orders, &streams, member);
        let mut jobs = Vec::new();
        runner.morning(day(2026, 6, 1), &weedy(0.1), &fair(), &mut jobs);
        let Act::Spray { rate_kg_ha, .. } = jobs[0].act else { panic!("{:?}", jobs[0]) };
        close(rate_kg_ha, 0.84 * jobs[0].rate_factor);
        laid.push(rate_kg_ha / 0.84);
    }
    let mean = laid.iter().sum::<f64>() / 200.0;
    let sd = (laid.iter().map(|r| (r - mean).powi(2)).sum::<f64>() / 199.0).sqrt();
    assert!((mean - 1.0).abs() < 0.04 && (sd - 0.15).abs() < 0.03, "{mean} {sd}");
}

#[test]
fn weeds_call_the_crew_and_not_before_the_gap() {
    let cue = Cue::WeedCover {
        stand: Stand::Crabgrass,
        at_least: 0.03,
        from: on(6, 1),
        to: on(7, 31),
        min_gap_days: 21,
    };
    let seen = day(2026, 6, 10);
    let signs = |today: Day| weedy(if today < seen { 0.029 } else { 0.03 });
    let (log, _) = played(vec![practice("s", spray(true), cue)], &NO_SLIPS, signs);
    assert_eq!(days(&log, 0), [seen, seen.plus(21), seen.plus(42)]);
}

#[test]
fn each_stand_is_read_by_its_own_sign() {
    let signs = Signs { crabgrass: 0.1, broadleaf: 0.2, nutsedge: 0.4, ..mild() };
    let covers = Stand::ALL.map(|stand| stand.cover(&signs));
    assert_eq!(covers, [0.1, 0.2, 0.4]);
    close(Sought::of([Weed::Clover, Weed::Dandelion]).cover(&signs), 0.2);
    close(Sought::of([Weed::Crabgrass, Weed::Nutsedge]).cover(&signs), 0.5);
}

/// A lawn without weeds to speak of is left, and that is no lost work.
#[test]
fn nothing_to_spray_is_not_needed() {
    let mut spray = practice("s", spray(false), Cue::Dates(vec![on(6, 15)]));
    spray.holds.push(Hold::NothingToSpray { below: 0.01 });
    let (log, setbacks) = played(vec![spray.clone()], &NO_SLIPS, |_| weedy(0.01));
    assert!(log.is_empty());
    assert_eq!((setbacks[0].fate, setbacks[0].why), (Fate::NotNeeded, Why::FewWeeds));
    let (log, setbacks) = played(vec![spray], &NO_SLIPS, |_| weedy(0.011));
    assert_eq!((log.len(), setbacks.len()), (1, 0));
}

/// Two days between mower and spray, both ways, and the log says what stood in the way.
#[test]
fn mower_and_spray_keep_apart() {
    let mut cut = practice("mow", mow(), Cue::Dates(vec![on(6, 14), on(6, 17)]));
    cut.holds.push(Hold::SprayedWithin { days: 2 });
    let mut spray = practice("s", spray(false), Cue::Dates(vec![on(6, 15)]));
    spray.holds.push(Hold::MownWithin { days: 2 });
    let (log, setbacks) = played(vec![cut, spray], &NO_SLIPS, |_| weedy(0.1));
    // Mown on the 14th: sprayed on the 16th. The mowing of the 17th waits until the 18th.
    assert_eq!(days(&log, 1), [day(2026, 6, 16)]);
    assert_eq!(days(&log, 0), [day(2026, 6, 14), day(2026, 6, 18)]);
    let whys: Vec<Why> = setbacks.iter().map(|setback| setback.why).collect();
    assert_eq!(whys, [Why::Mown, Why::Sprayed]);
}

/// Closed to pesticides is closed to sprays too.
#[test]
fn a_closed_season_for_pesticides_holds_sprays() {
    let program = program("p", vec![practice("s", spray(false), Cue::Dates(vec![on(6, 15)]))]);
    let rules = LocalRules {
        place: "here".into(),
        pesticide_closed: vec![(on(6, 10), on(6, 18))],
        ..LocalRules::default()
    };
    let (first, last) = (day(2026, 1, 1), day(2026, 12, 31));
    let orders = Orders::new(&program, &lawn(), &NO_SLIPS, first, last).obeying(&rules, &lawn());
    let streams = Streams::new(3);
    let mut runner = Runner::new(&orders, &streams, 1);
    let mut jobs = Vec::new();
    let mut done = Vec::new();
    for n in first.0..=last.0 {
        jobs.clear();
        runner.morning(Day(n), &weedy(0.1), &fair(), &mut jobs);
        done.extend(jobs.iter().map(|_| Day(n)));
    }
    assert_eq!(done, [day(2026, 6, 19)]);
    let told = runner.setbacks();
    assert_eq!(told[0].why, Why::PesticideClosed);
}
