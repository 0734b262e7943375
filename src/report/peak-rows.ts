import type { Analysis, Peak } from '../analysis/index.js';

/**
 * One peak as a row: column names with their units, in a fixed order; what is
 * not known is `undefined`.
 *
 * @public
 */
export type PeakRow = Readonly<Record<string, string | number | undefined>>;

/**
 * Turns peaks into plain rows for tables and data frames.
 *
 * Every column name carries its unit in brackets, or says which definition the
 * number follows. All rows have all columns in the same order; an absent number
 * is `undefined`, never 0 or NaN. Numbers are not rounded.
 *
 * @param peaks - The peaks, N; only read.
 * @param units - Units of the analysis they come from; without it the columns
 *   say `signal unit`.
 *
 * @returns N rows.
 *
 * @public
 */
export function peakRows(peaks: readonly Peak[], units?: Pick<Analysis['units'], 'signal' | 'area'>): PeakRow[] {
  const signal = units?.signal ?? 'signal unit';
  const area = units?.area ?? 'signal unit s';
  return peaks.map((peak, i) => {
    const { widths, plates, resolution, signalToNoise, moments, warnings } = peak;
    return {
      peak: i + 1,
      name: peak.name,
      'retention time [min]': peak.retentionTime,
      [`area [${area}]`]: peak.area,
      [`area standard uncertainty [${area}]`]: peak.areaUncertainty,
      'area share [%]': peak.areaPercent,
      [`height [${signal}]`]: peak.height,
      'start [min]': peak.start,
      'end [min]': peak.end,
      'start by': peak.startKind,
      'end by': peak.endKind,
      [`baseline at start [${signal}]`]: peak.baselineStart,
      [`baseline at end [${signal}]`]: peak.baselineEnd,
      direction: peak.direction,
      'width at half height [min]': widths.halfHeight,
      'width at 10 % [min]': widths.tenPercent,
      'width at 5 % [min]': widths.fivePercent,
      'width between tangents [min]': widths.tangent,
      'plates from half height [-]': plates.halfHeight,
      'plates from tangents [-]': plates.tangent,
      'plates after Foley and Dorsey [-]': plates.foleyDorsey,
      'plates from moments [-]': plates.moments,
      'tailing factor at 5 % [-]': peak.tailingFactor,
      'asymmetry at 10 % [-]': peak.asymmetry,
      'resolution from half height [-]': resolution?.halfHeight,
      'resolution from tangents [-]': resolution?.tangent,
      'resolution against': resolution?.against,
      'peak-to-valley [-]': peak.peakToValley,
      'signal-to-noise 2H/h [-]': signalToNoise?.value,
      [`noise h [${signal}]`]: signalToNoise?.noise,
      'noise from [min]': signalToNoise?.from,
      'noise to [min]': signalToNoise?.to,
      'noise source': signalToNoise?.source,
      'mean time [min]': moments?.mean,
      'variance [min²]': moments?.variance,
      'skew [-]': moments?.skew,
      'excess [-]': moments?.excess,
      'shape measured on': peak.measuredOn ?? 'trace',
      ...withinRunCells(peak, signal),
      id: peak.id,
      warnings: warnings.map(({ message }) => message).join(' ') || undefined,
    };
  });
}

function withinRunCells({ withinRun: within }: Peak, signal: string): PeakRow {
  return {
    'retention time standard uncertainty within run [min]': within?.retentionTime,
    [`height standard uncertainty within run [${signal}]`]: within?.height,
    'width at half height standard uncertainty within run [min]': within?.widthHalfHeight,
    'plates from half height standard uncertainty within run [-]': within?.platesHalfHeight,
    'tailing factor standard uncertainty within run [-]': within?.tailingFactor,
    'asymmetry standard uncertainty within run [-]': within?.asymmetry,
    'resolution from half height standard uncertainty within run [-]': within?.resolutionHalfHeight,
  };
}
