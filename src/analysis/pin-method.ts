import { PeakwrightError } from '../core/index.js';
import type { Analysis } from './analysis.js';
import type { Method } from './method.js';
import { pinDivision } from './pin-division.js';

/**
 * The method of an analysis with every automatic setting replaced by the value
 * it resolved to. Used again on the same trace it gives the same bits; on
 * another run it applies the same rule. Of several analyses the narrowest width
 * and bend are taken, so that one rule holds for the set. Dividers that a policy chose become rules, one for each valley
 * of the set; {@link pinDivision} tells which runs had others.
 *
 * @param analyses - One analysis, or several of one set.
 * @returns A method without `'automatic'`: plain JSON.
 *
 * @public
 */
export function pinMethod(analyses: Analysis | readonly Analysis[]): Method {
  const list = Array.isArray(analyses) ? (analyses as readonly Analysis[]) : [analyses as Analysis];
  const first = list[0];
  if (first === undefined) {
    throw new PeakwrightError('option-invalid', 'pinMethod: at least one analysis is needed; the list is empty.', {
      field: 'analyses',
      value: analyses,
      expected: 'one analysis or more',
    });
  }
  const { rules } = pinDivision(list);
  return {
    ...first.settings,
    ...(rules.length > 0 && { rules: [...first.settings.rules, ...rules] }),
    peakWidth: Math.min(...list.map((a) => a.settings.peakWidth)),
    sharpestBend: Math.min(...list.map((a) => a.settings.sharpestBend)),
  };
}
