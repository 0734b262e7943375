import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';

/** Builds `dist` when a source or the configuration is newer, so that the tests of the package see the sources of today. */
export default function setup(): void {
  const built = path.join('dist', 'index.js');
  const newest = Math.max(
    ...['package.json', 'tsconfig.json'].map(modified),
    ...readdirSync('src', { recursive: true, encoding: 'utf8' }).map((file) => modified(path.join('src', file))),
  );
  if (!existsSync(built) || modified(built) < newest) {
    execFileSync('npm', ['run', '--silent', 'build'], { stdio: 'inherit' });
  }
}

function modified(file: string): number {
  return statSync(file).mtimeMs;
}
