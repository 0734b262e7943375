import { exp, log } from '../numeric/index.js';
import { refuse, rootTwoPi, type PeakFamily } from './family.js';

/**
 * The Gaussian for a fit: height, centre, sigma. The same bits in every engine.
 */
export const gaussianFamily: PeakFamily = {
  name: 'gaussian',
  parameters: [
    { name: 'height', unit: 'y', domain: 'any' },
    { name: 'centre', unit: 'x', domain: 'any' },
    { name: 'sigma', unit: 'x', domain: 'above 0' },
  ],
  evaluate(time, from, to, parameters, first, value, jacobian) {
    const height = parameters[first]!;
    const centre = parameters[first + 1]!;
    const sigma = parameters[first + 2]!;
    if (!(sigma > 0)) {
      refuse(value, from, to);
      return;
    }
    const n = time.length;
    let place = first * n + from;
    for (let i = from; i < to; i++, place++) {
      const u = (time[i]! - centre) / sigma;
      const unit = exp((-u * u) / 2);
      const y = height * unit;
      value[i] = value[i]! + y;
      if (jacobian === undefined) continue;
      const slope = unit === 0 ? 0 : (y * u) / sigma;
      jacobian[place] = unit;
      jacobian[place + n] = slope;
      jacobian[place + 2 * n] = unit === 0 ? 0 : slope * u;
    }
  },
  area: (parameters, first) => parameters[first]! * parameters[first + 2]! * rootTwoPi,
  mode: (parameters, first) => parameters[first + 1]!,
  width(parameters, first, fraction) {
    const half = parameters[first + 2]! * Math.sqrt(-2 * log(fraction));
    return { before: half, after: half, width: 2 * half };
  },
  moments: (parameters, first) => ({
    mean: parameters[first + 1]!,
    variance: parameters[first + 2]! * parameters[first + 2]!,
    third: 0,
  }),
};
