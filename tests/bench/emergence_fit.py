"""Fits the log-logistic emergence curve to one tray's counts with SciPy, as the engine does, and says how long it takes.

Arguments: cells, then day:up for each inspection. Prints final share, steepness, half day, and the median and the least time of a
fit in seconds.
"""

import sys
import time

import numpy as np
from scipy.optimize import minimize

cells = int(sys.argv[1])
looks = [pair.split(":") for pair in sys.argv[2:]]
days = np.array([float(day) for day, _ in looks])
up = np.array([float(count) for _, count in looks])
newly = np.diff(up, prepend=0.0)
log_days = np.log(days)


def minus_log_likelihood(point):
    share = 1.0 / (1.0 + np.exp(-point[0]))
    curve = share / (1.0 + np.exp(-np.exp(point[1]) * (log_days - point[2])))
    steps = np.diff(curve, prepend=0.0)
    came = newly > 0
    return -np.sum(newly[came] * np.log(steps[came])) - (cells - up[-1]) * np.log(1.0 - curve[-1])


def curvature(point, step=1e-4):
    size = len(point)
    out = np.empty((size, size))
    unit = np.eye(size) * step
    for i in range(size):
        for j in range(size):
            out[i, j] = (
                minus_log_likelihood(point + unit[i] + unit[j])
                - minus_log_likelihood(point + unit[i] - unit[j])
                - minus_log_likelihood(point - unit[i] + unit[j])
                + minus_log_likelihood(point - unit[i] - unit[j])
            ) / (4 * step * step)
    return out


def fitted():
    seen = (up[-1] + 0.5) / (cells + 1.0)
    start = np.array([np.log(seen / (1.0 - seen)), np.log(5.0), np.log(days.mean())])
    found = minimize(minus_log_likelihood, start, method="BFGS")
    return found.x, np.linalg.inv(curvature(found.x))


fitted()
times = []
for _ in range(50):
    before = time.perf_counter()
    point, _ = fitted()
    times.append(time.perf_counter() - before)
print(1.0 / (1.0 + np.exp(-point[0])), np.exp(point[1]), np.exp(point[2]), np.median(times), min(times))
