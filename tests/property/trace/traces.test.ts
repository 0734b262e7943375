import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  convertSignal,
  createTrace,
  cropTrace,
  resampleTrace,
  splitAtInjections,
  subtractBlank,
  type SignalUnit,
} from '../../../src/index.js';
import { expectClose } from '../../support/close.js';

/** A reading a detector could give: to a thousandth, up to a thousand either way. */
const reading = fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 1e3);
/** An interval in seconds a detector could keep, or fail to keep. */
const interval = fc.integer({ min: 1, max: 400 }).map((n) => n / 100);

const record = fc.array(fc.tuple(interval, reading), { minLength: 4, maxLength: 80 }).map((samples) => {
  let t = 0;
  return { time: samples.map(([step]) => (t += step)), signal: samples.map(([, y]) => y) };
});
const traceInSeconds = record.map((samples) => createTrace({ ...samples, timeUnit: 's', signalUnit: 'mAU' }));

test('a trace in seconds is the trace in minutes, and injectedAt only moves it', () => {
  fc.assert(
    fc.property(record, interval, ({ time, signal }, injectedAt) => {
      const seconds = createTrace({ time, signal, timeUnit: 's', signalUnit: 'mAU' });
      const minutes = createTrace({ time: time.map((t) => t / 60), signal, timeUnit: 'min', signalUnit: 'mAU' });
      expect(seconds.time).toStrictEqual(minutes.time);
      expect(seconds.gaps).toStrictEqual(minutes.gaps);
      fc.pre(time.at(-1)! > injectedAt);
      const moved = createTrace({ time, signal, timeUnit: 's', signalUnit: 'mAU', injectedAt });
      expectClose(
        moved.time,
        seconds.time.map((t) => t - injectedAt / 60),
        1e-12,
      );
      expect(moved.signal).toStrictEqual(seconds.signal);
    }),
  );
});

test('however samples are doubled, keeping the first and dropping what goes back restores the record', () => {
  fc.assert(
    fc.property(record, fc.array(fc.nat(79), { minLength: 80, maxLength: 80 }), ({ time, signal }, earlier) => {
      // After each sample it comes again, or one before it does.
      const order = time.flatMap((_, i) => [i, Math.min(i, earlier[i]!)]);
      const doubled = createTrace({
        time: order.map((i) => time[i]!),
        signal: order.map((i) => signal[i]!),
        timeUnit: 's',
        signalUnit: 'mAU',
        duplicateTimes: 'first',
        backwardTimes: 'drop',
      });
      const plain = createTrace({ time, signal, timeUnit: 's', signalUnit: 'mAU' });
      expect(doubled.time).toStrictEqual(plain.time);
      expect(doubled.signal).toStrictEqual(plain.signal);
      expect(doubled.gaps).toStrictEqual(plain.gaps);
    }),
  );
});

test('dropping what goes back leaves every sample that was a new latest time, and no other', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.integer({ min: 0, max: 1000 }), reading), { minLength: 2, maxLength: 60 }),
      (samples) => {
        const latest = samples.filter(([t], i) => samples.slice(0, i).every(([earlier]) => earlier < t));
        fc.pre(latest.length >= 2);
        const trace = createTrace({
          time: samples.map(([t]) => t),
          signal: samples.map(([, y]) => y),
          timeUnit: 'min',
          signalUnit: 'mAU',
          duplicateTimes: 'first',
          backwardTimes: 'drop',
        });
        expect(Array.from(trace.time)).toStrictEqual(latest.map(([t]) => t));
        expect(Array.from(trace.signal)).toStrictEqual(latest.map(([, y]) => y));
      },
    ),
  );
});

