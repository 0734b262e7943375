"""Smoothing by scipy.ndimage (uniform_filter1d, gaussian_filter1d, median_filter) and, for Whittaker's smoother, by a
dense solution of (I + lambda D'D) z = y with numpy.linalg.solve.

Run: /usr/bin/python3 smoothers.py > smoothers.json
"""

import json

import numpy as np
from scipy import ndimage

t = np.arange(120)
signal = np.round(
    90 * np.exp(-0.5 * ((t - 32) / 3.5) ** 2)
    - 7 * np.exp(-0.5 * ((t - 85) / 6) ** 2)
    + 0.05 * t
    + np.sin(1.7 * t),
    6,
)
signal[60] += 40
step = 0.25


def whittaker(bend, differences):
    d = np.diff(np.eye(len(t)), differences, axis=0)
    return np.linalg.solve(np.eye(len(t)) + bend ** (2 * differences) * d.T @ d, signal)


cases = []
# [points] whole windows fit from here to there; what lies outside depends on how ends are treated.
for m in (3, 5, 9, 21):
    cases.append({"method": "moving average", "window": m * step, "ends": m // 2, "expected": ndimage.uniform_filter1d(signal, m).tolist()})
    cases.append({"method": "median", "window": m * step, "ends": m // 2, "expected": ndimage.median_filter(signal, m).tolist()})
for s in (0.5, 1, 2.3, 6):
    cases.append({"method": "gaussian", "sigma": s * step, "ends": int(4 * s + 0.5), "expected": ndimage.gaussian_filter1d(signal, s).tolist()})
for s in (0.5, 2, 10, 100):
    for k in (1, 2):
        cases.append({"method": "whittaker", "sharpestBend": s * step, "differences": k, "ends": 0, "expected": whittaker(s, k).tolist()})
print(json.dumps({"step": step, "signal": signal.tolist(), "cases": cases}, indent=1))
