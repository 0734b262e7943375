import type { RunScore } from './score.js';

/** Every missed and false peak of a run and every area more than 10 % off. */
export function printDetail({ run, judged, falsePeaks, exception, nonFinite }: RunScore): void {
  const place = `    ${run.family} ${run.seed}`;
  const g = (x: number): string => x.toPrecision(4);
  if (exception !== undefined) console.log(`${place} EXCEPTION ${exception}`);
  if (nonFinite > 0) console.log(`${place} ${nonFinite} non-finite numbers`);
  for (const { peak, match, areaError } of judged) {
    const what = `S/N ${g(peak.snr)} height ${g(peak.height)} ${run.signalUnit} sigma ${g(peak.sigma)} ${peak.shape}${peak.clipped ? ' clipped' : ''}${peak.cut ? ' cut' : ''}`;
    if (match === undefined) console.log(`${place} missed  at ${g(peak.apex)}: ${what}`);
    else if (areaError !== undefined && Math.abs(areaError) > 0.1) {
      console.log(
        `${place} area ${(areaError * 100).toFixed(1)} % at ${g(peak.apex)}: ${what} true ${g(peak.start)}-${g(peak.end)} found ${g(match.start)}-${g(match.end)}`,
      );
    }
  }
  for (const f of falsePeaks) {
    const near = [...run.truth.peaks].sort(
      (a, b) => Math.abs(a.apex - f.retentionTime) - Math.abs(b.apex - f.retentionTime),
    )[0];
    const inside = run.truth.disturbances.find((d) => f.retentionTime >= d.from && f.retentionTime <= d.to);
    const about =
      inside !== undefined
        ? `on a ${inside.kind}`
        : near === undefined
          ? 'no peak in the run'
          : `${((f.retentionTime - near.apex) / near.sigma).toFixed(1)} sigma from the peak at ${g(near.apex)} (height ${g(near.height)}${near.visible ? '' : ', not visible'})`;
    console.log(
      `${place} false   at ${g(f.retentionTime)}: ${f.direction} height ${g(f.height)} (${g(Math.abs(f.height) / run.truth.noise)} noise sd) ${g(f.start)}-${g(f.end)}, ${about}`,
    );
  }
}
