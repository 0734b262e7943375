"""Savitzky-Golay filtering by scipy.signal.savgol_filter (ends by interpolation).

Run: /usr/bin/python3 savgol.py > savgol.json
"""

import json

import numpy as np
from scipy.signal import savgol_filter

t = np.arange(60)
signal = np.round(
    90 * np.exp(-0.5 * ((t - 22) / 3.5) ** 2)
    - 7 * np.exp(-0.5 * ((t - 45) / 6) ** 2)
    + 0.05 * t
    + np.sin(1.7 * t),
    6,
)
step = 0.25
cases = [
    {
        "points": m,
        "polynomial": p,
        "derivative": d,
        "expected": savgol_filter(signal, m, p, deriv=d, delta=step, mode="interp").tolist(),
    }
    for m, p, d in [(5, 1, 0), (5, 2, 0), (9, 3, 0), (25, 2, 0), (59, 5, 0), (7, 1, 1), (9, 4, 1), (11, 2, 2), (15, 5, 3)]
]
print(json.dumps({"step": step, "signal": signal.tolist(), "cases": cases}))
