import { mkdtemp, mkdir, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseFile } from '../../../src/index.js';
import { readTrace, readTraceFile } from '../../../src/node/index.js';

let folder = '';
const one = 'Time (min),UV 280 nm (mAU)\n0,1\n0.5,2\n1,3\n';
const two = 'Time (min),UV 280 nm (mAU),UV 254 nm (mAU)\n0,1,4\n0.5,2,5\n1,3,6\n';

const inFolder = (name: string): string => path.join(folder, name);

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'traces-'));
  await writeFile(inFolder('one.csv'), one);
  await writeFile(inFolder('two.csv'), two);
  await writeFile(inFolder('empty.csv'), '');
  await writeFile(inFolder('photo.csv'), Uint8Array.of(0xff, 0xd8, 0xff, 0xe0, 0, 0));
  await writeFile(inFolder('large.csv'), '');
  // A file with a hole: its length is 3 GiB, it takes no room.
  await truncate(inFolder('large.csv'), 3 * 2 ** 30);
  await mkdir(inFolder('folder.csv'));
});

afterAll(() => rm(folder, { recursive: true }));

describe('readTrace', () => {
  test('gives the one trace of a file, with the file in its description', async () => {
    const trace = await readTrace(inFolder('one.csv'));
    expect(Array.from(trace.signal)).toStrictEqual([1, 2, 3]);
    expect(trace.meta).toMatchObject({ file: inFolder('one.csv'), channel: 'UV 280 nm', wavelength: 280 });
  });

  test('takes the channel asked for', async () => {
    expect(Array.from((await readTrace(inFolder('two.csv'), { channel: 'UV 254 nm' })).signal)).toStrictEqual([
      4, 5, 6,
    ]);
    expect(Array.from((await readTrace(inFolder('two.csv'), { channel: 2 })).signal)).toStrictEqual([1, 2, 3]);
  });

  test('lists the channels when there are several and none was asked for', async () => {
    await expect(readTrace(inFolder('two.csv'))).rejects.toMatchObject({
      code: 'channel-ambiguous',
      message: `readTrace: ${inFolder('two.csv')} has 2 channels: UV 280 nm, UV 254 nm. Pass channel with the name of one.`,
      details: { file: inFolder('two.csv'), field: 'channel', candidates: ['UV 280 nm', 'UV 254 nm'] },
    });
  });
});

describe('readTraceFile', () => {
  test('gives what parseFile gives for the bytes, with the name of the file', async () => {
    const file = inFolder('two.csv');
    expect(await readTraceFile(file)).toStrictEqual(parseFile(two, { file }));
    expect((await readTraceFile(file, { file: 'run 7' })).traces[0]!.meta.file).toBe('run 7');
  });

  test.each([
    ['none.csv', 'file-missing', 'there is no file'],
    ['folder.csv', 'file-not-readable', 'is a folder'],
    ['empty.csv', 'file-empty', 'is empty (0 bytes). Export it again.'],
    ['large.csv', 'file-too-large', 'files of up to 2147483647 bytes (2 GiB less one byte) are read'],
    ['photo.csv', 'file-not-readable', 'is a picture'],
  ])('refuses %s with %s', async (name, code, text) => {
    await expect(readTraceFile(inFolder(name))).rejects.toMatchObject({
      code,
      message: expect.stringContaining(text),
      details: expect.objectContaining({ file: inFolder(name) }),
    });
    await expect(readTrace(inFolder(name))).rejects.toMatchObject({ code });
  });

  test('refuses a path that cannot be one', async () => {
    await expect(readTraceFile('a\u0000b')).rejects.toMatchObject({ code: 'file-not-readable' });
    await expect(readTraceFile(7 as unknown as string)).rejects.toMatchObject({ code: 'option-invalid' });
    await expect(readTraceFile(path.join(inFolder('one.csv'), 'x'))).rejects.toMatchObject({ code: 'file-missing' });
  });
});
