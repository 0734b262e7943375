/** Whether all numbers in plain data are finite. */
export function allFinite(data: unknown): boolean {
  if (typeof data === 'number') return Number.isFinite(data);
  return typeof data !== 'object' || data === null || Object.values(data).every(allFinite);
}
