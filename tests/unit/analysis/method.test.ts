import { describe, expect, test } from 'vitest';
import { analyse, defineMethod, pinMethod, standardDivisionPolicy, type Method } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { traceOf } from '../../support/traces.js';

const component = { name: 'vanillin', retentionTime: 6.5, window: 0.2 };
const fails = (partial: unknown) => thrownBy(() => defineMethod(partial as Partial<Method>));

describe('defineMethod', () => {
  test('fills in every setting and changes nothing it is given', () => {
    const partial = Object.freeze({ divider: 'valley to valley', components: Object.freeze([component]) } as const);
    expect(defineMethod(partial)).toEqual({
      peakWidth: 'automatic',
      sharpestBend: 'automatic',
      leastProminence: 8,
      leastSignalToNoise: 2,
      falseAlarms: 0.001,
      fewestPlates: 60,
      divider: 'valley to valley',
      divisionPolicy: standardDivisionPolicy,
      mostDivisionBias: 0.05,
      disturbances: 'set apart',
      takeAsPeak: [],
      noiseWindow: 20,
      linearUpTo: 'unknown',
      components: [component],
      rules: [],
    });
    expect(defineMethod()).toEqual(defineMethod({}));
  });

  test('is plain JSON, and defining it again changes nothing', () => {
    const method = defineMethod({ peakWidth: 0.04, components: [component] });
    expect(JSON.parse(JSON.stringify(method))).toEqual(method);
    expect(defineMethod(method)).toEqual(method);
  });

  test.each([
    [{ dividr: 'drop line' }, 'dividr', 'did you mean divider?'],
    [{ PeakWidth: 1 }, 'PeakWidth', 'did you mean peakWidth?'],
    [{ colour: 'red' }, 'colour', 'There are peakWidth, sharpestBend, '],
    [{ components: [{ ...component, windw: 1 }] }, 'components[0].windw', 'did you mean window?'],
  ])('refuses the unknown setting in %j and says which was meant', (partial, field, message) => {
    const error = fails(partial);
    expect(error.code).toBe('option-unknown');
    expect(error.details['field']).toBe(field);
    expect(error.message).toContain(message);
  });

  test.each([
    [{ peakWidth: 0 }, 'peakWidth', "a positive number of minutes or 'automatic'"],
    [{ peakWidth: Infinity }, 'peakWidth', "a positive number of minutes or 'automatic'"],
    [{ sharpestBend: 'auto' }, 'sharpestBend', "a positive number of minutes or 'automatic'"],
    [{ leastProminence: 1 }, 'leastProminence', 'a finite number of at least 2'],
    [{ leastProminence: NaN }, 'leastProminence', 'a finite number of at least 2'],
    [{ leastSignalToNoise: Infinity }, 'leastSignalToNoise', 'received Infinity'],
    [{ leastSignalToNoise: '3' }, 'leastSignalToNoise', 'a finite number of at least 0'],
    [{ fewestPlates: -1 }, 'fewestPlates', 'a finite number of at least 0'],
    [{ divider: 'skim' }, 'divider', 'drop line'],
    [{ disturbances: null }, 'disturbances', 'set apart'],
    [{ takeAsPeak: 3 }, 'takeAsPeak', 'a list of finite times'],
    [{ takeAsPeak: [Infinity] }, 'takeAsPeak', 'a list of finite times'],
    [{ noiseWindow: 4 }, 'noiseWindow', 'a finite number of at least 5'],
    [{ linearUpTo: 0 }, 'linearUpTo', "a positive number in the unit of the signal or 'unknown'"],
    [{ linearUpTo: '2000' }, 'linearUpTo', "or 'unknown'"],
    [{ components: [{ name: 'vanillin', retentionTime: 6.5 }] }, 'components[0].window', 'a number above 0'],
    [{ components: [{ ...component, window: 0 }] }, 'components[0].window', 'a number above 0'],
    [{ components: [{ ...component, name: 7 }] }, 'components[0].name', 'text'],
    [{ components: [{ ...component, retentionTime: -Infinity }] }, 'components[0].retentionTime', 'received -Infinity'],
    [{ components: 'vanillin' }, 'components', 'a list of components'],
  ])('refuses %j and says what the setting must be', (partial, field, expected) => {
    const error = fails(partial);
    expect(error.code).toBe('option-invalid');
    expect(error.details['field']).toBe(field);
    expect(error.message).toContain(field);
    expect(error.message).toContain(expected);
  });

  test.each([[null], [[]], ['automatic'], [3]])('refuses %j in place of a method', (partial) => {
    expect(fails(partial)).toMatchObject({ code: 'option-invalid', details: { field: 'method' } });
  });

  test('refuses a setting called __proto__, and is not changed by what others inherit', () => {
    const hostile: unknown = JSON.parse('{"__proto__": {"divider": "valley to valley"}}');
    expect(fails(hostile)).toMatchObject({ code: 'option-unknown', details: { field: '__proto__' } });
    expect(({} as { divider?: string }).divider).toBeUndefined();
  });

  test('an unknown setting is refused by analyse as well', () => {
    expect(() =>
      analyse(
        traceOf(100, (i) => i),
        { dividr: 1 } as Partial<Method>,
      ),
    ).toThrow('did you mean divider?');
  });
});

describe('pinMethod', () => {
  const bump = (at: number, sigma: number) =>
    analyse(traceOf(1200, (i) => 100 * Math.exp(-0.5 * ((i - at) / sigma) ** 2) + 0.1 * Math.sin(i * i)));

  test('replaces what is automatic by what it became', () => {
    const analysis = bump(600, 12);
    const pinned = pinMethod(analysis);
    expect(pinned.peakWidth).toBe(analysis.settings.peakWidth);
    expect(pinned.sharpestBend).toBe(analysis.settings.sharpestBend);
    expect(Object.values(pinned)).not.toContain('automatic');
    expect(analyse(analysis.trace, pinned).settings).toEqual(pinned);
  });

  test('of a set takes the narrowest width, whatever the order', () => {
    const [narrow, wide] = [bump(600, 8), bump(600, 25)];
    expect(narrow.settings.peakWidth).toBeLessThan(wide.settings.peakWidth);
    expect(pinMethod([wide, narrow])).toEqual(pinMethod([narrow, wide]));
    expect(pinMethod([wide, narrow]).peakWidth).toBe(narrow.settings.peakWidth);
  });

  test('of nothing is refused', () => {
    expect(thrownBy(() => pinMethod([]))).toMatchObject({ code: 'option-invalid', details: { field: 'analyses' } });
  });
});
