"""Expected range of n independent standard normal values, n = 2, 4, 8, ... 2^20,
by numerical integration of 1 - P^n - Q^n. Prints the ranges through which the curve of src/measures/normal-range.ts is laid."""
import numpy as np
from scipy.special import log_ndtr

x = np.linspace(-12, 12, 400001)
p = log_ndtr(x)
q = log_ndtr(-x)
for k in range(1, 21):
    n = 2.0**k
    f = 1 - np.exp(n * p) - np.exp(n * q)
    print(n, round(float(np.trapz(f, x)), 6))
