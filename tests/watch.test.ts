// `check --watch` as a user has it: a report at once, and another after each change, also of files and folders that come and go.
import { type ChildProcess, spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeEach, expect, it, vi } from 'vitest';
import { watchFolder } from '../src/world/watch.js';
import { projectFolder } from './helpers/shop.js';

const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-watch-'));
const shop = path.join(place, 'shop');
const pump = path.join(shop, 'procedures/thermostat-pump.yaml');
let child: ChildProcess;
let said = '';
afterAll(() => fs.rmSync(place, { recursive: true, force: true }));

/** What is said next, once it matches. */
async function next(pattern: RegExp): Promise<string> {
  for (let wait = 0; wait < 600; wait++) {
    if (pattern.test(said)) {
      const all = said;
      said = '';
      return all;
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`“${pattern}” was never said, but: ${said}`);
}

beforeEach(() => {
  fs.rmSync(shop, { recursive: true, force: true });
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
  said = '';
  child = spawn(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'check', '--watch'], { cwd: shop });
  child.stdout?.on('data', (chunk) => {
    said += chunk;
  });
});
afterEach(() => void child.kill('SIGKILL'));

it('tells a mistake when it is saved and that it is gone when it is mended', async () => {
  await next(/5 files checked: clean/);
  const text = fs.readFileSync(pump, 'utf8');
  fs.writeFileSync(pump, text.replace('  - fit: splash-shield\n', ''));
  expect(await next(/1 error/)).toMatch(/ledger\/left-open/);
  // As editors save: another file, renamed over this one.
  fs.writeFileSync(`${pump}.tmp`, text);
  fs.renameSync(`${pump}.tmp`, pump);
  await next(/5 files checked: clean/);
}, 60_000);

it('sees files and folders that come and go', async () => {
  await next(/clean/);
  fs.mkdirSync(path.join(shop, 'more/deep'), { recursive: true });
  fs.writeFileSync(path.join(shop, 'more/deep/x.yaml'), 'kind: procedure\nid: x\n');
  await next(/6 files checked: [1-9]\d* error/);
  fs.rmSync(path.join(shop, 'more'), { recursive: true });
  await next(/5 files checked: clean/);
}, 60_000);

it('says that the library is gone, also where another comes to stand in its place', async () => {
  await next(/clean/);
  const ended = new Promise((resolve) => child.on('exit', resolve));
  let told = '';
  child.stderr?.on('data', (chunk) => {
    told += chunk;
  });
  fs.renameSync(shop, `${shop}-before`);
  fs.cpSync(`${shop}-before`, shop, { recursive: true });
  expect(await ended).toBe(2);
  expect(told).toMatch(/^baywright: The folder .*shop is gone, or another stands in its place\. Run this again .*\n$/);
}, 60_000);

it('says once that the system allows no more watches, and goes on', () => {
  const watch = vi.spyOn(fs, 'watch').mockImplementation(() => {
    throw Object.assign(new Error('no space'), { code: 'ENOSPC' });
  });
  const watcher = { happened: vi.fn(), gone: vi.fn(), tooMany: vi.fn() };
  watchFolder(shop, watcher)();
  expect(watch.mock.calls.length).toBeGreaterThan(1);
  expect(watcher.tooMany).toHaveBeenCalledOnce();
  watch.mockRestore();
});

it('ends with status 0 when the user ends it', async () => {
  await next(/clean/);
  const ended = new Promise((resolve) => child.on('exit', resolve));
  child.kill('SIGINT');
  expect(await ended).toBe(0);
}, 60_000);
