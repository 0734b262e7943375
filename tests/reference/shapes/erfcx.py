"""Writes erfcx.json: the Chebyshev coefficients of numeric/erfcx.ts, and values to check it with.

Plain Python, 160-digit decimals, no packages. Run: python3 erfcx.py > erfcx.json
The value of erfcx comes from the power series of erf below 8 and from the
continued fraction of erfc above it; neither is what the library uses.
"""

import json
from decimal import Decimal as D, getcontext

getcontext().prec = 160
DEGREE = 30
NODES = 120


def arctan_inverse(n):
    total, term, k = D(0), D(1) / n, 0
    while abs(term) > D(10) ** -155:
        total += term / (2 * k + 1) * (1 if k % 2 == 0 else -1)
        term /= n * n
        k += 1
    return total


PI = 4 * (4 * arctan_inverse(5) - arctan_inverse(239))
ROOT_PI = PI.sqrt()


def cosine(x):
    total, term, k = D(0), D(1), 0
    while abs(term) > D(10) ** -155:
        total += term
        k += 2
        term *= -x * x / (k * (k - 1))
    return total


def erfcx(x):
    if x < 8:
        total, term, k = D(0), x, 0
        while abs(term) > D(10) ** -155 or k == 0:
            total += term
            k += 1
            term *= 2 * x * x / (2 * k + 1)
            if term == 0:
                break
        return (x * x).exp() - 2 / ROOT_PI * total
    fraction = x
    for k in range(1200, 0, -1):
        fraction = x + D(k) / 2 / fraction
    return 1 / (ROOT_PI * fraction)


def scaled(y):
    x = D("3.75") * (1 + y) / (1 - y)
    return (1 + 2 * x) * erfcx(x)


angles = [PI * (D(j) + D("0.5")) / NODES for j in range(NODES)]
samples = [scaled(cosine(a)) for a in angles]
coefficients = [
    2 / D(NODES) * sum(s * cosine(D(k) * a) for s, a in zip(samples, angles)) for k in range(DEGREE)
]
coefficients[0] /= 2
points = (
    [-26, -10, -5, -2, -1, -0.5, -0.25, 0]
    + [2.0**k for k in range(-10, 12)]
    + [0.3, 0.75, 1.5, 3, 3.75, 5, 6.5, 7.999, 10, 12.5, 26, 26.7, 100, 1e4, 1e6, 1e8]
)
print(
    json.dumps(
        {
            "coefficients": [float(c) for c in coefficients],
            "values": [[x, format(erfcx(D(x)), ".25e")] for x in sorted(points)],
        },
        indent=2,
    )
)
