#!/usr/bin/env python3
# Minimum zones as linear programmes, solved by HiGHS through scipy.optimize.linprog (Debian's python3-scipy); writes
# linear_programmes.json beside itself, which linear_programmes_test.cpp reads. Run by hand when the sets change.
#
# A set is made of whole numbers by a recipe that the test follows too: a generator of whole numbers (the constants of
# MMIX, the upper 31 bits of each state), and for each point x, y and z in that order.
import json
import os

import numpy
import scipy
from scipy.optimize import linprog


def generator(seed):
    state = seed
    while True:
        state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
        yield state >> 33


# What z is made of, beside a scatter of 0 to `scatter` - 1.
SHAPES = {
    "scattered": lambda x, y: 0,
    "bowl": lambda x, y: (x * x + y * y) // 100_000,
    "saddle": lambda x, y: (x * x - y * y) // 100_000,
    "twisted": lambda x, y: x * y // 50_000,
    "tilted": lambda x, y: 3 * x - 7 * y,
}


# Places in um: anywhere on 400 by 160 mm, or in a grid of 1 mm, row by row, 40 a row; of a line only x counts.
def points(shape, layout, count, scatter, seed):
    draw = generator(seed)
    made = []
    for i in range(count):
        if layout == "grid":
            x, y = i % 40 * 1000, i // 40 * 1000
        else:
            x, y = next(draw) % 400_001, next(draw) % 160_001
        if layout == "line":
            y = 0
        made.append((x, y, SHAPES[shape](x, y) + next(draw) % scatter))
    return numpy.array(made, dtype=float)


# Unknowns: slopes a and b, lower plane, room. Places are scaled to 1 and z from its least up, for the solver's sake.
def minimum_zone(made, layout):
    places = made[:, :1] if layout == "line" else made[:, :2]
    places = places / places.max(axis=0)
    z = made[:, 2] - made[:, 2].min()
    size = z.max()
    z = z / size
    one, zero = numpy.ones((len(z), 1)), numpy.zeros((len(z), 1))
    rows = numpy.vstack([numpy.hstack([places, one, zero]), numpy.hstack([-places, -one, -one])])
    bounds = [(None, None)] * (places.shape[1] + 1) + [(0, None)]
    exact = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}
    found = linprog([0] * (places.shape[1] + 1) + [1], rows, numpy.concatenate([z, -z]), bounds=bounds,
                    method="highs-ds", options=exact)
    assert found.status == 0, found.message
    return found.fun * size


def least_squares(made, layout):
    places = made[:, :1] if layout == "line" else made[:, :2]
    middle = places - places.mean(axis=0)
    z = made[:, 2] - made[:, 2].mean()
    slopes = numpy.linalg.lstsq(middle, z, rcond=None)[0]
    return numpy.ptp(z - middle @ slopes)


def main():
    sets = []
    seed = 1
    for layout in ("anywhere", "grid", "line"):
        for shape in SHAPES:
            for count, scatter in ((4, 1000), (12, 50), (50, 7), (300, 1_000_000), (2000, 25)):
                if layout == "line" and shape == "twisted" or layout == "grid" and count < 50:
                    continue  # the same as scattered; no face
                made = points(shape, layout, count, scatter, seed)
                sets.append({"shape": shape, "layout": layout, "count": count, "scatter": scatter, "seed": seed,
                             "minimum_zone": float(minimum_zone(made, layout)),
                             "least_squares": float(least_squares(made, layout))})
                seed += 1
    document = {"solver": f"HiGHS in scipy {scipy.__version__}, LAPACK in numpy {numpy.__version__} (Debian 12)",
                "unit": "um", "sets": sets}
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "linear_programmes.json")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(document, file, indent=1)
        file.write("\n")


if __name__ == "__main__":
    main()
