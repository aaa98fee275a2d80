//! Random numbers: keyed streams, and the transforms of uniform, standard normal and standard
//! exponential draws. A leaf that everyone may use.
//!
//! A stream is found by what it is for, never by when it is asked for: a further member, program,
//! practice or parameter leaves every other draw as it was, and programs face the same luck.
//!
//! Only [`uniform`], [`standard_normal`] and [`standard_exponential`] come from the library. Its
//! other distributions change their last bits with features that another crate may turn on.

use rand::rngs::ChaCha8Rng;
use rand::{Rng, RngExt, SeedableRng};
use rand_distr::{Distribution, Exp1, StandardNormal};

/// What a stream of a member is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// The weather path.
    Weather,
    /// The forecast's errors.
    Forecast,
    /// Uncertain facts of the lawn, one stream a fact.
    Facts,
    /// Constants of the model, one stream a constant.
    Parameters,
    /// Human slips, one stream a practice and week.
    Slips,
    /// The weather after the last look at a lawn.
    Future,
    /// What an analysis of many runs samples, such as orders of practices.
    Analysis,
    /// A crew's look at the lawn, one stream a practice and week.
    Rating,
}

/// All streams of one run.
///
/// ```
/// use sim::draw::{Purpose, Streams, uniform};
///
/// let streams = Streams::new(42);
/// let first = uniform(&mut streams.of_member(7, Purpose::Weather));
/// assert_eq!(first, uniform(&mut Streams::new(42).of_member(7, Purpose::Weather)));
/// ```
#[derive(Clone, Debug)]
pub struct Streams {
    /// The run's seed, spread over the generator's key.
    key: [u8; 32],
    /// Purposes whose luck comes from each member's double, one bit a purpose.
    doubled: u8,
    /// Named things whose luck alone comes from the double.
    exchanged: Vec<(Purpose, u64)>,
}

/// Members are numbered below this; the double of member k is member k of another set.
const DOUBLE: u64 = 1 << 32;

impl Streams {
    /// The streams of a seed.
    pub fn new(seed: u64) -> Streams {
        Streams { key: ChaCha8Rng::seed_from_u64(seed).get_seed(), doubled: 0, exchanged: vec![] }
    }

    /// The same streams, but for these purposes each member has the luck of its double: another
    /// member that nobody else is. Two runs then share exactly what was not doubled.
    pub fn doubled(&self, purposes: &[Purpose]) -> Streams {
        let bits = purposes.iter().fold(self.doubled, |bits, p| bits | 1 << (*p as u8));
        Streams { doubled: bits, ..self.clone() }
    }

    /// The same streams with nobody's double.
    pub fn plain(&self) -> Streams {
        Streams { key: self.key, doubled: 0, exchanged: vec![] }
    }

    /// The same streams, but each member has its double's luck in these named things ([`key`]) alone:
    /// in a fact of the lawn, say, or in a constant.
    pub fn exchanging(&self, things: &[(Purpose, u64)]) -> Streams {
        Streams { exchanged: things.to_vec(), ..self.clone() }
    }

    /// Whether a purpose takes the double's luck.
    pub fn is_doubled(&self, purpose: Purpose) -> bool {
        self.doubled & 1 << (purpose as u8) != 0
    }

    /// A member's stream for one purpose.
    pub fn of_member(&self, member: u32, purpose: Purpose) -> ChaCha8Rng {
        self.keyed(member, purpose, 0, 0)
    }

    /// A member's stream for one named thing ([`key`]) and one number within it, a week say.
    pub fn keyed(&self, member: u32, purpose: Purpose, name: u64, number: i32) -> ChaCha8Rng {
        let other = self.is_doubled(purpose) || self.exchanged.contains(&(purpose, name));
        let double = if other { DOUBLE } else { 0 };
        let whose = ((u64::from(member) | double) << 8) | (purpose as u64 + 1);
        let stream = mix(mix(mix(whose) ^ name) ^ u64::from(number.cast_unsigned()));
        let mut rng = ChaCha8Rng::from_seed(self.key);
        rng.set_stream(stream);
        rng
    }
}

/// A 64-bit key of a name: FNV-1a (offset basis and prime of draft-eastlake-fnv).
pub fn key(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// The finalizer of SplitMix64 (Steele, Lea & Flood 2014, OOPSLA): a bijection in which every
/// input bit moves about half of the output bits.
fn mix(x: u64) -> u64 {
    let x = x.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}

/// Normal and log-normal draws are cut at this many standard deviations: no member may get a
/// constant that nobody would defend. 1.2 % of the mass lies beyond.
pub const CUT_SD: f64 = 2.5;

/// Uniform on 0..1 (1 excluded).
pub fn uniform(rng: &mut impl Rng) -> f64 {
    rng.random::<f64>()
}

/// A whole number below `most`, which is 1 or more.
pub fn below(most: usize, rng: &mut impl Rng) -> usize {
    ((uniform(rng) * most as f64) as usize).min(most.saturating_sub(1))
}

/// Puts a list into an order of which each is as likely (Fisher and Yates 1938, in the form of
/// Durstenfeld 1964).
pub fn shuffle<T>(list: &mut [T], rng: &mut impl Rng) {
    for at in (1..list.len()).rev() {
        list.swap(at, below(at + 1, rng));
    }
}

/// Mean 0, standard deviation 1.
pub fn standard_normal(rng: &mut impl Rng) -> f64 {
    StandardNormal.sample(rng)
}

/// Mean 1.
pub fn standard_exponential(rng: &mut impl Rng) -> f64 {
    Exp1.sample(rng)
}

/// Uniform between two values; `low` where they are equal.
pub fn uniform_between(low: f64, high: f64, rng: &mut impl Rng) -> f64 {
    low + (high - low) * uniform(rng)
}

/// Triangular between `low` and `high` with this mode, by the inverse of its distribution
/// function; `low` where the two ends are equal.
pub fn triangular(low: f64, mode: f64, high: f64, rng: &mut impl Rng) -> f64 {
    let width = high - low;
    let u = uniform(rng);
    if width <= 0.0 {
        return low;
    }
    let rise = mode - low;
    if u * width < rise {
        low + (u * width * rise).sqrt()
    } else {
        high - ((1.0 - u) * width * (high - mode)).sqrt()
    }
}

/// Standard normal cut at [`CUT_SD`]: drawn anew until it lies within.
pub fn cut_normal(rng: &mut impl Rng) -> f64 {
    loop {
        let z = standard_normal(rng);
        if z.abs() <= CUT_SD {
            return z;
        }
    }
}

/// Normal with this mean and standard deviation, cut at [`CUT_SD`].
pub fn normal(mean: f64, sd: f64, rng: &mut impl Rng) -> f64 {
    mean + sd * cut_normal(rng)
}

/// Log-normal with this median and geometric standard deviation (at least 1), cut at [`CUT_SD`].
pub fn log_normal(median: f64, gsd: f64, rng: &mut impl Rng) -> f64 {
    median * (gsd.ln() * cut_normal(rng)).exp()
}

/// Exponential with this mean.
pub fn exponential(mean: f64, rng: &mut impl Rng) -> f64 {
    mean * standard_exponential(rng)
}
