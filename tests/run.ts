import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';

/**
 * `npm test`: every check in turn, all of them even when one fails, then a
 * table, and as the last line the totals: each command is one check, each
 * test of the test runner is one.
 */
const report = 'out/tests.json';
const checks: readonly (readonly [name: string, script: string, needed?: 'needed'])[] = [
  ['format', 'format:check'],
  ['lint', 'lint'],
  ['types of the tests', 'types'],
  ['build', 'build', 'needed'],
  ['documentation', 'docs:check'],
  ['package', 'package:check'],
];

interface Totals {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTodoTests: number;
  readonly numFailedTestSuites: number;
  readonly success: boolean;
}

const lines: string[] = [];
const totals = { passed: 0, failed: 0, skipped: 0 };

function run(name: string, args: readonly string[]): boolean {
  console.log(`\n== ${name}: npm ${args.join(' ')}`);
  const start = performance.now();
  // CI: a new snapshot or a forgotten `.only` fails.
  const { status } = spawnSync('npm', args, { stdio: 'inherit', env: { ...process.env, CI: 'true' } });
  const seconds = ((performance.now() - start) / 1000).toFixed(1);
  lines.push(`${status === 0 ? 'ok    ' : 'FAILED'}  ${name.padEnd(20)} ${seconds.padStart(6)} s`);
  return status === 0;
}

function runChecks(): boolean {
  for (const [name, script, needed] of checks) {
    const passed = run(name, ['run', '--silent', script]);
    totals[passed ? 'passed' : 'failed'] += 1;
    if (!passed && needed) {
      lines.push(`        tests not run: ${name} failed`);
      return false;
    }
  }
  return true;
}

function runTests(): void {
  rmSync(report, { force: true });
  const passed = run('tests', [
    'exec',
    '--',
    'vitest',
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ]);
  if (!existsSync(report)) {
    totals.failed += 1;
    return;
  }
  const result = JSON.parse(readFileSync(report, 'utf8')) as Totals;
  totals.passed += result.numPassedTests;
  totals.failed += result.numFailedTests;
  totals.skipped += result.numPendingTests + result.numTodoTests;
  // A file that does not load, or an error outside every test, fails the run without a failed test.
  if (!passed && result.numFailedTests === 0) totals.failed += Math.max(1, result.numFailedTestSuites);
}

mkdirSync('out', { recursive: true });
if (runChecks()) runTests();
console.log(`\n${lines.join('\n')}\n`);
const last = `${totals.passed} passed, ${totals.failed} failed, ${totals.skipped} skipped`;
writeFileSync('out/totals.txt', `${last}\n`);
console.log(last);
process.exitCode = totals.failed === 0 ? 0 : 1;
