"""A plain pipeline from scipy: one run per line of JSON in, its peaks per line out.

Asymmetric baseline by reweighted penalised least squares on block means,
find_peaks with a prominence in noise units, one Gaussian smoothing, valleys or
baseline as limits, trapezoids of the raw signal.
"""
import json
import sys

import numpy as np
from scipy import ndimage, signal, sparse
from scipy.sparse.linalg import spsolve


def noise_of(y):
    d = np.diff(y, 2)
    white = np.median(np.abs(d)) / 0.6745 / np.sqrt(6)
    lag = np.median(np.abs(y[12:] - 2 * y[6:-6] + y[:-12])) / 0.6745 / np.sqrt(6)
    return max(white, lag, 1e-12)


def baseline_of(y, blocks=400, stiffness=1e4):
    n = len(y)
    edges = np.linspace(0, n, min(blocks, n // 5) + 1).astype(int)
    means = np.array([np.median(y[a:b]) for a, b in zip(edges[:-1], edges[1:])])
    centres = (edges[:-1] + edges[1:] - 1) / 2
    m = len(means)
    d = sparse.diags([1, -2, 1], [0, 1, 2], shape=(m - 2, m))
    penalty = stiffness * (d.T @ d)
    w = np.ones(m)
    for _ in range(60):
        z = spsolve((sparse.diags(w) + penalty).tocsc(), w * means)
        r = means - z
        s = max(np.median(np.abs(r[w > 0.5] if np.any(w > 0.5) else r)) / 0.6745, 1e-12)
        new = 1 / (1 + np.exp(np.clip(2 * (np.abs(r) - 3 * s) / s, -50, 50)))
        if np.max(np.abs(new - w)) < 1e-3:
            break
        w = new
    return np.interp(np.arange(n), centres, z)


def peaks_of(t, y):
    n = len(y)
    if np.ptp(np.diff(t)) > 0.02 * np.median(np.diff(t)):
        even = np.linspace(t[0], t[-1], n)
        y = np.interp(even, t, y)
        t = even
    noise = noise_of(y)
    base = baseline_of(y)
    c = y - base
    smooth = ndimage.gaussian_filter1d(c, 2.0)
    found = []
    for sign in (1, -1):
        v = sign * smooth
        local = max(noise, np.median(np.abs(c - smooth)) / 0.6745)
        tops, info = signal.find_peaks(v, prominence=7 * local, width=3, height=5 * local)
        floor = 0.3 * local
        for k, top in enumerate(tops):
            left = tops[k - 1] + int(np.argmin(v[tops[k - 1]:top + 1])) if k > 0 else 0
            right = top + int(np.argmin(v[top:tops[k + 1] + 1])) if k + 1 < len(tops) else n - 1
            below = np.nonzero(v[left:top] < floor)[0]
            a = left + int(below[-1]) if len(below) else left
            below = np.nonzero(v[top:right + 1] < floor)[0]
            b = top + int(below[0]) if len(below) else right
            found.append({
                "retentionTime": float(t[top]),
                "height": float(sign * v[top]),
                "area": float(np.trapezoid(c[a:b + 1], t[a:b + 1]) * 60),
                "start": float(t[a]),
                "end": float(t[b]),
                "direction": "up" if sign > 0 else "down",
            })
    return found


if not hasattr(np, "trapezoid"):
    np.trapezoid = np.trapz
for line in sys.stdin:
    run = json.loads(line)
    print(json.dumps(peaks_of(np.array(run["time"]), np.array(run["signal"]))))
