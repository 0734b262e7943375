/** Straight skim of the smaller, second of two Gaussians: ratio of areas, resolution, valley and touching point [sigma], area of the rider (first area 1). */
export const gaussianSkims: readonly (readonly [number, number, number, number, number])[] = [
  [0.2, 1, 2.541084, 6.432558, 0.09720155],
  [0.2, 1.25, 2.883782, 7.993199, 0.15829002],
  [0.2, 1.5, 3.301898, 9.512887, 0.18739871],
  [0.2, 2, 4.214605, 12.51049, 0.19949796],
  [0.1, 1, 2.782193, 6.263841, 0.03743419],
  [0.1, 1.25, 3.049975, 7.863795, 0.07327239],
  [0.1, 1.5, 3.432113, 9.405641, 0.09168792],
  [0.1, 2, 4.307052, 12.429462, 0.09965893],
  [0.05, 1, 3.035596, 6.093139, 0.01327084],
  [0.05, 1.25, 3.217214, 7.735048, 0.03326326],
  [0.05, 1.5, 3.562542, 9.298849, 0.04460127],
  [0.05, 2, 4.39952, 12.348612, 0.0497702],
  [0.02, 1, 3.42323, 5.852091, 0.00269735],
  [0.02, 1.25, 3.44069, 7.565767, 0.0112952],
  [0.02, 1.5, 3.735415, 9.158393, 0.0170197],
  [0.02, 2, 4.521802, 12.242018, 0.01986537],
  [0.01, 1.25, 3.612392, 7.438264, 0.00482764],
  [0.01, 1.5, 3.866643, 9.052698, 0.00813226],
  [0.01, 2, 4.614349, 12.161603, 0.00991101],
];

/** The same for exponentially modified Gaussians: tau, distance [sigma], size of the second; valley and touching point where they were worked out. */
export const emgSkims: readonly (readonly [number, number, number, number | undefined, number | undefined, number])[] =
  [
    [1, 8, 0.1, 6.029642, 13.499996, 0.07869631],
    [1, 8, 0.01, 7.041838, 11.613896, 0.00356432],
    [1, 12, 0.1, undefined, undefined, 0.09824943],
    [2, 12, 0.1, 9.938416, 20.708615, 0.07639917],
  ];

/** One record, 100 exp(-t/2) + 5 exp(-((t-6)/0.25)²/2), three ways: where each line meets it again, and the area above it. */
export const threeWays = {
  valley: 5.426999739,
  level: 6.992041654,
  apex: 5.968125156,
  'exponential skim': { end: 6.635500261, area: 2.753710219 },
  'tangent skim': { end: 6.718744085, area: 2.589466926 },
  rate: 0.5,
} as const;
