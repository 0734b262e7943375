import { expect, test } from 'vitest';
import { createWorkspace } from '../../../src/index.js';

test('a slot gives an array of the length asked for, and grows', () => {
  const workspace = createWorkspace();
  expect(workspace.take('a', 3)).toHaveLength(3);
  expect(workspace.take('a', 1000)).toHaveLength(1000);
  expect(workspace.take('a', 2)).toHaveLength(2);
  expect(workspace.take('a', 0)).toHaveLength(0);
});

test('a slot taken again, shorter, uses the same memory; one that grew has room to grow a little more', () => {
  const workspace = createWorkspace();
  const { buffer } = workspace.take('a', 100);
  expect(workspace.take('a', 50).buffer).toBe(buffer);
  const grown = workspace.take('a', 110).buffer;
  expect(grown).not.toBe(buffer);
  expect(workspace.take('a', 120).buffer).toBe(grown);
});

test('two slots, and two workspaces, never share memory', () => {
  const [one, other] = [createWorkspace(), createWorkspace()];
  const a = one.take('a', 4).fill(1);
  one.take('b', 4).fill(2);
  other.take('a', 4).fill(3);
  expect([...a]).toEqual([1, 1, 1, 1]);
});
