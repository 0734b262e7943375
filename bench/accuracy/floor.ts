/**
 * The least standard deviation an area can have, as a share of it: the bound of
 * Cramér and Rao for a Gaussian whose height, position and width are not known, on a
 * straight baseline that is not known either, over twenty half widths. A peak with a
 * tail has a parameter more and a higher bound; so has one whose noise wanders.
 *
 * @param height - [unit] Height.
 * @param sigma - [min] Half width / 2.355.
 * @param noiseDensity - [unit² min] Variance of the mean of the noise over a long time, times that time.
 */
export function areaFloor(height: number, sigma: number, noiseDensity: number): number {
  // In units of height and sigma, by parity only height, width and level of the baseline talk to each other; with
  // G = exp(-u²/2): ∫G² = √π, ∫u²G² = √π/2, ∫u⁴G² = 3√π/4, ∫G = ∫u²G = √(2π), and 2L for the baseline.
  const root = Math.sqrt(Math.PI);
  const mixed = Math.sqrt(2 * Math.PI);
  const window = 20 * 2.3548200450309493;
  const taken = (mixed * mixed) / window;
  const a = root - taken;
  const b = root / 2 - taken;
  const c = (3 * root) / 4 - taken;
  const variance = (a + c - 2 * b) / (a * c - b * b); // of relative height plus relative width
  return Math.sqrt((variance * noiseDensity) / (height * height * sigma));
}
