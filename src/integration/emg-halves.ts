import { emg, emgFromApex } from '../shapes/index.js';
import { solveBetween } from './solve-between.js';

/** Largest ratio of tau to sigma that is looked for; beyond it a peak is an exponential with a soft start. */
const mostTailing = 12;

/** Half widths of an exponentially modified Gaussian of sigma 1 at a part of its height, before and after the apex. */
export function emgHalves(tailing: number, part: number): { readonly front: number; readonly back: number } {
  if (tailing < 0) {
    const { front, back } = emgHalves(-tailing, part);
    return { front: back, back: front };
  }
  const shape = emgFromApex({ position: 0, height: 1, sigma: 1, tau: tailing });
  const above = (t: number): number => emg(t, shape) - part;
  return { front: -solveBetween(above, -6, 0), back: solveBetween(above, 0, 6 + 8 * tailing) };
}

/** Sigma and tau of the exponentially modified Gaussian that has two half widths at a part of its height. */
export function emgOfHalves(
  front: number,
  back: number,
  part: number,
): { readonly sigma: number; readonly tau: number } {
  const [near, far] = front < back ? [front, back] : [back, front];
  const excess = (tailing: number): number => {
    const halves = emgHalves(tailing, part);
    return halves.back / halves.front - far / near;
  };
  const tailing = solveBetween(excess, 0, mostTailing, 1e-6);
  const sigma = near / emgHalves(tailing, part).front;
  return { sigma, tau: (front < back ? 1 : -1) * tailing * sigma };
}
