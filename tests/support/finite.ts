/** Paths of all numbers in a value, at any depth, that are NaN or infinite. */
export function notFinite(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path} is ${value}`];
  if (typeof value !== 'object' || value === null) return [];
  if (value instanceof Map) return [...value].flatMap(([key, entry]) => notFinite(entry, `${path}.${String(key)}`));
  return Object.entries(value).flatMap(([key, entry]) => notFinite(entry, `${path}.${key}`));
}
