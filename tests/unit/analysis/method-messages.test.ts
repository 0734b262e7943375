import { expect, test } from 'vitest';
import { defineMethod, type Method } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';

const component = { name: 'vanillin', retentionTime: 6.5, window: 0.2 };

// A message says what is wrong, where, and what would be right, in words a chemist reads.
test.each([
  [
    { leastSignalToNoise: Infinity },
    'option leastSignalToNoise must be a finite number of at least 0; received Infinity.',
  ],
  [{ leastProminence: NaN }, 'option leastProminence must be a finite number of at least 2'],
  [{ takeAsPeak: [Infinity] }, 'a list of finite times'],
  [{ components: [{ ...component, retentionTime: -Infinity }] }, 'a number above 0'],
  [{ components: [{ name: 'vanillin', retentionTime: 6.5 }] }, 'option components[0].window must be a number above 0'],
  [{ colour: 'red' }, 'there is no option colour. There are peakWidth'],
])('the message about %o says what the setting must be', (partial, message) => {
  expect(thrownBy(() => defineMethod(partial as unknown as Partial<Method>)).message).toContain(message);
});
