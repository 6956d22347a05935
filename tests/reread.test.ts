import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { reread } from '../src/world/reread.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-reread-'));
afterAll(() => fs.rmSync(folder, { recursive: true }));

it('reads whole files one after the other, whatever their size', () => {
  const sizes = [10, 0, 2_000_000, 3, 2_000_001, 20_000_000, 1];
  for (const [n, size] of sizes.entries()) {
    const file = path.join(folder, `${n}`);
    const content = Buffer.alloc(size, `${n} of these. `);
    fs.writeFileSync(file, content);
    expect([n, reread(file).equals(content)]).toEqual([n, true]);
  }
});

it('says what the system says, and reads the next all the same', () => {
  const file = path.join(folder, 'there');
  fs.writeFileSync(file, 'it is');
  expect(() => reread(path.join(folder, 'not-there'))).toThrow(/ENOENT/);
  expect(() => reread(folder)).toThrow(/EISDIR/);
  expect(reread(file).toString()).toBe('it is');
});
