"""Fits an exponentially modified Gaussian on a straight baseline with scipy: writes emg-fit.json.

The data are a peak of known parameters plus fixed pseudo-random noise (a linear congruential generator, sums of
twelve), rounded to 1e-4; scipy.optimize.curve_fit (MINPACK, BSD-3) finds the parameters and their standard errors.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy.optimize import curve_fit
from scipy.special import erfcx


def model(t, area, mean, sigma, tau, level, slope):
    z = (sigma / tau - (t - mean) / sigma) / np.sqrt(2)
    return area / (2 * tau) * np.exp(-(((t - mean) / sigma) ** 2) / 2) * erfcx(z) + level + slope * t


state = 20


def noise():
    global state
    total = -6.0
    for _ in range(12):
        state = (1664525 * state + 1013904223) % 2**32
        total += state / 2**32
    return total


time = [round(4.6 + 0.005 * i, 6) for i in range(200)]
true = [8.0, 4.95, 0.05, 0.06, 1.2, -0.1]
signal = [round(float(model(t, *true)) + 0.2 * noise(), 4) for t in time]
start = [7.0, 4.97, 0.06, 0.04, 1.0, 0.0]
found, covariance = curve_fit(model, np.array(time), np.array(signal), p0=start, ftol=1e-15, xtol=1e-15, gtol=1e-15)
rss = float(np.sum((model(np.array(time), *found) - np.array(signal)) ** 2))
path = pathlib.Path(__file__).with_name("emg-fit.json")
path.write_text(
    json.dumps(
        {
            "scipy": scipy.__version__,
            "time": time,
            "signal": signal,
            "start": start,
            "parameters": found.tolist(),
            "standardErrors": np.sqrt(np.diag(covariance)).tolist(),
            "residualSumOfSquares": rss,
        }
    )
    + "\n"
)
print(found, rss)