test('marking readings as missing leaves the others, and a gap wherever one was missing between two', () => {
  fc.assert(
    fc.property(record, fc.array(fc.boolean(), { minLength: 80, maxLength: 80 }), ({ time, signal }, missing) => {
      const kept = time.flatMap((_, i) => (missing[i]! ? [] : [i]));
      fc.pre(kept.length >= 2);
      const trace = createTrace({
        time,
        signal: signal.map((y, i) => (missing[i]! ? Number.NaN : y)),
        timeUnit: 's',
        signalUnit: 'mAU',
        missing: 'gap',
      });
      expect(Array.from(trace.signal)).toStrictEqual(kept.map((i) => signal[i]!));
      const ends = trace.gaps.map(({ from }) => from);
      for (let k = 1; k < kept.length; k++) {
        if (kept[k]! - kept[k - 1]! > 1) expect(ends).toContain(trace.time[k - 1]!);
      }
    }),
  );
});

test('a crop is the samples between its limits', () => {
  fc.assert(
    fc.property(traceInSeconds, fc.nat(1000), fc.nat(1000), (trace, a, b) => {
      const last = trace.time.at(-1)!;
      const [from, to] = [(Math.min(a, b) / 1000) * last, (Math.max(a, b) / 1000) * last];
      const inside = Array.from(trace.time).filter((t) => t >= from && t <= to);
      fc.pre(inside.length >= 2);
      expect(Array.from(cropTrace(trace, { from, to }).time)).toStrictEqual(inside);
    }),
  );
});

test('resampling at the times of the trace changes no reading, and nowhere leaves the range of its neighbours', () => {
  fc.assert(
    fc.property(traceInSeconds, interval, (trace, step) => {
      expect(resampleTrace(trace, { time: trace.time }).signal).toStrictEqual(trace.signal);
      fc.pre(trace.gaps.length === 0 && trace.time.at(-1)! - trace.time[0]! > step / 60);
      const { signal } = resampleTrace(trace, { step: step / 60 });
      const [low, high] = [Math.min(...trace.signal), Math.max(...trace.signal)];
      for (const y of signal) {
        expect(y).toBeGreaterThanOrEqual(low - 1e-9);
        expect(y).toBeLessThanOrEqual(high + 1e-9);
      }
    }),
  );
});

test('converting there and back returns every reading to the last digit but one', () => {
  const unit = fc.constantFrom<SignalUnit>('AU', 'mAU', 'µAU', 'V', 'mV', 'µV');
  fc.assert(
    fc.property(traceInSeconds, unit, fc.integer({ min: 1, max: 50 }), (trace, other, tenths) => {
      const options = { scale: { voltPerAbsorbance: tenths / 10 } };
      const back = convertSignal(convertSignal(trace, other, options), 'mAU', options);
      for (let i = 0; i < back.signal.length; i++) {
        expect(Math.abs(back.signal[i]! - trace.signal[i]!)).toBeLessThanOrEqual(1e-15 * Math.abs(trace.signal[i]!));
      }
    }),
  );
});

test('a trace is its own perfect blank', () => {
  fc.assert(
    fc.property(traceInSeconds, (trace) => {
      const { trace: difference, uncovered } = subtractBlank(trace, trace);
      expect(difference.time).toStrictEqual(trace.time);
      expect(difference.gaps).toStrictEqual(trace.gaps);
      expect(difference.signal.every((y) => y === 0)).toBe(true);
      expect(uncovered).toStrictEqual([]);
    }),
  );
});

test('splitting at injections gives every sample from the first mark on to one trace, in order', () => {
  fc.assert(
    fc.property(record, fc.uniqueArray(fc.nat(79), { minLength: 1, maxLength: 4 }), ({ time, signal }, places) => {
      const marks = places
        .filter((i) => i < time.length)
        .sort((a, b) => a - b)
        .map((i) => time[i]!);
      const counts = marks.map((mark, k) => time.filter((t) => t >= mark && t < (marks[k + 1] ?? Infinity)).length);
      fc.pre(marks.length > 0 && counts.every((count) => count >= 2));
      const traces = splitAtInjections({ time, signal, timeUnit: 's', signalUnit: 'mAU' }, marks);
      const together = traces.flatMap((trace) => Array.from(trace.signal));
      expect(together).toStrictEqual(signal.filter((_, i) => time[i]! >= marks[0]!));
      expect(traces.every((trace) => trace.time[0] === 0)).toBe(true);
    }),
  );
});
