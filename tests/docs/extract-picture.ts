import { analyse, identifyComponents, parseTrace, renderChromatogram } from '../../src/index.js';
import { simulateFiles } from '../../examples/simulated-files.js';

export const picture = 'docs/pictures/extract.svg';

/** The picture of the README: the first extract of the demonstration, with its components named. */
export function drawExtract(): string {
  const file = simulateFiles().find(({ name }) => name === 'extract-1.csv')!;
  const components = [
    { name: 'vanillic acid', retentionTime: 4.62, window: 0.1 },
    { name: '4-hydroxybenzaldehyde', retentionTime: 6.51, window: 0.1 },
    { name: 'vanillin', retentionTime: 6.765, window: 0.1 },
    { name: 'ethyl vanillin', retentionTime: 9.48, window: 0.1 },
  ];
  const analysis = analyse(parseTrace(file.text, { injectedAt: 0 })[0]!);
  const named = identifyComponents(analysis, components);
  return renderChromatogram({
    ...named,
    trace: { ...named.trace, meta: { ...named.trace.meta, name: 'Vanilla extract, diluted 1 + 99 (invented data)' } },
  });
}
