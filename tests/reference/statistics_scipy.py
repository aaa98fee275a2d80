"""Quantiles by numpy, exact binomial intervals and distributions by scipy.

Writes quantiles.csv, odds.csv and distributions.csv beside this script.
"""

import csv
import pathlib

import numpy as np
from scipy import stats

HERE = pathlib.Path(__file__).parent
PROBABILITIES = [0.0, 0.01, 0.05, 0.25, 1.0 / 3.0, 0.5, 0.75, 0.95, 0.99, 1.0]


def write(name, header, rows):
    with (HERE / name).open("w", newline="") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow(header)
        table.writerows(rows)


def quantiles():
    """Type 7 of Hyndman & Fan: numpy's method "linear". Vectors beside their quantiles."""
    rng = np.random.default_rng(20130401)
    vectors = [
        ("one", rng.normal(size=1)),
        ("two", rng.normal(size=2)),
        ("normal", rng.normal(20.0, 5.0, size=7)),
        ("skewed", rng.lognormal(0.0, 1.5, size=20)),
        ("tied", rng.integers(0, 4, size=31).astype(float)),
        ("hundred", rng.exponential(3.0, size=100)),
    ]
    for name, values in vectors:
        values = np.sort(np.round(values, 6))
        text = " ".join(f"{v:.6f}" for v in values)
        for p in PROBABILITIES:
            yield [name, f"{p:.17g}", f"{np.quantile(values, p, method='linear'):.12g}", text]


def odds():
    """Clopper-Pearson 95 % intervals."""
    for n in [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10000]:
        for k in sorted({0, 1, n // 20, n // 10, n // 3, n // 2, (9 * n) // 10, n - 1, n}):
            ci = stats.binomtest(k, n).proportion_ci(confidence_level=0.95, method="exact")
            yield [k, n, f"{ci.low:.12g}", f"{ci.high:.12g}"]


def distributions():
    """Quantiles and densities at them; normals are cut at 2.5 standard deviations."""
    cut = stats.truncnorm(-2.5, 2.5)
    low, mode, high = 1.0, 2.0, 5.0
    gsd, median = 1.8, 3.0

    class LogNormal:
        """median * gsd^z with z the cut normal."""

        def ppf(self, p):
            return median * gsd ** cut.ppf(p)

        def pdf(self, x):
            return cut.pdf(np.log(x / median) / np.log(gsd)) / (x * np.log(gsd))

    named = [
        ("uniform", stats.uniform(-2.0, 5.0)),
        ("triangular", stats.triang((mode - low) / (high - low), low, high - low)),
        ("triangular_left", stats.triang(0.0, low, high - low)),
        ("normal", stats.truncnorm(-2.5, 2.5, loc=10.0, scale=2.0)),
        ("log_normal", LogNormal()),
        ("exponential", stats.expon(scale=4.0)),
    ]
    # Evenly spaced quantiles, fine enough for a Kolmogorov-Smirnov distance as well.
    for name, law in named:
        for p in np.arange(1, 200) / 200.0:
            x = float(law.ppf(p))
            yield [name, f"{p:.3f}", f"{x:.10g}", f"{float(law.pdf(x)):.10g}"]


write("quantiles.csv", ["vector", "p", "quantile", "values"], quantiles())
write("odds.csv", ["hits", "of", "low", "high"], odds())
write("distributions.csv", ["law", "p", "quantile", "density"], distributions())
