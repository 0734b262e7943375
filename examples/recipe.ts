import type { PeakRecipe, TraceRecipe } from 'peakwright';

/**
 * The eight runs of the quickstart. INVENTED: no sample, column or detector like
 * this exists; every number below is a choice, so the truth is known.
 *
 * A food-control laboratory checks a vanilla extract at 280 nm: one vanillin
 * standard injected at five volumes, a blank, and the extract, diluted, twice.
 */

/** What is true. A chemist at the bench would know the first two and look for the others. */
export const truth = {
  /** [mg/L] Vanillin in the standard. */
  standard: 25,
  /** [-] The extract was diluted 1 + 99. */
  dilution: 100,
  /** [g/L] Vanillin in the extract before dilution. */
  extract: 1.512,
  /** [µL] The injector delivers this much more than it is set to, every time. */
  injectorOffset: 0.3,
} as const;

/** One injection. */
export interface DemoRun {
  /** Name of its files. */
  readonly file: string;
  /** What was injected. */
  readonly sample: 'vanillin standard' | 'blank' | 'vanilla extract';
  /** [µL] Volume the injector was set to. */
  readonly volume: number;
  /** How its record is made. */
  readonly recipe: TraceRecipe;
}

/** Area at 280 nm of 1 ng [mAU s/ng], apex [min], sigma and tau [min], content of the extract [g/L]. */
const compounds = [
  { name: 'vanillic acid', response: 2.1, at: 4.62, sigma: 0.041, tau: 0.014, extract: 0.068 },
  { name: '4-hydroxybenzaldehyde', response: 6.4, at: 6.51, sigma: 0.049, tau: 0.016, extract: 0.094 },
  { name: 'vanillin', response: 4, at: 6.765, sigma: 0.05, tau: 0.016, extract: truth.extract },
  { name: 'ethyl vanillin', response: 3.7, at: 9.48, sigma: 0.066, tau: 0.018, extract: 0.041 },
] as const;

/** Set volume [µL], scatter of the injector on top of its offset [µL], shift of all times [min]. */
const injections = [
  ['standard-2-ul', 'vanillin standard', 2, 0.006, 0.001],
  ['standard-4-ul', 'vanillin standard', 4, -0.011, 0.003],
  ['standard-6-ul', 'vanillin standard', 6, 0.014, -0.002],
  ['standard-8-ul', 'vanillin standard', 8, -0.009, 0],
  ['standard-10-ul', 'vanillin standard', 10, 0.004, 0.002],
  ['blank', 'blank', 10, -0.006, 0.001],
  ['extract-1', 'vanilla extract', 10, 0.012, -0.003],
  ['extract-2', 'vanilla extract', 10, -0.008, 0.002],
] as const;

/** The runs, in the order in which they were injected. */
export const runs: readonly DemoRun[] = injections.map(([file, sample, volume, scatter, shift], i) => {
  const delivered = volume + truth.injectorOffset + scatter;
  const peaks = compounds.flatMap(({ name, response, at, sigma, tau, extract }): PeakRecipe[] => {
    const diluted = (1000 * extract) / truth.dilution; // [mg/L], which is ng/µL
    const standard = name === 'vanillin' ? truth.standard : 0;
    const concentration = sample === 'vanilla extract' ? diluted : sample === 'blank' ? 0 : standard;
    if (concentration === 0) return [];
    return [{ shape: 'emg', name, retentionTime: at + shift, area: response * concentration * delivered, sigma, tau }];
  });
  const recipe: TraceRecipe = {
    duration: 12,
    interval: 0.2,
    signalUnit: 'mAU',
    seed: 2800 + i,
    peaks,
    // Air and solvent at the hold-up time: a bump and a dip that grow with the volume.
    bumps: [
      { time: 1.21 + shift / 4, height: 1.1 * delivered, sigma: 0.018 },
      { time: 1.27 + shift / 4, height: -0.5 * delivered, sigma: 0.022 },
    ],
    baseline: { offset: 1.8 - 0.07 * i, drift: 3.2 },
    noise: { white: 0.02, correlated: { standardDeviation: 0.012, timeConstant: 8 } },
    step: 0.001,
  };
  return { file, sample, volume, recipe };
});
