/**
 * Number of theoretical plates from the width at half height, 8 ln 2 (tR / W0.5)².
 *
 * Pharmacopoeias print the factor as 5.54, which reads 0.093 % lower; 8 ln 2 is
 * 5.545177.
 *
 * @param retentionTime - [min] Retention time.
 * @param halfHeightWidth - [min] Width at half height, in the same unit.
 * @param factor - [-] The factor; pass 5.54 to agree with a printed text.
 * @returns [-] The plate number.
 * @see European Pharmacopoeia 2.2.46, United States Pharmacopeia general chapter 621.
 *
 * @public
 */
export function platesHalfHeight(retentionTime: number, halfHeightWidth: number, factor = 5.545177444479562): number {
  const ratio = retentionTime / halfHeightWidth;
  return factor * ratio * ratio;
}

/**
 * Number of theoretical plates from the tangent width, 16 (tR / Wb)².
 *
 * @param retentionTime - [min] Retention time.
 * @param tangentWidth - [min] Width between the tangents on the baseline, in the same unit.
 * @returns [-] The plate number.
 * @see L. S. Ettre (1993), Nomenclature for chromatography, Pure Appl. Chem. 65, 819-872.
 *
 * @public
 */
export function platesTangent(retentionTime: number, tangentWidth: number): number {
  const ratio = retentionTime / tangentWidth;
  return 16 * ratio * ratio;
}

/**
 * Number of theoretical plates of an exponentially modified Gaussian,
 * 41.7 (tR / W0.1)² / (B/A + 1.25).
 *
 * Made for 1 <= B/A <= 2.76; on a Gaussian it reads 0.6 % high.
 *
 * @param retentionTime - [min] Retention time.
 * @param tenPercentWidth - [min] Width at 10 % of the height, in the same unit.
 * @param asymmetry - [-] B/A at 10 % of the height.
 * @returns [-] The plate number; nothing outside the range it was made for.
 * @see J. P. Foley, J. G. Dorsey (1983), Anal. Chem. 55, 730-737; the coefficients from memory.
 *
 * @public
 */
export function platesFoleyDorsey(
  retentionTime: number,
  tenPercentWidth: number,
  asymmetry: number,
): number | undefined {
  if (!(asymmetry >= 1 && asymmetry <= 2.76)) return undefined;
  const ratio = retentionTime / tenPercentWidth;
  return (41.7 * ratio * ratio) / (asymmetry + 1.25);
}

/**
 * Number of theoretical plates from the moments, M1² / M2.
 *
 * @param mean - [min] First moment.
 * @param variance - [min²] Second central moment.
 * @returns [-] The plate number.
 * @see E. Grushka (1972), Anal. Chem. 44, 1733-1738; from memory.
 *
 * @public
 */
export function platesMoments(mean: number, variance: number): number {
  return (mean * mean) / variance;
}

/**
 * Resolution from the widths at half height, sqrt(2 ln 2) (t2 - t1) / (W0.5,1 + W0.5,2).
 *
 * Pharmacopoeias print the factor as 1.18, which reads 0.22 % higher;
 * sqrt(2 ln 2) is 1.177410.
 *
 * @param before - [min] Retention time of the earlier peak.
 * @param after - [min] Retention time of the later peak.
 * @param widthBefore - [min] Width at half height of the earlier peak.
 * @param widthAfter - [min] Width at half height of the later peak.
 * @param factor - [-] The factor; pass 1.18 to agree with a printed text.
 * @returns [-] The resolution.
 * @see European Pharmacopoeia 2.2.46, United States Pharmacopeia general chapter 621.
 *
 * @public
 */
export function resolutionHalfHeight(
  before: number,
  after: number,
  widthBefore: number,
  widthAfter: number,
  factor = 1.1774100225154747,
): number {
  return (factor * (after - before)) / (widthBefore + widthAfter);
}

/**
 * Resolution from the tangent widths, 2 (t2 - t1) / (Wb1 + Wb2).
 *
 * @param before - [min] Retention time of the earlier peak.
 * @param after - [min] Retention time of the later peak.
 * @param widthBefore - [min] Tangent width of the earlier peak.
 * @param widthAfter - [min] Tangent width of the later peak.
 * @returns [-] The resolution.
 * @see L. S. Ettre (1993), Nomenclature for chromatography, Pure Appl. Chem. 65, 819-872.
 *
 * @public
 */
export function resolutionTangent(before: number, after: number, widthBefore: number, widthAfter: number): number {
  return (2 * (after - before)) / (widthBefore + widthAfter);
}

/**
 * Share of each area in the sum, in per cent. Magnitudes are summed, so that a
 * peak that points down does not push the others above 100 %.
 *
 * @param areas - [signal unit s] N areas.
 * @returns [%] N shares; all absent when the sum is zero.
 *
 * @public
 */
export function areaPercents(areas: ArrayLike<number>): (number | undefined)[] {
  let sum = 0;
  for (let i = 0; i < areas.length; i++) sum += Math.abs(areas[i]!);
  return Array.from(areas, (area) => (sum > 0 ? (100 * Math.abs(area)) / sum : undefined));
}
