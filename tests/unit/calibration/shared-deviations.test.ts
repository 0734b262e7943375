import { describe, expect, test } from 'vitest';
import { fitCalibration, sharedDeviations, type Calibration } from '../../../src/index.js';

const volumes = [2, 4, 6, 8, 10];
/** Invented errors of each component alone, in units of 0.1 % of the largest response. */
const own = [
  [1, -2, 0, 2, -1],
  [-1, 1, 1, -2, 1],
  [2, -1, -1, 0, 1],
];
const names = ['vanillin', '4-hydroxybenzaldehyde', 'vanillic acid'];
const sensitivities = [0.8, 1.1, 0.35];
const concentrations = [25, 10, 40];

/** Lines of several components in the same five injections, which got `factor` times their volume. */
function lines(factor: readonly number[], components = 3, leaveOut?: number): Calibration[] {
  return names.slice(0, components).map((component, k) => {
    const concentration = concentrations[k]!;
    const points = volumes.map((volume, i) => ({
      concentration,
      volume,
      response: sensitivities[k]! * concentration * (volume * factor[i]! + own[k]![i]! * 0.01),
      injection: `run ${i + 1}`,
      ...(leaveOut === i ? { excluded: { reason: 'left out for the test' } } : {}),
    }));
    return fitCalibration(points, { component, concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
  });
}

const dip = [1, 1, 1, 0.92, 1];

describe('an injection of 8 µL that was 8 % short', () => {
  const found = sharedDeviations(lines(dip));

  test('stands out in all components and is said as a volume', () => {
    expect(found.outcome).toBe('separated');
    expect(found.probability).toBeLessThan(1e-4);
    expect(found.degreesOfFreedom).toBeCloseTo(6, 10);
    const worst = found.injections[3]!;
    expect(worst).toMatchObject({ injection: 'run 4', volume: 8, significant: true });
    // the lines have given way: 1 - leverage = 0.7 of 8 % at 8 µL, against a line that is lower there
    expect(worst.shared).toBeLessThan(-4.5);
    expect(worst.shared).toBeGreaterThan(-8);
    expect(worst.volumeError).toBeCloseTo(-0.64 * 0.7, 1);
  });

  test('moves the other injections too, and that is said', () => {
    expect(found.injections.filter(({ significant }) => significant).length).toBeGreaterThan(1);
    expect(found.text).toMatch(/^Error of the injected volume: .*run 4 \(-\d\.\d+ %\).* Clear up the largest first/);
  });

  test('left out, leaves nothing in common', () => {
    const rest = sharedDeviations(lines(dip, 3, 3));
    expect(rest.injections.map(({ injection }) => injection)).toEqual(['run 1', 'run 2', 'run 3', 'run 5']);
    expect(rest.injections.some(({ significant }) => significant)).toBe(false);
    expect(rest.degreesOfFreedom).toBeCloseTo(4, 10);
  });

  test('has weights that sum to 1, more for the component with the tighter line', () => {
    const { components } = found.injections[0]!;
    expect(components.map(({ component }) => component)).toEqual(names);
    expect(components.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  });
});

test('a deviation that is the same in all components is the common part', () => {
  const exact = [1, 2].map((k) =>
    fitCalibration(
      volumes.map((volume, i) => ({
        concentration: 10 * k,
        volume,
        response: k * volume * dip[i]!,
        injection: `run ${i}`,
      })),
      { component: `component ${k}`, concentrationUnit: 'mg/L', responseUnit: 'mAU s' },
    ),
  );
  for (const { shared, components } of sharedDeviations(exact).injections) {
    expect(shared).toBeCloseTo(components[0]!.relativeResidual, 9);
  }
});

test('errors of single components are not taken for errors of the volume', () => {
  const found = sharedDeviations(lines([1, 1, 1, 1, 1]));
  expect(found.injections.some(({ significant }) => significant)).toBe(false);
  expect(found.probability).toBeGreaterThan(0.05);
  expect(found.text).toBe('No error of an injected volume can be made out.');
});

test('one component cannot tell an error of the volume from its own, and says so', () => {
  const found = sharedDeviations(lines(dip, 1));
  expect(found).toMatchObject({
    outcome: 'not separable',
    text: expect.stringContaining('two components') as string,
  });
  expect(found.injections[3]!.shared).toBeUndefined();
  expect(found.injections[3]!.components[0]!.relativeResidual).toBeLessThan(-4);
});

test('injections without a name cannot be brought together', () => {
  const unnamed = lines(dip).map((line) => ({
    ...line,
    points: line.points.map((point) => JSON.parse(JSON.stringify({ ...point, injection: undefined })) as typeof point),
  }));
  const found = sharedDeviations(unnamed);
  expect(found.outcome).toBe('not separable');
  expect(found.injections).toEqual([]);
  expect(found.text).toContain('15 points could not be used');
});

/*
 * By chance alone: components with independent normal errors of constant size.
 * At 95 % for the whole set, 5 % of the sets may name an injection.
 */
test('about one set in twenty is wrong by chance', () => {
  // mulberry32, a public-domain generator of 32 bits; normal values by Box and Muller
  let state = 12345;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    const a = Math.imul(state ^ (state >>> 15), 1 | state);
    const b = (a + Math.imul(a ^ (a >>> 7), 61 | a)) ^ a;
    return (((b ^ (b >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  let wrong = 0;
  let squares = 0;
  const sets = 500;
  for (let set = 0; set < sets; set++) {
    const three = names.map((component) =>
      fitCalibration(
        volumes.map((volume, i) => ({
          concentration: 25,
          volume,
          response: 20 * volume + normal(),
          injection: `run ${i}`,
        })),
        { component, concentrationUnit: 'mg/L', responseUnit: 'mAU s' },
      ),
    );
    const { injections } = sharedDeviations(three);
    if (injections.some(({ significant }) => significant)) wrong += 1;
    for (const { shared, standardUncertainty } of injections) squares += (shared! / standardUncertainty!) ** 2;
  }
  // 25 expected, binomial standard deviation 5; the lines share their errors, so the level is only nearly met
  expect(wrong).toBeGreaterThan(8);
  expect(wrong).toBeLessThan(45);
  // the common part over its uncertainty is a t variable: 6 / (6 - 2) is its variance
  expect(squares / (sets * volumes.length)).toBeGreaterThan(1.25);
  expect(squares / (sets * volumes.length)).toBeLessThan(1.75);
});

test.each<[string, () => unknown, string]>([
  ['no calibration', () => sharedDeviations([]), 'of different components'],
  ['the same component twice', () => sharedDeviations([lines(dip)[0]!, lines(dip)[0]!]), 'of different components'],
  ['a mistyped option', () => sharedDeviations(lines(dip), { confidense: 0.9 } as never), 'did you mean confidence'],
  ['a confidence of 1', () => sharedDeviations(lines(dip), { confidence: 1 }), 'between 0 and 1'],
])('refuses %s', (_, run, message) => {
  expect(run).toThrow(message);
});
