import { analyse, renderChromatogram, simulateTrace } from '../../src/index.js';

export const skimsPicture = 'docs/pictures/skims.svg';

/** The picture of the page on dividers: a rider on a tail, and one on the tail of the rider, each above its exponential. */
export function drawSkims(): string {
  const { trace } = simulateTrace({
    duration: 9,
    interval: 0.2,
    noise: { white: 0.05 },
    baseline: { offset: 2, drift: 3 },
    seed: 1,
    peaks: [
      { shape: 'emg', retentionTime: 4, height: 1000, sigma: 0.08, tau: 0.16 },
      { shape: 'emg', retentionTime: 4.75, height: 60, sigma: 0.07, tau: 0.04 },
      { shape: 'emg', retentionTime: 5.04, height: 8, sigma: 0.05, tau: 0.02 },
    ],
  });
  const named = { ...trace, meta: { ...trace.meta, name: 'Riders on a tail, exponential skims (invented data)' } };
  return renderChromatogram(analyse(named, { divider: 'exponential skim' }), { from: 3.6, to: 5.6, low: 0, high: 100 });
}
