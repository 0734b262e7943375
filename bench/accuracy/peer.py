"""A plain pipeline from scipy: one run per line of JSON in, its peaks per line out.

Noise from second differences at several lags, a median filter for spikes,
find_peaks with a prominence in noise units, a baseline by reweighted penalised
least squares on block medians that leaves out what was found, valleys or the
baseline as limits, trapezoids of the signal. Three simple rules set apart void
swings, spikes and steps. Settled by hand on development seeds.
"""
import json
import sys

import numpy as np
from scipy import ndimage, signal, sparse
from scipy.sparse.linalg import spsolve


def noise_of(y):
    """Standard deviation, from second differences at growing lags: white, correlated, wandering."""
    size = 0.0
    for lag in (1, 3, 6, 12):
        d = y[2 * lag:] - 2 * y[lag:-lag] + y[:-2 * lag]
        size = max(size, np.median(np.abs(d)) / 0.6745 / np.sqrt(6))
    steps = np.abs(np.diff(y))
    moved = steps[steps > 0]
    if len(moved) < 0.9 * len(steps):
        size = max(size, 0.6 * np.min(moved))
    return max(size, 1e-12)


def without_spikes(y, noise):
    middle = ndimage.median_filter(y, 9)
    off = np.abs(y - middle) > 8 * noise
    # a peak moves many neighbours, a spike at most four
    label, count = ndimage.label(off)
    sizes = ndimage.sum(off, label, np.arange(1, count + 1)) if count else []
    out = y.copy()
    for k in range(count):
        if sizes[k] <= 4:
            out[label == k + 1] = middle[label == k + 1]
    return out


def baseline_of(y, covered=None, blocks=400, stiffness=1e4):
    n = len(y)
    edges = np.linspace(0, n, min(blocks, n // 5) + 1).astype(int)
    means = np.array([np.median(y[a:b]) for a, b in zip(edges[:-1], edges[1:])])
    centres = (edges[:-1] + edges[1:] - 1) / 2
    m = len(means)
    d = sparse.diags([1, -2, 1], [0, 1, 2], shape=(m - 2, m))
    penalty = stiffness * (d.T @ d)
    free = np.ones(m)
    if covered is not None:
        free = np.array([0.0 if np.any(covered[a:b]) else 1.0 for a, b in zip(edges[:-1], edges[1:])])
    if free.sum() < 5:
        free[:] = 1
    w = free.copy()
    for _ in range(60):
        z = spsolve((sparse.diags(w + 1e-9) + penalty).tocsc(), (w + 1e-9) * means)
        r = means - z
        s = max(np.median(np.abs(r[w > 0.5] if np.any(w > 0.5) else r)) / 0.6745, 1e-12)
        new = 1 / (1 + np.exp(np.clip(2 * (np.abs(r) - 3 * s) / s, -50, 50)))
        new = new * free
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
    y = without_spikes(y, noise)
    covered = None
    for _ in range(2):
        base = baseline_of(y, covered)
        c = y - base
        smooth = ndimage.gaussian_filter1d(c, 2.0)
        candidates = []
        for sign in (1, -1):
            v = sign * smooth
            tops, info = signal.find_peaks(v, prominence=5.5 * noise, height=4 * noise)
            widths = signal.peak_widths(v, tops, rel_height=0.5)[0] if len(tops) else []
            floor = 0.1 * noise
            for k, top in enumerate(tops):
                left = tops[k - 1] + int(np.argmin(v[tops[k - 1]:top + 1])) if k > 0 else 0
                right = top + int(np.argmin(v[top:tops[k + 1] + 1])) if k + 1 < len(tops) else n - 1
                below = np.nonzero(v[left:top] < floor)[0]
                a = left + int(below[-1]) if len(below) else left
                below = np.nonzero(v[top:right + 1] < floor)[0]
                b = top + int(below[0]) if len(below) else right
                candidates.append((top, a, b, sign, widths[k], v[top]))
        covered = np.zeros(n, bool)
        for top, a, b, sign, width, height in candidates:
            covered[max(0, min(a, int(top - 2 * width))):max(b, int(top + 2.5 * width)) + 1] = True
    candidates.sort()
    usual = np.median([c0[4] for c0 in candidates]) if candidates else 0
    kept = []
    for k, (top, a, b, sign, width, height) in enumerate(candidates):
        # the first swings of opposite sign that touch are the void
        early = t[top] - t[0] < 0.2 * (t[-1] - t[0])
        touching = [o for o in candidates if o[3] != sign and abs(o[0] - top) < 4 * max(width, o[4]) and o[5] > 0.04 * height]
        if early and touching:
            continue
        if width < max(4.5, 0.2 * usual):
            continue
        # a step or bubble rises within a few samples
        steepest = np.max(np.abs(np.diff(y[max(a - 2, 0):b + 3]))) if b > a else 0
        if steepest > 0.5 * height and height > 12 * noise:
            continue
        kept.append({
            "retentionTime": float(t[top]),
            "height": float(sign * height),
            "area": float(np.trapezoid(c[a:b + 1], t[a:b + 1]) * 60),
            "start": float(t[a]),
            "end": float(t[b]),
            "direction": "up" if sign > 0 else "down",
        })
    return kept


if not hasattr(np, "trapezoid"):
    np.trapezoid = np.trapz
for line in sys.stdin:
    run = json.loads(line)
    print(json.dumps(peaks_of(np.array(run["time"]), np.array(run["signal"]))))
