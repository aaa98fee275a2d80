"""Log-logistic fits of published dose-response sets by scipy's least squares.

y = c + (d - c) / (1 + (x / e)^b), all responses of equal weight; what is fixed is said below.
Reads dose_response.csv, writes dose_response_fits.csv beside this script.
"""

import csv
import pathlib

import numpy as np
from scipy.optimize import least_squares

HERE = pathlib.Path(__file__).parent

# name, set, where the fit starts (b, c, d, e), which of the four are free
FITS = [
    ("secalonic_4", "secalonic", (2.0, 0.1, 5.0, 0.1), (1, 1, 1, 1)),
    ("secalonic_3", "secalonic", (2.0, 0.0, 5.0, 0.1), (1, 0, 1, 1)),
    ("nasturtium_3", "nasturtium", (1.0, 0.0, 900.0, 2.0), (1, 0, 1, 1)),
    # Shares killed: from d = 0 without a dose towards c = 1.
    ("budworm_male", "budworm_male", (1.0, 1.0, 0.0, 5.0), (1, 0, 0, 1)),
    ("budworm_female", "budworm_female", (1.0, 1.0, 0.0, 9.0), (1, 0, 0, 1)),
]


def law(x, b, c, d, e):
    return c + (d - c) / (1.0 + (x / e) ** b)


with (HERE / "dose_response.csv").open() as text:
    rows = list(csv.DictReader(text))

with (HERE / "dose_response_fits.csv").open("w", newline="") as out:
    table = csv.writer(out, lineterminator="\n")
    table.writerow("fit set b c d e free rss".split())
    for name, which, start, free in FITS:
        x = np.array([float(r["dose"]) for r in rows if r["set"] == which])
        y = np.array([float(r["response"]) for r in rows if r["set"] == which])
        start, mask = np.array(start), np.array(free, dtype=bool)

        def full(p):
            all_four = start.copy()
            all_four[mask] = p
            return all_four

        fit = least_squares(
            lambda p: law(x, *full(p)) - y, start[mask], x_scale=np.abs(start[mask]),
            xtol=1e-14, ftol=1e-14, gtol=1e-14,
        )
        assert fit.success, name
        table.writerow(
            [name, which, *(f"{v:.8g}" for v in full(fit.x)), "".join(map(str, free)),
             f"{2.0 * fit.cost:.8g}"]
        )
