import { families, makeRun, type Family } from './families.js';
import type { Run } from './make-run.js';
import {
  furtherFamilies,
  makeSimulated,
  outsideFamilies,
  type FurtherFamily,
  type OutsideFamily,
} from './simulated-families.js';

export type AnyFamily = Family | OutsideFamily | FurtherFamily;
export type Group = 'base' | 'outside shapes' | 'further';

/** Every family in the order of the table, by group. */
export const groups: Readonly<Record<Group, readonly AnyFamily[]>> = {
  base: families,
  'outside shapes': outsideFamilies,
  further: furtherFamilies,
};

export const allFamilies: readonly AnyFamily[] = Object.values(groups).flat();

const isBase = (family: AnyFamily): family is Family => (families as readonly string[]).includes(family);

/** One run of any family; the same seed gives the same run. */
export function makeAnyRun(family: AnyFamily, seed: number): Run {
  return isBase(family) ? makeRun(family, seed) : makeSimulated(family, seed);
}
