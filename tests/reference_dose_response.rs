//! Log-logistic fits with the model's own dose-response law against scipy's least squares; data,
//! fitted values and the script that made them are in `tests/reference`.

use sim::lawn::barrier::dose_response;
use sim::parameters::Active;

/// b, c, d, e of `y = c + (d - c) / (1 + (x / e)^b)`.
type Law = [f64; 4];

struct Fit {
    name: String,
    data: Vec<(f64, f64)>,
    free: [bool; 4],
    want: Law,
    rss: f64,
}

fn fits() -> Vec<Fit> {
    let number = |cell: &str| cell.parse::<f64>().expect("a number");
    let points: Vec<(&str, f64, f64)> = include_str!("reference/dose_response.csv")
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            (cells[0], number(cells[1]), number(cells[2]))
        })
        .collect();
    include_str!("reference/dose_response_fits.csv")
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let data = points.iter().filter(|p| p.0 == cells[1]).map(|p| (p.1, p.2)).collect();
            let free: Vec<bool> = cells[6].bytes().map(|b| b == b'1').collect();
            Fit {
                name: cells[0].to_owned(),
                data,
                free: free.try_into().expect("four flags"),
                want: [2, 3, 4, 5].map(|i| number(cells[i])),
                rss: number(cells[7]),
            }
        })
        .collect()
}

/// The model's law: the share that is stopped takes the response from d to c.
fn response(x: f64, [b, c, d, e]: Law) -> f64 {
    let active = Active {
        half_life_days: 60.0,
        ed50_kg_ha: e,
        slope: b,
        early_post: 0.0,
        grass_ed50_ratio: 1.0,
    };
    d - (d - c) * dose_response(x, &active)
}

fn rss(data: &[(f64, f64)], law: Law) -> f64 {
    data.iter().map(|(x, y)| (response(*x, law) - y).powi(2)).sum()
}

/// Levenberg-Marquardt with forward differences, over the free ones of the four.
fn least_squares(data: &[(f64, f64)], start: Law, free: [bool; 4]) -> Law {
    let at: Vec<usize> = (0..4).filter(|i| free[*i]).collect();
    let (mut law, mut damping) = (start, 1e-3);
    for _ in 0..500 {
        let mut normal = vec![vec![0.0; at.len() + 1]; at.len()];
        for &(x, y) in data {
            let here = response(x, law);
            let slopes: Vec<f64> = at
                .iter()
                .map(|&i| {
                    let (mut up, mut down) = (law, law);
                    let step = 1e-5 * law[i].abs().max(1e-6);
                    up[i] += step;
                    down[i] -= step;
                    (response(x, up) - response(x, down)) / (2.0 * step)
                })
                .collect();
            for (row, a) in normal.iter_mut().zip(&slopes) {
                for (cell, b) in row.iter_mut().zip(&slopes) {
                    *cell += a * b;
                }
                row[at.len()] += a * (y - here);
            }
        }
        for (i, row) in normal.iter_mut().enumerate() {
            row[i] *= 1.0 + damping;
        }
        let step = solve(normal);
        let mut next = law;
        for (&i, s) in at.iter().zip(&step) {
            next[i] += s;
        }
        if rss(data, next) <= rss(data, law) {
            law = next;
            damping /= 10.0;
        } else {
            damping *= 10.0;
        }
    }
    law
}

/// Gaussian elimination of a symmetric positive system with its right side as the last column.
fn solve(mut m: Vec<Vec<f64>>) -> Vec<f64> {
    let n = m.len();
    for i in 0..n {
        let pivot = m[i].clone();
        for row in &mut m[i + 1..] {
            let share = row[i] / pivot[i];
            for (cell, p) in row.iter_mut().zip(&pivot) {
                *cell -= share * p;
            }
        }
    }
    let mut x = vec![0.0; n];
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|j| m[i][j] * x[j]).sum();
        x[i] = (m[i][n] - known) / m[i][i];
    }
    x
}

/// Fits from a start that is 30-60 % off land on scipy's minimum, to 1e-3 of each value: both stop
/// at far smaller steps, and the fits are well determined.
#[test]
fn fits_of_published_sets_agree() {
    let fits = fits();
    assert_eq!(fits.len(), 5);
    for fit in fits {
        assert!(fit.data.len() >= 6, "{}", fit.name);
        let mut start = fit.want;
        for (i, factor) in [0.7, 0.4, 1.3, 1.6].into_iter().enumerate() {
            if fit.free[i] {
                start[i] *= factor;
            }
        }
        assert!(rss(&fit.data, start) > 1.2 * fit.rss, "{}: the start is no test", fit.name);
        let got = least_squares(&fit.data, start, fit.free);
        for (g, w) in got.iter().zip(fit.want) {
            assert!((g - w).abs() <= 1e-3 * w.abs(), "{}: {got:?} for {:?}", fit.name, fit.want);
        }
        let squares = rss(&fit.data, got);
        assert!((squares / fit.rss - 1.0).abs() < 1e-6, "{}: {squares}", fit.name);
    }
}

/// No dose stops nothing, the ED50 half, and a tenfold dose with slope 1 ten elevenths.
#[test]
fn the_law_has_its_landmarks() {
    let active = Active {
        half_life_days: 60.0,
        ed50_kg_ha: 0.2,
        slope: 1.0,
        early_post: 0.0,
        grass_ed50_ratio: 1.0,
    };
    for (dose, want) in [(0.0, 0.0), (0.2, 0.5), (2.0, 10.0 / 11.0)] {
        assert!((dose_response(dose, &active) - want).abs() < 1e-12, "{dose}");
    }
}
