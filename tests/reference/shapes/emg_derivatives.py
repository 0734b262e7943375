"""Derivatives of the exponentially modified Gaussian, by 60-digit arithmetic (mpmath): writes emg-derivatives.json.

The definition is the convolution in closed form; the derivatives are mpmath's own numerical ones at 60 digits.
"""

import json
import pathlib

from mpmath import diff, erfc, exp, mp, mpf, npdf, sqrt

mp.dps = 60


def emg(t, mean, sigma, tau):
    if tau == 0:
        return npdf((t - mean) / sigma) / sigma
    if tau < 0:
        return emg(-t, -mean, sigma, -tau)
    z = (sigma / tau - (t - mean) / sigma) / sqrt(2)
    return exp(sigma**2 / (2 * tau**2) - (t - mean) / tau) * erfc(z) / (2 * tau)


rows = []
for tau in ["-2", "-0.05", "1e-9", "1e-5", "0.001", "0.01", "0.0625", "0.125", "0.25", "0.5", "1", "3", "50"]:
    for t in ["-4", "-1.5", "0", "0.25", "1", "2.75", "6"]:
        at = [mpf(t), mpf(0), mpf(1), mpf(tau)]
        # Near tau 0 the closed form cancels: more digits than its exponent has.
        mp.dps = 60 if abs(at[3]) > mpf("0.02") else 400
        if abs(at[3]) < mpf("1e-4"):
            # exp and erfc of 1 / tau² need no digits but a step far below tau.
            mp.dps = 120
        orders = [(0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)]
        values = [emg(*at)] + [diff(emg, tuple(at), order) for order in orders]
        rows.append([float(at[3]), float(at[0])] + [float(v) for v in values])

path = pathlib.Path(__file__).with_name("emg-derivatives.json")
path.write_text(json.dumps({"rows": rows}) + "\n")
