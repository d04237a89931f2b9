"""Writes bench_rig_calibration.json: the bench rig (invented) pulled to seven readings by a general-purpose library.

The kinematics here are a solver of their own (distances held by scipy.optimize.root), the least squares are those of
scipy.optimize.least_squares with derivatives by differences. Run with: python3 bench_rig_calibration.py
"""

import json
import numpy
import scipy
from scipy.optimize import least_squares, root

# Forward, left, up (mm), as in the example vehicle "bench rig".
POINTS = {
    "upper_arm.front_pivot": [38.0, 112.0, 196.0],
    "upper_arm.rear_pivot": [-38.0, 112.0, 196.0],
    "upper_arm.ball_joint": [-6.0, 262.0, 208.0],
    "lower_arm.front_pivot": [45.0, 60.0, 84.0],
    "lower_arm.rear_pivot": [-45.0, 60.0, 84.0],
    "lower_arm.ball_joint": [4.0, 280.0, 72.0],
    "tie_rod.inner": [-60.0, 78.0, 104.0],
    "tie_rod.outer": [-60.0, 284.0, 98.0],
    "wheel.centre": [0.0, 322.0, 140.0],
    "coilover.upper_mount": [0.0, 160.0, 330.0],
    "coilover.lower_mount": [0.0, 200.0, 86.36],
}
NAMES = list(POINTS)
SURVEY_DEVIATION = 1.0
READING_DEVIATION = 0.5
TRAVELS = [-24.0, -16.0, -8.0, 0.0, 8.0, 16.0, 24.0]
# Invented readings of a steel rule between the mounts.
READINGS = [262.0, 257.5, 252.5, 248.0, 243.0, 238.0, 233.0]


def turned(point, first, second, angle):
    axis = (second - first) / numpy.linalg.norm(second - first)
    arm = point - first
    along = axis * (arm @ axis)
    across = arm - along
    return first + along + across * numpy.cos(angle) + numpy.cross(axis, across) * numpy.sin(angle)


def damper_lengths(points):
    p = {name: numpy.array(point) for name, point in points.items()}
    upright = ["upper_arm.ball_joint", "lower_arm.ball_joint", "tie_rod.outer", "wheel.centre"]
    pairs = [(0, 2), (0, 3), (1, 2), (1, 3), (2, 3), (0, 1)]
    far = lambda one, other: numpy.linalg.norm(one - other)

    def misses(unknown, travel):
        upper = turned(p["upper_arm.ball_joint"], p["upper_arm.front_pivot"], p["upper_arm.rear_pivot"], unknown[0])
        lower = turned(p["lower_arm.ball_joint"], p["lower_arm.front_pivot"], p["lower_arm.rear_pivot"], unknown[1])
        here = [upper, lower, unknown[2:5], unknown[5:8]]
        rows = [far(here[a], here[b]) - far(p[upright[a]], p[upright[b]]) for a, b in pairs]
        rows.append(far(here[2], p["tie_rod.inner"]) - far(p["tie_rod.outer"], p["tie_rod.inner"]))
        rows.append(here[3][2] - p["wheel.centre"][2] - travel)
        return rows

    lengths = []
    for travel in TRAVELS:
        start = numpy.concatenate([[0.0, 0.0], p["tie_rod.outer"], p["wheel.centre"]])
        found = root(misses, start, args=(travel,), method="hybr", tol=1e-13)
        assert numpy.abs(found.fun).max() < 1e-9, found
        lower = turned(
            p["coilover.lower_mount"], p["lower_arm.front_pivot"], p["lower_arm.rear_pivot"], found.x[1]
        )
        lengths.append(far(lower, p["coilover.upper_mount"]))
    return numpy.array(lengths)


def moved(changes):
    shaped = changes.reshape(-1, 3)
    return {name: numpy.array(POINTS[name]) + change for name, change in zip(NAMES, shaped)}


def residuals(changes):
    readings = (damper_lengths(moved(changes)) - numpy.array(READINGS)) / READING_DEVIATION
    return numpy.concatenate([changes / SURVEY_DEVIATION, readings])


solved = least_squares(
    residuals, numpy.zeros(3 * len(NAMES)), jac="3-point", x_scale=1.0, ftol=1e-15, xtol=1e-12, gtol=1e-12
)
covariance = numpy.linalg.inv(solved.jac.T @ solved.jac)
result = {
    "provenance": "invented readings; solved by scipy.optimize.least_squares, kinematics by bench_rig_calibration.py",
    "scipy": scipy.__version__,
    "numpy": numpy.__version__,
    "survey_deviation_mm": SURVEY_DEVIATION,
    "reading_deviation_mm": READING_DEVIATION,
    "travels_mm": TRAVELS,
    "readings_mm": READINGS,
    "surveyed_lengths_mm": list(damper_lengths(moved(numpy.zeros(3 * len(NAMES))))),
    "fitted_lengths_mm": list(damper_lengths(moved(solved.x))),
    "chi_square": 2.0 * solved.cost,
    "changes_mm": {name: list(change) for name, change in zip(NAMES, solved.x.reshape(-1, 3))},
    "deviations_mm": {
        name: list(deviation)
        for name, deviation in zip(NAMES, numpy.sqrt(numpy.diag(covariance)).reshape(-1, 3))
    },
}
with open("bench_rig_calibration.json", "w") as file:
    json.dump(result, file, indent=1)
    file.write("\n")
