"""Writes emg-scipy.json with scipy.stats.exponnorm. Run: python3 emg_scipy.py > emg-scipy.json"""

import json

from scipy.stats import exponnorm

rows = []
for ratio in (0.1, 0.5, 1, 2, 5, 20):
    for u in (-3, -1, 0, 0.5, 1, 2, 4, 8, 20):
        rows.append([ratio, u, float(exponnorm.pdf(u, ratio)), float(exponnorm.cdf(u, ratio))])
print(json.dumps({"columns": ["tau/sigma", "(x-mean)/sigma", "value", "area before"], "rows": rows}, indent=1))
