import { checkNumber, checkPositive, failOption } from '../core/index.js';
import { type PeakFamily } from './family.js';

/**
 * Value of a family at one place, its parameters given by name: what the public
 * functions of one value have in common.
 */
export function valueAt(caller: string, family: PeakFamily, x: number, shape: object): number {
  const given = shape as Readonly<Record<string, number>>;
  const parameters = family.parameters.map(({ name, domain }) => {
    const value = given[name]!;
    if (domain === 'above 0') checkPositive(caller, name, value);
    else checkNumber(caller, name, value);
    if (domain === '0 to 1' && !(value >= 0 && value <= 1)) failOption(caller, name, 'a number from 0 to 1', value);
    return value;
  });
  if (!Number.isFinite(x)) return 0;
  const value = new Float64Array(1);
  family.evaluate([x], 0, 1, parameters, 0, value);
  return value[0]!;
}
