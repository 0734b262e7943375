import ts from 'typescript';
import { expect, test } from 'vitest';

/** `name` of a value, `type name` of a type, sorted by code unit. */
function exportedNames(entry: string): string[] {
  const { options } = ts.getParsedCommandLineOfConfigFile(
    'tsconfig.json',
    {},
    {
      ...ts.sys,
      onUnRecoverableConfigFileDiagnostic: (diagnostic) => {
        throw new Error(ts.flattenDiagnosticMessageText(diagnostic.messageText, '\n'));
      },
    },
  )!;
  const program = ts.createProgram([entry], options);
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(entry);
  const entryModule = source && checker.getSymbolAtLocation(source);
  if (!entryModule) throw new Error(`${entry} is missing or exports nothing`);
  return checker
    .getExportsOfModule(entryModule)
    .map((symbol) => {
      const target = symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
      return target.flags & ts.SymbolFlags.Value ? symbol.name : `type ${symbol.name}`;
    })
    .sort();
}

test.each([
  ['peakwright', 'src/index.ts', './exports.main.txt'],
  ['peakwright/node', 'src/node/index.ts', './exports.node.txt'],
])('%s exports the names that were agreed on, no more and no fewer', async (_, entry, agreed) => {
  await expect(`${exportedNames(entry).join('\n')}\n`).toMatchFileSnapshot(agreed);
});
