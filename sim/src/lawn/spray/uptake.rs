//! How a spray goes from the outside of a leaf into the plant: rain, cold and time against it.

use crate::parameters::{Post, Spray};

/// Hours in a day.
const DAY_H: f64 = 24.0;

/// Where a spray is, as shares of what fell on the leaf.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub(super) struct Uptake {
    /// On the leaf.
    outside: f64,
    /// In the leaf.
    inside: f64,
    /// Gone on to crown and growing points.
    moved: f64,
}

/// Share of full pace at which a herbicide goes in on a day of this mean temperature, 0..=1.
fn warmth(post: &Post, t_mean_c: f64) -> f64 {
    ((t_mean_c - post.cool_c) / (post.warm_c - post.cool_c)).clamp(0.0, 1.0)
}

impl Uptake {
    /// All of it on the leaf.
    pub(super) fn on_leaf() -> Uptake {
        Uptake { outside: 1.0, ..Uptake::default() }
    }

    /// Share that is still on or in the leaf, of what has not been lost, 0..=1.
    pub(super) fn in_leaf_share(&self) -> f64 {
        let all = self.outside + self.inside + self.moved;
        if all > 0.0 { (self.outside + self.inside) / all } else { 0.0 }
    }

    /// Share that has come to where it kills.
    pub(super) fn moved(&self) -> f64 {
        self.moved
    }

    /// One day from `from_h` on. What lies outside goes in and dries up, both in proportion to what
    /// is left: so that `rain_free_share` of it is in, on a warm day, by the labelled rain-free
    /// hours. Water falls at an hour that nobody knows; what falls before `from_h` does no harm.
    /// Returns the share of the spray that it takes, as a mean over the hours.
    pub(super) fn day(
        &mut self,
        p: &Spray,
        post: &Post,
        t_mean_c: f64,
        from_h: f64,
        water_mm: f64,
    ) -> f64 {
        let warm = warmth(post, t_mean_c);
        let hours = DAY_H - from_h;
        let uptake = warm * -(1.0 - p.rain_free_share).ln() / post.rain_free_h;
        let pace = uptake + std::f64::consts::LN_2 / p.leaf_half_life_h;
        let left = (-pace * hours).exp();
        // On a day with water: what lies outside when it comes, and what of it is washed off.
        let found = (1.0 - left) / (pace * hours);
        let wash = 1.0 - (-water_mm.max(0.0) / p.wash_mm).exp();
        let wet = hours / DAY_H * wash;
        let out = self.outside;
        let washed = out * wet * found;
        self.inside += out * uptake / pace * ((1.0 - left) - wet * (found - left));
        self.outside = out * left * (1.0 - wet);
        let moving = self.inside * (1.0 - (-p.movement * warm * hours / DAY_H).exp());
        self.inside -= moving;
        self.moved += moving;
        washed
    }
}

/// What moves of a spray on a mild dry day and the two after: the measure of a good one.
pub(super) fn best(p: &Spray, post: &Post) -> f64 {
    let mut uptake = Uptake::on_leaf();
    for day in 0..super::DAYS_IN {
        let from_h = if day == 0 { p.hour } else { 0.0 };
        uptake.day(p, post, post.warm_c, from_h, 0.0);
    }
    uptake.moved
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parameters::{Catalogue, Parameters};

    fn constants() -> Parameters {
        Catalogue::embedded().central()
    }

    /// What goes in of the best, with rain of some depth on some day, at a mean temperature.
    fn taken(p: &Parameters, post: usize, t_c: f64, rain_mm: [f64; 3]) -> f64 {
        let mut uptake = Uptake::on_leaf();
        for (day, mm) in rain_mm.into_iter().enumerate() {
            let from_h = if day == 0 { p.spray.hour } else { 0.0 };
            uptake.day(&p.spray, &p.posts[post], t_c, from_h, mm);
        }
        uptake.moved() / best(&p.spray, &p.posts[post])
    }

    /// By the labelled hours `rain_free_share` of what goes in is in: rain after them takes little.
    #[test]
    fn rain_free_hours_are_those_of_the_label() {
        let p = constants();
        for post in &p.posts {
            let uptake = -(1.0 - p.spray.rain_free_share).ln() / post.rain_free_h;
            let dry = (-uptake * post.rain_free_h).exp();
            assert!((dry - (1.0 - p.spray.rain_free_share)).abs() < 1e-12);
        }
    }

    /// Rain on the day of the spray takes more of a slow herbicide than of a fast one, rain on the
    /// next day less, and a drizzle less than a storm.
    #[test]
    fn rain_takes_what_is_not_in() {
        let p = constants();
        let (amine, ester) = (0, 1);
        let storm = [25.0, 0.0, 0.0];
        assert!((taken(&p, amine, 25.0, [0.0; 3]) - 1.0).abs() < 1e-12);
        assert!(taken(&p, amine, 25.0, storm) < 0.75);
        assert!(taken(&p, ester, 25.0, storm) > taken(&p, amine, 25.0, storm) + 0.1);
        assert!(taken(&p, amine, 25.0, [0.0, 25.0, 0.0]) > taken(&p, amine, 25.0, storm));
        assert!(taken(&p, amine, 25.0, [1.0, 0.0, 0.0]) > taken(&p, amine, 25.0, storm));
    }

    /// In cool air an ester goes in where an amine hardly does (Purdue; Cornell).
    #[test]
    fn esters_go_in_where_amines_do_not() {
        let p = constants();
        assert!(taken(&p, 1, 9.0, [0.0; 3]) > 1.3 * taken(&p, 0, 9.0, [0.0; 3]));
        assert_eq!(taken(&p, 0, 2.0, [0.0; 3]), 0.0);
    }
}
