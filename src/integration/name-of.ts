import type { Candidate } from '../peaks/index.js';

/** A name made of the place, told from others at the same place by a number. */
export function nameOf({ apex }: Pick<Candidate, 'apex'>, used: Set<string>): string {
  const stem = `p${apex.toFixed(3)}`;
  let id = stem;
  for (let k = 2; used.has(id); k++) id = `${stem}-${k}`;
  used.add(id);
  return id;
}
