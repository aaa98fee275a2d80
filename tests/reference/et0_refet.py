"""Reference evapotranspiration of a station year by the general library refet (method "asce").

JFK, 2013, from the carried record. What the record lacks is estimated here as FAO-56 advises:
vapour pressure from the lowest temperature (eq 48), radiation from the temperature range (eq 50,
kRs 0.16, at most clear sky), with the library's own extraterrestrial and clear-sky radiation.
Writes et0_refet.csv beside this script.
"""

import csv
import datetime
import math
import pathlib

import numpy as np
import refet
from refet import calcs

HERE = pathlib.Path(__file__).parent
RECORD = HERE.parent.parent / "scenarios" / "weather" / "jfk_2012_2015.csv"
LATITUDE_DEG, ELEVATION_M, ANEMOMETER_M, KRS = 40.639, 3.0, 10.0, 0.16

with RECORD.open() as text:
    rows = [row for row in csv.DictReader(text) if row["date"].startswith("2013")]
t_min, t_max, wind = (
    np.array([float(row[key]) for row in rows]) for key in ("tmin_c", "tmax_c", "wind_m_s")
)
doy = np.array([datetime.date.fromisoformat(row["date"]).timetuple().tm_yday for row in rows])

ra = calcs.ra_daily(np.full(len(rows), math.radians(LATITUDE_DEG)), doy, "asce")
rso = calcs.rso_simple(ra, ELEVATION_M)
rs = np.minimum(KRS * np.sqrt(t_max - t_min) * ra, rso)
ea = calcs.sat_vapor_pressure(t_min)
day = refet.Daily(
    tmin=t_min, tmax=t_max, ea=ea, rs=rs, uz=wind, zw=ANEMOMETER_M, elev=ELEVATION_M,
    lat=LATITUDE_DEG, doy=doy, method="asce",
)
et0 = day.eto()

# ASCE takes Rs/Rso as 0.3 at least, FAO-56 does not: the same library's parts without that floor.
day.rnl = calcs.rnl_daily(t_max, t_min, ea, 1.35 * rs / rso - 0.35)
day.rn = calcs.rn_daily(rs, day.rnl)
et0_no_floor = day.eto()

with (HERE / "et0_refet.csv").open("w", newline="") as out:
    table = csv.writer(out, lineterminator="\n")
    table.writerow("date tmin_c tmax_c wind_10m_m_s rs_mj_m2 et0_mm et0_no_floor_mm".split())
    for i, row in enumerate(rows):
        table.writerow(
            [row["date"], t_min[i], t_max[i], wind[i], f"{rs[i]:.5f}", f"{et0[i]:.5f}",
             f"{et0_no_floor[i]:.5f}"]
        )
