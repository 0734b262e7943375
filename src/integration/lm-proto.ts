/** Damped least squares on normal equations, box bounds by clipping. */
export function lm(
  n: number,
  m: number,
  evaluate: (p: Float64Array, r: Float64Array, j?: Float64Array) => void,
  start: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
  maxIterations: number,
): { p: Float64Array; ssr: number; iterations: number; converged: boolean; jtj: Float64Array } {
  let p = Float64Array.from(start);
  for (let k = 0; k < n; k++) p[k] = Math.min(upper[k]!, Math.max(lower[k]!, p[k]!));
  let r = new Float64Array(m);
  let r2 = new Float64Array(m);
  const j = new Float64Array(m * n);
  const a = new Float64Array(n * n);
  const jtj = new Float64Array(n * n);
  const g = new Float64Array(n);
  const step = new Float64Array(n);
  let q = new Float64Array(n);
  const scale = new Float64Array(n);
  evaluate(p, r, j);
  let ssr = 0;
  for (let i = 0; i < m; i++) ssr += r[i]! * r[i]!;
  let lambda = 1e-3;
  let converged = false;
  let it = 0;
  for (; it < maxIterations && !converged; it++) {
    for (let k = 0; k < n; k++) {
      for (let l = 0; l <= k; l++) {
        let s = 0;
        for (let i = 0; i < m; i++) s += j[k * m + i]! * j[l * m + i]!;
        jtj[k * n + l] = s;
        jtj[l * n + k] = s;
      }
      let s = 0;
      for (let i = 0; i < m; i++) s += j[k * m + i]! * r[i]!;
      g[k] = s;
      scale[k] = Math.max(scale[k]!, jtj[k * n + k]!);
    }
    let improved = false;
    for (let tries = 0; tries < 12; tries++) {
      a.set(jtj);
      for (let k = 0; k < n; k++) {
        const frozen = (p[k]! <= lower[k]! && g[k]! > 0) || (p[k]! >= upper[k]! && g[k]! < 0);
        if (frozen) {
          for (let l = 0; l < n; l++) a[k * n + l] = a[l * n + k] = 0;
          a[k * n + k] = 1;
          step[k] = 0;
        } else {
          a[k * n + k]! += lambda * Math.max(scale[k]!, 1e-300);
          step[k] = -g[k]!;
        }
      }
      if (!cholesky(a, step, n)) {
        lambda *= 10;
        continue;
      }
      for (let k = 0; k < n; k++) q[k] = Math.min(upper[k]!, Math.max(lower[k]!, p[k]! + step[k]!));
      evaluate(q, r2);
      let s2 = 0;
      for (let i = 0; i < m; i++) s2 += r2[i]! * r2[i]!;
      if (s2 < ssr) {
        improved = true;
        converged = ssr - s2 < 1e-6 * ssr;
        [p, q] = [q, p];
        ssr = s2;
        lambda = Math.max(lambda / 5, 1e-12);
        evaluate(p, r, j);
        break;
      }
      lambda *= 4;
      if (lambda > 1e10) break;
    }
    if (!improved) {
      converged = true;
      break;
    }
  }
  return { p, ssr, iterations: it, converged, jtj };
}

function cholesky(a: Float64Array, b: Float64Array, n: number): boolean {
  for (let k = 0; k < n; k++) {
    for (let l = 0; l <= k; l++) {
      let s = a[k * n + l]!;
      for (let i = 0; i < l; i++) s -= a[k * n + i]! * a[l * n + i]!;
      if (k === l) {
        if (!(s > 0)) return false;
        a[k * n + k] = Math.sqrt(s);
      } else a[k * n + l] = s / a[l * n + l]!;
    }
  }
  for (let k = 0; k < n; k++) {
    let s = b[k]!;
    for (let i = 0; i < k; i++) s -= a[k * n + i]! * b[i]!;
    b[k] = s / a[k * n + k]!;
  }
  for (let k = n - 1; k >= 0; k--) {
    let s = b[k]!;
    for (let i = k + 1; i < n; i++) s -= a[i * n + k]! * b[i]!;
    b[k] = s / a[k * n + k]!;
  }
  return true;
}
